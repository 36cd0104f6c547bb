"""The sum of an inlay: gap, verdict, the sizes that would fit, the smallest radii."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.inlay import Fit, Pair, Verdict


def test_equal_edges() -> None:
    """20 mm and 10 mm with a 5 mm bit: both edges lie 7.5 mm inside the opening's, so they fit without a gap."""
    fit = Fit(Pair(5, 20), Pair(5, 10))
    assert (fit.recess.inside, fit.plug.beyond, fit.gap, fit.miss) == (7.5, 7.5, 0.0, 0.0)
    assert (fit.verdict, fit.fits) == (Verdict.FITS, True)


@pytest.mark.parametrize(
    ("bushing", "line", "gap", "verdict"),
    [
        (10.2, 0.1, 0.1, "fits"),
        (10.18, 0.1, 0.09, "fits"),  # a hair, 0.01 mm, less than the line
        (10.16, 0.1, 0.08, "tight"),
        (10.22, 0.1, 0.11, "loose"),  # more than the line is never called fitting
        (10.0, 0.1, 0.0, "tight"),
        (9.98, 0.0, -0.01, "tight"),  # as large as the recess to a hair
        (9.96, 0.0, -0.02, "too large"),
        (9.96, 0.1, -0.02, "too large"),
        (12.0, 0.0, 1.0, "loose"),
    ],
)
def test_verdicts(bushing: float, line: float, gap: float, verdict: str) -> None:
    """Beside 7.5 mm of the recess; both sides of each threshold."""
    fit = Fit(Pair(5, 20), Pair(5, bushing), line)
    assert (fit.gap, fit.verdict.value, fit.fits) == (gap, verdict, verdict == "fits")


def test_sizes_that_would_fit() -> None:
    """1.4 mm too loose a side: any one of three tools, 2.8 mm thinner or thicker."""
    fit = Fit(Pair(5, 20), Pair(6, 12), 0.1)
    assert fit.miss == 1.4
    assert (fit.plug_bushing_wanted, fit.plug_bit_wanted, fit.recess_bushing_wanted) == (9.2, 3.2, 22.8)


@given(*(st.integers(1, 400).map(lambda n: n / 16) for _ in range(4)), st.integers(0, 20).map(lambda n: n / 100))
@settings(max_examples=60)
def test_each_of_them_fits(b1: float, g1: float, b2: float, g2: float, line: float) -> None:
    """With any one of the three sizes put in its place the gap is the glue line."""
    fit = Fit(Pair(b1, g1), Pair(b2, g2), line)
    instead = (
        Fit(fit.recess, Pair(b2, fit.plug_bushing_wanted), line),
        Fit(fit.recess, Pair(fit.plug_bit_wanted, g2), line),
        Fit(Pair(b1, fit.recess_bushing_wanted), fit.plug, line),
    )
    assert [round(one.miss, 6) + 0.0 for one in instead] == [0.0, 0.0, 0.0]
    assert all(one.fits for one in instead)


def test_smallest_radii() -> None:
    """The recess's bit where the inlay points out; (Gr - Br) / 2 where the wood points into it."""
    fit = Fit(Pair(5, 20), Pair(5, 10))
    assert (fit.smallest_convex, fit.smallest_concave) == (2.5, 7.5)


def test_json() -> None:
    """Every number under its key; the pairs by the names that are asked for."""
    numbers = Fit(Pair(3.175, 19.05), Pair(3.175, 12.7), 0.05).as_json("second", "first")
    assert numbers == {
        "second": {"bit": 3.175, "bushing": 19.05},
        "first": {"bit": 3.175, "bushing": 12.7},
        "glue_line": 0.05,
        "gap": 0.0,
        "miss": -0.05,
        "verdict": "tight",
        "fits": False,
        "offset": 7.9375,
        "smallest_radius": {"convex": 1.5875, "concave": 7.9375},
    }
