"""An edge that shows by less than chords are off is not lost at the corner it cuts off."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from jigtemplates.geometry import offset
from jigtemplates.geometry.curves import Straight
from jigtemplates.geometry.exact import Piece
from jigtemplates.geometry.long import boundary_of
from jigtemplates.geometry.many_places import are_too_near
from jigtemplates.geometry.nearness import comes_too_near
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Arc, BulgeVertex, Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle

RegionsOf = Callable[..., Regions]

#: Middles and radii of three pins. Circles 2 mm further out meet in (0, 2) but for the second one, 0.3 µm further up.
PINS = (
    (-0.738800516653, -0.388341222814, 0.5),
    (0.0, -0.0097, 0.01),
    (0.679696475321, -0.197273924989, 0.3),
)


def pins(degrees: float, *, arcs: int = 1) -> tuple[Outline, ...]:
    """The three, turned about the origin, each in so many arcs."""
    circles = [Outline.circle(Point(x, y), radius).rotated(degrees).as_circle for x, y, radius in PINS]
    return tuple(Outline(circle.split(arcs)) if arcs > 1 else Outline((circle,)) for circle in circles if circle)


def wheel(sides: int) -> Outline:
    """A polygon 40 mm to the right."""
    return Outline.polygon([(40 + 9 * math.cos(way), 9 * math.sin(way)) for way in circle_of(sides)])


def circle_of(count: int) -> list[float]:
    """So many directions all round, radians."""
    return [math.tau * i / count for i in range(count)]


def seen_of_the_second(grown: Outline, degrees: float) -> list[float]:
    """Length of each arc of the outline about the second pin's middle."""
    x, y = (0.0097 * math.sin(math.radians(degrees)), -0.0097 * math.cos(math.radians(degrees)))
    return [s.length for s in grown.segments if isinstance(s, Arc) and math.dist(s.center, (x, y)) < 1e-9]


@pytest.mark.parametrize("degrees", [6, 9, 62, 65, 76, 79, 82])
def test_a_circle_that_shows_by_less_than_a_micrometre_is_not_lost(regions_of: RegionsOf, degrees: float) -> None:
    """Three pins grown by 2 mm: 2 µm of the second one's circle are between the others', though chords hide them."""
    grown = grow(sum(map(regions_of, pins(degrees)), ()), 2.0)
    assert len(grown) == 1
    assert len(grown[0].outer.segments) == 3
    # 0.3 µm beyond where both neighbours meet, each at 0.3 radians to it: 2 * 0.0003 / tan(0.3) wide
    assert seen_of_the_second(grown[0].outer, degrees) == pytest.approx([0.00194], abs=2e-5)


@pytest.mark.parametrize("degrees", [6, 9, 62, 65, 76, 79, 82])
def test_nor_is_it_where_very_many_segments_are_swept_at_once(regions_of: RegionsOf, degrees: float) -> None:
    """The same beside a polygon of 240 sides, each pin in three arcs."""
    many = sum(map(regions_of, (*pins(degrees, arcs=3), wheel(240))), ())
    pinned, _ = sorted(grow(many, 2.0), key=lambda region: region.bounds.left)
    assert seen_of_the_second(pinned.outer, degrees) == pytest.approx([0.00194], abs=2e-5)


@pytest.mark.parametrize("degrees", [5, 8, 11, 15, 18, 25])
@pytest.mark.parametrize("sides", [3, 240])
def test_nor_is_it_in_the_notch_of_one_outline(regions_of: RegionsOf, degrees: float, sides: int) -> None:
    """Two round humps of a block, whose far edges follow one another, and in the notch the second pin; few and many."""
    ring = [(0.6437077047, -4, 0), (0.6437077047, -0.2741734793, 0.8945964174)]
    ring += [(0.0510902195, -0.2080296406, 0.7545350525), (-0.8735953312, -0.4719276948, 0), (-0.8735953312, -4, 0)]
    block = Outline.from_bulges(BulgeVertex(*v) for v in ring).rotated(degrees)
    _, pin, _ = pins(degrees, arcs=3)
    grown = grow(sum(map(regions_of, (block, pin, wheel(sides))), ()), 2.0)
    left, _ = sorted(grown, key=lambda region: region.bounds.left)
    # the humps' circles meet at 0.15 radians to the pin's: 2 * 0.0003 / tan(0.15) wide
    assert seen_of_the_second(left.outer, degrees) == pytest.approx([0.00397], abs=2e-5)


@pytest.mark.parametrize("degrees", [6, 9, 62, 65, 76, 79, 82])
def test_nor_round_holes_that_are_grown_by_shrinking_the_plate(degrees: float) -> None:
    """The pins as holes of a plate of 20 mm."""
    plate = (Region(rectangle(20, 20), tuple(pin.reversed() for pin in pins(degrees))),)
    (left,) = shrink(plate, 2.0)
    (hole,) = left.holes
    assert seen_of_the_second(hole, degrees) == pytest.approx([0.00194], abs=2e-5)


