"""What must hold of any offset, whatever the outline."""

import math
from collections.abc import Callable

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.geometry.measure import deviation, total_area
from jigtemplates.geometry.offset import grow, offset, shrink
from jigtemplates.geometry.outline import BulgeVertex, Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle, slot

PolygonOf = Callable[..., "shapely.Geometry"]

millimetres = st.floats(0.5, 40).map(lambda x: round(x, 2))
#: Inwards and outwards; no arc so short that it is rounding.
distances = st.floats(-8, 8).filter(lambda d: d == 0 or abs(d) > 0.05)
degrees = st.floats(0, 360).map(lambda x: round(x, 1))
places = st.tuples(st.integers(-30, 30), st.integers(-30, 30))


def hull(points: list[tuple[int, int]]) -> Outline | None:
    """The convex polygon round some points, counter-clockwise; None where they lie on a line."""
    polygon = shapely.convex_hull(shapely.MultiPoint(points))
    if polygon.geom_type != "Polygon":
        return None
    ring = shapely.get_coordinates(shapely.orient_polygons(polygon))[:-1]
    return Outline.polygon([(float(x), float(y)) for x, y in ring])


convex = st.one_of(
    st.lists(places, min_size=3, max_size=12, unique=True).map(hull).filter(lambda o: o is not None),
    st.tuples(millimetres, millimetres, st.floats(0, 1)).map(
        lambda s: rectangle(s[0], s[1], round(s[2] * min(s[:2]) / 2, 3))
    ),
    st.tuples(millimetres, millimetres, degrees).map(lambda s: slot(s[0] + s[1], s[1]).rotated(s[2])),
    st.floats(0.05, 1).map(lambda k: Outline.from_bulges([BulgeVertex(-9, 0, k), BulgeVertex(9, 0, k / 2)])),
)

#: With inner corners, inner arcs and a notch, no line of symmetry.
HOOK = Outline.from_bulges(
    [
        BulgeVertex(0, 0, 0.0),
        BulgeVertex(40, 0, 0.4),
        BulgeVertex(40, 20, 0.0),
        BulgeVertex(31, 25, -0.6),
        BulgeVertex(17, 25, 0.0),
        BulgeVertex(14, 9, 0.0),
        BulgeVertex(8, 30, 0.2),
    ]
)
HOOKED: Regions = (Region(HOOK, (Outline.circle(Point(32, 9), 4, -1),)),)


@settings(max_examples=60, deadline=None)
@given(convex, st.floats(0.01, 30))
def test_growing_then_shrinking_returns_a_convex_outline(outline: Outline, distance: float) -> None:
    """The same area, within 1e-6 mm of the same place; its corners are sharp again."""
    regions = (Region(outline),)
    back = shrink(grow(regions, distance), distance)
    assert len(back) == 1
    assert back[0].area == pytest.approx(outline.area, abs=1e-6 * outline.length)
    assert deviation(back, regions) < 1e-6


@settings(max_examples=60, deadline=None)
@given(convex, st.floats(0.01, 30))
def test_a_convex_outline_grows_by_steiners_formula(outline: Outline, distance: float) -> None:
    """Area A + P r + pi r², perimeter P + 2 pi r (Steiner 1840)."""
    (grown,) = grow((Region(outline),), distance)
    area = outline.area + outline.length * distance + math.pi * distance**2
    assert grown.area == pytest.approx(area, abs=1e-8 * area)
    assert grown.outer.length == pytest.approx(outline.length + 2 * math.pi * distance, abs=1e-8 * area)


@settings(max_examples=30, deadline=None)
@given(degrees, distances)
def test_turning_commutes_with_offset(angle: float, distance: float) -> None:
    """Turned and then offset, or offset and then turned: the same."""
    turned = tuple(_mapped(r, lambda o: o.rotated(angle)) for r in HOOKED)
    expected = tuple(_mapped(r, lambda o: o.rotated(angle)) for r in offset(HOOKED, distance))
    _assert_same(offset(turned, distance), expected)


@settings(max_examples=30, deadline=None)
@given(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3), distances)
def test_moving_commutes_with_offset(dx: float, dy: float, distance: float) -> None:
    """Moved and then offset, or offset and then moved: the same."""
    moved = tuple(_mapped(r, lambda o: o.moved(dx, dy)) for r in HOOKED)
    expected = tuple(_mapped(r, lambda o: o.moved(dx, dy)) for r in offset(HOOKED, distance))
    _assert_same(offset(moved, distance), expected)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.1, 10), distances)
def test_scaling_commutes_with_offset(factor: float, distance: float) -> None:
    """An outline twice as large, offset twice as far, gives the offset twice as large."""
    scaled = tuple(_mapped(r, lambda o: o.scaled(factor)) for r in HOOKED)
    expected = tuple(_mapped(r, lambda o: o.scaled(factor)) for r in offset(HOOKED, distance))
    _assert_same(offset(scaled, distance * factor), expected)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.05, 6), st.floats(0.05, 2))
def test_a_mirror_image_is_offset_to_a_mirror_image(distance: float, further: float) -> None:
    """Mirrored and then offset, or offset and then mirrored: the same, inwards and outwards."""
    mirrored = tuple(_mapped(r, Outline.mirrored) for r in HOOKED)
    for d in (-distance, further):
        expected = tuple(_mapped(r, Outline.mirrored) for r in offset(HOOKED, d))
        _assert_same(offset(mirrored, d), expected)


@settings(max_examples=30, deadline=None)
@given(small=st.floats(0.05, 6), more=st.floats(0.01, 3))
def test_shrinking_further_leaves_less(polygon_of: PolygonOf, small: float, more: float) -> None:
    """What is left by the larger distance lies within what is left by the smaller."""
    outer, inner = polygon_of(shrink(HOOKED, small)), polygon_of(shrink(HOOKED, small + more))
    assert shapely.difference(inner, outer).area < 1e-6
    assert inner.area < outer.area


@settings(max_examples=30, deadline=None)
@given(st.floats(0.1, 5), st.floats(0.1, 5))
def test_two_steps_outwards_are_one(first: float, second: float) -> None:
    """Grown by a and then by b is grown by a + b."""
    twice, once = grow(grow(HOOKED, first), second), grow(HOOKED, first + second)
    assert total_area(twice) == pytest.approx(total_area(once), abs=1e-3)


def _mapped(region: Region, place: Callable[[Outline], Outline]) -> Region:
    return Region(place(region.outer), tuple(place(h) for h in region.holes))


def _assert_same(got: Regions, expected: Regions) -> None:
    """The same number of parts and holes, areas and edges, within 1e-6 mm."""
    assert sorted(len(r.holes) for r in got) == sorted(len(r.holes) for r in expected)
    assert sum(len(ring.segments) for r in got for ring in r.rings) == sum(
        len(ring.segments) for r in expected for ring in r.rings
    )
    assert total_area(got) == pytest.approx(total_area(expected), rel=1e-7, abs=1e-6)
    assert deviation(got, expected) < 1e-6 or not expected
