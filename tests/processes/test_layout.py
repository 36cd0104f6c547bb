"""The pieces every process is laid out from, and the pens of a profile."""

import pytest

from jigtemplates.drawing import Item, Pen, Role, Stroke
from jigtemplates.geometry.outline import Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.processes.layout import drawing_of, rings, shifted, strokes
from jigtemplates.processes.pens import pens_of
from jigtemplates.profiles import Profiles


def test_items_come_in_working_order() -> None:
    """Items are sorted by role; those of one role keep their order."""
    a, b = Stroke((Point(0, 0), Point(1, 0))), Stroke((Point(0, 1), Point(1, 1)))
    plate = Item(Role.CUT_OUTSIDE, rectangle(10, 5))
    drawing = drawing_of([plate, Item(Role.ENGRAVE, a), Item(Role.MARK, b), Item(Role.ENGRAVE, b)], 10, 5)
    assert drawing.items == (Item(Role.MARK, b), Item(Role.ENGRAVE, a), Item(Role.ENGRAVE, b), plate)
    assert (drawing.width, drawing.height) == (10, 5)


def test_rings_and_strokes() -> None:
    """Outer rings come with their holes; strokes one by one."""
    hole = Outline.circle(Point(0, 0), 1, -1)
    region = Region(rectangle(10, 5), (hole,))
    assert list(rings(Role.CUT_INSIDE, (region,))) == [
        Item(Role.CUT_INSIDE, region.outer),
        Item(Role.CUT_INSIDE, hole),
    ]
    line = Stroke((Point(0, 0), Point(1, 0)))
    assert list(strokes(Role.MARK, (line, line))) == [Item(Role.MARK, line)] * 2
    assert list(rings(Role.DRILL, ())) == []


def test_shifted() -> None:
    """Outlines and strokes move right and up by the same distance."""
    moved = shifted(Item(Role.CUT_INSIDE, rectangle(10, 4)), 7)
    assert isinstance(moved.shape, Outline)
    assert tuple(moved.shape.bounds) == (2, 5, 12, 9)
    assert shifted(Item(Role.MARK, Stroke((Point(1, 2), Point(3, 4)))), 0.5) == Item(
        Role.MARK, Stroke((Point(1.5, 2.5), Point(3.5, 4.5)))
    )


@pytest.mark.parametrize(
    ("process", "missing"), [("laser", {Role.POCKET, Role.REFERENCE}), ("cnc", {Role.REFERENCE}), ("paper", set())]
)
def test_pens(process: str, missing: set[Role]) -> None:
    """A laser draws no pockets and no machine a reference line; colours are those of Okabe and Ito."""
    pens = pens_of(Profiles().find("processes", process).entry)
    assert set(Role) - set(pens) == missing
    palette = {"#000000", "#E69F00", "#56B4E9", "#009E73", "#F0E442", "#0072B2", "#D55E00", "#CC79A7"}
    assert {pen.colour for pen in pens.values()} <= palette


def test_a_pen_is_what_its_profile_says() -> None:
    """Layer, colour and stroke in mm come from the profile."""
    pens = pens_of(Profiles().find("processes", "laser").entry)
    assert pens[Role.CUT_INSIDE] == Pen("cut_inside", "#0072B2", 0.1)
