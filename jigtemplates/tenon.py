"""Loose-tenon stock for a cut: how thick, wide and long, how many, and the strips to saw them from; millimetres.

It is made to the cut that is predicted, not to the one that was asked for, since that is the mortise there will be.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigtemplates.lengths import both_text, first_text, inch_short, mm_text
from jigtemplates.parameters.job import TenonChoice, Work
from jigtemplates.say import in_inches, sides_text

if TYPE_CHECKING:
    from jigtemplates.checks.finding import Case, Finding
    from jigtemplates.report import Report


@dataclass(frozen=True, slots=True)
class Mortise:
    """The predicted cut as a mortise, mm."""

    #: the shorter of its sides: across the thickness of the tenon
    width: float
    #: the longer one, ends included
    length: float
    #: radius of its corners; half the width for round ends
    corner_radius: float
    depth: float
    #: True where the shorter side runs across the cut's length, as it nearly always does
    is_along: bool = True

    @property
    def extents(self) -> tuple[float, float]:
        """Across and along the work: width and length, or the other way round for a cut wider than long."""
        return (self.width, self.length) if self.is_along else (self.length, self.width)

    @property
    def is_round_ended(self) -> bool:
        """True for a slot or a round."""
        return self.corner_radius > self.width / 2 - 1e-6


@dataclass(frozen=True, slots=True)
class TenonStock:
    """Loose tenons of one kind, and the strips they are sawn from; mm."""

    choice: TenonChoice
    #: the stock the mortise is cut into; None when it was not said
    work: Work | None
    mortise: Mortise
    #: mortise's width less the fit
    thickness: float
    #: mortise's length less the fit; of square edges in round ends: the straight part of the mortise
    width: float
    #: both depths, less the glue room in each
    length: float
    #: half the thickness where the ends are round, else that of the mortise's corners; 0: square
    edge_radius: float
    #: one for each joint
    pieces: int
    #: most pieces sawn from one strip; 0 where none can be
    per_strip: int
    #: how many strips; 0 where none can be sawn
    strips: int
    #: length of each strip but perhaps the last
    strip_length: float
    #: of all strips together
    total_length: float

    @property
    def can_be_made(self) -> bool:
        """False where fit, glue room or square edges leave nothing of the tenon."""
        return min(self.thickness, self.width, self.length) > 0

    def facts(self) -> tuple[tuple[str, str], ...]:
        """Label and value of what a maker needs at the saw; only a sentence where nothing is left of the tenon."""
        if not self.can_be_made:
            return (("tenon", "none: nothing is left of it"),)
        return tuple(_facts(self))

    def findings(self) -> "tuple[Finding, ...]":
        """Its proportions against published ones, as warnings and notes."""
        from jigtemplates.checks.tenon import tenon_findings  # checks know this module

        return tuple(tenon_findings(self))


def stock_for(report: "Report | Case", choice: TenonChoice, work: Work | None = None) -> TenonStock | None:
    """The tenon stock for a job's predicted cut; None where the template makes no cut."""
    mortise = mortise_of(report)
    if mortise is None:
        return None
    length = mortise.depth + choice.mate_depth - 2 * choice.glue_room
    per_strip = _per_strip(length, choice)
    strips = math.ceil(choice.joints / per_strip) if per_strip else 0
    last = choice.joints - (strips - 1) * per_strip
    full = strip_for(per_strip, length, choice)
    return TenonStock(
        choice=choice,
        work=work,
        mortise=mortise,
        thickness=_cleaned(mortise.width - choice.fit),
        width=_cleaned(_width(mortise, choice)),
        length=_cleaned(length),
        edge_radius=_cleaned(_edge_radius(mortise, choice)),
        pieces=choice.joints,
        per_strip=per_strip,
        strips=strips,
        strip_length=_cleaned(full if strips else 0.0),
        total_length=_cleaned((strips - 1) * full + strip_for(last, length, choice) if strips else 0.0),
    )


def own_stock(report: "Report | Case") -> TenonStock | None:
    """The tenon stock that a job asks for, to its (first) cut; None where it asks for none, or there is no cut."""
    job = report.job
    return None if job.tenon is None else stock_for(report, job.tenon, job.work)


def stock_text(report: "Report") -> str:
    """It in a line, with what a strip is made up of: "8 of 9.9 mm x 49.9 mm x 52 mm, edges rounded r 4.95 mm, from 1
    strip of 483 mm (8 x 52 mm + 9 saw cuts of 3 mm + 20 mm waste at each end)".
    """
    stock, inches = own_stock(report), in_inches(report.job)
    if stock is None or not stock.can_be_made:
        return "none: nothing is left of it"
    sizes = sides_text(stock.thickness, stock.width, stock.length, inches=inches)
    edges = f"rounded r {first_text(stock.edge_radius, inches)}" if stock.edge_radius else "square"
    strips = ""
    if stock.strips == 1:
        strips = f", from 1 strip of {first_text(stock.total_length, inches, 1)}"
    elif stock.strips:
        strips = f", from {stock.strips} strips of at most {first_text(stock.strip_length, inches, 1)}"
    strips += f" ({strip_sum(stock, inches)})" if stock.strips else ""
    return f"{stock.pieces} of {sizes}, edges {edges}{strips}"


