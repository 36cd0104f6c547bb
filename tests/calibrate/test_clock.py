"""The day of a measurement, and how old it is."""

from datetime import date

import pytest

from jigtemplates.calibrate.clock import age_text, day_of, is_old
from jigtemplates.errors import InputError

NOW = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("on", "text"),
    [
        ("2026-11-25", "today"),
        ("2026-11-24", "1 day ago"),
        ("2026-11-12", "13 days ago"),
        ("2026-11-11", "2 weeks ago"),
        ("2026-09-26", "8 weeks ago"),
        ("2026-09-25", "2 months ago"),
        ("2025-11-25", "11 months ago"),
        ("2024-11-24", "2 years ago"),
        ("2026-11-26", "which is still to come: is the date of this computer right?"),
    ],
)
def test_age(on: str, text: str) -> None:
    """In the largest unit of which there are two."""
    assert age_text(on, NOW) == text


def test_old_after_a_year() -> None:
    """More than 365 days."""
    assert not is_old("2025-11-25", NOW)
    assert is_old("2025-11-24", NOW)


def test_day() -> None:
    """Given or today."""
    assert day_of(None) == "2026-11-25"
    assert day_of(" 2026-02-28 ") == "2026-02-28"


@pytest.mark.parametrize(
    ("typed", "line"),
    [
        ("25.11.2026", '--on: "25.11.2026" is not a date (write year-month-day: 2026-11-25)'),
        ("2026-02-30", '--on: "2026-02-30" is no day of the calendar (write year-month-day: 2026-11-25)'),
        ("2026-11-26", "--on: 2026-11-26 is still to come; today is 2026-11-25 (is the year right?)"),
    ],
)
def test_no_day(typed: str, line: str) -> None:
    """What is no day, or none yet, is refused in one line."""
    with pytest.raises(InputError) as caught:
        day_of(typed)
    assert caught.value.lines == (line,)
