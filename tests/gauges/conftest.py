"""Gauges made by the command line in an empty folder, and read by the libraries of others."""

import ctypes
import io
import re
from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace
from typing import Any, NamedTuple

import ezdxf
import pypdfium2  # type: ignore[import-untyped]
import pypdfium2.raw as pdfium  # type: ignore[import-untyped]
import pytest
import svgelements

#: Points in a millimetre.
POINT = 72 / 25.4


class Box(NamedTuple):
    """The box round one contour or line, mm."""

    left: float
    bottom: float
    right: float
    top: float
    closed: bool

    @property
    def size(self) -> tuple[float, float]:
        """Width and height to a thousandth."""
        return round(self.right - self.left, 3), round(self.top - self.bottom, 3)


def dxf_boxes(path: Path, layer: str) -> list[Box]:
    """What ezdxf finds on a layer, in the order of the file; arcs are flattened to a micrometre on the circle."""
    found = []
    for entity in ezdxf.readfile(path).modelspace():  # type: ignore[attr-defined]
        if entity.dxf.layer == layer:
            points, closed = _dxf_points(entity)
            found.append(_box(points, closed=closed))
    return found


def _dxf_points(entity: Any) -> tuple[list[tuple[float, float]], bool]:
    if entity.dxftype() == "CIRCLE":
        (x, y, _), r = entity.dxf.center, entity.dxf.radius
        return [(x - r, y - r), (x + r, y + r)], True
    if entity.dxftype() == "LINE":
        return [tuple(entity.dxf.start)[:2], tuple(entity.dxf.end)[:2]], False
    points: list[tuple[float, float]] = []
    for piece in entity.virtual_entities():  # lines and arcs
        if piece.dxftype() == "LINE":
            points += [tuple(piece.dxf.start)[:2], tuple(piece.dxf.end)[:2]]
        else:
            points += [tuple(p)[:2] for p in piece.flattening(1e-6)]
            points += _quadrants(piece)
    return points, bool(entity.closed)


def _quadrants(arc: Any) -> list[tuple[float, float]]:
    """The places of an arc furthest right, up, left and down, as far as it reaches them."""
    (x, y, _), r = arc.dxf.center, arc.dxf.radius
    first, last = arc.dxf.start_angle % 360, arc.dxf.end_angle % 360
    reach = (last - first) % 360 or 360
    ways = ((0, 1, 0), (90, 0, 1), (180, -1, 0), (270, 0, -1))
    return [(x + r * dx, y + r * dy) for angle, dx, dy in ways if (angle - first) % 360 <= reach + 1e-9]


def _box(points: Iterable[tuple[float, float]], *, closed: bool) -> Box:
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys), closed)


def svg_boxes(path: Path, group: str) -> list[Box]:
    """What svgelements finds in a group, mm, y down; one user unit is 1 mm by the file's viewBox."""
    # Without width and height the units stay as they are written: millimetres.
    text = re.sub(r'(width|height)="[0-9.]+mm"', "", path.read_text(encoding="utf-8"), count=2)
    groups = [one for one in svgelements.SVG.parse(io.StringIO(text), ppi=96) if isinstance(one, svgelements.Group)]
    shapes = [svgelements.Path(shape) for one in groups if one.id == group for shape in one]
    return [Box._make((*shape.bbox(), isinstance(shape[-1], svgelements.Close))) for shape in shapes]


def svg_size(path: Path) -> list[str]:
    """Width, height and viewBox as the file says them."""
    text = path.read_text(encoding="utf-8")
    return [re.findall(rf'{name}="([^"]*)"', text)[0] for name in ("width", "height", "viewBox")]


def pdf_paths(path: Path) -> list[list[tuple[int, float, float]]]:
    """Every contour or line that pdfium finds on the first page: kind of segment and its end, mm on the page."""
    found: list[list[tuple[int, float, float]]] = []
    for item in pypdfium2.PdfDocument(path)[0].get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=1):
        for kind, x, y in _points(item):
            if kind == pdfium.FPDF_SEGMENT_MOVETO:
                found.append([])
            found[-1].append((kind, x, y))
    return found


def _points(item: Any) -> Iterator[tuple[int, float, float]]:
    """Corners of a path; of a Bézier only its end: ours end at every quarter of a circle."""
    matrix, curve = item.get_matrix(), 0
    for index in range(pdfium.FPDFPath_CountSegments(item.raw)):
        segment = pdfium.FPDFPath_GetPathSegment(item.raw, index)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        curve = (curve + 1) % 3 if kind == pdfium.FPDF_SEGMENT_BEZIERTO else 0
        if curve:
            continue  # a control point
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        right, up = matrix.on_point(x.value, y.value)
        yield kind, right / POINT, up / POINT


def pdf_lines(path: Path) -> list[tuple[float, float]]:
    """Run and rise in mm of every straight piece on the first page."""
    return [
        (round(b[1] - a[1], 3), round(b[2] - a[2], 3))
        for points in pdf_paths(path)
        for a, b in pairwise(points)
        if b[0] == pdfium.FPDF_SEGMENT_LINETO
    ]


def pdf_sizes(path: Path) -> list[tuple[float, float]]:
    """Width and height in mm of the box round each contour or line on the first page, to 0.01 mm."""
    sizes = []
    for points in pdf_paths(path):
        xs, ys = [x for _, x, _ in points], [y for _, _, y in points]
        sizes.append((round(max(xs) - min(xs), 2), round(max(ys) - min(ys), 2)))
    return sizes


def pdf_text(path: Path) -> str:
    """The words of the first page."""
    return " ".join(pypdfium2.PdfDocument(path)[0].get_textpage().get_text_range().split())


@pytest.fixture
def gauge(call: Callable[..., Any], here: Path) -> Callable[..., Path]:
    """gauge("kerf", ...): the folder of the gauge that the command makes; it must make one."""

    def made(*args: str) -> Path:
        said = call("gauge", *args)
        assert (said.status, said.err) == (0, "")
        folders = [path for path in (here / "gauges").iterdir() if path.is_dir()]
        assert len(folders) == 1
        return folders[0]

    return made


@pytest.fixture(scope="session")
def read() -> SimpleNamespace:
    """read.dxf(path, layer), read.svg(path, group), read.pdf_lines(path) …: what other libraries find in a file."""
    return SimpleNamespace(
        dxf=dxf_boxes, svg=svg_boxes, svg_size=svg_size, pdf_lines=pdf_lines, pdf_sizes=pdf_sizes, pdf_text=pdf_text
    )
