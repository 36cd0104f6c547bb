"""Hinge gains against what magazines and the trade print."""

from collections.abc import Callable

import pytest

from jigtemplates.report import Report

ReportWith = Callable[..., Report]

#: Leaf sizes and corner radii in use (trade pages on ANSI/BHMA A156.7 hardware, quoted).
LENGTHS = ("3-1/2 in", "4 in", "4-1/2 in")
#: The published pair: 5/8 in bushing, 1/2 in bit.
PAIR = {"bit": "1/2 in", "bushing": "5/8 in"}


def hinge(report_with: ReportWith, length: str, radius: str) -> Report:
    """A gain of 1-1/8 in from the edge for a leaf of that length, with the published pair."""
    cut = {"shape": "hinge", "length": length, "width": "1-1/8 in", "corner_radius": radius, "depth": "3/32 in"}
    return report_with(cut=cut, tools=PAIR, plate={"width": 200, "height": 140})


@pytest.mark.parametrize("length", LENGTHS)
@pytest.mark.parametrize("radius", ["1/4 in", "5/8 in"])
def test_the_template_is_a_sixteenth_larger_on_each_of_three_sides(
    report_with: ReportWith, length: str, radius: str
) -> None:
    """WOOD magazine, "How to Cut Quick, Easy, and Accurate Hinge Mortises", read: 1/16 in on three sides.

    The same pair stands in Fine Homebuilding, "A Custom Hinge Mortising Template" (read).
    """
    report = hinge(report_with, length, radius)
    inches = {"3-1/2 in": 3.5, "4 in": 4.0, "4-1/2 in": 4.5}[length]
    box = report.template.opening_at_rest[0].bounds
    half, sixteenth = inches * 25.4 / 2, 25.4 / 16
    assert (box.left, box.right) == pytest.approx((-half - sixteenth, half + sixteenth), abs=1e-9)
    assert box.top == pytest.approx(1.125 * 25.4 / 2 + sixteenth, abs=1e-9)


@pytest.mark.parametrize("length", LENGTHS)
def test_a_half_inch_bit_makes_corners_of_a_quarter_inch(report_with: ReportWith, length: str) -> None:
    """1/4 in corners need no chisel with the published pair, nor do 5/8 in ones; square ones do."""
    for radius, is_said in (("1/4 in", False), ("5/8 in", False), ("0 in", True)):
        found = [f.code for f in hinge(report_with, length, radius).findings]
        assert ("corner-tighter-than-bit" in found) == is_said


@pytest.mark.parametrize("length", LENGTHS)
def test_the_gain_comes_out_as_the_leaf(report_with: ReportWith, length: str) -> None:
    """Length along the edge and width from it are the leaf's; the bit leaves the work before its corner begins."""
    report = hinge(report_with, length, "1/4 in")
    cut = report.predicted
    assert cut is not None
    inches = {"3-1/2 in": 3.5, "4 in": 4.0, "4-1/2 in": 4.5}[length]
    assert (cut.width, cut.length) == pytest.approx((1.125 * 25.4, inches * 25.4), abs=1e-9)
    assert cut.max_deviation < 1e-9
    edge = -1.125 * 25.4 / 2
    sides = [s for s in cut.outline[0].outer.segments if abs(s.start.x - s.end.x) < 1e-9]
    assert all(min(s.start.y, s.end.y) < edge - 2.9 for s in sides)  # straight on for 3 mm past the edge of the work
    # "at least half the bit": the bit's axis, 1/4 in above the end of the cut, still comes past the edge
    assert cut.outline[0].bounds.bottom == pytest.approx(edge - 6.35 - 3)
