"""Why recess and plug fit: sections through the edge of the opening, one below the other, their edges in line.

Millimetres from the opening's edge, x into the opening; y from the upper face of the plate, up.
"""

from dataclasses import dataclass

from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.inlay import Fit, Pair
from jigtemplates.inlay.plug import THROUGH
from jigtemplates.inlay.words import said
from jigtemplates.processes.inlay_plan import NONE, PLUG
from jigtemplates.processes.paper_page import BLACK, GREY, Text
from jigtemplates.processes.setup_dims import axis, dimension_line, extension
from jigtemplates.processes.setup_draw import (
    BIT,
    BLUE,
    BRASS,
    DASHED,
    MEDIUM,
    PLATE,
    SCALES,
    SMALL,
    THICK,
    THIN,
    TINY,
    VERMILLION,
    WORK,
    Picture,
    box,
    hatching,
    scale_text,
)

#: Rooms on the page, mm: two lines of caption; dimensions above, between and below the two sections.
CAPTION, ABOVE, BETWEEN, BELOW = 8.5, 5.0, 9.0, 5.0
#: Of plate and work shown beside the opening's edge, and of what lies to the right of the bushing, mm on the page.
BESIDE, BEYOND = 17.0, 16.0
#: Of the bushing's flange above the plate, and of the wood below a cut, mm on the page.
FLANGE, UNDER = 2.6, 5.0
#: Finer steps than other pictures have (chosen: the two edges are what is looked at).
SECTION_SCALES = tuple(sorted({*SCALES, 3.0, 1.5, 1 / 1.5}, reverse=True))


@dataclass(frozen=True)
class Stack:
    """Heights of both set-ups, mm."""

    fit: Fit
    plate: float
    stand_off: float
    #: of the recess in the work
    depth: float
    #: of the inlay stock
    stock: float

    @property
    def reach(self) -> float:
        """From the opening's edge to the far side of the wider bushing."""
        return max(self.fit.recess.bushing, self.fit.plug.bushing)

    @property
    def heights(self) -> tuple[float, float]:
        """Of both sections, from the plate's face to the bottom of the cut."""
        above = self.plate + self.stand_off
        return above + self.depth, above + self.stock + THROUGH


def section_scale(stack: Stack, width: float, height: float) -> float:
    """The largest scale at which both sections have room."""
    room = (width - BESIDE - BEYOND, height - CAPTION - ABOVE - BETWEEN - BELOW - 2 * (FLANGE + UNDER))
    fitting = (s for s in SECTION_SCALES if s * stack.reach <= room[0] and s * sum(stack.heights) <= room[1])
    return next(fitting, SCALES[-1])


def sections(stack: Stack, cell: Bounds, *, inches: bool) -> Picture:
    """Both sections in a cell of the page."""
    scale = section_scale(stack, cell.width, cell.height)
    picture = Picture(cell, scale)
    picture.text(Text("Through the edge of the opening", cell.left, cell.top - 3.2, SMALL + 0.4, True))
    about = (
        f"scale {scale_text(scale)}: both edges stand in line" if stack.fit.gap < NONE else f"scale {scale_text(scale)}"
    )
    picture.text(Text(about, cell.left, cell.top - 7.0, TINY, colour=GREY))
    x = cell.left + BESIDE
    first, second = stack.heights
    top = cell.top - CAPTION - ABOVE - FLANGE
    lower = top - scale * first - UNDER - BETWEEN - FLANGE
    one = Section(stack, picture, Point(x, top), stack.fit.recess, inches)
    two = Section(stack, picture, Point(x, lower), stack.fit.plug, inches)
    one.recess()
    two.plug()
    _in_line(picture, one, two, lower - scale * second - UNDER)
    return picture


def _in_line(picture: Picture, one: "Section", two: "Section", low: float) -> None:
    """The opening's edge and the edges of recess and plug, from one section down through the other."""
    axis(picture, Point(one.origin.x, one.origin.y + FLANGE + 2.0), Point(one.origin.x, low))
    for section, edge in ((one, one.pair.inside), (two, two.pair.beyond)):
        x = section.at(edge, 0.0).x
        picture.line((x, section.at(0.0, -section.above).y), (x, low), width=THIN, colour=VERMILLION, dash=DASHED)


