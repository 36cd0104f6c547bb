"""Blocks of words of a set-up sheet: headings, rows, what fits."""

from collections.abc import Callable, Iterable

from jigtemplates.processes.paper_page import BLACK, GREY, Ink, Text, box_of, line
from jigtemplates.processes.paper_text import ASCENT, LEADING, Block, beside, paragraph, stacked
from jigtemplates.processes.setup_draw import MEDIUM, MIDDLE, SMALL, TINY
from jigtemplates.report import Report
from jigtemplates.say import in_inches

#: Sizes tried for words, em in mm, the smallest last: 10, 9.4, 8.5, 8 and 7.5 pt.
WORD_SIZES = (MIDDLE, 3.3, SMALL, 2.8, TINY)
#: Between two blocks of a column, mm.
BETWEEN = 2.6


def is_in_inches(report: Report) -> bool:
    """Whether the sheet shows inches first: in a job in inches, or a cut written in them."""
    return in_inches(report.job)


def heading(words: str, width: float) -> Block:
    """A heading over a thin line."""
    return Block(6.2, (Text(words, 0.0, -3.4, MIDDLE, True),), (line((0.0, -4.8), (width, -4.8), MEDIUM),))


def titled(words: str, body: Block, width: float) -> Block:
    """A heading and what belongs to it; nothing where that is empty."""
    return stacked((heading(words, width), body)) if body.height else Block(0.0)


def facts_block(words: str, pairs: Iterable[tuple[str, str]], width: float, size: float) -> Block:
    """Labels and values under a heading; nothing without any."""
    return titled(words, rows(pairs, width, size), width)


def rows(pairs: Iterable[tuple[str, str]], width: float, size: float) -> Block:
    """Labels and values in two columns."""
    column = 7.3 * size  # the longest label, "cutting length", on one line
    return stacked(
        (
            beside(
                paragraph(label, column - 0.7, size, colour=GREY),
                paragraph(value, width - column, size, bold=True),
                column,
            )
            for label, value in pairs
        ),
        0.2 * size,
    )


def fitted(make: Callable[[float], list[Block]], height: float, gap: float) -> Block:
    """Blocks one below the other in the largest letters in which they are no higher than height.

    Where even the smallest are too high, the last lines are left out and "…" says so.
    """
    block = Block(0.0)
    for size in WORD_SIZES:
        block = stacked(make(size), gap)
        if block.height <= height:
            return block
    return cut_off(block, height)


def cut_off(block: Block, height: float) -> Block:
    """As much of a block as is no higher than height, with where to find the rest."""
    low = LEADING * TINY - height
    texts = tuple(t for t in block.texts if t.y - 0.25 * t.size >= low)
    inks = tuple(i for i in block.inks if _lowest(i) >= low)
    more = Text("… more: see jigtemplates check", 0.0, low - ASCENT * TINY, TINY, colour=BLACK)
    return Block(height, (*texts, more), inks)


def _lowest(ink: Ink) -> float:
    return box_of(ink.shape).bottom
