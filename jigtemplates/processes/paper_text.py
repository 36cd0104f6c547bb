"""Blocks of text for a paper pattern: paragraphs, the header, the facts beside the drawing.

A block's coordinates start at its upper-left corner: x runs right, y is 0 at its top and negative below.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from jigtemplates.drawing import Role
from jigtemplates.fonts import text_width
from jigtemplates.processes.paper_page import BLACK, GREY, Ink, PatternNotes, Text, line, moved

#: Distance of two baselines, in ems (chosen: the face stands 0.76 above and 0.24 below its baseline).
LEADING = 1.3
#: Baseline of a block's first line below its top, in ems.
ASCENT = 0.95
#: Narrower than this, a label and its value stand one below the other, mm (chosen).
NARROW = 52.0

#: By whether inches are said first.
GOOD_FOR_LAYOUT = {
    inches: f"A printed pattern is good for layout, to {good}; it does not set the fit of a bushing."
    for inches, good in ((False, "a few tenths of a millimetre"), (True, "about 0.01 in"))
}

#: What a line on the paper is for.
LEGEND = {
    Role.CUT_OUTSIDE: "outer edge: cut outside",
    Role.CUT_INSIDE: "opening or hole: cut inside",
    Role.DRILL: "hole: drill at the cross",
    Role.POCKET: "pocket",
    Role.ENGRAVE: "label",
    Role.MARK: "mark, not cut",
    Role.REFERENCE: "centre or reference, not cut",
}


@dataclass(frozen=True, slots=True)
class Block:
    """Texts and lines that belong together."""

    height: float
    texts: tuple[Text, ...] = ()
    inks: tuple[Ink, ...] = ()

    def placed(self, left: float, top: float) -> "Block":
        """The block with its upper-left corner at (left, top)."""
        if left == top == 0.0:
            return self
        return Block(
            self.height,
            tuple(t.moved(left, top) for t in self.texts),
            tuple(Ink(moved(i.shape, left, top), i.width, i.colour, i.dash, i.fill) for i in self.inks),
        )


def stacked(blocks: Iterable[Block], gap: float = 0.0) -> Block:
    """Blocks one below the other; empty ones take no gap."""
    texts: list[Text] = []
    inks: list[Ink] = []
    height = 0.0
    for block in blocks:
        if not block.height:
            continue
        height += gap if height else 0.0
        placed = block.placed(0.0, -height)
        texts += placed.texts
        inks += placed.inks
        height += block.height
    return Block(height, tuple(texts), tuple(inks))


def beside(left: Block, right: Block, at: float) -> Block:
    """Two blocks side by side, the second starting at x = at."""
    right = right.placed(at, 0.0)
    return Block(max(left.height, right.height), left.texts + right.texts, left.inks + right.inks)


#: What stays on the line of the number after it, and of the number before it.
SIGNS = frozenset(("±", "r", "dia"))
UNITS = frozenset(("mm", "in", "%", "mm²", "°"))


def wrapped(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """The text in lines no wider than width; a word wider than that is cut into pieces.

    A unit stays with its number, and a number with the ± (or r, or dia) before it.
    """
    words = text.split()
    line = " ".join(words)
    if line and text_width(line, size, bold=bold) <= width:
        return [line]  # most are short
    lines: list[str] = []
    room = 0.0
    space = text_width(" ", size, bold=bold)
    for word in _held_together(words, width, size, bold):
        for piece in _pieces(word, width, size, bold):
            needed = text_width(piece, size, bold=bold)
            if lines and needed + space <= room + 1e-6:  # a column as wide as its widest text
                lines[-1] += " " + piece
                room -= needed + space
            else:
                lines.append(piece)
                room = width - needed
    return lines


def _held_together(words: list[str], width: float, size: float, bold: bool) -> list[str]:
    """Words with those that belong to a number joined to it, as far as a line has room for both."""
    joined: list[str] = []
    for word in words:
        last = joined[-1] if joined else ""
        belongs = (last in SIGNS and word[:1].isdigit()) or (last[-1:].isdigit() and word.rstrip(").,:;") in UNITS)
        if belongs and text_width(f"{last} {word}", size, bold=bold) <= width:
            joined[-1] = f"{last} {word}"
        else:
            joined.append(word)
    return joined


def _pieces(word: str, width: float, size: float, bold: bool) -> list[str]:
    pieces = []
    while text_width(word, size, bold=bold) > width and len(word) > 1:
        fits = next((n for n in range(len(word) - 1, 1, -1) if text_width(word[:n], size, bold=bold) <= width), 1)
        pieces.append(word[:fits])
        word = word[fits:]
    return [*pieces, word]


@lru_cache(maxsize=4096)  # most words of a page stand on the job's other papers too, and on those of the next job
def paragraph(
    text: str, width: float, size: float, *, bold: bool = False, colour: str = BLACK, indent: float = 0.0
) -> Block:
    """Wrapped text, every line indented by indent."""
    lines = wrapped(text, width - indent, size, bold)
    texts = tuple(
        Text(string, indent, -size * (ASCENT + LEADING * i), size, bold, colour=colour)
        for i, string in enumerate(lines)
    )
    return Block(LEADING * size * len(lines), texts)


@lru_cache(maxsize=512)
def bullet(text: str, width: float, size: float, sign: str = "•") -> Block:
    """A paragraph hanging behind a sign."""
    body = paragraph(text, width, size, indent=1.1 * size if sign == "•" else 1.7 * size)
    return replace(body, texts=(Text(sign, 0.0, -size * ASCENT, size), *body.texts))


#: Em of a title that has a word more than its lines have room for, mm, the smallest last (chosen).
SMALLER = (4.8, 4.2, 3.8, 3.4, 3.0, 2.8)
#: Before the title of a mirrored pattern.
MIRRORED = "MIRRORED"


def title_block(title: str, width: float, *, mirrored: bool = False) -> Block:
    """The title, smaller where it would take more than two lines; a mirrored pattern says so before it.

    That word takes no room of its own: both patterns of a pair are to fit the same papers. The letters are smaller
    where it would cost a line.
    """
    sizes = (4.8, 4.2, 3.4)
    size = next((s for s in sizes if len(wrapped(title, width, s, True)) <= 2), sizes[-1])
    if mirrored:
        lines, title = len(wrapped(title, width, size, True)), f"{MIRRORED} · {title}"
        fitting = (s for s in (size, *SMALLER) if s <= size and len(wrapped(title, width, s, True)) <= lines)
        size = next(fitting, SMALLER[-1])
    return paragraph(title, width, size, bold=True)


def facts_block(notes: PatternNotes, width: float, size: float) -> Block:
    """Labels and values in two columns; the value below its label where there is no room for two."""
    if width < NARROW:
        parts = (
            (
                paragraph(label, width, size, colour=GREY),
                paragraph(value, width, size, bold=True, indent=size),
            )
            for label, value in notes.facts
        )
        return stacked((stacked(p) for p in parts), 0.2 * size)
    widest = max((text_width(label, size) for label, _ in notes.facts), default=0.0)
    column = min(widest, 0.45 * width)
    gap = 1.2 * size
    rows = (
        beside(
            paragraph(label, column, size, colour=GREY),
            paragraph(value, width - column - gap, size, bold=True),
            column + gap,
        )
        for label, value in notes.facts
    )
    return stacked(rows, 0.15 * size)


def cautions_block(notes: PatternNotes, width: float, size: float) -> Block:
    """The cautions, one bullet each."""
    return _bullets(notes.cautions, width, size)


@lru_cache(maxsize=64)  # jobs of one kind have the same cautions
def _bullets(words: tuple[str, ...], width: float, size: float) -> Block:
    return stacked((bullet(c, width, size) for c in words), 0.15 * size)


def legend_block(samples: Iterable[tuple[Role, Ink]], width: float, size: float) -> Block:
    """A short piece of each kind of line and what it is for."""
    return stacked(_legend_row(role, ink, width, size) for role, ink in samples)


def _legend_row(role: Role, ink: Ink, width: float, size: float) -> Block:
    middle = -size * (ASCENT - 0.3)
    sample = replace(line((0.0, middle), (4.0 * size, middle)), width=ink.width, colour=ink.colour, dash=ink.dash)
    text = paragraph(LEGEND[role], width, size, indent=5.0 * size)
    return replace(text, inks=(sample,))


def info_block(notes: PatternNotes, legend: list[tuple[Role, Ink]], width: float, size: float) -> Block:
    """Facts, legend and cautions: in two columns where there is the width, else in one."""
    gap = 1.1 * size
    if width < 130.0:  # chosen: two columns of 60 mm still hold a sentence
        parts = (
            facts_block(notes, width, size),
            legend_block(legend, width, size),
            cautions_block(notes, width, size),
        )
        return stacked(parts, gap)
    column = (width - 6.0) / 2
    left = (facts_block(notes, column, size), legend_block(legend, column, size))
    return beside(stacked(left, gap), cautions_block(notes, column, size), column + 6.0)
