"""Recess and plug routed from one opening and laid over each other, exactly; millimetres.

recess = (opening shrunk by half its bushing) grown by half its bit. plug = the opening shrunk by half the plug's
bushing, which is where that bushing's middle can be, and shrunk again by half its bit, which is what the groove along
the edge of that leaves standing. Shrinking twice is shrinking once by both.
"""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from jigtemplates.geometry.chorded import area_of
from jigtemplates.geometry.measure import deviation, distances, samples, segments_of, total_area
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Region, Regions
from jigtemplates.inlay import DECIMALS, Fit
from jigtemplates.routing import FINE, left_standing, route


@dataclass(frozen=True, slots=True)
class Overlay:
    """Recess and plug in one place, and how they differ."""

    recess: Regions
    #: a part that is too narrow for the groove on both its sides is lost
    plug: Regions
    #: least distance from the plug's edge to the recess's, mm; less than 0: so far the plug reaches beyond it
    smallest_gap: float
    #: largest distance from either edge to the other, mm; infinite where only one of the two is there
    largest_gap: float
    #: of the recess, not filled by the plug, mm²
    open_area: float
    #: of the plug, outside the recess, mm²
    overlap_area: float

    def as_json(self) -> dict[str, Any]:
        """The numbers as `--json` prints them, mm and mm²; gaps are null where only one of the two is there."""
        gaps = {"smallest_gap": self.smallest_gap, "largest_gap": self.largest_gap}
        return {
            **{name: round(mm, DECIMALS) + 0.0 if math.isfinite(mm) else None for name, mm in gaps.items()},
            "open_area": round(self.open_area, DECIMALS) + 0.0,
            "overlap_area": round(self.overlap_area, DECIMALS) + 0.0,
            "recess_parts": len(self.recess),
            "plug_parts": len(self.plug),
        }


def lay_over(opening: Regions, fit: Fit) -> Overlay:
    """Route both from an opening (in any place) and compare them.

    Both may be empty, and either may come in more parts than the other where the opening has narrow passages.
    """
    return _compared(route(opening, fit.recess.bit, fit.recess.bushing), plug_of(opening, fit))


def _compared(recess: Regions, plug: Regions) -> Overlay:
    return Overlay(
        recess=recess,
        plug=plug,
        smallest_gap=smallest_gap(recess, plug),
        largest_gap=deviation(recess, plug),
        open_area=_area_left(recess, plug),
        overlap_area=_area_left(plug, recess),
    )


def plug_of(opening: Regions, fit: Fit) -> Regions:
    """What stays standing inside the groove: parts that are lines or points alone are none."""
    return tuple(region for region in shrink(opening, fit.plug.beyond) if not _is_thin(region))


def _is_thin(region: Region) -> bool:
    """True for a line there and back, or a point: nothing of it stays standing."""
    return region.area <= FINE * region.outer.length


def smallest_gap(recess: Regions, plug: Regions) -> float:
    """Least distance of the plug's edge from the recess's, mm, seen at every corner and every 0.2 mm between.

    Less than 0 where the plug reaches beyond the recess; infinite where one of the two is empty.
    """
    if not recess or not plug:
        return float("inf")
    places = np.concatenate([samples(ring) for region in plug for ring in region.rings])
    apart = distances(places, segments_of(recess))
    inside = shapely.contains_xy(area_of(recess, FINE), places)
    return float(np.where(inside | (apart <= FINE), apart, -apart).min())


def _area_left(one: Regions, other: Regions) -> float:
    """Area of one outside the other, mm²."""
    if not one:
        return 0.0
    return left_standing(one, other) if other else total_area(one)


def second_opening(first: Regions, fit: Fit) -> Regions:
    """The opening that a groove round the outside of a first template leaves in the sheet below it.

    `fit.plug` is the pair that is led round the first; the opening's edge is the far edge of its groove.
    """
    return grow(grow(first, fit.plug.bushing / 2), fit.plug.bit / 2)


def lay_over_first(first: Regions, fit: Fit) -> Overlay:
    """The cut that a second template makes, with the first laid over it as if it were the plug."""
    cut = route(second_opening(first, fit), fit.recess.bit, fit.recess.bushing)
    return _compared(cut, first)
