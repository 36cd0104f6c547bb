"""What carries the router's base, against sums by hand, plain counting, and laws."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.bench import MOST, Ride, Support, places_on, ride_of, ride_over
from jigtemplates.checks.finding import Case
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle, slot
from jigtemplates.parameters.job import Job
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on
from jigtemplates.routing import predict
from jigtemplates.template import make_template

ReportWith = Callable[..., Report]

#: A base of 96 corners has 0.07 % less area than its circle, and its rim is 0.03 mm within that of 50 mm.
SHARE, MARGIN = 1e-3, 0.05

HALF_PLANE = shapely.box(0, -500, 500, 500)


def at(x: float, y: float = 0.0) -> Regions:
    """A path that is one point."""
    return (Region(Outline.circle(Point(x, y), 0.0)),)


def line(length: float) -> Regions:
    """A path there and back along x."""
    return (Region(Outline.polygon([(-length / 2, 0), (length / 2, 0)])),)


def worst(case: Case) -> Support | None:
    """The place where the router is nearest to tipping."""
    return None if case.ride is None else case.ride.nearest_to_tipping


def segment(h: float, r: float) -> float:
    """Part of a circle cut off at a distance h from its middle: area r² acos(h/r) - h sqrt(r² - h²) (memory)."""
    return (r * r * math.acos(h / r) - h * math.sqrt(r * r - h * h)) / (math.pi * r * r)


def test_half_over_an_edge() -> None:
    """A round base with its middle on a straight edge: half of it is carried, and it is on the point of tipping."""
    support = ride_over(HALF_PLANE, at(0), 100).nearest_to_tipping
    assert support.share == pytest.approx(0.5, abs=SHARE)
    assert support.margin == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("h", [10, 25, 40])
def test_near_an_edge(h: float) -> None:
    """The circular segment that overhangs is not carried; the middle is as far inside as it is from the edge."""
    inside = ride_over(HALF_PLANE, at(h), 100).nearest_to_tipping
    outside = ride_over(HALF_PLANE, at(-h), 100).nearest_to_tipping
    assert inside.share == pytest.approx(1 - segment(h, 50), abs=SHARE)
    assert outside.share == pytest.approx(segment(h, 50), abs=SHARE)
    assert (inside.margin, outside.margin) == pytest.approx((h, -h), abs=1e-9)


def test_a_handbook_segment() -> None:
    """At half the radius the segment is 0.1955 of the circle (h/d = 0.25: 0.15355 d², handbooks' tables, memory)."""
    assert segment(25, 50) == pytest.approx(0.15355 / (math.pi / 4), abs=1e-5)


def test_at_a_corner() -> None:
    """Over a right corner a quarter is carried; so is of a base with a hole in it."""
    quarter = shapely.box(0, 0, 500, 500)
    for hole in (0, 40):
        support = ride_over(quarter, at(0), 100, hole=hole).nearest_to_tipping
        assert support.share == pytest.approx(0.25, abs=SHARE)
    assert ride_over(quarter, at(0), 100).nearest_to_tipping.margin == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("half", "reach"), [(30, 40), (40, 30), (14, 48)])
def test_astride_a_gap(half: float, reach: float) -> None:
    """Two segments carry beside a gap; the hull between them ends at their corners: 30-40-50, 14-48-50."""
    sides = shapely.union(shapely.box(-500, half, 500, 500), shapely.box(-500, -500, 500, -half))
    support = ride_over(sides, at(0), 100).nearest_to_tipping
    assert support.share == pytest.approx(2 * segment(half, 50), abs=SHARE)
    assert support.margin == pytest.approx(reach, abs=MARGIN)


def test_carried_all_over() -> None:
    """On a wide plate all of it is carried, and the middle is a radius within."""
    support = ride_over(shapely.box(-500, -500, 500, 500), at(0), 100, hole=40).nearest_to_tipping
    assert support.share == pytest.approx(1, abs=1e-12)
    assert support.margin == pytest.approx(50, abs=MARGIN)


@pytest.mark.parametrize("place", [-51, -500])
def test_carried_nowhere(place: float) -> None:
    """Off the plate nothing is carried, and the middle is a radius outside."""
    support = ride_over(HALF_PLANE, at(place), 100).nearest_to_tipping
    assert (support.share, support.margin, support.carried) == (0, -50, ())


def test_against_counting() -> None:
    """Share in a plate with a slot, by counting the points of a fine grid one by one."""
    plate = shapely.difference(shapely.box(-70, -60, 50, 60), shapely.box(-40, -6, 30, 6))
    support = ride_over(plate, at(20, 4), 110, hole=30).nearest_to_tipping
    steps = np.arange(-60, 60, 0.1) + 0.05
    x, y = np.meshgrid(steps, steps)
    away = np.hypot(x, y)
    face = (away < 55) & (away > 15)
    x, y = x + 20, y + 4
    under = face & (x > -70) & (x < 50) & (y > -60) & (y < 60) & ~((x > -40) & (x < 30) & (y > -6) & (y < 6))
    assert support.share == pytest.approx(under.sum() / face.sum(), abs=1.5e-3)


