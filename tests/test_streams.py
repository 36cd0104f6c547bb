"""The standard streams of real processes: gone, full, missing, narrow in characters, coloured or not."""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.streams import is_terminal, wanted_colour

POSIX = pytest.mark.skipif(os.name != "posix", reason="needs a POSIX shell or terminal")
COMMAND = [sys.executable, "-m", "jigtemplates"]
ESCAPE = b"\x1b["


def piped(command: str) -> tuple[int, str]:
    """Status of the first program of a pipeline in bash, and what came out on stderr."""
    script = f'{command}; echo "status ${{PIPESTATUS[0]}}"'
    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, timeout=60, check=False)
    return int(done.stdout.rpartition("status ")[2]), done.stderr


def program(args: str) -> str:
    return f"{sys.executable} -m jigtemplates {args}"


@POSIX
@pytest.mark.parametrize(
    ("args", "status"),
    [
        ("check rail.toml", 0),
        ("check rail.toml --json", 0),
        ("check --profiles own rail.toml", 1),  # the status still counts
        ("profiles bits", 0),
        ("--help", 0),
    ],
)
def test_a_reader_who_leaves_gets_no_traceback(rail: Path, args: str, status: int) -> None:
    """`| true`, which reads nothing: not a word on stderr, and the status that the jobs have."""
    (rail.parent / "own").mkdir()
    (rail.parent / "own" / "bits.toml").write_text('[bits."wide"]\ndiameter = "11 mm"\n', encoding="utf-8")
    if status == 1:  # a bit wider than the cut
        rail.write_text(rail.read_text(encoding="utf-8").replace('"3/8 in"', '"wide"', 1), encoding="utf-8")
    assert piped(f"{{ sleep 0.1; exec {program(args)}; }} | true") == (status, "")


@POSIX
def test_faults_into_a_closed_pipe_keep_their_status(here: Path) -> None:
    """Where even stderr is gone, the status still says that the job cannot be read."""
    assert piped(f"{{ sleep 0.1; exec {program('check nowhere.toml')} 2>&1; }} | true") == (2, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("args", ["check rail.toml", "profiles", "--version"])
def test_a_full_disk_behind_stdout_is_one_line(rail: Path, args: str) -> None:
    """Output that cannot be written: status 2 and one line, also when the program ends."""
    assert piped(f"{program(args)} >/dev/full") == (2, "the output: cannot be written (No space left on device)\n")


@POSIX
@pytest.mark.parametrize("args", ["check rail.toml", "new other", "profiles bits --json"])
def test_missing_streams_do_no_harm(rail: Path, args: str) -> None:
    """A program started with stdin and stdout closed does its work."""
    done = subprocess.run(["bash", "-c", f"{program(args)} <&- >&-"], capture_output=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


def encoded(encoding: str, *args: str) -> bytes:
    """What a call writes on stdout in an encoding; it must succeed without a word on stderr."""
    environment = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0", "LC_ALL": "C"}
    done = subprocess.run([*COMMAND, *args], env=environment, capture_output=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, b"")
    return done.stdout


@pytest.mark.parametrize(
    ("encoding", "title"),
    [
        ("cp437", b"Rail \xab ? \x81"),  # code page 437 has \xab for the half, \x81 for u umlaut, no times sign
        ("ascii", "Rail ½ × ü".encode()),  # click takes ASCII for a terminal that was never set up, and writes UTF-8
    ],
)
def test_a_terminal_without_a_character_gets_its_numbers(rail: Path, encoding: str, title: bytes) -> None:
    """Characters that the terminal lacks become ? and stop nothing; JSON is plain ASCII and loses none."""
    text = rail.read_text(encoding="utf-8").replace("Bench rail", "Rail ½ × ü")
    rail.write_text(text, encoding="utf-8")
    assert encoded(encoding, "check", "rail.toml").startswith(title)
    assert rb'"title": "Rail \u00bd \u00d7 \u00fc, 10 x 50"' in encoded(encoding, "check", "rail.toml", "--json")


def on_terminal(*args: str, **env: str) -> tuple[int, bytes]:
    """Status and output of a call whose three streams are a terminal."""
    import pty

    ours, theirs = pty.openpty()
    environment = {**os.environ, "TERM": "xterm", **env}
    with subprocess.Popen([*COMMAND, *args], stdin=theirs, stdout=theirs, stderr=theirs, env=environment) as process:
        os.close(theirs)
        out = b"".join(_read(ours))
    os.close(ours)
    return process.returncode, out


def _read(terminal: int) -> Iterator[bytes]:
    try:
        while piece := os.read(terminal, 4096):
            yield piece
    except OSError:  # the other end is closed, as this system says it
        return


@POSIX
def test_colour_only_on_a_terminal(rail: Path, shell: Callable[..., Any]) -> None:
    """On a terminal the title is bold and a warning's word yellow; in a pipe there is no escape code at all."""
    status, out = on_terminal("check", "rail.toml")
    assert status == 0
    assert b"\x1b[1mBench rail, 10 x 50\x1b[0m" in out
    assert b"\x1b[33m\x1b[22m  warning  \x1b[0m" in out
    said = shell("check", "rail.toml")
    assert "\x1b" not in said.out + said.err


@POSIX
@pytest.mark.parametrize(("value", "coloured"), [("1", False), ("0", False), ("", True)])
def test_no_color_is_honoured(rail: Path, value: str, coloured: bool) -> None:
    """NO_COLOR with anything in it: no escape code, even on a terminal; empty, it says nothing (no-color.org)."""
    status, out = on_terminal("check", "rail.toml", NO_COLOR=value)
    assert status == 0
    assert (ESCAPE in out) == coloured


@POSIX
def test_a_progress_bar_for_several_jobs_on_a_terminal(rail: Path) -> None:
    """Two jobs on a terminal are done behind a bar; one job is not."""
    (rail.parent / "other.toml").write_bytes(rail.read_bytes())
    assert b"jobs" in on_terminal("check", "rail.toml", "other.toml")[1]
    assert b"jobs" not in on_terminal("check", "rail.toml")[1]


@POSIX
def test_new_asks_for_the_shape_on_a_terminal(here: Path) -> None:
    """On a terminal `new` asks, and writes the shape it was told."""
    import pty

    ours, theirs = pty.openpty()
    with subprocess.Popen([*COMMAND, "new", "mine"], stdin=theirs, stdout=theirs, stderr=theirs) as process:
        os.close(theirs)
        os.write(ours, b"round\n")
        out = b"".join(_read(ours))
    os.close(ours)
    assert process.returncode == 0
    assert b"Shape of the cut" in out
    assert 'shape = "round"' in (here / "mine.toml").read_text(encoding="utf-8")


def test_no_stream_is_no_terminal() -> None:
    """None stands where a program was started without the stream."""
    assert is_terminal(None) is False


@pytest.mark.parametrize(("value", "wanted"), [("1", False), ("", None), (None, None)])
def test_wanted_colour(monkeypatch: pytest.MonkeyPatch, value: str | None, wanted: bool | None) -> None:
    """False only where NO_COLOR is there and not empty; else the terminal decides."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    if value is not None:
        monkeypatch.setenv("NO_COLOR", value)
    assert wanted_colour() is wanted
