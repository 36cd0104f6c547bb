"""What a size of the cut may come out at: worst case, root-sum-square band, and what each error has in it.

Two kinds of size. B is the bit, G the bushing, O the opening, all true; p = O - G is how far the bushing can move.

**Guided** (the bushing is run along both edges): the cut is B + O - G wide, for the length as for the width. An edge
of the opening that lies out by d widens O by 2 d, since a beam or a file that takes too much does so on both sides.
A bushing that sits off the bit's axis by c moves an edge of the cut by up to c. Where the router is turned half round
from one edge to the other, both move apart or together: 2 c. Held in one direction, both move the same way: the cut
shifts and its size stays. The running clearance does not count, as the bushing lies against each edge in turn.
Round the outside of the work the pattern stands for the opening: all is the same but for signs.
Measured from the edge of the work there is one guided edge: half of B and G, d, and c however the router is held.

**Trapped** (the opening is as wide as the bushing and its running clearance): the bit makes its own width at least,
and all that the bushing rubs to either side at most: B + q p, q from 0 to 1. How much it rubs is not known, so every q
is as likely. With the router turned, the bit leans out by up to c on both sides; it can only widen the cut.

An error within ± a has the standard uncertainty a / √3, independent ones add as the root of the sum of squares
(JCGM 100:2008, 4.3.7 and 5.1.2). The band is k times that, with the k at which 95 % of all cuts are within:
1.65 for one error alone to 1.96 for many; JCGM 100 (6.3.3) takes 2, which for one uniform error is more than the worst.
"""

import math
from functools import lru_cache
from typing import NamedTuple

from jigtemplates.budget.doubts import (
    BIT_NAME,
    BUSHING_NAME,
    CENTRE_NAME,
    CLEARANCE_NAME,
    KERF_NAME,
    OPENING_NAME,
    Doubt,
)
from jigtemplates.budget.sizes import GuidedSize
from jigtemplates.budget.spread import Spread, Sum

#: Share of all cuts within the band (JCGM 100, 6.3.3: about 95 % is what is mostly used).
COVERAGE = 0.95
#: What is known of how far a trapped bushing wanders.
RUBS = "trapped: the bushing rubs to either side, or not"
#: In how many steps the bushing's room in the opening is varied (chosen: the band is then right to 1 µm).
_STEPS = 8


class Errors(NamedTuple):
    """How well everything is known that decides a size."""

    #: diameter
    bit: Doubt
    #: outside diameter
    bushing: Doubt
    #: each edge of the opening
    edge: Doubt
    #: full width removed
    kerf: Doubt
    #: bushing off the bit's axis
    centre: Doubt
    #: whether the router may be turned while a cut is made
    turned: bool
    #: what the edge belongs to: "opening", or "pattern" for outside work
    guide: str = OPENING_NAME


class Share(NamedTuple):
    """What one error does to one size."""

    #: "bit", "bushing", "opening", "kerf", "running clearance", "bushing off centre"
    name: str
    #: how well it is known, in words
    known: str
    #: how far it can move the size, down and up, mm
    down: float
    up: float
    #: standard uncertainty, mm
    u: float
    #: whether nobody said how well it is known
    is_taken: bool = False


class Band(NamedTuple):
    """What one size of the cut may come out at, mm."""

    size: GuidedSize
    #: lowest and highest at worst
    worst: tuple[float, float]
    #: lowest and highest of 95 % of all cuts
    likely: tuple[float, float]
    #: combined standard uncertainty
    u: float
    shares: tuple[Share, ...]
    spread: Spread
    #: how likely it is that the bushing does not go into the opening, 0 to 1
    binds: float

    def part(self, share: Share) -> float:
        """The share of an error in the variance, 0 to 1; they add up to 1."""
        return share.u**2 / self.u**2 if self.u else 0.0

    @property
    def most(self) -> Share | None:
        """The error that matters most; None where there is none at all."""
        first = max(self.shares, key=lambda share: share.u, default=None)
        return first if first is not None and first.u > 0 else None


def band_of(size: GuidedSize, bit: float, errors: Errors) -> Band:
    """The band of a size; bit is the diameter computed with, mm."""
    return _trapped(size, bit, errors) if size.trapped else _guided(size, errors)


