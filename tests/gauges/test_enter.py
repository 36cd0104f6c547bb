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
    """The cut engraved 9.80 takes a tenon of 9.9 mm, 0.1 mm fit: it is 10 mm wide, 0.2 wider than engraved."""
    found = json.loads(call("gauge", "fit", "rail.toml", "--for", "cnc", "--json").out)
    assert "9.80" in [one["engraved"] for one in found["openings"]]
    said = call(*filled(found["enter"], "9.80", "9.9"), "--look")
    assert (said.status, said.err) == (0, "")
    assert "so with 0.1 mm fit it is 10 mm wide, 0.2 mm too wide" in said.out


@pytest.mark.parametrize("folder", ["jobs", "my jobs"])
def test_the_fit_gauges_command_has_the_path_that_was_given(
    call: Call, rail: Path, read: SimpleNamespace, folder: str
) -> None:
    """A job in a folder below is found again by the command as it stands, on the screen and on the sheet."""
    (rail.parent / folder).mkdir()
    rail.rename(rail.parent / folder / "rail.toml")
    found = json.loads(call("gauge", "fit", f"{folder}/rail.toml", "--for", "cnc", "--json").out)
    said = call(*filled(found["enter"], "9.80", "9.9"), "--look")
    assert (said.status, said.err) == (0, "")
    path = "jobs/rail.toml" if folder == "jobs" else '"my jobs/rail.toml"'
    assert found["enter"].startswith(f"jigtemplates calibrate cut {path} --gauge")
    assert f"calibrate cut {path}" in read.pdf_text(
        rail.parent / "gauges" / "gauge-fit-rail" / "gauge-fit-rail_how.pdf"
    )


def test_the_fit_gauges_command_has_no_folder_of_this_machine(call: Call, rail: Path) -> None:
    """Given with all its folders, the job is named alone: the sheet may go to another machine."""
    found = json.loads(call("gauge", "fit", str(rail.resolve()), "--for", "cnc", "--json").out)
    assert found["enter"].startswith("jigtemplates calibrate cut rail.toml --gauge")
    said = " ".join(call("gauge", "fit", str(rail.resolve()), "--for", "cnc").out.split())
    assert f"jigtemplates calibrate cut {rail.resolve().as_posix()} --gauge" in said


def test_the_fit_gauges_command_in_inches(call: Call, rail: Path) -> None:
    """A cut of 5/16 in: 0.3125 is one of the row; engraved 0.3105 it takes a tenon of 0.3067 in: as engraved."""
    text = rail.read_text(encoding="utf-8").replace('"3/8 in"', '"1/4 in"')
    for old, new in (("width  = 10", 'width  = "5/16 in"'), ('"mm" ', '"in" '), ("= 28", '= "1 in"')):
        text = text.replace(old, new)
    for old, new in (("= 140", '= "140 mm"'), ("= 6\n", '= "6 mm"\n'), ("inset = 10", 'inset = "10 mm"')):
        text = text.replace(old, new)
    rail.write_text(text, encoding="utf-8")
    found = json.loads(call("gauge", "fit", "rail.toml", "--for", "cnc", "--json").out)
    assert {"0.3105", "0.3125"} <= {one["engraved"] for one in found["openings"]}
    said = call(*filled(found["enter"], "0.3105", "0.3067"), "--look")
    assert (said.status, said.err) == (0, "")
    assert "it takes a tenon of 0.3067 in (7.79 mm)" in said.out


@pytest.mark.parametrize(
    ("paper", "readings"), [("a4", ("99.4", "99.8", "140.8")), ("letter", ("3.98", "3.97", "5.62"))]
)
def test_the_printer_gauges_command(
    call: Call, here: Path, read: SimpleNamespace, paper: str, readings: tuple[str, ...]
) -> None:
    """What stands on the page, with bars and their diagonal filled in: 100 mm on A4, 4 in on Letter."""
    call("gauge", "printer", "--paper", paper)
    text = read.pdf_text(here / "gauges" / "gauge-printer" / f"gauge-printer_paper_{paper}.pdf")
    start = text.index("jigtemplates calibrate printer")
    said = call(*filled(text[start : text.index("--uncorrected") + len("--uncorrected")], *readings), "--look")
    assert (said.status, said.err) == (0, "")
    assert f"for bars of {'100 mm' if paper == 'a4' else '4 in'}, on an uncorrected page" in " ".join(said.out.split())
