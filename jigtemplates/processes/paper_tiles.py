"""A drawing larger than a page, in overlapping tiles.

Rows are lettered from the top, columns numbered from the left.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, count

from jigtemplates.byhand.table import letters
from jigtemplates.drawing import Drawing, Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.processes.paper_drawing import distance, touches
from jigtemplates.processes.paper_page import Ink, Text, box_of, line

#: Shown round the drawing, mm (chosen: room for the ends of the long diagonal).
PAD = 7.0
#: Arm of a cross-hair, mm: within half of the least overlap.
ARM = 4.5
#: Distance wanted between a cross-hair and every line of the drawing, mm (chosen).
APART = 7.0
#: End of the long diagonal inside its tile's corner, mm.
INSET = 3.5


@dataclass(frozen=True, slots=True)
class Tile:
    """One page's part of the drawing."""

    name: str
    row: int
    column: int
    #: in the drawing's coordinates, overlaps included
    shown: Bounds
    #: no line of the drawing passes: the tile is left out
    blank: bool


@dataclass(frozen=True, slots=True)
class Mark:
    """A named place on the drawing, printed on every tile that shows it."""

    name: str
    at: Point
    #: which way its name stands from it
    side: int = 1


@dataclass(frozen=True)
class Grid:
    """All tiles, row by row from the top."""

    tiles: tuple[Tile, ...]

    @cached_property
    def printed(self) -> tuple[Tile, ...]:
        """The tiles that become pages, in their order."""
        return tuple(t for t in self.tiles if not t.blank)

    @cached_property
    def places(self) -> dict[tuple[int, int], Tile]:
        """Tiles by row and column."""
        return {(t.row, t.column): t for t in self.tiles}

    @property
    def box(self) -> Bounds:
        """All that the tiles show."""
        first, last = self.tiles[0].shown, self.tiles[-1].shown
        return Bounds(first.left, last.bottom, last.right, first.top)


def needed(total: float, window: float, overlap: float) -> int:
    """How many windows of one length, overlapping, cover a total length."""
    return 1 if total <= window else math.ceil((total - overlap) / (window - overlap) - 1e-9)


def make_grid(drawing: Drawing, counts: tuple[int, int], overlap: float, pad: float = PAD) -> Grid:
    """Equal tiles, columns by rows, that cover the drawing and pad round it, each overlapping the next."""
    columns, rows = counts
    width = (drawing.width + 2 * pad + (columns - 1) * overlap) / columns
    height = (drawing.height + 2 * pad + (rows - 1) * overlap) / rows
    shapes = [item.shape for item in drawing.items]
    tiles = []
    for row in range(rows):
        for column in range(columns):
            left = column * (width - overlap) - pad
            top = drawing.height + pad - row * (height - overlap)
            shown = Bounds(left, top - height, left + width, top)
            blank = not any(touches(shape, shown) for shape in shapes)
            tiles.append(Tile(f"{letters(row)}{column + 1}", row, column, shown, blank))
    return Grid(tuple(tiles))


def seams(grid: Grid) -> Iterator[tuple[Tile, Tile]]:
    """Pairs of printed neighbours: right of each tile, then below it."""
    for tile in grid.printed:
        for row, column in ((tile.row, tile.column + 1), (tile.row + 1, tile.column)):
            other = grid.places.get((row, column))
            if other and not other.blank:
                yield tile, other


def cross_hairs(grid: Grid, inks: tuple[Ink, ...]) -> list[Mark]:
    """Two on each seam, near its ends, moved along it to where the drawing's full lines leave them room."""
    lines = _boxed(i for i in inks if not i.dash)
    numbers = count(1)
    marks = []
    for a, b in seams(grid):
        for fraction in (0.2, 0.8):
            places = list(_along(a.shown, b.shown, fraction))
            clear = next((p for p in places if _clearance(p, lines) >= APART), None)
            at = clear or max(places, key=lambda p: _clearance(p, lines))
            marks.append(Mark(str(next(numbers)), at))
    return marks


