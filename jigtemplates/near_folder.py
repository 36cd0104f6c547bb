"""A folder that was meant: of nearly the name of one that is not there, or that holds what was not found elsewhere."""

import os
from pathlib import Path

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.parameters.toml_text import read_toml


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


def holds(folder: Path, kind: str, name: str) -> Path | None:
    """The *.toml file of a folder that has an entry of that kind and name; None without one that can be read."""
    try:
        names = sorted(one for one in os.listdir(folder) if one.endswith(".toml"))
    except OSError:  # there is none, or it cannot be listed
        return None
    return next((folder / one for one in names if _has(folder / one, kind, name)), None)


def _has(file: Path, kind: str, name: str) -> bool:
    try:
        entries = read_toml(file).data.get(kind)
    except InputError:  # it is not looked in, so that its faults are no one's concern here
        return False
    return isinstance(entries, dict) and name in entries
