"""Slot, round and rectangle: millimetres, the origin in their middle, length along x, width along y."""

from collections.abc import Sequence

from jigtemplates.geometry.outline import Arc, Line, Outline, Point
from jigtemplates.geometry.shapes.corners import rounded

#: What the corners of a rectangle are called, in the order of its corner radii.
CORNERS = ("lower left", "lower right", "upper right", "upper left")


def slot(length: float, width: float) -> Outline:
    """A slot with round ends; length is overall, ends included.

    ::

          ╭──────────────╮   ─┬─
          │      +       │  width
          ╰──────────────╯   ─┴─
          ├─── length ───┤

    A length equal to the width gives a circle. Raises ValueError for a length below the width.
    """
    if length < width or width <= 0:
        raise ValueError("a slot's length must not be less than its width, and both must be positive")
    if length == width:
        return round_hole(width)
    x, r = (length - width) / 2, width / 2
    right, left = Point(x, 0.0), Point(-x, 0.0)
    return Outline(
        (
            Line(Point(-x, -r), Point(x, -r)),
            Arc(Point(x, -r), Point(x, r), right, r, 1),
            Line(Point(x, r), Point(-x, r)),
            Arc(Point(-x, r), Point(-x, -r), left, r, 1),
        )
    )


def round_hole(diameter: float) -> Outline:
    """A circle of that diameter.

    ::

           ╭───╮
          │  +  │   ├ diameter ┤
           ╰───╯
    """
    return Outline.circle(Point(0.0, 0.0), diameter / 2)


def rectangle(length: float, width: float, corner_radius: float = 0.0) -> Outline:
    """A rectangle, its corners round by corner_radius (0: square).

    ::

          ┌──────────────┐   ─┬─
          │      +       │  width
          └──────────────╯   ─┴─  corner_radius
          ├─── length ───┤

    Raises ValueError for a corner radius above half the smaller side.
    """
    if not 0 <= corner_radius <= min(length, width) / 2:
        raise ValueError("a corner radius must lie between 0 and half the smaller side")
    if corner_radius == width / 2 <= length / 2:
        return slot(length, width)
    if corner_radius == length / 2:
        return slot(width, length).rotated(90)
    return uneven_rectangle(length, width, (corner_radius,) * 4)


def uneven_rectangle(length: float, width: float, corner_radii: Sequence[float]) -> Outline:
    """A rectangle with a radius for each corner: lower left, lower right, upper right, upper left (0: square).

    ::

        d ╭─────────────┐ c   ─┬─
          │      +      │    width
        a └─────────────╯ b   ─┴─
          ├── length ───┤

    Raises ValueError where two radii are together more than the side between them, and for a negative one.
    """
    a, b, c, d = corner_radii
    if min(corner_radii) < 0 or max(a + b, c + d) > length or max(b + c, d + a) > width:
        raise ValueError("corner radii must not be negative, and two of them no more than the side between them")
    x, y = length / 2, width / 2
    return rounded([(-x, -y), (x, -y), (x, y), (-x, y)], corner_radii)
