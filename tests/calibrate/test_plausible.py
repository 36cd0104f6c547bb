"""What is questioned, on both sides of each threshold."""

import pytest

from jigtemplates.calibrate.plausible import (
    bar_questions,
    corner_questions,
    day_questions,
    kerf_questions,
    printer_questions,
    tool_questions,
    typical_kerf,
)
from jigtemplates.lengths import parse_length
from jigtemplates.parameters.entries import Sheet
from jigtemplates.profiles import Profiles

HALF = parse_length("1/2 in")


@pytest.fixture(scope="module")
def mdf() -> Sheet:
    """Typical kerf 0.006 in at 1/8 in, 0.008 in at 1/4 in."""
    return Profiles().find("sheets", "mdf").entry


def test_bit_four_tenths_off() -> None:
    """A bit 0.4 mm from the size it is sold as is questioned, one 0.3 mm off is not."""
    assert list(tool_questions(12.3, HALF, None)) == [
        "12.3 mm is 0.4 mm from 1/2 in, the size it is sold as: is it another tool, or was something else measured?"
    ]
    assert list(tool_questions(12.4, HALF, None)) == []


def test_bit_that_changed() -> None:
    """More than a regrind between two measurements is questioned; inches come first where they were typed."""
    assert list(tool_questions(12.5, HALF, 12.7, inches=True)) == [
        "it measured 0.5 in (12.7 mm) before and would have changed by 0.0079 in (0.2 mm): was it sharpened, or is "
        "one of the two a slip?"
    ]
    assert list(tool_questions(12.55, HALF, 12.7)) == []


@pytest.mark.parametrize(("kerf", "asked"), [(0.1016, 0), (0.101, 1), (0.4064, 0), (0.407, 1)])
def test_kerf_beyond_its_sheet(mdf: Sheet, kerf: float, asked: int) -> None:
    """Half to twice the 0.008 in that is typical of mdf of 1/4 in."""
    assert len(list(kerf_questions(kerf, mdf, 6.0))) == asked


def test_kerf_words(mdf: Sheet) -> None:
    """Too much and too little have their own likely slips."""
    assert list(kerf_questions(0.9, mdf, 6.0)) == [
        "0.9 mm is beyond what a laser removes from such mdf, 0.102 mm to 0.406 mm: were all the blocks pushed "
        "together, and every cut counted, the window's two ends too?"
    ]
    assert list(kerf_questions(0.07, None, None)) == [
        "0.07 mm is beyond what lasers remove, 0.08 mm to 0.45 mm: was the gap divided by too many cuts, or is it half "
        "the width?"
    ]
    assert list(kerf_questions(0.055, None, None, by_cut=True)) == [
        "0.055 mm is beyond what lasers remove, 0.08 mm to 0.45 mm: was the test cut read wrong, or is it rather bit "
        "or bushing that is not as written down (--correct bit or bushing)? Measure the kerf itself: jigtemplates "
        "gauge kerf"
    ]


def test_typical_kerf(mdf: Sheet) -> None:
    """The nearest thickness, the mean without one, none of a sheet that has none."""
    assert typical_kerf(mdf, 3.0) == pytest.approx(0.1524)
    assert typical_kerf(mdf, None) == pytest.approx(0.1778)
    assert typical_kerf(Profiles().find("sheets", "hardboard").entry, 3.0) is None


@pytest.mark.parametrize(
    ("drawn", "read", "line"),
    [
        (
            100.0,
            101.2,
            'both are as long as a bar of 4 in: was that one measured (add --bar "4 in"), and not the one said?',
        ),
        (
            101.6,
            100.4,
            "both are as long as a bar of 100 mm: was that one measured (leave out --bar), and not the one said?",
        ),
    ],
)
def test_the_other_bar(drawn: float, read: float, line: str) -> None:
    """A reading within 0.5 mm of the page's other scale is asked about; one bar alone, or one further off, is not."""
    assert list(bar_questions(read, read, drawn)) == [line]
    assert list(bar_questions(read, drawn, drawn)) == []
    nearer = read + (0.2 if read < drawn else -0.2)
    assert list(bar_questions(nearer, nearer, drawn)) == []


def test_printer_whose_directions_differ() -> None:
    """Up to 1 % is a printer's; a bar of 4 in taken for 100 mm is more."""
    assert list(printer_questions(99.5, 100.4)) == []
    assert list(printer_questions(100, 101.6)) == [
        "across and up differ by 1.6 %, more than a printer's error: was a bar of 4 in taken for one of 100 mm, or the "
        "paper fed askew?"
    ]


def test_corner() -> None:
    """A corner 0.2° off is a printer's; more, or no triangle, is not."""
    assert list(corner_questions(100, 100, None)) == []
    assert list(corner_questions(100, 100, 141.5)) == []
    assert list(corner_questions(100, 100, 142.5)) == [
        "the diagonal says that the corner between the bars is 0.9° from a right angle, which no correction mends: was "
        "the paper fed askew?"
    ]
    assert list(corner_questions(100, 100, 201)) == ["bars and diagonal make no triangle: one of the three is a slip"]


def test_older_day() -> None:
    """An older measurement that is to take a newer one's place is questioned."""
    assert list(day_questions("2026-11-25", "2026-11-25")) == []
    assert list(day_questions("2026-11-25", None)) == []
    assert list(day_questions("2026-11-24", "2026-11-25")) == [
        "the correction in force was measured later, on 2026-11-25: is the older one to take its place?"
    ]
