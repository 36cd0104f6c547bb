"""Does the bit go into the cut and the bushing into the opening, and what cut comes out?"""

from collections.abc import Iterator

from jigtemplates.checks.corners import check_corners
from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.lengths import both_text
from jigtemplates.opening import FITS
from jigtemplates.outside import is_outside
from jigtemplates.parameters.model import MORTISES
from jigtemplates.say import in_inches
from jigtemplates.wanted import is_drawn, narrow_side

#: A trapped bushing with more room than this wanders visibly, mm. Chosen: twice the widest running fit
#: for these diameters, H9/d9 at 0.169 mm (ISO 286, quoted in references).
LOOSE = 0.34

#: A bushing with less room than this binds, mm: the least clearance of a running fit for these diameters,
#: H8/f7 (ISO 286, quoted in references).
BINDS = 0.016


def check_fit(case: Case) -> Iterator[Finding]:
    """Bit against cut, bushing against bit, running clearance, side play and corners."""
    if case.bit >= case.bushing:
        yield _bushing_too_small(case)
    if is_outside(case.job.cut):  # which check_outside looks at
        return
    if narrow_side(case.job.cut) < case.bit - FITS or (is_drawn(case.job.cut) and case.predicted is None):
        yield _bit_too_wide(case)
        return
    yield from _clearance(case)
    yield from _width_that_comes_out(case)
    yield from check_corners(case)


def _bushing_too_small(case: Case) -> Finding:
    return stop(
        "bushing-not-wider-than-bit",
        "tools.bushing",
        f"the bushing {case.aside(case.bushing, 3)} must be wider than the bit {case.aside(case.bit, 3)} that "
        "runs inside it: use a larger bushing or a smaller bit",
    )


def _bit_too_wide(case: Case) -> Finding:
    narrow = narrow_side(case.job.cut)
    side = case.said(narrow, 3)
    return stop(
        "bit-wider-than-cut",
        "tools.bit",
        f"the bit {case.aside(case.bit, 3)} is wider than the cut {case.aside(narrow, 3)}: use a bit of at most "
        f"{side}, or make {case.narrow_key} at least {case.said(case.bit, 3)}",
    )


def _clearance(case: Case) -> Iterator[Finding]:
    play = case.side_play or 0.0
    if play < BINDS - 1e-9:
        yield warning(
            "no-running-clearance",
            "tools.clearance",
            f"the opening is only {case.said(play, 3)} wider than the bushing, which will bind: set tools.clearance to "
            f"{'0.004 in (0.1 mm)' if in_inches(case.job) else '0.1 mm'}, and the cut comes out at bit + clearance",
        )
    elif not case.trapped:
        yield note(
            "side-play",
            case.narrow_key,
            f"the bushing can move {case.said(play, 3)} sideways in the opening, so one pass does not make the width: "
            f"go all round the edge, clockwise{', then clear the middle' if play > case.bit else ''}",
        )
    elif case.job.tools.clearance > LOOSE:
        yield warning(
            "loose-clearance",
            "tools.clearance",
            f"a running clearance of {case.said(case.job.tools.clearance, 3)} lets the bushing wander: "
            f"{_usual(case)} is usual; more is better given as {case.narrow_key}",
        )


def _usual(case: Case) -> str:
    """The usual running clearance."""
    return "0.002 to 0.006 in (0.05 to 0.15 mm)" if in_inches(case.job) else "0.05 to 0.15 mm"


def _width_that_comes_out(case: Case) -> Iterator[Finding]:
    if not case.template.widened or case.predicted is None:
        return
    side, least = narrow_side(case.job.cut), case.bit + case.job.tools.clearance
    what = "the tenon" if case.job.cut.shape in MORTISES else "what goes in"
    close = "as wide as" if side <= case.bit + FITS else "nearly as wide as"
    yield note(
        "cut-comes-out-wider",
        case.narrow_key,
        f"the bit is {close} the cut {case.aside(side, 3)}, so the cut comes out at bit + running clearance: "
        f"{case.said(least, 3) if in_inches(case.job) else both_text(least, 3)}; make {what} to suit, or change "
        "tools.clearance",
    )
