"""Random outlines that are hard to offset, the same for the same number.

Each kind is hard in a way of its own; the distances that go with it are drawn where that shows: beside half a neck,
half a gap, an arc's radius. Millimetres; outlines are made about a middle of their own, then sized, turned and moved.
"""

import math
import random
from collections.abc import Callable, Iterable
from typing import NamedTuple

import numpy as np
import shapely
from engines.chords import area_of, polygons_of, ring_of
from engines.crossing import crossings

from jigtemplates.geometry.outline import BulgeVertex, Outline, Point, Region, Regions

#: Extent of the outlines and distances, mm (those of issue 6).
SIZES, DISTANCES = (1.0, 400.0), (0.05, 40.0)


class Shape(NamedTuple):
    """What a kind makes, in a size of its own."""

    regions: Regions
    #: distances at which something of it splits, closes, joins or vanishes
    critical: tuple[float, ...] = ()


class Case(NamedTuple):
    """An outline to be offset."""

    kind: str
    seed: int
    regions: Regions
    #: mm, negative inwards
    distance: float


Ring = list[BulgeVertex]
Draw = random.Random


def power(draw: Draw, low: float, high: float) -> float:
    """Between low and high, each power of ten as often as the next."""
    return math.exp(draw.uniform(math.log(low), math.log(high)))


def outline(ring: Iterable[BulgeVertex], ccw: bool = True) -> Outline:
    """The outline through the vertices that are not the ones before them again."""
    listed = [v if abs(v.bulge) > 1e-8 else v._replace(bulge=0.0) for v in ring]  # no radius of 10 km and more
    return Outline.from_bulges([v for i, v in enumerate(listed) if v[:2] != listed[i - 1][:2]]).turned(ccw)


def one(outer: Outline, *holes: Outline) -> Regions:
    """One region, its rings turned the way they must run."""
    return (Region(outer.turned(True), tuple(hole.turned(False) for hole in holes)),)


def _around(draw: Draw, count: int, low: float, high: float) -> list[tuple[float, float]]:
    """Places at growing angles about the middle; on a coarse grid one time in three."""
    angles = sorted(draw.uniform(0, math.tau) for _ in range(count))
    places = [(r * math.cos(a), r * math.sin(a)) for a in angles for r in [draw.uniform(low, high)]]
    if draw.random() < 1 / 3:
        places = [(round(x, 1), round(y, 1)) for x, y in places]
    return [p for i, p in enumerate(places) if p != places[i - 1]]


def star(draw: Draw) -> Shape:
    """Lines and arcs about a middle, any corner."""
    bulges = [lambda: 0.0, lambda: 0.0, lambda: draw.uniform(-1, 1), lambda: draw.uniform(-0.2, 0.2)]
    bulges += [lambda: draw.choice([1.0, -1.0])]
    ring = [BulgeVertex(x, y, draw.choice(bulges)()) for x, y in _around(draw, draw.randint(3, 14), 0.1, 1)]
    return Shape(one(outline(ring)), tuple(draw.uniform(0, 0.5) for _ in range(2)))


def convex(draw: Draw) -> Shape:
    """The hull of random places, some sides arched."""
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(_around(draw, 12, 0.3, 1))).exterior)[:-1]
    places = [(float(x), float(y)) for x, y in hull[::-1]]
    turned = [math.atan2(*_cross_dot(places, i)) for i in range(len(places))]
    room = [min(turned[i], turned[(i + 1) % len(places)]) for i in range(len(places))]
    bulges = [draw.choice([0, math.tan(r * draw.uniform(0, 0.24))]) for r in room]
    ring = [BulgeVertex(x, y, bulge) for (x, y), bulge in zip(places, bulges, strict=True)]
    return Shape(one(outline(ring)))


def _cross_dot(places: list[tuple[float, float]], i: int) -> tuple[float, float]:
    (x0, y0), (x1, y1), (x2, y2) = places[i - 1], places[i], places[(i + 1) % len(places)]
    ax, ay, bx, by = x1 - x0, y1 - y0, x2 - x1, y2 - y1
    return ax * by - ay * bx, ax * bx + ay * by


