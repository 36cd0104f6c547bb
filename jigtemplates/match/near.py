"""What is near to a wanted cut: the nearest one that the tools can make, and the tenons that suit the bits; mm."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from jigtemplates.match import Match, Wanted, match, name_of
from jigtemplates.match.bore import clashes
from jigtemplates.match.reach import Stack, bit_stops, stem_stop
from jigtemplates.practice import CLEARANCE, FIT, FITS, HELD, LEAST_WALL

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bit, Bushing


#: Of a plate and a depth that nobody gave, which forbid no pair.
ANY_STACK = Stack(None, 0.0, None)


@dataclass(frozen=True, slots=True)
class Suited:
    """A tenon that suits a bit: its mortise takes one pass."""

    #: what a job calls the bit
    bit: str
    #: of the mortise: bit + running clearance
    cut: float
    #: of the tenon: cut less fit
    thickness: float


def suited(
    bits: Iterable["Bit"],
    bushings: Sequence["Bushing"],
    *,
    width: float,
    stack: Stack = ANY_STACK,
    clearance: float = CLEARANCE,
    fit: float = FIT,
) -> tuple[Suited, ...]:
    """The tenon thickness that suits each bit exactly, the nearest to the width first, one for each diameter.

    thickness = bit + running clearance - fit: with equal clearance and fit, stock as thick as the bit is wide (common
    practice). Bits that do not reach the stack's depth, or could run in none of the bushings on its plate, are left
    out: `match` would call each of their pairs impossible.
    """
    suits: dict[float, Suited] = {}
    for bit in bits:
        diameter = bit.diameter.mm
        if diameter not in suits and _is_able(bit, bushings, stack):
            cut = round(diameter + clearance, 9)
            suits[diameter] = Suited(name_of(bit), cut, round(cut - fit, 9))
    return tuple(sorted(suits.values(), key=lambda suit: abs(suit.thickness - width)))


def _is_able(bit: "Bit", bushings: Iterable["Bushing"], stack: Stack) -> bool:
    return not any(bit_stops(bit, stack)) and any(
        _runs_in(bit.diameter.mm, one) and not any(clashes(bit, one, stack)) and not stem_stop(one, stack)
        for one in bushings
    )


def _runs_in(bit: float, bushing: "Bushing") -> bool:
    """True where the bit passes the bore, or one that is not known but leaves the bushing a wall."""
    diameter, bore = bushing.diameter.mm, bushing.bore
    return bit < (diameter - LEAST_WALL + 1e-9 if bore is None else bore.mm - 1e-9)


def nearest(
    wanted: Wanted,
    bits: Iterable["Bit"],
    bushings: Sequence["Bushing"],
    *,
    plate_thickness: float | None,
    stand_off: float = 0.0,
    clearance: float = CLEARANCE,
) -> tuple[Wanted, Match] | None:
    """The cut that differs least from the one that was wanted and can be made, and its best pair; None without one.

    Sides grow to the bit and its clearance, corners to the bit's radius, and the depth shrinks to what the bit
    reaches; the least sum of the changes wins.
    """
    stack = Stack(plate_thickness, stand_off, wanted.depth)
    found = list(_candidates(wanted, bits, bushings, stack, clearance))
    return min(found, key=lambda one: _change(wanted, one[0]), default=None)


def _candidates(
    wanted: Wanted, bits: Iterable["Bit"], bushings: Sequence["Bushing"], stack: Stack, clearance: float
) -> Iterator[tuple[Wanted, Match]]:
    for bit in bits:
        within = _within_reach(wanted, bit, stack, clearance)
        if within is not None:
            pairs = match(
                within,
                [bit],
                bushings,
                plate_thickness=stack.plate,
                stand_off=stack.stand_off,
                clearance=clearance,
            )
            if pairs and pairs[0].possible:
                yield within, pairs[0]


def _within_reach(wanted: Wanted, bit: "Bit", stack: Stack, clearance: float) -> Wanted | None:
    """The wanted cut, changed so that the bit can make it; None where it reaches no depth at all."""
    diameter = bit.diameter.mm
    least = diameter + clearance if min(wanted.extents) < diameter - FITS else 0.0
    depth = wanted.depth and min([wanted.depth, *_depths(bit, stack)])
    if depth is not None and depth <= 0:
        return None
    radius = wanted.corner_radius
    return replace(
        wanted,
        width=max(wanted.width, least),
        length=None if wanted.length is None else max(wanted.length, least),
        depth=depth,
        corner_radius=None if radius is None else max(radius, diameter / 2),
    )


def _depths(bit: "Bit", stack: Stack) -> Iterator[float]:
    """What the lengths of a bit allow at most."""
    if bit.cutting_length is not None:
        yield bit.cutting_length.mm
    if bit.overall_length is not None and stack.under_base is not None:
        yield bit.overall_length.mm - HELD - stack.under_base


def _change(wanted: Wanted, other: Wanted) -> float:
    sizes = zip(
        (*wanted.extents, wanted.depth or 0.0, wanted.corner_radius or 0.0),
        (*other.extents, other.depth or 0.0, other.corner_radius or 0.0),
        strict=True,
    )
    return sum(abs(after - before) for before, after in sizes)
