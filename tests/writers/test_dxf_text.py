"""The text of a DXF file, beside what ezdxf writes of the same entities."""

import io
from typing import Any

import pytest
from ezdxf._options import options
from ezdxf.document import Drawing as Document

from jigtemplates.drawing import Drawing, Item, Pen, Role, Stroke
from jigtemplates.geometry.outline import Arc, BulgeVertex, Line, Outline, Point
from jigtemplates.writers.dxf import Arcs, Unit, write_dxf

PENS = {
    Role.CUT_OUTSIDE: Pen("OUTSIDE", "#ff0000", 0.1),
    Role.CUT_INSIDE: Pen("INSIDE", "#0000ff", 0.1),
    Role.ENGRAVE: Pen("TEXT", "#00ff00", 0.1),
}
#: Indexed colours 1, 5 and 3 are pure red, blue and green (the DXF reference's table).
LAYERS = (("TEXT", 3), ("INSIDE", 5), ("OUTSIDE", 1))
SLOT = ((40.0, 20.0, 0.0), (60.0, 20.0, 1.0), (60.0, 30.0, 0.0), (40.0, 30.0, 1.0))
PLATE = ((0.0, 0.0, 0.0), (127.0, 0.0, 0.0), (127.0, 76.2, 0.0), (0.0, 76.2, 0.0))


def outline(corners: tuple[tuple[float, float, float], ...]) -> Outline:
    """A closed polyline."""
    return Outline.from_bulges(BulgeVertex(*corner) for corner in corners)


def drawing(strokes: int) -> Drawing:
    """A plate of 5 in by 3 in with a slot, a hole, a number of ticks and one stroke of three points."""
    ticks = [Stroke((Point(5.0 + i / 4, 5.0), Point(5.0 + i / 4, 7.25))) for i in range(strokes)]
    bent = Stroke((Point(1.0, 2.0), Point(3.5, 2.0), Point(3.5, 4.0)))
    return Drawing(
        (
            *(Item(Role.ENGRAVE, tick) for tick in ticks),
            Item(Role.ENGRAVE, bent),
            Item(Role.CUT_INSIDE, outline(SLOT)),
            Item(Role.CUT_INSIDE, Outline.circle(Point(90.0, 50.0), 6.35)),
            Item(Role.CUT_OUTSIDE, outline(PLATE)),
        ),
        127.0,
        76.2,
    )


def by_ezdxf(strokes: int, size: tuple[float, float], units: tuple[int, int], draw: Any) -> bytes:
    """The same by ezdxf alone."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        document = Document.new("AC1015")
        document.header["$INSUNITS"], document.header["$MEASUREMENT"] = units
        for name, colour in LAYERS:
            document.layers.add(name, color=colour)
        space = document.modelspace()
        space.dxf.extmin, space.dxf.extmax = (0.0, 0.0, 0.0), (*size, 0.0)
        space.dxf.limmin, space.dxf.limmax = (0.0, 0.0), size
        document.header["$EXTMIN"], document.header["$EXTMAX"] = space.dxf.extmin, space.dxf.extmax
        draw(space, strokes)
        stream = io.StringIO()
        document.write(stream)
        return document.encode(stream.getvalue())
    finally:
        options.write_fixed_meta_data_for_testing = before


def in_mm(space: Any, strokes: int) -> None:
    """Polylines with bulges, in millimetres, contours from the middle of their longest straight."""
    text, inside, outside = ({"layer": name} for name in ("TEXT", "INSIDE", "OUTSIDE"))
    for i in range(strokes):
        space.add_line((5.0 + i / 4, 5.0), (5.0 + i / 4, 7.25), text)
    space.add_lwpolyline([(1.0, 2.0), (3.5, 2.0), (3.5, 4.0)], "xy", dxfattribs=text)
    slot = [(50.0, 20.0, 0.0), (60.0, 20.0, 1.0), (60.0, 30.0, 0.0), (40.0, 30.0, 1.0), (40.0, 20.0, 0.0)]
    space.add_lwpolyline(slot, "xyb", close=True, dxfattribs=inside)
    space.add_circle((90.0, 50.0), 6.35, inside)
    plate = [(63.5, 0.0), (127.0, 0.0), (127.0, 76.2), (0.0, 76.2), (0.0, 0.0)]
    space.add_lwpolyline(plate, "xy", close=True, dxfattribs=outside)


@pytest.mark.parametrize("strokes", [0, 1, 12, 300])
def test_the_same_bytes(strokes: int) -> None:
    """Whatever the number of entities, the file is the one that ezdxf writes, handles and all."""
    assert write_dxf(drawing(strokes), PENS) == by_ezdxf(strokes, (127.0, 76.2), (4, 1), in_mm)


def in_pieces(space: Any, strokes: int) -> None:
    """Lines and arcs, in inches."""
    text, inside, outside = ({"layer": name} for name in ("TEXT", "INSIDE", "OUTSIDE"))
    for i in range(strokes):
        x = round((5.0 + i / 4) / 25.4, 10)
        space.add_line((x, round(5.0 / 25.4, 10)), (x, round(7.25 / 25.4, 10)), text)
    for shape, look in (
        (drawing(0).items[0].shape, text),
        (outline(SLOT), inside),
        (None, inside),
        (outline(PLATE), outside),
    ):
        if shape is None:
            space.add_circle((round(90.0 / 25.4, 10), round(50.0 / 25.4, 10)), 0.25, look)
        elif isinstance(shape, Stroke):
            for a, b in zip(shape.points, shape.points[1:], strict=False):
                space.add_line(_inch(a), _inch(b), look)
        else:
            for segment in shape.started_mid_straight().segments:
                _piece(space, segment, look)


def _inch(point: Point) -> tuple[float, float]:
    return round(point.x / 25.4, 10) + 0.0, round(point.y / 25.4, 10) + 0.0


def _piece(space: Any, segment: Line | Arc, look: dict[str, str]) -> None:
    if isinstance(segment, Line):
        space.add_line(_inch(segment.start), _inch(segment.end), look)
        return
    first = {60.0: 270.0, 40.0: 90.0}[segment.center.x]  # the slot's right and left end
    space.add_arc(_inch(segment.center), round(5.0 / 25.4, 10), first, (first + 180.0) % 360.0, True, look)


def test_the_same_bytes_in_pieces_and_inches() -> None:
    """Lines and arcs in inches are ezdxf's too."""
    unit: Unit = "in"
    arcs: Arcs = "pieces"
    made = write_dxf(drawing(2), PENS, unit=unit, arcs=arcs)
    assert made == by_ezdxf(2, (5.0, 3.0), (1, 0), in_pieces)
