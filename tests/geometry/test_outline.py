"""Outlines: what they measure, how they move, and that an arc stays an arc."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.geometry.outline import (
    Arc,
    Bounds,
    BulgeVertex,
    Line,
    Outline,
    Point,
    Region,
    chords,
    cos_sin,
    halved,
    segment_from_bulge,
)

SQUARE = Outline.polygon([(0, 0), (4, 0), (4, 4), (0, 4)])
#: A half disc of radius 5 standing on its diameter, counter-clockwise.
HALF_DISC = Outline.from_bulges([BulgeVertex(-5, 0, 0), BulgeVertex(5, 0, 1)])
#: Not its own mirror image in any direction, with an arc bulging out and one bulging in.
LOPSIDED = Outline.from_bulges(
    [BulgeVertex(0, 0, 0), BulgeVertex(20, 0, 0.5), BulgeVertex(20, 10, 0), BulgeVertex(5, 10, -0.3)]
)


def test_a_polygons_area_is_positive_counter_clockwise() -> None:
    """A 4 mm square has 16 mm², and as much taken off when it runs clockwise."""
    assert SQUARE.area == 16
    assert SQUARE.reversed().area == -16
    assert SQUARE.is_ccw
    assert not SQUARE.reversed().is_ccw


def test_the_area_of_arcs_is_exact() -> None:
    """A half disc of radius 5 has 12.5 pi mm², a circle of radius 3 has 9 pi."""
    assert HALF_DISC.area == pytest.approx(12.5 * math.pi, abs=1e-12)
    assert Outline.circle(Point(7, -2), 3).area == pytest.approx(9 * math.pi, abs=1e-12)
    assert Outline.circle(Point(7, -2), 3, -1).area == pytest.approx(-9 * math.pi, abs=1e-12)


def test_an_arc_bulging_inwards_takes_area_off() -> None:
    """A 10 mm square with a half circle cut out of its lower side has 100 - 12.5 pi mm²."""
    bitten = Outline.from_bulges(
        [BulgeVertex(0, 0, -1), BulgeVertex(10, 0, 0), BulgeVertex(10, 10, 0), BulgeVertex(0, 10, 0)]
    )
    assert bitten.area == pytest.approx(100 - 12.5 * math.pi, abs=1e-12)


def test_the_length_runs_along_the_arcs() -> None:
    """A half disc of radius 5 is 10 + 5 pi mm round, a whole circle of radius 3 is 6 pi."""
    assert HALF_DISC.length == pytest.approx(10 + 5 * math.pi, abs=1e-12)
    assert Outline.circle(Point(0, 0), 3).length == pytest.approx(6 * math.pi, abs=1e-12)


def test_bounds_reach_to_the_quadrants_of_arcs() -> None:
    """The top of a half disc is on its arc, where no corner is."""
    assert HALF_DISC.bounds == pytest.approx((-5, 0, 5, 5), abs=1e-12)
    assert HALF_DISC.bounds.width == pytest.approx(10)
    assert HALF_DISC.bounds.height == pytest.approx(5)
    assert HALF_DISC.bounds.center == pytest.approx((0, 2.5))


def test_bounds_leave_out_quadrants_an_arc_does_not_reach() -> None:
    """A quarter disc from 0 to 90 degrees stays right of and above its centre."""
    quarter = math.tan(math.pi / 8)
    sector = Outline.from_bulges([BulgeVertex(0, 0, 0), BulgeVertex(2, 0, quarter), BulgeVertex(0, 2, 0)])
    assert sector.bounds == pytest.approx((0, 0, 2, 2), abs=1e-12)


def test_bounds_of_clockwise_arcs_are_the_same() -> None:
    """Travelled the other way, a shape is as large."""
    assert LOPSIDED.reversed().bounds == pytest.approx(LOPSIDED.bounds, abs=1e-12)
    assert Outline.circle(Point(1, 2), 3, -1).bounds == Bounds(-2, -1, 4, 5)


@pytest.mark.parametrize(
    ("bulge", "center", "turn", "middle"),
    [
        (1.0, (5, 0), 1, (5, -5)),
        (-1.0, (5, 0), -1, (5, 5)),
        (math.tan(math.pi / 8), (5, 5), 1, (5, 5 - 5 * math.sqrt(2))),
        (-math.tan(math.pi / 8), (5, -5), -1, (5, 5 * math.sqrt(2) - 5)),
    ],
)
def test_a_bulge_bends_as_dxf_says(
    bulge: float, center: tuple[float, float], turn: int, middle: tuple[float, float]
) -> None:
    """From (0, 0) to (10, 0), a positive bulge runs counter-clockwise, so below the chord; 1 is half a circle."""
    arc = segment_from_bulge(BulgeVertex(0, 0, bulge), BulgeVertex(10, 0, 0))
    assert isinstance(arc, Arc)
    assert arc.center == pytest.approx(center, abs=1e-12)
    assert arc.turn == turn
    assert arc.middle == pytest.approx(middle, abs=1e-12)
    assert arc.sweep == pytest.approx(4 * math.atan(bulge), abs=1e-12)


def test_no_bulge_is_a_straight_line() -> None:
    """A bulge of 0 gives a line from vertex to vertex."""
    line = segment_from_bulge(BulgeVertex(1, 2, 0), BulgeVertex(4, 6, 0.5))
    assert line == Line(Point(1, 2), Point(4, 6))
    assert line.length == 5
    assert line.middle == (2.5, 4)
    assert line.reversed() == Line(Point(4, 6), Point(1, 2))


def test_an_arc_backwards_covers_the_same_place() -> None:
    """The reversed arc turns the other way, with the same middle and length."""
    arc = Arc(Point(2, 0), Point(0, 2), Point(0, 0), 2, 1)
    back = arc.reversed()
    assert back == Arc(Point(0, 2), Point(2, 0), Point(0, 0), 2, -1)
    assert back.sweep == pytest.approx(-math.pi / 2)
    assert back.middle == pytest.approx(arc.middle)
    assert back.length == pytest.approx(math.pi)


def test_an_arc_that_ends_where_it_starts_is_the_whole_circle() -> None:
    """Its sweep is a full turn in its own direction."""
    start = Point(3, 0)
    assert Arc(start, start, Point(0, 0), 3, 1).sweep == 2 * math.pi
    assert Arc(start, start, Point(0, 0), 3, -1).sweep == -2 * math.pi


def test_only_a_single_arc_is_a_circle() -> None:
    """as_circle gives the arc of a circle and nothing for other outlines."""
    circle = Outline.circle(Point(1, 1), 2)
    assert circle.as_circle == Arc(Point(3, 1), Point(3, 1), Point(1, 1), 2, 1)
    assert HALF_DISC.as_circle is None
    assert Outline((Line(Point(0, 0), Point(0, 0)),)).as_circle is None


def test_quarter_turns_are_exact() -> None:
    """Turning by 90 degrees puts (4, 0) on (0, 4) to the last bit; four of them change nothing."""
    assert SQUARE.rotated(90) == Outline.polygon([(0, 0), (0, 4), (-4, 4), (-4, 0)])
    assert LOPSIDED.rotated(90).rotated(90).rotated(90).rotated(90) == LOPSIDED
    assert [cos_sin(d) for d in (0, 90, 180, 270, 360, -90)] == [(1, 0), (0, 1), (-1, 0), (0, -1), (1, 0), (0, -1)]


def test_turning_is_counter_clockwise_about_a_point() -> None:
    """By 30 degrees about (1, 1), the point (3, 1) goes to (1 + sqrt 3, 2)."""
    turned = Outline.polygon([(3, 1), (5, 1), (5, 2)]).rotated(30, Point(1, 1))
    assert turned.segments[0].start == pytest.approx((1 + math.sqrt(3), 2), abs=1e-12)


def test_moving_and_scaling_move_centres_and_radii_along() -> None:
    """A circle at (1, 2) of radius 3 moved by (10, -1) and doubled stands at (22, 2) with radius 6."""
    done = Outline.circle(Point(1, 2), 3).moved(10, -1).scaled(2).as_circle
    assert done is not None
    assert (done.center, done.radius) == ((22, 2), 6)


def test_a_mirror_image_keeps_its_direction() -> None:
    """Left and right change places, counter-clockwise stays counter-clockwise, the area stays."""
    mirrored = LOPSIDED.mirrored()
    assert mirrored.is_ccw
    assert mirrored.area == pytest.approx(LOPSIDED.area, abs=1e-12)
    assert mirrored.bounds.left == pytest.approx(-LOPSIDED.bounds.right, abs=1e-12)
    assert mirrored.bounds.right == pytest.approx(-LOPSIDED.bounds.left, abs=1e-12)
    assert LOPSIDED.reversed().mirrored().area == pytest.approx(-LOPSIDED.area, abs=1e-12)


def test_turned_gives_the_direction_asked_for() -> None:
    """An outline that runs that way already is given back itself."""
    assert SQUARE.turned(True) is SQUARE
    assert SQUARE.turned(False).area == -16
    assert SQUARE.reversed().turned(True).area == 16


def test_flattened_corners_lie_on_the_true_circle() -> None:
    """Every vertex is 40 mm from the centre to 1e-12, and no chord's middle is further off than asked."""
    points = Outline.circle(Point(3, 4), 40).flattened(0.01)
    assert all(abs(math.dist(p, (3, 4)) - 40) < 1e-12 for p in points)
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in zip(points, points[1:] + points[:1], strict=True)]
    sagittas = [40 - math.dist(m, (3, 4)) for m in middles]
    assert 0.008 < max(sagittas) <= 0.01


