"""What a DXF file that was read means in millimetres, and whether its head says so."""

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from jigtemplates.drawing import Drawing
from jigtemplates.geometry.outline import LONG, Arc, BulgeVertex, Line, Outline, Point, Segment, segment_from_bulge
from jigtemplates.writers.drawn import Drawn, Meant
from jigtemplates.writers.dxf import PER_UNIT, UNIT_CODES, VERSION_CODES, Style, Unit, nearest_index
from jigtemplates.writers.dxf_reader import (
    ArcEntity,
    CircleEntity,
    DxfFile,
    Entity,
    LineEntity,
    PolylineEntity,
)
from jigtemplates.writers.faults import shown_point
from jigtemplates.writers.layers import SAME, Layer, bounds

#: Layers that every DXF file has.
_ALWAYS = {"0", "Defpoints"}


def header_faults(file: DxfFile, drawing: Drawing, found: Sequence[Layer], style: Style) -> Iterator[str]:
    """Version, unit, box, limits and the layer table, each against what was meant."""
    yield from _variable_faults(file, style)
    box = bounds(shape for layer in found for shape in layer.shapes)
    yield from _place_faults(file, "$EXTMIN", box[:2], style)
    yield from _place_faults(file, "$EXTMAX", box[2:], style)
    yield from _place_faults(file, "$LIMMIN", (0.0, 0.0), style)
    yield from _place_faults(file, "$LIMMAX", (drawing.width, drawing.height), style)
    yield from _layer_faults(file, found)


def _variable_faults(file: DxfFile, style: Style) -> Iterator[str]:
    units, measurement = UNIT_CODES[style.unit]
    wanted: dict[str, tuple[str, ...] | None] = {
        "$ACADVER": (VERSION_CODES[style.version],),
        "$INSUNITS": None if style.version == "R12" else (str(units),),
        "$MEASUREMENT": None if style.version == "R12" else (str(measurement),),
    }
    for name, values in wanted.items():
        got = file.header.get(name)
        if got != values:
            yield f"{name} is {_said(got)} and should be {_said(values)}"


def _said(values: tuple[str, ...] | None) -> str:
    return "missing" if values is None else " ".join(values)


def _place_faults(file: DxfFile, name: str, wanted: tuple[float, ...], style: Style) -> Iterator[str]:
    got = file.header.get(name, ())
    try:
        x, y = (float(v) * PER_UNIT[style.unit] for v in got[:2])
    except ValueError:
        yield f"{name} is {_said(got or None)} and should be a place"
        return
    if not math.dist((x, y), wanted) <= SAME:
        yield f"{name} is at {shown_point(x, y)} and should be at {shown_point(*wanted)}"


def _layer_faults(file: DxfFile, found: Sequence[Layer]) -> Iterator[str]:
    wanted = {layer.pen.layer: nearest_index(layer.pen.colour) for layer in found}
    for name in file.layers.keys() - wanted.keys() - _ALWAYS:
        yield f'an unexpected layer "{name}"'
    for name, colour in wanted.items():
        if name not in file.layers:
            yield f'layer "{name}" is missing'
        elif file.layers[name] != colour:
            yield f'layer "{name}" has colour {file.layers[name]} and should have {colour}'


def drawn_entities(file: DxfFile, unit: Unit) -> list[Drawn]:
    """Every entity as a contour or stroke of its own, mm."""
    return [_drawn(entity, PER_UNIT[unit]) for entity in file.entities]


def _drawn(entity: Entity, per_unit: float) -> Drawn:
    if isinstance(entity, PolylineEntity):
        return _polyline(entity, per_unit)
    if isinstance(entity, LineEntity):
        line = Line(_mm(entity.start, per_unit), _mm(entity.end, per_unit))
        return Drawn(entity.layer, False, (line,))
    center, radius = _mm(entity.center, per_unit), entity.radius * per_unit
    if isinstance(entity, CircleEntity):
        start = Point(center.x + radius, center.y)
        return Drawn(entity.layer, True, (Arc(start, start, center, radius, 1),))
    return Drawn(entity.layer, False, (_arc(entity, center, radius),))


def _mm(p: Point, per_unit: float) -> Point:
    return Point(p.x * per_unit, p.y * per_unit)


def _arc(entity: ArcEntity, center: Point, radius: float) -> Arc:
    start, end = (_on_circle(center, radius, angle) for angle in (entity.start, entity.end))
    return Arc(start, end, center, radius, 1)


def _on_circle(center: Point, radius: float, degrees: float) -> Point:
    angle = math.radians(degrees)
    return Point(center.x + radius * math.cos(angle), center.y + radius * math.sin(angle))


def _polyline(entity: PolylineEntity, per_unit: float) -> Drawn:
    if len(entity.vertices) >= LONG:
        from jigtemplates.geometry.table import Rows
        from jigtemplates.writers.dxf_corners import ManyCorners

        if isinstance(entity.vertices, ManyCorners):
            return Drawn(entity.layer, entity.closed, Rows(entity.vertices.table(per_unit, entity.closed)))
    ring = [BulgeVertex(x * per_unit, y * per_unit, bulge) for x, y, bulge in entity.vertices]
    pairs = pairwise([*ring, *ring[:1]] if entity.closed else ring)
    return Drawn(entity.layer, entity.closed, tuple(segment_from_bulge(a, b) for a, b in pairs))


def joined(pieces: Iterable[Drawn], wanted: Iterable[Meant]) -> list[Drawn]:
    """Lines and arcs put end to end, as many as each wanted shape has segments.

    An ARC has no direction; it is travelled as the segment it stands for. A chain is closed where
    every piece starts at the end of the one before it, and the first at the end of the last.
    """
    rest = iter(pieces)
    return [_chain([next(rest) for _ in meant.segments], meant) for meant in wanted]


def _chain(pieces: list[Drawn], meant: Meant) -> Drawn:
    segments = tuple(_travelled(p.segments[0], s) for p, s in zip(pieces, meant.segments, strict=True))
    joints = zip(segments, segments[1:] + segments[:1], strict=True)
    meets = all(math.dist(a.end, b.start) <= SAME for a, b in joints)
    return Drawn(pieces[0].layer, meets and isinstance(meant.shape, Outline), segments)


def _travelled(piece: Segment, wanted: Segment) -> Segment:
    if isinstance(piece, Arc) and isinstance(wanted, Arc) and piece.turn != wanted.turn:
        return piece.reversed()
    return piece
