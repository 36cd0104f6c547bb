"""Random drawn outlines against two other engines: their area as drawn, and grown and shrunk after import.

Clipper (pyclipr) and Manifold (manifold3d) get the drawing's own curves on fine chords, computed here from the curves'
equations and not by the reader.
"""

import math
import random
from typing import Any

import manifold3d
import numpy as np
import pyclipr
import pytest
import shapely

from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Region, Regions
from jigtemplates.imports.outline_file import outline_of

#: Tolerance of the import, and chords for the other engines, mm.
CHORD, FINE = 0.005, 2e-4
#: Places on each curve for the other engines: their chords are within a micrometre.
PLACES = 800

Places = list[tuple[float, float]]


def drawn(seed: int) -> tuple[str, Places]:
    """Path data of a closed outline of lines, cubics, quadratics and arcs, and its places on fine chords."""
    draw = random.Random(seed)
    count = draw.randint(4, 9)
    corners = [
        (r * math.cos(math.tau * i / count), r * math.sin(math.tau * i / count))
        for i, r in enumerate(draw.uniform(25, 45) for _ in range(count))
    ]
    data, places = f"M{corners[0][0]!r} {corners[0][1]!r}", list[tuple[float, float]]()
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        text, inner = draw.choice([line, cubic, quadratic, arc])(a, b, draw)
        data += text + f"{b[0]!r} {b[1]!r}"
        places += inner
    return data + "Z", places


def line(a: Any, b: Any, draw: random.Random) -> tuple[str, Places]:
    return "L", [a]


def beside(a: Any, b: Any, along: float, out: float) -> tuple[float, float]:
    """A place part of the way from a to b, and part of their distance outward."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return a[0] + along * dx + out * dy, a[1] + along * dy - out * dx


def cubic(a: Any, b: Any, draw: random.Random) -> tuple[str, Places]:
    p, q = beside(a, b, 0.3, draw.uniform(-0.2, 0.3)), beside(a, b, 0.7, draw.uniform(-0.2, 0.3))
    t = np.linspace(0, 1, PLACES, endpoint=False)[:, None]
    inner = (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * p + 3 * t**2 * (1 - t) * q + t**3 * b  # type: ignore[operator]
    return f"C{p[0]!r} {p[1]!r} {q[0]!r} {q[1]!r} ", [tuple(p) for p in inner.tolist()]


def quadratic(a: Any, b: Any, draw: random.Random) -> tuple[str, Places]:
    p = beside(a, b, 0.5, draw.uniform(-0.3, 0.4))
    t = np.linspace(0, 1, PLACES, endpoint=False)[:, None]
    inner = (1 - t) ** 2 * a + 2 * t * (1 - t) * p + t**2 * b  # type: ignore[operator]
    return f"Q{p[0]!r} {p[1]!r} ", [tuple(p) for p in inner.tolist()]


def arc(a: Any, b: Any, draw: random.Random) -> tuple[str, Places]:
    """A small circular arc outward: y runs down, so flag 0 is the other way round than corners go."""
    chord = math.dist(a, b)
    radius = chord * draw.uniform(0.55, 1.5)
    half = math.asin(chord / 2 / radius)
    cx, cy = beside(a, b, 0.5, -math.sqrt(radius**2 - chord**2 / 4) / chord)
    first = math.atan2(a[1] - cy, a[0] - cx)
    angles = first + 2 * half * np.linspace(0, 1, PLACES, endpoint=False)
    inner = np.stack([cx + radius * np.cos(angles), cy + radius * np.sin(angles)], axis=1)
    return f"A{radius!r} {radius!r} 0 0 1 ", [tuple(p) for p in inner.tolist()]


def reference(places: Places) -> "shapely.Polygon":
    """The drawn outline as a polygon, y up, its box's middle at the origin."""
    points = np.array(places) * (1, -1)
    return shapely.geometry.polygon.orient(shapely.Polygon(points - (points.min(axis=0) + points.max(axis=0)) / 2))


def polygon(regions: Regions) -> "shapely.Geometry":
    """Ours on fine chords."""
    parts = [shapely.Polygon(r.outer.flattened(FINE), [h.flattened(FINE) for h in r.holes]) for r in regions]
    return shapely.union_all(parts)


def clipper(area: "shapely.Polygon", distance: float) -> "shapely.Geometry":
    """Offset by Clipper, in nanometres."""
    engine = pyclipr.ClipperOffset()
    engine.scaleFactor = 1_000_000
    engine.arcTolerance = 200.0
    engine.addPath(shapely.get_coordinates(area.exterior)[:-1], pyclipr.JoinType.Round, pyclipr.EndType.Polygon)
    return loops([np.array(p)[:, :2] for p in engine.execute(distance) if len(p) > 2])


def manifold(area: "shapely.Polygon", distance: float) -> "shapely.Geometry":
    """Offset by Manifold's cross-sections."""
    section = manifold3d.CrossSection([shapely.get_coordinates(area.exterior)[:-1]])
    grown = section.offset(distance, manifold3d.JoinType.Round, circular_segments=4000)
    return loops([np.asarray(p) for p in grown.to_polygons()])


def loops(rings: list[Any]) -> "shapely.Geometry":
    """Loops as an area: odd counts are inside."""
    area = shapely.Polygon()
    for ring in rings:
        area = shapely.symmetric_difference(area, shapely.make_valid(shapely.Polygon(ring)))
    return area


def differ(a: "shapely.Geometry", b: "shapely.Geometry", tolerance: float) -> bool:
    """Whether anything thicker than twice the tolerance lies between two areas."""
    film = shapely.symmetric_difference(a, b, grid_size=1e-7)
    return not shapely.buffer(film, -tolerance).is_empty


def imported(data: str) -> Region:
    """The outline of an SVG with one path."""
    page = 'xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"'
    return outline_of(f'<svg {page}><path d="{data}"/></svg>'.encode(), "a.svg", chord=CHORD)


@pytest.mark.parametrize("start", range(0, 24, 6))
def test_imported_outlines_agree(start: int) -> None:
    """Within the stated chord as drawn, and still so when another engine offsets the drawing and we the import."""
    done = 0
    for seed in range(start, start + 6):
        data, places = drawn(seed)
        wanted = reference(places)
        if not wanted.is_valid:
            continue
        region = imported(data)
        assert not differ(polygon((region,)), wanted, 2 * CHORD), seed
        assert len(region.outer.segments) < 200
        for distance, other in ((3.0, clipper), (-3.0, clipper), (3.0, manifold), (-3.0, manifold)):
            ours = polygon(offset((region,), distance))
            assert not differ(ours, other(wanted, distance), 2 * CHORD + 2e-3), (seed, distance, other.__name__)
        done += 1
    assert done >= 4


def test_the_comparison_can_fail() -> None:
    """An outline drawn 0.05 mm larger is told from the right one."""
    data, places = drawn(1)
    larger = shapely.buffer(reference(places), 0.05)
    assert differ(polygon((imported(data),)), larger, 2 * CHORD)
