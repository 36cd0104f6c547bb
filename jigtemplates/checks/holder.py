"""Does the plate fit the holder it is made for, and does the cut lie within the holder's window?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, stop, warning
from jigtemplates.lengths import mm_text
from jigtemplates.parameters.entries import Holder

#: A plate with more play in its holder than this shifts visibly, mm (chosen).
LOOSE = 1.0

#: Sizes closer than this are the same, mm (chosen: no one can measure it in a shop).
SAME = 0.01


def check_holder(case: Case) -> Iterator[Finding]:
    """Plate against recess and its depth; the cut within the window. Nothing without a holder."""
    holder = case.job.plate.holder
    if holder is None:
        return
    yield from _in_recess(case, holder)
    yield from _thickness(case, holder)
    yield from _within_window(case, holder)


def _in_recess(case: Case, holder: Holder) -> Iterator[Finding]:
    plate = case.job.plate
    recess = f"{mm_text(holder.width.mm)} x {mm_text(holder.height.mm)}"
    size = f"{mm_text(plate.width)} x {mm_text(plate.height)}"
    rooms = (holder.width.mm - plate.width, holder.height.mm - plate.height)
    if min(rooms) < -1e-9:
        yield stop(
            "plate-too-large-for-holder",
            "plate.holder",
            f"the plate ({size}) does not go into the holder's recess ({recess}): leave out plate.width and "
            "plate.height, and the holder gives them",
        )
    elif max(rooms) > holder.play.mm + LOOSE:
        yield warning(
            "plate-loose-in-holder",
            "plate.holder",
            f"the plate ({size}) is loose in the holder's recess ({recess}), so the cut lands where it happens to lie: "
            "leave out plate.width and plate.height, and the holder gives them",
        )


def _thickness(case: Case, holder: Holder) -> Iterator[Finding]:
    plate, depth = case.job.plate, holder.depth
    if depth is None or plate.thickness >= depth.mm - SAME:
        return
    yield warning(
        "plate-below-holder",
        "plate.thickness",
        f"the plate ({mm_text(plate.thickness)}) is thinner than the holder's recess is deep ({mm_text(depth.mm)}): "
        f"the router's base may ride on the holder, {mm_text(depth.mm - plate.thickness)} higher than the plunge "
        "setting allows for; take a thicker plate or pack it up",
    )


def _within_window(case: Case, holder: Holder) -> Iterator[Finding]:
    if holder.window is None or case.predicted is None:
        return
    plate = case.job.plate
    x, y = plate.width / 2, plate.height / 2
    dx, dy = holder.window.width.mm / 2, holder.window.height.mm / 2
    for region in case.template.placed(case.predicted.outline):
        box = region.bounds
        if min(box.left - (x - dx), x + dx - box.right, box.bottom - (y - dy), y + dy - box.top) < -1e-6:
            yield stop(
                "cut-outside-window",
                "cut.x",
                "the bit would cut into the holder's ledge: the cut must lie within its window of "
                f"{mm_text(2 * dx)} x {mm_text(2 * dy)}; move or shorten the cut, or use another holder",
            )
