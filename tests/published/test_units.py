"""Units of drawing and printing files: what a number in DXF, SVG, 3MF and STL is in millimetres, and how STL counts."""

import io
import re
import struct
import zipfile

import numpy as np
import pytest
from published import Published, inch, table
from sources import (
    CSS_2,
    CSS_BLOG,
    CSS_LESSON,
    INKSCAPE,
    INSUNITS,
    STL_BOURKE,
    STL_GIST,
    THREEMF,
    YARD_POST,
)

from jigtemplates.imports.outline_file import outline_of
from jigtemplates.writers.dxf import UNIT_CODES
from jigtemplates.writers.mesh import Mesh
from jigtemplates.writers.stl import write_stl
from jigtemplates.writers.threemf import write_threemf

#: $INSUNITS, and its unit in mm; metric prefixes and 12 and 36 in to the foot and yard are what the names mean.
DXF = (
    Published("$INSUNITS 1", "inches", INSUNITS, 1, 25.4),
    Published("$INSUNITS 2", "feet", INSUNITS, 2, 304.8),
    Published("$INSUNITS 4", "millimeters", INSUNITS, 4, 1.0),
    Published("$INSUNITS 5", "centimeters", INSUNITS, 5, 10.0),
    Published("$INSUNITS 6", "meters", INSUNITS, 6, 1000.0),
    Published("$INSUNITS 9", "mils", INSUNITS, 9, 0.0254),
    Published("$INSUNITS 10", "yards", INSUNITS, 10, 914.4),
    Published("$INSUNITS 13", "microns", INSUNITS, 13, 0.001),
    Published("$INSUNITS 14", "decimeters", INSUNITS, 14, 100.0),
)

#: What our own files say.
OURS = (
    Published("unit of a file in mm", "4, millimeters", INSUNITS, "mm", 4),
    Published("unit of a file in inches", "1, inches", INSUNITS, "in", 1),
)

#: An SVG length, and the same in another of the standard's units.
CSS = (
    Published("96 px", "1 in", CSS_BLOG, "96px", inch("1")),
    Published("1 pt", "1/72 in", CSS_BLOG, "1pt", inch("1") / 72),
    Published("1 pc", "16 px, 12 pt", CSS_BLOG, "1pc", inch("1") / 6),
    Published("37.79 px", "1 cm", CSS_BLOG, "37.795276px", 10.0),
    Published("1 pt in px", "1.3333 px", CSS_BLOG, "1.3333333px", inch("1") / 72),
    Published("4 q", "1 mm", CSS_LESSON, "4q", 1.0),
    Published("18 pt", "0.25 in", CSS_LESSON, "18pt", inch("1/4")),
)

#: Pixels, as they once were.
OLD_PIXELS = (
    Published("1 in", "90 px", CSS_2, "90px", 25.4, ("96 px, so 90 px are 23.8125 mm", 23.8125)),
    Published("1 in", "90 px", INKSCAPE, "90px", 25.4, ("96 px, so 90 px are 23.8125 mm", 23.8125)),
)

#: A slip of the pen.
WRONG_YARD = (Published("1 yard", "0.1944 m", YARD_POST, 10, 194.4, ("0.9144 m", 914.4)),)

#: A tetrahedron of 10 mm.
TETRAHEDRON = Mesh(
    np.array([[0, 0, 0], [10, 0, 0], [0, 10, 0], [0, 0, 10]], dtype=np.float32),
    np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]], dtype=np.int32),
)

#: What a 3MF file says its unit is.
MODELS = (Published("unit of a 3MF model, unless another is said", "millimeter", THREEMF, TETRAHEDRON, "millimeter"),)

#: Bytes of a binary STL file of four triangles.
STL = (Published("STL of 4 triangles", "80 + 4 + 4 (4 x 12 + 2) bytes", STL_BOURKE, TETRAHEDRON, 284),)

#: What stands behind the header.
WRONG_COUNT = (
    Published("STL, number behind the header", "bytes of the file", STL_GIST, TETRAHEDRON, 284, ("triangles, 4", 4)),
)


def dxf_width(code: int, number: float) -> float:
    """Width in mm of a square of that number of the file's units."""
    import ezdxf

    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = code
    corners = [(0, 0), (number, 0), (number, number), (0, number)]
    document.modelspace().add_lwpolyline(corners, close=True)
    stream = io.StringIO()
    document.write(stream)
    return outline_of(stream.getvalue().encode(), "square.dxf").bounds.width


def svg_width(length: str, times: int = 40) -> float:
    """Width in mm of a square of one unit, read off a page of that many."""
    number = float(length.rstrip("abcdefghijklmnopqrstuvwxyz"))
    side = f"{number * times:.9f}{length.lstrip('0123456789.')}"
    page = f'<svg xmlns="http://www.w3.org/2000/svg" width="{side}" height="{side}" viewBox="0 0 {times} {times}">'
    square = f'<rect width="{times}" height="{times}"/></svg>'
    return outline_of((page + square).encode(), "square.svg").bounds.width / times


@table(DXF)
def test_dxf_unit(row: Published) -> None:
    """A square of 30 mm, drawn in that unit by another program, is read as 30 mm."""
    assert dxf_width(row.given, 30 / row.value) == pytest.approx(30, abs=1e-9)


@table(OURS)
def test_our_dxf_unit(row: Published) -> None:
    """The writer's code for its unit."""
    assert UNIT_CODES[row.given][0] == row.value


@table(CSS)
def test_svg_unit(row: Published) -> None:
    """A page of so many of them has the published size."""
    assert svg_width(row.given) == pytest.approx(row.value, rel=1e-7)


@table(OLD_PIXELS)
def test_old_pixels(row: Published) -> None:
    """A pixel is 1/96 in, whoever wrote the file: one drawn at 90 to the inch comes out 6.25 % small."""
    assert row.right is not None
    width = svg_width(row.given)
    assert width == pytest.approx(row.right[1], rel=1e-9)
    assert width / row.value == pytest.approx(1 - 0.0625)


@table(WRONG_YARD)
def test_wrong_yard(row: Published) -> None:
    """A square of a tenth of a yard is 91.44 mm wide."""
    assert row.right is not None
    width = dxf_width(row.given, 0.1) * 10
    assert width == pytest.approx(row.right[1], abs=1e-6)
    assert width != pytest.approx(row.value, abs=1)


@table(MODELS)
def test_3mf_unit(row: Published) -> None:
    """Said in so many letters, and coordinates are in it."""
    with zipfile.ZipFile(io.BytesIO(write_threemf(row.given, title="a", description="b"))) as package:
        model = package.read("3D/3dmodel.model").decode()
    assert re.findall(r'unit="(\w+)"', model) == [row.value]
    assert {float(x) for x in re.findall(r'\bx="([^"]+)"', model)} == {0, 10}


@table(STL)
def test_stl_bytes(row: Published) -> None:
    """Header, count, and of each triangle a normal, three corners and two bytes."""
    data = write_stl(row.given)
    assert len(data) == row.value
    assert struct.unpack_from("<12f", data, 84)[3:] == (0, 0, 0, 0, 10, 0, 10, 0, 0)


@table(WRONG_COUNT)
def test_wrong_count(row: Published) -> None:
    """The number of triangles, not of bytes."""
    assert row.right is not None
    (count,) = struct.unpack_from("<I", write_stl(row.given), 80)
    assert count == row.right[1] != row.value
