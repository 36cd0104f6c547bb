"""Areas with very many corners are drawn with fewer, on the chosen side and within half the tolerance."""

import math
from itertools import pairwise

import pytest
import shapely

from jigtemplates.geometry.facets import Side
from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Region
from jigtemplates.geometry.thin import MANY, thinned

P = Point


def wavy(count: int, radius: float, ccw: bool = True) -> Outline:
    """A wavy ring of that many corners about (0, 0)."""
    turns = (2 * math.pi * i / count for i in range(count))
    far = ((radius + 3 * math.sin(9 * a), a) for a in turns)
    return Outline.polygon([(r * math.cos(a), r * math.sin(a)) for r, a in far]).turned(ccw)


def shape(region: Region) -> shapely.Polygon:
    """The region for shapely, its arcs on fine chords."""
    return shapely.Polygon(region.outer.flattened(1e-5), [hole.flattened(1e-5) for hole in region.holes])


def test_few_corners_stay() -> None:
    """Up to 4,000 segments the area comes back as it is."""
    area = (Region(wavy(MANY, 100)),)
    assert thinned(area, 0.01, "around") is area


@pytest.mark.parametrize("side", ["around", "within"])
def test_many_become_few(side: Side) -> None:
    """9,000 corners with a hole become a fraction, on the right side, at most 0.005 of 0.01 mm off (shapely)."""
    area = (Region(wavy(6000, 100), (wavy(3000, 60, ccw=False),)),)
    (thin,) = thinned(area, 0.01, side)
    assert sum(isinstance(s, Line) for ring in thin.rings for s in ring.segments) < 2500
    true, got = shape(area[0]), shape(thin)
    lost, gained = true.difference(got).area, got.difference(true).area
    assert (lost if side == "around" else gained) < 1e-3
    assert (gained if side == "around" else lost) > 0.1
    assert shapely.hausdorff_distance(true.boundary, got.boundary) < 0.005 + 1e-4


def test_arcs_among_many_lines() -> None:
    """An arc on the rim is drawn by chords of its own side and stays within the tolerance."""
    half = [P(10 * math.cos(a), 10 * math.sin(a)) for a in (math.pi + math.pi * i / 5000 for i in range(5001))]
    half[0], half[-1] = P(-10, 0), P(10, 0)
    lines = [Line(a, b) for a, b in pairwise(half)]
    outline = Outline((*lines, Arc(P(10, 0), P(-10, 0), P(0, 0), 10, 1)))
    (thin,) = thinned((Region(outline),), 0.05, "around")
    assert math.pi * 100 < thin.area < math.pi * 100 + 0.025 * 20 * math.pi
