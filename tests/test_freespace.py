"""What counts as free on a plate, and that every answer errs to the safe side."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawing import Stroke
from jigtemplates.freespace import FreeSpace
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle

PLATE = Region(rectangle(100, 80).moved(50, 40))
HOLE = Outline.circle(Point(50, 40), 10)


@pytest.mark.parametrize(
    ("box", "margin", "free"),
    [
        (Bounds(10, 10, 30, 20), 2.5, True),
        (Bounds(2.6, 10, 30, 20), 2.5, True),
        (Bounds(2.4, 10, 30, 20), 2.5, False),
        (Bounds(10, 10, 97.6, 20), 2.5, False),
        (Bounds(45, 35, 55, 45), 2.5, False),
        (Bounds(62.6, 30, 70, 50), 2.5, True),
        (Bounds(62.4, 30, 70, 50), 2.5, False),
        (Bounds(110, 10, 120, 20), 2.5, False),
    ],
)
def test_fits(box: Bounds, margin: float, free: bool) -> None:
    """A box is free when it keeps the margin from the edge and from a hole, and is not inside the hole."""
    assert FreeSpace(PLATE, (HOLE,)).fits([box], margin).tolist() == [free]


def test_a_plates_own_hole_is_not_free() -> None:
    """A hole in the plate's region counts like a hole in the list, whichever way it runs."""
    pierced = Region(PLATE.outer, (HOLE.reversed(),))
    boxes = [Bounds(62.6, 30, 70, 50), Bounds(62.4, 30, 70, 50), Bounds(45, 35, 55, 45)]
    assert FreeSpace(pierced, ()).fits(boxes, 2.5).tolist() == [True, False, False]


def test_stroke_blocks() -> None:
    """A mark blocks like a hole does."""
    space = FreeSpace(PLATE, (Stroke((Point(50, 0), Point(50, 80))),))
    assert space.fits([Bounds(52.6, 10, 60, 20), Bounds(52.4, 10, 60, 20)], 2.5).tolist() == [True, False]


@pytest.mark.parametrize(
    ("points", "clear"),
    [
        ((Point(20, 10), Point(80, 10)), True),
        ((Point(20, 28.4), Point(80, 28.4)), True),
        ((Point(20, 28.6), Point(80, 28.6)), False),
        ((Point(0.6, 10), Point(0.6, 70)), True),
        ((Point(0.4, 10), Point(0.4, 70)), False),
        ((Point(-5, 10), Point(20, 10)), False),
    ],
)
def test_is_clear(points: tuple[Point, ...], clear: bool) -> None:
    """A line is clear 1.5 mm from a hole and 0.5 mm from the edge, and never off the plate."""
    assert FreeSpace(PLATE, (HOLE,)).is_clear(points, edge=0.5, gap=1.5) is clear


def test_clear_parts_on_both_sides_of_a_hole() -> None:
    """A line across a hole keeps two parts that end at least the gap, at most a step more, before it."""
    space = FreeSpace(PLATE, (HOLE,))
    left, right = space.clear_parts(Point(10, 40), Point(90, 40), edge=0.5, gap=1.5, shortest=2)
    assert left.points[0] == (10, 40)
    assert 38.2 <= left.points[1].x <= 38.5
    assert 61.5 <= right.points[0].x <= 61.8
    assert right.points[1] == (90, 40)


def test_clear_parts_leaves_out_what_is_short() -> None:
    """A part below the shortest length is left out, whether a hole or the line itself makes it short."""
    space = FreeSpace(PLATE, (HOLE,))
    assert space.clear_parts(Point(37, 40), Point(50, 40), edge=0.5, gap=1.5, shortest=2) == ()
    assert space.clear_parts(Point(10, 40), Point(11, 40), edge=0.5, gap=1.5, shortest=2) == ()


def test_uncovered_is_cut_at_plate_and_holes() -> None:
    """A line longer than the plate ends at its edges and is broken by the hole, in its own direction."""
    space = FreeSpace(PLATE, ())
    high, low = space.uncovered(Point(50, 200), Point(50, -200), around=[HOLE])
    assert high.points == (Point(50, 80), pytest.approx((50, 50), abs=0.05))
    assert low.points == (pytest.approx((50, 30), abs=0.05), Point(50, 0))
    assert space.uncovered(Point(-5, 0), Point(-5, 80), around=[]) == ()


def test_nearest_cells() -> None:
    """The box nearest to the wanted place that lies on free squares only; None when it is too large."""
    cells = FreeSpace(PLATE, (HOLE,)).cells(1.0, 2.5)
    assert cells.free.shape == (74, 94)
    there = cells.nearest(20, 10, Point(0, 0))
    assert there == pytest.approx((2.55 + 10, 2.55 + 5), abs=0.001)
    assert cells.nearest(90, 30, Point(0, 0)) is None
    assert cells.nearest(200, 10, Point(0, 0)) is None


def test_cells_of_a_plate_smaller_than_the_margins() -> None:
    """A plate without room for its margins has no squares and no place."""
    cells = FreeSpace(Region(rectangle(4, 4)), ()).cells(1.0, 2.5)
    assert cells.free.shape == (0, 0)
    assert cells.nearest(1, 1, Point(0, 0)) is None


@given(
    st.floats(5, 95),
    st.floats(5, 75),
    st.floats(0.5, 20),
    st.floats(1, 60),
    st.floats(1, 60),
    st.floats(0, 5),
)
@settings(max_examples=60, deadline=None)
def test_nearest_keeps_the_margin(x: float, y: float, r: float, width: float, height: float, margin: float) -> None:
    """A box found on the grid keeps the margin from edge and hole, measured on the true circle."""
    hole = Outline.circle(Point(x, y), r)
    at = FreeSpace(PLATE, (hole,)).cells(1.0, margin).nearest(width, height, Point(50, 40))
    if at is None:
        return
    assert margin <= at.x - width / 2
    assert at.x + width / 2 <= 100 - margin
    assert margin <= at.y - height / 2
    assert at.y + height / 2 <= 80 - margin
    dx, dy = max(0, abs(x - at.x) - width / 2), max(0, abs(y - at.y) - height / 2)
    assert math.hypot(dx, dy) - r >= margin