def test_flattening_adds_nothing_to_straight_lines() -> None:
    """A polygon is given back as its corners."""
    assert SQUARE.flattened(0.01) == [(0, 0), (4, 0), (4, 4), (0, 4)]


def test_a_circle_smaller_than_the_tolerance_is_still_four_chords() -> None:
    """So that a tiny circle does not become a line."""
    assert chords(2 * math.pi, 0.001, 0.01) == 4
    assert chords(0.1, 0.001, 0.01) == 1


def test_a_contour_starts_in_the_middle_of_its_longest_straight() -> None:
    """Never at a corner; the outline stays the same shape with one line in two halves."""
    started = Outline.polygon([(0, 0), (4, 0), (4, 9), (0, 9)]).started_mid_straight()
    assert started.segments[0] == Line(Point(4, 4.5), Point(4, 9))
    assert started.segments[-1] == Line(Point(4, 0), Point(4, 4.5))
    assert len(started.segments) == 5
    assert started.area == 36


def test_of_equal_straights_the_first_is_started_on() -> None:
    """So that the same outline always starts in the same place."""
    assert SQUARE.started_mid_straight().segments[0].start == (2, 0)


def test_a_contour_without_straights_is_left_alone() -> None:
    """A circle starts where it started."""
    circle = Outline.circle(Point(0, 0), 5)
    assert circle.started_mid_straight() is circle


