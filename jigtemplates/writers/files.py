"""Puts a set of files on disk: all of them or none, and each one whole whatever happens.

Every file is first written beside its place under a name of ours and forced to the disk; only when
all are there does each take its place in one step (os.replace). A fault before that leaves everything
as it was. A fault among the replacements puts the earlier files back. A run that is killed
leaves every file whole, old or new, and its temporaries are cleared away by the next run. Two runs at
once write one after the other, so that all the files of a folder are of one of them.
"""

import errno
import os
import re
import secrets
import signal
import stat
import threading
import time
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import NamedTuple

from jigtemplates.errors import OutputError
from jigtemplates.writers.alone import alone
from jigtemplates.writers.unwritable import UnfitError, line_about, shown

_TEMPORARY = re.compile(r"\.jigtemplates-([0-9]+)-[0-9a-f]{8}\.tmp")

#: Names of the temporaries that this process is writing now, in whatever thread.
_LIVE: set[str] = set()

#: A temporary older than this belongs to no run that is still writing, seconds (chosen).
ABANDONED = 600.0

#: Files that are forced to the disk at the same time (chosen: more than one job makes).
MOST_AT_ONCE = 16

#: Whether signal 0 asks if a process runs; elsewhere it may end it.
POSIX = os.name == "posix"


class Written(NamedTuple):
    """What write_all did, in the order of the files it was given."""

    written: tuple[Path, ...]
    #: files that held these bytes already; not touched
    unchanged: tuple[Path, ...]


class Before(NamedTuple):
    """A file as it was: enough to put it back."""

    data: bytes
    mode: int
    #: times of last access and change, ns
    times: tuple[int, int]


def write_all(files: Mapping[Path, bytes | None], *, folders: Iterable[Path] | None = None) -> Written:
    """Write all the files or none; folders that are missing are made. A file whose bytes are None is taken away.

    Other runs that write are kept out of `folders` meanwhile, so that the files of two do not mix; else out of all that
    the files are in. Raises OutputError with a line for each place that cannot be written; then nothing has changed.
    """
    job = Job(_look(files))  # before anything is made
    with ExitStack() as held:
        try:
            for folder in sorted({path.parent for path in files} if folders is None else set(folders)):
                job.at = next(path for path in files if path.parent == folder)
                held.enter_context(alone(folder, partial(job.make_folder, folder), lambda: shown(job.at.parent)))
            job.before = _look(files)  # others may have been at it while we waited
            written = _written(job, files)
        except BaseException as error:
            job.undo()
            if isinstance(error, OSError):
                raise OutputError(line_about(job.at, error, job.lost)) from error
            raise
        finally:
            _LIVE.difference_update(t.name for t in job.temporaries.values())
    return Written(written, tuple(p for p in files if p not in written))


def _written(job: "Job", files: Mapping[Path, bytes | None]) -> tuple[Path, ...]:
    """The files that changed."""
    changed = {path: data for path, data in files.items() if _differs(job.before[path], data)}
    for folder in dict.fromkeys(path.parent for path in files):
        sweep(folder)
    for path, data in changed.items():
        if data is not None:
            job.prepare(path, data)
    job.settle()
    for path in changed:
        job.replace(path)
    return tuple(changed)


def _differs(before: Before | None, data: bytes | None) -> bool:
    return (before and before.data) != data


def _look(files: Iterable[Path]) -> dict[Path, Before | None]:
    """What stands at each place now; every place that cannot be a file is a fault."""
    found: dict[Path, Before | None] = {}
    faults: list[str] = []
    long_in: set[Path] = set()
    for path in files:
        try:
            found[path] = _read(path)
        except (OSError, ValueError) as error:
            too_long = isinstance(error, OSError) and error.errno == errno.ENAMETOOLONG
            if not (too_long and path.parent in long_in):  # a job's files are too long together: said once
                faults.append(line_about(path, error))
            long_in |= {path.parent} if too_long else set()
    if faults:
        raise OutputError(faults)
    return found


def _read(path: Path) -> Before | None:
    try:
        about = path.stat()
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(about.st_mode):
        raise UnfitError("it is a folder (move the folder or choose another place)")
    if not stat.S_ISREG(about.st_mode):
        raise UnfitError("it is not an ordinary file (delete it or choose another place)")
    if not os.access(path, os.W_OK):
        raise UnfitError("it is read-only (make it writable or choose another place)")
    return Before(path.read_bytes(), stat.S_IMODE(about.st_mode), (about.st_atime_ns, about.st_mtime_ns))


