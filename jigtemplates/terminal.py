"""Reports as text on a terminal, or as JSON; faults on stderr."""

import json
import shutil
import sys
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

import click

from jigtemplates.batch import Done
from jigtemplates.cautions import LAST, cautions
from jigtemplates.checks import Finding, Level
from jigtemplates.facts import Facts, facts, underside_zero
from jigtemplates.file_lines import file_lines
from jigtemplates.report import Report
from jigtemplates.say import in_inches
from jigtemplates.streams import is_terminal, silence

#: Colour of a finding's level (chosen: as a traffic light would, and the word stands beside it).
_COLOURS = {Level.STOP: "red", Level.WARNING: "yellow", Level.NOTE: "cyan"}

#: Lines are not made longer than this, characters (chosen: comfortable to read).
_WIDEST = 100
#: Of a job, gauge or frame that has a stop.
NOT_MADE = "  Nothing is made until what is marked stop is changed."

Result = TypeVar("Result")


def print_batch(done: Iterable[Done], total: int, *, as_json: bool, with_cautions: bool = False) -> int:
    """Do every job of a batch and print it; returns the exit status of them all.

    `check` (with_cautions) shows every job in full and the cautions of all of them once, at the end. `make` shows one
    job's numbers, stops and warnings and counts its notes; of several it shows a line each with stops and
    warnings. The jobs are done behind a progress bar where someone is looking.
    """
    results = behind_bar(done, total)
    try:
        _print(results, as_json=as_json, brief=len(results) > 1 and not with_cautions, cautioned=with_cautions)
    except BrokenPipeError:  # the reader has seen enough (`| head`); the status still counts
        silence()
    return status(results)


def _print(results: list[Done], *, as_json: bool, brief: bool, cautioned: bool) -> None:
    said: set[str] = set()  # a faulty profile is said once, not once for every job
    for one in results:
        for line in one.faults:
            if line not in said:
                click.echo(line, err=True)
                said.add(line)
        if one.report and not as_json:
            click.echo("\n".join(_shown(one, one.report, brief=brief, with_notes=cautioned)))
    if as_json:
        _print_json(results)
    elif cautioned:
        for line in caution_lines([one.report for one in results if one.report]):
            click.echo(line)


def behind_bar(done: Iterable[Result], total: int) -> list[Result]:
    """All of them, with a progress bar where there are several and someone is looking."""
    if total < 2 or not is_terminal(sys.stderr):
        return list(done)
    with click.progressbar(done, length=total, label="jobs", file=sys.stderr) as bar:
        return list(bar)


def _shown(one: Done, report: Report, *, brief: bool, with_notes: bool) -> Iterator[str]:
    if brief:
        return brief_lines(report, unchanged=one.unchanged)
    return report_lines(report, with_notes=with_notes, unchanged=one.unchanged)


def status(results: Iterable[Done]) -> int:
    """2 where a job could not be read or written, else 1 where one was stopped, else 0."""
    return max((2 if one.report is None else int(one.report.stopped) for one in results), default=0)


def _print_json(results: list[Done]) -> None:
    """One object for one job (nothing where it has none), a list for several; ASCII, so that no terminal spoils it."""
    objects = [one.report.as_json() for one in results if one.report]
    if len(results) > 1:
        click.echo(json.dumps(objects, indent=2))
    elif objects:
        click.echo(json.dumps(objects[0], indent=2))


def report_lines(report: Report, *, with_notes: bool = True, unchanged: bool = False) -> Iterator[str]:
    """A report as lines: title, facts, findings, files, which may have been there already.

    Without notes they are only counted, with the command that shows them.
    """
    yield click.style(report.job.title, bold=True)
    table = (*facts(report), *stock_facts(report), *(budget_facts(report) if with_notes else ()))
    label_width = max(len(label) for label, _ in table)
    for label, value in table:
        yield from hung(f"  {label:<{label_width}}  ", value)
    notes = [finding for finding in report.findings if finding.level is Level.NOTE]
    for finding in report.findings:
        if with_notes or finding.level is not Level.NOTE:
            yield from finding_lines(finding)
    if notes and not with_notes:
        yield f"  {len(notes)} {'note' if len(notes) == 1 else 'notes'} more, and the cautions: jigtemplates check"
    if report.stopped:
        yield click.style(NOT_MADE, fg="red")
    yield from file_lines(report.files, inches=in_inches(report.job), unchanged=unchanged)
    if any("_cnc_underside_" in file.path.rpartition("/")[2] for file in report.files):
        yield from hung("    ", f"The file of the underside: {underside_zero(report.job)}.")


