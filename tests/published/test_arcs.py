"""Arcs as handbooks, DXF and SVG give them: segments of circles, bulges, arcs by their ends and radii."""

import math
from typing import Any

import pytest
from published import Published, table
from sources import (
    BULGE_BLOG,
    BULGE_QIITA,
    BULGE_TESTS,
    GET_BULGE,
    HANDBOOK_83,
    MATHEASS_SECTIONS,
    STACK_BULGE,
    SVG_ARCS,
    SVG_NOTES,
)

from jigtemplates.geometry.outline import Arc, BulgeVertex, Line, Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle, slot
from jigtemplates.imports.outline_file import outline_of

#: Chord and height; radius, angle, arc, area of the segment.
SEGMENTS = (
    Published(
        "chord 21, height 6",
        "r 12.1875, 118.97953 deg, arc 25.308373, area 89.254148",
        MATHEASS_SECTIONS,
        (21, 6),
        (12.1875, 118.97953, 25.308373, 89.254148),
    ),
    Published(
        "chord 0.97449536, height 0.096919589",
        "r 1.2732395, 45 deg, arc 1, area 0.063460604",
        MATHEASS_SECTIONS,
        (0.97449536, 0.096919589),
        (1.2732395, 45, 1, 0.063460604),
    ),
)

#: Angle, degrees; bulge.
BULGES = (
    Published("quarter of a circle, counter-clockwise", "0.414214", BULGE_QIITA, 90, 0.414214),
    Published("quarter of a circle, clockwise", "-0.414214", BULGE_QIITA, -90, -0.414214),
    Published("half of a circle", "1.0", BULGE_QIITA, 180, 1.0),
    Published("semicircle", "1", GET_BULGE, 180, 1.0),
    Published("semicircle, clockwise", "negative", GET_BULGE, -180, -1.0),
    Published("height of a segment, a = 120 degrees", "c / 2 tan (a / 4)", HANDBOOK_83, 120, math.tan(math.pi / 6)),
)

#: Start, end and bulge; centre, radius, a point half way.
ARCS = (
    Published(
        "(0, 0) to (1, 0), bulge 1",
        "centre (0.5, 0), r 0.5, through (0.5, -0.5)",
        BULGE_TESTS,
        ((0, 0), (1, 0), 1),
        ((0.5, 0), 0.5, (0.5, -0.5)),
    ),
    Published(
        "(0, 0) to (1, 0), bulge -1",
        "centre (0.5, 0), r 0.5, from 180 to 0 degrees",
        BULGE_TESTS,
        ((0, 0), (1, 0), -1),
        ((0.5, 0), 0.5, (0.5, 0.5)),
    ),
    Published("chord of 10, r 6.25: bulge", "0.50", BULGE_TESTS, ((0, 0), (10, 0), 0.5), ((5, 3.75), 6.25, (5, -2.5))),
    Published(
        "u = 10, b = 0.5: r, i",
        "u (b^2 + 1) / 4 b = 6.25, b u / 2 = 2.5",
        BULGE_BLOG,
        ((0, 0), (0, 10), 0.5),
        ((-3.75, 5), 6.25, (2.5, 5)),
    ),
)

#: Vertices of a closed polyline; the segment that the last bulge bends.
CLOSING = (
    Published(
        "bulge of the last vertex, closed polyline",
        "bends the closing segment",
        STACK_BULGE,
        ((0, 0, 0), (1, 1, 0), (1, 0, -1)),
        ((1, 0), (0, 0), -1, 0.5),
    ),
)

#: Path data in mm, y down; area and extents of what it encloses, and the ends of its straights about its middle, y up:
#: the quarter fits the gap of the rest, at its upper left.
PATHS = (
    Published(
        "pie, a150,150 0 1,0 150,-150",
        "three quarters of a disc",
        SVG_ARCS,
        "M300,200 h-150 a150,150 0 1,0 150,-150 z",
        (0.75 * math.pi * 150**2, 300, 300, frozenset({(-150, 0), (0, 0), (0, 150)})),
    ),
    Published(
        "pie, a150,150 0 0,0 -150,150",
        "a quarter of a disc",
        SVG_ARCS,
        "M275,175 v-150 a150,150 0 0,0 -150,150 z",
        (0.25 * math.pi * 150**2, 150, 150, frozenset({(-75, -75), (75, -75), (75, 75)})),
    ),
)