@contextmanager
def _held_back(*signals: signal.Signals) -> Iterator[None]:
    """Let signals wait meanwhile; they come at the end. Only the main thread is ever interrupted by them."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    waiting: list[int] = []
    before = {one: signal.signal(one, lambda number, _: waiting.append(number)) for one in signals}
    try:
        yield
    finally:
        for one, handler in before.items():
            signal.signal(one, signal.SIG_DFL if handler is None else handler)
    for number in waiting:
        signal.raise_signal(number)


@dataclass(slots=True)
class Job:
    """One run: what it has made so far, and how to take it back."""

    before: dict[Path, Before | None]
    #: the place being worked on, for the error line
    at: Path = field(default_factory=Path)
    folders: list[Path] = field(default_factory=list)
    temporaries: dict[Path, Path] = field(default_factory=dict)
    #: files that took their place, or were about to
    replaced: list[Path] = field(default_factory=list)
    #: files that could not be put back: whole, but new
    lost: list[Path] = field(default_factory=list)

    def prepare(self, path: Path, data: bytes) -> None:
        """Write the bytes beside their place."""
        self.at = path
        self.make_folder(path.parent)
        temporary = self.temporaries[path] = _temporary(path.parent)
        _write(temporary, data, self.before[path])

    def settle(self) -> None:
        """Force the bytes to the disk, all files at once: a busy disk answers them in the time of one.

        Ctrl-C waits until that is done: it can leave a lock of the threads held that they then wait for without end.
        """
        from concurrent.futures import ThreadPoolExecutor

        with _held_back(signal.SIGINT, signal.SIGTERM), ThreadPoolExecutor(MOST_AT_ONCE) as pool:
            asked = {path: pool.submit(_force, temporary) for path, temporary in self.temporaries.items()}
        for path, answer in asked.items():
            self.at = path
            answer.result()

    def replace(self, path: Path) -> None:
        """Let the new file take the place of the old in one step, or take the old away."""
        self.at = path
        self.replaced.append(path)  # before, lest an interruption between the two hide it
        if path in self.temporaries:
            os.replace(self.temporaries[path], path)
        else:
            path.unlink(missing_ok=True)

    def undo(self) -> None:
        """Put everything back as far as the disk lets us; never raises OSError."""
        for path in reversed(self.replaced):
            try:
                if not self.temporaries.get(path, path).exists():  # so it did take its place, or was taken away
                    self._put_back(path)
            except OSError:
                self.lost.append(path)
        for temporary in self.temporaries.values():
            with suppress(OSError):
                temporary.unlink(missing_ok=True)
        for folder in reversed(self.folders):
            with suppress(OSError):
                folder.rmdir()

    def make_folder(self, folder: Path) -> None:
        """Make the folder, and those it is in, where they are missing."""
        missing = [f for f in (folder, *folder.parents) if not f.exists()]
        for new in reversed(missing):
            try:
                new.mkdir()
            except FileExistsError:
                if not new.is_dir():
                    raise
                continue  # another process made it between our look and now; it is not ours to take away
            self.folders.append(new)

    def _put_back(self, path: Path) -> None:
        before = self.before[path]
        if before is None:
            path.unlink()
            return
        temporary = self.temporaries[path] = self.temporaries.get(path) or _temporary(path.parent)
        _write(temporary, before.data, before)
        _force(temporary)
        os.utime(temporary, ns=before.times)
        os.replace(temporary, path)


def _temporary(folder: Path) -> Path:
    """A new name for a file of this process that has not got its own yet."""
    path = folder / f".jigtemplates-{os.getpid()}-{secrets.token_hex(4)}.tmp"
    _LIVE.add(path.name)
    return path


def _write(temporary: Path, data: bytes, before: Before | None) -> None:
    """Write a new file with the rights of the file it will replace."""
    with open(temporary, "xb") as file:
        file.write(data)
    if before is not None:
        os.chmod(temporary, before.mode)


def _force(temporary: Path) -> None:
    with open(temporary, "r+b") as file:
        os.fsync(file.fileno())


def sweep(folder: Path) -> None:
    """Clear away temporaries of runs that were killed; every other file stays."""
    with suppress(OSError, ValueError):  # it may be missing, have no name, or be closed to listing alone
        for entry in folder.iterdir():
            match = _TEMPORARY.fullmatch(entry.name)
            if match and _is_abandoned(entry, int(match[1])):
                entry.unlink()


def _is_abandoned(temporary: Path, process: int) -> bool:
    if process == os.getpid():  # a number may come again: in a container every run has the same
        return temporary.name not in _LIVE
    age = time.time() - temporary.lstat().st_mtime
    return age > ABANDONED or not _is_running(process)


def _is_running(process: int) -> bool:
    """Whether such a process may still write; in doubt it may."""
    if not POSIX:
        return True  # there signal 0 is not a question
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:
        return True
    return True
