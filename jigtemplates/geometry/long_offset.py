"""Offsets of boundaries of very many segments, all segments at once; exact like those of `offset`.

The far edges of what each ring sweeps follow one another as one line (`rims`), and shapely finds what that line
winds around. Whether it is the offset is then looked at: the line has parts that bound the answer and parts that do
not, and of each one place is measured against the whole boundary. `PuzzledError` where anything does not agree;
`offset` then unites the sweeps one by one, as it does for ordinary outlines.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from jigtemplates.geometry.chain import GRID
from jigtemplates.geometry.exact import is_there
from jigtemplates.geometry.long import table_of
from jigtemplates.geometry.many_places import are_too_near, distances_to
from jigtemplates.geometry.outline import Outline, Region, Regions
from jigtemplates.geometry.rebuild import JOINT, ApartError, Chords, PuzzledError, chain_of, runs_on
from jigtemplates.geometry.rims import Pieces, Reach, Rim, rim_of
from jigtemplates.geometry.table import Array, Indices, Table, cross, norms, on_circles, picked

__all__ = ["Limits", "PuzzledError", "long_offset"]


@dataclass(frozen=True, slots=True)
class Limits:
    """What is no shape, as in `exact.exact_regions`, mm."""

    thin: float
    film: float
    is_finest: bool


def long_offset(regions: Regions, reach: Reach, is_real: Callable[[Outline], bool], limits: Limits) -> Regions:
    """The offset; PuzzledError where this is not the way to it, UnclearError as `exact_regions`."""
    tables = [[table_of(ring) for ring in region.rings] for region in regions]
    swept = [[_swept(table, reach, number == 0) for number, table in enumerate(rings)] for rings in tables]
    bodies = [
        shapely.polygons(outer.places, holes=[shapely.linearrings(hole.places) for hole, _ in holes] or None)
        for (outer, _), *holes in swept
    ]
    try:
        area = shapely.buffer(shapely.multipolygons(bodies) if len(bodies) > 1 else bodies[0], 0)
    except shapely.errors.GEOSException:
        raise PuzzledError("shapely cannot node it") from None
    every = [one for rings in swept for one in rings]
    chords = Chords.of([rim for rim, _ in every], [len(pieces) for _, pieces in every])
    answer = _Answer(chords, Pieces.joined([pieces for _, pieces in every]), is_real, limits)
    found = tuple(answer.regions(area))
    answer.check(Table.joined([table for rings in tables for table in rings]), reach)
    return found


def _swept(table: Table, reach: Reach, is_outer: bool) -> tuple[Rim, Pieces]:
    """One ring's line; it must run the way its ring does, or shapely takes its outside for its inside."""
    found = None if np.any(table.is_arc & (table.radii == 0)) else rim_of(table, reach)
    if found is None:
        raise PuzzledError("nothing is left of a ring")
    if (_area(found[0].places) > 0) != is_outer:
        raise PuzzledError("a ring is turned inside out")
    return found


def _area(places: Array) -> float:
    moved = places - places[0]
    return float(cross(moved, np.roll(moved, -1, axis=0)).sum()) / 2


