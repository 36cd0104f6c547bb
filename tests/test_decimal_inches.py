"""Decimal inches: one rule wherever they are said, on the terminal, on paper and in a row of sizes."""

from collections.abc import Callable
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

import pytest

from jigtemplates.budget.doubts import small_text
from jigtemplates.budget.words import band_text, own_size
from jigtemplates.facts import size_text
from jigtemplates.file_lines import file_lines
from jigtemplates.gauges.kerf import _error
from jigtemplates.lengths import decimal_inch_text, inch_decimals
from jigtemplates.parameters.job import Job
from jigtemplates.report import WrittenFile

EVERY_64TH = range(1, 64)


def halved_up(n: int, digits: str = "0.001") -> str:
    """n/64 as Python's own `decimal` rounds it, half up."""
    return str((Decimal(n) / 64).quantize(Decimal(digits), ROUND_HALF_UP))


@pytest.mark.parametrize("n", EVERY_64TH)
def test_a_64th_is_the_same_decimal_everywhere(n: int) -> None:
    """Sizes of plates and pages, columns and sentences."""
    mm, expected = 25.4 * n / 64, halved_up(n)
    assert inch_decimals(mm) == expected
    assert decimal_inch_text(mm) == f"{expected.rstrip('0').rstrip('.')} in"
    assert f"{expected} x 2.000 in" in size_text(mm, 50.8, inches=True)
    assert f"= {expected} x 2.000 in (" in size_text(mm, 50.8)
    page = WrittenFile("templates/a/a_setup.pdf", "", (mm, 50.8))
    assert f"page {expected} x 2.000 in = " in list(file_lines([page], inches=True))[1]


@pytest.fixture
def inch_job(job_with: Callable[..., Job]) -> Job:
    """A job that is answered in inches."""
    return replace(job_with(), units="in")


@pytest.mark.parametrize("n", EVERY_64TH)
def test_the_budget_says_the_same_decimals(inch_job: Job, n: int) -> None:
    """What a cut may come out at, and the small errors, which have four."""
    mm = 25.4 * n / 64
    assert own_size(mm, inch_job).startswith(f"{halved_up(n)} in (")
    assert small_text(mm, inch_job) == f"{halved_up(n, '0.0001').rstrip('0').rstrip('.')} in"


def test_a_band_ends_on_the_same_decimals(inch_job: Job) -> None:
    """5/16 to 9/16 in: where Python's own format would have .312 and .562."""
    assert band_text((25.4 * 5 / 16, 25.4 * 9 / 16), inch_job) == "0.313 to 0.563 in"


def test_a_slip_of_the_caliper() -> None:
    """0.002 in over 16 saw cuts is 0.000125 in: 0.0001; over 8 it is 0.00025: 0.0003, half up."""
    assert _error(16, inches=True) == "0.002 in in the gap is 0.0001 in"
    assert _error(8, inches=True) == "0.002 in in the gap is 0.0003 in"
