"""The pair that a drawn cut is begun with: bits and bushings tried on the screen until they come no nearer.

Ranked as `match` ranks the pairs of a job: what makes the cut as it is drawn comes first, of that the least side
play, which is the largest bit. Bits are tried in the order of what they leave in the corners, which geometry knows
before a template is made, each in every bushing, until a pair is right or the next bit brings nothing better.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby, islice

from jigtemplates.checks import Level
from jigtemplates.geometry.outline import LONG
from jigtemplates.match import Match
from jigtemplates.match.candidates import Candidate, candidates
from jigtemplates.match.command import Tools
from jigtemplates.match.judged import judged, refused
from jigtemplates.match.made import Made, Source, made_with
from jigtemplates.parameters.forms import FromFile
from jigtemplates.parameters.job import Job
from jigtemplates.practice import HAIR

#: Bushings that a bit is tried in for an outline of very many points, where each takes seconds, and bits that are tried
#: there and elsewhere where none can be (chosen: it takes some ten seconds at most).
FEW, FEW_BITS, MOST_BITS = 2, 4, 8


def proposed(source: Source, tools: Tools) -> Match:
    """The best pair for the source's job, or where none can make it the one that is nearest to that.

    `possible` says which; the first of `reasons` is then why not. There is at least one bit and one bushing.
    """
    job = source.job()
    found = candidates(job, tools.bits, tools.bushings)
    best = _best(source, job, [one for one in found if not one.stops])
    return best or min((refused(one, job) for one in found), key=lambda one: one.order)


def _best(source: Source, job: Job, pairs: Sequence[Candidate]) -> Match | None:
    """Of one bit after the other, until one is found that can be and the next is no better; None without pairs."""
    made: list[Made] = []
    best: Match | None = None
    bits = groupby(pairs, key=lambda one: one.bit.diameter.mm)
    for _, group in islice(bits, FEW_BITS if _is_long(job) else MOST_BITS):
        made += _until_right(source, job, group)
        now = min(judged(made), key=lambda one: one.order)
        if _is_right(made[-1]) or (best is not None and best.possible and _is(best, now)):
            return now
        best = now
    return best


def _until_right(source: Source, job: Job, pairs: Iterator[Candidate]) -> Iterator[Made]:
    """The job with a bit in one bushing after the other, the likeliest first, no further than to one that is right."""
    groups = groupby(pairs, key=lambda one: one.diameters)
    for _, alike in islice(groups, FEW if _is_long(job) else None):
        found = made_with(source, job, alike)[0]
        yield from found
        if _is_right(found[-1]):
            return


def _is_right(one: Made) -> bool:
    """Whether nothing is missed and nothing has to be looked at, so that a later pair can only be as good."""
    report = one.report
    return (
        report.predicted is not None
        and report.predicted.max_deviation < HAIR
        and all(finding.level is Level.NOTE for finding in report.findings)
    )


def _is(one: Match, other: Match) -> bool:
    return one.bit is other.bit and one.bushing is other.bushing


def _is_long(job: Job) -> bool:
    return isinstance(job.cut.form, FromFile) and job.cut.form.region.outer.count >= LONG
