"""A set of files reaches the disk as a whole, and every file is whole at every moment."""

import errno
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.errors import OutputError
from jigtemplates.writers import files as files_module
from jigtemplates.writers.files import ABANDONED, Written, sweep, write_all

OLD = {"a.dxf": b"old a", "b.svg": b"old b", "c.pdf": b"old c"}
NEW = {"a.dxf": b"new a", "b.svg": b"new b", "c.pdf": b"new c"}


def at(folder: Path, content: dict[str, bytes]) -> dict[Path, bytes]:
    return {folder / name: data for name, data in content.items()}


def there(folder: Path) -> dict[str, bytes]:
    """Everything in a folder, temporaries too."""
    return {p.name: p.read_bytes() for p in folder.iterdir()}


def refusal(targets: dict[Path, bytes]) -> tuple[str, ...]:
    with pytest.raises(OutputError) as caught:
        write_all(targets)
    return caught.value.lines


def failing(monkeypatch: pytest.MonkeyPatch, name: str, number: int, error: BaseException) -> None:
    """Let the nth call of an os function fail, that one only."""
    real, calls = getattr(os, name), []

    def call(*args: Any, **kwargs: Any) -> Any:
        calls.append(args)
        if len(calls) == number:
            raise error
        return real(*args, **kwargs)

    monkeypatch.setattr(os, name, call)


def test_new_files_in_a_new_folder(tmp_path: Path) -> None:
    """Folders that are missing are made, and nothing but the files is left in them."""
    folder = tmp_path / "out" / "rail"
    assert write_all(at(folder, NEW)) == Written(tuple(at(folder, NEW)), ())
    assert there(folder) == NEW


def test_unchanged_files_are_not_touched(tmp_path: Path) -> None:
    """A file that holds the same bytes keeps its time and is reported as unchanged."""
    write_all(at(tmp_path, OLD))
    long_ago = (10**18, 10**18)
    os.utime(tmp_path / "b.svg", ns=long_ago)
    done = write_all(at(tmp_path, {**NEW, "b.svg": b"old b"}))
    assert done == Written((tmp_path / "a.dxf", tmp_path / "c.pdf"), (tmp_path / "b.svg",))
    assert (tmp_path / "b.svg").stat().st_mtime_ns == 10**18
    assert there(tmp_path) == {**NEW, "b.svg": b"old b"}


def test_nothing_to_write(tmp_path: Path) -> None:
    """An empty set is written without a trace."""
    assert write_all({}) == Written((), ())
    assert there(tmp_path) == {}


def test_rights_are_kept(tmp_path: Path) -> None:
    """A file that is replaced keeps its rights; a new one has the usual ones, not a temporary's."""
    write_all(at(tmp_path, {"a": b"1"}))
    usual = os.stat(tmp_path / "a").st_mode & 0o777
    (tmp_path / "plain").write_bytes(b"")
    assert usual == os.stat(tmp_path / "plain").st_mode & 0o777
    os.chmod(tmp_path / "a", 0o640)
    write_all(at(tmp_path, {"a": b"2"}))
    assert os.stat(tmp_path / "a").st_mode & 0o777 == 0o640


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_failed_replacement_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    """Whichever replacement fails, every file is as it was, its time too, and no temporary is left."""
    write_all(at(tmp_path, OLD))
    os.utime(tmp_path / "a.dxf", ns=(10**18, 10**18))
    failing(monkeypatch, "replace", number, PermissionError(errno.EACCES, "denied"))
    (line,) = refusal(at(tmp_path, NEW))
    name = list(NEW)[number - 1]
    assert line == (
        f"{tmp_path / name}: cannot be written: "
        "no permission, or open in another program (close it there, or choose another place)"
    )
    assert there(tmp_path) == OLD
    assert (tmp_path / "a.dxf").stat().st_mtime_ns == 10**18


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_failed_replacement_leaves_no_new_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    """Where there were no files before there are none after a failure, nor the folders made for them."""
    failing(monkeypatch, "replace", number, OSError(errno.EROFS, "read-only"))
    (line,) = refusal(at(tmp_path / "out" / "rail", NEW))
    assert line.endswith("cannot be written: the disk is read-only (choose another place)")
    assert there(tmp_path) == {}


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_full_disk_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    """A disk that is full at any of the files leaves every old one and no temporary."""
    write_all(at(tmp_path, OLD))
    real, full = os.fsync, list(NEW.values())[number - 1]

    def fsync(file: int) -> None:
        if os.read(file, 100) == full:
            raise OSError(errno.ENOSPC, "full")
        real(file)

    monkeypatch.setattr(os, "fsync", fsync)
    (line,) = refusal(at(tmp_path, NEW))
    assert line == (
        f"{tmp_path / list(NEW)[number - 1]}: cannot be written: the disk is full (make room or choose another place)"
    )
    assert there(tmp_path) == OLD


