"""Recess and plug by geometry: laid over each other they differ by the gap and no more; other engines agree."""

import math
import random
from collections.abc import Callable

import numpy as np
import pyclipr
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.geometry.measure import deviation
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import butterfly_key, ellipse, hand_hold, rectangle, regular_polygon, slot
from jigtemplates.inlay import Fit, Pair
from jigtemplates.inlay.overlay import lay_over, lay_over_first, plug_of, second_opening, smallest_gap
from jigtemplates.opening import opening_for

#: The pair of forum articles: 20 and 10 mm with a 5 mm bit.
FIT = Fit(Pair(5, 20), Pair(5, 10))

SHAPES: dict[str, Outline] = {
    "rectangle": rectangle(80, 50, 1),
    "slot": slot(60, 12),
    "ellipse": ellipse(90, 50),
    "hexagon": regular_polygon(6, 60, 0),
    "key": butterfly_key(90, 60, 30, 0),
    "hand-hold": hand_hold(90, 30, 8),
    "star": Outline.polygon(
        [
            (r * math.cos(math.pi * i / 5), r * math.sin(math.pi * i / 5))
            for i in range(10)
            for r in (60 if i % 2 else 30,)
        ]
    ),
}


def regions(outline: Outline) -> Regions:
    return (Region(outline),)


def opening_of(cut: Regions, fit: Fit) -> Regions:
    return opening_for(cut, fit.recess.bit, fit.recess.bushing)


@pytest.mark.parametrize("name", SHAPES)
def test_a_fitting_pair_makes_one_shape(name: str) -> None:
    """With corners sharp or round, pointing out or in, recess and plug coincide to a millionth of a millimetre."""
    laid = lay_over(opening_of(regions(SHAPES[name]), FIT), FIT)
    assert (len(laid.recess), len(laid.plug)) == (1, 1)
    assert laid.largest_gap < 1e-6
    assert abs(laid.smallest_gap) < 1e-6
    assert (laid.open_area, laid.overlap_area) == (pytest.approx(0, abs=1e-6), pytest.approx(0, abs=1e-6))


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("line", [0.05, 0.1, 0.25])
def test_the_glue_line_all_round(name: str, line: float) -> None:
    """A bushing thicker by two glue lines: they differ by the glue line everywhere, and nowhere overlap."""
    fit = Fit(FIT.recess, Pair(5, 10 + 2 * line), line)
    laid = lay_over(opening_of(regions(SHAPES[name]), fit), fit)
    assert fit.fits
    assert laid.smallest_gap == pytest.approx(line, abs=1e-6)
    assert line - 1e-6 < laid.largest_gap < line + 1e-6
    assert laid.overlap_area < 1e-6


def test_a_ring(polygon_of: Callable[..., "shapely.Geometry"]) -> None:
    """What stands within the recess leaves a hole in the plug, larger by the gap: radii 40 and 15 mm."""
    ring = Region(Outline.circle(Point(0, 0), 40), (Outline.circle(Point(0, 0), 15, -1),))
    fit = Fit(FIT.recess, Pair(5.2, 10), 0.1)
    laid = lay_over(opening_of((ring,), fit), fit)
    (plug,) = laid.plug
    assert [circle.as_circle.radius for circle in plug.rings if circle.as_circle] == [
        pytest.approx(39.9),
        pytest.approx(15.1),
    ]
    assert (laid.smallest_gap, laid.largest_gap) == (pytest.approx(0.1), pytest.approx(0.1))
    assert polygon_of(laid.plug, 1e-4).within(polygon_of(laid.recess, 1e-4))


def test_area_of_the_glue_line() -> None:
    """Round a rectangle 80 x 50 with corners of 10 mm: perimeter x gap - pi gap² = (180 + 20 pi) 0.1 - 0.01 pi."""
    fit = Fit(FIT.recess, Pair(5.2, 10))
    laid = lay_over(opening_of(regions(rectangle(80, 50, 10)), fit), fit)
    assert laid.open_area == pytest.approx(18 + 2 * math.pi - 0.01 * math.pi, abs=1e-5)


def test_a_plug_that_is_too_large() -> None:
    """A plug's bushing 0.8 mm too thin: 0.4 mm too large a side, and the overlap's area is that of the rim."""
    fit = Fit(FIT.recess, Pair(5, 9.2))
    laid = lay_over(opening_of(regions(rectangle(80, 50, 10)), fit), fit)
    assert (laid.smallest_gap, laid.largest_gap) == (pytest.approx(-0.4), pytest.approx(0.4))
    assert laid.overlap_area == pytest.approx((180 + 20 * math.pi) * 0.4 + math.pi * 0.16, abs=1e-4)
    assert laid.open_area == 0.0


