"""Affine maps of the plane: what a transform attribute, a block or a unit does to coordinates."""

from typing import NamedTuple

from jigtemplates.geometry.outline import Point


class Affine(NamedTuple):
    """(x, y) becomes (a x + c y + e, b x + d y + f), in the order of SVG's matrix()."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def at(self, x: float, y: float) -> Point:
        """Where a place comes to."""
        return Point(self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def turned(self, x: float, y: float) -> Point:
        """What becomes of a direction: the map without its shift."""
        return Point(self.a * x + self.c * y, self.b * x + self.d * y)

    def after(self, first: "Affine") -> "Affine":
        """This map done after another."""
        (a, b), (c, d) = self.turned(first.a, first.b), self.turned(first.c, first.d)
        return Affine(a, b, c, d, *self.at(first.e, first.f))
