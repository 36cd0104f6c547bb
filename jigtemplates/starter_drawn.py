"""The text of a job to begin with for a drawn cut, as far as it is known; millimetres."""

import json
import math
import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from jigtemplates.lengths import Unit, inch_short, mm_text, sold_as
from jigtemplates.match import name_of
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.fields import LONGEST_MM
from jigtemplates.parameters.forms import FromFile
from jigtemplates.practice import HAIR, LEAST_WALL
from jigtemplates.say import sizes_text
from jigtemplates.starter import filled, sizes_in
from jigtemplates.starter_file import typed

#: From the opening to the plate's edge, mm (chosen: as in the samples; screws, label and clamps find room).
MARGIN = {"mm": 40.0, "in": 38.1}
#: The plate's sides are multiples of STEP, and none is less than that of the other starters; mm (chosen).
STEP, LEAST = {"mm": 10.0, "in": 12.7}, {"mm": 140.0, "in": 139.7}
#: Stock to begin with, along the cut, mm (as in the other starters).
BOARD = {"mm": 600.0, "in": 609.6}
#: Longest title that is taken from the drawing's name, characters (chosen: it goes on a small plate).
LONGEST_TITLE = 30
#: Columns of a comment that is longer than a line (chosen: as wide as the others).
COLUMNS = 100
#: What comes of a pair that does not miss anything.
AS_DRAWN = "the cut comes out as drawn"


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
class Text:
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

    def with_pair(self, bit: Bit, bushing: Bushing) -> "Text":
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
        yield "# scale = 1  # how many times larger than drawn; else 1"

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
            return f"; tightest inside corner r {size_in(self.form.tightest_corner, inches)}"
        return "" if self.made == AS_DRAWN else "; with sharp inside corners"

    def _tools(self) -> dict[str, str]:
        assert self.bit is not None
        assert self.bushing is not None
        return pair_sizes(self.bit, self.bushing, self._proposed())

    def _proposed(self) -> Iterator[str]:
        whose = "your own bits and bushings" if self.only_own else "the bits and bushings that are known here"
        if self.trouble is None:
            said = f"of {whose} this pair comes nearest to the outline: {self.made};"
        else:
            said = f"none of {whose} makes this yet; with the nearest, {self.trouble};"
        yield from comment(f"{said} all pairs: jigtemplates match {typed(self.name)}")

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


def comment(said: str) -> Iterator[str]:
    """Lines of a comment."""
    yield from textwrap.wrap(
        said, COLUMNS, initial_indent="# ", subsequent_indent="#   ", break_long_words=False, break_on_hyphens=False
    )


def pair_sizes(bit: Bit, bushing: Bushing, proposed: Iterable[str]) -> dict[str, str]:
    """What a starter's [tools] are filled with for a pair, and the comment above them."""
    bore = mm_text(bushing.diameter.mm - LEAST_WALL) if bushing.bore is None else bushing.bore.text
    return {
        "proposed": "".join(f"{line}\n" for line in proposed),
        "bit": _quoted(name_of(bit)),
        "bit_is": _quoted(sold_as(bit.diameter).text),
        "bushing": _quoted(name_of(bushing)),
        "bushing_is": _quoted(sold_as(bushing.diameter).text),
        "measured": _quoted(mm_text(bushing.diameter.mm - 0.03)),
        "bore": _quoted(bore),
    }


def _quoted(text: str) -> str:
    """As a TOML text."""
    return json.dumps(text, ensure_ascii=False)


def _number(mm: float, units: Unit) -> str:
    """A length as the other starters have it."""
    return f"{round(mm, 3):g}" if units == "mm" else f'"{inch_short(mm)}"'


def size_in(mm: float, inches: bool, digits: int = 3) -> str:
    """A size in a comment: "6 mm", or "1/4 in"."""
    return inch_short(mm) if inches else mm_text(mm, digits)
