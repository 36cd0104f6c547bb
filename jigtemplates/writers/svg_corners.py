"""The path of an outline of very many segments, and what `svg_reader` finds in one, all numbers at once."""

import math

import numpy as np
from numpy.typing import NDArray

from jigtemplates.geometry.long import split, table_of
from jigtemplates.geometry.outline import Outline
from jigtemplates.geometry.table import Array, Table
from jigtemplates.writers.layers import SAME
from jigtemplates.writers.svg import LONGEST_ARC, number


def long_path(outline: Outline, height: float) -> str:
    """The path data of a contour, as `svg` writes it step by step."""
    table = steady_table(outline)
    places = np.concatenate([table.starts[:1], table.ends])
    words = iter(_numbers(np.column_stack([places[:, 0], height - places[:, 1]]).ravel()))
    first, *pairs = map(" ".join, zip(words, words, strict=True))
    turns, radii = table.turns.tolist(), iter(_numbers(table.radii[table.is_arc]))
    steps = [
        f"A {(radius := next(radii))} {radius} 0 0 {'0' if turn > 0 else '1'} {pair}" if turn else f"L {pair}"
        for turn, pair in zip(turns, pairs, strict=True)
    ]
    if not turns[-1]:
        steps.pop()  # Z draws the last straight
    return " ".join([f"M {first}", *steps, "Z"])


def _numbers(values: Array) -> list[str]:
    """As `svg.number` of each."""
    words = ("%.9f " * len(values) % tuple(values.tolist())).split()
    return [number(float(word)) if word[-1] == "0" else word for word in words]


def steady_table(outline: Outline) -> Table:
    """The segments as `svg.steady` cuts them."""
    table = table_of(outline)
    pieces = np.ceil(np.abs(np.degrees(table.sweeps)) / LONGEST_ARC).astype(np.int64)
    return split(table, np.maximum(pieces, 1))


def read_long_path(d: str, height: float) -> tuple[Table, bool] | None:
    """The segments of path data of plain numbers and commands, and whether it is closed.

    None where anything is not as `long_path` writes it; `svg_reader` then says what.
    """
    closed = d.endswith(" Z")
    text = d.removesuffix(" Z").replace("M", "inf").replace("L", "nan").replace("A", "-inf")
    try:
        numbers = np.array(list(map(float, text.split(" "))))
    except ValueError:
        return None
    begins = np.flatnonzero(~np.isfinite(numbers))
    is_arc = numbers[begins] == -math.inf
    lengths = np.where(is_arc, 8, 3)
    is_first = numbers[begins] == math.inf
    if not (len(begins) > 1 and begins[0] == 0 and is_first[0] and is_first.sum() == 1):
        return None
    if not np.array_equal(np.r_[begins[1:], len(numbers)] - begins, lengths):
        return None
    places = np.column_stack([numbers[begins + lengths - 2], height - numbers[begins + lengths - 1]])
    turns = _turns(numbers, begins[1:], is_arc[1:])
    if turns is None:
        return None
    starts, ends, radii = places[:-1], places[1:], np.where(is_arc[1:], numbers[begins[1:] + 1], 0.0)
    if closed and math.dist(places[-1], places[0]) > SAME / 1000:
        starts, ends = np.concatenate([starts, places[-1:]]), np.concatenate([ends, places[:1]])
        turns, radii = np.r_[turns, 0.0], np.r_[radii, 0.0]
    return _with_centers(starts, ends, radii, turns), closed


def _turns(numbers: Array, begins: NDArray[np.intp], is_arc: NDArray[np.bool_]) -> Array | None:
    """+1, -1 or 0 of each step; None where an arc is elliptical, turned or over half a circle."""
    arcs = begins[is_arc]
    rx, ry, rotation, large, flag = (numbers[arcs + i] for i in range(1, 6))
    if np.any((rx != ry) | (rotation != 0) | (large != 0) | ((flag != 0) & (flag != 1))):
        return None
    turns = np.zeros(len(begins))
    turns[is_arc] = np.where(flag == 0, 1.0, -1.0)
    return turns


def _with_centers(starts: Array, ends: Array, radii: Array, turns: Array) -> Table:
    """As `svg_reader` finds the centre of the small arc by ends and radius."""
    (dx, dy), arc = (ends - starts).T, turns != 0
    chord = np.hypot(dx, dy)
    radii = np.where(arc, np.maximum(radii, chord / 2), 0.0)
    off = turns * np.sqrt(np.maximum(radii**2 - chord**2 / 4, 0.0)) / np.where(chord > 0, chord, 1.0)
    centers = (starts + ends) / 2 + off[:, None] * np.column_stack([-dy, dx])
    return Table(starts, ends, np.where(arc[:, None], centers, 0.0), radii, turns)
