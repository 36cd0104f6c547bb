"""Drawn contours of very many points, which are read all at once: the same outline, the same faults."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.geometry.long import LongOutline, table_of
from jigtemplates.geometry.outline import Arc, Outline
from jigtemplates.imports import dxf_entities, svg_straights
from jigtemplates.imports.outline_file import outline_of

PAGE = 'width="300mm" height="300mm" viewBox="-150 -150 300 300"'


def places(count: int = 700) -> list[tuple[float, float]]:
    """A ring of seven waves, radius 90 to 110 mm, in whole micrometres."""
    steps = [(i * 2 * math.pi / count, 100 + 10 * math.sin(14 * i * math.pi / count)) for i in range(count)]
    return [(round(r * math.cos(a), 3), round(r * math.sin(a), 3)) for a, r in steps]


def svg(data: str, more: str = "") -> bytes:
    """A path on a page."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" {PAGE}><path {more} d="{data}"/></svg>'.encode()


def relative(points: list[tuple[float, float]]) -> str:
    """The path from each place to the next."""
    pairs = zip([(0.0, 0.0), *points], points, strict=False)
    return "m" + " ".join(f"{round(x - a, 3)},{round(y - b, 3)}" for (a, b), (x, y) in pairs) + "z"


WRITTEN: dict[str, Callable[[list[tuple[float, float]]], str]] = {
    "a letter each": lambda p: "M " + " L ".join(f"{x} {y}" for x, y in p) + " Z",
    "one letter": lambda p: "M" + " ".join(f"{x},{y}" for x, y in p) + "z",
    "signs between": lambda p: "M" + " ".join(f"{x}{y:+}" for x, y in p) + "Z",
    "relative": relative,
    "back to the start": lambda p: "M " + " L ".join(f"{x} {y}" for x, y in [*p, p[0]]) + " Z",
    "a place twice": lambda p: "M " + " L ".join(f"{x} {y}" for x, y in [*p[:9], *p[8:]]) + " Z",
}


@pytest.mark.parametrize("way", WRITTEN)
def test_a_path_of_many_straights(way: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """However it is written, turned and moved on its page: the 700 sides that svgelements reads step by step."""
    data = svg(WRITTEN[way](places()), 'transform="rotate(20) translate(3, -2)"')
    found = outline_of(data, "a.svg").outer
    assert isinstance(found, LongOutline)
    assert found.count == 700
    # shoelace of the places themselves
    pairs = zip(places(), [*places()[1:], places()[0]], strict=True)
    assert found.area == pytest.approx(sum(a * y - x * b for (a, b), (x, y) in pairs) / 2, abs=1e-6)
    monkeypatch.setattr(svg_straights, "LONG_TEXT", 10**9)
    patient = outline_of(data, "a.svg").outer
    assert table_of(found).starts == pytest.approx(table_of(patient).starts, abs=1e-9)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda d: d.replace("Z", ""), "is not closed"),
        (lambda d: d.replace("L 100", "L 1e13", 1).replace("L 99", "L 1e13", 1), "which cannot be read"),
        (lambda d: d.replace(" Z", " 5 Z"), "which cannot be read"),
        (lambda d: d.replace(" L ", " L 0 0 L ", 9), "crosses or touches itself"),
    ],
)
def test_a_path_of_many_straights_that_is_wrong(change: Callable[[str], str], said: str) -> None:
    """Open, with a number that is none, one too many, crossing itself: one line that says so."""
    with pytest.raises(InputError, match=said):
        outline_of(svg(change(WRITTEN["a letter each"](places()))), "a.svg")


def test_a_long_path_that_ends_where_it_began_needs_no_letter() -> None:
    """Without a Z, but closed within the tolerance of joints."""
    data = WRITTEN["back to the start"](places()).replace(" Z", "")
    assert outline_of(svg(data), "a.svg").outer.count == 700
    near = WRITTEN["a letter each"]([*places(), (places()[0][0], places()[0][1] + 0.004)]).replace(" Z", "")
    assert outline_of(svg(near), "a.svg").outer.count == 700


def test_a_long_path_with_a_curve_is_read_step_by_step() -> None:
    """The same contour with one side as a curve: still its area, to what the curve adds."""
    straight = WRITTEN["a letter each"](places())
    curved = straight.replace(" L ", " Q 100 1 ", 1)
    areas = [outline_of(svg(d), "a.svg").outer.area for d in (straight, curved)]
    assert areas[0] == pytest.approx(areas[1], abs=2)


