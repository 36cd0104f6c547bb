"""What the command `sheet` does: reads jobs and options, lays the plates, writes and prints."""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import click

from jigtemplates.batch import Batch, Done
from jigtemplates.checks.finding import Finding, Level
from jigtemplates.errors import InputError
from jigtemplates.file_lines import file_lines
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.report import Report
from jigtemplates.sheets.choice import MACHINES, Choice, checked_name, choice_of, copies_for, file_part
from jigtemplates.sheets.laying import faults_of, lay, units_faults
from jigtemplates.sheets.making import Sheets, drawn_sheets, process_of, write
from jigtemplates.sheets.plates import STOPPED, Group, findings_on, groups_of, listed
from jigtemplates.sheets.words import as_json, sheet_lines
from jigtemplates.terminal import behind_bar, finding_lines, hung


@dataclass(frozen=True)
class Asked:
    """The command line's words."""

    jobs: Sequence[Path]
    out: Path
    name: str | None
    stocks: Sequence[str]
    targets: Sequence[str]
    gap: str | None
    margin: str | None
    copies: Sequence[str]
    grain: str | None
    straight_cuts: bool
    units: Literal["mm", "in"] | None
    tools: Path | None
    folder: Path | None
    as_json: bool


def print_sheets(asked: Asked) -> int:
    """Lay the plates of some jobs, write the sheets and print what was made.

    The exit status: 2 where a job cannot be read, else 1 where a plate was not laid, else 0.
    """
    choice, name = _read(asked)
    batch = Batch.of(asked.jobs, folder=asked.folder, targets=asked.targets or None, tools=asked.tools)
    done = behind_bar(batch.checked(), batch.total)
    for line in dict.fromkeys(line for one in done for line in one.faults):
        click.echo(line, err=True)
    made = _made(done, choice, name, asked)
    if asked.as_json:
        click.echo(json.dumps(as_json(made, drawn_sheets(made)), indent=2))
    else:
        click.echo("\n".join(_lines(made, done)))
    if any(one.report is None for one in done):
        return 2
    return int(made.stopped)


def _read(asked: Asked) -> tuple[Choice, str]:
    """The choice and the name of the set; InputError with the faults of both."""
    faults: list[str] = []
    try:
        name = checked_name(_name(asked))
    except InputError as error:
        faults.extend(error.lines)
    try:
        choice = choice_of(
            stocks=asked.stocks,
            gap=asked.gap,
            margin=asked.margin,
            copies=asked.copies,
            grain=asked.grain,
            straight_cuts=asked.straight_cuts,
            units=asked.units,
        )
    except InputError as error:
        faults.extend(error.lines)
    if faults:
        raise InputError(faults)
    return choice, name


def _name(asked: Asked) -> str:
    """As asked; else that of the one folder or file that was given, else "sheets"."""
    if asked.name is not None:
        return asked.name
    if len(asked.jobs) > 1:
        return "sheets"
    only = asked.jobs[0].resolve()
    return file_part(only.name if only.is_dir() else only.stem)


def _made(done: Sequence[Done], choice: Choice, name: str, asked: Asked) -> Sheets:
    """The sheets, written; InputError where an option does not suit the jobs."""
    reports = [one.report for one in done if one.report]
    copies = copies_for(choice, (report.job.stem for report in reports))
    groups = groups_of(done, copies)
    folders = {report.job.source.parent for report in reports if report.job.source}
    seen = {folder: profiles_for(folder / "job.toml", asked.folder, tools=asked.tools) for folder in folders}
    machines = [machine for machine in MACHINES if any(group.machine == machine for group in groups)]
    processes = {machine: process_of(machine, groups, seen) for machine in machines}
    _refuse_together([_shared_count(choice, groups), *(faults_of(g, choice, processes[g.machine]) for g in groups)])
    _refuse_together([units_faults(groups, choice, processes)])
    layouts = tuple(lay(group, choice, processes[group.machine]) for group in groups)
    found = (*findings_on(done, groups), *(finding for layout in layouts for finding in layout.findings))
    made = Sheets(name, choice, layouts, found)
    return write(made, asked.out, _own(reports[0].job.source, seen), processes) if groups else made


def _own(source: Path | None, seen: dict[Path, Profiles]) -> Profiles:
    """The profiles of the first job, by which the record says how processes draw."""
    assert source is not None  # every job of a batch is a file
    return seen[source.parent]


def _refuse_together(faults: Iterable[Iterable[str]]) -> None:
    """InputError with every fault, each once."""
    lines = dict.fromkeys(line for some in faults for line in some)
    if lines:
        raise InputError(lines)


def _shared_count(choice: Choice, groups: Sequence[Group]) -> Iterator[str]:
    """A number of sheets can be meant for one material only."""
    names = list(dict.fromkeys(group.name for group in groups))
    if len(names) > 1 and any(stock.count for stock in choice.stocks):
        yield (
            f"--stock: the jobs need sheets of {len(names)} kinds ({', '.join(names)}), and *COUNT does not say of "
            "which there are so many (leave it out, or lay each kind in a call of its own)"
        )


def _lines(made: Sheets, done: Sequence[Done]) -> Iterator[str]:
    """The sheets, what was found, the files."""
    if made.sheets:
        yield click.style(made.name, bold=True)
    for head, text in sheet_lines(made):
        yield from hung(f"    {head:<9} ", text) if head else hung("  ", text)
    for finding in made.findings:
        if finding.code != STOPPED:  # said with the job's other findings
            yield from finding_lines(finding)
    for alike in _alike(done).values():
        yield from _job_lines(alike)
    if made.files:
        yield from file_lines(made.files, inches=made.choice.inches, unchanged=made.unchanged)
    else:
        yield click.style("No sheet was made.", fg="red")


def _alike(done: Sequence[Done]) -> dict[tuple[Finding, ...], list[Report]]:
    """The jobs of which there is something to look at, those with the same findings together."""
    found: dict[tuple[Finding, ...], list[Report]] = {}
    for report in (one.report for one in done if one.report):
        serious = tuple(finding for finding in report.findings if finding.level is not Level.NOTE)
        if serious:
            found.setdefault(serious, []).append(report)
    return found


def _job_lines(reports: Sequence[Report]) -> Iterator[str]:
    """Stops and warnings under the titles of the jobs that have them."""
    names = listed([report.job.stem for report in reports])
    said = "not laid, since it cannot be made" if reports[0].stopped else "laid; look at this first"
    yield from hung("", f"{names}: {said}")
    for finding in reports[0].findings:
        if finding.level is not Level.NOTE:
            yield from finding_lines(finding)
