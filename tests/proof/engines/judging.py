"""Holds an offset against another engine's, and against what an offset must be.

An engine that may be off by a tolerance t says that the offset by d lies between what it makes of d - t and of d + t.
That is asked exactly: the one must lie within ours, ours within the other. Where both have as many parts and holes,
nothing splits, closes or vanishes near d, and ours must have as many too; elsewhere only the distance counts.
"""

from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np
import shapely
from engines.chords import area_of, polygons_of
from engines.crossing import crossings
from engines.exactness import corners_of, distances_to, exactness, places_on, segments_of
from engines.outlines import Case
from engines.references import Engine

from jigtemplates.geometry.outline import Outline, Regions

#: Chords that stand for our arcs are so near to them, mm.
FINE = 1e-4
#: What only just fits is kept by `offset`, its edges up to twice its slack of 5e-6 mm past one another, mm; half as
#: much more for corners.
KEPT = 1.6e-5
#: Where a segment would be shorter than this its neighbours are drawn together if they meet there: a corner may be off
#: by as much, mm (`SHORTEST` of geometry.curves).
SHORTEST = 1e-4
#: Lines and circles are where they must be within this, mm.
EXACT = 1e-9


#: Where the two sides that an engine gives are no further apart, nothing that is only a line is between, mm (chosen:
#: ten times the widest of their bands).
STEADY = 0.05
#: No segment is shorter, mm, and where one would be its neighbours' common end may be off either by as much (`ROUNDING`
#: of geometry.chain).
DRAWN = 2e-5


class Verdict(NamedTuple):
    """What was found of one case."""

    faults: tuple[str, ...]
    #: engines asked, and how many of them saw nothing split, close or vanish near the distance
    asked: int
    clear: int
    #: segments of ours, and those with an end that is off by more than EXACT because neighbours were drawn together
    segments: int
    loose: int


def count(area: Any, tolerance: float) -> tuple[int, ...]:
    """Holes of each part, fewest first; so its length is the number of parts. None as thin as the tolerance counts."""
    parts = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon" and _thickness(p.exterior) > tolerance]
    return tuple(sorted(sum(_thickness(hole) > tolerance for hole in part.interiors) for part in parts))


def _thickness(ring: Any) -> float:
    return 2 * float(shapely.Polygon(ring).area) / (float(ring.length) or 1.0)


def shape_of(regions: Regions) -> tuple[int, ...]:
    """The same of ours."""
    return tuple(sorted(len(region.holes) for region in regions))


def apart(a: Any, b: Any) -> float:
    """Hausdorff distance of two boundaries at their corners, mm; infinite where one of them is empty."""
    if a.is_empty or b.is_empty:
        return 0.0 if a.is_empty and b.is_empty else np.inf
    return max(_one_way(a, b), _one_way(b, a))


def _one_way(a: Any, b: Any) -> float:
    rings = [shapely.get_coordinates(ring) for ring in shapely.get_rings(shapely.get_parts(b))]
    edges = shapely.linestrings(np.concatenate([np.stack([r[:-1], r[1:]], axis=1) for r in rings]))
    tree = shapely.STRtree(edges)
    _, far = tree.query_nearest(shapely.points(shapely.get_coordinates(a)), return_distance=True, all_matches=False)
    return float(far.max())


class Between(NamedTuple):
    """What an engine says on both sides of a distance."""

    engine: Engine
    less: Any
    same: Any
    more: Any

    @property
    def counts(self) -> set[tuple[int, ...]]:
        """Holes of each part."""
        return {count(area, self.engine.tolerance / 2) for area in (self.less, self.same, self.more)}

    @property
    def is_clear(self) -> bool:
        """Whether no part or hole appears or goes between."""
        return len(self.counts) == 1

    @property
    def spread(self) -> float:
        """How far the smaller and the larger are apart, mm: large where a spike appears between."""
        return apart(self.less, self.more)

    @property
    def room(self) -> float:
        """Area between the smaller and the larger, mm²."""
        return abs(float(self.more.area) - float(self.less.area))


def ask(engine: Engine, case: Case) -> Between:
    """The engine's offsets by a distance smaller by its tolerance, by the distance, and by a larger one."""
    t = engine.tolerance + FINE
    return Between(engine, *(engine.answer(case.regions, case.distance + by) for by in (-t, 0.0, t)))


