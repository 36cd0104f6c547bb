"""A small reader of our own DXF files, from the raw group codes, so that no fault of the library hides.

It knows the header variables, the layer table and the few entities that a cut file may hold, and
tolerates nothing else: an unknown entity, group code or section, a number that is not one, geometry
in a block, each is refused with the line it stands in. Numbers are in the unit of the file.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from jigtemplates.geometry.outline import LONG, BulgeVertex, Point
from jigtemplates.writers.dxf_tags import (
    NO_TAGS,
    Body,
    Tags,
    number,
    read_tags,
    refused,
    split_bodies,
    split_sections,
    whole,
)
from jigtemplates.writers.faults import ReadBackError


@dataclass(frozen=True, slots=True)
class PolylineEntity:
    """LWPOLYLINE or POLYLINE with VERTEX."""

    kind: str
    layer: str
    closed: bool
    vertices: Sequence[BulgeVertex]


@dataclass(frozen=True, slots=True)
class CircleEntity:
    """CIRCLE."""

    kind: str
    layer: str
    center: Point
    radius: float


@dataclass(frozen=True, slots=True)
class ArcEntity:
    """ARC, counter-clockwise from one angle to the other, degrees."""

    kind: str
    layer: str
    center: Point
    radius: float
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class LineEntity:
    """LINE."""

    kind: str
    layer: str
    start: Point
    end: Point


Entity = PolylineEntity | CircleEntity | ArcEntity | LineEntity


@dataclass(frozen=True, slots=True)
class DxfFile:
    """What the file says."""

    #: header variables, each with its values as text
    header: dict[str, tuple[str, ...]]
    #: layer name to indexed colour
    layers: dict[str, int]
    #: in the order of the file
    entities: tuple[Entity, ...]


# The group codes that each kind may hold besides its head.
_POLYLINE = frozenset((10, 20, 30, 66, 70))
_VERTEX = frozenset((10, 20, 30, 42, 70))
_LWPOLYLINE = frozenset((90, 70, 10, 20, 42))
_CIRCLE = frozenset((10, 20, 30, 40))
_ARC = frozenset((10, 20, 30, 40, 50, 51))
_LINE = frozenset((10, 20, 30, 11, 21, 31))


def read_dxf(data: bytes) -> DxfFile:
    """Header, layers and entities of an ASCII DXF file; ReadBackError on anything unexpected."""
    sections = split_sections(read_tags(data))
    missing = {"HEADER", "TABLES", "ENTITIES"} - sections.keys()
    if missing:
        raise ReadBackError(f"no section {min(missing)}")
    _refuse_geometry_in_blocks(sections.get("BLOCKS", NO_TAGS))
    return DxfFile(_header(sections["HEADER"]), _layers(sections["TABLES"]), tuple(_entities(sections["ENTITIES"])))


def _header(tags: Tags) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    values: list[str] = []
    for code, value, line in tags:
        if code == 9:
            if value in found:
                raise refused(line, f"{value} stands there twice")
            values = found[value] = []
        elif not found:
            raise refused(line, "a value before any header variable")
        else:
            values.append(value)
    return {name: tuple(v) for name, v in found.items()}


def _layers(tags: Tags) -> dict[str, int]:
    found: dict[str, int] = {}
    for body in split_bodies(tags):
        if body.kind != "LAYER":
            continue
        if body.one(2) in found:
            raise refused(body.line, f"layer {body.one(2)} stands there twice")
        if body.one(70) != "0":
            raise refused(body.line, f"layer {body.one(2)} is frozen or locked")
        found[body.one(2)] = whole(body.one(62), body.line)
    return found


def _refuse_geometry_in_blocks(tags: Tags) -> None:
    for body in split_bodies(tags):
        if body.kind not in ("BLOCK", "ENDBLK"):
            raise refused(body.line, f"{body.kind} in a block")


def _entities(tags: Tags) -> Iterator[Entity]:
    bodies = iter(split_bodies(tags))
    for body in bodies:
        if body.kind == "POLYLINE":
            yield _polyline(body, bodies)
        elif body.kind in _READERS:
            yield _READERS[body.kind](body)
        else:
            raise refused(body.line, f"a forbidden {body.kind}")


def _polyline(body: Body, rest: Iterator[Body]) -> PolylineEntity:
    """POLYLINE with the VERTEX entities and the SEQEND that follow it."""
    body.only(_POLYLINE)
    body.point(10)
    vertices: list[BulgeVertex] = []
    for part in rest:
        if part.kind == "SEQEND":
            return _enough(body, vertices)
        if part.kind != "VERTEX" or part.one(8) != body.one(8):
            raise refused(part.line, f"{part.kind} on layer {part.one(8)} within a POLYLINE")
        vertices.append(_vertex(part))
    raise refused(body.line, "POLYLINE without SEQEND")


def _vertex(part: Body) -> BulgeVertex:
    part.only(_VERTEX)
    if part.one(70) != "0":
        raise refused(part.line, "a VERTEX that is no plain corner")
    place = part.point(10)
    return BulgeVertex(place.x, place.y, part.number(42) if 42 in part.tags.codes else 0.0)


def _closed(body: Body) -> bool:
    if body.one(70) not in ("0", "1"):
        raise refused(body.line, f"{body.kind} with flags {body.one(70)}")
    return body.one(70) == "1"


#: Which group code of an LWPOLYLINE's corners may follow which.
_NEXT = {0: (10,), 10: (20,), 20: (10, 42), 42: (10,)}
_PLACE = {10: 0, 20: 1, 42: 2}


def _lwpolyline(body: Body) -> PolylineEntity:
    body.only(_LWPOLYLINE)
    if len(body.tags) > LONG:
        from jigtemplates.writers.dxf_corners import read_corners

        many = read_corners(body.tags.codes, body.tags.values)
        if many is not None and len(many) == whole(body.one(90), body.line):
            return PolylineEntity(body.kind, body.one(8), _closed(body), many)
    corners: list[list[float]] = []
    last = 0
    for code, value, line in body.tags:
        if code not in _PLACE:
            continue
        if code not in _NEXT[last]:
            raise refused(line, f"LWPOLYLINE with group code {code} out of turn")
        last = code
        if code == 10:
            corners.append([0.0, 0.0, 0.0])
        corners[-1][_PLACE[code]] = number(value, line)
    if last == 10 or len(corners) != whole(body.one(90), body.line):
        raise refused(body.line, f"LWPOLYLINE has {len(corners)} corners and says {body.one(90)}")
    return _enough(body, [BulgeVertex(*c) for c in corners])


def _enough(body: Body, vertices: list[BulgeVertex]) -> PolylineEntity:
    if len(vertices) < 2:
        raise refused(body.line, f"{body.kind} with fewer than two corners")
    return PolylineEntity(body.kind, body.one(8), _closed(body), tuple(vertices))


def _circle(body: Body) -> CircleEntity:
    body.only(_CIRCLE)
    return CircleEntity(body.kind, body.one(8), body.point(10), body.number(40))


def _arc(body: Body) -> ArcEntity:
    body.only(_ARC)
    return ArcEntity(body.kind, body.one(8), body.point(10), body.number(40), body.number(50), body.number(51))


def _line(body: Body) -> LineEntity:
    body.only(_LINE)
    return LineEntity(body.kind, body.one(8), body.point(10), body.point(11))


_READERS: dict[str, Callable[[Body], Entity]] = {
    "LWPOLYLINE": _lwpolyline,
    "CIRCLE": _circle,
    "ARC": _arc,
    "LINE": _line,
}
