"""Running fits of a bushing in its opening, and the fit of a loose tenon."""

import math
from collections.abc import Callable

import pytest
from published import Published, inch, table
from sources import ELEK, ISO_286, ISO_286_PAGE, SNUG

from jigtemplates.checks.fit import BINDS, LOOSE
from jigtemplates.report import Report
from jigtemplates.tenon import stock_for

Said = Callable[..., list[tuple[str, str, str]]]


def fit(name: str, band: str, bushing: str, least: float, most: float) -> Published:
    return Published(f"{name}, {band} mm", f"{least:.3f} to {most:.3f} mm", ISO_286, bushing, (least, most))


#: Least and most clearance of running fits, mm, in the bands that bushings of 1/2 and 3/4 in lie in.
RUNNING = (
    fit("H8/f7", "10-18", "1/2 in", 0.016, 0.061),
    fit("H8/f7", "18-30", "3/4 in", 0.020, 0.074),
    fit("H9/d9", "10-18", "1/2 in", 0.050, 0.136),
    fit("H9/d9", "18-30", "3/4 in", 0.065, 0.169),
)

#: A sliding fit: made on a lathe, and too tight for a template; only its most is a running clearance.
SLIDING = (
    fit("H7/g6", "10-18", "1/2 in", 0.006, 0.035),
    fit("H7/g6", "18-30", "3/4 in", 0.007, 0.041),
)

#: Where our checks draw their lines: the least of a running fit, twice the most of one.
LINES = (
    Published("least running clearance, H8/f7, 10-18 mm", "0.016 mm", ISO_286, BINDS, 0.016),
    Published("widest running fit, H9/d9, 18-30 mm, twice", "0.169 mm", ISO_286, LOOSE, 0.34),
)

#: Hole 0 to +52, shaft -65 to -117 micrometres: the page computes the shaft as -64 to -116.
WRONG_FIT = (
    Published(
        "H9/d9, 25 mm", "64 to 168 micrometres", ISO_286_PAGE, "3/4 in", (0.064, 0.168), ("65 to 169", (0.065, 0.169))
    ),
)

#: Mortise less tenon, mm: ours unless said otherwise, and what is called loose.
TIGHT = (Published("strongest fit of a loose tenon", "tight, 0.1 mm", ELEK, {"joints": 1}, 0.1),)
SLACK = (Published("from a snug fit to a loose one", "0.005 in", SNUG, {"joints": 1}, inch("0.005")),)


def codes(said: Said, clearance: float, bushing: str) -> list[str]:
    tools = {"clearance": clearance, "bit": "3/8 in", "bushing": bushing}
    names = ("no-running-clearance", "loose-clearance")
    return [name for name in names if said(name, tools=tools, cut={"width": "3/8 in"})]


@table(RUNNING)
def test_running_fit(said: Said, row: Published) -> None:
    """Neither end of a running fit is called too tight or too loose."""
    assert [codes(said, clearance, row.given) for clearance in row.value] == [[], []]


@table(SLIDING)
def test_sliding_fit(said: Said, row: Published) -> None:
    """The least of a sliding fit binds in a template."""
    assert [codes(said, clearance, row.given) for clearance in row.value] == [["no-running-clearance"], []]


@table(LINES)
def test_line(row: Published) -> None:
    """Too tight begins below the least running fit, too loose above twice the widest, rounded up."""
    assert row.given == row.value


@table(WRONG_FIT)
def test_wrong_fit(row: Published) -> None:
    """The standard's own deviations add up to the other value, and that is the one our line was drawn from."""
    assert row.right is not None
    hole, upper, lower = (0.000, 0.052), -0.065, -0.065 - 0.052  # H9; d9: ISO 286, quoted
    assert (hole[0] - upper, hole[1] - lower) == pytest.approx(row.right[1])
    assert row.value not in [other.value for other in RUNNING]
    assert math.ceil(200 * row.right[1][1]) / 100 == LOOSE


@table(TIGHT)
def test_tenon_fit(report_with: Callable[..., Report], row: Published) -> None:
    """A tenon is made that much thinner than its mortise unless said otherwise."""
    assert fit_of(report_with, row) == row.value


@table(SLACK)
def test_loose_tenon_fit(report_with: Callable[..., Report], row: Published) -> None:
    """And so stays on the snug side."""
    assert 0 < fit_of(report_with, row) < row.value


def fit_of(report_with: Callable[..., Report], row: Published) -> float:
    report = report_with(tenon=row.given)
    assert report.job.tenon is not None
    stock = stock_for(report, report.job.tenon)
    assert stock is not None
    return round(stock.mortise.width - stock.thickness, 6)
