"""The command `drawer`: options as they were typed become entries, lines or JSON."""

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import click

from jigtemplates.batch import placed
from jigtemplates.drawer import Jobs, Tool, cut_by, drawn_from, manifests_in, with_tools
from jigtemplates.drawer.text import Entry, drawer_lines, opening_lines, said_of_opening
from jigtemplates.errors import InputError, quoted
from jigtemplates.geometry.outline import Region
from jigtemplates.geometry.shapes import slot
from jigtemplates.given_tool import GivenTool, Option, given_tools, measured_otherwise, shown
from jigtemplates.lengths import Length
from jigtemplates.match.command import read_lengths
from jigtemplates.near_folder import no_such_folder
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import profiles_for
from jigtemplates.streams import silence

_BETWEEN = re.compile(r"\s*[x×]\s*", re.IGNORECASE)
_UNIT = re.compile(r"(mm|in|[\"″”])\s*$")


@dataclass(frozen=True)
class Asked:
    """The other pair that was asked about."""

    bit: GivenTool | None
    bushing: GivenTool | None

    @property
    def labels(self) -> tuple[str | None, str | None]:
        """What to call them in a sentence."""
        return _label(self.bit), _label(self.bushing)

    @property
    def anything(self) -> bool:
        """Whether one of them was given."""
        return self.bit is not None or self.bushing is not None


def _label(tool: GivenTool | None) -> str | None:
    return None if tool is None else shown(tool)


def print_drawer(
    folder: Path | None, *, bit: str | None, bushing: str | None, opening: str | None, jobs: Path | None,
    tools: Path | None, profiles: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """List the templates of a folder, or say what one opening cuts.

    0; 1 where an opening given by hand cuts nothing; 2 where a manifest or a job cannot be read. Raises
    InputError for options that will not do.
    """
    if folder is not None and opening is not None:
        raise InputError(f"{shown_name(str(folder))} and --opening were both given (leave one of them out)")
    if folder is None and opening is None:
        raise InputError('give the folder of the templates, or --opening "WIDTH x LENGTH" for one made by hand')
    options = (Option("--with-bit", "bits", bit), Option("--with-bushing", "bushings", bushing))
    found = given_tools(options, profiles_for(Path("job.toml"), profiles, tools=tools))
    asked = Asked(*found)
    for line in measured_otherwise(options, found):
        click.echo(line, err=True)
    if opening is not None:
        return _print_opening(opening, asked, as_json=as_json)
    assert folder is not None
    if not folder.is_dir():
        raise InputError(f"{shown_name(str(folder))}: {no_such_folder(folder, 'give the folder that make wrote into')}")
    return _print_folder(folder, asked, _jobs(folder, jobs, profiles, tools), as_json=as_json)


def _jobs(folder: Path, given: Path | None, profiles: Path | None, tools: Path | None) -> Jobs:
    """Where jobs are looked for: in the folder given, else here, beside the templates, and one folder below."""
    if given is not None and not given.is_dir():
        found = no_such_folder(given, "give the folder that holds the job files")
        raise InputError(f"--jobs: {shown_name(str(given))}: {found}")
    return Jobs((given,) if given is not None else tuple(_likely_folders(folder)), profiles, tools)


def _likely_folders(templates: Path) -> Iterator[Path]:
    """Here and beside the folder of templates, each with the folders just below it, the templates' own left out."""
    own = templates.absolute()
    for place in dict.fromkeys((Path(), own.parent)):
        yield place
        below = (path for path in _held(place) if not path.name.startswith("."))
        yield from (path for path in below if path.is_dir() and path.absolute() != own)


def _held(folder: Path) -> list[Path]:
    """What is in a folder; nothing where it cannot be listed, which is said where it matters."""
    try:
        return sorted(folder.iterdir())
    except OSError:
        return []


def _print_folder(folder: Path, asked: Asked, jobs: Jobs, *, as_json: bool) -> int:
    entries: list[Entry] = []
    faults: list[str] = []
    for path in manifests_in(folder):
        try:
            entries.append(_entry(path, asked, jobs, faults))
        except Exception as error:  # of ours too: one template's fault is not the others'
            faults += placed(error, path)
    bit, bushing = asked.labels
    lines = drawer_lines(entries, bit=bit, bushing=bushing)
    _print([json.dumps([entry.as_json() for entry in entries], indent=2)] if as_json else lines)
    for line in dict.fromkeys(faults):
        click.echo(line, err=True)
    return 2 if faults else 0


def _entry(path: Path, asked: Asked, jobs: Jobs, faults: list[str]) -> Entry:
    drawn = drawn_from(path)
    other = with_tools(drawn, asked.bit, asked.bushing) if asked.anything else None
    try:
        return Entry(drawn, jobs.state(drawn), other)
    except InputError as error:
        faults += error.lines
        return Entry(drawn, None, other)


def _print_opening(typed: str, asked: Asked, *, as_json: bool) -> int:
    width, length = read_opening(typed)
    missing = [name for name, tool in (("--with-bit", asked.bit), ("--with-bushing", asked.bushing)) if tool is None]
    if asked.bit is None or asked.bushing is None:
        raise InputError(f"--opening: needs the pair to try in it (add {' and '.join(missing)})")
    outline = (Region(slot(length.mm, width.mm)),)
    cut = cut_by(outline, Tool.of(asked.bit), Tool.of(asked.bushing), inches=width.is_inch)
    if as_json:
        _print([json.dumps(said_of_opening(width, length, asked.bit, asked.bushing, cut), indent=2)])
    else:
        _print(opening_lines(width, length, shown(asked.bit), shown(asked.bushing), cut))
    return int(cut.reason is not None)


def read_opening(typed: str) -> tuple[Length, Length]:
    """Width and length of an opening with round ends: "13.2 mm x 53.2 mm", "13.2 x 53.2 mm"; "40 mm" is a round.

    The shorter side is the width, however they were written. InputError has every fault.
    """
    parts = _BETWEEN.split(typed.strip())
    if len(parts) > 2:
        raise InputError(f'--opening: {quoted(typed)} has more than two sides (write "13.2 mm x 53.2 mm")')
    if len(parts) == 2 and not all(parts):
        raise InputError(f'--opening: {quoted(typed)} lacks a side (write "13.2 mm x 53.2 mm")')
    unit = _UNIT.search(parts[-1])
    if len(parts) == 2 and unit and not _UNIT.search(parts[0]):
        parts[0] += f" {unit[1]}"  # the last unit stands for both
    faults: list[str] = []
    sides: list[Length] = []
    for part in parts:
        try:
            sides.append(read_lengths({"--opening": part})["--opening"])
        except InputError as error:
            faults += error.lines
    if faults:
        raise InputError(dict.fromkeys(faults))
    sides.sort(key=lambda side: side.exact)
    return sides[0], sides[-1]


def _print(lines: Iterable[str]) -> None:
    try:
        for line in lines:
            click.echo(line)
    except BrokenPipeError:  # the reader has seen enough (`| head`); the status still counts
        silence()
