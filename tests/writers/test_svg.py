"""The SVG file, read by svgelements and by xml.etree."""

import io
import math
from collections.abc import Mapping
from typing import Any
from xml.etree import ElementTree

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawing import Drawing, Item, Pen, Role
from jigtemplates.geometry.outline import Arc, Line, Outline, Point
from jigtemplates.writers.faults import UnwritableError
from jigtemplates.writers.svg import number, steady, write_svg

Pens = Mapping[Role, Pen]
#: Pixels to the inch at which svgelements has one for a mm: to it a mm is 0.0393701 in.
PPI = 1 / 0.0393701
SVG = "{http://www.w3.org/2000/svg}"


def shapes(data: bytes) -> list[Any]:
    """Paths and circles as svgelements sees them, in mm, y down."""

    svg = svgelements.SVG.parse(io.BytesIO(data), ppi=PPI, reify=True)
    return [e for e in svg.elements() if isinstance(e, svgelements.Path | svgelements.Circle)]


def by_layer(data: bytes) -> dict[str, Any]:
    """The one shape of each layer."""
    root = ElementTree.fromstring(data)
    names = [g.get("id") for g in root.iter(f"{SVG}g") for _ in g]
    return dict(zip([str(n) for n in names], shapes(data), strict=True))


def test_true_size(drawing: Drawing, pens: Pens) -> None:
    """Width and height are in mm and one unit of the viewBox is 1 mm."""
    root = ElementTree.fromstring(write_svg(drawing, pens, title=""))
    assert (root.get("width"), root.get("height")) == ("100mm", "60mm")
    assert root.get("viewBox") == "0 0 100 60"


def test_groups_in_working_order(drawing: Drawing, pens: Pens) -> None:
    """One flat group a role, in working order, with its look as presentation attributes."""
    root = ElementTree.fromstring(write_svg(drawing, pens, title=""))
    groups = root.findall(f"{SVG}g")
    assert [g.get("id") for g in groups] == ["MARK", "ENGRAVE", "DRILL", "CUT_INSIDE", "CUT_OUTSIDE"]
    assert {k: groups[-1].get(k) for k in ("fill", "stroke", "stroke-width")} == {
        "fill": "none",
        "stroke": "#d55e00",
        "stroke-width": "0.1",
    }
    assert all(child.tag in (f"{SVG}path", f"{SVG}circle") for g in groups for child in g)


def test_the_paths_word_for_word(drawing: Drawing, pens: Pens) -> None:
    """The asymmetric plate as literal path data: y turned, flags apart, the half circle in two."""
    root = ElementTree.fromstring(write_svg(drawing, pens, title=""))
    d = {g.get("id"): g[0].get("d") for g in root.findall(f"{SVG}g")}
    assert d["CUT_OUTSIDE"] == (
        "M 50 60 L 100 60 L 100 0 L 80 0 A 10 10 0 0 1 70 10 A 10 10 0 0 1 60 0 L 30 0 A 30 30 0 0 0 0 30 L 0 60 Z"
    )
    assert d["CUT_INSIDE"] == ("M 80 30 L 85 35 A 10 10 0 0 1 67.928932188 42.071067812 A 10 10 0 0 1 75 25 Z")
    assert d["ENGRAVE"] == "M 10 55 L 20 55 L 25 52"
    assert d["MARK"] == "M 50 59 L 50 56"


def test_boxes_in_another_program(drawing: Drawing, pens: Pens) -> None:
    """svgelements finds every shape where it should be, y down from the top edge."""
    found = by_layer(write_svg(drawing, pens, title=""))
    boxes = {name: pytest.approx(shape.bbox(), abs=1e-6) for name, shape in found.items()}
    assert boxes == {
        "MARK": (50, 56, 50, 59),
        "ENGRAVE": (10, 52, 25, 55),
        "DRILL": (17.5, 42.5, 22.5, 47.5),
        "CUT_INSIDE": (65, 25, 85, 45),
        "CUT_OUTSIDE": (0, 0, 100, 60),
    }


def test_area_and_length_in_another_program(drawing: Drawing, pens: Pens) -> None:
    """The plate as svgelements follows it has the area 5100 + 175 pi and the length 240 + 25 pi."""
    plate = by_layer(write_svg(drawing, pens, title=""))["CUT_OUTSIDE"]
    assert plate.length(error=1e-6) == pytest.approx(240 + 25 * math.pi, abs=1e-3)
    points = [s.point(i / 200) for s in plate.segments() if not isinstance(s, svgelements.Move) for i in range(200)]
    ring = zip(points, points[1:] + points[:1], strict=True)
    # counter-clockwise with y up is clockwise with y down: positive after the turn of y
    area = -sum(a.x * b.y - b.x * a.y for a, b in ring) / 2
    assert area == pytest.approx(5100 + 175 * math.pi, abs=0.05)


def test_circle(drawing: Drawing, pens: Pens) -> None:
    """A round hole is one <circle> at its own place, y turned."""
    root = ElementTree.fromstring(write_svg(drawing, pens, title=""))
    (circle,) = root.iter(f"{SVG}circle")
    assert circle.attrib == {"cx": "20", "cy": "45", "r": "2.5"}


