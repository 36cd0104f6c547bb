"""How a set-up sheet is drawn: colours, line widths, scales, arrows and hatching; millimetres on the page."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from jigtemplates.drawing import Stroke
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.processes.paper_page import BLACK, Ink, Text

# The published palette of Okabe and Ito ("Color Universal Design", 2002), and pale tints of it: a colour
# mixed with white, chosen so that black figures stay readable on it and a grey printer tells them apart.
BLUE, GREEN, ORANGE, VERMILLION, PURPLE = "#0072B2", "#009E73", "#E69F00", "#D55E00", "#CC79A7"
PLATE, WORK, METAL, CUT, BIT, BRASS = "#FBE9C4", "#F4EFE6", "#E3E6E9", "#F9DCC6", "#DCEAF3", "#CDE8F8"
HOLDER = "#DDEDE6"

#: Hatching: spacing, angle, colour. Work, holder and base lean one way, plate and bushing the other, where they meet.
GRAIN, TIMBER, SHEET = (2.2, 45.0, "#B9A98A"), (1.8, 45.0, GREEN), (1.5, -45.0, ORANGE)
CAST, TUBE = (1.0, 45.0, "#9AA3AB"), (0.8, -45.0, BLUE)

#: Line widths, mm, in steps of about √2 (in the manner of ISO 128): edges of what is cut, edges seen, thin lines.
THICK, MEDIUM, THIN = 0.5, 0.25, 0.13
#: Dashes of what is not known, and of what lies hidden, mm (chosen).
DASHED = (1.6, 0.9)
#: Chain line of an axis: dash, gap, dot, gap, mm (in the manner of ISO 128).
CHAIN = (3.2, 0.7, 0.5, 0.7)

#: Sizes of letters, em in mm: 7.5 pt, which nothing is smaller than; 8.5 pt; 10 pt; 14 pt, for key figures.
TINY, SMALL, MIDDLE, LARGE = 2.65, 3.0, 3.55, 4.94

#: Scales a picture may have, paper over real: of ISO 5455 and between, which a rule reads off (chosen).
SCALES = (5.0, 2.0, 1.0, *(1 / part for part in (2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 50, 100)))

#: What stands where a size is missing.
UNKNOWN = "not known: measure"


def scale_text(scale: float) -> str:
    """ "1:2" of 0.5, "2:1" of 2."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{round(1 / scale, 6):g}"


@dataclass
class Picture:
    """Lines and texts in the order they are drawn, on the page; what comes later lies over what came before."""

    #: nothing is drawn outside it
    cell: Bounds
    scale: float = 1.0
    inks: list[Ink] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)

    def line(
        self, *points: tuple[float, float], width: float = MEDIUM, colour: str = BLACK, dash: tuple[float, ...] = ()
    ) -> None:
        """An open line through the points."""
        self.inks.append(Ink(Stroke(tuple(Point(*p) for p in points)), width, colour, dash))

    def area(self, shape: Outline, fill: str) -> None:
        """What an outline surrounds, without a line."""
        self.inks.append(Ink(shape, 0.0, BLACK, (), fill))

    def outline(
        self, shape: Outline, width: float = MEDIUM, colour: str = BLACK, dash: tuple[float, ...] = (), fill: str = ""
    ) -> None:
        """An outline, perhaps filled."""
        self.inks.append(Ink(shape, width, colour, dash, fill))

    def text(self, text: Text) -> None:
        """One line of text."""
        self.texts.append(text)

    def name(self, word: str, within: Bounds, fill: str) -> None:
        """The name of a part in the middle of a box within it; nothing where that has no room for the word."""
        middle = within.center
        text = Text(word, middle.x, middle.y - 0.27 * TINY, TINY, anchor="middle")
        needed = patch(text, 0.4).bounds
        if needed.width <= within.width - 0.8 and needed.height <= within.height - 0.4:
            self.backed(text, fill)

    def backed(self, text: Text, fill: str = "#FFFFFF") -> None:
        """A text on a patch that hides the lines below it."""
        self.area(patch(text), fill)
        self.texts.append(text)


