"""The rebate round the underside of a plate that is thicker than its holder's recess is deep.

::

     holder │  plate, its face flush with the holder's  │ holder
     ───────┤                                           ├───────
            ├──────┐                             ┌──────┤        ─┬─ edge = depth of the recess
     ───────┴──────┤                             ├──────┴───────
       ledge     │ │      the middle hangs       │ │              ─┬─ depth = thickness - edge
     ────────────┘ └─────── in the window ───────┘ └────────────
            ├width─┤

Millimetres. The plate rests on the ledge with its thinner edge; the thick middle hangs down into the window.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigtemplates.holders.box import CORNER, Box
from jigtemplates.lengths import Length, mm_text

if TYPE_CHECKING:
    from jigtemplates.geometry.outline import Outline
    from jigtemplates.parameters.entries import Holder
    from jigtemplates.parameters.job import Plate

#: The middle keeps at least this much off the window's edge wherever the plate lies in the recess, mm (chosen: only the
#: recess guides the plate, and neither fence nor window is true to less than a part of it).
ROOM = 1.0

#: A plate less than this thicker than the recess is deep is as thick, mm (chosen: no one can measure it in a shop).
SAME = 0.01


#: A rebate's pocket reaches this far past the plate's edge, mm (chosen: a cutter of any size then clears the plate's
#: corners, and few clamps stand so near).
OVERRUN = 5.0


@dataclass(frozen=True, slots=True)
class Rebate:
    """What is taken off round the underside."""

    #: from the plate's edge inwards, the same on every side
    width: float
    #: from the underside up; the middle hangs as far below the ledge
    depth: float
    #: thickness that stays at the edge: the recess is as deep
    edge: float
    #: the middle, which keeps its thickness, about the plate's own middle
    middle: Box

    def middle_on(self, plate: "Plate") -> "Outline":
        """Edge of the middle in its place on the plate, from the plate's lower-left corner."""
        return self.middle.outline.moved(plate.width / 2, plate.height / 2)


def rebate_of(plate: "Plate") -> Rebate | None:
    """The rebate of a plate; None where none is wanted.

    It is as deep as the plate is thicker than the recess is deep, and `rebate_width` wide. Raises ValueError where the
    holder does not say enough, which the parameters refuse.
    """
    if not plate.rebate:
        return None
    if plate.holder is None or plate.holder.depth is None:
        raise ValueError("a rebate needs a holder whose recess has a depth; the parameters refuse this")
    edge = plate.holder.depth.mm
    width = rebate_width(plate.holder, Box(plate.width, plate.height, plate.corner_radius))
    middle = Box(
        max(0.0, plate.width - 2 * width), max(0.0, plate.height - 2 * width), max(0.0, plate.corner_radius - width)
    )
    return Rebate(width, plate.thickness - edge, edge, middle)


def rebate_width(holder: "Holder", plate: Box) -> float:
    """The wider ledge, and beside it as much room as the plate has play in the recess, at least ROOM.

    A plate pushed against one side of the recess then still keeps that room between its middle and the window there,
    and the middle's corners, square where the rebate is wider than the plate's are round, pass the window's. One width
    serves every side, so that one setting of a fence does, and the plate can be turned; it is the next one up that a
    rule shows: half millimetres, or 1/32 in for a holder in inches.
    """
    from jigtemplates.holders import ledges_of, window_of

    ledges, window = ledges_of(holder), window_of(holder)
    if ledges is None or window is None:
        raise ValueError("a rebate needs a ledge or a window; the parameters refuse this")
    ledge, step = max(ledges), (25.4 / 32 if holder.width.is_inch else 0.5)
    play = max(holder.width.mm - plate.width, holder.height.mm - plate.height, holder.play.mm)
    least = ledge + max(play, ROOM, _for_corners(plate.radius - ledge, window.radius))
    return math.ceil(least / step - 1e-9) * step


def _for_corners(left: float, radius: float) -> float:
    """Room beside the ledge that lets a middle's corner pass a window's corner of that radius.

    `left` is the radius of the middle's corner if there were no room at all; a middle set in by g on both sides, its
    corner round by r, passes a corner of radius R where g >= (R - r) (1 - 1 / sqrt(2)), and r = left - g.
    """
    rounded = CORNER / (1 - CORNER) * (radius - left)
    return max(0.0, rounded if left - rounded > 0 else CORNER * radius)


def refuse_rebate(holder: "Holder | None", thickness: Length, *, is_stand_off_given: bool) -> None:
    """Raises a fault of the key plate.rebate that names all that is in its way."""
    from jigtemplates.parameters.fields import own_fault

    if holder is None:
        raise own_fault('needs a holder, whose recess the plate is to lie flush in (holder = "NAME", or leave it out)')
    missing = _missing(holder)
    if missing:
        raise own_fault(
            f"{' and '.join(missing)} of the holder {_is(missing)} not known (add to its profile, measured)"
        )
    assert holder.depth is not None  # it would be missing
    hang = thickness.mm - holder.depth.mm
    if hang < SAME:
        raise own_fault(
            f'there is nothing to rebate: the plate ("{thickness}") is not thicker than the recess is deep '
            f'("{holder.depth}") (leave it out)'
        )
    if not is_stand_off_given and hang > holder.stand_off.mm + 1e-9:
        raise own_fault(
            f"the plate's middle would hang {mm_text(hang)} below the ledge, where the holder stands only "
            f"{mm_text(holder.stand_off.mm)} off the work (take a thinner plate, or say plate.stand_off)"
        )


def _missing(holder: "Holder") -> list[str]:
    from jigtemplates.holders import window_of

    found = ["depth"] if holder.depth is None else []
    return [*found, "ledge or window"] if window_of(holder) is None else found


def _is(missing: list[str]) -> str:
    return "are" if len(missing) > 1 else "is"
