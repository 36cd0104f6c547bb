"""What all options and paths have in common, through the commands that have them."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]


@pytest.mark.parametrize(
    ("args", "name"),
    [
        (("make", "rail.toml", "--out", "a", "--out", "b"), "--out"),
        (("make", "rail.toml", "--bit", "9 mm", "--bit=9 mm"), "--bit"),
        (("match", "--width", "9 mm", "--width", "10 mm"), "--width"),
        (("new", "--units", "mm", "--units", "in"), "--units"),
        (("check", "rail.toml", "--tools", "a", "--tools", "b"), "--tools"),
        (("drawer", "--opening", "9 mm", "--opening", "8 mm"), "--opening"),
        (("regenerate", ".", "--profiles", "a", "--profiles", "b"), "--profiles"),
        (("tools", "add", "bits", "b", "--file", "a", "--file", "b"), "--file"),
    ],
)
def test_an_option_given_twice(call: Call, rail: Path, args: tuple[str, ...], name: str) -> None:
    """One line, status 2, nothing written: the last one does not win unseen."""
    assert call(*args) == (2, "", f"{name}: is given twice (keep one)\n")
    assert [p.name for p in rail.parent.iterdir()] == ["rail.toml"]


def test_targets_and_flags_may_be_repeated(call: Call, rail: Path) -> None:
    """What is several on purpose stays so; an option with a default has it, one without has none."""
    said = call("make", "rail.toml", "--for", "cnc", "--for", "laser", "--json", "--json")
    assert (said.status, said.err) == (0, "")
    assert (rail.parent / "templates" / "rail" / "rail_cnc.svg").exists()
    assert (rail.parent / "templates" / "rail" / "rail.json").exists()


@pytest.mark.parametrize(
    ("args", "line"),
    [
        (("make", ""), "JOB is empty (name a file or a folder)"),
        (("check", "rail.toml", ""), "JOB is empty (name a file or a folder)"),
        (("make", "rail.toml", "--out", ""), "--out: it is empty (name a folder)"),
        (("make", "rail.toml", "--tools", ""), "--tools: it is empty (name a file)"),
        (("drawer", ""), "DIR is empty (name a folder)"),
        (("tools", ""), "FILE is empty (name a file)"),
        (("new", "--schema", ""), "--schema: it is empty (name a file)"),
    ],
)
def test_an_empty_path(call: Call, rail: Path, args: tuple[str, ...], line: str) -> None:
    """An empty path is not this folder: one line, status 2, nothing written."""
    assert call(*args) == (2, "", f"{line}\n")
    assert [p.name for p in rail.parent.iterdir()] == ["rail.toml"]


def test_a_job_whose_name_is_an_ending_alone(call: Call, rail: Path) -> None:
    """`make .toml` would write into a folder nobody sees: one line, nothing written."""
    rail.rename(rail.with_name(".toml"))
    said = call("make", ".toml")
    line = '.toml: ".toml" cannot name the files made from this job (it begins with a dot, which hides files; '
    assert (said.status, said.out, said.faults) == (2, "", [f"{line}put a name before the dot)"])
    assert [p.name for p in rail.parent.iterdir()] == [".toml"]


def test_a_schema_and_a_job(call: Call, here: Path) -> None:
    """`new --schema FILE PATH` would leave one of the two unwritten: it is refused."""
    assert call("new", "--schema", "s.json", "extra") == (
        2,
        "",
        '--schema: writes no job; leave "extra" out, or --schema\n',
    )
    assert list(here.iterdir()) == []


@pytest.mark.parametrize(("looking", "err"), [(False, ""), (True, "\n")])
def test_ctrl_c_on_a_terminal(call: Call, rail: Path, monkeypatch: pytest.MonkeyPatch, looking: bool, err: str) -> None:
    """The line that ends ^C is written on a terminal alone; status 130 in both."""

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("jigtemplates.batch.report_on", interrupted)
    monkeypatch.setattr("jigtemplates.options.is_terminal", lambda _: looking)
    assert call("check", "rail.toml") == (130, "", f"{err}stopped; no file is half-written\n")
