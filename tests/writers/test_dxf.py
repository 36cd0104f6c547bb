"""The DXF file, read by ezdxf's own loader and auditor and by our raw reader."""

import io
import math
import os
import pickle
import subprocess
import sys
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

import ezdxf
import pytest
from ezdxf import edgeminer, edgesmith
from ezdxf.document import Drawing as Document
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawing import Drawing, Item, Pen, Role, Stroke
from jigtemplates.geometry.outline import Arc, Outline, Point
from jigtemplates.writers.dxf import arc_angles, nearest_index, write_dxf
from jigtemplates.writers.dxf_reader import CircleEntity, LineEntity, PolylineEntity, read_dxf
from jigtemplates.writers.faults import UnwritableError

Pens = Mapping[Role, Pen]

ORDER = ["MARK", "ENGRAVE", "DRILL", "CUT_INSIDE", "CUT_OUTSIDE"]
ARCS = ["bulges", "pieces", "facets"]


def load(data: bytes) -> Document:
    """The file as ezdxf reads it, with nothing for its auditor to mend."""
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    auditor = document.audit()
    assert not auditor.has_errors
    assert not auditor.has_fixes
    return document


def on_layer(document: Document, layer: str) -> list[Any]:
    return [e for e in document.modelspace() if e.dxf.layer == layer]


def shoelace(points: list[Any]) -> float:
    ring = zip(points, points[1:] + points[:1], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in ring) / 2


def near(*values: float) -> Any:
    return pytest.approx(values, abs=1e-9)


def test_working_order(drawing: Drawing, pens: Pens) -> None:
    """Marks come first and the cut that frees the plate last; a role without a pen is left out."""
    assert [e.dxf.layer for e in load(write_dxf(drawing, pens)).modelspace()] == ORDER


def test_order_within_a_role_is_kept(pens: Pens) -> None:
    """Items of one role stay in the order in which the drawing has them."""
    holes = [Outline.circle(Point(x, 10), 2) for x in (50, 10, 30)]
    frame = Outline.polygon([(0, 0), (60, 0), (60, 20), (0, 20)])
    items = [Item(Role.CUT_OUTSIDE, frame), *(Item(Role.DRILL, h) for h in holes)]
    file = read_dxf(write_dxf(Drawing(tuple(items), 60, 20), pens))
    assert [e.center.x for e in file.entities if isinstance(e, CircleEntity)] == [50, 10, 30]


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_plate_as_one_closed_polyline(drawing: Drawing, pens: Pens, version: Any) -> None:
    """The plate is one closed polyline of literal corners, begun mid-way along its longest straight."""
    document = load(write_dxf(drawing, pens, version=version))
    (plate,) = on_layer(document, "CUT_OUTSIDE")
    if version == "R2000":
        assert (document.dxfversion, plate.dxftype(), plate.closed) == ("AC1015", "LWPOLYLINE", True)
        corners = plate.get_points("xyb")
    else:
        assert (document.dxfversion, plate.dxftype(), plate.is_closed) == ("AC1009", "POLYLINE", True)
        corners = [(*v.dxf.location.vec2, v.dxf.bulge) for v in plate.vertices]
    quarter = 0.41421356237309503  # tan(90°/4)
    assert corners == [
        near(50, 0, 0),
        near(100, 0, 0),
        near(100, 60, 0),
        near(80, 60, -1),
        near(60, 60, 0),
        near(30, 60, quarter),
        near(0, 30, 0),
        near(0, 0, 0),
    ]


def test_long_arc_is_split(drawing: Drawing, pens: Pens) -> None:
    """An arc of 270 degrees becomes two bulges of 135, none over 1, and the area is kept."""
    (opening,) = on_layer(load(write_dxf(drawing, pens)), "CUT_INSIDE")
    bulges = [b for *_, b in opening.get_points("xyb")]
    assert bulges == near(0, -math.tan(math.radians(135 / 4)), -math.tan(math.radians(135 / 4)), 0)
    points = [p for part in opening.virtual_entities() for p in _points(part)]
    assert shoelace(points) == pytest.approx(-(75 * math.pi + 50), abs=1e-3)


def _points(part: Any) -> list[Any]:
    """Points along a piece as ezdxf sees it, ARC backwards: the opening runs clockwise."""
    if part.dxftype() == "LINE":
        return [part.dxf.start]
    return list(part.flattening(1e-7))[:0:-1]


