"""What must hold of any input at all, whoever made it up: hypothesis, atheris or a person.

Each promise takes the raw input, lets the program read it and raises AssertionError where it is broken; any
other exception that comes through is a fault as well. What is refused is refused in lines that can be printed.
"""

import itertools
import math
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Literal

import shapely
from ours import blames_itself

from jigtemplates.errors import InputError, JigError
from jigtemplates.geometry.outline import Region
from jigtemplates.imports.outline_file import outline_of
from jigtemplates.lengths import LengthError, both_text, inch_short, inch_text, mm_text, parse_length
from jigtemplates.parameters.load import jobs_from_text
from jigtemplates.parameters.toml_text import parse_toml
from jigtemplates.profile_files import all_entries, files_of
from jigtemplates.profiles import Profiles
from jigtemplates.report import report_on

ROOT = Path(__file__).parents[3]
SAMPLES = ROOT / "samples"

#: Longest line a person is given (chosen: a list of known names, and the place before it).
LONGEST_LINE = 1000
#: Most lines that one input may cost (chosen: a hundred times the keys of a job).
MOST_LINES = 5000


def are_lines(lines: Iterable[str]) -> None:
    """Each is one line, not endless, printable, and never about a fault of the program's own."""
    said = list(lines)
    assert said, "refused without a word"
    assert len(said) <= MOST_LINES, f"{len(said)} lines"
    for line in said:
        assert line.strip()
        assert line.isprintable(), repr(line)
        assert len(line) <= LONGEST_LINE, f"{len(line)} characters: {line[:200]}"
        assert not blames_itself(line), line


def length_is_read(text: object, unit: Literal["mm", "in"] | None = None) -> None:
    """A value is a length that reads the same when it is written again, or refused in one line with a hint."""
    try:
        length = parse_length(text, unit=unit)
    except LengthError as error:
        are_lines([str(error)])
        return
    assert re.fullmatch(r"-?[0-9./-]+ (mm|in)", length.text), length.text
    again = parse_length(length.text)
    assert (again.exact, again.text) == (length.exact, length.text)
    assert math.isfinite(length.mm)
    are_lines([mm_text(length.mm), inch_text(length.mm), inch_short(length.mm), both_text(length.mm)])


def job_is_read(text: str | bytes, *, and_checked: bool = True) -> None:
    """A text is a job, which is then routed and checked, or is refused in lines that name it."""
    try:
        jobs = jobs_from_text(text, name="job", profiles=Profiles())
        for job in jobs[:2] if and_checked else ():
            are_lines([*(f.message for f in report_on(job).findings), "checked"])
    except JigError as error:
        are_lines(error.lines)


def outline_is_read(data: bytes, name: str, unit: Literal["mm", "in"] | None = None) -> None:
    """Bytes are one sound area about the origin, or refused in lines that name the file."""
    try:
        region = outline_of(data, name, unit=unit)
    except InputError as error:
        are_lines(error.lines)
        said = [line for line in error.lines if not line.startswith(f"{name}: ")]
        if said:
            raise AssertionError(said) from None
        return
    is_sound(region)


def is_sound(region: Region) -> None:
    """Rings are closed and of finite size, the outer one counter-clockwise, holes clockwise and within it."""
    for ring in region.rings:
        assert all(math.isfinite(n) for s in ring.segments for n in (*s.start, *s.end))
        for one, following in itertools.pairwise((*ring.segments, ring.segments[0])):
            assert math.dist(one.end, following.start) < 1e-6, (one, following)
    x, y = region.rings[0].bounds.center
    assert max(abs(x), abs(y)) < 1e-3, (x, y)
    assert region.rings[0].area > 0
    assert all(hole.area < 0 for hole in region.rings[1:])
    outer = shapely.Polygon(region.rings[0].flattened(0.01))
    assert all(outer.buffer(0.1).contains(shapely.Polygon(hole.flattened(0.01))) for hole in region.rings[1:])


def profile_is_read(data: str | bytes) -> None:
    """A text is a file of profiles, every kind of entry of which is read, or is refused in lines."""
    try:
        read = files_of(parse_toml(data, "own.toml"), Path("own.toml"))
        if read.faults:
            raise InputError(read.faults)
        all_entries(read)
    except JigError as error:
        are_lines(error.lines)
