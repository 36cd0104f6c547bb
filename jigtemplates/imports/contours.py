"""Closed contours become one area: what is no contour is refused, what lies inside is a hole."""

import itertools
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely

from jigtemplates.errors import quoted
from jigtemplates.geometry.curves import direction
from jigtemplates.geometry.long import LongOutline, compact, corners_of
from jigtemplates.geometry.outline import (
    TAU,
    Arc,
    BulgeVertex,
    Line,
    Outline,
    Point,
    Region,
    Segment,
    segment_from_bulge,
)
from jigtemplates.geometry.table import Table
from jigtemplates.imports.chains import Chain
from jigtemplates.imports.curves import ended
from jigtemplates.imports.trouble import SELECT, OutlineError, number_text, place_text, refuse

#: Extents of a cut beyond which the unit is surely wrong, mm (chosen: no router cuts less or reaches further).
SMALLEST, LARGEST = 1.0, 10_000.0
#: Furthest from the drawing's origin, mm: beyond it coordinates lose the nanometres (chosen).
FURTHEST = 1e7
#: Chords on which crossings are looked for, mm, and once more where there seem to be some (chosen: the
#: chords of `offset`, and a hundredth of the tolerance of joints).
CHORD, FINE = 1e-3, 1e-4
#: Arcs whose centres and radii differ by less are one arc, mm (chosen: the last of the six decimals of a file).
SAME_CIRCLE = 2e-6
#: A corner this far beside the line past it is none, mm (chosen: as for an arc that is straight).
STRAIGHT = 5e-7
#: Shorter segments are rounding, mm (chosen: the geometry's own limit is ten times that).
NOTHING = 1e-5
#: Most contours in one outline (chosen: each is compared with each).
MOST = 500
#: Most segments of one contour, and corners beyond which repeated ones are looked for first (chosen: a quarter more
#: than the outline of 200 000 points; below, nothing takes a second).
MOST_SEGMENTS, MANY = 250_000, 20_000
#: Longest edges of an outline, all together, m (chosen: those of the largest cut, and hours of routing; the edges of a
#: thousand needles are longer, and finding where a bit gets between them takes minutes).
LONGEST = 4 * LARGEST / 1000
#: Most contours named in a fault (chosen: it stays a line).
NAMED = 8

NO_OUTLINE = "draws no outline (draw it as a path, polyline or circle that is visible)"

_PLACE = re.compile(r"\[(\S+) (\S+)\]")


@dataclass(frozen=True)
class Contour:
    """A closed contour with the polygon that decides where it lies."""

    chain: Chain
    outline: Outline
    polygon: Any

    @property
    def name(self) -> str:
        """What to call it in a fault."""
        return self.chain.name


def region_of(chains: Sequence[Chain], scale: float = 1.0) -> Region:
    """The one area that the chains enclose, outer ring counter-clockwise, in the file's coordinates.

    Sizes are judged after scale. Raises OutlineError with a sentence for each chain that is no contour, and where
    the contours cross, lie on each other or enclose several areas.
    """
    if not chains:  # everything drawn is a speck
        refuse(NO_OUTLINE)
    if len(chains) > MOST:
        refuse(f"holds {len(chains)} contours (at most {MOST}; select the ones that are meant)")
    faults = [fault for chain in chains if (fault := chain.fault or _size_fault(chain, scale))]
    faults = faults or _length_faults(chains, scale)
    contours = [] if faults else [_contour(chain) for chain in chains]
    faults += [fault for contour in contours if (fault := _crossing(contour))]
    faults = faults or list(_meeting(contours))
    if faults:
        raise OutlineError(faults)
    return _nested(contours)


def _outline(chain: Chain) -> Outline:
    assert chain.outline is not None
    return chain.outline


def _size_fault(chain: Chain, scale: float) -> str | None:
    if _outline(chain).count > MOST_SEGMENTS:
        return f"{chain.name}: has more than {MOST_SEGMENTS} segments (draw it simpler)"
    box = _outline(chain).bounds
    if max(map(abs, box)) > FURTHEST:
        return f"{chain.name}: lies {number_text(max(map(abs, box)) / 1e6)} km from the origin (move it there)"
    width, height = box.width * scale, box.height * scale
    size = f"{number_text(width)} x {number_text(height)} mm at {place_text(box.center)}"
    if max(width, height) > LARGEST:
        return f"{chain.name}: is too large, {size} (at most {LARGEST / 1000:g} m; is the unit right?)"
    if min(width, height) < SMALLEST:
        return f"{chain.name}: is too small, {size} (at least {SMALLEST:g} mm; is the unit right?)"
    return None


