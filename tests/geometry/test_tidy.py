"""Slivers go where their neighbours can be drawn together, and nothing else changes."""

import math

import pytest

from jigtemplates.geometry.measure import deviation
from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle, round_hole, slot
from jigtemplates.geometry.tidy import SLIVER, without_slivers

P = Point


def test_nothing_to_do() -> None:
    """Outlines without slivers come back as the very same objects."""
    regions = (Region(rectangle(20, 10), (round_hole(3).reversed(),)), Region(slot(20, 10)))
    tidy = without_slivers(regions)
    assert [r.outer for r in tidy] == [r.outer for r in regions]
    assert tidy[0].outer is regions[0].outer
    assert tidy[0].holes[0] is regions[0].holes[0]


def test_a_bevel_becomes_a_corner() -> None:
    """A bevel of 0.02 mm across the corner of a square goes; the corner is where the sides meet."""
    bevelled = Outline.polygon([(0, 0), (10, 0), (10, 9.98), (9.98, 10), (0, 10)])
    (tidy,) = without_slivers((Region(bevelled),))
    assert [tuple(s.start) for s in tidy.outer.segments] == [(0, 0), (10, 0), pytest.approx((10, 10)), (0, 10)]


def test_the_first_and_last_segments_are_neighbours() -> None:
    """A sliver that begins the outline goes too."""
    bevelled = Outline.polygon([(9.98, 10), (0, 10), (0, 0), (10, 0), (10, 9.98)])
    segments = bevelled.segments[-1:] + bevelled.segments[:-1]
    (tidy,) = without_slivers((Region(Outline(segments)),))
    assert len(tidy.outer.segments) == 4
    assert tidy.outer.area == pytest.approx(100)


def test_flat_between_two_round_corners() -> None:
    """A flat of 0.03 mm between two corners of 6.35 mm: the arcs meet, 18 nanometres off."""
    end = rectangle(50, 12.73, 6.35)
    (tidy,) = without_slivers((Region(end),))
    assert [type(s) for s in tidy.outer.segments].count(Line) == 2
    assert [type(s) for s in tidy.outer.segments].count(Arc) == 4
    # the arcs meet where 6.35 - sqrt(6.35² - 0.015²) = 0.0000177 mm
    assert deviation((tidy,), (Region(end),)) == pytest.approx(0.0000177, abs=1e-6)
    for a, b in zip(tidy.outer.segments, (*tidy.outer.segments[1:], tidy.outer.segments[0]), strict=True):
        assert math.dist(a.end, b.start) < 1e-12


def test_holes_are_tidied() -> None:
    """Holes lose their slivers as outer rings do, and still run clockwise."""
    hole = Outline.polygon([(0, 0), (10, 0), (10, 9.98), (9.98, 10), (0, 10)]).reversed()
    (tidy,) = without_slivers((Region(rectangle(50, 50), (hole,)),))
    assert len(tidy.holes[0].segments) == 4
    assert tidy.holes[0].area == pytest.approx(-100)


def test_a_step_stays() -> None:
    """Where the neighbours run parallel they never meet: the step of 0.03 mm stays."""
    step = Outline.polygon([(0, 0), (10, 0), (10, 5), (5, 5), (5, 5.03), (0, 5.03)])
    (tidy,) = without_slivers((Region(step),))
    assert tidy.outer is step


def test_neighbours_that_meet_far_away() -> None:
    """Where the neighbours would meet too far off, the sliver stays."""
    wedge = Outline.polygon([(0, 0), (100, 0), (100, 0.04), (0, 0.5)])
    (tidy,) = without_slivers((Region(wedge),))
    assert tidy.outer is wedge


def test_what_counts_as_a_sliver() -> None:
    """Shorter than 0.05 mm (output-files); the limit can be chosen."""
    assert SLIVER == 0.05
    side = 0.06 / math.sqrt(2)
    bevel = (Region(Outline.polygon([(0, 0), (10, 0), (10, 10 - side), (10 - side, 10), (0, 10)])),)
    assert len(without_slivers(bevel)[0].outer.segments) == 5
    assert len(without_slivers(bevel, 0.07)[0].outer.segments) == 4


def test_a_tiny_outline_stays_closed() -> None:
    """An outline that is a sliver itself keeps at least two segments."""
    (tidy,) = without_slivers((Region(Outline.polygon([(0, 0), (0.03, 0), (0.03, 0.03), (0, 0.03)])),))
    assert len(tidy.outer.segments) >= 2


def test_an_arc_keeps_its_ends_on_its_circle() -> None:
    """A straight that passes a circle by 5e-5 mm does not meet it: the step between them stays, a sliver or not."""
    step = 8.00005
    ring = (
        Line(P(-10, step), P(0, step)),
        Line(P(0, step), P(0, 8)),
        Arc(P(0, 8), P(8, 0), P(0, 0), 8, -1),
        Line(P(8, 0), P(8, -5)),
        Line(P(8, -5), P(-10, -5)),
        Line(P(-10, -5), P(-10, step)),
    )
    (tidy,) = without_slivers((Region(Outline(ring)),))
    assert tidy.outer.segments == ring
