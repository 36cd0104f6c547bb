"""Gives the exact lines and arcs back to a polygon that was computed on chords.

shapely decides topology on flattened outlines: which parts survive, split or vanish. Every edge of
its answer lies on a chord of some known exact curve, a `Piece`. Here each edge is labelled with its
piece, runs of one label become one line or arc, and neighbouring pieces are intersected exactly, so
that no chord's error is left in the result.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.geometry.chain import GRID, Coordinates, Run, outline_of, runs_of, same_curve
from jigtemplates.geometry.curves import Curve, GeometryError, curve_of, meeting
from jigtemplates.geometry.outline import Outline, Region, Regions

__all__ = ["THIN", "GeometryError", "Piece", "UnclearError", "curve_of", "exact_regions", "meeting"]

#: A ring whose area is less than its length times this may be nothing but the gap between two curves'
#: chords, mm. Chosen: twice the chord tolerance of `offset`.
THIN = 2e-3

#: A ring thinner than this (twice its area by its length) is a gap of the noding, never shape, mm.
#: Chosen: a tenth of the slack of `offset`, which every part that only just fits is at least as thick as.
FILM = 5e-7


class UnclearError(GeometryError):
    """The chords are too coarse to tell; never seen by a person."""


@dataclass(frozen=True, slots=True)
class Piece:
    """An exact curve and the chords that stood for it when topology was decided."""

    curve: Curve
    chords: Coordinates


def exact_regions(
    area: Any,
    pieces: Sequence[Piece],
    is_real: Callable[[Outline], bool],
    *,
    thin: float = THIN,
    film: float = FILM,
    is_finest: bool = True,
) -> Regions:
    """The exact regions for a shapely area whose every edge lies on one of the pieces' chords.

    Two curves that run close together can leave, between their chords, a thin ring that is not there on
    the curves themselves: is_real decides of every thin ring's exact outline; thinner than film (mm) none
    is. A part that is a single place becomes a circle of radius 0. Raises UnclearError where a thin ring
    may look different on finer chords, unless these are the finest, and GeometryError where neighbouring
    curves do not meet, which would mean that the area does not come from these pieces.
    """
    rebuild = _Rebuild(pieces, is_real, thin, film, is_finest)
    regions = []
    for polygon in _polygons(area):
        outer = rebuild.ring(shapely.get_exterior_ring(polygon), True)
        if outer is None:
            continue
        inner = (rebuild.ring(r, False) for r in sorted(polygon.interiors, key=lambda r: r.bounds))
        regions.append(Region(outer, tuple(r for r in inner if r is not None)))
    return tuple(regions)


def _polygons(area: Any) -> Iterator[Any]:
    """Polygons of an area in an order that does not depend on how it was computed."""
    parts = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon" and not p.is_empty]
    return iter(sorted(parts, key=lambda p: p.bounds))


@dataclass(frozen=True)
class _Rebuild:
    """What is needed to turn a ring of chords into an exact outline."""

    pieces: Sequence[Piece]
    is_real: Callable[[Outline], bool]
    thin: float
    film: float
    is_finest: bool

    @cached_property
    def tree(self) -> Any:
        """The pieces' chords, indexed by place."""
        return shapely.STRtree(lines_through([p.chords for p in self.pieces]))

    def ring(self, ring: Any, ccw: bool) -> Outline | None:
        """The exact outline of a ring, or None where there is nothing but chords' rounding."""
        points = shapely.get_coordinates(ring)
        area, length = _shoelace(points), ring.length
        if (area > 0) != ccw:
            points = points[::-1]
        if 2 * abs(area) <= self.film * length:
            return None
        if abs(area) > self.thin * length:
            return outline_of(self.runs(points), ccw)
        try:
            outline = outline_of(self.runs(points), ccw)
        except GeometryError:
            return None
        if outline is None or not is_there(outline, ring, self.thin, self.is_finest):
            return None
        return outline if self.is_real(outline) else None

    @cached_property
    def chords(self) -> "_Chords":
        """The pieces' chords, indexed by their ends."""
        return _Chords.of(self.pieces)

    def _labels(self, begins: Coordinates, ends: Coordinates) -> NDArray[np.int64]:
        """The piece that each edge lies on: mostly it is one of the piece's chords, else the nearest counts."""
        labels = self.chords.labels(begins, ends)
        parts = np.flatnonzero(labels < 0)
        if len(parts):
            labels[parts] = self.tree.nearest(shapely.points((begins[parts] + ends[parts]) / 2))
        return labels

    def runs(self, points: Coordinates) -> list[Run]:
        """The ring's edges gathered into runs on one curve; the first run begins at a change of curve."""
        steps = points[1:] - points[:-1]
        proper = np.hypot(steps[:, 0], steps[:, 1]) > 2 * GRID
        begins, ends, steps = points[:-1][proper], points[1:][proper], steps[proper]
        if len(steps) == 0:
            return []
        middles = begins + steps / 2
        labels = self._labels(begins, ends)
        changes = np.flatnonzero(labels != np.roll(labels, 1))
        first = int(changes[0]) if len(changes) else 0
        labels = np.roll(labels, -first)
        begins, steps, middles = (np.roll(a, -first, axis=0) for a in (begins, steps, middles))
        firsts = changes - first if len(changes) else np.zeros(1, dtype=np.int64)
        curves = [self.pieces[label].curve for label in labels[firsts].tolist()]
        runs: list[Run] = []
        for run in runs_of(curves, firsts, begins, middles, steps):
            if not runs or not same_curve(runs[-1], run):
                runs.append(run)
        if len(runs) > 1 and same_curve(runs[-1], runs[0]):
            runs[0] = Run(runs[-1].curve, runs[-1].begin, runs[0].middle, runs[-1].turn)
            runs.pop()
        return runs