def test_nothing_forbidden(drawing: Drawing, pens: Pens) -> None:
    """No transform, style, class, text, use or clip path, and no comment in which a clock could stand."""
    data = write_svg(drawing, pens, title="T")
    root = ElementTree.fromstring(data)
    assert {e.tag.removeprefix(SVG) for e in root.iter()} == {"svg", "title", "g", "path", "circle"}
    assert not {a for e in root.iter() for a in e.attrib} & {"transform", "style", "class", "clip-path"}
    assert b"<!--" not in data


def test_title_is_escaped(drawing: Drawing, pens: Pens) -> None:
    """A title comes back as it was, mark-up, quotes and foreign letters included."""
    title = 'Rail ½" <b>&amp; "x" ><'
    root = ElementTree.fromstring(write_svg(drawing, pens, title=title))
    assert root.findtext(f"{SVG}title") == title


@pytest.mark.parametrize(("char", "code"), [("\x07", "0007"), ("\x00", "0000"), ("\ud800", "D800")])
def test_title_xml_cannot_hold(drawing: Drawing, pens: Pens, char: str, code: str) -> None:
    """A control character in the title is refused in one line that names it."""
    with pytest.raises(UnwritableError) as caught:
        write_svg(drawing, pens, title=f"a{char}b")
    (line,) = caught.value.lines
    assert line.endswith(f" holds a character that SVG cannot carry (leave out U+{code})")


def test_layer_that_comes_back_has_its_own_id(drawing: Drawing, pens: Pens) -> None:
    """Where a layer is used again after others, its second group has an id of its own."""
    shared = {**pens, Role.MARK: pens[Role.CUT_OUTSIDE]}
    root = ElementTree.fromstring(write_svg(drawing, shared, title=""))
    ids = [g.get("id") for g in root.findall(f"{SVG}g")]
    assert ids == ["CUT_OUTSIDE", "ENGRAVE", "DRILL", "CUT_INSIDE", "CUT_OUTSIDE_2"]


def test_contour_that_ends_in_an_arc(pens: Pens) -> None:
    """A contour without a straight is drawn to its last arc's end and closed there."""
    a, b = Point(0, 10), Point(10, 0)
    lens = Outline((Arc(a, b, Point(10, 10), 10, 1), Arc(b, a, Point(0, 0), 10, 1)))
    root = ElementTree.fromstring(write_svg(Drawing((Item(Role.CUT_OUTSIDE, lens),), 10, 10), pens, title=""))
    assert root[1][0].get("d") == "M 0 0 A 10 10 0 0 0 10 10 A 10 10 0 0 0 0 0 Z"


def test_same_bytes(drawing: Drawing, pens: Pens) -> None:
    """Written twice, the file is the same; lines end in LF."""
    first = write_svg(drawing, pens, title="T")
    assert write_svg(drawing, pens, title="T") == first
    assert b"\r" not in first


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.1, "0.1"),
        (12.700000000000001, "12.7"),
        (-1e-12, "0"),
        (-0.0, "0"),
        (1e-7, "0.0000001"),
        (1e9, "1000000000"),
        (-2.5, "-2.5"),
    ],
)
def test_numbers(value: float, text: str) -> None:
    """Nine decimals at most, without exponent, trailing zeros or a minus before nothing."""
    assert number(value) == text


@pytest.mark.parametrize(("degrees", "pieces"), [(1, 1), (90, 1), (170, 1), (171, 2), (180, 2), (345, 3)])
def test_arcs_stay_well_below_half_a_circle(degrees: float, pieces: int) -> None:
    """An arc beyond 170 degrees is cut in equal pieces; up to there it stays whole."""
    angle = math.radians(degrees)
    arc = Arc(Point(10, 0), Point(10 * math.cos(angle), 10 * math.sin(angle)), Point(0, 0), 10, 1)
    assert len(steady(arc)) == pieces


def test_straights_stay_whole() -> None:
    """A straight is never cut."""
    line = Line(Point(0, 0), Point(1000, 0))
    assert steady(line) == (line,)


@given(st.floats(1, 359), st.floats(0.5, 500), st.floats(0, 360))
@settings(max_examples=25, deadline=None)
def test_arc_boxes_hold_for_any_sweep(sweep: float, radius: float, first: float) -> None:
    """A disc's piece of any sweep has the same box in svgelements as in exact geometry, to 1e-6 mm."""
    a, b = math.radians(first), math.radians(first + sweep)
    center = Point(radius, radius)
    ends = [Point(radius + radius * math.cos(t), radius + radius * math.sin(t)) for t in (a, b)]
    piece = Outline((Arc(ends[0], ends[1], center, radius, 1), Line(ends[1], ends[0])))
    box = piece.bounds
    moved = piece.moved(-box.left, -box.bottom)
    data = write_svg(
        Drawing((Item(Role.CUT_OUTSIDE, moved),), box.width, box.height),
        {Role.CUT_OUTSIDE: Pen("C", "#000000", 0.1)},
        title="",
    )
    (shape,) = shapes(data)
    assert shape.bbox() == pytest.approx((0, 0, box.width, box.height), abs=1e-6)
