"""Differences between what is drawn and what was meant, where no damaged file shows them."""

import math

from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Segment
from jigtemplates.writers.drawn import Drawn, Meant, difference, repeated

CIRCLE = Outline.circle(Point(0, 0), 10)
START = Point(10, 0)


def ring(*points: tuple[float, float]) -> tuple[Segment, ...]:
    return Outline.polygon(points).segments


def regular(corners: int) -> list[tuple[float, float]]:
    """Corners on the circle of 10 about the origin, the first at its right."""
    angles = (2 * math.pi * i / corners for i in range(corners))
    return [(10 * math.cos(a), 10 * math.sin(a)) for a in angles]


def test_facets_of_a_circle() -> None:
    """A polygon on the circle is as meant where its chords are within the tolerance."""
    drawn = Drawn("A", True, ring(*regular(25)))
    assert difference(drawn, Meant(CIRCLE, CIRCLE.segments, 0.1)) is None
    # 10 (1 - cos(pi / 25)) = 0.0788
    said = difference(drawn, Meant(CIRCLE, CIRCLE.segments, 0.0787))
    assert said == "lies within (-9.921147, -9.980267) to (10, 9.980267) and should lie within (-10, -10) to (10, 10)"


def test_facets_that_go_on() -> None:
    """A little loop behind the last wanted facet is refused, though it is lost in the tolerances."""
    drawn = Drawn("A", True, ring(*regular(25), (10, 0), (9.96, 0), (9.96, 0.04)))
    assert difference(drawn, Meant(CIRCLE, CIRCLE.segments, 0.2)) == "has 3 facets too many"


def test_facets_that_run_out() -> None:
    """Facets that pass by the end of a wanted arc, though on its circle, are refused."""
    left = Point(-10, 0)
    halves = (Arc(START, left, Point(0, 0), 10, 1), Arc(left, START, Point(0, 0), 10, 1))
    drawn = Drawn("A", True, ring(*regular(25)))
    assert difference(drawn, Meant(CIRCLE, halves, 0.2)) == "leaves its segment 1, from (10, 0) to (-10, 0)"


def test_a_corner_cut_in_facets() -> None:
    """A straight that misses its corner by more than the tolerance of places is refused."""
    square = Outline.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    drawn = Drawn("A", True, ring((0, 0), (10, 0), (10, 9.99999), (0, 10)))
    said = difference(drawn, Meant(square, square.segments, 0.01))
    assert said == "leaves its segment 2, from (10, 0) to (10, 10)"


def test_a_segment_in_common() -> None:
    """Two contours of one layer that share a side have it drawn twice; on two layers they do not."""
    left, right = ring((0, 0), (5, 0), (5, 5)), ring((5, 0), (9, 0), (5, 5))
    one, other = Drawn("A", True, left), Drawn("A", True, right)
    assert repeated([one, other]) is other
    assert repeated([one, Drawn("B", True, right)]) is None


def test_arcs_between_the_same_ends() -> None:
    """The two halves of a circle share their ends and are not the same line."""
    left = Point(-10, 0)
    halves = (Arc(START, left, Point(0, 0), 10, 1), Arc(left, START, Point(0, 0), 10, 1))
    assert repeated([Drawn("A", True, halves)]) is None
    back = Drawn("A", False, (halves[0].reversed(),))
    assert repeated([Drawn("A", True, halves), back]) is back


def test_a_line_there_and_back() -> None:
    """A stroke that returns on itself is drawn twice."""
    there = Line(Point(0, 0), Point(3, 0))
    stroke = Drawn("A", False, (there, there.reversed()))
    assert repeated([stroke]) is stroke
