"""The rebate round the underside at a router table: the fence for each of the person's bits; millimetres.

The plate lies on the table as it lies in the holder, its upper face up, and its edge runs along the fence. The bit
stands out of the table as high as the rebate is deep, and in front of the fence as far as the rebate is wide.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigtemplates.byhand.fence import MOST_BITS, distinct
from jigtemplates.byhand.table import Table, shown
from jigtemplates.holders.box import Box
from jigtemplates.match import name_of
from jigtemplates.rebate import Rebate, rebate_of

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bit
    from jigtemplates.template import Template

TITLE = "The rebate round the underside, at a router table"
ROUND = "The plate is round and finds no fence: turn it on a pin in its middle, or rout round it with a bearing."
ORDER = (
    "Rout it before the opening, while the plate is whole, all four edges, upper face up, fed from right to left. Bury "
    "the rest of the bit in the fence, and take no more at a time than the bit likes."
)
SEEN = "Measured from the fence to the bit's far side, the one towards you, and from the table to its end."


@dataclass(frozen=True, slots=True)
class RebateCut:
    """One bit for the rebate."""

    bit: str
    #: from the fence to the far side of the bit, for each setting in turn: the edge of the plate first
    fences: tuple[float, ...]
    #: the bit above the table
    height: float


def rebate_cuts(rebate: Rebate, bits: Iterable["Bit"]) -> tuple[RebateCut, ...]:
    """The settings for the widest bits: equal steps, none wider than the bit, the last the rebate's width."""

    def fences(diameter: float) -> tuple[float, ...]:
        count = max(1, math.ceil(rebate.width / diameter - 1e-9))
        return tuple(rebate.width * k / count for k in range(1, count + 1))

    widest = distinct(bits)[:MOST_BITS]
    return tuple(RebateCut(name_of(bit), fences(bit.diameter.mm), rebate.depth) for bit in widest)


def rebate_tables(template: "Template", bits: Sequence["Bit"], inches: bool) -> tuple[Table, ...]:
    """The settings as text; none for a plate without a rebate, the reason alone for a round plate."""
    plate = template.job.plate
    rebate = rebate_of(plate)
    if rebate is None:
        return ()
    header = ("bit", "fence to far side", "height", "settings")
    if Box(plate.width, plate.height, plate.corner_radius).is_round:
        return (Table(TITLE, header, (), (ROUND,)),)
    rows = tuple(_row(cut, inches) for cut in rebate_cuts(rebate, bits))
    by_machine: tuple[str, ...] = ()
    if "cnc" in template.job.make.targets:
        from jigtemplates.facts import underside_zero

        by_machine = (f"Or on the CNC router, with the underside's own file: {underside_zero(template.job)}.",)
    return (Table(TITLE, header, rows, (SEEN, ORDER, *by_machine)),)


def _row(cut: RebateCut, inches: bool) -> tuple[str, ...]:
    last = shown(cut.fences[-1], inches)
    before = ", ".join(shown(fence, inches) for fence in cut.fences[:-1])
    how = f"{len(cut.fences)}, before it at {before}" if before else "1"
    return (cut.bit, last, shown(cut.height, inches), how)
