"""Gives the exact lines and arcs back to long rings of chords: what `exact` and `chain` do, for all edges at once.

`Puzzled` where that is not as plain as it should be; the patient way of `exact` is then taken instead.
"""

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import shapely

from jigtemplates.geometry.chain import GRID, ROUNDING, outline_of
from jigtemplates.geometry.chain import Run as OneRun
from jigtemplates.geometry.curves import SHORTEST, TANGENT, Circle, Straight
from jigtemplates.geometry.long import long_outline
from jigtemplates.geometry.many_curves import Curves, meetings
from jigtemplates.geometry.outline import TAU, Outline, Point
from jigtemplates.geometry.rims import Rim
from jigtemplates.geometry.table import Array, Indices, Mask, Table, cross, dot, norms, picked

#: An edge this near to a chord lies on it, mm (chosen: a tenth of the grid of `chain`).
ON = 1e-8
#: What only joins two far edges may be so long, mm (chosen: ten times `rims.NEAR`).
JOINT = 1e-5


class PuzzledError(Exception):
    """This ring is not for the quick way."""


class ApartError(PuzzledError):
    """Edges meet on chords that do not on their curves, or chords hide one: they are too coarse."""


@dataclass(frozen=True, eq=False)
class Chords:
    """The chords of all rims, one ring after the other."""

    begins: Array
    ends: Array
    #: the row of `Pieces` of each, -1 where it only joins two
    pieces: Indices
    #: the chord before each one in its ring
    before: Indices

    @staticmethod
    def of(rims: list[Rim], counts: list[int]) -> "Chords":
        """Of rims that have so many pieces each, which are counted through all of them."""
        begins, ends, rows, before = [], [], [], []
        chords = shift = 0
        for rim, pieces in zip(rims, counts, strict=True):
            count = len(rim.places)
            begins.append(rim.places)
            ends.append(np.roll(rim.places, -1, axis=0))
            rows.append(np.where(rim.pieces < 0, -1, rim.pieces + shift))
            before.append(chords + (np.arange(count) - 1) % count)
            chords, shift = chords + count, shift + pieces
        return Chords(*map(np.concatenate, (begins, ends, rows, before)))

    @cached_property
    def _sorted(self) -> tuple["np.ndarray[tuple[int], np.dtype[np.complex128]]", Indices]:
        keys = self.begins[:, 0] + 1j * self.begins[:, 1]
        order = np.argsort(keys, kind="stable")
        return keys[order], order

    @cached_property
    def tree(self) -> Any:
        """The chords, indexed by place."""
        return shapely.STRtree(shapely.linestrings(np.stack([self.begins, self.ends], axis=1)))

    def starting_at(self, places: Array) -> Indices:
        """The chord that begins at each place, to the last bit; -1 where there is none."""
        keys, order = self._sorted
        wanted = places[:, 0] + 1j * places[:, 1]
        at = np.minimum(np.searchsorted(keys, wanted), len(keys) - 1)
        return np.where(keys[at] == wanted, order[at], -1)

    def under(self, begins: Array, ends: Array) -> Indices:
        """The chord that each edge lies on, travelled as the chord is; PuzzledError where there is none."""
        starting = self.starting_at(begins)
        at_end = np.roll(starting, -1) if np.array_equal(begins[1:], ends[:-1]) else self.starting_at(ends)
        arriving = np.where(at_end >= 0, self.before[at_end], -1)
        found = np.where(starting >= 0, starting, arriving)
        doubtful = np.flatnonzero((starting != arriving) | (found < 0))
        if len(doubtful):
            found[doubtful] = self._decided(
                *(picked(column, doubtful) for column in (begins, ends, starting, arriving))
            )
        return found

    def _decided(self, begins: Array, ends: Array, starting: Indices, arriving: Indices) -> Indices:
        found = np.where(self._is_on(starting, begins, ends), starting, -1)
        found = np.where((found < 0) & self._is_on(arriving, begins, ends), arriving, found)
        lost = np.flatnonzero(found < 0)
        if len(lost):
            found[lost] = self.tree.nearest(shapely.points((begins[lost] + ends[lost]) / 2))
            if not self._is_on(found[lost], begins[lost], ends[lost]).all():
                raise PuzzledError("an edge lies on no chord")
        return found

    def _is_on(self, chords: Indices, begins: Array, ends: Array) -> Mask:
        a, b = picked(self.begins, chords), picked(self.ends, chords)
        steps = b - a
        lengths = np.maximum(norms(steps), GRID)
        unit = steps / lengths[:, None]
        is_on = (chords >= 0) & (np.abs(cross(unit, begins - a)) < ON) & (np.abs(cross(unit, ends - a)) < ON)
        first, last = dot(unit, begins - a), dot(unit, ends - a)
        found: Mask = is_on & (first > -ON) & (last < lengths + ON) & (last > first - ON)
        return found


