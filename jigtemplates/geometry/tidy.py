"""Takes slivers out of outlines before they go to a machine."""

import math
from functools import lru_cache

from jigtemplates.geometry.chain import GRID
from jigtemplates.geometry.curves import GeometryError, curve_of, meeting, off
from jigtemplates.geometry.outline import LONG, Arc, Line, Outline, Region, Regions, Segment

#: Segments shorter than this stall some controllers and no tool can make them, mm (the rule of
#: output-files for cut files).
SLIVER = 0.05


def without_slivers(regions: Regions, shortest: float = SLIVER) -> Regions:
    """The regions, their slivers taken out where the neighbours can be drawn together instead.

    A sliver goes when its two neighbours meet within `shortest` of it, so no edge moves by more than
    that (for the usual sliver between two round corners: some nanometres). Others stay.
    """
    return tuple(Region(_tidied(r.outer, shortest), tuple(_tidied(h, shortest) for h in r.holes)) for r in regions)


@lru_cache(maxsize=4)  # laser and CNC router are mostly given the same opening
def _tidied(outline: Outline, shortest: float) -> Outline:
    """Segment by segment; where one went, the one before it, whose neighbour is new, is looked at again."""
    ring = _Ring(list(outline.segments))
    at, unseen = 0, len(ring.segments)
    while unseen > 0 and ring.count > 2:
        if ring.segments[at].length < shortest and ring.close_over(at, shortest):
            at, unseen = ring.before[at], min(unseen + 2, ring.count)
        else:
            at, unseen = ring.after[at], unseen - 1
    if ring.count == outline.count:
        return outline
    tidy = Outline(tuple(ring.left()))
    if ring.count < LONG:
        return tidy
    from jigtemplates.geometry.long import compact

    return compact(tidy)


class _Ring:
    """Segments in a ring, each knowing the one before and the one after it that is still there."""

    def __init__(self, segments: list[Segment]) -> None:
        self.segments = segments
        self.count = len(segments)
        self.before = [i - 1 for i in range(self.count)]
        self.before[0] = self.count - 1
        self.after = [*range(1, self.count), 0]
        self._gone = [False] * self.count

    def left(self) -> list[Segment]:
        """What is still there, in order."""
        return [s for s, is_gone in zip(self.segments, self._gone, strict=True) if not is_gone]

    def close_over(self, at: int, shortest: float) -> bool:
        """Drops a segment and draws its neighbours together, if they meet near it; says whether it did."""
        i, j = self.before[at], self.after[at]
        before, after = self.segments[i], self.segments[j]
        middle = self.segments[at].middle
        one, other = curve_of(before), curve_of(after)
        try:
            place = meeting(one, other, middle)
        except GeometryError:
            return False
        if math.dist(place, middle) > shortest or max(off(one, place), off(other, place)) > GRID:
            return False  # an arc whose end is beside its circle is another arc in every file
        self.segments[i] = _ended(before, end=place)
        self.segments[j] = _ended(after, start=place)
        self.after[i], self.before[j] = j, i
        self._gone[at] = True
        self.count -= 1
        return True


def _ended(segment: Segment, **ends: object) -> Segment:
    assert isinstance(segment, Line | Arc)
    return segment._replace(**ends)  # type: ignore[arg-type]
