"""Every kind of DXF entity as the lines and arcs that it is."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.geometry.outline import Region

Dxf = Callable[..., Region]
Literal = Callable[..., list[tuple[Any, ...]]]

#: 25 overall, its right end a half circle of radius 5.
BULGED = [(0, 0, 0), (20, 0, 1), (20, 10, 0), (0, 10, 0)]
TONGUE = [
    ("line", -12.5, -5, 7.5, -5),
    ("arc", 7.5, -5, 7.5, 5, 5, 1),
    ("line", 7.5, 5, -12.5, 5),
    ("line", -12.5, 5, -12.5, -5),
]


def lines_and_arc(space: Any) -> None:
    """The tongue in pieces, in no order and not all one way, with gaps up to 0.006 mm."""
    space.add_line((0, 10), (0, 0))
    space.add_arc((20, 5), 5, 270, 90)
    space.add_line((0, 0), (20, 0))
    space.add_line((20, 10.006), (0, 10))


@pytest.mark.parametrize("version", ["R12", "R2000", "R2010"])
def test_polylines_with_bulges(dxf: Dxf, segments: Literal, version: str) -> None:
    """A polyline, old or light, is its lines and its exact arc."""
    name = "add_polyline2d" if version == "R12" else "add_lwpolyline"
    unit = "mm" if version == "R12" else None  # which has no variable for it
    region = dxf(lambda s: getattr(s, name)(BULGED, format="xyb", close=True), version=version, unit=unit)
    assert segments(region.outer) == TONGUE


def test_an_open_polyline_that_ends_where_it_starts_is_closed(dxf: Dxf, segments: Literal) -> None:
    """Without the closed flag the ends decide, within the tolerance of joints."""
    region = dxf(lambda s: s.add_lwpolyline([*BULGED, (0, 0.004, 0)], format="xyb"))
    assert [row[0] for row in segments(region.outer)] == ["line", "arc", "line", "line"]


def test_lines_and_arcs_are_joined(dxf: Dxf, segments: Literal) -> None:
    """Pieces in no order become one contour; the gap of 0.006 mm is met half-way."""
    found = segments(dxf(lines_and_arc).outer, 3)
    assert [row[0] for row in found] == ["line", "line", "arc", "line"]
    assert [row[5:] for row in found if row[0] == "arc"] == [(5.002, 1)]


def test_the_tolerance_of_joints_is_the_callers(dxf: Dxf) -> None:
    """The same gap is none for join = 0.001 mm."""
    from jigtemplates.errors import InputError

    with pytest.raises(InputError, match=r"gap of 0\.006 mm between \(20, 10\) and \(20, 10\.006\)"):
        dxf(lines_and_arc, join=0.001)


def test_circles_are_exact(dxf: Dxf, segments: Literal) -> None:
    """A CIRCLE is one arc, and the smaller one within a hole."""
    region = dxf(lambda s: (s.add_circle((30, 40), 6.35), s.add_circle((31, 40), 2)))
    assert segments(region.outer) == [("arc", 6.35, 0, 6.35, 0, 6.35, 1)]
    assert segments(region.holes[0]) == [("arc", 3, 0, 3, 0, 2, -1)]


@pytest.mark.parametrize(
    ("code", "mm"),
    [(1, 25.4), (2, 304.8), (4, 1), (5, 10), (6, 1000), (9, 0.0254), (14, 100), (10, 914.4), (13, 0.001)],
)
def test_units_come_from_the_header(dxf: Dxf, code: int, mm: float) -> None:
    """$INSUNITS says how long 1 is."""
    radius = 4 if mm < 1000 else 1
    wanted = 2000 / mm if mm < 1 else radius
    assert dxf(lambda s: s.add_circle((0, 0), wanted), units=code).bounds.width == pytest.approx(2 * wanted * mm)


def test_a_unit_that_the_file_says_may_be_said_again(dxf: Dxf) -> None:
    """units = "in" for a file in inches is no conflict, and answers for a file that says nothing."""
    for code in (0, 1):
        assert dxf(lambda s: s.add_circle((0, 0), 1), units=code, unit="in").bounds.width == pytest.approx(50.8)


def test_ellipses(dxf: Dxf, segments: Literal) -> None:
    """An ELLIPSE is arcs within the chord, one with equal axes a circle, half of one half of the area."""
    area = 50 * math.pi
    assert dxf(lambda s: s.add_ellipse((0, 0), (10, 0), 0.5)).area == pytest.approx(area, abs=0.1)
    assert segments(dxf(lambda s: s.add_ellipse((0, 0), (0, 6), 1)).outer)[0][5:] == (6, 1)
    half = dxf(lambda s: (s.add_ellipse((0, 0), (10, 0), 0.5, 0, math.pi), s.add_line((-10, 0), (10, 0))))
    assert half.area == pytest.approx(area / 2, abs=0.1)


def test_splines(dxf: Dxf) -> None:
    """A cubic over four control points encloses what ten thousand chords of its equation enclose."""
    region = dxf(lambda s: (s.add_open_spline([(0, 0), (10, 20), (30, 20), (40, 0)]), s.add_line((0, 0), (40, 0))))
    assert region.area == pytest.approx(_green([(0, 0), (10, 20), (30, 20), (40, 0)]), abs=0.2)


def _green(points: list[tuple[float, float]]) -> float:
    """Area under a cubic Bezier curve back to its start, by ten thousand chords."""
    places = []
    for i in range(10_001):
        t = i / 10_000
        b = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        places.append(tuple(sum(w * p[k] for w, p in zip(b, points, strict=True)) for k in (0, 1)))
    return abs(sum(a[0] * c[1] - c[0] * a[1] for a, c in zip(places, [*places[1:], places[0]], strict=True))) / 2


def test_a_rational_spline_that_is_a_circle_becomes_one(dxf: Dxf, segments: Literal) -> None:
    """The nine control points of a full circle of radius 10 (weights 1 and sqrt 1/2) give one arc."""
    w = math.sqrt(0.5)
    control = [(10, 0), (10, 10), (0, 10), (-10, 10), (-10, 0), (-10, -10), (0, -10), (10, -10), (10, 0)]
    weights = [1, w, 1, w, 1, w, 1, w, 1]
    knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]

    def draw(space: Any) -> None:
        space.add_rational_spline(control, weights, degree=2, knots=knots)

    assert [row[5:] for row in segments(dxf(draw).outer)] == [(10.0, 1)]


def test_a_corner_of_a_spline_stays_a_corner(dxf: Dxf, segments: Literal) -> None:
    """A spline of degree 1 is its polygon."""
    corners = [(0, 0), (20, 0), (20, 10), (0, 10), (0, 0)]
    found = segments(dxf(lambda s: s.add_open_spline(corners, degree=1)).outer)
    assert sorted(row[0] for row in found) == ["line"] * 4


def block(space: Any, **how: Any) -> None:
    """A block with the tongue and a hole, put in."""
    held = space.doc.blocks.new("PART")
    held.add_lwpolyline(BULGED, format="xyb", close=True)
    held.add_circle((5, 5), 2)
    space.add_blockref("PART", (100, 50), dxfattribs={"layer": "parts", **how})


def test_blocks_are_taken_apart(dxf: Dxf, segments: Literal) -> None:
    """A block put in at twice its size is its content at twice its size."""
    region = dxf(lambda s: block(s, xscale=2, yscale=2))
    assert region.bounds == pytest.approx((-25, -10, 25, 10))
    assert segments(region.holes[0]) == [("arc", -11, 0, -11, 0, 4, -1)]


def test_a_mirrored_block_is_mirrored(dxf: Dxf, segments: Literal) -> None:
    """With xscale -1 the round end is at the left, its arcs still exact."""
    found = segments(dxf(lambda s: block(s, xscale=-1)).outer)
    assert ("arc", -7.5, 5, -7.5, -5, 5, 1) in found
    assert dxf(lambda s: block(s, xscale=-1)).holes[0].bounds.center == pytest.approx((7.5, 0))


def test_a_stretched_block_is_fitted(dxf: Dxf) -> None:
    """With xscale 2 the hole is an ellipse of pi 4 2 and the tongue's end half of pi 10 5."""
    region = dxf(lambda s: block(s, xscale=2))
    assert region.holes[0].area == pytest.approx(-8 * math.pi, abs=0.1)
    assert region.outer.area == pytest.approx(400 + 25 * math.pi, abs=0.1)


