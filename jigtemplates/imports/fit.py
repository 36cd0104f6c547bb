"""Smooth curves become arcs: the longest that stay within a tolerance of the curve, end to end without a kink.

A curve comes as places on it and the directions there. Where a single line or arc does, it is taken: a
spline that draws a quarter circle becomes a quarter circle. Elsewhere two arcs at a time (a biarc: both
meet with one tangent and leave and arrive along the curve) go as far as the tolerance lets them.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from jigtemplates.geometry.measure import distances
from jigtemplates.geometry.outline import Arc, BulgeVertex, Line, Point, Segment, segment_from_bulge

Array = NDArray[np.float64]

#: Directions that differ by less go on smoothly, radians. Chosen: a twentieth of a degree; the cubics
#: that drawing programs make of a circle's quarter are within it everywhere.
SMOOTH = 1e-3

#: A curve that is an arc of so much by itself was meant as one, radians. Chosen: drawing programs write a circle
#: as quarters or eighths; a traced outline is many short curves, better fitted together.
LONG = 0.7

#: An arc that leaves its chord by less than this is straight, mm (chosen: a tenth of what `offset` can lose).
STRAIGHT = 5e-7

#: Places nearer than this are one, mm (chosen: a hundredth of a micrometre).
SAME = 1e-5


@dataclass(frozen=True, slots=True)
class Smooth:
    """Places along a smooth curve, close enough to stand for it, and its unit directions there."""

    places: Array
    directions: Array
    #: True where its ends are kept, although a neighbour goes on smoothly
    alone: bool = False

    @staticmethod
    def of(places: Array, derivatives: Array, *, alone: bool = False) -> "Smooth":
        """Places with the curve's derivatives, of any length; where one vanishes its neighbours decide."""
        kept = np.concatenate([[True], np.any(places[1:] != places[:-1], axis=1)])
        places, derivatives = places[kept], derivatives[kept]
        if len(places) < 2:
            return Smooth(places, np.zeros_like(places), alone)
        lengths = np.hypot(derivatives[:, 0], derivatives[:, 1])
        bad = lengths <= 1e-9 * lengths.max()
        around = np.gradient(places, axis=0)
        derivatives = np.where(bad[:, None], around, derivatives)
        lengths = np.hypot(derivatives[:, 0], derivatives[:, 1])
        return Smooth(places, derivatives / np.where(lengths == 0, 1.0, lengths)[:, None], alone)

    def goes_on_as(self, other: "Smooth") -> bool:
        """Whether the other curve begins where this one ends, in its direction."""
        (dx, dy), (ex, ey) = self.directions[-1], other.directions[0]
        apart = math.inf if self.alone or other.alone else math.dist(self.places[-1], other.places[0])
        return bool(apart < SAME and abs(math.atan2(dx * ey - dy * ex, dx * ex + dy * ey)) < SMOOTH)

    def and_then(self, other: "Smooth") -> "Smooth":
        """Both curves as one."""
        places, directions = (other.places[1:], other.directions[1:])
        return Smooth(np.concatenate([self.places, places]), np.concatenate([self.directions, directions]))


def joined(curves: Sequence[Smooth]) -> list[Smooth]:
    """Curves that go on smoothly as one another made one."""
    done: list[Smooth] = []
    for curve in (c for c in curves if len(c.places) > 1):
        if done and done[-1].goes_on_as(curve):
            done[-1] = done[-1].and_then(curve)
        else:
            done.append(curve)
    return done


def whole_arc(curve: Smooth, tolerance: float) -> Segment | None:
    """The one arc that does for the whole curve, where it turns by LONG at least."""
    segments = _Reach(curve, 0, tolerance, _single).drawn(len(curve.places) - 1)
    return segments[0] if segments and isinstance(segments[0], Arc) and abs(segments[0].sweep) >= LONG else None


def fitted(curve: Smooth, tolerance: float) -> list[Segment]:
    """Lines and arcs from the curve's first place to its last, nowhere further from it than tolerance, mm."""
    at, last, done = 0, len(curve.places) - 1, list[Segment]()
    while at < last:
        single, biarc = _Reach(curve, at, tolerance, _single), _Reach(curve, at, tolerance, _biarc)
        one, two = single.furthest(), biarc.furthest()
        # chosen: half as far on a single arc is better than twice two
        until, segments = one if one[0] - at >= (two[0] - at) / 2 and one[0] > at else two
        done.extend(segments)
        at = until
    return done


