"""Where the command line is given anything at all: watched for what it says, writes, takes and how long it takes.

A call breaks its promise by any exception, a status that is none of ours, the line of the last net, characters a
terminal would obey, more time or memory than any input may cost, and by opening for writing, making, renaming or
deleting anything outside the folders that it was told to write into.
"""

import io
import os
import shutil
import signal
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from types import FrameType
from typing import Any, NamedTuple

from hypothesis import HealthCheck, Phase, settings
from promises import are_lines

from jigtemplates.cli import run
from jigtemplates.ezdxf_import import import_ezdxf

import_ezdxf()  # the library behind DXF makes a folder for its fonts when it is first read

#: One call may compute so long, seconds (chosen: a hundred times an ordinary one), and take so long by the clock
#: (chosen: the machine may be busy).
SLOWEST, LONGEST_WAIT = 10, 120
#: And so much memory above what this process has, bytes (chosen: ten times an ordinary job).
MOST_MEMORY = 1_500_000_000
#: Most characters on the terminal (chosen: a list of every pair of the shipped tools is a tenth of it).
MOST_SAID = 2_000_000

#: A test's examples: few and the same in every run, or as many as JIGTEMPLATES_FUZZ says, other ones each time.
FEW, MANY = 60, int(os.environ.get("JIGTEMPLATES_FUZZ", "2000"))
_QUIET = [HealthCheck.function_scoped_fixture, HealthCheck.too_slow, HealthCheck.data_too_large]
_PHASES = (Phase.explicit, Phase.generate, Phase.shrink)
fast = settings(deadline=None, max_examples=FEW, suppress_health_check=_QUIET, phases=_PHASES)
long = settings(fast, max_examples=MANY, derandomize=False, database=None)


class BrokenPromiseError(BaseException):
    """What no input may cause; no handler of the program's own takes it for an ordinary error."""


class Said(NamedTuple):
    """What one call came to."""

    status: int
    out: str
    err: str


@contextmanager
def _in_time() -> Iterator[None]:
    """Raises BrokenPromiseError where the body computes too long, or waits for what never comes."""
    if not hasattr(signal, "setitimer"):  # Windows
        yield
        return

    def ring(_: int, frame: FrameType | None) -> None:
        at = f"{frame.f_code.co_filename}:{frame.f_lineno}" if frame else "?"
        raise BrokenPromiseError(f"took more than {SLOWEST} s, at {at}")

    timers = ((signal.ITIMER_PROF, signal.SIGPROF, SLOWEST), (signal.ITIMER_REAL, signal.SIGALRM, LONGEST_WAIT))
    before = [signal.signal(number, ring) for _, number, _ in timers]
    for timer, _, seconds in timers:
        signal.setitimer(timer, seconds)
    try:
        yield
    finally:
        for (timer, number, _), handler in zip(timers, before, strict=True):
            signal.setitimer(timer, 0)
            signal.signal(number, handler)


@contextmanager
def _in_memory() -> Iterator[None]:
    """Lets the body have no more memory than any input may cost; beyond it Python raises MemoryError."""
    statm = Path("/proc/self/statm")
    if not statm.exists():  # only Linux keeps to the limit and says what is used
        yield
        return
    import resource

    before = resource.getrlimit(resource.RLIMIT_AS)
    used = int(statm.read_text().split()[0]) * os.sysconf("SC_PAGE_SIZE")
    resource.setrlimit(resource.RLIMIT_AS, (used + MOST_MEMORY, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, before)


class _Watch:
    """Notes every place that is written to, by Python's audit events; one for the whole process."""

    def __init__(self) -> None:
        self.places: list[str] | None = None
        sys.addaudithook(self._heard)

    def _heard(self, event: str, args: tuple[Any, ...]) -> None:
        if self.places is None:
            return
        if event == "open":
            path, mode, flags = args
            writes = flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT) if isinstance(flags, int) else "r" not in str(mode)
            if writes and isinstance(path, str | bytes | os.PathLike):
                self.places.append(os.fsdecode(path))
        elif event in ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.truncate"):
            wanted = args[:2] if event in ("os.rename", "os.link", "os.symlink") else args[:1]
            self.places += [os.fsdecode(place) for place in wanted if isinstance(place, str | bytes | os.PathLike)]
        elif event in ("subprocess.Popen", "os.system", "os.exec", "socket.connect", "socket.bind"):
            self.places.append(f"{event} {args[0]!r}")


_watch = _Watch()


def _is_pythons(place: str) -> bool:
    """What the interpreter and its libraries write for themselves."""
    return "__pycache__" in place or place == os.devnull


class Arena:
    """An empty folder that is worked in, and that everything stays in."""

    def __init__(self, here: Path) -> None:
        self.here = here

    def emptied(self) -> None:
        """Everything in it is deleted."""
        for path in self.here.iterdir():
            shutil.rmtree(path) if path.is_dir() and not path.is_symlink() else path.unlink()

    def filled(self, field: Path) -> None:
        """It holds what the field holds, and a pipe that nobody writes into."""
        self.emptied()
        shutil.copytree(field, self.here, symlinks=True, dirs_exist_ok=True)
        if hasattr(os, "mkfifo"):
            os.mkfifo(self.here / "pipe.toml")

    def call(self, args: Sequence[str], *, into: Sequence[str] = ()) -> Said:
        """One call of the command line, which may write into the given files and folders of the arena and no other."""
        out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", "replace", newline="") for _ in "oe")  # as main() has them
        _watch.places = []
        try:
            with redirect_stdout(out), redirect_stderr(err), _in_time(), _in_memory():
                status = run(list(args))
        except (Exception, SystemExit, BrokenPromiseError) as error:
            raise AssertionError(f"{args}: {type(error).__name__}: {error}") from error
        finally:
            places, _watch.places = _watch.places, None
        said = Said(status, _text(out), _text(err))
        self._is_in(places, into, args)
        self._is_said(said, args)
        return said

    def _is_in(self, places: Sequence[str], into: Sequence[str], args: Sequence[str]) -> None:
        allowed = [Path(os.path.realpath(self.here / name)) for name in into]
        for place in places:
            path = Path(os.path.realpath(place))
            if not _is_pythons(place) and not any(path.is_relative_to(one) or _is_beside(path, one) for one in allowed):
                raise AssertionError(f"{args}: wrote to {place}")

    def _is_said(self, said: Said, args: Sequence[str]) -> None:
        assert said.status in (0, 1, 2), (args, said)
        assert len(said.out) < MOST_SAID, (args, len(said.out))
        assert said.err or said.status != 2, (args, said)  # beside an answer there may stand what to look at
        if said.err:
            are_lines(said.err.removesuffix("\n").split("\n"))
        assert all(c.isprintable() or c in "\n" for c in said.out), (args, said.out)


def _is_beside(path: Path, one: Path) -> bool:
    """A temporary name beside a file that is written whole, or a folder on the way to it."""
    return (path.parent == one.parent and path.name.startswith(".jigtemplates-")) or one.is_relative_to(path)


def _text(stream: io.TextIOWrapper) -> str:
    stream.flush()
    assert isinstance(stream.buffer, io.BytesIO)
    return stream.buffer.getvalue().decode("utf-8", "surrogateescape").replace("\r\n", "\n")
