"""Is the router's base carried wherever its bushing can go, and is nothing that stands up in its way?"""

from collections.abc import Iterator

import numpy as np

from jigtemplates.bench import Ride, Support, base_diameter, frame_is_flush, rides_on_holder
from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.geometry.measure import distances, segments_of
from jigtemplates.parameters.entries import RectangleBase, Router
from jigtemplates.parameters.job import Screws
from jigtemplates.say import listed, place

#: Least part of the base's face that is carried (chosen: with more than half of it in the air a base rocks).
LEAST_SHARE = 0.5

#: The middle of the base stays at least this far from the edge of what it stands on, mm (chosen: as much as hands that
#: push sideways shift the load).
LEAST_MARGIN = 10.0

#: A head is twice as wide as its thread where its size is not known (pan heads, ISO 7045, from memory).
HEAD = 2

#: A clamp needs this much of the plate, mm (chosen: the jaw of a small clamp).
JAW = 20.0


def check_support(case: Case) -> Iterator[Finding]:
    """The plate on narrow work; with a router tipping, share of its base, screws' heads, room for clamps."""
    router = case.job.tools.router
    if not case.path or case.job.cut.side == "outside":  # which check_outside looks at
        return
    standing = _standing(case)
    yield from standing
    if router is None:
        return
    ride = case.ride
    if ride is None:
        yield _bushing_too_wide(case, router)
        return
    if not rides_on_holder(case, ride):  # which check_holder says: the plate then carries nothing
        yield from _carried(case, router, ride, firm=all(one.code != "plate-tips" for one in standing))
    yield from _screws(case, ride)
    yield from _clamps(case, ride)


def _standing(case: Case) -> tuple[Finding, ...]:
    """What is said of the plate on its work, where that is known."""
    if case.job.work is None:
        return ()
    from jigtemplates.checks.standing import check_standing  # other jobs need not wait for it

    return tuple(check_standing(case))


def _bushing_too_wide(case: Case, router: Router) -> Finding:
    return stop(
        "bushing-wider-than-base",
        "tools.router",
        f"the bushing {case.aside(case.bushing, 3)} is not narrower than the router's base "
        f"{case.aside(base_diameter(router))}: measure both again",
    )


def _carried(case: Case, router: Router, ride: Ride, *, firm: bool) -> Iterator[Finding]:
    """The base on the plate; firm: the plate itself stands firmly, as far as is known."""
    tips, least = ride.nearest_to_tipping, ride.least_carried
    base = f"the router's base ({case.beside(base_diameter(router))}{_circle_words(router)})"
    if tips.margin <= 0:
        yield stop(
            "router-tips",
            "tools.router",
            f"{_at(case, tips)} the middle of {base} lies {case.said(-tips.margin)} outside what it stands on, so "
            f"the router tips: {_remedy(case)}",
        )
        return
    if tips.margin < LEAST_MARGIN - 1e-6:
        yield warning(
            "router-nearly-tips",
            "tools.router",
            f"{_at(case, tips)} the middle of {base} is only {case.said(tips.margin)} from the edge of what it "
            f"stands on, less than {case.said(LEAST_MARGIN)}: keep the weight on the plate, or {_remedy(case)}",
        )
    if least.share < LEAST_SHARE - 1e-6:
        yield warning(
            "base-hardly-carried",
            "tools.router",
            f"{_at(case, least)} only {_percent(least.share)} of {base} is carried, less than half: keep the weight on "
            f"the plate, or {_remedy(case)}",
        )
    elif tips.margin >= LEAST_MARGIN - 1e-6:
        unless = "" if firm else ", as long as the plate itself does not tip (see work.thickness)"
        yield note("base-carried", "tools.router", f"{_carried_words(case, base, tips, least)}{unless}")


def _carried_words(case: Case, base: str, tips: Support, least: Support) -> str:
    carrying = "the plate and the holder's frame" if frame_is_flush(case) else "the plate"
    return (
        f"{base} is carried by {carrying} wherever the bushing goes: least of it, {_percent(least.share)}, "
        f"{_at(case, least)}, and its middle is never less than {case.said(tips.margin, 1)} from the edge of that"
    )


def _at(case: Case, support: Support) -> str:
    return f"with the bushing at {place(support.position, case.job)}"


def _percent(share: float) -> str:
    """Rounded down: what is less than half is never called 50 %."""
    return f"{int(share * 100 + 1e-6)} %"


def _circle_words(router: Router) -> str:
    return ", the circle inside it, which counts at every turn" if isinstance(router.base, RectangleBase) else ""


def _remedy(case: Case) -> str:
    remedy = (
        "screw a wider base to the router and enter it as its base, or make the plate larger round a smaller opening"
    )
    holder = case.job.plate.holder
    if holder is None or frame_is_flush(case):
        return remedy
    if holder.frame is None or holder.depth is None:
        return f"{remedy}; if the holder's frame is flush with the plate, give its frame and depth, and it counts too"
    plate = f"a plate of {case.said(holder.depth.mm)}, flush with the holder's frame,"
    return f"{remedy}; {plate} would make that count too"


def _screws(case: Case, ride: Ride) -> Iterator[Finding]:
    """Heads that stand proud and under which the base cannot slide: of clearance holes that are not countersunk."""
    screws = case.job.plate.screws
    if screws is None or screws.hole != "clearance":
        return
    head = _head(screws)
    centers = np.array([hole.center for hole in case.template.holes])
    away = distances(centers, segments_of(case.path)).tolist()
    needed = ride.radius + head / 2
    under: dict[str, list[int]] = {}
    for number, gap in enumerate(away, 1):
        if gap < needed - 1e-6:
            under.setdefault(case.aside(gap), []).append(number)
    if under:
        holes = ", ".join(f"{'holes' if len(them) > 1 else 'hole'} {listed(them)} {gap}" for gap, them in under.items())
        yield warning(
            "screw-under-base",
            "plate.screws",
            f"the base comes over the heads of screws (about {case.beside(head)} wide; how high they stand is not "
            f"known) that are less than {case.said(needed)} from where the middle of the bushing goes: {holes}; "
            'countersink them (hole = "countersunk"), or move them out of its way',
        )


def _head(screws: Screws) -> float:
    """Width of a head, mm: that of the countersunk one in the profile, or HEAD times the thread."""
    return screws.screw.head.mm if screws.screw.head is not None else HEAD * screws.screw.diameter.mm


def _clamps(case: Case, ride: Ride) -> Iterator[Finding]:
    """Where a plate without screws or holder can be clamped: at the sides the base does not come to."""
    plate = case.job.plate
    if plate.screws is not None or plate.holder is not None:
        return
    left, bottom = (ride.places.min(axis=0) - ride.radius).tolist()
    right, top = ((plate.width, plate.height) - ride.places.max(axis=0) - ride.radius).tolist()
    sides = {"left": left, "right": right, "bottom": bottom, "top": top}
    free = [f"{case.said(room)} at the {side}" for side, room in sides.items() if room >= JAW - 1e-6]
    if free:
        yield note(
            "clamp-room",
            "plate.screws",
            f"the plate has no screws: keep clamps out of the way of the router's base, which leaves {', '.join(free)}",
        )
    else:
        yield warning(
            "no-room-for-clamps",
            "plate.screws",
            f"the plate has no screws, and the router's base leaves no {case.said(JAW)} for a clamp at any side of it: "
            "make the plate larger, or give it countersunk screws",
        )
