"""The exact outline: a closed chain of straight lines and circular arcs.

Millimetres, x right, y up. Outer rings run counter-clockwise and have a positive area; holes run
clockwise and have a negative one. An arc stays an arc: nothing here is a polygon until
`flattened` is asked for one, with a stated tolerance.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

TAU = 2.0 * math.pi

#: From so many segments on an outline is kept as columns of numbers (`long`), and measured all at once (chosen: where
#: that is quicker by far).
LONG = 500


class Point(NamedTuple):
    """A place in the drawing, mm."""

    x: float
    y: float


#: Where the axes cross.
ORIGIN = Point(0.0, 0.0)


class Bounds(NamedTuple):
    """The smallest upright box round a shape, mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Extent along x."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent along y."""
        return self.top - self.bottom

    @property
    def center(self) -> Point:
        """Middle of the box."""
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)


class Line(NamedTuple):
    """A straight segment from start to end."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length in mm."""
        return math.hypot(self.end.x - self.start.x, self.end.y - self.start.y)

    @property
    def middle(self) -> Point:
        """Half-way point."""
        return Point((self.start.x + self.end.x) / 2, (self.start.y + self.end.y) / 2)

    def reversed(self) -> "Line":
        """The same segment travelled the other way."""
        return Line(self.end, self.start)


