"""Whether an offset is exact: which lines and circles it may have, and how far its boundary is from what was offset.

All by formula and in loops over nothing: every pair of a place or segment and a source segment is looked at.
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from engines.chords import Places

from jigtemplates.geometry.outline import Arc, Regions, Segment

#: Pairs looked at in one go (chosen: some tens of megabytes).
AT_ONCE = 2_000_000
#: A place on an arc is not known better than this share of its radius: four times the rounding of a number.
ROUNDED = 4 * 2.0**-52


class Lines(NamedTuple):
    """Lines as columns: ends and direction."""

    starts: Places
    ends: Places
    along: Places


class Arcs(NamedTuple):
    """Arcs as columns: middle, radius, turn, where each begins and how far it goes."""

    centers: Places
    radii: Places
    turns: Places
    starts: Places
    ends: Places


def lines_of(segments: Sequence[Segment]) -> Lines:
    """The lines that go anywhere."""
    found = np.array([(*s.start, *s.end) for s in segments if not isinstance(s, Arc) and s.start != s.end])
    found = found.reshape(-1, 4)
    steps = found[:, 2:] - found[:, :2]
    return Lines(found[:, :2], found[:, 2:], steps / np.hypot(*steps.T)[:, None])


def arcs_of(segments: Sequence[Segment]) -> Arcs:
    """The arcs."""
    found = np.array([(*s.center, s.radius, s.turn, *s.start, *s.end) for s in segments if isinstance(s, Arc)])
    found = found.reshape(-1, 8)
    return Arcs(found[:, :2], found[:, 2], found[:, 3], found[:, 4:6], found[:, 6:])


def segments_of(regions: Regions) -> list[Segment]:
    """All segments of all rings."""
    return [s for region in regions for ring in region.rings for s in ring.segments]


class Exactness(NamedTuple):
    """How far the segments of an offset are from the curves they may lie on, mm."""

    #: of the worst arc, its middle and radius
    circles: float
    #: of each segment, its ends
    ends: Places


def exactness(source: Regions, result: Regions, distance: float) -> Exactness:
    """Seen from the nearest curve of those that may be there.

    For a line that is the parallel of a source line, at the distance on its right (outwards); for an arc the circle of
    a source arc's parallel, or of that distance about a source corner.
    """
    before, after = segments_of(source), segments_of(result)
    arcs = arcs_of([s for s in after if isinstance(s, Arc) and s.radius > 0])
    ends = np.concatenate([_lines_off(before, lines_of(after), distance), _loose(arcs)])
    return Exactness(_circles_off(before, arcs, distance), ends)


def _loose(arcs: Arcs) -> Places:
    """How far the ends of each arc are from its circle, beyond how numbers of its size are rounded."""
    rounding = ROUNDED * np.maximum(arcs.radii, np.abs(arcs.centers).max(axis=1, initial=0.0))
    far = [np.abs(np.hypot(*(ends - arcs.centers).T) - arcs.radii) - rounding for ends in (arcs.starts, arcs.ends)]
    return np.maximum(*far)


def _lines_off(source: Sequence[Segment], lines: Lines, distance: float) -> Places:
    base = lines_of(source)
    worst = [np.empty(0)]
    for rows in _batches(len(lines.starts), len(base.starts)):
        off = np.zeros((len(rows), len(base.starts)))
        for ends in (lines.starts, lines.ends):
            rx, ry = np.moveaxis(ends[rows, None] - base.starts[None], 2, 0)
            right = rx * base.along[:, 1] - ry * base.along[:, 0]
            off = np.maximum(off, np.abs(right - distance))
        worst.append(off.min(axis=1, initial=np.inf))
    return np.concatenate(worst)


def _circles_off(source: Sequence[Segment], arcs: Arcs, distance: float) -> float:
    base = arcs_of(source)
    corners = np.array([s.start for s in source])
    centers = np.concatenate([base.centers, corners])
    far = np.concatenate([base.radii + base.turns * distance, np.full(len(corners), abs(distance))])
    worst = 0.0
    for rows in _batches(len(arcs.radii), len(far)):
        apart = np.abs(arcs.centers[rows, None] - centers[None]).max(axis=2)
        off = np.maximum(apart, np.abs(arcs.radii[rows, None] - far[None]))
        worst = max(worst, float(off.min(axis=1).max()))
    return worst


def _batches(count: int, width: int) -> list[Places]:
    step = max(1, AT_ONCE // max(1, width))
    return [np.arange(i, min(i + step, count)) for i in range(0, count, step)]


def distances_to(places: Places, source: Regions) -> Places:
    """How far each place is from the nearest of all lines and arcs, mm."""
    segments = segments_of(source)
    lines, arcs = lines_of(segments), arcs_of(segments)
    ways = np.array([(s.start_angle, abs(s.sweep)) for s in segments if isinstance(s, Arc)]).reshape(-1, 2)
    found = np.full(len(places), np.inf)
    for rows in _batches(len(places), len(segments)):
        for near in (_to_lines(places[rows], lines), _to_arcs(places[rows], arcs, ways)):
            found[rows] = np.minimum(found[rows], near.min(axis=1, initial=np.inf))
    return found


def _to_lines(places: Places, lines: Lines) -> Places:
    lengths = np.hypot(*(lines.ends - lines.starts).T)
    rx, ry = np.moveaxis(places[:, None] - lines.starts[None], 2, 0)
    along = rx * lines.along[:, 0] + ry * lines.along[:, 1]
    past = along - np.clip(along, 0, lengths)
    return np.hypot(past, rx * lines.along[:, 1] - ry * lines.along[:, 0])


def _to_arcs(places: Places, arcs: Arcs, ways: Places) -> Places:
    rx, ry = np.moveaxis(places[:, None] - arcs.centers[None], 2, 0)
    ahead = (arcs.turns * (np.arctan2(ry, rx) - ways[:, 0])) % (2 * np.pi)
    to_ends = [np.hypot(*np.moveaxis(places[:, None] - ends[None], 2, 0)) for ends in (arcs.starts, arcs.ends)]
    return np.where(ahead <= ways[:, 1], np.abs(np.hypot(rx, ry) - arcs.radii), np.minimum(*to_ends))


def corners_of(regions: Regions) -> Places:
    """Where segments begin."""
    return np.array([s.start for s in segments_of(regions)]).reshape(-1, 2)


def places_on(regions: Regions, spacing: float) -> Places:
    """Places on lines and arcs between their ends, the middle of each and others no further apart than spacing (mm)."""
    found = [np.empty((0, 2))]
    for s in segments_of(regions):
        shares = (np.arange(count := min(40, 5 + int(s.length / spacing))) + 0.5) / count
        if isinstance(s, Arc):
            ways = s.start_angle + shares * s.sweep
            found.append(np.array(s.center) + s.radius * np.column_stack([np.cos(ways), np.sin(ways)]))
        else:
            found.append(np.array(s.start) + shares[:, None] * (np.array(s.end) - np.array(s.start)))
    return np.concatenate(found)
