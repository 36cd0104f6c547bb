"""Curves of drawing programs, in mm: arcs of circles exactly, all others by places along them."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from jigtemplates.geometry.outline import Arc, BulgeVertex, Point, Segment, segment_from_bulge
from jigtemplates.imports.fit import Array, Smooth

#: Two half-axes that differ by less than this part of their length, or are as little out of square, make a
#: circle. Chosen: a hundred times what the nine decimals of a careful file leave unsure at 10 mm.
ROUND = 1e-8
#: Places along a curve are so close that its chords are within this part of the tolerance (chosen).
FINE = 1 / 20
#: Fewest and most places on one piece of a curve (chosen: a quarter circle of 1 m needs 900).
FEWEST, MOST = 16, 4000


def ellipse(center: Point, u: Point, v: Point, first: float, sweep: float, chord: float) -> list[Segment | Smooth]:
    """center + cos(t) u + sin(t) v for t from first on, radians: one exact arc where u and v make a circle.

    Else quarters by places, each from one axis to the next, so that the ends of the axes are kept. A full turn
    starts and ends on the very same spot. Nothing where there is no radius.
    """
    radius, other = math.hypot(*u), math.hypot(*v)
    square = abs(u.x * v.x + u.y * v.y)
    if max(radius, other) == 0.0:
        return []
    if max(abs(radius - other), square / max(radius, other)) <= ROUND * max(radius, other):
        return [_circle(center, u, v, first, sweep)]
    stops = _stops(first + _axis(u, v), sweep)
    parts = [_quarter(center, u, v, a - _axis(u, v), b - _axis(u, v), chord) for a, b in pairwise(stops)]
    if abs(sweep) >= math.tau:
        parts[-1].places[-1] = parts[0].places[0]
    return list(parts)


def _axis(u: Point, v: Point) -> float:
    """How far t is from an axis of the ellipse when 0: half-axes that are not square are conjugate diameters."""
    return math.atan2(-2 * (u.x * v.x + u.y * v.y), u.x * u.x + u.y * u.y - v.x * v.x - v.y * v.y) / 2


def _stops(first: float, sweep: float) -> list[float]:
    """Both ends of a turn and the quarters within it."""
    quarter = math.pi / 2
    low, high = sorted((first / quarter, (first + sweep) / quarter))
    inner = [quarter * k for k in range(math.floor(low + 1e-6) + 1, math.ceil(high - 1e-6))]
    return [first, *(inner if sweep > 0 else inner[::-1]), first + sweep]


def _quarter(center: Point, u: Point, v: Point, first: float, last: float, chord: float) -> Smooth:
    count = _count(max(math.hypot(*u), math.hypot(*v)), abs(last - first), chord)
    t = np.linspace(first, last, count + 1)
    cos, sin = np.cos(t)[:, None], np.sin(t)[:, None]
    places = np.array(center) + cos * np.array(u) + sin * np.array(v)
    return Smooth.of(places, math.copysign(1.0, last - first) * (cos * np.array(v) - sin * np.array(u)), alone=True)


def _circle(center: Point, u: Point, v: Point, first: float, sweep: float) -> Arc:
    """The exact arc; a mirrored one turns the other way."""
    turn = (1 if sweep > 0 else -1) * (1 if u.x * v.y - u.y * v.x > 0 else -1)

    def at(t: float) -> Point:
        cos, sin = math.cos(t), math.sin(t)
        return Point(center.x + cos * u.x + sin * v.x, center.y + cos * u.y + sin * v.y)

    start = at(first)
    end = start if abs(sweep) >= 2 * math.pi * (1 - 1e-12) else at(first + sweep)
    return Arc(start, end, center, math.hypot(*u), turn)


def _count(radius: float, sweep: float, chord: float) -> int:
    step = 2 * math.acos(max(0.0, 1 - min(1.0, FINE * chord / radius))) if radius > 0 else math.pi
    return _bounded(sweep / step)


def bezier_count(length: float, chord: float) -> int:
    """Places for a smooth piece of that length, mm, of which no more is known.

    Chosen: as for a cubic whose control polygon turns by that length at each of its two corners.
    """
    return _bounded(math.sqrt(6 * length / (8 * FINE * chord)))


def _bounded(count: float) -> int:
    return max(FEWEST, min(MOST, math.ceil(count)))


def bezier(control: Sequence[Point], chord: float) -> Smooth:
    """A quadratic or cubic curve by its three or four control points.

    n chords are within |P''| / (8 n²) of it, and |P''| is at most n (n - 1) times the largest second
    difference of its control points (T. W. Sederberg, Computer Aided Geometric Design, section 10.6; from memory).
    """
    points = np.array(control)
    degree = len(points) - 1
    bend = np.hypot(*np.diff(points, n=2, axis=0).T).max() * degree * (degree - 1)
    t = np.linspace(0.0, 1.0, _bounded(math.sqrt(bend / (8 * FINE * chord))) + 1)[:, None]
    places = _casteljau(points, t)
    places[0], places[-1] = points[0], points[-1]
    derivatives = _casteljau(np.diff(points, axis=0), t)
    _from_next(derivatives, points)
    return Smooth.of(places, derivatives)


def _casteljau(points: Array, t: Array) -> Array:
    rows = [np.broadcast_to(p, (len(t), 2)) for p in points]
    while len(rows) > 1:
        rows = [(1 - t) * a + t * b for a, b in pairwise(rows)]
    return np.array(rows[0])


def _from_next(derivatives: Array, points: Array) -> None:
    """Directions at ends whose control point lies on the end itself: towards the next that does not."""
    for end, order in ((0, points), (-1, points[::-1])):
        arms = order[1:] - order[0]
        away = arms[np.any(arms != 0, axis=1)]
        if len(away) and not derivatives[end].any():
            derivatives[end] = away[0] if end == 0 else -away[0]


def arc_by_radii(
    start: Point, end: Point, rx: float, ry: float, degrees: float, *, large: bool, positive: bool
) -> tuple[Point, Point, Point, float, float] | None:
    """An SVG arc as centre, half-axes, first angle and sweep for `ellipse`; None where it is a straight line.

    Radii too small for the ends are enlarged (SVG 1.1, appendix F.6.6).
    """
    if rx == 0 or ry == 0:
        return None
    rx, ry, phi = abs(rx), abs(ry), math.radians(degrees % 360)
    cos, sin = math.cos(phi), math.sin(phi)
    dx, dy = end.x - start.x, end.y - start.y
    # In the ellipse's own frame it is the unit circle; half of its chord there:
    hx, hy = (cos * dx + sin * dy) / (2 * rx), (cos * dy - sin * dx) / (2 * ry)
    half = math.hypot(hx, hy)
    if half == 0:
        return None
    grown = max(1.0, half)
    rx, ry, hx, hy, half = rx * grown, ry * grown, hx / grown, hy / grown, min(1.0, half)
    high = math.sqrt(max(0.0, (1 - half) * (1 + half))) * (1 if large != positive else -1)
    mx, my = -hy / half * high, hx / half * high
    u, v = Point(rx * cos, rx * sin), Point(-ry * sin, ry * cos)
    first = math.atan2(-hy - my, -hx - mx)
    sweep = 2 * math.asin(half)
    sweep = (2 * math.pi - sweep if large else sweep) * (1 if positive else -1)
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
    center = Point(middle.x + mx * u.x + my * v.x, middle.y + mx * u.y + my * v.y)
    return center, u, v, first, sweep


def ended(segment: Segment, start: Point, end: Point) -> Segment:
    """The segment between two places at most a joint's width from its own ends; an arc keeps its sweep.

    An arc of more than three quarters keeps its circle instead, which its ends hardly determine.
    """
    if segment.start == start and segment.end == end:
        return segment
    if isinstance(segment, Arc) and segment.start != segment.end and abs(segment.sweep) < 1.5 * math.pi:
        return segment_from_bulge(BulgeVertex(*start, math.tan(segment.sweep / 4)), BulgeVertex(*end, 0.0))
    return segment._replace(start=start, end=end)