def spot(by: float) -> tuple[Regions, Regions]:
    """A square of 10 mm and, so far (mm) nearer than 2 to its upper right corner, something small."""
    far = 12 - by
    small = Outline.polygon([(far, 10), (far + 1, 9.5), (far + 1, 10.5)])
    return (Region(Outline.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])),), (Region(small),)


@pytest.mark.parametrize(("by", "is_near"), [(0.0, False), (9e-5, True), (-1e-5, False), (1e-5, False), (2e-4, True)])
def test_a_corner_or_a_place_beside_it_that_is_too_near_is_seen(by: float, is_near: bool) -> None:
    """By more than the slack 1e-4 mm from the corner on, along its sides, which go straight away to one side only."""
    result, source = spot(by)
    assert comes_too_near(result, source, 2.0, 1.5e-5, (), 4e-3) is is_near
    table = boundary_of(result)
    assert are_too_near(table, table, boundary_of(source), 2.0, 1.5e-5) is is_near


@pytest.mark.parametrize(("by", "is_near"), [(9e-5, False), (1.1e-4, True)])
def test_a_corner_alone_may_be_nearer_by_what_is_too_short_to_be_kept(by: float, is_near: bool) -> None:
    """A corner towards the place: its sides are 8e-5 mm further away 1e-4 mm on, within the slack given."""
    result, source = spot(0.0)
    needle = Outline.from_bulges([BulgeVertex(10 + by, 10, 0), BulgeVertex(0, 17, 0), BulgeVertex(0, 3, 0)])
    assert comes_too_near((Region(needle),), source, 2.0, 6e-5, (), 4e-3) is is_near
    table = boundary_of((Region(needle),))
    assert are_too_near(table, table, boundary_of(source), 2.0, 6e-5) is is_near
    assert not comes_too_near((), source, 2.0, 6e-5, (), 4e-3)
    assert not comes_too_near(result, source, 2.0, 6e-5, (), 4e-3)


def test_the_finest_chords_are_believed(monkeypatch: pytest.MonkeyPatch, regions_of: RegionsOf) -> None:
    """Where the answer seems too near however fine the chords are, it is given once they are the finest."""
    tried = []

    def always(*_: object) -> bool:
        tried.append(1)
        return True

    monkeypatch.setattr(offset, "comes_too_near", always)
    assert len(grow(regions_of(rectangle(9, 9)), 2.0)) == 1
    assert len(tried) == 3


def test_of_very_many_corners_those_are_measured_that_three_edges_come_near() -> None:
    """Of 600 corners 2 mm round another ring one is too near: seen if three chords are 4 µm from it, not if two are."""
    places = [(math.cos(way), math.sin(way)) for way in circle_of(600)]
    source = (Region(Outline.polygon([(10 * x, 10 * y) for x, y in places])),)
    around = [(12.1 * x, 12.1 * y) for x, y in places]
    x, y = around[77] = (11.999 * places[77][0], 11.999 * places[77][1])
    result = (Region(Outline.polygon(around)),)
    chords = [np.array([(x - 1, y + far), (x + 1, y + far)]) for far in (0.0, -3.9e-3, 3.9e-3, 4.1e-3)]
    one, two, three, further = (Piece(Straight(Point(*chord[0]), Point(1, 0)), chord) for chord in chords)
    assert comes_too_near(result, source, 2.0, 1.5e-5, (one, two, three), 4e-3)
    assert not comes_too_near(result, source, 2.0, 1.5e-5, (one, two, further), 4e-3)


def test_the_segment_before_a_rings_first_corner_is_its_last() -> None:
    """A plate of 4 mm by 4 mm with a hole of 100 sides; what is too near is beside the end of the plate's last side."""
    hole = Outline.polygon([(math.cos(way), math.sin(way)) for way in circle_of(100)]).turned(False)
    plate = (Region(Outline.polygon([(-2, -2), (2, -2), (2, 2), (-2, 2)]), (hole,)),)
    # within 1e-4 mm of the corner itself, but 3e-5 mm nearer to the place 1e-4 mm up the last side
    spike = Outline.polygon([(-4, -1.9999 - 1e-7), *((-9 - i, 3 + i % 2) for i in range(100)), (-4 + 3e-5, -1.9999)])
    chords = [np.array([(-3.0, -2 + far), (3.0, -2 + far)]) for far in (0.0, 1e-3, -1e-3)]
    pieces = [Piece(Straight(Point(*chord[0]), Point(1, 0)), chord) for chord in chords]
    assert comes_too_near(plate, (Region(spike),), 2.0, 1.5e-5, pieces, 4e-3)
