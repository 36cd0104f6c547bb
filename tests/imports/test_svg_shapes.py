"""Every kind of SVG element and transform, as the lines and arcs that it is."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.geometry.outline import Arc, Region

Svg = Callable[..., Region]
Literal = Callable[..., list[tuple[Any, ...]]]

RECTANGLE = [
    ("line", -10, 5, -10, -5),
    ("line", -10, -5, 10, -5),
    ("line", 10, -5, 10, 5),
    ("line", 10, 5, -10, 5),
]


@pytest.mark.parametrize(
    "body",
    [
        '<path d="M0 0 H20 V10 H0 Z"/>',
        '<path d="m 30,20 h20 v10 h-20 z"/>',
        '<path d="M0,0L20,0,20,10 0 10z"/>',
        '<path d="M0 0 20 0 20 10 0 10 0 0"/>',
        '<rect x="7" y="3" width="20" height="10"/>',
        '<polygon points="0,0 20,0 20,10 0,10"/>',
        '<polyline points="0 0 20 0 20 10 0 10 0 0"/>',
        '<line x1="0" y1="0" x2="20" y2="0"/><path d="M20 0V10H0V0"/>',
        '<path d="M0 0H20V10"/><path d="M0 0V10H20"/>',
    ],
)
def test_ways_to_draw_a_rectangle(svg: Svg, segments: Literal, body: str) -> None:
    """A rectangle of 20 by 10 is four lines about the origin, counter-clockwise, y up."""
    region = svg(body)
    found = segments(region.outer)
    assert region.holes == ()
    at = found.index(RECTANGLE[0]) if RECTANGLE[0] in found else -1
    assert found[at:] + found[:at] == RECTANGLE


def test_a_length_in_an_attribute_is_css(svg: Svg) -> None:
    """A cm in an attribute is 37.8 of the page's px, whatever a px is on the page."""
    box = svg('<rect width="2cm" height="1cm"/>', 'width="96px" height="96px" viewBox="0 0 192 192"').bounds
    assert (box.width, box.height) == pytest.approx((10.0, 5.0), abs=1e-9)


@pytest.mark.parametrize(
    "body",
    [
        '<circle cx="50" cy="20" r="8"/>',
        '<ellipse cx="50" cy="20" rx="8" ry="8"/>',
        '<path d="M8 0 A8 8 0 0 1 -8 0 A8 8 0 0 1 8 0Z"/>',
        '<path d="M8 0 A8 8 0 1 1 0 -8 A8 8 0 0 1 8 0Z"/>',
        '<rect width="16" height="16" rx="8"/>',
        '<circle r="4" transform="matrix(0 2 -2 0 5 6)"/>',
        '<ellipse rx="4" ry="8" transform="scale(2 1)"/>',
        '<path d="M8 0C8 4.418278 4.418278 8 0 8S-8 4.418278-8 0-4.418278-8 0-8 8-4.418278 8 0"/>',
    ],
)
def test_circles_stay_circles(svg: Svg, segments: Literal, body: str) -> None:
    """A circle of radius 8 is one arc all round, however it was written: four cubics of a drawing program too."""
    found = segments(svg(body).outer, 5)
    assert len(found) == 1
    assert found[0][5:] == (8.0, 1)


def test_an_arc_is_exact(svg: Svg, segments: Literal) -> None:
    """A half circle of radius 10 over a line is one arc and one line."""
    assert segments(svg('<path d="M0 0 A10 10 0 0 1 20 0 Z"/>').outer) == [
        ("line", -10, -5, 10, -5),
        ("arc", 10, -5, -10, -5, 10, 1),
    ]


def test_large_and_small_arcs(svg: Svg, segments: Literal) -> None:
    """Both flags choose among four arcs; a quarter and three quarters of radius 10 stand over one chord."""
    quarter = svg('<path d="M10 0 A10 10 0 0 1 0 10 Z"/>').outer
    rest = svg('<path d="M10 0 A10 10 0 1 0 0 10 Z"/>').outer
    assert quarter.area == pytest.approx(25 * math.pi - 50, abs=1e-9)
    assert rest.area == pytest.approx(75 * math.pi + 50, abs=1e-9)
    far = svg('<path d="M10 0 A10 10 0 1 1 0 10 Z"/>').outer
    near = svg('<path d="M10 0 A10 10 0 0 0 0 10 Z"/>').outer
    assert (far.area, near.area) == (pytest.approx(rest.area), pytest.approx(quarter.area))


def test_radii_too_small_are_enlarged(svg: Svg) -> None:
    """Ends 20 apart with radius 3 make a half circle of radius 10 (SVG 1.1, appendix F.6.6)."""
    arc = next(s for s in svg('<path d="M0 0 A3 3 0 0 1 20 0 Z"/>').outer.segments if isinstance(s, Arc))
    assert (arc.radius, abs(arc.sweep)) == (pytest.approx(10), pytest.approx(math.pi))


