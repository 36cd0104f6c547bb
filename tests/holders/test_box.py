"""A rectangle with round corners: its outline, distances, and whether another fits in it."""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from jigtemplates.geometry.outline import Outline
from jigtemplates.holders.box import Box

CHORD = 1e-4


def polygon(outline: Outline) -> shapely.Polygon:
    """The outline on chords."""
    return shapely.Polygon(outline.flattened(CHORD))


sizes = st.floats(10, 300)


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    """Any box, from square corners to round ends."""
    width, height = draw(sizes), draw(sizes)
    return Box(width, height, draw(st.floats(0, 1)) * min(width, height) / 2)


def test_outline_of_a_box() -> None:
    """About the origin: width along x, height along y, the corners taken off."""
    outline = Box(100, 60, 10).outline
    assert outline.bounds == pytest.approx((-50, -30, 50, 30))
    assert outline.area == pytest.approx(100 * 60 - (4 - math.pi) * 100)


def test_a_box_with_the_largest_radius_is_a_circle() -> None:
    """Half the sides as corner radius make one circle; anything less does not."""
    circle = Box(180, 180, 90)
    assert circle.is_round
    assert circle.outline.as_circle is not None
    assert not Box(180, 180, 89).is_round
    assert not Box(180, 170, 85).is_round


@pytest.mark.parametrize(
    ("x", "y", "beyond"),
    [(50, 0, 0), (53, 0, 3), (0, -34, 4), (45, 0, -5), (0, 0, -30), (40, 20, -10), (43, 24, -5), (46, 28, 0)],
)
def test_how_far_a_place_lies_outside(x: float, y: float, beyond: float) -> None:
    """Beside a side the distance to it, in a corner that to its arc, of 10 mm about (40, 20); inside negative."""
    assert Box(100, 60, 10).beyond(x, y) == pytest.approx(beyond, abs=1e-12)


def test_a_box_holds_itself_but_nothing_larger() -> None:
    """Touching counts as inside; a hair more does not."""
    assert Box(100, 60, 10).holds(Box(100, 60, 10))
    assert not Box(100, 60, 10).holds(Box(100.001, 60, 10))
    assert not Box(100, 60, 10).holds(Box(100, 60, 9))


def test_a_square_corner_in_a_round_one() -> None:
    """Set in by 2.93 mm (10 less 10 by the root of 2) on each side, a square corner touches one round by 10 mm."""
    inset = 10 - 10 / math.sqrt(2)
    assert Box(100, 60, 10).room_round(Box(100 - 2 * inset, 60 - 2 * inset)) == pytest.approx(0, abs=1e-12)


@given(boxes(), st.floats(-150, 150), st.floats(-150, 150))
def test_distance_agrees_with_shapely(box: Box, x: float, y: float) -> None:
    """Distance from the edge, negative inside, as shapely measures it on chords."""
    area, place = polygon(box.outline), shapely.Point(x, y)
    away = shapely.distance(area.exterior, place)
    expected = -away if area.contains(place) else away
    assert box.beyond(x, y) == pytest.approx(expected, abs=2 * CHORD)


@given(boxes(), boxes())
def test_room_agrees_with_shapely(outer: Box, inner: Box) -> None:
    """Where the other lies inside, the least distance of the two edges; else a negative number."""
    around, within = polygon(outer.outline), polygon(inner.outline)
    room = outer.room_round(inner)
    if room > CHORD:
        assert room == pytest.approx(shapely.distance(around.exterior, within.exterior), abs=2 * CHORD)
    assert around.covers(within) == (room >= 0) or abs(room) < 2 * CHORD
