"""What the pages of a gauge share: title, numbered steps, a place for the reading, cautions."""

import re
from collections.abc import Iterable

from jigtemplates.fonts import text_width
from jigtemplates.processes.paper_page import GREY, Text, line
from jigtemplates.processes.paper_text import Block, beside, bullet, paragraph, stacked

#: Em of the words, mm, the smallest last (chosen: 8 and 7 pt, as on paper patterns).
SIZES = (3.0, 2.7, 2.5)
#: Between parts of the page, mm.
APART = 3.0


def head(title: str, about: str, width: float) -> Block:
    """Title, and in grey what the page is."""
    size = next((s for s in (6.0, 5.0, 4.2) if text_width(title, s, bold=True) <= width), 4.2)
    return stacked((paragraph(title, width, size, bold=True), paragraph(about, width, 2.8, colour=GREY)), 0.6)


def facts(pairs: Iterable[tuple[str, str]], width: float, size: float) -> Block:
    """Labels and values in two columns."""
    rows = list(pairs)
    column = max(text_width(label, size) for label, _ in rows) + 1.2 * size
    return stacked(
        (
            beside(paragraph(label, column, size, colour=GREY), paragraph(value, width - column, size), column)
            for label, value in rows
        ),
        0.2 * size,
    )


def steps(lines: Iterable[str], width: float, size: float) -> Block:
    """What to do, numbered."""
    return stacked((bullet(text, width, size, f"{n}.") for n, text in enumerate(lines, 1)), 0.3 * size)


def cautions(lines: Iterable[str], width: float, size: float) -> Block:
    """The cautions, one bullet each."""
    return stacked((bullet(text, width, size) for text in lines), 0.15 * size)


def blank(words: str, unit: str, size: float, rule: float = 26.0) -> Block:
    """`words ________ unit`, to be filled in by hand."""
    start = text_width(words, size, bold=True) + 1.2
    base = -1.5 * size
    texts = (Text(words, 0.0, base, size, True), Text(unit, start + rule + 1.2, base, size))
    return Block(1.9 * size, texts, (line((start, base - 0.5), (start + rule, base - 0.5), 0.2),))


def command(text: str, width: float, size: float) -> Block:
    """What is typed with the reading, set off from the words round it."""
    what = "your reading in the blank" if text.count("____") == 1 else "your readings in the blanks"
    return stacked((paragraph(f"Then type, with {what}:", width, size), _typed(text, width, size)), 0.4)


def _typed(text: str, width: float, size: float) -> Block:
    """The command; where it is too long it goes on below with the next option, never within one."""
    lines: list[str] = []
    for part in re.split(r" (?=--)", text):
        longer = f"{lines[-1]} {part}" if lines else part
        if lines and text_width(longer, size, bold=True) <= width - 3.0 * size:
            lines[-1] = longer
        else:
            lines.append(part)
    return stacked(paragraph(one, width, size, bold=True, indent=1.5 * size) for one in lines)
