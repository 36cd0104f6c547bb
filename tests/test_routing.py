"""What routing an opening makes: size, deviation, what stays standing; laws; another engine."""

import math
from collections.abc import Callable
from typing import Any

import pyclipr  # type: ignore[import-untyped]
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.geometry.measure import deviation, total_area
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle, slot
from jigtemplates.parameters.job import Job
from jigtemplates.routing import PredictedCut, left_standing, predict, route
from jigtemplates.template import make_template

JobWith = Callable[..., Job]

#: Concave, without any symmetry.
L_SHAPE = Outline.polygon([(0, 0), (60, 0), (60, 25), (24, 25), (24, 70), (0, 70)])


def made(job: Job) -> PredictedCut:
    """The predicted cut, which must be there."""
    found = predict(make_template(job))
    assert found is not None
    return found


def test_the_plans_job(job_with: JobWith) -> None:
    """10 x 50 comes out as asked: no deviation, nothing left standing."""
    cut = made(job_with())
    assert (cut.width, cut.length) == pytest.approx((10, 50), abs=1e-9)
    assert cut.max_deviation < 1e-9
    assert cut.unreachable_area == 0


def test_a_trapped_cut(job_with: JobWith) -> None:
    """As wide as the bit with 0.1 mm clearance: 0.05 mm to each side, nothing left standing."""
    cut = made(job_with(cut={"width": "3/8 in"}))
    assert (cut.width, cut.length) == pytest.approx((9.625, 50), abs=1e-9)
    assert cut.max_deviation == pytest.approx(0.05, abs=1e-6)
    assert cut.unreachable_area == 0


def test_square_corners(job_with: JobWith) -> None:
    """A square corner keeps (4 - pi) / 4 b² of wood, b (sqrt 2 - 1) deep; b = 4.7625 mm."""
    cut = made(job_with(cut={"shape": "rectangle", "width": 20, "length": 50, "depth": 5}))
    assert (cut.width, cut.length) == pytest.approx((20, 50), abs=1e-9)
    # 4.7625 * 0.414213562 = 1.972692; 0.858407346 * 22.68140625 = 19.469886
    assert cut.max_deviation == pytest.approx(1.972692, abs=1e-6)
    assert cut.unreachable_area == pytest.approx(19.469886, abs=1e-6)


def test_square_corners_of_a_widened_cut(job_with: JobWith) -> None:
    """A trapped rectangle keeps its corners too: (4 - pi) b² less what the 0.05 mm a side take away."""
    cut = made(job_with(cut={"shape": "rectangle", "width": "3/8 in", "length": 50, "depth": 5}))
    assert (cut.width, cut.length) == pytest.approx((9.625, 50), abs=1e-9)
    # One corner: the arc begins h = 0.05 mm outside the edge, so of (4 - pi) / 4 b² there stays
    # the integral of b - sqrt(b² - u²) over u from 0 to b - h, less h times the part above h: by hand
    # with b = 4.7625: u0 = sqrt(2 b h - h²), area = integral of (b - sqrt(b² - u²) - h) from u0 to b.
    b, h = 4.7625, 0.05
    u0 = math.sqrt(2 * b * h - h * h)
    under_arc = (math.pi * b * b / 4) - (u0 * math.sqrt(b * b - u0 * u0) + b * b * math.asin(u0 / b)) / 2
    corner = (b - h) * (b - u0) - under_arc
    assert cut.unreachable_area == pytest.approx(4 * corner, abs=1e-3)


def test_no_opening_makes_no_cut(job_with: JobWith) -> None:
    """Nothing is predicted where the bit does not fit."""
    assert predict(make_template(job_with(cut={"width": 9}))) is None


@pytest.mark.parametrize(
    ("opening", "bushing", "bit", "cut"),
    [
        (13.5, 13, 9.5, 10),  # common practice: 13 and 9.5 mm make a 10 mm mortise in an opening of 13.5 mm
        (9.525, 9.525, 6.35, 6.35),  # common practice: 3/8 in opening, 1/4 in mortise, one pass
        (12.7, 12.7, 9.525, 9.525),  # woodworking forum, read: slot 1/2 in wide for a mortise 3/8 in wide
        (40, 30, 10, 20),  # HolzWerken, read: 30 mm bushing and 10 mm bit, offset 10 mm a side
    ],
)
def test_published_openings(opening: float, bushing: float, bit: float, cut: float) -> None:
    """An opening of the published width makes the published cut."""
    routed = route((Region(slot(60, opening)),), bit, bushing)
    assert routed[0].bounds.height == pytest.approx(cut, abs=1e-9)
    assert routed[0].bounds.width == pytest.approx(60 - bushing + bit, abs=1e-9)