@dataclass(frozen=True)
class _Reach:
    """How far along a curve one way of drawing goes from a place."""

    curve: Smooth
    at: int
    tolerance: float
    draw: Callable[[Smooth, int, int], list[Segment]]

    def furthest(self) -> tuple[int, list[Segment]]:
        """The last place that can be reached, and what is drawn; the next one in any case."""
        last = len(self.curve.places) - 1
        whole = self.drawn(last)
        if whole:
            return last, whole
        good, step = self.at, 1
        best: list[Segment] = []
        while good + step < last and (found := self.drawn(good + step)):
            good, best, step = good + step, found, 2 * step
        while step > 1:
            step //= 2
            if good + step < last and (found := self.drawn(good + step)):
                good, best = good + step, found
        if good > self.at or self.draw is _single:
            return good, best
        ends = (Point(*self.curve.places[self.at + i].tolist()) for i in (0, 1))
        return self.at + 1, [Line(*ends)]

    def drawn(self, until: int) -> list[Segment]:
        """What is drawn as far as a place, empty where it does not keep to the curve."""
        segments = self.draw(self.curve, self.at, until)
        return segments if segments and self._keeps_to_curve(segments, until) else []

    def _keeps_to_curve(self, segments: Sequence[Segment], until: int) -> bool:
        places = self.curve.places[self.at : until + 1]
        length = float(np.hypot(*(places[1:] - places[:-1]).T).sum())
        if abs(sum(s.length for s in segments) - length) > 0.01 * length + self.tolerance:
            return False
        inner = np.concatenate([places[1:-1], (places[1:] + places[:-1]) / 2])
        # a chord's middle is off the curve by itself: an eighth of the sagitta's tolerance is left for that
        return bool(distances(inner, segments).max() <= self.tolerance)


def _single(curve: Smooth, at: int, until: int) -> list[Segment]:
    """The line or arc that leaves along the curve and arrives along it, if there is one."""
    start, end = curve.places[at], curve.places[until]
    (ax, ay), (bx, by) = curve.directions[at], curve.directions[until]
    dx, dy = (end - start).tolist()
    leaving = math.atan2(ax * dy - ay * dx, ax * dx + ay * dy)
    arriving = math.atan2(dx * by - dy * bx, dx * bx + dy * by)
    if abs(leaving - arriving) > SMOOTH:
        return []
    return [_arc(start, end, (leaving + arriving) / 2)]


def _biarc(curve: Smooth, at: int, until: int) -> list[Segment]:
    """Two arcs that leave and arrive along the curve and go on smoothly as one another.

    The joint is that of equal distances to both control points: D. S. Meek and D. J. Walton, Approximation of
    discrete data by G1 arc splines, Computer-Aided Design 24 (1992); formula from memory, tested by its property.
    """
    start, end = curve.places[at], curve.places[until]
    t1, t2 = curve.directions[at], curve.directions[until]
    chord = end - start
    both, square = float(chord @ (t1 + t2)), float(chord @ chord)
    rest = 2.0 * (1.0 - float(t1 @ t2))
    if rest > 1e-12:
        d = (math.sqrt(both * both + rest * square) - both) / rest
    elif both > 0:
        d = square / (2.0 * both)
    else:
        return []
    joint = (start + end + d * (t1 - t2)) / 2
    if math.dist(joint, start) < SAME or math.dist(joint, end) < SAME:
        return []
    first, second = joint - start, end - joint
    leaving = math.atan2(t1[0] * first[1] - t1[1] * first[0], t1 @ first)
    arriving = math.atan2(second[0] * t2[1] - second[1] * t2[0], second @ t2)
    return [_arc(start, joint, leaving), _arc(joint, end, arriving)]


def _arc(start: Array, end: Array, half_sweep: float) -> Segment:
    """The arc that leaves its chord by an angle of half its sweep, radians; a line where that is nothing."""
    bulge = math.tan(half_sweep / 2)
    if abs(bulge) * math.dist(start, end) / 2 < STRAIGHT:
        return Line(Point(*start.tolist()), Point(*end.tolist()))
    (ax, ay), (bx, by) = start.tolist(), end.tolist()
    return segment_from_bulge(BulgeVertex(ax, ay, bulge), BulgeVertex(bx, by, 0.0))
