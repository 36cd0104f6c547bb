"""DXF for a machine, through ezdxf.

The output contract:

- ASCII DXF, R2000 (closed LWPOLYLINE) or R12 (closed POLYLINE); nothing but those and CIRCLE, ARC
  and LINE, all in model space, every one on the layer of its pen and coloured by it.
- A contour is one closed entity that starts in the middle of its longest straight; its last
  vertex is not repeated and no |bulge| exceeds 1. A full circle is one CIRCLE.
- A stroke is an open polyline, or a LINE where it has two points.
- `arcs="pieces"` says the same in LINE and ARC end to end, for readers that misread bulges;
  `arcs="facets"` in straight chords whose ends lie on the true arc, for readers without arcs.
- Millimetres or inches, coordinates divided by 25.4 exactly: $INSUNITS 4 or 1, $MEASUREMENT 1 or
  0. R12 has neither variable, so it cannot say its unit: the file's name must.
- $EXTMIN/$EXTMAX hold the box round everything drawn, $LIMMIN/$LIMMAX the drawing's size.
- Colours are the nearest of the 255 indexed ones: true colour came with R2004.
- The same drawing gives the same bytes, lines ending in LF: no clock, no random id, no version of
  the library.
"""

import io
import math
import threading
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Literal

from jigtemplates.drawing import Drawing, Pens, Stroke
from jigtemplates.ezdxf_import import import_ezdxf
from jigtemplates.geometry.outline import LONG, Arc, Line, Outline, Point, Segment
from jigtemplates.writers.dxf_text import SIZES, Entities, Form, corners_text, form_of
from jigtemplates.writers.faults import UnwritableError
from jigtemplates.writers.layers import Layer, bounds, layers, ready, tidy

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

Version = Literal["R2000", "R12"]
Unit = Literal["mm", "in"]
Arcs = Literal["bulges", "pieces", "facets"]

#: x, y and the bulge of what follows, mm.
Vertex = tuple[float, float, float]

#: Default chord tolerance of facets, mm: a tenth of what a laser's kerf varies by (chosen).
CHORD = 0.01

#: mm in one unit of the file; 1 in = 25.4 mm exactly.
PER_UNIT = {"mm": 1.0, "in": 25.4}
#: $INSUNITS and $MEASUREMENT of the DXF reference.
UNIT_CODES = {"mm": (4, 1), "in": (1, 0)}
#: $ACADVER of the DXF reference.
VERSION_CODES = {"R2000": "AC1015", "R12": "AC1009"}

# ezdxf's fixed metadata is an option of the whole process: one writer at a time may change it.
_OPTION = threading.Lock()


@dataclass(frozen=True, slots=True)
class Style:
    """How the file says what the drawing means."""

    version: Version = "R2000"
    unit: Unit = "mm"
    arcs: Arcs = "bulges"
    #: largest distance between a facet and its arc, mm
    chord: float = CHORD


def write_dxf(
    drawing: Drawing,
    pens: Pens,
    *,
    version: Version = "R2000",
    unit: Unit = "mm",
    arcs: Arcs = "bulges",
    chord: float = CHORD,
) -> bytes:
    """The drawing as a DXF file; chord is in mm, whatever the file's unit.

    Raises UnwritableError where the drawing, a pen or the chord tolerance cannot be written.
    """
    if not 0 < chord < float("inf"):
        raise UnwritableError(f"chord tolerance {chord:g} mm is not a tolerance (write more than 0 mm)")
    import_ezdxf()
    style = Style(version, unit, arcs, chord)
    found = layers(drawing, pens)
    box = _box(drawing, found, PER_UNIT[unit])
    if version != "R12":
        form = _form(style, tuple((layer.pen.layer, nearest_index(layer.pen.colour)) for layer in found), box[:2])
        entities = Entities(form, form.first)
        Sheet(entities, style).draw_all(found)
        return form.text(entities, box[2:]).encode("ascii")
    with _fixed_metadata():
        document = _document(style, [(layer.pen.layer, nearest_index(layer.pen.colour)) for layer in found], box)
        Sheet(document.modelspace(), style).draw_all(found)
        stream = io.StringIO()
        document.write(stream)
    return document.encode(stream.getvalue())


@lru_cache(maxsize=16)  # the jobs of a folder have the same layers
def _form(style: Style, colours: tuple[tuple[str, int], ...], low: tuple[float, ...]) -> Form:
    """What ezdxf writes of every drawing with these layers whose box begins there."""
    with _fixed_metadata():
        return form_of(_document(style, colours, (*low, *SIZES)))


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """No clock and no random id while writing; the user's own setting comes back."""
    from ezdxf._options import options

    with _OPTION:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            options.write_fixed_meta_data_for_testing = before


