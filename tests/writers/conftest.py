"""One drawing that no mirror image, turn or scale leaves alike, for every writer of cut files."""

import pytest

from jigtemplates.drawing import Drawing, Item, Pen, Role, Stroke
from jigtemplates.geometry.outline import Arc, Line, Outline, Point

P = Point


def plate() -> Outline:
    """100 x 60: top left rounded by 30 (counter-clockwise), a half-round notch of 10 in the top.

    Area 6000 - 50 pi - (900 - 225 pi), length 240 + 25 pi.
    """
    return Outline(
        (
            Line(P(0, 0), P(100, 0)),
            Line(P(100, 0), P(100, 60)),
            Line(P(100, 60), P(80, 60)),
            Arc(P(80, 60), P(60, 60), P(70, 60), 10, -1),
            Line(P(60, 60), P(30, 60)),
            Arc(P(30, 60), P(0, 30), P(30, 30), 30, 1),
            Line(P(0, 30), P(0, 0)),
        )
    )


def opening() -> Outline:
    """Three quarters of a disc of 10 about (75, 25), clockwise: area -(75 pi + 50)."""
    return Outline((Arc(P(85, 25), P(75, 35), P(75, 25), 10, -1), Line(P(75, 35), P(85, 25))))


@pytest.fixture
def drawing() -> Drawing:
    """Items out of working order on purpose; the reference has no pen."""
    return Drawing(
        (
            Item(Role.CUT_OUTSIDE, plate()),
            Item(Role.CUT_INSIDE, opening()),
            Item(Role.DRILL, Outline.circle(P(20, 15), 2.5, -1)),
            Item(Role.ENGRAVE, Stroke((P(10, 5), P(20, 5), P(25, 8)))),
            Item(Role.MARK, Stroke((P(50, 1), P(50, 4)))),
            Item(Role.REFERENCE, Stroke((P(0, 30), P(100, 30)))),
        ),
        100.0,
        60.0,
    )


@pytest.fixture
def pens() -> dict[Role, Pen]:
    """Layers and colours of our own."""
    return {
        Role.CUT_OUTSIDE: Pen("CUT_OUTSIDE", "#d55e00", 0.1),
        Role.CUT_INSIDE: Pen("CUT_INSIDE", "#0072b2", 0.1),
        Role.DRILL: Pen("DRILL", "#009e73", 0.1),
        Role.ENGRAVE: Pen("ENGRAVE", "#cc79a7", 0.2),
        Role.MARK: Pen("MARK", "#56b4e9", 0.2),
    }
