"""Distances of very many places, or from a boundary of very many segments, mm: what `measure` does, all at once.

For the furthest of many places some segment near each is found quickly, which says how far it can be at most. Only
the few that can be the furthest are then measured against everything near them.
"""

import math
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.geometry.curves import SHORTEST
from jigtemplates.geometry.long import chord_counts, table_of
from jigtemplates.geometry.outline import Outline
from jigtemplates.geometry.table import Array, Indices, Table, counted, norms, on_circles, picked, put

#: Side of the squares by which a corner near a place is found, in mean segments, and the most steps from that corner
#: to a nearer one (chosen: what takes the least time).
SQUARE, STEPS = 3.0, 12
#: Places measured at a time, and the share of all places beyond which it is quicker to measure all (chosen).
BATCH, TOO_MANY = 32, 0.02
#: Points whose near segments are looked for at once (chosen: hundreds near each are some hundred megabytes).
AT_ONCE = 10_000

#: More points than this are sorted by place first; of boundaries with arcs (chosen: where that begins to be quicker,
#: whatever the number of segments).
MANY, MANY_OF_ARCS = 32, 8
#: Largest distance between an arc and the chords by which it is found, mm (chosen: it costs few chords, and few
#: segments that lie so close together are looked at in vain).
COARSE = 0.01


def distances_to(points: Array, table: Table) -> Array:
    """As `measure.distances`, to the segments in the rows of a table."""
    if len(points) > (MANY_OF_ARCS if table.has_arcs else MANY) and len(table):
        return distances_by_place(points, table)
    nearest = np.full(len(points), np.inf)
    every = np.arange(len(table))
    for i in range(len(points) if len(table) else 0):
        nearest[i] = to_each(points[i : i + 1], table, every).min()
    return nearest


def distances_by_place(points: Array, table: Table) -> Array:
    """The same: chords within COARSE of the segments say which few can be the nearest to a point."""
    tree = shapely.STRtree(_chords(table))
    nearest = np.full(len(points), np.inf)
    for first in range(0, len(points), AT_ONCE):
        some = points[first : first + AT_ONCE]
        places = shapely.points(some)
        _, reach = tree.query_nearest(places, all_matches=False, return_distance=True)
        which, candidates = tree.query(places, predicate="dwithin", distance=reach + 2 * COARSE)
        np.minimum.at(nearest, which + first, to_each(picked(some, which), table, candidates))
    return nearest


def are_too_near(into: Table, out: Table, boundary: Table, distance: float, slack: float) -> bool:
    """As `nearness.comes_too_near`, at the corners where segments of one table end and those of the other begin."""
    beside = np.concatenate(beside_corners(into, out))
    return bool(
        np.any(distances_to(out.starts, boundary) < distance - SHORTEST)
        or np.any(distances_to(beside, boundary) < distance - slack)
    )


def beside_corners(into: Table, out: Table) -> tuple[Array, Array]:
    """Places SHORTEST before the end of each segment of one table and after the start of each of the other, mm.

    None on segments of twice that and less.
    """
    into, out = (table.rows(table.lengths > 2 * SHORTEST) for table in (into, out))
    return along(into, 1 - SHORTEST / into.lengths), along(out, SHORTEST / out.lengths)


def along(table: Table, share: Array) -> Array:
    """The place a share of the way along each segment."""
    straight: Array = table.starts + share[:, None] * (table.ends - table.starts)
    return np.where(table.is_arc[:, None], table.at(share), straight) if table.has_arcs else straight


def _chords(table: Table) -> Any:
    """A line string for each segment, an arc's on chords within COARSE of it."""
    rows, number = counted(chord_counts(table, COARSE) + 1)
    share = number / chord_counts(table, COARSE)[rows]
    places = picked(table.starts, rows) + share[:, None] * picked(table.ends - table.starts, rows)
    bent = np.flatnonzero(table.is_arc[rows] & (share > 0) & (share < 1))
    angles = table.start_angles[rows[bent]] + share[bent] * table.sweeps[rows[bent]]
    put(places, bent, on_circles(picked(table.centers, rows[bent]), table.radii[rows[bent]], angles))
    return shapely.linestrings(places, indices=rows)


def many_samples(outline: Outline, spacing: float) -> Array:
    """As `measure.samples`."""
    table = table_of(outline)
    counts = 2 * np.maximum(np.ceil(table.lengths / (2 * spacing)), 1).astype(np.int64)
    rows, number = counted(counts)
    share = number / counts[rows]
    places: Array = picked(table.starts, rows) + share[:, None] * picked(table.ends - table.starts, rows)
    bent = np.flatnonzero(table.is_arc[rows] & (number > 0))
    angles = table.start_angles[rows[bent]] + share[bent] * table.sweeps[rows[bent]]
    put(places, bent, on_circles(picked(table.centers, rows[bent]), table.radii[rows[bent]], angles))
    return places


def furthest(points: Array, table: Table) -> float:
    """The largest distance of a point (n by 2) to the nearest segment."""
    found = _furthest(points, table)
    return float(distances_to(points, table).max()) if found is None else found


