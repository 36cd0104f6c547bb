"""Several runs change one tools file at a time, or through a link: no entry is lost."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates import tools_command
from jigtemplates.errors import OutputError
from jigtemplates.tools_command import change_tools

Call = Callable[..., Any]

POSIX = pytest.mark.skipif(os.name != "posix", reason="needs locks of POSIX")


@POSIX
def test_adding_in_parallel_loses_nothing(here: Path, call: Call) -> None:
    """Six runs at once add a bit each to a file that is not there yet: every one is in it."""
    command = [sys.executable, "-m", "jigtemplates", "tools", "add", "bits"]
    runs = [subprocess.Popen([*command, f"b{n}", "diameter=3 mm"], stdout=subprocess.DEVNULL) for n in range(6)]
    assert [run.wait(60) for run in runs] == [0] * 6
    text = (here / "profiles" / "tools.toml").read_text(encoding="utf-8")
    assert sorted(line for line in text.splitlines() if line.startswith("[")) == [f"[bits.b{n}]" for n in range(6)]
    assert [p.name for p in (here / "profiles").iterdir()] == ["tools.toml"]


def test_what_was_changed_meanwhile_is_read_again(tmp_path: Path) -> None:
    """An editor saves between reading and writing: the change is made to what it saved."""
    path, saved = tmp_path / "t.toml", iter(["b", "c"])
    path.write_text("a")

    def changed(at: Path) -> str:
        text = at.read_text() + "+"
        at.write_text(next(saved, at.read_text()))
        return text

    change_tools(path, changed)
    assert path.read_text() == "c+"


def test_a_file_that_never_stays_still(tmp_path: Path) -> None:
    """After some attempts one line, and the file as the other left it."""
    path = tmp_path / "t.toml"
    path.write_text("a")

    def changed(at: Path) -> str:
        at.write_text(at.read_text() + "b")
        return "mine"

    with pytest.raises(OutputError, match=r"t\.toml: was changed meanwhile and is left as it is \(run this again\)$"):
        change_tools(path, changed)
    assert path.read_text() == "abbbbbb"


@POSIX
def test_another_run_that_does_not_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who holds the folder for too long is named in one line; nothing is written, and nothing but waiting is lost."""
    import fcntl

    monkeypatch.setattr("jigtemplates.writers.alone.PATIENCE", 0.05)
    held = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(held, fcntl.LOCK_EX)
    with pytest.raises(OutputError, match=r"another jigtemplates is changing it \(run this again when it is done\)$"):
        change_tools(tmp_path / "t.toml", lambda _: "x")
    os.close(held)
    assert list(tmp_path.iterdir()) == []
    change_tools(tmp_path / "t.toml", lambda _: "x")
    assert (tmp_path / "t.toml").read_text() == "x"


@POSIX
def test_a_disk_without_locks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """There the file is changed all the same."""

    def none(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr("fcntl.flock", none)
    change_tools(tmp_path / "t.toml", lambda _: "x")
    assert (tmp_path / "t.toml").read_text() == "x"


def test_a_fault_leaves_no_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that was made for a file that cannot be written is gone again."""

    def full(_: object) -> None:
        raise OutputError("full")

    monkeypatch.setattr(tools_command, "write_all", full)
    with pytest.raises(OutputError, match="full"):
        change_tools(tmp_path / "a" / "b" / "t.toml", lambda _: "x")
    assert list(tmp_path.iterdir()) == []


def test_through_a_link(here: Path, call: Call) -> None:
    """The file that the link leads to is changed; the link stays one."""
    (here / "real").mkdir()
    (here / "real" / "mine.toml").write_text('units = "mm"\n')
    (here / "link.toml").symlink_to(Path("real", "mine.toml"))
    assert call("tools", "add", "bits", "b", "diameter=3 mm", "--file", "link.toml").status == 0
    assert (here / "link.toml").is_symlink()
    assert (here / "real" / "mine.toml").read_text() == 'units = "mm"\n\n[bits.b]\ndiameter = "3 mm"\n'
    assert call("tools", "remove", "bits", "b", "--file", "link.toml").status == 0
    assert (here / "link.toml").is_symlink()
    assert "[bits.b]" not in (here / "real" / "mine.toml").read_text()
