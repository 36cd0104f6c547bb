"""The command that each gauge gives to be typed is one that `calibrate` takes, once the blanks are filled in."""

import json
import shlex
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

Call = Callable[..., Any]


def filled(command: str, *readings: str) -> list[str]:
    """The words of a command behind the program's name, each blank filled in."""
    for reading in readings:
        command = command.replace("____", reading, 1)
    assert "____" not in command
    name, *words = shlex.split(command)
    assert name == "jigtemplates"
    return words


def test_the_kerf_gauges_command(call: Call, here: Path) -> None:
    """A gap of 1.9 mm over its ten cuts: 0.19 mm in 6 mm mdf."""
    found = json.loads(call("gauge", "kerf", "--material", "mdf", "--thickness", "6 mm", "--json").out)
    said = call(*filled(found["enter"], "1.9"), "--look")
    assert (said.status, said.err) == (0, "")
    assert "0.19 mm" in said.out


def test_the_kerf_gauges_command_in_inches(call: Call, here: Path) -> None:
    """A gap of 0.080 in over ten cuts: 0.008 in."""
    found = json.loads(call("gauge", "kerf", "--material", "mdf", "--thickness", "1/4 in", "--json").out)
    said = call(*filled(found["enter"], "0.080"), "--look")
    assert (said.status, said.err) == (0, "")
    assert "0.008 in" in said.out


@pytest.mark.parametrize(
    ("bushing", "reading", "size"),
    [("12 mm", "12.05", "12.025 mm"), ("bushing 1/2 in", "0.502", "0.501 in")],
)
def test_the_bushing_gauges_command(call: Call, here: Path, bushing: str, reading: str, size: str) -> None:
    """The narrowest opening it slides in: the size half a step below is taken, for a bare size and for a name."""
    found = json.loads(call("gauge", "bushing", "--bushing", bushing, "--for", "cnc", "--json").out)
    assert reading in [one["engraved"] for one in found["openings"]]
    said = call(*filled(found["enter"], reading), "--look")
    assert (said.status, said.err) == (0, "")
    assert size in said.out


def test_the_fit_gauges_command(call: Call, rail: Path) -> None:
    """The underlined cut, 10.00, measured 10.2 mm: a test cut of the job, wide by a kerf."""
    found = json.loads(call("gauge", "fit", "rail.toml", "--for", "cnc", "--json").out)
    said = call(*filled(found["enter"], "10.2"), "--look")
    assert (said.status, said.err) == (0, "")
    assert "measured  width 10.2 mm, 0.2 mm too wide" in said.out


@pytest.mark.parametrize(
    ("paper", "readings"), [("a4", ("99.4", "99.8", "140.8")), ("letter", ("3.92", "3.93", "5.55"))]
)
def test_the_printer_gauges_command(
    call: Call, here: Path, read: SimpleNamespace, paper: str, readings: tuple[str, ...]
) -> None:
    """What stands on the page, with bars and their diagonal filled in."""
    call("gauge", "printer", "--paper", paper)
    text = read.pdf_text(here / "gauges" / "gauge-printer" / f"gauge-printer_paper_{paper}.pdf")
    start = text.index("jigtemplates calibrate printer")
    said = call(*filled(text[start : text.index("--uncorrected") + len("--uncorrected")], *readings), "--look")
    assert (said.status, said.err) == (0, "")
