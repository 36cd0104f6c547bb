"""Free space on a sheet: what is left when a place is taken, and which place is liked best."""

import pytest

from jigtemplates.sheets.spaces import Overlapping, Parted, Rect, Score, area, leftmost, lowest, short_side


def test_a_corner_taken_leaves_two_overlapping_rectangles() -> None:
    """Of 100 x 80 with 30 x 20 taken, all that is right of it and all that is above it."""
    space = Overlapping(100, 80, lowest)
    space.take(Rect(0, 0, 30, 20))
    assert sorted(space.free) == [(0, 20, 100, 60), (30, 0, 70, 80)]


def test_a_place_in_the_middle_leaves_four() -> None:
    """Left, right, below and above."""
    space = Overlapping(100, 80, lowest)
    space.take(Rect(40, 30, 20, 10))
    assert sorted(space.free) == [(0, 0, 40, 80), (0, 0, 100, 30), (0, 40, 100, 40), (60, 0, 40, 80)]


def test_what_lies_in_another_is_dropped() -> None:
    """A second place in the row: the strip above both is one rectangle, not two."""
    space = Overlapping(100, 80, lowest)
    space.take(Rect(0, 0, 30, 20))
    space.take(Rect(30, 0, 30, 20))
    assert sorted(space.free) == [(0, 20, 100, 60), (60, 0, 40, 80)]


def test_what_fits_exactly_leaves_nothing() -> None:
    """A sheet taken whole is full, in both ways."""
    for space in (Overlapping(100, 80, area), Parted(100, 80, area)):
        space.take(Rect(0, 0, 100, 80))
        assert space.free == []
        assert space.best(1, 1) is None


@pytest.mark.parametrize(
    ("taken", "free"),
    [
        (Rect(0, 0, 30, 70), [(0, 70, 30, 10), (30, 0, 70, 80)]),  # first cut upright: the right keeps its height
        (Rect(0, 0, 90, 20), [(0, 20, 100, 60), (90, 0, 10, 20)]),  # first cut level: the top keeps its width
    ],
)
def test_straight_cuts_leave_rests_that_do_not_overlap(taken: Rect, free: list[tuple[int, ...]]) -> None:
    """The first cut leaves the larger rest as large as can be."""
    space = Parted(100, 80, short_side)
    space.take(taken)
    assert sorted(space.free) == free


@pytest.mark.parametrize(
    ("score", "at"),
    [
        (lowest, (60, 0)),  # the upright strip reaches down furthest
        (leftmost, (0, 60)),
        (short_side, (0, 60)),  # 20 high for 18: only 2 are left
        (area, (0, 60)),  # 20 high and 100 long is the smallest
    ],
)
def test_each_score_has_its_favourite(score: Score, at: tuple[int, int]) -> None:
    """35 x 18 into a strip 40 x 80 at the right or one 100 x 20 at the top."""
    space = Overlapping(100, 80, score)
    space.free = [Rect(60, 0, 40, 80), Rect(0, 60, 100, 20)]
    found = space.best(35, 18)
    assert found is not None
    assert (found[1].x, found[1].y) == at
