"""A job to begin with for a cut that somebody drew: its outline, a pair that comes nearest to it, a plate round it.

The drawing is read as a job reads it, and the job is made, routed and checked before it is handed over, so that what
is said of it is what `check` will say. Lengths are millimetres.
"""

import json
import math
import os
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from pydantic import ValidationError

from jigtemplates.errors import InputError
from jigtemplates.imports.outline_file import outline_bytes, unit_said
from jigtemplates.imports.trouble import GIVE_UNITS, LEAVE_UNITS, SELECT
from jigtemplates.lengths import Unit, inch_short, mm_text, sold_as
from jigtemplates.match import Match, name_of
from jigtemplates.match.command import the_tools
from jigtemplates.match.made import Source
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.faults import faults_of, lines_of
from jigtemplates.parameters.fields import LONGEST_MM
from jigtemplates.parameters.forms import FromFile
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.model import JobFile
from jigtemplates.parameters.outline_table import OutlineTable, drawn
from jigtemplates.parameters.resolve import resolved
from jigtemplates.parameters.toml_text import parse_toml, shown_name
from jigtemplates.practice import HAIR, LEAST_WALL
from jigtemplates.profiles import profiles_for
from jigtemplates.report import Report, report_on
from jigtemplates.say import sizes_text
from jigtemplates.starter import filled, sizes_in, typed
from jigtemplates.starter_pair import proposed

#: From the opening to the plate's edge, mm (chosen: as in the samples; screws, label and clamps find room).
MARGIN = {"mm": 40.0, "in": 38.1}
#: The plate's sides are multiples of STEP, and none is less than that of the other starters; mm (chosen).
STEP, LEAST = {"mm": 10.0, "in": 12.7}, {"mm": 140.0, "in": 139.7}
#: Half of bushing less bit that the plate has room for before the pair is known, mm (chosen: 40 mm less 3 mm).
WIDEST_OFFSET = 18.5
#: Stock to begin with, along the cut, mm (as in the other starters).
BOARD = {"mm": 600.0, "in": 609.6}
#: Longest title that is taken from the drawing's name, characters (chosen: it goes on a small plate).
LONGEST_TITLE = 30
#: Columns of a comment that is longer than a line (chosen: as wide as the others).
COLUMNS = 100

#: What comes of a pair that does not miss anything.
AS_DRAWN = "the cut comes out as drawn"

