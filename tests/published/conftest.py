"""Lets the modules of this folder share `published.py` and `sources.py`, however pytest is started."""

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))
