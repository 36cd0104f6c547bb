"""A rectangle with round corners about the origin: a recess, a window, a plate; millimetres.

The corner radius may be half the sides, which makes it a circle. Light on purpose: the parameters use it too.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigtemplates.geometry.outline import Outline

#: Binary rounding of lengths of a few hundred mm.
ROUNDING = 1e-9

#: How far a square corner of side 1 reaches beyond the quarter circle in it, along either side: 1 - 1 / sqrt(2).
CORNER = 1 - math.sqrt(0.5)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle, its corners round by `radius`."""

    #: along x
    width: float
    #: along y
    height: float
    radius: float = 0.0

    @property
    def outline(self) -> "Outline":
        """The exact outline about the origin, counter-clockwise."""
        from jigtemplates.geometry.shapes import rectangle

        return rectangle(self.width, self.height, min(self.radius, self.width / 2, self.height / 2))

    @property
    def is_round(self) -> bool:
        """True for a circle."""
        return abs(self.width - self.height) < ROUNDING and abs(2 * self.radius - self.width) < ROUNDING

    def beyond(self, x: float, y: float) -> float:
        """How far a place lies outside, mm: distance from the edge, negative inside."""
        dx = abs(x) - (self.width / 2 - self.radius)
        dy = abs(y) - (self.height / 2 - self.radius)
        return math.hypot(max(dx, 0.0), max(dy, 0.0)) + min(max(dx, dy), 0.0) - self.radius

    def holds(self, other: "Box") -> bool:
        """Whether another box about the same middle lies inside; touching counts."""
        return self.room_round(other) >= -ROUNDING

    def room_round(self, other: "Box") -> float:
        """Least distance from the edge of another box about the same middle out to this one's; negative: it sticks out.

        The other is its core with a disc of its radius swept over it. `beyond` is convex, so of the core a corner is
        furthest out, and from there the disc reaches a radius further.
        """
        return -(self.beyond(other.width / 2 - other.radius, other.height / 2 - other.radius) + other.radius)
