"""Numbers beside the openings of several cuts: largest first, apart from each other, missing where there is no room."""

import pytest

from jigtemplates.geometry.outline import Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle, slot
from jigtemplates.numbering import Numbered, place_numbers

PLATE = Region(rectangle(140, 100).moved(70, 50))


def opening(number: int, x: float, radius: float = 10.0) -> Numbered:
    """A round opening half way up the plate."""
    middle = Point(x, 50.0)
    return Numbered(number, middle, 0.0, Region(Outline.circle(middle, radius)))


def test_a_number_with_room() -> None:
    """5 mm high, 2 mm and half its height from the opening, up and to the left."""
    one = opening(1, 70)
    (found,) = place_numbers([one], PLATE, [one.opening.outer])
    assert found.box.height == pytest.approx(5.0)
    # 10 + 2 + 2.5 mm from the middle at 135 degrees
    assert found.box.center == pytest.approx((70 - 10.253, 50 + 10.253), abs=0.001)


def test_a_number_of_a_slot() -> None:
    """It stands over a quarter of the length, clear of the centre lines; on the other side where that is taken."""
    area = slot(60, 12).moved(70, 50)
    one = Numbered(1, Point(70.0, 50.0), 0.0, Region(area))
    (found,) = place_numbers([one], PLATE, [area])
    assert found.box.center == pytest.approx((55, 50 + 6 + 2 + 2.5))
    (below,) = place_numbers([one], PLATE, [area, rectangle(140, 30).moved(70, 75)])
    assert below.box.center == pytest.approx((55, 50 - 6 - 2 - 2.5))


def test_a_number_shrinks_before_it_is_left_out() -> None:
    """A plate with 8 mm of wood round the opening has a lower number, one with 3 mm none."""
    one = opening(1, 70)
    heights = []
    # 5 mm high its outer corner would be 16.8 mm from the middle, 4.5 mm high 16.3: 18 less 1.5 lies between
    for wall in (8.0, 3.0):
        plate = Region(Outline.circle(one.middle, 10 + wall))
        heights.append([found.box.height for found in place_numbers([one], plate, [one.opening.outer])])
    assert heights == [[pytest.approx(4.5)], []]


def test_numbers_of_neighbours() -> None:
    """Two openings 4 mm apart: each number is nearest to its own, and they do not touch."""
    pair = [opening(1, 58), opening(2, 82)]
    first, second = place_numbers(pair, PLATE, [one.opening.outer for one in pair])
    assert first.box.right < 70 < second.box.left or first.box.top < second.box.bottom
