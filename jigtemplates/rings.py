"""An exact outline as plain numbers and back, for the manifest: vertices with bulges, as DXF writes them.

    [{"outer": [[x, y, bulge], …], "holes": [[[x, y, bulge], …], …]}, …]

A whole circle is two vertices with a bulge of 1 (clockwise: -1). Millimetres.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from jigtemplates.geometry.outline import BulgeVertex, Outline, Point, Region, Regions

#: Decimals of coordinates and bulges: a picometre, below which there is only binary rounding.
DECIMALS = 9


def plain_rings(regions: Regions) -> list[dict[str, Any]]:
    """Regions as lists of numbers."""
    return [{"outer": _plain(one.outer), "holes": [_plain(hole) for hole in one.holes]} for one in regions]


def _plain(ring: Outline) -> list[list[float]]:
    return [[round(number, DECIMALS) + 0.0 for number in vertex] for vertex in ring.bulge_vertices()]


def regions_of(rings: Iterable[Mapping[str, Any]]) -> Regions:
    """The regions of such numbers; KeyError, TypeError or ValueError where they are none."""
    return tuple(Region(_ring(one["outer"]), tuple(_ring(hole) for hole in one["holes"])) for one in rings)


def _ring(numbers: Sequence[Sequence[float]]) -> Outline:
    ring = [BulgeVertex(float(x), float(y), float(bulge)) for x, y, bulge in numbers]
    if len(ring) < 2:
        raise ValueError("a ring has at least two vertices")
    first, second = ring[:2]
    if len(ring) == 2 and abs(first.bulge) == 1 and first.bulge == second.bulge:
        middle = Point((first.x + second.x) / 2, (first.y + second.y) / 2)
        return Outline.circle(middle, abs(first.x - second.x) / 2, int(first.bulge))
    return Outline.from_bulges(ring)
