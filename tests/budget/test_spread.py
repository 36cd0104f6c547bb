"""Sums of uniform errors against closed forms and laws; nothing is approximated."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.budget.spread import Spread, Sum

LIMITS = st.lists(st.integers(0, 400_000).map(lambda nm: nm / 1e6), max_size=6)


def test_one_error_is_uniform() -> None:
    """Between -0.1 and 0.1 the chance rises straight; outside it is 0 or 1."""
    one = Sum(10.0, (0.1,))
    assert [one.below(x) for x in (9.8, 9.9, 9.95, 10.0, 10.05, 10.1, 11.0)] == [0, 0, 0.25, 0.5, 0.75, 1, 1]


def test_two_alike_are_a_triangle() -> None:
    """Of two errors within ± 1 the sum is below x < 0 with (2 + x)² / 8: Simpson's triangular distribution (1755)."""
    two = Sum(0.0, (1.0, 1.0))
    for x in (-1.5, -1.0, -0.25, 0.0):
        assert two.below(x) == pytest.approx((2 + x) ** 2 / 8, abs=1e-12)
    assert two.below(1.0) == pytest.approx(7 / 8, abs=1e-12)


def test_two_unlike_are_a_trapezoid() -> None:
    """± 3 and ± 1: the density is flat, 1/6, from -2 to 2, and falls straight to 0 at ± 4."""
    two = Sum(0.0, (3.0, 1.0))
    assert two.below(1.0) - two.below(-1.0) == pytest.approx(2 / 6, abs=1e-12)
    assert two.below(-2.0) == pytest.approx(2 * (1 / 6) / 2, abs=1e-12)
    assert two.below(-3.0) == pytest.approx(1 * (1 / 12) / 2, abs=1e-12)


@pytest.mark.parametrize(
    ("count", "x", "chance"),
    [(3, 1.0, 1 / 6), (3, 0.5, 1 / 48), (4, 1.0, 1 / 24), (4, 2.0, 1 / 2), (5, 1.0, 1 / 120), (6, 1.0, 1 / 720)],
)
def test_irwin_and_hall(count: int, x: float, chance: float) -> None:
    """n numbers from 0 to 1 add up to at most 1 with 1 / n!, three of them to 1/2 with 1/48 (Irwin, Hall 1927)."""
    assert Sum(count / 2, (0.5,) * count).below(x) == pytest.approx(chance, abs=1e-12)


def test_a_tiny_error_beside_a_large_one() -> None:
    """Terms that cancel to twelve digits do no harm: the sum is as good as the large error alone."""
    assert Sum(0.0, (0.3, 1e-6, 2e-6, 1e-6)).below(0.15) == pytest.approx(0.75, abs=1e-9)


def test_no_error_at_all() -> None:
    """A size without doubt is what it is; its quantiles too."""
    sure = Spread.of(8.0, (0.0, 0.0))
    assert (sure.below(7.999), sure.below(8.0)) == (0.0, 1.0)
    assert sure.quantile(0.025) == pytest.approx(8.0)
    assert sure.limits == (8.0, 8.0)


def test_quantiles() -> None:
    """95 % lie within 0.95 a of one error, within (2 - √0.2) a of two alike."""
    assert Spread.of(0.0, (0.1,)).quantile(0.975) == pytest.approx(0.095, abs=2e-5)
    assert Spread.of(5.0, (1.0, 1.0)).quantile(0.025) == pytest.approx(5 - (2 - math.sqrt(0.2)), abs=2e-5)
    assert Spread.of(5.0, (1.0, 1.0)).quantile(0.975) == pytest.approx(5 + (2 - math.sqrt(0.2)), abs=2e-5)


def test_a_mixture() -> None:
    """Half of one and half of another: the mean of their chances, the limits of both."""
    mixed = Spread(((0.5, Sum(1.0, (0.5,))), (0.5, Sum(2.0, (1.0,)))))
    assert mixed.below(1.5) == pytest.approx(0.5 * 1.0 + 0.5 * 0.25)
    assert mixed.limits == (0.5, 3.0)


def test_a_difference() -> None:
    """Mortise less tenon: the middles are subtracted, the tenon's doubt comes to the others."""
    assert Spread.of(10.0, (0.2,)).less(9.9, 0.05).parts == ((1.0, Sum(10.0 - 9.9, (0.2, 0.05))),)


@given(LIMITS, st.floats(0.001, 0.999))
@settings(max_examples=60, deadline=None)
def test_a_quantile_is_not_exceeded_by_its_share(halves: list[float], share: float) -> None:
    """The chance of at most the quantile is the share, as near as 0.02 µm of either side tell."""
    spread = Spread.of(12.5, halves)
    at = spread.quantile(share)
    assert spread.below(at - 2e-5) <= share + 1e-9
    assert spread.below(at + 2e-5) >= share - 1e-9


@given(LIMITS, st.floats(-2.0, 2.0))
@settings(max_examples=60, deadline=None)
def test_a_sum_is_alike_on_both_sides(halves: list[float], x: float) -> None:
    """What is below on one side is above on the other, and nothing is beyond the worst case."""
    one, x = Sum(0.0, tuple(halves)), round(x, 6)
    if sum(halves) > 1e-6:
        assert one.below(x) == pytest.approx(1 - one.below(-x), abs=1e-9)
    assert one.below(one.reach + 1e-6) == 1.0
    assert one.below(-one.reach - 1e-6) == 0.0


def test_the_same_about_another_place() -> None:
    """Two sizes that are spread alike are the same about their middles, so that they are computed once."""
    assert Spread.of(10.0, (0.1,)).about(10.0) == Spread.of(50.1, (0.1,)).about(50.1)
