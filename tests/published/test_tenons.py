"""Loose tenons against the proportions that books and magazines give."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from published import Published, inch, table
from sources import (
    CASSELL,
    JOINERY_TEXT,
    PRACTICE,
    PURPOSE_MADE,
    PW_LENGTH,
    PW_PREVIEW,
    PW_ROOM,
    SHOPNOTES,
    WOOD_RULE,
    WOOD_TENONS,
    WOODSMITH,
)

from jigtemplates.match.near import suited
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.job import TenonChoice, Work
from jigtemplates.report import Report
from jigtemplates.tenon import TenonStock, stock_for

ReportWith = Callable[..., Report]

CHOICE = TenonChoice(
    joints=1, fit=0.0, glue_room=inch("1/16"), mate_depth=30.0, edge="round", kerf=3, waste=20, strip=None
)

#: Thickness of the tenon, inches; radius of its rounded edges.
EDGES = (
    Published("edges of a 1/4 in loose tenon", "radius 1/8 in", WOODSMITH, "1/4 in", inch("1/8")),
    Published("edges of a 3/8 in loose tenon", "radius 3/16 in", WOODSMITH, "3/8 in", inch("3/16")),
    Published("edges of a 1/2 in loose tenon", "radius 1/4 in", WOODSMITH, "1/2 in", inch("1/4")),
)

#: Bit, inches; thickness of stock that needs one pass.
ONE_PASS = (
    Published("tenon stock as thick as the 1/4 in bit", "one pass", PRACTICE, "1/4 in", inch("1/4")),
    Published("tenon stock as thick as the 3/8 in bit", "one pass", PRACTICE, "3/8 in", inch("3/8")),
    Published("tenon stock as thick as the 1/2 in bit", "one pass", PRACTICE, "1/2 in", inch("1/2")),
)

#: Thickness of the stock and of the tenon in it, inches: a third, or what the source calls one.
THIRDS = (
    Published("tenon in 3/4 in stock", "a third, 1/4 in", WOOD_RULE, ("3/4", "1/4"), True),
    Published("tenon in 3/4 in parts", "a third, 1/4 in", WOOD_TENONS, ("3/4", "1/4"), True),
    Published("tenon in a 1-1/2 in leg, least", "3/8 in", WOOD_TENONS, ("1-1/2", "3/8"), True),
    Published("tenon in a 1-1/2 in leg, most", "a third, 1/2 in", WOOD_TENONS, ("1-1/2", "1/2"), True),
    Published("tenon in a 3/4 in board", "a third, 1/4 in", PW_PREVIEW, ("3/4", "1/4"), True),
    Published("tenon in a 7/8 in board, thinner choice", "1/4 in", PW_PREVIEW, ("7/8", "1/4"), True),
    Published("tenon in a 7/8 in board, thicker choice", "5/16 in", PW_PREVIEW, ("7/8", "5/16"), True),
    Published("floating tenon in 3/4 in stock", "1/4 in bit is right", SHOPNOTES, ("3/4", "1/4"), True),
    Published("tenon of a third, 3/8 in of 1-1/8 in", "about a third", CASSELL, ("1-1/8", "3/8"), True),
    Published("tenon of a third, 1/2 in of 1-1/2 in", "about a third", PURPOSE_MADE, ("1-1/2", "1/2"), True),
)

#: Width of a tenon 10 mm thick, and whether that is too wide.
WIDTHS = (
    Published("tenon 50 mm wide, 10 mm thick", "at most 5 times", CASSELL, 50.0, False),
    Published("tenon 50.2 mm wide, 10 mm thick", "at most 5 times", PURPOSE_MADE, 50.2, True),
)

#: Depth of each mortise of a tenon 10 mm thick, glue room of 1/16 in included; length of the tenon.
LENGTHS = (Published("length of a tenon 10 mm thick", "5 times its thickness", PW_LENGTH, 25 + inch("1/16"), 50.0),)

#: Glue room in each mortise, mm; whether it is within what is published.
ROOM = (
    Published("mortise deeper than the tenon, least", "1/16 in", PW_ROOM, inch("1/16"), True),
    Published("mortise deeper than the tenon, most", "1/8 in", PW_ROOM, inch("1/8"), True),
    Published("tenon short of the mortise's depth", "1/16 in", WOOD_RULE, inch("1/16"), True),
)

#: Wood outside a mortise, mm; whether it is enough.
WALLS = (
    Published("4.5 mm of wood outside the mortise", "at least 4.5 mm", JOINERY_TEXT, 4.5, True),
    Published("4.4 mm of wood outside the mortise", "at least 4.5 mm", JOINERY_TEXT, 4.4, False),
)


def stock(report: Report, choice: TenonChoice = CHOICE, work: Work | None = None) -> TenonStock:
    found = stock_for(report, choice, work)
    assert found is not None
    return found


def codes(report: Report, choice: TenonChoice = CHOICE, work: Work | None = None) -> list[str]:
    return [finding.code for finding in stock(report, choice, work).findings()]


def work_of(thickness: float, from_face: float) -> Work:
    return Work(thickness=thickness, height=80, length=None, from_face=from_face, from_end=None)


@table(EDGES)
def test_edge(report_with: ReportWith, row: Published) -> None:
    """Half the thickness, as the round-over bits are sold for it."""
    tools = {"bit": row.given, "bushing": "1 in", "clearance": 0}
    found = stock(report_with(cut={"width": row.given, "length": "1.5 in"}, tools=tools))
    assert (found.thickness, found.edge_radius) == pytest.approx((inch(row.given[:-3]), row.value), abs=2e-5)


@table(ONE_PASS)
def test_one_pass(row: Published) -> None:
    """With equal clearance and fit, 0.1 mm, the tenon that suits the pair is as thick as the bit."""
    bits, bushings = [Bit.model_validate({"diameter": row.given})], [Bushing.model_validate({"diameter": "1 in"})]
    (found,) = suited(bits, bushings, width=10.0, clearance=0.1)
    assert found.thickness == pytest.approx(row.value)


@table(ONE_PASS)
def test_one_pass_in_a_job(report_with: ReportWith, row: Published) -> None:
    """A mortise as wide as the bit, at the usual fit and clearance."""
    cut = {"width": row.given, "length": 60}
    report = report_with(cut=cut, tools={"bit": row.given, "bushing": "1 in"}, tenon={"joints": 4})
    assert report.job.tenon is not None
    assert stock(report, report.job.tenon).thickness == pytest.approx(row.value)


@table(THIRDS)
def test_third(report_with: ReportWith, row: Published) -> None:
    """What a source calls a third is nothing to remark on; in stock of twice the tenon it is."""
    wood, tenon = map(inch, row.given)
    cut = {"width": f"{row.given[1]} in", "length": 40}
    report = report_with(cut=cut, tools={"bit": "1/4 in", "bushing": "5/8 in", "clearance": 0})
    assert ("not-a-third" not in codes(report, work=work_of(wood, wood / 2))) is row.value
    assert "not-a-third" in codes(report, work=work_of(2 * tenon, tenon))
    assert stock(report).thickness == pytest.approx(tenon, abs=2e-5)


@table(WIDTHS)
def test_width(report_with: ReportWith, row: Published) -> None:
    """A tenon 10 mm thick may be 50 mm wide."""
    found = codes(report_with(cut={"length": row.given}), replace(CHOICE, mate_depth=40.0))
    assert ("wide-tenon" in found) is row.value


@table(LENGTHS)
def test_length(report_with: ReportWith, row: Published) -> None:
    """As long as published, and nothing is said of it; far shorter ones are remarked on."""
    report, choice = report_with(cut={"length": 49, "depth": row.given}), replace(CHOICE, mate_depth=row.given)
    assert stock(report, choice).length == pytest.approx(row.value)
    assert codes(report, choice) == []
    assert codes(report_with(cut={"length": 49, "depth": 10}), replace(CHOICE, mate_depth=10.0)) == ["short-tenon"]


@table(ROOM)
def test_glue_room(report_with: ReportWith, row: Published) -> None:
    """Nothing is said of that much room; it shortens the tenon at both ends."""
    report = report_with(cut={"length": 49, "depth": 30})
    found = stock(report, replace(CHOICE, glue_room=row.given))
    assert found.length == pytest.approx(60 - 2 * row.given)
    assert ("glue-room" not in [finding.code for finding in found.findings()]) is row.value


@pytest.mark.parametrize("sixteenths", [0.9, 2.1])
def test_glue_room_outside_the_published_range(report_with: ReportWith, sixteenths: float) -> None:
    """Less than 1/16 in or more than 1/8 in is remarked on."""
    choice = replace(CHOICE, glue_room=sixteenths * inch("1/16"))
    assert codes(report_with(cut={"length": 49}), choice) == ["glue-room"]


def test_glue_room_unless_said_otherwise(report_with: ReportWith) -> None:
    """A sixteenth of an inch in each mortise."""
    report = report_with(cut={"length": 49, "depth": 28}, tenon={"joints": 4})
    assert report.job.tenon is not None
    found = stock(report, report.job.tenon)
    assert found.length == pytest.approx(2 * 28 - 2 * inch("1/16"))
    assert found.findings() == ()


@table(WALLS)
def test_wall(report_with: ReportWith, row: Published) -> None:
    """A mortise of 10 mm that near to the reference face."""
    found = codes(report_with(cut={"length": 49}), work=work_of(30, 5 + row.given))
    assert ("thin-wood" not in found) is row.value
