"""A job made with one pair after the other: template, routed cut, findings.

Geometry is made once for each two diameters; pairs that only differ in their lengths are checked on it again.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NamedTuple

from jigtemplates.checks import Case, findings
from jigtemplates.geometry.outline import LONG
from jigtemplates.match.candidates import Candidate, pair_of
from jigtemplates.match.text import SHOWN_PAIRS
from jigtemplates.parameters.forms import FromFile
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.one_size import one_size
from jigtemplates.placing import single_cuts
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

#: Pairs of different diameters that are made where not all are asked for. Chosen: a person's own tools are mostly
#: fewer; with those that are shipped the slowest samples, 70 ms a pair, take three seconds and the others one.
MOST_MADE = 30
#: What a case finds out for itself of its geometry and the diameters alone.
_OF_DIAMETERS = ("path", "cut_made", "ride", "inlay")


@dataclass(frozen=True, slots=True)
class Source:
    """The job file, and what it is read with."""

    path: Path
    profiles: Profiles
    #: name of the size in a file that holds several
    size: str | None = None

    def job(self, pair: tuple[str, str] | None = None) -> Job:
        """The job, with another pair where one is given; InputError where the size is none of the file."""
        bit, bushing = pair or (None, None)
        jobs = load_jobs(self.path, profiles=self.profiles, bit=bit, bushing=bushing)
        return one_size(jobs, self.size, self.path)


class Made(NamedTuple):
    """A pair, and what came of the job with it."""

    pair: Candidate
    report: Report


def made_with(
    source: Source, job: Job, pairs: Iterable[Candidate], *, show_all: bool = False
) -> tuple[tuple[Made, ...], int]:
    """The job with each pair in turn, and how many pairs of other diameters were left out.

    Without show_all at most MOST_MADE pairs of different diameters are made (of an outline of very many points
    SHOWN_PAIRS), but as many more as it takes to find SHOWN_PAIRS that can be. The job's own pair is always made.
    """
    groups, most = _groups(pairs), SHOWN_PAIRS if _is_long(job) else MOST_MADE
    made: list[Made] = []
    able = 0
    for number, group in enumerate(groups):
        if not show_all and number >= most and able >= SHOWN_PAIRS:
            return tuple(made), len(groups) - number
        found = list(_of_diameters(source, job, group))
        able += any(not one.report.stopped for one in found)
        made += found
    return tuple(made), 0


def _is_long(job: Job) -> bool:
    return any(isinstance(cut.form, FromFile) and cut.form.region.outer.count >= LONG for cut in job.cuts)


def _groups(pairs: Iterable[Candidate]) -> Sequence[Sequence[Candidate]]:
    """Pairs of equal diameters together, in the order given; those of the job's own first."""
    groups: dict[tuple[float, float], list[Candidate]] = {}
    for one in pairs:
        groups.setdefault(one.diameters, []).append(one)
    return sorted(groups.values(), key=lambda group: not any(one.in_job for one in group))


def _of_diameters(source: Source, job: Job, group: Sequence[Candidate]) -> Iterator[Made]:
    first: Report | None = None
    for pair in group:
        one = job if pair.in_job else source.job(pair_of(pair))
        report = report_on(one) if first is None else checked_again(first, one)
        first = first or report
        yield Made(pair, report)


def checked_again(report: Report, job: Job) -> Report:
    """The report of a job that differs from the report's own in lengths and names of its tools, not in diameters."""
    alone, old = single_cuts(job), report.case
    others = tuple(replace(case.template, job=one) for case, one in zip(old.others, alone[1:], strict=True))
    cases = tuple(Case(one, case.predicted) for one, case in zip(others, old.others, strict=True))
    case = Case(replace(report.template, job=job, others=others), report.predicted, cases)
    vars(case).update({name: kept for name, kept in vars(old).items() if name in _OF_DIAMETERS})
    return Report(case, findings(case))
