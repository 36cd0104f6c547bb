"""Areas with very many corners, drawn with fewer: for what costs more than its number of corners.

Triangulating one area with n corners costs n² in the library that meshes are built with: 20,000 take two seconds and
100,000 minutes, though most of them lie far closer together than any printer can follow.
"""

import shapely

from jigtemplates.geometry.facets import Side, polygons
from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Outline, Region, Regions

#: Areas with no more segments stay as they are (chosen: their mesh takes a tenth of a second).
MANY = 4_000

#: Three steps are each off by at most this share of the tolerance; as much again is left for chords on arcs.
_SHARE = 1 / 6


def thinned(area: Regions, tolerance: float, side: Side) -> Regions:
    """The area with fewer corners where it has more than MANY; nowhere more than half the tolerance (mm) off.

    "around": nothing of the area is lost; "within": nothing is added to it.
    """
    if sum(len(ring.segments) for region in area for ring in region.rings) <= MANY:
        return area
    step = tolerance * _SHARE
    coarse = shapely.simplify(shapely.MultiPolygon([_polygon(region, step, side) for region in area]), step)
    parts = shapely.get_parts(coarse)
    return offset(tuple(map(_region, parts)), step if side == "around" else -step)


def _polygon(region: Region, chord: float, side: Side) -> shapely.Polygon:
    shell, *holes = polygons(region, chord, side)
    return shapely.Polygon(shell, holes)


def _region(polygon: shapely.Polygon) -> Region:
    def ring(line: shapely.LinearRing, ccw: bool) -> Outline:
        return Outline.polygon(shapely.get_coordinates(line)[:-1].tolist()).turned(ccw)

    return Region(ring(polygon.exterior, True), tuple(ring(hole, False) for hole in polygon.interiors))