def test_an_arc_without_radius_is_a_line(svg: Svg, segments: Literal) -> None:
    """Radius 0 is a straight line, and an arc that ends where it starts is nothing (SVG 1.1, F.6.2)."""
    assert segments(svg('<path d="M0 0 H20 V10 A0 5 0 0 1 0 10 A5 5 0 0 1 0 10 Z"/>').outer) == RECTANGLE


def test_flags_may_stand_without_spaces(svg: Svg) -> None:
    """`a10 10 0 01-20 0` is flag 0, flag 1 and a place (SVG 1.1, 8.3.9)."""
    assert svg('<path d="M0 0a10 10 0 01-20 0z"/>').area == pytest.approx(50 * math.pi)


def test_rounded_rectangles(svg: Svg, segments: Literal) -> None:
    """Corners of radius 2 are four exact quarters."""
    found = segments(svg('<rect width="20" height="10" rx="2"/>').outer)
    assert sum(row[0] == "arc" for row in found) == 4
    assert ("arc", 8, -5, 10, -3, 2, 1) in found
    assert ("line", 10, -3, 10, 3) in found


def test_radii_of_a_rectangle_have_limits(svg: Svg) -> None:
    """No corner is rounder than half a side; ry alone stands for both."""
    assert svg('<rect width="20" height="10" ry="50"/>').area == pytest.approx(50 * math.pi, abs=0.05)
    assert svg('<rect width="20" height="10" ry="3"/>').area == pytest.approx(200 - 9 * (4 - math.pi), abs=1e-9)


def test_an_ellipse_is_arcs_within_the_chord(svg: Svg) -> None:
    """An ellipse of 20 by 10 keeps its four ends and is nowhere further than the tolerance from its equation."""
    outline = svg('<ellipse rx="10" ry="5"/>', chord=0.005).outer
    assert outline.bounds == pytest.approx((-10, -5, 10, 5), abs=1e-9)
    assert len(outline.segments) < 40
    for x, y in outline.flattened(1e-4):
        off = (math.hypot(x / 10, y / 5) - 1) / math.hypot(x / 100, y / 25)  # to first order
        assert abs(off) < 0.0055


@pytest.mark.parametrize("transform", ["scale(2 1)", "skewX(40)", "matrix(2 1 0 1 0 0)"])
def test_a_stretched_circle_is_an_ellipse(svg: Svg, transform: str) -> None:
    """A circle of radius 5 under an uneven transform has the area pi 25 times its determinant."""
    factor = {"scale(2 1)": 2, "skewX(40)": 1, "matrix(2 1 0 1 0 0)": 2}[transform]
    assert svg(f'<circle r="5" transform="{transform}"/>').area == pytest.approx(25 * math.pi * factor, abs=0.1)


def test_transforms_are_done_from_the_inside_out(svg: Svg, segments: Literal) -> None:
    """A quarter turn in a mirrored group stands 20 upright, and stays counter-clockwise."""
    outline = svg('<g transform="scale(-1,1)"><rect width="20" height="10" transform="rotate(90 3 4)"/></g>').outer
    assert outline.bounds == pytest.approx((-5, -10, 5, 10))
    assert outline.area == pytest.approx(200)


def test_a_mirrored_hook_is_mirrored(svg: Svg, segments: Literal) -> None:
    """An L of unequal arms has its short arm on the other side under scale(-1, 1); y down is turned up."""
    hook = '<path transform="{}" d="M0 0 H4 V16 H10 V20 H0 Z"/>'
    plain, mirrored = (svg(hook.format(t)).outer for t in ("translate(3)", "scale(-1 1)"))
    assert ("line", -1, -6, -1, 10) in [tuple(sorted_ends(row)) for row in segments(plain)]
    assert ("line", 1, -6, 1, 10) in [tuple(sorted_ends(row)) for row in segments(mirrored)]


def sorted_ends(row: tuple[Any, ...]) -> list[Any]:
    """A line from its lower to its upper end."""
    ends = sorted([row[1:3], row[3:5]])
    return [row[0], *ends[0], *ends[1]]


def test_quadratic_curves(svg: Svg) -> None:
    """A parabola's segment over a chord of 20 and a control point 20 high encloses two thirds of 20 by 10."""
    assert svg('<path d="M0 0 Q10 20 20 0 Z"/>').area == pytest.approx(400 / 3, abs=0.1)


def test_smooth_quadratics_mirror_their_control(svg: Svg) -> None:
    """T goes on as the mirrored control point says: a hill and a valley of the same area cancel."""
    assert svg('<path d="M0 0 Q10 20 20 0 T40 0 V-30 H0 Z"/>').area == pytest.approx(1200, abs=0.2)