class _Answer:
    """Exact rings for those that shapely found, and where they must be looked at."""

    def __init__(self, chords: Chords, pieces: Pieces, is_real: Callable[[Outline], bool], limits: Limits) -> None:
        self.chords, self.pieces, self.is_real, self.limits = chords, pieces, is_real, limits
        #: the chords that bound the answer
        self.used = np.zeros(len(chords.before), dtype=bool)
        #: how much of each does, mm
        self.covered = np.zeros(len(chords.before))
        self.outlines: list[Outline] = []
        #: a place on each part of the answer's boundary between two crossings
        self.bounding: list[Array] = []

    def regions(self, area: Any) -> Iterator[Region]:
        """As `exact_regions`."""
        parts = [p for p in shapely.get_parts(area) if not p.is_empty]
        for polygon in sorted(parts, key=lambda p: p.bounds):
            outer = self._ring(shapely.get_exterior_ring(polygon), True)
            if outer is None:
                continue
            inner = (self._ring(ring, False) for ring in sorted(polygon.interiors, key=lambda r: r.bounds))
            yield Region(outer, tuple(ring for ring in inner if ring is not None))

    def _ring(self, ring: Any, ccw: bool) -> Outline | None:
        points = shapely.get_coordinates(ring)
        area, length = _area(points), ring.length
        if (area > 0) != ccw:
            points = points[::-1]
        under = self.chords.under(points[:-1], points[1:])
        self.used[under] = True
        np.add.at(self.covered, under, norms(points[1:] - points[:-1]))
        if 2 * abs(area) <= self.limits.film * length:
            return None
        self._note(points, under)
        if abs(area) > self.limits.thin * length:
            return self._kept(self._outline(points, under, ccw))
        try:
            outline = self._outline(points, under, ccw)
        except PuzzledError:
            return None
        if outline is None or not is_there(outline, ring, self.limits.thin, self.limits.is_finest):
            return None
        return self._kept(outline) if self.is_real(outline) else None

    def _kept(self, outline: Outline | None) -> Outline | None:
        self.outlines += [] if outline is None else [outline]
        return outline

    def _outline(self, points: Array, under: Indices, ccw: bool) -> Outline | None:
        return chain_of(runs_on(self.chords, self.pieces.curves, points, under), ccw)

    def _note(self, points: Array, under: Indices) -> None:
        """A place on each part of a ring that begins where it goes over from one chord to one that is not the next."""
        breaks = np.flatnonzero(np.roll(under, 1) != self.chords.before[under])
        firsts = breaks if len(breaks) else np.zeros(1, dtype=np.intp)
        counts = np.diff(np.r_[firsts, firsts[0] + len(under)])
        middles = (firsts + counts // 2) % len(under)
        self.bounding.append(self._on_rim((points[middles] + points[middles + 1]) / 2, under[middles]))

    def _on_rim(self, places: Array, chords: Indices) -> Array:
        """Places on chords moved to the far edge itself."""
        rows = self.chords.pieces[chords]
        centers, far = picked(self.pieces.places, rows), self.pieces.far[rows]
        arms = places - centers
        is_round = self.pieces.is_circle[rows] & (rows >= 0)
        moved: Array = np.where(is_round[:, None], on_circles(centers, far, np.arctan2(arms[:, 1], arms[:, 0])), places)
        return moved

    def check(self, boundary: Table, reach: Reach) -> None:
        """PuzzledError where a part that bounds the answer is too near to the boundary, or one that does not is not.

        ApartError where a corner is, or places beside it, so that chords must have hidden an edge there.
        """
        if self.bounding:
            bounding = distances_to(np.concatenate(self.bounding), boundary)
            if np.any(bounding < reach.distance - 3 * abs(reach.slack)):
                raise PuzzledError("the answer is too near")
        left_out = self._left_out()
        if len(left_out) and np.any(distances_to(left_out, boundary) > reach.whole - GRID):
            raise PuzzledError("something was left out")
        if not self.limits.is_finest:
            for into, out in self._doubtful(4 * reach.chord):
                if are_too_near(into, out, boundary, reach.distance, 3 * abs(reach.slack)):
                    raise ApartError("an edge was lost at a corner")

    def _doubtful(self, near: float) -> Iterator[tuple[Table, Table]]:
        """Segments that end and that begin at corners with some far edge near (mm) that the answer does not have."""
        lengths = norms(self.chords.ends - self.chords.begins)
        hidden = np.flatnonzero((self.chords.pieces >= 0) & (lengths - self.covered > JOINT))
        if not len(hidden):
            return
        chords = np.stack([picked(self.chords.begins, hidden), picked(self.chords.ends, hidden)], axis=1)
        tree = shapely.STRtree(shapely.linestrings(chords))
        for table in map(table_of, self.outlines):
            corners, _ = tree.query(shapely.points(table.starts), predicate="dwithin", distance=near)
            rows = np.unique(corners)
            if len(rows):
                yield table.rows((rows - 1) % len(table)), table.rows(rows)

    def _left_out(self) -> Array:
        """A place on each part of the far edges that the answer does not have."""
        unused = np.flatnonzero(~self.used & (self.chords.pieces >= 0))
        if not len(unused):
            return np.empty((0, 2))
        begins = np.flatnonzero(np.r_[True, self.chords.before[unused[1:]] != unused[:-1]])
        lengths = norms(self.chords.ends[unused] - self.chords.begins[unused])
        wide = np.add.reduceat(lengths, begins) > JOINT
        middles = unused[(begins + np.diff(np.r_[begins, len(unused)]) // 2)[wide]]
        return self._on_rim((self.chords.begins[middles] + self.chords.ends[middles]) / 2, middles)