def dxf(draw: Callable[[Any], object]) -> bytes:
    """A DXF file in mm."""
    import io

    import ezdxf

    document = ezdxf.new("R2010")  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = 4
    draw(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def bulged() -> list[tuple[float, float, float]]:
    """The ring with every seventh side bent outwards a little."""
    return [(x, y, 0.2 if i % 7 == 3 else 0.0) for i, (x, y) in enumerate(places())]


@pytest.mark.parametrize("extrusion", [(0, 0, 1), (0, 0, -1)])
def test_a_polyline_of_many_corners(extrusion: tuple[int, int, int], monkeypatch: pytest.MonkeyPatch) -> None:
    """Straights and bulges, as drawn or in a plane turned over: what is read corner by corner."""
    attributes = {"extrusion": extrusion}
    data = dxf(lambda space: space.add_lwpolyline(bulged(), format="xyb", close=True, dxfattribs=attributes))
    found = outline_of(data, "a.dxf").outer
    assert isinstance(found, LongOutline)
    assert sum(isinstance(s, Arc) for s in found.segments) == 100
    monkeypatch.setattr(dxf_entities, "LONG", 10**9)
    patient = outline_of(data, "a.dxf").outer
    assert [tuple(a) for a in table_of(found).starts] == [pytest.approx(b, abs=1e-9) for b in table_of(patient).starts]
    assert found.area == pytest.approx(patient.area, abs=1e-9)


def test_a_long_polyline_in_inches_scaled_and_turned() -> None:
    """25.4 times as large, then half of it, a quarter turn: the box has the sides of the drawing exchanged."""
    data = dxf(lambda space: space.add_lwpolyline(places(), format="xy", close=True))
    inch = data.replace(b"$INSUNITS\n 70\n4", b"$INSUNITS\n 70\n1")
    box, turned = outline_of(data, "a.dxf").bounds, outline_of(inch, "a.dxf", scale=0.5, angle=90).bounds
    assert (turned.width, turned.height) == pytest.approx((12.7 * box.height, 12.7 * box.width))


def test_a_long_polyline_that_is_open_or_out_of_its_plane() -> None:
    """Each has its one line."""
    gap = dxf(lambda space: space.add_lwpolyline(places(), format="xy", close=False))
    with pytest.raises(InputError, match="is not closed"):
        outline_of(gap, "a.dxf")
    tilted = dxf(lambda s: s.add_lwpolyline(places(), format="xy", close=True, dxfattribs={"extrusion": (0, 1, 1)}))
    with pytest.raises(InputError, match="does not lie in the drawing's plane"):
        outline_of(tilted, "a.dxf")


def test_a_long_polyline_with_corners_that_are_none() -> None:
    """A corner twice, one a millionth beside another, one in the middle of the first straight: none of them is kept."""
    points = [*places(), places()[-1], (places()[-1][0] + 1e-6, places()[-1][1])]
    found = outline_of(dxf(lambda space: space.add_lwpolyline(points, format="xy", close=True)), "a.dxf").outer
    assert found.count == 700
    (ax, ay), (bx, by) = places()[:2]
    middle = [((ax + bx) / 2, (ay + by) / 2), *places()[1:], places()[0]]
    found = outline_of(dxf(lambda space: space.add_lwpolyline(middle, format="xy", close=True)), "a.dxf").outer
    assert found.count == 700


def test_arcs_of_a_long_polyline_that_go_on_as_one_another_are_one() -> None:
    """A half circle drawn as two quarters beside 700 sides becomes one arc."""
    radius = 300.0
    quarter = math.tan(math.pi / 8)
    side = [(x / 2 - 300, 0.0, 0.0) for x in range(1200)]
    data = dxf(
        lambda s: s.add_lwpolyline(
            [*side, (radius, 0.0, quarter), (0.0, radius, quarter), (-radius, 0.0, 0.0)], format="xyb", close=True
        )
    )
    found: Outline = outline_of(data, "a.dxf").outer
    arcs = [s for s in found.segments if isinstance(s, Arc)]
    assert [(round(a.radius, 6), round(math.degrees(a.sweep), 6)) for a in arcs] == [(300, 180)]
