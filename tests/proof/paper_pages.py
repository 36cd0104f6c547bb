"""What is drawn on the pages of a paper pattern, from their picture alone; millimetres.

pdfium draws the pages; the black lines are followed on the picture where they are half black (marching squares, exact
to a hundredth of a millimetre), tiles are put together by their cross-hairs as a person does, and what a line encloses
within the plate is an opening or a hole.
"""

import re
from collections.abc import Iterator
from itertools import combinations
from typing import Any, NamedTuple

import numpy as np
import pypdfium2
import shapely
from other_programs import by_clipper

#: Points of the picture to a millimetre.
FINE = 10
#: Width of the plate's and the opening's line on paper, mm (profiles/processes.toml).
STROKE = 0.25
#: Gaps of up to twice this are closed where black lines cross an opening (centres, cross-hairs), mm; those are much
#: narrower, but the corners beside them are blunt on the picture.
CROSSING = 2.0
#: White specks of less than this are left out, mm²; openings and what lines leave of them are larger.
SPECK = 0.02
#: A cross-hair is a cross in a diamond: legs and area of each of the four triangles left white between their lines.
LEG, TRIANGLE = 1.88, 1.87
#: How much of a tile is kept beyond its cross-hairs, so that lines meet, mm.
BEYOND = 2.0


class Tile(NamedTuple):
    """A page's black lines as areas, and its cross-hairs by name."""

    ink: Any
    crosses: dict[str, tuple[float, float]]
    middle: tuple[float, float]


def offset(area: Any, distance: float) -> Any:
    """What is taken from a picture, offset by Clipper, as finely as that is worth: to 0.004 mm."""
    return by_clipper(shapely.simplify(area, 0.002), distance, within=0.002)


def drawn_openings(data: bytes, width: float, height: float, *, plate: bool = False) -> Any:
    """The openings of a pattern as an area, (0, 0) at the lower left of its plate; holes and all that is drawn so.

    With plate the plate itself, to the middle of its line. Fails where no plate of that size, to 0.1 mm, is drawn on
    the pages.
    """
    ink = together(tiles(data))
    left, bottom, right, top = ink.bounds
    free = shapely.box(left - 1, bottom - 1, right + 1, top + 1).difference(ink)
    left, bottom, *_ = free.bounds
    within = [p for p in shapely.get_parts(free) if p.bounds[0] > left and p.bounds[1] > bottom]
    sheet = max(within, key=lambda part: shapely.area(shapely.envelope(part)))
    x0, y0, x1, y1 = sheet.bounds
    size = x1 - x0 + STROKE, y1 - y0 + STROKE
    assert abs(size[0] - width) < 0.1, size
    assert abs(size[1] - height) < 0.1, size
    whole = shapely.Polygon(sheet.exterior)
    shapely.prepare(whole)
    parts = [shapely.Polygon(p.exterior) for p in within if p is not sheet and p.area > SPECK and whole.contains(p)]
    area = offset(whole, STROKE / 2) if plate else _to_the_line(parts)
    return shapely.affinity.translate(area, STROKE / 2 - x0, STROKE / 2 - y0)


def _to_the_line(parts: list[Any]) -> Any:
    """White areas out to the middle of their line, without the thin lines that cross them."""
    found = []
    for area in shapely.get_parts(offset(shapely.union_all(parts), STROKE / 2)):
        mine = [part for part in parts if area.intersects(part)]
        if len(mine) > 1:  # and only beside the crossing line: closing rounds off wood that points into an opening
            closed = offset(offset(shapely.union_all(mine), STROKE / 2 + CROSSING), -CROSSING)
            near = [shapely.buffer(shapely.simplify(one, 0.01), 2.5) for one in mine]
            beside = shapely.union_all([a.intersection(b) for a, b in combinations(near, 2)])
            area = area.union(closed.intersection(beside))
        found += [shapely.Polygon(one.exterior) for one in shapely.get_parts(area)]
    return shapely.union_all(found)


def tiles(data: bytes) -> list[Tile]:
    """The pages that show the drawing: those with a tile's name at their head, or the first."""
    document = pypdfium2.PdfDocument(data)
    try:
        named = [p for p in document if re.search(r"^[A-Z]\d+\s*$", p.get_textpage().get_text_range(), re.MULTILINE)]
        return [_tile(page) for page in named or [document[0]]]
    finally:
        document.close()


def _tile(page: Any) -> Tile:
    picture = without_blue(page.render(scale=FINE * 25.4 / 72).to_numpy())
    width, height = (side * 25.4 / 72 for side in page.get_size())
    scale = np.array([width / picture.shape[1], -height / picture.shape[0]])  # whole points: not quite FINE
    rings = [ring for ring in contours(picture) if np.ptp(ring, axis=0).max() > 1.2 * FINE]
    rings = [ring * scale + (0, height) for ring in rings]
    ink = shapely.build_area(shapely.multilinestrings([shapely.linestrings(ring) for ring in rings]))
    text = page.get_textpage()
    points = 72 / 25.4
    crosses = {}
    for x, y in _crosses(rings):
        around = [points * one for one in (x + 1.3, y + 1.5, x + 6, y + 4.5)]
        crosses[text.get_text_bounded(*around).strip()] = (x, y)
    return Tile(ink, crosses, (width / 2, height / 2))


