"""What the report on a job with a pair says of the pair: whether it can be, how it ranks, and why; millimetres."""

from collections.abc import Iterator, Sequence
from functools import reduce

from jigtemplates.checks import Case, Finding, Level
from jigtemplates.checks.depth import pass_count as passes_of
from jigtemplates.match import Area, CutMade, Match
from jigtemplates.match.candidates import (
    Candidate,
    fit_text,
    fit_with,
    in_steps,
    pass_count_of,
    plug_miss,
    stack_of,
)
from jigtemplates.match.made import Made
from jigtemplates.match.reach import CARE, Stack
from jigtemplates.opening import least_side, size_of
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Job
from jigtemplates.practice import HAIR
from jigtemplates.report import Report
from jigtemplates.say import area
from jigtemplates.wanted import narrow_side

#: Warnings that the remarks of a candidate, or the words on the cut that is made, say shorter.
SAID = frozenset(
    (
        "bit-cannot-plunge", "bushing-hardly-wider-than-bit", "chip-room", "corner-rounded-off",
        "corner-tighter-than-bit", "corners-rounded", "deeper-than-cutting-edges", "plug-loose", "plug-tight",
        "stem-hardly-engages",
    )
)  # fmt: skip
#: Tables of keys that concern the pair even where every pair has the same warning.
_OF_PAIRS = ("tools.", "cut.", "cut ", "inlay.")
#: Less wood than this is not worth a word, mm² (chosen, as for corners).
CRUMB = 0.01
#: Before what is said of an inlay's plug.
_OF_THE_PLUG = "for the plug: "


def refused(one: Candidate, job: Job) -> Match:
    """A pair that arithmetic refuses; nothing of it was made."""
    wide, plug = one.too_wide, plug_miss(job, *one.diameters)
    return Match(
        bit=one.bit,
        bushing=one.bushing,
        possible=False,
        opening=None,
        predicted=None,
        side_play=None,
        trapped=False,
        passes=pass_count_of(job, one.bit),
        reasons=one.stops,
        order=(1, wide > 0, len(one.stops), wide, plug, 1, 0.0, 0.0, one.room, one.doubt, one.bushing.diameter.mm),
        in_job=one.in_job,
    )


def judged(made: Sequence[Made]) -> Iterator[Match]:
    """The match of each pair that was made, in their order."""
    common = _common(made)
    for one in made:
        warnings = [finding for finding in _warnings(one.report) if _is_of_the_pair(finding, common)]
        yield _judged(one, warnings, stack_of(one.report.job))


def _warnings(report: Report) -> Iterator[Finding]:
    return (one for one in report.findings if one.level is Level.WARNING and one.code not in SAID)


def _common(made: Sequence[Made]) -> frozenset[Finding]:
    """The warnings that are the same with every pair."""
    every = [frozenset(_warnings(one.report)) for one in made]
    return reduce(frozenset.intersection, every) if every else frozenset()


def _is_of_the_pair(finding: Finding, common: frozenset[Finding]) -> bool:
    return finding not in common or finding.where.startswith(_OF_PAIRS)


