"""The command `match`: options as they were typed become a wanted cut, tools and lines."""

import json
import math
import shutil
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

import click

from jigtemplates.errors import InputError, quoted
from jigtemplates.lengths import MM_PER_INCH, Length, LengthError, mm_text, parse_length
from jigtemplates.match import Match, Wanted, match
from jigtemplates.match.near import nearest, suited
from jigtemplates.match.reach import Stack
from jigtemplates.match.text import NO_PLATE, WIDEST, match_lines, nearest_line, own_line, tenon_lines
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.fields import LONGEST_MM
from jigtemplates.practice import CLEARANCE
from jigtemplates.profile_files import Found, entries_of, read_files
from jigtemplates.profiles import Profiles, profiles_for

#: Options that may be 0; all others must be more.
_MAY_BE_ZERO = ("--corner-radius", "--stand-off", "--clearance", "--glue-line")
#: Most bits, and most bushings, that are compared (chosen: ten times those that come with the program, in seconds).
MOST_TOOLS = 500
#: The end of a hint that only a file can follow.
_IN_A_FILE = ', or set units = "mm" or "in"'


def print_match(
    typed: Mapping[str, str | None],
    *,
    tools: Path | None,
    folder: Path | None,
    show_all: bool,
    as_json: bool,
    shipped: bool = False,
) -> int:
    """Print the pairs for the options, by their names ("--width"); 0 where a pair can make the cut, else 1.

    Raises InputError with every fault of the options, or of the files that hold the tools.
    """
    lengths = read_lengths(typed)
    held = the_tools(tools, folder, shipped=shipped)
    bits, bushings = held.bits, held.bushings
    inches = lengths["--width"].is_inch
    mm = {option: length.mm for option, length in lengths.items()}
    wanted = Wanted(mm["--width"], mm.get("--length"), mm.get("--depth"), mm.get("--corner-radius"))
    plate, stand_off, clearance = mm.get("--plate"), mm.get("--stand-off", 0.0), mm.get("--clearance", CLEARANCE)
    matches = match(
        wanted, bits, bushings, plate_thickness=plate, stand_off=stand_off, clearance=clearance,
        inches=inches and not as_json,
    )  # fmt: skip
    if as_json:
        _print_json(matches, show_all)
    else:
        print_lines([own_line(len(bits), len(bushings))] if held.only_own else [])
        print_lines(match_lines(wanted, matches, show_all=show_all, inches=inches, columns=columns()))
        unjudged = plate is None and any(bushing.stem is not None for bushing in bushings)
        print_lines([NO_PLATE] if unjudged else [])
        stack = Stack(plate, stand_off, wanted.depth)
        suits = suited(bits, bushings, width=wanted.width, stack=stack, clearance=clearance)
        print_lines(tenon_lines(suits, clearance, inches=inches))
    if any(one.possible for one in matches):
        return 0
    near = nearest(wanted, bits, bushings, plate_thickness=plate, stand_off=stand_off, clearance=clearance)
    click.echo(nearest_line(near, inches=inches), err=as_json)
    return 1


def columns() -> int:
    """Width of the terminal, characters."""
    return shutil.get_terminal_size((WIDEST, 24)).columns


def print_lines(lines: Iterable[str]) -> None:
    """Print them."""
    for line in lines:
        click.echo(line)


def _print_json(matches: tuple[Match, ...], show_all: bool) -> None:
    click.echo(json.dumps([one.as_json() for one in matches if one.possible or show_all], indent=2))


def read_lengths(typed: Mapping[str, str | None]) -> dict[str, Length]:
    """The lengths of the options that were given; InputError has a line for each that will not do."""
    lengths: dict[str, Length] = {}
    faults: list[str] = []
    for option, text in typed.items():
        if text is not None:
            try:
                lengths[option] = _length(text, may_be_zero=option in _MAY_BE_ZERO)
            except ValueError as error:
                faults.append(f"{option}: {error}")
    faults += _misfits(lengths)
    if faults:
        raise InputError(faults)
    return lengths


