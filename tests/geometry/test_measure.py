"""Distances to edges by literals, and how far two areas differ."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from jigtemplates.geometry.measure import deviation, distances, samples, segments_of, total_area
from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import arc_slot, rectangle, round_hole, slot

RegionsOf = Callable[..., Regions]

#: The upper right quarter of a circle of radius 5 about the origin.
QUARTER = Arc(Point(5, 0), Point(0, 5), Point(0, 0), 5, 1)


@pytest.mark.parametrize(
    ("point", "distance"),
    [((3, 2), 2), ((3, -7), 7), ((0, 0), 0), ((13, 4), 5), ((-3, 4), 5), ((10, 0), 0)],
)
def test_distance_to_a_line(point: tuple[float, float], distance: float) -> None:
    """Square to the line beside it, to the nearer end beyond it."""
    line = Line(Point(0, 0), Point(10, 0))
    assert distances(np.array([point]), [line])[0] == pytest.approx(distance, abs=1e-12)


@pytest.mark.parametrize(
    ("point", "distance"),
    [
        ((0, 0), 5),
        ((6, 8), 5),
        ((1.5, 2), 2.5),
        ((5, -12), 12),
        ((-12, 5), 12),
        ((0, 5), 0),
        ((-3, -4), math.hypot(8, 4)),
    ],
)
@pytest.mark.parametrize("arc", [QUARTER, QUARTER.reversed()])
def test_distance_to_an_arc(arc: Arc, point: tuple[float, float], distance: float) -> None:
    """Along the radius in front of the arc, to the nearer end elsewhere, whichever way it runs."""
    assert distances(np.array([point]), [arc])[0] == pytest.approx(distance, abs=1e-12)


def test_distance_to_a_whole_circle() -> None:
    """From everywhere along the radius; a circle of radius 0 is its centre."""
    points = np.array([(0.0, 0.0), (-9.0, 0.0), (0.0, -1.0)])
    assert distances(points, round_hole(10).segments) == pytest.approx([5, 4, 4], abs=1e-12)
    assert distances(points, Outline.circle(Point(0, 0), 0).segments) == pytest.approx([0, 9, 1], abs=1e-12)


def test_the_nearest_of_several_edges_counts() -> None:
    """In a 10 mm square, (2, 4) is 2 from the left side."""
    square = Outline.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    assert distances(np.array([(2.0, 4.0)]), square.segments)[0] == 2


def test_without_edges_everything_is_infinitely_far() -> None:
    """No segments, no distance."""
    assert distances(np.array([(2.0, 4.0)]), [])[0] == math.inf


def test_samples_hold_every_corner_and_are_close_together() -> None:
    """A 3 by 2 rectangle every 0.5 mm is 20 places, its four corners among them."""
    places = samples(rectangle(3, 2), 0.5)
    assert len(places) == 20
    assert {(-1.5, -1.0), (1.5, -1.0), (1.5, 1.0), (-1.5, 1.0)} <= {tuple(p) for p in places.tolist()}
    steps = np.hypot(*(np.roll(places, -1, axis=0) - places).T)
    assert steps.max() <= 0.5 + 1e-12


def test_samples_of_arcs_lie_on_them() -> None:
    """Every place on a circle of radius 6 is 6 from its centre."""
    assert np.hypot(*samples(round_hole(12)).T) == pytest.approx(6, abs=1e-12)


@pytest.mark.parametrize("radius", [1.5, 4.75])
def test_a_rounded_corner_deviates_from_a_square_one_at_the_corner(regions_of: RegionsOf, radius: float) -> None:
    """By r (sqrt 2 - 1), what a round bit leaves standing in a square corner."""
    square, rounded = regions_of(rectangle(60, 40)), regions_of(rectangle(60, 40, radius))
    expected = radius * (math.sqrt(2) - 1)
    assert deviation(square, rounded) == pytest.approx(expected, abs=1e-9)
    assert deviation(rounded, square) == pytest.approx(expected, abs=1e-9)


def test_equal_areas_do_not_deviate(regions_of: RegionsOf) -> None:
    """The same outline started elsewhere deviates by nothing."""
    regions = regions_of(slot(50, 10))
    assert deviation(regions, regions) == pytest.approx(0, abs=1e-12)
    assert deviation(regions, regions_of(slot(50, 10).started_mid_straight())) == pytest.approx(0, abs=1e-12)


def test_deviation_sees_a_larger_and_a_moved_area(regions_of: RegionsOf) -> None:
    """A circle 1 mm larger all round deviates by 1, one moved by 3 by 3."""
    assert deviation(regions_of(round_hole(10)), regions_of(round_hole(12))) == pytest.approx(1, abs=1e-9)
    moved = regions_of(round_hole(10).moved(3, 0))
    assert deviation(regions_of(round_hole(10)), moved) == pytest.approx(3, abs=1e-6)


def test_a_missing_hole_deviates(regions_of: RegionsOf) -> None:
    """Holes are boundary too: the middle of 60 by 40 is 20 from its edge, the ends of a small hole there less."""
    plain, holed = regions_of(rectangle(60, 40)), regions_of(rectangle(60, 40), round_hole(4))
    assert deviation(plain, holed) == pytest.approx(20, abs=1e-3)  # from (±2, 0)


def test_nothing_against_nothing_and_something(regions_of: RegionsOf) -> None:
    """Two empty areas are equal; an empty one is infinitely far from any other."""
    assert deviation((), ()) == 0
    assert deviation(regions_of(round_hole(10)), ()) == math.inf
    assert deviation((), regions_of(round_hole(10))) == math.inf


def test_areas_of_all_parts_are_added(regions_of: RegionsOf) -> None:
    """Two 2 by 1 rectangles, one with a hole of 0.25 pi mm², have 4 - 0.25 pi mm²."""
    both = regions_of(rectangle(2, 1)) + regions_of(rectangle(2, 1).moved(5, 0), round_hole(1).moved(5, 0))
    assert total_area(both) == pytest.approx(4 - math.pi / 4, abs=1e-12)
    assert len(segments_of(both)) == 9


def test_many_segments_are_measured_like_few(monkeypatch: pytest.MonkeyPatch) -> None:
    """Distances to lines and arcs, near, far and at a circle's centre, are the same whichever way they are found."""
    from jigtemplates.geometry import measure

    ring = rectangle(40, 20, 4)
    points = np.array(
        [(x / 3, y / 3) for x in range(-80, 80, 7) for y in range(-50, 50, 7)] + [(16.0, 6.0), (0.0, 0.0)]
    )
    few = distances(points, (*ring.segments, *round_hole(9).segments))
    monkeypatch.setattr(measure, "MANY", 0)
    monkeypatch.setattr(measure, "FEW", 0)
    many = distances(points, (*ring.segments, *round_hole(9).segments))
    assert many == pytest.approx(few, abs=1e-12)
    assert few[-2:] == pytest.approx([4.0, 4.5])


def test_metres_of_a_few_arcs_are_not_sorted_by_place(monkeypatch: pytest.MonkeyPatch) -> None:
    """An arc slot of 5 m radius has more places than can be sorted; a tenth of a millimetre narrower is seen."""
    monkeypatch.setattr("jigtemplates.geometry.many_places.distances_by_place", lambda *_: 1 / 0)
    wide, narrow = ((Region(arc_slot(5000, 250, width)),) for width in (25, 24.8))
    assert deviation(wide, narrow) == pytest.approx(0.1, abs=1e-9)
