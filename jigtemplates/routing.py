"""Routes a template on the screen of geometry: what the bit really makes of an opening.

routed(O) = (O shrunk by half the bushing) grown by half the bit: every place the bushing can stand in
the opening, covered by the bit. Millimetres.
"""

import math
from dataclasses import dataclass

import numpy as np
import shapely

from jigtemplates.geometry.exact import THIN
from jigtemplates.geometry.measure import deviation, total_area
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Regions
from jigtemplates.template import Template, size_of

#: Chords on which two areas are subtracted where one is not within the other, mm (chosen: the area of
#: a 100 mm long edge is then right to a thousandth of a square millimetre).
FINE = 1e-5


@dataclass(frozen=True, slots=True)
class PredictedCut:
    """What the template makes with its bit and bushing, about the middle of the cut, not turned."""

    outline: Regions
    width: float
    length: float
    #: largest distance between the edge of this cut and the edge that was asked for, mm
    max_deviation: float
    #: what of the cut asked for stays standing because the bit cannot get there, mm²
    unreachable_area: float


def route(opening: Regions, bit: float, bushing: float) -> Regions:
    """The cut that a bit makes when its bushing is run all over an opening; diameters in mm.

    Empty where the bushing does not go into the opening. A bushing that only just goes in is guided
    along a line and cuts as wide as the bit.
    """
    return grow(shrink(opening, bushing / 2), bit / 2)


def predict(template: Template) -> PredictedCut | None:
    """The predicted cut of a template; None where it has no opening."""
    tools = template.job.tools
    outline = route(template.opening_at_rest, tools.bit.diameter.mm, tools.bushing.diameter.mm)
    size = size_of(outline)
    if size is None:
        return None
    return PredictedCut(
        outline=outline,
        width=size.width,
        length=size.length,
        max_deviation=deviation(outline, template.cut),
        unreachable_area=_unreachable(template, outline),
    )


def _unreachable(template: Template, routed: Regions) -> float:
    if not template.widened:  # the routed cut then lies within the cut asked for, so areas are enough
        return max(0.0, round(total_area(template.cut) - total_area(routed), 9))
    return left_standing(template.cut, routed)


def left_standing(wanted: Regions, routed: Regions) -> float:
    """Area of what is wanted and not routed, mm²; films thinner than THIN are rounding and not counted."""
    rest = shapely.difference(_polygon(wanted), _polygon(routed))
    return math.fsum(p.area for p in shapely.get_parts(rest) if p.area > THIN * p.length)


def _polygon(regions: Regions) -> "shapely.Geometry":
    parts = [
        shapely.polygons(
            np.array(region.outer.flattened(FINE)),
            holes=[np.array(h.flattened(FINE)) for h in region.holes] or None,
        )
        for region in regions
    ]
    return shapely.union_all(parts)