def _length(text: str, *, may_be_zero: bool) -> Length:
    try:
        length = parse_length(text)
    except LengthError as error:
        raise LengthError(text, error.hint.removesuffix(_IN_A_FILE)) from None
    if length.exact < 0 or (length.exact == 0 and not may_be_zero):
        least = "0 or more" if may_be_zero else "a length greater than 0"
        raise ValueError(f"{quoted(text)} is not a size (write {least})")
    if length.exact > LONGEST_MM:
        raise ValueError(f"{quoted(text)} is too large (at most {LONGEST_MM} mm; is the unit right?)")
    return length


def _misfits(lengths: Mapping[str, Length]) -> list[str]:
    """Faults of sizes that are good alone but not together."""
    width, length, radius = (lengths.get(option) for option in ("--width", "--length", "--corner-radius"))
    if width is None:
        return []
    if radius is None:
        short = length is not None and length.exact < width.exact
        hint = "exchange them, or give --corner-radius for a rectangle"
        return [f'--length: "{length}" is shorter than the width, "{width}" ({hint})'] if short else []
    if length is None:
        return ["--corner-radius: a rectangle needs its length as well (add --length)"]
    most = min(width.exact, length.exact) / 2
    limit = f"{math.floor(most / MM_PER_INCH * 10_000) / 10_000:g} in" if width.is_inch else mm_text(float(most), 4)
    hint = f"write at most {limit}, or leave it out for round ends"
    return [f'--corner-radius: "{radius}" is more than half the shorter side ({hint})'] if radius.exact > most else []


class Tools(NamedTuple):
    """The tools that are looked at."""

    bits: tuple[Bit, ...]
    bushings: tuple[Bushing, ...]
    #: whether shipped ones were left out because the person has both
    only_own: bool


def the_tools(tools: Path | None, folder: Path | None, *, shipped: bool = False, job: Path = Path("job.toml")) -> Tools:
    """The bits and bushings of a tools file alone, else the person's own, else of all profiles.

    Of one's own are those that the job finds, else one in the current folder; they must have both kinds. With
    `shipped` those that come with the program are always added. InputError has the faults of every file that was read,
    and where a tools file has no bits or no bushings, or there are more than MOST_TOOLS of either.
    """
    faults: list[str] = []
    profiles = profiles_for(job, folder) if tools is None else Profiles(tools=tools)
    own = _both(profiles.own if tools is None else partial(entries_of, read_files([tools])), faults)
    if tools is not None and not faults:
        kinds = dict(zip(("bits", "bushings"), own, strict=True))
        faults += (f'{tools}: no {kind} in this file (write [{kind}."NAME"])' for kind in kinds if not kinds[kind])
    if faults:
        raise InputError(dict.fromkeys(faults))
    only_own = all(own) and not shipped
    held = own if only_own else _both(profiles.entries, faults)
    refuse_too_many(*held, tools)
    return Tools(*held, only_own=only_own and tools is None)


def refuse_too_many(bits: Sequence[Bit], bushings: Sequence[Bushing], tools: Path | None) -> None:
    """InputError for more than MOST_TOOLS of either: every bit in every bushing is compared, and each two bushings."""
    counts = {"bits": len(bits), "bushings": len(bushings)}
    how = "keep in a file those that you would take, and name it with --tools"
    faults = [
        f"{tools or 'profiles'}: {count} {kind} are too many to compare (at most {MOST_TOOLS}; {how})"
        for kind, count in counts.items()
        if count > MOST_TOOLS
    ]
    if faults:
        raise InputError(faults)


def _both(of_kind: Callable[[str], Iterable[Found[Any]]], faults: list[str]) -> tuple[tuple[Any, ...], tuple[Any, ...]]:
    return _entries(of_kind, "bits", faults), _entries(of_kind, "bushings", faults)


def _entries(of_kind: Callable[[str], Iterable[Found[Any]]], kind: str, faults: list[str]) -> tuple[Any, ...]:
    """The entries of a kind; where it has faults they are kept, since the other kind's are wanted too."""
    try:
        return tuple(found.entry for found in of_kind(kind))
    except InputError as error:
        faults += error.lines
        return ()
