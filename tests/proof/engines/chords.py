"""Outlines on chords, by formulas of their own: nothing here is shared with what is tested but the noun."""

import math
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.geometry.outline import Arc, Outline, Regions

Places = NDArray[np.float64]


def ring_of(ring: Outline, tolerance: float) -> Places:
    """The ring's places on chords that keep within the tolerance (mm) of its arcs, the first not repeated."""
    return np.concatenate([_on(s, tolerance) if isinstance(s, Arc) else np.array([s.start]) for s in ring.segments])


def _on(arc: Arc, tolerance: float) -> Places:
    """Places on an arc without its end."""
    (x, y), radius = arc.center, arc.radius
    if radius == 0:
        return np.array([arc.start])
    first = math.atan2(arc.start.y - y, arc.start.x - x)
    last = math.atan2(arc.end.y - y, arc.end.x - x)
    sweep = (last - first) % math.tau if arc.turn > 0 else -((first - last) % math.tau)
    if arc.start == arc.end:
        sweep = arc.turn * math.tau
    step = 4 * math.asin(math.sqrt(min(0.5 * tolerance / radius, 0.146)))  # 1 - cos(step / 2) = tolerance / radius; 90°
    ways = first + sweep * np.linspace(0, 1, max(1, math.ceil(abs(sweep) / step)), endpoint=False)
    if len(ways) < 3 and arc.start == arc.end:
        ways = first + sweep * np.arange(4) / 4
    places = np.column_stack([x + radius * np.cos(ways), y + radius * np.sin(ways)])
    places[0] = arc.start
    return places


def rings_of(regions: Regions, tolerance: float) -> list[Places]:
    """All rings on chords."""
    return [ring_of(ring, tolerance) for region in regions for ring in region.rings]


def polygons_of(regions: Regions, tolerance: float) -> list[Any]:
    """A shapely polygon of each region that is not a single place or one line there and back."""
    found = []
    for region in regions:
        outer, *holes = [ring_of(ring, tolerance) for ring in region.rings]
        if len(outer) > 2:
            found.append(shapely.polygons(outer, holes=[shapely.linearrings(h) for h in holes if len(h) > 2] or None))
    return found


def area_of(regions: Regions, tolerance: float) -> Any:
    """One valid shapely area of the regions."""
    found = shapely.MultiPolygon(polygons_of(regions, tolerance))
    return found if found.is_valid else shapely.make_valid(found, method="structure", keep_collapsed=False)


def nested(loops: list[Places]) -> Any:
    """The area of loops, those that run counter-clockwise filled and the others taken from the smallest round them."""
    if not any(len(loop) > 2 for loop in loops):
        return shapely.MultiPolygon()
    rings = shapely.polygons([shapely.linearrings(loop) for loop in loops if len(loop) > 2])
    fills = np.array([shapely.is_ccw(shapely.get_exterior_ring(ring)) for ring in rings], dtype=bool)
    outers, inners = rings[fills], rings[~fills]
    held: dict[int, list[Any]] = {}
    tree = shapely.STRtree(outers)
    for inner in inners:
        around = tree.query(shapely.point_on_surface(inner), predicate="within")
        if len(around):
            held.setdefault(int(min(around, key=lambda i: outers[i].area)), []).append(inner)
    parts = [shapely.Polygon(o.exterior, [h.exterior for h in held.get(i, [])]) for i, o in enumerate(outers)]
    found = shapely.MultiPolygon(parts)
    return found if found.is_valid else shapely.make_valid(found)
