"""Laser and CNC drawings: roles, order, true outlines, and the kerf by role."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.drawing import Drawing, Role, Stroke
from jigtemplates.geometry.outline import Arc, Line, Outline
from jigtemplates.parameters.job import Job
from jigtemplates.processes.machine import cnc_drawing, laser_drawing
from jigtemplates.template import make_template

JobWith = Callable[..., Job]

SUNK = {"pattern": "corners", "size": "M5", "inset": 12, "hole": "countersunk"}


def outlines(drawing: Drawing, role: Role) -> list[Outline]:
    """The outlines of one role."""
    return [i.shape for i in drawing.items if i.role is role and isinstance(i.shape, Outline)]


def one(drawing: Drawing, role: Role) -> Outline:
    """The only outline of that role."""
    (found,) = outlines(drawing, role)
    return found


def drawn(job_with: JobWith, kerf: float = 0.0, **tables: Any) -> tuple[Drawing, Drawing]:
    """Laser and CNC drawing of a job."""
    template = make_template(job_with(**tables))
    return laser_drawing(template, kerf), cnc_drawing(template)


def test_order_of_work(job_with: JobWith) -> None:
    """Marks, engraving, countersinks, holes, opening; the plate's own outline last."""
    _, cnc = drawn(job_with, plate={"screws": SUNK})
    roles = [item.role for item in cnc.items]
    assert list(dict.fromkeys(roles)) == [
        Role.MARK, Role.ENGRAVE, Role.POCKET, Role.DRILL, Role.CUT_INSIDE, Role.CUT_OUTSIDE,
    ]  # fmt: skip
    assert [roles.count(r) for r in (Role.POCKET, Role.DRILL, Role.CUT_INSIDE, Role.CUT_OUTSIDE)] == [4, 4, 1, 1]


def test_without_kerf_they_are_alike(job_with: JobWith) -> None:
    """With kerf 0 the laser's drawing is the CNC's: true outlines."""
    laser, cnc = drawn(job_with)
    assert laser == cnc
    assert (cnc.width, cnc.height) == (140, 140)
    assert one(cnc, Role.CUT_OUTSIDE).bounds == pytest.approx((0, 0, 140, 140))
    assert one(cnc, Role.CUT_INSIDE).bounds == pytest.approx((43.4125, 63.4125, 96.5875, 76.5875))


def test_kerf_by_role(job_with: JobWith) -> None:
    """Kerf 0.2: opening and holes 0.1 smaller a side, plate 0.1 larger a side, CNC untouched."""
    laser, cnc = drawn(job_with, 0.2)
    plate, opening = one(laser, Role.CUT_OUTSIDE).bounds, one(laser, Role.CUT_INSIDE).bounds
    assert (plate.width, plate.height) == pytest.approx((140.2, 140.2), abs=1e-9)
    assert (opening.width, opening.height) == pytest.approx((52.975, 12.975), abs=1e-9)  # 53.175, 13.175
    assert [o.bounds.width for o in outlines(laser, Role.DRILL)] == [pytest.approx(5.3)] * 4
    assert [o.bounds.width for o in outlines(cnc, Role.DRILL)] == [pytest.approx(5.5)] * 4
    assert one(cnc, Role.CUT_OUTSIDE).bounds == pytest.approx((0, 0, 140, 140))


def test_kerf_keeps_the_lower_left_corner(job_with: JobWith) -> None:
    """The drawing grows by the kerf, stays at (0, 0), and everything moves with it by half a kerf."""
    laser, cnc = drawn(job_with, 0.2)
    assert (laser.width, laser.height) == pytest.approx((140.2, 140.2), abs=1e-9)
    assert one(laser, Role.CUT_OUTSIDE).bounds == pytest.approx((0, 0, 140.2, 140.2), abs=1e-9)
    assert one(laser, Role.CUT_INSIDE).bounds.center == pytest.approx((70.1, 70.1))
    (before, *_), (after, *_) = (
        [i.shape for i in d.items if i.role is Role.MARK and isinstance(i.shape, Stroke)] for d in (cnc, laser)
    )
    assert [(b.x - a.x, b.y - a.y) for a, b in zip(before.points, after.points, strict=True)] == [
        pytest.approx((0.1, 0.1))
    ] * len(before.points)


