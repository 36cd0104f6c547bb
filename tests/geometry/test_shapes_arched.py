"""Hand-holds and arc-shaped slots: literal segments, sums, and the sentences where there is no such shape."""

import math

import pytest

from jigtemplates.geometry.outline import Arc, Line
from jigtemplates.geometry.shapes import arc_slot, ends_apart, hand_hold, slot


def test_a_hand_hold_without_rise_is_a_slot() -> None:
    """Nothing arched, nothing new."""
    assert hand_hold(100, 30) == slot(100, 30)


def test_a_hand_hold() -> None:
    """100 by 30 with a rise of 8: 38 high about the origin; ends of 15 about (±35, -4); an arch of 95.5625."""
    outline = hand_hold(100, 30, 8)
    assert outline.bounds == pytest.approx((-50, -19, 50, 19))
    bottom, right, arch, left = outline.segments
    assert bottom == Line((-35, -19), (35, -19))
    assert isinstance(right, Arc)
    assert isinstance(arch, Arc)
    assert isinstance(left, Arc)
    assert (right.center, right.radius, left.center, left.radius) == ((35, -4), 15, (-35, -4), 15)
    # c = (35² - 8²) / 16 = 72.5625; R = 15 + 8 + c
    assert arch.radius == 95.5625
    assert arch.center == pytest.approx((0, -76.5625))


def test_a_hand_hold_has_no_corner() -> None:
    """Where the ends run into the arch, both centres and the joint are on one line, and the joint on both circles."""
    _, right, arch, left = hand_hold(100, 30, 8).segments
    for end, joint in ((right, arch.start), (left, arch.end)):
        assert isinstance(end, Arc)
        assert isinstance(arch, Arc)
        assert math.dist(joint, end.center) == pytest.approx(15)
        assert math.dist(joint, arch.center) == pytest.approx(95.5625)
        assert math.dist(end.center, arch.center) == pytest.approx(95.5625 - 15)


def test_the_highest_hand_hold_is_round_on_top() -> None:
    """A rise of half of length less width makes a half circle of half the length above the ends' middles."""
    arch = hand_hold(100, 30, 35).segments[2]
    assert isinstance(arch, Arc)
    assert (arch.radius, arch.sweep) == pytest.approx((50, math.pi))


@pytest.mark.parametrize("rise", [-1, 35.01])
def test_a_hand_hold_with_another_rise(rise: float) -> None:
    """It arches outwards, and no further than half a circle."""
    with pytest.raises(ValueError, match=r"^a hand-hold's rise must lie between 0 and half of length less width$"):
        hand_hold(100, 30, rise)


def test_an_arc_slot() -> None:
    """Radius 60, 90 degrees, 10 wide: four arcs; area = centre line x width + one circle of 10."""
    outline = arc_slot(60, 90, 10)
    a, b, c, d = outline.segments
    assert all(isinstance(s, Arc) for s in outline.segments)
    assert [(s.radius, s.turn) for s in (a, b, c, d) if isinstance(s, Arc)] == [(65, 1), (5, 1), (55, -1), (5, 1)]
    assert outline.area == pytest.approx(60 * math.pi / 2 * 10 + 25 * math.pi)
    # The ends' centres are 60 sin 45° = 42.4264 to either side, 60 (1 - cos 45°) = 17.5736 below the origin.
    assert [s.center for s in (b, d) if isinstance(s, Arc)] == [
        pytest.approx((-42.426407, -17.573593), abs=1e-6),
        pytest.approx((42.426407, -17.573593), abs=1e-6),
    ]
    assert [s.center for s in (a, c) if isinstance(s, Arc)] == [(0, -60), (0, -60)]
    assert outline.bounds == pytest.approx((-47.426407, -22.573593, 47.426407, 5), abs=1e-6)


def test_the_ends_of_an_arc_slot_have_no_corner() -> None:
    """Each end is half a circle."""
    for end in arc_slot(60, 200, 10).segments[1::2]:
        assert isinstance(end, Arc)
        assert end.sweep == pytest.approx(math.pi)


def test_wood_between_the_ends() -> None:
    """Radius 10 and 300 degrees: the ends' centres are 10 mm apart, 6 wide leaves 4; up to 180 they do not meet."""
    assert ends_apart(10, 300, 6) == pytest.approx(4)
    assert ends_apart(10, 180, 6) == math.inf


@pytest.mark.parametrize(("radius", "span", "width"), [(5, 90, 10), (60, 0, 10), (60, 360, 10), (60, 90, 0)])
def test_no_such_arc_slot(radius: float, span: float, width: float) -> None:
    """An inner edge without radius, no span or a whole circle, no width."""
    message = "half an arc slot's width must be less than its radius, and its span less than a circle"
    with pytest.raises(ValueError, match=f"^{message}$"):
        arc_slot(radius, span, width)


def test_an_arc_slot_that_bites_its_tail() -> None:
    """300 degrees about 10 mm leave 10 mm between the ends' centres: not enough for 10 wide."""
    with pytest.raises(ValueError, match=r"^the ends of an arc slot must not meet$"):
        arc_slot(10, 300, 10)
