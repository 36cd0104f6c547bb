"""The small plan of a plan page, with its numbered holes, and the sketch of a fence and its stops.

Block coordinates: origin in the upper-left corner, x right, y up and so negative; millimetres on the page.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import product

from jigtemplates.byhand import ByHand, DrillHole
from jigtemplates.byhand.fence import lettered
from jigtemplates.drawing import Stroke
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds, Outline, Point, cos_sin
from jigtemplates.geometry.shapes import slot
from jigtemplates.lengths import mm_text, rule_text
from jigtemplates.placing import cut_middle
from jigtemplates.processes.paper_drawing import touches
from jigtemplates.processes.paper_page import BLACK, GREY, Ink, Text, box_of
from jigtemplates.processes.paper_text import Block
from jigtemplates.processes.setup_draw import clipped
from jigtemplates.template import Template

#: Scales of the plan, paper over real: whole numbers, which a rule reads off (chosen).
SCALES = tuple(1 / n for n in (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 50, 100, 200))
#: Room round the plate for edges, axes and corner, mm: left and below, right and above.
WIDE_SIDE, NARROW_SIDE = 9.5, 5.5
#: The caption above the plan, mm.
CAPTION = 6.0
#: The caption's own width, mm.
LEAST_WIDTH = 58.0
#: An edge's name begins this far from the corner, so that the axis has room, and is at least so long, mm.
AXIS, LEAST_NAME = 11.0, 6.0
#: Letters, em in mm: 8.5 pt and 7.5 pt.
SMALL, TINY = 3.0, 2.65
#: Arms of a centre's cross beyond a screw hole, and at an end of the opening, mm.
ARM, CENTRE = 0.9, 1.3
#: Directions in which a hole's number is looked for, degrees, the best first; distances from the hole, mm.
AROUND = (45, 135, -45, -135, 90, 0, 180, -90)
AWAY = (0.9, 2.6, 4.6, 7.0, 10.0)
#: How finely outlines are followed to keep numbers off them, mm (chosen).
ROUGH = 0.05
#: Line widths, mm.
THICK, MEDIUM, THIN = 0.4, 0.25, 0.13
BLUE = "#0072B2"  # of the published palette of Okabe and Ito
#: The plate and the holes in it (chosen: pale enough for figures, and a grey printer tells them apart).
WOOD, NOTHING = "#FBE9C4", "#FFFFFF"


@dataclass
class Sketch:
    """Lines and texts while they are drawn, and the places that are taken."""

    inks: list[Ink] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    taken: list[Bounds] = field(default_factory=list)

    def line(self, *points: tuple[float, float], width: float = THIN, colour: str = BLACK) -> None:
        """An open line."""
        self.inks.append(Ink(Stroke(tuple(Point(*p) for p in points)), width, colour))

    def arrow(self, start: tuple[float, float], end: tuple[float, float], width: float = MEDIUM) -> None:
        """A level or upright line with a barbed end."""
        (x0, y0), (x1, y1) = start, end
        length = abs(x1 - x0) + abs(y1 - y0)
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        back, out = 1.7, 0.7
        self.line(start, end, width=width)
        tips = [(x1 - back * ux + side * out * uy, y1 - back * uy + side * out * ux) for side in (1, -1)]
        self.line(tips[0], end, tips[1], width=width)

    def text(self, string: str, x: float, y: float, anchor: str = "start", **look: object) -> None:
        """A line of small letters."""
        look = {"size": TINY, **look}
        self.texts.append(Text(string, x, y, anchor=anchor, **look))  # type: ignore[arg-type]

    def block(self, height: float) -> Block:
        """What was drawn."""
        return Block(height, tuple(self.texts), tuple(self.inks))


def scale_for(width: float, height: float, room: tuple[float, float]) -> float:
    """The largest scale at which a plate of that size (mm) and what stands round it have room."""
    beside = WIDE_SIDE + NARROW_SIDE
    for scale in SCALES:
        if scale * width + beside <= room[0] and scale * height + beside + CAPTION <= room[1]:
            return scale
    return SCALES[-1]


def scale_text(scale: float) -> str:
    """ "1 : 2" of 0.5."""
    return f"1 : {round(1 / scale)}"


def plan_block(by_hand: ByHand, room: tuple[float, float]) -> tuple[Block, float]:
    """The plan within a width and height, and the width it takes, mm."""
    plan, block = _drawn_plan(by_hand, scale_for(*_size(by_hand), room))
    return block, plan.width


def is_clearer(by_hand: ByHand, room: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether the other room, mm, has a larger plan in which more numbers stand clear of lines."""
    here, there = (scale_for(*_size(by_hand), size) for size in (room, other))
    return there > here and _drawn_plan(by_hand, here)[0].covering > _drawn_plan(by_hand, there)[0].covering


