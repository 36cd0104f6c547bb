"""Offsets of exact outlines: grow, shrink, and what a round cutter can reach.

The only room that sweeps outlines. A region grown by d is the region together with everything within
d of its boundary: a strip beside every line, a ring sector beside every arc, a circular sector round
every corner. Shrinking takes the same away on the inner side. shapely unites those sweeps on
chords and so decides what survives, splits or vanishes; `exact` then gives every edge its line
parallel to a source line, circle concentric with a source arc, or circle about a source corner.

shapely's own buffer is not used: it first simplifies its input by up to 1 % of the distance
(BufferParameters in GEOS), enough to lose a 9.525 mm hole that a 9.5 mm bit is to cut.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from jigtemplates.geometry.exact import (
    GRID,
    Circle,
    Coordinates,
    Piece,
    Straight,
    direction,
    exact_regions,
)
from jigtemplates.geometry.measure import distances, segments_of
from jigtemplates.geometry.outline import TAU, Arc, Line, Outline, Point, Regions, chords

#: Largest distance between an arc and the chords that stand for it while topology is decided, mm.
#: Chosen: it never reaches the result's edges, only the question whether two edges meet at all.
CHORD = 1e-3

#: A shape that misses fitting by no more than twice this still fits, mm: a cut exactly as wide as the
#: bit leaves a line for the bit's centre, which must not vanish. Chosen: 50 times the noding grid.
SLACK = 5e-6

#: Tangents within this angle join smoothly, radians. Chosen: 1e-9 rad is a nanometre in a metre.
SMOOTH = 1e-9


def grow(regions: Regions, distance: float, *, chord: float = CHORD) -> Regions:
    """The regions with everything within distance (mm, >= 0) of them: rounds outer corners.

    Regions that come to touch become one; a hole that is overgrown vanishes. A degenerate region (a
    line travelled there and back, a circle of radius 0) grows like any other.
    """
    if distance <= 0 or not regions:
        return regions
    swept = _Sweeps(distance, 1, min(SLACK, distance / 100), chord).along(regions)
    area = shapely.union_all([*swept.bodies, *swept.areas], grid_size=GRID)
    return exact_regions(area, swept.pieces, _at_least(distance, regions))


def shrink(regions: Regions, distance: float, *, chord: float = CHORD) -> Regions:
    """The points of the regions at least distance (mm, >= 0) away from their boundary: rounds inner corners.

    A part that only just fits (a slot as wide as twice the distance) leaves a degenerate region: a
    line there and back, or a circle of radius 0. A part that does not fit vanishes.
    """
    if distance <= 0 or not regions:
        return regions
    swept = _Sweeps(distance, -1, -min(SLACK, distance / 100), chord).along(regions)
    body = shapely.union_all(swept.bodies, grid_size=GRID)
    border = shapely.union_all(swept.areas, grid_size=GRID)
    area = shapely.difference(body, border, grid_size=GRID)
    return exact_regions(area, swept.pieces, _at_least(distance, regions))


def offset(regions: Regions, distance: float, *, chord: float = CHORD) -> Regions:
    """Grown by a positive distance, shrunk by a negative one, mm."""
    return grow(regions, distance, chord=chord) if distance >= 0 else shrink(regions, -distance, chord=chord)


def _at_least(distance: float, regions: Regions) -> Callable[[Outline], bool]:
    """Tests that an outline keeps the distance from the regions' boundary at every corner and middle."""
    source = segments_of(regions)

    def is_real(outline: Outline) -> bool:
        points = np.array([p for s in outline.segments for p in (s.start, s.middle)])
        return bool(np.all(distances(points, source) > distance - 3 * SLACK))

    return is_real


@dataclass(frozen=True)
class _Swept:
    """What a boundary covers when it is swept sideways, on chords, with the exact far edges."""

    #: the regions themselves, on the very chords that the swept areas start from
    bodies: list[Any]
    areas: list[Any]
    pieces: list[Piece]


