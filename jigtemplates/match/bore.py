"""What a bushing's bore lets through: the bit with room for chips, and the shank; millimetres."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from jigtemplates.match.reach import Stack
from jigtemplates.practice import BETTER_ROOM, LEAST_ROOM, LEAST_WALL, TOUCHES

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bit, Bushing


def clashes(bit: "Bit", bushing: "Bushing", stack: Stack) -> Iterator[str]:
    """Why this bit cannot run in this bushing, as far as its bore and the bit's shank are known."""
    wide, outside, bore = bit.diameter.mm, bushing.diameter.mm, bore_of(bushing)
    if wide >= outside:
        yield f"the bushing {stack.aside(outside, 3)} is not wider than the bit {stack.aside(wide, 3)}"
    if bore is None:
        return
    if bore - wide <= 1e-9:
        yield f"the bit {stack.aside(wide, 3)} does not pass the bushing's bore {stack.aside(bore, 3)}"
    elif bore - wide < TOUCHES - 1e-9:
        yield f"only {stack.text(bore - wide, 3)} between bit and bore: a bushing a little off centre touches the bit"
    shank, edges, plunge, nut = bit.shank, bit.cutting_length, stack.plunge, bushing.nut
    if shank is None or edges is None or plunge is None or shank.mm < bore:
        return
    most = plunge + (0.0 if nut is None else nut.height.mm)
    if edges.mm <= most:
        yield (
            f"the shank {stack.aside(shank.mm, 3)} does not pass the bore {stack.aside(bore, 3)}, and the cutting "
            f"edges {stack.aside(edges.mm)} are not longer than the plunge{' and the nut' if nut else ''} "
            f"{stack.aside(most)}"
        )


def bore_of(bushing: "Bushing") -> float | None:
    """Diameter of the bore, mm; None where it is not known."""
    return None if bushing.bore is None else bushing.bore.mm


def chip_room(bit: float, bushing: float, bore: float | None, stack: Stack) -> tuple[int, str]:
    """How good the room for chips is (0 best, 4 worst), and the sentence that says so."""
    if bore is None and 0 < bushing - bit < LEAST_WALL - 1e-9:
        return 4, f"the bushing is only {stack.text(bushing - bit, 3)} wider than the bit: measure its bore first"
    if bore is None:
        return 2, "the bushing's bore is not known: measure it"
    room = f"{stack.text(bore - bit)} between bit and bore"
    if bore - bit < LEAST_ROOM - 1e-9:
        return 3, f"{room}, less than 1/16 in: chips pack, take shallow passes"
    if bore - bit < BETTER_ROOM - 1e-9:
        return 1, f"{room}: enough for the chips"
    return 0, f"{room}: ample room for chips"