def _drawn_plan(by_hand: ByHand, scale: float) -> "tuple[_Plan, Block]":
    found = next((one for one in _LATELY if one[0].by_hand is by_hand and one[0].scale == scale), None)
    if found is None:
        plan = _Plan(by_hand, scale)
        found = plan, plan.drawn()
        _LATELY.append(found)
        del _LATELY[:-_MOST_LATELY]
    return found


#: The same plan is asked for by every paper of a job, and for larger and smaller letters beside it.
_LATELY: "list[tuple[_Plan, Block]]" = []
_MOST_LATELY = 4


def _size(by_hand: ByHand) -> tuple[float, float]:
    box = by_hand.template.plate.bounds
    return box.width, box.height


class _Plan:
    """One plan while it is drawn."""

    def __init__(self, by_hand: ByHand, scale: float) -> None:
        self.by_hand, self.scale, self.sketch = by_hand, scale, Sketch()
        width, height = _size(by_hand)
        self.plate = Bounds(WIDE_SIDE, 0.0, WIDE_SIDE + scale * width, 0.0)
        top = -CAPTION - NARROW_SIDE
        self.plate = Bounds(WIDE_SIDE, top - scale * height, WIDE_SIDE + scale * width, top)
        self.width = math.ceil(max(self.plate.right + NARROW_SIDE, LEAST_WIDTH))
        self.height = WIDE_SIDE - self.plate.bottom
        #: outlines followed, circles as middle and radius, and the lines of crosses as boxes: no number covers any
        self.outlines: list[tuple[Bounds, Stroke]] = []
        self.rounds: list[tuple[Point, float]] = []
        self.lines: list[Bounds] = []
        #: from a hole to its number where that is far away
        self.leaders: list[tuple[Point, Point]] = []
        #: numbers that cover a line or have no place at all
        self.covering = 0

    def at(self, x: float, y: float) -> tuple[float, float]:
        """In the block, from the datum corner."""
        return self.plate.left + self.scale * x, self.plate.bottom + self.scale * y

    def shape(self, outline: Outline) -> Outline:
        """In the block."""
        return outline.scaled(self.scale).moved(self.plate.left, self.plate.bottom)

    def drawn(self) -> Block:
        """Plate, opening and holes, what they are measured from, and their numbers."""
        self._caption()
        self._outlines()
        self._centres()
        self._edges()
        self._middle()
        self._datum()
        self._numbers()
        return self.sketch.block(self.height)

    def _caption(self) -> None:
        sketch = self.sketch
        title = f"Plan, {scale_text(self.scale)}"
        sketch.text(title, 0.0, -0.95 * 3.6, size=3.6, bold=True)
        sketch.text("seen from above", text_width(title, 3.6, bold=True) + 2.0, -0.95 * 3.6, colour=GREY)

    def _outlines(self) -> None:
        template = self.by_hand.template
        for shape, width, fill in (
            (template.plate.outer, THICK, WOOD),
            *((ring, THICK, NOTHING) for region in template.opening for ring in region.rings),
            *((hole.rim, THIN, NOTHING) for hole in template.holes if hole.head),
            *((hole.outline, MEDIUM, NOTHING) for hole in template.holes),
        ):
            placed = self.shape(shape)
            self.sketch.inks.append(Ink(placed, width, BLACK, (), fill))
            circle = placed.as_circle
            if circle is None:
                points = placed.flattened(ROUGH)
                stroke = Stroke(tuple(Point(*point) for point in (*points, points[0])))
                self.outlines.append((box_of(stroke), stroke))
            else:
                self.rounds.append((circle.center, circle.radius))

    def _centres(self) -> None:
        for hole in self.by_hand.drilling:
            x, y = self.at(hole.x, hole.y)
            arm = self.scale * (hole.countersink or hole.diameter) / 2 + ARM if hole.what == "screw hole" else CENTRE
            for dx, dy in ((arm, 0.0), (0.0, arm)):
                self.sketch.line((x - dx, y - dy), (x + dx, y + dy), colour=BLUE)
                self.lines.append(Bounds(x - dx, y - dy, x + dx, y + dy))

    def _edges(self) -> None:
        """Their names, as the fence's table has them, and the plate's size."""
        plate, sketch = self.plate, self.sketch
        width, height = (self._shown(side) for side in _size(self.by_hand))
        x, y = plate.center
        below = _fitting((f"lower edge, {width}", "lower"), plate.width - 2 * AXIS)
        beside = _fitting((f"left edge, {height}", "left"), plate.height - 2 * AXIS)
        sketch.text(below, max(x, plate.left + AXIS), plate.bottom - 5.2, _anchor(below, plate.width), colour=GREY)
        if plate.height >= AXIS + LEAST_NAME:
            up = max(y, plate.bottom + AXIS)
            sketch.text(beside, plate.left - 3.0, up, _anchor(beside, plate.height), colour=GREY, angle=90)
        above = _fitting(("upper edge", "upper"), plate.width)
        opposite = _fitting(("right edge", "right"), plate.height)
        sketch.text(above, x, plate.top + 1.6, "middle", colour=GREY)
        sketch.text(opposite, plate.right + 3.6, y, "middle", colour=GREY, angle=90)

    def _shown(self, mm: float) -> str:
        return f"{rule_text(mm)} in" if self.by_hand.inches else mm_text(mm)

    def _middle(self) -> None:
        """Of a round pattern its middle, and the radius that a trammel is set to."""
        circle = self.by_hand.round_pattern
        if circle is None:
            return
        x, y = self.at(*circle.center)
        for dx, dy in ((2.5, 0.0), (0.0, 2.5)):
            self.sketch.line((x - dx, y - dy), (x + dx, y + dy), colour=BLUE)
            self.lines.append(Bounds(x - dx, y - dy, x + dx, y + dy))
        words = f"r {self._shown(circle.radius)}"
        width, height = text_width(words, TINY), 0.74 * TINY
        for left, bottom in product((x + 1.2, x - 1.2 - width), (y - 1.2 - height, y + 1.2)):
            box = Bounds(left, bottom, left + width, bottom + height)
            if width + 2.0 <= self.scale * circle.radius and self._is_clear(box):
                self.sketch.text(words, left, bottom)
                self.sketch.taken.append(box)
                return

    def _datum(self) -> None:
        """A bold angle outside the corner that is measured from, with the two axes; none where nothing is."""
        if self.by_hand.round_pattern and not self.by_hand.drilling:
            return
        x, y = self.plate.left, self.plate.bottom
        sketch = self.sketch
        sketch.line((x + 4.0, y - 0.7), (x - 0.7, y - 0.7), (x - 0.7, y + 4.0), width=0.9)
        sketch.arrow((x - 0.7, y - 3.2), (x + 7.0, y - 3.2))
        sketch.arrow((x - 3.2, y - 0.7), (x - 3.2, y + 7.0))
        sketch.text("x", x + 7.8, y - 3.9, bold=True)
        sketch.text("y", x - 3.2, y + 7.8, "middle", bold=True)
        sketch.text("datum", x - 9.5, y - 7.2, bold=True)

    def _numbers(self) -> None:
        """Each hole's number where it covers no line and no other number, with a leader where that is far away."""
        named = [self._lettered(letter, one) for letter, one in lettered(self.by_hand.template)]
        lacking = [hole for hole in self.by_hand.drilling if not self._numbered(hole)]
        self.covering += len(lacking)
        if lacking or not all(named):
            names = " and letters" if not all(named) else ""
            count = len(lacking) + named.count(False)
            self.sketch.text(f"no room for {count} of the numbers{names}", 0.0, -CAPTION - 0.2, colour=GREY)

    def _lettered(self, letter: str, opening: Template) -> bool:
        """An opening's letter in its middle, else as near as it covers nothing; False where there is no such place."""
        x, y = self.at(*cut_middle(opening.job))
        width, height = text_width(letter, SMALL, bold=True), 0.74 * SMALL
        middle = Bounds(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
        around = (self._place(x, y, far, way, width) for far, way in product(AWAY, AROUND))
        box = next((box for box in (middle, *around) if self._is_left(box) and self._is_clear(box)), None)
        if box is None:
            return False
        self.sketch.taken.append(box)
        self.sketch.text(letter, box.left, box.bottom + 0.02 * SMALL, size=SMALL, bold=True, colour=BLUE)
        return True

    def _numbered(self, hole: DrillHole) -> bool:
        """False where no place in the plate is left; before that lines may be covered."""
        x, y = self.at(hole.x, hole.y)
        screw = hole.what == "screw hole"
        radius = self.scale * (hole.countersink or hole.diameter) / 2 if screw else CENTRE * 0.7
        width = text_width(str(hole.number), SMALL, bold=True)
        found: tuple[int, float, Bounds] | None = None
        for far, way in product(AWAY, AROUND):
            box = self._place(x, y, radius + far, way, width)
            if self._is_left(box):
                fault = self._fault(Point(x, y), far, box)
                found = found if found and found[0] <= fault else (fault, far, box)
                if not fault:
                    break
        if found is None:
            return False
        fault, far, box = found
        self.covering += bool(fault)
        self.sketch.taken.append(box)
        self.sketch.text(str(hole.number), box.left, box.bottom + 0.02 * SMALL, size=SMALL, bold=True)
        if far > AWAY[0]:
            self.leaders.append((Point(x, y), _nearest(x, y, box)))
            self.sketch.line(*self.leaders[-1], colour=BLUE)
        return True

    def _place(self, x: float, y: float, off: float, way: int, width: float) -> Bounds:
        """The box of a number whose nearest side or corner is that far from a point."""
        cos, sin = cos_sin(way)
        height = 0.74 * SMALL
        middle_x, middle_y = x + off * cos, y + off * sin
        left = middle_x - width * (1 - _sign(cos)) / 2
        bottom = middle_y - height * (1 - _sign(sin)) / 2
        return Bounds(left, bottom, left + width, bottom + height)

    def _is_left(self, box: Bounds) -> bool:
        """Whether a box lies in the plate, off all numbers."""
        p = self.plate
        inside = box.left >= p.left and box.right <= p.right and box.bottom >= p.bottom and box.top <= p.top
        return inside and all(_apart(box, other, 0.7) for other in self.sketch.taken)

    def _is_clear(self, box: Bounds) -> bool:
        """Whether no line runs through a box or close by."""
        near = 0.3
        wide = Bounds(box.left - near, box.bottom - near, box.right + near, box.top + near)
        free = all(_apart(box, other, near) for other in self.lines)
        free = free and not any(_on_circle(box, middle, radius, near) for middle, radius in self.rounds)
        free = free and not any(clipped(a, b, wide) for a, b in self.leaders)
        return free and not any(touches(line, wide) for around, line in self.outlines if _meet(around, wide))

    def _fault(self, hole: Point, far: float, box: Bounds) -> int:
        """0 for a number that stands clear; 1 where its leader runs through another; 2 where it covers a line."""
        if not self._is_clear(box):
            return 2
        leader = hole, _nearest(*hole, box)
        return int(far > AWAY[0] and any(clipped(*leader, other) for other in self.sketch.taken))


def _nearest(x: float, y: float, box: Bounds) -> Point:
    """The place of a box that is nearest to another."""
    return Point(min(max(x, box.left), box.right), min(max(y, box.bottom), box.top))


def _sign(number: float) -> float:
    """-1, 0 or 1; 0 for what is nearly 0."""
    return 0.0 if abs(number) < 1e-6 else 1.0 if number > 0 else -1.0


def _fitting(names: Sequence[str], room: float) -> str:
    """The first of the names that has room; else the last."""
    return next((name for name in names if text_width(name, TINY) <= room), names[-1])


def _anchor(text: str, side: float) -> str:
    """In the middle of a side that has room for it beside the axis, else from its place on."""
    return "middle" if text_width(text, TINY) <= side - 2 * AXIS else "start"


def _meet(a: Bounds, b: Bounds) -> bool:
    return a.left <= b.right and b.left <= a.right and a.bottom <= b.top and b.bottom <= a.top


def _apart(a: Bounds, b: Bounds, near: float) -> bool:
    beside = a.right + near <= b.left or b.right + near <= a.left
    return beside or a.top + near <= b.bottom or b.top + near <= a.bottom


def _on_circle(box: Bounds, middle: Point, radius: float, near: float) -> bool:
    """Whether a circle's line runs through a box or close by."""
    nearest = math.hypot(
        max(box.left - middle.x, middle.x - box.right, 0.0), max(box.bottom - middle.y, middle.y - box.top, 0.0)
    )
    furthest = math.hypot(
        max(middle.x - box.left, box.right - middle.x), max(middle.y - box.bottom, box.top - middle.y)
    )
    return nearest < radius + near and furthest > radius - near


def fence_block(width: float) -> Block:
    """How fence and stops are measured, as one sees the table from the front; not to scale."""
    sketch, top = Sketch(), -CAPTION - 3.4
    sketch.text("Fence and stops", 0.0, -0.95 * 3.6, size=3.6, bold=True)
    after = text_width("Fence and stops", 3.6, bold=True) + 2.0
    how = _fitting(("seen from the front, not to scale", "not to scale"), width - after)
    sketch.text(how, after, -0.95 * 3.6, colour=GREY)
    left, right = 0.0, min(width, 76.0)
    sketch.line((left, top), (right, top), width=0.7)
    for step in range(int((right - left) / 2.6)):
        x = left + 2.6 * step
        sketch.line((x + 0.4, top + 0.6), (x + 2.2, top + 2.4), colour=GREY)
    middle, bit, radius = (left + right) / 2, top - 10.0, 2.0
    plate = Outline.polygon(
        [(middle - 21, top - 18), (middle + 21, top - 18), (middle + 21, top - 0.6), (middle - 21, top - 0.6)]
    )
    sketch.inks.append(Ink(plate, MEDIUM, BLACK, (), WOOD))
    opening = slot(26.0, 6.0).moved(middle, bit)
    sketch.inks.append(Ink(opening, THIN, GREY, (1.2, 0.7)))
    sketch.inks.append(Ink(Outline.circle(Point(middle, bit + 1.0), radius), THICK, BLUE))
    _stops(sketch, left, right, top)
    _measures(sketch, (left + 5.0, right - 5.0), middle, (top, bit + 1.0), radius)
    return sketch.block(-top + 25.2)


def _stops(sketch: Sketch, left: float, right: float, top: float) -> None:
    for a, b in ((left + 1.0, left + 5.0), (right - 5.0, right - 1.0)):
        box = Outline.polygon([(a, top - 9.0), (b, top - 9.0), (b, top - 0.6), (a, top - 0.6)])
        sketch.inks.append(Ink(box, THICK))


def _measures(
    sketch: Sketch, ends: tuple[float, float], middle: float, levels: tuple[float, float], radius: float
) -> None:
    """Three distances: fence to bit, bit's left side to the left stop, its right side to the right stop."""
    top, bit = levels
    low = top - 21.0
    for stop, side, name in ((ends[0], middle - radius, "stop left"), (ends[1], middle + radius, "stop right")):
        sketch.line((stop, top - 9.6), (stop, low - 0.8), colour=GREY)
        sketch.line((side, bit), (side, low - 0.8), colour=GREY)
        _both_ways(sketch, (stop, low), (side, low))
        sketch.text(name, (stop + side) / 2, low - 3.4, "middle", bold=True)
    _both_ways(sketch, (middle, top - 0.4), (middle, bit + radius))
    sketch.text("fence to bit", middle + 1.4, top - 4.2, bold=True)


def _both_ways(sketch: Sketch, a: tuple[float, float], b: tuple[float, float]) -> None:
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    sketch.arrow(middle, a, THIN)
    sketch.arrow(middle, b, THIN)
