"""The plan of a set-up sheet: plate, opening, bushing, cut, feed, screws, fence and stop from above, to scale."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from types import ModuleType

from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region, cos_sin
from jigtemplates.outside import is_outside
from jigtemplates.placing import cut_middle
from jigtemplates.processes.paper_page import BLACK, GREY, Text
from jigtemplates.processes.setup_dims import axis
from jigtemplates.processes.setup_draw import (
    BIT,
    BLUE,
    BRASS,
    CUT,
    DASHED,
    GREEN,
    MEDIUM,
    PLATE,
    PURPLE,
    SCALES,
    SMALL,
    THICK,
    THIN,
    TINY,
    VERMILLION,
    Picture,
    arrow_head,
    box,
    clipped,
    patch,
    scale_text,
)
from jigtemplates.processes.setup_ends import far_apart
from jigtemplates.processes.setup_first import at_first_place, is_repeated
from jigtemplates.processes.setup_plan_dims import dimensions, stop_lines, stop_words
from jigtemplates.processes.setup_plan_room import Turned, arcs_room, crowd, feed_arrows
from jigtemplates.processes.setup_ray import angle, hand, in_plate
from jigtemplates.processes.setup_stops import Stops, stops
from jigtemplates.report import Report
from jigtemplates.wanted import edge_of_work, is_lopsided

# Rooms on the page, mm (chosen).
CAPTION = 8.5
SIDE, FOOT = 12.0, 13.5  # dimensions on the left and below; free at the other sides
KEY = 3.9  # one line of the key below
#: Fence and stop go on beyond the plate this far, mm on the page; a plate alone has this much free around it.
OUT, ALONE = 4.0, 1.0


def view(report: Report) -> Bounds:
    """What the plan shows, in the plate's coordinates: the plate, and where fence and stop cross the centre lines."""
    plate, found = report.job.plate, stops(report)
    places = [Point(0.0, 0.0), Point(plate.width, plate.height)]
    if is_outside(report.job.cut):  # the bushing goes round the plate
        out = report.case.bushing
        places = [Point(-out, -out), Point(plate.width + out, plate.height + out)]
    if found.fence is not None:
        places.append(in_plate(report, 0.0, -found.fence.at))
    if found.end is not None:
        places.append(in_plate(report, -hand(report) * found.end.at, 0.0))
    xs, ys = zip(*places, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def margin(report: Report) -> float:
    """Free round the view, mm on the page."""
    return OUT if report.job.work or is_outside(report.job.cut) else ALONE


def key_of(report: Report, fenced: Report | None = None) -> list[tuple[str, str]]:
    """Colour and meaning of what the plan shows; `fenced` as in `Plan`."""
    outside = is_outside(report.job.cut)
    feed, made = ("feed: counter-clockwise", "work made") if outside else ("feed: clockwise", "cut made")
    rows = [(BRASS, "bushing, with the bit in it"), (GREEN, feed), (CUT, made)]
    if report.predicted is not None and report.predicted.unreachable_area > 0:
        rows.append((VERMILLION, "not reached: finish by hand"))
    if held := stops(fenced or report).shown:
        rows.append((PURPLE, f"{' and '.join(name for name, _ in held)} beneath"))
        rows.append((GREY, "dashed: work's other face"))
        if any(stop.is_far for _, stop in held):
            rows.append((PURPLE, "broken: further off than drawn"))
    elif edge_of_work(report.job.cut) is not None:
        rows.append((GREY, "dashed: the edge of the work"))
    return [*rows, *(_of_holder().rows(report) if _has_holder_lines(report) else ())]


def _has_holder_lines(report: Report) -> bool:
    return bool(report.job.plate.rebate) or report.job.plate.turn is not None


def _of_holder() -> ModuleType:
    """Read when it is needed: most plates are neither rebated nor turned."""
    from jigtemplates.processes import setup_plan_holder

    return setup_plan_holder


def plan_height(report: Report, scale: float, width: float = 0.0, fenced: Report | None = None) -> float:
    """Height the whole plan takes at a scale, in a cell of that width; `fenced` as in `Plan`."""
    key, held = max(map(len, _key_columns(key_of(report, fenced), width))), fenced or report
    return CAPTION + 2 * margin(held) + scale * view(held).height + FOOT + KEY * key


def plan_scale(report: Report, width: float, height: float, fenced: Report | None = None) -> float:
    """The largest scale at which the plan has room in a cell of that size; `fenced` as in `Plan`."""
    held = fenced or report
    wide, around = view(held).width, SIDE + 2 * margin(held)
    for scale in SCALES:
        if scale * wide + around <= width and plan_height(report, scale, width, fenced) <= height:
            return scale
    return SCALES[-1]


def plan(report: Report, cell: Bounds, scale: float, *, inches: bool, fenced: Report | None = None) -> Picture:
    """The plan in a cell of the page; `fenced` as in `Plan`."""
    return Plan(report, Picture(cell, scale), inches, fenced).drawn()


@dataclass
class Plan:
    """One plan while it is drawn."""

    report: Report
    picture: Picture
    inches: bool
    #: the report on another cut of the plate from whose centre lines fence and stop are told; None: on this one
    fenced: Report | None = None

    def __post_init__(self) -> None:
        cell, scale, shown = self.picture.cell, self.picture.scale, view(self.fenced or self.report)
        out = margin(self.fenced or self.report)
        spare = cell.width - SIDE - 2 * out - scale * shown.width
        left, top = cell.left + SIDE + out + spare / 2, cell.top - CAPTION - out
        self.dx = left - scale * shown.left
        self.dy = top - scale * shown.top
        self.room = Bounds(left - out, top - scale * shown.height - out, left + scale * shown.width + out, top + out)

    @property
    def stops(self) -> Stops:
        """Fence and end stop that are shown."""
        return stops(self.report)

    def at(self, place: Point) -> Point:
        """On the page, from the plate's coordinates."""
        return Point(self.dx + self.picture.scale * place.x, self.dy + self.picture.scale * place.y)

    def cut_at(self, along: float, aside: float) -> Point:
        """On the page, from the axes of the cut or of its group (real mm)."""
        return self.at(in_plate(self.report, along, aside))

    def first_at(self, along: float, aside: float) -> Point:
        """On the page, from the axes of the cut in its first place (real mm)."""
        return self.at(in_plate(self.first, along, aside))

    @cached_property
    def first(self) -> Report:
        """The report with the cut in its first place."""
        return at_first_place(self.report)

    @property
    def turned(self) -> Turned:
        """The page, seen along the cut in its first place."""
        return Turned(self.first_at(0.0, 0.0), angle(self.first))

    def shape(self, outline: Outline) -> Outline:
        """On the page, from the plate's coordinates."""
        return outline.scaled(self.picture.scale).moved(self.dx, self.dy)

    def drawn(self) -> Picture:
        """Everything, from the back to the front."""
        self._caption()
        if is_outside(self.report.job.cut):
            self._work_round_pattern()
        self._plate()
        if _has_holder_lines(self.report):
            _of_holder().draw(self.report, self.picture, self.shape)
        self._opening()
        held = self if self.fenced is None else Plan(self.fenced, self.picture, self.inches)  # in the same place
        held._work()
        self._bushings()
        self._not_reached()
        self._centre_lines()
        if held is not self:
            held._centre_lines()
        numbers = self._numbers()
        stop_lines(held)
        self._feed()
        self._key()
        dimensions(self)
        stop_words(held)
        for text in numbers:
            self.picture.area(patch(text, 0.2), PLATE)
        return self.picture

    def _caption(self) -> None:
        cell = self.picture.cell
        mirrored = " · MIRRORED" if self.report.job.make.mirrored else ""
        self.picture.text(Text("Plan, seen from above", cell.left, cell.top - 3.2, SMALL + 0.4, True))
        about = f"scale {scale_text(self.picture.scale)}{mirrored}"
        self.picture.text(Text(about, cell.left, cell.top - 7.0, TINY, colour=GREY))

    def _plate(self) -> None:
        template = self.report.template
        self.picture.outline(self.shape(template.plate.outer), THICK, fill=PLATE)
        for hole in template.holes:
            if hole.head:
                self.picture.outline(self.shape(hole.rim), THIN, fill="#FFFFFF")
        for hole in template.holes:
            self.picture.outline(self.shape(hole.outline), MEDIUM, fill="#FFFFFF")
        for hole in template.holes:
            middle, arm = self.at(hole.center), self.picture.scale * hole.rim.bounds.width / 2 + 0.8
            self.picture.line((middle.x - arm, middle.y), (middle.x + arm, middle.y), width=THIN, colour=GREY)
            self.picture.line((middle.x, middle.y - arm), (middle.x, middle.y + arm), width=THIN, colour=GREY)

    def _rings(self, regions: tuple[Region, ...], fill: str, width: float = 0.0, colour: str = BLACK) -> None:
        for region in regions:
            for ring in region.rings:
                self.picture.outline(self.shape(ring), width, colour, fill=fill)

    def _not_reached(self) -> None:
        """The edge that was asked for once more, over a bushing that may stand on a corner that is not reached."""
        template, predicted = self.report.template, self.report.predicted
        if predicted is None or predicted.unreachable_area <= 0 or is_outside(self.report.job.cut):
            return
        for region in template.placed(template.cut):
            for ring in region.rings:
                self.picture.outline(self.shape(ring), MEDIUM, VERMILLION)

    def _work_round_pattern(self) -> None:
        """The work that is left, and over it what the pattern hides of it."""
        template, predicted = self.report.template, self.report.predicted
        assert predicted is not None  # a job without a pattern is stopped
        self._rings(template.placed(predicted.outline), CUT, THIN, VERMILLION)

    def _opening(self) -> None:
        """The opening; through it the cut, over what was asked for, so that what is not reached shows beside it."""
        template, predicted = self.report.template, self.report.predicted
        self._rings(template.beside, "#FFFFFF", THIN)
        self._rings(template.opening, "#FFFFFF", THICK)
        if predicted is None or is_outside(self.report.job.cut):
            return
        if predicted.unreachable_area > 0:
            self._rings(template.placed(template.cut), VERMILLION)
        self._rings(template.placed(predicted.outline), CUT, THIN, VERMILLION)

    def _work(self) -> None:
        """Edges of the stock under the plate, as far as they are shown."""
        work, edge, far = self.report.job.work, edge_of_work(self.report.job.cut), 1e4
        if work is None:
            if edge is not None:
                self._hidden(self.cut_at(-far, -edge), self.cut_at(far, -edge))
            return
        low, high = -work.from_face, work.thickness - work.from_face
        start = -work.from_end if work.from_end is not None else None
        end = start + work.length if start is not None and work.length is not None else None
        left, right = start if start is not None else -far, end if end is not None else far
        edges = [(left, low, right, low), (left, high, right, high)]
        edges += [(x, low, x, high) for x in (start, end) if x is not None]
        way = hand(self.report)
        for x0, y0, x1, y1 in edges:
            self._hidden(self.cut_at(way * x0, y0), self.cut_at(way * x1, y1))

    def _hidden(self, a: Point, b: Point) -> None:
        """A line below the plate, as far as it is shown."""
        shown = clipped(a, b, self.room)
        if shown:
            self.picture.line(*shown, width=MEDIUM, colour=GREY, dash=DASHED)

    @cached_property
    def opening(self) -> Bounds:
        """Box round the openings of the cut, along and across it, real mm from the middle of the cut or its group."""
        template, middle = self.report.template, cut_middle(self.report.job)
        if not is_repeated(template):
            return self.one
        turned = (region.outer.rotated(-angle(self.report), middle) for region in template.opening)
        return _box_round([ring.moved(-middle.x, -middle.y).bounds for ring in turned])

    @cached_property
    def one(self) -> Bounds:
        """Box round one opening, along and across the cut, real mm from its middle."""
        return _box_round([region.bounds for region in self.report.template.opening_at_rest])

    def _centre_lines(self) -> None:
        box, over = self.opening, 3.0 / self.picture.scale
        axis(self.picture, self.cut_at(box.left - over, 0.0), self.cut_at(box.right + over, 0.0))
        axis(self.picture, self.cut_at(0.0, box.bottom - over), self.cut_at(0.0, box.top + over))

    def _numbers(self) -> tuple[Text, ...]:
        """The number of its cut beside each opening of several."""
        template = self.report.template
        if not template.numbers:
            return ()
        from jigtemplates.processes.setup_plan_numbers import number_texts

        areas = [self.shape(region.outer) for region in (*template.opening, *template.beside)]
        texts = tuple(number_texts([(one.number, self.at(one.box.center)) for one in template.numbers], areas))
        for text in texts:
            self.picture.text(text)
        return texts

    def _bushings(self) -> None:
        """The bushing with its bit at both ends of a slot, across a round, in opposite corners of a rectangle."""
        case, scale, job = self.report.case, self.picture.scale, self.report.job
        side = -1.0 if job.make.mirrored != job.cut.mirrored and is_lopsided(job.cut) else 1.0
        for along, aside in far_apart(self.report):
            middle = self.first_at(side * along, aside)
            self.picture.outline(Outline.circle(middle, scale * case.bushing / 2), MEDIUM, BLUE, fill=BRASS)
            self.picture.outline(Outline.circle(middle, scale * case.bit / 2), THIN, BLUE, fill=BIT)

    def _feed(self) -> None:
        """Two arrows round the opening, clockwise."""
        box, out = self.one, 2.4 / self.picture.scale
        if is_outside(self.report.job.cut):
            self._feed_round(box)
            return
        if self.report.job.cut.shape == "round":
            self._feed_arcs(box.right + out)
            return
        scale, turned = self.picture.scale, self.turned
        on_page = Bounds(*(scale * edge for edge in box))
        for a, b in feed_arrows(on_page, crowd(self.picture.inks, self.picture.texts, turned)):
            self._arrow(self.first_at(a.x / scale, a.y / scale), self.first_at(b.x / scale, b.y / scale))

    def _feed_round(self, box: Bounds) -> None:
        """Two arrows counter-clockwise, outside the bushing's path."""
        out = self.report.case.bushing + 2.4 / self.picture.scale
        reach, middle = 0.275 * box.width, box.center.x
        self._arrow(self.first_at(middle + reach, box.top + out), self.first_at(middle - reach, box.top + out))
        self._arrow(self.first_at(middle - reach, box.bottom - out), self.first_at(middle + reach, box.bottom - out))

    def _arrow(self, a: Point, b: Point) -> None:
        way = math.atan2(b.y - a.y, b.x - a.x)
        stop = Point(b.x - 1.5 * math.cos(way), b.y - 1.5 * math.sin(way))
        self.picture.line(a, stop, width=THICK, colour=GREEN)
        self.picture.outline(arrow_head(b, way), 0.0, GREEN, fill=GREEN)

    def _feed_arcs(self, radius: float) -> None:
        middle, r = self.first_at(0.0, 0.0), self.picture.scale * radius
        upright = Turned(Point(0.0, 0.0), 0.0)
        span, turn = arcs_room(middle, r, (150.0, 330.0), crowd(self.picture.inks, self.picture.texts, upright))
        for start in (150.0 + turn, 330.0 + turn):
            points = []
            for step in range(25):
                cos, sin = cos_sin(start - span * step / 24)
                points.append(Point(middle.x + r * cos, middle.y + r * sin))
            self.picture.line(*points[:-1], width=THICK, colour=GREEN)
            a, b = points[-3], points[-1]
            self.picture.outline(arrow_head(b, math.atan2(b.y - a.y, b.x - a.x)), 0.0, GREEN, fill=GREEN)

    def _key(self) -> None:
        rows, cell = key_of(self.report, self.fenced), self.picture.cell
        columns = _key_columns(rows, cell.width)
        wide = sum(_key_width(column) for column in columns)
        x = min(self.at(Point(0.0, 0.0)).x - 1.1, cell.right - wide)
        for column in columns:
            y = self.room.bottom - FOOT - 2.6
            for colour, words in column:
                self.picture.outline(box(x, y - 0.3, x + 4.0, y + 1.7), THIN, GREY, fill=colour)
                self.picture.text(Text(words, x + 5.4, y, TINY))
                y -= KEY
            x += _key_width(column)


Rows = list[tuple[str, str]]


def _key_columns(rows: Rows, width: float) -> list[Rows]:
    """The key in two columns where they have room beside each other, else in one."""
    half = -(-len(rows) // 2)
    two = [rows[:half], rows[half:]]
    return two if len(rows) > 3 and sum(map(_key_width, two)) <= width else [rows]


def _key_width(column: Rows) -> float:
    return max(text_width(words, TINY) for _, words in column) + 6.6


def _box_round(boxes: Sequence[Bounds]) -> Bounds:
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return Bounds(min(lefts), min(bottoms), max(rights), max(tops))
