"""No line of a set-up sheet's pictures runs through a word: what is drawn after a word's patch keeps off it."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest
import shapely

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds
from jigtemplates.parameters.load import job_from_text
from jigtemplates.processes.paper_page import Ink
from jigtemplates.processes.setup_draw import Picture
from jigtemplates.processes.setup_plan import plan
from jigtemplates.processes.setup_section import section
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on
from tests.processes.test_setup import letters

ReportOn = Callable[..., Report]
CELL = Bounds(10.0, 100.0, 105.0, 210.0)

ROUNDS = """
title = "Dog holes"
units = "in"
[[cut]]
shape = "round"
diameter = "3/4 in"
depth = 1
x = "6-1/2 in"
y = "4-3/4 in"
repeat = { count = 3, pitch = "2-1/2 in", rows = 2, row_pitch = "1-3/4 in" }
[[cut]]
shape = "slot"
width = 1
length = "4-1/2 in"
depth = 1
x = "6-1/2 in"
y = "1-1/2 in"
[tools]
bit = "1/2 in"
bushing = "3/4 in"
[plate]
width = 13
height = 7
thickness = "1/4 in"
[work]
thickness = 3
height = 4
"""


def shape_of(ink: Ink) -> Any:
    """The line of an ink, as it is drawn."""
    if isinstance(ink.shape, Stroke):
        return shapely.LineString(ink.shape.points)
    return shapely.LinearRing(ink.shape.flattened(0.05))


def crossed(picture: Picture) -> Iterator[str]:
    """Words with more than 0.4 mm of a line in them that no patch hides."""
    inks = picture.inks
    for text in picture.texts:
        there = letters(text)
        patches = [
            number
            for number, ink in enumerate(inks)
            if ink.fill and not ink.width and shapely.Polygon(shape_of(ink)).buffer(0.05).contains(there)
        ]
        above = inks[max(patches, default=-1) + 1 :]
        if any(shape_of(ink).intersection(there).length > 0.4 for ink in above if ink.width):
            yield text.string


WIDE = {"shape": "rectangle", "width": 60, "length": 80, "corner_radius": 10, "depth": 12}
SEAT = {"shape": "rectangle", "width": 60, "length": 80, "corner_radius": 10, "depth": 12, "side": "outside"}


@pytest.mark.parametrize(
    "tables",
    [
        {},
        {"cut": WIDE},
        {"cut": SEAT, "tools": {"bit": 12, "bushing": 30}, "plate": {"width": None, "height": None}},
        {"plate": {"width": 60, "height": 160}},
    ],
    ids=["slot", "recess", "pattern", "narrow plate"],
)
def test_no_line_runs_through_a_word(sheet_report: ReportOn, tables: dict[str, Any]) -> None:
    """The names of the parts in the section, the figures in the plan, beside narrow plates too."""
    report = sheet_report(**tables)
    assert list(crossed(section(report, CELL, inches=False))) == []
    assert list(crossed(plan(report, CELL, 0.25, inches=False))) == []


def test_no_line_runs_through_the_number_of_a_cut() -> None:
    """Edges of the stock, centre lines, dimensions and arrows pass below the numbers, or beside them."""
    report = report_on(job_from_text(ROUNDS, name="dogs", profiles=Profiles()))
    picture = plan(report, CELL, 1 / 6, inches=True)
    assert [text.string for text in picture.texts].count("1") == 6
    assert list(crossed(picture)) == []
