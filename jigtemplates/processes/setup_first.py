"""A report as if its cut stood in its first place alone: what a set-up sheet draws once of a repeated cut."""

from dataclasses import replace

from jigtemplates.geometry.outline import cos_sin
from jigtemplates.parameters.job import Cut, Work
from jigtemplates.report import Report
from jigtemplates.template import Template
from jigtemplates.wanted import Place, places_of


def at_first_place(report: Report) -> Report:
    """The report with the first place of its cut only; fence and stop as far from that one as they stand.

    The openings stay as they are. On a ring nothing is told of the work, which cannot lie along each of them.
    """
    job, cut = report.job, report.job.cut
    if cut.repeat is None:
        return report
    place = places_of(cut)[0]
    work = None if job.work is None or cut.repeat.ring is not None else moved(job.work, place, cut.x, cut.y)
    alone = replace(cut, x=place.x, y=place.y, angle=place.angle, repeat=None)
    template = replace(report.template, job=replace(job, cut=alone, work=work))
    return replace(report, case=replace(report.case, template=template))


def lines_of(cut: Cut) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Where the openings' own centre lines stand, mm from those of their group: along the cut, and across it.

    Each once, in order. Nothing on a ring, where each opening lies another way or has a line of its own.
    """
    if cut.repeat is None or cut.repeat.ring is not None:
        return (), ()
    shifts = [_shift(place, cut.x, cut.y) for place in places_of(cut)]
    along, across = ({round(shift[i], 6) + 0.0 for shift in shifts} for i in (0, 1))
    return tuple(sorted(along)), tuple(sorted(across))


def _shift(place: Place, x: float, y: float) -> tuple[float, float]:
    """A place along its cut and across it, mm from (x, y)."""
    cos, sin = cos_sin(place.angle)
    return (place.x - x) * cos + (place.y - y) * sin, (place.y - y) * cos - (place.x - x) * sin


def moved(work: Work, place: Place, x: float, y: float) -> Work:
    """The work as it lies from a place, where from (x, y) it lies as it says; mm on the plate before it is mirrored."""
    along, across = _shift(place, x, y)
    from_end = None if work.from_end is None else work.from_end + along
    return replace(work, from_face=work.from_face + across, from_end=from_end)


def is_repeated(template: Template) -> bool:
    """Whether the template's (first) cut stands in several places."""
    return template.job.cut.repeat is not None