BITS = st.sampled_from([3.0, 3.175, 5.0, 6.0, 6.35, 8.0])


@given(
    bit=BITS,
    plug=st.tuples(BITS, st.floats(3, 20)),
    line=st.floats(0, 0.3),
    convex=st.floats(0, 12),
    concave=st.floats(0, 30),
)
@settings(max_examples=25, deadline=None)
def test_the_smallest_radii_are_the_ones_said(
    bit: float, plug: tuple[float, float], line: float, convex: float, concave: float
) -> None:
    """An L with both kinds of corner: the recess is what was wanted exactly where no radius is below the smallest.

    And whatever its corners, the plug fits the recess with the glue line all round.
    """
    small = Pair(plug[0], plug[0] + plug[1])
    fit = Fit(Pair(bit, small.bushing + small.bit + bit - 2 * line), small, line)
    angle = Outline.polygon([(0, 0), (120, 0), (120, 60), (60, 60), (60, 120), (0, 120)])
    eased = grow(shrink(regions(angle), convex), convex)
    wanted = shrink(grow(eased, concave), concave)
    laid = lay_over(opening_of(wanted, fit), fit)
    assert laid.smallest_gap == pytest.approx(line, abs=1e-5)
    assert laid.largest_gap == pytest.approx(line, abs=1e-5)
    # A sharp corner of 90° that comes out with radius r is r (√2 - 1) away; one that was eased by less, in proportion.
    short = max(0.0, fit.smallest_convex - convex), max(0.0, fit.smallest_concave - concave)
    assert deviation(laid.recess, wanted) == pytest.approx(max(short) * (math.sqrt(2) - 1), abs=1e-4)


@pytest.mark.parametrize("seed", range(30))
def test_random_outlines(seed: int) -> None:
    """Any outline, any two pairs that fit: recess and plug differ by the glue line, neither more nor less."""
    chance = random.Random(seed)
    corners = chance.randint(3, 14)
    turns = [2 * math.pi * (i + chance.uniform(-0.3, 0.3)) / corners for i in range(corners)]
    reach = [chance.uniform(12, 70) for _ in turns]
    drawn = Outline.polygon([(r * math.cos(a), r * math.sin(a)) for a, r in zip(turns, reach, strict=True)])
    bit, line = chance.choice([3, 3.175, 5, 6, 6.35]), chance.choice([0, 0.05, 0.1, 0.2])
    plug = Pair(chance.choice([3, 3.175, 5, 6]), chance.choice([8, 9.525, 10, 12.7]))
    fit = Fit(Pair(bit, plug.bushing + plug.bit + bit - 2 * line), plug, line)
    laid = lay_over(opening_of(regions(drawn), fit), fit)
    assert laid.recess
    assert laid.smallest_gap == pytest.approx(line, abs=1e-6)
    assert laid.largest_gap <= line + 1e-6


def clipped(paths: list[np.ndarray], distance: float) -> "shapely.Geometry":
    """Closed paths offset by Clipper: coordinates in nanometres, arcs to a tenth of a micrometre."""
    engine = pyclipr.ClipperOffset()
    engine.scaleFactor = 1_000_000
    engine.arcTolerance = 100.0
    engine.addPaths(paths, pyclipr.JoinType.Round, pyclipr.EndType.Polygon)
    return shapely.union_all([shapely.Polygon(np.array(p)[:, :2]) for p in engine.execute(distance)])


def flat(area: "shapely.Geometry") -> list[np.ndarray]:
    return [shapely.get_coordinates(part.exterior)[:-1] for part in shapely.get_parts(area)]


@pytest.mark.parametrize("name", ["key", "star", "hexagon"])
def test_clipper_lays_the_same(name: str, polygon_of: Callable[..., "shapely.Geometry"]) -> None:
    """Both routed by another engine, step by step, from the opening on: bushing first, then the bit."""
    fit = Fit(Pair(6, 20), Pair(5, 9.4), 0.2)
    opening = opening_of(regions(SHAPES[name]), fit)
    laid = lay_over(opening, fit)
    start = [np.array(region.outer.flattened(1e-4)) for region in opening]
    recess = clipped(flat(clipped(start, -10.0)), 3.0)
    plug = clipped(flat(clipped(start, -4.7)), -2.5)
    for ours, other in ((laid.recess, recess), (laid.plug, plug)):
        film = shapely.symmetric_difference(polygon_of(ours, 1e-4), other, grid_size=1e-7)
        assert shapely.buffer(film, -2e-3).is_empty


