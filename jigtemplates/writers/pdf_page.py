"""The drawing operators of a PDF page, as text.

reportlab's canvas writes the same, operator by operator, in four times as long: it formats every number by itself
and measures every text. What it makes of a page given to it here is byte for byte what its own methods would.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from jigtemplates.drawing import Stroke
from jigtemplates.fonts import registered, text_width
from jigtemplates.geometry.outline import Arc, Segment, cos_sin
from jigtemplates.processes.paper_page import Ink, Page, Text, Window

#: Points in a millimetre: 1 pt = 1/72 in (ISO 32000-1, 8.3.2.3), 1 in = 25.4 mm.
POINT = 72.0 / 25.4

#: Numbers are written with so many decimals below 10, 100 … 1,000,000: six digits or more, a micrometre at least.
_DECIMALS = ((10.0, "%.6f"), (100.0, "%.5f"), (1e3, "%.4f"), (1e4, "%.3f"), (1e5, "%.2f"), (1e6, "%.1f"))
#: So many numbers are remembered with their text; a job has some thousands, most of them those of the job before.
_MOST_REMEMBERED = 50_000


class _Numbers(dict[float, str]):
    """The text of a number: without trailing zeros, a zero before the point, or an exponent."""

    def __missing__(self, value: float) -> str:
        if len(self) >= _MOST_REMEMBERED:
            self.clear()
        text = self[value] = _number(value)
        return text


def _number(value: float) -> str:
    size = abs(value)
    if size <= 1e-7:
        return "0"
    for limit, decimals in _DECIMALS:
        if size < limit:
            text = (decimals % value).rstrip("0").rstrip(".")
            return text[1:] if text[0] == "0" and len(text) > 1 else text
    if not size < math.inf:
        raise ValueError(f"{value} cannot be drawn")
    return "%.0f" % value  # noqa: UP031  # as the others


_TEXT_OF = _Numbers()


@dataclass(slots=True)
class Lettering:
    """The fonts of one document, by reportlab: which of their characters it needs is known when it ends.

    A font of a PDF has 256 characters, so that each face is several, its subsets; the first has all of ASCII.
    """

    document: Any
    _names: dict[tuple[bool, float, int], str] = field(default_factory=dict)

    def shown(self, text: Text, subset: int) -> tuple[str, int]:
        """The operators that print a string, and the subset they end in; `subset` is chosen already, -1 for none."""
        string = text.string
        if string.isascii() and string.isprintable():
            if not string or subset == 0:
                return _plain(string), subset
            return f"{self._chosen(text, 0)} {_plain(string)}", 0
        words = []
        for part, codes in _font(text.bold).splitString(string, self.document):
            if part != subset:
                subset = part
                words.append(self._chosen(text, part))
            words.append(f"({''.join([_ESCAPED[code] for code in codes])}) Tj")
        return " ".join(words), subset

    def _chosen(self, text: Text, subset: int) -> str:
        """The operators that choose a face and its size; the line spacing they set as well is not used."""
        key = (text.bold, text.size, subset)
        if key not in self._names:
            font = _font(text.bold)
            font.splitString("", self.document)  # begins the document's list of characters
            name, size, spacing = font.getSubsetInternalName(subset, self.document), text.size, text.size * 1.2
            self._names[key] = f"{name} {_TEXT_OF[size]} Tf {_TEXT_OF[spacing]} TL"
        return self._names[key]


def _font(bold: bool) -> Any:
    from reportlab.pdfbase import pdfmetrics

    return pdfmetrics.getFont(registered(bold))


def _escaped(code: int) -> str:
    r"""A character of a string: ( ) \ with a backslash, others than printable ASCII in octal (ISO 32000-1, 7.3.4.2)."""
    if chr(code) in "()\\":
        return "\\" + chr(code)
    return chr(code) if 32 <= code < 127 else f"\\{code:03o}"


_ESCAPED = [_escaped(code) for code in range(256)]


@lru_cache(maxsize=4096)  # the same words stand on every paper, and on those of the next job
def _plain(string: str) -> str:
    """Printable ASCII has its own codes in every font of ours; nothing is shown of nothing."""
    return string and f"({''.join(_ESCAPED[ord(c)] for c in string)}) Tj"


def page_text(page: Page, correction: tuple[float, float], lettering: Lettering) -> str:
    """All operators of a page, one or more a line."""
    scale = (_TEXT_OF[POINT * factor] for factor in correction)
    lines = ["{} 0 0 {} 0 0 cm".format(*scale), "0 J", "1 j", *_drawn(page.inks)]
    for window in page.windows:
        lines += _window(window, lettering)
    lines.append(_texts(page.texts, lettering))
    return "\n".join(lines)


def _window(window: Window, lettering: Lettering) -> Iterator[str]:
    """What it shows, clipped to its frame."""
    x, y, s = *window.origin, window.shown
    number = _TEXT_OF
    yield "q"
    yield f"1 0 0 1 {number[x]} {number[y]} cm"
    yield f"n {number[s.left]} {number[s.bottom]} {number[s.width]} {number[s.height]} re W* n"
    yield from inks_text(window.inks)
    yield _texts(window.texts, lettering)
    yield "Q"


def inks_text(inks: tuple[Ink, ...]) -> list[str]:
    """Neighbours in one pen share a path, so that a label is one stroke operation."""
    for known, lines in _LATELY:
        if known is inks:
            return lines
    lines = list(_drawn(inks))
    _LATELY[:] = [(inks, lines)]
    return lines


#: A job's papers show the same plate, whose numbers take long to write.
_LATELY: list[tuple[tuple[Ink, ...], list[str]]] = []


def _drawn(inks: tuple[Ink, ...]) -> Iterator[str]:
    look, path = None, ["n"]
    for ink in inks:
        now = (ink.width, ink.colour, ink.dash, ink.fill)
        if look is not None and now != look:
            yield from _stroked(look, path)
            path = ["n"]
        look = now
        _trace(path, ink)
    if look is not None:
        yield from _stroked(look, path)


_Look = tuple[float, str, tuple[float, ...], str]


def _stroked(look: _Look, path: list[str]) -> Iterator[str]:
    yield _pen(look)
    yield " ".join(path)
    yield _painted(look[0] > 0, bool(look[3]))


def _painted(line: bool, fill: bool) -> str:
    """The operator that paints a path, by the non-zero winding rule."""
    if line:
        return "B" if fill else "S"
    return "f" if fill else "n"


@lru_cache(maxsize=256)
def _pen(look: _Look) -> str:
    width, colour, dash, fill = look
    spaces = " ".join(_TEXT_OF[length] for length in dash)
    lines = [f"{_TEXT_OF[width]} w", f"{_rgb(colour)} RG", f"[{spaces}] 0 d"]
    return "\n".join([*lines, f"{_rgb(fill)} rg"] if fill else lines)


@lru_cache(maxsize=64)
def _rgb(colour: str) -> str:
    return " ".join(_TEXT_OF[int(colour[i : i + 2], 16) / 255] for i in (1, 3, 5))


def _trace(path: list[str], ink: Ink) -> None:
    number, shape = _TEXT_OF, ink.shape
    if isinstance(shape, Stroke):
        step = "m"
        for x, y in shape.points:
            path.append(f"{number[x]} {number[y]} {step}")
            step = "l"
        return
    x, y = shape.segments[0].start
    path.append(f"{number[x]} {number[y]} m")
    for segment in shape.segments:
        _segment(path, segment)
    path.append("h")


def _segment(path: list[str], segment: Segment) -> None:
    number = _TEXT_OF
    if not isinstance(segment, Arc):
        x, y = segment.end
        path.append(f"{number[x]} {number[y]} l")
        return
    for curve in beziers(segment):
        path.append(" ".join([number[place] for place in curve]) + " c")


def beziers(arc: Arc) -> Iterator[tuple[float, float, float, float, float, float]]:
    """Cubic pieces of at most 45°: two control points and the end of each.

    The handles are 4/3 tan(sweep / 4) of the radius (Goldapp, Comput. Aided Geom. Des. 8, 1991, from
    memory): the middle of each piece lies on the circle, and none of it 1e-5 of the radius off.
    """
    sweep, first = arc.sweep, arc.start_angle
    pieces = max(1, math.ceil(abs(sweep) / (math.pi / 4) - 1e-9))
    step = sweep / pieces
    handle = 4.0 / 3.0 * math.tan(step / 4.0) * arc.radius
    (cx, cy), r = arc.center, arc.radius
    cos, sin = math.cos(first), math.sin(first)
    for i in range(1, pieces + 1):
        x0, y0 = cx + r * cos - handle * sin, cy + r * sin + handle * cos
        cos, sin = math.cos(first + i * step), math.sin(first + i * step)
        x1, y1 = cx + r * cos, cy + r * sin
        end = arc.end if i == pieces else (x1, y1)
        yield x0, y0, end[0] + handle * sin, end[1] - handle * cos, *end


def _texts(texts: Iterable[Text], lettering: Lettering) -> str:
    """All texts of a page in one text object."""
    words = ["BT 1 0 0 1 0 0 Tm"]
    font: tuple[bool, float] | None = None
    colour, subset = None, -1
    for text in texts:
        if font != (text.bold, text.size):
            font, subset = (text.bold, text.size), -1
        if colour != text.colour:
            colour = text.colour
            words.append(f"{_rgb(colour)} rg")
        words.append(_place(text))
        shown, subset = lettering.shown(text, subset)
        words.append(shown)
    words.append("ET")
    return " ".join(words)


_SHARE = {"start": 0.0, "middle": 0.5, "end": 1.0}


def _place(text: Text) -> str:
    """The text's matrix: turned, and started so that its anchor falls on (x, y)."""
    number, share = _TEXT_OF, _SHARE[text.anchor]
    back = share and share * text_width(text.string, text.size, bold=text.bold)
    if text.angle == 0:
        return f"1 0 0 1 {number[text.x - back]} {number[text.y]} Tm"
    cos, sin = cos_sin(text.angle)
    turned = f"{number[cos]} {number[sin]} {number[-sin]} {number[cos]}"
    return f"{turned} {number[text.x - back * cos]} {number[text.y - back * sin]} Tm"