def _document(style: Style, colours: Iterable[tuple[str, int]], box: tuple[float, ...]) -> "Document":
    """Header and layers; the box is that of everything drawn, then width and height, in the file's unit."""
    # Not ezdxf.new: it logs a warning about units for every R12 file.
    from ezdxf.document import Drawing as Document

    document = Document.new(VERSION_CODES[style.version])
    document.header["$INSUNITS"], document.header["$MEASUREMENT"] = UNIT_CODES[style.unit]
    for name, colour in colours:
        if name not in document.layers:
            document.layers.add(name)
        document.layers.get(name).color = colour
    space = document.modelspace().dxf
    left, bottom, right, top, width, height = box
    # Box and limits, in header and layout: ezdxf forgets a corner at (0, 0, 0) in either alone.
    space.extmin, space.extmax = (left, bottom, 0.0), (right, top, 0.0)
    space.limmin, space.limmax = (0.0, 0.0), (width, height)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = space.extmin, space.extmax
    return document


def _box(drawing: Drawing, found: Iterable[Layer], per_unit: float) -> tuple[float, ...]:
    """Of everything drawn, left, bottom, right and top, then the drawing's width and height, in the file's unit."""
    box = bounds(shape for layer in found for shape in layer.shapes)
    return tuple(tidy(place / per_unit) for place in (*box, drawing.width, drawing.height))


@lru_cache(maxsize=256)
def nearest_index(colour: str) -> int:
    """The indexed colour (1 to 255) nearest to "#rrggbb" by distance in RGB, the lowest of equals."""
    from ezdxf.colors import aci2rgb

    wanted = tuple(int(colour[i : i + 2], 16) for i in (1, 3, 5))

    def distance(index: int) -> int:
        return sum((a - b) ** 2 for a, b in zip(aci2rgb(index), wanted, strict=True))

    return min(range(1, 256), key=distance)


@dataclass(frozen=True, slots=True)
class Sheet:
    """Model space and the style in which shapes are put on it."""

    space: "Modelspace | Entities"
    style: Style

    def draw_all(self, found: Iterable[Layer]) -> None:
        """Add the layers one after the other."""
        for layer in found:
            self.draw(layer)

    def draw(self, layer: Layer) -> None:
        """Add the layer's shapes in their order."""
        look = {"layer": layer.pen.layer}
        for shape in layer.shapes:
            if isinstance(shape, Stroke):
                self._stroke(shape, look)
            else:
                self._contour(ready(shape), look)

    def _stroke(self, stroke: Stroke, look: dict[str, Any]) -> None:
        points = stroke.points
        if len(points) == 2 or self.style.arcs == "pieces":
            for a, b in pairwise(points):
                self._piece(Line(a, b), look)
        else:
            self._polyline(((x, y, 0.0) for x, y in points), look, close=False)

    def _contour(self, outline: Outline, look: dict[str, Any]) -> None:
        circle = outline.as_circle
        if self.style.arcs == "facets":
            points = outline.flattened(self.style.chord)
            self._polyline(((x, y, 0.0) for x, y in points), look, close=True)
        elif circle is not None:
            self.space.add_circle(self._at(circle.center), self._size(circle.radius), look)
        elif self.style.arcs == "pieces":
            for segment in outline.segments:
                self._piece(segment, look)
        elif outline.count >= LONG and self.style.version != "R12":
            self._long_polyline(outline, look)
        else:
            self._polyline(outline.bulge_vertices(), look, close=True)

    def _long_polyline(self, outline: Outline, look: dict[str, Any]) -> None:
        """The corners all at once, from columns of numbers."""
        from jigtemplates.writers.dxf_corners import corners

        text = corners(outline, PER_UNIT[self.style.unit])
        self._entities.add_corners(text.count, text.text, look, close=True)

    def _piece(self, segment: Segment, look: dict[str, Any]) -> None:
        if isinstance(segment, Line):
            self.space.add_line(self._at(segment.start), self._at(segment.end), look)
            return
        first, last = arc_angles(segment)
        self.space.add_arc(self._at(segment.center), self._size(segment.radius), first, last, True, look)

    def _polyline(self, vertices: Iterable[Vertex], look: dict[str, Any], *, close: bool) -> None:
        places = [(self._size(x), self._size(y), _bulge(bulge)) for x, y, bulge in vertices]
        if self.style.version == "R12":
            self._document_space.add_polyline2d(places, format="xyb", close=close, dxfattribs=look)
        else:
            self._entities.add_corners(len(places), corners_text(places), look, close=close)

    @property
    def _document_space(self) -> "Modelspace":
        assert not isinstance(self.space, Entities)  # of R12
        return self.space

    @property
    def _entities(self) -> Entities:
        assert isinstance(self.space, Entities)  # of all versions but R12
        return self.space

    def _size(self, mm: float) -> float:
        return tidy(mm / PER_UNIT[self.style.unit])

    def _at(self, p: Point) -> tuple[float, float]:
        return self._size(p.x), self._size(p.y)


def arc_angles(arc: Arc) -> tuple[float, float]:
    """Start and end of a DXF ARC in degrees: it always runs counter-clockwise."""
    if arc.turn < 0:
        arc = arc.reversed()
    first = math.degrees(arc.start_angle)
    last = first + math.degrees(arc.sweep)
    return tidy(tidy(first) % 360.0), tidy(tidy(last) % 360.0)


def _bulge(bulge: float) -> float:
    """The bulge without rounding dust: half a circle is 1 and nothing beyond it."""
    return max(-1.0, min(1.0, round(bulge, 12) + 0.0)) if bulge else 0.0
