"""The pair that a job of an ordinary shape is begun with where the person has bits and bushings of their own.

Slots, rounds and rectangles are matched by arithmetic, other shapes on the screen, as a drawn cut is. Nothing is
written here. Lengths are millimetres.
"""

from dataclasses import dataclass
from pathlib import Path

from jigtemplates.lengths import Unit
from jigtemplates.match import Match, Wanted, match, name_of
from jigtemplates.match.command import Tools, the_tools
from jigtemplates.match.made import Source
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.practice import HAIR
from jigtemplates.profiles import profiles_for
from jigtemplates.report import Report, report_on
from jigtemplates.starter import starter_text
from jigtemplates.starter_drawn import comment, pair_sizes, size_in
from jigtemplates.starter_file import typed
from jigtemplates.starter_outline import Started

#: Shapes whose pairs are sums.
_BY_SUMS = ("slot", "round", "rectangle")


def own_job(shape: str, units: Unit, job_path: Path) -> Started | None:
    """The starter of a shape with the best pair of the person's own; None where they have not both kinds.

    Raises InputError for what is wrong with the profiles that hold the tools.
    """
    tools = the_tools(None, None, job=job_path)
    if not tools.only_own:
        return None
    begun = starter_text(shape, units, job_path.name, pair_sizes(tools.bits[0], tools.bushings[0], ()))
    draft = _Draft(job_path, profiles_for(job_path), text=begun)
    best = _best(shape, draft, tools)
    report = report_on(draft.job((name_of(best.bit), name_of(best.bushing))))
    trouble = None if best.possible else best.reasons[0]
    trouble = trouble or next((one.message for one in report.findings if report.stopped), None)
    made = _made(report)
    sizes = pair_sizes(best.bit, best.bushing, comment(_comment(made, trouble, job_path.name)))
    return Started(starter_text(shape, units, job_path.name, sizes), _line(best, made, trouble))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Draft(Source):
    """The job that is not written yet, to be tried with one pair after the other."""

    text: str

    def job(self, pair: tuple[str, str] | None = None) -> Job:
        """The job as it would be read."""
        bit, bushing = pair or (None, None)
        return job_from_text(self.text, name=self.path.stem, profiles=self.profiles, bit=bit, bushing=bushing)


def _best(shape: str, draft: _Draft, tools: Tools) -> Match:
    """The pair that `match` puts first."""
    if shape not in _BY_SUMS:
        from jigtemplates.starter_pair import proposed

        return proposed(draft, tools)
    job = draft.job()
    cut, thickness, inches = job.cut, job.plate.thickness, job.units == "in"
    wanted = Wanted(cut.width, cut.length, cut.depth, cut.corner_radius if shape == "rectangle" else None)
    return match(
        wanted, tools.bits, tools.bushings, plate_thickness=thickness, clearance=job.tools.clearance, inches=inches
    )[0]


def _made(report: Report) -> str:
    """What comes of it, as the end of a sentence."""
    if report.predicted is None:
        return "it makes nothing of the cut"
    inches, off = report.job.units == "in", report.predicted.max_deviation
    return "the cut comes out as asked" if off < HAIR else f"the cut is up to {size_in(off, inches, 2)} off"


def _comment(made: str, trouble: str | None, name: str) -> str:
    if trouble is None:
        said = f"of your own bits and bushings this pair comes nearest to the cut: {made};"
    else:
        said = f"none of your own bits and bushings makes this yet; with the nearest, {trouble};"
    return f"{said} all pairs: jigtemplates match {typed(name)}"


def _line(best: Match, made: str, trouble: str | None) -> str:
    if trouble is not None:
        return f"no bit and bushing of your own make it yet: {trouble}"
    return f"of your own {name_of(best.bit)} in {name_of(best.bushing)} comes nearest: {made}"
