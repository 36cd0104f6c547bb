"""Outlines as polygons that stay on one side of them, for bodies that must not be larger, or smaller, than drawn.

`Outline.flattened` puts its corners on the arcs, so that the polygon of a hole is smaller than the hole. Here the side
is chosen: on arcs that bend the other way the corners lie where the tangents of the true arc meet.
"""

import math
from typing import Literal

from jigtemplates.geometry.outline import Arc, Outline, Region

#: "around": the polygon has the whole area in it; "within": it lies in the area.
Side = Literal["around", "within"]

_LEFT = {"around": 1, "within": -1}


def facets(outline: Outline, chord: float, side: Side) -> list[tuple[float, float]]:
    """Corners of a polygon that has the area left of the outline in it ("around"), or lies in that area ("within").

    Nowhere is it further than chord (mm, > 0) from the outline. The first corner is not repeated. An outer ring runs
    counter-clockwise and a hole clockwise, so that for both the area is on the left.
    """
    points: list[tuple[float, float]] = []
    for s in outline.segments:
        if isinstance(s, Arc):
            points += _tangents(s, chord) if s.turn == _LEFT[side] else _chords(s, chord)
        else:
            points.append((s.start.x, s.start.y))
    return points


def polygons(region: Region, chord: float, side: Side) -> list[list[tuple[float, float]]]:
    """The facets of the region's outer ring, then of its holes."""
    return [facets(ring, chord, side) for ring in region.rings]


def _chords(arc: Arc, chord: float) -> list[tuple[float, float]]:
    """The arc's start and corners on the arc; the sagitta r (1 - cos(step / 2)) is at most the chord tolerance."""
    inside = 1.0 - chord / arc.radius if arc.radius > 0 else 0.0
    count = _pieces(arc, math.acos(max(inside, 0.0)))
    return [(arc.start.x, arc.start.y), *arc.places(count)]


def _tangents(arc: Arc, chord: float) -> list[tuple[float, float]]:
    """The arc's start, and corners outside it, r (1 / cos(step / 2) - 1) away; of a whole circle only those."""
    count = _pieces(arc, math.acos(arc.radius / (arc.radius + chord)))
    half = abs(arc.sweep) / count / 2
    out = arc.radius / math.cos(half)
    first, turn = arc.start_angle, arc.turn
    angles = [first + turn * half * (2 * i + 1) for i in range(count)]
    corners = [(arc.center.x + out * math.cos(a), arc.center.y + out * math.sin(a)) for a in angles]
    return corners if arc.start == arc.end else [(arc.start.x, arc.start.y), *corners]


def _pieces(arc: Arc, half_step: float) -> int:
    """How many equal pieces keep half a step within the limit, and within an eighth of a turn."""
    return max(1, math.ceil(abs(arc.sweep) / (2 * min(half_step, math.pi / 4)) - 1e-9))
