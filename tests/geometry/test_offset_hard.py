"""Outlines that are hard to offset: each was once wrong, or is where such things go wrong."""

import math
from collections.abc import Callable

import pytest
import shapely

from jigtemplates.geometry.measure import total_area
from jigtemplates.geometry.offset import grow, offset, shrink
from jigtemplates.geometry.outline import Arc, BulgeVertex, Line, Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle, round_hole, slot

RegionsOf = Callable[..., Regions]
KindsOf = Callable[[Outline], str]
PolygonOf = Callable[..., "shapely.Geometry"]


def bent_slot(radius: float, width: float, start: float, end: float) -> Outline:
    """A slot along an arc about the origin from one angle to another (radians), with round ends."""
    r = width / 2

    def at(far: float, angle: float) -> Point:
        return Point(far * math.cos(angle), far * math.sin(angle))

    outer, inner = radius + r, radius - r
    return Outline(
        (
            Arc(at(outer, start), at(outer, end), Point(0, 0), outer, 1),
            Arc(at(outer, end), at(inner, end), at(radius, end), r, 1),
            Arc(at(inner, end), at(inner, start), Point(0, 0), inner, -1),
            Arc(at(inner, start), at(outer, start), at(radius, start), r, 1),
        )
    )


def many_sided(count: int, radius: float) -> Outline:
    """A regular polygon, as imported outlines draw their circles."""
    steps = [2 * math.pi * i / count for i in range(count)]
    return Outline.polygon([(radius * math.cos(t), radius * math.sin(t)) for t in steps])


def hourglass(neck: float) -> Outline:
    """Two rooms joined between two arcs of radius 10 that bulge towards each other, neck wide in the middle."""
    bulge, half, sag = math.tan(0.25), 10 * math.sin(0.5), 10 * (1 - math.cos(0.5))
    y = neck / 2 + sag
    lower = [BulgeVertex(-half, -y, -bulge), BulgeVertex(half, -y, 0), BulgeVertex(half + 30, -20, 0)]
    upper = [BulgeVertex(half, y, -bulge), BulgeVertex(-half, y, 0), BulgeVertex(-half - 30, 20, 0)]
    return Outline.from_bulges([*lower, BulgeVertex(half + 30, 20, 0), *upper, BulgeVertex(-half - 30, -20, 0)])


def test_a_bent_slot_as_wide_as_the_bit_leaves_one_arc(regions_of: RegionsOf, kinds_of: KindsOf) -> None:
    """There and back, not a hundred slivers between two sets of chords, and it grows to four arcs again."""
    (line,) = shrink(regions_of(bent_slot(40, 9.5, 0.3, 2.0)), 4.75)
    assert kinds_of(line.outer) == "AA"
    assert line.outer.length == pytest.approx(2 * 40 * 1.7, abs=1e-6)
    (grown,) = grow((line,), 6.35)
    assert kinds_of(grown.outer) == "AAAA"
    assert grown.area == pytest.approx(40 * 1.7 * 12.7 + math.pi * 6.35**2, abs=1e-6)


@pytest.mark.parametrize("room", [1e-4, 1e-3, 1e-2])
def test_a_hair_of_room_in_a_bent_slot_is_kept(regions_of: RegionsOf, kinds_of: KindsOf, room: float) -> None:
    """Far less than the chords' tolerance, and the area is still exact."""
    (part,) = shrink(regions_of(bent_slot(40, 9.5 + room, 0.3, 2.0)), 4.75)
    assert kinds_of(part.outer) == "AAAA"
    assert part.area == pytest.approx(40 * 1.7 * room + math.pi * room**2 / 4, abs=1e-9)


def test_a_round_groove_as_wide_as_the_bit_leaves_a_circle(regions_of: RegionsOf) -> None:
    """Between two circles only one of radius 15.25 is left, there and back as outer ring and hole."""
    groove = regions_of(Outline.circle(Point(1, 2), 20), Outline.circle(Point(1, 2), 10.5))
    (part,) = shrink(groove, 4.75)
    circles = [ring.as_circle for ring in part.rings]
    assert [c.radius for c in circles if c] == pytest.approx([15.25, 15.25], abs=1e-9)
    assert grow((part,), 4.75)[0].area == pytest.approx(math.pi * (400 - 10.5**2), abs=1e-6)


