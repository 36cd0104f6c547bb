"""Rectangles on as few sheets as can be found: several simple ways are tried and the best result is kept.

Lengths are whole numbers here (nanometres, `whole`), so that a row which fits exactly does fit. Which of two results is
better: the one that leaves out fewer pieces, then the one with less sheet, then fewer sheets, then the one whose last
sheet keeps more in one piece, then in which all do, and at last the one with fewer pieces turned.

The library rectpack (0.2.2) does most of this; it was not taken because it turns all rectangles or none, does not say
which are left over, keeps the result of one way only, and rests since 2021. The tests lay the same sets with both.
"""

import math
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from jigtemplates.sheets.spaces import SCORES, Overlapping, Parted, Rect, Score

#: Whole numbers in a millimetre: nanometres.
NANO = 1_000_000
#: Part of a nanometre that is taken for the rounding of a float (chosen).
_NOISE = 0.001
#: Pieces placed in all the ways together, at most, for one choice of sheets (chosen: all ways for two hundred plates).
MOST_TRIED = 10_000
#: So many ways are tried at least.
LEAST_WAYS = 4
#: Where the area would go on fewer sheets, so many orders by chance are tried as well, at most; the dice fall the same
#: way every time. An area counts for this much of itself (chosen: of random sets of 8 to 40 plates one in fifty then
#: needs a sheet less).
MOST_SHAKEN, SEED, SHAKE = 40, 1, (0.6, 1.4)


class Piece(NamedTuple):
    """A rectangle that wants a place; mm."""

    width: float
    height: float
    #: whether it may be turned by a quarter
    may_turn: bool = True


class Blank(NamedTuple):
    """A kind of sheet, less its margins; mm."""

    width: float
    height: float
    #: of the whole sheet with its margins, mm², by which kinds are compared
    area: float
    #: how many there are; None: as many as are needed
    most: int | None = None


class Spot(NamedTuple):
    """Where a piece lies: its lower-left corner within the margins, mm."""

    piece: int
    x: float
    y: float
    turned: bool


class Filled(NamedTuple):
    """A sheet and what lies on it."""

    #: index of its kind
    blank: int
    spots: tuple[Spot, ...]


class Packing(NamedTuple):
    """Every piece is on one of the sheets or left."""

    sheets: tuple[Filled, ...]
    #: indices of the pieces for which there was no room
    left: tuple[int, ...]


class _Item(NamedTuple):
    """A piece in whole numbers, the gap to its neighbour added."""

    piece: int
    width: int
    height: int
    may_turn: bool


Order = Callable[[_Item], tuple[int, ...]]
Space = type[Overlapping] | type[Parted]
Way = tuple[Space, Score, Order]

#: Which piece comes first: the one with the largest. What won most often on random sets stands first, here, in SCORES
#: and in SPACES: of a thousand pieces not every way is tried.
ORDERS: tuple[Order, ...] = (
    lambda one: (one.width * one.height, max(one.width, one.height)),
    lambda one: (one.width + one.height, one.width),
    lambda one: (min(one.width, one.height), max(one.width, one.height)),
    lambda one: (max(one.width, one.height), min(one.width, one.height)),
    lambda one: (one.height, one.width),
    lambda one: (one.width, one.height),
)


def pack(pieces: Sequence[Piece], blanks: Sequence[Blank], gap: float, *, straight_cuts: bool = False) -> Packing:
    """Lay the pieces on the blanks, no two nearer than gap (mm); the same answer every time.

    With straight_cuts each sheet can be parted by cuts right across what is left of it, the gap being what
    the saw may take.
    """
    items = [_Item(i, _up(p.width + gap), _up(p.height + gap), p.may_turn) for i, p in enumerate(pieces)]
    spaces: tuple[Space, ...] = (Parted,) if straight_cuts else (Parted, Overlapping)
    ways = [(space, score, order) for order in ORDERS for score in SCORES for space in spaces]
    found = (shelf.best(items, pieces, ways) for shelf in _shelves(tuple(blanks), gap))
    return min(found, key=lambda one: one[0])[1]


def _shelves(blanks: tuple[Blank, ...], gap: float) -> tuple["_Shelf", ...]:
    """The ways to choose among kinds of sheet: the one that is filled best, the largest first, each kind alone."""
    every = tuple(range(len(blanks)))
    if len(blanks) < 2:
        return (_Shelf(blanks, gap, every),)
    alone = (_Shelf(blanks, gap, (kind,)) for kind in every)
    return (_Shelf(blanks, gap, every), _Shelf(blanks, gap, every, largest_first=True), *alone)


def _shaken(items: Sequence[_Item], dice: random.Random) -> list[_Item]:
    """About the largest first: each by its area, taken as much larger or smaller as the dice say."""
    low, high = SHAKE
    sizes = {one.piece: one.width * one.height * dice.uniform(low, high) for one in items}
    return sorted(items, key=lambda one: -sizes[one.piece])


def _sorted(items: Sequence[_Item], order: Order) -> list[_Item]:
    """The largest first, equal ones as they came."""
    return sorted(items, key=lambda one: (*(-size for size in order(one)), one.piece))


def _up(mm: float) -> int:
    return math.ceil(mm * NANO - _NOISE)


def _down(mm: float) -> int:
    return math.floor(mm * NANO + _NOISE)


