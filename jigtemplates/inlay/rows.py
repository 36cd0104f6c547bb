"""What is said of an inlay beside its label: for the terminal and its sheet."""

from jigtemplates.facts import tool_text
from jigtemplates.inlay import Fit
from jigtemplates.inlay.overlay import Overlay, plug_of
from jigtemplates.inlay.plug import THROUGH, choice_of, fit_of, plug_case
from jigtemplates.inlay.words import INLAY, SHOWN, Names, is_in_inches, radii_text, said, verdict_text
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.opening import size_of
from jigtemplates.parameters.job import Bit, Bushing, Job
from jigtemplates.report import Report
from jigtemplates.say import area

Rows = list[tuple[str, str]]

#: Areas smaller than this are rounding, mm².
TRACE = 1e-6


def inlay_facts(report: Report) -> Rows:
    """The plug's tools and whether they fit, in two rows among those of the template."""
    job, inches = report.job, is_in_inches(report.job)
    choice = choice_of(job)
    tools = tools_text(choice.bit, choice.bushing)
    plunge = said(plug_case(report.case).plunge_depth, inches)
    return [("plug", f"{tools}; plunge {plunge}"), ("inlay", verdict_text(fit_of(job), inches=inches))]


def tools_text(bit: Bit, bushing: Bushing) -> str:
    """ "bit 5 mm, bushing 20 mm"; a name that says what it is says it once."""
    named = (("bit", tool_text(bit)), ("bushing", tool_text(bushing)))
    return ", ".join(text if text.lower().startswith(kind) else f"{kind} {text}" for kind, text in named)


def inlay_rows(report: Report) -> Rows:
    """Label and value of what belongs to an inlay, in the order of the work."""
    job, case, fit = report.job, report.case, fit_of(report.job)
    inches, choice = is_in_inches(job), choice_of(report.job)
    thick, through = said(choice.thickness, inches), said(THROUGH, inches)
    rows = [
        ("recess", tools_text(job.tools.bit, job.tools.bushing)),
        ("plunge", f"{said(case.plunge_depth, inches)}, cut {said(job.cut.depth, inches)} deep"),
        ("plug", tools_text(choice.bit, choice.bushing)),
        ("plunge", f"{said(plug_case(case).plunge_depth, inches)}, stock {thick} and {through} into the board below"),
        ("pairs", verdict_text(fit, inches=inches)),
    ]
    return [*rows, *_size_rows(report, fit, inches), *laid_rows(case.inlay, fit, job, INLAY)]


def _size_rows(report: Report, fit: Fit, inches: bool) -> Rows:
    made, plug = report.predicted, size_of(plug_of(report.template.opening_at_rest, fit))
    if made is None:
        return []
    is_round = report.job.cut.shape == "round"
    rows = [("recess made", _extents(made.width, made.length, inches, is_round))]
    return [*rows, ("plug made", "none" if plug is None else _extents(plug.width, plug.length, inches, is_round))]


def _extents(width: float, length: float, inches: bool, is_round: bool) -> str:
    if is_round:
        return f"dia {said(width, inches)}"
    mm = f"{mm_text(width, 3).removesuffix(' mm')} x {mm_text(length, 3)}"
    return f"{inch_short(width).removesuffix(' in')} x {inch_short(length)} ({mm})" if inches else mm


def laid_rows(laid: Overlay | None, fit: Fit, job: Job, names: Names) -> Rows:
    """What laying one over the other says."""
    if laid is None or not laid.recess or not laid.plug:
        return []
    return [
        ("laid over", _laid_text(laid, job, names)),
        ("least radius", radii_text(fit, inches=is_in_inches(job), names=names)),
    ]


def _laid_text(laid: Overlay, job: Job, names: Names) -> str:
    """ "they differ by 0.05 mm all round, no overlap; 12.30 mm² left open"."""
    least, most, inches = laid.smallest_gap, laid.largest_gap, is_in_inches(job)
    if most < SHOWN:
        return "they coincide all round, no overlap"
    if laid.overlap_area > TRACE:
        return f"{names.reaches.format(said(-least, inches))} ({area(laid.overlap_area, job)})"
    differ = f"{said(most, inches)} all round" if most - least < SHOWN else f"up to {said(most, inches)}"
    return f"they differ by {differ}, no overlap; {area(laid.open_area, job)} left open"