@pytest.mark.parametrize("over", [1e-4, 1e-3])
def test_a_neck_between_arcs_too_narrow_by_less_than_a_chord_is_closed(
    regions_of: RegionsOf, polygon_of: PolygonOf, over: float
) -> None:
    """Their chords look apart; the arcs cross, so the shape falls in two and no outline crosses itself."""
    parts = shrink(regions_of(hourglass(9.5 - over)), 4.75)
    assert len(parts) == 2
    assert parts[0].area == pytest.approx(parts[1].area, abs=1e-9)
    polygon_of(parts, 1e-7)


@pytest.mark.parametrize("room", [0, 1e-6, 1e-4, 1e-3])
def test_a_neck_between_arcs_that_lets_the_bit_through_stays_open(regions_of: RegionsOf, room: float) -> None:
    """Exactly as wide as the bit or wider by next to nothing: one part."""
    assert len(shrink(regions_of(hourglass(9.5 + room)), 4.75)) == 1


@pytest.mark.parametrize(("apart", "parts"), [(1e-3, 2), (1e-4, 2), (-1e-4, 1), (-1e-3, 1)])
def test_circles_that_grow_together_are_one(regions_of: RegionsOf, apart: float, parts: int) -> None:
    """Two circles of radius 15 become radius 20, this far apart or overlapping by as little."""
    x = 20 + apart / 2
    pair = regions_of(Outline.circle(Point(-x, 0), 15)) + regions_of(Outline.circle(Point(x, 0), 15))
    for turned in (pair, tuple(Region(r.outer.rotated(33)) for r in pair)):
        grown = grow(turned, 5)
        assert len(grown) == parts
        assert total_area(grown) == pytest.approx(2 * math.pi * 400, abs=1e-3)


@pytest.mark.parametrize(("apart", "holes"), [(1e-3, 2), (1e-4, 2), (-1e-4, 1), (-1e-3, 1)])
def test_holes_that_grow_together_are_one(regions_of: RegionsOf, apart: float, holes: int) -> None:
    """The same for two holes of radius 15 when their region shrinks by 5."""
    x = 20 + apart / 2
    around = rectangle(120, 70)
    (part,) = shrink(regions_of(around, Outline.circle(Point(-x, 0), 15), Outline.circle(Point(x, 0), 15)), 5)
    assert len(part.holes) == holes


def test_a_fine_polygon_shrunk_to_next_to_nothing_is_not_lost(regions_of: RegionsOf) -> None:
    """A 9.525 mm hole drawn with 2000 edges and shrunk by 4.75: edges of 0.04 µm make way, the area stays."""
    (part,) = shrink(regions_of(many_sided(2000, 4.7625)), 4.75)
    assert part.area == pytest.approx(math.pi * 0.0125**2, rel=2e-3)
    assert all(s.length >= 1e-4 for s in part.outer.segments)


@pytest.mark.parametrize("count", [12, 100, 500])
@pytest.mark.parametrize("distance", [1e-4, 0.1, 5, 100])
def test_fine_polygons_grow_by_steiners_formula(regions_of: RegionsOf, count: int, distance: float) -> None:
    """No speck of a hole between their many strips (A + P r + pi r², Steiner 1840)."""
    outline = many_sided(count, 20)
    (part,) = grow(regions_of(outline), distance)
    assert part.holes == ()
    expected = outline.area + outline.length * distance + math.pi * distance**2
    assert part.area == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("bend", [1e-12, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2])
