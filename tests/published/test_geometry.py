"""Offsets against areas and places that others have published.

Boost.Geometry, JTS and SQL Server put arcs on chords, 100 to the circle in Boost's tests, so their areas agree with the
true one to a hundredth only; where no arc takes part they agree to the last published digit.
"""

import math
from collections.abc import Sequence

import pytest
from published import Published, Source, table
from sources import BOOST, JTS, SHAPELY, SQL_SERVER, STEINER

from jigtemplates.geometry.measure import total_area
from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Arc, Outline, Point, Region, Regions

#: Rings as Boost's and JTS's tests write them, the outer one first.
SHAPES = {
    "simplex": ["0 0,1 5,6 1"],
    "square_simplex": ["0 0,0 1,1 1,1 0"],
    "concave_simplex": ["0 0,3 5,3 3,5 3"],
    "L": ["0 0,0 4,1 4,1 1,3 1,3 0"],
    "chained_box": ["0 0,0 4,4 4,8 4,12 4,12 0,8 0,4 0"],
    "donut_simplex": ["0 0,1 9,8 1", "1 1,4 1,1 4"],
    "indentation": ["0 0,0 5,4 5,4 4,3 3,2 4,2 1,3 2,4 1,4 0"],
    "arrow": ["1 0,1 5,0.5 4.5,2 10,3.5 4.5,3 5,3 0"],
    "tipped_aitch": ["0 0,0 3,3 3,3 4,0 4,0 7,7 7,7 4,4 4,4 3,7 3,7 0"],
    "saw": ["1 3,1 8,1.5 6,5 8,5.5 6,9 8,9.5 6,13 8,13 3"],
    "bowl": ["1 2,1 7,2 7,3 5,5 4,7 5,8 7,9 7,9 2"],
    "sharp_triangle": ["2 0,3 8,4 0"],
    "forming_uu_a": ["0 0,0 10,5 6,10 10,10 0,5 4"],
    "square of 100": ["100 100,100 200,200 200,200 100"],
    "box with a notched hole": ["80 300,280 300,280 80,80 80", "260 280,180 200,100 280,100 100,260 100"],
}


def area(name: str, distance: float, value: float, source: Source = BOOST) -> Published:
    return Published(f"{name} offset by {distance:g}: area", f"{value:.10g}", source, (name, distance), value)


#: Arcs on chords.
ROUND = (
    area("simplex", 1.5, 47.9408),
    area("square_simplex", 1.5, 14.0639),
    area("concave_simplex", 0.5, 14.5616),
    area("concave_simplex", -0.5, 0.777987),
    area("L", 0.5, 13.7314),
    area("chained_box", 1.0, 83.1403),
    area("donut_simplex", 0.6, 52.820),
    area("donut_simplex", 1.0, 66.387),
    area("donut_simplex", 1.6, 87.933),
    area("donut_simplex", -0.3, 19.8861),
    area("donut_simplex", -0.6, 12.9157),
    area("indentation", 0.5, 27.9953),
    area("indentation", 0.8, 35.0164),
    area("indentation", -0.4, 7.255),
    area("indentation", -0.8, 1.374),
    area("arrow", 0.4, 27.039),
    area("arrow", 0.6, 32.268),
    area("tipped_aitch", 0.9, 76.6457),
    area("tipped_aitch", 1.3, 90.641),
    area("sharp_triangle", 1.0, 29.2659),
    area("tipped_aitch", 0.9, 76.6468846383224, SQL_SERVER),
    area("saw", 0.5, 68.6258859984014, SQL_SERVER),
    area("saw", 1.5, 112.799509089077, SQL_SERVER),
    area("saw", 3.0, 187.427508982734, SQL_SERVER),
    area("bowl", 0.5, 43.2425133175081, SQL_SERVER),
    area("bowl", 1.5, 78.3497997564532, SQL_SERVER),
    area("bowl", 3.0, 142.482792724034, SQL_SERVER),
)