def compared(said: Between, ours: Regions, area: Any) -> Iterator[str]:
    """Faults of ours as an engine sees them."""
    name, tolerance = said.engine.name, said.engine.tolerance
    shapely.prepare(area)
    shapely.prepare(said.more)
    if not said.less.is_empty and not shapely.covers(area, said.less):
        yield f"{name}: something is missing, {_most(said.less, area)}"
    if not area.is_empty and not shapely.covers(said.more, area):
        yield f"{name}: something is too much, {_most(area, said.more)}"
    if not said.is_clear:
        return
    if {shape_of(ours)} != said.counts:
        yield f"{name}: parts and holes {shape_of(ours)}, there {said.counts}"
    if (far := apart(area, said.same)) > (most := said.spread + tolerance):
        yield f"{name}: {far:.2g} mm apart, where {most:.2g} is allowed"
    differing = float(shapely.symmetric_difference(area, said.same, grid_size=1e-7).area)
    if differing > said.room + 1e-6 * float(area.length) + 1e-6:
        yield f"{name}: differs by {differing:.2g} mm², where {said.room:.2g} is allowed"


def _most(a: Any, b: Any) -> str:
    left = shapely.difference(a, b, grid_size=1e-7)
    place = shapely.point_on_surface(left)
    return f"{float(left.area):.2g} mm² at {place.x:.4f}, {place.y:.4f}" if not place.is_empty else "by rounding"


def lawful(case: Case, ours: Regions) -> Iterator[str]:
    """Faults that need no engine to be seen."""
    segments = segments_of(ours)
    if short := [s.length for s in segments if s.length < DRAWN and s.start != s.end]:
        yield f"{len(short)} segments of {min(short):.2g} mm and more"
    if any(a.end != b.start for r in ours for ring in r.rings for a, b in _following(ring)):
        yield "a chain is open"
    if any(not r.outer.is_ccw and r.outer.area < -KEPT * r.outer.length for r in ours):
        yield "an outer ring runs clockwise"
    if past := crossings(segments, KEPT):
        yield f"{len(past)} crossings, by {max(by for _, by in past):.2g} mm at {past[0][0]}"
    circles, ends = exactness(case.regions, ours, case.distance)
    if circles > EXACT:
        yield f"a circle is off by {circles:.2g} mm"
    if ends.max(initial=0.0) > DRAWN:
        yield f"an end is off its line or circle by {ends.max():.2g} mm"
    for name, places, allowed in (("corner", corners_of(ours), SHORTEST), ("place", places_on(ours, 0.5), KEPT)):
        far = np.abs(distances_to(places, case.regions) - abs(case.distance))
        if far.max(initial=0.0) > allowed:
            yield f"a {name} is off by {far.max():.2g} mm at {places[far.argmax()]}"


def _following(ring: Outline) -> Iterator[tuple[Any, Any]]:
    return zip(ring.segments, [*ring.segments[1:], ring.segments[0]], strict=True)


def sound(ours: Regions) -> Iterator[str]:
    """Faults where nothing is near to splitting: slivers, and rings that are not valid on fine chords."""
    for region in ours:
        for ring in region.rings:
            if 2 * abs(ring.area) < KEPT * ring.length:
                yield f"a sliver of {2 * abs(ring.area) / ring.length:.2g} mm"
    for polygon in polygons_of(ours, 1e-6):
        if not polygon.is_valid:
            yield f"not valid: {shapely.is_valid_reason(polygon)}"


def judge(case: Case, ours: Regions, engines: tuple[Engine, ...]) -> Verdict:
    """Everything that is wrong with our offset of a case."""
    area = area_of(ours, FINE)
    faults, asked, clear, is_steady = list(lawful(case, ours)), 0, 0, True
    for engine in engines:
        if engine.suits(case.regions, case.distance):
            said = ask(engine, case)
            faults += compared(said, ours, area)
            asked, clear = asked + 1, clear + said.is_clear
            is_steady = is_steady and said.is_clear and said.spread < STEADY
    if is_steady and asked:
        faults += sound(ours)
    ends = exactness(case.regions, ours, case.distance).ends
    return Verdict(tuple(faults), asked, clear, len(ends), int(np.sum(ends > EXACT)))
