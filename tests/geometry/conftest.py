"""Short ways to write regions down, and to look at them with shapely and Clipper."""

import math
import random
from collections.abc import Callable

import numpy as np
import pytest
import shapely

from jigtemplates.geometry.outline import Arc, BulgeVertex, Outline, Region, Regions
from jigtemplates.geometry.shapes import rectangle, round_hole, slot


@pytest.fixture(scope="session")
def regions_of() -> Callable[..., Regions]:
    """One region: an outer outline and its holes, each turned the way it must run."""
    return lambda outer, *holes: (Region(outer.turned(True), tuple(h.turned(False) for h in holes)),)


@pytest.fixture(scope="session")
def kinds_of() -> Callable[[Outline], str]:
    """The kinds of an outline's segments in a word, L for a line and A for an arc, least turn of it first."""

    def word(outline: Outline) -> str:
        kinds = "".join("A" if isinstance(s, Arc) else "L" for s in outline.segments)
        return min(kinds[i:] + kinds[:i] for i in range(len(kinds)))

    return word


@pytest.fixture(scope="session")
def polygon_of() -> Callable[..., "shapely.Geometry"]:
    """Regions as one shapely area on chords of a given tolerance; fails where a part is not valid."""

    def area(regions: Regions, tolerance: float = 1e-4) -> "shapely.Geometry":
        parts = [
            shapely.polygons(
                np.array(r.outer.flattened(tolerance)),
                holes=[shapely.linearrings(np.array(h.flattened(tolerance))) for h in r.holes] or None,
            )
            for r in regions
        ]
        assert all(shapely.is_valid(parts)), [shapely.is_valid_reason(p) for p in parts]
        return shapely.union_all(parts)

    return area


def _corners(draw: random.Random) -> list[BulgeVertex]:
    """Vertices round a middle at growing angles, on a 1 mm grid two times in five; any kind of bulge."""
    angles = sorted(draw.uniform(0, 2 * math.pi) for _ in range(draw.randint(3, 14)))
    radii = [draw.uniform(3, 30) for _ in angles]
    places = [(r * math.cos(a), r * math.sin(a)) for a, r in zip(angles, radii, strict=True)]
    if draw.random() < 0.4:
        places = [(float(round(x)), float(round(y))) for x, y in places]
    places = [p for i, p in enumerate(places) if p != places[i - 1]]
    kinds = [lambda: 0.0] * 3 + [lambda: draw.uniform(-1, 1), lambda: draw.uniform(-0.2, 0.2)]
    kinds += [lambda: 1.0, lambda: -1.0]
    return [BulgeVertex(x, y, draw.choice(kinds)()) for x, y in places]


def _hole(draw: random.Random) -> Outline:
    shape = draw.choice([round_hole, lambda d: rectangle(1.6 * d, d, d / 5), lambda d: slot(2 * d, d)])
    hole = shape(draw.uniform(1, 9)).rotated(draw.choice([0, 90, draw.uniform(0, 360)]))
    return hole.moved(draw.uniform(-15, 15), draw.uniform(-15, 15))


def _random_region(seed: int) -> Regions | None:
    draw = random.Random(seed)
    ring = _corners(draw)
    if len(ring) < 3:
        return None
    outer = Outline.from_bulges(ring).turned(True)
    body = shapely.polygons(np.array(outer.flattened(1e-6)))  # so fine that edges crossing at a tip show
    if not body.is_valid or body.area < 1:
        return None
    holes: list[Outline] = []
    for _ in range(draw.choice([0, 0, 1, 4])):
        hole = _hole(draw)
        patch = shapely.polygons(np.array(hole.flattened(1e-4)))
        if shapely.contains_properly(body, patch):
            holes.append(hole.turned(False))
            body = shapely.difference(body, patch)
    return (Region(outer, tuple(holes)),)


@pytest.fixture(scope="session")
def random_regions() -> Callable[[int], Regions | None]:
    """random_regions(seed): a line-and-arc outline about the origin, some with holes; None where it crosses itself."""
    return _random_region
