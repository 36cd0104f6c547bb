"""Closes runs of edges on exact curves into an outline: where the curves meet, and what is too small to keep."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from jigtemplates.geometry.curves import (
    SHORTEST,
    TANGENT,
    Circle,
    Curve,
    GeometryError,
    Straight,
    across,
    meeting,
    off,
)
from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Segment

Coordinates = NDArray[np.float64]

#: Edges no longer than twice this are rounding of the noding, mm; also the grid on which shapely nodes
#: once more what came out inconsistent. Chosen: far above rounding at 10 m, far below any tool.
GRID = 1e-7

#: An edge this short is rounding of a part that only just fits, mm. Chosen: four times the slack of
#: `offset`, by twice of which its edges may miss one another.
ROUNDING = 2e-5


@dataclass(frozen=True, slots=True)
class Run:
    """Successive edges of a ring that lie on one curve, from begin on, in the ring's direction."""

    curve: Curve
    begin: Point
    middle: Point
    #: +1 where the run goes counter-clockwise about a circle's centre or along a line, else -1
    turn: int


def runs_of(
    curves: Sequence[Curve], firsts: NDArray[np.int64], begins: Coordinates, middles: Coordinates, steps: Coordinates
) -> list[Run]:
    """A run for each curve: of the edges from its first up to the next one's; what most of its length does decides.

    Firsts begin with 0; every edge belongs to a run.
    """
    counts = np.diff(np.append(firsts, len(steps)))
    onward = _onward(curves, counts, middles, steps)
    travelled = np.cumsum(np.abs(onward))
    before = travelled[firsts] - np.abs(onward[firsts])
    halves = (before + travelled[firsts + counts - 1]) / 2
    at = np.clip(np.searchsorted(travelled, halves), firsts, firsts + counts - 1)
    turns = np.where(np.add.reduceat(onward, firsts) > 0, 1, -1).tolist()
    places = zip(curves, begins[firsts].tolist(), middles[at].tolist(), turns, strict=True)
    return [Run(curve, Point(*begin), Point(*middle), turn) for curve, begin, middle, turn in places]


def _onward(
    curves: Sequence[Curve], counts: NDArray[np.int64], middles: Coordinates, steps: Coordinates
) -> NDArray[np.float64]:
    """How far each edge goes along its line, or round its circle's centre (times the radius)."""
    fixed = np.repeat(np.array([c.along if isinstance(c, Straight) else c.center for c in curves]), counts, axis=0)
    straight = np.repeat(np.array([isinstance(c, Straight) for c in curves]), counts)
    arms = middles - fixed
    around = arms[:, 0] * steps[:, 1] - arms[:, 1] * steps[:, 0]
    along = steps[:, 0] * fixed[:, 0] + steps[:, 1] * fixed[:, 1]
    onward: NDArray[np.float64] = np.where(straight, along, around)
    return onward


def same_curve(a: Run, b: Run) -> bool:
    """Whether b goes on along a's curve, within TANGENT at b's place."""
    if isinstance(a.curve, Circle) and isinstance(b.curve, Circle):
        apart = math.dist(a.curve.center, b.curve.center) + abs(a.curve.radius - b.curve.radius)
        return apart < TANGENT and a.turn == b.turn
    if isinstance(a.curve, Straight) and isinstance(b.curve, Straight):
        along, other = a.curve.along, b.curve.along
        cosine = (along.x * other.x + along.y * other.y) * a.turn * b.turn
        off = max(abs(across(a.curve, b.curve.point)), abs(across(b.curve, a.curve.point)))
        beside = abs(across(a.curve, b.begin) - across(b.curve, b.begin))
        return cosine > 0 and off < TANGENT and beside < 10 * GRID
    return False


def outline_of(runs: Sequence[Run], ccw: bool) -> Outline | None:
    """The closed chain of the runs' curves; one place only gives a circle of radius 0, a hole nothing."""
    if not runs:
        return None
    if len(runs) == 1:
        return _closed_run(runs[0])
    edges = _edges(runs)
    while any(backward := [_is_backward(e) for e in edges]) and sum(backward) < len(edges) - 1:
        edges = _edges([r for i, r in enumerate(runs) if not backward[i] or backward[i - 1]])
        runs = [e.run for e in edges]
    segments = _segments(edges)
    if segments:
        return Outline(tuple(segments))
    return Outline.circle(edges[0].start, 0.0) if ccw else None


def _closed_run(run: Run) -> Outline | None:
    if isinstance(run.curve, Circle):
        return Outline.circle(run.curve.center, run.curve.radius, run.turn)
    return None


