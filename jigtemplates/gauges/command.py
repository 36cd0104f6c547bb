"""The command `gauge`: a gauge or several become files, lines or JSON."""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any, cast

import click

from jigtemplates.checks.finding import Finding
from jigtemplates.errors import quoted
from jigtemplates.file_lines import file_lines
from jigtemplates.gauges import enter
from jigtemplates.gauges.blank import BlankAsked, Faults, read_sheet, targets_of
from jigtemplates.gauges.gauge import Gauge, Words, finding_json
from jigtemplates.gauges.making import Written, gauge_files, printer_file, write
from jigtemplates.gauges.row import Asked, count_of
from jigtemplates.lengths import Length, Unit
from jigtemplates.making import MadeFile
from jigtemplates.match.command import read_lengths
from jigtemplates.parameters.make_tables import Target
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.streams import silence
from jigtemplates.terminal import NOT_MADE, finding_lines, hung

#: Papers of the printer gauge where none was named: those of a job.
PAPERS = ("a4", "letter")


@dataclass(frozen=True, slots=True)
class RowTyped:
    """The options about the row of values, as they were typed."""

    first: str | None = None
    last: str | None = None
    step: str | None = None
    count: str | None = None


@dataclass(frozen=True, slots=True)
class Given:
    """Where profiles are, where files go, and how it is told."""

    out: Path
    folder: Path | None = None
    tools: Path | None = None
    as_json: bool = False

    def profiles(self, beside: Path | None = None) -> Profiles:
        """Those that a job there, or in the current folder, sees."""
        return profiles_for(beside or Path("job.toml"), self.folder, tools=self.tools)


@dataclass(frozen=True, slots=True)
class Done:
    """A gauge with what was written of it; None where a finding stopped it."""

    title: str
    said: dict[str, Any]
    words: Words | None
    findings: tuple[Finding, ...]
    written: Written | None
    #: whether sizes of its files are shown in inches first
    inches: bool = False


def print_bushing(bushing: str, row: RowTyped, blank: BlankAsked, given: Given) -> int:
    """Make the bushing gauge; 1 where a finding stops it. Raises InputError with every fault of what was typed."""
    from jigtemplates.gauges.bushing import bushing_gauge

    profiles, faults = given.profiles(), Faults()
    asked = faults.of(lambda: read_row(row)) or Asked(count=row.count)
    gauge = faults.of(lambda: bushing_gauge(bushing, asked, blank, profiles))
    faults.stop()
    assert gauge is not None
    return _print([_done(gauge, given, profiles)], given)


def print_kerf(cuts: str | None, blank: BlankAsked, given: Given) -> int:
    """Make the kerf gauge; 1 where a finding stops it."""
    from jigtemplates.gauges.kerf import kerf_gauge

    profiles = given.profiles()
    return _print([_done(kerf_gauge(cuts, blank, profiles), given, profiles)], given)


def print_fit(
    job: Path,
    row: RowTyped,
    given: Given,
    *,
    bit: str | None,
    bushing: str | None,
    targets: Sequence[str],
    sheet: str | None,
    units: Unit | None = None,
) -> int:
    """Make the fit gauge of a job, of each size where it holds several; 1 where a finding stops one."""
    from jigtemplates.gauges.fit import fit_gauge
    from jigtemplates.parameters.load import load_jobs

    profiles, faults = given.profiles(job), Faults()
    asked = faults.of(lambda: read_row(row))
    faults.of(lambda: count_of(row.count))
    named = faults.of(lambda: targets_of(targets) if targets else ()) or ()
    piece = faults.of(lambda: None if sheet is None else read_sheet(sheet))
    jobs = faults.of(lambda: load_jobs(job, profiles=profiles, bit=bit, bushing=bushing))
    faults.stop()
    assert asked is not None
    gauges = [faults.of(partial(fit_gauge, one, asked, targets=named, sheet=piece, units=units)) for one in jobs or ()]
    faults.stop()
    done = [_done(gauge, given, profiles) for gauge in gauges if gauge is not None]
    return _print([replace(one, words=_typed_again(one.words, job)) for one in done], given)