def _length_faults(chains: Sequence[Chain], scale: float) -> list[str]:
    """A sentence where there is more edge than any cut has, with the chain that has the most of it."""
    lengths = [_edge_length(_outline(chain)) * scale / 1000 for chain in chains]
    if sum(lengths) <= LONGEST * (1 + 1e-9):
        return []
    longest = chains[lengths.index(max(lengths))]
    most = f"at most {LONGEST:g} m; draw it simpler, with fewer points or turns"
    return [f"{longest.name}: the outline's edge is {number_text(sum(lengths))} m long ({most})"]


def _edge_length(outline: Outline) -> float:
    """Of all segments, mm."""
    if isinstance(outline, LongOutline):
        return float(outline.table.lengths.sum())
    return sum(s.length for s in outline.segments)


def _contour(chain: Chain) -> Contour:
    outline = compact(tidied(_outline(chain)))
    return Contour(chain, outline, _polygon(outline, CHORD))


def _polygon(outline: Outline, chord: float) -> Any:
    points = corners_of(outline, chord)
    return shapely.Polygon(points if len(points) > 2 else np.concatenate([points] * 3)[:3])


def tidied(outline: Outline) -> Outline:
    """Without segments of no length; arcs that go on as one another on one circle made one."""
    if isinstance(outline, LongOutline) and _is_tidy(outline.table):
        return _seamless(outline)
    kept = [s for s in outline.segments if (isinstance(s, Arc) and s.start == s.end) or s.length > NOTHING]
    if not kept:
        return outline
    kept = [ended(s, s.start, after.start) for s, after in zip(kept, [*kept[1:], kept[0]], strict=True)]
    first = next((i for i, s in enumerate(kept) if not _goes_on(kept[i - 1], s)), None)
    if first is None:  # one circle all round
        arc = max((s for s in kept if isinstance(s, Arc)), key=lambda s: s.length)
        return Outline.circle(arc.center, arc.radius, arc.turn) if len(kept) > 1 else Outline(tuple(kept))
    done: list[Segment] = []
    for s in [*kept[first:], *kept[:first]]:
        if done and _goes_on(done[-1], s):
            done[-1] = _together(done[-1], s)
        else:
            done.append(s)
    return Outline(tuple(_without_seam(done)))


def _seamless(outline: LongOutline) -> LongOutline:
    """`_without_seam` of very many segments."""
    table = outline.table
    first, last = table.rows(np.array([0, -1])).segments()
    if len(_without_seam([first, *[first] * 2, last])) == 4:
        return outline
    rest = table.rows(slice(0, len(table) - 1))
    return LongOutline(replace(rest, starts=np.concatenate([[last.start], rest.starts[1:]])))


def _is_tidy(table: Table) -> bool:
    """Whether nothing of very many segments has to be made tidy, but perhaps the seam."""
    if np.any(table.lengths <= NOTHING):
        return False
    before = table.rows(np.arange(len(table)) - 1)
    apart = np.hypot(*(before.centers - table.centers).T) + np.abs(before.radii - table.radii)
    return not np.any(table.is_arc & (before.turns == table.turns) & (apart < SAME_CIRCLE))


def _without_seam(segments: list[Segment]) -> list[Segment]:
    """Without the corner that is none where a contour begins in the middle of a straight, as ours do."""
    first, last = segments[0], segments[-1]
    if len(segments) < 4 or isinstance(first, Arc) or isinstance(last, Arc):
        return segments
    (ax, ay), (bx, by) = direction(last), direction(first)
    beside = abs(ax * by - ay * bx) * min(first.length, last.length)
    if beside > STRAIGHT or ax * bx + ay * by < 0:
        return segments
    return [Line(last.start, first.end), *segments[1:-1]]


def _goes_on(a: Segment, b: Segment) -> bool:
    """Whether b goes on along a's circle, both less than a full turn together."""
    if not isinstance(a, Arc) or not isinstance(b, Arc) or a.turn != b.turn or a.start == a.end:
        return False
    same = math.dist(a.center, b.center) + abs(a.radius - b.radius) < SAME_CIRCLE
    return same and abs(a.sweep) + abs(b.sweep) < TAU + 1e-6


