"""The first page of a tiled pattern: the assembly map, how to join the tiles, facts and cautions."""

from collections.abc import Callable, Iterator

from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.lengths import inch_decimals, rounded_text
from jigtemplates.processes.paper_page import GREY, PALE, Ink, Text, line, moved
from jigtemplates.processes.paper_text import Block, bullet, paragraph, stacked
from jigtemplates.processes.paper_tiles import Grid, Mark, Tile, stroke_box
from jigtemplates.processes.setup_draw import patch

#: The map is no larger than this, mm (chosen: nobody should take it for the pattern).
MAP_SIZE = 110.0
#: Least size at which tile names can still be read on it, mm (chosen).
MAP_LEAST = 45.0
#: Between two columns, and between two blocks of the cover, mm.
ASIDE = 8.0
APART = 5.0


def diagonal_text(length: float, *, inches: bool = False) -> str:
    """A length to 0.1 mm, and in inches to 0.01; with inches those first."""
    mm, inch = f"{rounded_text(length, 1)} mm", f"{inch_decimals(length, 2)} in"
    return f"{inch} ({mm})" if inches else f"{mm} ({inch})"


def joining(length: float | None, *, inches: bool = False) -> tuple[str, ...]:
    """How the tiles become one pattern, step by step; a single tile needs no joining."""
    first = "Print every page at 100 % (actual size), on one side. Measure the bars of every page."
    if length is None:
        return (first, "The pattern is whole on page 2.")
    return (
        first,
        "Cut each tile along the edges marked “cut here” and lay it over the tile named there, in the "
        "order of the pages, so that cross-hairs of the same number meet. Tape flat.",
        f"Check the long diagonal: the middle of P to the middle of Q is {diagonal_text(length, inches=inches)}.",
    )


def map_block(grid: Grid, inks: tuple[Ink, ...], ends: tuple[Mark, ...], width: float, height: float) -> Block:
    """The tiles in small, with their names; tiles left out are crossed."""
    size = 2.5
    caption = paragraph("Assembly map, not to scale", width, size, bold=True)
    box = grid.box
    scale = min(width / box.width, (height - caption.height - 2.0) / box.height, MAP_SIZE / max(box.width, box.height))
    x, y = -box.left * scale, -box.top * scale

    def at(p: Point) -> tuple[float, float]:
        return x + p.x * scale, y + p.y * scale

    drawn = [
        Ink(moved(ink.shape.scaled(scale), x, y), 0.15, ink.colour, ink.dash)
        for ink in inks
        if isinstance(ink.shape, Outline)
    ]
    texts: list[Text] = []
    for tile in grid.tiles:
        cell = _small(_cell(grid, tile), scale, x, y)
        named = list(_cell_texts(cell, tile))
        drawn += [*_cell_inks(cell, tile.blank), *(Ink(patch(text, 0.3), 0.0, fill="#FFFFFF") for text in named)]
        texts += named
    for mark in ends:
        mx, my = at(mark.at)
        name = Text(mark.name, mx + 1.6 * mark.side, my - 0.9, size, True, "start" if mark.side > 0 else "end")
        drawn.append(Ink(patch(name, 0.2), 0.0, fill="#FFFFFF"))
        drawn += [line((mx - 1, my), (mx + 1, my), 0.2), line((mx, my - 1), (mx, my + 1), 0.2)]
        texts.append(name)
    picture = Block(box.height * scale, tuple(texts), tuple(drawn))
    return stacked((caption, picture), 2.0)


def _small(b: Bounds, scale: float, x: float, y: float) -> Bounds:
    return Bounds(x + b.left * scale, y + b.bottom * scale, x + b.right * scale, y + b.top * scale)


def _cell(grid: Grid, tile: Tile) -> Bounds:
    """The tile up to the middle of its overlaps, so that the map's cells do not overlap."""

    def middle(row: int, column: int, own: float, edge: Callable[[Bounds], float]) -> float:
        other = grid.places.get((row, column))
        return (own + edge(other.shown)) / 2 if other else own

    b, row, column = tile.shown, tile.row, tile.column
    return Bounds(
        middle(row, column - 1, b.left, lambda o: o.right),
        middle(row + 1, column, b.bottom, lambda o: o.top),
        middle(row, column + 1, b.right, lambda o: o.left),
        middle(row - 1, column, b.top, lambda o: o.bottom),
    )


def _cell_inks(cell: Bounds, blank: bool) -> Iterator[Ink]:
    yield Ink(stroke_box(cell), 0.15, PALE)
    if blank:
        yield line((cell.left, cell.bottom), (cell.right, cell.top), 0.15, PALE)
        yield line((cell.left, cell.top), (cell.right, cell.bottom), 0.15, PALE)


def _cell_texts(cell: Bounds, tile: Tile) -> Iterator[Text]:
    size = min(6.0, cell.width / 3.5, cell.height / 3.0)
    middle = cell.center
    yield Text(tile.name, middle.x, middle.y - 0.36 * size, size, True, "middle", colour=GREY)
    if tile.blank:
        small = min(2.5, cell.width / 5.0)
        yield Text("left out", middle.x, middle.y - 0.36 * size - 1.4 * small, small, anchor="middle", colour=GREY)


def cover_blocks(
    room: Bounds,
    steps: tuple[str, ...],
    info: Callable[[float], Block],
    picture: Callable[[float, float], Block],
    size: float,
) -> tuple[Block, ...] | None:
    """Map and steps with the notes on their right, or below on a sheet standing up; None if too long."""
    beside = room.width > room.height
    width = (room.width - ASIDE) / 2 if beside else room.width
    how, notes = steps_block(steps, width, size), info(width)
    below = 0.0 if beside else notes.height + APART
    left_over = room.height - how.height - APART - below
    if left_over < MAP_LEAST or notes.height > room.height:
        return None
    first = stacked((picture(width, left_over), how), APART)
    corner = (room.left + width + ASIDE, room.top) if beside else (room.left, room.top - first.height - APART)
    return first.placed(room.left, room.top), notes.placed(*corner)


def steps_block(steps: tuple[str, ...], width: float, size: float) -> Block:
    """Numbered steps."""
    return stacked((bullet(s, width, size, f"{i}.") for i, s in enumerate(steps, 1)), 0.3 * size)
