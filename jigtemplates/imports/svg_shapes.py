"""The basic shapes of SVG as runs of lines and arcs in mm (SVG 1.1, section 9)."""

import math
from collections.abc import Callable, Iterator, Mapping

from jigtemplates.errors import quoted
from jigtemplates.geometry.outline import Point
from jigtemplates.imports.affine import Affine
from jigtemplates.imports.curves import ellipse
from jigtemplates.imports.drawn import Part, Run
from jigtemplates.imports.svg_path import path_runs, straight
from jigtemplates.imports.svg_units import MM, length
from jigtemplates.imports.svg_xml import Element
from jigtemplates.imports.trouble import refuse

Read = Callable[[Element, Affine, float], Iterator[Run]]


def _path(element: Element, place: Affine, chord: float) -> Iterator[Run]:
    text = element.attributes.get("d", "")
    if text.strip() not in ("", "none"):
        yield from path_runs(text, place, chord)


def _points(element: Element, place: Affine, chord: float) -> Iterator[Run]:
    """A polyline or polygon: its points are the path data of a line."""
    text = element.attributes.get("points", "").strip()
    if text:
        yield from path_runs(f"M {text}{' Z' if element.tag == 'polygon' else ''}", place, chord)


def _line(element: Element, place: Affine, _: float) -> Iterator[Run]:
    x1, y1, x2, y2 = (_number(element, key) for key in ("x1", "y1", "x2", "y2"))
    yield Run(tuple(straight(place.at(x1, y1), place.at(x2, y2))), False)


def _circle(element: Element, place: Affine, chord: float) -> Iterator[Run]:
    r = _number(element, "r")
    if r > 0:
        yield _whole(element, place, r, r, chord)


def _ellipse(element: Element, place: Affine, chord: float) -> Iterator[Run]:
    rx, ry = _radii(element)
    if rx > 0 and ry > 0:
        yield _whole(element, place, rx, ry, chord)


def _whole(element: Element, place: Affine, rx: float, ry: float, chord: float) -> Run:
    center = place.at(_number(element, "cx"), _number(element, "cy"))
    u, v = place.turned(rx, 0.0), place.turned(0.0, ry)
    return Run(tuple(ellipse(center, u, v, 0.0, math.tau, chord)), True)


def _rectangle(element: Element, place: Affine, chord: float) -> Iterator[Run]:
    x, y, w, h = (_number(element, key) for key in ("x", "y", "width", "height"))
    if not (w > 0 and h > 0):
        return
    rx, ry = _radii(element)
    rx, ry = min(rx, w / 2), min(ry, h / 2)
    if rx == 0 or ry == 0:
        rx = ry = 0.0
    # the corners' centres in their order, each with the angle at which its quarter begins
    quarters = ((x + w - rx, y + ry, -90), (x + w - rx, y + h - ry, 0), (x + rx, y + h - ry, 90), (x + rx, y + ry, 180))
    parts: list[Part] = []
    last = Point(x + rx, y)
    for cx, cy, degrees in quarters:
        begin, end = (Point(cx + rx * c, cy + ry * s) for c, s in (_QUARTERS[degrees], _QUARTERS[degrees + 90]))
        parts.extend(straight(place.at(*last), place.at(*begin)))
        if rx:
            u, v = place.turned(rx, 0.0), place.turned(0.0, ry)
            parts.extend(ellipse(place.at(cx, cy), u, v, math.radians(degrees), math.pi / 2, chord))
        last = end
    yield Run(tuple(parts), True)


_QUARTERS = {-90: (0, -1), 0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}


def _radii(element: Element) -> tuple[float, float]:
    """rx and ry; where only one is given it stands for both."""
    found = {key: _number(element, key) for key in ("rx", "ry") if element.attributes.get(key, "auto") != "auto"}
    rx = found.get("rx", found.get("ry", 0.0))
    return rx, found.get("ry", rx)


def _number(element: Element, key: str) -> float:
    """An attribute in the drawing's own units, 0 without one; a unit's size is that of the CSS standard."""
    text = element.attributes.get(key)
    if text is None:
        return 0.0
    found = length(text)
    if found is None or (found[1] and found[1] not in MM):
        refuse(f"{key} is {quoted(text)}, which is no length here (write a number)")
    value, unit = found
    if key in ("r", "rx", "ry", "width", "height") and value < 0:
        refuse(f"{key} is {quoted(text)}, less than nothing (write a number of 0 or more)")
    return value * MM[unit] / MM["px"] if unit else value


READERS: Mapping[str, Read] = {
    "path": _path,
    "polyline": _points,
    "polygon": _points,
    "line": _line,
    "circle": _circle,
    "ellipse": _ellipse,
    "rect": _rectangle,
}
