"""Where the work lies under a plate: as from_face and from_end of the first cut say. Millimetres on the plate."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.checks.finding import Case
from jigtemplates.geometry.outline import cos_sin
from jigtemplates.parameters.job import Job, Work
from jigtemplates.placing import cut_middle
from jigtemplates.wanted import edge_of_work

#: Work goes on this far where its length or end is not known, mm (chosen: beyond any plate).
FAR = 1e5

#: Least and most along the (first) cut, and across it, from the middle of that.
Box = tuple[float, float, float, float]


def lies_along(case: Case) -> bool:
    """Whether it is known where the work lies: a ring lies along no work."""
    job = case.job
    return job.work is not None and (job.cut.repeat is None or job.cut.repeat.ring is None)


def box_of(case: Case, work: Work) -> Box:
    """The work under the plate: its reference face below the cut, its end on the left (mirrored: right).

    Of a cut that is open to the edge of the work that edge lies below.
    """
    edge = edge_of_work(case.job.cut)
    below = work.from_face if edge is None else edge
    left = FAR if work.from_end is None else work.from_end
    right = FAR if work.from_end is None or work.length is None else work.length - work.from_end
    if case.job.make.mirrored:
        left, right = right, left
    return -left, right, -below, work.thickness - below


def along_cut(job: Job, places: Sequence[tuple[float, float]]) -> NDArray[np.float64]:
    """Places on the plate, n by 2, as along the (first) cut and across it from its middle."""
    cos, sin = _turn(job)
    turned: NDArray[np.float64] = (np.array(places) - cut_middle(job)) @ np.array(((cos, -sin), (sin, cos)))
    return turned


def area_on_plate(job: Job, box: Box) -> shapely.Polygon:
    """A box along the (first) cut as an area on the plate."""
    middle, (cos, sin) = cut_middle(job), _turn(job)
    left, right, bottom, top = box
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return shapely.Polygon([(middle.x + x * cos - y * sin, middle.y + x * sin + y * cos) for x, y in corners])


def extent_of(case: Case, part: Case) -> Box | None:
    """A box round what one of the cuts makes in all its places, along the first cut; None where it makes nothing."""
    if part.predicted is None:
        return None
    made = part.template.placed(part.predicted.outline)
    places = along_cut(case.job, [place for region in made for place in region.outer.flattened(0.001)])
    (left, bottom), (right, top) = places.min(axis=0).tolist(), places.max(axis=0).tolist()
    return left, right, bottom, top


def is_outside(extent: Box, box: Box) -> bool:
    """Whether a box touches no more than the edge of another."""
    return (
        extent[1] <= box[0] + 1e-6
        or extent[0] >= box[1] - 1e-6
        or extent[3] <= box[2] + 1e-6
        or extent[2] >= box[3] - 1e-6
    )


def _turn(job: Job) -> tuple[float, float]:
    return cos_sin(-job.cut.angle if job.make.mirrored else job.cut.angle)
