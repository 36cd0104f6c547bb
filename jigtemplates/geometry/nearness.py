"""Finds where an offset comes nearer to what was offset than it may, because chords hid an edge.

Two edges end where they cross. A third one that cuts that corner off, by less than chords are off, is seen by nobody
while chords decide: the corner, which is exactly on both its curves, is then too near to the third one's source.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.geometry.chain import Coordinates
from jigtemplates.geometry.curves import SHORTEST
from jigtemplates.geometry.exact import Piece, lines_through
from jigtemplates.geometry.measure import distances, segments_of, size_of_boundary
from jigtemplates.geometry.outline import Arc, Point, Regions, Segment

#: From so many pairs of a corner and a segment on, only corners are measured that three far edges come near. Chosen:
#: where that begins to be quicker.
MANY = 10_000


def comes_too_near(
    result: Regions, source: Regions, distance: float, slack: float, pieces: Sequence[Piece], near: float
) -> bool:
    """Whether an edge was lost at a corner of a result that keeps a distance (mm) from a source's boundary.

    What is cut off there must be shorter than SHORTEST: so a corner may be too near by as much, since the edge that
    would be there is too short to be kept; and by slack (mm) at most the places that far from it along its two edges.
    Chords of the pieces are near where they are no further away than that, mm.
    """
    if not result:
        return False
    if size_of_boundary(result) * size_of_boundary(source) > MANY:
        from jigtemplates.geometry.long import boundary_of
        from jigtemplates.geometry.many_places import are_too_near

        table = boundary_of(result)
        out = crowded(table.starts, lines_through([piece.chords for piece in pieces]), near)
        return are_too_near(table.rows(_before(result)[out]), table.rows(out), boundary_of(source), distance, slack)
    segments, others = segments_of(result), segments_of(source)
    beside = [_along(s, share) for s in segments for share in _shares(s)]
    corners, places = np.array([s.start for s in segments]), np.array(beside).reshape(-1, 2)
    found = distances(np.concatenate([corners, places]), others)
    return bool(np.any(found[: len(corners)] < distance - SHORTEST) or np.any(found[len(corners) :] < distance - slack))


def _before(regions: Regions) -> NDArray[np.intp]:
    """The number of the segment before each one in its ring, counted through all rings."""
    counts = np.array([ring.count for region in regions for ring in region.rings])
    ends = np.cumsum(counts)
    found = np.arange(-1, ends[-1] - 1)
    found[ends - counts] = ends - 1
    return found


def crowded(places: Coordinates, lines: Any, near: float) -> NDArray[np.intp]:
    """The places that have three or more of some lines near."""
    found, _ = shapely.STRtree(lines).query(shapely.points(places), predicate="dwithin", distance=near)
    return np.flatnonzero(np.bincount(found, minlength=len(places)) > 2)


def _shares(segment: Segment) -> tuple[float, ...]:
    length = segment.length
    return (SHORTEST / length, 1 - SHORTEST / length) if length > 2 * SHORTEST else ()


def _along(segment: Segment, share: float) -> Point:
    if isinstance(segment, Arc):
        return segment.at(share)
    (ax, ay), (bx, by) = segment
    return Point(ax + share * (bx - ax), ay + share * (by - ay))
