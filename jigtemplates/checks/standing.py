"""Does the plate, or the holder it lies in, stand firmly on narrow work, and do its screws reach that?

Asked where the work's size is known and plate or holder lies on it: not where the work comes up into the holder's
window, which then is clamped round it, nor where something else keeps them off the work. Millimetres on the plate.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from jigtemplates.bench import FLUSH, Ride, base_diameter, ride_over
from jigtemplates.checks.finding import Case, Finding, note, warning
from jigtemplates.checks.lying import Box, along_cut, area_on_plate, box_of, extent_of, is_outside, lies_along
from jigtemplates.geometry.outline import Regions
from jigtemplates.parameters.entries import Holder
from jigtemplates.parameters.job import Job, Work
from jigtemplates.say import listed

if TYPE_CHECKING:
    from jigtemplates.holders import Box as HolderBox

#: Least part of the base that has work under it. Chosen, as for a base on its plate: with more than half of it in the
#: air a hand on the outer handle tips router and plate.
LEAST_SHARE = 0.5

#: The middle of the base stays at least this far within the work's edges, mm (chosen, as for a base on its plate).
LEAST_MARGIN = 10.0

#: Base that is taken where no router is named, mm (chosen: a middle-sized plunge router's, as in `check_outside`).
USUAL_BASE = 150.0

#: What reaches beyond the work by no more than this is flush with it, mm (chosen: what a rule can show).
EVEN = 0.5


def check_standing(case: Case) -> Iterator[Finding]:
    """A plate or holder that overhangs its work so far that it can tip, and screws beside the work."""
    work, holder = case.job.work, case.job.plate.holder
    if work is None or not lies_along(case):
        return
    if case.job.plate.stand_off > FLUSH if holder is None else not _holder_lies_on_work(case.job):
        return
    box = box_of(case, work)
    if beyond := _beyond(case, box):
        yield from _tips(case, work, box, beyond)
    if holder is None:
        yield from _screws(case, box)


def _holder_lies_on_work(job: Job) -> bool:
    """Whether the holder's ledge rests on work that does not go into its window.

    Not where the ledge's thickness is not known, or the stand-off is more: then something else carries the holder.
    """
    from jigtemplates.holders.beneath import SAME, beneath, goes_in

    below = beneath(job.plate)
    if below is None or below.ledge is None or abs(below.into_window) > SAME:
        return False
    return not goes_in(job, below.window)


def _underside(case: Case) -> Sequence[tuple[float, float]]:
    """Places on the outside of what lies on the work: the plate, or its holder."""
    plate, holder = case.job.plate, case.job.plate.holder
    if holder is None:
        return case.template.plate.outer.flattened(0.01)
    return _outside(holder).outline.moved(plate.width / 2, plate.height / 2).flattened(0.01)


def _outside(holder: Holder) -> "HolderBox":
    """The frame's outside; of a frame of unknown width the recess, which is less."""
    from jigtemplates.holders import recess_of

    recess = recess_of(holder)
    frame = 0.0 if holder.frame is None else holder.frame.mm
    radius = recess.radius + frame if recess.is_round else 0.0
    return replace(recess, width=recess.width + 2 * frame, height=recess.height + 2 * frame, radius=radius)


def _beyond(case: Case, box: Box) -> list[tuple[str, float]]:
    """By how much what lies on the work reaches beyond which side of it."""
    places = along_cut(case.job, _underside(case))
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
    if ride is None:
        return
    share, margin = ride.least_carried.share, ride.nearest_to_tipping.margin
    if share >= LEAST_SHARE - 1e-6 and margin >= LEAST_MARGIN - 1e-6:
        return
    what = "plate" if case.job.plate.holder is None else "holder"
    reaches = " and ".join(f"{case.said(by)} beyond {name}" for name, by in beyond)
    under = f"as little as {int(share * 100 + 1e-6)} % of {_base(case)} has work under it"
    if margin < LEAST_MARGIN - 1e-6:
        near = f"within {case.said(margin)} of" if margin > 0 else "to"
        under += f", and its middle comes {near} the work's edge"
    yield warning(
        "plate-tips",
        "work.thickness",
        f"the {what} lies on work {case.said(work.thickness)} thick and reaches {reaches}, so {what} and router can "
        f"tip: {under}. Clamp a batten or block beside the work, flush with it, for the {what} to lie on, or use a jig "
        f"that holds the work and carries the {what}",
    )


def _on(case: Case, box: Box) -> Ride | None:
    """The base all over the openings, with the work alone under it; None where every cut lies beside the work."""
    path = _path(case, box)
    if not path:
        return None
    router = case.job.tools.router
    base = USUAL_BASE if router is None else base_diameter(router)
    return ride_over(area_on_plate(case.job, box), path, max(base, case.bushing + 1.0), hole=case.bushing)


def _path(case: Case, box: Box) -> Regions:
    """Where the bushing goes; not for a cut wholly beyond the work, which `check_work` questions."""
    if not case.others:
        return case.path
    return tuple(
        region
        for part in case.parts
        if part.predicted is not None and (made := extent_of(case, part)) and not is_outside(made, box)
        for region in part.template.placed(part.predicted.path)
    )


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
    places = along_cut(case.job, [hole.center for hole in holes])
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