def _typed_again(words: Words | None, job: Path) -> Words | None:
    """On the screen the command has the path as it was given; the files have none of this machine's folders."""
    if words is None or not job.is_absolute():
        return words
    name, path = (enter.argument(held) for held in (job.name, str(job)))
    return replace(words, enter=words.enter.replace(name, path, 1))


def print_printer(papers: Sequence[str], given: Given) -> int:
    """Make the page of the printer gauge for each paper."""
    profiles, faults = given.profiles(), Faults()
    names = tuple(papers or PAPERS)
    doubles = [name for at, name in enumerate(names) if name in names[:at]]
    if doubles:
        faults.lines.append(f"--paper: {quoted(doubles[0])} stands there twice (keep one)")
    files = [faults.of(partial(_page, name, profiles)) for name in names]
    faults.stop()
    said = {"kind": "printer", "title": "Printer gauge", "papers": list(names), "findings": []}
    made = iter([file for file in files if file is not None])
    written = write("gauge-printer", made, said, given.out, ("paper",), profiles)
    return _print([Done("Printer gauge", said, None, written.findings, written)], given)


def _page(name: str, profiles: Profiles) -> MadeFile:
    return printer_file(profiles.find("papers", name, where="--paper").entry)


def read_row(typed: RowTyped) -> Asked:
    """The lengths of a row; InputError has a line for each that will not do."""
    lengths: dict[str, Length] = read_lengths({"--from": typed.first, "--to": typed.last, "--step": typed.step})
    return Asked(lengths.get("--from"), lengths.get("--to"), lengths.get("--step"), typed.count)


def _done(gauge: Gauge, given: Given, profiles: Profiles) -> Done:
    said = gauge.as_json()
    if gauge.stopped:
        return Done(gauge.title, said, gauge.words, gauge.findings, None)
    targets = cast(tuple[Target, ...], (*gauge.targets, "paper"))
    written = write(gauge.stem, gauge_files(gauge, profiles), said, given.out, targets, profiles)
    return Done(gauge.title, said, gauge.words, (*gauge.findings, *written.findings), written, gauge.inches)


def _print(done: Sequence[Done], given: Given) -> int:
    try:
        if given.as_json:
            objects = [_as_json(one) for one in done]
            click.echo(json.dumps(objects if len(objects) > 1 else objects[0], indent=2))
        else:
            for one in done:
                click.echo("\n".join(_lines(one)))
    except BrokenPipeError:  # the reader has seen enough (`| head`); the status still counts
        silence()
    return int(any(one.written is None for one in done))


def _as_json(done: Done) -> dict[str, Any]:
    """The object that `--json` prints; lengths in mm."""
    files = done.written.files if done.written else ()
    findings = [finding_json(finding) for finding in done.findings]
    return {**done.said, "findings": findings, "files": [file.path for file in files]}


def _lines(done: Done) -> Iterator[str]:
    yield click.style(done.title, bold=True)
    if done.words is not None:
        yield from _facts(done.words.facts)
    for finding in done.findings:
        yield from finding_lines(finding)
    if done.written is None:
        yield click.style(NOT_MADE, fg="red")
        return
    made = done.written  # every pdf of a gauge is a page that tells how it is used
    yield from file_lines(made.files, inches=done.inches, unchanged=made.unchanged, pages=".pdf")
    if done.words is None:
        yield "How it is used stands on the page."
        return
    yield "How it is used (and on the sheet ending in _how.pdf):"
    for number, step in enumerate(done.words.steps, 1):
        yield from hung(f"  {number}. ", step)
    yield f"Then enter the reading{'' if done.words.second is None else 's'}:"
    yield f"  {done.words.enter}"
    yield "Before you begin:"
    for caution in done.words.cautions:
        yield from hung("  - ", caution)


def _facts(facts: Iterable[tuple[str, str]]) -> Iterator[str]:
    rows = list(facts)
    width = max(len(label) for label, _ in rows)
    for label, value in rows:
        yield from hung(f"  {label:<{width}}  ", value)