def neck(draw: Draw) -> Shape:
    """Two rooms joined by a neck between lines or between arcs that bulge to or from one another."""
    width, long = power(draw, 1e-2, 0.5), draw.uniform(0.05, 0.6)
    bulge = draw.choice([0.0, draw.uniform(0, 0.8), -min(0.9, draw.uniform(0, 0.8) * width / long)])
    waist = width / 2 + max(0.0, bulge) * long / 2  # bulge > 0 leans into the neck by half a chord times it
    room, far = draw.uniform(waist, 1), draw.uniform(0.2, 0.8)
    right = [(long / 2, -waist, 0.0), (long / 2 + far, -room, 0.0), (long / 2 + far, room, 0.0)]
    left = [(-long / 2, waist, 0.0), (-long / 2 - far, room, 0.0), (-long / 2 - far, -room, 0.0)]
    ring = [(-long / 2, -waist, -bulge), *right, (long / 2, waist, -bulge), *left]
    return Shape(one(outline(BulgeVertex(*v) for v in ring)), (width / 2,))


def joins(draw: Draw) -> Shape:
    """Corners rounded by arcs that are all but tangent: off by 1e-9 to 1e-1 of the arc, or exactly."""
    places = _around(draw, draw.randint(3, 9), 0.4, 1)
    ring: Ring = []
    radii = []
    for i, (x, y) in enumerate(places):
        (px, py), (nx, ny) = places[i - 1], places[(i + 1) % len(places)]
        before, after = math.dist((x, y), (px, py)), math.dist((x, y), (nx, ny))
        turn = math.atan2(*_cross_dot(places, i))
        cut = draw.uniform(0.05, 0.45) * min(before, after)
        off = draw.choice([0.0, 0.0, draw.choice([1, -1]) * power(draw, 1e-9, 1e-1)])
        bulge = math.tan(turn / 4) * (1 + off)
        ring.append(BulgeVertex(x + (px - x) * cut / before, y + (py - y) * cut / before, bulge))
        ring.append(BulgeVertex(x + (nx - x) * cut / after, y + (ny - y) * cut / after, 0.0))
        radii.append(abs(cut / math.tan(turn / 2)) if abs(turn) > 1e-3 else 0.1)
    return Shape(one(outline(ring)), tuple(draw.sample(radii, 2)))


def radii(draw: Draw) -> Shape:
    """Arcs of a radius of thousands of times the extent beside arcs of a thousandth of it."""
    ring = []
    for x, y in _around(draw, draw.randint(3, 8), 0.4, 1):
        ring.append(BulgeVertex(x, y, draw.choice([1, -1]) * power(draw, 1e-6, 0.3)))
        if draw.random() < 0.4:
            away, way = power(draw, 1e-4, 2e-2), draw.uniform(0, math.tau)
            ring[-1] = BulgeVertex(x, y, draw.choice([0.0, draw.uniform(-1, 1)]))
            ring.append(BulgeVertex(x + away * math.cos(way), y + away * math.sin(way), power(draw, 1e-6, 1e-2)))
    return Shape(one(outline(ring)), (power(draw, 1e-4, 2e-2),))


def comb(draw: Draw, teeth: int | None = None) -> Shape:
    """Teeth and gaps of different widths, some with round ends: it falls into many parts and they vanish in turn."""
    ring: Ring = [BulgeVertex(0, -0.3, 0)]
    widths, x = [], 0.0
    for _ in range(teeth or draw.randint(2, 9)):
        tooth, gap, tall = power(draw, 0.02, 0.3), power(draw, 0.02, 0.3), draw.uniform(0.2, 1)
        around, below = draw.choice([0.0, 0.0, 1.0]), draw.choice([0.0, 1.0])
        ring += [BulgeVertex(x, 0, 0), BulgeVertex(x, tall, -around)]
        ring += [BulgeVertex(x + tooth, tall, 0), BulgeVertex(x + tooth, 0, below)]
        widths += [tooth / 2, gap / 2]
        x += tooth + gap
    last = ring.pop()
    ring += [last._replace(bulge=0.0), BulgeVertex(last.x, -0.3, 0)]
    return Shape(one(outline(ring)), tuple(draw.sample(widths, 2)))


def channel(draw: Draw) -> Shape:
    """A bent slot of one width along an arc, its ends round or flat; sometimes one end is a little wider."""
    turn, width = draw.uniform(0.3, 5.5), power(draw, 0.01, 0.6)
    more = draw.choice([0.0, 0.0, power(draw, 1e-6, 1e-1)]) * width
    outer, inner = 1 + width / 2, 1 - width / 2

    def at(far: float, way: float, bulge: float) -> BulgeVertex:
        return BulgeVertex(far * math.cos(way), far * math.sin(way), bulge)

    end = draw.choice([0.0, 1.0])
    ring = [at(outer, 0, math.tan(turn / 4)), at(outer + more, turn, end)]
    ring += [at(inner, turn, -math.tan(turn / 4)), at(inner, 0, end)]
    return Shape(one(outline(ring)), (width / 2, 1 - width / 2))