@dataclass(frozen=True, eq=False)
class Runs:
    """`chain.Run` in columns: successive edges of a ring on one curve."""

    curves: Curves
    begins: Array
    middles: Array
    turns: Array

    def __len__(self) -> int:
        """How many."""
        return len(self.turns)

    def rows(self, which: Mask | Indices) -> "Runs":
        """Some of them."""
        return Runs(self.curves.rows(which), *(picked(c, which) for c in (self.begins, self.middles, self.turns)))

    def objects(self) -> list[OneRun]:
        """One by one."""
        curves = zip(
            self.curves.is_circle.tolist(),
            self.curves.places.tolist(),
            self.curves.along.tolist(),
            self.curves.radii.tolist(),
            strict=True,
        )
        lines = [Circle(Point(*p), r) if is_circle else Straight(Point(*p), Point(*u)) for is_circle, p, u, r in curves]
        rest = zip(lines, self.begins.tolist(), self.middles.tolist(), self.turns.astype(int).tolist(), strict=True)
        return [OneRun(line, Point(*begin), Point(*middle), turn) for line, begin, middle, turn in rest]


def runs_on(chords: Chords, curves: Curves, points: Array, under: Indices) -> Runs:
    """The runs of a closed ring of points, of whose edges each lies on a chord."""
    steps = points[1:] - points[:-1]
    lengths = norms(steps)
    rows = chords.pieces[under]
    if np.any((rows < 0) & (lengths > JOINT)):
        raise PuzzledError("an edge that is no far edge")
    proper = (lengths > 2 * GRID) & (rows >= 0)
    begins, steps, lengths, rows = (picked(column, proper) for column in (points[:-1], steps, lengths, rows))
    if not len(rows):
        raise PuzzledError("no edges")
    changes = np.flatnonzero(rows != np.roll(rows, 1))
    changes = changes if len(changes) else np.zeros(1, dtype=np.intp)
    turn = -int(changes[0])
    begins, steps, lengths, rows = (np.roll(column, turn, axis=0) for column in (begins, steps, lengths, rows))
    firsts = changes + turn
    travelled = np.cumsum(lengths)
    until = np.r_[firsts[1:], len(rows)] - 1
    halves = (travelled[firsts] - lengths[firsts] + travelled[until]) / 2
    at = np.clip(np.searchsorted(travelled, halves), firsts, until)
    found = curves.rows(rows[firsts])
    fixed = np.repeat(np.where(found.is_circle[:, None], found.places, 0.0), until - firsts + 1, axis=0)
    along = np.repeat(found.along, until - firsts + 1, axis=0)
    arms = begins + steps / 2 - fixed
    onward = np.where(np.repeat(found.is_circle, until - firsts + 1), cross(arms, steps), dot(steps, along))
    turns = np.where(np.add.reduceat(onward, firsts) > 0, 1.0, -1.0)
    runs = Runs(found, picked(begins, firsts), picked(begins + steps / 2, at), turns)
    is_new = ~_goes_on(runs)
    return runs.rows(is_new if is_new.any() else np.arange(len(runs)) == 0)


def _goes_on(runs: Runs) -> Mask:
    """As `chain.same_curve` of each with the one before it."""
    a, b = (runs.rows(which) for which in (np.roll(np.arange(len(runs)), 1), np.arange(len(runs))))
    one, two = a.curves, b.curves
    circles, lines = one.is_circle & two.is_circle, ~(one.is_circle | two.is_circle)
    apart = norms(one.places - two.places) + np.abs(one.radii - two.radii)
    round_ = circles & (apart < TANGENT) & (a.turns == b.turns)
    off = np.maximum(np.abs(one.across(two.places)), np.abs(two.across(one.places)))
    beside = np.abs(one.across(b.begins) - two.across(b.begins))
    ahead = dot(one.along, two.along) * a.turns * b.turns > 0
    found: Mask = round_ | (lines & ahead & (off < TANGENT) & (beside < 10 * GRID))
    return found


