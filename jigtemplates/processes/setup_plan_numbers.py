"""The numbers of several cuts in the plan of a set-up sheet, beside their openings; mm on the page."""

from collections.abc import Iterator, Sequence
from typing import Any

from jigtemplates.geometry.outline import Outline, Point
from jigtemplates.processes.paper_page import Text
from jigtemplates.processes.setup_draw import SMALL

#: From the middle of a number to any opening at least (chosen: half its height, and a little).
CLEAR = 2.0
#: Steps outwards until it is, mm.
STEP, MOST = 0.5, 24


def number_texts(numbers: Sequence[tuple[int, Point]], openings: Sequence[Outline]) -> Iterator[Text]:
    """Each number near where the plate has it, moved away from its opening until its letters are clear of them all."""
    import shapely

    areas = shapely.polygons([shapely.linearrings(opening.flattened(0.05)) for opening in openings])
    for number, at in numbers:
        x, y = _clear(areas, at)
        yield Text(f"{number}", x, y - 0.36 * SMALL, SMALL, True, "middle")


def _clear(areas: Any, at: Point) -> Point:
    import shapely

    spot = shapely.Point(at)
    own = areas[shapely.distance(areas, spot).argmin()]
    near = shapely.get_coordinates(shapely.shortest_line(own, spot))[0]
    length = max(float(shapely.distance(own, spot)), 1e-9)
    dx, dy = (at.x - near[0]) / length, (at.y - near[1]) / length
    for step in range(MOST):
        moved = Point(at.x + step * STEP * dx, at.y + step * STEP * dy)
        if shapely.distance(areas, shapely.Point(moved)).min() >= CLEAR:
            return moved
    return at