def _along(a: Bounds, b: Bounds, fraction: float) -> Iterator[Point]:
    """Places on the middle line of the overlap of two neighbours, nearest to the wanted one first."""
    left, right = max(a.left, b.left), min(a.right, b.right)
    bottom, top = max(a.bottom, b.bottom), min(a.top, b.top)
    level = right - left > top - bottom
    for step in (0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6):
        shift = 4.0 * step
        if level:
            yield Point(left + fraction * (right - left) + shift, (bottom + top) / 2)
        else:
            yield Point((left + right) / 2, bottom + fraction * (top - bottom) + shift)


def _boxed(inks: Iterable[Ink]) -> list[tuple[Bounds, Outline | Stroke]]:
    return [(box_of(i.shape), i.shape) for i in inks]


def _clearance(point: Point, lines: list[tuple[Bounds, Outline | Stroke]]) -> float:
    """Distance to the nearest line of the drawing, or APART where that is more."""
    found = APART
    x, y = point
    for b, shape in lines:
        if b.left - APART < x < b.right + APART and b.bottom - APART < y < b.top + APART:
            found = min(found, distance(point, shape))
    return found


def diagonal(grid: Grid, inks: tuple[Ink, ...]) -> tuple[Mark, Mark]:
    """P and Q: the two corners of printed tiles furthest apart that stand clear of the drawing's lines."""
    corners = list(dict.fromkeys(c for tile in grid.printed for c in _corners(tile.shown)))
    lines = _boxed(inks)
    clear = [c for c in corners if _clearance(c, lines) >= INSET - 1e-9]
    choice = clear if len(clear) > 1 else corners
    p, q = max(combinations(choice, 2), key=lambda pair: round(math.dist(*pair), 6))
    side = 1 if p.x <= q.x else -1
    return Mark("P", p, side), Mark("Q", q, -side)


def _corners(box: Bounds) -> tuple[Point, ...]:
    left, right = box.left + INSET, box.right - INSET
    bottom, top = box.bottom + INSET, box.top - INSET
    return Point(left, bottom), Point(right, bottom), Point(left, top), Point(right, top)


def shows(box: Bounds, mark: Mark) -> bool:
    """Whether a mark lies in the box with its arms."""
    reach = INSET - 0.4
    x, y = mark.at
    return box.left + reach <= x <= box.right - reach and box.bottom + reach <= y <= box.top - reach


def cross_hair_inks(mark: Mark) -> tuple[tuple[Ink, ...], tuple[Text, ...]]:
    """A cross through a diamond, which nothing of the drawing looks like, and its number."""
    x, y = mark.at
    diamond = Outline.polygon([(x + 2.2, y), (x, y + 2.2), (x - 2.2, y), (x, y - 2.2)])
    inks = (*_cross(x, y, ARM), Ink(diamond, 0.15))
    return inks, (Text(mark.name, x + 1.6, y + 1.8, 2.6, bold=True),)


def diagonal_inks(mark: Mark) -> tuple[tuple[Ink, ...], tuple[Text, ...]]:
    """A cross through a square, and its letter."""
    x, y = mark.at
    square = Outline.polygon([(x - 1.4, y - 1.4), (x + 1.4, y - 1.4), (x + 1.4, y + 1.4), (x - 1.4, y + 1.4)])
    name = Text(mark.name, x + 4.0 * mark.side, y - 1.3, 3.6, True, "start" if mark.side > 0 else "end")
    return (*_cross(x, y, INSET - 0.5), Ink(square, 0.15)), (name,)


def _cross(x: float, y: float, arm: float) -> tuple[Ink, Ink]:
    return line((x - arm, y), (x + arm, y), 0.15), line((x, y - arm), (x, y + arm), 0.15)


def marks_on(shown: Bounds, hairs: list[Mark], ends: tuple[Mark, ...]) -> tuple[tuple[Ink, ...], tuple[Text, ...]]:
    """Every mark in a window, drawn."""
    drawn = [cross_hair_inks(m) for m in hairs if shows(shown, m)]
    drawn += [diagonal_inks(m) for m in ends if shows(shown, m)]
    return tuple(i for d in drawn for i in d[0]), tuple(t for d in drawn for t in d[1])


def stroke_box(box: Bounds) -> Stroke:
    """The box's border as one stroke."""
    left, low, right, high = box
    corners = (left, low), (right, low), (right, high), (left, high), (left, low)
    return Stroke(tuple(Point(*corner) for corner in corners))
