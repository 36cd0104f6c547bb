"""Screw holes of a plate: where each pattern puts them and how wide they are.

Millimetres from the plate's lower-left corner, x right, y up.
"""

import math
from dataclasses import dataclass

from jigtemplates.geometry.outline import Outline, Point, cos_sin
from jigtemplates.parameters.job import Plate, Screws

#: Whole angle of a countersunk head whose profile does not state one, degrees (metric heads: ISO 7721, from memory).
HEAD_ANGLE = 90.0


@dataclass(frozen=True, slots=True)
class Hole:
    """A drilled hole through the plate, perhaps countersunk from above."""

    center: Point
    #: of the hole right through the plate
    diameter: float
    #: of the countersink where it meets the upper face; None without one
    head: float | None = None

    @property
    def outline(self) -> Outline:
        """The through hole as a circle."""
        return Outline.circle(self.center, self.diameter / 2)

    @property
    def rim(self) -> Outline:
        """The widest circle the hole takes up on the upper face."""
        return Outline.circle(self.center, max(self.diameter, self.head or 0.0) / 2)


def screw_holes(plate: Plate) -> tuple[Hole, ...]:
    """All holes of the plate's screw pattern, in the order they are drilled; none without screws."""
    screws = plate.screws
    if screws is None:
        return ()
    diameter, head = hole_diameters(screws)
    return tuple(Hole(center, diameter, head) for center in _centers(screws, plate))


def hole_diameters(screws: Screws) -> tuple[float, float | None]:
    """Through diameter and countersink diameter (or None) for the wanted kind of hole."""
    if screws.hole == "tapped":
        if screws.screw.tapping is None:
            raise ValueError("the screw has no tapping drill; the parameters refuse this")
        return screws.screw.tapping.mm, None
    clearance: float = getattr(screws.screw.clearance, screws.fit).mm
    if screws.hole == "countersunk":
        if screws.screw.head is None:
            raise ValueError("the screw has no countersunk head; the parameters refuse this")
        return clearance, screws.screw.head.mm
    return clearance, None


def countersink_slope(screws: Screws | None) -> float:
    """How much a countersink's radius grows with its height: 1 for the usual 90 degrees, less for a sharper one."""
    angle = HEAD_ANGLE if screws is None or screws.screw.head_angle is None else screws.screw.head_angle
    return math.tan(math.radians(angle) / 2)


def countersink_depth(hole: Hole, screws: Screws | None) -> float:
    """From the upper face to where a countersink is as narrow as its hole, mm; 0 without one."""
    return 0.0 if hole.head is None else (hole.head - hole.diameter) / 2 / countersink_slope(screws)


def _centers(screws: Screws, plate: Plate) -> tuple[Point, ...]:
    width, height, inset = plate.width, plate.height, screws.inset or 0.0
    if screws.pattern == "corners":
        right, top = width - inset, height - inset
        return (Point(inset, inset), Point(right, inset), Point(right, top), Point(inset, top))
    if screws.pattern == "edges":
        x, y = width / 2, height / 2
        return (Point(x, inset), Point(width - inset, y), Point(x, height - inset), Point(inset, y))
    if screws.pattern == "ring":
        return _ring(screws, Point(width / 2, height / 2))
    return tuple(Point(x, y) for x, y in screws.points)


def _ring(screws: Screws, middle: Point) -> tuple[Point, ...]:
    """Equal steps counter-clockwise on the pitch circle, the first at start_angle from the right."""
    radius, count = (screws.diameter or 0.0) / 2, screws.count or 0
    turns = (cos_sin(screws.start_angle + 360.0 * i / count) for i in range(count))
    return tuple(Point(middle.x + radius * cos, middle.y + radius * sin) for cos, sin in turns)
