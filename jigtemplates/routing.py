"""Routes a template on the screen of geometry: what the bit really makes of an opening.

routed(O) = (O shrunk by half the bushing) grown by half the bit: every place the bushing can stand in
the opening, covered by the bit. Millimetres.
"""

import math
from dataclasses import dataclass

import numpy as np
import shapely

from jigtemplates.geometry.chorded import area_of
from jigtemplates.geometry.exact import THIN
from jigtemplates.geometry.measure import deviation, total_area
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import LONG, Arc, Outline, Regions, Segment
from jigtemplates.opening import size_of
from jigtemplates.outside import is_outside, path_round, work_left
from jigtemplates.parameters.job import Cut
from jigtemplates.template import Template
from jigtemplates.wanted import edge_of_work

#: Chords on which two areas are subtracted where one is not within the other, mm (chosen: the area of
#: a 100 mm long edge is then right to a thousandth of a square millimetre).
FINE = 1e-5


@dataclass(frozen=True, slots=True)
class PredictedCut:
    """What the template makes with its bit and bushing, about the middle of the cut, not turned."""

    outline: Regions
    #: extent across; of a cut that is open to the edge of the work, from that edge
    width: float
    length: float
    #: largest distance between the edge of this cut and the edge that was asked for, mm
    max_deviation: float
    #: what stays standing that should be cut away, because the bit cannot get there, mm²
    unreachable_area: float
    #: what is cut away and should stay, mm²: beside a cut that was widened, where wood points into it, and at the
    #: corners of outside work
    excess_area: float
    #: everywhere the middle of the bushing can be; degenerate (a line there and back, a point) where it is trapped
    path: Regions


def route(opening: Regions, bit: float, bushing: float) -> Regions:
    """The cut that a bit makes when its bushing is run all over an opening; diameters in mm.

    Empty where the bushing does not go into the opening. A bushing that only just goes in is guided
    along a line and cuts as wide as the bit.
    """
    return grow(shrink(opening, bushing / 2), bit / 2)


def predict(template: Template) -> PredictedCut | None:
    """The predicted cut of a template; None where it has no opening."""
    if is_outside(template.job.cut):
        return _predict_outside(template)
    tools = template.job.tools
    path = shrink(template.opening_at_rest, tools.bushing.diameter.mm / 2)
    outline = grow(path, tools.bit.diameter.mm / 2)
    size = size_of(outline, edge_of_work(template.job.cut))
    if size is None:
        return None
    apart = deviation(outline, template.cut)
    unreachable, excess = _areas(template, outline, apart)
    return PredictedCut(
        outline=outline,
        width=size.width,
        length=size.length,
        max_deviation=apart,
        unreachable_area=unreachable,
        excess_area=excess,
        path=path,
    )


def _predict_outside(template: Template) -> PredictedCut | None:
    """The work that is left when the bushing has gone round the pattern; its path is the edge of `path`."""
    tools, pattern = template.job.tools, template.opening_at_rest
    outline = work_left(pattern, tools.bit.diameter.mm, tools.bushing.diameter.mm)
    size = size_of(outline)
    if size is None:
        return None
    return PredictedCut(
        outline=outline,
        width=size.width,
        length=size.length,
        max_deviation=deviation(outline, template.cut),
        unreachable_area=left_standing(outline, template.cut),
        excess_area=left_standing(template.cut, outline),
        path=path_round(pattern, tools.bushing.diameter.mm),
    )


def route_for(cut: Cut, opening: Regions, bit: float, bushing: float) -> Regions:
    """What an opening cuts, or what a pattern leaves of the work; diameters in mm."""
    return work_left(opening, bit, bushing) if is_outside(cut) else route(opening, bit, bushing)


def _areas(template: Template, routed: Regions, apart: float) -> tuple[float, float]:
    """What stays standing, and what is cut away too much; apart is how far the edges are from each other at most."""
    if not template.widened and all(not region.holes and is_convex(region.outer) for region in template.cut):
        # The routed cut then lies within the cut asked for, so areas are enough.
        return max(0.0, round(total_area(template.cut) - total_area(routed), 9)), 0.0
    if apart < THIN / 2:
        return 0.0, 0.0  # no more than films, which are not counted
    return left_standing(template.cut, routed), left_standing(routed, template.cut)


def is_convex(outline: Outline) -> bool:
    """True where no arc and no corner of a counter-clockwise outline bends inwards."""
    if outline.count >= LONG:
        return _all_bends_out(outline)
    arcs_bend_out = all(s.turn > 0 for s in outline.segments if isinstance(s, Arc))
    ways = [(_way_in(s), _way_out(s)) for s in outline.segments]
    return arcs_bend_out and all(
        out[0] * into[1] - out[1] * into[0] > -1e-9
        for (_, out), (into, _) in zip(ways, (*ways[1:], ways[0]), strict=True)
    )


def _all_bends_out(outline: Outline) -> bool:
    from jigtemplates.geometry.long import corner_turns, table_of

    table = table_of(outline)
    if np.any(table.turns < 0):
        return False
    sines, _ = corner_turns(table)
    reach = np.where(table.is_arc, 1.0, table.lengths)
    return bool(np.all(sines > -1e-9 * reach * np.roll(reach, 1)))


def _way_in(s: Segment) -> tuple[float, float]:
    """Direction of a segment at its start, of length 1."""
    if isinstance(s, Arc):
        return -s.turn * (s.start.y - s.center.y) / s.radius, s.turn * (s.start.x - s.center.x) / s.radius
    return (s.end.x - s.start.x) / s.length, (s.end.y - s.start.y) / s.length


def _way_out(s: Segment) -> tuple[float, float]:
    """Direction of a segment at its end."""
    x, y = _way_in(s.reversed())
    return -x, -y


def left_standing(wanted: Regions, routed: Regions) -> float:
    """Area of what is wanted and not routed, mm²; films thinner than THIN are rounding and not counted."""
    rest = shapely.difference(area_of(wanted, FINE), area_of(routed, FINE))
    return math.fsum(p.area for p in shapely.get_parts(rest) if p.area > THIN * p.length)