def test_what_could_not_be_put_back_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If even putting back fails, the file is whole and new, and the line says so."""
    write_all(at(tmp_path, OLD))
    real, calls = os.replace, []

    def once(a: Path, b: Path) -> None:
        calls.append(b)
        if len(calls) > 1:
            raise OSError(errno.EIO, "Input/output error")
        real(a, b)

    monkeypatch.setattr(os, "replace", once)
    (line,) = refusal(at(tmp_path, NEW))
    assert line == (
        f"{tmp_path / 'b.svg'}: cannot be written: Input/output error; already replaced: {tmp_path / 'a.dxf'}"
    )
    assert there(tmp_path) == {**OLD, "a.dxf": b"new a"}


@pytest.mark.parametrize("number", [1, 2, 3])
def test_interrupted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    """Control-C between two files is an interruption still, and changes nothing."""
    write_all(at(tmp_path, OLD))
    failing(monkeypatch, "replace", number, KeyboardInterrupt())
    with pytest.raises(KeyboardInterrupt):
        write_all(at(tmp_path, NEW))
    assert there(tmp_path) == OLD


@pytest.mark.parametrize("number", [1, 2, 3])
def test_killed(tmp_path: Path, number: int) -> None:
    """A process killed at any replacement leaves each file whole; the next run clears up and finishes."""
    write_all(at(tmp_path, OLD))
    code = (
        "import os, sys; from pathlib import Path; from jigtemplates.writers.files import write_all\n"
        "real, left = os.replace, [int(sys.argv[2])]\n"
        "def replace(a, b):\n"
        "    left[0] -= 1\n"
        "    if not left[0]: os._exit(9)\n"
        "    real(a, b)\n"
        "os.replace = replace\n"
        "d = Path(sys.argv[1]); write_all({d / n: b'new ' + n[:1].encode() for n in sys.argv[3:]})\n"
    )
    killed = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path), str(number), *NEW],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(p or "." for p in sys.path)},
    )
    assert killed.returncode == 9
    after = there(tmp_path)
    assert {n: after[n] for n in OLD} == {**OLD, **dict(list(NEW.items())[: number - 1])}
    assert len(after) == 3 + 3 - (number - 1)  # the temporaries that had not taken their place
    write_all(at(tmp_path, NEW))
    assert there(tmp_path) == NEW


def test_interrupted_just_after(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An interruption right behind a replacement puts that file back, too."""
    write_all(at(tmp_path, OLD))
    real, calls = os.replace, []

    def replace(a: Path, b: Path) -> None:
        real(a, b)
        calls.append(b)
        if len(calls) == 2:
            raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", replace)
    with pytest.raises(KeyboardInterrupt):
        write_all(at(tmp_path, NEW))
    assert there(tmp_path) == OLD


def test_leftovers_go_even_if_nothing_changed(tmp_path: Path) -> None:
    """A run that finds every file unchanged still clears away what a killed one left."""
    write_all(at(tmp_path, OLD))
    (tmp_path / _temporary(os.getpid())).touch()
    assert write_all(at(tmp_path, OLD)) == Written((), tuple(at(tmp_path, OLD)))
    assert there(tmp_path) == OLD


def _temporary(process: int, mark: str = "0123abcd") -> str:
    return f".jigtemplates-{process}-{mark}.tmp"


def _ended_process() -> int:
    done = subprocess.Popen([sys.executable, "-c", ""])
    done.wait()
    return done.pid


def test_sweep_leaves_foreign_files(tmp_path: Path) -> None:
    """Only temporaries of ours that no running process writes are cleared away."""
    foreign = ["a.tmp", ".jigtemplates-1.tmp", ".jigtemplates-x-0123abcd.tmp", "jigtemplates-1-0123abcd.tmp"]
    gone = [_temporary(_ended_process()), _temporary(os.getpid()), _temporary(10**30)]
    alive = [_temporary(os.getppid())]
    for name in foreign + gone + alive:
        (tmp_path / name).touch()
    sweep(tmp_path)
    assert sorted(there(tmp_path)) == sorted(foreign + alive)


