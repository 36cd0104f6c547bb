"""What the label on the plate says: the facts in the order they are engraved in."""

from collections.abc import Iterator

from jigtemplates.lengths import sold_as
from jigtemplates.opening import least_side
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Cut, Job
from jigtemplates.placing import single_cuts
from jigtemplates.say import in_inches
from jigtemplates.wanted import cut_text, edge_of_work, is_lopsided, places_of

#: A label names so many cuts (chosen: more lines than that are small print on most plates).
MOST_SAID = 4


def label_facts(job: Job) -> tuple[str, ...]:
    """What the plate itself says: name, bit, bushing, the cut that comes out, its turns, which side is up.

    Bit and bushing by the size they are sold as, not by a person's name for them: the plate may outlive the name.
    """
    facts = (
        full_title(job),
        f"bit {sold_as(job.tools.bit.diameter)}",
        f"bushing {sold_as(job.tools.bushing.diameter)}",
        *cuts_said(job),
        *(("follow the outside",) if is_outside(job.cut) else ()),
        *(("line = edge of work",) if any(edge_of_work(cut) is not None for cut in job.cuts) else ()),
        *(() if job.plate.turn is None else (f"turn {job.plate.turn:g}",)),
        "this side up",
    )
    return (*facts, "MIRRORED") if job.make.mirrored else facts


def full_title(job: Job) -> str:
    """The job's title, with the hand that the plate is for: "Porch hinge, LEFT"."""
    return f"{job.title}, {job.make.hand.upper()}" if job.make.hand else job.title


def cuts_said(job: Job) -> Iterator[str]:
    """Each cut by its sizes, and how often; of several with its number, of many the last ones only by their number."""
    jobs = single_cuts(job)
    shown = len(jobs) if len(jobs) <= MOST_SAID else MOST_SAID - 1
    for number, one in enumerate(jobs[:shown], 1):
        named = f"{number}: {_named(one.cut)}" if len(jobs) > 1 else _named(one.cut)
        yield f"{named} {cut_text(one.cut, least=least_side(one), inches=in_inches(one))}{_times(one.cut)}"
    if shown < len(jobs):
        yield f"and {len(jobs) - shown} cuts more"


def _named(cut: Cut) -> str:
    """What the label calls the cut: a shape whose sizes do not tell it by its name."""
    plain = "work" if is_outside(cut) else "cut"
    name = plain if cut.shape in ("slot", "round", "rectangle") else cut.shape
    return f"{name} mirrored" if cut.mirrored and is_lopsided(cut) else name


def _times(cut: Cut) -> str:
    """ ", 2 times" behind a cut that is repeated."""
    return "" if cut.repeat is None else f", {len(places_of(cut))} times"
