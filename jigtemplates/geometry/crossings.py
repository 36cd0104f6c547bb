"""Finds edges that cross by so little that their chords do not show it."""

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import shapely

from jigtemplates.geometry.measure import segments_of, size_of_boundary
from jigtemplates.geometry.outline import LONG, TAU, Arc, Line, Outline, Point, Regions, Segment


def has_hidden_crossing(regions: Regions, chord: float, slack: float) -> bool:
    """Whether an arc runs across another edge, deeper than slack and less deep than chords can show, mm.

    Two convex arcs that overlap by less than the sagitta of their chords look apart on chords. Straight
    edges alone never do.
    """
    if size_of_boundary(regions) >= LONG:
        from jigtemplates.geometry.long import boundary_of
        from jigtemplates.geometry.many_crossings import has_hidden_crossing_among

        return has_hidden_crossing_among(boundary_of(regions), chord, slack)
    segments = segments_of(regions)
    arcs = [i for i, s in enumerate(segments) if isinstance(s, Arc)]
    if not arcs:
        return False
    tree = shapely.STRtree(shapely.box(*np.array([_box(s) for s in segments]).T))
    return any(slack < _overlap(a, b) < 4 * chord for a, b in _neighbours(segments, arcs, tree))


def has_lost_edge(regions: Regions) -> bool:
    """Whether two arcs that follow one another are of one circle, and so what crossed it twice between them was lost.

    An edge that runs beside another by less than their chords show may look like a single place between two crossings.
    """
    return any(_goes_on(ring) for region in regions for ring in region.rings if ring.count > 1)


def _goes_on(ring: Outline) -> bool:
    if ring.count >= LONG:
        from jigtemplates.geometry.long import table_of

        table = table_of(ring)
        columns = np.column_stack([table.centers, table.radii, table.turns])
        return bool(np.any(np.all(columns == np.roll(columns, 1, axis=0), axis=1) & (table.radii > 0)))
    before = ring.segments[-1]
    for segment in ring.segments:
        if isinstance(segment, Arc) and isinstance(before, Arc) and segment[2:] == before[2:]:  # center, radius, turn
            return True
        before = segment
    return False


def _neighbours(segments: Sequence[Segment], arcs: list[int], tree: Any) -> Iterator[tuple[Arc, Segment]]:
    """Pairs of one of the arcs and another segment whose boxes touch."""
    number = {i: at for at, i in enumerate(arcs)}
    found = tree.query(tree.geometries[arcs])
    for i, j in found.T.tolist():
        arc, other = segments[arcs[i]], segments[j]
        if isinstance(arc, Arc) and arcs[i] != j and number.get(j, i) >= i:
            yield arc, other


def _box(s: Segment) -> tuple[float, float, float, float]:
    """A box round a segment: for an arc, round its ends and the corner between their tangents, or its circle."""
    xs, ys = [s.start.x, s.end.x], [s.start.y, s.end.y]
    if isinstance(s, Arc):
        half = abs(s.sweep) / 2
        reach = s.radius / math.cos(half) if half < 1.5 else math.inf
        if reach > 2 * s.radius:
            return (s.center.x - s.radius, s.center.y - s.radius, s.center.x + s.radius, s.center.y + s.radius)
        middle = s.middle
        scale = reach / s.radius if s.radius else 0.0
        xs.append(s.center.x + scale * (middle.x - s.center.x))
        ys.append(s.center.y + scale * (middle.y - s.center.y))
    return (min(xs), min(ys), max(xs), max(ys))


def _overlap(arc: Arc, other: Segment) -> float:
    """How deep two nearly touching edges overlap where they would touch, mm; 0 where they do not reach there."""
    if isinstance(other, Line):
        return _line_overlap(arc, other)
    dx, dy = other.center.x - arc.center.x, other.center.y - arc.center.y
    apart = math.hypot(dx, dy)
    if apart == 0.0:
        return 0.0
    towards = math.atan2(dy, dx)
    if apart > max(arc.radius, other.radius):  # beside each other
        reached = _reaches(arc, towards) and _reaches(other, towards + math.pi)
        return arc.radius + other.radius - apart if reached else 0.0
    if arc.radius < other.radius:
        towards += math.pi
    reached = _reaches(arc, towards) and _reaches(other, towards)
    return apart - abs(arc.radius - other.radius) if reached else 0.0


def _line_overlap(arc: Arc, line: Line) -> float:
    dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
    rx, ry = arc.center.x - line.start.x, arc.center.y - line.start.y
    along = (rx * dx + ry * dy) / (dx * dx + dy * dy)
    if not 0 < along < 1:
        return 0.0
    foot = Point(line.start.x + along * dx, line.start.y + along * dy)
    towards = math.atan2(foot.y - arc.center.y, foot.x - arc.center.x)
    return arc.radius - math.dist(foot, arc.center) if _reaches(arc, towards) else 0.0


def _reaches(arc: Arc, angle: float) -> bool:
    return arc.start == arc.end or 0 < (arc.turn * (angle - arc.start_angle)) % TAU < abs(arc.sweep)
