"""A sheet becomes a drawing: every plate's lines in their place, in one order of work for the whole sheet.

Marks and engraving first, then sunk places and holes, then every opening, and only then the edges of the plates: no
plate comes loose before its inside is done.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from jigtemplates.drawing import Drawing, Item, Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.processes.layout import drawing_of
from jigtemplates.sheets.laying import Laid, LaidSheet


@dataclass(frozen=True)
class SheetDrawing:
    """The lines of a sheet, and where they lie on it."""

    drawing: Drawing
    #: where the drawing's (0, 0) is on the sheet, from the sheet's lower-left corner, mm
    zero: Point

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the drawing, mm."""
        return self.drawing.width, self.drawing.height


def sheet_drawing(sheet: LaidSheet) -> SheetDrawing:
    """The drawing of a sheet; it is as large as its plates reach, its lower-left corner at (0, 0) as in every file."""
    boxes = [_beam_box(laid) for laid in sheet.plates]
    left, low = min(box.left for box in boxes), min(box.bottom for box in boxes)
    right, top = max(box.right for box in boxes), max(box.top for box in boxes)
    items = (
        item
        for laid, box in zip(sheet.plates, boxes, strict=True)
        for item in placed_items(laid, box.left - left, box.bottom - low)
    )
    return SheetDrawing(drawing_of(items, right - left, top - low), Point(left, low))


def _beam_box(laid: Laid) -> Bounds:
    """The box round a plate's lines on the sheet: with a kerf they run half of it outside the plate."""
    half, (width, height) = laid.plate.kerf / 2, laid.size
    return Bounds(laid.x - half, laid.y - half, laid.x + width + half, laid.y + height + half)


def placed_items(laid: Laid, x: float, y: float) -> Iterator[Item]:
    """A plate's lines, turned as it lies, with the lower-left corner of its drawing at (x, y), mm."""
    drawing = laid.plate.drawing
    for item in drawing.items:
        yield Item(item.role, _placed(item.shape, drawing.height if laid.turned else None, x, y))


def _placed(shape: Outline | Stroke, turned_height: float | None, x: float, y: float) -> Outline | Stroke:
    """Moved; where a height is given, first turned by a quarter to the left, to the right of (0, 0) again."""
    if isinstance(shape, Outline):
        return shape.moved(x, y) if turned_height is None else shape.rotated(90).moved(turned_height + x, y)
    if turned_height is None:
        return Stroke(tuple(Point(p.x + x, p.y + y) for p in shape.points))
    return Stroke(tuple(Point(turned_height - p.y + x, p.x + y) for p in shape.points))
