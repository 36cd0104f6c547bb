"""A small reader of our own SVG files, back into millimetres with y up.

It knows what svg.py writes and refuses everything else: another element, attribute, command,
unit or number form. The file is our own, so xml.etree's trust in what it reads does no harm.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

from jigtemplates.geometry.outline import Arc, Line, Point, Segment
from jigtemplates.writers.drawn import Drawn
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.layers import SAME

_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
# No letter but the commands: with it float() takes neither an exponent nor "nan".
_PLAIN = re.compile(r"[MLAZ0-9. -]+")
#: Path data of more characters is read all at once (chosen: that of some 500 segments).
LONG_TEXT = 15_000
_SVG = "{http://www.w3.org/2000/svg}"
_ATTRIBUTES = {
    "svg": {"width", "height", "viewBox", "baseProfile", "version"},
    "title": set(),
    "g": {"id", "fill", "stroke", "stroke-width"},
    "path": {"d"},
    "circle": {"cx", "cy", "r"},
}


@dataclass(frozen=True, slots=True)
class SvgGroup:
    """One <g>."""

    name: str
    colour: str
    #: line width, mm
    stroke: float
    shapes: tuple[Drawn, ...]


@dataclass(frozen=True, slots=True)
class SvgFile:
    """What the file says, mm."""

    title: str
    width: float
    height: float
    groups: tuple[SvgGroup, ...]


def read_svg(data: bytes) -> SvgFile:
    """Size, title and groups of an SVG file; ReadBackError on anything unexpected."""
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as error:
        raise ReadBackError(f"it is not XML: {error}") from None
    _expect(root, "svg")
    width, height = _millimetres(root, "width"), _millimetres(root, "height")
    if _numbers(_text(root, "viewBox")) != [0.0, 0.0, width, height]:
        raise ReadBackError(f'viewBox "{root.get("viewBox")}" does not make one unit 1 mm')
    title, *groups = root if len(root) else [root]
    _expect(title, "title")
    return SvgFile(title.text or "", width, height, tuple(_group(g, height) for g in groups))


def _expect(element: ElementTree.Element, *names: str) -> str:
    """The element's name without namespace, if it is one of these and has no foreign attribute."""
    name = element.tag.removeprefix(_SVG)
    if name not in names or not element.tag.startswith(_SVG):
        raise ReadBackError(f"a forbidden <{name}>")
    foreign = set(element.keys()) - _ATTRIBUTES[name]
    if foreign:
        raise ReadBackError(f"<{name}> with a forbidden {min(foreign)}")
    return name


def _text(element: ElementTree.Element, name: str) -> str:
    value = element.get(name)
    if value is None:
        raise ReadBackError(f"<{element.tag.removeprefix(_SVG)}> without {name}")
    return value


def _numbers(text: str) -> list[float]:
    return [_number(word) for word in text.split(" ")]


def _number(word: str) -> float:
    if not _NUMBER.fullmatch(word):
        raise ReadBackError(f'"{word}" is not a number')
    return float(word)


def _millimetres(element: ElementTree.Element, name: str) -> float:
    text = _text(element, name)
    if not text.endswith("mm"):
        raise ReadBackError(f'{name} "{text}" is not in mm')
    return _number(text.removesuffix("mm"))


def _group(element: ElementTree.Element, height: float) -> SvgGroup:
    _expect(element, "g")
    name = _text(element, "id")
    if _text(element, "fill") != "none":
        raise ReadBackError(f'group "{name}" is filled')
    return SvgGroup(
        name,
        _text(element, "stroke"),
        _number(_text(element, "stroke-width")),
        tuple(_shape(child, name, height) for child in element),
    )


def _shape(element: ElementTree.Element, name: str, height: float) -> Drawn:
    if _expect(element, "path", "circle") == "path":
        return _path(_text(element, "d"), name, height)
    x, y, radius = (_number(_text(element, key)) for key in ("cx", "cy", "r"))
    center = Point(x, height - y)
    start = Point(center.x + radius, center.y)
    return Drawn(name, True, (Arc(start, start, center, radius, 1),))


def _path(d: str, name: str, height: float) -> Drawn:
    if not _PLAIN.fullmatch(d):
        raise ReadBackError(f'path "{d}" holds more than commands and plain numbers')
    if len(d) > LONG_TEXT:
        from jigtemplates.geometry.table import Rows
        from jigtemplates.writers.svg_corners import read_long_path

        found = read_long_path(d, height)
        if found is not None:
            return Drawn(name, found[1], Rows(found[0]))
    words = d.split(" ")
    closed = words[-1] == "Z"
    steps = list(_steps(words[:-1] if closed else words))
    places = [Point(s[-2], height - s[-1]) for _, s in steps]
    segments = [
        _segment(places[i - 1], places[i], command, numbers) for i, (command, numbers) in enumerate(steps) if i > 0
    ]
    if closed and math.dist(places[-1], places[0]) > SAME / 1000:
        segments.append(Line(places[-1], places[0]))
    if not segments:
        raise ReadBackError(f'path "{d}" draws nothing')
    return Drawn(name, closed, tuple(segments))


_COUNTS = {"M": 2, "L": 2, "A": 7}


def _steps(words: list[str]) -> Iterator[tuple[str, list[float]]]:
    """Each command with its numbers; M first and nowhere else."""
    at = 0
    while at < len(words):
        command = words[at]
        if command not in _COUNTS or (command == "M") != (at == 0):
            raise ReadBackError(f'a path with "{command}" where a command should be')
        end = at + 1 + _COUNTS[command]
        if end > len(words):
            raise ReadBackError(f'a path that breaks off in "{command}"')
        yield command, _floats(words[at + 1 : end])
        at = end


def _floats(words: list[str]) -> list[float]:
    try:
        return list(map(float, words))
    except ValueError:
        raise ReadBackError(f'a path with "{" ".join(words)}" where numbers should be') from None


def _segment(start: Point, end: Point, command: str, numbers: list[float]) -> Segment:
    if command == "L":
        return Line(start, end)
    rx, ry, rotation, large, flag = numbers[:5]
    if rx != ry or rotation or large or flag not in (0.0, 1.0):
        raise ReadBackError("an arc that is elliptical, turned or over half a circle")
    return _arc(start, end, rx, 1 if flag == 0.0 else -1)


def _arc(start: Point, end: Point, radius: float, turn: int) -> Arc:
    """The small arc by ends and radius (SVG 1.1, F.6.5 and F.6.6: a radius too small grows)."""
    dx, dy = end.x - start.x, end.y - start.y
    chord = math.hypot(dx, dy)
    if chord == 0.0:
        raise ReadBackError("an arc that ends where it starts")
    radius = max(radius, chord / 2)
    off = turn * math.sqrt(radius**2 - chord**2 / 4) / chord
    center = Point((start.x + end.x) / 2 - off * dy, (start.y + end.y) / 2 + off * dx)
    return Arc(start, end, center, radius, turn)
