"""The ellipse as tangent-continuous circular arcs, since outlines are lines and arcs; millimetres.

Each span of a quadrant is a biarc: two arcs with one tangent where they meet, and with the ellipse's own points and
tangents at the ends of the span (K. M. Bolton, "Biarc curves", Computer-Aided Design 7, 1975, from memory; of the
family the one with equal tangent lengths). Along a quadrant the curvature of an ellipse only falls or only grows, so
both arcs bend the same way.
"""

import math
from itertools import pairwise

from jigtemplates.geometry.outline import Arc, Outline, Point
from jigtemplates.geometry.shapes.basic import round_hole
from jigtemplates.geometry.shapes.corners import NOTHING, merged

#: Largest distance of the arcs from the true ellipse, mm (chosen: a third of the tightest running clearance, 0.016 mm,
#: and less than any wood moves overnight).
TOLERANCE = 0.005

#: Places of a span where its distance is looked at, and the share of the tolerance that may be found there (chosen: the
#: most between two of them is some thousandths more than at them).
PLACES = 48
USED = 0.98

#: Most often a quadrant is halved (chosen: far more than a plate's size takes; ends what rounding would not).
DEEPEST = 12


def ellipse(length: float, width: float, *, tolerance: float = TOLERANCE) -> Outline:
    """An ellipse, nowhere further than tolerance (mm) from the true one and alike in all four quadrants.

    ::

             __---───---__     ─┬─
          ╭‾               ‾╮   │
          │        +        │  width
          ╰_               _╯   │
             ‾‾---───---‾‾     ─┴─
          ├──── length ─────┤

    The origin is in its middle. It passes exactly through the ends of its axes, and has no corner anywhere. As long as
    wide it is a circle. Raises ValueError for a side or a tolerance that is not positive, and for an ellipse too
    slender for arcs.
    """
    if min(length, width, tolerance) <= 0:
        raise ValueError("an ellipse's length, width and tolerance must be positive")
    if length == width:
        return round_hole(length)
    a, b = length / 2, width / 2
    first = [arc for stops in pairwise(_stops(a, b, 0.0, math.pi / 2, tolerance)) for arc in _biarc(a, b, *stops)]
    second = [_flipped(arc, -1, 1) for arc in reversed(first)]
    upper = [*first, *second]
    lower = [_flipped(arc, 1, -1) for arc in reversed(upper)]
    return Outline(tuple(merged([*upper, *lower])))


def _stops(a: float, b: float, start: float, end: float, tolerance: float, depth: int = 0) -> list[float]:
    """Eccentric angles between which a biarc keeps the tolerance: the quadrant halved as often as it takes."""
    if _off(a, b, start, end) <= USED * tolerance:
        return [start, end]
    if depth == DEEPEST:
        raise ValueError("this ellipse is too slender for arcs within its tolerance")
    middle = (start + end) / 2
    return [
        *_stops(a, b, start, middle, tolerance, depth + 1),
        *_stops(a, b, middle, end, tolerance, depth + 1)[1:],
    ]


def _off(a: float, b: float, start: float, end: float) -> float:
    """Largest distance of the ellipse from the biarc of a span, mm, at PLACES of it; infinite where there is none."""
    arcs = _biarc(a, b, start, end)
    if not arcs:
        return math.inf
    first, second = arcs
    joint, (cx, cy) = first.end, first.center
    off = 0.0
    for i in range(1, PLACES):
        x, y = _place(a, b, start + (end - start) * i / PLACES)
        # Seen from the first centre, counter-clockwise of the joint belongs to the second arc.
        ahead = (joint.x - cx) * (y - cy) - (joint.y - cy) * (x - cx) > 0
        arc = second if ahead else first
        off = max(off, abs(math.dist((x, y), arc.center) - arc.radius))
    return off


def _biarc(a: float, b: float, start: float, end: float) -> tuple[Arc, ...]:
    """Two arcs from the ellipse's point at one eccentric angle to that at another, radians, with its tangents there.

    None where the span is so uneven that one of them would be straight or bend the other way.
    """
    (px, py), (qx, qy) = p, q = _place(a, b, start), _place(a, b, end)
    (ux, uy), (vx, vy) = _way(a, b, start), _way(a, b, end)
    # Tangents of one length d at both ends whose tips are 2 d apart: |q - d v - p - d u| = 2 d.
    dx, dy, sx, sy = qx - px, qy - py, ux + vx, uy + vy
    along, bend = dx * sx + dy * sy, 2 * (1 - ux * vx - uy * vy)
    d = (math.sqrt(along * along + bend * (dx * dx + dy * dy)) - along) / bend
    joint = Point((px + qx + d * (ux - vx)) / 2, (py + qy + d * (uy - vy)) / 2)
    first, second = _circle(p, (ux, uy), joint), _circle(q, (vx, vy), joint)
    if first is None or second is None:
        return ()
    return Arc(p, joint, *first, 1), Arc(joint, q, *second, 1)


def _circle(at: Point, way: tuple[float, float], through: Point) -> tuple[Point, float] | None:
    """Centre and radius of the circle that has that direction at a point, bends left and goes through another."""
    dx, dy = through.x - at.x, through.y - at.y
    left = dy * way[0] - dx * way[1]
    if left < NOTHING:
        return None
    radius = (dx * dx + dy * dy) / (2 * left)
    return Point(at.x - radius * way[1], at.y + radius * way[0]), radius


def _place(a: float, b: float, angle: float) -> Point:
    """The ellipse's point at an eccentric angle of the first quadrant; exact at the ends of the axes."""
    if angle == math.pi / 2:
        return Point(0.0, b)
    return Point(a * math.cos(angle), b * math.sin(angle))


def _way(a: float, b: float, angle: float) -> tuple[float, float]:
    """Its direction there, of length 1."""
    if angle == math.pi / 2:
        return -1.0, 0.0
    dx, dy = -a * math.sin(angle), b * math.cos(angle)
    length = math.hypot(dx, dy)
    return dx / length, dy / length


def _flipped(arc: Arc, sx: int, sy: int) -> Arc:
    """The arc mirrored in one axis, still counter-clockwise."""
    start, end, center = (Point(sx * p.x, sy * p.y) for p in (arc.end, arc.start, arc.center))
    return Arc(start, end, center, arc.radius, 1)
