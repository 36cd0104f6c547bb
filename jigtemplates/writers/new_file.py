"""Puts one new file on disk: whole or not at all, and never over another."""

import os
import secrets
import stat
import time
from contextlib import suppress
from pathlib import Path

from jigtemplates.writers.files import sweep

#: An empty file that is older belongs to no run that is about to fill it, seconds (chosen: the disks without second
#: names tell times to two seconds, from memory).
LEFT = 5.0


def write_new(path: Path, data: bytes) -> None:
    """Write the bytes to a file that is not there yet.

    They are written beside it and forced to the disk before the file has its name; on a fault, a full disk say, or
    an interruption nothing is left, and what a killed run left in the folder is cleared away. Raises FileExistsError
    where something stands there, a link that leads nowhere included, else OSError, or ValueError for a name that no
    file can have.
    """
    sweep(path.parent)
    if os.path.lexists(path) and not _is_left(path):
        raise FileExistsError(path)
    # named as those of `files`, which clears away what a killed run has left
    temporary = path.parent / f".jigtemplates-{os.getpid()}-{secrets.token_hex(4)}.tmp"
    try:
        with open(temporary, "xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        _name(temporary, path)
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)


def _name(temporary: Path, path: Path) -> None:
    """Give the file its name; where the disk knows no second names, through an empty file that keeps the place."""
    try:
        os.link(temporary, path)
    except FileExistsError:
        raise
    except (AttributeError, NotImplementedError, OSError):  # what is truly wrong shows again below
        if not _is_left(path):
            os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
        try:
            os.replace(temporary, path)
        except BaseException:
            path.unlink()
            raise


def _is_left(path: Path) -> bool:
    """Whether a run that was killed may have left this file there to keep the place: it is empty, and not of now."""
    try:
        about = os.lstat(path)
    except (OSError, ValueError):
        return False
    return stat.S_ISREG(about.st_mode) and about.st_size == 0 and time.time() - about.st_mtime > LEFT
