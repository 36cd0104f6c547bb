"""The other engines: what they are given, and how far off they may be by their own word.

Clipper and manifold3d put chords for the arcs of a round join and are told how near; shapely's buffer likewise. All are
given outlines on chords. shapely's buffer of a whole outline first simplifies it by up to 1 % of the distance on the
side that is swept (BufferParameters in GEOS), so it is a reference only where that takes nothing away: growing convex
outlines. Elsewhere it is asked for the capsule about each chord alone, and the union of them is taken.
"""

import math
from collections.abc import Callable
from typing import Any, NamedTuple

import manifold3d
import numpy as np
import pyclipr
import shapely
from engines.chords import Places, area_of, nested, rings_of

from jigtemplates.geometry.outline import Regions

#: Rounding of coordinates and of what the engines do with them, mm: Clipper is asked for nanometres.
ROUNDING = 1e-5


class Engine(NamedTuple):
    """Another program that offsets."""

    name: str
    #: how far its chords are from arcs, of the outline given and of the joins made, mm
    chord: float
    offset: Callable[[list[Places], float, float], Any]
    suits: Callable[[Regions, float], bool]

    @property
    def tolerance(self) -> float:
        """How far all it says may be off, mm."""
        return 2 * self.chord + ROUNDING

    def answer(self, regions: Regions, distance: float) -> Any:
        """Its offset as a shapely area."""
        return self.offset(rings_of(regions, self.chord), distance, self.chord)


def by_clipper(rings: list[Places], distance: float, chord: float) -> Any:
    """Clipper 2 in nanometres."""
    engine = pyclipr.ClipperOffset()
    engine.scaleFactor = 1_000_000
    engine.arcTolerance = chord * 1_000_000
    engine.addPaths(rings, pyclipr.JoinType.Round, pyclipr.EndType.Polygon)
    return nested([np.asarray(loop)[:, :2] for loop in engine.execute(distance) if len(loop) > 2])


def by_manifold(rings: list[Places], distance: float, chord: float) -> Any:
    """The cross sections of manifold3d."""
    count = math.ceil(math.pi / math.acos(1 - min(0.5, chord / abs(distance))))
    section = manifold3d.CrossSection(rings, manifold3d.FillRule.EvenOdd)
    return nested(section.offset(distance, manifold3d.JoinType.Round, 2.0, count).to_polygons())


def quarter(distance: float, chord: float) -> int:
    """Chords in a quarter of a circle."""
    return math.ceil(math.pi / 4 / math.acos(1 - min(0.5, chord / abs(distance))))


def by_capsules(rings: list[Places], distance: float, chord: float) -> Any:
    """A capsule about each chord by shapely, all of them united with the area or taken from it."""
    body = nested(rings)
    edges = np.concatenate([np.stack([ring, np.roll(ring, -1, axis=0)], axis=1) for ring in rings])
    swept = shapely.union_all(
        shapely.buffer(shapely.linestrings(edges), abs(distance), quad_segs=quarter(distance, chord))
    )
    return shapely.union(body, swept) if distance > 0 else shapely.difference(body, swept)


def by_buffer(rings: list[Places], distance: float, chord: float) -> Any:
    """shapely's buffer of the whole outline."""
    return shapely.buffer(nested(rings), distance, quad_segs=quarter(distance, chord))


def is_convex(regions: Regions, distance: float) -> bool:
    """Whether each region is, and they are to grow."""
    bodies = [area_of((region,), 1e-4) for region in regions]
    return distance > 0 and all(b.convex_hull.area - b.area < 1e-6 * b.area for b in bodies)


def is_light(regions: Regions, distance: float) -> bool:
    """Whether so few capsules do that their union takes a tenth of a second."""
    count = sum(len(ring) for ring in rings_of(regions, 1e-3))
    return count * quarter(distance, 1e-3) < 6_000


def is_bearable(regions: Regions, distance: float) -> bool:
    """Whether not so many chords' parallels cross one another that it takes more than some seconds."""
    rings = rings_of(regions, 5e-4)
    count = sum(len(ring) for ring in rings)
    length = sum(ring.length for region in regions for ring in region.rings)
    return count * count * abs(distance) / length < 300_000


CLIPPER = Engine("clipper", 5e-4, by_clipper, is_bearable)
MANIFOLD = Engine("manifold3d", 5e-4, by_manifold, is_bearable)
CAPSULES = Engine("capsules", 1e-3, by_capsules, is_light)
BUFFER = Engine("buffer", 1e-4, by_buffer, is_convex)
ENGINES = (CLIPPER, MANIFOLD, CAPSULES, BUFFER)
