"""Offsets of boundaries of very many segments: exact, and looked at once more before they are believed."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
import shapely

from jigtemplates.geometry import long_offset, offset
from jigtemplates.geometry.chain import Run
from jigtemplates.geometry.curves import Circle
from jigtemplates.geometry.long import long_outline, table_of
from jigtemplates.geometry.many_curves import Curves
from jigtemplates.geometry.measure import deviation, total_area
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.geometry.rebuild import ApartError, PuzzledError, Runs, chain_of
from jigtemplates.geometry.rims import Pieces, Reach, Rim, rim_of
from jigtemplates.geometry.shapes import round_hole
from jigtemplates.geometry.table import Array, Table

PolygonOf = Callable[..., Any]


def wavy(count: int, noise: float, *, seed: int = 7) -> Regions:
    """A ring of nine waves, radius 118 to 142 mm, each point up to noise (mm) further in or out."""
    angles = np.arange(count) * 2 * math.pi / count
    radii = 130 + 12 * np.sin(9 * angles) + noise * np.random.default_rng(seed).uniform(-1, 1, count)
    return (Region(long_outline(Table.polygon(radii[:, None] * np.column_stack([np.cos(angles), np.sin(angles)])))),)


def places_of(regions: Regions) -> Array:
    """Corner and middle of every segment."""
    tables = [table_of(ring) for region in regions for ring in region.rings]
    return np.concatenate([places for table in tables for places in (table.starts, table.middles)])


def apart(places: Array, regions: Regions) -> Array:
    """Distance of places from the boundary of an area of straights, as shapely measures it."""
    lines = shapely.union_all([shapely.LinearRing(table_of(ring).starts) for r in regions for ring in r.rings])
    found: Array = shapely.distance(shapely.points(places), lines)
    return found


@pytest.mark.parametrize("noise", [0.0, 0.001, 0.02, 0.2, 1.0])
@pytest.mark.parametrize(("move", "distance"), [(shrink, 3.0), (grow, 8.0)])
def test_every_place_of_the_offset_is_as_far_away_as_it_should(
    move: Callable[[Regions, float], Regions], distance: float, noise: float
) -> None:
    """Corners and middles of the answer, smooth or rough, are that far from the contour to a millionth of a mm."""
    contour = wavy(3000, noise)
    answer = move(contour, distance)
    assert apart(places_of(answer), contour) == pytest.approx(distance, abs=1e-6)


@pytest.mark.parametrize("noise", [0.0, 0.02, 0.5])
def test_it_is_the_area_that_shapely_finds(noise: float, polygon_of: PolygonOf) -> None:
    """A buffer of 32 chords a quarter, which may be 1 % of the distance off, differs by no more than that anywhere."""
    contour = wavy(1500, noise)
    (region,) = contour
    body = shapely.Polygon(table_of(region.outer).starts)
    for distance in (8.0, -3.0):
        answer = polygon_of(offset.offset(contour, distance), 1e-3)
        peer = body.buffer(distance, quad_segs=32)
        assert shapely.hausdorff_distance(answer.boundary, peer.boundary) < 0.012 * abs(distance)
        assert answer.area == pytest.approx(peer.area, rel=1e-4)


def test_grown_and_shrunk_again_a_smooth_contour_is_what_it_was() -> None:
    """No wave is tighter than 16 mm, so that nothing is lost; to a tenth of a micrometre."""
    contour = wavy(5000, 0.0)
    assert deviation(shrink(grow(contour, 3.0), 3.0), contour) < 1e-4
    assert deviation(grow(shrink(contour, 3.0), 3.0), contour) < 1e-4


def comb(teeth: int, gap: float) -> Outline:
    """A back of 20 mm with teeth of 2 mm, 10 long, so far apart."""
    end = teeth * (2 + gap) - gap
    points = [(0.0, 0.0), (end, 0.0)]
    for tooth in reversed(range(teeth)):
        left = tooth * (2 + gap)
        points += [(left + 2, 20.0), (left + 2, 30.0), (left, 30.0), (left, 20.0)]
    return Outline.polygon(dict.fromkeys(p for p in points if p not in ((end, 20.0), (0.0, 20.0))))


def holed(count: int, radius: float) -> Regions:
    """A wavy ring with a round hole in it."""
    ((outer),) = wavy(count, 0.01)
    return (Region(outer.outer, (round_hole(2 * radius).reversed(),)),)


@pytest.mark.parametrize("distance", [3.0, -3.0, 6.0, -6.0])
def test_holes_and_teeth_are_offset_alike(distance: float, polygon_of: PolygonOf) -> None:
    """A hole that lasts and one that is overgrown; teeth that vanish and gaps that close: as shapely has them."""
    many = (*(Region(comb(80, 3.0).moved(-200.0, 300.0)),), *holed(900, 5.0))
    body = polygon_of(many, 1e-4)
    answer = offset.offset(many, distance)
    peer = body.buffer(distance, quad_segs=256)
    assert len(answer) == len(shapely.get_parts(peer))
    assert total_area(answer) == pytest.approx(peer.area, rel=2e-4)
    holes = sum(len(region.holes) for region in answer)
    assert holes == sum(len(part.interiors) for part in shapely.get_parts(peer))


def test_two_contours_grow_into_one() -> None:
    """4 mm apart, grown by 3: one part, whose area is less than both together."""
    (one,) = wavy(1000, 0.0)
    gap = one.bounds.width + 4.0
    both = grow((one, Region(one.outer.moved(gap, 0))), 3.0)
    assert len(both) == 1
    assert both[0].area < 2 * grow((one,), 3.0)[0].area


def losing(found: tuple[Rim, Pieces] | None, first: int, last: int) -> tuple[Rim, Pieces]:
    assert found is not None
    rim, pieces = found
    kept = np.r_[0:first, last : len(rim.places)]
    labels = rim.pieces[kept]
    labels[first - 1] = -1
    return Rim(rim.places[kept], labels), pieces


def test_a_far_edge_that_was_lost_is_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Should part of the line be left out by mistake, the answer is refused and found the patient way."""
    contour, true = wavy(600, 0.0), grow(wavy(600, 0.0), 2.0)
    monkeypatch.setattr(
        "jigtemplates.geometry.long_offset.rim_of", lambda table, reach: losing(rim_of(table, reach), 100, 140)
    )
    with pytest.raises(PuzzledError, match="no far edge"):
        quickly(contour, 2.0)
    assert deviation(grow(contour, 2.0), true) < 1e-9