def without_blue(picture: Any) -> Any:
    """How light a picture is, 0 to 255, as if its blue lines (#0072B2: no red, 178 of blue) were not there."""
    share = 178 / 255
    blue, red = picture[:, :, 0].astype(np.float32), picture[:, :, 2]
    return (blue - (1 - share) * red) / share


def _crosses(rings: list[Any]) -> Iterator[tuple[float, float]]:
    """Middles of cross-hairs: four right triangles about a point."""
    boxes = []
    for ring in rings:
        low, high = ring.min(axis=0), ring.max(axis=0)
        if abs(high - low - LEG).max() < 0.12 and abs(shapely.Polygon(ring).area - TRIANGLE) < 0.2:
            boxes.append((*low, *high))
    for left, bottom, *_ in boxes:
        four = [b for b in boxes if 0 <= b[0] - left + 0.2 < 3 and 0 <= b[1] - bottom + 0.2 < 3]
        if len(four) == 4:
            yield (left + max(b[2] for b in four)) / 2, (bottom + max(b[3] for b in four)) / 2


def together(pages: list[Tile]) -> Any:
    """The ink of all tiles in the place of the first, each cut off a little beyond its cross-hairs."""
    placed = {0: (0.0, 0.0)}
    while len(placed) < len(pages):
        new = next((i, j) for i in placed for j in range(len(pages)) if j not in placed and len(_seam(pages, i, j)) > 1)
        i, j = new
        ways = [np.subtract(pages[i].crosses[n], pages[j].crosses[n]) for n in _seam(pages, i, j)]
        assert np.ptp(ways, axis=0).max() < 0.05, "cross-hairs of two tiles do not meet"
        placed[j] = tuple(np.mean(ways, axis=0) + placed[i])
    return shapely.union_all(
        [shapely.affinity.translate(_cut_off(pages, i), float(x), float(y)) for i, (x, y) in placed.items()]
    )


def _seam(pages: list[Tile], i: int, j: int) -> list[str]:
    return sorted(set(pages[i].crosses) & set(pages[j].crosses))


def _cut_off(pages: list[Tile], i: int) -> Any:
    """A tile's ink up to its seams."""
    (x, y), low, high = pages[i].middle, [-1e4, -1e4], [1e4, 1e4]
    for j in range(len(pages)):
        names = _seam(pages, i, j)
        if i == j or len(names) < 2:
            continue
        (ax, ay), (bx, by) = (pages[i].crosses[n] for n in names[:2])
        axis = 0 if abs(bx - ax) < abs(by - ay) else 1
        at = (ax, ay)[axis]
        if at < (x, y)[axis]:
            low[axis] = max(low[axis], at - BEYOND)
        else:
            high[axis] = min(high[axis], at + BEYOND)
    return shapely.intersection(pages[i].ink, shapely.box(*low, *high))


def contours(picture: Any, level: float = 127.5) -> list[Any]:
    """Closed lines along which a picture has a level, as x right and y down from its upper left corner, in points.

    Marching squares; where two dark corners face each other they are kept apart.
    """
    padded = np.pad(picture, 1, constant_values=255)
    dark = padded < level
    rows, columns = padded.shape
    cells = dark[:-1, :-1] + 2 * dark[:-1, 1:] + 4 * dark[1:, 1:] + 8 * dark[1:, :-1]
    y, x = np.nonzero((cells != 0) & (cells != 15))
    kinds = cells[y, x]
    # edges of a cell: 0 upper, 1 right, 2 lower, 3 left; numbered over the whole picture
    upper, left = y * columns + x, rows * columns + y * columns + x
    edges = np.stack([upper, left + 1, upper + columns, left])
    following: dict[int, int] = {}
    for kind, ways in WAYS.items():
        mine = kinds == kind
        for a, b in ways:
            following.update(zip(edges[a][mine].tolist(), edges[b][mine].tolist(), strict=True))
    return [_places(loop, padded, level) for loop in _loops(following)]


#: From which edge to which the line runs, the dark on its left as it is seen, by the corners that are dark: 1 upper
#: left, 2 upper right, 4 lower right, 8 lower left.
WAYS = {
    1: [(0, 3)],
    2: [(1, 0)],
    3: [(1, 3)],
    4: [(2, 1)],
    5: [(0, 3), (2, 1)],
    6: [(2, 0)],
    7: [(2, 3)],
    8: [(3, 2)],
    9: [(0, 2)],
    10: [(1, 0), (3, 2)],
    11: [(1, 2)],
    12: [(3, 1)],
    13: [(0, 1)],
    14: [(3, 0)],
}


def _loops(following: dict[int, int]) -> Iterator[list[int]]:
    while following:
        start, at = following.popitem()
        loop = [start]
        while at != start:
            loop.append(at)
            at = following.pop(at)
        yield loop


def _places(loop: list[int], padded: Any, level: float) -> Any:
    """Where the edges of a loop have the level, closed."""
    rows, columns = padded.shape
    numbers = np.array([*loop, loop[0]])
    upright = numbers >= rows * columns
    y, x = np.divmod(numbers % (rows * columns), columns)
    a, b = padded[y, x], padded[y + upright, x + ~upright]
    part = (level - a) / (b - a)
    return np.column_stack([x + part * ~upright - 0.5, y + part * upright - 0.5]).astype(float)