def test_circle_and_strokes(drawing: Drawing, pens: Pens) -> None:
    """A round hole is one CIRCLE, a stroke of two points a LINE, a longer one an open polyline."""
    document = load(write_dxf(drawing, pens))
    (hole,), (mark,), (label,) = (on_layer(document, n) for n in ("DRILL", "MARK", "ENGRAVE"))
    assert (hole.dxftype(), tuple(hole.dxf.center), hole.dxf.radius) == ("CIRCLE", (20, 15, 0), 2.5)
    assert (mark.dxftype(), mark.dxf.start.vec2, mark.dxf.end.vec2) == ("LINE", (50, 1), (50, 4))
    assert (label.dxftype(), label.closed) == ("LWPOLYLINE", False)
    assert label.get_points("xy") == [(10, 5), (20, 5), (25, 8)]


def test_circle_in_several_arcs_is_one_circle(pens: Pens) -> None:
    """Two half circles that make a whole one are written as one CIRCLE."""
    a, b = Point(0, 10), Point(20, 10)
    halves = Outline((Arc(a, b, Point(10, 10), 10, 1), Arc(b, a, Point(10, 10), 10, 1)))
    file = read_dxf(write_dxf(Drawing((Item(Role.CUT_OUTSIDE, halves),), 20, 20), pens))
    assert file.entities == (CircleEntity("CIRCLE", "CUT_OUTSIDE", Point(10, 10), 10),)


def test_two_arcs_that_are_no_circle_stay_a_contour(pens: Pens) -> None:
    """A lens of two quarter circles with different middles is not mistaken for a circle."""
    a, b = Point(0, 10), Point(10, 0)
    lens = Outline((Arc(a, b, Point(10, 10), 10, 1), Arc(b, a, Point(0, 0), 10, 1)))
    file = read_dxf(write_dxf(Drawing((Item(Role.CUT_OUTSIDE, lens),), 10, 10), pens))
    assert [(e.kind, len(e.vertices)) for e in file.entities if isinstance(e, PolylineEntity)] == [("LWPOLYLINE", 2)]


@pytest.mark.parametrize(
    ("unit", "codes", "corner"),
    [("mm", (4, 1), (100.0, 60.0)), ("in", (1, 0), (3.937007874, 2.3622047244))],
)
def test_unit_and_extents(
    drawing: Drawing, pens: Pens, unit: Any, codes: tuple[int, int], corner: tuple[float, float]
) -> None:
    """The header says the unit, and extents and limits run from (0, 0) to the drawing's size."""
    header = load(write_dxf(drawing, pens, unit=unit)).header
    assert (header["$INSUNITS"], header["$MEASUREMENT"]) == codes
    assert (header["$EXTMIN"][:2], header["$LIMMIN"][:2]) == ((0, 0), (0, 0))
    assert header["$EXTMAX"][:2] == pytest.approx(corner, abs=1e-9)
    assert header["$LIMMAX"][:2] == pytest.approx(corner, abs=1e-9)


def test_inch_coordinates(drawing: Drawing, pens: Pens) -> None:
    """In an inch file a hole of 5 mm is 5 / 25.4 in wide, and bulges are as they were."""
    document = load(write_dxf(drawing, pens, unit="in"))
    (hole,), (plate,) = on_layer(document, "DRILL"), on_layer(document, "CUT_OUTSIDE")
    assert 2 * hole.dxf.radius == pytest.approx(0.19685039370, abs=1e-9)
    assert plate.get_points("xyb")[3] == near(80 / 25.4, 60 / 25.4, -1)


def test_r12_cannot_state_units(drawing: Drawing, pens: Pens) -> None:
    """An R12 file has neither $INSUNITS nor $MEASUREMENT, but its extents are right."""
    header = read_dxf(write_dxf(drawing, pens, version="R12")).header
    assert "$INSUNITS" not in header
    assert "$MEASUREMENT" not in header
    assert header["$EXTMAX"] == ("100.0", "60.0", "0.0")


def test_r12_writes_no_warning(drawing: Drawing, pens: Pens, caplog: pytest.LogCaptureFixture) -> None:
    """ezdxf has nothing to say on the terminal, not even about R12's missing units."""
    write_dxf(drawing, pens, version="R12")
    assert caplog.text == ""


def test_layers_have_indexed_colours(drawing: Drawing, pens: Pens) -> None:
    """Every layer has the indexed colour nearest to its pen, and entities take it from there."""
    document = load(write_dxf(drawing, pens))
    # RGB of these indices in ezdxf's table: 32 (165, 82, 0), 142 (0, 124, 165), 122 (0, 165, 124) …
    wanted = {"CUT_OUTSIDE": 32, "CUT_INSIDE": 142, "DRILL": 122, "ENGRAVE": 241, "MARK": 151}
    assert {n: document.layers.get(n).color for n in wanted} == wanted
    assert {e.dxf.color for e in document.modelspace()} == {256}  # by layer
    assert len(document.layers) == len(wanted) + 2  # "0" and "Defpoints" are always there


