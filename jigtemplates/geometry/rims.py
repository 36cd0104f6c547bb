"""The far edges of what a long boundary sweeps, end to end as one closed line on chords for each ring.

Such a line goes round every place once more for each strip that covers it, so that what is covered is where it
winds around more than for nothing. Neighbouring far edges that cross are cut off where they cross; what its
neighbours cover of a far edge is left out first. What is left to cross is left to shapely.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from jigtemplates.geometry.bands import LAP
from jigtemplates.geometry.many_curves import Curves, meetings
from jigtemplates.geometry.outline import TAU
from jigtemplates.geometry.table import (
    Array,
    Indices,
    Mask,
    Table,
    counted,
    cross,
    differ,
    dot,
    norms,
    on_circles,
    picked,
    put,
)

#: As in `sweeps`: where an outline all but turns back; radians.
REVERSAL = 0.01
#: As in `sweeps`: numbers of chords in a full circle go up by this factor.
STEP = 2**0.25
#: A far edge counts as covered this far within what covers it, mm (chosen: a thousand times rounding at 1 m).
WITHIN = 1e-9
#: What is inside by less may lie on the border, mm (chosen: a hundred times rounding at 1 m).
SURE = 1e-10
#: Two far edges that all but cross, this far beyond their ends, do, mm (chosen: ten times the grid of `chain`).
NEAR = 1e-6
#: Neighbours looked at on either side, and how often (chosen: what they leave is left to shapely).
AHEAD, ROUNDS = 3, 40
#: So many on either side of a far edge that cannot be cut off are crowded with it (chosen: likewise).
AROUND = 8


@dataclass(frozen=True, eq=False)
class Pieces:
    """Exact curves, a row each, in the order in which a ring's far edges follow one another; mm."""

    is_circle: Mask
    #: a place on the line, or the centre
    places: Array
    #: unit direction of the line
    along: Array
    #: of the circle itself, and of its chords
    radii: Array
    far: Array
    #: ends of the far edge
    first: Array
    last: Array
    #: direction from the centre to the first end, and the way round to the last, radians
    angles: Array
    sweeps: Array
    #: the place or the edge that was swept
    source: Array
    source_end: Array
    #: True where the far edge goes on where the one before it ends
    follows: Mask
    #: the part of the far edge that is left, each from 0 to 1
    low: Array
    high: Array

    def __len__(self) -> int:
        """How many there are."""
        return len(self.radii)

    @property
    def lengths(self) -> Array:
        """Of the far edges, never 0."""
        found = np.where(self.is_circle, self.far * np.abs(self.sweeps), norms(self.last - self.first))
        return np.maximum(found, NEAR)

    @property
    def curves(self) -> "Curves":
        """The exact curves."""
        return Curves(self.is_circle, self.places, self.along, self.radii)

    @property
    def rims(self) -> "Curves":
        """The curves of the far edges."""
        return Curves(self.is_circle, np.where(self.is_circle[:, None], self.places, self.first), self.along, self.far)

    @staticmethod
    def joined(several: "list[Pieces]") -> "Pieces":
        """The rows of several, one after the other."""
        if len(several) == 1:
            return several[0]
        names = Pieces.__dataclass_fields__
        return Pieces(**{name: np.concatenate([getattr(one, name) for one in several]) for name in names})

    def taken(self, which: Indices) -> "Pieces":
        """Some of them."""
        return Pieces(**{name: picked(getattr(self, name), which) for name in self.__dataclass_fields__})

    def left(self, which: Mask) -> "Pieces":
        """Those that are left over; one whose forerunner is gone follows nothing."""
        if which.all():
            return self
        kept = np.flatnonzero(which)
        found = self.taken(kept)
        return replace(found, follows=found.follows & (np.roll(kept, 1) == (kept - 1) % len(self)))

    def at(self, share: Array) -> Array:
        """The places on the far edges so far along them."""
        straight = self.first + share[:, None] * (self.last - self.first)
        if not self.is_circle.any():
            return straight
        round_ = on_circles(self.places, self.far, self.angles + share * self.sweeps)
        ends = np.where((share <= 0)[:, None], self.first, np.where((share >= 1)[:, None], self.last, round_))
        found: Array = np.where(self.is_circle[:, None], ends, straight)
        return found


