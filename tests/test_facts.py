"""The numbers a maker needs, as labelled text."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.facts import cut_wanted, deviation_text, facts, size_text, tool_text
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

ReportWith = Callable[..., Report]


def test_the_plans_job(report_with: ReportWith) -> None:
    """All facts of the job of the plan, in the order of the job."""
    assert facts(report_with()) == (
        ("bit", "3/8 in = 9.525 mm"),
        ("bushing", "1/2 in = 12.7 mm"),
        ("offset", "1.588 mm a side"),
        ("cut wanted", "slot, 10 mm wide, 50 mm long, 28 mm deep"),
        ("opening", "13.175 x 53.175 mm = 0.519 x 2.094 in (about 33/64 x 2-3/32), corners r 6.588 mm"),
        ("cut made", "10 x 50 mm = 0.394 x 1.969 in (about 25/64 x 1-31/32), as asked"),
        ("side play", "0.475 mm, run round the edge"),
        ("plate", "140 x 140 mm = 5.512 x 5.512 in (about 5-33/64 x 5-33/64), 6 mm mdf"),
        ("plunge", "34 mm from the base (plate 6 mm + cut 28 mm)"),
        ("passes", "6, each at most 4.7 mm deeper"),
    )


def test_what_a_printer_makes_wider(report_with: ReportWith) -> None:
    """A printed template says by how much holes and openings are wider than drawn; no other job speaks of it."""
    keys = {"for": ["print"], "print": {"allowance": 0.25}}
    assert dict(facts(report_with(make=keys)))["printed"] == "screw holes 0.25 mm wider; openings as drawn"
    assert dict(facts(report_with(make=keys, plate={"screws": None})))["printed"] == "openings as drawn"
    nothing = report_with(make=keys, plate={"screws": None}, tools={"bit": 12})
    assert dict(facts(nothing))["printed"] == "as drawn"
    assert "printed" not in dict(facts(report_with()))


def test_a_trapped_round_cut(report_with: ReportWith) -> None:
    """A round opening and cut are given by their diameter; how far off is said."""
    found = dict(facts(report_with(cut={"shape": "round", "diameter": "3/8 in", "depth": 5})))
    assert found["cut wanted"] == "round, 3/8 in, 5 mm deep"
    assert found["opening"].startswith("dia 12.8 mm = 0.504 in")
    assert "r 6" not in found["opening"]
    assert found["cut made"].startswith("dia 9.625 mm = 0.379 in")
    assert found["cut made"].endswith(", its edge at most 0.05 mm off")
    assert found["side play"] == "0.1 mm, trapped: one pass makes the width"
    assert found["passes"] == "2, each 2.5 mm deeper"


def test_no_opening(report_with: ReportWith) -> None:
    """Where the bit does not fit that is said, and nothing is said of a cut or of play."""
    found = dict(facts(report_with(cut={"width": 9})))
    assert found["opening"] == "none: the bit does not fit"
    assert "cut made" not in found
    assert "side play" not in found


def test_plunge_with_stand_off(report_with: ReportWith) -> None:
    """The stack is added up where it is shown: 6 + 12 + 4 = 22; one pass is no steps."""
    found = dict(facts(report_with(cut={"depth": 4}, plate={"stand_off": 12, "material": None})))
    assert found["plunge"] == "22 mm from the base (plate 6 mm + stand-off 12 mm + cut 4 mm)"
    assert found["passes"] == "1, 4 mm deep"
    assert found["plate"].endswith(", 6 mm")


@pytest.mark.parametrize(
    ("cut", "text"),
    [
        ({"angle": -22.5}, "slot, 10 mm wide, 50 mm long, 28 mm deep, turned -22.5°"),
        (
            {"shape": "rectangle", "width": "3/4 in", "length": "2 in", "depth": 3, "corner_radius": "1/4 in"},
            "rectangle, 3/4 in wide, 2 in long, corners r 6.35 mm, 3 mm deep",
        ),
        ({"shape": "rectangle", "width": 20, "length": 50, "depth": 3}, "rectangle, 20 mm wide, 50 mm long, 3 mm deep"),
    ],
)
def test_cut_wanted(report_with: ReportWith, cut: dict[str, Any], text: str) -> None:
    """The cut as it was written, corners and turn where there are any."""
    assert cut_wanted(report_with(cut=cut).job) == text


def test_tools(report_with: ReportWith) -> None:
    """A tool by its name, its size as written and in the other unit."""
    tools = report_with(tools={"bit": "up-spiral 3/8 in", "bushing": 13}).job.tools
    assert tool_text(tools.bit) == "up-spiral 3/8 in (3/8 in = 9.525 mm)"
    assert tool_text(tools.bushing) == "13 mm, about 33/64 in (0.512 in)"


@pytest.mark.parametrize(
    ("diameter", "text"),
    [
        (
            {"nominal": "1/2 in", "measured": "12.68 mm", "within": "0.02 mm"},
            "1/2 in nominal, measured 12.68 mm ± 0.02 mm",
        ),
        ({"nominal": "1/2 in", "measured": "0.499 in"}, "1/2 in nominal, measured 0.499 in = 12.675 mm"),
        ({"nominal": "1/2 in"}, "1/2 in = 12.7 mm"),
    ],
)
def test_a_measured_tool(report_with: ReportWith, diameter: dict[str, str], text: str) -> None:
    """Of a measured tool both sizes are shown, and how good the measurement is."""
    report = report_with(tools={"bushing": {"diameter": diameter, "bore": "13/32 in"}})
    assert tool_text(report.job.tools.bushing) == text


def test_deviation_text() -> None:
    """Less than half a micrometre is as asked."""
    assert deviation_text(0.0004) == "as asked"
    assert deviation_text(0.0006) == "its edge at most 0.001 mm off"
    assert deviation_text(0.254, inches=True) == "its edge at most 0.010 in (0.254 mm) off"


def test_size_text() -> None:
    """Exact 64ths are not called about."""
    assert size_text(101.6, 50.8) == "101.6 x 50.8 mm = 4.000 x 2.000 in (4 x 2)"


@pytest.mark.parametrize(
    ("size", "text"),
    [
        ((101.6, 50.8), "4 x 2 in (101.6 x 50.8 mm)"),
        ((28.575, 88.9), "1-1/8 x 3-1/2 in = 1.125 x 3.500 in (28.575 x 88.9 mm)"),
        ((100.0, 50.8), "3.937 x 2.000 in, about 3-15/16 x 2 in (100 x 50.8 mm)"),
    ],
)
def test_size_text_in_inches(size: tuple[float, float], text: str) -> None:
    """Fractions with their decimals behind them; decimals first where a side is on no rule; whole inches alone."""
    assert size_text(*size, inches=True) == text


INCHES = """
    title = "Slat"
    units = "in"
    cut = { CUT }
    tools = { bit = "1/4 in", bushing = "7/16 in", clearance = 0.004 }
    plate = { width = 8, height = 6, thickness = THICK }