def is_there(outline: Outline, ring: Any, thin: float, is_finest: bool) -> bool:
    """Whether a thin ring's exact outline is that ring and not something its curves have elsewhere."""
    if abs(outline.area) > 2 * thin * ring.length:
        return False
    if abs(outline.length - ring.length) <= 0.01 * ring.length + thin:
        return True
    if not is_finest:
        raise UnclearError("a thin part needs finer chords")
    left, bottom, right, top = ring.bounds
    x, y = outline.bounds.center
    return bool(left - GRID < x < right + GRID and bottom - GRID < y < top + GRID)


@dataclass(frozen=True, slots=True)
class _Chords:
    """Chords sorted by where they begin, both ways round; places are complex numbers here."""

    begins: NDArray[np.complex128]
    ends: NDArray[np.complex128]
    pieces: NDArray[np.int64]

    @staticmethod
    def of(pieces: Sequence[Piece]) -> "_Chords":
        """The chords of all pieces."""
        counts = [len(p.chords) - 1 for p in pieces]
        a = _complex(np.concatenate([p.chords[:-1] for p in pieces]))
        b = _complex(np.concatenate([p.chords[1:] for p in pieces]))
        which = np.repeat(np.arange(len(pieces)), counts)
        begins = np.concatenate([a, b])
        order = np.argsort(begins, kind="stable")
        return _Chords(begins[order], np.concatenate([b, a])[order], np.concatenate([which, which])[order])

    def labels(self, begins: Coordinates, ends: Coordinates) -> NDArray[np.int64]:
        """The piece whose chord runs from each begin to each end, to the last bit; -1 where there is none."""
        labels = np.full(len(begins), -1)
        starts, stops = _complex(begins), _complex(ends)
        at = np.searchsorted(self.begins, starts)
        for ahead in range(3):  # two pieces' chords begin where the pieces join, one on either side
            here = np.minimum(at + ahead, len(self.begins) - 1)
            found = (self.begins[here] == starts) & (self.ends[here] == stops)
            labels[found] = self.pieces[here[found]]
        return labels


def _complex(points: Coordinates) -> NDArray[np.complex128]:
    return points[:, 0] + 1j * points[:, 1]


def lines_through(chains: Sequence[Coordinates]) -> Any:
    """One shapely line string for each chain of points."""
    which = np.repeat(np.arange(len(chains)), [len(c) for c in chains])
    return shapely.linestrings(np.concatenate(chains), indices=which)


def _shoelace(points: Coordinates) -> float:
    x, y = points[:, 0] - points[0, 0], points[:, 1] - points[0, 1]
    return float(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1])) / 2