@pytest.mark.parametrize("sign", [1, -1])
def test_nearly_straight_corners_offset_both_ways(
    regions_of: RegionsOf, polygon_of: PolygonOf, bend: float, sign: int
) -> None:
    """A side that bends by next to nothing gives one valid part of the area that a straight one would."""
    t = sign * bend
    end = (20 + 20 * math.cos(t), 20 * math.sin(t))
    shape = regions_of(Outline.polygon([(0, 0), (20, 0), end, (40, 30), (0, 30)]))
    for distance, straight in ((5, 1200 + 140 * 5 + 25 * math.pi), (-5, 600)):
        result = offset(shape, distance)
        assert len(result) == 1
        assert total_area(result) == pytest.approx(straight, abs=500 * bend + 1e-6)
        polygon_of(result, 1e-3)


@pytest.mark.parametrize("bend", [1e-12, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3])
@pytest.mark.parametrize("sign", [1, -1])
def test_nearly_tangent_joins_offset_both_ways(
    regions_of: RegionsOf, polygon_of: PolygonOf, bend: float, sign: int
) -> None:
    """A fillet that misses its lines' tangents by next to nothing: one valid part, the area of a true fillet."""
    bulge = math.tan((math.pi / 2 + sign * bend) / 4)
    corners = [BulgeVertex(0, 0, 0), BulgeVertex(20, 0, bulge), BulgeVertex(30, 10, 0)]
    shape = regions_of(Outline.from_bulges([*corners, BulgeVertex(30, 30, 0), BulgeVertex(0, 30, 0)]))
    fillet = 100 * (1 - math.pi / 4)
    for distance, area in ((5, 900 - fillet + (120 - 20 + 5 * math.pi) * 5 + 25 * math.pi), (-5, 400 - fillet / 4)):
        result = offset(shape, distance)
        assert len(result) == 1
        assert total_area(result) == pytest.approx(area, abs=500 * bend + 1e-6)
        polygon_of(result, 1e-3)


@pytest.mark.parametrize("distance", [3, -3, 14.9, -14.9, 1e-4, -1e-4, 500])
@pytest.mark.parametrize("sign", [1, -1])
def test_an_arc_of_a_hundred_metres_is_offset_like_a_line(regions_of: RegionsOf, sign: int, distance: float) -> None:
    """A side of 40 mm that is 2 µm hollow or full changes the area by a tenth of a square millimetre at most."""
    bulge = sign * 40 / 8 / 1e5 * 2
    ring = [BulgeVertex(0, 0, bulge), BulgeVertex(40, 0, 0), BulgeVertex(40, 30, 0), BulgeVertex(0, 30, 0)]
    bent = offset(regions_of(Outline.from_bulges(ring)), distance)
    flat = offset(regions_of(Outline.polygon([(0, 0), (40, 0), (40, 30), (0, 30)])), distance)
    assert len(bent) == 1
    assert total_area(bent) == pytest.approx(total_area(flat), abs=0.12 + 1e-5 * max(distance, 0) ** 2)


def test_corners_of_a_hundredth_are_kept_as_arcs(regions_of: RegionsOf, kinds_of: KindsOf) -> None:
    """A radius of 0.01 grown by 3 is 3.01; shrunk by 0.005 it is 0.005."""
    for distance, radius in ((3, 3.01), (-0.005, 0.005)):
        (part,) = offset(regions_of(rectangle(40, 30, 0.01)), distance)
        assert kinds_of(part.outer) == "ALALALAL"
        radii = [s.radius for s in part.outer.segments if isinstance(s, Arc)]
        assert radii == pytest.approx([radius] * 4, abs=1e-12)


@pytest.mark.parametrize(("bulges", "inradius"), [((0.3, 0.3), 3), ((0, 1), 5)])
@pytest.mark.parametrize("turn", [0, 15])
def test_outlines_of_two_edges(
    regions_of: RegionsOf, kinds_of: KindsOf, bulges: tuple[float, float], inradius: float, turn: float
) -> None:
    """A lens of two arcs, a half disc: two edges as long as they fit, rounded corners when they grow."""
    ring = [BulgeVertex(-10, 0, bulges[0]), BulgeVertex(10, 0, bulges[1])]
    shape = regions_of(Outline.from_bulges(ring).rotated(turn))
    for distance in (0.01, 1, inradius - 0.01):
        (part,) = shrink(shape, distance)
        assert len(part.outer.segments) == 2
    assert shrink(shape, inradius + 0.01) == ()
    (part,) = grow(shape, 2)
    assert len(part.outer.segments) == 4


