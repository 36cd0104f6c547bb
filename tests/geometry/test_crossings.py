"""Edges that cross by less than their chords show."""

import math
from collections.abc import Callable

import pytest

from jigtemplates.geometry.crossings import has_hidden_crossing, has_lost_edge
from jigtemplates.geometry.outline import Arc, BulgeVertex, Outline, Point, Regions
from jigtemplates.geometry.shapes import rectangle, slot

RegionsOf = Callable[..., Regions]


@pytest.mark.parametrize(
    ("overlap", "hidden"), [(1e-3, True), (1e-4, True), (1e-6, False), (-1e-4, False), (0.1, False)]
)
@pytest.mark.parametrize("other", [12, 3])
def test_circles_beside_each_other(regions_of: RegionsOf, overlap: float, hidden: bool, other: float) -> None:
    """Deeper than the slack and less deep than four chords, whichever of the two is larger."""
    pair = regions_of(Outline.circle(Point(0, 0), 5))
    pair += regions_of(Outline.circle(Point(0, 5 + other - overlap), other))
    for regions in (pair, pair[::-1]):
        assert has_hidden_crossing(regions, 1e-3, 1.5e-5) is hidden


@pytest.mark.parametrize(("overlap", "hidden"), [(1e-3, True), (-1e-3, False), (0.1, False)])
def test_a_circle_within_a_larger_one(regions_of: RegionsOf, overlap: float, hidden: bool) -> None:
    """A hole that pokes through its outer ring by next to nothing."""
    outer, hole = Outline.circle(Point(0, 0), 20), Outline.circle(Point(15 + overlap, 0), 5)
    assert has_hidden_crossing(regions_of(outer, hole), 1e-3, 1.5e-5) is hidden


@pytest.mark.parametrize(("overlap", "hidden"), [(1e-3, True), (-1e-3, False), (0.1, False)])
def test_a_circle_and_a_straight_side(regions_of: RegionsOf, overlap: float, hidden: bool) -> None:
    """A round hole at the side of a plate, and one that only the side's endless line would meet."""
    plate = rectangle(60, 40)
    hole = Outline.circle(Point(4, 15 + overlap), 5)
    assert has_hidden_crossing(regions_of(plate, hole), 1e-3, 1.5e-5) is hidden
    beside = regions_of(plate) + regions_of(Outline.circle(Point(34, 15 + overlap), 5))
    assert not has_hidden_crossing(beside, 1e-3, 1.5e-5)


def test_neither_straight_edges_nor_smooth_joints_hide_anything(regions_of: RegionsOf) -> None:
    """A square, concentric circles, a fillet: their edges touch or keep their distance."""
    fillet = Outline.from_bulges([BulgeVertex(0, 0, 0), BulgeVertex(9, 0, 0.4), BulgeVertex(9, 9, 0)])
    concentric = regions_of(Outline.circle(Point(0, 0), 5), Outline.circle(Point(0, 0), 4.9995))
    for regions in (regions_of(rectangle(9, 9)), concentric, regions_of(rectangle(9, 9, 2)), regions_of(fillet)):
        assert not has_hidden_crossing(regions, 1e-3, 1.5e-5)


def test_two_arcs_of_one_circle_in_a_row_tell_of_a_lost_edge(regions_of: RegionsOf) -> None:
    """A slot whose round end is in two pieces; not so a circle, a slot, or arcs about one middle that turn back."""
    halves = slot(30, 10)
    divided = Outline(tuple(piece for s in halves.segments for piece in (s.split(2) if isinstance(s, Arc) else (s,))))
    assert has_lost_edge(regions_of(divided))
    assert not has_lost_edge(regions_of(halves, Outline.circle(Point(0, 0), 3)))
    (arc,) = Outline.circle(Point(0, 0), 5).segments
    quarter = Arc(Point(5, 0), Point(0, 5), Point(0, 0), 5, 1)
    assert not has_lost_edge(regions_of(Outline((quarter, quarter.reversed())), Outline((arc,))))


def test_a_lost_edge_is_seen_among_very_many(regions_of: RegionsOf) -> None:
    """Of 600 scallops on a circle one is in two pieces."""
    places = [(100 * math.cos(w), 100 * math.sin(w)) for w in (math.tau * i / 600 for i in range(600))]
    whole = Outline.from_bulges(BulgeVertex(x, y, 0.5) for x, y in places)
    first, *others = whole.segments
    assert isinstance(first, Arc)
    assert not has_lost_edge(regions_of(whole))
    assert has_lost_edge(regions_of(Outline((*first.split(2), *others))))
