"""A correction, or its undoing, that was killed between two of its files is finished or taken back by the next run."""

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

BIT = ("calibrate", "bit", "my 3/8", "--measured", "9.48 mm")
KERF = ("calibrate", "kerf", "--gap", "1.9 mm", "--cuts", "10")
PRINTER = ("calibrate", "printer", "--across", "99.2 mm", "--up", "99.6 mm")
WITH_JOB = ("calibrate", "bushing", "1/2 in", "--measured", "12.66 mm", "--job", "rail.toml")


def undo_list(tools: Path) -> Path:
    """The list of what can be taken back."""
    return tools.with_name("tools.toml.undo")


def test_list_comes_first(call: Call, tools: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever a killed run has changed can be taken back: the list is there before it."""
    real, places = os.replace, []

    def replace(a: Any, b: Any) -> None:
        places.append(Path(b).name)
        real(a, b)

    monkeypatch.setattr(os, "replace", replace)
    call(*BIT)
    assert places == ["tools.toml.undo", "tools.toml"]


def test_undo_that_was_killed(call: Call, tools: Path, start: str) -> None:
    """The files are as before and the list still holds the correction: once more, and the list is gone."""
    call(*BIT)
    listed = undo_list(tools).read_bytes()
    call("calibrate", "--undo")
    undo_list(tools).write_bytes(listed)
    again = call("calibrate", "--undo")
    assert (again.status, again.err) == (0, "")
    assert tools.read_text() == start
    assert not undo_list(tools).exists()


def test_undo_that_was_killed_between_two_files(call: Call, tools: Path, rail: Path) -> None:
    """One is as before, the other not yet."""
    before = (tools.read_bytes(), rail.read_bytes())
    call(*WITH_JOB)
    tools.write_bytes(before[0])
    assert call("calibrate", "--undo").status == 0
    assert (tools.read_bytes(), rail.read_bytes()) == before


def test_undo_of_a_new_file_that_was_killed(call: Call, rail: Path, here: Path) -> None:
    """The tools file was made by the correction and is gone already."""
    before = rail.read_bytes()
    call(*WITH_JOB)
    (here / "profiles" / "tools.toml").unlink()
    assert call("calibrate", "--undo").status == 0
    assert rail.read_bytes() == before
    assert [path.name for path in here.iterdir()] == ["rail.toml"]


def test_correction_that_was_killed(call: Call, tools: Path, start: str) -> None:
    """It was listed and not begun: the next run of it is listed alone."""
    call(*BIT)
    whole = undo_list(tools).read_bytes()
    tools.write_text(start)
    assert call(*BIT).status == 0
    assert undo_list(tools).read_bytes() == whole
    assert len(json.loads(whole)["corrections"]) == 1
    assert call("calibrate", "--undo").status == 0
    assert tools.read_text() == start


@pytest.mark.parametrize("new", [False, True])
def test_correction_that_was_killed_between_two_files(
    call: Call, tools: Path, start: str, rail: Path, *, new: bool
) -> None:
    """The tools file has it and the job not yet: the next run of it changes the job, and is the same correction."""
    if new:
        tools.unlink()
    job = rail.read_bytes()
    assert call(*WITH_JOB).status == 0
    ended = {path: path.read_bytes() for path in (tools, undo_list(tools), rail)}
    rail.write_bytes(job)
    assert call(*WITH_JOB).status == 0
    assert {path: path.read_bytes() for path in ended} == ended
    assert call("calibrate", "--undo").status == 0
    assert (tools.read_text() if tools.exists() else None, rail.read_bytes()) == (None if new else start, job)


def test_same_reading_twice_on_one_day(call: Call, tools: Path, day: Callable[[str], None]) -> None:
    """It is one reading; another day's, or another one, is a second."""
    for command in (BIT, KERF, PRINTER):
        assert call(*command).status == 0
    once = tools.read_text()
    again = (*PRINTER, "--uncorrected")
    for command in (again, KERF, BIT):
        assert call(*command).status == 0
    assert tools.read_text() == once
    assert "was" not in once
    day("2026-11-26")
    for command in (BIT, KERF, again):
        assert call(*command).status == 0
    assert tools.read_text().count("was =") == 3


def test_changed_by_hand_stays(call: Call, tools: Path, start: str) -> None:
    """The size as before and a line of somebody's: no byte changes, and the correction is out of the list."""
    call(*BIT)
    tools.write_text(start + "# mine\n")
    assert call("calibrate", "--undo").status == 0
    assert tools.read_text() == start + "# mine\n"
    assert not undo_list(tools).exists()


def test_taking_out_was_killed(call: Call, tools: Path) -> None:
    """Killed between a file that was changed since and the list: the same command once more ends it."""
    call(*BIT)
    tools.write_text(tools.read_text() + "# mine\n")
    listed = undo_list(tools).read_bytes()
    call("calibrate", "--undo")
    once = tools.read_bytes()
    undo_list(tools).write_bytes(listed)
    assert call("calibrate", "--undo").status == 0
    assert tools.read_bytes() == once
    assert not undo_list(tools).exists()


def test_undone_by_another_run_meanwhile(call: Call, tools: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two undo the only correction at once: the second says that there is none, and changes nothing."""
    call(*BIT)
    seen = iter([json.loads(undo_list(tools).read_text())["corrections"]])
    monkeypatch.setattr("jigtemplates.calibrate.command.steps", lambda _: next(seen, []))
    refused = call("calibrate", "--undo")
    assert (refused.status, refused.err) == (2, "profiles/tools.toml: no correction to take back\n")
    assert undo_list(tools).exists()


@pytest.mark.parametrize("name", ["profiles/tools.toml", "profiles/tools.toml.undo"])
def test_undo_where_a_file_cannot_be_taken_away(
    call: Call, rail: Path, here: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """The line names the file, and every other one is as it was before the undoing."""
    call(*WITH_JOB)
    before = {path: path.read_bytes() for path in here.rglob("*") if path.is_file()}
    real = Path.unlink

    def unlink(path: Path, missing_ok: bool = False) -> None:
        if path.name == Path(name).name:
            raise PermissionError(13, "denied")
        real(path, missing_ok)

    monkeypatch.setattr(Path, "unlink", unlink)
    refused = call("calibrate", "--undo")
    assert refused.status == 2
    assert refused.err.strip().endswith(
        f"{name}: cannot be written: no permission, or open in another program (close it there, or choose another "
        "place)"
    )
    assert {path: path.read_bytes() for path in here.rglob("*") if path.is_file()} == before


def test_changed_while_it_is_reckoned(call: Call, tools: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another run adds a tool after the file was read: its tool stays, and the correction says why it is not made."""
    from jigtemplates.calibrate import command

    def tool_proposal(*given: Any, **more: Any) -> Any:
        proposal = real(*given, **more)
        tools.write_text(tools.read_text() + "[bits.new]\ndiameter = 5\n")
        return proposal

    real = command.tool_proposal
    monkeypatch.setattr(command, "tool_proposal", tool_proposal)
    refused = call(*BIT)
    assert (refused.status, refused.err) == (2, "profiles/tools.toml: was changed meanwhile (run this again)\n")
    assert "[bits.new]" in tools.read_text()
    assert "9.48" not in tools.read_text()
