"""A folder that is not there, and one beside it that may have been meant."""

import os
from pathlib import Path

from jigtemplates.errors import did_you_mean, quoted


def no_such_folder(folder: Path, otherwise: str) -> str:
    """What is wrong with a path that is no folder, and a folder of nearly that name beside it, else what to do."""
    if os.path.lexists(folder):
        return f"this is not a folder ({otherwise})"
    near = did_you_mean(folder.name, _folders_in(folder.parent))
    if not near.startswith("did you mean"):
        return f"there is no such folder ({otherwise})"
    meant = folder.parent / near.partition('"')[2].rpartition('"')[0]
    return f"there is no such folder (did you mean {quoted(str(meant))}?)"


def _folders_in(parent: Path) -> list[str]:
    """The folders in a folder; none where it cannot be listed."""
    try:
        names = sorted(os.listdir(parent))
    except (OSError, ValueError):  # there is none, or its name is none
        return []
    return [name for name in names if not name.startswith(".") and os.path.isdir(parent / name)]
