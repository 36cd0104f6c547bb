"""Which bits and guide bushings make a cut, best first, by closed-form arithmetic; millimetres.

Opening, predicted cut and side play are what `template` and `routing` find with geometry, for slots, rounds and
rectangles; here they are sums, so that hundreds of pairs are compared while one template is made.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from jigtemplates.lengths import sold_as
from jigtemplates.match.bore import bore_of, clashes
from jigtemplates.match.bore import chip_room as chip_room
from jigtemplates.match.reach import Stack, bit_remarks, bit_stops, pass_count, stem_remark, stem_stop
from jigtemplates.practice import CLEARANCE, FITS, HAIR

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bit, Bushing

#: Decimals of numbers in JSON, as in a report.
DECIMALS = 6


@dataclass(frozen=True, slots=True)
class Wanted:
    """The cut that is wanted, as in a job; mm.

    Without a corner radius its ends are round: a slot, or a round where the length is left out or equals the
    width. With one it is a rectangle (0: square corners), and without a length a square.
    """

    width: float
    length: float | None = None
    depth: float | None = None
    corner_radius: float | None = None

    @property
    def extents(self) -> tuple[float, float]:
        """Width and length; twice the width where no length is given."""
        return self.width, self.width if self.length is None else self.length

    @property
    def is_round(self) -> bool:
        """True for a cut that is a circle."""
        width, length = self.extents
        return self.corner_radius is None and width == length


@dataclass(frozen=True, slots=True)
class Area:
    """Extents of an opening, mm."""

    width: float
    length: float
    corner_radius: float


@dataclass(frozen=True, slots=True)
class CutMade:
    """Extents of the cut that comes out, mm."""

    width: float
    length: float
    #: radius of its corners; half the width for round ends
    corner_radius: float
    #: largest distance between its edge and the edge that was asked for
    max_deviation: float
    #: what the bit cannot reach, mm²; None where no job was made with it
    unreachable_area: float | None = None


@dataclass(frozen=True, slots=True)
class Match:
    """A bit in a bushing, and what they make of the wanted cut."""

    bit: "Bit"
    bushing: "Bushing"
    #: True where nothing forbids the pair
    possible: bool
    #: None where the bit is wider than the cut
    opening: Area | None
    #: None where the bit is wider than the cut
    predicted: CutMade | None
    #: how far the bushing can move across the opening, mm; None without an opening
    side_play: float | None
    #: no side play beyond the running clearance: one pass makes the width
    trapped: bool
    #: how many passes make the depth; None where no depth was given
    passes: int | None
    #: why it ranks where it does, or why it cannot be; plain sentences
    reasons: tuple[str, ...]
    #: the smaller, the better; compared one after the other
    order: tuple[float, ...]
    #: whether it is the pair that the job names now; None where no job was looked at
    in_job: bool | None = None
    #: which of a template's several cuts `opening` and `predicted` are of, counted from 1; None where there is one
    cut: int | None = None

    def as_json(self) -> dict[str, Any]:
        """The object that `match --json` prints: lengths in mm, null where there is none or it is not known.

        Of a job it also has "in_job", of several cuts in one template "cut", and "unreachable_area" (mm²) in
        "predicted_cut".
        """
        return {
            "bit": name_of(self.bit),
            "bushing": name_of(self.bushing),
            "possible": self.possible,
            "opening": _numbers(self.opening, ("width", "length", "corner_radius")),
            "predicted_cut": _numbers(self.predicted, ("width", "length", "max_deviation", "unreachable_area")),
            "side_play": None if self.side_play is None else round(self.side_play, DECIMALS),
            "trapped": self.trapped,
            "passes": self.passes,
            "reasons": list(self.reasons),
            **({} if self.in_job is None else {"in_job": self.in_job}),
            **({} if self.cut is None else {"cut": self.cut}),
        }


def _numbers(sizes: object | None, names: Sequence[str]) -> dict[str, float] | None:
    """What of the sizes is known."""
    if sizes is None:
        return None
    known = ((name, getattr(sizes, name)) for name in names)
    return {name: round(size, DECIMALS) + 0.0 for name, size in known if size is not None}


def name_of(tool: "Bit | Bushing") -> str:
    """What a job writes for the tool: its name in the profiles, or the diameter it is sold as."""
    return tool.name or sold_as(tool.diameter).text


def match(
    wanted: Wanted,
    bits: Iterable["Bit"],
    bushings: Iterable["Bushing"],
    *,
    plate_thickness: float | None,
    stand_off: float = 0.0,
    clearance: float = CLEARANCE,
    inches: bool = False,
) -> tuple[Match, ...]:
    """Every bit in every bushing, best first; those that cannot make the cut at the end, the nearest to it first.

    Trapped pairs (one pass makes the width) come first, then those with the least side play, the nearest cut, enough
    room for chips, a stem and a bit known to be of the right length, and the smallest opening. Equals stay
    in the order they were given. What needs the plate's thickness is left out where that is None. With inches the
    sentences have lengths in inches, with mm beside them.
    """
    stack = Stack(plate_thickness, stand_off, wanted.depth, inches)
    cutters = [_Cutter.of(bit, wanted, stack, clearance) for bit in bits]
    guides = [_Guide.of(bushing, stack) for bushing in bushings]
    pairs = [_pair(cutter, guide, stack) for cutter in cutters for guide in guides]
    return tuple(sorted(pairs, key=attrgetter("order")))


@dataclass(frozen=True, slots=True)
class _Cutter:
    """What is the same for a bit in every bushing."""

    bit: "Bit"
    diameter: float
    #: None where the bit is wider than the cut
    cut: CutMade | None
    #: side play; where the bit is too wide: by how much
    play: float
    trapped: bool
    passes: int | None
    stops: tuple[str, ...]
    remarks: tuple[str, ...]
    #: 0: known to reach; more: less certain
    doubt: int

    @staticmethod
    def of(bit: "Bit", wanted: Wanted, stack: Stack, clearance: float) -> "_Cutter":
        diameter, narrow = bit.diameter.mm, min(wanted.extents)
        cut = cut_made(wanted, diameter, clearance)
        play = abs(narrow - diameter) if cut is None else max(0.0, round(min(cut.width, cut.length) - diameter, 9))
        trapped = cut is not None and play <= clearance + 1e-6
        doubt, doubts = bit_remarks(bit, stack)
        return _Cutter(
            bit=bit,
            diameter=diameter,
            cut=cut,
            play=play,
            trapped=trapped,
            passes=pass_count(bit, stack),
            stops=(*_misfits(wanted, diameter, stack), *bit_stops(bit, stack)),
            remarks=(*_width_remarks(cut, play, trapped, stack), *doubts),
            doubt=doubt,
        )


@dataclass(frozen=True, slots=True)
class _Guide:
    """What is the same for a bushing round every bit."""

    bushing: "Bushing"
    diameter: float
    bore: float | None
    stops: tuple[str, ...]
    remarks: tuple[str, ...]
    doubt: int

    @staticmethod
    def of(bushing: "Bushing", stack: Stack) -> "_Guide":
        doubt, remarks = stem_remark(bushing, stack)
        return _Guide(bushing, bushing.diameter.mm, bore_of(bushing), stem_stop(bushing, stack), remarks, doubt)


def _pair(cutter: _Cutter, guide: _Guide, stack: Stack) -> Match:
    stops = (*cutter.stops, *clashes(cutter.bit, guide.bushing, stack), *guide.stops)
    room, remark = chip_room(cutter.diameter, guide.diameter, guide.bore, stack)
    opening = None if cutter.cut is None else opening_of(cutter.cut, cutter.diameter, guide.diameter)
    deviation = 0.0 if cutter.cut is None else round(cutter.cut.max_deviation, 3)
    extents = guide.diameter if opening is None else opening.width + opening.length
    merit = (not cutter.trapped, cutter.play, deviation, room, cutter.doubt + guide.doubt, extents)
    return Match(
        bit=cutter.bit,
        bushing=guide.bushing,
        possible=not stops,
        opening=opening,
        predicted=cutter.cut,
        side_play=None if cutter.cut is None else cutter.play,
        trapped=cutter.trapped,
        passes=cutter.passes,
        reasons=stops or (*cutter.remarks, remark, *guide.remarks),
        order=(bool(stops), cutter.cut is None, len(stops), *merit),
    )


def cut_made(wanted: Wanted, bit: float, clearance: float) -> CutMade | None:
    """The cut that a bit's template makes, whatever its bushing; None where the bit is wider than the cut.

    A side that would leave the bushing less than the running clearance comes out at bit + clearance, as in
    `template.make_template`; corners come out no tighter than the bit.
    """
    width, length = wanted.extents
    narrow = min(width, length)
    if narrow < bit - FITS:
        return None
    least = bit + clearance if narrow < bit + clearance - FITS else 0.0
    made = max(width, least), max(length, least)
    asked = made[0] / 2 if wanted.corner_radius is None else wanted.corner_radius
    radius = max(asked, bit / 2)
    return CutMade(*made, radius, _deviation(wanted, made, radius))


def _deviation(wanted: Wanted, made: tuple[float, float], radius: float) -> float:
    """Half of what a side grows; at a corner, how far the two rounded ones are from each other."""
    grown = [max(0.0, (after - before) / 2) for before, after in zip(wanted.extents, made, strict=True)]
    if wanted.corner_radius is None:
        return max(grown)
    rounder = radius - wanted.corner_radius
    inwards = [rounder - by for by in grown]  # from the middle of the wanted corner to that of the one made
    apart = math.hypot(*inwards)
    if min(inwards) > 0:
        return max(*grown, apart - rounder)  # wood stays at the corner
    return max(*grown, apart + rounder) if max(inwards) <= 0 else max(grown)  # or is cut away there


def opening_of(cut: CutMade, bit: float, bushing: float) -> Area:
    """opening = cut + (bushing - bit), all round; its corners are rounder by half of that."""
    more = bushing - bit
    return Area(cut.width + more, cut.length + more, cut.corner_radius + more / 2)


def _misfits(wanted: Wanted, bit: float, stack: Stack) -> Iterator[str]:
    narrow, radius = min(wanted.extents), wanted.corner_radius
    if narrow < bit - FITS:
        yield f"the bit {stack.aside(bit, 3)} is wider than the cut {stack.aside(narrow, 3)}"
    if radius is not None and (bit / 2 - radius) * (math.sqrt(2) - 1) > HAIR:
        yield f"the corners {stack.aside(radius, 3)} are tighter than the bit's radius {stack.aside(bit / 2, 3)}"


def _width_remarks(cut: CutMade | None, play: float, trapped: bool, stack: Stack) -> Iterator[str]:
    if trapped:
        yield "trapped: one pass makes the width"
    elif cut is not None:
        yield f"{stack.text(play, 3)} side play: go round the edge to make the width"
    if cut is not None and cut.max_deviation >= 5e-4:
        narrow = min(cut.width, cut.length)
        yield f"the cut comes out {stack.text(narrow, 3)} wide, bit + running clearance"
