"""Lengths as a sentence about a job says them."""

import pytest

from jigtemplates.geometry.outline import Point
from jigtemplates.lengths import parse_length
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.say import area, beside, in_inches, listed, place, said, sides, sides_aside, sizes_text, written


def job(head: str, width: str) -> Job:
    """A job with that first line and that width of cut, all else in mm."""
    text = f"""
        title = "Slat"
        {head}
        cut = {{ shape = "slot", width = "{width}", length = "80 mm", depth = "6 mm" }}
        tools = {{ bit = "6 mm", bushing = "12 mm", clearance = "0.1 mm" }}
        plate = {{ width = "140 mm", height = "140 mm", thickness = "6 mm" }}
    """
    return job_from_text(text, profiles=Profiles())


@pytest.mark.parametrize(
    ("head", "width", "inches"),
    [
        ('units = "in"', "10 mm", True),
        ('units = "mm"', "1/2 in", False),
        ("", "1/2 in", True),
        ("", "10 mm", False),
    ],
)
def test_which_jobs_are_in_inches(head: str, width: str, inches: bool) -> None:
    """The job's units say so; without any the cut's width does."""
    assert in_inches(job(head, width)) is inches


MM, IN = job("", "10 mm"), job("", "1/2 in")


def test_a_length() -> None:
    """Inches first, a fraction where it is on a rule; millimetres rounded as asked."""
    assert (said(34.925, MM), said(34.925, IN)) == ("34.93 mm", "1-3/8 in (34.93 mm)")
    assert (said(9.58, MM, 1), said(9.58, IN, 1)) == ("9.6 mm", "0.377 in (9.6 mm)")


def test_a_length_in_brackets() -> None:
    """No brackets within brackets."""
    assert (beside(34.925, MM), beside(34.925, IN, 3)) == ("34.93 mm", "1-3/8 in = 34.925 mm")


def test_a_place() -> None:
    """Both coordinates, in inches without their millimetres."""
    assert (place(Point(38.1, 50.8), MM), place(Point(38.1, 50.8), IN)) == ("(38.1 mm, 50.8 mm)", "(1-1/2 in, 2 in)")


def test_sides() -> None:
    """Of a plate or a window, in a sentence, in brackets, and in a table."""
    assert (sides(MM, 152.4, 127), sides(IN, 152.4, 127)) == ("152.4 mm x 127 mm", "6 x 5 in (152.4 x 127 mm)")
    assert sides_aside(MM, 152.4, 127) == "(152.4 mm x 127 mm)"
    assert sides_aside(IN, 152.4, 127) == "(6 x 5 in = 152.4 x 127 mm)"
    assert sizes_text(13.175, 53.175, inches=False) == "13.175 x 53.175 mm"
    assert sizes_text(13.175, 53.975, inches=True) == "0.519 x 2-1/8 in"


def test_an_area() -> None:
    """1 square inch is 645.16 mm²."""
    assert (area(64.516, MM), area(64.516, IN)) == ("64.52 mm²", "0.100 sq in = 64.52 mm²")


def test_a_length_as_written() -> None:
    """As it was written; in a job in inches what was written in mm has its inches first."""
    inch, metric = parse_length("3/8 in"), parse_length("9.5 mm")
    assert [written(length, MM) for length in (inch, metric)] == ["3/8 in", "9.5 mm"]
    assert [written(length, IN) for length in (inch, metric)] == ["3/8 in", "0.374 in (9.5 mm)"]


def test_a_list() -> None:
    """Commas, and "and" before the last."""
    assert [listed(range(1, count)) for count in (2, 3, 4)] == ["1", "1 and 2", "1, 2 and 3"]
