"""Marks on the plate: which corner is the datum, and where the opening's centre lines run.

Millimetres, x right, y up, angles in degrees counter-clockwise. All lengths and distances here are
chosen (long enough to align a pencil line with, short enough to leave the plate clean) unless it says
otherwise. A mark that has no room is shorter or missing; nothing is raised.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from jigtemplates.drawing import Stroke
from jigtemplates.freespace import FreeSpace, Obstacle
from jigtemplates.geometry.outline import Arc, Outline, Point, Region, Segment, cos_sin

#: Datum mark: length of its legs and distance of their corner from the plate's two edges.
DATUM_LEG = 6.0
DATUM_INSET = 2.0
DATUM_SHORTEST = 3.0

#: A tick beside the opening runs from the first to the second distance outside its edge.
BESIDE = (2.0, 8.0)
#: A tick at the plate's edge: its length, and how far inside the edge it ends.
EDGE_TICK = 6.0
EDGE_INSET = 1.0

#: A tick on the middle line of a group of openings: its lengths that are tried, and the bar across its inner end that
#: tells it from an opening's own.
GROUP_TICKS = (10.0, 8.0, 6.0)
GROUP_BAR = 5.0

#: Least distance of a mark from holes and openings, and from the plate's edge beside it.
GAP = 1.5
EDGE_GAP = 0.5

#: Parts of a tick shorter than this are left out.
SHORTEST = 2.0


def datum_mark(
    plate: Region,
    blocked: Sequence[Obstacle],
    *,
    leg: float = DATUM_LEG,
    inset: float = DATUM_INSET,
) -> tuple[Stroke, ...]:
    """A right angle in the plate's lower-left corner: the corner that measurements start from.

    One stroke, from the end of the leg along the lower edge by the corner to the end of the leg along
    the left edge. A hole shortens it down to DATUM_SHORTEST, a rounded corner moves it up to one leg
    further in; where neither helps there is none (also where the lower-left corner of the plate's
    bounds is far off the plate, as with a round one).
    """
    space = FreeSpace(plate, tuple(blocked))
    for distance in _steps(inset, inset + leg, 0.5):
        for length in _steps(leg, min(leg, DATUM_SHORTEST), -1.0):
            x, y = plate.bounds.left + distance, plate.bounds.bottom + distance
            corner = (Point(x + length, y), Point(x, y), Point(x, y + length))
            if space.is_clear(corner, edge=EDGE_INSET, gap=GAP):
                return (Stroke(corner),)
    return ()


def centre_marks(
    center: Point,
    angle: float,
    plate: Region,
    opening: Region,
    blocked: Sequence[Obstacle],
    space: FreeSpace | None = None,
) -> tuple[Stroke, ...]:
    """Short ticks on the opening's two centre lines, which cross in center and are turned by angle.

    In each of the four directions one tick beside the opening and one at the plate's edge, each drawn
    outwards; in a narrow wall the two are one. They keep GAP from everything in blocked and from the
    opening. A direction that does not leave the opening, or starts off the plate, has no ticks. `space` stands for
    plate, blocked and opening together, for who asks about many openings of one plate.
    """
    space = space or FreeSpace(plate, (*blocked, *opening.rings))
    ticks: list[Stroke] = []
    for quarter in (0.0, 90.0, 180.0, 270.0):
        cos, sin = cos_sin(angle + quarter)
        for near, far in _ticks(center, angle + quarter, plate.outer, opening.outer):
            a = Point(center.x + near * cos, center.y + near * sin)
            b = Point(center.x + far * cos, center.y + far * sin)
            ticks.extend(space.clear_parts(a, b, edge=EDGE_GAP, gap=GAP, shortest=SHORTEST))
    return tuple(ticks)


def group_marks(
    center: Point, angle: float, places: Sequence[tuple[Point, float]], plate: Region, blocked: Sequence[Obstacle]
) -> tuple[Stroke, ...]:
    """Ticks with a bar at the plate's edge, on the two middle lines of a group of openings that cross in center.

    places are the middle and the angle of each opening. A line that is some opening's own centre line has that one's
    ticks and none of these; nor has a direction without room for the tick and its bar.
    """
    space = FreeSpace(plate, tuple(blocked))
    found: list[Stroke] = []
    for quarter in (0.0, 90.0, 180.0, 270.0):
        edges = _crossings(center, angle + quarter, plate.outer)
        if edges and not any(_is_on(place, turn, center, angle + quarter) for place, turn in places):
            tried = (_barred(center, angle + quarter, min(edges) - EDGE_INSET, length) for length in GROUP_TICKS)
            clear = (t for t in tried if all(space.is_clear(s.points, edge=EDGE_GAP, gap=GAP) for s in t))
            found.extend(next(clear, ()))
    return tuple(found)


def _is_on(place: Point, turn: float, center: Point, angle: float) -> bool:
    """Whether a centre line of an opening runs along the ray from center: both to what a pencil line is wide."""
    cos, sin = cos_sin(angle)
    beside = (place.y - center.y) * cos - (place.x - center.x) * sin
    askew = (turn - angle) % 90.0
    return abs(beside) < 0.5 and min(askew, 90.0 - askew) < 0.5


def _barred(center: Point, angle: float, end: float, length: float) -> tuple[Stroke, Stroke]:
    """A tick along a ray, its outer end that far from the centre, and the bar across its inner end."""
    cos, sin = cos_sin(angle)

    def at(along: float, aside: float) -> Point:
        return Point(center.x + along * cos - aside * sin, center.y + along * sin + aside * cos)

    inner, half = end - length, GROUP_BAR / 2
    return Stroke((at(inner, 0.0), at(end, 0.0))), Stroke((at(inner, -half), at(inner, half)))


def way_out(center: Point, angle: float, outline: Outline) -> float | None:
    """How far from center a ray in that direction leaves an outline for good, mm; None where it never meets it."""
    return max(_crossings(center, angle, outline), default=None)


def apart(strokes: Iterable[Stroke]) -> tuple[Stroke, ...]:
    """The strokes without those that lie within GAP of an earlier one: openings in a row share their ticks."""
    import shapely

    kept: list[Stroke] = []
    lines: list[Any] = []
    for stroke in strokes:
        line = shapely.LineString(stroke.points)
        if not lines or not shapely.dwithin(lines, line, GAP).any():
            kept.append(stroke)
            lines.append(line)
    return tuple(kept)


def edge_mark(
    center: Point, angle: float, below: float, plate: Region, blocked: Sequence[Obstacle]
) -> tuple[Stroke, ...]:
    """The edge of the work, across the whole plate as far as nothing in blocked is in its way.

    It runs in the direction of angle, `below` mm below center before it is turned. Its parts keep GAP from what is
    blocked, so that the edge that guides the bushing stays whole.
    """
    space = FreeSpace(plate, tuple(blocked))
    cos, sin = cos_sin(angle)
    foot = Point(center.x + below * sin, center.y - below * cos)
    reach = plate.bounds.width + plate.bounds.height + math.dist(foot, plate.bounds.center)
    a = Point(foot.x - reach * cos, foot.y - reach * sin)
    b = Point(foot.x + reach * cos, foot.y + reach * sin)
    return tuple(
        part
        for whole in space.uncovered(a, b, around=())
        for part in space.clear_parts(*whole.points, edge=0.0, gap=GAP, shortest=SHORTEST)
    )


def centre_lines(center: Point, angle: float, plate: Region, holes: Sequence[Obstacle]) -> tuple[Stroke, ...]:
    """The opening's two centre lines across the whole plate, for paper: broken where they cross the holes.

    The lines cross in center and are turned by angle. The plate's own holes do not break them, so a
    line runs on through the opening unless that is among `holes`.
    """
    space = FreeSpace(Region(plate.outer), ())
    bounds = plate.bounds
    # Far enough to leave the plate on both sides from wherever the centre is.
    reach = bounds.width + bounds.height + math.dist(center, bounds.center)
    lines: list[Stroke] = []
    for quarter in (0.0, 90.0):
        cos, sin = cos_sin(angle + quarter)
        a = Point(center.x - reach * cos, center.y - reach * sin)
        b = Point(center.x + reach * cos, center.y + reach * sin)
        lines.extend(space.uncovered(a, b, around=holes))
    return tuple(lines)


def _ticks(center: Point, angle: float, plate: Outline, opening: Outline) -> list[tuple[float, float]]:
    """Where the ticks in one direction begin and end, as distances from the centre."""
    leaves_opening = _crossings(center, angle, opening)
    leaves_plate = _crossings(center, angle, plate)
    if not leaves_opening or not leaves_plate:
        return []
    out, edge = max(leaves_opening), min(leaves_plate)
    beside = (out + BESIDE[0], out + BESIDE[1])
    at_edge = (edge - EDGE_INSET - EDGE_TICK, edge - EDGE_INSET)
    if at_edge[0] - beside[1] < SHORTEST:
        return [(beside[0], at_edge[1])]
    return [beside, at_edge]


def _crossings(center: Point, angle: float, outline: Outline) -> list[float]:
    """Distances from the centre at which a ray in that direction meets an outline."""
    level = outline.rotated(-angle, center).moved(-center.x, -center.y)
    return [x for segment in level.segments_at(0.0) for x in _on_axis(segment) if x > 0]


def _on_axis(segment: Segment) -> Iterator[float]:
    """Where a segment meets the x axis; a straight that lies along the axis only touches it at its ends."""
    if isinstance(segment, Arc):
        yield from _arc_on_axis(segment)
        return
    (x0, y0), (x1, y1) = segment
    if y0 == y1 == 0:
        yield from (x0, x1)
    elif min(y0, y1) <= 0 <= max(y0, y1):
        yield x0 + (x1 - x0) * y0 / (y0 - y1)


def _arc_on_axis(arc: Arc) -> Iterator[float]:
    half = arc.radius**2 - arc.center.y**2
    if half < 0:
        return
    for x in (arc.center.x - math.sqrt(half), arc.center.x + math.sqrt(half)):
        along = math.atan2(-arc.center.y, x - arc.center.x) - arc.start_angle
        ahead = (arc.turn * along) % math.tau
        # Rounding must not lose a crossing at the very start of the arc.
        if min(ahead, math.tau - ahead) < 1e-9 or ahead <= abs(arc.sweep) + 1e-9:
            yield x


def _steps(first: float, last: float, step: float) -> list[float]:
    """first, first + step and so on, as far as last."""
    return [first + i * step for i in range(int((last - first) / step + 1e-9) + 1)]