def _guided(size: GuidedSize, errors: Errors) -> Band:
    n = size.edges
    off = errors.centre.within if n == 1 else 2 * errors.centre.within * errors.turned
    found = (
        (BIT_NAME, errors.bit, n / 2 * errors.bit.within),
        (BUSHING_NAME, errors.bushing, n / 2 * errors.bushing.within),
        (errors.guide, errors.edge, n * errors.edge.within),
        (KERF_NAME, errors.kerf, n / 2 * errors.kerf.within),
        (CENTRE_NAME, errors.centre, off),
    )
    shares = tuple(
        Share(name, doubt.known, half, half, half / math.sqrt(3), doubt.is_taken)
        for name, doubt, half in found
        if name != KERF_NAME or half
    )
    spread = Spread.of(size.predicted, (share.up for share in shares))
    return _band(size, spread, spread.limits, shares, _never_in(size.play, _room(errors)))


def _room(errors: Errors) -> tuple[float, ...]:
    """Limits of the errors of bushing, opening and kerf, which change the bushing's room between two edges, mm."""
    return (errors.bushing.within, 2 * errors.edge.within, errors.kerf.within)


def _never_in(play: float, room: tuple[float, ...]) -> float:
    """How likely the opening is narrower than the bushing."""
    return Sum(play, room).below(0.0) if sum(room) > play else 0.0


def _trapped(size: GuidedSize, bit: float, errors: Errors) -> Band:
    """Of q p, with q and the errors of p independent, the variance is r² / 12 + σ² / 3; r is the clearance planned."""
    r, room, own = size.play, _room(errors), errors.bit.within
    off = 2 * errors.centre.within * errors.turned
    of_room = ((BUSHING_NAME, errors.bushing), (OPENING_NAME, errors.edge), (KERF_NAME, errors.kerf))
    shares = (
        Share(BIT_NAME, errors.bit.known, own, own, own / math.sqrt(3), errors.bit.is_taken),
        *(
            Share(name, doubt.known, 0.0, half, half / 3, doubt.is_taken)
            for (name, doubt), half in zip(of_room, room, strict=True)
            if name != KERF_NAME or half
        ),
        Share(CLEARANCE_NAME, RUBS, 0.0, r, r / math.sqrt(12)),
        Share(CENTRE_NAME, errors.centre.known, 0.0, off, off / math.sqrt(12), errors.centre.is_taken),
    )
    worst = (bit - own, bit + own + max(0.0, r + sum(room)) + off)
    sums = ((weight, Sum(bit + p / 2 + off / 2, (own, p / 2, off / 2))) for weight, p in _rooms(r, room))
    return _band(size, Spread(tuple(sums)), worst, shares, _never_in(r, room))


def _rooms(r: float, room: tuple[float, ...]) -> list[tuple[float, float]]:
    """Weights and sizes of the bushing's room: the clearance with its errors, in steps, and never less than none."""
    all_of_it = Sum(r, room)
    reach = all_of_it.reach
    if reach == 0.0:
        return [(1.0, r)]
    edges = [r - reach + 2 * reach * i / _STEPS for i in range(_STEPS + 1)]
    below = [all_of_it.below(x) for x in edges]
    return [
        (high - low, max(0.0, (a + b) / 2))
        for low, high, a, b in zip(below, below[1:], edges, edges[1:], strict=False)
        if high > low
    ]


def _band(
    size: GuidedSize, spread: Spread, worst: tuple[float, float], shares: tuple[Share, ...], binds: float
) -> Band:
    low, high = _quantiles(spread.about(size.predicted))
    return Band(
        size=size,
        worst=worst,
        likely=(size.predicted + low, size.predicted + high),
        u=math.sqrt(math.fsum(share.u**2 for share in shares)),
        shares=shares,
        spread=spread,
        binds=binds,
    )


@lru_cache(maxsize=64)  # width and length, laser and CNC are often spread alike
def _quantiles(spread: Spread) -> tuple[float, float]:
    """Ends of the band."""
    outside = (1 - COVERAGE) / 2
    return spread.quantile(outside), spread.quantile(1 - outside)
