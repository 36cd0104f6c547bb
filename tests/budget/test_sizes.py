"""Which sizes of each shape are looked at, and what the bushing does there."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.budget.sizes import GuidedSize, sizes_of
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
FREE: dict[str, Any] = {"bit": "8 mm", "bushing": "14 mm"}


def found(report: Report) -> list[tuple[Any, ...]]:
    """Name, size, play, trapped, edges."""
    return [
        (size.name, round(size.predicted, 4), round(size.play, 4), size.trapped, size.edges)
        for size in sizes_of(report.case)
    ]


def test_a_slot(report_with: ReportWith) -> None:
    """Width and length between two edges each; the play is what the opening is wider than the bushing."""
    assert found(report_with()) == [("width", 10.0, 0.475, False, 2), ("length", 50.0, 40.475, False, 2)]


def test_a_trapped_slot(report_with: ReportWith) -> None:
    """As wide as bit and clearance: trapped across, not along."""
    report = report_with(cut={"width": "3/8 in"})
    assert found(report) == [("width", 9.625, 0.1, True, 2), ("length", 50.0, 40.475, False, 2)]


@pytest.mark.parametrize(
    ("cut", "expected"),
    [
        ({"shape": "round", "diameter": 40, "depth": 5}, [("diameter", 40.0, 32.0, False, 2)]),
        ({"shape": "round", "diameter": 8, "depth": 5}, [("diameter", 8.1, 0.1, True, 2)]),
        (
            {"shape": "rectangle", "width": 30, "length": 8, "corner_radius": 4, "depth": 5},
            [("width", 30.0, 22.0, False, 2), ("length", 8.1, 0.1, True, 2)],
        ),
        (
            {"shape": "polygon", "sides": 5, "across": 40, "corner_radius": 5, "depth": 5},
            [("across", 40.0, 32.0, False, 2)],
        ),
        (
            {"shape": "butterfly", "width": 40, "length": 70, "waist": 20, "corner_radius": 5, "depth": 5},
            [("waist", 20.0, 12.0, False, 2), ("length", 70.0, 62.0, False, 2)],
        ),
        (
            {"shape": "arc-slot", "width": 8, "radius": 60, "span": 60, "depth": 5},
            # along the centre line 60 · π / 3 = 62.8319, and both ends of 4.05
            [("width", 8.1, 0.1, True, 2), ("length", 70.9319, 62.9319, False, 2)],
        ),
        (
            {"shape": "hinge", "width": 25, "length": 76, "corner_radius": 4, "depth": 2},
            [("width", 25.0, 17.0, False, 1), ("length", 76.0, 68.0, False, 2)],
        ),
    ],
)
def test_every_shape(report_with: ReportWith, cut: dict[str, Any], expected: list[tuple[Any, ...]]) -> None:
    """A size between parallel edges or round ends for each; of a hinge gain one edge is that of the work."""
    assert found(report_with(cut=cut, tools=FREE)) == expected


def test_a_bit_that_does_not_fit(report_with: ReportWith) -> None:
    """Without an opening there are no sizes, and no budget."""
    report = report_with(cut={"width": 6})
    assert sizes_of(report.case) == ()
    assert report.budget is None
    assert report.as_json()["budget"] is None


def test_a_size_says_what_guides_it() -> None:
    """Two edges where nothing else is said."""
    assert GuidedSize("width", 10.0, 1.0, trapped=False).edges == 2
