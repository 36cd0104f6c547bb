"""The ellipse as arcs: how near it is to the true one, its tangents, its symmetry."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.geometry.measure import distances
from jigtemplates.geometry.outline import Arc, Outline
from jigtemplates.geometry.shapes import ellipse


def arcs(outline: Outline) -> list[Arc]:
    """Its segments, which must all be arcs."""
    found = [s for s in outline.segments if isinstance(s, Arc)]
    assert len(found) == len(outline.segments)
    return found


def true_points(length: float, width: float, count: int = 4000) -> "np.ndarray[tuple[int, int], np.dtype[np.float64]]":
    """Points of the true ellipse, x²/a² + y²/b² = 1, dense where it bends most."""
    turn = np.linspace(0, 2 * math.pi, count, endpoint=False)
    return np.column_stack((length / 2 * np.cos(turn), width / 2 * np.sin(turn)))


SIZES = [(100, 60), (60, 100), (200, 20), (50, 10), (12, 5), (30, 29.999), (300, 8), (60, 20)]


@pytest.mark.parametrize(("length", "width"), SIZES)
def test_it_keeps_the_stated_tolerance(length: float, width: float) -> None:
    """No point of the true ellipse is further than 0.005 mm from the arcs, seen at 4000 points."""
    assert distances(true_points(length, width), ellipse(length, width).segments).max() <= 0.005


@pytest.mark.parametrize(("length", "width"), SIZES)
def test_no_arc_strays_from_the_true_ellipse(length: float, width: float) -> None:
    """The other way round: every place of an arc is within the tolerance of 200,000 points of the true ellipse."""
    true = true_points(length, width, 200_000)
    for arc in arcs(ellipse(length, width))[: len(ellipse(length, width).segments) // 4 + 1]:
        for fraction in np.linspace(0, 1, 9):
            x, y = arc.at(float(fraction))
            assert np.hypot(true[:, 0] - x, true[:, 1] - y).min() <= 0.0051


@given(length=st.floats(5, 400), slender=st.floats(0.05, 1), tolerance=st.sampled_from([0.001, 0.005, 0.05]))
@settings(max_examples=40)
def test_any_ellipse_keeps_any_tolerance(length: float, slender: float, tolerance: float) -> None:
    """Law: the tolerance that is asked for is kept, however slender the ellipse."""
    width = length * slender
    off = distances(true_points(length, width, 1000), ellipse(length, width, tolerance=tolerance).segments).max()
    assert off <= tolerance


def test_the_tolerance_is_used() -> None:
    """A coarser one takes fewer arcs, and comes near what it allows: the comparison can fail."""
    fine, coarse = ellipse(100, 60), ellipse(100, 60, tolerance=0.5)
    assert len(coarse.segments) < len(fine.segments) <= 64
    assert distances(true_points(100, 60), coarse.segments).max() > 0.05


@pytest.mark.parametrize(("length", "width"), SIZES)
def test_it_has_no_corner(length: float, width: float) -> None:
    """Every arc begins where the last one ends and in its direction: both centres lie on one line with the joint."""
    found = arcs(ellipse(length, width))
    for before, after in pairwise([*found, found[0]]):
        assert before.end == after.start
        ax, ay = before.end.x - before.center.x, before.end.y - before.center.y
        bx, by = after.start.x - after.center.x, after.start.y - after.center.y
        assert (ax * by - ay * bx) / (before.radius * after.radius) == pytest.approx(0, abs=1e-9)
        assert ax * bx + ay * by > 0
        assert before.turn == 1


def test_it_passes_through_the_ends_of_its_axes() -> None:
    """100 by 60: exactly 50 right and left, 30 up and down; the area is pi a b but for the tolerance."""
    outline = ellipse(100, 60)
    assert outline.bounds == (-50, -30, 50, 30)
    assert outline.area == pytest.approx(1500 * math.pi, abs=0.1)


def test_its_quadrants_are_alike() -> None:
    """Mirrored in either axis it has the same ends of arcs and centres, number for number."""
    found = {(round(a.center.x, 9), round(a.center.y, 9), round(a.radius, 9)) for a in arcs(ellipse(100, 60))}
    assert found == {(round(-x, 9) + 0.0, y, r) for x, y, r in found}
    assert found == {(x, round(-y, 9) + 0.0, r) for x, y, r in found}


def test_arcs_meet_on_no_axis() -> None:
    """One arc runs over each end of an axis: 100 by 60 is no two arcs where one will do."""
    ends = [p for a in arcs(ellipse(100, 60)) for p in (a.start, a.end)]
    assert all(min(abs(p.x), abs(p.y)) > 0.1 for p in ends)


def test_as_long_as_wide_it_is_a_circle() -> None:
    """One arc of radius 20."""
    circle = ellipse(40, 40).as_circle
    assert circle is not None
    assert circle.radius == 20


@pytest.mark.parametrize(("length", "width", "tolerance"), [(0, 5, 0.005), (5, -1, 0.005), (5, 4, 0)])
def test_sizes_that_make_no_ellipse(length: float, width: float, tolerance: float) -> None:
    """No side, or no tolerance: a sentence."""
    with pytest.raises(ValueError, match=r"^an ellipse's length, width and tolerance must be positive$"):
        ellipse(length, width, tolerance=tolerance)


def test_an_ellipse_too_slender_for_arcs() -> None:
    """A tolerance that no number of arcs can keep ends in a sentence, not in an endless search."""
    with pytest.raises(ValueError, match=r"^this ellipse is too slender for arcs within its tolerance$"):
        ellipse(100, 60, tolerance=1e-15)
