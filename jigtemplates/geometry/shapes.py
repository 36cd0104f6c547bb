"""Shapes a cut can have. Each is a function whose parameters are its dimensions.

Millimetres, centred on the origin, length along x, width along y, counter-clockwise.
"""

from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Segment


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
    if corner_radius == 0:
        x, y = length / 2, width / 2
        return Outline.polygon([(-x, -y), (x, -y), (x, y), (-x, y)])
    return _rounded(length / 2, width / 2, corner_radius)


def _rounded(x: float, y: float, r: float) -> Outline:
    """The box from (-x, -y) to (x, y) with corners of radius r, from the left end of its lower side."""
    ends = [
        ((-x + r, -y), (x - r, -y), (x - r, -y + r)),
        ((x, -y + r), (x, y - r), (x - r, y - r)),
        ((x - r, y), (-x + r, y), (-x + r, y - r)),
        ((-x, y - r), (-x, -y + r), (-x + r, -y + r)),
    ]
    segments: list[Segment] = []
    for i, (start, end, center) in enumerate(ends):
        following = ends[(i + 1) % 4][0]
        segments.append(Line(Point(*start), Point(*end)))
        segments.append(Arc(Point(*end), Point(*following), Point(*center), r, 1))
    return Outline(tuple(segments))
