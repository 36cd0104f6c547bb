"""The picture of a sheet: plates where they lie, with number, name and size where they have room; to scale."""

import math
from typing import TYPE_CHECKING

from jigtemplates.drawing import Role
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds, Outline
from jigtemplates.processes.paper_page import GREY, Text
from jigtemplates.processes.setup_draw import (
    DASHED,
    MEDIUM,
    PLATE,
    SMALL,
    THICK,
    THIN,
    TINY,
    VERMILLION,
    WORK,
    Picture,
    box,
    fitting,
    scale_text,
)
from jigtemplates.sheets.choice import Choice
from jigtemplates.sheets.drawing import placed_items
from jigtemplates.sheets.laying import Laid, LaidSheet, side_words, size_words

if TYPE_CHECKING:
    from jigtemplates.sheets.making import Drawn

#: Scales, paper over real (chosen: a rule reads them off).
SCALES = (1.0, *(1 / part for part in (2, 2.5, 3, 4, 5, 6, 7.5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100)))
#: Below the sheet for its width and the scale in two rows, and left of it for its height, mm.
CAPTION, SIDE = 8.2, 6.0
#: Lines of a plate that the picture shows; letters and marks would be dust at its scale.
_SHOWN = {Role.CUT_OUTSIDE, Role.CUT_INSIDE, Role.DRILL}
#: Em of a number on a plate too small for more, mm (chosen: read close by).
LEAST_NUMBER = 1.6
#: What the cross is, and how far words in one row are apart, mm.
ZERO, BESIDE = "red cross: zero of the files", 3.0
#: From words to an opening, mm.
OFF = 0.6
#: Places tried for words on each side of a plate's middle, across and up (chosen: finer than a line of words).
PLACES = 6
#: From one line of words to the next, mm.
_STEP = 1.25 * TINY


def scale_for(sheet: LaidSheet, room: Bounds) -> float:
    """The largest scale at which the sheet and its captions fit a room, mm."""
    width, height = sheet.stock.width.mm, sheet.stock.height.mm
    fitting = (s for s in SCALES if width * s + SIDE <= room.width and height * s + CAPTION <= room.height)
    return next(fitting, SCALES[-1])


def draw_sheet(one: "Drawn", choice: Choice, cell: Bounds, scale: float) -> Picture:
    """The sheet in the upper middle of its cell."""
    sheet, picture = one.sheet, Picture(cell, scale)
    width, height = sheet.stock.width.mm * scale, sheet.stock.height.mm * scale
    left = cell.left + SIDE + (cell.width - SIDE - width) / 2
    low = cell.top - height
    picture.outline(box(left, low, left + width, low + height), THICK, fill=WORK)
    margin = sheet.rules.margin * scale
    if margin:
        inner = box(left + margin, low + margin, left + width - margin, low + height - margin)
        picture.outline(inner, THIN, GREY, DASHED)
    for laid in sheet.plates:
        _plate(picture, sheet, laid, choice, (left, low))
    _zero(picture, left + one.drawn.zero.x * scale, low + one.drawn.zero.y * scale)
    _captions(picture, sheet, choice, (left, low, width, height))
    return picture


def _plate(picture: Picture, sheet: LaidSheet, laid: Laid, choice: Choice, corner: tuple[float, float]) -> None:
    """Its edge and its openings, then its words where they hide least of them."""
    scale, half = picture.scale, laid.plate.kerf / 2
    items = [item for item in placed_items(laid, laid.x - half, laid.y - half) if item.role in _SHOWN]
    hollow: list[Bounds] = []
    for item in reversed(items):  # the edge, which is worked last, lies below the rest
        if isinstance(item.shape, Outline):
            is_edge = item.role is Role.CUT_OUTSIDE
            shape = item.shape.turned(True).scaled(scale).moved(*corner)
            picture.outline(shape, MEDIUM if is_edge else THIN, fill=PLATE if is_edge else WORK)
            hollow += [] if is_edge else [shape.bounds]
    (wide, high), left, low = laid.size, corner[0] + laid.x * scale, corner[1] + laid.y * scale
    _words(picture, _lines(sheet, laid, choice), Bounds(left, low, left + wide * scale, low + high * scale), hollow)


