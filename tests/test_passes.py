"""Depths after each pass: on marks of a rule, no step too deep, hardly ever a pass more."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigtemplates.passes import pass_count, pass_depths, usual_pass

INCH = 25.4


@pytest.mark.parametrize(
    ("depth", "deepest", "sixty_fourths"),
    [
        (72, 12, [12, 24, 36, 48, 60, 72]),  # 1-1/8 in by 3/16 in
        (64, 12, [12, 20, 32, 44, 52, 64]),  # 1 in in 6: sixteenths, for 10.67 sixty-fourths are on no mark
        (20, 8, [6, 14, 20]),  # 5/16 in by 1/8 in: sixteenths would make steps of 1 and 2, so thirty-seconds
        (71, 12, [12, 24, 36, 48, 60, 71]),
        (10, 3, [3, 5, 8, 10]),  # steps of 2.5: nothing coarser than the finest mark
        (12, 12, [12]),
        (9, 9, [9]),
    ],
)
def test_in_inches(depth: int, deepest: int, sixty_fourths: list[int]) -> None:
    """Sixteenths where that costs no pass more and steps remain alike, else thirty-seconds or sixty-fourths."""
    found = pass_depths(depth * INCH / 64, deepest * INCH / 64, inches=True)
    assert found == pytest.approx([mark * INCH / 64 for mark in sixty_fourths])


@pytest.mark.parametrize(
    ("depth", "deepest", "depths"),
    [
        (28, 4.7625, [4.7, 9.3, 14, 18.7, 23.3, 28]),  # halves would go down 4.5 at most: a pass more
        (25, 4, [3.5, 7, 10.5, 14.5, 18, 21.5, 25]),
        (10.01, 5, [3.5, 6.5, 10.01]),
        (12, 4, [4, 8, 12]),
        (0.3, 0.1, [0.1, 0.2, 0.3]),  # 0.3 / 0.1 is 2.9999999999999996
        (3.05, 1, [0.8, 1.5, 2.3, 3.05]),
    ],
)
def test_in_millimetres(depth: float, deepest: float, depths: list[float]) -> None:
    """Half millimetres where that costs nothing, else tenths; the last pass ends on the depth itself."""
    assert pass_depths(depth, deepest, inches=False) == pytest.approx(depths)


def test_one_pass_more() -> None:
    """5 mm in passes of 1.68 are three; tenths allow 1.6 each and the last 1.68, 4.88 in all, so it takes four."""
    assert math.ceil(5 / 1.68) == 3
    assert pass_depths(5, 1.68, inches=False) == pytest.approx([1.5, 2.5, 4, 5])
    assert pass_count(5, 1.68, inches=False) == 4


@pytest.mark.parametrize(("deepest", "count"), [(0.07, 4), (0.19, 15)])
def test_steps_finer_than_a_rule(deepest: float, count: int) -> None:
    """A pass of less than a mark, or one that marks would make many more of, stays an equal part of the depth."""
    depth = deepest * count
    assert pass_depths(depth, deepest, inches=False) == pytest.approx([deepest * n for n in range(1, count + 1)])


def test_no_longer_than_wanted() -> None:
    """A mistyped pass depth makes no list of millions; the count is still known."""
    assert pass_count(10_000, 0.0001, inches=False) == 100_000_000
    assert len(pass_depths(10_000, 0.0001, inches=False, most=201)) == 201
    assert pass_depths(9, 3, inches=False, most=2) == (3.0, 6.0)


def test_usual_pass() -> None:
    """Half the bit; of wide bits 5 mm."""
    assert (usual_pass(9.525), usual_pass(19.05)) == (4.7625, 5.0)


@given(st.floats(0.5, 80), st.floats(0.4, 6), st.booleans())
def test_law(depth: float, deepest: float, inches: bool) -> None:
    """Whatever the sizes: ever deeper, no step beyond the allowed one, on marks unless none serve, the last exact."""
    found, mark = pass_depths(depth, deepest, inches=inches), INCH / 64 if inches else 0.1
    steps = [deep - before for before, deep in zip((0.0, *found), found, strict=False)]
    equal = max(1, math.ceil(depth / deepest - 1e-9))
    assert found[-1] == depth
    assert all(0 < step <= deepest + 1e-5 for step in steps)
    assert equal <= len(found) <= equal + 1 + equal // 10
    on_marks = all(abs(deep / mark - round(deep / mark)) < 1e-5 for deep in found[:-1])
    assert on_marks or max(steps) - min(steps) < 1e-9
    assert len(found) == pass_count(depth, deepest, inches=inches)


@given(st.integers(5, 300), st.integers(4, 60))
def test_no_pass_too_many(depth: int, deepest: int) -> None:
    """In whole marks there are never more passes than equal steps would take."""
    assert pass_count(depth / 10, deepest / 10, inches=False) == math.ceil(depth / deepest)
