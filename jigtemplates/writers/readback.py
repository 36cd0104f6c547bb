"""Reads back what a writer made and refuses it if it is not what was meant.

Compared are the file's size or extents, its unit and its layers, then for every contour and stroke
its place in the order, whether it is closed, its box, signed area, length and every corner, to
1e-6 mm. The first difference is raised as a ReadBackError of one line.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from jigtemplates.drawing import Drawing, Pens, Stroke
from jigtemplates.geometry.outline import LONG, Arc, Segment, halved
from jigtemplates.writers.drawn import Drawn, Meant, difference, repeated, stroke_segments
from jigtemplates.writers.dxf import CHORD, Arcs, Style, Unit, Version
from jigtemplates.writers.dxf_meaning import drawn_entities, header_faults, joined
from jigtemplates.writers.dxf_reader import read_dxf
from jigtemplates.writers.faults import ReadBackError, shown
from jigtemplates.writers.layers import SAME, Shape, layers, ready
from jigtemplates.writers.svg import named, steady
from jigtemplates.writers.svg_reader import SvgFile, read_svg

#: A shape that was asked for, under the name of its layer or group.
Wanted = tuple[str, Meant]


def check_dxf(
    data: bytes,
    drawing: Drawing,
    pens: Pens,
    *,
    version: Version = "R2000",
    unit: Unit = "mm",
    arcs: Arcs = "bulges",
    chord: float = CHORD,
) -> None:
    """Raise ReadBackError unless data is the drawing as write_dxf with these options should say it."""
    _raise_first("DXF", _dxf_faults(data, drawing, pens, Style(version, unit, arcs, chord)))


def check_svg(data: bytes, drawing: Drawing, pens: Pens) -> None:
    """Raise ReadBackError unless data is the drawing as write_svg should say it."""
    _raise_first("SVG", _svg_faults(data, drawing, pens))


def _raise_first(kind: str, faults: Iterator[str]) -> None:
    # Only the first: what a generator would say next may rest on that fault's absence.
    try:
        fault = next(faults, None)
    except ReadBackError as error:  # from the reader, which does not know what it reads for
        fault = str(error)
    if fault is not None:
        raise ReadBackError(f"{kind} file read back: {fault} (a fault of this program: the file was not written)")


def _dxf_faults(data: bytes, drawing: Drawing, pens: Pens, style: Style) -> Iterator[str]:
    file, found = read_dxf(data), layers(drawing, pens)
    yield from header_faults(file, drawing, found, style)
    drawn = drawn_entities(file, style.unit)
    wanted = [(layer.pen.layer, _meant_in_dxf(s, style)) for layer in found for s in layer.shapes]
    if style.arcs == "pieces":
        single = [(name, piece) for name, meant in wanted for piece in _single(meant)]
        yield from _order_faults(drawn, single)
        drawn = joined(drawn, [meant for _, meant in wanted])
        yield from _shape_faults(drawn, wanted)
    else:
        yield from _order_faults(drawn, wanted)
        yield from _shape_faults(drawn, wanted)


def _meant_in_dxf(shape: Shape, style: Style) -> Meant:
    if isinstance(shape, Stroke):
        return Meant(shape, stroke_segments(shape))
    if shape.count >= LONG and style.arcs == "bulges":
        from jigtemplates.geometry.long import halved, table_of
        from jigtemplates.geometry.table import Rows

        return Meant(shape, Rows(halved(table_of(ready(shape)))))
    segments = ready(shape).segments
    if style.arcs == "facets":
        return Meant(shape, segments, style.chord)
    if style.arcs == "pieces" or ready(shape).as_circle:
        return Meant(shape, segments)
    return Meant(shape, tuple(piece for s in segments for piece in _bulged(s)))


def _bulged(segment: Segment) -> tuple[Segment, ...]:
    return halved(segment) if isinstance(segment, Arc) else (segment,)


def _single(meant: Meant) -> Iterator[Meant]:
    """One for each entity that says it in pieces."""
    return (Meant(meant.shape, (segment,)) for segment in meant.segments)


def _svg_faults(data: bytes, drawing: Drawing, pens: Pens) -> Iterator[str]:
    file, found = read_svg(data), list(named(layers(drawing, pens)))
    yield from _size_faults(file, drawing)
    if len(file.groups) != len(found):
        yield f"it has {len(file.groups)} groups and should have {len(found)}"
    for group, (name, layer) in zip(file.groups, found, strict=True):
        look = (group.name, group.colour, group.stroke)
        if look[:2] != (name, layer.pen.colour) or abs(look[2] - layer.pen.stroke) > SAME:
            yield f"group {look} should be {(name, layer.pen.colour, layer.pen.stroke)}"
    drawn = [shape for group in file.groups for shape in group.shapes]
    wanted = [(name, _meant_in_svg(s)) for name, layer in found for s in layer.shapes]
    yield from _order_faults(drawn, wanted)
    yield from _shape_faults(drawn, wanted)


def _size_faults(file: SvgFile, drawing: Drawing) -> Iterator[str]:
    for name, got, wanted in (
        ("width", file.width, drawing.width),
        ("height", file.height, drawing.height),
    ):
        if abs(got - wanted) > SAME:
            yield f"{name} is {shown(got)} mm and should be {shown(wanted)} mm"


def _meant_in_svg(shape: Shape) -> Meant:
    if isinstance(shape, Stroke):
        return Meant(shape, stroke_segments(shape))
    outline = ready(shape)
    if outline.count >= LONG:
        from jigtemplates.geometry.table import Rows
        from jigtemplates.writers.svg_corners import steady_table

        return Meant(shape, Rows(steady_table(outline)))
    if outline.as_circle:
        return Meant(shape, outline.segments)
    return Meant(shape, tuple(piece for s in outline.segments for piece in steady(s)))


def _order_faults(drawn: Sequence[Drawn], wanted: Sequence[Wanted]) -> Iterator[str]:
    """Everything once, as many on each layer as there should be, and the layers in order."""
    twice = repeated(drawn)
    if twice is not None:
        yield f'layer "{twice.layer}": a line is drawn twice'
    got, meant = Counter(d.layer for d in drawn), Counter(name for name, _ in wanted)
    for name in meant | got:
        if got[name] != meant[name]:
            yield f'layer "{name}": {got[name]} lines are drawn and should be {meant[name]}'
    for one, (name, _) in zip(drawn, wanted, strict=True):
        if one.layer != name:
            yield f'layer "{one.layer}" is drawn where "{name}" should be'


def _shape_faults(drawn: Sequence[Drawn], wanted: Sequence[Wanted]) -> Iterator[str]:
    counts: Counter[str] = Counter()
    for one, (name, meant) in zip(drawn, wanted, strict=True):
        counts[name] += 1
        fault = difference(one, meant)
        if fault is not None:
            yield f'layer "{name}": line {counts[name]} {fault}'
