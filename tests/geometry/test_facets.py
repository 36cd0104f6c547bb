"""Polygons that keep to one side of an outline: in it or round it, and never further than the chord tolerance."""

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jigtemplates.geometry.facets import Side, facets, polygons
from jigtemplates.geometry.outline import Arc, BulgeVertex, Line, Outline, Point, Region

P = Point
CIRCLE = Outline.circle(P(3, 4), 10)


def area(points: list[tuple[float, float]]) -> float:
    """Signed area by shapely's ring, positive counter-clockwise."""
    ring = shapely.LinearRing(points)
    return float(shapely.Polygon(ring).area) * (1 if ring.is_ccw else -1)


def test_a_polygon_round_a_circle() -> None:
    """71 sides that touch a circle of 10: each corner 10 / cos(pi / 71) from its middle, area n r² tan(pi / n)."""
    points = facets(CIRCLE, 0.01, "around")
    assert len(points) == 71
    assert {round(math.dist(p, (3, 4)), 6) for p in points} == {10.009797}
    assert area(points) == pytest.approx(314.36445334)


def test_a_polygon_within_a_circle() -> None:
    """71 corners on the circle: area n r² sin(2 pi / n) / 2."""
    points = facets(CIRCLE, 0.01, "within")
    assert len(points) == 71
    assert area(points) == pytest.approx(313.74937132)


def test_a_hole_is_drawn_from_its_own_side() -> None:
    """Clockwise, the area is outside the circle: "around" it the hole becomes smaller, "within" it larger."""
    hole = CIRCLE.reversed()
    assert area(facets(hole, 0.01, "around")) == pytest.approx(-313.74937132)
    assert area(facets(hole, 0.01, "within")) == pytest.approx(-314.36445334)


def test_straight_lines_stay() -> None:
    """A polygon is its own facets, corner for corner."""
    corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0)]
    assert facets(Outline.polygon(corners), 0.01, "around") == corners


def test_an_arc_keeps_its_ends() -> None:
    """Half a disc: the corners where arc and line meet stay exactly where they are, on both sides."""
    half = Outline((Line(P(0, 0), P(20, 0)), Arc(P(20, 0), P(0, 0), P(10, 0), 10, 1)))
    inner, outer = facets(half, 0.5, "within"), facets(half, 0.5, "around")
    assert inner[:2] == outer[:2] == [(0, 0), (20, 0)]
    # acos(1 - 0.5 / 10) is 18.2 degrees, so 180 degrees take 5 pieces of 36
    assert [math.degrees(math.atan2(y, x - 10)) for x, y in inner[2:]] == pytest.approx([36, 72, 108, 144])
    # acos(10 / 10.5) is 17.8 degrees, so 180 degrees take 6 tangents of 30, which meet in between
    assert [math.degrees(math.atan2(y, x - 10)) for x, y in outer[2:]] == pytest.approx([15, 45, 75, 105, 135, 165])


@pytest.mark.parametrize(("side", "corners"), [("around", 4), ("within", 4)])
def test_the_coarsest(side: Side, corners: int) -> None:
    """However coarse the tolerance, a circle is at least a square; also one of no size."""
    assert len(facets(CIRCLE, 100, side)) == corners
    assert len(facets(Outline.circle(P(0, 0), 0.0), 0.01, side)) == corners


def test_rings_of_a_region() -> None:
    """The outer ring first, then the holes, each facing the region's area."""
    region = Region(Outline.circle(P(0, 0), 20), (Outline.circle(P(0, 0), 10).reversed(),))
    outer, hole = polygons(region, 0.01, "within")
    assert area(outer) < math.pi * 400
    assert -area(hole) > math.pi * 100


@settings(max_examples=40, deadline=None)
@given(bulge=st.floats(-1, 1).map(lambda k: round(k, 2)), length=st.floats(1, 50), chord=st.floats(0.001, 0.5))
def test_sides_and_distance(bulge: float, length: float, chord: float) -> None:
    """Law: within is in the drawn area, around has it in it, both within the chord of it (fine chords, shapely)."""
    outline = Outline.from_bulges(
        [
            BulgeVertex(0, 0, bulge),
            BulgeVertex(length, 0, 0.0),
            BulgeVertex(length, length, 0.5),
            BulgeVertex(0, length, 0.0),
            BulgeVertex(-1, length / 2, 0.0),
        ]
    )
    true = shapely.Polygon(outline.flattened(1e-5))
    assume(true.is_valid)
    inner = shapely.Polygon(facets(outline, chord, "within"))
    outer = shapely.Polygon(facets(outline, chord, "around"))
    assert inner.difference(true).area < 1e-4 * outline.length
    assert true.difference(outer).area < 1e-4 * outline.length
    assert shapely.hausdorff_distance(outer.boundary, true.boundary) < chord + 1e-4
    assert shapely.hausdorff_distance(inner.boundary, true.boundary, densify=0.01) < chord + 1e-4
