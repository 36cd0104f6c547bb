"""Where the section of a set-up sheet reaches the edge of a rebated plate: its step, and the holder it lies in."""

from typing import TYPE_CHECKING

from jigtemplates.geometry.outline import Bounds, Point
from jigtemplates.holders.beneath import SAME, beneath
from jigtemplates.processes.setup_draw import HOLDER, THIN, TIMBER, box
from jigtemplates.processes.setup_ray import to_edge
from jigtemplates.rebate import rebate_of

#: Tint of what lies behind the section, paler than what is cut (chosen).
BEHIND = "#EEF6F0"

if TYPE_CHECKING:  # the section calls this module
    from jigtemplates.processes.setup_section import Frame
    from jigtemplates.processes.setup_stack import Stack


def underside(f: "Frame", side: int, rim: float, end: float) -> list[Point]:
    """The underside of a rebated plate from its outer end on the page to the rim of the opening.

    Thinner as far as the rebate goes, which may be all of what is shown or, out of what is shown, nothing.
    """
    rebate = rebate_of(f.stack.report.job.plate)
    assert rebate is not None  # the section asks for rebated plates only
    across = _edge(f.stack, side, -2 * rebate.width, -2 * rebate.width)
    step, thin, low = f.x(across, beyond=side > 0), f.y(-rebate.edge), f.y(-f.stack.plate)
    if (step - rim) * side <= 0:  # the opening reaches into the rebate
        return [Point(end, thin), Point(rim, thin)]
    if not f.shows(across, beyond=side > 0):
        return [Point(end, low), Point(rim, low)]
    return [Point(end, thin), Point(step, thin), Point(step, low), Point(rim, low)]


def holder(f: "Frame") -> None:
    """Frame and ledge beside the plate; a ledge that reaches below the work, which comes up into its window, is not."""
    plate = f.stack.report.job.plate
    held, below, found = plate.holder, beneath(plate), _between(f)
    if held is None or below is None or found is None:
        return
    seat, low = found
    face = seat if held.depth is None else seat - held.depth.mm
    levels = f.y(-face), f.y(-seat), f.y(-low)
    for side in (-1, 1):
        recess = _edge(f.stack, side, held.width.mm - plate.width, held.height.mm - plate.height)
        ledge = _edge(f.stack, side, below.window.width - plate.width, below.window.height - plate.height)
        if f.shows(ledge, beyond=side > 0):
            _on(f, side, (recess, ledge), levels)


def ledge_behind(f: "Frame") -> None:
    """The wall of the window behind what is cut, between plate and work.

    Nothing where the work comes up into the window, or the ledge's thickness is not known.
    """
    held, found = f.stack.report.job.plate.holder, _between(f)
    if held is None or held.ledge_thickness is None or found is None:
        return
    seat, low = (f.y(-level) for level in found)
    f.picture.area(box(f.left, low, f.right, seat), BEHIND)
    f.edges(Point(f.left, low), Point(f.right, low), width=THIN)
    free = min(seat, f.y(-f.stack.plate))  # of a rebated plate the middle hangs before it
    f.picture.name("ledge", Bounds(f.left, low, f.free_x(f.stack.opening[0]), free), BEHIND)


def _between(f: "Frame") -> tuple[float, float] | None:
    """From the base's face down to both faces of the ledge; None where it is not known, or reaches below the work."""
    below = beneath(f.stack.report.job.plate)
    if below is None:
        return None
    thickness = below.gap if below.ledge is None else below.ledge.mm
    seat = f.stack.room - below.gap
    return (seat, seat + thickness) if SAME < thickness <= below.gap + SAME else None


def _on(f: "Frame", side: int, across: tuple[float, float], levels: tuple[float, float, float]) -> None:
    """The holder on one side: the edges of its recess and of its window across, and its three levels on the page."""
    face, seat, low = levels
    recess, ledge = (f.x(edge, beyond=side > 0) for edge in across)
    end = f.right if side > 0 else f.left
    ring = [Point(end, face), Point(recess, face), Point(recess, seat), Point(ledge, seat), Point(ledge, low)]
    if not f.shows(across[0], beyond=side > 0):
        ring = [Point(end, seat), *ring[3:]]
    f.part([*ring, Point(end, low)], HOLDER, TIMBER)
    f.edges(*ring, Point(end, low))
    f.side(ring[0], low, is_edge=False)
    f.picture.name("holder", Bounds(min(end, ledge), low, max(end, ledge), seat), HOLDER)


def _edge(stack: "Stack", side: int, wider: float, higher: float) -> float:
    """The edge of something about the plate's middle, across; side -1 on the left, 1 on the right."""
    return side * to_edge(stack.report, side if stack.edge is None else -side, (wider, higher))
