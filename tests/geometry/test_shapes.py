"""Shapes of cuts: their sizes by literals, and the sentences where there is no such shape."""

import math

import pytest

from jigtemplates.geometry.outline import Arc, Line
from jigtemplates.geometry.shapes import rectangle, round_hole, slot


def test_a_slot_is_two_lines_and_two_half_circles() -> None:
    """50 by 10 over all: straights of 40 mm, ends of radius 5, 400 + 25 pi mm², counter-clockwise."""
    outline = slot(50, 10)
    assert [type(s) for s in outline.segments] == [Line, Arc, Line, Arc]
    assert outline.bounds == (-25, -5, 25, 5)
    assert outline.area == pytest.approx(400 + 25 * math.pi, abs=1e-12)
    assert outline.length == pytest.approx(80 + 10 * math.pi, abs=1e-12)


def test_a_slot_as_long_as_wide_is_a_circle() -> None:
    """Its two straights have no length, so it is one arc of diameter 10."""
    assert slot(10, 10).as_circle is not None
    assert slot(10, 10).bounds == (-5, -5, 5, 5)


@pytest.mark.parametrize(("length", "width"), [(9, 10), (0, 0), (10, -1)])
def test_a_slot_shorter_than_wide_is_refused(length: float, width: float) -> None:
    """There is no such slot, nor one without width."""
    message = "a slot's length must not be less than its width, and both must be positive"
    with pytest.raises(ValueError, match=f"^{message}$"):
        slot(length, width)


def test_a_round_hole_is_one_arc_about_the_origin() -> None:
    """Diameter 12.7 gives a circle of radius 6.35."""
    circle = round_hole(12.7).as_circle
    assert circle is not None
    assert (circle.center, circle.radius, circle.turn) == ((0, 0), 6.35, 1)


def test_a_square_cornered_rectangle_is_four_lines() -> None:
    """60 by 40 about the origin, 2400 mm²."""
    outline = rectangle(60, 40)
    assert [type(s) for s in outline.segments] == [Line] * 4
    assert outline.bounds == (-30, -20, 30, 20)
    assert outline.area == 2400


def test_round_corners_take_off_what_lies_outside_them() -> None:
    """60 by 40 with corners of 5: 2400 - (4 - pi) 25 mm², straights of 50 and 30 mm."""
    outline = rectangle(60, 40, 5)
    assert [type(s) for s in outline.segments] == [Line, Arc] * 4
    assert [s.length for s in outline.segments[::2]] == [50, 30, 50, 30]
    assert {s.radius for s in outline.segments if isinstance(s, Arc)} == {5}
    assert outline.area == pytest.approx(2400 - (4 - math.pi) * 25, abs=1e-12)
    assert outline.bounds == (-30, -20, 30, 20)


def test_corners_of_half_the_width_make_a_slot() -> None:
    """60 by 40 with corners of 20 is the slot of that size; 40 by 60 the same one upright."""
    assert rectangle(60, 40, 20) == slot(60, 40)
    upright = rectangle(40, 60, 20)
    assert [type(s) for s in upright.segments] == [Line, Arc, Line, Arc]
    assert upright.bounds == (-20, -30, 20, 30)
    assert upright.area == pytest.approx(800 + 400 * math.pi, abs=1e-12)


def test_a_square_with_corners_of_half_its_side_is_a_circle() -> None:
    """Nothing is left of its straights."""
    assert rectangle(20, 20, 10).as_circle is not None


@pytest.mark.parametrize("radius", [-1, 20.001])
def test_corners_that_do_not_fit_are_refused(radius: float) -> None:
    """No corner is larger than half the smaller side, none is negative."""
    with pytest.raises(ValueError, match=r"^a corner radius must lie between 0 and half the smaller side$"):
        rectangle(60, 40, radius)