def test_sweep_of_what_is_old(tmp_path: Path) -> None:
    """A temporary of long ago goes even where a process of that number runs today."""
    old = tmp_path / _temporary(os.getppid())
    old.touch()
    past = time.time() - ABANDONED - 1
    os.utime(old, (past, past))
    sweep(tmp_path)
    assert there(tmp_path) == {}


@pytest.mark.parametrize("error", [PermissionError(errno.EPERM, "not yours"), OSError(errno.EIO, "odd")])
def test_sweep_in_doubt(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: OSError) -> None:
    """Where it cannot be known whether the process runs, its temporary stays."""
    (tmp_path / _temporary(4242)).touch()
    failing(monkeypatch, "kill", 1, error)
    sweep(tmp_path)
    assert list(there(tmp_path)) == [_temporary(4242)]


def test_sweep_where_signals_cannot_ask(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a system without POSIX signals a process is taken to run, and nothing is sent to it."""
    (tmp_path / _temporary(4242)).touch()
    failing(monkeypatch, "kill", 1, AssertionError("a signal was sent"))
    monkeypatch.setattr(files_module, "POSIX", False)
    sweep(tmp_path)
    assert list(there(tmp_path)) == [_temporary(4242)]


def test_sweep_of_a_folder_that_cannot_be_listed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that may be written to but not listed is no reason to fail."""

    def denied(_: Path) -> Any:
        raise PermissionError(errno.EACCES, "denied")

    monkeypatch.setattr(Path, "iterdir", denied)
    assert write_all(at(tmp_path, NEW)).written == tuple(at(tmp_path, NEW))


def test_two_runs_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A run within a run in the same process leaves the outer one's temporaries alone."""
    real, first = os.fsync, []

    def inner(number: int) -> None:
        real(number)
        if not first:
            first.append(number)
            write_all(at(tmp_path, {"other": b"x"}))

    monkeypatch.setattr(os, "fsync", inner)
    write_all(at(tmp_path, NEW))
    assert there(tmp_path) == {**NEW, "other": b"x"}


def test_a_file_where_a_folder_should_be(tmp_path: Path) -> None:
    """A path through a file is refused in one line a file, and the file stays."""
    (tmp_path / "out").write_bytes(b"mine")
    lines = refusal(at(tmp_path / "out", {"a": b"1", "b": b"2"}))
    said = "cannot be written: a part of it that should be a folder is a file (choose another place)"
    assert lines == (f"{tmp_path / 'out' / 'a'}: {said}", f"{tmp_path / 'out' / 'b'}: {said}")
    assert there(tmp_path) == {"out": b"mine"}


def test_all_impossible_places_at_once(tmp_path: Path) -> None:
    """A folder in a file's place, a name too long and a NUL have a line each, and nothing is written."""
    (tmp_path / "folder").mkdir()
    long_name = "x" * 300
    targets = at(tmp_path, {"good": b"1", "folder": b"2", long_name: b"3", "nul\0": b"4"})
    start = f"{tmp_path}{os.sep}"
    assert refusal(targets) == (
        f"{start}folder: cannot be written: it is a folder (move the folder or choose another place)",
        f"{start}{long_name}: cannot be written: the name is too long (choose a shorter one)",
        f"{start}nul\\x00: cannot be written: the name holds a character that no file name can hold (choose another)",
    )
    assert [p.name for p in tmp_path.iterdir()] == ["folder"]


def test_names_too_long_together_are_said_once(tmp_path: Path) -> None:
    """The files of one job share their long beginning: one line, not one for each."""
    names = [f"{'x' * 300}{ending}" for ending in (".dxf", ".svg", ".json")]
    assert refusal(at(tmp_path, dict.fromkeys(names, b"1"))) == (
        f"{tmp_path / names[0]}: cannot be written: the name is too long (choose a shorter one)",
    )


@pytest.mark.skipif(os.name != "posix", reason="needs links")
def test_a_link_to_itself(tmp_path: Path) -> None:
    """It is said what to do about it."""
    (tmp_path / "loop.svg").symlink_to("loop.svg")
    assert refusal(at(tmp_path, {"loop.svg": b"1"})) == (
        f"{tmp_path / 'loop.svg'}: cannot be written: a link there leads back to itself (delete the link)",
    )


def test_a_longest_name_can_be_written(tmp_path: Path) -> None:
    """A name of 255 characters, the most that common systems take, is no longer through a temporary."""
    targets = at(tmp_path, {"x" * 255: b"1"})
    assert write_all(targets).written == tuple(targets)


def test_a_pipe_in_the_place(tmp_path: Path) -> None:
    """What is no ordinary file is refused and not waited for."""
    os.mkfifo(tmp_path / "pipe")
    assert refusal(at(tmp_path, {"pipe": b""})) == (
        f"{tmp_path / 'pipe'}: cannot be written: it is not an ordinary file (delete it or choose another place)",
    )


def test_a_read_only_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that its owner made read-only is not replaced."""
    write_all(at(tmp_path, OLD))
    monkeypatch.setattr(os, "access", lambda path, _: path.name != "b.svg")
    assert refusal(at(tmp_path, NEW)) == (
        f"{tmp_path / 'b.svg'}: cannot be written: it is read-only (make it writable or choose another place)",
    )
    assert there(tmp_path) == OLD


def test_a_folder_that_cannot_be_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No permission for the second of two new folders takes the first away again."""
    real = Path.mkdir

    def mkdir(folder: Path) -> None:
        if folder.name == "rail":
            raise PermissionError(errno.EACCES, "denied")
        real(folder)

    monkeypatch.setattr(Path, "mkdir", mkdir)
    (line,) = refusal(at(tmp_path / "out" / "rail", NEW))
    assert line.startswith(f"{tmp_path / 'out' / 'rail' / 'a.dxf'}: cannot be written: no permission")
    assert there(tmp_path) == {}


def test_a_folder_in_use_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that was made and holds somebody's file by the time of the failure is left."""

    def busy(*_: Any) -> None:
        (tmp_path / "out" / "foreign").write_bytes(b"x")
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(os, "replace", busy)
    refusal(at(tmp_path / "out", NEW))
    assert there(tmp_path / "out") == {"foreign": b"x"}


def test_a_fault_without_a_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error that the system has no words for is named by its kind."""
    failing(monkeypatch, "replace", 1, InterruptedError())
    (line,) = refusal(at(tmp_path, NEW))
    assert line.endswith("a.dxf: cannot be written: InterruptedError")


def test_a_folder_that_another_process_makes_meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two processes that make the same folder at once are no fault, and neither takes the other's folder away."""
    real = Path.mkdir

    def raced(self: Path, *args: Any, **kwargs: Any) -> None:
        real(self)  # the other one was faster by a moment
        real(self, *args, **kwargs)

    monkeypatch.setattr(Path, "mkdir", raced)
    assert write_all({tmp_path / "out" / "a" / "a.txt": b"1"}).written == (tmp_path / "out" / "a" / "a.txt",)
    assert (tmp_path / "out" / "a" / "a.txt").read_bytes() == b"1"


def test_taken_away_and_written_together(tmp_path: Path) -> None:
    """A file of no bytes at all is taken away; where there is none it is unchanged."""
    write_all(at(tmp_path, OLD))
    files = {tmp_path / "a.dxf": b"new a", tmp_path / "b.svg": None, tmp_path / "d": None}
    assert write_all(files) == Written((tmp_path / "a.dxf", tmp_path / "b.svg"), (tmp_path / "d",))
    assert there(tmp_path) == {"a.dxf": b"new a", "c.pdf": b"old c"}


@pytest.mark.parametrize("number", [1, 2])
def test_taken_away_and_put_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    """A fault at a later file brings it back with its rights and its time."""
    write_all(at(tmp_path, OLD))
    os.chmod(tmp_path / "a.dxf", 0o640)
    os.utime(tmp_path / "a.dxf", ns=(10**18, 10**18))
    failing(monkeypatch, "replace", number, OSError(errno.EIO, "Input/output error"))
    (line,) = refusal({tmp_path / "a.dxf": None, tmp_path / "b.svg": b"new b", tmp_path / "c.pdf": b"new c"})
    assert line == f"{tmp_path / ['b.svg', 'c.pdf'][number - 1]}: cannot be written: Input/output error"
    assert there(tmp_path) == OLD
    assert (tmp_path / "a.dxf").stat().st_mtime_ns == 10**18
    assert (tmp_path / "a.dxf").stat().st_mode & 0o777 == 0o640


def test_ctrl_c_waits_until_the_bytes_are_on_the_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while threads force three files out: all three are forced first, then it comes, and nothing changed."""
    write_all(at(tmp_path, OLD))
    forced: list[Path] = []
    real = files_module._force

    def force(place: Path) -> None:
        if not forced:
            signal.raise_signal(signal.SIGINT)
        forced.append(place)
        real(place)

    monkeypatch.setattr(files_module, "_force", force)
    with pytest.raises(KeyboardInterrupt):
        write_all(at(tmp_path, NEW))
    assert len(forced) == 3
    assert there(tmp_path) == OLD
