"""Areas and perimeters of the shapes a cut can have, against worked examples."""

import math

import pytest
from published import Published, table
from sources import HAD2KNOW, MATHEASS_POLYGONS, PIPING, RAMANUJAN, STADIUM, WEISSTEIN

from jigtemplates.geometry.outline import Arc
from jigtemplates.geometry.shapes import ellipse, rectangle, regular_polygon, slot

#: Radius of the ends and length of the straights; area and perimeter to the last published digit.
STADIUMS = (
    Published("stadium of a = 40, b = 80", "area 11,427, perimeter 411.3", STADIUM, (40, 80), (11_427, 411.3)),
    Published("length and width of it", "160, 80", STADIUM, (40, 80), (160, 80)),
)

#: Length, width and corner radius; area and perimeter.
ROUNDED = (Published("rounded square of 12, r 2.5", "138.635, 43.708", HAD2KNOW, (12, 12, 2.5), (138.635, 43.708)),)

#: The same square by a formula that adds an area to a length: 2 (a + b - r² (4 - pi)).
WRONG_PERIMETER = (
    Published(
        "perimeter of a rounded square of 12, r 2.5",
        "2 (a + b - r^2 (4 - pi)) = 37.27",
        PIPING,
        (12, 12, 2.5),
        2 * (12 + 12 - 2.5**2 * (4 - math.pi)),
        ("2 (a + b - r (4 - pi)) = 43.708", 43.708),
    ),
)

#: Half-axes; area and perimeter.
ELLIPSES = (Published("ellipse of a = 5, b = 3", "47.123890, 25.526999", RAMANUJAN, (5, 3), (47.123890, 25.526999)),)

#: Sides and size across; side, perimeter, area and radius of the corners.
POLYGONS = (
    Published(
        "hexagon in a circle of 1",
        "side 1, ri 0.8660254, area 2.5980762",
        MATHEASS_POLYGONS,
        (6, 2 * 0.8660254),
        (1, 6, 2.5980762, 1),
    ),
    Published(
        "octagon of side 1",
        "r (1 + sqrt 2) / 2, A 2 (1 + sqrt 2)",
        WEISSTEIN,
        (8, 1 + math.sqrt(2)),
        (1, 8, 2 * (1 + math.sqrt(2)), math.sqrt(4 + 2 * math.sqrt(2)) / 2),
    ),
)


@table(STADIUMS)
def test_stadium(row: Published) -> None:
    """A slot with such ends, its length overall."""
    radius, straight = row.given
    outline = slot(straight + 2 * radius, 2 * radius)
    if row is STADIUMS[0]:
        assert (round(outline.area), round(outline.length, 1)) == row.value
    else:
        assert (outline.bounds.width, outline.bounds.height) == row.value


@table(ROUNDED)
def test_rounded_rectangle(row: Published) -> None:
    """Area and perimeter to three decimals."""
    outline = rectangle(*row.given)
    assert (round(outline.area, 3), round(outline.length, 3)) == row.value


@table(WRONG_PERIMETER)
def test_wrong_perimeter(row: Published) -> None:
    """Ours is what four quarter circles and four straights add up to."""
    assert row.right is not None
    outline = rectangle(*row.given)
    assert round(outline.length, 3) == row.right[1]
    assert abs(outline.length - row.value) > 6


@table(ELLIPSES)
def test_ellipse(row: Published) -> None:
    """As many arcs as keep a millionth: area and perimeter to five decimals."""
    a, b = row.given
    outline = ellipse(2 * a, 2 * b, tolerance=1e-6)
    assert all(isinstance(s, Arc) for s in outline.segments)
    assert (outline.area, outline.length) == pytest.approx(row.value, abs=1e-5)


@table(POLYGONS)
def test_polygon(row: Published) -> None:
    """Side, perimeter, area, and how far the corners are from the middle."""
    sides, across = row.given
    outline = regular_polygon(sides, across)
    side, perimeter, area, reach = row.value
    assert [s.length for s in outline.segments] == pytest.approx([side] * sides, abs=1e-7)
    assert (outline.length, outline.area) == pytest.approx((perimeter, area), abs=2e-7)
    assert [math.hypot(*s.start) for s in outline.segments] == pytest.approx([reach] * sides, abs=1e-7)