def groove(draw: Draw) -> Shape:
    """Between two circles, one perhaps off the other's middle; sometimes with a core in it."""
    inner = draw.uniform(0.2, 0.95)
    off = draw.choice([0.0, draw.uniform(0, 0.9) * (1 - inner), power(draw, 1e-6, 1e-2) * (1 - inner)])
    hole = Outline.circle(Point(off, 0), inner, -1)
    core = one(Outline.circle(Point(off, 0), inner * draw.uniform(0.1, 0.9))) if draw.random() < 0.5 else ()
    widths = [(1 - inner - off) / 2, (1 - inner + off) / 2, inner]
    return Shape(one(Outline.circle(Point(0, 0), 1), hole) + core, (draw.choice(widths),))


def _small(draw: Draw, size: float, kinds: int = 4) -> Outline:
    """A round, straight or oblong shape about the middle, or an odd one, that may cross itself."""
    half, wide = size / 2, size / 2 * draw.uniform(0.2, 1)
    shapes: list[Callable[[], Outline]] = [
        lambda: Outline.circle(Point(0, 0), half),
        lambda: Outline.polygon([(-half, -wide), (half, -wide), (half, wide), (-half, wide)]),
        lambda: outline(
            BulgeVertex(*v) for v in [(-half, -wide, 0), (half, -wide, 1), (half, wide, 0), (-half, wide, 1)]
        ),
        lambda: outline(BulgeVertex(half * x, half * y, draw.uniform(-0.4, 0.4)) for x, y in _around(draw, 4, 0.3, 1)),
    ]
    return draw.choice(shapes[:kinds])().rotated(draw.choice([0, 90, draw.uniform(0, 360)]))


def holed(draw: Draw, tries: int = 12) -> Shape:
    """A plate with holes, some so close to one another or to the rim that they join."""
    outer = draw.choice(
        [lambda: star(draw).regions[0].outer, lambda: Outline.polygon([(-1, -1), (1, -1), (1, 1), (-1, 1)])]
    )()
    body, holes = area_of(one(outer), 1e-4), []
    for _ in range(draw.randint(1, tries)):
        hole = _small(draw, power(draw, 0.02, 0.6)).moved(draw.uniform(-0.9, 0.9), draw.uniform(-0.9, 0.9))
        patch = shapely.polygons(ring_of(hole, 1e-4))
        if patch.is_valid and shapely.contains_properly(body, patch):
            holes.append(hole)
            body = shapely.difference(body, patch)
    return Shape(one(outer, *holes), _gaps([outer, *holes]))


def _gaps(rings: list[Outline]) -> tuple[float, ...]:
    lines = [shapely.linearrings(ring_of(ring, 1e-4)) for ring in rings]
    return tuple(float(shapely.distance(lines[0], line)) / 2 for line in lines[1:3])


def parts(draw: Draw) -> Shape:
    """Separate parts side by side, that grow together."""
    gap, x, regions = power(draw, 1e-3, 0.3), 0.0, []
    for _ in range(draw.randint(2, 5)):
        part = _small(draw, draw.uniform(0.2, 1))
        left, bottom, right, _ = part.bounds
        regions.append(Region(part.moved(x - left, -bottom)))
        x += right - left + gap
    return Shape(tuple(regions), (gap / 2,))


def wave(draw: Draw) -> Shape:
    """Hundreds to thousands of lines, or of arcs through three places each, on a wavy line."""
    count = draw.choice([210, 500, draw.randint(200, 3000)])
    waves = [(k, draw.uniform(0, 0.5) / k, draw.uniform(0, math.tau)) for k in draw.sample(range(1, 40), 5)]
    rough = draw.choice([0.0, 0.0, power(draw, 1e-6, 1e-2)])
    is_arched = draw.random() < 0.5

    def at(step: float) -> tuple[float, float]:
        way = math.tau * step / count
        far = 1 + sum(size * math.cos(k * way + start) for k, size, start in waves) / 3
        far += rough * draw.uniform(-1, 1)
        return far * math.cos(way), far * math.sin(way)

    places = [at(step) for step in range(count)]
    ring = [
        BulgeVertex(x, y, _sag((x, y), at(i + 0.5), places[(i + 1) % count]) if is_arched else 0.0)
        for i, (x, y) in enumerate(places)
    ]
    return Shape(one(outline(ring)), (power(draw, 1e-3, 0.5),))


