"""Files read, and openings routed, by programs that did not write or design them; millimetres.

DXF by the group codes of the DXF reference alone, SVG by svgelements, pages by pdfium, offsets by Clipper. What these
are right to is said at each; a bulge is the tangent of a quarter of its arc's angle (DXF reference).
"""

import io
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np
import pyclipr
import pypdfium2
import shapely
import svgelements

#: Chords that stand for arcs are no further from them than this, mm.
CHORD = 2e-4

Ring = list[tuple[float, float]]


class Contour(NamedTuple):
    """A closed contour of a file."""

    #: its layer or group
    layer: str
    ring: Ring


def arc_points(start: tuple[float, float], end: tuple[float, float], bulge: float) -> Ring:
    """Points from start up to and without end on the arc of a bulge."""
    if bulge == 0:
        return [start]
    (x0, y0), (x1, y1) = start, end
    angle = 4 * math.atan(bulge)
    chord = math.hypot(x1 - x0, y1 - y0)
    radius = chord / 2 / abs(math.sin(angle / 2))
    mx, my = (x0 + x1) / 2, (y0 + y1) / 2
    off = chord / 2 / math.tan(angle / 2)
    cx, cy = mx - (y1 - y0) / chord * off, my + (x1 - x0) / chord * off
    return _turned((cx, cy), radius, math.atan2(y0 - cy, x0 - cx), angle)


def _turned(center: tuple[float, float], radius: float, start: float, angle: float) -> Ring:
    step = 2 * math.acos(max(0.0, 1 - CHORD / radius)) if radius > CHORD else math.pi / 4
    count = max(4, math.ceil(abs(angle) / step))
    ways = (start + angle * i / count for i in range(count))
    return [(center[0] + radius * math.cos(way), center[1] + radius * math.sin(way)) for way in ways]


