"""What fits inside an area."""

import math

import numpy as np
import shapely

from jigtemplates.geometry.long import boundary_of, corner_turns, corners_of, table_of
from jigtemplates.geometry.measure import distances, segments_of, size_of_boundary
from jigtemplates.geometry.outline import LONG, Arc, Outline, Point, Region, Segment

#: How near the place of the widest circle is looked for, and the chords on which it is, mm (chosen: a hundredth of
#: what a wood bit's diameter is known to).
NEAR, CHORD = 1e-3, 1e-3

#: A corner that turns by less than this is none, radians (chosen: a hand would not feel it).
SMOOTH = 0.02


def widest_inside(region: Region) -> float:
    """Diameter of the largest circle inside a region, mm; at most 2 NEAR below the true one, never above."""
    outer, *holes = (corners_of(ring, CHORD) for ring in region.rings)
    place = shapely.get_coordinates(shapely.maximum_inscribed_circle(shapely.Polygon(outer, holes), tolerance=NEAR))[:1]
    if size_of_boundary((region,)) >= LONG:
        from jigtemplates.geometry.many_places import distances_to

        return 2 * float(distances_to(place, boundary_of((region,)))[0])
    return 2 * float(distances(place, segments_of((region,)))[0])


def tightest_corner(region: Region) -> float:
    """Radius of the tightest corner that a cutter inside has to go into, mm; 0 where one is sharp.

    The region's half extent where nothing bends that way, as with a hole's sides only.
    """
    if any(_has_sharp_corner(ring) for ring in region.rings):
        return 0.0
    radii = [radius for ring in region.rings if (radius := ring.inside_radius)]
    return min(radii, default=min(region.bounds.width, region.bounds.height) / 2)


def _has_sharp_corner(ring: Outline) -> bool:
    """Whether some corner of a ring turns left, where the area lies."""
    if ring.count >= LONG:
        sines, cosines = corner_turns(table_of(ring))
        return bool(np.any(np.arctan2(sines, cosines) > SMOOTH))
    before = (ring.segments[-1], *ring.segments[:-1])
    return any(_turn(a, b) > SMOOTH for a, b in zip(before, ring.segments, strict=True))


def _turn(a: Segment, b: Segment) -> float:
    (ax, ay), (bx, by) = _direction(a, a.end), _direction(b, b.start)
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _direction(s: Segment, at: Point) -> tuple[float, float]:
    if isinstance(s, Arc):
        return -s.turn * (at.y - s.center.y), s.turn * (at.x - s.center.x)
    return s.end.x - s.start.x, s.end.y - s.start.y
