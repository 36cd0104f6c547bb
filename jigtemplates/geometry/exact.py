"""Gives the exact lines and arcs back to a polygon that was computed on chords.

shapely decides topology on flattened outlines: which parts survive, split or vanish. Every edge of
its answer lies on a chord of some known exact curve, a `Piece`. Here each edge is labelled with its
piece, runs of one label become one line or arc, and neighbouring pieces are intersected exactly, so
that no chord's error is left in the result.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.errors import JigError
from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Region, Regions, Segment

Coordinates = NDArray[np.float64]

#: Grid on which shapely nodes the chords, mm. Chosen: far above rounding at 10 m, far below any tool.
GRID = 1e-7

#: Two curves nearer than this to touching are taken to touch there, mm. Chosen: a thousandth of a
#: micrometre, the accuracy promised for sizes; below it the crossing point itself is ill-conditioned.
TANGENT = 1e-9

#: Segments shorter than this are rounding, not shape, mm. Chosen: ten times the slack of `offset`.
SHORTEST = 5e-5

#: A ring whose area is less than its length times this may be nothing but the gap between two curves'
#: chords, mm. Chosen: twice the chord tolerance of `offset`.
THIN = 2e-3


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


@dataclass(frozen=True, slots=True)
class Piece:
    """An exact curve and the chords that stood for it when topology was decided."""

    curve: Curve
    chords: Coordinates


@dataclass(frozen=True, slots=True)
class _Run:
    """Successive edges of a ring that lie on one curve, from begin on, in the ring's direction."""

    curve: Curve
    begin: Point
    middle: Point
    #: +1 where the run goes counter-clockwise about a circle's centre or along a line, else -1
    turn: int


def curve_of(segment: Segment) -> Curve:
    """The endless curve a segment lies on."""
    if isinstance(segment, Arc):
        return Circle(segment.center, segment.radius)
    return Straight(segment.start, direction(segment))


def direction(line: Line) -> Point:
    """Unit vector along a line; raises ZeroDivisionError for one without length."""
    length = line.length
    return Point((line.end.x - line.start.x) / length, (line.end.y - line.start.y) / length)


def exact_regions(area: Any, pieces: Sequence[Piece], is_real: Callable[[Outline], bool]) -> Regions:
    """The exact regions for a shapely area whose every edge lies on one of the pieces' chords.

    Two curves that run close together can leave, between their chords, a thin ring that is not there on
    the curves themselves: is_real decides of every thin ring's exact outline. Raises GeometryError where
    neighbouring curves do not meet, which would mean that the area does not come from these pieces.
    """
    rebuild = _Rebuild(pieces, shapely.STRtree([shapely.linestrings(p.chords) for p in pieces]), is_real)
    regions = []
    for polygon in _polygons(area):
        outer = rebuild.ring(shapely.get_exterior_ring(polygon), True)
        if outer is None:
            continue
        inner = (rebuild.ring(r, False) for r in polygon.interiors)
        regions.append(Region(outer, tuple(r for r in inner if r is not None)))
    return tuple(regions)


def _polygons(area: Any) -> Iterator[Any]:
    """Polygons of an area in an order that does not depend on how it was computed."""
    parts = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon" and not p.is_empty]
    return iter(sorted(parts, key=lambda p: p.bounds))


@dataclass(frozen=True, slots=True)
class _Rebuild:
    """What is needed to turn a ring of chords into an exact outline."""

    pieces: Sequence[Piece]
    tree: Any
    is_real: Callable[[Outline], bool]

    def ring(self, ring: Any, ccw: bool) -> Outline | None:
        """The exact outline of a ring, or None where there is nothing but chords' rounding."""
        points = shapely.get_coordinates(ring)
        if ring.is_ccw != ccw:
            points = points[::-1]
        if abs(_shoelace(points)) > THIN * ring.length:
            return _outline(_runs(points, self.pieces, self.tree))
        try:
            outline = _outline(_runs(points, self.pieces, self.tree))
        except GeometryError:
            return None
        if outline is None or abs(outline.length - ring.length) > 0.01 * ring.length + THIN:
            return None
        return outline if self.is_real(outline) else None


def _shoelace(points: Coordinates) -> float:
    x, y = points[:, 0] - points[0, 0], points[:, 1] - points[0, 1]
    return float(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1])) / 2


def _outline(runs: Sequence["_Run"]) -> Outline | None:
    if len(runs) < 2:
        return _closed_run(runs[0]) if runs else None
    corners = [meeting(a.curve, b.curve, b.begin) for a, b in zip([runs[-1], *runs[:-1]], runs, strict=True)]
    segments = _segments(runs, corners)
    return Outline(tuple(segments)) if segments else None


