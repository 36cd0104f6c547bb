"""What a paper pattern is made of: pages of lines and texts, placed in millimetres.

Page millimetres have their origin in the page's lower-left corner, x right, y up. A window shows
the drawing in its own coordinates, so that a cross-hair has the same place on every page it is on.
"""

from dataclasses import dataclass
from typing import Literal

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point

BLACK = "#000000"
GREY = "#595959"  # chosen: still dark enough for a tired cartridge
PALE = "#8c8c8c"


@dataclass(frozen=True, slots=True)
class PaperSize:
    """A sheet of paper standing upright, in mm."""

    name: str
    width: float
    height: float
    #: left free at the top and the sides
    margin: float = 10.0
    #: left free at the foot, where printers reach least; on a sheet on its side, at the sides as well
    foot: float = 15.0
    #: how far neighbouring tiles show the same part of the drawing
    overlap: float = 12.0


@dataclass(frozen=True, slots=True)
class PatternNotes:
    """What the page says besides its drawing. Texts are ready to print; line breaks become spaces."""

    title: str
    #: label and value: bit, bushing, offset, cut, opening, plate, depth …
    facts: tuple[tuple[str, str], ...]
    #: short sentences
    cautions: tuple[str, ...]
    #: overall size to check with a rule, in mm and inches
    overall: str
    #: whether inches are said first
    inches: bool = False


@dataclass(frozen=True, slots=True)
class Ink:
    """One outline or stroke as it is drawn."""

    shape: Outline | Stroke
    #: line width, mm
    width: float = 0.2
    #: "#rrggbb"
    colour: str = BLACK
    #: lengths of dash, gap, dash, gap … in mm; empty for a continuous line
    dash: tuple[float, ...] = ()
    #: "#rrggbb" of what an outline surrounds, under its line; "" for nothing. Neighbours in one pen are one
    #: area, so that a clockwise ring in a counter-clockwise one is a hole. A width of 0 draws no line.
    fill: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text."""

    string: str
    #: where the baseline starts, has its middle or ends, by anchor
    x: float
    y: float
    #: height of the em square, mm
    size: float
    bold: bool = False
    anchor: Literal["start", "middle", "end"] = "start"
    #: degrees counter-clockwise; 90 reads upwards
    angle: float = 0
    colour: str = BLACK

    def moved(self, dx: float, dy: float) -> "Text":
        """Shifted by (dx, dy) mm."""
        # Not dataclasses.replace, which takes five times as long: a page's texts are moved again and again.
        x, y = self.x + dx, self.y + dy
        return Text(self.string, x, y, self.size, self.bold, self.anchor, self.angle, self.colour)


@dataclass(frozen=True, slots=True)
class Window:
    """A part of the drawing, placed on a page at true size."""

    #: what is shown, in the drawing's coordinates; nothing outside it is printed
    shown: Bounds
    #: where the drawing's (0, 0) falls on the page (it may lie off the page)
    origin: Point
    inks: tuple[Ink, ...]
    texts: tuple[Text, ...] = ()

    @property
    def box(self) -> Bounds:
        """The window on the page."""
        s, (x, y) = self.shown, self.origin
        return Bounds(x + s.left, y + s.bottom, x + s.right, y + s.top)


@dataclass(frozen=True, slots=True)
class Page:
    """One side of one sheet."""

    #: tile name (A1, B3), "cover", or "" where the pattern is a single page
    name: str
    inks: tuple[Ink, ...]
    texts: tuple[Text, ...]
    windows: tuple[Window, ...] = ()


@dataclass(frozen=True, slots=True)
class Pattern:
    """Everything that goes into one file of paper."""

    title: str
    #: size of every page, mm, never rounded
    width: float
    height: float
    pages: tuple[Page, ...]
    #: the one page transform: all coordinates are multiplied by these about the page's lower-left corner
    correction: tuple[float, float] = (1.0, 1.0)
    #: ends of the long diagonal to check after taping, in the drawing's coordinates; None on a single page
    diagonal: tuple[Point, Point] | None = None


def box_of(shape: Outline | Stroke) -> Bounds:
    """Upright box round a shape, without the pen's width."""
    if isinstance(shape, Outline):
        return shape.bounds
    xs, ys = zip(*shape.points, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def moved(shape: Outline | Stroke, dx: float, dy: float) -> Outline | Stroke:
    """The shape shifted by (dx, dy) mm."""
    if isinstance(shape, Outline):
        return shape.moved(dx, dy)
    return Stroke(tuple(Point(p.x + dx, p.y + dy) for p in shape.points))


def line(
    start: tuple[float, float],
    end: tuple[float, float],
    width: float = 0.2,
    colour: str = BLACK,
    dash: tuple[float, ...] = (),
) -> Ink:
    """One straight line."""
    return Ink(Stroke((Point(*start), Point(*end))), width, colour, dash)
