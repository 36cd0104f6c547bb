"""Finds where an offset comes nearer to what was offset than it may, because chords hid an edge.

Two edges end where they cross. A third one that cuts that corner off, by less than chords are off, is seen by nobody
while chords decide: the corner, which is exactly on both its curves, is then too near to the third one's source.
"""

import numpy as np

from jigtemplates.geometry.curves import SHORTEST
from jigtemplates.geometry.measure import distances, segments_of, size_of_boundary
from jigtemplates.geometry.outline import LONG, Arc, Point, Regions, Segment


def comes_too_near(result: Regions, source: Regions, distance: float, slack: float) -> bool:
    """Whether an edge was lost at a corner of a result that keeps a distance (mm) from a source's boundary.

    What is cut off there must be shorter than SHORTEST: so a corner may be too near by as much, since the edge that
    would be there is too short to be kept; and by slack (mm) at most the places that far from it along its two edges.
    """
    if not result:
        return False
    if max(size_of_boundary(result), size_of_boundary(source)) >= LONG:
        from jigtemplates.geometry.long import boundary_of
        from jigtemplates.geometry.many_places import are_too_near

        table = boundary_of(result)
        return are_too_near(table, table, boundary_of(source), distance, slack)
    segments, others = segments_of(result), segments_of(source)
    beside = [_along(s, share) for s in segments for share in _shares(s)]
    corners, places = np.array([s.start for s in segments]), np.array(beside).reshape(-1, 2)
    found = distances(np.concatenate([corners, places]), others)
    return bool(np.any(found[: len(corners)] < distance - SHORTEST) or np.any(found[len(corners) :] < distance - slack))


def _shares(segment: Segment) -> tuple[float, ...]:
    length = segment.length
    return (SHORTEST / length, 1 - SHORTEST / length) if length > 2 * SHORTEST else ()


def _along(segment: Segment, share: float) -> Point:
    if isinstance(segment, Arc):
        return segment.at(share)
    (ax, ay), (bx, by) = segment
    return Point(ax + share * (bx - ax), ay + share * (by - ay))
