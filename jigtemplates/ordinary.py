"""Reads what a person names, or what stands in an output folder, whatever it is.

Never waits for a pipe, never reads a device without end.
"""

import hashlib
import os
import stat
from pathlib import Path

#: Larger files are none of ours and are not looked into, bytes (chosen: a hundred times the largest we made).
LARGEST_FILE = 200_000_000

_CHUNK = 1 << 20


class NotOrdinaryError(OSError):
    """A pipe, a device, a folder; strerror says so."""


def read_start(path: Path, most: int) -> bytes:
    """At most so many bytes of an ordinary file, links followed; OSError or ValueError where there is none."""
    _refuse_others(path)
    with path.open("rb") as file:
        return file.read(most)


def hash_of(path: Path) -> str | None:
    """SHA-256 of a file's bytes; None where it cannot be read, is no ordinary file, or is larger than ours are."""
    digest, seen = hashlib.sha256(), 0
    try:
        _refuse_others(path)
        with path.open("rb") as file:
            while chunk := file.read(_CHUNK):
                digest.update(chunk)
                seen += len(chunk)
                if seen > LARGEST_FILE:
                    return None
    except (OSError, ValueError):
        return None
    return digest.hexdigest()


def _refuse_others(path: Path) -> None:
    """Looked at before it is opened: to open a pipe is to wait for its other end."""
    if not stat.S_ISREG(os.stat(path).st_mode):
        raise NotOrdinaryError(0, "it is not an ordinary file")