@dataclass
class Section:
    """One of the two while it is drawn."""

    stack: Stack
    picture: Picture
    #: on the page: the opening's edge at the plate's upper face
    origin: Point
    pair: Pair
    inches: bool

    @property
    def above(self) -> float:
        """From the plate's upper face to the work."""
        return self.stack.plate + self.stack.stand_off

    @property
    def ends(self) -> tuple[float, float]:
        """Where the section ends to the left and right, mm from the opening's edge."""
        return -BESIDE / self.picture.scale, self.stack.reach + BEYOND / self.picture.scale

    def at(self, x: float, y: float) -> Point:
        """On the page."""
        return Point(self.origin.x + self.picture.scale * x, self.origin.y + self.picture.scale * y)

    def block(self, left: float, bottom: float, right: float, top: float) -> Outline:
        """A rectangle on the page."""
        return box(*self.at(left, bottom), *self.at(right, top))

    def wood(self, shape: Outline, fill: str, degrees: float, colour: str = GREY) -> None:
        """A cut face: filled and hatched."""
        self.picture.area(shape, fill)
        b = shape.bounds
        ring = [(b.left, b.bottom), (b.right, b.bottom), (b.right, b.top), (b.left, b.top)]
        self.picture.inks.extend(hatching([ring], 2.0, degrees, colour))

    def template(self) -> None:
        """The plate left of the opening's edge."""
        left, _ = self.ends
        shape = self.block(left, -self.stack.plate, 0.0, 0.0)
        self.wood(shape, PLATE, 45.0)
        b = shape.bounds
        self.picture.line((b.left, b.top), (b.right, b.top), (b.right, b.bottom), (b.left, b.bottom), width=THICK)
        self.picture.backed(Text("template", b.left + 0.6, (b.top + b.bottom) / 2 - 0.9, TINY), PLATE)

    def cutter(self, depth: float) -> None:
        """The bushing against the edge and the bit in it, down to a depth below the plate's face."""
        pair, scale = self.pair, self.picture.scale
        middle, stem = pair.bushing / 2, 0.8 * self.stack.plate
        up = FLANGE / scale
        self.picture.outline(self.block(-1.5 / scale, 0.0, pair.bushing + 1.5 / scale, up), THIN, BLUE, fill=BRASS)
        self.picture.outline(self.block(0.0, -stem, pair.bushing, 0.0), THIN, BLUE, fill=BRASS)
        left, right = middle - pair.bit / 2, middle + pair.bit / 2
        self.picture.outline(self.block(left, -depth, right, up + 1.5 / scale), MEDIUM, BLUE, fill=BIT)
        axis(self.picture, self.at(middle, up + 2.4 / scale), self.at(middle, -depth - 1.2 / scale))

    def recess(self) -> None:
        """The work with the recess in it."""
        (left, right), edge = self.ends, self.pair.inside
        bottom, low = -self.above - self.stack.depth, -self.above - self.stack.depth - UNDER / self.picture.scale
        self.wood(self.block(left, low, edge, -self.above), WORK, 135.0)
        self.wood(self.block(edge, low, right, bottom), WORK, 135.0)
        outline = (
            self.at(left, -self.above),
            self.at(edge, -self.above),
            self.at(edge, bottom),
            self.at(right, bottom),
        )
        self.picture.line(*outline, width=THICK)
        self.template()
        self.cutter(self.above + self.stack.depth)
        self.words("recess", self.at(right, bottom), 1.2)
        self.measure(edge, f"(bushing - bit) / 2 = {said(edge, self.inches)}")

    def plug(self) -> None:
        """The inlay stock with the groove round the plug, and the board below."""
        pair, stack, (left, right) = self.pair, self.stack, self.ends
        near, far = pair.bushing / 2 - pair.bit / 2, pair.beyond
        face, back = -self.above, -self.above - stack.stock
        bottom, low = back - THROUGH, back - UNDER / self.picture.scale - THROUGH
        self.wood(self.block(left, low, right, back), "#FFFFFF", 45.0, "#B0B0B0")
        self.picture.area(self.block(near, bottom, far, face), "#FFFFFF")
        self.wood(self.block(left, back, near, face), WORK, 135.0)
        self.wood(self.block(far, back, right, face), PLUG, 135.0)
        self.picture.line(self.at(left, back), self.at(near, back), width=MEDIUM)
        self.picture.line(self.at(far, back), self.at(right, back), width=MEDIUM)
        corners = ((left, face), (near, face), (near, bottom), (far, bottom), (far, face), (right, face))
        self.picture.line(*(self.at(*corner) for corner in corners), width=THICK)
        self.template()
        self.cutter(self.above + stack.stock + THROUGH)
        self.words("plug", self.at(right, (face + back) / 2), -0.9)
        self.words("board", self.at(right, low), 1.0)
        self.measure(far, f"(bushing + bit) / 2 = {said(far, self.inches)}")

    def words(self, string: str, end: Point, up: float) -> None:
        """A word at the right end of a face."""
        self.picture.backed(Text(string, end.x - 0.8, end.y + up, TINY, anchor="end"))

    def measure(self, edge: float, words: str) -> None:
        """From the opening's edge to what this pair leaves, above the bushing."""
        y = self.origin.y + FLANGE + 3.4
        a, b = Point(self.origin.x, y), Point(self.at(edge, 0.0).x, y)
        extension(self.picture, Point(b.x, self.origin.y - self.picture.scale * self.above), b)
        dimension_line(self.picture, a, b, BLACK)
        self.picture.backed(Text(words, b.x + 2.4, y - 0.9, TINY, True))