def test_a_bushing_that_does_not_go_in() -> None:
    """A bushing wider than the opening makes nothing; through a neck it makes two separate cuts."""
    assert route((Region(slot(60, 12)),), 6, 12.7) == ()
    dumbbell = Outline.polygon(
        [(0, 0), (20, 0), (20, 8), (40, 8), (40, 0), (60, 0), (60, 20), (40, 20), (40, 13), (20, 13), (20, 20), (0, 20)]
    )
    # In the mouth of the neck the bushing comes as far as both corners let it: 5² = 2.5² + 4.330127²,
    # so its middle stops 4.330127 before x = 20 and the bit's edge 2 further on.
    assert [r.bounds for r in route((Region(dumbbell),), 4, 10)] == [
        pytest.approx((3, 3, 17.669873, 17), abs=1e-6),
        pytest.approx((42.330127, 3, 57, 17), abs=1e-6),
    ]


def test_against_another_engine() -> None:
    """Clipper, shrinking and growing the same L-shape, finds the same area to 0.01 mm²."""
    shrunk = _clipped([L_SHAPE.flattened(1)], -6.35)
    other = sum(abs(_shoelace(path)) for path in _clipped(shrunk, 4.7625))
    assert total_area(route((Region(L_SHAPE),), 9.525, 12.7)) == pytest.approx(other, abs=0.01)


def _clipped(paths: Any, delta: float) -> Any:
    engine = pyclipr.ClipperOffset()
    engine.scaleFactor, engine.arcTolerance = 10_000, 1.0  # the tolerance is in scaled units
    engine.addPaths([list(map(tuple, path)) for path in paths], pyclipr.JoinType.Round, pyclipr.EndType.Polygon)
    return engine.execute(delta)


def _shoelace(path: Any) -> float:
    points = [(float(x), float(y)) for x, y in path]
    following = points[1:] + points[:1]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, following, strict=True)) / 2


def test_left_standing() -> None:
    """What is wanted and not routed, holes counted; nothing where all is routed."""
    wanted, routed = (Region(rectangle(20, 10)),), (Region(rectangle(12, 10)),)
    assert left_standing(wanted, routed) == pytest.approx(80)
    assert left_standing(wanted, wanted) == 0
    ring = (Region(rectangle(20, 10), (Outline.circle(Point(0, 0), 3, -1),)),)
    assert left_standing(wanted, ring) == pytest.approx(9 * math.pi, abs=1e-3)


def turned(regions: Regions, degrees: float) -> Regions:
    """The outer rings, turned about the origin."""
    return tuple(Region(r.outer.rotated(degrees)) for r in regions)


@given(degrees=st.floats(-180, 180), bit=st.floats(3, 12), wall=st.floats(0.5, 10))
@settings(max_examples=30, deadline=None)
def test_routing_commutes_with_turning(degrees: float, bit: float, wall: float) -> None:
    """Law: routing a turned opening makes the turned cut, to a micrometre."""
    degrees = round(degrees, 6)
    here = turned(route((Region(L_SHAPE),), bit, bit + wall), degrees)
    there = route(turned((Region(L_SHAPE),), degrees), bit, bit + wall)
    assert deviation(here, there) < 1e-3
    assert total_area(here) == pytest.approx(total_area(there), abs=1e-4)


@given(corner=st.floats(0, 4.7), bushing=st.floats(11, 30))
@settings(max_examples=30, deadline=None)
def test_corners_tighter_than_the_bit(job_with: JobWith, corner: float, bushing: float) -> None:
    """Law: corners of r < b fall (b - r)(sqrt 2 - 1) short and keep (4 - pi)(b² - r²), whatever the bushing."""
    corner, bushing, b = round(corner, 3), round(bushing, 3), 4.7625
    shape = {"shape": "rectangle", "width": 30, "length": 50, "corner_radius": corner, "depth": 5}
    cut = made(job_with(cut=shape, tools={"bushing": bushing}, plate={"label": False, "screws": None}))
    assert cut.max_deviation == pytest.approx((b - corner) * (math.sqrt(2) - 1), abs=1e-5)
    assert cut.unreachable_area == pytest.approx((4 - math.pi) * (b * b - corner * corner), abs=1e-5)


def test_what_is_left_standing_round_holes_of_different_kinds() -> None:
    """Two islands with different numbers of corners are taken off by their areas: 100 - 4 - pi/4 stays to be routed."""
    holes = (
        Outline.polygon([(1, 1), (1, 3), (3, 3), (3, 1)]),
        Outline.circle(Point(7, 7), 0.5, -1),
    )
    wanted = (Region(Outline.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]), holes),)
    assert left_standing(wanted, ()) == pytest.approx(96 - math.pi / 4, abs=1e-4)
