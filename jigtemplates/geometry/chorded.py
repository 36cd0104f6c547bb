"""Areas on chords, for shapely: what is asked of them is asked to a tolerance, never given back as an outline."""

from collections.abc import Sequence
from typing import Any

import shapely

from jigtemplates.geometry.outline import LONG, Outline, Region, Regions


def polygon_of(region: Region, chord: float) -> Any:
    """The region as a shapely polygon, its arcs on chords no further than `chord` (mm) from them."""
    return shapely.Polygon(_corners(region.outer, chord), [_corners(hole, chord) for hole in region.holes])


def area_of(regions: Regions, chord: float) -> Any:
    """All of them together as one shapely area, arcs on chords no further than `chord` (mm) from them."""
    return shapely.union_all([polygon_of(region, chord) for region in regions])


def _corners(ring: Outline, chord: float) -> Sequence[tuple[float, float]] | Any:
    if ring.count < LONG:
        return ring.flattened(chord)
    from jigtemplates.geometry.long import corners_of

    return corners_of(ring, chord)
