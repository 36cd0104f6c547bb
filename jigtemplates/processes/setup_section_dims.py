"""The dimensions of the section of a set-up sheet."""

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Point
from jigtemplates.processes.paper_page import GREY, Text
from jigtemplates.processes.setup_dims import Named, dimension_line, extension, size_texts, spread
from jigtemplates.processes.setup_draw import LARGE, MEDIUM, SMALL, THIN, TINY, UNKNOWN, fitting
from jigtemplates.processes.setup_stack import BASE, BELOW, FLANGE, ROW, SHANK

if TYPE_CHECKING:  # the section calls this module
    from jigtemplates.processes.setup_section import Frame


def dimensions(f: "Frame", *, inches: bool) -> None:
    """Bore, bushing and opening above, bit and cut below, the stem on the left, what makes the plunge on the right."""
    _above(f, inches)
    _below(f, inches)
    _stem(f, inches)
    _plunge(f)
    _chain(f, inches)


def _above(f: "Frame", inches: bool) -> None:
    """The widest first: the words of the others lie over its extension lines."""
    s, y = f.stack, f.face + BASE + SHANK + 1.8
    if not s.is_outside:
        _level(f, "opening", s.opening_width, _ends(f, *s.opening), f.face, y + 2 * ROW, inches)
    _level(f, "bushing", s.bushing, _about(f, s.bushing), f.face + FLANGE, y + ROW, inches)
    _level(f, "bore", s.bore, _about(f, s.drawn_bore), f.face + BASE + 2.2, y, inches)


def _below(f: "Frame", inches: bool) -> None:
    s, foot, y = f.stack, f.y(-f.stack.plunge), f.bottom + 1.0
    if not s.is_outside:
        _level(f, "cut", s.cut[1] - s.cut[0], _ends(f, *s.cut), foot, y - 2 * ROW, inches)
    _level(f, "bit", s.bit, _about(f, s.bit), foot, y - ROW, inches)


def _about(f: "Frame", size: float) -> tuple[float, float]:
    """Both sides of a round part about the axis."""
    return f.free_x(f.stack.axis - size / 2), f.free_x(f.stack.axis + size / 2)


def _ends(f: "Frame", low: float, high: float) -> tuple[float, float]:
    """Both ends of a part that reaches over what is left out."""
    return f.free_x(low), f.free_x(high, beyond=True)


def _level(
    f: "Frame", name: str, size: float | None, ends: tuple[float, float], start: float, y: float, inches: bool
) -> None:
    """A dimension across: name and size on its right, in inches those and the millimetres on its left."""
    for x in ends:
        extension(f.picture, Point(x, start), Point(x, y), dashed=size is None)
    dimension_line(f.picture, Point(ends[0], y), Point(ends[1], y))
    first, *other = (UNKNOWN,) if size is None else size_texts(size, inches, 3)
    words = f"{name} {first}"
    x = ends[1] + 2.4
    em = fitting(words, _plunge_x(f) - 1.0 - x, SMALL, TINY)
    f.picture.backed(Text(words, x, y - 0.36 * em, em, True))
    for text in other:
        f.picture.backed(Text(text, ends[0] - 2.4, y - 0.36 * em, em, anchor="end"))


def _stem(f: "Frame", inches: bool) -> None:
    s, x, low = f.stack, f.left - 3.5, f.y(-f.stack.drawn_stem)
    named = Named("stem", () if s.stem is None else size_texts(s.stem, inches))
    extension(f.picture, Point(f.left, f.face), Point(x, f.face))
    extension(f.picture, Point(f.free_x(s.axis - s.bushing / 2), low), Point(x, low), dashed=s.stem is None)
    dimension_line(f.picture, Point(x, f.face), Point(x, low))
    named.put(f.picture, x - 1.8, (f.face + low) / 2, x - 1.8 - f.picture.cell.left, at_end=True)


def _chain(f: "Frame", inches: bool) -> None:
    """Plate, stand-off and depth of cut, one below the other."""
    s, x = f.stack, f.right + 3.5
    parts = [("plate", s.plate), *([("stand-off", s.stand_off)] if s.stand_off else []), ("cut", s.depth)]
    levels = [0.0]
    for _, size in parts:
        levels.append(levels[-1] - size)
    heights = [f.y(level) for level in levels]
    for height in heights[1:-1]:
        extension(f.picture, Point(f.right, height), Point(x, height))
    for high, low in pairwise(heights):
        dimension_line(f.picture, Point(x, high), Point(x, low))
    room = heights[0] - heights[-1] + BELOW + BASE + SHANK - 2.0
    names = [Named(name, size_texts(size, inches)) for name, size in parts]
    if sum(named.height + 0.8 for named in names) > room:
        names = [Named(name, size_texts(size, inches)[:1]) for name, size in parts]
    _chain_names(f, names, [(a + b) / 2 for a, b in pairwise(heights)], x)


def _chain_names(f: "Frame", names: Sequence[Named], places: Sequence[float], x: float) -> None:
    """Names beside the chain, moved apart where they would touch, then with a line to what they name."""
    wanted = [(place, named.height) for place, named in zip(places, names, strict=True)]
    middles = spread(wanted, f.bottom - 0.5, f.face - 0.8)
    for named, place, middle in zip(names, places, middles, strict=True):
        if abs(place - middle) > 0.5:
            f.picture.line((x + 0.7, place), (x + 2.0, place), (x + 3.2, middle), width=THIN, colour=GREY)
        named.put(f.picture, x + 4.0, middle, _plunge_x(f) - x - 5.2)


def _plunge_x(f: "Frame") -> float:
    return f.picture.cell.right - LARGE - 1.6


def _plunge(f: "Frame") -> None:
    """The figure everything is drawn for, along its dimension line."""
    s, x = f.stack, _plunge_x(f)
    low = f.y(-s.plunge)
    extension(f.picture, Point(f.right, f.face), Point(x, f.face))
    extension(f.picture, Point(_ends(f, *s.cut)[1], low), Point(x, low))
    dimension_line(f.picture, Point(x, f.face), Point(x, low), width=MEDIUM)
    words = s.plunge_words
    # longer than its line, it goes on below, where the rows of dimensions are short
    highest = f.face + BASE + SHANK - 0.6 - text_width(words, LARGE, bold=True) / 2
    middle = min((f.face + low) / 2, highest)
    f.picture.text(Text(words, x + 1.4 + 0.76 * LARGE, middle, LARGE, True, "middle", 90))