@dataclass(frozen=True)
class _Shelf:
    """The sheets there are, and how one is filled."""

    blanks: tuple[Blank, ...]
    gap: float
    #: indices of the kinds that are used
    kinds: tuple[int, ...]
    #: take the largest kind there is while more is left than one sheet holds; else the one that is filled best
    largest_first: bool = False

    def best(
        self, items: Sequence[_Item], pieces: Sequence[Piece], ways: Sequence[Way]
    ) -> tuple[tuple[float, ...], Packing]:
        """The best that the ways give, with its cost; where the area would go on fewer sheets also orders by chance."""
        most = max(LEAST_WAYS, MOST_TRIED // max(len(items) * len(self.kinds), 1))
        laid = [self.laid(_sorted(items, order), space, score) for space, score, order in ways[:most]]
        found = min(((self.cost(one, pieces), one) for one in laid), key=lambda one: one[0])
        if len(found[1].sheets) <= self.least_sheets(items):
            return found
        dice = random.Random(SEED)
        tried = [ways[i % len(ways)][:2] for i in range(min(MOST_SHAKEN, most))]
        shaken = (self.laid(_shaken(items, dice), space, score) for space, score in tried)
        return min((found, *((self.cost(one, pieces), one) for one in shaken)), key=lambda one: one[0])

    def laid(self, items: Sequence[_Item], space: Space, score: Score) -> Packing:
        """Sheet by sheet, each filled with the items in their order."""
        rest, sheets, used = list(items), list[Filled](), [0] * len(self.blanks)
        while rest:
            filled = [self._fill(kind, rest, space, score) for kind in self._kinds(used)]
            filled = [one for one in filled if one.spots]
            if not filled:
                break
            best = self._chosen(filled, len(rest), items)
            sheets.append(best)
            used[best.blank] += 1
            done = {spot.piece for spot in best.spots}
            rest = [one for one in rest if one.piece not in done]
        return Packing(tuple(sheets), tuple(sorted(one.piece for one in rest)))

    def least_sheets(self, items: Sequence[_Item]) -> int:
        """No fewer sheets can hold the items: by area, on the largest kind."""
        blanks = [self.blanks[kind] for kind in self.kinds]
        largest = max(((b.width + self.gap) * (b.height + self.gap) for b in blanks), default=0.0) * NANO**2
        return math.ceil(sum(one.width * one.height for one in items) / largest - _NOISE) if largest else 0

    def _kinds(self, used: Sequence[int]) -> Iterator[int]:
        """The kinds of which there is one more."""
        most = [self.blanks[kind].most for kind in self.kinds]
        return (kind for kind, limit in zip(self.kinds, most, strict=True) if limit is None or used[kind] < limit)

    def _chosen(self, filled: Sequence[Filled], count: int, items: Sequence[_Item]) -> Filled:
        """The smallest sheet that takes all that is left, else the largest or the best filled one."""
        if len(filled) == 1:
            return filled[0]
        enough = [one for one in filled if len(one.spots) == count]
        if enough:
            return min(enough, key=lambda one: self.blanks[one.blank].area)
        if self.largest_first:
            return max(filled, key=lambda one: self.blanks[one.blank].area)
        areas = {one.piece: one.width * one.height for one in items}
        return max(filled, key=lambda one: sum(areas[s.piece] for s in one.spots) / self.blanks[one.blank].area)

    def _fill(self, kind: int, items: Sequence[_Item], space_of: Space, score: Score) -> Filled:
        blank, gap = self.blanks[kind], self.gap
        space = space_of(_down(blank.width + gap), _down(blank.height + gap), score)
        too_large: set[tuple[int, int, bool]] = set()
        spots = []
        for item in items:
            if item[1:] in too_large:  # what found no room finds none later
                continue
            found = _place(space, item)
            if found is None:
                too_large.add(item[1:])
                continue
            at, turned = found
            space.take(at)
            spots.append(Spot(item.piece, at.x / NANO, at.y / NANO, turned))
        return Filled(kind, tuple(spots))

    def cost(self, packing: Packing, pieces: Sequence[Piece]) -> tuple[float, ...]:
        """What is left out, sheet used, sheets used, how much of the last is begun, and of all; pieces turned."""
        areas = [self.blanks[one.blank].area for one in packing.sheets]
        begun = [self._begun(one, pieces) for one in packing.sheets]
        turned = sum(spot.turned for one in packing.sheets for spot in one.spots)
        last = begun[-1] if begun else 0.0
        return len(packing.left), round(math.fsum(areas), 3), len(areas), last, round(math.fsum(begun), 3), turned

    def _begun(self, filled: Filled, pieces: Sequence[Piece]) -> float:
        """Of a sheet the area that the largest strip left at its right or top does not take, mm²."""
        blank, (right, top) = self.blanks[filled.blank], extent(filled.spots, pieces)
        return round(min(right * blank.height, top * blank.width), 3)


def extent(spots: Sequence[Spot], pieces: Sequence[Piece]) -> tuple[float, float]:
    """How far right and up the pieces reach, mm."""
    sizes = [size_of(pieces[spot.piece], turned=spot.turned) for spot in spots]
    right = max(spot.x + width for spot, (width, _) in zip(spots, sizes, strict=True))
    return right, max(spot.y + height for spot, (_, height) in zip(spots, sizes, strict=True))


def size_of(piece: Piece, *, turned: bool) -> tuple[float, float]:
    """Width and height as it lies, mm."""
    return (piece.height, piece.width) if turned else (piece.width, piece.height)


def _place(space: Overlapping | Parted, item: _Item) -> tuple[Rect, bool] | None:
    """The best place of an item, and whether it is turned there."""
    upright = space.best(item.width, item.height)
    if not item.may_turn or item.width == item.height:
        return None if upright is None else (upright[1], False)
    turned = space.best(item.height, item.width)
    if turned is None or (upright is not None and upright <= turned):
        return None if upright is None else (upright[1], False)
    return turned[1], True
