"""Where endless lines and circles meet, pair by pair, touching and not meeting at all."""

import math

import numpy as np
import pytest

from jigtemplates.geometry.curves import (
    Circle,
    Curve,
    GeometryError,
    Straight,
    across,
    curve_of,
    direction,
    meeting,
    off,
)
from jigtemplates.geometry.many_curves import Curves, meetings
from jigtemplates.geometry.outline import Arc, Line, Point

FLAT = Straight(Point(0, 0), Point(1, 0))
STEEP = Straight(Point(3, 5), Point(0, 1))
FIVE = Circle(Point(0, 0), 5)


@pytest.mark.parametrize(
    ("a", "b", "near", "place"),
    [
        (FLAT, STEEP, (0, 0), (3, 0)),
        (STEEP, FLAT, (99, 99), (3, 0)),
        (STEEP, FIVE, (3, 1), (3, 4)),
        (STEEP, FIVE, (3, -1), (3, -4)),
        (FIVE, STEEP, (3, 1), (3, 4)),
        (FIVE, Circle(Point(8, 0), 5), (4, 1), (4, 3)),
        (FIVE, Circle(Point(8, 0), 5), (4, -1), (4, -3)),
        (Circle(Point(0, 0), 13), Circle(Point(0, 8), math.sqrt(41)), (9, 9), (math.sqrt(169 - 12**2), 12)),
    ],
)
def test_crossing_curves_meet_near_the_place_given(
    a: Curve, b: Curve, near: tuple[float, float], place: tuple[float, float]
) -> None:
    """Of two crossings the nearer one; the order of the curves does not matter."""
    assert meeting(a, b, Point(*near)) == pytest.approx(place, abs=1e-12)


@pytest.mark.parametrize("far", [1e3, 2e6, 1e8])
@pytest.mark.parametrize("side", [1, -1])
def test_an_arc_all_but_straight_is_met_as_exactly_as_any(far: float, side: int) -> None:
    """Through (3, 4) about a middle up to 100 km away; seen from there it was 1 µm off. Whichever comes first."""
    flat, near = Circle(Point(3 + far, 0), math.hypot(far, 4)), Point(2.9, 4.1 * side)
    rounding = 1e-12 + 2**-52 * far
    assert meeting(flat, FIVE, near) == pytest.approx((3, 4 * side), abs=rounding)
    assert meeting(FIVE, flat, near) == pytest.approx((3, 4 * side), abs=rounding)
    columns = [
        Curves(np.array([True]), np.array([c.center]), np.zeros((1, 2)), np.array([c.radius])) for c in (flat, FIVE)
    ]
    for first, second in (columns, columns[::-1]):
        places, gaps = meetings(first, second, np.array([near]))
        assert places[0] == pytest.approx((3, 4 * side), abs=rounding)
        assert gaps == 0


@pytest.mark.parametrize(
    ("a", "b", "place"),
    [
        (Straight(Point(-7, 5), Point(1, 0)), FIVE, (0, 5)),
        (FIVE, Circle(Point(8, 0), 3), (5, 0)),
        (FIVE, Circle(Point(3, 0), 2), (5, 0)),
        (Circle(Point(3, 0), 2), FIVE, (5, 0)),
        (Circle(Point(0, 5), 0), Straight(Point(-7, 5), Point(1, 0)), (0, 5)),
        (Circle(Point(3, 4), 0), FIVE, (3, 4)),
    ],
)
def test_touching_curves_meet_where_they_touch(a: Curve, b: Curve, place: tuple[float, float]) -> None:
    """From outside, from inside, and at a circle of radius 0."""
    assert meeting(a, b, Point(1, 1)) == pytest.approx(place, abs=1e-9)


def test_curves_a_hair_apart_are_taken_to_touch() -> None:
    """A line 10 nm beside a circle meets it at its foot."""
    assert meeting(Straight(Point(-7, 5.00001), Point(1, 0)), FIVE, Point(0, 5)) == pytest.approx((0, 5.00001))


def test_one_and_the_same_curve_is_met_nearest_to_the_place() -> None:
    """On the same line at the foot, on the same circle along the radius."""
    assert meeting(FLAT, Straight(Point(9, 0), Point(-1, 0)), Point(4, 1)) == (4, 0)
    assert meeting(FIVE, Circle(Point(0, 0), 5), Point(6, 8)) == pytest.approx((3, 4), abs=1e-12)


@pytest.mark.parametrize(
    ("a", "b"),
    [
        (FLAT, Straight(Point(0, 1), Point(1, 0))),
        (Straight(Point(0, 6), Point(1, 0)), FIVE),
        (FIVE, Straight(Point(0, 6), Point(1, 0))),
        (FIVE, Circle(Point(11, 0), 5)),
        (FIVE, Circle(Point(1, 0), 2)),
        (FIVE, Circle(Point(0, 0), 4)),
    ],
)
def test_curves_apart_are_refused(a: Curve, b: Curve) -> None:
    """One line says where two edges that should meet do not."""
    with pytest.raises(GeometryError) as refused:
        meeting(a, b, Point(1.5, 2))
    assert refused.value.lines == ("two edges of the outline do not meet near (1.5000, 2.0000)",)


def test_segments_lie_on_their_curves() -> None:
    """A line on an endless line along it, an arc on its whole circle."""
    assert curve_of(Line(Point(1, 1), Point(4, 5))) == Straight(Point(1, 1), Point(0.6, 0.8))
    assert curve_of(Arc(Point(5, 0), Point(0, 5), Point(0, 0), 5, 1)) == FIVE


def test_a_line_without_length_has_no_direction() -> None:
    """It is the caller's to leave it out."""
    with pytest.raises(ZeroDivisionError):
        direction(Line(Point(1, 1), Point(1, 1)))


def test_distances_from_curves() -> None:
    """To the left of a line positive, off a circle inside and outside alike."""
    assert across(FLAT, Point(7, 2)) == 2
    assert across(FLAT, Point(7, -2)) == -2
    assert off(FLAT, Point(7, -2)) == 2
    assert off(FIVE, Point(6, 8)) == 5
    assert off(FIVE, Point(0, 2)) == 3
