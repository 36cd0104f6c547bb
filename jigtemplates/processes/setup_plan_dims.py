"""Datum, dimensions, fence and stop in the plan of a set-up sheet."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds, Outline, Point, cos_sin
from jigtemplates.lengths import first_text, inch_short
from jigtemplates.placing import cut_middle
from jigtemplates.processes.paper_page import BLACK, Text
from jigtemplates.processes.setup_dims import dimension_line, extension
from jigtemplates.processes.setup_draw import MEDIUM, PLATE, PURPLE, THICK, THIN, TINY, clipped, patch
from jigtemplates.processes.setup_plan_room import crowd
from jigtemplates.processes.setup_ray import angle, hand
from jigtemplates.processes.setup_stops import Stop

if TYPE_CHECKING:  # the plan calls this module
    from jigtemplates.processes.setup_plan import Plan

#: Length and width of the legs of the datum's angle, and its distance from the plate, mm on the page.
LEG, WIDE, OFF = 5.0, 1.1, 0.3
#: From a stop that is too far off to be shown, where its dimension line is interrupted, mm on the page.
BREAK = 3.6, 2.4
#: Words on the plate keep this far from its edge, mm on the page (chosen: half its line, and a little).
INSIDE = 0.4
#: How far words may be moved away from the cut to find room, and along it, mm on the page, the nearest places first.
AWAY = (0.0, 3.0, 6.0, 10.0)
SHIFTS = (0.0, *(side * step for step in range(2, 61, 2) for side in (1.0, -1.0)))


def dimensions(p: "Plan") -> None:
    """The datum corner, the plate's size, where the middle of the cut is."""
    _datum(p)
    _plate(p)


def stop_words(p: "Plan") -> None:
    """The words at fence and stop, where the dimensions leave room."""
    _fence_words(p)
    _end_words(p)


def stop_lines(p: "Plan") -> None:
    """Fence and end stop with their dimension lines, which arrows and words keep clear of."""
    _fence(p)
    _end_stop(p)


def _datum(p: "Plan") -> None:
    """The corner that is measured from: a filled angle outside it."""
    x, y = p.at(Point(0.0, 0.0))
    angle_mark = [(x - WIDE, y - WIDE), (x + LEG, y - WIDE), (x + LEG, y - OFF), (x - OFF, y - OFF)]
    p.picture.area(Outline.polygon([*angle_mark, (x - OFF, y + LEG), (x - WIDE, y + LEG)]), BLACK)
    p.picture.text(Text("datum corner", x - WIDE, p.room.bottom - 12.4, TINY, True))


def _plate(p: "Plan") -> None:
    plate, middle = p.report.job.plate, cut_middle(p.report.job)
    center, far = p.at(middle), p.at(Point(plate.width, plate.height))
    low, left = p.room.bottom, p.room.left
    corner = p.at(Point(0.0, 0.0))
    # the whole first: words of the part that stand beyond its end lie over the extension line of the whole
    _below(p, corner, (far.x, corner.y), low - 8.0, plate.width)
    _below(p, corner, (center.x, center.y), low - 3.5, middle.x)
    _beside(p, corner, (corner.x, far.y), left - 7.5, plate.height)
    _beside(p, corner, (center.x, center.y), left - 3.0, middle.y)


def _below(p: "Plan", corner: Point, end: tuple[float, float], y: float, size: float) -> None:
    extension(p.picture, Point(corner.x, corner.y - WIDE), Point(corner.x, y))
    extension(p.picture, Point(*end), Point(end[0], y))
    dimension_line(p.picture, Point(corner.x, y), Point(end[0], y))
    words, is_inside = _fit(p, size, end[0] - corner.x)
    x = (corner.x + end[0]) / 2 if is_inside else end[0] + 2.0
    p.picture.backed(Text(words, x, y - 0.36 * TINY, TINY, False, "middle" if is_inside else "start"))


def _beside(p: "Plan", corner: Point, end: tuple[float, float], x: float, size: float) -> None:
    extension(p.picture, Point(corner.x - WIDE, corner.y), Point(x, corner.y))
    extension(p.picture, Point(*end), Point(x, end[1]))
    dimension_line(p.picture, Point(x, corner.y), Point(x, end[1]))
    words, is_inside = _fit(p, size, end[1] - corner.y)
    y = (corner.y + end[1]) / 2 if is_inside else corner.y - 2.0
    p.picture.backed(Text(words, x + 0.36 * TINY, y, TINY, False, "middle" if is_inside else "end", 90))


def _fit(p: "Plan", size: float, room: float) -> tuple[str, bool]:
    """The size for a line of that length on the page, and whether it stands within: in inches alone if need be."""
    choices = _choices(p, size)
    for words in choices:
        if text_width(words, TINY) + 4.0 <= room:
            return words, True
    return choices[-1], False


def _choices(p: "Plan", size: float) -> list[str]:
    return [size_words(size, p.inches), *([inch_short(size)] if p.inches else [])]


def size_words(mm: float, inches: bool) -> str:
    """ "2 in (50.8 mm)" with inches, else "50.8 mm"."""
    return first_text(mm, inches)


def _fence(p: "Plan") -> None:
    """The fence and its distance from the long centre line."""
    fence, x = p.stops.fence, _fence_line(p)
    if fence is not None:
        _stop(p, p.cut_at(0.0, -fence.at), 0.0, -1.0)
        extension(p.picture, p.cut_at(x - hand(p.report) * 8.0 / p.picture.scale, 0.0), p.cut_at(x, 0.0))
        _distance(p, p.cut_at(x, 0.0), p.cut_at(x, -fence.at), fence)


