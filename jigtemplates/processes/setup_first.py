"""A report as if its cut stood in its first place alone: what a set-up sheet draws once of a repeated cut."""

from dataclasses import replace

from jigtemplates.geometry.outline import cos_sin
from jigtemplates.parameters.job import Work
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
    work = None if job.work is None or cut.repeat.ring is not None else _moved(job.work, place, cut.x, cut.y)
    alone = replace(cut, x=place.x, y=place.y, angle=place.angle, repeat=None)
    template = replace(report.template, job=replace(job, cut=alone, work=work))
    return replace(report, case=replace(report.case, template=template))


def _moved(work: Work, place: Place, x: float, y: float) -> Work:
    cos, sin = cos_sin(place.angle)
    along, across = (place.x - x) * cos + (place.y - y) * sin, (place.y - y) * cos - (place.x - x) * sin
    from_end = None if work.from_end is None else work.from_end + along
    return replace(work, from_face=work.from_face + across, from_end=from_end)


def is_repeated(template: Template) -> bool:
    """Whether the template's (first) cut stands in several places."""
    return template.job.cut.repeat is not None
