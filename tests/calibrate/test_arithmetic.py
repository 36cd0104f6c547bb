"""Kerf, bushing and printer: the arithmetic against worked examples that others have printed."""

import pytest

from jigtemplates.calibrate.arithmetic import bar_of, factor_of, kerf_of, lean_of, slid_in


@pytest.mark.parametrize(
    ("gap", "cuts", "kerf"),
    [
        # Fab Academy 2017, Fab Lab Vigyan Ashram, student 53, "Kerf" (read): a hole of 20.14 mm and the piece of
        # 19.76 mm that came out of it, (20.14 - 19.76)/2 = 0.19 mm; 20.09 and 19.86 mm, 0.12 mm. The piece in its hole
        # leaves a gap over two cuts.
        (20.14 - 19.76, 2, 0.19),
        (20.09 - 19.86, 2, 0.115),
        # Rice University, ENGI 210, kerf box (read): 0.037 in over eleven kerfs are 0.0034 in.
        (0.037 * 25.4, 11, 0.0034 * 25.4),
    ],
)
def test_kerf(gap: float, cuts: int, kerf: float) -> None:
    """The gap over the number of cuts; to what was printed, a hundredth of a millimetre or a ten-thousandth inch."""
    assert kerf_of(gap, cuts).mm == pytest.approx(kerf, abs=0.0015)


def test_kerf_of_many_cuts_is_better() -> None:
    """A gap read 0.05 mm wrong makes the kerf of ten cuts 0.005 mm wrong."""
    assert kerf_of(1.9, 10).within == pytest.approx(0.005)


@pytest.mark.parametrize(
    ("shrinkage", "enlarged"),
    # A potter's table of what to enlarge a rule by (L. Love, potters.org, July 2003, read): what is a tenth too small
    # is copied at 111.11 %, 10000 / 90.
    [(10, 111.11), (11, 112.36), (12, 113.64), (13, 114.94), (14, 116.28)],
)
def test_printer_factor(shrinkage: int, enlarged: float) -> None:
    """What is printed too small by that much is printed larger by the inverse, not by as many per cent."""
    assert 100 * factor_of(100 - shrinkage) == pytest.approx(enlarged, abs=0.005)


def test_longer_bar_is_brought_to_100() -> None:
    """ "Divide what you want by what you've got" (mysticalthread.tripod.com, read): 18 cm wanted, 14 got: 1.285."""
    assert factor_of(bar_of(14, 18)) == pytest.approx(1.285, abs=0.001)


def test_corrected_page_corrects_the_correction() -> None:
    """A printer that prints 98 % was taken for one of 99 %: the corrected page measures 98.99 mm, and tells 98."""
    assert bar_of(100 / 99 * 98, 100, corrected_for=99) == pytest.approx(98)


def test_bushing_lies_between_two_openings() -> None:
    """It slides in 12.70 and not in 12.65: the middle, and half a step to either side."""
    size = slid_in(12.70, 0.05)
    assert (size.mm, size.within) == (pytest.approx(12.675), pytest.approx(0.025))


@pytest.mark.parametrize(
    ("across", "up", "diagonal", "lean"),
    [(3, 4, 5, 0.0), (1, 1, 1, -30.0), (1, 1, 3**0.5, 30.0)],
)
def test_lean(across: float, up: float, diagonal: float, lean: float) -> None:
    """Sides of 3, 4 and 5 make a right angle, equal ones 60° (Euclid I.48, I.1)."""
    assert lean_of(across, up, diagonal) == pytest.approx(lean)


def test_no_triangle() -> None:
    """A diagonal longer than both bars together is a slip."""
    with pytest.raises(ValueError, match=r"math domain error|expected a number"):
        lean_of(1, 1, 3)
