"""Why a file cannot be written, in one line: where, what is wrong, and what to do instead."""

import errno
import os
from collections.abc import Sequence
from pathlib import Path

from jigtemplates.errors import printable

#: Whether paths are those of POSIX.
POSIX = os.name == "posix"

#: Longest whole path that Windows opens as it is set up at first, characters (its file API's limit of 260 with the
#: closing NUL, from memory).
LONGEST_PATH = 259


class UnfitError(ValueError):
    """Something stands there that must not be replaced; str() is the reason."""


_NO_NAME = "the name holds a character that no file name can hold (choose another)"
_NO_PERMISSION = "no permission, or open in another program (close it there, or choose another place)"
_FULL = "the disk is full (make room or choose another place)"
_NO_FOLDER = "a part of it that should be a folder is a file (choose another place)"
_REASONS = {
    errno.EACCES: _NO_PERMISSION,
    errno.EPERM: _NO_PERMISSION,
    errno.EROFS: "the disk is read-only (choose another place)",
    errno.ENOSPC: _FULL,
    getattr(errno, "EDQUOT", errno.ENOSPC): _FULL,  # a full quota; Windows has none
    errno.ENAMETOOLONG: "the name is too long (choose a shorter one)",
    errno.ENOENT: "its folder is gone (was it deleted meanwhile? run this again)",
    errno.ELOOP: "a link there leads back to itself (delete the link)",
    errno.ENOTDIR: _NO_FOLDER,
    errno.EEXIST: _NO_FOLDER,
    errno.EINVAL: _NO_NAME,
}


def line_about(path: Path, error: Exception, lost: Sequence[Path] = ()) -> str:
    """The line about a file that cannot be written, and those that took their place before it and could not go back."""
    line = f"{shown(path)}: cannot be written: {_reason(path, error)}"
    if lost:
        line += f"; already replaced: {', '.join(shown(p) for p in lost)}"
    return line


def _reason(path: Path, error: Exception) -> str:
    if isinstance(error, OSError):
        length = len(os.path.abspath(error.filename or path))
        if error.errno == errno.ENOENT and not POSIX and length > LONGEST_PATH:
            return (
                f"the whole path has {length} characters and Windows takes {LONGEST_PATH}, unless it is told to take "
                "long ones (choose a shorter folder)"
            )
        return _REASONS.get(error.errno or 0, error.strerror or type(error).__name__)
    return str(error) if isinstance(error, UnfitError) else _NO_NAME


def shown(path: Path) -> str:
    """A path on one line, whatever is in it."""
    return printable(str(path))