def test_square_corners_stay_square(job_with: JobWith) -> None:
    """A kerf leaves a square plate its four corners: four lines and no arc."""
    laser, _ = drawn(job_with, 0.2)
    segments = one(laser, Role.CUT_OUTSIDE).segments
    assert [type(s) for s in segments] == [Line] * 4


@pytest.mark.parametrize(("radius", "grown"), [(8, 8.1), (70, 70.1)])
def test_round_corners_grow(job_with: JobWith, radius: float, grown: float) -> None:
    """A rounded plate's corners grow by half a kerf, up to a plate that is a whole circle."""
    laser, _ = drawn(job_with, 0.2, plate={"corner_radius": radius, "screws": None})
    outline = one(laser, Role.CUT_OUTSIDE)
    assert {round(s.radius, 9) for s in outline.segments if isinstance(s, Arc)} == {grown}
    assert outline.bounds == pytest.approx((0, 0, 140.2, 140.2), abs=1e-9)


def test_what_the_beam_leaves(job_with: JobWith) -> None:
    """Law of the kerf: the plate's area less the opening's grows by half a kerf along both edges."""
    laser, cnc = drawn(job_with, 0.2)
    # Steiner: a slot of straight 40 and ends of r 6.5875 shrinks to r 6.4875
    assert one(cnc, Role.CUT_INSIDE).area == pytest.approx(40 * 13.175 + math.pi * 6.5875**2)
    assert one(laser, Role.CUT_INSIDE).area == pytest.approx(40 * 12.975 + math.pi * 6.4875**2)
    assert one(laser, Role.CUT_OUTSIDE).area == pytest.approx(140.2**2)


def test_no_slivers(job_with: JobWith) -> None:
    """A trapped rectangle has flats of 0.03 mm between its corners: the files have none below 0.05 mm."""
    tables = {
        "cut": {"shape": "rectangle", "width": "3/8 in", "length": 50, "depth": 5},
        "tools": {"clearance": 0.03},
    }
    template = make_template(job_with(**tables))
    assert min(s.length for s in template.opening[0].outer.segments) == pytest.approx(0.03)
    for drawing in drawn(job_with, 0.2, **tables):
        opening = one(drawing, Role.CUT_INSIDE)
        assert min(s.length for s in opening.segments) > 0.05
        assert opening.bounds.height == pytest.approx(12.73 if drawing.width == 140 else 12.53, abs=1e-6)


def test_countersinks_are_pockets(job_with: JobWith) -> None:
    """A countersunk hole is a drill of 5.5 and a pocket of 11.2 about the same middle; M5, ISO 273 and 10642."""
    _, cnc = drawn(job_with, plate={"screws": SUNK})
    drill, pocket = outlines(cnc, Role.DRILL)[0], outlines(cnc, Role.POCKET)[0]
    assert (drill.bounds.width, pocket.bounds.width) == pytest.approx((5.5, 11.2))
    assert drill.bounds.center == pocket.bounds.center == pytest.approx((12, 12))


def test_kerf_leaves_countersinks(job_with: JobWith) -> None:
    """A pocket is not cut through, so the kerf does not change it."""
    laser, _ = drawn(job_with, 0.2, plate={"screws": SUNK})
    assert outlines(laser, Role.POCKET)[0].bounds.width == pytest.approx(11.2)


def test_nothing_lies_outside(job_with: JobWith) -> None:
    """Every item of both drawings lies within the drawing."""
    for drawing in drawn(job_with, 0.3, cut={"angle": 33, "x": 60}):
        for item in drawing.items:
            if isinstance(item.shape, Outline):
                b = item.shape.bounds
                assert min(b.left, b.bottom) >= -1e-9
                assert b.right <= drawing.width + 1e-9
                assert b.top <= drawing.height + 1e-9
            else:
                assert all(0 <= p.x <= drawing.width and 0 <= p.y <= drawing.height for p in item.shape.points)


def test_no_label_no_engraving(job_with: JobWith) -> None:
    """Without a label nothing is engraved, and the marks are still there."""
    _, cnc = drawn(job_with, plate={"label": False})
    roles = {item.role for item in cnc.items}
    assert Role.ENGRAVE not in roles
    assert Role.MARK in roles