def test_worst_place_of_a_slot() -> None:
    """Along a slot the base is worst off at an end; of two equal ends the left one is named."""
    plate = shapely.box(-100, -80, 100, 80)
    ride = ride_over(plate, line(120), 150)
    assert ride.nearest_to_tipping.position == pytest.approx((-60, 0))
    assert ride.nearest_to_tipping.margin == pytest.approx(40, abs=1e-6)
    assert ride.least_carried.position == pytest.approx((-60, 0))


def test_two_worst_places() -> None:
    """Nearest to tipping is 10 mm from an edge; least carried is astride a gap of 70 mm, 35.7 mm from its hull."""
    plate = shapely.difference(shapely.box(-60, -500, 600, 500), shapely.box(89.9, -35, 190.1, 35))
    ride = ride_over(plate, (Region(Outline.polygon([(-50, 0), (140, 0)])),), 100)
    assert ride.nearest_to_tipping.position == (-50, 0)
    assert ride.nearest_to_tipping.margin == pytest.approx(10)
    assert ride.nearest_to_tipping.share == pytest.approx(1 - segment(10, 50), abs=SHARE)
    assert ride.least_carried.position == (140, 0)
    assert ride.least_carried.share == pytest.approx(2 * segment(35, 50), abs=SHARE)
    assert ride.least_carried.margin == pytest.approx(math.sqrt(50**2 - 35**2), abs=MARGIN)


def test_what_is_carried() -> None:
    """The carried part is an area of the base with its hole, and the base is the circle there."""
    support = ride_over(HALF_PLANE, at(30, 5), 80, hole=20).nearest_to_tipping
    assert support.base == Outline.circle(Point(30, 5), 40)
    (part,) = support.carried
    assert part.area == pytest.approx(support.share * math.pi * (40**2 - 10**2), rel=SHARE)
    assert part.outer.is_ccw
    assert [hole.is_ccw for hole in part.holes] == [False]
    assert part.bounds.left == pytest.approx(0)


def test_places_on_a_line() -> None:
    """Both ends, and places no more than 5 mm apart."""
    places = places_on(line(23))
    assert [tuple(p) for p in places[[0, -1]]] == [(-11.5, 0), (11.5, 0)]
    assert np.diff(places[:, 0]).max() <= 5


def test_places_on_a_long_line() -> None:
    """A path of metres is looked at in about a hundred steps."""
    assert MOST / 2 <= len(places_on(line(3000))) <= MOST + 4


def test_places_within() -> None:
    """A wide path is looked at inside too, no further apart than 10 mm; a narrow one on its rim only."""
    wide = places_on((Region(rectangle(60, 40)),))
    inside = [tuple(p) for p in wide if abs(p[0]) < 30 and abs(p[1]) < 20]
    assert sorted(inside) == [(x, y) for x in range(-25, 30, 10) for y in range(-15, 20, 10)]
    narrow = places_on((Region(slot(60, 9)),))
    rim = shapely.LinearRing(slot(60, 9).flattened(1e-4))
    assert max(shapely.distance(rim, shapely.points(narrow))) < 1e-3


def test_places_on_a_slanting_line() -> None:
    """A line there and back has nothing within, however wide the box round it is."""
    slanting = (Region(Outline.polygon([(0, 0), (300, 200)])),)
    places = places_on(slanting)
    assert places[:, 1] == pytest.approx(places[:, 0] * 2 / 3, abs=1e-5)


def test_a_large_path_has_few_places() -> None:
    """However large a path is, it is looked at in a few hundred places."""
    assert len(places_on((Region(rectangle(2000, 1000)),))) < 4 * MOST


sizes = st.floats(20, 200).map(lambda x: round(x, 1))
shifts = st.floats(-60, 60).map(lambda x: round(x, 1))


@settings(max_examples=40, deadline=None)
@given(width=sizes, height=sizes, more=st.tuples(*[st.floats(0, 40)] * 4), length=sizes, base=sizes)
def test_a_larger_plate_never_carries_less(
    width: float, height: float, more: tuple[float, ...], length: float, base: float
) -> None:
    """Wherever plate is added, no place of the base loses share or margin."""
    opening = shapely.box(-length / 4, -6, length / 4, 6)
    plates = [
        shapely.box(-width / 2 - left, -height / 2 - down, width / 2 + right, height / 2 + up)
        for left, down, right, up in ((0, 0, 0, 0), more)
    ]
    small, large = (ride_over(shapely.difference(plate, opening), line(length / 2), base) for plate in plates)
    assert (large.shares - small.shares >= -1e-9).all()
    assert (large.margins - small.margins >= -1e-6).all()
    assert large.nearest_to_tipping.margin >= small.nearest_to_tipping.margin - 1e-6


