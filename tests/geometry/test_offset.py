"""Offsets of outlines: exact edges, parts that split, merge, vanish, and parts that only just fit."""

import math
from collections.abc import Callable

import pytest

from jigtemplates.geometry.measure import total_area
from jigtemplates.geometry.offset import grow, offset, shrink
from jigtemplates.geometry.outline import Arc, BulgeVertex, Line, Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle, round_hole, slot

RegionsOf = Callable[..., Regions]
KindsOf = Callable[[Outline], str]

#: Two blocks of 20 by 40 mm, joined by a neck 20 long and 8 wide.
DUMBBELL = Outline.polygon(
    (x * sign, y * sign) for sign in (-1, 1) for x, y in [(30, 20), (10, 20), (10, 4), (-10, 4), (-10, 20), (-30, 20)]
)


@pytest.mark.parametrize(("distance", "size"), [(-3.1, (43.8, 3.8)), (2.375, (54.75, 14.75)), (1e-3, (50.002, 10.002))])
def test_a_slots_offset_is_a_slot(
    regions_of: RegionsOf, kinds_of: KindsOf, distance: float, size: tuple[float, float]
) -> None:
    """Four segments, and its size right to 1e-9 mm."""
    (part,) = offset(regions_of(slot(50, 10)), distance)
    assert kinds_of(part.outer) == "ALAL"
    assert (part.bounds.width, part.bounds.height) == pytest.approx(size, abs=1e-9)
    radii = [s.radius for s in part.outer.segments if isinstance(s, Arc)]
    assert radii == pytest.approx([size[1] / 2] * 2, abs=1e-12)


def test_no_distance_changes_nothing(regions_of: RegionsOf) -> None:
    """Offset by 0 the very same regions come back, and nothing stays nothing."""
    regions = regions_of(slot(50, 10))
    assert grow(regions, 0) is regions
    assert shrink(regions, 0) is regions
    assert offset((), 5) == ()
    assert offset((), -5) == ()


def test_growing_rounds_outer_corners(regions_of: RegionsOf) -> None:
    """A 60 by 40 rectangle grown by 5: 70 by 50 with corners of exactly 5."""
    (part,) = grow(regions_of(rectangle(60, 40)), 5)
    assert part.bounds == pytest.approx((-35, -25, 35, 25), abs=1e-9)
    assert [s.radius for s in part.outer.segments if isinstance(s, Arc)] == [5] * 4
    assert part.area == pytest.approx(70 * 50 - (4 - math.pi) * 25, abs=1e-9)


def test_shrinking_keeps_outer_corners_sharp(regions_of: RegionsOf, kinds_of: KindsOf) -> None:
    """A 60 by 40 rectangle shrunk by 5 is 50 by 30 with square corners."""
    (part,) = shrink(regions_of(rectangle(60, 40)), 5)
    assert kinds_of(part.outer) == "LLLL"
    assert part.area == pytest.approx(1500, abs=1e-9)


def test_corners_smaller_than_the_distance_become_sharp(regions_of: RegionsOf, kinds_of: KindsOf) -> None:
    """Corners of 3 shrunk by 5 have no radius left; corners of 5 by exactly 5 neither; of 7 they have 2."""
    for radius in (3, 5):
        (part,) = shrink(regions_of(rectangle(60, 40, radius)), 5)
        assert kinds_of(part.outer) == "LLLL"
        assert part.area == pytest.approx(1500, abs=1e-9)
    (part,) = shrink(regions_of(rectangle(60, 40, 7)), 5)
    assert [s.radius for s in part.outer.segments if isinstance(s, Arc)] == pytest.approx([2] * 4, abs=1e-12)


def test_inner_corners_are_rounded_by_shrinking(regions_of: RegionsOf) -> None:
    """An L shrunk by 0.4 has one arc of radius 0.4 about its inner corner (1, 1)."""
    shape = Outline.polygon([(0, 0), (3, 0), (3, 1), (1, 1), (1, 4), (0, 4)])
    (part,) = shrink(regions_of(shape), 0.4)
    (arc,) = [s for s in part.outer.segments if isinstance(s, Arc)]
    assert (arc.center, arc.radius) == ((1, 1), 0.4)


def test_a_hole_shrinks_when_its_region_grows(regions_of: RegionsOf) -> None:
    """Grown by 2, a hole of radius 8 has 6; shrunk by 2, it has 10; it stays one clockwise circle."""
    regions = regions_of(rectangle(60, 40), round_hole(16).moved(10, 3))
    for distance, radius in ((2, 6), (-2, 10)):
        (part,) = offset(regions, distance)
        (hole,) = part.holes
        assert hole.as_circle is not None
        assert (hole.as_circle.center, hole.as_circle.turn) == ((10, 3), -1)
        assert hole.as_circle.radius == pytest.approx(radius, abs=1e-12)


