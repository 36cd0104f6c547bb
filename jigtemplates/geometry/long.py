"""An outline of very many segments, kept as columns of numbers; its segments are made when somebody asks."""

import math
from functools import cached_property

import numpy as np

from jigtemplates.geometry.outline import (
    LONG,
    ORIGIN,
    TAU,
    Arc,
    Bounds,
    BulgeVertex,
    Outline,
    Point,
    Regions,
    Segment,
    cos_sin,
)
from jigtemplates.geometry.table import Array, Table, counted, cross, dot, norms, on_circles, picked, put


class LongOutline(Outline):
    """As an outline in all that can be asked of it."""

    def __init__(self, table: Table) -> None:
        object.__setattr__(self, "table", table)

    table: Table

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """The chain as objects."""
        return tuple(self.table.segments())

    @property
    def count(self) -> int:
        """How many segments."""
        return len(self.table)

    def __eq__(self, other: object) -> bool:
        """Whether all segments are equal."""
        if not isinstance(other, Outline):
            return NotImplemented
        if not isinstance(other, LongOutline):
            return self.segments == other.segments
        a, b = self.table, other.table
        pairs = ((a.starts, b.starts), (a.ends, b.ends), (a.centers, b.centers), (a.radii, b.radii), (a.turns, b.turns))
        return a is b or all(np.array_equal(one, two) for one, two in pairs)

    def __hash__(self) -> int:
        """As an outline of the same segments."""
        first, last = (tuple(self.table.rows(slice(*ends)).segments()) for ends in ((0, 1), (-1, None)))
        return hash((len(self.table), first, last))

    @property
    def as_circle(self) -> Arc | None:
        """None, but for an outline of a single arc."""
        return super().as_circle if len(self.table) == 1 else None

    @cached_property
    def area(self) -> float:
        """As of any outline."""
        t = self.table
        shift = t.starts[0]  # near the outline, so that no digits are lost
        (ax, ay), (bx, by) = (t.starts - shift).T, (t.ends - shift).T
        total = float(np.sum(ax * by - bx * ay)) / 2
        if t.has_arcs:
            total += float(np.sum(t.radii**2 * (t.sweeps - np.sin(t.sweeps)))) / 2
        return total

    @cached_property
    def length(self) -> float:
        """As of any outline."""
        return float(np.sum(self.table.lengths))

    @cached_property
    def bounds(self) -> Bounds:
        """As of any outline."""
        t = self.table
        places = [t.starts]
        if t.has_arcs:
            arcs = t.rows(t.is_arc)
            first, sweeps = arcs.start_angles, np.abs(arcs.sweeps)
            for quarter, way in enumerate(((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))):
                reached = (arcs.turns * (quarter * math.pi / 2 - first)) % TAU <= sweeps
                places.append(arcs.centers[reached] + arcs.radii[reached, None] * np.array(way))
        every = np.concatenate(places)
        (left, bottom), (right, top) = every.min(axis=0).tolist(), every.max(axis=0).tolist()
        return Bounds(left, bottom, right, top)

    @property
    def inside_radius(self) -> float:
        """As of any outline."""
        inside = self.table.radii[self.table.turns > 0]
        return float(inside.min()) if len(inside) else 0.0

    def segments_at(self, y: float) -> tuple[Segment, ...]:
        """As of any outline."""
        t = self.table
        reach = np.where(t.is_arc, t.lengths, 1e-9)  # an arc is nowhere further from its ends than it is long
        low, high = np.minimum(t.starts[:, 1], t.ends[:, 1]) - reach, np.maximum(t.starts[:, 1], t.ends[:, 1]) + reach
        return tuple(t.rows((low <= y) & (y <= high)).segments())

    def reversed(self) -> "LongOutline":
        """As of any outline."""
        t = self.table
        return LongOutline(Table(t.ends[::-1], t.starts[::-1], t.centers[::-1], t.radii[::-1], -t.turns[::-1]))

    def moved(self, dx: float, dy: float) -> "LongOutline":
        """As of any outline."""
        step = np.array([dx, dy])
        return self._placed(lambda places: places + step)

    def rotated(self, degrees: float, about: Point = ORIGIN) -> "LongOutline":
        """As of any outline."""
        cos, sin = cos_sin(degrees)

        def turn(places: Array) -> Array:
            x, y = (places - np.array(about)).T
            return np.column_stack([about.x + x * cos - y * sin, about.y + x * sin + y * cos])

        return self._placed(turn)

    def scaled(self, factor: float) -> "LongOutline":
        """As of any outline."""
        return self._placed(lambda places: places * factor, factor)

    def mirrored(self) -> "LongOutline":
        """As of any outline."""
        return self._placed(lambda places: places * np.array([-1.0, 1.0]), turn=-1).reversed()

    def _placed(self, place, factor: float = 1.0, turn: int = 1) -> "LongOutline":  # type: ignore[no-untyped-def]
        t = self.table
        starts, ends = place(t.starts), place(t.ends)
        centers = place(t.centers) if t.has_arcs else t.centers
        return LongOutline(Table(starts, ends, centers, t.radii * factor, t.turns * turn))

    def flattened(self, tolerance: float) -> list[tuple[float, float]]:
        """As of any outline."""
        return list(map(tuple, self.corners(tolerance).tolist()))

    def corners(self, tolerance: float) -> Array:
        """What `flattened` gives, n by 2."""
        t = self.table
        if not t.has_arcs:
            return t.starts
        rows, number = counted(chord_counts(t, tolerance))
        share = number / chord_counts(t, tolerance)[rows]
        inner = number > 0
        places = picked(t.starts, rows)
        which = rows[inner]
        angles = t.start_angles[which] + share[inner] * t.sweeps[which]
        put(places, inner, on_circles(picked(t.centers, which), t.radii[which], angles))
        return places

    def started_mid_straight(self) -> "Outline":
        """As of any outline."""
        t = self.table
        straight = ~t.is_arc
        if not straight.any():
            return self
        index = int(np.argmax(np.where(straight, t.lengths, -1.0)))
        turned = t.rows(np.r_[index : len(t), 0:index, index])
        middle = (t.starts[index] + t.ends[index]) / 2
        starts, ends = turned.starts.copy(), turned.ends.copy()
        starts[0], ends[-1] = middle, middle
        return LongOutline(Table(starts, ends, turned.centers, turned.radii, turned.turns))

    def bulge_vertices(self) -> list[BulgeVertex]:
        """As of any outline."""
        places, bulges = self.bulges()
        return list(map(BulgeVertex, *places.T.tolist(), bulges.tolist()))

    def bulges(self) -> tuple[Array, Array]:
        """What `bulge_vertices` gives: places, n by 2, and bulges."""
        t = halved(self.table)
        return t.starts, np.tan(t.sweeps / 4) if t.has_arcs else np.zeros(len(t))


