"""The band of a size from its errors: the formulas worked by hand."""

import math

import pytest

from jigtemplates.budget.band import Band, Errors, band_of
from jigtemplates.budget.doubts import Doubt
from jigtemplates.budget.sizes import GuidedSize

BIT, BUSHING, EDGE, KERF, CENTRE = 0.02, 0.03, 0.05, 0.01, 0.04


def errors(*, kerf: float = 0.0, turned: bool = True, centre: float = CENTRE, edge: float = EDGE) -> Errors:
    """What is known, with the figures above."""
    bit, bushing, at_edge, of_kerf, off = (Doubt(mm, "said", False) for mm in (BIT, BUSHING, edge, kerf, centre))
    return Errors(bit, bushing, at_edge, of_kerf, off, turned)


def ups(band: Band) -> dict[str, float]:
    """How far each error moves the size up, mm."""
    return {share.name: round(share.up, 9) for share in band.shares}


def test_a_guided_size() -> None:
    """B + O - G: bit and bushing count once, an edge twice, off centre twice where the router is turned."""
    band = band_of(GuidedSize("width", 10.0, 0.475, trapped=False), 9.525, errors())
    assert ups(band) == {"bit": 0.02, "bushing": 0.03, "opening": 0.1, "bushing off centre": 0.08}
    assert band.worst == pytest.approx((10 - 0.23, 10 + 0.23))
    assert band.u == pytest.approx(math.sqrt((0.02**2 + 0.03**2 + 0.1**2 + 0.08**2) / 3))
    assert band.most is not None
    assert band.most.name == "opening"
    assert band.part(band.most) == pytest.approx(0.1**2 / (0.02**2 + 0.03**2 + 0.1**2 + 0.08**2))
    assert sum(map(band.part, band.shares)) == pytest.approx(1.0)
    assert band.binds == 0.0


def test_the_band_lies_within_the_worst_case() -> None:
    """About 1.9 standard uncertainties either way, between one uniform error (1.65) and a normal one (1.96)."""
    band = band_of(GuidedSize("width", 10.0, 0.475, trapped=False), 9.525, errors())
    half = (band.likely[1] - band.likely[0]) / 2
    assert 1.65 * band.u < half < 1.96 * band.u
    assert sum(band.likely) / 2 == pytest.approx(10.0, abs=1e-4)


def test_a_router_held_in_one_direction() -> None:
    """The bushing off centre moves no size."""
    band = band_of(GuidedSize("length", 50.0, 40.0, trapped=False), 9.525, errors(turned=False))
    assert ups(band)["bushing off centre"] == 0.0
    assert band.worst == pytest.approx((50 - 0.15, 50 + 0.15))


def test_one_guided_edge() -> None:
    """From the edge of the work: half of bit and bushing, an edge once, off centre once however the router is held."""
    for turned in (True, False):
        band = band_of(GuidedSize("width", 28.0, 15.0, trapped=False, edges=1), 12.7, errors(turned=turned))
        assert ups(band) == {"bit": 0.01, "bushing": 0.015, "opening": 0.05, "bushing off centre": 0.04}


def test_a_measured_kerf_counts_once() -> None:
    """A kerf that is 0.01 mm wider takes 0.005 mm off each edge."""
    band = band_of(GuidedSize("width", 10.0, 0.475, trapped=False), 9.525, errors(kerf=KERF))
    assert ups(band)["kerf"] == 0.01
    assert band.worst[1] == pytest.approx(10.24)


def test_a_trapped_size() -> None:
    """From the bit alone to bit + clearance + all errors; off centre only widens; r²/12 + σ²/3 in the variance."""
    band = band_of(GuidedSize("width", 8.1, 0.1, trapped=True), 8.0, errors())
    assert ups(band) == {
        "bit": 0.02, "bushing": 0.03, "opening": 0.1, "running clearance": 0.1, "bushing off centre": 0.08,
    }  # fmt: skip
    assert [share.down for share in band.shares] == [0.02, 0.0, 0.0, 0.0, 0.0]
    assert band.worst == pytest.approx((7.98, 8.0 + 0.02 + 0.1 + 0.13 + 0.08))
    room = (0.1**2 + 0.03**2) / 3
    assert band.u**2 == pytest.approx(0.02**2 / 3 + 0.1**2 / 12 + room / 3 + 0.08**2 / 12)
    assert 7.98 < band.likely[0] < 8.05 < band.likely[1] < band.worst[1]


def test_a_trapped_size_with_a_kerf() -> None:
    """The kerf's doubt widens the room of the bushing like the opening's."""
    band = band_of(GuidedSize("width", 8.1, 0.1, trapped=True), 8.0, errors(kerf=KERF))
    assert ups(band)["kerf"] == 0.01
    assert band.worst[1] == pytest.approx(8.34)


def test_a_trapped_size_without_other_errors() -> None:
    """Bit and clearance alone: a triangle cut off, whose 95 % can be worked out; the bushing always goes in."""
    sure = Doubt(0.0, "said", False)
    only = Errors(sure, sure, sure, sure, sure, turned=False)
    band = band_of(GuidedSize("width", 8.1, 0.1, trapped=True), 8.0, only)
    assert band.likely == pytest.approx((8.0025, 8.0975), abs=2e-5)
    assert band.worst == pytest.approx((8.0, 8.1))
    assert band.binds == 0.0


def test_when_the_bushing_does_not_go_in() -> None:
    """A clearance of 0.05 with ± 0.1 of the opening and ± 0.03 of the bushing: worked out on the trapezoid, 0.25."""
    band = band_of(GuidedSize("width", 8.05, 0.05, trapped=True), 8.0, errors())
    # below -0.05 of a trapezoid that is flat, 1 / 0.2, from -0.07 to 0.07 and has 0.03 / 0.2 below -0.07 in all
    assert band.binds == pytest.approx((0.03 / 0.2) + 0.02 / 0.2, abs=1e-9)


def test_nothing_in_doubt() -> None:
    """Without any error there is no band, and nothing matters most."""
    sure = Doubt(0.0, "said", False)
    band = band_of(
        GuidedSize("width", 10.0, 0.5, trapped=False), 9.5, Errors(sure, sure, sure, sure, sure, turned=True)
    )
    assert band.worst == band.likely == pytest.approx((10.0, 10.0))
    assert band.most is None
    assert [band.part(share) for share in band.shares] == [0.0] * 4