class Arc(NamedTuple):
    """A circular arc from start to end about center; turn is +1 counter-clockwise, -1 clockwise.

    Start and end on the same spot mean the whole circle.
    """

    start: Point
    end: Point
    center: Point
    radius: float
    turn: int

    @property
    def start_angle(self) -> float:
        """Direction from the centre to the start, radians."""
        return math.atan2(self.start.y - self.center.y, self.start.x - self.center.x)

    @property
    def sweep(self) -> float:
        """Signed angle travelled, radians: positive counter-clockwise, 2 pi for a whole circle."""
        if self.start == self.end:
            return self.turn * TAU
        end = math.atan2(self.end.y - self.center.y, self.end.x - self.center.x)
        return self.turn * ((self.turn * (end - self.start_angle)) % TAU)

    @property
    def length(self) -> float:
        """Length along the arc in mm."""
        return abs(self.sweep) * self.radius

    def at(self, fraction: float) -> Point:
        """The point a fraction (0 to 1) of the way along."""
        angle = self.start_angle + fraction * self.sweep
        return Point(self.center.x + self.radius * math.cos(angle), self.center.y + self.radius * math.sin(angle))

    def places(self, count: int) -> list[Point]:
        """The points that part the arc into count equal pieces, its ends left out; as `at` gives them, but at once."""
        first, sweep, (x, y), radius = self.start_angle, self.sweep, self.center, self.radius
        angles = (first + i / count * sweep for i in range(1, count))
        return [Point(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles]

    @property
    def middle(self) -> Point:
        """Half-way point, on the arc."""
        return self.at(0.5)

    def reversed(self) -> "Arc":
        """The same arc travelled the other way."""
        return Arc(self.end, self.start, self.center, self.radius, -self.turn)

    def split(self, pieces: int) -> tuple["Arc", ...]:
        """The arc in equal pieces, end to end."""
        stops = [self.start, *self.places(pieces), self.end]
        return tuple(Arc(a, b, self.center, self.radius, self.turn) for a, b in pairwise(stops))


Segment = Line | Arc


class BulgeVertex(NamedTuple):
    """A vertex and the bulge of the segment that leaves it: tan(sweep / 4), 0 for a straight line."""

    x: float
    y: float
    bulge: float


def chords(sweep: float, radius: float, tolerance: float) -> int:
    """How many equal chords keep an arc's sagitta (r (1 - cos(step / 2))) within tolerance, mm."""
    step = math.pi / 2 if radius <= tolerance else 2.0 * math.acos(1.0 - tolerance / radius)
    return max(1, math.ceil(abs(sweep) / min(step, math.pi / 2)))


@dataclass(frozen=True)
class Outline:
    """A closed chain: each segment starts where the one before it ends, the first after the last."""

    segments: tuple[Segment, ...]

    @staticmethod
    def circle(center: Point, radius: float, turn: int = 1) -> "Outline":
        """A whole circle as one arc; counter-clockwise unless turn is -1."""
        start = Point(center.x + radius, center.y)
        return Outline((Arc(start, start, center, radius, turn),))

    @staticmethod
    def polygon(points: Iterable[tuple[float, float]]) -> "Outline":
        """Straight lines through the points and back to the first, in the order given."""
        corners = [Point(*p) for p in points]
        return Outline(tuple(Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)))

    @staticmethod
    def from_bulges(vertices: Iterable[BulgeVertex]) -> "Outline":
        """A closed polyline with bulges, as DXF writes it: |bulge| 1 is half a circle."""
        ring = list(vertices)
        return Outline(tuple(segment_from_bulge(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)))

    def __hash__(self) -> int:
        """Of the number of segments and the first and last: to look at all of many would cost more than it tells."""
        return hash((len(self.segments), self.segments[:1], self.segments[-1:]))

    @property
    def count(self) -> int:
        """How many segments."""
        return len(self.segments)

    @property
    def as_circle(self) -> Arc | None:
        """The whole circle this outline is, or None."""
        first = self.segments[0]
        return first if len(self.segments) == 1 and isinstance(first, Arc) else None

    @cached_property
    def area(self) -> float:
        """Signed area in mm², positive counter-clockwise: shoelace plus the arcs' circular segments."""
        total = 0.0
        for s in self.segments:
            total += (s.start.x * s.end.y - s.end.x * s.start.y) / 2
            if isinstance(s, Arc):
                total += s.radius**2 * (s.sweep - math.sin(s.sweep)) / 2
        return total

    @cached_property
    def length(self) -> float:
        """Length of the whole chain in mm."""
        return math.fsum(s.length for s in self.segments)

    @cached_property
    def bounds(self) -> Bounds:
        """Upright box round the outline, arcs' quadrants included."""
        xs: list[float] = []
        ys: list[float] = []
        for p in self._extremes():
            xs.append(p.x)
            ys.append(p.y)
        return Bounds(min(xs), min(ys), max(xs), max(ys))

    def _extremes(self) -> Iterator[Point]:
        for s in self.segments:
            yield s.start
            if isinstance(s, Arc):
                yield from _quadrants(s)

    @property
    def inside_radius(self) -> float:
        """Radius of the tightest arc that turns counter-clockwise, mm; 0 without one."""
        return min((s.radius for s in self.segments if isinstance(s, Arc) and s.turn > 0), default=0.0)

    def segments_at(self, y: float) -> tuple[Segment, ...]:
        """At least the segments that reach the level y, mm."""
        del y
        return self.segments

    @property
    def is_ccw(self) -> bool:
        """True where the outline runs counter-clockwise."""
        return self.area > 0

    def reversed(self) -> "Outline":
        """The same outline travelled the other way round."""
        return Outline(tuple(s.reversed() for s in reversed(self.segments)))

    def turned(self, ccw: bool) -> "Outline":
        """The outline in the wanted direction: counter-clockwise if ccw, clockwise otherwise."""
        return self if self.is_ccw == ccw else self.reversed()

    def moved(self, dx: float, dy: float) -> "Outline":
        """Shifted by (dx, dy) mm."""
        return self._mapped(lambda p: Point(p.x + dx, p.y + dy), 1.0, 1)

    def rotated(self, degrees: float, about: Point = ORIGIN) -> "Outline":
        """Turned counter-clockwise by degrees about a point; quarter turns are exact."""
        cos, sin = cos_sin(degrees)

        def turn(p: Point) -> Point:
            x, y = p.x - about.x, p.y - about.y
            return Point(about.x + x * cos - y * sin, about.y + x * sin + y * cos)

        return self._mapped(turn, 1.0, 1)

    def scaled(self, factor: float) -> "Outline":
        """Grown by a positive factor about the origin."""
        return self._mapped(lambda p: Point(p.x * factor, p.y * factor), factor, 1)

    def mirrored(self) -> "Outline":
        """Left and right exchanged (x to -x), still running the way it did (counter-clockwise or clockwise)."""
        return self._mapped(lambda p: Point(-p.x, p.y), 1.0, -1).reversed()

    def _mapped(self, place, factor: float, turn: int) -> "Outline":  # type: ignore[no-untyped-def]
        done: list[Segment] = []
        for s in self.segments:
            start, end = place(s.start), place(s.end)
            if isinstance(s, Arc):
                done.append(Arc(start, end, place(s.center), s.radius * factor, s.turn * turn))
            else:
                done.append(Line(start, end))
        return Outline(tuple(done))

    def flattened(self, tolerance: float) -> list[tuple[float, float]]:
        """Vertices of a polygon whose corners lie on the outline, chords within tolerance (mm) of it.

        The first vertex is not repeated. Never a curve through an approximation of the arc: each
        vertex is computed on the true circle.
        """
        points: list[tuple[float, float]] = []
        for s in self.segments:
            points.append((s.start.x, s.start.y))
            if isinstance(s, Arc):
                count = chords(s.sweep, s.radius, tolerance)
                points.extend(s.places(count))
        return points

    def started_mid_straight(self) -> "Outline":
        """The same outline, beginning in the middle of its longest straight (unchanged without one)."""
        lines = [(s.length, -i) for i, s in enumerate(self.segments) if isinstance(s, Line)]
        if not lines:
            return self
        index = -max(lines)[1]
        line = self.segments[index]
        rest = self.segments[index + 1 :] + self.segments[:index]
        return Outline((Line(line.middle, line.end), *rest, Line(line.start, line.middle)))

    def bulge_vertices(self) -> list[BulgeVertex]:
        """Vertices with bulges; arcs over half a circle are split so that no |bulge| exceeds 1."""
        vertices: list[BulgeVertex] = []
        for s in self.segments:
            if isinstance(s, Line):
                vertices.append(BulgeVertex(s.start.x, s.start.y, 0.0))
                continue
            for piece in halved(s):
                vertices.append(BulgeVertex(piece.start.x, piece.start.y, math.tan(piece.sweep / 4)))
        return vertices