@settings(max_examples=30, deadline=None)
@given(dx=shifts, dy=shifts, x=shifts, base=sizes, hole=st.floats(0, 0.9))
def test_limits_and_shifts(dx: float, dy: float, x: float, base: float, hole: float) -> None:
    """Shares lie in 0 to 1 and margins within a radius; moved all together, nothing changes."""
    plate = shapely.difference(shapely.box(-60, -40, 60, 40), shapely.box(-20, -7, 20, 7))
    moved = shapely.transform(plate, lambda points: points + np.array([dx, dy]))
    one, other = (
        ride_over(plate, at(x), base, hole=base * hole),
        ride_over(moved, at(x + dx, dy), base, hole=base * hole),
    )
    assert 0 <= one.shares[0] <= 1
    assert -base / 2 <= one.margins[0] <= base / 2
    assert other.shares == pytest.approx(one.shares, abs=1e-6)
    assert other.margins == pytest.approx(one.margins, abs=1e-5)


# A job on the bench.

COMPACT, LARGE = "generic compact plunge", "generic large plunge, flat side"


def ride(report: Report) -> Ride:
    """The base all over a job's opening."""
    found = ride_of(report.case)
    assert found is not None
    return found


def test_a_job(report_with: ReportWith) -> None:
    """The plan's slot, 50 mm with a 3/8 in bit: the bushing's middle ends 20.2375 mm from the plate's middle."""
    cut = {"width": "3/8 in"}
    support = worst(report_with(cut=cut, tools={"router": COMPACT, "clearance": 0}).case)
    assert support is not None
    assert support.position == pytest.approx((70 - 20.2375, 70), abs=1e-4)
    assert support.margin == pytest.approx(70 - 20.2375, abs=1e-3)  # the plate's left edge
    assert support.base.bounds.width == pytest.approx(115)


def test_hole_in_the_base(report_with: ReportWith) -> None:
    """The hole of 32 mm in the base, and at least the bushing, is no part of the face."""
    wide = {"plate": {"width": 400, "height": 400}, "cut": {"shape": "round", "diameter": 10, "depth": 10}}
    report = report_with(**wide, tools={"router": COMPACT, "clearance": 0})
    assert ride(report).least_carried.share == pytest.approx(1, abs=1e-12)  # the opening is within the hole
    report = report_with(**wide, tools={"router": COMPACT, "bit": "3/8 in", "bushing": 40, "clearance": 0})
    assert ride(report).least_carried.share == pytest.approx(0.99671, abs=1e-4)  # all but the play:
    # the opening of 40.475 mm less the bushing is 38.2 / (115² - 40²) of the face


def test_rectangular_base(report_with: ReportWith) -> None:
    """Of a base of 165 x 145 mm the circle of 145 mm counts."""
    assert ride(report_with(tools={"router": LARGE})).radius == 72.5


def test_nothing_to_carry(report_with: ReportWith) -> None:
    """No router, or a bit that leaves no opening: nothing to say."""
    assert worst(report_with().case) is None
    assert worst(report_with(tools={"router": COMPACT, "bit": 12}).case) is None


def test_mirrored(report_with: ReportWith) -> None:
    """A cut at the left has its worst place at the left, and mirrored at the right."""
    left = worst(report_with(cut={"x": 50}, tools={"router": COMPACT}).case)
    right = worst(report_with(cut={"x": 50}, tools={"router": COMPACT}, make={"mirrored": True}).case)
    assert left is not None
    assert right is not None
    assert left.position.x < 50
    assert left.position.x + right.position.x == pytest.approx(140)
    assert left.margin == pytest.approx(right.margin, abs=1e-3)


HOLDERS = """\
units = "mm"
[holders."frame"]
width = 140
height = 140
play = 0
depth = 6
frame = {}
"""


@pytest.mark.parametrize(
    ("frame", "thickness", "margin"),
    [
        (5, 6, 54.8),  # 49.7625 to the plate's left edge, and 5 mm of frame
        (30, 6, 57.5),  # the whole radius
        (30, 6.1, 57.5),
        (30, 6.11, 49.8),
        (30, 5.89, 49.8),
    ],
)
def test_holders_frame(
    job_with: Callable[..., Job], tmp_path: Any, frame: float, thickness: float, margin: float
) -> None:
    """A frame that lies flush with the plate, within 0.1 mm, carries too."""
    (tmp_path / "own.toml").write_text(HOLDERS.format(frame), encoding="utf-8")
    plate = {"holder": "frame", "width": None, "height": None, "thickness": thickness, "material": None}
    tools = {"router": COMPACT, "clearance": 0}
    job = job_with(profiles=Profiles([tmp_path]), plate=plate, tools=tools, cut={"width": "3/8 in"})
    support = worst(report_on(job).case)
    assert support is not None
    assert support.margin == pytest.approx(margin, abs=0.05)


def test_path_of_the_prediction(job_with: Callable[..., Job]) -> None:
    """The prediction keeps where the bushing's middle can be: cut less bit, 40.475 x 0.475 mm."""
    made = predict(make_template(job_with()))
    assert made is not None
    (region,) = made.path
    assert (region.bounds.width, region.bounds.height) == pytest.approx((40.475, 0.475), abs=1e-6)