@dataclass(frozen=True, eq=False)
class Rim:
    """A closed line on chords; chord i runs from place i to the next one."""

    places: Array
    #: the row of `Pieces` that each chord belongs to, -1 where it only joins two
    pieces: Indices


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a boundary is swept to which side, as in `sweeps.Sweeps`."""

    distance: float
    side: int
    slack: float
    chord: float

    @property
    def whole(self) -> float:
        """Width of the strips, mm."""
        return self.distance + self.slack

    def chords_in_circle(self, radii: Array) -> Array:
        """As `sweeps`: a multiple of four, one of few numbers."""
        flat = 1.0 - self.chord / np.maximum(radii, self.chord)
        steps = np.minimum(np.where(radii <= self.chord, math.pi / 2, 2.0 * np.arccos(flat)), math.pi / 2)
        quarter = np.maximum(np.ceil(TAU / steps) / 4, 1.0)
        found: Array = 4 * np.ceil(STEP ** np.ceil(np.log(quarter) / math.log(STEP) - 1e-6) - 1e-6)
        return found


def rim_of(table: Table, reach: Reach) -> tuple[Rim, Pieces] | None:
    """The far edges of one ring; None where nothing is left of them."""
    pieces = _pieces(table.rows(table.is_arc | differ(table.starts, table.ends)), reach)
    pieces = pieces.left(pieces.far > 0)
    if len(pieces) < 3:
        return None
    trimmed, crowded = _trimmed(pieces)
    if crowded.any():
        left = _uncovered(pieces, _spread(crowded, AROUND) if len(pieces) > 4 * AROUND else crowded | True, reach.whole)
        if len(left) < 3:
            return None
        trimmed, _ = _trimmed(left)
    return _line(trimmed, reach), trimmed


def _pieces(table: Table, reach: Reach) -> Pieces:
    """A sector's arc for every corner that opens, and every segment's far edge."""
    count, side, whole = len(table), reach.side, reach.whole
    arc, steps = table.is_arc, table.ends - table.starts
    lengths = norms(steps)
    along = steps / np.where(lengths > 0, lengths, 1.0)[:, None]
    out = side * np.column_stack([along[:, 1], -along[:, 0]])
    firsts, lasts = out, out
    radii, far = np.zeros(count), np.full(count, 1.0)
    angles, sweeps = np.zeros(count), np.zeros(count)
    if arc.any():
        away = (side * table.turns / np.where(arc, table.radii, 1.0))[:, None]
        firsts = np.where(arc[:, None], away * (table.starts - table.centers), out)
        lasts = np.where(arc[:, None], away * (table.ends - table.centers), out)
        radii = np.where(arc, np.maximum(table.radii + side * table.turns * reach.distance, 0.0), 0.0)
        far = np.where(arc, np.maximum(table.radii + side * table.turns * whole, 0.0), 1.0)
        angles, sweeps = table.start_angles, table.sweeps
    before = np.roll(lasts, 1, axis=0)
    turned = np.arctan2(cross(before, firsts), dot(before, firsts))
    turned = np.where(turned * side < REVERSAL - math.pi, turned + side * TAU, turned)
    gap = turned * side * whole
    opens = gap > LAP / 2
    places = np.where(arc[:, None], table.centers, table.starts + reach.distance * out)
    # corner i, segment i, corner i + 1, ...
    order = np.argsort(np.r_[2 * np.flatnonzero(opens), 2 * np.arange(count) + 1], kind="stable")
    corners = int(opens.sum())

    def column(of_corners: Array, of_segments: Array | Mask) -> Array:
        both: Array = picked(np.concatenate([of_corners, of_segments]), order)
        return both

    at, own, after = (picked(column, opens) for column in (table.starts, before, firsts))
    return Pieces(
        is_circle=column(np.ones(corners), arc) > 0,
        places=column(at, places),
        along=column(np.zeros((corners, 2)), along),
        radii=column(np.full(corners, reach.distance), radii),
        far=column(np.full(corners, whole), far),
        first=column(at + whole * own, table.starts + whole * firsts),
        last=column(at + whole * after, table.ends + whole * lasts),
        angles=column(np.arctan2(own[:, 1], own[:, 0]), angles),
        sweeps=column(turned[opens], sweeps),
        source=column(at, table.starts),
        # of an arc only its start: what it covers is not convex
        source_end=column(at, np.where(arc[:, None], table.starts, table.ends)),
        follows=column(np.ones(corners), gap > -LAP) > 0,
        low=np.zeros(corners + count),
        high=np.ones(corners + count),
    )


def _trimmed(pieces: Pieces) -> tuple[Pieces, Mask]:
    """Each cut off where it meetses the next one; and those that could not be."""
    closing, crowded = np.flatnonzero(~pieces.follows), np.zeros(len(pieces), dtype=bool)
    if not len(closing):
        return pieces, crowded
    ends = (closing - 1) % len(pieces)
    ones, others = pieces.taken(ends), pieces.taken(closing)
    places, _ = meetings(ones.rims, others.rims, (ones.at(ones.high) + others.at(others.low)) / 2)
    end, begin = _share(ones, places), _share(others, places)
    a, b = NEAR / ones.lengths, NEAR / others.lengths
    meets = (end > ones.low) & (end <= ones.high + a) & (begin >= others.low - b) & (begin < others.high)
    low, high = pieces.low.copy(), pieces.high.copy()
    low[closing[meets]], high[ends[meets]] = np.maximum(begin, others.low)[meets], np.minimum(end, ones.high)[meets]
    crossed = low >= high
    if crossed.any():  # these are left as they are, and so are their neighbours' ends there
        meets &= ~(crossed[closing] | crossed[ends])
        low, high = pieces.low.copy(), pieces.high.copy()
        low[closing[meets]], high[ends[meets]] = np.maximum(begin, others.low)[meets], np.minimum(end, ones.high)[meets]
    crowded[closing[~meets]] = crowded[ends[~meets]] = True
    return replace(pieces, low=low, high=high), crowded


def _share(pieces: Pieces, places: Array) -> Array:
    """How far along each far edge a place on it lies, 0 to 1 within it."""
    steps = pieces.last - pieces.first
    square = dot(steps, steps)
    share = dot(places - pieces.first, steps) / np.where(square > 0, square, 1.0)
    if pieces.is_circle.any():
        arms = places - pieces.places
        middle = pieces.angles + pieces.sweeps / 2
        beyond = (np.arctan2(arms[:, 1], arms[:, 0]) - middle + math.pi) % TAU - math.pi
        sweeps = np.where(pieces.sweeps == 0, 1.0, pieces.sweeps)
        share = np.where(pieces.is_circle, 0.5 + beyond / sweeps, share)
    found: Array = share
    return found


def _uncovered(pieces: Pieces, crowded: Mask, reach: float) -> Pieces:
    """What neighbours leave of the far edges that are crowded; those of which they leave nothing are left out.

    A neighbour covers everything less than reach away from its source.
    """
    for _ in range(ROUNDS):
        rows = np.flatnonzero(crowded)
        rims, low, high = pieces.taken(rows), pieces.low.copy(), pieces.high.copy()
        begins, ends = low[rows], high[rows]
        for ahead in (*range(1, AHEAD + 1), *range(-AHEAD, 0)):
            others = (rows + ahead) % len(pieces)
            a, b = picked(pieces.source, others), picked(pieces.source_end, others)
            begin, end = _covered(rims, a, b, reach)
            begins = np.where((begin <= begins) & (end > begins), end, begins)
            ends = np.where((end >= ends) & (begin < ends), begin, ends)
            _move_in_strips(rims, a, b, reach, begins, ends)
        is_done = np.array_equal(begins, low[rows]) and np.array_equal(ends, high[rows])
        low[rows], high[rows] = begins, ends
        left = low < high
        pieces = replace(pieces, low=low, high=high, follows=pieces.follows & (low == 0)).left(left)
        crowded = crowded[left]
        if is_done or len(pieces) < 3:
            break
    return pieces


def _spread(mask: Mask, steps: int) -> Mask:
    """True also for so many on either side."""
    total = np.cumsum(np.r_[mask[-steps:], mask, mask[:steps]].astype(np.int64))
    found: Mask = (total[2 * steps :] - np.r_[0, total[: -2 * steps - 1]]) > 0
    return found


def _covered(pieces: Pieces, source: Array, source_end: Array, reach: float) -> tuple[Array, Array]:
    """From where to where each far edge is nearer than reach to a place or an edge; from 2 to -2 where nowhere."""
    begin, end = np.full(len(pieces), 2.0), np.full(len(pieces), -2.0)
    straight, bent = np.flatnonzero(~pieces.is_circle), np.flatnonzero(pieces.is_circle)
    if len(straight):
        rim = pieces.taken(straight)
        a, b = picked(source, straight), picked(source_end, straight)
        parts = [_line_in_disc(rim, a, reach), _line_in_disc(rim, b, reach), _line_in_strip(rim, a, b, reach)]
        begin[straight] = np.minimum.reduce([part[0] for part in parts])
        end[straight] = np.maximum.reduce([part[1] for part in parts])
    if len(bent):
        rim = pieces.taken(bent)
        parts = [_arc_in_disc(rim, picked(places, bent), reach) for places in (source, source_end)]
        begin[bent], end[bent] = parts[0]
        other = (begin[bent] > end[bent]) | ((parts[1][0] < begin[bent]) & (parts[1][0] <= parts[1][1]))
        begin[bent], end[bent] = (np.where(other, two, one) for one, two in zip(*parts, strict=True))
    return begin, end


def _line_in_disc(rim: Pieces, place: Array, reach: float) -> tuple[Array, Array]:
    steps, arms = rim.last - rim.first, place - rim.first
    square = dot(steps, steps)
    middle = dot(arms, steps) / square
    across = (steps[:, 0] * arms[:, 1] - steps[:, 1] * arms[:, 0]) ** 2 / square
    half = np.sqrt(np.maximum((reach - WITHIN) ** 2 - across, 0.0) / square)
    return np.where(half > 0, middle - half, 2.0), np.where(half > 0, middle + half, -2.0)


def _line_in_strip(rim: Pieces, a: Array, b: Array, reach: float) -> tuple[Array, Array]:
    """Between the ends of an edge, less than reach from it to either side."""
    edge = b - a
    length = norms(edge)
    there = length > 0
    along = edge / np.where(there, length, 1.0)[:, None]
    steps, arms = rim.last - rim.first, rim.first - a
    begin, end = np.full(len(rim), -1.0), np.full(len(rim), 2.0)
    ahead = dot(arms, along), dot(steps, along), np.zeros(len(rim)), length
    beside = (
        along[:, 0] * arms[:, 1] - along[:, 1] * arms[:, 0],
        along[:, 0] * steps[:, 1] - along[:, 1] * steps[:, 0],
        np.full(len(rim), WITHIN - reach),
        np.full(len(rim), reach - WITHIN),
    )
    for start, step, least, most in (ahead, beside):
        with np.errstate(divide="ignore", invalid="ignore"):
            one, two = (least - start) / step, (most - start) / step
        still = step == 0
        inside = (start >= least) & (start <= most)
        one, two = np.where(still, np.where(inside, -1.0, 2.0), one), np.where(still, np.where(inside, 2.0, -2.0), two)
        begin, end = np.maximum(begin, np.minimum(one, two)), np.minimum(end, np.maximum(one, two))
    there &= begin < end
    return np.where(there, begin, 2.0), np.where(there, end, -2.0)


def _arc_in_disc(rim: Pieces, place: Array, reach: float) -> tuple[Array, Array]:
    arms = place - rim.places
    apart = norms(arms)
    twice = 2 * rim.far * apart
    cosine = (rim.far**2 + apart**2 - (reach - WITHIN) ** 2) / np.where(twice > 0, twice, 1.0)
    there = (twice > 0) & (cosine < 1)
    half = np.arccos(np.clip(cosine, -1.0, 1.0)) / np.abs(rim.sweeps)
    middle = _share(rim, place)
    return np.where(there, middle - half, 2.0), np.where(there, middle + half, -2.0)


def _move_in_strips(pieces: Pieces, a: Array, b: Array, reach: float, low: Array, high: Array) -> None:
    """Moves the ends of arcs that lie within the strip beside an edge to where the arc leaves it."""
    rows = np.flatnonzero(pieces.is_circle & (low < high) & differ(a, b))
    if not len(rows):
        return
    a, edge = picked(a, rows), picked(b - a, rows)
    length = norms(edge)
    along = edge / length[:, None]
    arms = picked(pieces.places, rows) - a
    far, sweeps = pieces.far[rows], pieces.sweeps[rows]
    x, y = dot(arms, along), cross(along, arms)
    heading = pieces.angles[rows] - np.arctan2(along[:, 1], along[:, 0])
    most = reach - WITHIN
    for ends, way in ((low, 1.0), (high, -1.0)):
        angles = heading + ends[rows] * sweeps
        there_x, there_y = x + far * np.cos(angles), y + far * np.sin(angles)
        inside = np.flatnonzero((there_x > SURE) & (there_x < length - SURE) & (np.abs(there_y) < most - SURE))
        if not len(inside):
            continue
        turn = way * np.sign(sweeps[inside])
        here, size = angles[inside], far[inside]
        steps = np.full(len(inside), TAU)
        for wanted, of_x in ((-x, True), (length - x, True), (most - y, False), (-most - y, False)):
            share = wanted[inside] / size
            half = np.arccos(np.clip(share, -1.0, 1.0))
            for leaving in (half, -half) if of_x else (math.pi / 2 - half, math.pi / 2 + half):
                ahead = (turn * (leaving - here)) % TAU
                steps = np.where((np.abs(share) < 1) & (ahead < steps), ahead, steps)
        which = rows[inside]
        ends[which] += way * steps / np.abs(pieces.sweeps[which])


def _line(pieces: Pieces, reach: Reach) -> Rim:
    """The far edges as they are left, on chords, one after the other."""
    counts = np.zeros(len(pieces), dtype=np.int64)
    bent = np.flatnonzero(pieces.is_circle)
    steps, lowest = np.ones(len(pieces)), np.zeros(len(pieces))
    if len(bent):
        full = reach.chords_in_circle(pieces.radii[bent])
        begin = pieces.angles[bent] + pieces.low[bent] * pieces.sweeps[bent]
        end = pieces.angles[bent] + pieces.high[bent] * pieces.sweeps[bent]
        steps[bent] = TAU / full
        many = np.abs(pieces.sweeps[bent]) * full >= TAU / 10
        low, high = np.minimum(begin, end) / steps[bent], np.maximum(begin, end) / steps[bent]
        lowest[bent] = np.floor(low + 0.1) + 1
        inner = np.maximum(np.ceil(high - 0.1) - lowest[bent], 0)
        counts[bent] = np.where(many, inner, 0)
    rows, number = counted(counts + 2)
    places = np.empty((len(rows), 2))
    is_first, is_last = number == 0, number == counts[rows] + 1
    put(places, is_first, pieces.at(pieces.low))
    put(places, is_last, pieces.at(pieces.high))
    inside = ~(is_first | is_last)
    which = rows[inside]
    ahead = np.where(pieces.sweeps[which] > 0, number[inside] - 1, counts[which] - number[inside])
    angles = steps[which] * (lowest[which] + ahead)
    put(places, inside, on_circles(picked(pieces.places, which), pieces.far[which], angles))
    labels = np.where(is_last, -1, rows)
    # where one goes on as the other, or was cut off at the other, one place will do
    steps = np.abs(places - np.roll(places, 1, axis=0))
    kept = ~(is_first & (steps[:, 0] < LAP) & (steps[:, 1] < LAP))
    joined = np.flatnonzero(~np.roll(kept, -1))
    labels[joined] = labels[(joined + 1) % len(labels)]
    return Rim(picked(places, kept), labels[kept])
