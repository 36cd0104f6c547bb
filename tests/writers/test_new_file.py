"""A new file is there whole or not at all, and never in the place of another."""

import errno
import os
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.writers.new_file import write_new

FULL = OSError(errno.ENOSPC, "No space left on device")
NO_LINKS = OSError(errno.EPERM, "Operation not permitted")


def failing(monkeypatch: pytest.MonkeyPatch, name: str, error: BaseException) -> None:
    def fail(*_: Any) -> None:
        raise error

    monkeypatch.setattr(f"jigtemplates.writers.new_file.os.{name}", fail)


@pytest.fixture(params=["links", "no links"])
def _both(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a disk that knows second names, and on one that does not."""
    if request.param == "no links":
        failing(monkeypatch, "link", NO_LINKS)


@pytest.mark.usefixtures("_both")
def test_it_is_written_and_nothing_else(tmp_path: Path) -> None:
    """The file has the bytes, and is alone in its folder."""
    write_new(tmp_path / "a.toml", b"x\r\n")
    assert [(p.name, p.read_bytes()) for p in tmp_path.iterdir()] == [("a.toml", b"x\r\n")]


@pytest.mark.usefixtures("_both")
@pytest.mark.parametrize("error", [FULL, KeyboardInterrupt()])
def test_a_full_disk_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException) -> None:
    """A fault while the bytes are forced to the disk, or Ctrl-C there: the folder stays empty."""
    failing(monkeypatch, "fsync", error)
    with pytest.raises(type(error)):
        write_new(tmp_path / "a.toml", b"x")
    assert list(tmp_path.iterdir()) == []


def test_a_fault_at_the_last_step_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without second names: where the file cannot take its place, the empty one that kept it goes too."""
    failing(monkeypatch, "link", NO_LINKS)
    failing(monkeypatch, "replace", FULL)
    with pytest.raises(OSError, match="No space left"):
        write_new(tmp_path / "a.toml", b"x")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.usefixtures("_both")
def test_what_comes_meanwhile_is_not_overwritten(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that appears between the look and the last step stays as it is."""
    (tmp_path / "a.toml").write_bytes(b"mine")
    monkeypatch.setattr("jigtemplates.writers.new_file.os.path.lexists", lambda _: False)
    with pytest.raises(FileExistsError):
        write_new(tmp_path / "a.toml", b"x")
    assert [(p.name, p.read_bytes()) for p in tmp_path.iterdir()] == [("a.toml", b"mine")]


def test_a_link_that_leads_nowhere_is_not_followed(tmp_path: Path) -> None:
    """It is something that stands there: nothing is written, here or where it leads."""
    os.symlink("elsewhere.toml", tmp_path / "a.toml")
    with pytest.raises(FileExistsError):
        write_new(tmp_path / "a.toml", b"x")
    assert [p.name for p in tmp_path.iterdir()] == ["a.toml"]


def test_what_a_killed_run_left_is_cleared_away(tmp_path: Path) -> None:
    """Its temporary goes even where the file is there already."""
    for name in ("a.toml", "b.toml"):
        (tmp_path / ".jigtemplates-99999999-0123abcd.tmp").write_bytes(b"half")
        (tmp_path / "b.toml").write_bytes(b"mine")
        with suppress(FileExistsError):
            write_new(tmp_path / name, b"x")
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"a.toml": b"x", "b.toml": b"mine"}


@pytest.mark.parametrize("old", [True, False])
def test_an_empty_file_that_a_killed_run_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, old: bool) -> None:
    """Without second names it may have kept the place and never filled it: an old one is filled, a new one may be."""
    failing(monkeypatch, "link", NO_LINKS)
    (tmp_path / "a.toml").write_bytes(b"")
    if old:
        os.utime(tmp_path / "a.toml", (1, 1))
        write_new(tmp_path / "a.toml", b"x")
    else:
        with pytest.raises(FileExistsError):
            write_new(tmp_path / "a.toml", b"x")
    assert [p.read_bytes() for p in tmp_path.iterdir()] == [b"x" if old else b""]


def test_an_empty_file_of_others_stays(tmp_path: Path) -> None:
    """Where the disk knows second names no run leaves one, so an old empty file is somebody's."""
    (tmp_path / "a.toml").write_bytes(b"")
    os.utime(tmp_path / "a.toml", (1, 1))
    with pytest.raises(FileExistsError):
        write_new(tmp_path / "a.toml", b"x")
    assert (tmp_path / "a.toml").read_bytes() == b""