"""


def facts_in_inches(cut: str, thickness: str = "0.25") -> dict[str, str]:
    text = INCHES.replace("CUT", cut).replace("THICK", thickness)
    return dict(facts(report_on(job_from_text(text, profiles=Profiles()))))


@pytest.mark.parametrize(
    ("cut", "text"),
    [
        ('shape = "round", diameter = "20 mm", depth = "1/2"', "round, 0.787 in (20 mm), 1/2 in deep"),
        (
            'shape = "butterfly", width = 2, waist = "1 in", length = "76.2 mm", depth = "1/4"',
            "butterfly key, 2 in wide, 1 in at the waist, 3 in (76.2 mm) long, 1/4 in deep",
        ),
        (
            'shape = "rectangle", width = 2, length = 3, corner_radius = "1/4", depth = "1/4"',
            "rectangle, 2 in wide, 3 in long, corners r 1/4 in (6.35 mm), 1/4 in deep",
        ),
    ],
)
def test_cut_wanted_in_inches(cut: str, text: str) -> None:
    """What was written in mm in a job in inches stands in inches first."""
    assert facts_in_inches(cut)["cut wanted"] == text


def test_a_round_and_the_edge_of_the_work_in_inches() -> None:
    """A round has one figure; the line of a hinge gain is half its width from its middle."""
    found = facts_in_inches('shape = "round", diameter = 1, depth = "1/4"')
    assert found["opening"] == "dia 1-3/16 in = 1.188 in (30.163 mm)"
    found = facts_in_inches('shape = "hinge", width = 1, length = 3, corner_radius = "1/8", depth = "1/8"')
    assert found["edge of work"].startswith("the line on the plate, 1/2 in (12.7 mm) from the middle of the gain; ")
    assert " mm" in found["edge of work"].partition("runs ")[2]


def test_a_measured_plate_in_inches() -> None:
    """What was measured in mm has its inches behind it."""
    found = facts_in_inches('shape = "round", diameter = 1, depth = "1/4"', '{ nominal = "1/4", measured = "6.2 mm" }')
    assert found["plate"].endswith(", 1/4 in nominal, measured 6.2 mm = 0.244 in")


def test_a_job_in_inches_is_answered_in_inches() -> None:
    """Offset, play, plunge and passes stand in inches first: 1/4 + 1-1/8 in is 1-3/8 in, in 6 passes of 3/16 in."""
    text = """
        title = "Slat"
        units = "in"
        cut = { shape = "slot", width = "3/8 in", length = 2, depth = 1.125 }
        tools = { bit = "3/8 in", bushing = "1/2 in", clearance = 0.004 }
        plate = { width = 6, height = 6, thickness = 0.25 }
    """
    found = dict(facts(report_on(job_from_text(text, profiles=Profiles()))))
    assert found["cut wanted"] == "slot, 3/8 in wide, 2 in long, 1.125 in deep"
    assert found["opening"] == (
        "0.504 x 2.125 in, about 1/2 x 2-1/8 in (12.802 x 53.975 mm), corners r 0.252 in (6.401 mm)"
    )
    assert found["cut made"] == (
        "0.379 x 2.000 in, about 3/8 x 2 in (9.627 x 50.8 mm), its edge at most 0.002 in (0.051 mm) off"
    )
    assert found["plate"] == "6 x 6 in (152.4 x 152.4 mm), 1/4 in (6.35 mm)"
    assert found["offset"] == "1/16 in (1.588 mm) a side"
    assert found["side play"] == "0.004 in (0.102 mm), trapped: one pass makes the width"
    assert found["plunge"] == "1-3/8 in (34.93 mm) from the base (plate 1/4 in + cut 1-1/8 in)"
    assert found["passes"] == "6, each 3/16 in (4.76 mm) deeper"