#: Only straight edges are left.
STRAIGHT = (
    area("simplex", -0.5, 7.04043),
    area("square_simplex", -0.1, 0.64),
    area("square_simplex", -0.4, 0.04),
    area("indentation", -1.2, 0.0),
    area("forming_uu_a", -1.5, 8.8272),
    area("forming_uu_a", -2.0, 1.7588),
    area("forming_uu_a", -2.1, 0.9944),
    area("square of 100", -10, 6400, JTS),
    area("square of 100", -100, 0, JTS),
)

#: Number of separate parts.
PARTS = (
    Published("forming_uu_a offset by -1.5: parts", "2", BOOST, ("forming_uu_a", -1.5), 2),
    Published("forming_uu_a offset by -0.95: parts", "1", BOOST, ("forming_uu_a", -0.95), 1),
    Published("square of 100 offset by -100: parts", "0, empty", JTS, ("square of 100", -100), 0),
)


def box(name: str, distance: float, *bounds: float) -> Published:
    says = ", ".join(f"{number:g}" for number in bounds)
    return Published(f"{name} offset by {distance:g}: box", says, JTS, (name, distance), bounds)


#: Left, bottom, right, top.
BOXES = (
    box("square of 100", -10, 110, 110, 190, 190),
    box("square of 100", 10, 90, 90, 210, 210),
    box("square of 100", 20, 80, 80, 220, 220),
    box("square of 100", 100, 0, 0, 300, 300),
    box("box with a notched hole", 10, 70, 70, 290, 310),
    box("box with a notched hole", 100, -20, -20, 380, 400),
)

#: Corners of the hole that is left, where the notch's straight side meets the upright one.
HOLES = (
    Published(
        "box with a notched hole offset by 10: corner of the hole",
        "(250, 255.85786437626905)",
        JTS,
        ("box with a notched hole", 10),
        (250, 255.85786437626905),
    ),
    Published(
        "box with a notched hole offset by 20: corner of the hole",
        "(240, 231.7157287525381)",
        JTS,
        ("box with a notched hole", 20),
        (240, 231.7157287525381),
    ),
)

#: Distance; area and perimeter of the triangle's parallel body, A + P r + pi r² and P + 2 pi r.
PERIMETER = math.sqrt(26) + math.sqrt(41) + math.sqrt(37)
PARALLEL_BODIES = tuple(
    Published(
        f"parallel body of the simplex at {r:g}",
        "A + P r + pi r^2, P + 2 pi r",
        STEINER,
        ("simplex", r),
        (14.5 + PERIMETER * r + math.pi * r**2, PERIMETER + 2 * math.pi * r),
    )
    for r in (0.25, 1.5)
)

#: A disc of radius 10, as polygons of 64 and 4 corners.
WRONG_DISCS = (
    Published("point grown by 10, default resolution of 16", "313.65484905459385", SHAPELY, 16, 313.65484905459385, (
        "314.1593", math.pi * 100)),
    Published("point grown by 10, resolution of 1", "200.0, a square", SHAPELY, 1, 200.0, ("314.1593", math.pi * 100)),
)  # fmt: skip

#: How far a default buffer's chords stay inside its arc, of the radius: 8 segments a quarter since Shapely 2.
WRONG_RADII = (
    Published(
        "shapely 2 buffer, 8 segments a quarter", "the sum with a disc", SHAPELY, 8, 0.0, ("0.48 % less", 0.0048)
    ),
    Published(
        "shapely buffer, 16 segments a quarter", "the sum with a disc", SHAPELY, 16, 0.0, ("0.12 % less", 0.0012)
    ),
)


def corners(text: str) -> Sequence[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (place.split() for place in text.split(","))]


def offset_of(row: Published) -> Regions:
    name, distance = row.given
    outer, *holes = (Outline.polygon(corners(ring)) for ring in SHAPES[name])
    return offset((Region(outer.turned(True), tuple(hole.turned(False) for hole in holes)),), distance)


