"""The pages for the bench: a page a sheet, with a picture to scale, what lies where, and what to set up.

They are read beside the machine, not printed to be cut along: the picture's scale stands below it.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from jigtemplates.cautions import LAST
from jigtemplates.checks.finding import Level
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds, Point
from jigtemplates.parameters.entries import Paper
from jigtemplates.processes.paper_page import GREY, Page, Pattern, Text, Window
from jigtemplates.processes.paper_text import Block, beside, bullet, paragraph, stacked
from jigtemplates.processes.setup import printable
from jigtemplates.processes.setup_draw import SMALL, TINY
from jigtemplates.processes.setup_words import facts_block, titled
from jigtemplates.sheets.choice import Choice
from jigtemplates.sheets.laying import LaidSheet, both_words, length_words, size_words, stock_words
from jigtemplates.sheets.picture import CAPTION, draw_sheet, scale_for
from jigtemplates.sheets.plates import Plate
from jigtemplates.sheets.words import CAUTIONS, ORDER, counted, material_words, rest_words, share_words

if TYPE_CHECKING:
    from jigtemplates.sheets.making import Drawn, Sheets

#: Em of the title, mm.
TITLE = 4.94
#: Between parts of the page, mm.
APART = 4.0
#: The picture takes at most this part of the page's height (chosen: the list below it stays readable).
MOST_PICTURE = 0.52
#: Columns of the list of plates, as their number asks.
COLUMNS = (2, 3, 4)


def lay_out(made: "Sheets", drawn: Sequence["Drawn"], paper: Paper) -> Pattern:
    """A page for each sheet; the last one says what was not laid."""
    area = Bounds(paper.margin.mm, paper.foot.mm, paper.width.mm - paper.margin.mm, paper.height.mm - paper.margin.mm)
    pages = tuple(_page(made, one, area, is_last=one is drawn[-1]) for one in drawn)
    return Pattern(made.name, paper.width.mm, paper.height.mm, pages)


def _page(made: "Sheets", one: "Drawn", area: Bounds, *, is_last: bool) -> Page:
    from jigtemplates.sheets.making import sheet_title

    choice, sheet = made.choice, one.sheet
    about = f"for the bench; what is cut is {one.dxf_name} or {one.svg_name}"
    title = paragraph(sheet_title(made, sheet), area.width, TITLE, bold=True)
    top = stacked((title, paragraph(about, area.width, SMALL, colour=GREY)))
    scale = scale_for(sheet, Bounds(0.0, 0.0, area.width, MOST_PICTURE * area.height))
    high = sheet.stock.height.mm * scale + CAPTION
    low = area.top - top.height - APART - high
    picture = draw_sheet(one, choice, Bounds(area.left, low, area.right, low + high), scale)
    room = low - APART - area.bottom
    words = _words(made, one, area.width, room, is_last=is_last)
    blocks = (top.placed(area.left, area.top), words.placed(area.left, low - APART))
    return Page(
        one.stem,
        tuple(ink for block in blocks for ink in block.inks),
        tuple(_clean(text) for block in blocks for text in block.texts),
        (Window(picture.cell, Point(0.0, 0.0), tuple(picture.inks), tuple(_clean(text) for text in picture.texts)),),
    )


def _clean(text: Text) -> Text:
    """A character that the font does not have is shown as such."""
    string, lost = printable(text.string)
    return replace(text, string=string) if lost else text


def _words(made: "Sheets", one: "Drawn", width: float, room: float, *, is_last: bool) -> Block:
    """Facts and cautions side by side, the plates below them in as many columns as they need."""
    half = (width - 6.0) / 2
    above = beside(
        facts_block("Set up", _facts(made, one), half, TINY),
        titled("Before you cut", _cautions(one.sheet, half), half),
        half + 6.0,
    )
    missing = _not_laid(made, width) if is_last else Block(0.0)
    left = room - above.height - APART - (missing.height + APART if missing.height else 0.0)
    return stacked((above, _list(one.sheet, made.choice, width, left), missing), APART)


def _facts(made: "Sheets", one: "Drawn") -> Iterator[tuple[str, str]]:
    choice, sheet, zero = made.choice, one.sheet, one.drawn.zero
    yield "sheet", f"{stock_words(sheet.stock, choice)}, {material_words(sheet.group, choice)}"
    yield "plates", f"{len(sheet.plates)}, which take {share_words(sheet.share)} of the sheet"
    if rest_words(sheet, choice):
        yield "left whole", both_words(sheet.rest, choice)
    gap, margin = (length_words(mm, choice) for mm in (sheet.rules.gap, sheet.rules.margin))
    yield "kept free", f"{gap} between plates, {margin} at the edges"
    if not sheet.rules.may_turn:
        yield "grain", f"along the sheet's {length_words(sheet.stock.width.mm, choice)} side"
    yield "zero", f"{length_words(zero.x, choice)} from the left, {length_words(zero.y, choice)} from the lower edge"
    larger = "" if one.finished is None else " once cut; the file is larger by the kerf"
    yield "overall", f"{both_words(one.finished or one.drawn.size, choice)}{larger}"


def _cautions(sheet: LaidSheet, width: float) -> Block:
    own = sheet.group.material.cautions if sheet.group.material else ()
    if sheet.group.machine != "laser":
        own = tuple(line for line in own if "laser" not in line.lower())
    lines = (ORDER, *CAUTIONS[sheet.group.machine], *own, *LAST[1:])
    return stacked((bullet(line, width, TINY) for line in lines), 0.15 * TINY)


def _list(sheet: LaidSheet, choice: Choice, width: float, room: float) -> Block:
    """The plates by number, in columns without their titles where there are many; as many as there is room for."""
    plates = counted(sheet)
    full = [
        _row(sheet, plate, count, f"{both_words(plate.size, choice)}: {plate.title}") for plate, count in plates.items()
    ]
    rows = [_row(sheet, plate, count, _size(plate, choice)) for plate, count in plates.items()]
    ways = ((full, 1), *((rows, columns) for columns in COLUMNS))
    blocks = (titled("Plates", _in_columns(lines, columns, width), width) for lines, columns in ways)
    whole = next((block for block in blocks if block.height <= room), None)
    if whole is not None:
        return whole
    shown = bisect_right(range(1, len(rows)), room, key=lambda count: _first(rows, count, width).height)
    return _first(rows, shown, width) if shown else Block(0.0)


def _first(rows: Sequence[tuple[str, str]], count: int, width: float) -> Block:
    """The first so many plates, and how many more there are."""
    more = ("", f"and {len(rows) - count} more: see the record beside the files")
    return titled("Plates", _in_columns([*rows[:count], more], COLUMNS[-1], width), width)


def _size(plate: Plate, choice: Choice) -> str:
    return size_words(plate.size, choice)


def _row(sheet: LaidSheet, plate: Plate, count: int, words: str) -> tuple[str, str]:
    """ "3", "2 x rail, 140 x 140 mm"."""
    times = f"{count} x " if count > 1 else ""
    return str(sheet.group.plates.index(plate) + 1), f"{times}{plate.name}, {words}"


def _in_columns(rows: Sequence[tuple[str, str]], columns: int, width: float) -> Block:
    each = -(-len(rows) // columns)
    column = (width - (columns - 1) * 5.0) / columns
    block = Block(0.0)
    for number in range(columns):
        part = stacked((_line(row, column) for row in rows[number * each : (number + 1) * each]), 0.1 * TINY)
        block = beside(block, part, number * (column + 5.0))
    return block


def _line(row: tuple[str, str], width: float) -> Block:
    indent = text_width("000 ", TINY, bold=True)
    return beside(paragraph(row[0], indent, TINY, bold=True), paragraph(row[1], width - indent, TINY), indent)


def _not_laid(made: "Sheets", width: float) -> Block:
    stops = [finding.message for finding in made.findings if finding.level is Level.STOP]
    if not stops:
        return Block(0.0)
    lines = stacked((bullet(_short(line), width, TINY) for line in stops[:6]), 0.15 * TINY)
    more = paragraph(f"and {len(stops) - 6} more: see the record", width, TINY, indent=1.1 * TINY)
    return titled("Not laid", stacked((lines, more)) if len(stops) > 6 else lines, width)


def _short(line: str) -> str:
    """A line of at most two lines on the page."""
    return line if len(line) <= 220 else line[:219] + "…"
