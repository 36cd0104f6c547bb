"""What becomes of one job on the day the bit changes, as data and as JSON."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Literal

from jigtemplates.checks import Finding, Level
from jigtemplates.current import Kept
from jigtemplates.parameters.job import Job
from jigtemplates.regenerate.existing import Existing, Opening
from jigtemplates.regenerate.keep import CutWith
from jigtemplates.regenerate.notes import older_beside
from jigtemplates.report import DECIMALS, Report
from jigtemplates.say import in_inches

Status = Literal["unchanged", "keeps", "renewed", "regenerated", "impossible", "left"]
Sizes = Mapping[str, Any]


@dataclass(frozen=True)
class Outcome:
    """What becomes of one job, or the lines that say why nothing can be said of it."""

    #: the job file
    path: Path
    #: the job's stem: its file's name, and -NAME of a size
    job: str
    #: unchanged: nothing is to be done. keeps: the template stays right with another bushing, or the one it has.
    #: renewed: opening, plate and holes are just those that were made, only files beside them change. regenerated: it
    #: needs a new opening or plate, or there is no record of one. impossible: all stays as it is.
    #: left: it has another tool than the one that is replaced, and was not looked at
    status: Status | None = None
    #: labels of bit and bushing the template was made for
    old_tools: tuple[str, str] = ("", "")
    #: labels of those it is to be used with
    new_tools: tuple[str, str] = ("", "")
    #: opening and cut of the existing template with its own tools, as in a report's JSON
    opening: Sizes | None = None
    predicted: Sizes | None = None
    #: what the existing template cuts with the tools as they were given, else its own; None: nothing
    cut: Sizes | None = None
    #: the bushing with which the existing template stays right; None: the person has none
    keep_with: str | None = None
    #: what the existing template cuts with that bushing and the new bit
    kept_cut: Sizes | None = None
    #: the opening that is needed instead
    new_opening: Sizes | None = None
    #: the same of each other cut in the template: opening, predicted_cut, cut_with_new_bit, cut_when_kept, new_opening
    other_cuts: tuple[Mapping[str, Any], ...] = ()
    findings: tuple[Finding, ...] = ()
    #: the files that were written, as the person would open them
    written: tuple[str, ...] = ()
    #: why nothing can be said of the job
    faults: tuple[str, ...] = ()
    #: whether its sizes are shown in inches
    inches: bool = False

    def as_json(self) -> dict[str, Any]:
        """The object that `regenerate --json` prints: lengths in mm, null where there is none."""
        bit, bushing = self.old_tools
        return {
            "job": self.job,
            "old": {"bit": bit, "bushing": bushing, "opening": self.opening, "predicted_cut": self.predicted},
            "cut_with_new_bit": self.cut,
            "keep_template_with_bushing": self.keep_with,
            **({"cut_when_kept": self.kept_cut} if self.kept_cut else {}),
            "new_opening": self.new_opening,
            **({"other_cuts": list(self.other_cuts)} if self.other_cuts else {}),
            "status": self.status,
            "findings": [
                {"level": f.level.value, "code": f.code, "where": f.where, "message": f.message} for f in self.findings
            ],
        }


def unchanged(path: Path, job: Job, kept: Kept, notes: Sequence[Finding] = ()) -> Outcome:
    """The outcome of a job whose files are right, from their manifest and with these notes.

    KeyError, TypeError or ValueError if it is not as we write them.
    """
    said = (Finding(Level(f["level"]), f["code"], f["where"], f["message"]) for f in kept.data["results"]["findings"])
    results, tools = kept.data["results"], labels(job)
    cut, opening = dict(results["predicted_cut"]), dict(results["opening"])
    now = CutWith(cut["width"], cut["length"], opening["corner_radius"] - results["offset"], cut["max_deviation"])
    return Outcome(
        path,
        job.stem,
        "unchanged",
        inches=in_inches(job),
        old_tools=tools,
        new_tools=tools,
        opening=opening,
        predicted=cut,
        cut=_rounded(now),
        keep_with=tools[1],
        findings=(*said, *notes, *older_beside(kept)),
    )


def left(path: Path, job: Job) -> Outcome:
    """The outcome of a job that has another tool than the one that is replaced."""
    tools = labels(job)
    return Outcome(path, job.stem, "left", old_tools=tools, new_tools=tools, inches=in_inches(job))


def planned(
    path: Path,
    old: Existing,
    new: Report,
    status: Status,
    cuts: Sequence[CutWith | None],
    kept: Sequence[CutWith | None],
) -> Outcome:
    """The outcome of a job by its template and its report with the new tools.

    `cuts` is what the old template cuts with the tools as they were given, at its first opening and the others; `kept`
    the same with those of the new report, where it is kept.
    """
    first, tools = old.openings[0], labels(new.job)
    others = zip(old.openings[1:], new.parts[1:], cuts[1:], kept[1:], strict=True)
    return Outcome(
        path,
        new.job.stem,
        status,
        inches=in_inches(new.job),
        old_tools=old.labels,
        new_tools=tools,
        opening=first.opening,
        predicted=first.predicted,
        cut=_rounded(cuts[0]),
        keep_with=tools[1] if status in ("keeps", "renewed") else None,
        kept_cut=_rounded(kept[0]),
        new_opening=new.as_json()["opening"] if status == "regenerated" else None,
        other_cuts=tuple(_other_cut(was, now, made, stays, status) for was, now, made, stays in others),
        findings=new.findings,
    )


def _other_cut(old: Opening, new: Report, cut: CutWith | None, kept: CutWith | None, status: Status) -> dict[str, Any]:
    return {
        "opening": old.opening,
        "predicted_cut": old.predicted,
        "cut_with_new_bit": _rounded(cut),
        **({"cut_when_kept": _rounded(kept)} if kept else {}),
        "new_opening": new.as_json()["opening"] if status == "regenerated" else None,
    }


def labels(job: Job) -> tuple[str, str]:
    """What to call the bit and the bushing of a job."""
    return job.tools.bit.label, job.tools.bushing.label


def _rounded(cut: CutWith | None) -> Sizes | None:
    return None if cut is None else {key: round(size, DECIMALS) + 0.0 for key, size in asdict(cut).items()}
