"""Outside work: the template is a pattern, the bushing runs round it and the bit cuts the work out; millimetres.

The work that stays is W. The bushing's middle goes round W at half the bit's diameter, so the pattern is
(W grown by bit / 2) shrunk by bushing / 2: on straight sides smaller than the work by (bushing - bit) / 2 a side (a
round pattern 20 mm smaller in diameter for a 30 mm bushing and a 10 mm bit: HolzWerken, read; see references). What
comes out is (pattern grown by bushing / 2) shrunk by bit / 2. A sharp corner of the work is rounded to
(bushing - bit) / 2, since the bushing rolls round the pattern's corner; into a corner that goes in, the bit gets with
half its diameter.
"""

from dataclasses import replace

from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Bounds, Outline, Region, Regions
from jigtemplates.parameters.job import Cut, Plate, Tools
from jigtemplates.wanted import cut_region, is_lopsided

#: A pattern no thicker than this on the whole is a thread, mm (chosen: thinner than any beam's kerf).
THREAD = 0.01


def pattern_for(work: Regions, bit: float, bushing: float) -> Regions:
    """The pattern for a piece of work, for tools of these diameters; empty where nothing, or a line, is left of it."""
    left = shrink(grow(work, bit / 2), bushing / 2)
    return tuple(region for region in left if abs(region.outer.area) > THREAD * region.bounds.width)


def path_round(pattern: Regions, bushing: float) -> Regions:
    """What the middle of the bushing goes round: its edge is the bushing's path."""
    return grow(pattern, bushing / 2)


def work_left(pattern: Regions, bit: float, bushing: float) -> Regions:
    """The work that stands when a bushing has been run round a pattern."""
    return shrink(path_round(pattern, bushing), bit / 2)


def is_outside(cut: Cut) -> bool:
    """Whether the cut goes round the outside of the work."""
    return cut.side == "outside"


def sized(plate: Plate, cut: Cut, tools: Tools) -> tuple[Plate, Cut]:
    """The plate of outside work, as large as its pattern, and the cut where that comes to lie.

    The pattern's upright box has its lower-left corner at the datum. A pattern that vanishes leaves the plate as
    large as the work, for a check to say so.
    """
    work = _turned(cut_region(cut), cut)
    pattern = pattern_for((work,), tools.bit.diameter.mm, tools.bushing.diameter.mm)
    box = _box(pattern) if pattern else work.bounds
    return replace(plate, width=box.width, height=box.height), replace(cut, x=-box.left, y=-box.bottom)


def _turned(region: Region, cut: Cut) -> Region:
    def there(ring: Outline) -> Outline:
        return (ring.mirrored() if cut.mirrored and is_lopsided(cut) else ring).rotated(cut.angle)

    return Region(there(region.outer), tuple(there(hole) for hole in region.holes))


def _box(regions: Regions) -> Bounds:
    lefts, bottoms, rights, tops = zip(*(region.bounds for region in regions), strict=True)
    return Bounds(min(lefts), min(bottoms), max(rights), max(tops))
