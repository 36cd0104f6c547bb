"""The budget of errors: standard uncertainties, how they add, and how many of them hold 95 % of all cuts."""

import math
from collections.abc import Callable

import pytest
from published import Published, table
from sources import EA_4_02, GUM, GUM_H1, K_FACTORS, K_NORMAL, MASLOW, MICROMETER

from jigtemplates.budget import budget_of
from jigtemplates.budget.band import Band, Errors, band_of
from jigtemplates.budget.doubts import Doubt
from jigtemplates.budget.sizes import GuidedSize
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
ROOT_3 = math.sqrt(3)

#: Limits of an error, plus and minus; its standard uncertainty, a / sqrt 3.
LIMITS = (
    Published("error within 0.40, rectangular", "0.40 / sqrt 3 = 0.23", GUM, (0.40,), 0.23),
    Published("display in steps of 0.001 mm", "0.001 / sqrt 12 = 0.00029 mm", MICROMETER, (0.0005,), 0.00029),
)

#: Standard uncertainties; their root of the sum of squares.
SUMS = (
    Published("0.00033, 0.00029 and 0.00025 mm", "0.00051 mm", MICROMETER, (0.00033, 0.00029, 0.00025), 0.00051),
    Published("25, 9.7, 2.9 and 16.6 nm, end gauge", "32 nm", GUM, (25.0, 9.7, 2.9, 16.6), 32.0),
    Published("5.8, 3.9 and 6.7 nm, comparator", "9.68194195397", GUM_H1, (5.8, 3.9, 6.7), 9.68194195397),
)

#: Limits of errors; how many standard uncertainties hold 95 %, and to how much that is published.
FACTORS = (
    Published("95 %, one rectangular error", "k = 1.65", K_FACTORS, (1.0,), (1.65, 0.005)),
    Published("95 %, triangular: two of a size", "k = 1.90", K_FACTORS, (1.0, 1.0), (1.90, 0.005)),
    Published("95 %, trapezoidal, edge 0.33", "k = 1.83", EA_4_02, (2.0, 1.0), (1.83, 0.01)),
    Published("95 %, normal: five of a size come near", "k = 1.96", K_NORMAL, (1.0,) * 5, (1.96, 0.02)),
)


#: How far a bit may be off that nobody has measured, mm.
BITS = (Published("bit under its nominal size, most", "0.004 in (0.05-0.10 mm)", MASLOW, {"bit": "1/4 in"}, 0.10),)

#: A bit as it is sold and as it measures, mm; width of a cut as wide as the bit.
MEASURED = (Published("1/4 in bit, measured", "closer to 6.25 mm", MASLOW, ("1/4 in", "6.25 mm"), 6.25),)


def band(*limits: float) -> Band:
    """Of a size between two guided edges, with errors that move it by up to so much either way."""
    halves = [*limits, 0.0, 0.0, 0.0, 0.0][:5]
    bit, bushing, edge, kerf, centre = halves[0], halves[1], halves[2] / 2, halves[3], halves[4] / 2
    doubts = [Doubt(within, "", False) for within in (bit, bushing, edge, kerf, centre)]
    size = GuidedSize("width", 1000.0, 500.0, trapped=False)
    return band_of(size, 500.0, Errors(*doubts, turned=True))


@table(LIMITS)
def test_standard_uncertainty(row: Published) -> None:
    """To the published digits."""
    digits = len(str(f"{row.value:f}".rstrip("0")).split(".")[1])
    assert round(band(*row.given).u, digits) == row.value


@table(SUMS)
def test_sum(row: Published) -> None:
    """Errors with those standard uncertainties add up to the published one."""
    u = band(*(ROOT_3 * part for part in row.given)).u
    digits = len(str(row.value).strip("0.").replace(".", ""))
    assert float(f"{u:.{digits}g}") == row.value


@table(FACTORS)
def test_factor(row: Published) -> None:
    """Half the likely band over the standard uncertainty."""
    found = band(*row.given)
    k, within = row.value
    assert (found.likely[1] - found.likely[0]) / 2 / found.u == pytest.approx(k, abs=within)


@table(BITS)
def test_doubt_of_a_bit(report_with: ReportWith, row: Published) -> None:
    """That much is taken, either way, and said."""
    tools = {**row.given, "bushing": "1/2 in"}
    budget = budget_of(report_with(tools=tools, cut={"width": 30, "length": 60}).case)
    assert budget is not None
    (share,) = [share for share in budget.processes[0].narrow.shares if share.name == "bit"]
    assert (share.up, share.is_taken) == (row.value, True)


@table(MEASURED)
def test_measured_bit(report_with: ReportWith, row: Published) -> None:
    """A trapped cut comes out as wide as the bit measures, not as it is sold."""
    sold, measured = row.given
    bit = {"diameter": {"nominal": sold, "measured": measured}}
    cut = report_with(tools={"bit": bit, "bushing": "1/2 in", "clearance": 0}, cut={"width": measured}).predicted
    assert cut is not None
    assert cut.width == pytest.approx(row.value, abs=1e-9)