def halved(arc: Arc) -> tuple[Arc, ...]:
    """The arc itself, or its pieces where it spans more than half a circle."""
    half = math.pi * (1 + 1e-12)  # rounding must not split an exact half circle
    return arc.split(math.ceil(abs(arc.sweep) / half)) if abs(arc.sweep) > half else (arc,)


def segment_from_bulge(a: BulgeVertex, b: BulgeVertex) -> Segment:
    """The segment from a to b with a's bulge."""
    start, end = Point(a.x, a.y), Point(b.x, b.y)
    if a.bulge == 0.0:
        return Line(start, end)
    # The centre lies off the chord's middle by (1 - k²) / 4k of the chord, to the left for k > 0.
    k = (1 - a.bulge**2) / (4 * a.bulge)
    dx, dy = b.x - a.x, b.y - a.y
    center = Point((a.x + b.x) / 2 - k * dy, (a.y + b.y) / 2 + k * dx)
    radius = math.hypot(dx, dy) * (1 + a.bulge**2) / (4 * abs(a.bulge))
    return Arc(start, end, center, radius, 1 if a.bulge > 0 else -1)


def cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine of an angle in degrees, exact at every quarter turn."""
    quarter, rest = divmod(degrees, 90.0)
    cos, sin = (1.0, 0.0) if rest == 0 else (math.cos(math.radians(rest)), math.sin(math.radians(rest)))
    for _ in range(int(quarter) % 4):
        cos, sin = -sin, cos
    return cos, sin


def _quadrants(arc: Arc) -> Iterator[Point]:
    """Points of the arc furthest right, up, left and down, as far as the arc reaches them."""
    start, sweep = arc.start_angle, arc.sweep
    for quarter, (ux, uy) in enumerate(((1, 0), (0, 1), (-1, 0), (0, -1))):
        ahead = (arc.turn * (quarter * math.pi / 2 - start)) % TAU
        if ahead <= abs(sweep):
            yield Point(arc.center.x + ux * arc.radius, arc.center.y + uy * arc.radius)


@dataclass(frozen=True)
class Region:
    """One connected area: a counter-clockwise outer ring and clockwise holes within it."""

    outer: Outline
    holes: tuple[Outline, ...] = ()

    @cached_property
    def area(self) -> float:
        """Area in mm², holes taken off."""
        return self.outer.area + math.fsum(h.area for h in self.holes)

    @property
    def rings(self) -> tuple[Outline, ...]:
        """The outer ring, then the holes."""
        return (self.outer, *self.holes)

    @property
    def bounds(self) -> Bounds:
        """Upright box round the outer ring."""
        return self.outer.bounds


#: An area of any number of separate parts; the empty tuple is the empty area.
Regions = tuple[Region, ...]