def long_outline(table: Table) -> Outline:
    """The outline of the segments, kept in the way that suits their number."""
    return LongOutline(table) if len(table) >= LONG else Outline(tuple(table.segments()))


def compact(outline: Outline) -> Outline:
    """The same outline, kept in the way that suits its number of segments."""
    if outline.count < LONG or isinstance(outline, LongOutline):
        return outline
    return LongOutline(Table.of(outline.segments))


def table_of(outline: Outline) -> Table:
    """The columns of any outline."""
    return outline.table if isinstance(outline, LongOutline) else Table.of(outline.segments)


def is_closed(outline: Outline, near: float) -> bool:
    """Whether each segment ends no further than near (mm) from where the next one starts."""
    table = table_of(outline)
    return bool(np.all(norms(table.ends - np.roll(table.starts, -1, axis=0)) <= near))


def corners_of(outline: Outline, tolerance: float) -> Array:
    """What `flattened` gives of any outline, n by 2."""
    return outline.corners(tolerance) if isinstance(outline, LongOutline) else np.array(outline.flattened(tolerance))


def corner_turns(table: Table) -> tuple[Array, Array]:
    """Of a closed chain, for the corner at each start: sine and cosine of how far it turns left there.

    Each times the lengths of the ways in and out, which are 1 for arcs and in mm for lines.
    """
    arc = table.is_arc[:, None]
    scale = (table.turns / np.where(table.radii > 0, table.radii, 1.0))[:, None]
    steps = table.ends - table.starts
    into, out = (
        np.where(arc, scale * np.column_stack([-arms[:, 1], arms[:, 0]]), steps)
        for arms in (table.starts - table.centers, table.ends - table.centers)
    )
    before = np.roll(out, 1, axis=0)
    return cross(before, into), dot(before, into)


def chord_counts(table: Table, tolerance: float) -> "np.ndarray[tuple[int], np.dtype[np.int64]]":
    """As `outline.chords` for each segment, 1 for a line."""
    flat = np.clip(1.0 - tolerance / np.maximum(table.radii, tolerance), -1.0, 1.0)
    steps = np.minimum(np.where(table.radii <= tolerance, math.pi / 2, 2.0 * np.arccos(flat)), math.pi / 2)
    counts = np.ceil(np.abs(table.sweeps) / np.where(steps > 0, steps, 1.0)).astype(np.int64)
    return np.where(table.is_arc, np.maximum(counts, 1), 1)


def split(table: Table, pieces: "np.ndarray[tuple[int], np.dtype[np.int64]]") -> Table:
    """Each arc in so many equal pieces, end to end; a line has one."""
    if pieces.max(initial=1) == 1:
        return table
    rows, number = counted(pieces)
    many = pieces[rows] > 1
    starts, ends = picked(table.starts, rows), picked(table.ends, rows)
    inner = many & (number > 0)
    which = rows[inner]
    angles = table.start_angles[which] + number[inner] / pieces[which] * table.sweeps[which]
    put(starts, inner, on_circles(picked(table.centers, which), table.radii[which], angles))
    last = number == pieces[rows] - 1
    put(ends, ~last, picked(starts[1:], ~last[:-1]))
    return Table(starts, ends, picked(table.centers, rows), table.radii[rows], table.turns[rows])


def halved(table: Table) -> Table:
    """As `outline.halved` for each segment."""
    half = math.pi * (1 + 1e-12)
    return split(table, np.maximum(np.ceil(np.abs(table.sweeps) / half).astype(np.int64), 1))


def boundary_of(regions: Regions) -> Table:
    """All segments of all rings in one table."""
    return Table.joined([table_of(ring) for region in regions for ring in region.rings])
