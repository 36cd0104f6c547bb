"""Openings in rows on a plate, each with its value engraved above it; millimetres.

::

    ┌─────────────────────────────┐
    │   12.50   12.55   12.60     │   values rise from left to right,
    │     ╭╮      ╭╮      ╭╮      │   then row by row downwards
    │     ││      ││      ││      │
    │     ╰╯      ╰╯      ╰╯      │
    │   title                     │
    └─────────────────────────────┘
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle, slot
from jigtemplates.label import line_breaks, place_label
from jigtemplates.lettering import letter, missing_letters, text_box

#: Heights of capitals of the values, mm, the largest first (chosen: the smallest stays legible lasered in wood).
HEIGHTS = (4.0, 3.5, 3.0, 2.5)
#: From an opening up to its value, from the value up to the opening above, and between two values, mm (chosen: a value
#: must plainly belong to the opening below it).
NEAR, ABOVE, BESIDE = 1.5, 6.0, 4.5
#: Strip for the title at the plate's foot, mm, and the least width of a plate that holds one (chosen: two lines).
STRIP, NARROWEST = 15.0, 70.0
#: A plate no wider than this is preferred, mm: its picture goes on a page of A4 or Letter at true size.
PAGE = 190.0
#: What the sides of a plate are whole multiples of, mm; for values in inches 1/4 in (chosen: a rule shows it).
GRAIN = {False: 1.0, True: 6.35}
#: Largest plate where no sheet was named, mm (chosen: what small lasers and routers take).
SHEET = (600.0, 400.0)


@dataclass(frozen=True, slots=True)
class Cell:
    """Room of one opening: the opening below, its value above."""

    #: size of every opening, mm: across x and along y
    width: float
    length: float
    #: least wall between openings, mm
    wall: float
    #: the values, for the widest of which there must be room
    texts: tuple[str, ...]
    #: least distance to the edge of a plate of their own, mm; never less than the wall
    edge: float = 0.0
    #: the same to its left and right edges, where clamps go; 0: as to the others
    sides: float = 0.0
    #: what the sides of a plate of their own are whole multiples of, mm
    grain: float = 1.0

    @property
    def height(self) -> float:
        """Height of a value's capitals, mm: the largest that does not set the openings further apart."""
        room = self.width + self.wall - BESIDE
        return next((h for h in HEIGHTS if self._widest(h) <= room), HEIGHTS[-1])

    def _widest(self, height: float) -> float:
        return max(text_box(text, height).width for text in self.texts)

    @property
    def pitch(self) -> tuple[float, float]:
        """From one opening to the next along x and y, mm; whole tenths."""
        across = max(self.width + self.wall, self._widest(self.height) + BESIDE)
        return _up(across), _up(self.length + max(self.wall, NEAR + self.height + ABOVE))

    def block(self, columns: int, rows: int) -> tuple[float, float]:
        """Size of all cells together, from the edge of one opening to another and to the top of the values."""
        (dx, dy), above = self.pitch, NEAR + self.height
        wide = max(self.width, self._widest(self.height))
        return (columns - 1) * dx + wide, (rows - 1) * dy + self.length + above


def _up(mm: float) -> float:
    return math.ceil(mm * 10 - 1e-9) / 10


@dataclass(frozen=True, slots=True)
class Grid:
    """Cells in columns and rows, the first at the upper left."""

    cell: Cell
    columns: int
    rows: int
    #: lower-left corner of the block
    corner: Point

    def center(self, index: int) -> Point:
        """Middle of an opening."""
        row, column = divmod(index, self.columns)
        (dx, dy), (wide, _) = self.cell.pitch, self.cell.block(1, 1)
        x = self.corner.x + wide / 2 + column * dx
        return Point(x, self.corner.y + self.cell.length / 2 + (self.rows - 1 - row) * dy)

    def value(self, index: int) -> tuple[Stroke, ...]:
        """An opening's value, centred above it."""
        text, height, middle = self.cell.texts[index], self.cell.height, self.center(index)
        at = middle.x - text_box(text, height).center.x
        return letter(text, height, Point(at, middle.y + self.cell.length / 2 + NEAR))

    def values(self) -> tuple[Stroke, ...]:
        """All the values."""
        return tuple(stroke for index in range(len(self.cell.texts)) for stroke in self.value(index))

    def boxes(self) -> tuple[Bounds, ...]:
        """For each cell the box round opening and value."""
        half = self.cell.block(1, 1)[0] / 2
        below, above = self.cell.length / 2, self.cell.length / 2 + NEAR + self.cell.height
        middles = [self.center(index) for index in range(len(self.cell.texts))]
        return tuple(Bounds(x - half, y - below, x + half, y + above) for x, y in middles)


