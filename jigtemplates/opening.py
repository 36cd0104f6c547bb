"""The opening that makes one cut: how it is reckoned, and how large it is.

Millimetres, x along the cut's length, y across it, about its own middle.
"""

from dataclasses import dataclass

from jigtemplates.geometry.offset import SLACK, grow, shrink
from jigtemplates.geometry.outline import Bounds, Regions
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Job
from jigtemplates.placing import placed
from jigtemplates.wanted import cut_region, narrow_side, widest

#: A bit this much wider than the cut still counts as fitting, mm (twice the slack of the offset: what
#: is left of a length after turning inches into binary numbers).
FITS = 2 * SLACK


@dataclass(frozen=True, slots=True)
class Size:
    """Extents of an opening or a cut before it is turned, mm."""

    width: float
    length: float
    #: radius of its tightest inside corner; half the width for round ends
    corner_radius: float


@dataclass(frozen=True, slots=True)
class Part:
    """One of the cuts on its way to its openings."""

    #: with that cut alone
    job: Job
    cut: Regions
    at_rest: Regions
    widened: bool
    opening: Regions

    @classmethod
    def of(cls, job: Job) -> "Part":
        """The part of a job with one cut."""
        least = least_side(job)
        guided = (cut_region(job.cut, least=least),)
        at_rest = opening_for(guided, job.tools.bit.diameter.mm, job.tools.bushing.diameter.mm)
        return cls(job, (cut_region(job.cut),), at_rest, least > 0, placed(at_rest, job))


def opening_for(cut: Regions, bit: float, bushing: float) -> Regions:
    """The opening that lets a bushing of that diameter carry a bit of that diameter over the cut.

    (cut shrunk by bit / 2) grown by bushing / 2, all mm: parts too narrow for the bit are lost and its
    inside corners are at least bushing / 2. A cut as wide as the bit gives an opening as wide as the
    bushing, without clearance. Empty where the bit fits nowhere.
    """
    return grow(shrink(cut, bit / 2), bushing / 2)


def least_side(job: Job) -> float:
    """Bit + running clearance, mm, where the bit fits and the cut would leave the bushing less; else 0."""
    if is_outside(job.cut):
        return 0.0
    bit = job.tools.bit.diameter.mm
    least = bit + job.tools.clearance
    return least if bit - FITS <= narrow_side(job.cut) < least - FITS and least < widest(job.cut) else 0.0


def size_of(regions: Regions, edge: float | None = None) -> Size | None:
    """Width along y, length along x and tightest inside corner of an area; None for an empty one.

    Of a cut that is open to the edge of the work the width is from there: edge is how far that lies below the middle.
    """
    if not regions:
        return None
    boxes = [region.bounds for region in regions]
    box = Bounds(
        min(b.left for b in boxes),
        min(b.bottom for b in boxes),
        max(b.right for b in boxes),
        max(b.top for b in boxes),
    )
    width = box.height if edge is None else box.top + edge
    return Size(width, box.width, min(region.outer.inside_radius for region in regions))
