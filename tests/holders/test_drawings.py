"""A holder's parts as drawings: roles, order of work, kerf, label, datum corner."""

import math
from collections.abc import Callable

import pytest

from jigtemplates.drawing import Drawing, Role, Stroke
from jigtemplates.geometry.outline import Bounds, Outline
from jigtemplates.holders.drawings import label_lines, part_drawing, part_label
from jigtemplates.holders.parts import Part, Parts

MakeParts = Callable[..., Parts]


def outlines(drawing: Drawing, role: Role) -> list[Outline]:
    """The outlines of one role."""
    return [i.shape for i in drawing.items if i.role is role and isinstance(i.shape, Outline)]


def bounds(drawing: Drawing, role: Role) -> list[Bounds]:
    return [outline.bounds for outline in outlines(drawing, role)]


def test_order_of_work(parts: MakeParts) -> None:
    """Marks, label, pocket, holes, window; the outside last. Only the frame in one piece has a pocket."""
    made = parts(joining=None)
    single = part_drawing(made.single, made.holder)
    assert list(dict.fromkeys(item.role for item in single.items)) == [
        Role.MARK, Role.ENGRAVE, Role.POCKET, Role.DRILL, Role.CUT_INSIDE, Role.CUT_OUTSIDE,
    ]  # fmt: skip
    assert outlines(part_drawing(made.upper, made.holder), Role.POCKET) == []


def test_where_things_lie(parts: MakeParts) -> None:
    """From the lower-left corner: recess 30 to 190, window 52 to 168, outside 0 to 220."""
    made = parts()
    upper, single = part_drawing(made.upper, made.holder), part_drawing(made.single, made.holder)
    assert (upper.width, upper.height) == (220, 220)
    assert bounds(upper, Role.CUT_INSIDE) == [pytest.approx((30, 30, 190, 190))]
    assert bounds(upper, Role.CUT_OUTSIDE) == [pytest.approx((0, 0, 220, 220))]
    assert bounds(single, Role.POCKET) == [pytest.approx((30, 30, 190, 190))]
    assert bounds(single, Role.CUT_INSIDE) == [pytest.approx((52, 52, 168, 168))]
    assert len(outlines(upper, Role.POCKET)) == 4  # countersinks of the joining screws


def test_kerf_by_role(parts: MakeParts) -> None:
    """Kerf 0.2: recess and holes 0.1 smaller a side, outside 0.1 larger, all shifted by 0.1."""
    made = parts()
    drawing = part_drawing(made.upper, made.holder, 0.2)
    assert (drawing.width, drawing.height) == pytest.approx((220.2, 220.2))
    assert bounds(drawing, Role.CUT_INSIDE) == [pytest.approx((30.2, 30.2, 190, 190))]
    assert bounds(drawing, Role.CUT_OUTSIDE) == [pytest.approx((0, 0, 220.2, 220.2))]
    (recess,) = outlines(drawing, Role.CUT_INSIDE)
    assert recess.area == pytest.approx(159.8**2 - (4 - math.pi) * 4.9**2)
    hole = outlines(drawing, Role.DRILL)[0].as_circle
    assert hole is not None
    assert hole.radius == pytest.approx(2.65)
    assert hole.center == pytest.approx((12.1, 12.1))


def test_kerf_of_a_round_frame(parts: MakeParts) -> None:
    """The outside stays round: 220.2 mm across."""
    made = parts(corner_radius="80", joining=None, screws=None)
    (outside,) = outlines(part_drawing(made.upper, made.holder, 0.2), Role.CUT_OUTSIDE)
    circle = outside.as_circle
    assert circle is not None
    assert circle.radius == pytest.approx(110.1)


def test_what_the_label_says(parts: MakeParts) -> None:
    """Holder, part, thickness, how many, which side is up; in inches for a holder in inches."""
    made = parts()
    assert label_lines(made.upper, made.holder) == ("frame", "upper frame", "6 mm thick", "make 1", "this side up")
    assert label_lines(made.single, made.holder)[1:3] == ("frame in one piece", "15 mm thick")
    keys = {"width": '"6 in"', "height": '"6 in"', "depth": '"1/4 in"', "window": None}
    inches = parts(**keys)
    assert label_lines(inches.upper, inches.holder)[2] == "1/4 in thick"


@pytest.mark.parametrize("key", ["upper", "ledge", "single"])
def test_the_label_stands_on_wood(parts: MakeParts, key: str) -> None:
    """Its box lies on the part, off the recess or window and off every hole, with 2.5 mm between."""
    made = parts()
    part: Part = getattr(made, key)
    label = part_label(part, made.holder)
    assert label is not None
    box = label.box
    hollow = part.placed(part.pocket or part.through).bounds
    assert min(box.left, box.bottom, 220 - box.right, 220 - box.top) >= 2.5
    assert hollow.bottom - box.top >= 2.5
    for bore in part.bores:
        x = max(box.left - bore.hole.center.x, 0, bore.hole.center.x - box.right)
        y = max(box.bottom - bore.hole.center.y, 0, bore.hole.center.y - box.top)
        assert math.hypot(x, y) >= max(bore.hole.diameter, bore.hole.head or 0) / 2 + 2.5


def test_no_label_without_room_or_letters(parts: MakeParts) -> None:
    """On a frame of 6 mm there is no room; a name that has no single-line letters is not engraved."""
    narrow = parts(frame="6", joining=None)
    assert part_label(narrow.upper, narrow.holder) is None
    drawing = part_drawing(narrow.upper, narrow.holder)
    assert not [item for item in drawing.items if item.role is Role.ENGRAVE]
    foreign = parts("門")
    assert part_label(foreign.upper, foreign.holder) is None


def test_the_datum_corner_is_marked(parts: MakeParts) -> None:
    """The lower-left corner of each square part has its mark, 2 mm from both edges."""
    for part in (made := parts(joining=None)):
        marks = [i.shape for i in part_drawing(part, made.holder).items if i.role is Role.MARK]
        assert [mark.points[1] for mark in marks if isinstance(mark, Stroke)] == [(2, 2)]
