"""What is said of a job: the template's numbers and the findings, as data and as JSON."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from jigtemplates.checks import Case, Finding, Level, by_severity, findings, of_some_cut
from jigtemplates.checks.depth import pass_count, passes
from jigtemplates.parameters.job import Job
from jigtemplates.placing import places_made
from jigtemplates.routing import PredictedCut, predict
from jigtemplates.template import Template, make_template

if TYPE_CHECKING:
    from jigtemplates.budget import Budget

#: Decimals of numbers in JSON: a nanometre, below which there is only binary rounding.
DECIMALS = 6


@dataclass(frozen=True)
class WrittenFile:
    """A file that was made."""

    #: as the person would open it: the output folder as given, then the job's folder, then the name
    path: str
    #: the file's bytes, SHA-256 as hexadecimal
    sha256: str
    #: overall size of what it shows, mm; None for the manifest
    size: tuple[float, float] | None
    #: that of the piece it becomes, where the file is larger by the kerf; else None
    finished: tuple[float, float] | None = None


@dataclass(frozen=True)
class Report:
    """A template, the cut it is predicted to make, and what the checks found."""

    case: Case
    findings: tuple[Finding, ...]
    #: filled by `write`; empty after `check`
    files: tuple[WrittenFile, ...] = ()
    #: of a pair the same template mirrored, for the other hand; None where it is no pair
    other_hand: "Report | None" = None

    @property
    def job(self) -> Job:
        """The job that was asked for."""
        return self.case.job

    @property
    def template(self) -> Template:
        """The template as geometry."""
        return self.case.template

    @property
    def predicted(self) -> PredictedCut | None:
        """What routing the template makes; None where it has no opening."""
        return self.case.predicted

    @cached_property
    def parts(self) -> tuple["Report", ...]:
        """A report for each cut that differs, with that cut alone and what concerns it; this one where there is one."""
        if not self.case.others:
            return (self,)
        return tuple(Report(case, tuple(self._about(number))) for number, case in enumerate(self.case.alone()))

    def _about(self, number: int) -> Iterator[Finding]:
        """The findings about one of several cuts, and those about none of them."""
        return (one for one in self.findings if not of_some_cut(one) or one.where.startswith(f"cut {number + 1}."))

    @property
    def stopped(self) -> bool:
        """True where a finding forbids making the files."""
        return any(finding.level is Level.STOP for finding in self.findings)

    @property
    def offset(self) -> float:
        """From the edge of the cut to the edge of the opening, mm a side: half of bushing less bit."""
        return (self.case.bushing - self.case.bit) / 2

    @cached_property
    def pass_depths(self) -> tuple[float, ...]:
        """Depth in the work after each pass, mm."""
        return passes(self.case)

    @cached_property
    def budget(self) -> "Budget | None":
        """What the (first) cut may come out at, and how a tenon then fits; None where there is no opening."""
        from jigtemplates.budget import budget_of

        return budget_of(self.case)

    def with_files(self, files: tuple[WrittenFile, ...]) -> "Report":
        """The same report, naming the files that were made."""
        return replace(self, files=files)

    def with_findings(self, more: tuple[Finding, ...]) -> "Report":
        """The same report with more findings at its end."""
        return replace(self, findings=(*self.findings, *more))

    def as_json(self) -> dict[str, Any]:
        """The object that `--json` prints: lengths in mm, areas in mm², None where there is no opening.

        Width and length are extents across and along the cut before it is turned, of an arc slot as well, whose own
        width is across the slot. With "side": "outside" the opening is the pattern, and the predicted cut the work that
        is left. A cut that is open to the edge of the work is measured from that edge. Of several cuts
        in one template these are the numbers of the first, and "cuts" has those of each, with its places on the plate
        as [x, y, angle].
        """
        return {
            "title": self.job.title,
            "opening": _opening(self.template),
            **({"side": "outside"} if self.job.cut.side == "outside" else {}),
            "offset": _rounded(self.offset),
            "predicted_cut": _predicted(self.predicted),
            "side_play": _rounded(self.case.side_play),
            "trapped": self.case.trapped,
            "plunge_depth": _rounded(self.case.plunge_depth),
            "passes": pass_count(self.case),
            "pass_depths": [_rounded(depth) for depth in self.pass_depths],
            "findings": [_finding(finding) for finding in self.findings],
            "files": [file.path for file in self.files],
            **self._cuts(),
            **_tenons(self),
            **self._inlay(),
            "budget": self.budget and self.budget.as_json(),
        }

    def _inlay(self) -> dict[str, Any]:
        """Recess and plug, where there is an [inlay]."""
        if self.job.inlay is None:
            return {}
        from jigtemplates.inlay.plug import inlay_json

        return {"inlay": inlay_json(self.case)}

    def _cuts(self) -> dict[str, Any]:
        """The numbers of every cut, where there are several; those of the first stand above as well."""
        if len(self.job.cuts) == 1 and self.job.cut.repeat is None:
            return {}
        return {"cuts": [_cut(part) for part in self.parts]}


def _cut(part: Report) -> dict[str, Any]:
    return {
        "shape": part.job.cut.shape,
        "places": [[_rounded(number) for number in place] for place in places_made(part.job)],
        "opening": _opening(part.template),
        "predicted_cut": _predicted(part.predicted),
        "side_play": _rounded(part.case.side_play),
        "trapped": part.case.trapped,
        "plunge_depth": _rounded(part.case.plunge_depth),
        "passes": pass_count(part.case),
        "pass_depths": [_rounded(depth) for depth in part.pass_depths],
        **_tenons(part),
        "budget": part.budget and part.budget.as_json(),
    }


def _tenons(report: Report) -> dict[str, Any]:
    """The loose tenons of the (first) cut, where it has any."""
    if report.job.tenon is None:
        return {}
    from jigtemplates.tenon import own_stock, stock_json

    stock = own_stock(report)
    return {"tenons": stock and stock_json(stock)}


def report_on(job: Job) -> Report:
    """Makes the template, routes it and checks it; writes nothing. Of a pair the plates for both hands are checked."""
    report = _of_one_plate(job)
    if job.make.pair is None:
        return report
    other = _of_one_plate(replace(job, make=replace(job.make, mirrored=not job.make.mirrored)))
    both = (*report.findings, *_of_other_hand(report, other))
    return replace(report, findings=by_severity(both), other_hand=other)


def _of_other_hand(report: Report, other: Report) -> Iterator[Finding]:
    """What is to be said of the other hand's plate alone: its label may find less room."""
    for one in other.findings:
        if one not in report.findings:
            yield replace(one, message=f"on the {str(other.job.make.hand).upper()} plate, {one.message}")


def _of_one_plate(job: Job) -> Report:
    template = make_template(job)
    case = Case(template, predict(template), tuple(Case(one, predict(one)) for one in template.others))
    return Report(case, findings(case))


def _opening(template: Template) -> Mapping[str, Any] | None:
    size = template.opening_size
    if size is None:
        return None
    return {
        "width": _rounded(size.width),
        "length": _rounded(size.length),
        "corner_radius": _rounded(size.corner_radius),
    }


def _predicted(cut: PredictedCut | None) -> Mapping[str, Any] | None:
    if cut is None:
        return None
    return {
        "width": _rounded(cut.width),
        "length": _rounded(cut.length),
        "max_deviation": _rounded(cut.max_deviation),
        "unreachable_area": _rounded(cut.unreachable_area),
    }


def _finding(finding: Finding) -> Mapping[str, str]:
    return {
        "level": finding.level.value,
        "code": finding.code,
        "where": finding.where,
        "message": finding.message,
    }


def _rounded(number: float | None) -> float | None:
    return None if number is None else round(number, DECIMALS) + 0.0
