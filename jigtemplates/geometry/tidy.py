"""Takes slivers out of outlines before they go to a machine."""

import math

from jigtemplates.geometry.exact import GeometryError, curve_of, meeting
from jigtemplates.geometry.outline import Arc, Line, Outline, Region, Regions, Segment

#: Segments shorter than this stall some controllers and no tool can make them, mm (the rule of
#: output-files for cut files).
SLIVER = 0.05


def without_slivers(regions: Regions, shortest: float = SLIVER) -> Regions:
    """The regions, their slivers taken out where the neighbours can be drawn together instead.

    A sliver goes when its two neighbours meet within `shortest` of it, so no edge moves by more than
    that (for the usual sliver between two round corners: some nanometres). Others stay.
    """
    return tuple(Region(_tidied(r.outer, shortest), tuple(_tidied(h, shortest) for h in r.holes)) for r in regions)


def _tidied(outline: Outline, shortest: float) -> Outline:
    segments = list(outline.segments)
    i = 0
    while len(segments) > 2 and i < len(segments):
        if segments[i].length < shortest and _closed_over(segments, i, shortest):
            i = 0
        else:
            i += 1
    return Outline(tuple(segments)) if len(segments) < len(outline.segments) else outline


def _closed_over(segments: list[Segment], i: int, shortest: float) -> bool:
    """Drops segment i and draws its neighbours together, if they meet near it; says whether it did."""
    before, after = segments[i - 1], segments[(i + 1) % len(segments)]
    middle = segments[i].middle
    try:
        place = meeting(curve_of(before), curve_of(after), middle)
    except GeometryError:
        return False
    if math.dist(place, middle) > shortest:
        return False
    segments[i - 1] = _ended(before, end=place)
    segments[(i + 1) % len(segments)] = _ended(after, start=place)
    del segments[i]
    return True


def _ended(segment: Segment, **ends: object) -> Segment:
    assert isinstance(segment, Line | Arc)
    return segment._replace(**ends)  # type: ignore[arg-type]
