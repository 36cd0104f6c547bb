"""The edge of a rebated plate in its holder, in section and to scale: a block of a set-up sheet, page mm.

::

             ├ rebate ┤
    ┌────────┬───────────────╱──  ─┬─ edge
    │ holder ├────────┐ plate╱     ─┼─
    │        │ ledge │└──────╱──  ─┴─ step
    └────────────────┘
             ├─ledge─┤

Of a holder with two widths of ledge the wider one is shown, which the rebate is made for.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.holders import ledges_of
from jigtemplates.parameters.job import Plate
from jigtemplates.processes.paper_page import GREY, Text
from jigtemplates.processes.paper_text import Block, stacked
from jigtemplates.processes.setup_dims import break_line, dimension_line, extension, size_texts, spread
from jigtemplates.processes.setup_draw import (
    HOLDER,
    MEDIUM,
    PLATE,
    SCALES,
    SHEET,
    SMALL,
    THICK,
    THIN,
    TIMBER,
    TINY,
    Picture,
    fitting,
    hatching,
    scale_text,
)
from jigtemplates.processes.setup_words import heading, is_in_inches
from jigtemplates.rebate import rebate_of
from jigtemplates.report import Report

# Rooms on the page, mm (chosen).
CAPTION = 4.4  # the line of the scale
ROW = 4.9  # a dimension above or below
LEFT, FRAME = 1.3, 4.6  # left free for the zigzag; what is shown of the holder beside the recess
MIDDLE = 5.6  # what is shown of the plate beyond the step
UNKNOWN_LEDGE = 5.0  # what is shown of a ledge whose thickness is not known
CHAIN = 2.6, 3.4  # from what is shown to the dimension line, and from there to its words
HIGHEST = 20.0  # nothing is drawn higher
LEAST = 6.2  # between the dimensions above and below, for two lines of words
LARGEST = 2.0  # scale


@dataclass(frozen=True)
class Edge:
    """What is drawn, real mm."""

    #: from the wall of the recess to the plate
    play: float
    #: width of the rebate, and of the ledge
    width: float
    ledge: float
    #: thickness at the plate's edge, depth of the recess too; of its middle
    edge: float
    thickness: float
    #: of the ledge; None where it is not known
    below: float | None

    @property
    def across(self) -> float:
        """From the wall of the recess to the step."""
        return self.play + self.width

    @property
    def high(self) -> float:
        """From the plate's face to the lowest of what is known."""
        return max(self.thickness, self.edge + (self.below or 0.0))


def edge_of(plate: Plate) -> Edge:
    """The edge of a rebated plate; the parameters refuse a rebate without the holder's figures."""
    rebate, held = rebate_of(plate), plate.holder
    assert rebate is not None
    assert held is not None
    ledges = ledges_of(held)
    assert ledges is not None
    ledge = max(ledges)
    play = held.width.mm - plate.width if ledge == ledges[0] else held.height.mm - plate.height
    below = None if held.ledge_thickness is None else held.ledge_thickness.mm
    return Edge(max(0.0, play / 2), rebate.width, ledge, rebate.edge, plate.thickness, below)


def edge_block(report: Report, width: float) -> Block:
    """The heading, the picture with its dimensions, and its scale."""
    return stacked((heading("Edge in the holder", width), _picture(report, width)))


def _picture(report: Report, width: float) -> Block:
    edge, inches = edge_of(report.job.plate), is_in_inches(report)
    names = [f"{name} {_size(size, inches)}" for name, size in _levels(edge)]
    room = width - LEFT - FRAME - MIDDLE - sum(CHAIN) - max(text_width(words, TINY, bold=True) for words in names)
    scale = next((s for s in SCALES if s <= LARGEST and s * edge.across <= room and s * edge.high <= HIGHEST), 0.01)
    low = scale * edge.high if edge.below else max(scale * edge.high, scale * edge.edge + UNKNOWN_LEDGE)
    words = max(low, LEAST)
    height = CAPTION + ROW + 1.4 + words + ROW + 0.6
    drawn = Drawn(edge, scale, Picture(Bounds(0.0, -height, width, 0.0), scale), -CAPTION - ROW - 1.4)
    drawn.picture.text(Text(f"scale {scale_text(scale)}", 0.0, -0.95 * TINY, TINY, colour=GREY))
    drawn.holder(drawn.face - low)
    drawn.plate()
    drawn.chain(names, drawn.face - words)
    drawn.across("rebate", edge.play, edge.across, drawn.face, -CAPTION - ROW + 2.4, _size(edge.width, inches))
    drawn.across("ledge", 0.0, edge.ledge, drawn.face - low, -height + 2.4, _size(edge.ledge, inches))
    return Block(height, tuple(drawn.picture.texts), tuple(drawn.picture.inks))