def test_holes_lie_inside(svg: Svg, segments: Literal) -> None:
    """A contour within another is a hole, clockwise, whichever way it was drawn."""
    for inner in ("M5 2 V5 H8 V2 Z", "M5 2 H8 V5 H5 Z"):
        region = svg(f'<path d="M0 0H20V10H0Z {inner}"/>')
        assert [round(h.area, 9) for h in region.holes] == [-9]
        assert region.area == pytest.approx(191)


def test_copies_are_followed(svg: Svg) -> None:
    """A <use> draws what it names, moved by x and y; what is only defined is not drawn."""
    region = svg(
        '<defs><circle id="c" r="4"/></defs><rect x="-9" y="-9" width="40" height="18"/><use href="#c" x="9"/>'
    )
    assert region.holes[0].bounds.center == pytest.approx((-2, 0))


def test_what_is_not_shown_is_not_read(svg: Svg) -> None:
    """Hidden shapes, texts, clip paths and symbols draw nothing."""
    hidden = (
        '<g style="fill:none; display : none"><circle r="9"/></g><circle display="none" r="8"/><text>a</text>'
        '<circle visibility="hidden" r="7"/><clipPath><circle r="6"/></clipPath><symbol><circle r="6"/></symbol>'
    )
    assert svg(f'{hidden}<circle r="5"/>').area == pytest.approx(25 * math.pi)


@pytest.mark.parametrize(
    ("page", "unit", "width"),
    [
        ('width="100mm" height="100mm"', None, 20 * 25.4 / 96),
        ('width="10cm" height="10cm" viewBox="0 0 50 50"', None, 40),
        ('width="1in" height="1in" viewBox="0 0 96 96"', None, 20 * 25.4 / 96),
        ('width="72pt" height="6pc" viewBox="0 0 254 254"', None, 2),
        ('width="192px" height="192px" viewBox="0 0 20 20"', None, 50.8),
        ('width="100" height="100"', "mm", 20),
        ('width="100" height="100" viewBox="0 0 50 50"', "mm", 40),
        ('viewBox="0 0 50 50"', "in", 508),
        ("", "in", 508),
        ('width="100%" height="100%" viewBox="0 0 7 9"', "mm", 20),
        ('width="100mm" height="50mm" viewBox="0 0 100 100"', None, 10),
        ('width="100mm" height="50mm" viewBox="0 0 100 100" preserveAspectRatio="xMinYMin slice"', None, 20),
    ],
)
def test_units_come_from_the_page(svg: Svg, page: str, unit: str | None, width: float) -> None:
    """The page's size over its viewBox is the scale; px is 1/96 in (CSS Values and Units)."""
    box = svg('<rect width="20" height="20"/>', page, unit=unit).bounds
    assert (box.width, box.height) == pytest.approx((width, width), abs=1e-9)


def test_a_page_may_be_stretched(svg: Svg) -> None:
    """preserveAspectRatio="none" stretches to both sides of the page."""
    page = 'width="100mm" height="50mm" viewBox="0 0 100 100" preserveAspectRatio="none"'
    box = svg('<rect width="20" height="20"/>', page).bounds
    assert (box.width, box.height) == pytest.approx((20, 10))


def test_select_takes_an_id_a_group_or_a_layer(svg: Svg) -> None:
    """An id picks one shape, a group's id or a layer's label all that is in it."""
    body = (
        '<g id="g1" xmlns:k="urn:k" k:label="Recess"><circle id="a" r="5"/><circle id="b" r="2"/></g>'
        '<circle id="c" r="4" cx="30"/>'
    )
    assert svg(body, select="a").area == pytest.approx(25 * math.pi)
    assert svg(body, select="g1").area == pytest.approx(21 * math.pi)
    assert svg(body, select="recess").area == pytest.approx(21 * math.pi)
    assert svg(body, select="c").area == pytest.approx(16 * math.pi)


def test_scale_and_angle(svg: Svg) -> None:
    """20 by 10 twice as large and turned by 90 degrees is 20 wide and 40 high, about the origin."""
    assert svg('<rect width="20" height="10"/>', scale=2.0, angle=90).bounds == pytest.approx((-10, -20, 10, 20))


def test_a_published_doctype_is_passed_over(faults: Any) -> None:
    """The document types of SVG 1.0 and 1.1 (W3C) stand in many files and are not followed."""
    from jigtemplates.imports.outline_file import outline_of

    head = (
        '<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n<!-- drawn -->\n<!DOCTYPE svg PUBLIC '
        '"-//W3C//DTD SVG 1.1//EN"\n "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n'
    )
    page = '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
    assert outline_of(f'{head}{page}<circle r="3"/></svg>'.encode(), "a.svg").area == pytest.approx(9 * math.pi)