def test_a_router_led_round_leaves_the_same_plug(polygon_of: Callable[..., "shapely.Geometry"]) -> None:
    """The bit's circle stamped 4,000 times along the way of the bushing's middle: what stays inside is the plug."""
    opening = opening_of(regions(SHAPES["key"]), FIT)
    way = shapely.buffer(polygon_of(opening, 1e-4), -5.0, quad_segs=400)
    stamps = [way.exterior.interpolate(i / 4000, normalized=True).buffer(2.5, quad_segs=60) for i in range(4000)]
    left = shapely.difference(way, shapely.union_all(stamps))
    largest = max(shapely.get_parts(left), key=lambda part: part.area)
    film = shapely.symmetric_difference(largest, polygon_of(plug_of(opening, FIT), 1e-4))
    assert shapely.buffer(film, -0.02).is_empty


def test_a_neck_that_only_the_smaller_bushing_passes() -> None:
    """Two rounds joined by a neck: the recess's bushing cannot pass it, the plug's can, and the plug overlaps."""
    # The bushing stands in each round; between them the opening stays open by 2 √(10² - 9.5²) = 6.24 mm, and with an
    # offset of 2 mm a plug with a neck of 2.24 mm comes out where no recess is.
    fit = Fit(Pair(16, 20), Pair(1, 3))
    opening = grow((*_point(0.0), *_point(19.0)), 10.0)
    laid = lay_over(opening, fit)
    assert (len(laid.recess), len(laid.plug)) == (2, 1)
    assert laid.overlap_area > 0.1
    assert laid.smallest_gap < -0.3


def _point(x: float) -> Regions:
    """A single place as a degenerate region."""
    return shrink(regions(Outline.circle(Point(x, 0), 10)), 10.0)


def test_a_neck_too_narrow_for_the_groove() -> None:
    """A dumb-bell whose bar is narrower than two gaps: the recess is one, the plug falls into two."""
    bar = Outline.polygon([(-30, -1.6), (30, -1.6), (30, 1.6), (-30, 1.6)])
    ends = [Outline.circle(Point(x, 0), 12) for x in (-30, 30)]
    cut = _united([bar, *ends])
    fit = Fit(Pair(3, 20), Pair(7, 14))  # 2 mm too loose
    laid = lay_over(opening_of(cut, fit), fit)
    assert (len(laid.recess), len(laid.plug)) == (1, 2)
    assert laid.largest_gap > 2.5
    assert laid.overlap_area < 1e-6


def _united(outlines: list[Outline]) -> Regions:
    """The union, by growing a hair and shrinking it again."""
    return shrink(grow(tuple(Region(one) for one in outlines), 0.5), 0.5)


def test_nothing_stays_standing() -> None:
    """Where bushing and bit are as wide as the opening the plug is empty: gaps infinite, nothing overlaps."""
    fit = Fit(Pair(5, 20), Pair(8, 20))
    laid = lay_over(opening_of(regions(slot(40, 12)), fit), fit)
    assert laid.plug == ()
    assert (laid.smallest_gap, laid.largest_gap) == (math.inf, math.inf)
    assert (laid.overlap_area, laid.open_area) == (0.0, pytest.approx(28 * 12 + 36 * math.pi, abs=1e-6))
    numbers = laid.as_json()
    assert (numbers["smallest_gap"], numbers["largest_gap"], numbers["plug_parts"]) == (None, None, 0)
    assert smallest_gap((), laid.recess) == math.inf


def test_a_plug_as_thin_as_a_line_is_none() -> None:
    """An opening exactly as wide as bushing and bit leaves a line, of which nothing stays standing."""
    assert plug_of(regions(slot(60, 15)), FIT) == ()


@pytest.mark.parametrize("name", ["ellipse", "rectangle"])
def test_a_second_template_repeats_the_first(name: str) -> None:
    """(3/8, 1/8) round the first and (3/4, 1/4) in the second: the cut is the first, corners of 1/8 in and more."""
    fit = Fit(Pair(6.35, 19.05), Pair(3.175, 9.525))
    first = regions({**SHAPES, "rectangle": rectangle(80, 50, 3.175)}[name])
    laid = lay_over_first(first, fit)
    assert laid.largest_gap < 1e-6
    # the opening is (3/8 + 1/8) / 2 = 1/4 in larger all round
    assert second_opening(first, fit)[0].bounds.width == pytest.approx(first[0].bounds.width + 12.7)


def test_a_second_template_that_misses() -> None:
    """5/8 in for 3/4 in in the second: its cut is 1/16 in larger than the first all round."""
    fit = Fit(Pair(6.35, 15.875), Pair(3.175, 9.525))
    laid = lay_over_first(regions(Outline.circle(Point(0, 0), 30)), fit)
    assert (laid.smallest_gap, laid.largest_gap) == (pytest.approx(1.5875), pytest.approx(1.5875))