def test_arcs_over_half_a_circle_are_split() -> None:
    """A whole circle gives two halves, three quarters give two parts, an exact half stays whole."""
    circle = Outline.circle(Point(0, 0), 5)
    assert [v.bulge for v in circle.bulge_vertices()] == pytest.approx([1, 1], abs=1e-12)
    three_quarters = Arc(Point(5, 0), Point(0, -5), Point(0, 0), 5, 1)
    assert [round(a.sweep / math.pi, 12) for a in halved(three_quarters)] == [0.75, 0.75]
    assert halved(Arc(Point(5, 0), Point(-5, 0), Point(0, 0), 5, 1)) == (
        Arc(Point(5, 0), Point(-5, 0), Point(0, 0), 5, 1),
    )


coordinate = st.floats(-1e3, 1e3).map(lambda x: round(x, 3))
vertices = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=8, unique=True).flatmap(
    lambda places: st.lists(
        st.one_of(st.just(0.0), st.floats(0.001, 1), st.floats(-1, -0.001)),
        min_size=len(places),
        max_size=len(places),
    ).map(lambda bulges: [BulgeVertex(x, y, k) for (x, y), k in zip(places, bulges, strict=True)])
)


@settings(max_examples=80, deadline=None)
@given(vertices)
def test_bulges_are_read_back_as_they_were_written(ring: list[BulgeVertex]) -> None:
    """Reading and writing an outline as a polyline with bulges changes no vertex and no bulge."""
    back = Outline.from_bulges(ring).bulge_vertices()
    assert [(v.x, v.y) for v in back] == [(v.x, v.y) for v in ring]
    assert [v.bulge for v in back] == pytest.approx([v.bulge for v in ring], abs=1e-7)


def test_a_regions_holes_are_taken_off() -> None:
    """A 10 mm square with a hole of radius 2 has 100 - 4 pi mm², and the square's bounds."""
    hole = Outline.circle(Point(5, 5), 2, -1)
    region = Region(Outline.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]), (hole,))
    assert region.area == pytest.approx(100 - 4 * math.pi, abs=1e-12)
    assert region.bounds == (0, 0, 10, 10)
    assert region.rings == (region.outer, hole)


def test_places_part_an_arc_into_equal_pieces() -> None:
    """The points between the ends of a quarter circle of radius 2 in three pieces stand at 30 and 60 degrees."""
    quarter = Arc(Point(2.0, 0.0), Point(0.0, 2.0), Point(0.0, 0.0), 2.0, 1)
    assert quarter.places(3) == [pytest.approx((math.sqrt(3), 1.0)), pytest.approx((1.0, math.sqrt(3)))]
    assert quarter.places(3) == [quarter.at(1 / 3), quarter.at(2 / 3)]
    assert quarter.places(1) == []
