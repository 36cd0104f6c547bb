"""The segments of an outline as columns of numbers, for what is done to all of them at once."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, overload

import numpy as np
from numpy.typing import NDArray

from jigtemplates.geometry.outline import TAU, Arc, Line, Point, Segment

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Indices = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Table:
    """A row for each segment, mm; what a line has no use for is 0."""

    #: n by 2
    starts: Array
    ends: Array
    centers: Array
    radii: Array
    #: +1 counter-clockwise, -1 clockwise, 0 for a line
    turns: Array

    @staticmethod
    def of(segments: Sequence[Segment]) -> "Table":
        """The columns of lines and arcs."""
        rows = np.array(
            [
                (*s.start, *s.end, *s.center, s.radius, s.turn)
                if isinstance(s, Arc)
                else (*s.start, *s.end, 0, 0, 0, 0)
                for s in segments
            ],
            dtype=float,
        ).reshape(-1, 8)
        return Table(rows[:, :2], rows[:, 2:4], rows[:, 4:6], rows[:, 6], rows[:, 7])

    @staticmethod
    def polygon(points: Array) -> "Table":
        """Straights through the points and back to the first."""
        none = np.zeros(len(points))
        return Table(points, np.roll(points, -1, axis=0), np.zeros_like(points), none, none)

    @staticmethod
    def from_bulges(points: Array, bulges: Array) -> "Table":
        """A closed polyline with bulges, as `outline.segment_from_bulge` has it."""
        ends = np.roll(points, -1, axis=0)
        bent = bulges != 0
        safe = np.where(bent, bulges, 1.0)
        (dx, dy), k = (ends - points).T, (1 - safe**2) / (4 * safe)
        centers = (points + ends) / 2 + k[:, None] * np.column_stack([-dy, dx])
        radii = np.hypot(dx, dy) * (1 + safe**2) / (4 * np.abs(safe))
        return Table(points, ends, np.where(bent[:, None], centers, 0.0), np.where(bent, radii, 0.0), np.sign(bulges))

    @staticmethod
    def joined(tables: Sequence["Table"]) -> "Table":
        """The rows of several, one after the other."""
        if len(tables) == 1:
            return tables[0]
        columns = zip(*((t.starts, t.ends, t.centers, t.radii, t.turns) for t in tables), strict=True)
        return Table(*map(np.concatenate, columns))

    def __len__(self) -> int:
        """How many segments."""
        return len(self.turns)

    @cached_property
    def has_arcs(self) -> bool:
        """Whether there is one."""
        return bool(self.turns.any())

    def rows(self, which: Mask | Indices | slice) -> "Table":
        """Some of the segments."""
        columns = (self.starts, self.ends, self.centers, self.radii, self.turns)
        return Table(*(picked(column, which) for column in columns))

    def segments(self) -> Iterable[Segment]:
        """The segments themselves, in order."""
        starts, ends = ([Point(x, y) for x, y in places.tolist()] for places in (self.starts, self.ends))
        if not self.has_arcs:
            return map(Line, starts, ends)
        turns, radii, centers = self.turns.astype(int).tolist(), self.radii.tolist(), self.centers.tolist()
        return (
            Arc(start, end, Point(*center), radius, turn) if turn else Line(start, end)
            for start, end, center, radius, turn in zip(starts, ends, centers, radii, turns, strict=True)
        )

    @cached_property
    def is_arc(self) -> Mask:
        """True for the arcs."""
        found: Mask = self.turns != 0
        return found

    @cached_property
    def start_angles(self) -> Array:
        """As `Arc.start_angle`; of no meaning for a line."""
        arms = self.starts - self.centers
        found: Array = np.arctan2(arms[:, 1], arms[:, 0])
        return found

    @cached_property
    def sweeps(self) -> Array:
        """As `Arc.sweep`, 0 for a line."""
        if not self.has_arcs:
            return np.zeros(len(self))
        arms = self.ends - self.centers
        ahead = (self.turns * (np.arctan2(arms[:, 1], arms[:, 0]) - self.start_angles)) % TAU
        whole = ~differ(self.starts, self.ends)
        swept: Array = np.where(self.is_arc, self.turns * np.where(whole, TAU, ahead), 0.0)
        return swept

    @cached_property
    def lengths(self) -> Array:
        """Of each segment, mm."""
        found = norms(self.ends - self.starts)
        if self.has_arcs:
            found = np.where(self.is_arc, np.abs(self.sweeps) * self.radii, found)
        return found

    @cached_property
    def middles(self) -> Array:
        """Half-way along each."""
        middles: Array = (self.starts + self.ends) / 2
        if self.has_arcs:
            middles = np.where(self.is_arc[:, None], self.at(0.5), middles)
        return middles

    def at(self, fraction: float | Array) -> Array:
        """The place a fraction of the way along each arc."""
        return on_circles(self.centers, self.radii, self.start_angles + fraction * self.sweeps)


class Rows(Sequence[Segment]):
    """Very many lines and arcs, kept as columns of numbers and made one by one as they are asked for."""

    def __init__(self, table: Table) -> None:
        self.table = table

    def __len__(self) -> int:
        """How many."""
        return len(self.table)

    def __iter__(self) -> Iterator[Segment]:
        """Each in turn."""
        return iter(self.table.segments())

    @overload
    def __getitem__(self, which: int) -> Segment: ...
    @overload
    def __getitem__(self, which: slice) -> "Rows": ...
    def __getitem__(self, which: int | slice) -> "Segment | Rows":
        """One or some of them."""
        if isinstance(which, slice):
            return Rows(self.table.rows(which))
        (segment,) = self.table.rows(np.array([which])).segments()
        return segment


def rows_of(segments: Sequence[Segment]) -> Table:
    """The columns of segments in a row."""
    return segments.table if isinstance(segments, Rows) else Table.of(segments)


def picked(column: NDArray[Any], which: Mask | Indices | slice) -> NDArray[Any]:
    """Some rows: as column[which], which takes ten times as long where rows are pairs."""
    if isinstance(which, slice):
        return column[which]
    return column.compress(which, axis=0) if which.dtype == bool else column.take(which, axis=0)


def put(places: Array, which: Mask | Indices, values: Array) -> None:
    """As places[which] = values, n by 2 and in one piece, and likewise."""
    as_one = places.view(np.complex128).ravel()
    as_one[which] = np.ascontiguousarray(values).view(np.complex128).ravel()


def norms(steps: Array) -> Array:
    """Length of each of n by 2, mm."""
    found: Array = np.sqrt(steps[:, 0] ** 2 + steps[:, 1] ** 2)
    return found


def dot(a: Array, b: Array) -> Array:
    """The inner product of each pair, n by 2."""
    found: Array = a[:, 0] * b[:, 0] + a[:, 1] * b[:, 1]
    return found


def cross(a: Array, b: Array) -> Array:
    """Of each pair, n by 2, how far b points to the left of a."""
    found: Array = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return found


def differ(a: Array, b: Array) -> Mask:
    """Which rows of two are not the same place."""
    found: Mask = (a[:, 0] != b[:, 0]) | (a[:, 1] != b[:, 1])
    return found


def on_circles(centers: Array, radii: Array, angles: Array) -> Array:
    """A place on each circle."""
    found: Array = centers + radii[:, None] * np.column_stack([np.cos(angles), np.sin(angles)])
    return found


def counted(counts: NDArray[np.int64]) -> tuple[Indices, Indices]:
    """For rows of which each stands for several places: the row of every place, and its number there from 0."""
    rows = np.repeat(np.arange(len(counts)), counts)
    return rows, np.arange(len(rows)) - np.repeat(np.cumsum(counts) - counts, counts)