def arrangements(count: int) -> Iterator[tuple[int, int]]:
    """Columns and rows for so many openings, from one row to one column; rows as even as they can be."""
    seen: set[tuple[int, int]] = set()
    for rows in range(1, count + 1):
        columns = math.ceil(count / rows)
        way = (columns, math.ceil(count / columns))
        if way not in seen:
            seen.add(way)
            yield way


@dataclass(frozen=True, slots=True)
class OwnPlate:
    """A plate as large as its openings ask."""

    width: float
    height: float
    grid: Grid

    @property
    def title_middle(self) -> Point:
        """Middle of the strip for the title."""
        return Point(self.width / 2, STRIP / 2 + 0.5)


def own_plate(cell: Cell, sheet: tuple[float, float]) -> OwnPlate | None:
    """The plate of fewest rows that fits the sheet, one that fits a page before a wider one; None without any.

    With room for clamps the one whose longer side is shortest. `sheet` is width and height of what it is cut from.
    """
    plates = [_plate(cell, columns, rows) for columns, rows in arrangements(len(cell.texts))]
    fitting = [p for p in plates if p.width <= sheet[0] + 1e-9 and p.height <= sheet[1] + 1e-9]
    if cell.sides:
        return min(fitting, key=lambda plate: max(plate.width, plate.height), default=None)
    return next((p for p in fitting if p.width <= PAGE), fitting[0] if fitting else None)


def smallest_plate(cell: Cell) -> OwnPlate:
    """The plate of least area, whatever the sheet: to say how large one it would take."""
    plates = [_plate(cell, columns, rows) for columns, rows in arrangements(len(cell.texts))]
    return min(plates, key=lambda plate: plate.width * plate.height)


def _plate(cell: Cell, columns: int, rows: int) -> OwnPlate:
    (wide, high), edge = cell.block(columns, rows), max(cell.wall, cell.edge)
    width = _whole(max(NARROWEST, wide + 2 * max(edge, cell.sides)), cell.grain)
    foot = max(STRIP + cell.wall / 2, edge)
    height = _whole(foot + high + edge, cell.grain)
    corner = Point((width - wide) / 2, height - edge - high)
    return OwnPlate(width, height, Grid(cell, columns, rows, corner))


def _whole(mm: float, grain: float) -> float:
    return math.ceil(mm / grain - 1e-9) * grain


def plate_region(width: float, height: float, corner_radius: float = 0.0) -> Region:
    """A plate with its lower-left corner at (0, 0)."""
    return Region(rectangle(width, height, corner_radius).moved(width / 2, height / 2))


def upright_slot(length: float, width: float, middle: Point) -> Outline:
    """A slot with round ends that stands along y."""
    return slot(length, width).rotated(90).moved(middle.x, middle.y)


def titled(
    facts: Sequence[str], plate: Region, blocked: Sequence[Outline | Stroke], middle: Point | None
) -> tuple[Stroke, ...]:
    """What the plate says of itself, in the strip or wherever there is room; nothing where there is none.

    A fact with characters that cannot be engraved is left out.
    """
    breaks = [list(lines) for lines in reversed(line_breaks([fact for fact in facts if not missing_letters(fact)]))]
    placed = place_label(
        breaks[0], plate=plate, blocked=blocked, preferred=middle, others=breaks[1:], heights=HEIGHTS, margin=1.5
    )
    return placed.label.strokes if placed.label else ()