@table(ROUND)
def test_area(row: Published) -> None:
    """To a hundredth, the source's arcs being on chords."""
    assert total_area(offset_of(row)) == pytest.approx(row.value, abs=0.01)


@table(STRAIGHT)
def test_area_without_arcs(row: Published) -> None:
    """To the last published digit."""
    assert total_area(offset_of(row)) == pytest.approx(row.value, abs=5.1e-5)


@pytest.mark.parametrize(
    ("row", "exact"),
    [(ROUND[0], 47.9459), (ROUND[1], 14.0686), (ROUND[2], 14.5627), (ROUND[3], 0.7779), (ROUND[4], 13.7317)],
)
def test_the_true_area_beside_boosts(row: Published, exact: float) -> None:
    """Growing, Boost's chords lie inside the arcs, by at most 2.5 times what a 100-gon is short of; shrinking, outside.

    A factor of 1 is too tight for two cases and 2 for one, we do not know why; 2.5 was chosen to hold for all.
    """
    grown, distance = total_area(offset_of(row)), row.given[1]
    assert grown == pytest.approx(exact, abs=5.1e-5)
    short = math.copysign(math.pi * distance**2 * (1 - math.sin(math.pi / 50) / (math.pi / 50)), distance)
    assert 0 < (grown - row.value) / short < 2.5


@table(PARTS)
def test_parts(row: Published) -> None:
    """As many as published."""
    assert len(offset_of(row)) == row.value


@table(BOXES)
def test_box(row: Published) -> None:
    """Exactly, arcs included."""
    (part,) = offset_of(row)
    assert part.bounds == pytest.approx(row.value, abs=1e-9)


@table(HOLES)
def test_corner_of_a_hole(row: Published) -> None:
    """The corner, its mirror image, and the tip of the notch on a circle about its corner."""
    (part,) = offset_of(row)
    (hole,) = part.holes
    x, y = row.value
    places = [(s.start.x, s.start.y) for s in hole.segments]
    for corner in ((x, y), (360 - x, y)):
        assert min(math.dist(corner, place) for place in places) < 1e-9
    (tip,) = [s for s in hole.segments if isinstance(s, Arc)]
    assert (tip.center, tip.radius) == (pytest.approx(Point(180, 200)), pytest.approx(row.given[1]))


@table(PARALLEL_BODIES)
def test_parallel_body(row: Published) -> None:
    """Area and perimeter of a grown convex outline."""
    (part,) = offset_of(row)
    assert (part.area, part.outer.length) == pytest.approx(row.value, abs=1e-9)


@table(WRONG_DISCS)
def test_wrong_disc(row: Published) -> None:
    """The polygon is what the manual says of it; a disc of radius 0 grown by 10 is a true circle here."""
    assert row.right is not None
    count = 4 * row.given
    assert count / 2 * 100 * math.sin(2 * math.pi / count) == pytest.approx(row.value, rel=1e-12)
    (disc,) = offset((Region(Outline.circle(Point(0, 0), 0.0)),), 10)
    assert disc.outer.as_circle is not None
    assert disc.area == pytest.approx(row.right[1], rel=1e-12)


@table(WRONG_RADII)
def test_wrong_radius(row: Published) -> None:
    """Chords stay inside the arc by 1 - cos (pi / 4 n) of the radius; nothing of ours does."""
    import shapely

    assert row.right is not None
    ring = shapely.Point(0, 0).buffer(10, quad_segs=row.given).exterior
    assert 1 - ring.distance(shapely.Point(0, 0)) / 10 == pytest.approx(row.right[1], abs=5e-5)
    (disc,) = offset((Region(Outline.circle(Point(0, 0), 5.0)),), 5)
    assert [s.radius for s in disc.outer.segments if isinstance(s, Arc)] == [pytest.approx(10, abs=1e-12)]
    assert len(disc.outer.segments) == 1
