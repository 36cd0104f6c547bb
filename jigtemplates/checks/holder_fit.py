"""The plate in its holder: recess, corners, depth, ledge and window; the cut within the window at every turn."""

from collections.abc import Iterator
from typing import Any

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.holders import Box, ledges_of, plate_box, recess_of, window_of
from jigtemplates.holders.turning import directions
from jigtemplates.holes import Hole
from jigtemplates.parameters.entries import Holder
from jigtemplates.say import sides, sides_aside

#: A plate with more play in its holder than this shifts visibly, mm (chosen).
LOOSE = 1.0

#: Sizes closer than this are the same, mm (chosen: no one can measure it in a shop).
SAME = 0.01


def check_fit(case: Case, holder: Holder) -> Iterator[Finding]:
    """Plate against recess, its corners and its depth; ledge under edge and screws; the cut within the window."""
    yield from _in_recess(case, holder)
    yield from _corners(case, holder)
    yield from _thickness(case, holder)
    yield from _on_ledge(case, holder)
    yield from _within_window(case, holder)


def _in_recess(case: Case, holder: Holder) -> Iterator[Finding]:
    plate = case.job.plate
    recess = sides_aside(case.job, holder.width.mm, holder.height.mm)
    size = sides_aside(case.job, plate.width, plate.height)
    rooms = (holder.width.mm - plate.width, holder.height.mm - plate.height)
    if min(rooms) < -1e-9:
        yield stop(
            "plate-too-large-for-holder",
            "plate.holder",
            f"the plate {size} does not go into the holder's recess {recess}: leave out plate.width and "
            "plate.height, and the holder gives them",
        )
    elif max(rooms) > holder.play.mm + LOOSE:
        yield warning(
            "plate-loose-in-holder",
            "plate.holder",
            f"the plate {size} is loose in the holder's recess {recess}, so the cut lands where it happens to lie: "
            "leave out plate.width and plate.height, and the holder gives them",
        )


def _corners(case: Case, holder: Holder) -> Iterator[Finding]:
    """Corners of the plate in those of the recess, which a bit leaves round."""
    plate, recess = plate_box(case.job.plate), recess_of(holder)
    radius, own = case.beside(recess.radius), case.beside(plate.radius)
    if holder.corner_radius is None:
        if plate.radius == 0:
            yield note(
                "recess-corners-unknown",
                "plate.corner_radius",
                "the plate's corners are square, and whether the recess's are is not known: if a bit left them round, "
                "give their radius as corner_radius in the holder's profile, and the plate gets it too",
            )
    elif plate.width <= recess.width and plate.height <= recess.height and recess.room_round(plate) < -1e-9:
        yield stop(
            "plate-corner-meets-recess",
            "plate.corner_radius",
            f"the plate's corners (r {own}) do not go into those of the recess (r {radius}): leave out "
            "plate.corner_radius, and the holder gives it",
        )


def _thickness(case: Case, holder: Holder) -> Iterator[Finding]:
    plate, depth = case.job.plate, holder.depth
    if depth is None or plate.rebate:
        return
    proud = plate.thickness - depth.mm
    if proud < -SAME:
        yield warning(
            "plate-below-holder",
            "plate.thickness",
            f"the plate {case.aside(plate.thickness)} is thinner than the holder's recess is deep "
            f"{case.aside(depth.mm)}: the router's base may ride on the holder, {case.said(-proud)} higher than the "
            "plunge setting allows for; take a thicker plate or pack it up",
        )
    elif proud > SAME and plate.rebate is False:
        yield note(
            "plate-proud-of-holder",
            "plate.rebate",
            f"the plate stands {case.said(proud)} proud of the holder's face, as is meant: keep the router's base on "
            "the plate, the holder does not carry it",
        )
    elif proud > SAME and plate.rebate is None:
        yield warning(
            "plate-proud-of-holder",
            "plate.rebate",
            f"the plate stands {case.said(proud)} proud of the holder's face, which then does not carry the "
            "router: plate.rebate = true rebates it round its underside to lie flush, plate.rebate = false says that "
            "this is meant",
        )


def _on_ledge(case: Case, holder: Holder) -> Iterator[Finding]:
    """The ledge under the plate's edge wherever that lies, and under its screws."""
    ledges, window, plate = ledges_of(holder), window_of(holder), case.job.plate
    if ledges is None or window is None:
        return
    rooms = (holder.width.mm - plate.width, holder.height.mm - plate.height)
    if any(0 < ledge <= room for ledge, room in zip(ledges, rooms, strict=True)):
        yield stop(
            "plate-drops-through",
            "plate.holder",
            f"pushed to one side the plate comes off the ledge ({case.beside(min(ledges))} wide) on the other: make "
            "it as large as the holder gives it",
        )
    over = [number for number, hole in enumerate(case.template.holes, 1) if _is_over(window, hole, case)]
    if over:
        yield warning(
            "screw-misses-ledge",
            "plate.screws",
            f"screw hole {', '.join(map(str, over))} does not lie over the ledge but over the window of "
            f"{_window_text(case, window)}: nothing is there to screw into; move it outwards, or use the holder's "
            "screws",
        )


def _is_over(window: Box, hole: Hole, case: Case) -> bool:
    """Whether a hole is over the window, in part at least."""
    x, y = hole.center.x - case.job.plate.width / 2, hole.center.y - case.job.plate.height / 2
    return window.beyond(x, y) < hole.diameter / 2 - 1e-6


def _window_text(case: Case, window: Box) -> str:
    return sides(case.job, window.width, window.height)


def _within_window(case: Case, holder: Holder) -> Iterator[Finding]:
    """The cut in the window, in each place the plate can be turned to."""
    window = window_of(holder)
    if window is None or not case.cut_made:
        return
    for turn in directions(case.job.plate.turn):
        if over_window(window, case, case.cut_made, turn) > 1e-6:
            turned = f"turned by {turn:g}° " if turn else ""
            yield stop(
                "cut-outside-window",
                "plate.turn" if turn else "cut.x",
                f"{turned}the bit would cut into the holder's ledge: the cut must lie within its window of "
                f"{_window_text(case, window)}; move or shorten the cut, or use another holder",
            )
            return


def over_window(window: Box, case: Case, regions: Any, turn: float = 0.0) -> float:
    """How far regions on the plate, turned about its middle, reach out of the window, mm; negative within it."""
    import numpy as np

    from jigtemplates.geometry.measure import samples
    from jigtemplates.geometry.outline import cos_sin

    cos, sin = cos_sin(turn)
    rims = np.concatenate([samples(region.outer) for region in regions])
    x, y = (rims - (case.job.plate.width / 2, case.job.plate.height / 2)).T
    dx = np.abs(x * cos - y * sin) - (window.width / 2 - window.radius)
    dy = np.abs(x * sin + y * cos) - (window.height / 2 - window.radius)
    outside = np.hypot(np.maximum(dx, 0.0), np.maximum(dy, 0.0)) + np.minimum(np.maximum(dx, dy), 0.0)
    return float(outside.max() - window.radius)
