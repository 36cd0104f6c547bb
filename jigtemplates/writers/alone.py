"""Keeps other runs from changing the files of a folder meanwhile.

The lock is one on the open folder itself: nothing is left lying about, and it ends with the process, whatever ends
that. Where the system or the disk locks no folders there is none.
"""

import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from jigtemplates.errors import OutputError

#: How long is waited for another run, and between two looks, s (chosen).
PATIENCE, PAUSE = 20.0, 0.01
#: How often a folder is made again that others take away (chosen).
ATTEMPTS = 5

#: Folders this process has for itself, by device and number: within one process nobody is kept out.
_HELD: set[tuple[int, int]] = set()


@contextmanager
def alone(folder: Path, made: Callable[[], None], said: Callable[[], str]) -> Iterator[None]:
    """Have the folder for this process.

    `made` makes it where it is not there, and again where a run that failed takes away what it had made; what that
    raises is let out. OutputError where another run holds it for too long; `said` begins the line.
    """
    file = _locked(folder, made, said)
    if file is None:
        yield
        return
    about = os.fstat(file)
    key = (about.st_dev, about.st_ino)
    _HELD.add(key)
    try:
        yield
    finally:
        _HELD.discard(key)
        os.close(file)


def _locked(folder: Path, made: Callable[[], None], said: Callable[[], str]) -> int | None:
    """The folder, open and locked; None where it is ours already or cannot be locked."""
    for _ in range(ATTEMPTS):
        made()
        try:
            import fcntl

            file = os.open(folder, os.O_RDONLY | getattr(os, "O_DIRECTORY", 0))
        except (ImportError, OSError):
            return None
        about = os.fstat(file)
        if (about.st_dev, about.st_ino) in _HELD:
            os.close(file)
            return None
        try:
            _wait(lambda at=file: fcntl.flock(at, fcntl.LOCK_EX | fcntl.LOCK_NB), said)  # type: ignore[misc]
            if _is_at(folder, about):
                return file
        except BaseException:
            os.close(file)
            raise
        os.close(file)
    return None


def _is_at(folder: Path, about: os.stat_result) -> bool:
    """Whether the folder we hold is still the one that has this name."""
    try:
        return os.path.samestat(os.stat(folder), about)
    except OSError:
        return False


def _wait(lock: Callable[[], None], said: Callable[[], str]) -> None:
    """Take the lock; OutputError where another holds it for too long."""
    end = time.monotonic() + PATIENCE
    while True:
        try:
            return lock()
        except BlockingIOError:
            if time.monotonic() > end:
                line = f"{said()}: another jigtemplates is changing it (run this again when it is done)"
                raise OutputError(line) from None
            time.sleep(PAUSE)
        except OSError:  # a disk without locks
            return None
