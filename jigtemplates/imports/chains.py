"""Joins pieces end to end into closed contours, or says where one stays open."""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from jigtemplates.geometry.long import long_outline
from jigtemplates.geometry.outline import Arc, Outline, Point, Segment
from jigtemplates.geometry.table import Rows
from jigtemplates.imports.curves import ended
from jigtemplates.imports.drawn import Drawn, length_of
from jigtemplates.imports.trouble import number_text, place_text

#: Ends in one square, or pieces between the same two places, that are looked at one by one (chosen: where more than two
#: ends meet there is no contour), and ends asked after at once (chosen: their neighbours are some megabytes).
CROWD, AT_ONCE = 8, 2_000


@dataclass(frozen=True, slots=True)
class Chain:
    """Pieces that hang together: a closed contour, or what keeps it from being one."""

    name: str
    pieces: tuple[Drawn, ...]
    outline: Outline | None
    #: a sentence without the file's name; None of a closed contour
    fault: str | None = None

    @property
    def idents(self) -> tuple[str, ...]:
        """The ids or handles that mean this chain."""
        return tuple(dict.fromkeys(p.ident for p in self.pieces if p.ident is not None))


def chains(pieces: Sequence[Drawn], join: float) -> list[Chain]:
    """All chains, in the file's order; ends that are no further apart than join (mm) are one place.

    A piece no longer than join is a speck and left out.
    """
    proper = [p for p in pieces if p.fault or length_of(p.segments) > join]
    alone = {i for i, p in enumerate(proper) if p.fault or p.closed or _apart(p) <= join}
    found = {i: _alone(proper[i]) for i in alone}
    waiting = [i for i in range(len(proper)) if i not in alone]
    found |= dict(_joined(proper, waiting, join))
    return [found[i] for i in sorted(found)]


def _alone(piece: Drawn) -> Chain:
    return Chain(piece.name, (piece,), None if piece.fault else _closed(piece.segments), piece.fault)


def _apart(piece: Drawn) -> float:
    return math.dist(piece.segments[0].start, piece.segments[-1].end)


def _closed(segments: Sequence[Segment]) -> Outline:
    """An outline of segments whose neighbours' ends may still be a joint's width apart."""
    if isinstance(segments, Rows) and np.array_equal(segments.table.ends, np.roll(segments.table.starts, -1, axis=0)):
        return long_outline(segments.table)
    if len(segments) == 1:
        return Outline((ended(segments[0], segments[0].start, segments[0].start),))
    joints = [_middle(a.end, b.start) for a, b in zip([segments[-1], *segments[:-1]], segments, strict=True)]
    ends = zip(segments, joints, [*joints[1:], joints[0]], strict=True)
    return Outline(tuple(ended(*one) for one in ends))


def _middle(a: Point, b: Point) -> Point:
    return a if a == b else Point((a.x + b.x) / 2, (a.y + b.y) / 2)


def _joined(pieces: Sequence[Drawn], which: Sequence[int], join: float) -> Iterator[tuple[int, Chain]]:
    """The chains of open pieces, each with the number of its first piece."""
    if not which:
        return
    nodes = _Nodes.of([pieces[i] for i in which], join)
    seen: set[int] = set()
    for first in range(len(which)):
        if first not in seen:
            members = nodes.hanging_together(first)
            seen.update(members)
            yield which[first], nodes.chain(members)


