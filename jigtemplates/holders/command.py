"""What the command `holder` does: reads its options, makes the parts, prints them."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import click

from jigtemplates.errors import InputError
from jigtemplates.file_lines import file_lines
from jigtemplates.holders.making import Choice, HolderReport, Target, report_on_holder, write_holder
from jigtemplates.holders.parts import Part
from jigtemplates.holders.words import as_json, part_facts
from jigtemplates.lengths import LengthError, Unit, parse_length
from jigtemplates.parameters.make_tables import WIDEST_KERF
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.terminal import NOT_MADE, finding_lines, hung


def print_holder(
    name: str,
    out: Path,
    *,
    targets: Sequence[Target],
    kerf: str | None,
    papers: Sequence[str],
    material: str | None = None,
    units: Unit | None = None,
    tools: Path | None,
    folder: Path | None,
    json_wanted: bool,
) -> int:
    """Make the files of a holder's parts and print what was made; the exit status: 1 where a finding stops it."""
    profiles = profiles_for(Path("job.toml"), folder, tools=tools)  # as a job in this folder would find them
    sheet = None if material is None else profiles.find("sheets", material, where="--material").entry
    found = profiles.find("holders", name).entry
    inches = found.width.is_inch if units is None else units == "in"
    choice = replace(_choice(inches, targets, kerf, papers, profiles), material=sheet, units=units)
    report = write_holder(report_on_holder(name, choice, profiles), out, profiles)
    if json_wanted:
        click.echo(json.dumps(as_json(report), indent=2))
    else:
        click.echo("\n".join(_lines(report)))
    return int(report.stopped)


def _choice(
    inches: bool, targets: Sequence[Target], kerf: str | None, papers: Sequence[str], profiles: Profiles
) -> Choice:
    """Kerf and papers as given; else the laser to ask for its kerf, and the usual paper.

    That is Letter where inches are said first, else A4.
    """
    if papers:
        names: Sequence[str] = tuple(dict.fromkeys(papers))
    else:
        names = ("letter",) if inches else ("a4",)
    found = tuple(profiles.find("papers", one, where="--paper").entry for one in names)
    own = profiles.find("processes", "laser").entry if kerf is None else _kerf(kerf)
    return Choice(tuple(dict.fromkeys(targets)), own, found)


def _kerf(text: str) -> float:
    try:
        kerf = parse_length(text, unit=None)
    except LengthError as error:
        raise InputError(f"--kerf: {error}") from None
    if not 0 <= kerf.exact <= WIDEST_KERF:
        raise InputError(f"--kerf: {kerf} is no kerf of a laser (write 0 to {WIDEST_KERF} mm)")
    return kerf.mm


def _lines(report: HolderReport) -> Iterator[str]:
    yield click.style(report.holder.name, bold=True)
    upper, ledge, single = report.parts
    yield "In two layers:"
    yield from _part_lines(upper, report)
    yield from _part_lines(ledge, report)
    yield "Or in one piece:"
    yield from _part_lines(single, report)
    for finding in report.findings:
        yield from finding_lines(finding)
    if report.stopped:
        yield click.style(NOT_MADE, fg="red")
    yield from file_lines(report.files, inches=report.holder.width.is_inch)


def _part_lines(part: Part, report: HolderReport) -> Iterator[str]:
    facts = part_facts(part, report.parts)
    width = max(len(label) for label, _ in facts)
    yield f"  {part.name}"
    for label, value in facts:
        yield from hung(f"    {label:<{width}}  ", value)
