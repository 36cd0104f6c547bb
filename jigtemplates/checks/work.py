"""Does the cut stay within the stock it goes into?"""

from collections.abc import Iterator
from dataclasses import replace

from jigtemplates.checks.finding import Case, Finding, note
from jigtemplates.checks.tenon import wood_left
from jigtemplates.geometry.outline import cos_sin
from jigtemplates.parameters.job import Work
from jigtemplates.say import in_inches
from jigtemplates.tenon import Mortise, mortise_of
from jigtemplates.wanted import edge_of_work, places_of

#: Findings about one cut.
_OF_WOOD = frozenset(("mortise-breaks-through", "thin-wood"))


def check_work(case: Case) -> Iterator[Finding]:
    """Every cut, or its group of repeated ones, against the faces and ends of a [work].

    A ring is no row along the work, and a hinge gain comes out at the edge of the work on purpose.
    """
    if case.job.work is None:
        return
    if not case.others:
        yield from _first_cut(case, case.job.work)
        return
    from jigtemplates.checks.work_cuts import check_other_cuts  # most templates have one cut

    for finding in _first_cut(case, case.job.work):
        yield replace(finding, message=_of_cut_1(finding.message)) if finding.code in _OF_WOOD else finding
    yield from check_other_cuts(case, case.job.work)


def _of_cut_1(message: str) -> str:
    """The number in place of "the cut", "the mortise" or "the gain"."""
    for what in ("cut", "mortise", "gain"):
        message = message.replace(f"the {what}", "cut 1")
    return message


def _first_cut(case: Case, work: Work) -> Iterator[Finding]:
    job, mortise = case.job, mortise_of(case)
    if mortise is None:
        return
    if edge_of_work(job.cut) is not None:
        gain = Mortise(job.cut.width, job.cut.length, 0.0, job.cut.depth)
        yield from wood_left(_group(case, gain), work, in_inches(job), "gain", is_open=True)
        return
    if work.height is None:
        yield note(
            "work-height-unknown",
            "work.height",
            "whether the cut comes out below is not looked at, since the size of the work in the direction of the "
            "cut's depth is not known: give it as work.height (a rail's width; of a door that is cut into its edge "
            "the door's width)",
        )
    if job.tenon is not None and job.cut.repeat is None:  # which check_tenon looks at
        return
    what = "mortise" if job.tenon is not None else "cut"
    yield from wood_left(_group(case, mortise), work, in_inches(job), what)


def _group(case: Case, mortise: Mortise) -> Mortise:
    """As one mortise round them all; of a ring the one cut."""
    cut = case.job.cut
    if cut.repeat is None or cut.repeat.ring is not None:
        return mortise
    cos, sin = cos_sin(cut.angle)
    places = [(p.x - cut.x, p.y - cut.y) for p in places_of(cut)]
    along = max(abs(x * cos + y * sin) for x, y in places)
    across = max(abs(y * cos - x * sin) for x, y in places)
    if not mortise.is_along:
        along, across = across, along
    return replace(mortise, width=mortise.width + 2 * across, length=mortise.length + 2 * along)
