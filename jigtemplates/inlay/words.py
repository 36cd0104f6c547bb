"""How an inlay is spoken of: in inches first where the sizes are, and what to do where two pairs do not fit."""

from collections.abc import Iterator
from dataclasses import dataclass

from jigtemplates.inlay import Fit, Verdict
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.parameters.job import Job


@dataclass(frozen=True, slots=True)
class Names:
    """What the two cuts are called, and what goes into what."""

    #: the pair that runs inside the opening
    outer: str
    #: the pair whose groove leaves something standing
    inner: str
    #: what goes in, and what it goes into
    goes_in: str
    into: str
    #: the rule of the pairs, in letters
    rule: str
    #: the tool of the outer pair's bushing that can be made thicker, and then what is made anew
    anew: str


INLAY = Names(
    outer="recess",
    inner="plug",
    goes_in="the plug",
    into="the recess",
    rule="recess: bushing - bit = plug: bushing + bit",
    anew="and the opening made for that size",
)
SECOND = Names(
    outer="second",
    inner="first",
    goes_in="the first template",
    into="the cut of the second",
    rule="first: bushing + bit = second: bushing - bit",
    anew="in the second template as it is",
)


def is_in_inches(job: Job) -> bool:
    """Whether lengths of a job are said in inches first."""
    return job.units == "in" or (job.units is None and job.cut.width_written.is_inch)


def said(mm: float, inches: bool, digits: int = 3) -> str:
    """ "0.5 in (12.7 mm)" with inches, else "12.7 mm"."""
    return f"{inch_short(mm)} ({mm_text(mm, digits)})" if inches else mm_text(mm, digits)


def verdict_text(fit: Fit, *, inches: bool = False, names: Names = INLAY) -> str:
    """Whether the pairs fit and by how much they miss, as a sentence without its stop."""
    gap, line, miss = (said(abs(mm), inches) for mm in (fit.gap, fit.glue_line, fit.miss))
    wanted = f"where {line} is wanted" if fit.glue_line else "where none is wanted"
    match fit.verdict:
        case Verdict.FITS if fit.gap < 5e-4:
            return f"they fit: {names.goes_in} is as large as {names.into}"
        case Verdict.FITS:
            return f"they fit: {names.goes_in} leaves a gap of {gap} a side"
        case Verdict.LOOSE:
            return f"they miss by {miss} a side: {names.goes_in} leaves a gap of {gap} a side {wanted}"
        case Verdict.TIGHT if fit.gap >= 5e-4:
            return f"they miss by {miss} a side: {names.goes_in} leaves a gap of {gap} a side {wanted}"
        case Verdict.TIGHT:
            return f"they miss by {miss} a side: {names.goes_in} leaves no gap {wanted}"
    return f"they miss by {miss} a side: {names.goes_in} is larger than {names.into} by {gap} a side"


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
    return f"or a sleeve (or tape) {thick} thick round the {names.outer}'s bushing, {names.anew}"