#: Path data out of the ordinary; what it is the same as.
UNUSUAL = (
    Published("radii too small for the ends", "scaled up until they reach", SVG_NOTES, "M0 0 A1 1 0 0 1 20 0 Z", 10),
    Published("radii of negative sign", "the sign is dropped", SVG_NOTES, "M0 0 A-10 -10 0 0 1 20 0 Z", 10),
    Published("a radius of 0", "a straight line", SVG_NOTES, "M0 0 A0 10 0 0 1 20 0 L20 10 L0 10 Z", None),
)


def arc_of(start: Any, end: Any, bulge: float) -> Arc:
    """The segment between two vertices, of an outline that comes straight back."""
    segment = Outline.from_bulges([BulgeVertex(*start, bulge), BulgeVertex(*end, 0)]).segments[0]
    assert isinstance(segment, Arc)
    return segment


def path_region(data: str) -> Region:
    page = '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="400mm" viewBox="0 0 400 400">'
    return outline_of(f'{page}<path d="{data}"/></svg>'.encode(), "path.svg")


@table(SEGMENTS)
def test_segment(row: Published) -> None:
    """A bulge of height over half the chord gives the arc."""
    chord, height = row.given
    arc = arc_of((0, 0), (chord, 0), height / (chord / 2))
    closed = Outline((arc, Line(arc.end, arc.start)))
    found = (arc.radius, math.degrees(arc.sweep), arc.length, closed.area)
    assert found == pytest.approx(row.value, rel=1e-7)
    assert closed.bounds.height == pytest.approx(height, rel=1e-9)


@table(BULGES)
def test_bulge(row: Published) -> None:
    """An arc of that angle is written with that bulge, and read back turns by that angle."""
    turn, half = math.copysign(1, row.given), math.radians(abs(row.given)) / 2
    start, end = Point(math.cos(-turn * half), math.sin(-turn * half)), Point(math.cos(half), turn * math.sin(half))
    (vertex, _) = Outline((Arc(start, end, Point(0, 0), 1.0, int(turn)), Line(end, start))).bulge_vertices()
    assert vertex.bulge == pytest.approx(row.value, abs=5e-7)
    assert math.degrees(arc_of((0, 0), (1, 0), row.value).sweep) == pytest.approx(row.given, abs=1e-4)


@pytest.mark.parametrize(("outline", "bulge"), [(slot(50, 10), 1.0), (rectangle(50, 10, 2), 0.41421356)])
def test_bulges_of_our_shapes(outline: Outline, bulge: float) -> None:
    """Round ends are half circles and round corners quarters, all counter-clockwise."""
    bent = [vertex.bulge for vertex in outline.bulge_vertices() if vertex.bulge]
    assert bent == pytest.approx([bulge] * len(bent), abs=1e-8)
    assert len(bent) in (2, 4)


@table(ARCS)
def test_arc(row: Published) -> None:
    """Centre, radius and side; a positive bulge turns counter-clockwise, to the right of its chord."""
    (center, radius, middle), (_, _, bulge) = row.value, row.given
    arc = arc_of(*row.given)
    assert arc.center == pytest.approx(center)
    assert arc.radius == pytest.approx(radius)
    assert arc.middle == pytest.approx(middle)
    assert arc.turn == math.copysign(1, bulge)


@table(CLOSING)
def test_closing(row: Published) -> None:
    """From the last vertex to the first."""
    start, end, turn, radius = row.value
    last = Outline.from_bulges([BulgeVertex(*vertex) for vertex in row.given]).segments[-1]
    assert isinstance(last, Arc)
    assert (last.start, last.end, last.turn, last.radius) == (start, end, turn, pytest.approx(radius))


@table(PATHS)
def test_path(row: Published) -> None:
    """Read as lines and one exact arc, the right way up."""
    region = path_region(row.given)
    area, width, height, ends = row.value
    straights = [s for s in region.outer.segments if isinstance(s, Line)]
    assert {(round(p.x, 9) + 0, round(p.y, 9) + 0) for s in straights for p in (s.start, s.end)} == ends
    assert region.area == pytest.approx(area, rel=1e-9)
    assert (region.bounds.width, region.bounds.height) == pytest.approx((width, height), abs=1e-9)
    assert [type(s) for s in region.outer.segments].count(Arc) == 1


@table(UNUSUAL)
def test_unusual_arc(row: Published) -> None:
    """What the notes say of it: half a circle of radius 10, or a rectangle."""
    outer = path_region(row.given).outer
    radii = [s.radius for s in outer.segments if isinstance(s, Arc)]
    assert radii == ([] if row.value is None else [pytest.approx(row.value, abs=1e-9)])
    assert outer.area == pytest.approx(200 if row.value is None else math.pi * 50, abs=1e-6)
