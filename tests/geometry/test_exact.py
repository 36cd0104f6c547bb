"""Exact lines and arcs given back to areas that were computed on chords."""

import math

import numpy as np
import pytest
import shapely

from jigtemplates.geometry.curves import Circle, GeometryError, Straight
from jigtemplates.geometry.exact import Piece, UnclearError, exact_regions
from jigtemplates.geometry.outline import Outline, Point


def side(start: tuple[float, float], end: tuple[float, float]) -> Piece:
    """A straight piece from start to end."""
    length = math.dist(start, end)
    along = Point((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    return Piece(Straight(Point(*start), along), np.array([start, end]))


def circle(radius: float, count: int) -> tuple[Piece, "shapely.Geometry"]:
    """A circle about the origin as a piece, and the polygon of its chords."""
    angles = np.linspace(0, 2 * math.pi, count + 1)
    points = radius * np.column_stack([np.cos(angles), np.sin(angles)])
    points[-1] = points[0]
    return Piece(Circle(Point(0, 0), radius), points), shapely.polygons(points)


def anything(_: Outline) -> bool:
    """Takes every thin ring for real."""
    return True


SQUARE = [(0, 0), (10, 0), (10, 10), (0, 10)]
SIDES = [side(a, b) for a, b in zip(SQUARE, SQUARE[1:] + SQUARE[:1], strict=True)]


def test_chords_of_a_circle_become_a_circle() -> None:
    """24 chords of radius 5 are one arc of exactly that radius, a hole a clockwise one."""
    (outer, disc), (inner, hole) = circle(5, 24), circle(3, 24)
    (region,) = exact_regions(shapely.difference(disc, hole), [outer, inner], anything)
    assert [ring.as_circle and (ring.as_circle.radius, ring.as_circle.turn) for ring in region.rings] == [
        (5, 1),
        (3, -1),
    ]


def test_edges_cut_short_still_find_their_pieces() -> None:
    """Where the area's corners are not ends of chords the nearest piece counts: a square cut by a diagonal."""
    corner = shapely.Polygon([(5, 0), (10, 0), (10, 5)])
    (region,) = exact_regions(corner, [*SIDES, side((0, -5), (15, 10))], anything)
    assert region.area == pytest.approx(12.5, abs=1e-12)
    assert len(region.outer.segments) == 3


def test_parts_and_holes_come_in_order() -> None:
    """From the left, whatever order shapely has them in."""
    moved = [
        Piece(Straight(Point(p.curve.point.x - 20, p.curve.point.y), p.curve.along), p.chords - [20, 0])
        for p in SIDES
        if isinstance(p.curve, Straight)
    ]
    pair = shapely.MultiPolygon([shapely.Polygon(SQUARE), shapely.Polygon([(x - 20, y) for x, y in SQUARE])])
    assert [r.bounds.left for r in exact_regions(pair, [*SIDES, *moved], anything)] == [-20, 0]


def test_an_area_that_is_not_from_the_pieces_is_refused() -> None:
    """Two parallel pieces never meet, however an area was cut between them."""
    pieces = [side((0, 0), (10, 0)), side((10, 10), (0, 10))]
    with pytest.raises(GeometryError) as refused:
        exact_regions(shapely.Polygon(SQUARE), pieces, anything)
    assert refused.value.lines[0].startswith("two edges of the outline do not meet near (")


def test_films_and_unreal_thin_parts_are_left_out() -> None:
    """A part 0.4 nm thick never is one; one of a micrometre only if it is real."""
    for thickness, real, parts in ((4e-7, True, 0), (1e-3, True, 1), (1e-3, False, 0)):
        flat = [(0, 0), (10, 0), (10, thickness), (0, thickness)]
        pieces = [side(a, b) for a, b in zip(flat, flat[1:] + flat[:1], strict=True)]
        assert len(exact_regions(shapely.Polygon(flat), pieces, lambda _, real=real: real)) == parts


def test_a_thin_part_unlike_its_curves_needs_finer_chords() -> None:
    """A film 10 mm long between chords whose curves only touch says so, unless the chords are the finest."""
    touching = Piece(Circle(Point(5, 100), 100), np.array([(0, 1e-3), (10, 1e-3)]))
    film = shapely.Polygon([(0, 0), (10, 0), (10, 1e-3), (0, 1e-3)])
    pieces = [side((0, 0), (10, 0)), touching]
    with pytest.raises(UnclearError, match=r"^a thin part needs finer chords$"):
        exact_regions(film, pieces, anything, is_finest=False)
    (place,) = exact_regions(film, pieces, anything)
    assert place.outer.as_circle is not None
    assert (place.outer.as_circle.center, place.outer.as_circle.radius) == ((5, 0), 0)
