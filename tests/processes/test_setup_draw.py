"""The pens of the set-up sheet: hatching and lines clipped exactly, scales, labels moved apart."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawing import Stroke
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.processes.paper_page import Ink, Text
from jigtemplates.processes.setup_dims import (
    Named,
    break_line,
    dimension_line,
    extension,
    inch_short,
    size_line,
    spread,
)
from jigtemplates.processes.setup_draw import Picture, arrow_head, clipped, fitting, hatching, patch, scale_text

U_SHAPE = [(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (20.0, 20.0), (20.0, 8.0), (10.0, 8.0), (10.0, 20.0), (0.0, 20.0)]


def ends(ink: Ink) -> tuple[Point, ...]:
    """The points of a stroke."""
    assert isinstance(ink.shape, Stroke)
    return ink.shape.points


def picture() -> Picture:
    """An empty picture."""
    return Picture(Bounds(0, 0, 100, 100))


@given(st.floats(0.7, 4.0), st.floats(-89.0, 89.0))
@settings(max_examples=40, deadline=None)
def test_hatching_fills_and_stays_inside(spacing: float, degrees: float) -> None:
    """Lines lie within the part, and their length times the spacing is its area, as near as the spacing allows."""
    part = shapely.Polygon(U_SHAPE)
    lines = [shapely.LineString(ends(ink)) for ink in hatching([U_SHAPE], spacing, degrees, "#000000")]
    assert all(part.buffer(1e-6).contains(line) for line in lines)
    total = math.fsum(line.length for line in lines)
    assert total * spacing == pytest.approx(part.area, abs=1.2 * spacing * (30 + 20))
    assert all(line.length > 0.05 for line in lines)


def test_hatching_literally() -> None:
    """Level lines 5 mm apart through the U: whole below, two arms above."""
    found = [ends(ink) for ink in hatching([U_SHAPE], 5.0, 0.0, "#123456")]
    spans = [(a.x, b.x, a.y) for a, b in found]
    assert (0.0, 30.0, 5.0) in spans
    assert [span for span in spans if span[2] == 10.0] == [(0.0, 10.0, 10.0), (20.0, 30.0, 10.0)]


def test_hatching_leaves_holes() -> None:
    """A ring within a ring is not hatched."""
    square, hole = [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)], [(3.0, 3.0), (6.0, 3.0), (6.0, 6.0), (3.0, 6.0)]
    spans = [(a.x, b.x) for a, b in map(ends, hatching([square, hole], 4.0, 0.0, "#000000")) if a.y == 4.0]
    assert spans == [(0.0, 3.0), (6.0, 9.0)]


def test_hatching_of_two_parts_is_in_step() -> None:
    """Two halves of one part are hatched as the whole would be."""
    left, right = [(0.0, 0.0), (5.0, 0.0), (5.0, 9.0), (0.0, 9.0)], [(7.0, 1.0), (12.0, 1.0), (12.0, 9.0), (7.0, 9.0)]
    levels = [
        {round((a.y - a.x) / 3.0 * math.sqrt(0.5), 6) % 1 for a, _ in map(ends, hatching([ring], 3.0, 45.0, "#000000"))}
        for ring in (left, right)
    ]
    assert levels[0] == levels[1] == {0.0}


coordinate = st.floats(-50, 50).map(lambda x: round(x, 3))


@given(coordinate, coordinate, coordinate, coordinate)
@settings(max_examples=80, deadline=None)
def test_clipping_agrees_with_shapely(x0: float, y0: float, x1: float, y1: float) -> None:
    """What is left of a line in a box is what GEOS says, to 1e-6 mm."""
    room = Bounds(-10, -5, 20, 15)
    found = clipped(Point(x0, y0), Point(x1, y1), room)
    expected = shapely.intersection(shapely.LineString([(x0, y0), (x1, y1)]), shapely.box(*room)).length
    assert (math.dist(*found) if found else 0.0) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(
    ("start", "end", "left"),
    [
        ((-20, 0), (30, 0), ((-10, 0), (20, 0))),
        ((0, 50), (0, -50), ((0, 15), (0, -5))),
        ((-20, 16), (30, 16), None),
        ((30, -20), (30, 20), None),
        ((-20, 0), (-12, 0), None),
    ],
)
def test_clipping(start: tuple[float, float], end: tuple[float, float], left: object) -> None:
    """Level and upright lines, and lines that miss."""
    found = clipped(Point(*start), Point(*end), Bounds(-10, -5, 20, 15))
    assert found is None if left is None else [tuple(map(round, p)) for p in found or ()] == list(left)  # type: ignore[call-overload]


@pytest.mark.parametrize(
    ("scale", "words"), [(5.0, "5:1"), (1.0, "1:1"), (0.5, "1:2"), (1 / 3, "1:3"), (0.4, "1:2.5"), (1 / 12, "1:12")]
)
def test_scale_text(scale: float, words: str) -> None:
    """Paper to real, as drawings say it."""
    assert scale_text(scale) == words


def test_arrow_head() -> None:
    """Its tip where it is asked, its length behind it."""
    assert arrow_head(Point(5, 5), math.pi / 2, 3.0).bounds == pytest.approx((5 - 0.96, 2, 5 + 0.96, 5))


@pytest.mark.parametrize(("anchor", "left"), [("start", 10.0), ("middle", 6.0), ("end", 2.0)])
def test_patch(anchor: str, left: float) -> None:
    """The patch goes half a millimetre beyond the text at either side."""
    width = text_width("mm", 3.0)
    size = 3.0 * 8.0 / width  # so that the text is 8 mm wide
    found = patch(Text("mm", 10.0, 20.0, size, anchor=anchor)).bounds  # type: ignore[arg-type]
    assert (found.left, found.right) == pytest.approx((left - 0.5, left + 8.5))
    assert found.bottom < 20.0 < found.top


def test_patch_turned() -> None:
    """A text that reads upwards has an upright patch on the left of its baseline."""
    found = patch(Text("datum", 10.0, 20.0, 3.0, angle=90)).bounds
    assert found.height > found.width
    assert (found.left, found.bottom) == pytest.approx((10 - 0.76 * 3 - 0.25, 19.5))


def test_fitting() -> None:
    """Letters shrink to the room, but no further than the least size."""
    width = text_width("plunge", 6.0, bold=True)
    assert fitting("plunge", width + 1, 6.0, 2.0) == 6.0
    assert fitting("plunge", width / 2, 6.0, 2.0) == pytest.approx(3.0)
    assert fitting("plunge", 0.1, 6.0, 2.0) == 2.0


labels = st.lists(st.tuples(st.floats(0, 100), st.floats(2, 9)), min_size=1, max_size=6)


@given(labels)
@settings(max_examples=80, deadline=None)
def test_labels_spread_apart(wanted: list[tuple[float, float]]) -> None:
    """Labels never touch, keep their order, and stay within where there is room."""
    wanted = sorted(wanted, reverse=True)
    middles = spread(wanted, 0.0, 100.0)
    for (a, height), (b, below) in zip(
        zip(middles, (h for _, h in wanted), strict=True),
        list(zip(middles, (h for _, h in wanted), strict=True))[1:],
        strict=False,
    ):
        assert a - height / 2 >= b + below / 2 + 0.8 - 1e-9
    assert middles[-1] - wanted[-1][1] / 2 >= -1e-9
    assert middles[0] + wanted[0][1] / 2 <= 100.0 + 1e-9


def test_labels_with_room_stay() -> None:
    """Labels that do not touch stand where they are wanted."""
    assert spread([(80.0, 5.0), (50.0, 5.0)], 0.0, 100.0) == [80.0, 50.0]


def test_labels_without_room_stick_out_above() -> None:
    """Three labels of 5 mm in 10 mm: the lowest on the floor, the others above it."""
    assert spread([(9.0, 5.0), (8.0, 5.0), (7.0, 5.0)], 0.0, 10.0, gap=1.0) == [14.5, 8.5, 2.5]


def test_dimension_line() -> None:
    """One thin line a millimetre over both ends, and a heavy stroke across each."""
    made = picture()
    dimension_line(made, Point(10, 20), Point(40, 20))
    line, *strokes = made.inks
    assert ends(line) == ((9, 20), (41, 20))
    assert len(strokes) == 2
    for stroke, x in zip(strokes, (10, 40), strict=True):
        a, b = ends(stroke)
        assert ((a.x + b.x) / 2, (a.y + b.y) / 2) == pytest.approx((x, 20))
        assert b.y - a.y == pytest.approx(b.x - a.x)  # at 45°
        assert stroke.width > 3 * line.width


def test_dimension_of_nothing() -> None:
    """A size of 0 still has its line and strokes."""
    made = picture()
    dimension_line(made, Point(10, 20), Point(10, 20))
    assert ends(made.inks[0]) == ((9, 20), (11, 20))


def test_extension() -> None:
    """It leaves the feature free, goes on beyond the dimension line, and is dashed where the size is not known."""
    made = picture()
    extension(made, Point(0, 0), Point(0, 10), dashed=True)
    extension(made, Point(0, 0), Point(0, 0.5))  # no room for one
    (ink,) = made.inks
    assert ends(ink) == ((0, 0.8), (0, 11.2))
    assert ink.dash


def test_break_line() -> None:
    """Its ends are the ends of the part, with a zigzag to both sides between; none of no length."""
    made = picture()
    break_line(made, Point(0, 0), Point(20, 0))
    break_line(made, Point(3, 3), Point(3, 3))
    (ink,) = made.inks
    points = ends(ink)
    assert (points[0], points[-1]) == ((0, 0), (20, 0))
    assert max(p.y for p in points) == pytest.approx(1.2)
    assert min(p.y for p in points) == pytest.approx(-1.2)


@pytest.mark.parametrize(
    ("mm", "inches", "words"),
    [
        (12.7, True, "1/2 in = 12.7 mm"),
        (12.7, False, "12.7 mm"),
        (13.175, True, "0.519 in = 13.18 mm"),
        (38.1, True, "1-1/2 in = 38.1 mm"),
    ],
)
def test_size_line(mm: float, inches: bool, words: str) -> None:
    """Millimetres, and with inches those before them: a fraction only where it is exact."""
    assert size_line(mm, inches) == words


def test_inch_short() -> None:
    """Three decimals where no 1/64 is exact: 10 mm is 0.394 in."""
    assert inch_short(10.0) == "0.394 in"


@pytest.mark.parametrize(
    ("sizes", "expected"),
    [
        (("5.5 mm",), ["stem", "5.5 mm"]),
        (("5.5 mm", "0.217 in"), ["stem", "5.5 mm", "0.217 in"]),
        ((), ["stem", "not known:", "measure"]),
    ],
)
def test_named(sizes: tuple[str, ...], expected: list[str]) -> None:
    """A name over its size, or over the request to measure it, all lines about one height."""
    made = picture()
    named = Named("stem", sizes)
    named.put(made, 50.0, 40.0, 30.0)
    assert [text.string for text in made.texts] == expected
    assert max(t.y + 0.75 * t.size for t in made.texts) <= 40.0 + named.height / 2 + 0.1
    assert min(t.y - 0.25 * t.size for t in made.texts) >= 40.0 - named.height / 2 - 0.1


def test_areas_and_lines() -> None:
    """An area has a filling and no line; a text may have a patch under it."""
    made = picture()
    made.area(Outline.circle(Point(5, 5), 2), "#F9DCC6")
    made.backed(Text("plate", 50, 50, 3.0), "#FBE9C4")
    assert [(ink.width, ink.fill) for ink in made.inks] == [(0.0, "#F9DCC6"), (0.0, "#FBE9C4")]
    assert [text.string for text in made.texts] == ["plate"]
