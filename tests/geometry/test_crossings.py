"""Edges that cross by less than their chords show."""

from collections.abc import Callable

import pytest

from jigtemplates.geometry.crossings import has_hidden_crossing
from jigtemplates.geometry.outline import BulgeVertex, Outline, Point, Regions
from jigtemplates.geometry.shapes import rectangle

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