def box(left: float, bottom: float, right: float, top: float) -> Outline:
    """An upright rectangle, counter-clockwise."""
    return Outline.polygon([(left, bottom), (right, bottom), (right, top), (left, top)])


def patch(text: Text, room: float = 0.5) -> Outline:
    """The rectangle a text stands in, with room (mm) around it, turned as it is."""
    width = text_width(text.string, text.size, bold=text.bold)
    start = -width * {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    # the face stands 0.76 em above its baseline and 0.24 below
    at_rest = box(start - room, -0.22 * text.size - room / 2, start + width + room, 0.76 * text.size + room / 2)
    turned = at_rest.rotated(text.angle) if text.angle else at_rest
    return turned.moved(text.x, text.y)


def fitting(text: str, room: float, size: float, least: float) -> float:
    """The em (mm) at which a bold text fits a room, from size down to least."""
    return max(least, min(size, size * room / text_width(text, size, bold=True)))


def arrow_head(tip: Point, direction: float, size: float = 2.6) -> Outline:
    """A slim triangle with its tip at a point, pointing in a direction (radians)."""
    cos, sin = math.cos(direction), math.sin(direction)
    back, half = -size, 0.32 * size
    corners = ((0.0, 0.0), (back, half), (back, -half))
    return Outline.polygon([(tip.x + x * cos - y * sin, tip.y + x * sin + y * cos) for x, y in corners])


def hatching(
    rings: Iterable[Sequence[tuple[float, float]]], spacing: float, degrees: float, colour: str, width: float = THIN
) -> Iterator[Ink]:
    """Parallel lines within polygons (even-odd), clipped exactly at their edges.

    Lines of one spacing and angle fall in step wherever they are drawn, so that the parts of one
    piece agree. Stretches shorter than 0.05 mm are left out (no pen draws them).
    """
    angle = math.radians(degrees)
    cos, sin = math.cos(angle), math.sin(angle)
    turned = [[(x * cos + y * sin, y * cos - x * sin) for x, y in ring] for ring in rings]
    edges = [(a, b) for ring in turned for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)]
    lowest = min(y for ring in turned for _, y in ring)
    highest = max(y for ring in turned for _, y in ring)
    for step in range(math.ceil(lowest / spacing), math.floor(highest / spacing) + 1):
        level = step * spacing
        for start, end in _stretches(edges, level):
            if end - start > 0.05:
                ends = ((start * cos - level * sin, start * sin + level * cos) for start in (start, end))
                yield Ink(Stroke(tuple(Point(*p) for p in ends)), width, colour)


Edge = tuple[tuple[float, float], tuple[float, float]]


def _stretches(edges: Sequence[Edge], level: float) -> Iterator[tuple[float, float]]:
    """Where a level line runs inside; an edge counts with its lower end and without its upper one."""
    crossings = sorted(
        x0 + (level - y0) * (x1 - x0) / (y1 - y0) for (x0, y0), (x1, y1) in edges if (y0 <= level) != (y1 <= level)
    )
    return zip(crossings[::2], crossings[1::2], strict=True)


def clipped(start: Point, end: Point, room: Bounds) -> tuple[Point, Point] | None:
    """What of a straight line lies in a box (Liang and Barsky, ACM Trans. Graph. 3(1), 1984); None if nothing."""
    enter, leave = 0.0, 1.0
    run, rise = end.x - start.x, end.y - start.y
    for step, ahead, behind in (
        (run, room.right - start.x, room.left - start.x),
        (rise, room.top - start.y, room.bottom - start.y),
    ):
        if abs(step) < 1e-12:
            if ahead < 0 or behind > 0:
                return None
            continue
        first, last = sorted((behind / step, ahead / step))
        enter, leave = max(enter, first), min(leave, last)
    if enter >= leave:
        return None
    return (
        Point(start.x + enter * run, start.y + enter * rise),
        Point(start.x + leave * run, start.y + leave * rise),
    )