def _together(a: Segment, b: Segment) -> Segment:
    assert isinstance(a, Arc)
    assert isinstance(b, Arc)
    sweep = abs(a.sweep) + abs(b.sweep)
    if sweep < 1.5 * math.pi:
        return segment_from_bulge(BulgeVertex(*a.start, a.turn * math.tan(sweep / 4)), BulgeVertex(*b.end, 0.0))
    longer = max(a, b, key=lambda arc: arc.length)
    return longer._replace(start=a.start, end=b.end)


def _crossing(contour: Contour) -> str | None:
    """The sentence about a contour that crosses or touches itself or encloses nothing."""
    polygon = contour.polygon
    twice = _met_twice(polygon)
    if twice is not None:
        return f"{contour.name}: crosses or touches itself at {place_text(twice)} (take the crossing out)"
    if not polygon.is_valid:
        polygon = _polygon(contour.outline, FINE)
    if not polygon.is_valid:
        place = _PLACE.search(shapely.is_valid_reason(polygon))
        if place:
            where = place_text(Point(float(place[1]), float(place[2])))
            return f"{contour.name}: crosses or touches itself at {where} (take the crossing out)"
    if polygon.area <= 2 * CHORD * polygon.length:
        return f"{contour.name}: encloses no area (draw round the cut)"
    return None


def _met_twice(polygon: Any) -> Point | None:
    """A place that a contour of very many corners comes to twice; GEOS takes the square of their number for that."""
    places = shapely.get_coordinates(polygon)[:-1]
    if len(places) < MANY:
        return None
    places = places[np.any(places != np.roll(places, 1, axis=0), axis=1)]
    _, first, times = np.unique(places, axis=0, return_index=True, return_counts=True)
    again = first[times > 1]
    return Point(*places[again.min()].tolist()) if len(again) else None


def _meeting(contours: Sequence[Contour]) -> Iterator[str]:
    """A sentence for each two contours that lie on each other, cross or touch."""
    rings = [shapely.get_exterior_ring(c.polygon) for c in contours]
    pairs = shapely.STRtree(rings).query(rings, predicate="intersects") if len(rings) > 1 else np.empty((2, 0), int)
    for i, j in sorted((i, j) for i, j in pairs.T.tolist() if i < j):
        a, b = contours[i], contours[j]
        if _alike(a, b):
            yield f"{b.name}: lies on {a.name} at {place_text(b.outline.bounds.center)} (delete one)"
            continue
        meet = shapely.get_coordinates(shapely.intersection(rings[i], rings[j]))
        where = place_text(Point(*meet[0].tolist()))
        yield f"{b.name}: crosses or touches {a.name} at {where} (unite them or part them)"


def _alike(a: Contour, b: Contour) -> bool:
    boxes = max(abs(p - q) for p, q in zip(a.outline.bounds, b.outline.bounds, strict=True))
    apart = shapely.symmetric_difference(a.polygon, b.polygon).area
    return boxes < 0.01 and bool(apart < 0.01 * a.polygon.length)


def _nested(contours: Sequence[Contour]) -> Region:
    """Outer ring and holes; OutlineError where there are several outer rings or something in a hole."""
    by_size = sorted(contours, key=lambda c: -abs(c.outline.area))
    inside = {id(c): [d for d in by_size if _is_in(c, d)] for c in by_size}
    outer = [c for c in contours if not inside[id(c)]]
    if len(outer) > 1:
        refuse(_several(outer))
    for c in contours:
        if len(inside[id(c)]) > 1:
            hole = inside[id(c)][1]
            refuse(f"{c.name}: lies within the hole {hole.name} (an outline is one area; select its parts one by one)")
    holes = tuple(c.outline.turned(False) for c in contours if c is not outer[0])
    return Region(outer[0].outline.turned(True), holes)


def _is_in(inner: Contour, outer: Contour) -> bool:
    if inner is outer or abs(inner.outline.area) >= abs(outer.outline.area):
        return False
    return bool(shapely.contains_xy(outer.polygon, *corners_of(inner.outline, CHORD)[0]))


def _several(outer: Sequence[Contour]) -> str:
    names = [f"{c.name} at {place_text(c.outline.bounds.center)}" for c in outer[:NAMED]]
    more = ", …" if len(outer) > NAMED else ""
    ident = next(iter(itertools.chain.from_iterable(c.chain.idents for c in outer)), None)
    how = f"{SELECT}{quoted(ident)}" if ident else "give the wanted one an id"
    return f"holds {len(outer)} separate contours: {', '.join(names)}{more} ({how}, or delete the others)"


__all__ = ["LARGEST", "NO_OUTLINE", "SMALLEST", "Contour", "region_of", "tidied"]