def test_holes_of_different_kinds_stand_in_one_region(regions_of: RegionsOf) -> None:
    """A round hole and a slot are grown into alike."""
    regions = regions_of(rectangle(60, 40), round_hole(9).moved(-20, 0), slot(20, 8).moved(10, 0))
    (part,) = grow(regions, 1)
    assert [h.bounds.height for h in part.holes] == pytest.approx([7, 6], abs=1e-9)


@pytest.mark.parametrize("distance", [8, 9])
def test_an_overgrown_hole_vanishes(regions_of: RegionsOf, distance: float) -> None:
    """A hole of radius 8 is gone when its region has grown by 8 or more."""
    (part,) = grow(regions_of(rectangle(60, 40), round_hole(16)), distance)
    assert part.holes == ()


def test_a_narrow_neck_splits(regions_of: RegionsOf) -> None:
    """A dumbbell with a neck of 8 mm shrunk by 5 is two parts, in order from the left."""
    left, right = shrink(regions_of(DUMBBELL), 5)
    assert left.bounds == pytest.approx((-25, -15, -13, 15), abs=1e-9)  # -10 - sqrt(5² - 4²)
    assert right.bounds.left == pytest.approx(-left.bounds.right, abs=1e-9)
    assert left.area == pytest.approx(right.area, abs=1e-9)


def test_a_neck_as_wide_as_the_bit_is_passed(regions_of: RegionsOf) -> None:
    """Shrunk by exactly half its neck a dumbbell stays in one part, and grown again it is whole but for corners."""
    (part,) = shrink(regions_of(DUMBBELL), 4)
    (back,) = grow((part,), 4)
    assert back.bounds == pytest.approx((-30, -20, 30, 20), abs=1e-9)
    assert back.area == pytest.approx(1760 - 8 * (16 - 4 * math.pi), abs=1e-9)


def test_a_part_that_does_not_fit_vanishes(regions_of: RegionsOf) -> None:
    """A slot 10 wide shrunk by 5.005 leaves nothing."""
    assert shrink(regions_of(slot(50, 10)), 5.005) == ()


def test_parts_that_come_to_touch_become_one(regions_of: RegionsOf) -> None:
    """Two 10 mm squares 4 mm apart are two grown by 1.9, one grown by 2.1."""
    square = Outline.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    pair = regions_of(square) + regions_of(square.moved(14, 0))
    assert len(grow(pair, 1.9)) == 2
    (one,) = grow(pair, 2.1)
    assert one.bounds == pytest.approx((-2.1, -2.1, 26.1, 12.1), abs=1e-9)


def test_a_gap_that_closes_at_its_mouth_leaves_a_hole(regions_of: RegionsOf) -> None:
    """A bottle-shaped notch, its neck 4 mm wide, becomes a hole when the region grows by 2.5."""
    bottle = [(-2, 20), (-2, 14), (-8, 14), (-8, 2), (8, 2), (8, 14), (2, 14), (2, 20)]
    shape = Outline.polygon([(20, 20), *bottle[::-1], (-20, 20), (-20, -20), (20, -20)])
    (part,) = grow(regions_of(shape), 2.5)
    (hole,) = part.holes
    assert hole.area < 0
    assert (hole.bounds.width, hole.bounds.bottom) == pytest.approx((11, 4.5), abs=1e-9)


def test_a_slot_as_wide_as_the_bit_leaves_a_line(regions_of: RegionsOf, kinds_of: KindsOf) -> None:
    """Shrunk by half its width it is a line there and back, which grows to a slot of four segments again."""
    (line,) = shrink(regions_of(slot(50, 9.5)), 4.75)
    assert kinds_of(line.outer) == "LL"
    assert line.bounds == pytest.approx((-20.25, 0, 20.25, 0), abs=1e-9)
    (grown,) = grow((line,), 6.35)
    assert kinds_of(grown.outer) == "ALAL"
    assert (grown.bounds.width, grown.bounds.height) == pytest.approx((53.2, 12.7), abs=1e-9)


@pytest.mark.parametrize("missing", [0.0, 1e-6, 9e-6])
def test_a_slot_too_narrow_by_next_to_nothing_still_fits(regions_of: RegionsOf, missing: float) -> None:
    """Up to ten nanometres are rounding of somebody's inches, not shape."""
    (line,) = shrink(regions_of(slot(50, 9.5 - missing)), 4.75)
    (grown,) = grow((line,), 4.75)
    assert (grown.bounds.width, grown.bounds.height) == pytest.approx((50, 9.5), abs=2e-5)