def chain_of(runs: Runs, ccw: bool) -> Outline | None:
    """As `chain.outline_of`: the closed chain of the runs' curves."""
    if len(runs) < 3:
        return outline_of(runs.objects(), ccw)
    corners = _corners(runs)
    while (backward := _is_backward(runs, corners)).any() and backward.sum() < len(runs) - 1:
        runs = runs.rows(~backward | np.roll(backward, 1))
        corners = _corners(runs)
    ends = np.roll(corners, -1, axis=0)
    short = norms(ends - corners) < SHORTEST
    if not short.any():
        return long_outline(_table(runs, corners, ends))
    if np.any(_is_full_turn(runs, corners, short)) or len(runs) - short.sum() < 3:
        return outline_of(runs.objects(), ccw)
    return long_outline(_without_tiny(runs, corners, ends, short))


def _corners(runs: Runs) -> Array:
    """Where each run begins: where its curve meets the one before it."""
    before = runs.curves.rows(np.roll(np.arange(len(runs)), 1))
    places, gaps = meetings(before, runs.curves, runs.begins)
    if np.any(gaps > SHORTEST):
        raise ApartError("two edges do not meet")
    return places


def _is_backward(runs: Runs, corners: Array) -> Mask:
    ends = np.roll(corners, -1, axis=0)
    steps = ends - corners
    onward = runs.turns * dot(runs.curves.along, steps)
    circle = np.flatnonzero(runs.curves.is_circle)
    if len(circle):
        centers, turns = picked(runs.curves.places, circle), runs.turns[circle]
        a, m, b = (_angle(picked(places, circle) - centers) for places in (corners, runs.middles, ends))
        onward[circle] = _ahead(turns * (m - a)) + _ahead(turns * (b - m))
    found: Mask = (onward < 0) & (norms(steps) >= SHORTEST)
    return found


def _angle(arms: Array) -> Array:
    found: Array = np.arctan2(arms[:, 1], arms[:, 0])
    return found


def _ahead(angles: Array) -> Array:
    """From a quarter turn back to three quarters ahead."""
    found: Array = (angles + math.pi / 2) % TAU - math.pi / 2
    return found


def _is_full_turn(runs: Runs, corners: Array, short: Mask) -> Mask:
    radii = runs.curves.radii
    away = norms(runs.middles - corners)
    found: Mask = short & runs.curves.is_circle & (radii >= SHORTEST) & (away > radii)
    return found


def _table(runs: Runs, starts: Array, ends: Array) -> Table:
    circle = runs.curves.is_circle
    centers = np.where(circle[:, None], runs.curves.places, 0.0)
    return Table(starts, ends, centers, np.where(circle, runs.curves.radii, 0.0), np.where(circle, runs.turns, 0.0))


def _without_tiny(runs: Runs, starts: Array, ends: Array, short: Mask) -> Table:
    """As `chain._segments`: edges too short to be shape are taken out, their neighbours drawn together.

    Where one goes whose neighbour went before it, the one before that is its neighbour now.
    """
    order = np.roll(np.arange(len(runs)), -int(np.argmin(short)))
    runs, starts, ends, short = runs.rows(order), picked(starts, order), picked(ends, order), short[order]
    gone, curves, left = np.zeros(len(runs), dtype=bool), runs.curves, len(runs)
    tiny = np.flatnonzero(short)
    joints, joins = _joints(curves, tiny - 1, (tiny + 1) % len(runs), starts[tiny], ends[tiny])
    for i, joint, does_join in zip(tiny.tolist(), joints, joins.tolist(), strict=True):
        before, after = i - 1, (i + 1) % len(runs)
        if gone[before]:
            while gone[before]:
                before -= 1
            rows = np.array([before]), np.array([after])
            (joint,), (does_join,) = _joints(curves, *rows, ends[[before]], ends[[i]])
        if does_join and left > 3:
            ends[before], starts[after], gone[i] = joint, joint, True
            left -= 1
        else:
            starts[i] = ends[before]
    table = _table(runs.rows(~gone), picked(starts, ~gone), picked(ends, ~gone))
    return Table(np.roll(table.ends, 1, axis=0), table.ends, table.centers, table.radii, table.turns)


def _joints(curves: Curves, before: Indices, after: Indices, starts: Array, ends: Array) -> tuple[Array, Mask]:
    """As `chain._joint` for each: the places, and whether the neighbours may be drawn together there."""
    a, b = curves.rows(before), curves.rows(after)
    places, gaps = meetings(a, b, ends)
    places = np.where((gaps > SHORTEST)[:, None], starts, places)
    moved = np.maximum(norms(places - starts), norms(places - ends))
    good = (moved < SHORTEST) & (np.maximum(a.off(places), b.off(places)) < TANGENT)
    return np.where(good[:, None], places, ends), good | (norms(ends - starts) < ROUNDING)
