"""What stands on every page whatever it shows: margins, bars, header; and the room they leave.

A correction stretches the whole page about its lower-left corner when it is written, so the room
is worked out in millimetres before correction: what is printed stays within the real margins.
"""

from dataclasses import dataclass

from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds
from jigtemplates.processes.paper_bars import (
    BAR_DEPTH,
    BAR_LENGTH,
    BAR_LINE,
    STRIP,
    across,
    beside_bar,
    upright,
)
from jigtemplates.processes.paper_page import GREY, Page, PaperSize, PatternNotes, Text, Window
from jigtemplates.processes.paper_text import GOOD_FOR_LAYOUT, Block, beside, paragraph, stacked, title_block

GAP = 2.5  # mm between header, drawing and bars; chosen
FOOT_STRIP = BAR_DEPTH + GAP
#: Room the header keeps on its right for the tile's name and the page number, mm.
NUMBER_ROOM = 34.0
#: Width the bars, their sentence and blanks need inside the margins, mm.
LEAST_WIDTH = 180.0
#: Height of a window above the level bar that leaves the upright bar its length, mm.
LEAST_WINDOW = BAR_LENGTH + GAP + 1.0 - FOOT_STRIP


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet standing up or lying on its side, mm."""

    width: float
    height: float
    #: where printing is allowed, before correction
    area: Bounds
    #: whether its bars are to be measured in inches
    inches: bool = False

    @property
    def fits_bars(self) -> bool:
        """Whether the bars and their sentence have room, under a header of three lines."""
        a = self.area
        return a.width >= LEAST_WIDTH and a.height >= FOOT_STRIP + LEAST_WINDOW + 20.0


def sheets(paper: PaperSize, correction: tuple[float, float], *, inches: bool = False) -> tuple[Sheet, Sheet]:
    """The sheet upright and on its side.

    On its side, the edge a printer reaches least may be left or right, so both are as wide as the foot.
    """
    p = paper
    return (
        _sheet(p.width, p.height, p.margin, p, correction, inches),
        _sheet(p.height, p.width, max(p.margin, p.foot), p, correction, inches),
    )


def _sheet(
    width: float, height: float, side: float, paper: PaperSize, correction: tuple[float, float], inches: bool
) -> Sheet:
    cx, cy = correction
    area = Bounds(side / cx, paper.foot / cy, (width - side) / cx, (height - paper.margin) / cy)
    return Sheet(width, height, area, inches)


def factor_text(factor: float) -> str:
    """A correction factor to four decimals, trailing zeros trimmed."""
    return f"{factor:.4f}".rstrip("0").rstrip(".")


def correction_notices(correction: tuple[float, float]) -> tuple[str, ...]:
    """What a corrected page must say; nothing where nothing is corrected."""
    if correction == (1.0, 1.0):
        return ()
    across_text, up_text = (factor_text(f) for f in correction)
    said = f"This page is corrected for one printer: across × {across_text}, up × {up_text}; do not use on another"
    if all(0.99 <= f <= 1.01 for f in correction):
        return (said,)
    return (
        said,
        "Warning: a correction of more than 1 % is unusual. Make sure the printer is set to 100 %, then measure again.",
    )


def head_block(
    notes: PatternNotes, notices: tuple[str, ...], mirrored: bool, width: float, name: str, number: str
) -> Block:
    """Title and what must be read first on the left, the tile's name and the page number on the right."""
    room = width - NUMBER_ROOM
    parts = [
        title_block(notes.title, room, mirrored=mirrored),
        paragraph(f"This side up. Check with a rule: {notes.overall}", room, 2.8),
        *(paragraph(notice, room, 2.8, bold=True) for notice in notices),
    ]
    left = stacked(parts, 0.6)
    right = Block(4.0, (Text(number, width, -2.8, 2.8, anchor="end"),))
    if name:
        right = Block(11.5, (*right.texts, Text(name, width, -10.8, 8.0, True, "end")))
    return stacked((beside(left, right, 0.0), paragraph(GOOD_FOR_LAYOUT[notes.inches], width, 2.5, colour=GREY)), 0.6)


def window_below(sheet: Sheet, head: Block) -> Bounds:
    """The room under a header, above the level bar and right of the upright one, which stand in an L."""
    a = sheet.area
    return Bounds(a.left + STRIP, a.bottom + FOOT_STRIP, a.right, a.top - head.height - GAP)


def page(
    sheet: Sheet, head: Block, blocks: tuple[Block, ...], windows: tuple[Window, ...] = (), name: str = ""
) -> Page:
    """A page with header and bars round placed blocks and windows."""
    a = sheet.area
    zero = a.left + STRIP + 1.5
    beside_at = zero + BAR_LENGTH + text_width("100 mm", 2.3) / 2 + 4.0
    bars = (
        across(zero, a.bottom + BAR_LINE),
        upright(a.left + BAR_LINE, a.bottom + 1.0, sheet.inches),
        beside_bar(beside_at, a.bottom + BAR_LINE, min(a.right - beside_at, 85.0), sheet.inches),
    )
    placed = (head.placed(a.left, a.top), *blocks)
    inks = tuple(i for b in bars for i in b[0]) + tuple(i for b in placed for i in b.inks)
    texts = tuple(t for b in bars for t in b[1]) + tuple(t for b in placed for t in b.texts)
    return Page(name, inks, texts, windows)
