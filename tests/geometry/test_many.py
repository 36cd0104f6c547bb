"""Distances, samples and hidden crossings of very many segments: what is found one by one, all at once."""

import math
from collections.abc import Callable

import numpy as np
import pytest
import shapely

from jigtemplates.geometry import many_places
from jigtemplates.geometry.crossings import has_hidden_crossing
from jigtemplates.geometry.curves import Circle, GeometryError, Straight, meeting
from jigtemplates.geometry.inside import tightest_corner, widest_inside
from jigtemplates.geometry.long import boundary_of, long_outline, table_of
from jigtemplates.geometry.many_crossings import has_hidden_crossing_among
from jigtemplates.geometry.many_curves import Curves, meetings
from jigtemplates.geometry.many_places import distances_to, furthest, many_samples
from jigtemplates.geometry.measure import deviation, samples
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle, round_hole, slot
from jigtemplates.geometry.table import Array, Table

RegionsOf = Callable[..., Regions]


def ring(count: int, radius: float = 50.0) -> Outline:
    """A regular polygon of many sides."""
    angles = np.arange(count) * 2 * math.pi / count
    return long_outline(Table.polygon(radius * np.column_stack([np.cos(angles), np.sin(angles)])))


def places(count: int, reach: float) -> Array:
    """Places spread at random over a square."""
    found: Array = np.random.default_rng(3).uniform(-reach, reach, (count, 2))
    return found


def by_shapely(points: Array, outline: Outline) -> Array:
    """Distances to the polygon's edge."""
    edge = shapely.LinearRing(table_of(outline).starts)
    found: Array = shapely.distance(shapely.points(points), edge)
    return found