def _lines(sheet: LaidSheet, laid: Laid, choice: Choice) -> tuple[str, ...]:
    """The plate's number in the list, its name, its size as it lies."""
    turned = ", turned" if laid.turned else ""
    number = str(sheet.group.plates.index(laid.plate) + 1)
    return number, laid.plate.name, f"{size_words(laid.size, choice)}{turned}"


def _words(picture: Picture, lines: tuple[str, ...], at: Bounds, hollow: list[Bounds]) -> None:
    """The number always; name and size as far as they fit between the plate's edges and clear of its openings."""
    number, *others = lines
    fitting_ones = [number, *(text for text in others if text_width(text, TINY) + 2.0 <= at.width)]
    most = max(1, int((at.height - 1.0) / _STEP))
    size = fitting(number, at.width - 0.4, SMALL, LEAST_NUMBER)
    shown, box = _clear_words(fitting_ones[:most], at, hollow)
    for place, text in enumerate(shown):
        base, is_number = box.top - (place + 0.8) * _STEP, place == 0
        picture.backed(Text(text, box.center.x, base, size if is_number else TINY, is_number, "middle"), PLATE)


def _clear_words(lines: list[str], at: Bounds, hollow: list[Bounds]) -> tuple[list[str], Bounds]:
    """As many of the lines as find a place off every opening and hole, and that place.

    Where none finds one, the number stands where it hides least.
    """
    kept_off = [Bounds(one.left - OFF, one.bottom - OFF, one.right + OFF, one.top + OFF) for one in hollow]
    for count in range(len(lines), 0, -1):
        boxes = _places(lines[:count], at)
        free = next((box for box in boxes if not any(_overlap(box, one) > 0.0 for one in kept_off)), None)
        if free is not None:
            return lines[:count], free
    boxes = _places(lines[:1], at)
    return lines[:1], min(boxes, key=lambda box: sum(_overlap(box, one) for one in hollow))


def _places(shown: list[str], at: Bounds) -> list[Bounds]:
    """Boxes for words within a plate, the nearest to its middle first."""
    number, *others = shown
    widths = (text_width(number, SMALL, bold=True), *(text_width(text, TINY) for text in others))
    width, height = max(widths) + 1.0, len(shown) * _STEP
    x, y = at.center
    across, up = (max(0.0, (room - size) / 2) for room, size in ((at.width - 0.6, width), (at.height - 1.6, height)))
    steps = [i / PLACES for i in range(-PLACES, PLACES + 1)]
    spots = sorted(((x + i * across, y + j * up) for i in steps for j in steps), key=lambda p: math.dist(p, (x, y)))
    return [Bounds(px - width / 2, py - height / 2, px + width / 2, py + height / 2) for px, py in spots]


def _overlap(a: Bounds, b: Bounds) -> float:
    """Area that two boxes have in common, mm²."""
    across = min(a.right, b.right) - max(a.left, b.left)
    up = min(a.top, b.top) - max(a.bottom, b.bottom)
    return max(across, 0.0) * max(up, 0.0)


def _zero(picture: Picture, x: float, y: float) -> None:
    """Where (0, 0) of the files lies."""
    picture.line((x - 2.0, y), (x + 4.0, y), width=MEDIUM, colour=VERMILLION)
    picture.line((x, y - 2.0), (x, y + 4.0), width=MEDIUM, colour=VERMILLION)


def _captions(picture: Picture, sheet: LaidSheet, choice: Choice, place: tuple[float, float, float, float]) -> None:
    """Width below, height at the left; what the cross is and the scale beside the width, or below it."""
    left, low, width, height = place
    base, middle = low - 3.6, left + width / 2
    side = f"{side_words(sheet.stock.width, choice)}{'' if sheet.rules.may_turn else ', grain →'}"
    picture.text(Text(side, middle, base, SMALL, anchor="middle"))
    picture.text(
        Text(side_words(sheet.stock.height, choice), left - 1.6, low + height / 2, SMALL, anchor="middle", angle=90)
    )
    words = f"picture {scale_text(picture.scale)}"
    cross, scale = text_width(ZERO, TINY), text_width(words, TINY)
    if text_width(side, SMALL) / 2 + max(cross, scale) + BESIDE > width / 2:
        base, half = base - 1.4 * TINY, max(width, cross + BESIDE + scale) / 2
        left, width = middle - half, 2 * half
    picture.text(Text(words, left + width, base, TINY, anchor="end", colour=GREY))
    picture.text(Text(ZERO, left, base, TINY, colour=VERMILLION))
