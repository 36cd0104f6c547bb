"""Of the wood that a cut takes too much: is a whole piece gone, or a point of it blunted?

Wood is taken where the bushing cannot go round it: of a point a bit of its tip, of what is narrower than twice the
offset all. What is left tells them apart. A piece that lies free is gone, and so is one that held two others together.
Of one that grows out of what stays, twice the offset would take twice as much if it is a point, however slender (a
point of angle a loses (1 / sin(a / 2) - 1) offsets), and no more if it was taken to its foot.
"""

from collections.abc import Iterable
from typing import Any, NamedTuple

import shapely

from jigtemplates.geometry.outline import Point

#: Wood that is taken as far as this share of what twice the offset would take is gone as a whole. Chosen: a point with
#: straight sides has 0.5, one between two arcs that touch each other 0.71 (the root of a half), a tongue of 1 mm on a
#: foot that the bit leaves round 0.83 to 1.
WHOLE = 0.8
#: What reaches less far into the cut is no piece but detail of a drawing, mm (chosen).
PIECE = 1.0
#: Smaller bits of wood are not looked at, mm² (chosen, as for corners); nor more of them than this, the largest first.
CRUMB, MOST = 0.01, 50
#: What is torn off is a piece from this area on, mm² (chosen: PIECE by PIECE).
TORN = 1.0
#: Sides are measured at least so often, mm (chosen).
STEP = 0.5


class Pair(NamedTuple):
    """What decides how much is taken, mm."""

    #: radius of the bit
    bit: float
    #: half of bushing less bit
    offset: float


class Gone(NamedTuple):
    """A piece that is gone: how far it reached into the cut, mm, and the place of its end."""

    reach: float
    at: Point


def gone(parts: Iterable[Any], wanted: Any, made: Any, pair: Pair, chord: float) -> Gone | None:
    """The first piece that is gone as a whole, the largest first; None where all are blunted points.

    `parts` are the areas of wood taken, `wanted` and `made` those of the cut; all on chords so near to their arcs, mm.
    """
    whole = (piece for part in parts for piece in shapely.get_parts(shapely.buffer(part, -chord)))  # without slivers
    large = sorted((piece for piece in whole if piece.area >= CRUMB), key=lambda piece: -piece.area)
    found = (_gone(piece, wanted, made, pair) for piece in large[:MOST])
    return next((one for one in found if one is not None), None)


def _gone(part: Any, wanted: Any, made: Any, pair: Pair) -> Gone | None:
    window = shapely.box(*_around(shapely.bounds(part), 2 * PIECE))
    grown = _grown_from(part, wanted, window)
    wood = shapely.difference(window, made)
    pieces = [one for one in shapely.get_parts(wood) if shapely.intersection(one, grown).area >= TORN]
    reach, at = _furthest(part, shapely.difference(grown, made) if pieces else shapely.boundary(made))
    if len(pieces) != 1 or (reach >= PIECE and not _goes_on(part, at, reach, wanted, pair)):
        return Gone(reach, at)
    return None


def _grown_from(part: Any, wanted: Any, window: Any) -> Any:
    """The wood in a window that a part of it belongs to, as it was to stand."""
    inside = shapely.point_on_surface(part)
    wood = shapely.get_parts(shapely.difference(window, wanted))
    return shapely.union_all([one for one in wood if one.intersects(inside)])


def _furthest(part: Any, base: Any) -> tuple[float, Point]:
    """How far the outline of a part is from a base at most, and where."""
    corners = shapely.get_coordinates(shapely.segmentize(part, STEP))
    away = shapely.distance(base, shapely.points(corners))
    worst = int(away.argmax())
    return float(away[worst]), Point(*map(float, corners[worst]))


def _goes_on(part: Any, at: Point, reach: float, wanted: Any, pair: Pair) -> bool:
    """Whether twice the offset would take much more of the same piece.

    What the bit can reach of the cut, closed by twice the offset, is the cut with twice the offset. It depends on
    nothing further off than the bit's diameter and four offsets; shapely's own buffer is good to 1 %, and does.
    """
    most, twice = reach / WHOLE, 2 * pair.offset
    window = shapely.box(*_around((at.x, at.y, at.x, at.y), most + 2 * pair.bit + 2 * twice))
    near = shapely.intersection(wanted, window)
    cut = shapely.buffer(shapely.buffer(shapely.buffer(near, -pair.bit), pair.bit + twice), -twice)
    standing = shapely.difference(_grown_from(part, near, window), cut)
    return standing.is_empty or bool(shapely.distance(standing, shapely.Point(at.x, at.y)) > most)


def _around(bounds: Any, margin: float) -> tuple[float, float, float, float]:
    left, bottom, right, top = map(float, bounds)
    return left - margin, bottom - margin, right + margin, top + margin
