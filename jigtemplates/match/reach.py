"""What the lengths of a bit and a bushing's stem allow, in the stack of plate, stand-off and cut; millimetres.

The rules are those of the checks of a job; here they are asked of tools before there is one.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigtemplates import passes
from jigtemplates.lengths import beside_text, first_text, mm_text, sold_as
from jigtemplates.practice import HELD, LEAST_ENGAGEMENT

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bit, Bushing

#: How far a remark on a length puts a pair back: known to be right, not known, needs care (chosen).
GOOD, UNKNOWN, CARE = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Stack:
    """From the router's base down; what was not said is None."""

    plate: float | None
    stand_off: float
    depth: float | None
    #: how lengths stand in sentences: in inches with mm beside them, or in mm alone
    inches: bool = False

    @property
    def under_base(self) -> float | None:
        """From the base to the work: plate and stand-off."""
        return None if self.plate is None else self.plate + self.stand_off

    @property
    def plunge(self) -> float | None:
        """From the base to the bottom of the cut."""
        return None if self.under_base is None or self.depth is None else self.under_base + self.depth

    def text(self, mm: float, digits: int = 2) -> str:
        """A length in a sentence: "0.79 mm", or "1/32 in (0.79 mm)"."""
        return first_text(mm, self.inches, digits)

    def aside(self, mm: float, digits: int = 2) -> str:
        """A length in brackets: "(0.79 mm)", or "(1/32 in = 0.79 mm)"."""
        return f"({beside_text(mm, self.inches, digits)})"


def pass_count(bit: "Bit", stack: Stack) -> int | None:
    """Passes that make the depth, as a job with this bit has them; None without a depth."""
    if stack.depth is None:
        return None
    return passes.pass_count(stack.depth, passes.usual_pass(sold_as(bit.diameter).mm), inches=stack.inches)


def bit_stops(bit: "Bit", stack: Stack, *, trusting: bool = False) -> Iterator[str]:
    """Why a bit is not long enough, as far as its lengths are known.

    Trusting, a shank that is not known may follow the bit into the cut, as the checks of a job have it.
    """
    edges, depth = bit.cutting_length, stack.depth
    follows = _is_thin(bit) or (trusting and bit.shank is None)
    if edges is not None and depth is not None and edges.mm < depth - 1e-9 and not follows:
        why = "is not known" if bit.shank is None else "is thicker than the bit"
        yield (
            f"the cutting edges {stack.aside(edges.mm)} are shorter than the cut is deep {stack.aside(depth)} and the "
            f"shank {why}"
        )
    yield from _not_held(bit, stack)


def _not_held(bit: "Bit", stack: Stack) -> Iterator[str]:
    """Why too little of the shank is in the collet: no cutting edge may be in it, and the bit must reach the depth."""
    plunge = stack.plunge
    if bit.overall_length is None:
        return
    out = bit.overall_length.mm - HELD
    whole = f"the whole bit {stack.aside(bit.overall_length.mm)}"
    hold = f"the 3/4 in ({mm_text(HELD)}) that the collet must hold"
    if bit.cutting_length is not None and out < bit.cutting_length.mm - 1e-9:
        yield f"{whole} is shorter than its cutting edges {stack.aside(bit.cutting_length.mm)} and {hold}"
    elif plunge is not None and out < plunge - 1e-9:
        yield f"{whole} is shorter than the plunge {stack.aside(plunge)} and {hold}"


def _is_thin(bit: "Bit") -> bool:
    """True where the shank is known to follow the bit into the cut."""
    return bit.shank is not None and bit.shank.mm <= bit.diameter.mm + 1e-9


def bit_remarks(bit: "Bit", stack: Stack) -> tuple[int, tuple[str, ...]]:
    """GOOD, UNKNOWN or CARE, and what to look at where the bit is used; only the reach, and whether it plunges."""
    said = [*_edge_remarks(bit, stack)]
    if bit.plunging is False:
        said.append((CARE, "the bit does not plunge: drill a starting hole"))
    return max((level for level, _ in said), default=GOOD), tuple(text for _, text in said)


def _edge_remarks(bit: "Bit", stack: Stack) -> Iterator[tuple[int, str]]:
    if stack.depth is None:
        return
    if bit.cutting_length is None:
        yield UNKNOWN, "the length of its cutting edges is not known: measure it"
    elif bit.cutting_length.mm < stack.depth - 1e-9:
        yield CARE, f"the cut is deeper than its edges {stack.aside(bit.cutting_length.mm)}: clear the chips often"
    else:
        yield GOOD, f"its cutting edges {stack.aside(bit.cutting_length.mm)} reach the depth"


def stem_stop(bushing: "Bushing", stack: Stack) -> tuple[str, ...]:
    """Why a stem is too long for the plate, as far as both are known."""
    room = stack.under_base
    if bushing.stem is None or room is None or bushing.stem.mm < room - 1e-9:
        return ()
    return (f"the stem {stack.aside(bushing.stem.mm)} reaches the work: plate and stand-off are {stack.text(room)}",)


def stem_remark(bushing: "Bushing", stack: Stack) -> tuple[int, tuple[str, ...]]:
    """GOOD, UNKNOWN or CARE, and what to look at; nothing is said where the plate's thickness is not known."""
    if stack.plate is None or stack.under_base is None:
        return GOOD, ()
    if bushing.stem is None:
        return UNKNOWN, (f"the stem's length is not known: it must be under {stack.text(stack.under_base)}",)
    engaged = min(bushing.stem.mm, stack.plate)
    if engaged < LEAST_ENGAGEMENT:
        return CARE, (f"only {stack.text(engaged)} of the stem meets the template's edge",)
    return GOOD, (f"the stem {stack.aside(bushing.stem.mm)} suits the plate",)
