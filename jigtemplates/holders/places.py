"""Where the holder has holes for the plate's screws, in the coordinates of a plate; millimetres."""

from dataclasses import replace
from typing import TYPE_CHECKING

from jigtemplates.geometry.outline import Point
from jigtemplates.holes import screw_holes

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Holder
    from jigtemplates.parameters.job import Plate, Screws


def holder_holes(plate: "Plate", holder: "Holder", screws: "Screws") -> tuple[Point, ...]:
    """Centres of the holes the holder's own pattern asks for, from the lower-left corner of a plate.

    The pattern is laid out on the plate the holder sizes, recess less play; a plate of another size lies about the same
    middle. `screws` is that pattern, in mm.
    """
    width, height = holder.width.mm - holder.play.mm, holder.height.mm - holder.play.mm
    dx, dy = (plate.width - width) / 2, (plate.height - height) / 2
    own = replace(plate, width=width, height=height, screws=screws)
    return tuple(Point(hole.center.x + dx, hole.center.y + dy) for hole in screw_holes(own))
