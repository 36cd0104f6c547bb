"""Fence and end stop on the pages of a template's other cuts: the plate stays where it is, and so do they."""

from dataclasses import replace

from jigtemplates.parameters.job import Work
from jigtemplates.processes.setup_first import moved
from jigtemplates.processes.setup_notes import Facts, fence_facts
from jigtemplates.report import Report
from jigtemplates.wanted import Place

#: Two cuts that differ by less than this lie the same way, degrees (chosen: below any fence's error).
LEVEL = 1e-6


def at_same_fence(first: Report, part: Report) -> tuple[Report, Facts, Report | None]:
    """The report on another cut with the work that the first one's fence and stop hold, and what is said of them.

    Where the two cuts lie the same way they are drawn and told from the other's own centre lines. Else the report stays
    as it is; they are drawn from those of the first, whose report comes last, and page 1 is pointed to. Without work
    nothing is said.
    """
    work = first.job.work
    if work is None:
        return part, [], None
    own = _as_seen_from(first, part, work)
    if own is None:
        both = "fence" if work.from_end is None else "fence, stop"
        return part, [(both, "as on page 1, from the centre lines of cut 1: the plate stays where it is")], first
    template = replace(part.template, job=replace(part.job, work=own))
    there = replace(part, case=replace(part.case, template=template))
    (label, words), *others = fence_facts(there)
    return there, [(label, f"{words} (where it is for page 1)"), *others], None


def _as_seen_from(first: Report, part: Report, work: Work) -> Work | None:
    """The work from the middle of another cut; None where that lies another way, or beyond the fence or the stop."""
    cut, other = first.job.cut, part.job.cut
    if abs((cut.angle - other.angle + 180.0) % 360.0 - 180.0) > LEVEL:
        return None
    own = moved(work, Place(other.x, other.y, cut.angle), cut.x, cut.y)
    return own if own.from_face > 0 and (own.from_end is None or own.from_end > 0) else None