def strip_sum(stock: TenonStock, inches: bool) -> str:
    """What a full strip is made up of: "8 x 52 mm + 9 saw cuts of 3 mm + 20 mm waste at each end"."""
    choice, pieces = stock.choice, stock.per_strip
    text = inch_short if inches else mm_text
    cuts = f" + {pieces + 1} saw cuts of {text(choice.kerf)}" if choice.kerf else ""
    waste = f" + {text(choice.waste)} waste at each end" if choice.waste else ""
    return f"{pieces} x {text(stock.length)}{cuts}{waste}"


def stock_json(stock: TenonStock) -> dict[str, float | int]:
    """Its sizes in mm, as `--json` has them; sizes below 0 where nothing is left of a tenon."""
    sizes = ("thickness", "width", "length", "edge_radius", "strip_length", "total_length")
    return {name: getattr(stock, name) for name in ("pieces", *sizes, "strips", "per_strip")}


def mortise_of(report: "Report | Case") -> Mortise | None:
    """The predicted cut, its shorter side first; None where there is none."""
    cut, opening, tools = report.predicted, report.template.opening_size, report.job.tools
    if cut is None or opening is None:
        return None
    radius = opening.corner_radius - (tools.bushing.diameter.mm - tools.bit.diameter.mm) / 2
    width, length = sorted((cut.width, cut.length))
    return Mortise(width, length, radius, report.job.cut.depth, is_along=cut.width <= cut.length)


def _width(mortise: Mortise, choice: TenonChoice) -> float:
    """Square edges stay out of round ends: as wide as the straight sides are long (chosen; glue fills the ends)."""
    if choice.edge == "square" and mortise.is_round_ended:
        return mortise.length - mortise.width
    return mortise.length - choice.fit


def _edge_radius(mortise: Mortise, choice: TenonChoice) -> float:
    """Half the thickness of the tenon (Woodsmith Store, read; see references).

    Square edges in a mortise with round corners are eased as the corners are; in round ends they stay square.
    """
    if choice.edge == "round":
        return (mortise.width - choice.fit) / 2
    return 0.0 if mortise.is_round_ended else mortise.corner_radius


def strip_for(pieces: int, length: float, choice: TenonChoice) -> float:
    """A strip: waste at both ends, the pieces, and a saw cut at either side of each; mm."""
    return 2 * choice.waste + pieces * length + (pieces + 1) * choice.kerf


def _per_strip(length: float, choice: TenonChoice) -> int:
    """Most pieces in one strip, all of them where no longest strip was said; 0 where not even one fits."""
    if length <= 0:
        return 0
    if choice.strip is None:
        return choice.joints
    room = choice.strip - 2 * choice.waste - choice.kerf
    return max(0, min(choice.joints, math.floor(room / (length + choice.kerf) + 1e-9)))


def _cleaned(mm: float) -> float:
    """Without the binary noise of sums and offsets: to a nanometre."""
    return round(mm, 6)


def _facts(stock: TenonStock) -> Iterator[tuple[str, str]]:
    choice, mortise = stock.choice, stock.mortise
    yield "thickness", f"{both_text(stock.thickness)} (mortise {mm_text(mortise.width, 3)} - fit {_fit(choice)})"
    yield "width", f"{both_text(stock.width)} ({_width_text(stock)})"
    glue = mm_text(choice.glue_room)
    depths = f"{mm_text(mortise.depth)} + {mm_text(choice.mate_depth)} deep, less {glue} for glue in each"
    yield "length", f"{both_text(stock.length)} ({depths})"
    yield "edges", f"rounded, r {both_text(stock.edge_radius)}" if stock.edge_radius else "square"
    yield "pieces", str(stock.pieces)
    if stock.strips:
        yield "strips", _strips_text(stock)
    yield "grain", "along the length of the tenon"


def _fit(choice: TenonChoice) -> str:
    return mm_text(choice.fit, 3)


def _width_text(stock: TenonStock) -> str:
    mortise, choice = stock.mortise, stock.choice
    if choice.edge == "square" and mortise.is_round_ended:
        return "the straight part of the mortise; its round ends stay open"
    ends = ", round edges included" if choice.edge == "round" else ""
    return f"mortise {mm_text(mortise.length, 3)} - fit {_fit(choice)}{ends}"


def _strips_text(stock: TenonStock) -> str:
    choice = stock.choice
    each = f"saw cuts of {mm_text(choice.kerf)} and {mm_text(choice.waste)} waste at each end included"
    if stock.strips == 1:
        return f"1 of {both_text(stock.total_length, 1)}, {each}"
    return (
        f"{stock.strips} of at most {both_text(stock.strip_length, 1)} with {stock.per_strip} pieces each, "
        f"{mm_text(stock.total_length, 1)} in all, {each}"
    )