@pytest.mark.parametrize("most", [0, 10**9])
def test_distances_are_those_of_shapely(most: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """To the sides of a polygon, by place and one by one; infinite to nothing."""
    monkeypatch.setattr(many_places, "MANY", most)
    points, outline = places(200, 70), ring(700)
    assert distances_to(points, table_of(outline)) == pytest.approx(by_shapely(points, outline), abs=1e-9)
    if most:
        assert np.isinf(distances_to(points[:2], Table.of([]))).all()


@pytest.mark.parametrize("points", [places(300, 70), places(300, 49), np.array([(0.0, 0.0)]), np.array([(900.0, 0.0)])])
def test_the_furthest_is_that_of_shapely(points: Array) -> None:
    """Whether all places are near, some far, or none has a corner beside it."""
    outline = ring(700)
    assert furthest(points, table_of(outline)) == pytest.approx(by_shapely(points, outline).max(), abs=1e-9)


def test_the_furthest_of_places_close_by() -> None:
    """Of places a thousandth beside a contour one is a hundredth away, and found without measuring all."""
    outline = ring(2000)
    points = table_of(outline).middles * (1 + 1e-3 / 50)
    points[777] *= 1 + 1e-2 / 50
    assert furthest(points, table_of(outline)) == pytest.approx(by_shapely(points, outline).max(), abs=1e-9)


def test_samples_are_where_they_ever_were() -> None:
    """Every corner, every middle, and in steps of at most the spacing between, on lines and arcs."""
    for outline in (rectangle(7, 5, 1.3), slot(50, 12), round_hole(9)):
        for spacing in (0.2, 3.0):
            assert many_samples(outline, spacing) == pytest.approx(samples(outline, spacing), abs=1e-12)


def test_two_long_contours_deviate_by_their_distance() -> None:
    """Concentric polygons of 600 and 900 sides: the furthest corner is 2 mm and a sagitta away."""
    wide, narrow = (Region(ring(600, 52)),), (Region(ring(900, 50)),)
    assert deviation(wide, narrow) == pytest.approx(2 + 50 * (1 - math.cos(math.pi / 900)), abs=1e-6)


def test_what_fits_inside_a_long_contour() -> None:
    """A polygon of 600 sides holds the circle between its flats, and its corners count as smooth; a square's do not."""
    region = Region(ring(600, 50))
    assert widest_inside(region) == pytest.approx(100 * math.cos(math.pi / 600), abs=2.1e-3)
    assert tightest_corner(region) == pytest.approx(50, abs=1e-3)
    sides = [(x / 10, 0.0) for x in range(300)]
    assert (
        tightest_corner(
            Region(long_outline(Table.polygon(np.array([*sides, *((30.0, y / 10) for y in range(300)), (0, 30)]))))
        )
        == 0
    )
    long_arc = Table.joined([table_of(rectangle(60, 40, 6)), *[table_of(ring(2))] * 250])
    assert long_outline(long_arc).inside_radius == 6
    assert ring(600).inside_radius == 0


@pytest.mark.parametrize(
    ("overlap", "hidden"), [(1e-3, True), (1e-4, True), (1e-6, False), (-1e-4, False), (0.1, False)]
)
@pytest.mark.parametrize("other", [12, 3])
def test_circles_beside_each_other(regions_of: RegionsOf, overlap: float, hidden: bool, other: float) -> None:
    """Deeper than the slack and less deep than four chords, whichever is larger, and among many others."""
    pair = regions_of(Outline.circle(Point(0, 0), 5))
    pair += regions_of(Outline.circle(Point(0, 5 + other - overlap), other))
    many = (*pair, Region(ring(600, 300)))
    assert has_hidden_crossing_among(boundary_of(pair), 1e-3, 1.5e-5) is hidden
    assert has_hidden_crossing(many, 1e-3, 1.5e-5) is hidden


@pytest.mark.parametrize(("overlap", "hidden"), [(1e-3, True), (-1e-3, False), (0.1, False)])
def test_a_circle_within_another_and_beside_a_side(regions_of: RegionsOf, overlap: float, hidden: bool) -> None:
    """A hole that pokes through its round or straight outer ring by next to nothing."""
    inside = regions_of(Outline.circle(Point(0, 0), 20), Outline.circle(Point(15 + overlap, 0), 5))
    beside = regions_of(rectangle(60, 40), Outline.circle(Point(4, 15 + overlap), 5))
    for regions in (inside, beside):
        assert has_hidden_crossing_among(boundary_of(regions), 1e-3, 1.5e-5) is hidden


def test_straights_hide_nothing() -> None:
    """Nor do circles about one centre."""
    assert not has_hidden_crossing_among(table_of(ring(600)), 1e-3, 1.5e-5)
    circles = (Region(Outline.circle(Point(0, 0), 5)), Region(Outline.circle(Point(0, 0), 4.9995)))
    assert not has_hidden_crossing_among(boundary_of(circles), 1e-3, 1.5e-5)


CURVES = (
    Straight(Point(0, 0), Point(1, 0)),
    Straight(Point(0, 3), Point(1, 0)),
    Straight(Point(2, 1), Point(0.6, 0.8)),
    Circle(Point(0, 0), 5),
    Circle(Point(8, 0), 3),
    Circle(Point(1, 1), 5),
    Circle(Point(1, 1), 0),
    Circle(Point(0, 0), 5.5),
    Circle(Point(9, 0), 3),
)


def test_many_curves_meet_where_two_do() -> None:
    """Each with each, lines and circles, that cross, touch, are one, or miss each other."""
    pairs = [(a, b) for a in CURVES for b in CURVES]
    near = Point(2.0, 1.5)
    ones, others = (columns([pair[i] for pair in pairs]) for i in (0, 1))
    found, gaps = meetings(ones, others, np.array([near] * len(pairs)))
    for (a, b), place, gap in zip(pairs, found.tolist(), gaps.tolist(), strict=True):
        try:
            assert place == pytest.approx(meeting(a, b, near), abs=1e-9)
        except GeometryError:
            assert gap > 1e-4
        else:
            assert gap <= 1e-4
    assert (gaps > 1e-4).sum() > 10


def columns(curves: list[Straight | Circle]) -> Curves:
    """The curves in columns."""
    return Curves(
        np.array([isinstance(c, Circle) for c in curves]),
        np.array([c.center if isinstance(c, Circle) else c.point for c in curves]),
        np.array([(0, 0) if isinstance(c, Circle) else c.along for c in curves]),
        np.array([c.radius if isinstance(c, Circle) else 0 for c in curves]),
    )
