"""The budget of errors: standard uncertainties, how they add, and how many of them hold 95 % of all cuts."""

import math

import pytest
from published import Published, table
from sources import EA_4_02, GUM, K_FACTORS, K_NORMAL, MICROMETER

from jigtemplates.budget.band import Band, Errors, band_of
from jigtemplates.budget.doubts import Doubt
from jigtemplates.budget.sizes import GuidedSize

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
)

#: Limits of errors; how many standard uncertainties hold 95 %, and to how much that is published.
FACTORS = (
    Published("95 %, one rectangular error", "k = 1.65", K_FACTORS, (1.0,), (1.65, 0.005)),
    Published("95 %, triangular: two of a size", "k = 1.90", K_FACTORS, (1.0, 1.0), (1.90, 0.005)),
    Published("95 %, trapezoidal, edge 0.33", "k = 1.83", EA_4_02, (2.0, 1.0), (1.83, 0.01)),
    Published("95 %, normal: five of a size come near", "k = 1.96", K_NORMAL, (1.0,) * 5, (1.96, 0.02)),
)


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
    assert float(f"{u:.2g}") == row.value


@table(FACTORS)
def test_factor(row: Published) -> None:
    """Half the likely band over the standard uncertainty."""
    found = band(*row.given)
    k, within = row.value
    assert (found.likely[1] - found.likely[0]) / 2 / found.u == pytest.approx(k, abs=within)