@dataclass(frozen=True, slots=True)
class _Edge:
    """A run between its two exact corners."""

    run: Run
    start: Point
    end: Point

    @property
    def is_tiny(self) -> bool:
        """Shorter than SHORTEST; not so an arc that is all but a full turn, as its middle tells."""
        if math.dist(self.start, self.end) >= SHORTEST:
            return False
        return not self.is_full_turn

    @property
    def is_full_turn(self) -> bool:
        """A circle's arc that ends where it starts, having gone all the way round."""
        curve = self.run.curve
        if not isinstance(curve, Circle) or math.dist(self.start, self.end) >= SHORTEST:
            return False
        return curve.radius >= SHORTEST and math.dist(self.run.middle, self.start) > curve.radius


def _edges(runs: Sequence[Run]) -> list[_Edge]:
    corners = [meeting(a.curve, b.curve, b.begin) for a, b in zip([runs[-1], *runs[:-1]], runs, strict=True)]
    return [_Edge(*e) for e in zip(runs, corners, [*corners[1:], corners[0]], strict=True)]


def _is_backward(edge: _Edge) -> bool:
    """Whether a run goes the wrong way between its exact corners: on the curves, its neighbours meet before it."""
    run = edge.run
    if math.dist(edge.start, edge.end) < SHORTEST:
        return False
    if isinstance(run.curve, Straight):
        along = run.curve.along
        return run.turn * (along.x * (edge.end.x - edge.start.x) + along.y * (edge.end.y - edge.start.y)) < 0
    return _ahead(run, edge.start, run.middle) + _ahead(run, run.middle, edge.end) < 0


def _ahead(run: Run, start: Point, end: Point) -> float:
    """Angle from start to end in the run's direction, from a quarter turn back to three quarters ahead."""
    assert isinstance(run.curve, Circle)
    (x, y), quarter = run.curve.center, math.pi / 2
    angle = math.atan2(end.y - y, end.x - x) - math.atan2(start.y - y, start.x - x)
    return (run.turn * angle + quarter) % (4 * quarter) - quarter


def _segments(edges: Sequence[_Edge]) -> list[Segment]:
    """One segment an edge; those too short to be shape are taken out, their neighbours drawn together.

    None are left of a ring that is a single place.
    """
    places = [e.start for e in edges]
    if not any(e.is_full_turn for e in edges) and all(math.dist(p, places[0]) < SHORTEST for p in places):
        return []
    first = next((i for i, e in enumerate(edges) if not e.is_tiny), 0)
    kept = list(edges[first : first + 1])
    waiting = [*edges[first + 1 :], *edges[:first]]
    for i, edge in enumerate(waiting):
        if edge.start != kept[-1].end:
            edge = replace(edge, start=kept[-1].end)
        following = waiting[i + 1] if i + 1 < len(waiting) else kept[0]
        joint = _joint(kept[-1], edge, following) if edge.is_tiny and len(kept) + len(waiting) - i > 2 else None
        if joint:
            kept[-1] = replace(kept[-1], end=joint)
        else:
            kept.append(edge)
    return _closed(kept)


def _joint(before: _Edge, tiny: _Edge, after: _Edge) -> Point | None:
    """Where the neighbours of a tiny edge are drawn together; None where that would move them.

    On both their curves if those meet beside the edge. An edge no longer than ROUNDING goes in any case.
    """
    try:
        place = meeting(before.run.curve, after.run.curve, tiny.end)
    except GeometryError:
        place = tiny.start
    moved = max(math.dist(place, tiny.start), math.dist(place, tiny.end))
    if moved < SHORTEST and max(off(before.run.curve, place), off(after.run.curve, place)) < TANGENT:
        return place
    return tiny.end if math.dist(tiny.start, tiny.end) < ROUNDING else None


def _closed(edges: Sequence[_Edge]) -> list[Segment]:
    """The segments of a chain of edges, each made to end where the next one starts."""
    joints = [e.end for e in edges]
    for i, edge in enumerate(edges):
        if edge.is_full_turn:  # it ends just where it starts
            joints[i] = joints[i - 1]
    return [
        _segment(e, *ends) for e, ends in zip(edges, zip([joints[-1], *joints[:-1]], joints, strict=True), strict=True)
    ]


def _segment(edge: _Edge, start: Point, end: Point) -> Segment:
    if isinstance(edge.run.curve, Circle):
        return Arc(start, end, edge.run.curve.center, edge.run.curve.radius, edge.run.turn)
    return Line(start, end)
