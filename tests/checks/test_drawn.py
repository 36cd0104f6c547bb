"""How far what is lost of a drawn outline reaches from an edge: one place at a time, or very many."""

import pytest

from jigtemplates.checks import drawn
from jigtemplates.geometry.outline import Outline, Point, Region


@pytest.mark.parametrize("many", [1_000, 0])
def test_the_furthest_corner_of_what_lies_beyond(many: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Squares of 10 and of 2 in an edge with a hole round the small one: 30 from the ring, 3.5 from the hole."""
    monkeypatch.setattr(drawn, "MANY", many)

    def square(x: float, y: float, side: float) -> Outline:
        return Outline.polygon([Point(x, y), Point(x + side, y), Point(x + side, y + side), Point(x, y + side)])

    of = (Region(square(10, 10, 10)), Region(square(44, 13.5, 2)))
    edge = (Region(square(-20, -20, 100), (square(40, 10, 8).turned(False),)), Region(square(100, 0, 5)))
    assert drawn.furthest(of[1:], (), edge) == (pytest.approx(3.5, abs=1e-12), Point(44, 13.5))
    assert drawn.furthest(of, (), edge)[0] == pytest.approx(30, abs=1e-12)  # of the sides at x = 10 from x = -20
