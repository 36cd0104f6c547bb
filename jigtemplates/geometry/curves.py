"""Endless curves that edges lie on, and where two of them meet."""

import math
from dataclasses import dataclass

from jigtemplates.errors import JigError
from jigtemplates.geometry.outline import Arc, Line, Point, Segment

#: Two curves nearer than this to touching are taken to touch there, mm. Chosen: a thousandth of a
#: micrometre, the accuracy promised for sizes; below it the crossing point itself is ill-conditioned.
TANGENT = 1e-9

#: Segments shorter than this are rounding, not shape, mm. Chosen: a tenth of a micrometre, twenty
#: times the slack of `offset` and far below what any machine follows.
SHORTEST = 1e-4


class GeometryError(JigError):
    """An outline that cannot be computed; the message says which."""


@dataclass(frozen=True, slots=True)
class Straight:
    """An endless line through a point along a unit direction."""

    point: Point
    along: Point


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle; radius 0 is allowed and stands for a point."""

    center: Point
    radius: float


Curve = Straight | Circle


def curve_of(segment: Segment) -> Curve:
    """The endless curve a segment lies on."""
    if isinstance(segment, Arc):
        return Circle(segment.center, segment.radius)
    return Straight(segment.start, direction(segment))


def direction(line: Line) -> Point:
    """Unit vector along a line; raises ZeroDivisionError for one without length."""
    length = line.length
    return Point((line.end.x - line.start.x) / length, (line.end.y - line.start.y) / length)


def across(line: Straight, p: Point) -> float:
    """Signed distance of p to the left of the line, mm."""
    return line.along.x * (p.y - line.point.y) - line.along.y * (p.x - line.point.x)


def off(curve: Curve, p: Point) -> float:
    """Distance of p from an endless curve, mm."""
    if isinstance(curve, Straight):
        return abs(across(curve, p))
    return abs(math.dist(p, curve.center) - curve.radius)


def meeting(a: Curve, b: Curve, near: Point) -> Point:
    """Where two curves meet, the place nearest to a point; where they only touch, the touching point.

    Raises GeometryError where they stay further apart than rounding explains.
    """
    if isinstance(a, Straight):
        return _line_line(a, b, near) if isinstance(b, Straight) else _line_circle(a, b, near)
    return _line_circle(b, a, near) if isinstance(b, Straight) else _circle_circle(a, b, near)


def _line_line(a: Straight, b: Straight, near: Point) -> Point:
    cross = a.along.x * b.along.y - a.along.y * b.along.x
    if abs(cross) < 1e-12:  # parallel: they can only meet if they are one line
        _refuse_gap(abs(across(a, b.point)), near)
        return _foot(a, near)
    s = ((b.point.x - a.point.x) * b.along.y - (b.point.y - a.point.y) * b.along.x) / cross
    return Point(a.point.x + s * a.along.x, a.point.y + s * a.along.y)


def _foot(line: Straight, p: Point) -> Point:
    s = (p.x - line.point.x) * line.along.x + (p.y - line.point.y) * line.along.y
    return Point(line.point.x + s * line.along.x, line.point.y + s * line.along.y)


def _line_circle(line: Straight, circle: Circle, near: Point) -> Point:
    foot = _foot(line, circle.center)
    off = abs(across(line, circle.center))
    if circle.radius - off < TANGENT:
        _refuse_gap(off - circle.radius, near)
        return foot
    half = math.sqrt((circle.radius - off) * (circle.radius + off))
    ends = [Point(foot.x + s * half * line.along.x, foot.y + s * half * line.along.y) for s in (1, -1)]
    return min(ends, key=lambda p: math.dist(p, near))


def _circle_circle(a: Circle, b: Circle, near: Point) -> Point:
    """Seen from the smaller circle: the middle of an arc that is all but straight is far away, numbers there coarse."""
    if a.radius > b.radius:
        a, b = b, a
    apart = math.dist(a.center, b.center)
    if apart < TANGENT:
        _refuse_gap(abs(a.radius - b.radius), near)
        return _on_circle(a, near)
    ux, uy = (b.center.x - a.center.x) / apart, (b.center.y - a.center.y) / apart
    # Distance of the common chord from a's centre, along the line of centres (signed); squares that are nearly the same
    # are taken from one another first.
    if a.radius < apart:
        along = (a.radius**2 + (apart - b.radius) * (apart + b.radius)) / (2 * apart)
    else:
        along = (apart**2 + (a.radius - b.radius) * (a.radius + b.radius)) / (2 * apart)
    if a.radius - abs(along) < TANGENT:
        _refuse_gap(max(apart - a.radius - b.radius, abs(a.radius - b.radius) - apart), near)
        reach = math.copysign(a.radius, along)
        return Point(a.center.x + reach * ux, a.center.y + reach * uy)
    half = math.sqrt((a.radius - along) * (a.radius + along))
    foot = Point(a.center.x + along * ux, a.center.y + along * uy)
    ends = [Point(foot.x - s * half * uy, foot.y + s * half * ux) for s in (1, -1)]
    return min(ends, key=lambda p: math.dist(p, near))


def _on_circle(circle: Circle, near: Point) -> Point:
    away = math.dist(circle.center, near) or 1.0
    scale = circle.radius / away
    return Point(
        circle.center.x + (near.x - circle.center.x) * scale,
        circle.center.y + (near.y - circle.center.y) * scale,
    )


def _refuse_gap(gap: float, near: Point) -> None:
    if gap > SHORTEST:
        raise GeometryError(f"two edges of the outline do not meet near ({near.x:.4f}, {near.y:.4f})")