def _size(mm: float, inches: bool) -> str:
    """In inches alone where they come first: the settings beside it have both."""
    return size_texts(mm, inches)[0]


def _levels(edge: Edge) -> tuple[tuple[str, float], ...]:
    """What the thickness of the plate is made of, from its face down."""
    return ("edge", edge.edge), ("step", edge.thickness - edge.edge)


@dataclass(frozen=True)
class Drawn:
    """The picture while it is drawn."""

    edge: Edge
    scale: float
    picture: Picture
    #: height of the plate's face on the page
    face: float

    def x(self, across: float) -> float:
        """On the page, from the wall of the recess."""
        return LEFT + FRAME + self.scale * across

    def y(self, down: float) -> float:
        """On the page, from the face."""
        return self.face - self.scale * down

    @property
    def right(self) -> float:
        """Where the plate goes on."""
        return self.x(self.edge.across) + MIDDLE

    def _part(self, ring: Sequence[Point], fill: str, hatch: tuple[float, float, str]) -> None:
        self.picture.area(Outline.polygon(ring), fill)
        self.picture.inks.extend(hatching([ring], *hatch))

    def holder(self, low: float) -> None:
        """Frame and ledge; dashed below where the ledge's thickness is not known."""
        e, seat = self.edge, self.y(self.edge.edge)
        wall, window = self.x(0.0), self.x(e.ledge)
        ring = [Point(LEFT, self.face), Point(wall, self.face), Point(wall, seat), Point(window, seat)]
        foot = [Point(window, low), Point(LEFT, low)]
        self._part([*ring, *foot], HOLDER, TIMBER)
        self.picture.line(*ring, foot[0], width=THICK)
        if e.below:
            self.picture.line(*foot, width=THICK)
        else:
            break_line(self.picture, *foot)
        break_line(self.picture, ring[0], foot[1])
        self.picture.name("holder", Bounds(LEFT, low, window, seat), HOLDER)

    def plate(self) -> None:
        """Its face, its edge, its step, and where it goes on."""
        e = self.edge
        left, step, end = self.x(e.play), self.x(e.across), self.right
        thin, low = self.y(e.edge), self.y(e.thickness)
        ring = [Point(end, self.face), Point(left, self.face), Point(left, thin), Point(step, thin)]
        ring += [Point(step, low), Point(end, low)]
        self._part(ring, PLATE, SHEET)
        self.picture.line(*ring, width=THICK)
        break_line(self.picture, ring[0], ring[-1])
        self.picture.name("plate", Bounds(left, thin, end, self.face), PLATE)

    def chain(self, names: Sequence[str], low: float) -> None:
        """Thickness of the edge and height of the step, one below the other; their words end above low."""
        x, tall = self.right + CHAIN[0], 1.3 * SMALL
        levels = [self.y(down) for down in (0.0, self.edge.edge, self.edge.thickness)]
        for level in levels:
            extension(self.picture, Point(self.right, level), Point(x, level))
        places = [(a + b) / 2 for a, b in pairwise(levels)]
        middles = spread([(place, tall) for place in places], low - 0.4, self.face + 1.4, 0.0)
        for (a, b), words, place, middle in zip(pairwise(levels), names, places, middles, strict=True):
            dimension_line(self.picture, Point(x, a), Point(x, b))
            if abs(place - middle) > 0.5:
                self.picture.line((x + 0.7, place), (x + CHAIN[1] - 0.6, middle), width=THIN, colour=GREY)
            self._words(words, x + CHAIN[1], middle)

    def across(self, name: str, left: float, right: float, start: float, y: float, size: str) -> None:
        """A dimension across, with its words on its right."""
        a, b = Point(self.x(left), y), Point(self.x(right), y)
        for end in (a, b):
            extension(self.picture, Point(end.x, start), end)
        dimension_line(self.picture, a, b, width=MEDIUM / 2)
        self._words(f"{name} {size}", b.x + 2.4, y)

    def _words(self, words: str, x: float, middle: float) -> None:
        em = fitting(words, self.picture.cell.right - x, SMALL, TINY)
        self.picture.backed(Text(words, x, middle - 0.36 * em, em, True))