def test_a_tip_where_an_arc_turns_back_is_rounded(regions_of: RegionsOf, polygon_of: PolygonOf) -> None:
    """Two arcs that touch at (10, 0) end a claw there; grown by 2 it reaches 2 mm beyond on either side."""
    corners = [Point(0, 10), Point(10, 0), Point(3, 7)]
    back = Arc(corners[0], corners[1], Point(0, 0), 10, -1)
    claw = Outline((back, Arc(corners[1], corners[2], Point(3, 0), 7, 1), Line(corners[2], corners[0])))
    for turn in (0, 1, 10, 45):
        (part,) = grow(regions_of(claw.rotated(turn)), 2)
        upright = part.outer.rotated(-turn)
        assert (upright.bounds.right, upright.bounds.bottom) == pytest.approx((12, -2), abs=1e-6)
        polygon_of((part,), 1e-5)


def test_a_crack_where_an_arc_turns_back_is_rounded(regions_of: RegionsOf, polygon_of: PolygonOf) -> None:
    """Two lobes of radius 8 that touch at the origin: shrunk by 1, the crack between them ends in an arc about it."""
    lobes = [BulgeVertex(8, 8, 1), BulgeVertex(-8, 8, math.tan(math.pi / 8)), BulgeVertex(0, 0, math.tan(math.pi / 8))]
    lower = [BulgeVertex(-8, -8, 1), BulgeVertex(8, -8, 0)]
    for turn in (0, 10, 90, 200):
        (part,) = shrink(regions_of(Outline.from_bulges([*lobes, *lower]).rotated(turn)), 1)
        about = [s for s in part.outer.segments if isinstance(s, Arc) and math.dist(s.center, (0, 0)) < 1e-9]
        assert [s.radius for s in about] == [1]
        assert about[0].length == pytest.approx(math.pi, abs=1e-6)
        polygon_of((part,), 1e-5)


def test_a_hole_with_corners_tighter_than_the_distance_keeps_its_middle(regions_of: RegionsOf) -> None:
    """A 6 by 4 hole with corners of 0.7, grown into by 1.9: its middle of 2.2 by 0.2 is left, no longer and no less."""
    for turn in (0, 31):
        hole = rectangle(6, 4, 0.7).rotated(turn)
        (part,) = grow(regions_of(rectangle(60, 40), hole), 1.9)
        (left,) = part.holes
        assert left.area == pytest.approx(-2.2 * 0.2, abs=1e-9)
        assert len(left.segments) == 4


def test_smooth_joints_a_hair_apart_are_lapped(regions_of: RegionsOf) -> None:
    """Smooth joints, a hair apart by rounding, once made a lap that crossed itself: 2 by 1 turned by 1 degree."""
    (part,) = grow(regions_of(slot(2, 1).rotated(1)), 1)
    assert part.area == pytest.approx(1 * 3 + math.pi * 2.25, abs=1e-9)


def test_next_to_no_distance_changes_nothing(regions_of: RegionsOf) -> None:
    """Below ten nanometres the very same regions come back."""
    regions = regions_of(round_hole(29))
    assert grow(regions, 1e-189) is regions
    assert shrink(regions, 9e-6) is regions
    assert total_area(grow(regions, 1.1e-5)) > total_area(regions)


def test_thousands_of_edges_are_offset(regions_of: RegionsOf) -> None:
    """5000 edges with waves on them are offset both ways, every edge kept that is still there."""
    waves = [2 * math.pi * i / 5000 for i in range(5000)]
    wavy = Outline.polygon(
        [((30 + math.sin(9 * t)) * math.cos(t), (30 + math.sin(9 * t)) * math.sin(t)) for t in waves]
    )
    (outside,), (inside,) = grow(regions_of(wavy), 1), shrink(regions_of(wavy), 1)
    assert outside.area - wavy.area == pytest.approx(wavy.length + math.pi, rel=0.01)
    assert wavy.area - inside.area == pytest.approx(wavy.length - math.pi, rel=0.01)
