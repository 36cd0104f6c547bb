"""The lines of a paper pattern: all a machine gets, centre lines and the cut itself."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.drawing import Drawing, Role, Stroke
from jigtemplates.geometry.outline import Outline
from jigtemplates.parameters.job import Job
from jigtemplates.processes.pattern import paper_drawing
from jigtemplates.routing import predict
from jigtemplates.template import make_template

JobWith = Callable[..., Job]


def pattern(job_with: JobWith, **tables: Any) -> Drawing:
    """The drawing of a job's pattern."""
    template = make_template(job_with(**tables))
    return paper_drawing(template, predict(template))


def outlines(drawing: Drawing, role: Role) -> list[Outline]:
    """The outlines of one role."""
    return [i.shape for i in drawing.items if i.role is role and isinstance(i.shape, Outline)]


def test_true_outlines(job_with: JobWith) -> None:
    """Plate, opening and holes at their true size, whatever the laser's kerf."""
    drawing = pattern(job_with, make={"kerf": 0.2})
    assert [o.bounds for o in outlines(drawing, Role.CUT_OUTSIDE)] == [pytest.approx((0, 0, 140, 140))]
    assert [o.bounds for o in outlines(drawing, Role.CUT_INSIDE)] == [
        pytest.approx((43.4125, 63.4125, 96.5875, 76.5875))
    ]
    assert [o.bounds.width for o in outlines(drawing, Role.DRILL)] == [pytest.approx(5.5)] * 4
    assert (drawing.width, drawing.height) == (140, 140)


def test_the_cut_and_the_centre_lines(job_with: JobWith) -> None:
    """For reference: the predicted cut in its place, and both centre lines from edge to edge."""
    drawing = pattern(job_with, cut={"x": 60, "y": 50, "angle": 90}, plate={"label": False})
    (cut,) = outlines(drawing, Role.REFERENCE)
    assert cut.bounds == pytest.approx((55, 25, 65, 75), abs=1e-9)
    lines = [i.shape for i in drawing.items if i.role is Role.REFERENCE and isinstance(i.shape, Stroke)]
    ends = [sorted([tuple(s.points[0]), tuple(s.points[-1])]) for s in lines]
    assert sorted(ends) == [
        [pytest.approx((0, 50)), pytest.approx((140, 50))],
        [pytest.approx((60, 0)), pytest.approx((60, 140))],
    ]


def test_roles_in_order(job_with: JobWith) -> None:
    """Reference lines first, so that what is cut is drawn over them; countersinks are there."""
    screws = {"pattern": "corners", "size": "M5", "inset": 12, "hole": "countersunk"}
    roles = [item.role for item in pattern(job_with, plate={"screws": screws}).items]
    assert list(dict.fromkeys(roles)) == [
        Role.REFERENCE, Role.MARK, Role.ENGRAVE, Role.POCKET, Role.DRILL, Role.CUT_INSIDE, Role.CUT_OUTSIDE,
    ]  # fmt: skip


def test_without_an_opening(job_with: JobWith) -> None:
    """Where nothing is cut there is a plate, holes and centre lines, and no outline for reference."""
    drawing = pattern(job_with, cut={"width": 9})
    assert outlines(drawing, Role.REFERENCE) == []
    assert outlines(drawing, Role.CUT_INSIDE) == []
    assert len(outlines(drawing, Role.CUT_OUTSIDE)) == 1


def test_centre_lines_keep_out_of_the_label(job_with: JobWith) -> None:
    """The upright centre line ends 1.5 mm above the label and goes on 1.5 mm below it; the level one is whole."""
    template = make_template(job_with())
    label = template.label.label
    assert label is not None
    assert label.box.left < 70 < label.box.right
    drawing = paper_drawing(template, predict(template))
    lines = [i.shape for i in drawing.items if i.role is Role.REFERENCE and isinstance(i.shape, Stroke)]
    ends = sorted(sorted([tuple(s.points[0]), tuple(s.points[-1])]) for s in lines)
    assert ends == [
        [pytest.approx((0, 70)), pytest.approx((140, 70))],
        [pytest.approx((70, 0)), pytest.approx((70, label.box.bottom - 1.5))],
        [pytest.approx((70, label.box.top + 1.5)), pytest.approx((70, 140))],
    ]


def test_without_a_label_the_centre_lines_are_whole(job_with: JobWith) -> None:
    """A plate that carries no label has two centre lines from edge to edge."""
    drawing = pattern(job_with, plate={"label": False})
    lines = [i.shape for i in drawing.items if i.role is Role.REFERENCE and isinstance(i.shape, Stroke)]
    assert sorted(round(s.points[0].x - s.points[-1].x + s.points[0].y - s.points[-1].y) for s in lines) == [-140, -140]
