"""What a drawing and its pens must be before any file is written."""

import math
from collections.abc import Mapping

import pytest

from jigtemplates.drawing import Drawing, Item, Pen, Role, Stroke
from jigtemplates.geometry.outline import Arc, Line, Outline, Point
from jigtemplates.writers.faults import UnwritableError, shown, shown_point
from jigtemplates.writers.layers import layers

Pens = Mapping[Role, Pen]
FRAME = Item(Role.CUT_OUTSIDE, Outline.polygon([(0, 0), (10, 0), (10, 5), (0, 5)]))
MARK = Item(Role.MARK, Stroke((Point(1, 1), Point(2, 2))))
GOOD = Pen("CUT", "#d55e00", 0.1)


def faults(drawing: Drawing, pens: Pens) -> tuple[str, ...]:
    with pytest.raises(UnwritableError) as caught:
        layers(drawing, pens)
    return caught.value.lines


def sheet(*items: Item, width: float = 10, height: float = 5) -> Drawing:
    return Drawing(items, width, height)


def test_one_layer_a_role(drawing: Drawing, pens: Pens) -> None:
    """Roles come in working order, and one without a pen is left out."""
    names = [layer.pen.layer for layer in layers(drawing, pens)]
    assert names == ["MARK", "ENGRAVE", "DRILL", "CUT_INSIDE", "CUT_OUTSIDE"]


def test_neighbours_share_a_layer() -> None:
    """Roles with the same pen, next to each other in working order, are one layer."""
    hole = Item(Role.CUT_INSIDE, Outline.circle(Point(5, 2), 1))
    (layer,) = layers(sheet(FRAME, hole), {Role.CUT_INSIDE: GOOD, Role.CUT_OUTSIDE: GOOD})
    assert layer.shapes == (hole.shape, FRAME.shape)


@pytest.mark.parametrize("name", ["", "CUT 1", "SCHNITT_Ü", "A" * 32, "a/b", "-x"])
def test_layer_name(name: str) -> None:
    """A name that is empty, long, spaced or not plain ASCII is refused with what may stand there."""
    (line,) = faults(sheet(FRAME), {Role.CUT_OUTSIDE: Pen(name, "#d55e00", 0.1)})
    assert line.endswith(' is not a layer name (write 1 to 31 letters, digits, "_", "-" or "$")')


def test_longest_layer_name() -> None:
    """31 characters are allowed."""
    (layer,) = layers(sheet(FRAME), {Role.CUT_OUTSIDE: Pen("A" * 31, "#d55e00", 0.1)})
    assert layer.pen.layer == "A" * 31


def test_layer_never_plotted() -> None:
    """The layer that CAD programs never plot is refused."""
    lines = faults(sheet(FRAME), {Role.CUT_OUTSIDE: Pen("Defpoints", "#d55e00", 0.1)})
    assert lines == ('layer "Defpoints" is never plotted (choose another name)',)


@pytest.mark.parametrize("colour", ["red", "#fff", "#d55e0g", "#d55e00 "])
def test_colour(colour: str) -> None:
    """A colour is #rrggbb and nothing else."""
    lines = faults(sheet(FRAME), {Role.CUT_OUTSIDE: Pen("CUT", colour, 0.1)})
    assert lines == (f'layer "CUT": "{colour}" is not a colour (write "#rrggbb")',)


@pytest.mark.parametrize(("stroke", "said"), [(0.0, "0"), (-1.0, "-1"), (math.nan, "nan"), (math.inf, "inf")])
def test_stroke(stroke: float, said: str) -> None:
    """A line width is a number above zero."""
    lines = faults(sheet(FRAME), {Role.CUT_OUTSIDE: Pen("CUT", "#d55e00", stroke)})
    assert lines == (f'layer "CUT": stroke {said} mm is not a line width (write more than 0 mm)',)


def test_layer_with_two_looks() -> None:
    """Roles on one layer must look the same."""
    pens = {Role.CUT_OUTSIDE: GOOD, Role.MARK: Pen("CUT", "#000000", 0.1)}
    assert faults(sheet(FRAME, MARK), pens) == (
        'layer "CUT" is asked for with two looks (give every role on it the same colour and stroke)',
    )


