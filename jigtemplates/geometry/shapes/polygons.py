"""Regular polygons and the butterfly key: straight sides, corners that may be round; millimetres."""

import math

from jigtemplates.geometry.outline import Outline, cos_sin
from jigtemplates.geometry.shapes.basic import round_hole
from jigtemplates.geometry.shapes.corners import rounded, setback


def regular_polygon(sides: int, across: float, corner_radius: float = 0.0) -> Outline:
    """A regular polygon, one side at the bottom; across is the diameter of the circle that touches every side.

    ::

          ╱╲      ╭─────╮    ─┬─
         ╱  ╲    ╱       ╲    │
        ╱  + ╲   ╲   +   ╱  across (over the flats, where two sides face each other)
       ╱______╲   ╰─────╯    ─┴─

    The origin is the middle of that circle: of a triangle, across is two thirds of its height. Corners of half of
    across make it that circle. Raises ValueError for fewer than three sides, no size, or a larger corner radius.
    """
    if sides < 3 or across <= 0:
        raise ValueError("a polygon needs three sides or more and a size across them")
    if not 0 <= corner_radius <= across / 2:
        raise ValueError("a polygon's corner radius must lie between 0 and half its size across")
    if corner_radius == across / 2:
        return round_hole(across)
    reach = across / 2 / math.cos(math.pi / sides)
    corners = [cos_sin(-90 - 180 / sides + 360 * i / sides) for i in range(sides)]
    return rounded([(reach * x, reach * y) for x, y in corners], [corner_radius] * sides)


def largest_key_radius(length: float, width: float, waist: float) -> float:
    """The largest corner radius that the ends and sides of such a butterfly key leave room for, mm."""
    x, y, middle = length / 2, width / 2, waist / 2
    return min(y, math.hypot(x, y - middle)) / setback((0.0, -middle), (x, -y), (x, y))


def butterfly_key(length: float, width: float, waist: float, corner_radius: float = 0.0) -> Outline:
    """A key that holds two boards together: as wide as width at its ends, as waist in its middle.

    ::

          ╭╮__         __╭╮  ─┬─
          │   ‾‾──┬──‾‾   │   │
          │     waist     │  width
          │   __──┴──__   │   │
          ╰╯‾‾         ‾‾╰╯  ─┴─   corner_radius
          ├─── length ────┤

    The origin is in its middle; the two corners at the waist point inwards and are sharp. Raises ValueError where the
    waist is not narrower than the ends, and for corners that are too round for the sides.
    """
    if not 0 < waist < width or length <= 0:
        raise ValueError("a butterfly key must have a length and be narrower at its waist than at its ends")
    x, y, middle = length / 2, width / 2, waist / 2
    corners = [(-x, -y), (0.0, -middle), (x, -y), (x, y), (0.0, middle), (-x, y)]
    return rounded(corners, [corner_radius, 0.0, corner_radius, corner_radius, 0.0, corner_radius])