def _furthest(points: Array, table: Table) -> float | None:
    """The same; None where it is quicker to measure all of them."""
    bounds = _at_most(points, table)
    if np.count_nonzero(np.isinf(bounds)) > BATCH:  # each of them would be measured against everything
        return None
    order = np.argsort(-bounds)[: int(TOO_MANY * len(points)) + BATCH]
    radii, middles = table.lengths / 2, table.middles
    found = 0.0
    for first in range(0, len(order), BATCH):
        if bounds[order[first]] <= found:
            return found
        for i in order[first : first + BATCH].tolist():
            if bounds[i] > found:
                found = max(found, _nearest(points[i], float(bounds[i]), table, radii, middles))
    return None


def _nearest(point: Array, bound: float, table: Table, radii: Array, middles: Array) -> float:
    """Distance to the nearest segment, which is within bound."""
    if not math.isfinite(bound):
        near = np.arange(len(table))
    else:
        dx, dy = middles[:, 0] - point[0], middles[:, 1] - point[1]
        near = np.flatnonzero(dx * dx + dy * dy <= (radii + bound) ** 2)
    return float(to_each(point[None], table, near).min(initial=bound))


def _at_most(points: Array, table: Table) -> Array:
    """For each point its distance to a segment that is near it, infinite where none was found."""
    x, y = points.T.copy()
    corner_x, corner_y = table.starts.T.copy()
    nearest = _corner_near(x, y, corner_x, corner_y, SQUARE * float(np.mean(table.lengths)))
    found = np.flatnonzero(nearest >= 0)
    at, count = nearest[found], len(table)
    x, y = x[found], y[found]
    square = (corner_x[at] - x) ** 2 + (corner_y[at] - y) ** 2
    for way in (1, -1):
        moving = np.arange(len(found))
        for _ in range(STEPS):
            ahead = (at[moving] + way) % count
            there = (corner_x[ahead] - x[moving]) ** 2 + (corner_y[ahead] - y[moving]) ** 2
            nearer = there < square[moving]
            moving, ahead = moving[nearer], ahead[nearer]
            if not len(moving):
                break
            at[moving], square[moving] = ahead, there[nearer]
    bounds = np.full(len(points), np.inf)
    places = picked(points, found)
    bounds[found] = np.minimum(to_each(places, table, at), to_each(places, table, (at - 1) % count))
    return bounds


def _corner_near(x: Array, y: Array, corner_x: Array, corner_y: Array, side: float) -> Indices:
    """The number of a corner in the square of each point, or one beside it; -1 where those are empty."""
    left, bottom = min(x.min(), corner_x.min()) - 2 * side, min(y.min(), corner_y.min()) - 2 * side
    rows = int((max(y.max(), corner_y.max()) - bottom) / side) + 3

    def square(at_x: Array, at_y: Array) -> NDArray[np.int64]:
        columns = ((at_x - left) / side).astype(np.int64)
        found: NDArray[np.int64] = columns * rows + ((at_y - bottom) / side).astype(np.int64)
        return found

    known, corners = np.unique(square(corner_x, corner_y), return_index=True)
    wanted = square(x, y)
    found = np.full(len(x), -1, dtype=np.intp)
    missing = np.arange(len(x))
    for beside in (0, 1, -1, rows, -rows, rows + 1, rows - 1, 1 - rows, -rows - 1):
        at = np.minimum(np.searchsorted(known, wanted[missing] + beside), len(known) - 1)
        there = known[at] == wanted[missing] + beside
        found[missing[there]] = corners[at[there]]
        missing = missing[~there]
        if not len(missing):
            break
    return found


def to_each(points: Array, table: Table, which: Indices) -> Array:
    """Distance from each point, or from the only one, to the segment with that number."""
    (ax, ay), (bx, by) = table.starts.T, table.ends.T
    ax, ay = ax[which], ay[which]
    dx, dy = bx[which] - ax, by[which] - ay
    rx, ry = points[:, 0] - ax, points[:, 1] - ay
    square = dx * dx + dy * dy
    along = np.clip((rx * dx + ry * dy) / np.where(square == 0, 1.0, square), 0.0, 1.0)
    done: Array = np.sqrt((rx - along * dx) ** 2 + (ry - along * dy) ** 2)
    bent = np.flatnonzero(table.turns[which]) if table.has_arcs else np.empty(0, dtype=np.intp)
    if len(bent):
        arcs, places = table.rows(which[bent]), picked(points, bent) if len(points) > 1 else points
        arms = places - arcs.centers
        ahead = (arcs.turns * (np.arctan2(arms[:, 1], arms[:, 0]) - arcs.start_angles)) % (2 * math.pi)
        near = np.minimum(*(norms(places - ends) for ends in (arcs.starts, arcs.ends)))
        rim = np.abs(norms(arms) - arcs.radii)
        done[bent] = np.where(ahead <= np.abs(arcs.sweeps), rim, near)
    return done
