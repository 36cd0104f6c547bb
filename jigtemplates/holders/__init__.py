"""Holders: the jig's frame with its recess, ledge and window, the plates that fit it, and its own parts as files.

Coordinates of a holder have their origin in the middle of the recess, x right, y up, seen from above; millimetres. The
plate lies in the middle of the recess, with half the play on each side.
"""

from typing import TYPE_CHECKING, Protocol

from jigtemplates.holders.box import Box

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Holder

__all__ = ["Box", "ledges_of", "plate_box", "recess_of", "window_of"]


class Sized(Protocol):
    """A plate as the job has it: its sides and the radius of its corners, mm."""

    @property
    def width(self) -> float:
        """Along x."""

    @property
    def height(self) -> float:
        """Along y."""

    @property
    def corner_radius(self) -> float:
        """Of its corners."""


def recess_of(holder: "Holder") -> Box:
    """The recess; square corners where their radius is not known."""
    radius = 0.0 if holder.corner_radius is None else holder.corner_radius.mm
    return Box(holder.width.mm, holder.height.mm, radius)


def window_of(holder: "Holder") -> Box | None:
    """The window, or what the ledge leaves of the recess; None where neither is known, or nothing is left.

    Its corners are as round as those of the recess where it does not say so itself, and at most half its sides.
    """
    if holder.window is not None:
        width, height, own = holder.window.width.mm, holder.window.height.mm, holder.window.corner_radius
    elif holder.ledge is not None:
        both = 2 * holder.ledge.mm
        width, height, own = holder.width.mm - both, holder.height.mm - both, None
    else:
        return None
    if min(width, height) <= 0:
        return None
    radius = recess_of(holder).radius if own is None else own.mm
    return Box(width, height, min(radius, width / 2, height / 2))


def ledges_of(holder: "Holder") -> tuple[float, float] | None:
    """Width of the ledge at the left and right, and at the lower and upper side; None where it is not known."""
    window = window_of(holder)
    if window is None:
        return None
    return (holder.width.mm - window.width) / 2, (holder.height.mm - window.height) / 2


def plate_box(plate: Sized) -> Box:
    """A plate about its own middle."""
    return Box(plate.width, plate.height, plate.corner_radius)
