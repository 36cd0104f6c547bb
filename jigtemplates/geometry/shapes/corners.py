"""Rounds the corners of a polygon: exact lines and arcs, millimetres."""

import math
from collections.abc import Sequence

from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Segment

#: A straight shorter than this between two round corners is rounding and left out, mm (chosen: a thousand times what
#: binary numbers of a plate's size differ by, and nothing to any tool).
NOTHING = 1e-9

Place = tuple[float, float]


def rounded(corners: Sequence[Place], radii: Sequence[float]) -> Outline:
    """The polygon through the corners, counter-clockwise, each one round by its radius (0: sharp).

    Begins with the straight that leaves the first corner. Two arcs about one centre become one. Raises ValueError
    where a straight is too short for the corners at its ends, and for a radius at a corner that points inwards.
    """
    count = len(corners)
    around = [(corners[i - 1], corners[i], corners[(i + 1) % count]) for i in range(count)]
    cut_back = [radius * setback(*three) if radius else 0.0 for three, radius in zip(around, radii, strict=True)]
    if any(radius < 0 or (radius and back <= 0) for radius, back in zip(radii, cut_back, strict=True)):
        raise ValueError("only a corner that points outwards can be rounded, by a radius above 0")
    pieces: list[Segment] = []
    for i, (_, corner, following) in enumerate(around):
        j = (i + 1) % count
        ux, uy = way = _way(corner, following)
        straight = math.dist(corner, following) - cut_back[i] - cut_back[j]
        start = _along(corner, way, cut_back[i])
        stop = _along(following, way, -cut_back[j]) if straight > NOTHING else start
        if straight < -NOTHING:
            raise ValueError("a straight is too short for the round corners at its ends")
        if straight > NOTHING:
            pieces.append(Line(start, stop))
        if radii[j]:
            center = Point(stop.x - radii[j] * uy, stop.y + radii[j] * ux)
            end = _along(following, _way(following, around[j][2]), cut_back[j])
            pieces.append(Arc(stop, end, center, radii[j], 1))
    return Outline(tuple(merged(pieces)))


def setback(before: Place, corner: Place, after: Place) -> float:
    """How far from a corner its rounding begins, for a radius of 1: tan(turn / 2), negative where it points inwards."""
    (ux, uy), (vx, vy) = _way(before, corner), _way(corner, after)
    return (ux * vy - uy * vx) / (1 + ux * vx + uy * vy)


def _way(a: Place, b: Place) -> Place:
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _along(place: Place, way: Place, distance: float) -> Point:
    return Point(place[0] + distance * way[0], place[1] + distance * way[1])


def merged(pieces: list[Segment]) -> list[Segment]:
    """Neighbouring arcs about one centre drawn as one."""
    done: list[Segment] = []
    for piece in pieces:
        last = done[-1] if done else None
        if isinstance(last, Arc) and isinstance(piece, Arc) and _is_same_circle(last, piece):
            done[-1] = last._replace(end=piece.end)
        else:
            done.append(piece)
    first, last = done[0], done[-1]
    if len(done) > 2 and isinstance(first, Arc) and isinstance(last, Arc) and _is_same_circle(last, first):
        return [last._replace(end=first.end), *done[1:-1]]
    return done


def _is_same_circle(a: Arc, b: Arc) -> bool:
    return abs(a.radius - b.radius) < NOTHING and math.dist(a.center, b.center) < NOTHING
