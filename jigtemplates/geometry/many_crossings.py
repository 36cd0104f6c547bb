"""What `crossings` finds, of very many segments at once."""

import math

import numpy as np
import shapely

from jigtemplates.geometry.outline import TAU
from jigtemplates.geometry.table import Array, Indices, Mask, Table, counted, differ, dot, norms

#: So many pairs to a segment are looked at one by one; where boxes are wide there are more, and a tree finds those that
#: touch (chosen: where that is quicker).
FEW = 20


def has_hidden_crossing_among(table: Table, chord: float, slack: float) -> bool:
    """As `crossings.has_hidden_crossing`. An arc that is all but straight hides nothing."""
    half = np.minimum(np.abs(table.sweeps) / 2, math.pi)
    arcs = np.flatnonzero(table.is_arc & (table.radii * (1 - np.cos(half)) > slack / 2))
    if not len(arcs):
        return False
    a, b = _neighbours(table, arcs)
    depths = _overlaps(table, a, b)
    return bool(np.any((depths > slack) & (depths < 4 * chord)))


def _neighbours(table: Table, arcs: Indices) -> tuple[Indices, Indices]:
    """Each pair of one of the arcs and another segment whose boxes touch."""
    left, bottom, right, top = _boxes(table)
    order = np.argsort(left)
    low = np.searchsorted(left[order], left[arcs] - (right - left).max())
    high = np.searchsorted(left[order], right[arcs], side="right")
    if (high - low).sum() > FEW * len(table):
        tree = shapely.STRtree(shapely.box(left, bottom, right, top))
        which, other = tree.query(tree.geometries[arcs])
    else:
        which, number = counted(high - low)
        other = order[low[which] + number]
    arc = arcs[which]
    touch = (right[other] >= left[arc]) & (bottom[other] <= top[arc]) & (top[other] >= bottom[arc]) & (other != arc)
    return arc[touch], other[touch]


def _boxes(table: Table) -> tuple[Array, Array, Array, Array]:
    """As `crossings` has them: left, bottom, right, top."""
    half = np.abs(table.sweeps) / 2
    reach = table.radii / np.where(half < 1.5, np.cos(half), 1.0)
    whole = (half >= 1.5) | (reach > 2 * table.radii)
    scale = np.where(table.radii > 0, reach / np.where(table.radii > 0, table.radii, 1.0), 0.0)
    tips = np.where(table.is_arc[:, None], table.centers + scale[:, None] * (table.middles - table.centers), table.ends)
    low = np.minimum(np.minimum(table.starts, table.ends), tips)
    high = np.maximum(np.maximum(table.starts, table.ends), tips)
    round_ = (whole & table.is_arc)[:, None]
    low = np.where(round_, table.centers - table.radii[:, None], low)
    high = np.where(round_, table.centers + table.radii[:, None], high)
    return low[:, 0], low[:, 1], high[:, 0], high[:, 1]


def _overlaps(table: Table, arcs: Indices, others: Indices) -> Array:
    """How deep the two of each pair overlap where they would touch, mm; 0 where they do not reach there."""
    depths = np.zeros(len(arcs))
    bent = table.is_arc[others]
    for which, depth in ((~bent, _line_overlaps), (bent, _arc_overlaps)):
        rows = np.flatnonzero(which)
        if len(rows):
            depths[rows] = depth(table.rows(arcs[rows]), table.rows(others[rows]))
    return depths


def _line_overlaps(arcs: Table, lines: Table) -> Array:
    steps, arms = lines.ends - lines.starts, arcs.centers - lines.starts
    along = dot(arms, steps) / np.maximum(dot(steps, steps), 1e-300)
    away = lines.starts + along[:, None] * steps - arcs.centers
    reached = (along > 0) & (along < 1) & _reaches(arcs, np.arctan2(away[:, 1], away[:, 0]))
    return np.where(reached, arcs.radii - norms(away), 0.0)


def _arc_overlaps(a: Table, b: Table) -> Array:
    steps = b.centers - a.centers
    apart = norms(steps)
    towards = np.arctan2(steps[:, 1], steps[:, 0])
    beside = apart > np.maximum(a.radii, b.radii)
    within = np.where(a.radii < b.radii, towards + math.pi, towards)
    there = np.where(beside, towards, within)
    reached = (apart > 0) & _reaches(a, there) & _reaches(b, np.where(beside, towards + math.pi, within))
    depth = np.where(beside, a.radii + b.radii - apart, apart - np.abs(a.radii - b.radii))
    return np.where(reached, depth, 0.0)


def _reaches(arcs: Table, angles: Array) -> Mask:
    ahead = (arcs.turns * (angles - arcs.start_angles)) % TAU
    whole = ~differ(arcs.starts, arcs.ends)
    found: Mask = whole | ((ahead > 0) & (ahead < np.abs(arcs.sweeps)))
    return found