@pytest.mark.parametrize(("colour", "index"), [("#ff0000", 1), ("#FFFFFF", 7), ("#000000", 250)])
def test_nearest_index_of_plain_colours(colour: str, index: int) -> None:
    """A colour of the table is itself: red 1, white 7, black 250."""
    assert nearest_index(colour) == index


def test_roles_on_layer_0(drawing: Drawing) -> None:
    """The layer that every file has can be used, in the pen's colour."""
    document = load(write_dxf(drawing, {Role.CUT_OUTSIDE: Pen("0", "#ff0000", 0.1)}))
    assert (len(on_layer(document, "0")), document.layers.get("0").color) == (1, 1)


def test_layer_that_comes_back(drawing: Drawing, pens: Pens) -> None:
    """Two roles may share a layer though others stand between them."""
    shared = {**pens, Role.MARK: pens[Role.CUT_OUTSIDE]}
    layers = [e.dxf.layer for e in load(write_dxf(drawing, shared)).modelspace()]
    assert layers == ["CUT_OUTSIDE", "ENGRAVE", "DRILL", "CUT_INSIDE", "CUT_OUTSIDE"]


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_pieces_close(drawing: Drawing, pens: Pens, version: Any) -> None:
    """As lines and arcs the plate is one loop to another program, of as many pieces as it has edges."""
    document = load(write_dxf(drawing, pens, version=version, arcs="pieces"))
    pieces = on_layer(document, "CUT_OUTSIDE")
    kinds = [e.dxftype() for e in pieces]
    assert kinds == ["LINE", "LINE", "LINE", "ARC", "LINE", "ARC", "LINE", "LINE"]
    edges = list(edgesmith.edges_from_entities_2d(pieces, gap_tol=1e-9))
    (loop,) = edgeminer.find_all_loops(edgeminer.Deposit(edges, gap_tol=1e-9))
    assert len(loop) == 8
    assert sum(e.length for e in loop) == pytest.approx(240 + 25 * math.pi, abs=1e-6)


def test_pieces_arcs_and_strokes(drawing: Drawing, pens: Pens) -> None:
    """An ARC runs counter-clockwise whatever its edge does, and a stroke is a LINE a step."""
    document = load(write_dxf(drawing, pens, arcs="pieces"))
    notch, corner = (e for e in on_layer(document, "CUT_OUTSIDE") if e.dxftype() == "ARC")
    assert (notch.dxf.start_angle, notch.dxf.end_angle) == (180, 0)
    assert (corner.dxf.start_angle, corner.dxf.end_angle) == (90, 180)
    assert [e.dxftype() for e in on_layer(document, "ENGRAVE")] == ["LINE", "LINE"]
    assert [e.dxftype() for e in on_layer(document, "DRILL")] == ["CIRCLE"]


@pytest.mark.parametrize("chord", [0.01, 0.5])
def test_facets_lie_on_the_true_arcs(drawing: Drawing, pens: Pens, chord: float) -> None:
    """Every facet ends on the true circle and its middle is within the chord tolerance of it."""
    document = load(write_dxf(drawing, pens, arcs="facets", chord=chord))
    (hole,) = on_layer(document, "DRILL")
    points = hole.get_points("xyb")
    assert hole.closed
    assert all(b == 0 for *_, b in points)
    assert [math.dist(p[:2], (20, 15)) for p in points] == near(*[2.5] * len(points))
    off = [2.5 - math.dist(_middle(a, b), (20, 15)) for a, b in pairwise(points)]
    assert max(off) <= chord
    assert max(off) > chord / 3  # and no finer than was asked for


def _middle(a: Any, b: Any) -> tuple[float, float]:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def test_facets_of_the_plate(drawing: Drawing, pens: Pens) -> None:
    """In facets the plate's area is right within the tolerance along its arcs, 25 pi long."""
    (plate,) = on_layer(load(write_dxf(drawing, pens, arcs="facets", chord=0.001)), "CUT_OUTSIDE")
    area = shoelace(plate.get_points("xy"))
    assert area == pytest.approx(5100 + 175 * math.pi, abs=0.001 * 25 * math.pi)