def _judged(made: Made, warnings: Sequence[Finding], stack: Stack) -> Match:
    one, case, cuts = made.pair, made.report.case, made.report.case.parts
    stops = tuple(found.message for found in made.report.findings if found.level is Level.STOP)
    number, worst = max(enumerate(cuts, 1), key=lambda part: (*_how_far(part[1]), -part[0]))
    play, trapped = max(map(_play, cuts)), all(part.trapped for part in cuts)
    opening, cut = _sizes(worst)
    off, size = round(max(map(_deviation, cuts)), 3), 0.0 if opening is None else opening.width + opening.length
    # round a pattern, which has no side play, fewer passes and a large pattern are better
    ease: tuple[float, ...]
    ease, size = ((passes_of(case), 0.0), -size) if is_outside(case.job.cut) else ((not trapped, play), size)
    if len(cuts) > 1:  # one wide cut has side play with any bit, which must not hide that another comes out too wide
        ease = (ease[0], off, ease[1])
    plug, fit = plug_miss(case.job, *one.diameters), fit_with(case.job, *one.diameters)
    known = (one.room, one.doubt + CARE * len(warnings))
    number = number if len(cuts) > 1 else 0
    told = (
        *(() if fit is None else (fit_text(fit, inches=stack.inches),)),
        *_cut_remarks(worst, number, stack),
        *_width_remarks(case, trapped, play, stack),
    )
    return Match(
        bit=one.bit,
        bushing=one.bushing,
        possible=not stops,
        opening=opening,
        predicted=cut,
        side_play=None if case.side_play is None else play,
        trapped=trapped,
        passes=passes_of(case.deepest),
        reasons=stops or (*told, *one.remarks, *map(matter_of, warnings)),
        order=(bool(stops), cut is None, len(stops), plug, in_steps(_off_by(worst)), *ease, off, *known, size),
        in_job=one.in_job,
        cut=number or None,
    )


def _play(part: Case) -> float:
    return part.side_play or 0.0


def _deviation(part: Case) -> float:
    return 0.0 if part.predicted is None else part.predicted.max_deviation


def _off_by(part: Case) -> float:
    """How far the cut is from what the job asks, beyond what it is widened on purpose, mm."""
    wider = max(0.0, least_side(part.job) - narrow_side(part.job.cut)) / 2
    return round(_deviation(part) - wider, 3)


def _how_far(part: Case) -> tuple[float, float, float]:
    """What tells the cut that is looked at first: how far it is off, on purpose too, then its side play, mm."""
    return _off_by(part), round(_deviation(part), 3), _play(part)


def _sizes(part: Case) -> tuple[Area | None, CutMade | None]:
    """Of the opening (or pattern) and of the cut that is made; None where there is none."""
    opening, cut = part.template.opening_size, part.predicted
    made = None if cut is None else size_of(cut.outline)
    return (
        None if opening is None else Area(opening.width, opening.length, opening.corner_radius),
        None if cut is None or made is None
        else CutMade(cut.width, cut.length, made.corner_radius, cut.max_deviation, cut.unreachable_area),
    )  # fmt: skip


def _cut_remarks(part: Case, number: int, stack: Stack) -> Iterator[str]:
    """How far the cut that is furthest off is off; its number where there are several."""
    cut = part.predicted
    if cut is None or _off_by(part) < HAIR:
        return
    what = f"cut {number}" if number else "the work" if is_outside(part.job.cut) else "the cut"
    wood = [
        f"{area(mm2, part.job)} {words}"
        for mm2, words in ((cut.unreachable_area, "left standing"), (cut.excess_area, "cut away too much"))
        if mm2 >= CRUMB
    ]
    yield ", ".join((f"the edge of {what} is up to {stack.text(cut.max_deviation)} off", *wood))


def _width_remarks(case: Case, trapped: bool, play: float, stack: Stack) -> Iterator[str]:
    if is_outside(case.job.cut):
        yield "the bushing runs round the outside of the pattern, counter-clockwise"
        return
    up_to = "up to " if len(case.parts) > 1 else ""
    if trapped:
        yield "trapped: one pass makes the width"
    else:
        then = ", then clear the middle" if play > case.bit else ""
        yield f"{up_to}{stack.text(play, 3)} side play: go round the edge to make the width{then}"
    for number, part in enumerate(case.parts, 1):
        if part.template.widened and _deviation(part) >= 5e-4:
            what = f"cut {number}" if up_to else "the cut"
            yield f"{what} comes out {stack.text(least_side(part.job), 3)} wide, bit + running clearance"


def matter_of(finding: Finding) -> str:
    """What is the matter, without what to do about it."""
    plug, message = finding.message.startswith(_OF_THE_PLUG), finding.message.removeprefix(_OF_THE_PLUG)
    matter = message.partition(": ")[0].partition("; ")[0]
    return f"{_OF_THE_PLUG}{matter}" if plug else matter