def budget_facts(report: Report) -> Facts:
    """What the cut may come out at, and how a tenon then fits; of several cuts the sizes of each."""
    from jigtemplates.budget.words import budget_facts as facts_of
    from jigtemplates.budget.words import cause_facts, size_facts, tenon_facts

    parts = report.parts
    if len(parts) == 1:
        return () if report.budget is None else facts_of(report.budget)
    found = [(number, part.budget) for number, part in enumerate(parts, 1) if part.budget is not None]
    sizes = (fact for number, budget in found for fact in _numbered(number, size_facts(budget)))
    causes = () if report.budget is None else cause_facts(report.budget)
    if not report.job.more_tenons:
        return (*sizes, *causes, *(() if report.budget is None else tenon_facts(report.budget)))
    own = ((number, budget) for number, budget in found if budget.job.tenon is not None)
    return (*sizes, *causes, *(fact for number, budget in own for fact in _numbered(number, tenon_facts(budget))))


def _numbered(number: int, found: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """Facts of one of several cuts: its number behind each label."""
    for label, text in found:
        yield label and f"{label} {number}", text


def stock_facts(report: Report) -> Facts:
    """The loose tenons of each cut that has any."""
    parts = report.parts
    if all(part.job.tenon is None for part in parts):
        return ()
    from jigtemplates.tenon import stock_text

    found = ((number, stock_text(part)) for number, part in enumerate(parts, 1) if part.job.tenon is not None)
    return tuple((f"{number}: tenons" if len(parts) > 1 else "tenons", text) for number, text in found)


def caution_lines(reports: Sequence[Report]) -> Iterator[str]:
    """The cautions of some jobs, each said once, the ones that close every list at the end; none without a job."""
    said = dict.fromkeys(caution for report in reports for caution in cautions(report.job))
    if said:
        yield "Before you rout:"
    for caution in sorted(said, key=LAST.__contains__):
        yield from hung("  - ", caution)


def brief_lines(report: Report, *, unchanged: bool = False) -> Iterator[str]:
    """A report among many: title and how many files, stops and warnings."""
    count, still = len(report.files), "unchanged, " if unchanged else ""
    made = "nothing made" if report.stopped else f"{still}{count} files in {report.files[0].path.rpartition('/')[0]}"
    yield f"{click.style(report.job.title, bold=True)}: {made}"
    for finding in report.findings:
        if finding.level is not Level.NOTE:
            yield from finding_lines(finding)


def finding_lines(finding: Finding) -> Iterator[str]:
    """Level, key, sentence and code of a finding, wrapped."""
    head = f"  {finding.level.value:<8} "
    lines = list(hung(head, f"{finding.where}: {finding.message} [{finding.code}]"))
    yield click.style(head, fg=_COLOURS[finding.level], bold=finding.level is Level.STOP) + lines[0][len(head) :]
    yield from lines[1:]


def hung(head: str, text: str) -> Iterator[str]:
    """The text behind a head, wrapped to the terminal with the later lines under the first."""
    columns = min(shutil.get_terminal_size((_WIDEST, 24)).columns, _WIDEST)
    # names and codes are not torn at their hyphens: they are there to be copied
    room = max(columns - len(head), 30)
    wrapped = textwrap.wrap(text, room, break_on_hyphens=False, break_long_words=False) or [""]
    yield head + wrapped[0]
    yield from (" " * len(head) + line for line in wrapped[1:])
