"""SVG for a machine. The only module that knows svgwrite, whose author calls it inactive.

The output contract:

- Width and height in mm, and a viewBox of the same numbers: one unit is 1 mm. y runs down in the
  file (y' = height - y); the coordinates are turned, there is no transform.
- One flat <g> per layer, its id the layer's name ("_2" behind it where a layer comes back later),
  with fill, stroke and stroke-width as presentation attributes. No CSS, use, clip path or text;
  the drawing's title is a <title>.
- Paths of absolute M, L, A and Z, everything separated by spaces, flags too. A contour starts in
  the middle of its longest straight and ends with Z; a stroke has no Z. A full circle is <circle>.
- An arc beyond 170 degrees is cut in equal pieces. SVG gives an arc by its ends and radius, and
  close to half a circle the middle so given runs away: a radius written 1e-9 mm too large shifts
  a half circle of 10 mm by 1e-4 mm. Quarters are steady in every reader.
- Numbers have at most nine decimals and no exponent. One element a line, lines ending in LF.
- The same drawing gives the same bytes: no clock, no random id.
"""

import math
import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any

from jigtemplates.drawing import Drawing, Pens, Stroke
from jigtemplates.errors import quoted
from jigtemplates.geometry.outline import LONG, Arc, Line, Outline, Point, Segment
from jigtemplates.writers.faults import UnwritableError
from jigtemplates.writers.layers import Layer, layers, ready

#: Longest arc in one piece, degrees (chosen: the radius stays well defined, see above).
LONGEST_ARC = 170.0

# What XML 1.0 cannot hold (section 2.2, production 2), surrogates included.
_NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def write_svg(drawing: Drawing, pens: Pens, *, title: str) -> bytes:
    """The drawing as an SVG file in UTF-8.

    Raises UnwritableError where the drawing, a pen or the title cannot be written.
    """
    import svgwrite

    found = layers(drawing, pens)
    bad = _NO_XML.search(title)
    if bad:
        raise UnwritableError(
            f"title {quoted(title)} holds a character that SVG cannot carry (leave out U+{ord(bad[0]):04X})"
        )
    groups = [_group(svgwrite, name, layer, drawing.height) for name, layer in named(found)]
    # Text is escaped, so "><" stands between two elements and nowhere else.
    head = _empty(svgwrite, drawing, title).tostring().replace("><", ">\n<").removesuffix("</svg>")
    return "\n".join(['<?xml version="1.0" encoding="utf-8"?>', f"{head}{groups[0]}", *groups[1:], "</svg>\n"]).encode()


def named(found: Iterable[Layer]) -> Iterator[tuple[str, Layer]]:
    """Each layer with an id that no other has."""
    times: dict[str, int] = {}
    for layer in found:
        name = layer.pen.layer
        times[name] = times.get(name, 0) + 1
        yield (name if times[name] == 1 else f"{name}_{times[name]}"), layer


def steady(segment: Segment) -> tuple[Segment, ...]:
    """The segment, or its equal pieces where it is an arc beyond LONGEST_ARC."""
    if isinstance(segment, Line):
        return (segment,)
    return segment.split(math.ceil(abs(math.degrees(segment.sweep)) / LONGEST_ARC))


def number(value: float) -> str:
    """A number with at most nine decimals, without exponent, trailing zeros or -0."""
    text = f"{value:.9f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _empty(svgwrite: Any, drawing: Drawing, title: str) -> Any:
    width, height = number(drawing.width), number(drawing.height)
    picture = svgwrite.Drawing(
        size=(f"{width}mm", f"{height}mm"),
        viewBox=f"0 0 {width} {height}",
        debug=False,
        profile="full",
    )
    picture.elements.clear()  # an empty <defs> that nothing here uses
    picture.set_desc(title=title)
    return picture


def _group(svgwrite: Any, name: str, layer: Layer, height: float) -> str:
    """A group by svgwrite with its shapes, one a line, which svgwrite would make an object of each for."""
    group = svgwrite.container.Group(
        id=name,
        fill="none",
        stroke=layer.pen.colour,
        stroke_width=number(layer.pen.stroke),
        debug=False,
    )
    head: str = group.tostring()
    return "\n".join([head.removesuffix(" />") + ">", *(_element(shape, height) for shape in layer.shapes), "</g>"])


def _element(shape: Outline | Stroke, height: float) -> str:
    """Numbers, letters and spaces: nothing to be escaped."""
    if isinstance(shape, Stroke):
        return f'<path d="{_stroke_path(shape, height)}" />'
    outline = ready(shape)
    circle = outline.as_circle
    if circle is None:
        return f'<path d="{_contour_path(outline, height)}" />'
    x, y = _place(circle.center, height)
    return f'<circle cx="{x}" cy="{y}" r="{number(circle.radius)}" />'


@lru_cache(maxsize=1024)  # laser and CNC router engrave the same label
def _stroke_path(stroke: Stroke, height: float) -> str:
    places = [" ".join(_place(p, height)) for p in stroke.points]
    return "M " + " L ".join(places)


def _contour_path(outline: Outline, height: float) -> str:
    if outline.count >= LONG:
        from jigtemplates.writers.svg_corners import long_path

        return long_path(outline, height)
    words = ["M", *_place(outline.segments[0].start, height)]
    pieces = [piece for segment in outline.segments for piece in steady(segment)]
    for piece in pieces:
        words += _step(piece, height)
    if isinstance(pieces[-1], Line):
        del words[-3:]  # Z draws the last straight
    return " ".join([*words, "Z"])


def _step(piece: Segment, height: float) -> list[str]:
    if isinstance(piece, Line):
        return ["L", *_place(piece.end, height)]
    return ["A", *_radii_and_flags(piece), *_place(piece.end, height)]


def _radii_and_flags(arc: Arc) -> list[str]:
    """Both radii, no rotation, the small arc; with y down a counter-clockwise turn is flag 0."""
    radius = number(arc.radius)
    return [radius, radius, "0", "0", "0" if arc.turn > 0 else "1"]


def _place(p: Point, height: float) -> tuple[str, str]:
    return number(p.x), number(height - p.y)
