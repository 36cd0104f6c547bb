"""The command `regenerate`: options as they were typed become outcomes, lines, and the dated report."""

import json
import shutil
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import count
from pathlib import Path

import click

from jigtemplates.batch import job_files, refuse_shared_folders, refuse_what_is_no_folder
from jigtemplates.errors import InputError
from jigtemplates.given_profiles import Given, remembered
from jigtemplates.given_tool import GivenTool, Option, given_tools, measured_otherwise, shown
from jigtemplates.match.text import WIDEST
from jigtemplates.parallel import processes_for
from jigtemplates.parameters.family import stems_in
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import profiles_for
from jigtemplates.regenerate import Regeneration
from jigtemplates.regenerate.meant import none_meant, unclear
from jigtemplates.regenerate.outcome import Outcome
from jigtemplates.regenerate.text import Pair, outcome_lines, report_text
from jigtemplates.streams import silence
from jigtemplates.terminal import behind_bar
from jigtemplates.writers.files import sweep
from jigtemplates.writers.new_file import write_new


@dataclass(frozen=True, slots=True)
class Typed:
    """The tools as they were typed."""

    bit: str | None = None
    bushing: str | None = None
    #: those they replace
    old_bit: str | None = None
    old_bushing: str | None = None
    #: whether they replace whatever the jobs have
    every_job: bool = False


def print_regeneration(
    folder: Path, out: Path, typed: Typed, *, tools: Path | None, profiles: Path | None, write: bool, as_json: bool
) -> int:
    """Do the jobs of a folder and print what becomes of them.

    0; 1 where a job cannot be made with the new tools; 2 where one cannot be read or written, which outweighs 1.
    Raises InputError for options that will not do, a folder without jobs, and before anything is written where the
    jobs have tools of several sizes and it is not said which is replaced.
    """
    regeneration = regeneration_for(folder, out, typed, tools=tools, profiles=profiles, write=write)
    seen = regeneration.seen(job_files(folder))
    name = shown_name(str(folder))
    if none := none_meant(seen, regeneration.old, name):
        seen = [one.alone() for one in seen]
    which = [] if typed.every_job else [f"{name}: {line}" for line in unclear(seen, regeneration.new)]
    if write and which:
        raise InputError(which)
    total = sum(len(one.outcomes) or one.jobs or len(stems_in(one.path)) or 1 for one in seen)
    outcomes: list[Outcome] = []
    fault: tuple[str, ...] = ()
    try:
        done = regeneration.all(seen, processes=processes_for(total))
        behind_bar(_kept(done, outcomes), total)
    finally:  # an interrupted run has written something too
        lines = (f"{none}: nothing is replaced",) if none else tuple(_lines(regeneration, outcomes))
        try:
            place = _leave_report(folder, lines, outcomes, total) if write else None
        except OSError as error:
            place, fault = None, (f"{name}: the report cannot be written there ({error.strerror})",)
    try:
        _print(lines, outcomes, place, lines if none and as_json else which, as_json=as_json, write=write)
    except BrokenPipeError:  # the reader has seen enough (`| head`); the status still counts
        silence()
    bare = _measured_otherwise(typed, regeneration)
    for line in dict.fromkeys((*bare, *(line for one in outcomes for line in one.faults), *fault)):
        click.echo(line, err=True)
    return 2 if fault else status(outcomes)


def _measured_otherwise(typed: Typed, regeneration: Regeneration) -> tuple[str, ...]:
    """A line for each new tool given as a bare size where the person has one sold as it that measures otherwise."""
    options = (Option("--bit", "bits", typed.bit), Option("--bushing", "bushings", typed.bushing))
    return measured_otherwise(options, (regeneration.bit, regeneration.bushing))


def regeneration_for(
    folder: Path, out: Path, typed: Typed, *,
    tools: Path | None = None, profiles: Path | None = None, write: bool = False,
) -> Regeneration:  # fmt: skip
    """The options, looked at once for all jobs; InputError has every fault."""
    if wrong := tuple(_wrong(typed)):
        raise InputError(wrong)
    if not folder.is_dir():
        found = "this is not a folder" if folder.exists() else "there is no such folder"
        raise InputError(f"{shown_name(str(folder))}: {found} (give the folder that holds the job files)")
    refuse_shared_folders(job_files(folder))
    refuse_what_is_no_folder(out)
    given = Given(profiles, tools)
    options = (
        Option("--bit", "bits", typed.bit),
        Option("--bushing", "bushings", typed.bushing),
        Option("--old-bit", "bits", typed.old_bit),
        Option("--old-bushing", "bushings", typed.old_bushing),
    )
    before, lost = _all_remembered(folder, out, given)
    bit, bushing, old_bit, old_bushing = _tools_of(options, folder, given, before, lost)
    return Regeneration(out, bit, bushing, old_bit, old_bushing, given, write=write)