def dxf_contours(data: bytes) -> list[Contour]:
    """Closed polylines and circles of a DXF file of either version, in its own unit."""
    lines = data.decode("ascii").splitlines()
    pairs = [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    start = next(i for i, pair in enumerate(pairs) if pair == (2, "ENTITIES"))
    return list(_entities(pairs[start + 1 :]))


def _entities(pairs: Sequence[tuple[int, str]]) -> Iterator[Contour]:
    starts = [i for i, (code, _) in enumerate(pairs) if code == 0]
    polyline: tuple[str, list[list[float]]] | None = None
    for begin, end in zip(starts, [*starts[1:], len(pairs)], strict=True):
        kind, body = pairs[begin][1], pairs[begin + 1 : end]
        if kind == "ENDSEC":
            return
        layer = next((value for code, value in body if code == 8), "")
        if kind == "CIRCLE":
            yield Contour(layer, _turned((_of(body, 10), _of(body, 20)), _of(body, 40), 0.0, math.tau))
        elif kind == "LWPOLYLINE" and int(_of(body, 70)) & 1:
            yield Contour(layer, _flat(list(_vertices(body))))
        elif kind == "POLYLINE" and int(_of(body, 70)) & 1:
            polyline = layer, []
        elif kind == "VERTEX" and polyline is not None:
            polyline[1].append([_of(body, 10), _of(body, 20), _of(body, 42)])
        elif kind == "SEQEND" and polyline is not None:
            yield Contour(polyline[0], _flat(polyline[1]))
            polyline = None


def dxf_lines(data: bytes, layer: str, unit: float) -> Iterator[Ring]:
    """Loose lines and arcs of a layer, as points along each, in mm; unit is the file's, in mm."""
    lines = data.decode("ascii").splitlines()
    pairs = [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    starts = [i for i, (code, _) in enumerate(pairs) if code == 0]
    for begin, end in zip(starts, [*starts[1:], len(pairs)], strict=True):
        kind, body = pairs[begin][1], pairs[begin + 1 : end]
        if (8, layer) not in body:
            continue
        if kind == "LINE":
            yield [(unit * _of(body, 10), unit * _of(body, 20)), (unit * _of(body, 11), unit * _of(body, 21))]
        elif kind == "ARC":
            start, stop = math.radians(_of(body, 50)), math.radians(_of(body, 51))
            angle = (stop - start) % math.tau
            center, radius = (unit * _of(body, 10), unit * _of(body, 20)), unit * _of(body, 40)
            last = (center[0] + radius * math.cos(stop), center[1] + radius * math.sin(stop))
            yield [*_turned(center, radius, start, angle), last]


def _of(body: Iterable[tuple[int, str]], wanted: int) -> float:
    return next((float(value) for code, value in body if code == wanted), 0.0)


def _vertices(body: Iterable[tuple[int, str]]) -> Iterator[list[float]]:
    vertex: list[float] | None = None
    for code, value in body:
        if code == 10:
            if vertex is not None:
                yield vertex
            vertex = [float(value), 0.0, 0.0]
        elif vertex is not None and code in (20, 42):
            vertex[1 if code == 20 else 2] = float(value)
    if vertex is not None:
        yield vertex


def _flat(vertices: list[list[float]]) -> Ring:
    points: Ring = []
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, [*vertices[1:], vertices[0]], strict=True):
        points += arc_points((x0, y0), (x1, y1), bulge)
    return points


def svg_contours(data: bytes, height: float, *, names: bool = False) -> list[Contour]:
    """Closed paths and circles of an SVG file, in mm with y up; height is the drawing's.

    The layer is the innermost group that has a name, or with names what is given by the path itself.
    """
    document = svgelements.SVG.parse(io.StringIO(data.decode("utf-8")), ppi=25.4, reify=True)
    return [
        Contour(str(element.id) if names else layer, _walked(path, height))
        for layer, element in _elements(document, "")
        if _is_closed(element, path := svgelements.Path(element))
    ]


def _elements(group: Any, layer: str) -> Iterator[tuple[str, Any]]:
    """The shapes of a group with the id of the innermost group that has one."""
    for element in group:
        if isinstance(element, svgelements.Group):
            yield from _elements(element, str(element.id or layer))
        elif isinstance(element, svgelements.Shape):
            yield layer, element


def _is_closed(element: Any, path: Any) -> bool:
    return isinstance(element, svgelements.Circle) or (len(path) > 0 and isinstance(path[-1], svgelements.Close))


def _walked(path: Any, height: float) -> Ring:
    points: Ring = []
    for segment in path:
        if isinstance(segment, svgelements.Arc):
            radius, angle = float(segment.rx), abs(float(segment.sweep))
            step = 2 * math.acos(max(0.0, 1 - CHORD / radius)) if radius > CHORD else math.pi / 4
            count = max(4, math.ceil(angle / step))
            points += [_up(segment.point(i / count), height) for i in range(count)]
        elif isinstance(segment, svgelements.CubicBezier):
            points += [_up(segment.point(i / 500), height) for i in range(500)]
        elif isinstance(segment, svgelements.Line | svgelements.Close) and segment.start != segment.end:
            points.append(_up(segment.start, height))
    return points


def _up(point: Any, height: float) -> tuple[float, float]:
    return float(point.x), height - float(point.y)


def area(rings: Iterable[Ring]) -> Any:
    """The area of closed rings, those within others as holes."""
    found = shapely.Polygon()
    for ring in rings:
        found = shapely.symmetric_difference(found, shapely.make_valid(shapely.Polygon(ring)))
    return found


def by_clipper(shape: Any, distance: float, *, within: float = 2e-4) -> Any:
    """A shapely area offset by Clipper: coordinates in nanometres, chords of arcs within so many mm of them."""
    engine = pyclipr.ClipperOffset()
    engine.scaleFactor = 1_000_000
    engine.arcTolerance = within * engine.scaleFactor
    shape = shapely.orient_polygons(shape)  # Clipper takes what runs clockwise for a hole
    rings = [ring for part in shapely.get_parts(shape) for ring in (part.exterior, *part.interiors)]
    if not rings:
        return shapely.Polygon()
    paths = [np.array(shapely.get_coordinates(ring)[:-1]) for ring in rings]
    engine.addPaths(paths, pyclipr.JoinType.Round, pyclipr.EndType.Polygon)
    return area([[(x, y) for x, y, *_ in loop] for loop in engine.execute(distance) if len(loop) > 2])


def routed(opening: Any, bit: float, bushing: float) -> Any:
    """What a bit cuts whose bushing is run all over an opening, by Clipper.

    Where the bushing only just goes in, it is made a nanometre or two smaller, or nothing would be left of its path.
    """
    return by_clipper(by_clipper(opening, -(bushing / 2 - 2e-6)), bit / 2 - 2e-6)


def best(wanted: Any, bit: float, bushing: float) -> Any:
    """The most that any template lets a pair cut of what is wanted, by Clipper.

    The bit's middle must stay half a bit inside; the bushing, wider than it, rounds what points into that path.
    """
    path = by_clipper(wanted, -(bit / 2 - 2e-6))
    return by_clipper(by_clipper(by_clipper(path, bushing / 2), -bushing / 2), bit / 2)


def apart(a: Any, b: Any) -> float:
    """Largest distance between the edges of two areas, mm; infinite where one of them is empty."""
    if a.is_empty or b.is_empty:
        return math.inf
    return float(shapely.hausdorff_distance(shapely.boundary(a), shapely.boundary(b)))


def pages(data: bytes, dpi: int) -> list[Any]:
    """The pages of a PDF as arrays of red, green and blue."""
    document = pypdfium2.PdfDocument(data)
    try:
        return [np.asarray(page.render(scale=dpi / 72).to_numpy())[:, :, :3][:, :, ::-1] for page in document]
    finally:
        document.close()
