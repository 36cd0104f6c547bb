"""A table on paper: title, header, rows and notes, broken over pages where it is long."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from jigtemplates.byhand.table import Table
from jigtemplates.fonts import text_width
from jigtemplates.processes.paper_page import BLACK, GREY, PALE, line
from jigtemplates.processes.paper_text import LEADING, Block, paragraph, stacked

#: Between columns, em: at least, and at most (chosen: further apart the eye loses its row).
LEAST_GAP, MOST_GAP = 1.0, 3.2
#: A column that is wider is wrapped before the others are, em (chosen: a short sentence).
WIDE = 16.0
#: Room above and below the words of a row, em.
PADDING = 0.22
#: Fewer rows are not left alone at the foot of a page (chosen).
LEAST_ROWS = 2
#: Heights that differ by less are the same, mm (chosen: rounding only).
SLACK = 1e-6
#: A title's letters, times those of the rows.
TITLE = 1.2


@dataclass(frozen=True)
class Laid:
    """A table in blocks, from above; a page breaks between rows only."""

    #: title and header, and the same for a page on which the rows go on
    head: Block
    head_again: Block
    rows: tuple[Block, ...]
    #: all notes
    foot: Block

    @property
    def whole(self) -> Block:
        """The table in one piece."""
        return stacked((self.head, *self.rows, self.foot))

    def parts(self, first: float, rest: float) -> Iterator[Block]:
        """Pieces no higher than `first` (empty where too little fits there), then than `rest`, mm.

        Where a single row or the notes are higher than that, so is their piece.
        """
        head, rows, room, full = self.head, self.rows, first, first >= rest
        while head.height + sum(row.height for row in rows) + self.foot.height > room + SLACK:
            count = self._fitting(head, rows, room)
            if not full and count < min(LEAST_ROWS, max(len(rows), 1)):
                yield Block(0.0)
            elif len(rows) < 2:  # a row and notes too high for any page
                yield stacked((head, *rows))
                yield self.foot
                return
            else:
                yield stacked((head, *rows[: max(count, 1)]))
                head, rows = self.head_again, rows[max(count, 1) :]
            room, full = rest, True
        yield stacked((head, *rows, self.foot))

    def _fitting(self, head: Block, rows: Sequence[Block], room: float) -> int:
        """How many rows fit; the last one only where the notes do too, or fit nowhere."""
        left, count = room - head.height, 0
        for row in rows:
            if row.height > left + SLACK:
                return count
            left -= row.height
            count += 1
        return count - 1 if len(rows) > 1 else count


def laid_out(table: Table, width: float, size: float) -> Laid:
    """The table in a width (mm), its rows in letters of that size (em, mm)."""
    title = paragraph(table.title, width, TITLE * size, bold=True)
    again = paragraph(f"{table.title} (continued)", width, TITLE * size, bold=True)
    notes = stacked((paragraph(note, width, size, colour=GREY) for note in table.notes), 0.25 * size)
    foot = stacked((Block(0.3 * size), notes))
    if not table.rows:
        return Laid(title, again, (), foot)
    edges = columns(table, width, size)
    header = _row(table.header, edges, size, 0.22 * size, header=True)
    header = _ruled(header, width, 0.25, BLACK)
    rows = tuple(_ruled(_row(row, edges, size, PADDING * size), width, 0.1, PALE) for row in table.rows)
    return Laid(stacked((title, header)), stacked((again, header)), rows, foot)


def columns(table: Table, width: float, size: float) -> list[tuple[float, float]]:
    """Left edge and width of each column, mm; the wide ones are narrowed where there is too little room."""
    spaces = len(table.header) - 1
    room = width - spaces * LEAST_GAP * size
    widths = _natural(table, size, text_width)
    if sum(widths) > room:  # the words of the header one below the other, then those of the rows
        widths = narrowed(_natural(table, size, _longest_word), room, WIDE * size)
    gap = min(MOST_GAP * size, (width - sum(widths)) / spaces) if spaces else 0.0
    lefts = [sum(widths[:i]) + gap * i for i in range(len(widths))]
    return list(zip(lefts, widths, strict=True))


def is_squeezed(table: Table, width: float, size: float) -> bool:
    """Whether other columns than those with sentences have less than their words need, in letters of that size."""
    if not table.rows:
        return False
    needed = _natural(table, size, _longest_word)
    spare = 1e-6 * width
    return any(
        has < least - spare and least <= WIDE * size
        for (_, has), least in zip(columns(table, width, size), needed, strict=True)
    )


def _natural(table: Table, size: float, of_header: Callable[[str, float], float]) -> list[float]:
    """Width of each column's widest text, mm."""
    cells = enumerate(zip(*table.rows, strict=True))
    rows = [max(text_width(text, size, bold=i == 0) for text in column) for i, column in cells]
    return [max(of_header(head, size), widest) for head, widest in zip(table.header, rows, strict=True)]


def _longest_word(text: str, size: float) -> float:
    return max(0.55 * text_width(text, size), *(text_width(word, size) for word in text.split()))


def narrowed(natural: Sequence[float], room: float, wide: float) -> list[float]:
    """Widths that together take no more than the room: first those over `wide` give, then the widest ones."""
    over = sum(natural) - room
    if over <= 0:
        return list(natural)
    spare = sum(max(0.0, n - wide) for n in natural)
    if spare >= over:
        return [n - max(0.0, n - wide) * over / spare for n in natural]
    return _levelled([min(n, wide) for n in natural], room)


def _levelled(widths: list[float], room: float) -> list[float]:
    """No width more than a level, chosen so that all of them fill the room."""
    ordered = sorted(widths)
    for done, width in enumerate(ordered):
        level = (room - sum(ordered[:done])) / (len(ordered) - done)
        if level <= width:
            return [min(w, level) for w in widths]
    return widths


def _row(
    cells: Sequence[str], edges: Sequence[tuple[float, float]], size: float, padding: float, *, header: bool = False
) -> Block:
    """One row; its first cell is bold, as that is what it is found by."""
    colour = GREY if header else BLACK
    blocks = [
        paragraph(cell, width, size, bold=i == 0 and not header, colour=colour)
        for i, (cell, (_, width)) in enumerate(zip(cells, edges, strict=True))
    ]
    height = max(LEADING * size, *(block.height for block in blocks))
    texts = (
        text.moved(left, -padding - (height - block.height if header else 0.0))  # a header stands on its line
        for block, (left, _) in zip(blocks, edges, strict=True)
        for text in block.texts
    )
    return Block(height + 2 * padding, tuple(texts))


def _ruled(row: Block, width: float, pen: float, colour: str) -> Block:
    """With a line under it."""
    return Block(row.height, row.texts, (line((0.0, -row.height), (width, -row.height), pen, colour),))
