"""Exact offsets of random outlines against two other engines, within what their chords allow.

One is a union of two-point capsules made by shapely (its buffer of a whole outline simplifies that
outline by up to 1 % of the distance first and is no reference), the other Clipper through pyclipr.
"""

import random
from collections.abc import Callable

import numpy as np
import pyclipr
import pytest
import shapely

from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Outline, Region, Regions

RandomRegions = Callable[[int], Regions | None]
PolygonOf = Callable[..., "shapely.Geometry"]

#: Chord tolerance of the outlines that the other engines are given, mm.
CHORD = 1e-3

#: Chords in a quarter of a capsule's end; they are short of the distance by 1 - cos(pi / 240) of it.
QUARTER = 60
SHORT = 8.6e-5


def capsules(regions: Regions, distance: float, polygon_of: PolygonOf) -> "shapely.Geometry":
    """The regions with capsules about every chord of their boundary united or taken away."""
    edges = []
    for outline in (ring for region in regions for ring in region.rings):
        points = np.array(outline.flattened(CHORD))
        edges.append(np.stack([points, np.roll(points, -1, axis=0)], axis=1))
    swept = shapely.union_all(
        shapely.buffer(shapely.linestrings(np.concatenate(edges)), abs(distance), quad_segs=QUARTER)
    )
    body = polygon_of(regions, CHORD)
    return shapely.union(body, swept) if distance > 0 else shapely.difference(body, swept)


def clipper(regions: Regions, distance: float) -> "shapely.Geometry":
    """The same by Clipper: coordinates in nanometres, arcs to a tenth of a micrometre."""
    engine = pyclipr.ClipperOffset()
    engine.scaleFactor = 1_000_000
    engine.arcTolerance = 100.0
    paths = [np.array(ring.flattened(CHORD)) for region in regions for ring in region.rings]
    engine.addPaths(paths, pyclipr.JoinType.Round, pyclipr.EndType.Polygon)
    loops = [np.array(p)[:, :2] for p in engine.execute(distance) if len(p) > 2]
    area = shapely.Polygon()
    for loop in loops:  # holes run the other way than outer rings and lie within one: odd counts are inside
        area = shapely.symmetric_difference(area, shapely.make_valid(shapely.Polygon(loop)))
    return area


def count(area: "shapely.Geometry") -> int:
    """Its separate parts."""
    return sum(p.geom_type == "Polygon" and not p.is_empty for p in shapely.get_parts(area))


def compare(regions: Regions, distance: float, polygon_of: PolygonOf) -> None:
    """Holds our offset against both references."""
    ours = offset(regions, distance)
    area = polygon_of(ours)
    assert all(s.length >= 1e-4 for part in ours for ring in part.rings for s in ring.segments)
    tolerance = SHORT * abs(distance) + 2 * CHORD
    for name, other in (("capsules", capsules(regions, distance, polygon_of)), ("clipper", clipper(regions, distance))):
        film = shapely.symmetric_difference(area, other, grid_size=1e-7)  # equal edges upset it without a grid
        assert shapely.buffer(film, -tolerance).is_empty, name
        near = [count(shapely.buffer(other, d)) for d in (-tolerance, 0, tolerance)]
        assert min(near) <= len(ours) <= max(near), name


def campaign(seeds: range, random_regions: RandomRegions, polygon_of: PolygonOf) -> int:
    """Compares both offsets of every random outline; says how many there were."""
    done = 0
    for seed in seeds:
        regions = random_regions(seed)
        if regions is None:
            continue
        draw = random.Random(-seed)
        for distance in (draw.uniform(0.05, 12), -draw.uniform(0.05, 8)):
            try:
                compare(regions, distance, polygon_of)
            except Exception as fault:
                raise AssertionError(f"seed {seed}, distance {distance}: {fault}") from fault
            done += 1
    return done


def test_random_outlines_agree_with_other_engines(random_regions: RandomRegions, polygon_of: PolygonOf) -> None:
    """Nowhere further apart than the references' chords, as many parts, valid, no segment under 1e-4 mm."""
    assert campaign(range(330), random_regions, polygon_of) > 140


@pytest.mark.slow
@pytest.mark.parametrize("start", range(1000, 13_000, 1000))
def test_thousands_of_random_outlines_agree(start: int, random_regions: RandomRegions, polygon_of: PolygonOf) -> None:
    """The same for as many outlines as there is time for."""
    assert campaign(range(start, start + 1000), random_regions, polygon_of) > 400


def test_the_comparison_can_fail(polygon_of: PolygonOf) -> None:
    """An outline 0.01 mm off is told from the right one, and so is a missing part."""
    square = Outline.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    one = (Region(square),)
    reference = capsules(one, 2, polygon_of)
    off = polygon_of(offset(one, 2.01))
    assert not shapely.buffer(shapely.symmetric_difference(off, reference), -SHORT * 2 - 2 * CHORD).is_empty
    assert count(clipper((*one, Region(square.moved(30, 0))), 2)) == 2
