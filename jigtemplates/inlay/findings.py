"""What is said of an inlay: pairs that miss, narrow passages, thin stock, corners, and the plug's own set-up."""

from collections.abc import Iterator
from dataclasses import replace

from jigtemplates.checks.bore import check_bore
from jigtemplates.checks.depth import check_depth
from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.checks.reach import check_reach
from jigtemplates.checks.stem import check_stem
from jigtemplates.checks.support import check_support
from jigtemplates.inlay import Fit, Verdict
from jigtemplates.inlay.overlay import Overlay
from jigtemplates.inlay.plug import choice_of, fit_of, plug_case
from jigtemplates.inlay.words import is_in_inches, remedies, said, verdict_text
from jigtemplates.practice import FITS, HAIR
from jigtemplates.say import area
from jigtemplates.wanted import edge_of_work

#: Areas smaller than this, mm², are not worth a word (chosen).
CRUMB = 0.01

#: What is asked of the plug's set-up as well.
OF_THE_PLUG = (check_bore, check_stem, check_depth, check_reach, check_support)

#: The keys of the recess's tools, and what they are for the plug.
_KEYS = {"tools.bit": "inlay.plug_bit", "tools.bushing": "inlay.plug_bushing", "cut.depth": "inlay.plug_thickness"}


def inlay_findings(case: Case) -> Iterator[Finding]:
    """Everything about the inlay of a job that has one."""
    fit = fit_of(case.job)
    yield from _can_be(case, fit)
    if case.inlay is not None and fit.plug.bit < fit.plug.bushing:
        yield from _pairs(case, fit)
        yield from _laid_over(fit, case.inlay, case)
        yield from _thickness(case)
        yield from _corners(case, fit)
        yield from _set_up(case)


def _can_be(case: Case, fit: Fit) -> Iterator[Finding]:
    if any(edge_of_work(cut) is not None for cut in case.job.cuts):
        yield stop(
            "inlay-open",
            "inlay",
            "a cut that is open to the edge of the work leaves no plug standing: leave [inlay] out, or give the cut "
            "another shape",
        )
    if fit.plug.bit >= fit.plug.bushing:
        yield stop(
            "plug-bushing-not-wider-than-bit",
            "inlay.plug_bushing",
            f"the plug's bushing {case.aside(fit.plug.bushing, 3)} must be wider than its bit "
            f"{case.aside(fit.plug.bit, 3)}, which runs inside it: use a larger bushing or a smaller bit",
        )


def _pairs(case: Case, fit: Fit) -> Iterator[Finding]:
    """Whether Gr - Br = Gp + Bp, less twice the glue line."""
    if fit.fits:
        return
    inches = is_in_inches(case.job)
    words = f"recess and plug do not fit, {verdict_text(fit, inches=inches)}; {'; '.join(remedies(fit, inches=inches))}"
    words += "; jigtemplates inlay with this job names tools you have"
    if fit.verdict is Verdict.TOO_LARGE:
        yield stop("plug-too-large", "inlay.plug_bushing", words)
    elif fit.verdict is Verdict.TIGHT:
        yield warning("plug-tight", "inlay.plug_bushing", words)
    elif fit.miss <= HAIR:
        yield note("plug-loose", "inlay.plug_bushing", words)
    else:
        yield warning("plug-loose", "inlay.plug_bushing", words)


def _laid_over(fit: Fit, laid: Overlay, case: Case) -> Iterator[Finding]:
    """What geometry says beyond the sum: narrow passages that one of the two pairs does not pass."""
    inches = is_in_inches(case.job)
    if laid.recess and not laid.plug:
        yield stop(
            "no-plug",
            "inlay.plug_bushing",
            f"nothing of the plug stays standing: bushing and bit together, {said(2 * fit.plug.beyond, inches)}, are "
            "as wide as the opening; use smaller ones, or make the cut wider",
        )
    elif fit.gap >= -FITS and laid.overlap_area > CRUMB and laid.smallest_gap < -HAIR:
        yield stop(
            "plug-overlaps",
            "inlay.plug_bushing",
            f"where the recess's bushing does not pass, the plug is up to {said(-laid.smallest_gap, inches)} larger "
            f"than the recess ({area(laid.overlap_area, case.job)} in all): make the narrow passages of the cut wider, "
            "or take a smaller bushing and bit for the recess",
        )
    elif fit.gap >= -FITS and _is_incomplete(fit, laid):
        yield warning(
            "plug-incomplete",
            "inlay.plug_bushing",
            f"recess and plug differ by up to {said(laid.largest_gap, inches)} where the passages are narrow (recess "
            f"in {_parts(len(laid.recess))}, plug in {_parts(len(laid.plug))}): fill that with a piece of its own, or "
            "make the narrow passages of the cut wider",
        )


def _is_incomplete(fit: Fit, laid: Overlay) -> bool:
    """Whether the plug lacks a part; a gap wider than the recess's bit leaves more open at sharp corners anyway."""
    is_wider = laid.largest_gap > fit.gap + HAIR and fit.gap <= fit.smallest_convex
    return is_wider or len(laid.recess) != len(laid.plug)


def _parts(count: int) -> str:
    return f"{count} part{'s' * (count != 1)}"


def _thickness(case: Case) -> Iterator[Finding]:
    """Inlay stock that would lie below the face of the work."""
    choice, depth, inches = case.job.inlay, max(cut.depth for cut in case.job.cuts), is_in_inches(case.job)
    if choice is not None and choice.thickness < depth - 1e-9:
        yield warning(
            "plug-below-face",
            "inlay.plug_thickness",
            f"the inlay stock ({said(choice.thickness, inches)}) is thinner than the recess is deep "
            f"({said(depth, inches)}), so the plug would lie {said(depth - choice.thickness, inches)} below the face: "
            "cut less deep, or use thicker stock and plane it flush",
        )


def _corners(case: Case, fit: Fit) -> Iterator[Finding]:
    """That rounded corners need no chisel here: both cuts round them alike."""
    inches = is_in_inches(case.job)
    if any(
        part.predicted is not None and part.predicted.max_deviation >= HAIR and not part.template.widened
        for part in case.parts
    ):
        yield note(
            "inlay-corners",
            "inlay",
            "corners that the recess's bit leaves round come out alike on the plug, so there is nothing to chisel: "
            f"radius {said(fit.smallest_convex, inches)} where the inlay points out, at least "
            f"{said(fit.smallest_concave, inches)} where the wood points into it",
        )


def _set_up(case: Case) -> Iterator[Finding]:
    """What the checks of tools and support say of the plug and have not said of the recess."""
    plug, same_bit = plug_case(case), choice_of(case.job).bit == case.job.tools.bit
    for check in OF_THE_PLUG:
        known = {(finding.code, finding.where) for finding in check(case)}
        for finding in check(plug):
            about_tool = finding.where == "tools.bushing" or (finding.where == "tools.bit" and not same_bit)
            if about_tool or (finding.code, finding.where) not in known:
                yield _of_the_plug(finding)


def _of_the_plug(finding: Finding) -> Finding:
    message = finding.message.replace("bushing = {", "plug_bushing = {").replace("bit = {", "plug_bit = {")
    return replace(finding, where=_KEYS.get(finding.where, finding.where), message=f"for the plug: {message}")
