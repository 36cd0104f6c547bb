"""What the boundary of a region covers when it is swept to one side: areas on chords, exact far edges."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import numpy as np
import shapely

from jigtemplates.geometry.bands import LAP, Strip, areas_of
from jigtemplates.geometry.chain import GRID, Coordinates
from jigtemplates.geometry.curves import Circle, Straight
from jigtemplates.geometry.exact import Piece
from jigtemplates.geometry.outline import TAU, Arc, Line, Outline, Point, Regions, chords

#: Where an outline all but turns back, within this of half a turn, its corner is taken for a tip, radians:
#: so it is where a line is travelled there and back, and may be where arcs meet. Chosen: half a degree.
REVERSAL = 0.01

#: Numbers of chords in a full circle go up by this factor. Chosen: a tenth more chords than needed on
#: average, for circles that may differ by rounding and still share their chords' angles.
STEP = 2**0.25


@dataclass(frozen=True)
class Swept:
    """What a boundary covers when it is swept sideways, on chords, with the exact far edges."""

    #: the regions themselves, on the very chords that the swept areas start from
    bodies: list[Any] = field(default_factory=list)
    areas: list[Any] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)


@dataclass(frozen=True)
class Sweeps:
    """Sweeps a boundary by a distance to one side: side 1 is outward (right of travel), -1 inward.

    Areas and chords are made at distance + slack, pieces' curves at the distance itself.
    """

    distance: float
    side: int
    slack: float
    chord: float

    def along(self, regions: Regions) -> Swept:
        """The sweeps of every ring of the regions."""
        swept = Swept()
        for region in regions:
            swept.bodies.extend(_bodies([self._ring(ring, swept) for ring in region.rings]))
        return swept

    def _ring(self, ring: Outline, swept: Swept) -> Coordinates:
        """Sweeps one ring; returns its own chords."""
        if ring.as_circle:
            return self._whole_circle(ring.as_circle, swept)
        segments = [s for s in ring.segments if isinstance(s, Arc) or s.start != s.end]
        lines = self._lines([s for s in segments if isinstance(s, Line)], swept)
        strips = [self._arc(s, swept) if isinstance(s, Arc) else next(lines) for s in segments]
        chains: list[list[Strip]] = [[]]
        for i, (s, strip) in enumerate(zip(segments, strips, strict=True)):
            between = self._corner(s.start, strips[i - 1].last, strip.first, swept)
            if between is None:
                chains.append([])
            chains[-1].extend([*(between or ()), strip])
        is_closed = len(chains) == 1
        if not is_closed:  # the first chain goes on where the last one ends
            chains[-1].extend(chains.pop(0))
        swept.areas.extend(areas_of(chains, is_closed, self.distance + self.slack))
        return np.concatenate([s.base[:-1] for s in strips])

    def _whole_circle(self, arc: Arc, swept: Swept) -> Coordinates:
        radius = arc.radius + self.side * arc.turn * self.distance
        rim = radius + self.side * arc.turn * self.slack
        base = self._circle(arc.center, arc.radius, arc.radius)
        if rim <= 0:
            swept.areas.append(shapely.polygons(base))
            return base
        edge = self._circle(arc.center, rim, max(radius, 0.0))
        big, small = (edge, base) if rim > arc.radius else (base, edge)
        inside = [small] if min(rim, arc.radius) > GRID else None
        swept.areas.append(shapely.polygons(big, holes=inside))
        swept.pieces.append(Piece(Circle(arc.center, max(radius, 0.0)), edge))
        return base

    def _circle(self, center: Point, radius: float, nominal: float) -> Coordinates:
        return _points(center, radius, np.linspace(0.0, TAU, self._count(nominal) + 1))

    def _lines(self, lines: Sequence[Line], swept: Swept) -> Iterator[Strip]:
        """The strips beside lines, in their order."""
        bases = np.array(lines, dtype=float).reshape(-1, 2, 2)
        steps = bases[:, 1] - bases[:, 0]
        along = steps / np.hypot(steps[:, 0], steps[:, 1])[:, None]
        out = self.side * np.stack([along[:, 1], -along[:, 0]], axis=1)
        rims = bases + (self.distance + self.slack) * out[:, None]
        places = (bases[:, 0] + self.distance * out).tolist()
        for on, way, rim in zip(places, along.tolist(), rims, strict=True):
            swept.pieces.append(Piece(Straight(Point(*on), Point(*way)), rim))
        return (
            Strip(base, rim, *[Point(*away)] * 2) for base, rim, away in zip(bases, rims, out.tolist(), strict=True)
        )

    def _arc(self, arc: Arc, swept: Swept) -> Strip:
        radius = arc.radius + self.side * arc.turn * self.distance
        far = max(0.0, radius + self.side * arc.turn * self.slack)
        base = self._along_arc(arc, arc.radius, arc.radius)
        rim = self._along_arc(arc, far, max(radius, 0.0))
        if far > 0:
            swept.pieces.append(Piece(Circle(arc.center, max(radius, 0.0)), rim))
        sign = self.side * arc.turn / arc.radius
        first, last = (Point(sign * (p.x - arc.center.x), sign * (p.y - arc.center.y)) for p in (arc.start, arc.end))
        return Strip(base, rim, first, last)

    def _along_arc(self, arc: Arc, radius: float, nominal: float) -> Coordinates:
        """Chords along the arc at another radius; the ends stay on the rays through the arc's ends."""
        (x, y), scale = arc.center, radius / arc.radius
        ends = [(x + scale * (px - x), y + scale * (py - y)) for px, py in (arc.start, arc.end)]
        sweep = arc.sweep
        if self._is_one_chord(sweep, nominal):
            return np.array(ends)
        points = _points(arc.center, radius, self._angles(arc.start_angle, sweep, nominal))
        points[[0, -1]] = ends
        return points

    def _corner(self, at: Point, before: Point, after: Point, swept: Swept) -> tuple[Strip, ...] | None:
        """The sector round a corner that opens on the swept side, nothing at a smooth one, None where it closes."""
        cross = before.x * after.y - before.y * after.x
        angle = math.atan2(cross, before.x * after.x + before.y * after.y)
        if angle * self.side < REVERSAL - math.pi:
            angle += self.side * TAU  # all in the sector is within the distance: one too many does no harm
        reach = self.distance + self.slack
        gap = angle * self.side * reach
        if gap <= LAP / 2:
            return None if gap < -LAP else ()
        ends = np.array([at]) + reach * np.array([before, after])
        if self._is_one_chord(angle, self.distance):
            rim = ends
        else:
            rim = _points(at, reach, self._angles(math.atan2(before.y, before.x), angle, self.distance))
            rim[[0, -1]] = ends
        swept.pieces.append(Piece(Circle(at, self.distance), rim))
        return (Strip(np.array([at]), rim, before, after),)

    def _is_one_chord(self, sweep: float, radius: float) -> bool:
        """True where `_angles` has none between the ends."""
        return abs(sweep) * self._count(radius) < TAU / 10

    def _angles(self, first: float, sweep: float, radius: float) -> Coordinates:
        """Where chords begin and end on an arc of that radius, radians.

        But for the arc's own ends they are whole multiples of one angle, counted from 0, so that two
        edges that come to lie on one circle lie on the same chords, whatever arcs they came from.
        """
        step = TAU / self._count(radius)
        low, high = min(first, first + sweep) / step, max(first, first + sweep) / step
        # none so near an end that a chord is next to nothing (chosen: a tenth of the others)
        inner = step * np.arange(math.floor(low + 0.1) + 1, math.ceil(high - 0.1))
        return np.concatenate([[first], inner if sweep > 0 else inner[::-1], [first + sweep]])

    def _count(self, radius: float) -> int:
        return _full_circle(radius, self.chord)


@lru_cache(maxsize=4096)
def _full_circle(radius: float, chord: float) -> int:
    """Chords in a full circle: a multiple of four, one of few numbers."""
    quarter = chords(TAU, radius, chord) / 4
    if quarter <= 1:
        return 4
    return 4 * math.ceil(STEP ** math.ceil(math.log(quarter, STEP) - 1e-6) - 1e-6)


def _points(center: Point, radius: float, angles: Coordinates) -> Coordinates:
    points = np.empty((len(angles), 2))
    points[:, 0] = center.x + radius * np.cos(angles)
    points[:, 1] = center.y + radius * np.sin(angles)
    return points


def _bodies(rings: list[Coordinates]) -> Iterator[Any]:
    """The valid polygons of a region given on chords; a degenerate region has none."""
    if len(rings[0]) < 3:
        return
    holes = [shapely.linearrings(r) for r in rings[1:] if len(r) >= 3]
    polygon = shapely.polygons(rings[0], holes=holes or None)
    if not polygon.is_valid:
        polygon = shapely.make_valid(polygon, method="structure", keep_collapsed=False)
    yield from (p for p in shapely.get_parts(polygon) if p.geom_type == "Polygon")
