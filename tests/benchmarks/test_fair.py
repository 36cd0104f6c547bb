"""Whether the bare script that the program is measured against is still fair; nothing is measured here.

Among the checks that run each time: its literals are the example's texts, which change without anybody thinking of it.
"""

import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[i]) for i in (2, 0)]  # this checkout, whatever is installed

import fair  # noqa: E402
import run  # noqa: E402


def test_fair() -> None:
    """It imports what make imports, and writes what make writes; else: python tests/benchmarks/run.py --refresh."""
    assert fair.faults(run.JOB) == []