@pytest.mark.parametrize("arcs", ARCS)
@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_nothing_but_four_entities(drawing: Drawing, pens: Pens, version: Any, arcs: Any) -> None:
    """No file holds text, splines, hatches, inserts or dimensions, in no block either."""
    document = load(write_dxf(drawing, pens, version=version, arcs=arcs))
    kinds = {e.dxftype() for block in document.blocks for e in block}
    assert kinds <= {"LWPOLYLINE", "POLYLINE", "CIRCLE", "LINE", "ARC"}


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_same_bytes_in_another_process(drawing: Drawing, pens: Pens, version: Any) -> None:
    """Written again, and in a process of other hash seeds and another clock, a file is the same."""
    first = write_dxf(drawing, pens, version=version)
    assert write_dxf(drawing, pens, version=version) == first
    code = (
        "import sys, pickle; from jigtemplates.writers.dxf import write_dxf;"
        "d, p, v = pickle.load(sys.stdin.buffer);"
        "sys.stdout.buffer.write(write_dxf(d, p, version=v))"
    )
    there = subprocess.run(
        [sys.executable, "-c", code],
        input=pickle.dumps((drawing, pens, version)),
        capture_output=True,
        check=True,
        env={"PYTHONPATH": os.pathsep.join(p or "." for p in sys.path), "PYTHONHASHSEED": "7"},
    )
    assert there.stdout == first


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_no_clock_and_no_version(drawing: Drawing, pens: Pens, version: Any) -> None:
    """The file does not name the day, nor the library's version, and every line ends in LF alone."""
    data = write_dxf(drawing, pens, version=version)
    assert ezdxf.__version__.encode() + b" @" not in data
    assert b"2000-01-01T00:00:00" in data  # the fixed day that stands in place of a clock
    assert b"\r" not in data


@pytest.mark.parametrize("state", [True, False])
def test_the_users_option_comes_back(drawing: Drawing, pens: Pens, state: bool) -> None:
    """A program that uses ezdxf itself finds its option as it left it, after a failure, too."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    try:
        ezdxf.options.write_fixed_meta_data_for_testing = state
        write_dxf(drawing, pens)
        assert ezdxf.options.write_fixed_meta_data_for_testing is state
        with pytest.raises(KeyError):
            write_dxf(drawing, pens, unit="ft")  # type: ignore[arg-type]
        assert ezdxf.options.write_fixed_meta_data_for_testing is state
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


@pytest.mark.parametrize("chord", [0.0, -1.0, math.inf, math.nan])
def test_chord_must_be_a_tolerance(drawing: Drawing, pens: Pens, chord: float) -> None:
    """A chord tolerance of nothing, less or infinity is refused in one line."""
    with pytest.raises(UnwritableError, match=r"^chord tolerance \S+ mm is not a tolerance \(write more"):
        write_dxf(drawing, pens, chord=chord)


def test_dust_is_swept(pens: Pens) -> None:
    """Rounding dust in a coordinate leaves neither -0.0 nor an exponent in the file."""
    frame = Outline.polygon([(-1e-13, -0.0), (12.700000000000001, 1e-14), (12.7, 25.4), (0, 25.4)])
    file = read_dxf(write_dxf(Drawing((Item(Role.CUT_OUTSIDE, frame),), 12.7, 25.4), pens))
    (entity,) = file.entities
    assert isinstance(entity, PolylineEntity)
    assert {(str(v.x), str(v.y)) for v in entity.vertices[1:]} == {
        ("0.0", "0.0"),
        ("12.7", "0.0"),
        ("12.7", "25.4"),
        ("0.0", "25.4"),
    }


@pytest.mark.parametrize(("turn", "wanted"), [(1, (90.0, 180.0)), (-1, (180.0, 90.0))], ids=["left", "right"])
def test_arc_angles(turn: int, wanted: tuple[float, float]) -> None:
    """The same ends make a quarter one way and three quarters the other."""
    start, end = Point(0, 5), Point(-5, 0)
    assert arc_angles(Arc(start, end, Point(0, 0), 5, turn)) == wanted


def test_longest_straight_of_a_triangle(pens: Pens) -> None:
    """The contour begins at the middle of the longest side, not at a corner."""
    triangle = Outline.polygon([(0, 0), (3, 0), (3, 4)])
    file = read_dxf(write_dxf(Drawing((Item(Role.CUT_OUTSIDE, triangle),), 3, 4), pens))
    (entity,) = file.entities
    assert isinstance(entity, PolylineEntity)
    assert entity.vertices[0][:2] == (1.5, 2.0)


@given(st.lists(st.tuples(st.floats(0, 300), st.floats(0, 300)), min_size=2, max_size=8, unique_by=lambda p: p))
@settings(max_examples=25, deadline=None)
def test_strokes_come_back(points: list[tuple[float, float]]) -> None:
    """Whatever a stroke's points, the file holds them to 1e-9 mm, in order."""
    frame = Outline.polygon([(0, 0), (300, 0), (300, 300), (0, 300)])
    stroke = Stroke(tuple(Point(*p) for p in points))
    items = (Item(Role.CUT_OUTSIDE, frame), Item(Role.MARK, stroke))
    (entity,) = read_dxf(write_dxf(Drawing(items, 300, 300), {Role.MARK: Pen("M", "#000000", 1)})).entities
    if isinstance(entity, LineEntity):
        found = [entity.start, entity.end]
    else:
        assert isinstance(entity, PolylineEntity)
        found = [Point(v.x, v.y) for v in entity.vertices]
    assert [(p.x, p.y) for p in found] == [near(*p) for p in points]
