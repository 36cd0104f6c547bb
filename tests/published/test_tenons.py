"""Loose tenons against the proportions that books and magazines give."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from jigtemplates.parameters.job import TenonChoice, Work
from jigtemplates.report import Report
from jigtemplates.tenon import stock_for

INCH = 25.4
CHOICE = TenonChoice(
    joints=1, fit=0.0, glue_room=INCH / 16, mate_depth=30.0, edge="round", kerf=3, waste=20, strip=None
)


def codes(report: Report, choice: TenonChoice = CHOICE, work: Work | None = None) -> list[str]:
    found = stock_for(report, choice, work)
    assert found is not None
    return [finding.code for finding in found.findings()]


@pytest.mark.parametrize(("thickness", "radius"), [(1 / 4, 1 / 8), (3 / 8, 3 / 16), (1 / 2, 1 / 4)])
def test_rounded_edges_are_half_the_thickness(
    report_with: Callable[..., Report], thickness: float, radius: float
) -> None:
    """1/8 in for 1/4, 3/16 for 3/8, 1/4 for 1/2 in (Woodsmith Store, read)."""
    cut = {"width": f"{thickness} in", "length": "1.5 in"}
    tools = {"bit": f"{thickness} in", "bushing": "1 in", "clearance": 0}
    found = stock_for(report_with(cut=cut, tools=tools), CHOICE)
    assert found is not None
    assert (found.thickness, found.edge_radius) == pytest.approx((thickness * INCH, radius * INCH), abs=2e-5)


def test_stock_as_thick_as_the_bit(report_with: Callable[..., Report]) -> None:
    """Tenon stock as thick as the bit is wide: one pass, no play (common practice); at a fit of 0.1 mm.

    0.1 mm is the strongest fit (Elek et al., Eur. J. Wood Wood Prod. 78, 2020, abstract read).
    """
    report = report_with(cut={"width": "3/8 in", "length": 40}, tenon={"joints": 4})
    assert report.job.tenon is not None
    assert report.job.tenon.fit == 0.1
    found = stock_for(report, report.job.tenon)
    assert found is not None
    assert found.thickness == pytest.approx(9.525)


def test_mortises_are_a_sixteenth_deeper_unless_said_otherwise(report_with: Callable[..., Report]) -> None:
    """1/16 to 1/8 in deeper than the tenon (Popular Woodworking, "Make More Room in the Mortise", read)."""
    report = report_with(cut={"length": 49, "depth": 28}, tenon={"joints": 4})
    assert report.job.tenon is not None
    found = stock_for(report, report.job.tenon)
    assert found is not None
    assert found.length == pytest.approx(2 * 28 - 2 * INCH / 16)
    assert found.findings() == ()


@pytest.mark.parametrize(("sixteenths", "expected"), [(0.9, ["glue-room"]), (1, []), (2, []), (2.1, ["glue-room"])])
def test_glue_room_outside_the_published_range_is_a_note(
    report_with: Callable[..., Report], sixteenths: float, expected: list[str]
) -> None:
    """1/16 to 1/8 in (Popular Woodworking, "Make More Room in the Mortise", read)."""
    assert codes(report_with(cut={"length": 49}), replace(CHOICE, glue_room=sixteenths * INCH / 16)) == expected


@pytest.mark.parametrize(("length", "expected"), [(50.0, []), (50.2, ["wide-tenon"])])
def test_a_tenon_is_at_most_five_times_as_wide_as_thick(
    report_with: Callable[..., Report], length: float, expected: list[str]
) -> None:
    """Width at most 5 x thickness (Cassell's Carpentry and Joinery, and a manual of purpose-made joinery, read)."""
    assert codes(report_with(cut={"length": length})) == expected


@pytest.mark.parametrize(("depth", "expected"), [(26.6, []), (10.0, ["short-tenon"])])
def test_a_tenon_is_about_five_times_as_long_as_thick(
    report_with: Callable[..., Report], depth: float, expected: list[str]
) -> None:
    """Length 5 x thickness (Popular Woodworking, read): 26.6 twice less 1/8 in is 50 for 10 mm; 10 + 10 is far less."""
    assert codes(report_with(cut={"length": 49, "depth": depth}), replace(CHOICE, mate_depth=depth)) == expected


@pytest.mark.parametrize(("thickness", "expected"), [(30.0, []), (18.0, ["not-a-third", "thin-wood", "thin-wood"])])
def test_a_tenon_is_about_a_third_of_the_stock(
    report_with: Callable[..., Report], thickness: float, expected: list[str]
) -> None:
    """About 1/3 (Cassell's; Manual of Purpose-Made Woodworking Joinery, read); 4.5 mm outside (joinery text, read)."""
    work = Work(thickness=thickness, height=60, length=None, from_face=thickness / 2, from_end=None)
    assert codes(report_with(cut={"length": 49}), CHOICE, work) == expected