def test_layers_that_differ_in_capitals() -> None:
    """DXF takes "Cut" and "CUT" for one layer, so the pair is refused."""
    pens = {Role.CUT_OUTSIDE: GOOD, Role.MARK: Pen("Cut", "#000000", 0.1)}
    assert faults(sheet(FRAME, MARK), pens) == ('layers "Cut" and "CUT" differ in capitals only (write them alike)',)


def test_all_faults_at_once() -> None:
    """Every fault of pens and shapes has its line in one error."""
    pens = {Role.CUT_OUTSIDE: Pen("A B", "red", 0), Role.MARK: Pen("Defpoints", "#000000", 0.1)}
    assert len(faults(sheet(FRAME, MARK, Item(Role.MARK, Stroke(()))), pens)) == 5


@pytest.mark.parametrize(
    "outline",
    [
        Outline(()),
        Outline((Line(Point(0, 0), Point(10, 0)), Line(Point(10, 0), Point(10, 5)))),
        Outline((Line(Point(0, 0), Point(10, 5)), Line(Point(10, 5), Point(math.nan, 0)))),
        Outline((Arc(Point(0, 0), Point(1, 0), Point(0.5, 0), 0.5, 1),)),
    ],
    ids=["empty", "open", "not a number", "open arc"],
)
def test_contour_not_closed(outline: Outline) -> None:
    """A contour whose ends do not meet is refused by number and role."""
    lines = faults(sheet(FRAME, Item(Role.CUT_INSIDE, outline)), {Role.CUT_OUTSIDE: GOOD})
    assert lines == ("item 2 (cut_inside) is a contour that is not closed",)


@pytest.mark.parametrize("points", [(), (Point(1, 1),)])
def test_stroke_of_one_point(points: tuple[Point, ...]) -> None:
    """A stroke needs two points."""
    lines = faults(sheet(FRAME, Item(Role.MARK, Stroke(points))), {Role.CUT_OUTSIDE: GOOD})
    assert lines == ("item 2 (mark) is a stroke with fewer than two points",)


@pytest.mark.parametrize(
    ("dx", "width", "lies", "wanted"),
    [(-1.0, 10.0, "(-1, 0) to (9, 5)", "(10, 5)"), (0.0, 12.0, "(0, 0) to (10, 5)", "(12, 5)")],
)
def test_drawing_out_of_place(dx: float, width: float, lies: str, wanted: str) -> None:
    """The drawing's lower-left corner is (0, 0) and its upper-right its size."""
    assert isinstance(FRAME.shape, Outline)
    moved = sheet(Item(Role.CUT_OUTSIDE, FRAME.shape.moved(dx, 0)), width=width)
    assert faults(moved, {Role.CUT_OUTSIDE: GOOD}) == (
        f"the drawing lies from {lies} mm and must lie from (0, 0) to {wanted} mm",
    )


def test_circle_that_is_nowhere() -> None:
    """A circle without a real middle is out of place, too, though its ends meet."""
    start = Point(0, 2.5)
    lost = Outline((Arc(start, start, Point(math.nan, 2.5), math.nan, 1),))
    (line,) = faults(sheet(Item(Role.CUT_OUTSIDE, lost)), {Role.CUT_OUTSIDE: GOOD})
    assert line.startswith("the drawing lies from (0, 2.5) to ")


def test_empty_drawing() -> None:
    """A drawing without items is refused."""
    assert faults(sheet(), {}) == ("nothing to write: the drawing is empty",)


def test_no_pen_for_anything() -> None:
    """A file that would be empty for want of pens is refused."""
    assert faults(sheet(FRAME), {Role.MARK: GOOD}) == (
        "nothing to write: no line of the drawing has a pen in this file",
    )


@pytest.mark.parametrize(
    ("value", "said"), [(1.5, "1.5"), (-0.25, "-0.25"), (100, "100"), (1e-9, "0"), (-1e-9, "0"), (1e20, "1e+20")]
)
def test_numbers_in_error_lines(value: float, said: str) -> None:
    """Numbers in an error line are short; far-off ones keep an exponent."""
    assert shown(value) == said
    assert shown_point(value, 0) == f"({said}, 0)"
