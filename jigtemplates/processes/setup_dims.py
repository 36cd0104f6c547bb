"""Dimension lines of a set-up sheet, with oblique strokes at their ends; millimetres on the page.

Strokes instead of arrows: they need no room, so that a plate of 3 mm is dimensioned as one of 30 mm is.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Point
from jigtemplates.lengths import Measured, inch_short, mm_text
from jigtemplates.processes.paper_page import BLACK, GREY, Text
from jigtemplates.processes.setup_draw import CHAIN, DASHED, MEDIUM, SMALL, THIN, TINY, Picture, fitting

#: An extension line begins this far from what it measures and ends this far beyond the dimension line, mm.
GAP, BEYOND = 0.8, 1.2
#: Half the length of the oblique strokes, mm.
STROKE = 0.9


def size_texts(mm: float, inches: bool, digits: int = 2) -> tuple[str, ...]:
    """ "12.7 mm"; with inches before it "1/2 in", or "0.519 in" where no mark of a rule says it."""
    return (inch_short(mm), mm_text(mm, digits)) if inches else (mm_text(mm, digits),)


def size_line(mm: float, inches: bool, digits: int = 2) -> str:
    """ "12.7 mm", or "1/2 in = 12.7 mm"."""
    return " = ".join(size_texts(mm, inches, digits))


def measured_line(size: Measured, inches: bool) -> str:
    """The same of a measured size, its digits as written: three of 0.3745 in would be the 0.375 in it is sold as."""
    return f"{size.text} = {mm_text(size.mm, 3)}" if inches and size.is_inch else size_line(size.mm, inches, 3)


def dimension_line(picture: Picture, a: Point, b: Point, colour: str = BLACK, *, width: float = THIN) -> None:
    """A line from a to b, a little beyond both, with an oblique stroke at each."""
    length = math.dist(a, b)
    ux, uy = ((b.x - a.x) / length, (b.y - a.y) / length) if length else (1.0, 0.0)
    over = 1.0
    picture.line((a.x - over * ux, a.y - over * uy), (b.x + over * ux, b.y + over * uy), width=width, colour=colour)
    # 45° to the line, rising to the right of it
    sx, sy = (ux - uy) * STROKE * math.sqrt(0.5), (uy + ux) * STROKE * math.sqrt(0.5)
    for end in (a, b):
        picture.line((end.x - sx, end.y - sy), (end.x + sx, end.y + sy), width=2 * MEDIUM, colour=colour)


def extension(picture: Picture, start: Point, end: Point, *, dashed: bool = False) -> None:
    """A thin line from near a feature to a little beyond the dimension line at end."""
    length = math.dist(start, end)
    if length <= GAP:
        return
    ux, uy = (end.x - start.x) / length, (end.y - start.y) / length
    picture.line(
        (start.x + GAP * ux, start.y + GAP * uy),
        (end.x + BEYOND * ux, end.y + BEYOND * uy),
        width=THIN,
        colour=GREY,
        dash=DASHED if dashed else (),
    )


def axis(picture: Picture, start: Point, end: Point) -> None:
    """A chain line."""
    picture.line(start, end, width=THIN, colour=GREY, dash=CHAIN)


def break_line(picture: Picture, start: Point, end: Point) -> None:
    """A thin line with a zigzag in its middle: the part goes on (in the manner of ISO 128)."""
    length = math.dist(start, end)
    if length < 1e-9:
        return
    ux, uy = (end.x - start.x) / length, (end.y - start.y) / length
    zig = min(1.2, length / 4)

    def at(along: float, aside: float) -> tuple[float, float]:
        along += length / 2
        return start.x + along * ux - aside * uy, start.y + along * uy + aside * ux

    turns = ((-zig, 0.0), (-zig / 2, zig), (zig / 2, -zig), (zig, 0.0))
    picture.line(start, *(at(*turn) for turn in turns), end, width=THIN)


@dataclass(frozen=True, slots=True)
class Named:
    """A name and its size, as it stands beside a dimension line."""

    name: str
    #: the size in one unit or in two; empty where it is not known
    sizes: tuple[str, ...]

    def lines(self) -> tuple[tuple[str, float, bool], ...]:
        """String, size of letters and boldness of each line, one below the other."""
        if not self.sizes:
            return ((self.name, TINY, False), ("not known:", TINY, True), ("measure", TINY, True))
        first, *rest = self.sizes
        return ((self.name, TINY, False), (first, SMALL, True), *((size, TINY, True) for size in rest))

    @property
    def height(self) -> float:
        """Of all its lines, mm."""
        return sum(1.15 * size for _, size, _ in self.lines())

    @property
    def width(self) -> float:
        """Of the widest line, mm."""
        return max(text_width(string, size, bold=bold) for string, size, bold in self.lines())

    def put(self, picture: Picture, x: float, middle: float, room: float, *, at_end: bool = False) -> None:
        """One line below the other about a height, from x on, or up to x, in letters that fit the room across."""
        y = middle + self.height / 2
        for string, size, bold in self.lines():
            y -= 1.15 * size
            anchor = "end" if at_end else "start"
            colour = BLACK if bold else GREY
            em = fitting(string, room, size, TINY) if bold else size
            picture.backed(Text(string, x, y + 0.25 * size, em, bold, anchor, colour=colour))  # type: ignore[arg-type]


def spread(wanted: Sequence[tuple[float, float]], low: float, high: float, gap: float = 0.8) -> list[float]:
    """Middles of labels (middle, height; highest first) moved apart as little as a pass down and one up need.

    All lie between low and high where there is that much room; where there is not, the highest stick out.
    """
    middles: list[float] = []
    top = high
    for middle, height in wanted:
        middles.append(min(middle, top - height / 2))
        top = middles[-1] - height / 2 - gap
    bottom = low
    for i in range(len(wanted) - 1, -1, -1):
        height = wanted[i][1]
        middles[i] = max(middles[i], bottom + height / 2)
        bottom = middles[i] + height / 2 + gap
    return middles
