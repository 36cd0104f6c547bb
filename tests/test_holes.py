"""Screw holes: where every pattern puts them, and how wide each kind of hole is."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from jigtemplates.geometry.outline import Point
from jigtemplates.holes import Hole, countersink_depth, hole_diameters, screw_holes
from jigtemplates.parameters.job import Job, Screws

JobWith = Callable[..., Job]


def centres(job_with: JobWith, **screws: Any) -> list[tuple[float, float]]:
    """Where the holes are on a plate of 140 x 90."""
    plate = {"height": 90, "screws": {"size": "M5", **screws}}
    return [(hole.center.x, hole.center.y) for hole in screw_holes(job_with(plate=plate).plate)]


def screws(job_with: JobWith, **changes: Any) -> Screws:
    """The screws of a job's plate."""
    found = job_with(plate={"screws": {"pattern": "corners", "size": "M5", "inset": 10, **changes}}).plate.screws
    assert found is not None
    return found


def test_no_screws(job_with: JobWith) -> None:
    """A plate without screws has no holes."""
    assert screw_holes(job_with(plate={"screws": None}).plate) == ()


def test_corners(job_with: JobWith) -> None:
    """In from both edges, counter-clockwise from the lower left."""
    assert centres(job_with, pattern="corners", inset=10) == [(10, 10), (130, 10), (130, 80), (10, 80)]


def test_edges(job_with: JobWith) -> None:
    """In the middle of each edge: lower, right, upper, left."""
    assert centres(job_with, pattern="edges", inset=8) == [(70, 8), (132, 45), (70, 82), (8, 45)]


def test_ring(job_with: JobWith) -> None:
    """Four on a circle of 80 about the middle, counter-clockwise from the right."""
    assert centres(job_with, pattern="ring", count=4, diameter=80) == [(110, 45), (70, 85), (30, 45), (70, 5)]


def test_ring_from_another_angle(job_with: JobWith) -> None:
    """Three from 30 degrees on: at 30, 150 and 270 degrees; 30 cos 30 = 25.980762."""
    expected = [(95.980762, 60), (44.019238, 60), (70, 15)]
    found = centres(job_with, pattern="ring", count=3, diameter=60, start_angle=30)
    assert found == [pytest.approx(p, abs=1e-6) for p in expected]


def test_points(job_with: JobWith) -> None:
    """Where they were written, in that order, in the units they were written in."""
    assert centres(job_with, pattern="points", points=[[100, 20], ["1 in", 30]]) == [(100, 20), (25.4, 30)]


@pytest.mark.parametrize(("fit", "diameter"), [("fine", 5.3), ("medium", 5.5), ("coarse", 5.8)])
def test_clearance_holes(job_with: JobWith, fit: str, diameter: float) -> None:
    """M5 fine, medium and coarse (ISO 273, quoted in Machinery's Handbook 31st ed., p. 2173)."""
    assert hole_diameters(screws(job_with, fit=fit)) == (diameter, None)


def test_how_deep_a_countersink_is(job_with: JobWith) -> None:
    """A clearance hole has none; a metric head has 90 degrees, a wood screw's 82 and a hole of 4.5 mm (#8, medium)."""
    plain = Hole(Point(0, 0), 5.5)
    assert countersink_depth(plain, screws(job_with)) == 0
    metric = Hole(Point(0, 0), 5.5, 11.2)
    assert countersink_depth(metric, screws(job_with, hole="countersunk")) == pytest.approx(2.85)
    assert countersink_depth(metric, None) == pytest.approx(2.85)
    wood = Hole(Point(0, 0), 4.5, 8.4328)  # 0.332 in, flat head #8
    found = countersink_depth(wood, screws(job_with, size="#8", hole="countersunk"))
    assert found == pytest.approx((8.4328 - 4.5) / 2 / 0.8692867, 1e-6)


def test_countersunk_holes(job_with: JobWith) -> None:
    """A clearance hole with the head's sharp diameter, M5 11.2 mm (ISO 10642, quoted)."""
    assert hole_diameters(screws(job_with, hole="countersunk")) == (5.5, 11.2)
    assert hole_diameters(screws(job_with, hole="countersunk", fit="fine")) == (5.3, 11.2)


def test_tapped_holes(job_with: JobWith) -> None:
    """The drill for the thread, M5 4.2 mm (ISO 2306, quoted), whatever the fit."""
    assert hole_diameters(screws(job_with, hole="tapped", fit="coarse")) == (4.2, None)


@pytest.mark.parametrize(("hole", "missing"), [("tapped", "tapping"), ("countersunk", "head")])
def test_a_screw_that_lacks_the_hole(job_with: JobWith, hole: Any, missing: str) -> None:
    """The parameters refuse it; whoever builds one by hand is told so."""
    known = screws(job_with)
    bare = replace(known, hole=hole, screw=known.screw.model_copy(update={missing: None}))
    with pytest.raises(ValueError, match="the parameters refuse this"):
        hole_diameters(bare)


def test_outline_and_rim() -> None:
    """The outline is the through hole, the rim what the head takes up."""
    sunk, plain = Hole(Point(10, 20), 5.5, 11.2), Hole(Point(10, 20), 5.5)
    assert sunk.outline.bounds == (7.25, 17.25, 12.75, 22.75)
    assert sunk.rim.bounds == pytest.approx((4.4, 14.4, 15.6, 25.6))
    assert plain.rim == plain.outline
