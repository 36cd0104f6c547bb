"""Exact distances between points and outlines, and how far two areas differ."""

import math
from collections.abc import Callable, Iterable

import numpy as np
from numpy.typing import NDArray

from jigtemplates.geometry.outline import LONG, TAU, Arc, Line, Outline, Regions, Segment

Array = NDArray[np.float64]

#: Spacing of the places where two boundaries are compared, mm. Chosen: corners and the middle of every
#: segment are always looked at, and the largest deviation of a routed corner is in such a middle;
#: elsewhere, along an arc of r mm, a deviation can be missed by spacing² / (8 r), 5 micrometres at 1 mm.
SPACING = 0.2

#: More pairs of a point and a segment than this are sorted by place first (chosen: where that begins to be quicker).
MANY = 100_000
#: To fewer segments every place is measured, however many there are (chosen: where that begins to be quicker; an arc of
#: metres has so many places that finding the nearest of four segments took twenty seconds).
FEW = 32
#: Pairs measured in one go (chosen: more is slower again, by what a processor keeps near).
AT_ONCE = 2_000


def distances(points: Array, segments: Iterable[Segment]) -> Array:
    """Distance from each point (n by 2) to the nearest of the segments, mm; infinite without any."""
    listed = list(segments)
    if len(listed) >= FEW and len(listed) * len(points) > MANY:
        from jigtemplates.geometry.many_places import distances_by_place
        from jigtemplates.geometry.table import Table

        return distances_by_place(points, Table.of(listed))
    nearest = np.full(len(points), np.inf)
    arcs = [s for s in listed if isinstance(s, Arc)]
    lines = [s for s in listed if not isinstance(s, Arc)]
    kinds: list[tuple[Callable[[Array, Array, Array], Array], Array]] = []
    if lines:
        kinds.append((_to_lines, _line_columns(lines)))
    if arcs:
        kinds.append((_to_arcs, _arc_columns(arcs)))
    (x, y), step = points.T.copy(), max(1, AT_ONCE // max(1, len(points)))
    for apart, columns in kinds:
        for first in range(0, columns.shape[1], step):
            np.minimum(nearest, apart(x, y, columns[:, first : first + step]).min(axis=0), out=nearest)
    return nearest


def _line_columns(lines: list[Line]) -> Array:
    return np.array([(*s.start, *s.end) for s in lines]).T[:, :, None]


def _arc_columns(arcs: list[Arc]) -> Array:
    return np.array(
        [(*s.start, *s.end, *s.center, s.radius, s.turn, s.start_angle, abs(s.sweep)) for s in arcs],
    ).T[:, :, None]


def _to_lines(x: Array, y: Array, lines: Array) -> Array:
    """Distance of each place from each line: a row for every line."""
    ax, ay, bx, by = lines
    dx, dy, rx, ry = bx - ax, by - ay, x - ax, y - ay
    square = dx * dx + dy * dy
    along = np.clip((rx * dx + ry * dy) / np.where(square == 0, 1.0, square), 0.0, 1.0)
    apart: Array = np.hypot(rx - along * dx, ry - along * dy)
    return apart


def _to_arcs(x: Array, y: Array, arcs: Array) -> Array:
    """The same of arcs."""
    ax, ay, bx, by, cx, cy, radius, turn, start_angle, sweep = arcs
    rx, ry = x - cx, y - cy
    ahead = (turn * (np.arctan2(ry, rx) - start_angle)) % TAU
    ends = np.minimum(np.hypot(x - ax, y - ay), np.hypot(x - bx, y - by))
    apart: Array = np.where(ahead <= sweep, np.abs(np.hypot(rx, ry) - radius), ends)
    return apart


def samples(outline: Outline, spacing: float = SPACING) -> Array:
    """Every corner of the outline, the middle of every segment, and places no further apart than spacing (mm)."""
    if outline.count >= LONG:
        from jigtemplates.geometry.many_places import many_samples

        return many_samples(outline, spacing)
    parts = []
    for s in outline.segments:
        count = 2 * max(1, math.ceil(s.length / (2 * spacing)))
        along = np.arange(count) / count
        if isinstance(s, Arc):
            angles = s.start_angle + along * s.sweep
            part = np.column_stack([s.center.x + s.radius * np.cos(angles), s.center.y + s.radius * np.sin(angles)])
            part[0] = s.start
        else:
            part = np.array(s.start) + along[:, None] * (np.array(s.end) - np.array(s.start))
        parts.append(part)
    return np.concatenate(parts)


def size_of_boundary(regions: Regions) -> int:
    """How many segments all rings have together."""
    return sum(ring.count for region in regions for ring in region.rings)


def segments_of(regions: Regions) -> tuple[Segment, ...]:
    """All segments of all rings."""
    return tuple(s for region in regions for ring in region.rings for s in ring.segments)


def deviation(a: Regions, b: Regions) -> float:
    """Largest distance from the boundary of either area to the boundary of the other, mm.

    The Hausdorff distance of the two boundaries, seen at every corner and at SPACING between; 0 for two
    empty areas, infinite where only one is empty.
    """
    if not a and not b:
        return 0.0
    if not a or not b:
        return math.inf
    return max(_one_way(a, b), _one_way(b, a))


def _one_way(a: Regions, b: Regions) -> float:
    rings = [ring for region in a for ring in region.rings]
    if size_of_boundary(b) >= LONG:
        from jigtemplates.geometry.long import boundary_of
        from jigtemplates.geometry.many_places import furthest

        return furthest(np.concatenate([samples(ring) for ring in rings]), boundary_of(b))
    others = segments_of(b)
    return max(float(distances(samples(ring), others).max()) for ring in rings)


def total_area(regions: Regions) -> float:
    """Area of all parts together, mm²."""
    return math.fsum(region.area for region in regions)
