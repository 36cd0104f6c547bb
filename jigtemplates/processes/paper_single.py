"""A pattern that fits one page: where the drawing and its notes go."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from jigtemplates.drawing import Drawing
from jigtemplates.geometry.outline import Bounds, Point
from jigtemplates.processes.paper_page import Ink, Window
from jigtemplates.processes.paper_sheet import GAP, LEAST_WINDOW, Sheet, window_below
from jigtemplates.processes.paper_text import Block

#: Kept free round the drawing, mm (chosen: pen, and the eye).
CLEAR = 1.5
#: Between the drawing's room and its notes, mm.
ASIDE = 6.0
#: A column of notes is no narrower and no wider than this, mm (chosen).
COLUMN = (38.0, 85.0)


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Where the drawing may go, and where the notes would."""

    room: Bounds
    block: Block
    #: upper-left corner of the notes
    corner: Point

    @property
    def notes(self) -> Block:
        """The notes in their place."""
        return self.block.placed(*self.corner)


def fits(drawing: Drawing, room: Bounds) -> bool:
    """Whether the drawing goes into the room at true size."""
    return drawing.width + 2 * CLEAR <= room.width and drawing.height + 2 * CLEAR <= room.height


def arrangements(sheet: Sheet, head: Block, drawing: Drawing, info: Callable[[float], Block]) -> Iterator[Arrangement]:
    """Notes below, below beside the upright bar with the drawing over the whole width, or on the right.

    info(width) gives the notes as a block of that width. The room may prove too small: ask `fits`.
    """
    window = window_below(sheet, head)
    block = info(window.width)
    yield _below(window, window.left, block, block.height)
    yield _below(window, sheet.area.left, block, max(block.height, LEAST_WINDOW))
    width = min(COLUMN[1], window.width - drawing.width - 2 * CLEAR - ASIDE)
    if width >= COLUMN[0] and (column := info(width)).height <= window.height:
        left = window.right - width
        yield Arrangement(window._replace(right=left - ASIDE), column, Point(left, window.top))


def _below(window: Bounds, left: float, block: Block, height: float) -> Arrangement:
    top = window.bottom + height
    return Arrangement(Bounds(left, top + GAP, window.right, window.top), block, Point(window.left, top))


def whole(drawing: Drawing, inks: tuple[Ink, ...], room: Bounds) -> Window:
    """The whole drawing in the middle of its room."""
    x = room.center.x - drawing.width / 2
    y = room.center.y - drawing.height / 2
    shown = Bounds(-CLEAR, -CLEAR, drawing.width + CLEAR, drawing.height + CLEAR)
    return Window(shown, Point(x, y), inks)
