"""A template made without machines: drilling, the opening at a router table, and easier openings near it.

Places are in mm from the datum corner, the plate's lower-left one, seen from above.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from jigtemplates.byhand.drill import INCH, METRIC, DrillHole, drill_holes, drilling_table
from jigtemplates.byhand.easy import EasyOpening, easy_openings, easy_table
from jigtemplates.byhand.fence import (
    FenceCut,
    Pivot,
    fence_cuts,
    fence_table,
    is_circle,
    pivot_table,
    pivots,
    round_openings,
    single_openings,
)
from jigtemplates.byhand.table import Table, shown
from jigtemplates.geometry.outline import Arc
from jigtemplates.lengths import Length, mm_text
from jigtemplates.say import in_inches
from jigtemplates.template import Template

if TYPE_CHECKING:
    from jigtemplates.parameters import job
    from jigtemplates.parameters.entries import Bit
    from jigtemplates.report import Report

__all__ = ["ByHand", "DrillHole", "EasyOpening", "FenceCut", "Pivot", "Table", "by_hand", "with_own_bits"]

NO_OWN_BITS = (
    "No bits of your own are written down, so only the job's is looked at. To add one: "
    'jigtemplates tools add bits "my 1/2" diameter="1/2 in"'
)

SAWN = "Saw the pattern close to its line, then plane, sand or file it to the line."


@dataclass(frozen=True)
class ByHand:
    """What a person needs to make the plate with drill, router table and hand tools."""

    template: Template
    #: screw holes, then the opening's ends or corners
    drilling: tuple[DrillHole, ...]
    #: runs along a fence; none for a round or turned opening
    fence: tuple[FenceCut, ...]
    #: a round opening's pivots
    pivots: tuple[Pivot, ...]
    #: openings that a bit or drill makes directly, the nearest cut first
    easy: tuple[EasyOpening, ...]
    #: True where the drills are the person's own, False where they are those that can be bought
    own_drills: bool
    #: False where the person's own bits are not known, only the job's
    own_bits: bool = True
    #: those that are looked at
    bits: tuple["Bit", ...] = ()
    #: among several openings: diameter of each kind of round one, and its pivots
    more_pivots: tuple[tuple[float, tuple[Pivot, ...]], ...] = ()

    @property
    def inches(self) -> bool:
        """Whether its texts are in inches: as the job is."""
        return in_inches(self.template.job)

    def tables(self) -> tuple[Table, ...]:
        """Drilling, the opening at a router table, easier openings; only the drilling without an opening."""
        return (*self._opening_tables(), *self._rebate_tables())

    def _rebate_tables(self) -> tuple[Table, ...]:
        """The rebate round the underside, where one is wanted."""
        if not self.template.job.plate.rebate:
            return ()
        from jigtemplates.byhand.rebate import rebate_tables

        return rebate_tables(self.template, self.bits, self.inches)

    def _opening_tables(self) -> tuple[Table, ...]:
        size = self.template.opening_size
        is_round = self.template.plate.outer.as_circle is not None
        drilling = drilling_table(self.drilling, self.inches, self.own_drills, round_plate=is_round)
        if self.template.job.cut.side == "outside":  # a pattern is sawn and filed to its line
            return ((drilling,) if self.drilling else ()) + (self._pattern_table(),)
        if size is None:
            return (drilling,)
        easy = easy_table(self.template, self.easy, self.inches)
        easy = easy if self.own_bits else replace(easy, notes=(*easy.notes, NO_OWN_BITS))
        return (drilling, *self._at_table(size.width), easy)

    def _pattern_table(self) -> Table:
        """How a pattern is made; of a round one the middle and the radius for a trammel."""
        notes = [SAWN if self.drilling else f"Nothing is drilled. {SAWN}"]
        if circle := self.round_pattern:
            x, y = (shown(mm, self.inches) for mm in circle.center)
            where = f", its middle at ({x}, {y}) from the datum corner" if self.drilling else ""
            radius = shown(circle.radius, self.inches)
            notes.append(f"It is round{where}: draw its line with a trammel set to a radius of {radius}.")
        return Table("The pattern", (), (), tuple(notes))

    @property
    def round_pattern(self) -> Arc | None:
        """A round pattern's circle; None for any other plate."""
        is_pattern = self.template.job.cut.side == "outside"
        return self.template.plate.outer.as_circle if is_pattern else None

    def _at_table(self, width: float) -> Iterator[Table]:
        """The opening on a pin or along a fence; of several openings both, where both have a place."""
        if is_circle(self.template):
            yield pivot_table(width, self.pivots, self.inches)
            return
        if not all(is_circle(one) for one in single_openings(self.template)):
            yield fence_table(self.template, self.fence, self.inches)
        for diameter, found in self.more_pivots:
            yield pivot_table(diameter, found, self.inches)

    def lines(self) -> Iterator[str]:
        """The tables for a terminal."""
        for table in self.tables():
            yield from table.lines()


def by_hand(report: "Report", bits: Iterable["Bit"], drills: Sequence[Length] = ()) -> ByHand:
    """How to make the template of a report with these bits and drills.

    Without drills of one's own those that can be bought are chosen from for the opening's ends: 0.5 mm steps, or
    1/64 in steps for a job in inches; they are not offered as easy openings.
    """
    template, own_bits = report.template, tuple(bits)
    to_buy = INCH if in_inches(report.job) else METRIC
    has_opening = bool(template.opening)
    return ByHand(
        template=template,
        drilling=drill_holes(template, drills or to_buy),
        fence=fence_cuts(template, own_bits),
        pivots=pivots(template, own_bits),
        easy=easy_openings(template, own_bits, drills) if has_opening else (),
        own_drills=bool(drills),
        bits=own_bits,
        more_pivots=tuple(_more_pivots(template, own_bits)) if has_opening else (),
    )


def _more_pivots(template: Template, bits: Sequence["Bit"]) -> Iterator[tuple[float, tuple[Pivot, ...]]]:
    if not is_circle(template):
        for one in round_openings(template):
            yield one.opening[0].bounds.width, pivots(one, bits)


def with_own_bits(report: "Report", own: Iterable["Bit"]) -> ByHand:
    """How to make it with the job's bit and the person's own, and drills that can be bought."""
    bits = tuple(own)
    return replace(by_hand(report, (_entry(report.job.tools.bit), *bits)), own_bits=bool(bits))


def _entry(bit: "job.Bit") -> "Bit":
    """The job's bit as an entry, with what matters here."""
    from jigtemplates.parameters.entries import Bit

    edges = bit.cutting_length
    length = None if edges is None else Length(Fraction(edges), mm_text(edges, 3))
    return Bit.model_construct(name=bit.name, diameter=bit.diameter, cutting_length=length)
