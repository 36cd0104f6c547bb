"""The largest circle inside a region, and its tightest corner, by literals."""

import pytest

from jigtemplates.geometry.inside import tightest_corner, widest_inside
from jigtemplates.geometry.outline import Outline, Region
from jigtemplates.geometry.shapes import rectangle, round_hole, slot


@pytest.mark.parametrize(
    ("region", "width"),
    [
        (Region(rectangle(60, 30)), 30),
        (Region(slot(60, 9.525)), 9.525),
        (Region(round_hole(40), (round_hole(10).reversed(),)), 15),
        (Region(Outline.polygon([(0, 0), (30, 0), (0, 40)])), 20),  # 2 r = a + b - c
    ],
)
def test_the_widest_circle(region: Region, width: float) -> None:
    """Within two thousandths of a mm, and never wider than what fits."""
    found = widest_inside(region)
    assert width - 0.003 < found <= width + 1e-9


@pytest.mark.parametrize(
    ("region", "radius"),
    [
        (Region(rectangle(60, 30)), 0),
        (Region(rectangle(60, 30, 4)), 4),
        (Region(round_hole(40), (round_hole(10).reversed(),)), 20),  # a hole's side is no corner to go into
        (Region(round_hole(40), (rectangle(10, 10).reversed(),)), 20),
        (Region(rectangle(60, 30, 9), (slot(20, 4).moved(3, 0).reversed(),)), 9),
    ],
)
def test_the_tightest_corner(region: Region, radius: float) -> None:
    """Only what bends round the cutter counts: corners of wood that point into the region do not."""
    assert tightest_corner(region) == radius