@dataclass(frozen=True)
class _Nodes:
    """Open pieces and the places where their ends meet; end 2 i is the start of piece i, 2 i + 1 its end."""

    pieces: Sequence[Drawn]
    ends: Sequence[Point]
    #: the number of the place of each end
    at: Sequence[int]
    #: the ends at each place
    meeting: dict[int, list[int]]

    @staticmethod
    def of(pieces: Sequence[Drawn], join: float) -> "_Nodes":
        """Ends no further apart than join are at one place, also by way of others."""
        ends = [end for p in pieces for end in (p.segments[0].start, p.segments[-1].end)]
        at = _clusters(ends, join)
        meeting: dict[int, list[int]] = defaultdict(list)
        for end, place in enumerate(at):
            meeting[place].append(end)
        return _Nodes(pieces, ends, at, meeting)

    def hanging_together(self, first: int) -> list[int]:
        """All pieces that can be reached from one, in the file's order."""
        found, waiting = {first}, [first]
        been: set[int] = set()
        while waiting:
            piece = waiting.pop()
            for place in {self.at[2 * piece], self.at[2 * piece + 1]} - been:
                been.add(place)
                new = {other // 2 for other in self.meeting[place]} - found
                found |= new
                waiting.extend(new)
        return sorted(found)

    def chain(self, members: Sequence[int]) -> Chain:
        """The pieces as one contour, or the sentence that says why they are none."""
        pieces = tuple(self.pieces[i] for i in members)
        name = pieces[0].name if len(pieces) == 1 else f"the {len(pieces)} pieces from {pieces[0].name} on"
        fault = self._twice(members) or self._branching(members, name) or self._open(members, name)
        return Chain(name, pieces, None if fault else self._walked(members[0]), fault)

    def _twice(self, members: Sequence[int]) -> str | None:
        """Two pieces that lie on each other."""
        known: dict[tuple[int, ...], list[int]] = defaultdict(list)
        for i in members:
            key = tuple(sorted((self.at[2 * i], self.at[2 * i + 1])))
            for other in known[key][:CROWD]:
                if _same_course(self.pieces[i], self.pieces[other]):
                    where = place_text(self.pieces[i].segments[0].middle)
                    return f"{self.pieces[i].name}: lies on {self.pieces[other].name} at {where} (delete one)"
            known[key].append(i)
        return None

    def _branching(self, members: Sequence[int], name: str) -> str | None:
        for i in members:
            for end in (2 * i, 2 * i + 1):
                count = len(self.meeting[self.at[end]])
                if count > 2:
                    where = place_text(self.ends[end])
                    return f"{name}: {count} ends meet at {where}, so it has no one way round (delete what is too much)"
        return None

    def _open(self, members: Sequence[int], name: str) -> str | None:
        loose = [end for i in members for end in (2 * i, 2 * i + 1) if len(self.meeting[self.at[end]]) == 1]
        if not loose:
            return None
        a, b = (self.ends[end] for end in loose[:2])
        gap = f"gap of {number_text(math.dist(a, b))} mm between {place_text(a)} and {place_text(b)}"
        return f"{name}: is not closed ({gap}; close it in your drawing program)"

    def _walked(self, first: int) -> Outline:
        segments: list[Segment] = []
        end = 2 * first
        while True:
            piece = self.pieces[end // 2].segments
            segments.extend(piece if end % 2 == 0 else [s.reversed() for s in reversed(piece)])
            arrived = end ^ 1
            end = next(e for e in self.meeting[self.at[arrived]] if e != arrived)
            if end // 2 == first:
                return _closed(segments)


def _clusters(ends: Sequence[Point], join: float) -> list[int]:
    """For each end the number of its place: the least of the ends that are there.

    Ends in one square of half a joint are at one place without a look at each two of them.
    """
    places = np.array(ends)
    with np.errstate(all="ignore"):
        squares = np.floor(places / (join / 2))
    squares = np.where(np.isfinite(squares), squares, places)
    _, firsts, square = np.unique(squares, axis=0, return_index=True, return_inverse=True)
    square = square.reshape(-1)
    least = firsts.tolist()
    up = list(range(len(least)))

    def root(i: int) -> int:
        while up[i] != i:
            up[i] = up[up[i]]
            i = up[i]
        return i

    for a, b in _near(places, square, join):
        low, high = sorted((root(a), root(b)), key=least.__getitem__)
        up[high] = low
    return [least[root(i)] for i in square.tolist()]


def _near(places: Any, square: Any, join: float) -> Iterator[tuple[int, int]]:
    """Each two squares of which an end is near one of the other's; of a crowded square only the first ends count."""
    order = np.argsort(square, kind="stable")
    begins = np.searchsorted(square[order], square[order])
    asked = order[np.arange(len(order)) - begins < CROWD]
    points = shapely.points(places[asked])
    tree, of = shapely.STRtree(points), square[asked]
    for at in range(0, len(asked), AT_ONCE):
        near = tree.query(points[at : at + AT_ONCE], predicate="dwithin", distance=join)
        pairs = np.stack([of[near[0] + at], of[near[1]]], axis=1)
        yield from map(tuple, np.unique(pairs[pairs[:, 0] < pairs[:, 1]], axis=0).tolist())


def _same_course(a: Drawn, b: Drawn) -> bool:
    """Whether two pieces with the same ends run alike: as long, and through the same middle."""
    lengths = [length_of(p.segments) for p in (a, b)]
    if abs(lengths[0] - lengths[1]) > 1e-3 * max(lengths):
        return False
    return math.dist(_half_way(a), _half_way(b)) < 1e-3 * max(lengths)


def _half_way(piece: Drawn) -> Point:
    left = length_of(piece.segments) / 2
    for s in piece.segments:
        if s.length >= left:
            break
        left -= s.length
    share = left / s.length
    if isinstance(s, Arc):
        return s.at(share)
    return Point(s.start.x + share * (s.end.x - s.start.x), s.start.y + share * (s.end.y - s.start.y))