def test_a_turned_over_entity_is_turned_back(dxf: Dxf, segments: Literal) -> None:
    """Extrusion (0, 0, -1), as mirroring leaves it, exchanges left and right of polylines and arcs."""
    over = {"extrusion": (0, 0, -1)}
    found = segments(dxf(lambda s: s.add_lwpolyline(BULGED, format="xyb", close=True, dxfattribs=over)).outer)
    assert ("arc", -7.5, 5, -7.5, -5, 5, 1) in found

    def arc(space: Any) -> None:
        space.add_arc((-20, 5), 5, 270, 90, dxfattribs=over)  # in its own plane; it stands at x = 20, bulging left
        space.add_line((20, 0), (20, 10))

    assert ("arc", 2.5, 5, 2.5, -5, 5, 1) in segments(dxf(arc).outer)


def test_select_takes_a_layer_or_a_handle(dxf: Dxf) -> None:
    """A layer picks all that is on it, blocks by the layer they are put in on; a handle one contour."""

    def draw(space: Any) -> None:
        space.add_circle((0, 0), 5, dxfattribs={"layer": "One"})
        handles.append(space.add_circle((50, 0), 4, dxfattribs={"layer": "Two"}).dxf.handle)
        space.add_text("note", dxfattribs={"layer": "Two"})

    handles: list[str] = []
    assert dxf(draw, select="one").area == pytest.approx(25 * math.pi)
    assert dxf(draw, select="Two").area == pytest.approx(16 * math.pi)
    assert dxf(draw, select=handles[0].lower()).area == pytest.approx(16 * math.pi)
    assert dxf(lambda s: (block(s), s.add_circle((0, 0), 5)), select="parts").bounds.width == pytest.approx(25)


def test_hidden_layers_are_not_read(dxf: Dxf) -> None:
    """What is on a layer switched off or frozen, or invisible itself, is not there."""

    def draw(space: Any) -> None:
        space.doc.layers.add("off").off()
        space.doc.layers.add("cold").freeze()
        space.add_circle((0, 0), 9, dxfattribs={"layer": "off"})
        space.add_circle((0, 0), 8, dxfattribs={"layer": "cold"})
        space.add_circle((0, 0), 7, dxfattribs={"invisible": 1})
        space.add_circle((0, 0), 5)

    assert dxf(draw).area == pytest.approx(25 * math.pi)


def test_specks_are_left_out(dxf: Dxf) -> None:
    """A line no longer than the tolerance of joints is no piece."""
    assert dxf(lambda s: (s.add_line((0, 0), (0, 0.005)), s.add_circle((0, 0), 5))).area == pytest.approx(25 * math.pi)
