"""Openings that the person's own bits and drills make directly, and the cut each would give; millimetres."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from jigtemplates.byhand.fence import distinct
from jigtemplates.byhand.table import Table, shown
from jigtemplates.checks.fit import BINDS
from jigtemplates.lengths import Length
from jigtemplates.match import name_of
from jigtemplates.template import Template
from jigtemplates.wanted import narrow_side

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bit

#: Openings shown, the nearest first (chosen: enough to choose from).
MOST = 6
#: A bit or drill so little narrower than the bushing still counts as being as wide, mm (chosen: rounding only).
SAME = 1e-6

OTHER_SHAPE = "Only a slot or a round is as wide as a bit or drill: for this shape there is none to choose."
NONE_NEAR = "None of the bits and drills is as wide as the bushing and near the opening's width."
#: A cut further from the wanted one than this share of its width is no help (chosen).
NEAR = 0.5


@dataclass(frozen=True, slots=True)
class EasyOpening:
    """An opening as wide as a bit or drill."""

    #: what the person calls the bit, or the drill's size
    tool: str
    kind: Literal["bit", "drill"]
    #: of the opening: the tool's diameter
    width: float
    #: overall length of the opening that keeps the cut's length; the width for a round
    length: float
    #: of the cut it gives: bit + opening - bushing
    cut: float
    #: that cut less the one that is wanted
    difference: float
    #: opening less bushing
    clearance: float

    @property
    def binds(self) -> bool:
        """True where the bushing has no room to run."""
        return self.clearance < BINDS - 1e-9


def easy_openings(template: Template, bits: Iterable["Bit"], drills: Iterable[Length]) -> tuple[EasyOpening, ...]:
    """Slots and rounds as wide as a bit or drill and no narrower than the bushing, the nearest cut first.

    The cut's width is bit + opening - bushing (plan, section 3). None for other shapes.
    """
    job = template.job
    if job.cut.shape not in ("slot", "round"):
        return ()
    bushing, cutter = job.tools.bushing.diameter.mm, job.tools.bit.diameter.mm
    wanted, more = narrow_side(job.cut), bushing - cutter
    found = [
        EasyOpening(
            tool=tool,
            kind=kind,
            width=diameter,
            length=diameter if job.cut.shape == "round" else max(job.cut.length + more, diameter),
            cut=round(diameter - more, 9),
            difference=round(diameter - more - wanted, 9),
            clearance=round(diameter - bushing, 9),
        )
        for tool, kind, diameter in _tools(bits, drills)
        if diameter >= bushing - SAME and abs(diameter - more - wanted) <= NEAR * wanted
    ]
    return tuple(sorted(found, key=lambda one: abs(one.difference))[:MOST])


def _tools(bits: Iterable["Bit"], drills: Iterable[Length]) -> Iterator[tuple[str, Literal["bit", "drill"], float]]:
    """Bits before drills: a bit makes a slot's sides as well."""
    for bit in distinct(bits):
        yield name_of(bit), "bit", bit.diameter.mm
    for drill in sorted(set(drills), key=lambda length: length.exact):
        yield drill.text, "drill", drill.mm


def easy_table(template: Template, found: Sequence[EasyOpening], inches: bool) -> Table:
    """The easy openings as text; the reason alone where there is none."""
    header = ("made by", "opening", "length", "cut", "against the wanted", "bushing")
    title = "Easier openings, which a bit or drill makes directly"
    if template.job.cut.shape not in ("slot", "round"):
        return Table(title, header, (), (OTHER_SHAPE,))
    if not found:
        return Table(title, header, (), (NONE_NEAR,))
    notes = ["Change the cut's width in the job to the one you choose; the length stays."]
    if any(one.kind == "drill" for one in found) and template.job.cut.shape == "slot":
        notes.append("A drill makes the ends of a slot; saw and pare its sides to the lines between them.")
    return Table(title, header, tuple(_row(one, inches) for one in found), tuple(notes))


def _row(one: EasyOpening, inches: bool) -> tuple[str, ...]:
    wider = "as wanted" if abs(one.difference) < 5e-4 else f"{shown(abs(one.difference), inches)} "
    if wider[-1] == " ":
        wider += "wider" if one.difference > 0 else "narrower"
    room = "binds: pare a little" if one.binds else f"{shown(one.clearance, inches)} room"
    sizes = (shown(mm, inches) for mm in (one.width, one.length, one.cut))
    return (f"{one.kind} {one.tool}" if one.kind == "drill" else one.tool, *sizes, wider, room)
