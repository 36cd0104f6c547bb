"""What fits inside an area."""

import math

import shapely

from jigtemplates.geometry.measure import distances, segments_of
from jigtemplates.geometry.outline import Arc, Outline, Point, Region, Segment

#: How near the place of the widest circle is looked for, and the chords on which it is, mm (chosen: a hundredth of
#: what a wood bit's diameter is known to).
NEAR, CHORD = 1e-3, 1e-3

#: A corner that turns by less than this is none, radians (chosen: a hand would not feel it).
SMOOTH = 0.02


def widest_inside(region: Region) -> float:
    """Diameter of the largest circle inside a region, mm; at most 2 NEAR below the true one, never above."""
    area = shapely.Polygon(region.outer.flattened(CHORD), [hole.flattened(CHORD) for hole in region.holes])
    place = shapely.get_coordinates(shapely.maximum_inscribed_circle(area, tolerance=NEAR))[:1]
    return 2 * float(distances(place, segments_of((region,)))[0])


def tightest_corner(region: Region) -> float:
    """Radius of the tightest corner that a cutter inside has to go into, mm; 0 where one is sharp.

    The region's half extent where nothing bends that way, as with a hole's sides only.
    """
    if any(_has_sharp_corner(ring) for ring in region.rings):
        return 0.0
    radii = (s.radius for s in segments_of((region,)) if isinstance(s, Arc) and s.turn > 0)
    return min(radii, default=min(region.bounds.width, region.bounds.height) / 2)


def _has_sharp_corner(ring: Outline) -> bool:
    """Whether some corner of a ring turns left, where the area lies."""
    before = (ring.segments[-1], *ring.segments[:-1])
    return any(_turn(a, b) > SMOOTH for a, b in zip(before, ring.segments, strict=True))


def _turn(a: Segment, b: Segment) -> float:
    (ax, ay), (bx, by) = _direction(a, a.end), _direction(b, b.start)
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _direction(s: Segment, at: Point) -> tuple[float, float]:
    if isinstance(s, Arc):
        return -s.turn * (at.y - s.center.y), s.turn * (at.x - s.center.x)
    return s.end.x - s.start.x, s.end.y - s.start.y