@dataclass(frozen=True)
class _Sweeps:
    """Sweeps a boundary by a distance to one side: side 1 is outward (right of travel), -1 inward.

    Areas and chords are made at distance + slack, pieces' curves at the distance itself.
    """

    distance: float
    side: int
    slack: float
    chord: float

    def along(self, regions: Regions) -> _Swept:
        """The sweeps of every ring of the regions."""
        swept = _Swept([], [], [])
        for region in regions:
            swept.bodies.extend(_bodies([self._ring(ring, swept) for ring in region.rings]))
        return swept

    def _ring(self, ring: Outline, swept: _Swept) -> Coordinates:
        """Sweeps one ring; returns its own chords."""
        if ring.as_circle:
            return self._whole_circle(ring.as_circle, swept)
        base: list[Coordinates] = []
        rims: list[tuple[Point, Point]] = []  # unit vectors to the swept side at each segment's ends
        for s in ring.segments:
            points, ends = self._arc(s, swept) if isinstance(s, Arc) else self._line(s, swept)
            base.append(points[:-1])
            rims.append(ends)
        for i, s in enumerate(ring.segments):
            self._corner(s.start, rims[i - 1][1], rims[i][0], swept)
        return np.concatenate(base)

    def _whole_circle(self, arc: Arc, swept: _Swept) -> Coordinates:
        radius = arc.radius + self.side * arc.turn * self.distance
        rim = radius + self.side * arc.turn * self.slack
        count = chords(TAU, max(arc.radius, rim), self.chord)
        base = _circle_points(arc.center, arc.radius, 0.0, TAU, count)
        if rim <= 0:
            swept.areas.append(shapely.polygons(base))
            return base
        edge = _circle_points(arc.center, rim, 0.0, TAU, count)
        big, small = (edge, base) if rim > arc.radius else (base, edge)
        inside = [small] if min(rim, arc.radius) > GRID else None
        swept.areas.append(shapely.polygons(big, holes=inside))
        swept.pieces.append(Piece(Circle(arc.center, max(radius, 0.0)), edge))
        return base

    def _line(self, line: Line, swept: _Swept) -> tuple[Coordinates, tuple[Point, Point]]:
        along = direction(line)
        out = Point(self.side * along.y, -self.side * along.x)
        reach = self.distance + self.slack
        a = (line.start.x + reach * out.x, line.start.y + reach * out.y)
        b = (line.end.x + reach * out.x, line.end.y + reach * out.y)
        base = np.array([line.start, line.end])
        swept.areas.append(shapely.polygons(np.array([line.start, line.end, b, a])))
        on = Point(line.start.x + self.distance * out.x, line.start.y + self.distance * out.y)
        swept.pieces.append(Piece(Straight(on, along), np.array([a, b])))
        return base, (out, out)

    def _arc(self, arc: Arc, swept: _Swept) -> tuple[Coordinates, tuple[Point, Point]]:
        radius = arc.radius + self.side * arc.turn * self.distance
        rim = max(0.0, radius + self.side * arc.turn * self.slack)
        sweep = arc.sweep
        count = chords(sweep, max(arc.radius, rim), self.chord)
        base = _arc_points(arc, arc.radius, count)
        edge = _arc_points(arc, rim, count)
        swept.areas.append(shapely.polygons(np.concatenate([base, edge[::-1]])))
        if rim > 0:
            swept.pieces.append(Piece(Circle(arc.center, max(radius, 0.0)), edge))
        sign = self.side * arc.turn / arc.radius
        first, last = (
            Point(sign * (p.x - arc.center.x), sign * (p.y - arc.center.y)) for p in (arc.start, arc.end)
        )
        return base, (first, last)

    def _corner(self, at: Point, before: Point, after: Point, swept: _Swept) -> None:
        """The sector round a corner that opens on the swept side; none where it closes."""
        cross = before.x * after.y - before.y * after.x
        angle = math.atan2(cross, before.x * after.x + before.y * after.y)
        if self.side > 0 and angle < 1e-6 - math.pi:
            angle += TAU  # a line travelled there and back: the end always opens outward
        if angle * self.side < SMOOTH:
            return
        reach = self.distance + self.slack
        count = chords(angle, reach, self.chord)
        first = math.atan2(before.y, before.x)
        edge = _circle_points(at, reach, first, angle, count)
        edge[0] = (at.x + reach * before.x, at.y + reach * before.y)
        edge[-1] = (at.x + reach * after.x, at.y + reach * after.y)
        swept.areas.append(shapely.polygons(np.concatenate([[at], edge])))
        swept.pieces.append(Piece(Circle(at, self.distance), edge))


def _circle_points(center: Point, radius: float, first: float, sweep: float, count: int) -> Coordinates:
    angles = first + sweep * np.linspace(0.0, 1.0, count + 1)
    return np.column_stack([center.x + radius * np.cos(angles), center.y + radius * np.sin(angles)])


def _arc_points(arc: Arc, radius: float, count: int) -> Coordinates:
    """count chords along the arc at another radius; the ends stay on the rays through the arc's ends."""
    points = _circle_points(arc.center, radius, arc.start_angle, arc.sweep, count)
    for i, p in ((0, arc.start), (-1, arc.end)):
        scale = radius / arc.radius
        points[i] = (arc.center.x + scale * (p.x - arc.center.x), arc.center.y + scale * (p.y - arc.center.y))
    return points


def _bodies(rings: list[Coordinates]) -> Iterator[Any]:
    """The valid polygons of a region given on chords; a degenerate region has none."""
    if len(rings[0]) < 3:
        return
    polygon = shapely.polygons(rings[0], holes=[r for r in rings[1:] if len(r) >= 3] or None)
    if not polygon.is_valid:
        polygon = shapely.make_valid(polygon)
    yield from (p for p in shapely.get_parts(polygon) if p.geom_type == "Polygon")
