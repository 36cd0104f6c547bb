"""Files of an earlier make that stay beside a template which was made again under other names."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

JOB = """\
title = "Rail"
units = "in"
[cut]
shape = "slot"
width = "1/2 in"
length = 2
depth = "1/2 in"
[tools]
bit = "3/8 in"
bushing = "5/8 in"
clearance = 0.004
[plate]
width = 6
height = 5
thickness = "1/4 in"
[make]
for = ["laser"]
dxf = { units = "in" }
"""
SAID = (
    "rail: make.for: made earlier and not renewed now, so perhaps no longer right: rail_laser.svg, rail_laser_in.dxf; "
    "delete them, or make them again"
)


@pytest.fixture
def measured(here: Path, call: Call) -> Path:
    """A folder with a job that was made before its kerf was measured."""
    (here / "jobs" / "profiles").mkdir(parents=True)
    (here / "jobs" / "rail.toml").write_text(JOB, encoding="utf-8")
    assert call("make", "jobs").status == 0
    text = 'units = "mm"\n[processes.laser]\nkerf = 0.16\n'
    (here / "jobs" / "profiles" / "own.toml").write_text(text, encoding="utf-8")
    return here / "jobs"


def findings(call: Call, *args: str) -> list[str]:
    (one,) = json.loads(call("regenerate", "jobs", "--bit", "5/16 in", *args, "--json").out)
    return [found["message"] for found in one["findings"] if found["code"] == "older-files"]


def test_they_are_named_with_the_table_and_in_the_report(measured: Path, call: Call) -> None:
    """The laser's files have the kerf in their names now; those of the old bit lie there still, and are named."""
    said = call("regenerate", "jobs", "--bit", "5/16 in", "--write")
    assert said.status == 0
    assert SAID in " ".join(said.out.split())
    there = {p.name for p in Path("templates/rail").iterdir()}
    assert {"rail_laser_in.dxf", "rail_laser_kerf0.16mm_in.dxf"} <= there
    (report,) = measured.glob("regenerate-*.txt")
    assert SAID in " ".join(report.read_text(encoding="utf-8").split())


def test_as_long_as_they_are_there(measured: Path, call: Call) -> None:
    """In JSON too, and when nothing is left to do; once they are deleted there is nothing to say."""
    assert findings(call, "--write") == [SAID.removeprefix("rail: make.for: ")]
    assert findings(call) == [SAID.removeprefix("rail: make.for: ")]
    for name in ("rail_laser.svg", "rail_laser_in.dxf"):
        (Path("templates/rail") / name).unlink()
    assert findings(call) == []
