"""Areas on chords."""

import math

import pytest
import shapely

from jigtemplates.geometry.chorded import area_of, polygon_of
from jigtemplates.geometry.outline import LONG, Outline, Point, Region

ROUND = Region(Outline.circle(Point(0, 0), 10.0), (Outline.circle(Point(0, 0), 4.0).reversed(),))


def test_a_region_keeps_its_holes_and_its_chords_are_as_near_as_asked() -> None:
    """A ring of 10 and 4 mm radius: corners on both circles, no chord further than 0.01 mm inside."""
    polygon = polygon_of(ROUND, 0.01)
    assert len(polygon.interiors) == 1
    assert polygon.area == pytest.approx(math.pi * (100 - 16), abs=2 * math.pi * 14 * 0.01)
    assert shapely.distance(shapely.Point(0, 0), polygon.exterior) == pytest.approx(10.0, abs=0.01)


def test_areas_that_overlap_count_once() -> None:
    """Two squares of 10 mm, half on each other, are 150 mm²; none is nothing."""
    first = Outline.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    both = area_of((Region(first), Region(first.moved(5, 0))), 0.01)
    assert both.area == pytest.approx(150.0)
    assert area_of((), 0.01).is_empty


def test_a_long_ring_is_read_from_its_columns() -> None:
    """A ring of so many corners has the area of the regular polygon it is."""
    count = 2 * LONG
    corners = [(math.cos(2 * math.pi * i / count) * 50, math.sin(2 * math.pi * i / count) * 50) for i in range(count)]
    area = polygon_of(Region(Outline.polygon(corners)), 0.01).area
    assert area == pytest.approx(count / 2 * 50**2 * math.sin(2 * math.pi / count))
