"""A plate that may be put back turned: its places, and where its holes come to; degrees counter-clockwise, mm.

Places are numbered from 0, the one the pattern shows: the plate's datum corner at the holder's lower left.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigtemplates.geometry.outline import Point, cos_sin
from jigtemplates.holders.box import Box

if TYPE_CHECKING:
    from jigtemplates.parameters.job import Plate

#: Holes this near are in one place, mm (chosen: no one can measure it in a shop).
SAME = 0.01


def place_count(turn: float | None) -> int:
    """How many places a step in degrees has; 1 where the plate is not turned."""
    return 1 if turn is None else round(360 / turn)


def directions(turn: float | None) -> tuple[float, ...]:
    """The turn of each place; a step in decimals, such as 51.43 for a seventh, is the part of 360 it stands for."""
    count = place_count(turn)
    return tuple(360.0 * k / count for k in range(count))


def turned_about(place: Point, degrees: float, middle: Point) -> Point:
    """A place after a turn about a middle."""
    cos, sin = cos_sin(degrees)
    x, y = place.x - middle.x, place.y - middle.y
    return Point(middle.x + x * cos - y * sin, middle.y + x * sin + y * cos)


def comes_to_itself(plate: Box, turn: float) -> bool:
    """Whether a plate's outline is the same after every step: a round one, or a square by quarter turns."""
    if plate.is_round:
        return True
    quarter = 90.0 if abs(plate.width - plate.height) < SAME else 180.0
    return abs(turn / quarter - round(turn / quarter)) < 1e-9


@dataclass(frozen=True, slots=True)
class Miss:
    """A screw hole that has nothing under it once the plate is turned."""

    #: of the hole, counted from 1
    number: int
    #: where it is, and where the turn takes it, on the plate as drawn
    hole: Point
    there: Point
    turn: float
    #: from there to the nearest hole
    by: float


def misses(holes: Sequence[Point], others: Sequence[Point], turns: Sequence[float], plate: "Plate") -> Iterator[Miss]:
    """The holes that no other lies under after each of the turns about the plate's middle, in that order."""
    middle = Point(plate.width / 2, plate.height / 2)
    for turn in turns:
        for number, hole in enumerate(holes, 1):
            there = turned_about(hole, turn, middle)
            by = min((math.dist(there, other) for other in others), default=math.inf)
            if by > SAME:
                yield Miss(number, hole, there, turn, by)