def quickly(regions: Regions, distance: float, *, is_real: bool = True, finest: bool = True) -> Regions:
    """Grown all at once, or not at all."""
    limits = long_offset.Limits(2e-3, 5e-7, finest)
    return long_offset.long_offset(regions, Reach(distance, 1, 5e-6, 1e-3), lambda _: is_real, limits)


def test_an_answer_that_is_too_near_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Swept by less than was asked for, the answer's edges are nearer to the boundary than they may be."""
    monkeypatch.setattr(
        "jigtemplates.geometry.long_offset.rim_of", lambda table, reach: rim_of(table, Reach(1.9, 1, 5e-6, 1e-3))
    )
    with pytest.raises(PuzzledError, match="too near"):
        quickly(wavy(600, 0.0), 2.0)


def test_what_was_left_out_is_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Should shapely lose a part of the area, its far edges are as far away as any, and missing."""
    (one,) = wavy(600, 0.0)
    two = (one, Region(one.outer.moved(400, 0)))
    assert len(quickly(two, 2.0)) == 2
    buffer = shapely.buffer
    monkeypatch.setattr(shapely, "buffer", lambda body, _: shapely.get_parts(buffer(body, 0))[0])
    with pytest.raises(PuzzledError, match="left out"):
        quickly(two, 2.0)


def test_what_shapely_cannot_node_is_left_to_the_patient_way(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its error becomes ours, and the answer is found in spite of it."""

    def fail(*_: object) -> None:
        raise shapely.errors.GEOSException("no")

    contour, true = wavy(600, 0.0), grow(wavy(600, 0.0), 2.0)
    monkeypatch.setattr(shapely, "buffer", fail)
    with pytest.raises(PuzzledError, match="cannot node"):
        quickly(contour, 2.0)
    assert deviation(grow(contour, 2.0), true) < 1e-9


def test_a_ring_that_vanishes_is_left_to_the_patient_way() -> None:
    """A hole overgrown, a part that does not fit: nothing is left of the line, or it is inside out."""
    with pytest.raises(PuzzledError, match=r"nothing is left|inside out"):
        quickly(holed(900, 1.0), 2.0)
    assert grow(holed(900, 1.0), 2.0)[0].holes == ()
    thin = Region(Outline.polygon([*((x, 0.0) for x in range(300)), *((x, 3.0) for x in reversed(range(300)))]))
    assert shrink((thin,), 2.0) == ()


def test_curves_that_do_not_meet_are_looked_at_on_finer_chords(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two circles whose chords cross and which themselves do not; grow then tries again, more finely."""
    columns = [np.array([True] * 3), np.array([(0.0, 0.0), (9.0, 0.0), (4.5, 9.0)]), np.zeros((3, 2)), np.full(3, 4.0)]
    runs = Runs(Curves(*columns), np.zeros((3, 2)), np.zeros((3, 2)), np.ones(3))
    with pytest.raises(ApartError, match="do not meet"):
        chain_of(runs, True)
    tried: list[float] = []
    quick = long_offset.long_offset

    def once(regions: Regions, reach: Reach, *rest: Any) -> Regions:
        tried.append(reach.chord)
        if len(tried) == 1:
            raise ApartError("two edges do not meet")
        return quick(regions, reach, *rest)

    monkeypatch.setattr(long_offset, "long_offset", once)
    assert len(grow(wavy(600, 0.0), 2.0)) == 1
    assert tried == pytest.approx([1e-3, 1e-3 / 16])


def test_a_chain_of_one_or_two_runs_is_closed_as_ever() -> None:
    """One circle all round is a circle; one by one the runs are those of the patient way."""
    one = Curves(np.array([True]), np.array([(1.0, 2.0)]), np.zeros((1, 2)), np.array([4.0]))
    runs = Runs(one, np.array([(5.0, 2.0)]), np.array([(-3.0, 2.0)]), np.ones(1))
    outline = chain_of(runs, True)
    assert outline is not None
    assert outline.as_circle == Outline.circle(Point(1, 2), 4).as_circle
    assert runs.objects() == [Run(Circle(Point(1, 2), 4), Point(5, 2), Point(-3, 2), 1)]


def test_a_contour_of_crumbs_keeps_none_of_them() -> None:
    """No segment of an offset is shorter than 1e-4 mm but those that cannot be closed over."""
    answer = grow(shrink(wavy(20_000, 0.005), 3.0), 8.0)
    lengths = np.concatenate([table_of(ring).lengths for region in answer for ring in region.rings])
    assert (lengths < 1e-4).sum() <= 2
