"""What was asked of a test cut, and which job, which of its cuts and which process that is."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from jigtemplates.calibrate.remedies import TAPE
from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.lengths import Length
from jigtemplates.opening import least_side
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.one_size import one_size
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report
from jigtemplates.say import in_inches
from jigtemplates.wanted import cut_text

Blamed = Literal["bit", "bushing", "kerf"]

#: What makes gauges.
_GAUGE_BY = ("laser", "cnc")


@dataclass(frozen=True, slots=True)
class Asked:
    """What was said of a test cut."""

    job: Path
    #: width of the cut; of a gauge's cut perhaps the tenon it takes
    width: Length
    length: Length | None
    #: how far a reading may be wrong, mm
    within: float
    #: name of the size in a file that holds several
    size: str | None = None
    #: which of a template's several cuts, as it was typed, counted from 1; None: the first
    cut: str | None = None
    #: the process that made the template; None: the first of the job
    by: str | None = None
    #: what to correct, where not the likeliest
    blame: Blamed | None = None
    #: thickness of one layer of tape, mm
    tape: float = TAPE
    #: folder of the templates; of the gauges where it is a cut of one
    out: Path = Path("templates")
    #: whether it is a cut of the job's fit gauge
    gauge: bool = False
    #: value engraved at that cut; None: the width wanted
    engraved: Length | None = None
    #: whether `width` is the thickness of the tenon that the cut takes
    is_tenon: bool = False


def job_of(asked: Asked, profiles: Profiles) -> Job:
    """The job of the file, of several sizes the one named; InputError where that is none of it."""
    return one_size(load_jobs(asked.job, profiles=profiles), asked.size, asked.job)


def number_of(asked: Asked, count: int) -> int | None:
    """Which of several cuts, counted from 1; None where there is one. InputError for one that is not there."""
    name, typed = shown_name(str(asked.job)), ("1" if asked.cut is None else asked.cut).strip()
    number = int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 6 else 0
    if not 1 <= number <= count:
        what = f"it has {count} cuts: write 1 to {count}" if count > 1 else "it has one cut only: leave it out"
        raise InputError(f"--cut: {quoted(typed)} is no cut of {name} ({what})")
    return number if count > 1 else None


def which_cut(report: Report, number: int | None, count: int) -> tuple[tuple[str, str], ...]:
    """Which cut it was taken for."""
    if number is None:
        return ()
    job = report.job
    size = cut_text(job.cut, least=least_side(job), inches=in_inches(job))
    return (("cut", f"{number} of {count}: {job.cut.shape} {size} (another one: --cut N)"),)


def made_by(asked: Asked, job: Job) -> str:
    """What made the template, or the gauge; InputError for what did not."""
    targets: tuple[str, ...] = job.make.targets
    if asked.gauge:
        return _gauge_made_by(asked.by, targets)
    if asked.by is not None and asked.by not in targets:
        raise InputError(f"--made-by: the job is not made for {quoted(asked.by)} ({did_you_mean(asked.by, targets)})")
    return asked.by or targets[0]


def _gauge_made_by(typed: str | None, targets: tuple[str, ...]) -> str:
    """A gauge is made by laser or cnc, whatever else the job is made for."""
    made = [target for target in targets if target in _GAUGE_BY]
    if typed not in (None, *_GAUGE_BY) or (typed is None and not made):
        what = "the job is made for neither" if typed is None else f"a gauge is not made by {quoted(typed)}"
        raise InputError(f"--made-by: {what} (say what made the gauge: laser or cnc)")
    return typed or made[0]
