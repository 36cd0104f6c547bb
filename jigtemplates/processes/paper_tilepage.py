"""One tile on its page: the window, the edges to cut, the neighbours' names."""

from collections.abc import Iterator
from typing import Literal

from jigtemplates.geometry.outline import Bounds, Point
from jigtemplates.processes.paper_page import GREY, PALE, Ink, Text, Window, box_of, line
from jigtemplates.processes.paper_text import Block
from jigtemplates.processes.paper_tiles import Grid, Tile

#: Room outside a tile's edge for the neighbour's name, mm.
GUTTER = 4.0
NAME = 2.4  # em of the neighbour's name, mm
CUT = (3.0, 1.5)  # dashes of an edge to cut, mm
COVERED = (0.5, 1.0)  # dots of an edge a neighbour covers, mm


def tile_window(
    tile: Tile, room: Bounds, inks: tuple[Ink, ...], marks: tuple[tuple[Ink, ...], tuple[Text, ...]]
) -> Window:
    """The tile in the middle of its room, with the marks it shares with its neighbours."""
    shown = tile.shown
    origin = Point(room.center.x - shown.center.x, room.center.y - shown.center.y)
    near = tuple(i for i in inks if _meets(box_of(i.shape), shown))
    return Window(shown, origin, near + marks[0], marks[1])


def _meets(a: Bounds, b: Bounds) -> bool:
    return a.left <= b.right and a.right >= b.left and a.bottom <= b.top and a.top >= b.bottom


def edges_block(grid: Grid, tile: Tile, box: Bounds, pages: dict[str, int]) -> Block:
    """The tile's edges towards its neighbours, already in page coordinates.

    Tiles are laid in the order of their pages, so the upper and left edges are cut and cover the
    neighbour; the others are covered. pages gives the page number of each printed tile.
    """
    inks: list[Ink] = []
    texts: list[Text] = []
    for other, (start, end), at, angle, cut in _edges(grid, tile, box):
        if other.blank:
            words = f"{other.name} is left out: no line there"
        elif cut:
            words = f"cut here, lay over {other.name} (page {pages[other.name]})"
        else:
            words = f"{other.name} (page {pages[other.name]}) lies over this edge"
        if not other.blank:
            inks.append(line(start, end, 0.15, PALE, CUT if cut else COVERED))
        texts.append(Text(words, *at, NAME, anchor="middle", angle=angle, colour=GREY))
    return Block(0.0, tuple(texts), tuple(inks))


def _edges(
    grid: Grid, tile: Tile, b: Bounds
) -> Iterator[tuple[Tile, tuple[Point, Point], Point, Literal[0, 90], bool]]:
    """Each neighbour with the edge towards it, where its name stands, how that reads, and whether to cut."""
    middle = b.center
    corners = Point(b.left, b.bottom), Point(b.right, b.bottom), Point(b.right, b.top), Point(b.left, b.top)
    low_left, low_right, high_right, high_left = corners
    sides: tuple[tuple[int, int, tuple[Point, Point], Point, Literal[0, 90], bool], ...] = (
        (0, -1, (low_left, high_left), Point(b.left - 1.2, middle.y), 90, True),
        (-1, 0, (high_left, high_right), Point(middle.x, b.top + 1.2), 0, True),
        (0, 1, (low_right, high_right), Point(b.right + 1.2 + 0.75 * NAME, middle.y), 90, False),
        (1, 0, (low_left, low_right), Point(middle.x, b.bottom - 1.2 - 0.75 * NAME), 0, False),
    )
    for down, right, edge, at, angle, cut in sides:
        other = grid.places.get((tile.row + down, tile.column + right))
        if other:
            yield other, edge, at, angle, cut
