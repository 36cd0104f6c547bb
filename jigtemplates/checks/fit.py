"""Does the bit go into the cut and the bushing into the opening, and what cut comes out?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.lengths import both_text, mm_text
from jigtemplates.template import FITS

#: A trapped bushing with more room than this wanders visibly, mm. Chosen: twice the widest running fit
#: for these diameters, H9/d9 at 0.169 mm (ISO 286, quoted in references).
LOOSE = 0.34

#: Corners that keep less than this are not worth a word, mm² (chosen).
CRUMB = 0.01


def check_fit(case: Case) -> Iterator[Finding]:
    """Bit against cut, bushing against bit, running clearance, side play and corners."""
    if case.bit >= case.bushing:
        yield _bushing_too_small(case)
    if case.job.cut.width < case.bit - FITS:
        yield _bit_too_wide(case)
        return
    yield from _clearance(case)
    yield from _width_that_comes_out(case)
    yield from _corners(case)


def _bushing_too_small(case: Case) -> Finding:
    return stop(
        "bushing-not-wider-than-bit",
        "tools.bushing",
        f"the bushing ({mm_text(case.bushing, 3)}) must be wider than the bit ({mm_text(case.bit, 3)}) that "
        "runs inside it: use a larger bushing or a smaller bit",
    )


def _bit_too_wide(case: Case) -> Finding:
    return stop(
        "bit-wider-than-cut",
        "tools.bit",
        f"the bit ({mm_text(case.bit, 3)}) is wider than the cut ({mm_text(case.job.cut.width, 3)}): use a bit of "
        f"at most {mm_text(case.job.cut.width, 3)}, or make cut.width at least {mm_text(case.bit, 3)}",
    )


def _clearance(case: Case) -> Iterator[Finding]:
    if not case.trapped:
        yield note(
            "side-play",
            "cut.width",
            f"the bushing can move {mm_text(case.side_play or 0.0, 3)} sideways in the opening, so one pass does "
            "not make the width: go all round the edge, clockwise",
        )
    elif case.side_play == 0:
        yield warning(
            "no-running-clearance",
            "tools.clearance",
            "the opening is exactly as wide as the bushing, which will bind: set tools.clearance to "
            "0.1 mm and widen cut.width by as much",
        )
    elif case.job.tools.clearance > LOOSE:
        yield warning(
            "loose-clearance",
            "tools.clearance",
            f"a running clearance of {mm_text(case.job.tools.clearance, 3)} lets the bushing wander: 0.05 to "
            "0.15 mm is usual; more is better given as cut.width",
        )


def _width_that_comes_out(case: Case) -> Iterator[Finding]:
    if not case.template.widened or case.predicted is None:
        return
    yield note(
        "cut-comes-out-wider",
        "cut.width",
        f"the bit is as wide as the cut ({mm_text(case.job.cut.width, 3)}), so the cut comes out at bit + running "
        f"clearance: {both_text(case.predicted.width)}; make the tenon to suit, or change tools.clearance",
    )


def _corners(case: Case) -> Iterator[Finding]:
    if case.predicted is None or case.predicted.unreachable_area < CRUMB:
        return
    radius = mm_text(case.bit / 2, 3)
    yield warning(
        "corner-tighter-than-bit",
        "cut.corner_radius" if case.job.cut.shape == "rectangle" else "cut.width",
        f"the bit leaves corners of radius {radius}, up to {mm_text(case.predicted.max_deviation)} short of the cut "
        f"({case.predicted.unreachable_area:.2f} mm² in all): chisel them out, round the work to {radius}, or set "
        f"cut.corner_radius to {radius}",
    )