def test_a_round_hole_of_the_bits_size_leaves_a_place(regions_of: RegionsOf) -> None:
    """A circle of radius 0 at its centre, which grows to a circle again."""
    (place,) = shrink(regions_of(round_hole(9.5).moved(3, 4)), 4.75)
    assert place.outer.as_circle is not None
    assert (place.outer.as_circle.center, place.outer.as_circle.radius) == ((3, 4), 0)
    (grown,) = grow((place,), 6.35)
    assert grown.outer.as_circle is not None
    assert (grown.outer.as_circle.center, grown.outer.as_circle.radius) == ((3, 4), 6.35)


@pytest.mark.parametrize("turn", [0, 15])
def test_a_square_of_the_bits_size_leaves_a_place(regions_of: RegionsOf, turn: float) -> None:
    """A bit that only just goes into a square stands in one place: a circle of radius 0."""
    (place,) = shrink(regions_of(rectangle(10, 10).rotated(turn)), 5)
    assert place.outer.as_circle is not None
    assert place.outer.as_circle.center == pytest.approx((0, 0), abs=1e-9)
    assert place.outer.as_circle.radius == 0


def test_too_small_by_a_hundredth_does_not_fit(regions_of: RegionsOf) -> None:
    """A hole of 9.49 mm is none for a 9.5 mm bit, a slot of 9.49 mm neither."""
    assert shrink(regions_of(round_hole(9.49)), 4.75) == ()
    assert shrink(regions_of(slot(50, 9.49)), 4.75) == ()


def test_a_hair_of_room_is_not_lost(regions_of: RegionsOf) -> None:
    """A 9.525 mm hole shrunk by 4.75 keeps a radius of 0.0125 mm, where shapely's buffer loses it."""
    (part,) = shrink(regions_of(round_hole(9.525)), 4.75)
    assert part.outer.as_circle is not None
    assert part.outer.as_circle.radius == pytest.approx(0.0125, abs=1e-12)


def test_a_notch_as_round_as_the_distance_closes_to_a_corner(regions_of: RegionsOf) -> None:
    """A half-round notch of radius 5 grown over by 5 leaves a re-entrant point at its centre, no gap and no speck."""
    half = [BulgeVertex(5, 20, -1), BulgeVertex(-5, 20, 0), BulgeVertex(-30, 20, 0)]
    shape = Outline.from_bulges([BulgeVertex(-30, -20, 0), BulgeVertex(30, -20, 0), BulgeVertex(30, 20, 0), *half])
    (part,) = grow(regions_of(shape), 5)
    assert part.holes == ()
    assert any(math.dist(s.start, (0, 20)) < 1e-6 for s in part.outer.segments)
    cusp = 50 - 12.5 * math.pi
    assert part.area == pytest.approx(3500 - (4 - math.pi) * 25 - cusp, abs=1e-9)


def test_a_circle_shrunk_beyond_its_centre_vanishes(regions_of: RegionsOf) -> None:
    """It does not come back inside out on the other side."""
    assert shrink(regions_of(round_hole(10)), 7) == ()


def test_far_from_the_origin_nothing_changes(regions_of: RegionsOf, kinds_of: KindsOf) -> None:
    """At (1000, 1000) a slot as wide as the bit still fits, and sizes are right to 1e-9 mm."""
    (line,) = shrink(regions_of(slot(50, 9.5).moved(1000, 1000)), 4.75)
    assert kinds_of(line.outer) == "LL"
    (grown,) = grow(regions_of(slot(50, 9.5).rotated(17).moved(1000, -1000)), 4.75)
    assert kinds_of(grown.outer) == "ALAL"
    assert grown.area == pytest.approx(40.5 * 19 + math.pi * 9.5**2, abs=1e-9)


def test_a_line_without_length_is_passed_over(regions_of: RegionsOf) -> None:
    """A vertex given twice, as imported outlines have it, makes no difference."""
    twice = Outline.polygon([(0, 0), (10, 0), (10, 0), (10, 10), (0, 10)])
    assert total_area(grow(regions_of(twice), 2)) == pytest.approx(180 + 4 * math.pi, abs=1e-9)


def test_the_same_outline_gives_the_same_segments(regions_of: RegionsOf) -> None:
    """Twice the same, to the last bit, so that files can be."""
    regions = regions_of(DUMBBELL, round_hole(8).moved(-20, 0))
    assert offset(regions, -2.5) == offset(regions, -2.5)


def test_a_degenerate_line_grows_round_its_ends() -> None:
    """A line there and back, however it lies, grows to a slot of its length and twice the distance."""
    a, b = Point(1, 2), Point(13, 7)
    (part,) = grow((Region(Outline((Line(a, b), Line(b, a)))),), 3)
    assert part.area == pytest.approx(13 * 6 + 9 * math.pi, abs=1e-9)
