"""Arcs fitted to smooth curves: within the tolerance, without kinks, few, and true arcs given back."""

import math
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.geometry.measure import distances
from jigtemplates.geometry.outline import Arc, Line, Point, Segment
from jigtemplates.imports.curves import bezier
from jigtemplates.imports.fit import Smooth, fitted, joined


def curve(place: Callable[[float], tuple[float, float]], derivative: Callable[[float], tuple[float, float]]) -> Smooth:
    """Four hundred places for a parameter from 0 to 1."""
    t = np.linspace(0, 1, 401)
    return Smooth.of(np.array([place(x) for x in t]), np.array([derivative(x) for x in t]))


def turn_at(a: Segment, b: Segment) -> float:
    """The kink between two segments, radians."""

    def leaving(s: Segment, at_end: bool) -> float:
        if isinstance(s, Line):
            return math.atan2(s.end.y - s.start.y, s.end.x - s.start.x)
        p = s.end if at_end else s.start
        return math.atan2(p.y - s.center.y, p.x - s.center.x) + s.turn * math.pi / 2

    return abs(math.remainder(leaving(a, True) - leaving(b, False), math.tau))


@pytest.mark.parametrize("degrees", [5, 90, 180, 270, 340])
def test_a_true_arc_comes_back(degrees: int) -> None:
    """Places on a circle of radius 7 make arcs of radius 7."""
    sweep = math.radians(degrees)
    found = fitted(
        curve(
            lambda t: (7 * math.cos(sweep * t), 7 * math.sin(sweep * t)),
            lambda t: (-7 * math.sin(sweep * t), 7 * math.cos(sweep * t)),
        ),
        0.005,
    )
    assert [round(s.radius, 6) for s in found if isinstance(s, Arc)] == [7.0] * len(found)
    assert sum(s.sweep for s in found if isinstance(s, Arc)) == pytest.approx(sweep)


def test_a_straight_curve_is_a_line() -> None:
    """A cubic whose control points lie on a line is that line."""
    found = fitted(bezier([Point(0, 0), Point(1, 2), Point(2, 4), Point(5, 10)], 0.005), 0.005)
    assert found == [Line(Point(0, 0), Point(5, 10))]


def test_a_wave_is_few_arcs() -> None:
    """One wave of 40 by 10 within 0.01 mm is fewer than 40 arcs, without a kink."""
    found = fitted(
        curve(
            lambda t: (40 * t, 5 * math.sin(math.tau * t)),
            lambda t: (40, 5 * math.tau * math.cos(math.tau * t)),
        ),
        0.01,
    )
    assert len(found) < 40
    assert max(turn_at(a, b) for a, b in pairwise(found)) < 2e-3


def test_tenfold_accuracy_is_about_twice_the_arcs() -> None:
    """The error of an arc falls with the third power of its length: a tenth of it takes 2.15 times as many."""
    points = [Point(0, 0), Point(30, 80), Point(60, -20), Point(100, 40)]
    counts = [len(fitted(bezier(points, chord), chord)) for chord in (0.05, 0.005)]
    assert 1.6 < counts[1] / counts[0] < 3


def test_a_cusp_stays_a_cusp() -> None:
    """A cubic that turns back in a point is followed into it and out again."""
    control = [Point(0, 0), Point(40, 30), Point(0, 30), Point(40, 0)]
    places = bezier(control, 0.005).places
    found = fitted(bezier(control, 0.005), 0.005)
    assert distances(places, found).max() < 0.0051


def test_a_curve_without_length_is_nothing() -> None:
    """All control points in one place draw nothing."""
    assert joined([bezier([Point(3, 3)] * 4, 0.005)]) == []


def test_directions_where_a_control_point_is_the_end() -> None:
    """A cubic whose first handle has no length leaves towards the next."""
    curve = bezier([Point(0, 0), Point(0, 0), Point(0, 10), Point(10, 10)], 0.005)
    assert curve.directions[0].tolist() == pytest.approx([0, 1])
    other = bezier([Point(0, 0), Point(10, 0), Point(10, 10), Point(10, 10)], 0.005)
    assert other.directions[-1].tolist() == pytest.approx([0, 1])


places = st.tuples(st.floats(-50, 50), st.floats(-50, 50)).map(lambda p: Point(round(p[0], 3), round(p[1], 3)))


@settings(max_examples=40)
@given(st.lists(places, min_size=4, max_size=4, unique=True), st.sampled_from([0.05, 0.005]))
def test_any_cubic_is_followed(control: list[Point], chord: float) -> None:
    """Every cubic, with loops and cusps, is nowhere further than the tolerance from its arcs, nor they from it."""
    smooth = bezier(control, chord)
    found = fitted(smooth, chord)
    assert found[0].start == control[0]
    assert math.dist(found[-1].end, control[-1]) < 1e-9
    assert distances(smooth.places, found).max() <= chord * 1.001
    dense = bezier(control, chord / 20).places
    chords = [Line(Point(*a), Point(*b)) for a, b in pairwise(dense.tolist()) if a != b]
    on_arcs = np.array([s.middle for s in found])
    assert distances(on_arcs, chords).max() <= 3 * chord
