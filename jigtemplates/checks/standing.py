"""Does the plate itself stand firmly on narrow work, and do its screws reach that?

Asked where the work's size is known and the plate lies on it: a holder carries its plates, and so does whatever keeps
a plate off the work. Millimetres on the plate.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.bench import FLUSH, Ride, base_diameter, ride_over
from jigtemplates.checks.finding import Case, Finding, note, warning
from jigtemplates.geometry.outline import cos_sin
from jigtemplates.parameters.job import Work
from jigtemplates.placing import cut_middle
from jigtemplates.say import listed
from jigtemplates.wanted import edge_of_work

#: Least part of the base that has work under it. Chosen, as for a base on its plate: with more than half of it in the
#: air a hand on the outer handle tips router and plate.
LEAST_SHARE = 0.5

#: The middle of the base stays at least this far within the work's edges, mm (chosen, as for a base on its plate).
LEAST_MARGIN = 10.0

#: Base that is taken where no router is named, mm (chosen: a middle-sized plunge router's, as in `check_outside`).
USUAL_BASE = 150.0

#: What reaches beyond the work by no more than this is flush with it, mm (chosen: what a rule can show).
EVEN = 0.5

#: Work goes on this far where its length or end is not known, mm (chosen: beyond any plate).
FAR = 1e5

#: Least and most along the cut, and across it, from the middle of the cut.
Box = tuple[float, float, float, float]


def check_standing(case: Case) -> Iterator[Finding]:
    """A plate that overhangs its work so far that it can tip, and screws beside the work."""
    job = case.job
    if job.work is None or job.plate.holder is not None or job.plate.stand_off > FLUSH:
        return
    if job.cut.repeat is not None and job.cut.repeat.ring is not None:  # which lies along no work
        return
    box = _work(case, job.work)
    if beyond := _beyond(case, box):
        yield from _tips(case, job.work, box, beyond)
    yield from _screws(case, box)


def _work(case: Case, work: Work) -> Box:
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


def _along(case: Case, places: Sequence[tuple[float, float]]) -> NDArray[np.float64]:
    """Places on the plate, n by 2, as along the cut and across it from its middle."""
    job, middle = case.job, cut_middle(case.job)
    cos, sin = cos_sin(-job.cut.angle if job.make.mirrored else job.cut.angle)
    turned: NDArray[np.float64] = (np.array(places) - middle) @ np.array(((cos, -sin), (sin, cos)))
    return turned


def _beyond(case: Case, box: Box) -> list[tuple[str, float]]:
    """By how much the plate reaches beyond which side of the work."""
    places = _along(case, case.template.plate.outer.flattened(0.01))
    (left, bottom), (right, top) = places.min(axis=0), places.max(axis=0)
    ends = ("its other end", "its end") if case.job.make.mirrored else ("its end", "its other end")
    sides = (
        (*ends, box[0] - left, right - box[1]),
        ("the reference face", "the face opposite", box[2] - bottom, top - box[3]),
    )
    found: list[tuple[str, float]] = []
    for one, other, low, high in reversed(sides):
        if min(low, high) > EVEN and abs(low - high) <= EVEN:
            found.append(("either end" if one.startswith("its") else "either face", float(low)))
            continue
        found += [(name, float(by)) for name, by in ((one, low), (other, high)) if by > EVEN]
    return found


def _tips(case: Case, work: Work, box: Box, beyond: Sequence[tuple[str, float]]) -> Iterator[Finding]:
    ride = _on(case, box)
    share, margin = ride.least_carried.share, ride.nearest_to_tipping.margin
    if share >= LEAST_SHARE - 1e-6 and margin >= LEAST_MARGIN - 1e-6:
        return
    reaches = " and ".join(f"{case.said(by)} beyond {name}" for name, by in beyond)
    under = f"as little as {int(share * 100 + 1e-6)} % of {_base(case)} has work under it"
    if margin < LEAST_MARGIN - 1e-6:
        near = f"within {case.said(margin)} of" if margin > 0 else "to"
        under += f", and its middle comes {near} the work's edge"
    yield warning(
        "plate-tips",
        "work.thickness",
        f"the plate lies on work {case.said(work.thickness)} thick and reaches {reaches}, so plate and router can tip: "
        f"{under}. Clamp a batten or block beside the work, flush with it, for the plate to lie on, or use a jig that "
        "holds the work and carries the plate",
    )


def _on(case: Case, box: Box) -> Ride:
    """The base all over the opening, with the work alone under it."""
    router = case.job.tools.router
    base = USUAL_BASE if router is None else base_diameter(router)
    return ride_over(_area(case, box), case.path, max(base, case.bushing + 1.0), hole=case.bushing)


def _area(case: Case, box: Box) -> shapely.Polygon:
    """The work on the plate, as a shapely area."""
    middle, job = cut_middle(case.job), case.job
    cos, sin = cos_sin(-job.cut.angle if job.make.mirrored else job.cut.angle)
    left, right, bottom, top = box
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return shapely.Polygon([(middle.x + x * cos - y * sin, middle.y + x * sin + y * cos) for x, y in corners])


def _base(case: Case) -> str:
    router = case.job.tools.router
    if router is None:
        return f"a router's base (of {case.said(USUAL_BASE)}; no router is given)"
    return f"the router's base {case.aside(base_diameter(router))}"


def _screws(case: Case, box: Box) -> Iterator[Finding]:
    """Holes that do not lie over the work with all their width."""
    holes = case.template.holes
    if not holes:
        return
    places = _along(case, [hole.center for hole in holes])
    beside = [
        number
        for number, (hole, (x, y)) in enumerate(zip(holes, places, strict=True), 1)
        if min(x - box[0], box[1] - x, y - box[2], box[3] - y) < hole.diameter / 2 - 1e-6
    ]
    if beside:
        yield note(
            "screws-beside-work",
            "plate.screws",
            f"{_named(beside, len(holes))} beside the work: nothing is there to screw into unless you lay a batten or "
            "block under the plate",
        )


def _named(beside: Sequence[int], of_all: int) -> str:
    if len(beside) == 1:
        return f"screw hole {beside[0]} lies"
    if len(beside) == of_all:
        return f"all {of_all} screw holes lie"
    return f"screw holes {listed(beside)} lie"
