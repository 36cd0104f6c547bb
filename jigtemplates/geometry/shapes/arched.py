"""Shapes with an arched side: the hand-hold and the arc-shaped slot; millimetres."""

import math

from jigtemplates.geometry.outline import Arc, Line, Outline, Point, cos_sin
from jigtemplates.geometry.shapes.basic import slot


def hand_hold(length: float, width: float, rise: float = 0.0) -> Outline:
    """A slot to put a hand through, its upper side arched by rise where the fingers lie.

    ::

             ____-----____       ┬ rise
          ╭─‾             ‾─╮   ─┼─
          │        +        │  width
          ╰─────────────────╯   ─┴─
          ├──── length ─────┤

    The round ends have half the width as their radius and run into the arch without a corner. The origin is in the
    middle of length and of width + rise; without rise it is a slot. Raises ValueError for a length below the width,
    and for a rise of more than half of what the length is more than the width.
    """
    x, r = (length - width) / 2, width / 2
    if not 0 <= rise <= x:
        raise ValueError("a hand-hold's rise must lie between 0 and half of length less width")
    if rise == 0:
        return slot(length, width)
    # The arch has its centre on the y axis and touches both end circles from outside: with c below the ends' centres,
    # hypot(x, c) = R - r and R - c = r + rise.
    c = (x * x - rise * rise) / (2 * rise)
    big = r + rise + c
    low = r - (width + rise) / 2
    center = Point(0.0, low - c)
    across, up = big * x / (big - r), big * c / (big - r)
    right, left = Point(across, center.y + up), Point(-across, center.y + up)
    return Outline(
        (
            Line(Point(-x, low - r), Point(x, low - r)),
            Arc(Point(x, low - r), right, Point(x, low), r, 1),
            Arc(right, left, center, big, 1),
            Arc(left, Point(-x, low - r), Point(-x, low), r, 1),
        )
    )


def arc_slot(radius: float, span: float, width: float) -> Outline:
    """A slot bent along an arc, with round ends; span is the angle between the centres of its ends, degrees.

    ::

            __---───---__
          ╭‾     +      ‾╮   ┬ width
          ╰─╮‾‾‾‾‾‾‾‾‾‾╭─╯   ┴
             ╲   span ╱
               ╲    ╱  radius of the centre line
                 ╲╱

    The origin is the middle of the slot's centre line, and the centre of the arc is (0, -radius). Raises ValueError
    where half the width is not less than the radius, for a span outside 0 to 360, and where the ends meet.
    """
    h = width / 2
    if not (0 < h < radius and 0 < span < 360):
        raise ValueError("half an arc slot's width must be less than its radius, and its span less than a circle")
    if ends_apart(radius, span, width) <= 0:
        raise ValueError("the ends of an arc slot must not meet")
    pivot = Point(0.0, -radius)

    def place(reach: float, degrees: float) -> Point:
        cos, sin = cos_sin(degrees)
        return Point(reach * cos, pivot.y + reach * sin)

    first, last = 90 - span / 2, 90 + span / 2
    outer, inner = radius + h, radius - h
    a, b, c, d = place(outer, first), place(outer, last), place(inner, last), place(inner, first)
    return Outline(
        (
            Arc(a, b, pivot, outer, 1),
            Arc(b, c, place(radius, last), h, 1),
            Arc(c, d, pivot, inner, -1),
            Arc(d, a, place(radius, first), h, 1),
        )
    )


def ends_apart(radius: float, span: float, width: float) -> float:
    """Wood between the two ends of an arc slot of more than half a circle, mm; infinite for less."""
    return 2 * radius * math.sin(math.radians(360 - span) / 2) - width if span > 180 else math.inf
