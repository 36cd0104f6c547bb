"""Offsets of exact outlines: grow, shrink, and what a round cutter can reach.

The only room that sweeps outlines. A region grown by d is the region together with everything within
d of its boundary: a strip beside every line, a ring sector beside every arc, a circular sector round
every corner. Shrinking takes the same away on the inner side. shapely unites those sweeps on
chords and so decides what survives, splits or vanishes; `exact` then gives every edge its line
parallel to a source line, circle concentric with a source arc, or circle about a source corner.

shapely's own buffer is not used: it first simplifies its input by up to 1 % of the distance
(BufferParameters in GEOS), enough to lose a 9.525 mm hole that a 9.5 mm bit is to cut.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import shapely

from jigtemplates.geometry.chain import GRID
from jigtemplates.geometry.crossings import has_hidden_crossing, has_lost_edge
from jigtemplates.geometry.curves import GeometryError
from jigtemplates.geometry.exact import FILM, UnclearError, exact_regions
from jigtemplates.geometry.measure import distances, segments_of, size_of_boundary
from jigtemplates.geometry.nearness import comes_too_near
from jigtemplates.geometry.outline import Outline, Regions
from jigtemplates.geometry.sweeps import Sweeps, Swept

#: Largest distance between an arc and the chords that stand for it while topology is decided, mm.
#: Chosen: it never reaches the result's edges, only the question whether two edges meet at all, and
#: that is asked again on finer chords where the answer is not clear.
CHORD = 1e-3

#: A shape that misses fitting by no more than twice this still fits, mm: a cut exactly as wide as the
#: bit leaves a line for the bit's centre, which must not vanish. Chosen: 50 times the noding grid.
SLACK = 5e-6

#: A distance below this changes nothing, mm (chosen: ten nanometres, no size anybody means).
LEAST = 1e-5

#: From so many segments on they are swept all at once. Chosen: it is 4 times as quick at 50, but fewer are to begin
#: where they always began.
TOGETHER = 200

#: How much finer the chords of the next try are. Chosen: three tries reach the slack.
FINER = 16


def grow(regions: Regions, distance: float, *, chord: float = CHORD) -> Regions:
    """The regions with everything within distance (mm, >= 0) of them: rounds outer corners.

    Regions that come to touch become one; a hole that is overgrown vanishes. A degenerate region (a
    line travelled there and back, a circle of radius 0) grows like any other.
    """
    return _swept(regions, distance, 1, chord)


def shrink(regions: Regions, distance: float, *, chord: float = CHORD) -> Regions:
    """The points of the regions at least distance (mm, >= 0) away from their boundary: rounds inner corners.

    A part that only just fits (a slot as wide as twice the distance) leaves a degenerate region: a
    line there and back, or a circle of radius 0. A part that does not fit vanishes.
    """
    return _swept(regions, distance, -1, chord)


def offset(regions: Regions, distance: float, *, chord: float = CHORD) -> Regions:
    """Grown by a positive distance, shrunk by a negative one, mm."""
    return grow(regions, distance, chord=chord) if distance >= 0 else shrink(regions, -distance, chord=chord)


def _swept(regions: Regions, distance: float, side: int, chord: float) -> Regions:
    """Offset to one side, on ever finer chords until no edges of the result cross unseen."""
    if distance < LEAST or not regions:
        return regions
    slack = min(SLACK, distance / 100)
    chord = min(chord, distance / 10)  # a chord must stay within its own sweep
    while True:
        is_finest = 4 * chord <= 3 * slack
        try:
            result = _tried(regions, Sweeps(distance, side, slack * side, chord), is_finest)
            if is_finest or not (has_lost_edge(result) or has_hidden_crossing(result, chord, 3 * slack)):
                return result
        except GeometryError as error:
            if is_finest and not isinstance(error, UnclearError):
                raise
        chord /= FINER


def _tried(regions: Regions, sweeps: Sweeps, is_finest: bool) -> Regions:
    """The offset on chords of one fineness; of long boundaries first all segments at once."""
    if is_long(regions):
        from jigtemplates.geometry.long_offset import Limits, PuzzledError, long_offset
        from jigtemplates.geometry.rebuild import ApartError
        from jigtemplates.geometry.rims import Reach

        slack = abs(sweeps.slack)
        reach = Reach(sweeps.distance, sweeps.side, sweeps.slack, sweeps.chord)
        limits = Limits(2 * sweeps.chord, min(FILM, slack / 4), is_finest)
        try:
            return long_offset(regions, reach, _at_least(sweeps.distance - 3 * slack, regions), limits)
        except ApartError as error:
            if not is_finest:
                raise UnclearError(str(error)) from None
        except PuzzledError:
            pass
    return _once(regions, sweeps, is_finest)


def is_long(regions: Regions) -> bool:
    """Whether there are so many segments that they are better handled all at once."""
    return size_of_boundary(regions) >= TOGETHER


def _once(regions: Regions, sweeps: Sweeps, is_finest: bool) -> Regions:
    """The offset on chords of one fineness; noded on a grid where floating point came out inconsistent."""
    swept = sweeps.along(regions)
    slack = abs(sweeps.slack)

    def exact(grid: float) -> Regions:
        return exact_regions(
            _area(swept, sweeps.side, grid),
            swept.pieces,
            _at_least(sweeps.distance - 3 * slack, regions),
            thin=2 * sweeps.chord,
            film=min(FILM, slack / 4),
            is_finest=is_finest,
        )

    try:
        result = exact(0.0)
    except UnclearError:
        raise
    except (GeometryError, shapely.errors.GEOSException):
        result = exact(GRID)
    if not is_finest and comes_too_near(result, regions, sweeps.distance, 3 * slack, swept.pieces, 4 * sweeps.chord):
        raise UnclearError("an edge was lost at a corner")
    return result


def _area(swept: Swept, side: int, grid: float) -> Any:
    """The bodies with the swept areas united or taken away, noded on a grid of that size (0: none)."""
    options = {"grid_size": grid} if grid else {}
    if side > 0:
        return shapely.union_all([*swept.bodies, *swept.areas], **options)
    body = shapely.union_all(swept.bodies, **options)
    return shapely.difference(body, shapely.union_all(swept.areas, **options), **options)


def _at_least(distance: float, regions: Regions) -> Callable[[Outline], bool]:
    """Tests that an outline keeps the distance from the regions' boundary at every corner and middle."""
    if is_long(regions):
        from jigtemplates.geometry.long import boundary_of, table_of
        from jigtemplates.geometry.many_places import distances_to

        boundary = boundary_of(regions)

        def keeps_away(outline: Outline) -> bool:
            table = table_of(outline)
            return bool(np.all(distances_to(np.concatenate([table.starts, table.middles]), boundary) > distance))

        return keeps_away
    source = segments_of(regions)

    def is_real(outline: Outline) -> bool:
        points = np.array([p for s in outline.segments for p in (s.start, s.middle)])
        return bool(np.all(distances(points, source) > distance))

    return is_real
