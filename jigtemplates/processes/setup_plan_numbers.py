"""The numbers of several cuts in the plan of a set-up sheet, beside their openings; mm on the page."""

import math
from collections.abc import Iterator, Sequence
from typing import Any

from jigtemplates.geometry.outline import Outline, Point, cos_sin
from jigtemplates.processes.paper_page import Text
from jigtemplates.processes.setup_draw import SMALL

#: From the middle of a number to any opening at least, and to another number (chosen: half its height, and a little).
CLEAR, APART = 2.0, 3.0
#: Steps outwards until it is, mm, and the ways that are tried at each.
STEP, MOST, WAYS = 0.5, 24, 16


def number_texts(numbers: Sequence[tuple[int, Point]], openings: Sequence[Outline]) -> Iterator[Text]:
    """Each number near where the plate has it, moved as little as makes it clear of all openings and numbers.

    It stays nearest to its own opening; where there is no such place, it stands where the plate has it.
    """
    import shapely

    areas = shapely.polygons([shapely.linearrings(opening.flattened(0.05)) for opening in openings])
    taken: list[Point] = []
    for number, at in numbers:
        taken.append(_clear(areas, at, taken))
        yield Text(f"{number}", taken[-1].x, taken[-1].y - 0.36 * SMALL, SMALL, True, "middle")


def _clear(areas: Any, at: Point, taken: Sequence[Point]) -> Point:
    import shapely

    own = shapely.distance(areas, shapely.Point(at)).argmin()
    for spot in _spots(at, _away(areas[own], at)):
        far = shapely.distance(areas, shapely.Point(spot))
        if far.argmin() == own and far[own] >= CLEAR and all(math.dist(spot, other) >= APART for other in taken):
            return spot
    return at


def _away(own: Any, at: Point) -> float:
    """The direction from an opening to a number beside it, degrees."""
    import shapely

    near = shapely.get_coordinates(shapely.shortest_line(own, shapely.Point(at)))[0]
    return math.degrees(math.atan2(at.y - near[1], at.x - near[0]))


def _spots(at: Point, away: float) -> Iterator[Point]:
    """Places to try, the nearest first; of equally near ones those further from its opening."""
    yield at
    for step in range(1, MOST):
        for way in range(WAYS):
            turn = (way + 1) // 2 * (1 if way % 2 else -1) * 360.0 / WAYS
            cos, sin = cos_sin(away + turn)
            yield Point(at.x + step * STEP * cos, at.y + step * STEP * sin)
