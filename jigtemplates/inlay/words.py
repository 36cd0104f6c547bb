"""How an inlay is spoken of: in inches first where the sizes are, and what to do where two pairs do not fit."""

from collections.abc import Iterator
from dataclasses import dataclass

from jigtemplates.inlay import Fit, Verdict
from jigtemplates.lengths import first_text
from jigtemplates.parameters.job import Job
from jigtemplates.say import in_inches

#: A gap smaller than this is not shown, mm (lengths are shown with three decimals).
SHOWN = 5e-4


@dataclass(frozen=True, slots=True)
class Names:
    """What the two cuts are called, and how it is said that one goes into the other."""

    #: the pair that runs inside the opening, and the one whose groove leaves something standing
    outer: str
    inner: str
    #: the same at the head of a line
    outer_head: str
    inner_head: str
    #: from where to where `Fit.recess.inside` and `Fit.plug.beyond` reach, behind the length
    outer_edge: str
    inner_edge: str
    #: what has the radii
    piece: str
    #: the rule of the pairs
    rule: str
    #: both of one size; a gap; no gap; too large: {} is a length
    same: str
    gap: str
    no_gap: str
    over: str
    #: of one laid over the other, where it is too large: {} is a length
    reaches: str
    #: what else a thicker bushing of the outer pair needs
    anew: str


INLAY = Names(
    outer="recess",
    inner="plug",
    outer_head="Recess",
    inner_head="Plug",
    outer_edge="its edge {} inside the opening's",
    inner_edge="its edge {} inside the opening's",
    piece="the inlay",
    rule="bushing - bit of the recess = bushing + bit of the plug",
    same="the plug is as large as the recess",
    gap="the plug leaves a gap of {} a side",
    no_gap="the plug leaves no gap",
    over="the plug is larger than the recess by {} a side",
    reaches="the plug reaches up to {} beyond the recess",
    anew=", and the opening made for that size",
)
SECOND = Names(
    outer="second",
    inner="first",
    outer_head="Inside the second template",
    inner_head="Round the first template",
    outer_edge="the cut's edge {} inside its opening's",
    inner_edge="the groove's far edge {} outside it",
    piece="the first template",
    rule="bushing + bit round the first = bushing - bit inside the second",
    same="the cut of the second is as large as the first",
    gap="the cut of the second is larger than the first by {} a side",
    no_gap="the cut of the second is no larger than the first",
    over="the cut of the second is smaller than the first by {} a side",
    reaches="the first reaches up to {} beyond the cut of the second",
    anew="",
)


#: For the plug (common practice, no source).
CAUTIONS = (
    "Stick the inlay stock flat on a waste board with double-sided tape all over: the plug comes loose at the last "
    "pass, and must not move then.",
    "Hold the bushing against the edge of the opening all the way round, clockwise: a slip inwards cuts into the plug.",
    "The bit cuts in a full groove: shallow passes, the last one slowly. Let it stop before you lift out or reach in.",
    "The same side of the template up both times, and the show face of the inlay stock up.",
    "Make both in scrap first: how a bushing sits, and what a bit really measures, decides the fit.",
)


def is_in_inches(job: Job) -> bool:
    """Whether lengths of a job are said in inches first."""
    return in_inches(job)


def said(mm: float, inches: bool, digits: int = 3) -> str:
    """ "0.5 in (12.7 mm)" with inches, else "12.7 mm"."""
    return first_text(mm, inches, digits)


def verdict_text(fit: Fit, *, inches: bool = False, names: Names = INLAY) -> str:
    """Whether the pairs fit and by how much they miss, as a sentence without its stop."""
    gap, line, miss = (said(abs(mm), inches) for mm in (fit.gap, fit.glue_line, fit.miss))
    how = names.over if fit.verdict is Verdict.TOO_LARGE else names.gap if fit.gap >= SHOWN else names.no_gap
    if fit.fits:
        return f"they fit: {how.format(gap) if fit.gap >= SHOWN else names.same}"
    wanted = f" where {line} is wanted" if fit.glue_line else " where none is wanted"
    over = fit.verdict is Verdict.TOO_LARGE
    return f"they miss by {miss} a side: {how.format(gap)}{'' if over and not fit.glue_line else wanted}"


def radii_text(fit: Fit, *, inches: bool, names: Names = INLAY) -> str:
    """The smallest radii that both cuts can follow."""
    convex, concave = said(fit.smallest_convex, inches), said(fit.smallest_concave, inches)
    return f"{convex} where {names.piece} points out, {concave} where it points in"


def remedies(fit: Fit, *, inches: bool = False, names: Names = INLAY) -> Iterator[str]:
    """Sizes of single tools with which the others would fit, and what a sleeve can do; nothing where they fit."""
    if fit.fits:
        return
    wanted = (
        (f"the {names.inner}'s bushing", fit.plug_bushing_wanted, fit.plug.bit),
        (f"the {names.inner}'s bit", fit.plug_bit_wanted, 0.0),
        (f"the {names.outer}'s bushing", fit.recess_bushing_wanted, fit.recess.bit),
    )
    sizes = [f"{tool} {said(mm, inches)}" for tool, mm, least in wanted if mm > least + 1e-6]
    if sizes:
        yield f"one of these would make them fit: {', or '.join(sizes)}"
    yield _sleeve(fit, inches, names)


def _sleeve(fit: Fit, inches: bool, names: Names) -> str:
    """A bushing can only be made thicker (tape or a sleeve round it: common practice, no source)."""
    thick = said(abs(fit.miss), inches)
    if fit.miss < 0:
        return f"or a sleeve (or tape) {thick} thick round the {names.inner}'s bushing"
    return f"or a sleeve (or tape) {thick} thick round the {names.outer}'s bushing{names.anew}"
