"""Does the cut stay within the stock it goes into?"""

from collections.abc import Iterator
from dataclasses import replace

from jigtemplates.checks.finding import Case, Finding, note
from jigtemplates.checks.tenon import wood_left
from jigtemplates.geometry.outline import cos_sin
from jigtemplates.say import in_inches
from jigtemplates.tenon import Mortise, mortise_of
from jigtemplates.wanted import edge_of_work, places_of


def check_work(case: Case) -> Iterator[Finding]:
    """The cut, or the group of repeated ones, against the faces and ends of a [work].

    A ring is no row along the work, and a hinge gain comes out at the edge of the work on purpose.
    """
    job, mortise = case.job, mortise_of(case)
    if job.work is None or mortise is None:
        return
    if edge_of_work(job.cut) is not None:
        gain = Mortise(job.cut.width, job.cut.length, 0.0, job.cut.depth)
        yield from wood_left(_group(case, gain), job.work, in_inches(job), "gain", is_open=True)
        return
    if job.work.height is None:
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
    yield from wood_left(_group(case, mortise), job.work, in_inches(job), what)


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