def _wrong(typed: Typed) -> Iterator[str]:
    """What is wrong with the options together."""
    if typed.bit is None and typed.bushing is None:
        yield "give the new tool: --bit L, --bushing L or both (a diameter, or a name from the profiles)"
        return
    for option, called, old, new in (
        ("bit", "bit", typed.old_bit, typed.bit),
        ("bushing", "bushing", typed.old_bushing, typed.bushing),
    ):
        if old is not None and new is None:
            yield f"--old-{option}: the {called} that replaces it is missing (give it with --{option})"
        if old is not None and new is not None and typed.every_job:
            yield f"--every-job: means jobs with any {called}, and --old-{option} only some (leave one of them out)"


def _tools_of(
    options: Sequence[Option], folder: Path, given: Given, before: Iterable[Given], lost: Iterable[str]
) -> tuple[GivenTool | None, ...]:
    """The tools by the given profiles and those that templates were made with, the first that know them.

    Each job then takes what its own profiles say of them. `lost` are lines on profiles that are not found any more,
    said where none knows the tools.
    """
    faults: list[InputError] = []
    for one in dict.fromkeys((*(given.over(other) for other in before), given)):
        seen = profiles_for(folder / "job.toml", one.folder, tools=one.tools)
        try:
            return given_tools(options, seen)
        except InputError as error:
            faults.append(error)
    raise InputError((*lost, *faults[0].lines))


def _all_remembered(folder: Path, out: Path, given: Given) -> tuple[Sequence[Given], Sequence[str]]:
    """What was given when the templates of the folder were made, and a line for what is not found any more."""
    found: list[Given] = []
    lost: list[str] = []
    for path in job_files(folder):
        try:
            found.append(remembered(path, out, given))
        except InputError as error:
            lost += error.lines
    return found, lost


def _kept(outcomes: Iterable[Outcome], kept: list[Outcome]) -> Iterator[Outcome]:
    """The same, and in the list, where an interruption leaves them."""
    for one in outcomes:
        kept.append(one)
        yield one


def _lines(regeneration: Regeneration, outcomes: list[Outcome]) -> Iterator[str]:
    columns = min(shutil.get_terminal_size((WIDEST, 24)).columns, WIDEST)
    new, old = (
        Pair(*(None if tool is None else shown(tool) for tool in pair))
        for pair in (
            (regeneration.bit, regeneration.bushing),
            (regeneration.old_bit, regeneration.old_bushing),
        )
    )
    return outcome_lines(outcomes, new, old, written=regeneration.write, columns=columns)


def _print(
    lines: Iterable[str],
    outcomes: list[Outcome],
    place: Path | None,
    which: Sequence[str],
    *,
    as_json: bool,
    write: bool,
) -> None:
    for line in which if as_json else ():
        click.echo(line, err=True)
    if as_json:
        click.echo(json.dumps([one.as_json() for one in outcomes if one.status], indent=2))
        return
    for line in lines:
        click.echo(line)
    if place is not None:
        click.echo(f"Written: see {place.as_posix()}")
    elif which:
        click.echo("\n".join(("Nothing was written, and --write needs to know more:", *(f"  {one}" for one in which))))
    elif not write and any(one.status in ("keeps", "renewed", "regenerated") for one in outcomes):
        click.echo("Nothing was written: --write does it.")


def _leave_report(folder: Path, lines: tuple[str, ...], outcomes: list[Outcome], total: int) -> Path | None:
    """Write the dated report beside the jobs, under a name that is free; none where nothing was written."""
    sweep(folder)
    if not any(one.written for one in outcomes):
        return None
    today = date.today().isoformat()
    text = report_text(lines, outcomes, date=today, left=total - len(outcomes))
    for number in count(1):
        place = folder / (f"regenerate-{today}.txt" if number == 1 else f"regenerate-{today}-{number}.txt")
        try:
            write_new(place, text.encode())
        except FileExistsError:
            continue
        return place
    raise AssertionError  # there is always a number more


def status(outcomes: Iterable[Outcome]) -> int:
    """2 where nothing can be said of a job, else 1 where one is impossible, else 0."""
    return max((2 if one.status is None else int(one.status == "impossible") for one in outcomes), default=0)