def _fence_line(p: "Plan") -> float:
    """Where along the cut the fence's distance stands: at the end away from the stop."""
    way = hand(p.report)
    return (p.opening.right if way > 0 else p.opening.left) + way * 8.0 / p.picture.scale


def _fence_words(p: "Plan") -> None:
    """Its name and distance on its far side."""
    fence = p.stops.fence
    if fence is not None:
        middle = p.cut_at(_fence_line(p), -fence.at - 2.75 / p.picture.scale)
        _along(p, "fence", fence.distance, middle, -1.0)


def _end_stop(p: "Plan") -> None:
    """The end stop and its distance from the cross centre line."""
    end, y, way = p.stops.end, _end_line(p), hand(p.report)
    if end is not None:
        _stop(p, p.cut_at(-way * end.at, 0.0), 90.0, way)
        extension(p.picture, p.cut_at(0.0, p.opening.top), p.cut_at(0.0, y))
        _distance(p, p.cut_at(0.0, y), p.cut_at(-way * end.at, y), end)


def _end_line(p: "Plan") -> float:
    """Where across the cut the stop's distance stands."""
    return p.opening.top + 6.5 / p.picture.scale


def _end_words(p: "Plan") -> None:
    end = p.stops.end
    if end is not None:
        middle = p.cut_at(-hand(p.report) * end.at / 2, _end_line(p) + 2.6 / p.picture.scale)
        _along(p, "stop", end.distance, middle, 1.0)


def _distance(p: "Plan", center: Point, end: Point, stop: Stop) -> None:
    """The dimension line of a stop, broken near it where it stands further off than it is drawn."""
    dimension_line(p.picture, center, end, PURPLE)
    if not stop.is_far:
        return
    length = math.dist(center, end)
    ux, uy = (end.x - center.x) / length, (end.y - center.y) / length

    def at(along: float, aside: float) -> Point:
        return Point(end.x - along * ux - aside * uy, end.y - along * uy + aside * ux)

    sides = [(at(along + 0.5, 1.3), at(along - 0.5, -1.3)) for along in BREAK]
    p.picture.area(Outline.polygon([*sides[0], *reversed(sides[1])]), "#FFFFFF")
    for side in sides:
        p.picture.line(*side, width=MEDIUM, colour=PURPLE)


def _along(p: "Plan", name: str, size: float, middle: Point, side: float) -> None:
    """A name and size about a place, along the cut and the right way up, moved along it and then away from it (side).

    Where there is room: on the plate, there in inches alone if need be; beside it; then over a faint line; at last over
    the plate's edge. Left out where there is none: the sheet says them in words as well.
    """
    turned, plate = p.turned, p.report.job.plate
    (left, low), (right, high) = p.at(Point(0.0, 0.0)), p.at(Point(plate.width, plate.height))
    on_plate = Bounds(left + INSIDE, low + INSIDE, right - INSIDE, high - INSIDE)
    free = crowd(p.picture.inks, p.picture.texts, turned)
    choices = [f"{name} {words}" for words in _choices(p, size)]
    tried = [(faint, clear) for clear in (True, False) for faint in (True, False)]
    for faint, clear in tried:
        for room, fill in ((on_plate, PLATE), (p.picture.cell, "#FFFFFF")):
            for text in (text for words in choices for text in _moved(p, words, middle, side)):
                there = patch(text)
                if (
                    _is_in(there.bounds, room)
                    and not (clear and room is not on_plate and _meet(there.bounds, on_plate))
                    and free.is_free(turned.box_of(there), faint=faint)
                ):
                    p.picture.backed(text, fill)
                    return


def _moved(p: "Plan", words: str, middle: Point, side: float) -> Iterator[Text]:
    """The words in every place that is tried."""
    turn = (angle(p.report) + 90.0) % 180.0 - 90.0
    (cos, sin), up = cos_sin(turn), cos_sin(angle(p.report) + 90.0)
    for off in (side * step for step in AWAY):
        x = middle.x + 0.36 * TINY * sin + off * up[0]
        y = middle.y - 0.36 * TINY * cos + off * up[1]
        for by in SHIFTS:
            yield Text(words, x + by * cos, y + by * sin, TINY, True, "middle", turn)


def _is_in(box: Bounds, room: Bounds) -> bool:
    return room.left < box.left and box.right < room.right and room.bottom < box.bottom and box.top < room.top


def _meet(a: Bounds, b: Bounds) -> bool:
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top


def _stop(p: "Plan", through: Point, turn: float, side: float) -> None:
    """A line across the view with short strokes on the side away from the cut."""
    cos, sin = cos_sin(angle(p.report) + turn)
    far = 1e3
    ends = Point(through.x - far * cos, through.y - far * sin), Point(through.x + far * cos, through.y + far * sin)
    shown = clipped(*ends, p.room)
    if shown is None:
        return
    a, b = shown
    p.picture.line(a, b, width=THICK, colour=PURPLE)
    away = (-side * sin - cos) * 0.9, (side * cos - sin) * 0.9
    for i in range(1, int(math.dist(a, b) / 2.0) + 1):
        x, y = a.x + 2.0 * i * cos, a.y + 2.0 * i * sin
        p.picture.line((x, y), (x + away[0], y + away[1]), width=THIN, colour=PURPLE)
