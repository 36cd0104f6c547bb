"""The command `inlay` of jobs: recess and plug of each, routed and laid over each other, with what to do."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from jigtemplates.batch import Batch, Done
from jigtemplates.checks.finding import Finding, Level
from jigtemplates.errors import InputError
from jigtemplates.given_tool import given_tools
from jigtemplates.inlay import Fit, Pair, Verdict
from jigtemplates.inlay.overlay import Overlay, lay_over_first
from jigtemplates.inlay.pairs import Change, changes
from jigtemplates.inlay.plug import fit_of, inlay_json
from jigtemplates.inlay.rows import Rows, inlay_rows, laid_rows, tools_text
from jigtemplates.inlay.stems import suiting
from jigtemplates.inlay.text import change_lines, change_text, hung
from jigtemplates.inlay.words import CAUTIONS, INLAY, SECOND, is_in_inches, said, verdict_text
from jigtemplates.match.reach import Stack
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import profiles_for
from jigtemplates.report import Report
from jigtemplates.terminal import finding_lines

if TYPE_CHECKING:
    from jigtemplates.inlay.command import Asked


def print_jobs(asked: "Asked") -> int:
    """Print recess and plug of each job, or with --first its second template; 2, 1 or 0 as the worst of them."""
    first = _first(asked)
    batch = Batch.of(asked.jobs, folder=asked.folder, tools=asked.tools)
    done = [_with_inlay(one, first) for one in batch.checked()]
    for one in done:
        for line in one.faults:
            click.echo(line, err=True)
    reports = [one.report for one in done if one.report]
    if asked.picture is not None and first is not None and len(reports) == 1:
        _draw(reports[0], first, asked.picture)
    if asked.as_json:
        _print_json([_as_json(report, first, asked) for report in reports], alone=len(done) == 1)
    else:
        for line in _lines(reports, first, asked):
            click.echo(line)
    return max((2 if one.report is None else _status(one.report, first) for one in done), default=0)


def _draw(report: Report, first: Pair, path: Path) -> None:
    """The page of a second template; OutputError where it cannot be written."""
    from jigtemplates.processes.inlay_second import lay_out_second
    from jigtemplates.writers.files import write_all
    from jigtemplates.writers.pdf import check_pdf, write_pdf

    laid = _laid(report, first)
    if laid is None or not laid.recess:
        raise InputError("--picture: the second template cuts nothing, so there is nothing to draw")
    page = lay_out_second(report, _fit(report.job, first), laid, _second_rows(report, first))
    data = write_pdf(page)
    check_pdf(data, page, bars=False)
    write_all({path: data})


def _first(asked: "Asked") -> Pair | None:
    """The pair that runs round a first template; None where recess and plug are asked for."""
    from jigtemplates.inlay.command import options_of, pair_of

    if asked.pairs["--first"] is None:
        return None
    profiles = profiles_for(Path("job.toml"), asked.folder, tools=asked.tools)
    bit, bushing = (tool for tool in given_tools(options_of(asked, "--first"), profiles) if tool is not None)
    return pair_of("--first", bit, bushing)


def _with_inlay(one: Done, first: Pair | None) -> Done:
    """What was done, or why the job has no answer: no [inlay], or nothing that a second template could repeat."""
    fault = None if one.report is None else _no_answer(shown_name(str(one.path)), one.report.job, first)
    return one if fault is None else replace(one, report=None, faults=(fault,))


def _no_answer(name: str, job: Job, first: Pair | None) -> str | None:
    if first is None and job.inlay is None:
        return f'{name}: has no [inlay] (write [inlay] and plug_bushing = "10 mm" below [tools], or such as it is)'
    if first is not None and is_outside(job.cut):
        return f"{name}: --first: its bushing runs round the outside, not inside a second template (leave --first out)"
    return None


def _fit(job: Job, first: Pair | None) -> Fit:
    if first is None:
        return fit_of(job)
    return Fit(Pair(job.tools.bit.diameter.mm, job.tools.bushing.diameter.mm), first)


def _changes(job: Job, fit: Fit, asked: "Asked") -> tuple[Change, ...]:
    """What of the tools that the job sees would make the pairs fit."""
    from jigtemplates.inlay.command import own_tools

    if fit.fits:
        return ()
    bits, bushings = own_tools(profiles_for(job.source, asked.folder, tools=asked.tools), asked)
    return changes(fit, bits, suiting(bushings, Stack(job.plate.thickness, job.plate.stand_off, None)))


def _status(report: Report, first: Pair | None) -> int:
    """1 where the job is stopped, or where the plug, or the second template, does not fit."""
    return int(not _fit(report.job, first).fits or (first is None and report.stopped))


def _print_json(objects: list[Any], *, alone: bool) -> None:
    if objects:
        click.echo(json.dumps(objects[0] if alone else objects, indent=2))


def _as_json(report: Report, first: Pair | None, asked: "Asked") -> dict[str, Any]:
    names, fit = (INLAY if first is None else SECOND), _fit(report.job, first)
    found = _changes(report.job, fit, asked)
    laid = _laid(report, first)
    own = {**fit.as_json(names.outer, names.inner), "laid_over": laid and laid.as_json()}
    numbers = {"title": report.job.title, **(own if first is not None else inlay_json(report.case))}
    numbers["changes"] = [change_text(change, names) for change in found]
    numbers["findings"] = [
        {"level": one.level.value, "code": one.code, "where": one.where, "message": one.message}
        for one in report.findings
        if first is None and _is_of_the_inlay(one)
    ]
    return numbers


def _is_of_the_inlay(finding: Finding) -> bool:
    """Whether a finding concerns the inlay, or stops the job."""
    return finding.where.startswith("inlay") or finding.level is Level.STOP


def _laid(report: Report, first: Pair | None) -> Overlay | None:
    if first is None:
        return report.case.inlay
    return lay_over_first(report.template.placed(report.template.cut), _fit(report.job, first))


def _lines(reports: Iterable[Report], first: Pair | None, asked: "Asked") -> Iterator[str]:
    """Each job's numbers, its findings on the inlay and what would fit; the cautions once."""
    fits = False
    for report in reports:
        fit, names = _fit(report.job, first), INLAY if first is None else SECOND
        yield click.style(report.job.title, bold=True)
        rows = inlay_rows(report) if first is None else _second_rows(report, first)
        width = max(len(label) for label, _ in rows)
        for label, value in rows:
            yield from hung(value, f"  {label:<{width}}  ")
        if first is None:
            for finding in report.findings:
                if _is_of_the_inlay(finding):
                    yield from finding_lines(finding)
        if not fit.fits:
            yield from change_lines(_changes(report.job, fit, asked), inches=is_in_inches(report.job), names=names)
        fits = fits or (first is None and fit.verdict is not Verdict.TOO_LARGE)
    if fits:
        yield "Before you rout the plug:"
        for caution in CAUTIONS:
            yield from hung(caution, "  - ")


def _second_rows(report: Report, first: Pair) -> Rows:
    job, fit = report.job, _fit(report.job, first)
    inches = is_in_inches(job)
    rows = [
        ("first", f"a template of the cut's own shape, led round with bit {said(first.bit, inches)}, bushing "
         f"{said(first.bushing, inches)}"),
        ("second", tools_text(job.tools.bit, job.tools.bushing)),
        ("pairs", verdict_text(fit, inches=inches, names=SECOND)),
    ]  # fmt: skip
    return [*rows, *laid_rows(_laid(report, first), fit, job, SECOND)]
