"""What a template has and a process does not draw: said by check, by make, and by a make that changes nothing."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

PEN = '{ layer = "all", colour = "#000000", stroke = "0.1 mm" }'
HOLES = (
    "the screw holes are not in the laser file, for the process profile draws no drill (add drill to its roles, or do "
    "that by hand)"
)
LABEL = (
    "the label is not in the laser file, for the process profile draws no engrave (add engrave to its roles, or do "
    "that by hand)"
)


@pytest.fixture
def bare(rail: Path) -> Path:
    """The plan's job for a laser that draws the two needed roles alone."""
    text = rail.read_text(encoding="utf-8")
    rail.write_text(text.replace('["laser", "cnc", "paper"]', '["laser"]'), encoding="utf-8")
    (rail.parent / "profiles").mkdir()
    own = f"[processes.laser]\nroles = {{ cut_outside = {PEN}, cut_inside = {PEN} }}\n"
    (rail.parent / "profiles" / "mine.toml").write_text(own, encoding="utf-8")
    return rail


def found(said: Any) -> list[tuple[str, str, str]]:
    """Level, key and sentence of each such finding of the one job."""
    job = json.loads(said.out)
    return [(f["level"], f["where"], f["message"]) for f in job["findings"] if f["code"] == "role-not-drawn"]


def test_screws_and_label_without_a_pen(bare: Path, call: Call) -> None:
    """A warning for the holes and a note for the label, once each: from check, make and a second make."""
    expected = [("warning", "make.for", HOLES), ("note", "make.for", LABEL)]
    for words in (("check",), ("make",), ("make",)):
        assert found(call(*words, "rail.toml", "--json")) == expected


def test_nothing_that_could_be_missing(bare: Path, call: Call) -> None:
    """A plate without screws and label loses nothing."""
    text = bare.read_text(encoding="utf-8").replace("screws =", "label = false\n#")
    bare.write_text(text, encoding="utf-8")
    assert found(call("check", "rail.toml", "--json")) == []


def test_the_shipped_processes_draw_both(rail: Path, call: Call) -> None:
    """No such finding without a profile of one's own."""
    assert found(call("check", "rail.toml", "--json")) == []
