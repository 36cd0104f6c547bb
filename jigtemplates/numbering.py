"""The number of a cut, engraved beside each of its openings where a plate has several cuts that differ.

Millimetres, x right, y up. The number stands upright, near its own opening and further from all others.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jigtemplates.drawing import Stroke
from jigtemplates.freespace import CHORD, FreeSpace, Obstacle
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region, cos_sin
from jigtemplates.label import HEIGHTS, outline_of
from jigtemplates.lettering import letter, text_box
from jigtemplates.marks import GAP, way_out

#: Directions from the middle of an opening that are tried, degrees from the cut's own, the best first (chosen: clear of
#: the ticks on the centre lines).
WAYS = (135.0, 45.0, 225.0, 315.0, 160.0, 20.0, 200.0, 340.0, 110.0, 70.0, 250.0, 290.0)
#: From the opening to the number, mm; the nearest first (chosen: a bushing's rim needs no more).
AWAY = (2.0, 4.0, 7.0)


@dataclass(frozen=True, slots=True)
class CutNumber:
    """A number that has found its place."""

    number: int
    strokes: tuple[Stroke, ...]
    #: upright box round the strokes
    box: Bounds

    @property
    def outline(self) -> Outline:
        """The box as an outline, for what must keep clear of the number."""
        return outline_of(self.box)


@dataclass(frozen=True, slots=True)
class Numbered:
    """An opening that is to have a number."""

    number: int
    middle: Point
    #: turn of its cut, degrees
    angle: float
    opening: Region


def place_numbers(openings: Sequence[Numbered], plate: Region, blocked: Sequence[Obstacle]) -> tuple[CutNumber, ...]:
    """The numbers, each as large as it finds room; one that finds none is left out.

    blocked is all that they must stay away from, the openings among it.
    """
    if not openings:
        return ()
    import shapely

    space = FreeSpace(plate, tuple(blocked))
    areas = shapely.polygons([shapely.linearrings(one.opening.outer.flattened(CHORD)) for one in openings])
    found: list[CutNumber] = []
    for own, one in enumerate(openings):
        for trial in _free(one, space):
            far = shapely.distance(areas, shapely.Point(trial.box.center))
            if far.argmin() == own and not any(_touch(trial.box, other.box) for other in found):
                found.append(trial)
                break
    return tuple(found)


def _free(one: Numbered, space: FreeSpace) -> Iterator[CutNumber]:
    """Its number wherever there is room for it, the largest first."""
    ink = text_box(str(one.number), 1.0)
    for height in HEIGHTS:
        boxes = list(_places(one, ink.width * height, ink.height * height))
        for box, is_free in zip(boxes, space.fits(boxes, GAP), strict=True):
            if is_free:
                at = Point(box.left - ink.left * height, box.bottom - ink.bottom * height)
                yield CutNumber(one.number, letter(str(one.number), height, at), box)


def _touch(a: Bounds, b: Bounds) -> bool:
    return a.left - GAP < b.right and b.left < a.right + GAP and a.bottom - GAP < b.top and b.bottom < a.top + GAP


def _places(one: Numbered, width: float, depth: float) -> Iterator[Bounds]:
    """Boxes of that size round the opening, the best first."""
    half = max(width, depth) / 2
    for away in AWAY:
        for start, way in _ways(one):
            out = way_out(start, way, one.opening.outer)
            if out is not None:
                cos, sin = cos_sin(way)
                x, y = start.x + (out + away + half) * cos, start.y + (out + away + half) * sin
                yield Bounds(x - width / 2, y - depth / 2, x + width / 2, y + depth / 2)


def _ways(one: Numbered) -> Iterator[tuple[Point, float]]:
    """From where and which way a number is looked for: beside a quarter of the length, then from the middle."""
    reach = way_out(one.middle, one.angle, one.opening.outer) or 0.0
    cos, sin = cos_sin(one.angle)
    for quarter in (-reach / 2, reach / 2):
        start = Point(one.middle.x + quarter * cos, one.middle.y + quarter * sin)
        yield from ((start, one.angle + way) for way in (90.0, 270.0))
    yield from ((one.middle, one.angle + way) for way in WAYS)