def _sag(a: tuple[float, float], middle: tuple[float, float], b: tuple[float, float]) -> float:
    """Bulge of an arc from a to b that passes beside the middle at its height."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    across = ((middle[0] - a[0]) * dy - (middle[1] - a[1]) * dx) / math.hypot(dx, dy)
    return max(-0.9, min(0.9, 2 * across / math.hypot(dx, dy)))


def gear(draw: Draw) -> Shape:
    """Fifty to five hundred teeth round a circle, straight or round, a hole in the middle."""
    count, low = draw.randint(50, 500), draw.uniform(0.7, 0.99)
    rim, root = draw.choice([0.0, draw.uniform(-0.5, 0.9)]), draw.choice([0.0, draw.uniform(-0.5, 0.5)])
    ring, step = [], math.tau / count
    for i in range(count):
        for share, far, bulge in ((0, low, 0.0), (0.2, 1, rim), (0.5, 1, 0.0), (0.7, low, root)):
            way = step * (i + share)
            ring.append(BulgeVertex(far * math.cos(way), far * math.sin(way), bulge))
    hole = Outline.circle(Point(0, 0), draw.uniform(0.1, 0.9) * low)
    return Shape(one(outline(ring), hole), (step * 0.3 / 2, step * 0.3 * low / 2, (1 - low) / 2))


def sieve(draw: Draw) -> Shape:
    """A plate with a hundred or more holes."""
    across, gap = draw.randint(8, 16), power(draw, 1e-3, 0.4)
    small = [(_small(draw, 1 - gap, 3), i, j) for i in range(across) for j in range(across)]
    fits = [(s, i, j) for s, i, j in small if max(map(abs, s.bounds)) < 0.5 - gap / 4]
    holes = [s.moved(i, j) for s, i, j in fits]
    low, high = -0.5 - gap, across - 0.5 + gap
    return Shape(
        one(Outline.polygon([(low, low), (high, low), (high, high), (low, high)]), *holes), (gap / 2, (1 - gap) / 2)
    )


def long_comb(draw: Draw) -> Shape:
    """Very many teeth."""
    return comb(draw, draw.randint(60, 200))


#: The kinds, and how often each is drawn.
SHORT = {star: 4, convex: 1, neck: 3, joins: 3, radii: 2, comb: 2, channel: 2, groove: 1, holed: 3, parts: 2}
LONG = {wave: 4, gear: 2, sieve: 2, long_comb: 2}


def case(seed: int, kinds: dict[Callable[[Draw], Shape], int]) -> Case | None:
    """The outline of a number; None where that crosses itself or has nothing in it."""
    draw = random.Random(seed)
    (kind,) = draw.choices(list(kinds), list(kinds.values()))
    shape = kind(draw)
    factor = power(draw, *SIZES) / extent_of(shape.regions)
    turn, x, y = draw.choice([0, 90, draw.uniform(0, 360)]), draw.uniform(-300, 300), draw.uniform(-300, 300)
    if draw.random() < 0.3:
        turn, x, y = 0, 0, 0

    def place(ring: Outline) -> Outline:
        return ring.scaled(factor).rotated(turn).moved(x, y)

    regions = tuple(Region(place(r.outer), tuple(map(place, r.holes))) for r in shape.regions)
    distance = _distance(draw, [far * factor for far in shape.critical])
    return Case(kind.__name__, seed, regions, distance) if is_sound(regions) else None


def _distance(draw: Draw, critical: list[float]) -> float:
    """Half the time beside a critical distance, off by a third to a millionth of it."""
    low, high = DISTANCES
    chosen = power(draw, low, high)
    if critical and draw.random() < 0.6:
        off = draw.choice([0.0, power(draw, 1e-7, 0.3), power(draw, 1e-7, 0.3), -power(draw, 1e-7, 0.3)])
        chosen = draw.choice(critical) * (1 + off)
    return draw.choice([1, -1]) * min(max(chosen, low), high)


def is_sound(regions: Regions) -> bool:
    """Whether the rings are simple, do not cross one another, and hold more than 0.01 mm² each."""
    if any(abs(ring.area) < 0.01 for region in regions for ring in region.rings):
        return False
    fine = 1e-6 * extent_of(regions)
    if not shapely.is_valid(shapely.multipolygons(polygons_of(regions, fine))):
        return False
    return not crossings([s for region in regions for ring in region.rings for s in ring.segments], 0.0)


def extent_of(regions: Regions) -> float:
    """Width or height of the box round all regions, whichever is larger, mm."""
    corners = np.array([[*region.bounds] for region in regions])
    return float(max(corners[:, 2].max() - corners[:, 0].min(), corners[:, 3].max() - corners[:, 1].min()))