def _runs(points: Coordinates, pieces: Sequence[Piece], tree: Any) -> list[_Run]:
    """The ring's edges gathered into runs on one curve; the first run begins at a change of curve."""
    steps = points[1:] - points[:-1]
    proper = np.hypot(steps[:, 0], steps[:, 1]) > 2 * GRID
    begins, steps = points[:-1][proper], steps[proper]
    if len(steps) == 0:
        return []
    middles = begins + steps / 2
    labels = tree.nearest(shapely.points(middles))
    changes = np.flatnonzero(labels != np.roll(labels, 1))
    starts = changes.tolist() or [0]
    runs: list[_Run] = []
    for at, until in zip(starts, [*starts[1:], starts[0] + len(labels)], strict=True):
        middle = (at + (until - at) // 2) % len(labels)
        curve = pieces[labels[at]].curve
        run = _Run(
            curve,
            Point(*begins[at].tolist()),
            Point(*middles[middle].tolist()),
            _turn(curve, middles[middle], steps[middle]),
        )
        if not runs or not same_curve(runs[-1], run):
            runs.append(run)
    if len(runs) > 1 and same_curve(runs[-1], runs[0]):
        runs[0] = _Run(runs[-1].curve, runs[-1].begin, runs[0].middle, runs[-1].turn)
        runs.pop()
    return runs


def _turn(curve: Curve, middle: Coordinates, step: Coordinates) -> int:
    if isinstance(curve, Straight):
        return 1 if curve.along.x * step[0] + curve.along.y * step[1] > 0 else -1
    cross = (middle[0] - curve.center.x) * step[1] - (middle[1] - curve.center.y) * step[0]
    return 1 if cross > 0 else -1


def same_curve(a: _Run, b: _Run) -> bool:
    """Whether b goes on along a's curve, within TANGENT at b's place."""
    if isinstance(a.curve, Circle) and isinstance(b.curve, Circle):
        apart = math.dist(a.curve.center, b.curve.center) + abs(a.curve.radius - b.curve.radius)
        return apart < TANGENT and a.turn == b.turn
    if isinstance(a.curve, Straight) and isinstance(b.curve, Straight):
        along, other = a.curve.along, b.curve.along
        cosine = (along.x * other.x + along.y * other.y) * a.turn * b.turn
        off = max(abs(_across(a.curve, b.curve.point)), abs(_across(b.curve, a.curve.point)))
        return (
            cosine > 0
            and off < TANGENT
            and abs(_across(a.curve, b.begin) - _across(b.curve, b.begin)) < 10 * GRID
        )
    return False


def _across(line: Straight, p: Point) -> float:
    """Signed distance of p to the left of the line."""
    return line.along.x * (p.y - line.point.y) - line.along.y * (p.x - line.point.x)


def _closed_run(run: _Run) -> Outline | None:
    if isinstance(run.curve, Circle):
        return Outline.circle(run.curve.center, run.curve.radius, run.turn)
    return None


def _segments(runs: Sequence[_Run], corners: Sequence[Point]) -> list[Segment]:
    """One segment a run; those too short to be shape are taken out and their ends drawn together."""
    kept: list[tuple[_Run, Point, Point]] = []
    for run, start, end in zip(runs, corners, [*corners[1:], corners[0]], strict=True):
        if _is_proper(run, start, end):
            kept.append((run, start, end))
    segments: list[Segment] = []
    for i, (run, start, end) in enumerate(kept):
        following = kept[(i + 1) % len(kept)][1]
        if math.dist(end, following) < SHORTEST:
            end = following
        else:
            raise GeometryError(f"the outline does not close near ({end.x:.4f}, {end.y:.4f})")
        if isinstance(run.curve, Circle):
            segments.append(Arc(start, end, run.curve.center, run.curve.radius, run.turn))
        else:
            segments.append(Line(start, end))
    return segments


def _is_proper(run: _Run, start: Point, end: Point) -> bool:
    if math.dist(start, end) >= SHORTEST:
        return True
    if not isinstance(run.curve, Circle) or run.curve.radius < SHORTEST:
        return False
    # Start and end together: all but a full turn, or next to nothing; the middle tells which.
    return math.dist(run.middle, start) > run.curve.radius


def meeting(a: Curve, b: Curve, near: Point) -> Point:
    """Where two curves meet, the place nearest to a point; where they only touch, the touching point.

    Raises GeometryError where they stay further apart than rounding explains.
    """
    match a, b:
        case Straight(), Straight():
            return _line_line(a, b, near)
        case Straight(), Circle():
            return _line_circle(a, b, near)
        case Circle(), Straight():
            return _line_circle(b, a, near)
        case Circle(), Circle():
            return _circle_circle(a, b, near)


def _line_line(a: Straight, b: Straight, near: Point) -> Point:
    cross = a.along.x * b.along.y - a.along.y * b.along.x
    if abs(cross) < 1e-12:  # parallel: they can only meet if they are one line
        _refuse_gap(abs(_across(a, b.point)), near)
        return _foot(a, near)
    s = ((b.point.x - a.point.x) * b.along.y - (b.point.y - a.point.y) * b.along.x) / cross
    return Point(a.point.x + s * a.along.x, a.point.y + s * a.along.y)


def _foot(line: Straight, p: Point) -> Point:
    s = (p.x - line.point.x) * line.along.x + (p.y - line.point.y) * line.along.y
    return Point(line.point.x + s * line.along.x, line.point.y + s * line.along.y)


def _line_circle(line: Straight, circle: Circle, near: Point) -> Point:
    foot = _foot(line, circle.center)
    off = abs(_across(line, circle.center))
    if circle.radius - off < TANGENT:
        _refuse_gap(off - circle.radius, near)
        return foot
    half = math.sqrt((circle.radius - off) * (circle.radius + off))
    ends = [Point(foot.x + s * half * line.along.x, foot.y + s * half * line.along.y) for s in (1, -1)]
    return min(ends, key=lambda p: math.dist(p, near))


def _circle_circle(a: Circle, b: Circle, near: Point) -> Point:
    apart = math.dist(a.center, b.center)
    if apart < TANGENT:
        _refuse_gap(abs(a.radius - b.radius), near)
        return _on_circle(a, near)
    ux, uy = (b.center.x - a.center.x) / apart, (b.center.y - a.center.y) / apart
    # Distance of the common chord from a's centre, along the line of centres (signed).
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


def pieces_of(segments: Iterable[Segment], tolerance: float) -> list[Piece]:
    """The segments themselves as pieces, for set operations on outlines."""
    pieces = []
    for s in segments:
        points = Outline((s,)).flattened(tolerance)
        pieces.append(Piece(curve_of(s), np.array([*points, s.end])))
    return pieces
