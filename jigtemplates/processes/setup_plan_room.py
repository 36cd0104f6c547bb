"""Room for arrows and words in the plan of a set-up sheet, among what is drawn; mm on the page, seen along the cut."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point, cos_sin
from jigtemplates.processes.paper_page import GREY, Ink, Text
from jigtemplates.processes.setup_draw import PLATE, clipped, patch

#: Kept free round an arrow or a word, mm (chosen: the width of a thick line).
GAP = 0.5


@dataclass(frozen=True, slots=True)
class Turned:
    """Coordinates along a cut, and back: turned about the place where its centre lines cross."""

    origin: Point
    degrees: float

    def of(self, place: Point) -> Point:
        """A place of the page, along the cut and to its left."""
        cos, sin = cos_sin(self.degrees)
        x, y = place.x - self.origin.x, place.y - self.origin.y
        return Point(x * cos + y * sin, y * cos - x * sin)

    def box_of(self, shape: Outline) -> Bounds:
        """The box along the cut that an outline of the page has."""
        turned = shape.rotated(-self.degrees, self.origin) if self.degrees else shape
        left, bottom, right, top = turned.bounds
        return Bounds(left - self.origin.x, bottom - self.origin.y, right - self.origin.x, top - self.origin.y)


@dataclass(frozen=True, slots=True)
class Crowd:
    """What is in the way."""

    boxes: tuple[Bounds, ...]
    #: middle and radius
    circles: tuple[tuple[Point, float], ...]
    #: what nothing may cross, and what a word may hide a piece of
    lines: tuple[tuple[Point, Point], ...]
    faint: tuple[tuple[Point, Point], ...]

    def is_free(self, box: Bounds, *, faint: bool = False) -> bool:
        """Whether nothing lies in the box, with the gap round it; faint lines count where that is said."""
        grown = Bounds(box.left - GAP, box.bottom - GAP, box.right + GAP, box.top + GAP)
        return not (
            any(_touch(grown, other) for other in self.boxes)
            or any(_reaches(middle, radius, grown) for middle, radius in self.circles)
            or any(clipped(a, b, grown) for a, b in self.lines)
            or (faint and any(clipped(a, b, grown) for a, b in self.faint))
        )


def crowd(inks: Iterable[Ink], texts: Iterable[Text], turned: Turned) -> Crowd:
    """The openings, holes, arrows and strong lines that are drawn, and the texts; the plate itself is no obstacle."""
    boxes = [turned.box_of(patch(text)) for text in texts]
    circles: list[tuple[Point, float]] = []
    lines: list[tuple[Point, Point]] = []
    faint: list[tuple[Point, Point]] = []
    for ink in inks:
        if isinstance(ink.shape, Stroke):
            points = [turned.of(point) for point in ink.shape.points]
            (faint if ink.colour == GREY else lines).extend(pairwise(points))
        elif ink.fill and ink.fill != PLATE:
            circle = ink.shape.as_circle
            if circle is None:
                boxes.append(turned.box_of(ink.shape))
            else:
                circles.append((turned.of(circle.center), circle.radius))
    return Crowd(tuple(boxes), tuple(circles), tuple(lines), tuple(faint))


def _touch(a: Bounds, b: Bounds) -> bool:
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top


def _reaches(middle: Point, radius: float, box: Bounds) -> bool:
    x = min(max(middle.x, box.left), box.right)
    y = min(max(middle.y, box.bottom), box.top)
    return math.dist(middle, (x, y)) < radius


#: An arrow's distance from the opening that is tried, mm: near it, then wherever there is room (chosen).
NEAR, FAR = (2.4, 3.3, 4.2), (2.4, 3.3, 4.2, 5.4, 6.6, 8.0, 9.5)
#: At an opening's end an arrow stands beyond the end of the centre line.
PAST_AXIS = 1.8
#: Half the width of an arrow's head.
HALF = 0.9

Arrow = tuple[Point, Point]


def feed_arrows(box: Bounds, free: Crowd) -> tuple[Arrow, ...]:
    """From where to where the arrows round an opening run, along the cut: clockwise.

    Two on opposite sides where both are clear, long sides first; else on any two sides, or on one; where none is
    clear, along the long sides all the same. box is the opening's, mm on the page along the cut.
    """
    for distances in (NEAR, FAR):
        found = {side: _clear(side, box, distances, free) for side in ("top", "bottom", "right", "left")}
        for pair in (("top", "bottom"), ("right", "left")):
            both = [found[side] for side in pair]
            if all(both):
                return tuple(arrow for arrow in both if arrow)
    clear = [arrow for arrow in found.values() if arrow]
    return tuple(clear[:2]) or tuple(_at(side, box, NEAR[0], 0.0) for side in ("top", "bottom"))


def _clear(side: str, box: Bounds, distances: Iterable[float], free: Crowd) -> Arrow | None:
    """The first place of an arrow at a side where nothing is in its way."""
    for arrow in _tried(side, box, distances):
        (ax, ay), (bx, by) = arrow
        if free.is_free(Bounds(min(ax, bx) - HALF, min(ay, by) - HALF, max(ax, bx) + HALF, max(ay, by) + HALF)):
            return arrow
    return None


def _tried(side: str, box: Bounds, distances: Iterable[float]) -> Iterator[Arrow]:
    length = box.width if side in ("top", "bottom") else box.height
    for out in distances:
        for shift in (0.0, 0.15 * length, -0.15 * length):
            yield _at(side, box, out, shift)


def _at(side: str, box: Bounds, out: float, shift: float) -> Arrow:
    x, y = box.center
    if side in ("top", "bottom"):
        reach = max(0.275 * box.width, min(box.width / 2, 5.0))
        sign, level = (1.0, box.top + out) if side == "top" else (-1.0, box.bottom - out)
        return Point(x + shift - sign * reach, level), Point(x + shift + sign * reach, level)
    reach = max(0.275 * box.height, 4.0)
    sign, across = (1.0, box.right + out + PAST_AXIS) if side == "right" else (-1.0, box.left - out - PAST_AXIS)
    return Point(across, y + shift + sign * reach), Point(across, y + shift - sign * reach)


#: How far an arc's start is turned to find it room, degrees.
TURNS = (0.0, *(side * step for step in range(15, 91, 15) for side in (1.0, -1.0)))


#: How far an arc runs round its middle, the best first, degrees (chosen: a third of the circle, or what finds room).
SPANS = (100.0, 75.0, 50.0)


def arcs_room(middle: Point, radius: float, starts: tuple[float, ...], free: Crowd) -> tuple[float, float]:
    """How far arcs about a place run, and by how much they are turned, so that nothing is in their way.

    They run clockwise from their starts (degrees); where something always is in the way, as if nothing were.
    """
    for span in SPANS:
        for turn in TURNS:
            spots = (cos_sin(start + turn - span * step / 12) for start in starts for step in range(13))
            if all(free.is_free(_dot(middle.x + radius * cos, middle.y + radius * sin)) for cos, sin in spots):
                return span, turn
    return SPANS[0], 0.0


def _dot(x: float, y: float) -> Bounds:
    return Bounds(x - HALF, y - HALF, x + HALF, y + HALF)