#: What a person types in the place of a key.
_TYPED = {
    GIVE_UNITS: "add --drawing-units mm or --drawing-units in",
    LEAVE_UNITS: "leave --drawing-units out",
    SELECT: "add --select ",
}
_OPTIONS: Mapping[tuple[str | int, ...], str] = {("cut", "file"): "--outline", ("cut", "select"): "--select"}


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked for."""

    #: the drawing, as it was typed
    drawing: Path
    #: which outline of it, where it holds several
    select: str | None
    #: unit of a drawing that does not say its own
    drawing_units: Unit | None
    #: of the job
    units: Unit


@dataclass(frozen=True, slots=True)
class Started:
    """A job to begin with."""

    text: str
    #: the pair and what comes of it, or why none makes it: a line for the terminal
    said: str


def outline_job(asked: Asked, job_path: Path) -> Started:
    """The job for a drawn cut that is to be written at that path; nothing is written yet.

    Raises InputError with a line for each thing that is wrong with the drawing, with what was asked, or with the
    profiles that hold the tools.
    """
    _refuse_missing(asked.drawing)
    tools = the_tools(None, None, job=job_path)
    text = _Text(asked, job_path.name, beside(asked.drawing, job_path), tools.only_own)
    draft = _Draft(job_path, profiles_for(job_path), text=text.with_pair(tools.bits[0], tools.bushings[0]))
    form = draft.form()
    said = unit_said(outline_bytes(asked.drawing), asked.drawing.name)
    draft = replace(draft, text=replace(draft.text, form=form, said=said, offset=WIDEST_OFFSET))
    match = proposed(draft, tools)
    final = replace(draft, text=draft.text.with_pair(match.bit, match.bushing))
    report = report_on(final.job())
    trouble = None if match.possible else match.reasons[0]
    trouble = trouble or next((one.message for one in report.findings if report.stopped), None)
    made = _made(report, match)
    return Started(replace(final.text, made=made, trouble=trouble).whole(), _line(match, made, trouble))


def _line(match: Match, made: str, trouble: str | None) -> str:
    if trouble is not None:
        return f"no bit and bushing that are known here make it yet: {trouble}"
    return f"of those that are known here {name_of(match.bit)} in {name_of(match.bushing)} comes nearest: {made}"


def _refuse_missing(drawing: Path) -> None:
    if not os.path.lexists(drawing):
        name = shown_name(str(drawing))
        raise InputError(f"--outline: there is no such file, {name} (give the name of a DXF or SVG drawing)")


def beside(drawing: Path, job: Path) -> str:
    """The drawing's name from the job's folder on, with /; links in the way are followed, the drawing itself is not.

    InputError where there is no way from one to the other.
    """
    place = Path(os.path.realpath(drawing.parent), drawing.name)
    try:
        return Path(os.path.relpath(place, os.path.realpath(job.parent))).as_posix()
    except ValueError:
        raise InputError("--outline: is on another drive than the job (copy the drawing beside the job)") from None


def _made(report: Report, match: Match) -> str:
    """What comes of it, as the end of a sentence."""
    if match.predicted is None:
        return "it makes nothing of the outline"
    inches, off = report.job.units == "in", match.predicted.max_deviation
    return (
        "the cut comes out as drawn" if off < HAIR else f"the cut is up to {_size(off, inches, 2)} off the drawn edge"
    )


def _size(mm: float, inches: bool, digits: int = 3) -> str:
    return inch_short(mm) if inches else mm_text(mm, digits)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Draft(Source):
    """The job that is not written yet, to be tried with one pair after the other."""

    text: "_Text"

    def file(self, pair: tuple[str, str] | None = None) -> JobFile:
        """Its model; InputError for what was asked and cannot be in a job."""
        parsed = parse_toml(self.text.whole(), self.path.name)
        data = dict(parsed.data)
        if pair is not None:
            data["tools"] = {**data["tools"], "bit": pair[0], "bushing": pair[1]}
        context = {"unit": data["units"], "profiles": self.profiles, "outside": False}
        try:
            return JobFile.model_validate(data, context=context)
        except ValidationError as error:
            faults = faults_of(error, JobFile)
            lines = lines_of(faults, name=self.path.name, locate=parsed.locate, labels=_OPTIONS)
            raise InputError(lines) from None

    def form(self) -> FromFile:
        """The outline; InputError has what is wrong with the drawing, in the words of the options."""
        cut = self.file().cut
        assert isinstance(cut, OutlineTable)
        try:
            return drawn(cut, self.path)
        except InputError as error:
            raise InputError(map(_as_typed, error.lines)) from None

    def job(self, pair: tuple[str, str] | None = None) -> Job:
        """The job as it would be read."""
        return resolved(self.file(pair), self.profiles, stem=self.path.stem, source=self.path)


def _as_typed(line: str) -> str:
    for key, option in _TYPED.items():
        line = line.replace(key, option)
    return line


@dataclass(frozen=True, slots=True)
class _Text:
    """What the text is made of, as far as it is known."""

    asked: Asked
    #: of the job's file
    name: str
    #: the drawing, from the job's folder on
    file: str
    only_own: bool
    bit: Bit | None = None
    bushing: Bushing | None = None
    form: FromFile | None = None
    #: the drawing's own unit, by its name
    said: str | None = None
    #: half of bushing less bit that the plate has room for
    offset: float = 0.0
    #: what comes of the pair
    made: str = ""
    trouble: str | None = None

    def with_pair(self, bit: Bit, bushing: Bushing) -> "_Text":
        """The same for another pair, with a plate for it."""
        return replace(self, bit=bit, bushing=bushing, offset=max(0.0, (bushing.diameter.mm - bit.diameter.mm) / 2))

    def whole(self) -> str:
        """The text of the job."""
        sizes = sizes_in(self.asked.units) | self._cut() | self._tools() | self._plate()
        sizes |= {"title": _quoted(self._title()), "depth": sizes["recess_depth"]}
        return filled(sizes, self.asked.units, self.name, is_mortise=False, is_closed=True)

    def _title(self) -> str:
        title = " ".join(self.asked.drawing.stem.replace("_", " ").replace("-", " ").split())
        good = title.isprintable() and 0 < len(title) <= LONGEST_TITLE
        return title[0].upper() + title[1:] if good else "My first outline"

    def _cut(self) -> dict[str, str]:
        return {
            "cut": "\n".join(self._cut_lines()),
            "repeat": "#   the same several times: repeat, on a plate for it;\n",
        }

    def _cut_lines(self) -> Iterator[str]:
        yield 'shape = "outline"  # drawn elsewhere; all shapes: jigtemplates new --help'
        yield f"file = {_quoted(self.file)}  # DXF or SVG, from this file's folder on"
        yield from self._as_drawn()
        if self.asked.select is None:
            yield "#   select = its id, layer or group, where the drawing holds several"
        else:
            yield f"select = {_quoted(self.asked.select)}  # its id, layer or group: the drawing holds several"
        if self.asked.drawing_units is not None:
            yield f'units = "{self.asked.drawing_units}"  # of the drawing, which does not say its own'
        yield "# scale = 1  # how many times larger than drawn"

    def _as_drawn(self) -> Iterator[str]:
        if self.form is None:
            return
        inches, box = self.asked.units == "in", self.form.region.bounds
        said = "" if self.said is None else f", drawn in {self.said}"
        yield f"#   {sizes_text(box.width, box.height, inches=inches)}{said}{self._corners(inches)}"

    def _corners(self, inches: bool) -> str:
        """What is to be known of the corners; nothing of such that a bit does not notice."""
        assert self.form is not None
        if self.form.tightest_corner >= HAIR:
            return f"; tightest inside corner r {_size(self.form.tightest_corner, inches)}"
        return "" if self.made == AS_DRAWN else "; with sharp inside corners"

    def _tools(self) -> dict[str, str]:
        bit, bushing = self.bit, self.bushing
        assert bit is not None
        assert bushing is not None
        bore = mm_text(bushing.diameter.mm - LEAST_WALL) if bushing.bore is None else bushing.bore.text
        return {
            "proposed": "".join(f"{line}\n" for line in self._proposed()),
            "bit": _quoted(name_of(bit)),
            "bit_is": _quoted(sold_as(bit.diameter).text),
            "bushing": _quoted(name_of(bushing)),
            "bushing_is": _quoted(sold_as(bushing.diameter).text),
            "measured": _quoted(mm_text(bushing.diameter.mm - 0.03)),
            "bore": _quoted(bore),
        }

    def _proposed(self) -> Iterator[str]:
        whose = "your own bits and bushings" if self.only_own else "the bits and bushings that are known here"
        if self.trouble is None:
            said = f"of {whose} this pair comes nearest to the outline: {self.made};"
        else:
            said = f"none of {whose} makes this yet; with the nearest, {self.trouble};"
        said = f"{said} all pairs: jigtemplates match {typed(self.name)}"
        yield from textwrap.wrap(
            said, COLUMNS, initial_indent="# ", subsequent_indent="#   ", break_long_words=False, break_on_hyphens=False
        )

    def _plate(self) -> dict[str, str]:
        units = self.asked.units
        wide, high = self._sides()
        is_usual = wide == high == LEAST[units]
        length, width = min(max(BOARD[units], 3 * wide), LONGEST_MM), high
        return {
            "plate": _number(wide, units),
            "plate_height": _number(high, units),
            "middle": _number(wide / 2, units),
            "middle_y": _number(high / 2, units),
            "stock": _number(width, units),
            "face": _number(width / 2, units),
            "board": _number(length, units),
            "end": _number(wide, units),
            "turn": "90" if wide == high else "180",
            **({} if is_usual else {"holder": "", "ring_screws": ""}),
        }

    def _sides(self) -> tuple[float, float]:
        """Of the plate: large enough for the opening, its walls, screws and label; at most what a job may say."""
        units = self.asked.units
        if self.form is None:
            return LEAST[units], LEAST[units]
        box, step = self.form.region.bounds, STEP[units]
        around = 2 * (MARGIN[units] + self.offset)
        most = math.floor(LONGEST_MM / step) * step
        wide, high = (math.ceil((side + around) / step - 1e-9) * step for side in (box.width, box.height))
        return min(max(LEAST[units], wide), most), min(max(LEAST[units], high), most)


def _quoted(text: str) -> str:
    """As a TOML text."""
    return json.dumps(text, ensure_ascii=False)


def _number(mm: float, units: Unit) -> str:
    """A length as the other starters have it."""
    return f"{round(mm, 3):g}" if units == "mm" else f'"{inch_short(mm)}"'
