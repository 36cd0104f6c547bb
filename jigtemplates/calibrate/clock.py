"""The day of a measurement: given, or today. Nothing else in the program reads a calendar for a profile."""

from datetime import date

from jigtemplates.errors import InputError
from jigtemplates.parameters.fields import read_day

#: A measurement older than this is worth repeating, days (chosen: a year, in which bits are sharpened and lenses
#: changed).
OLD = 365


def today() -> date:
    """The day it is, where the computer stands."""
    return date.today()


def day_of(typed: str | None) -> str:
    """The day given with `--on`, else today, "2026-11-25"; InputError for what is no day, or is still to come."""
    if typed is None:
        return today().isoformat()
    try:
        day = read_day(typed.strip())
    except ValueError as error:
        raise InputError(f"--on: {error}") from None
    if day > today():
        raise InputError(
            f"--on: {day.isoformat()} is still to come; today is {today().isoformat()} (is the year right?)"
        )
    return day.isoformat()


def age_text(on: str, now: date) -> str:
    """How long ago a day was: "today", "1 day ago", "5 weeks ago", "7 months ago", "3 years ago"."""
    days = (now - date.fromisoformat(on)).days
    if days < 0:
        return "which is still to come: is the date of this computer right?"
    if days == 0:
        return "today"
    for unit, length, least in (("year", 365.25, 730.5), ("month", 30.44, 61), ("week", 7, 14), ("day", 1, 1)):
        if days >= least:
            count = int(days / length)
            return f"{count} {unit}{'s' * (count != 1)} ago"
    raise AssertionError  # a day is at least one


def is_old(on: str, now: date) -> bool:
    """Whether it should be measured again."""
    return (now - date.fromisoformat(on)).days > OLD
