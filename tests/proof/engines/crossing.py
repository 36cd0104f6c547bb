"""Where lines and arcs cross one another, by formula: no chords."""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from jigtemplates.geometry.outline import Arc, Point, Segment

#: A crossing so near to an end of either segment is where they join, mm.
END = 1e-7


def crossings(segments: Sequence[Segment], depth: float) -> list[tuple[Point, float]]:
    """Places where two segments cross within both and run past one another by more than depth (mm), and by how much."""
    boxes = shapely.box(*np.array([_box(s) for s in segments]).reshape(-1, 4).T)
    first, second = shapely.STRtree(boxes).query(boxes)
    found = []
    for i, j in zip(*(which[first < second].tolist() for which in (first, second)), strict=True):
        a, b = segments[i], segments[j]
        for place in _common(a, b):
            if _is_within(a, place) and _is_within(b, place) and (past := _past(a, b, place)) > depth:
                found.append((place, past))
    return found


def _box(s: Segment) -> tuple[float, float, float, float]:
    """A box round a segment; round an arc as wide as the circle or as its middle says, whichever is less."""
    if isinstance(s, Arc):
        (x, y), r = s.center, s.radius
        sag = max(math.dist(s.start, s.middle), math.dist(s.end, s.middle)) * 1.01
        if abs(s.sweep) < math.pi / 2:
            mx, my = s.middle
            return mx - sag, my - sag, mx + sag, my + sag
        return x - r, y - r, x + r, y + r
    (x1, y1), (x2, y2) = s.start, s.end
    return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)


def _common(a: Segment, b: Segment) -> Iterator[Point]:
    """Where the whole line or circle of a meets that of b."""
    if isinstance(a, Arc) and isinstance(b, Arc):
        yield from _circles(a, b)
    elif isinstance(a, Arc):
        yield from _circle_line(a, b.start, b.end)
    elif isinstance(b, Arc):
        yield from _circle_line(b, a.start, a.end)
    else:
        (x, y), (dx, dy), (ex, ey) = a.start, _step(a), _step(b)
        cross = dx * ey - dy * ex
        if cross != 0:
            along = ((b.start.x - x) * ey - (b.start.y - y) * ex) / cross
            yield Point(x + along * dx, y + along * dy)


def _step(s: Segment) -> tuple[float, float]:
    return s.end.x - s.start.x, s.end.y - s.start.y


def _circle_line(arc: Arc, start: Point, end: Point) -> Iterator[Point]:
    dx, dy = end.x - start.x, end.y - start.y
    length = math.hypot(dx, dy)
    ux, uy = dx / length, dy / length
    rx, ry = arc.center.x - start.x, arc.center.y - start.y
    along, off = rx * ux + ry * uy, rx * uy - ry * ux
    half = (arc.radius - abs(off)) * (arc.radius + abs(off))
    if half > 0:
        for far in (along - math.sqrt(half), along + math.sqrt(half)):
            yield Point(start.x + far * ux, start.y + far * uy)


def _circles(a: Arc, b: Arc) -> Iterator[Point]:
    a, b = sorted((a, b), key=lambda arc: arc.radius)  # beside a huge circle numbers are too coarse
    dx, dy = b.center.x - a.center.x, b.center.y - a.center.y
    apart = math.hypot(dx, dy)
    if apart == 0:
        return
    if a.radius < apart:
        along = (a.radius**2 + (apart - b.radius) * (apart + b.radius)) / (2 * apart)
    else:
        along = (apart**2 + (a.radius - b.radius) * (a.radius + b.radius)) / (2 * apart)
    square = (a.radius - along) * (a.radius + along)
    if square > 0:
        for half in (math.sqrt(square), -math.sqrt(square)):
            yield Point(
                a.center.x + (along * dx - half * dy) / apart,
                a.center.y + (along * dy + half * dx) / apart,
            )


def _is_within(s: Segment, place: Point) -> bool:
    """Whether a place on the segment's curve is between its ends and not at one."""
    if min(math.dist(place, s.start), math.dist(place, s.end)) <= END:
        return False
    if isinstance(s, Arc):
        way = math.atan2(place.y - s.center.y, place.x - s.center.x)
        return (s.turn * (way - s.start_angle)) % math.tau < abs(s.sweep)
    (dx, dy), (rx, ry) = _step(s), (place.x - s.start.x, place.y - s.start.y)
    return 0 < rx * dx + ry * dy < dx * dx + dy * dy


def _past(a: Segment, b: Segment, place: Point) -> float:
    """How far the curves are apart between this crossing and the next or the nearest end."""
    (ax, ay, bend), (bx, by, other) = _course(a, place), _course(b, place)
    if ax * bx + ay * by < 0:
        bx, by, other = -bx, -by, -other
    angle = abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by))
    reach = min(math.dist(place, end) for end in (a.start, a.end, b.start, b.end))
    return min(angle * reach, angle**2 / (2 * abs(bend - other)) if bend != other else math.inf)


def _course(s: Segment, place: Point) -> tuple[float, float, float]:
    """Direction of travel there and curvature, 1/mm, positive to the left."""
    if isinstance(s, Arc):
        rx, ry = (place.x - s.center.x) / s.radius, (place.y - s.center.y) / s.radius
        return -s.turn * ry, s.turn * rx, s.turn / s.radius
    (dx, dy), length = _step(s), s.length
    return dx / length, dy / length, 0.0
