"""The router: speed by diameter, depth of a pass, shank in the collet, direction of feed."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from published import Published, inch, table
from sources import (
    CUTTER_GUIDE,
    FEED_PAGE,
    NOCTI,
    PASSES_PAGE,
    PRACTICE,
    RIM_SPEEDS,
    ROUTER_MANUAL,
    SHANKS,
    SHOPNOTES,
    SPEEDS,
    STUFF_WORKS,
    WOOD_DIRECTION,
    WOOD_PLUNGE,
    WWJ_2010,
)

from jigtemplates.cautions import cautions, fastest
from jigtemplates.checks.reach import reach_of
from jigtemplates.practice import DEEPEST_PASS, HELD
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
Said = Callable[..., list[tuple[str, str, str]]]

#: Shipped and invented: 10 mm are left under its collet nut when it is fully plunged.
ROUTER = "generic mid-size plunge"

#: Smallest and largest diameter, inches; rpm. A hundredth more is the next row's.
FASTEST = (
    Published("up to 1 in", "24,000 rpm", SPEEDS, ("1/4", "1"), 24_000),
    Published("1 to 2 in", "18,000 rpm", SPEEDS, ("1.01", "2"), 18_000),
    Published("2 to 2-1/2 in", "16,000 rpm", SPEEDS, ("2.01", "2-1/2"), 16_000),
    Published("2-1/2 to 3-1/2 in", "12,000 rpm", SPEEDS, ("2.51", "3-1/2"), 12_000),
    Published("1 in or less", "24,000 rpm", STUFF_WORKS, ("1/8", "1"), 24_000),
    Published("1 to 2 in", "somewhere around 18,000 rpm", STUFF_WORKS, ("1.01", "2"), 18_000),
    Published("2 to 2-1/2 in", "around 16,000 rpm", STUFF_WORKS, ("2.01", "2-1/2"), 16_000),
    Published("3 in", "12,000 rpm or below", STUFF_WORKS, ("3", "3"), 12_000),
)

#: Diameter, inches; speed of the rim at the fastest speed, feet a minute.
RIMS = (
    Published("rim of 1 in at 24,000 rpm", "6,280 ft/min", RIM_SPEEDS, "1", 6_280),
    Published("rim of 2 in at 18,000 rpm", "9,420 ft/min", RIM_SPEEDS, "2", 9_420),
    Published("rim of 2-1/2 in at 16,000 rpm", "10,470 ft/min", RIM_SPEEDS, "2-1/2", 10_470),
    Published("rim of 3-1/2 in at 12,000 rpm", "11,000 ft/min", RIM_SPEEDS, "3-1/2", 11_000),
)

#: Bit and deepest single pass that the source allows; the deepest we make of it, mm. We never go deeper than any of
#: them but the first, whose 1/8 in is for whatever bit and whose half of a 1/4 in bit it is.
PASSES = (
    Published("deepest pass, 1/4 in bit", "1/8 in whatever the bit", ROUTER_MANUAL, ("1/4 in", "1/8"), inch("1/8")),
    Published("deepest pass, 1/8 in bit", "half the bit", CUTTER_GUIDE, ("1/8 in", "1/16"), inch("1/16")),
    Published("deepest pass, 8 mm bit", "half the bit", CUTTER_GUIDE, ("8 mm", "0.1575"), 4.0),
    Published("deepest pass, 1/2 in bit", "half the bit, 1/4 in", PASSES_PAGE, ("1/2 in", "1/4"), 5.0),
    Published("deepest pass in a mortise, 3/4 in bit", "1/4 in", WOOD_PLUNGE, ("3/4 in", "1/4"), 5.0),
    Published("deepest pass in a mortise, 1/4 in bit", "1/4 in", SHOPNOTES, ("1/4 in", "1/4"), inch("1/8")),
    Published("deepest pass, 12 mm bit", "about 5 mm", PRACTICE, ("12 mm", "0.1969"), 5.0),
)

#: Shank held, inches, and whether that is enough for us: an exam's card is content with less than the trade.
SHANK = (
    Published("shank in the collet, never less", "3/4 in", SHANKS, "3/4", True),
    Published("shank in the collet, at least", "1/2 in", NOCTI, "1/2", False),
)

#: What the cautions say.
FEED = (
    Published("inside edge, hand-held router", "clockwise", WOOD_DIRECTION, {}, "inside the template feed clockwise"),
    Published("inside cutout, hand-held router", "clockwise", WWJ_2010, {}, "inside the template feed clockwise"),
    Published("irregular shape, inside edge", "clockwise", FEED_PAGE, {}, "inside the template feed clockwise"),
)


@table(FASTEST)
def test_speed(row: Published) -> None:
    """The fastest speed for both diameters is the published one, and above 3-1/2 in nobody's."""
    assert [fastest(inch(diameter)) for diameter in row.given] == [row.value] * 2
    assert fastest(inch("3.51")) is None


@table(FASTEST)
def test_speed_said(report_with: ReportWith, row: Published) -> None:
    """The cautions of a job name it."""
    bit, wide = inch(row.given[1]), 120
    plate = {"width": 320, "height": 320, "screws": None}
    job = report_with(tools={"bit": bit, "bushing": 100}, cut={"width": wide, "length": 150}, plate=plate).job
    assert f"Speed at most {row.value:,} rpm for this bit." in " ".join(cautions(job))


@table(RIMS)
def test_rim(row: Published) -> None:
    """At our fastest speed the rim is as fast as published, and slower than its limit of 12,000 ft/min."""
    speed = fastest(inch(row.given))
    assert speed is not None
    rim = math.pi * inch(row.given) / inch("12") * speed
    assert rim == pytest.approx(row.value, rel=1e-3)
    assert rim < 12_000


@table(PASSES)
def test_pass(report_with: ReportWith, row: Published) -> None:
    """As deep as that is one pass, more is two; never deeper than the source."""
    bit, most = row.given
    tools = {"bit": bit, "bushing": 30}
    for depth, count in ((row.value, 1), (row.value + 0.01, 2)):
        assert report_with(tools=tools, cut={"width": 25, "depth": depth}).as_json()["passes"] == count
    assert row.value <= inch(most) + 1e-3
    assert row.value <= DEEPEST_PASS


@table(SHANK)
def test_shank(said: Said, row: Published) -> None:
    """A bit of which only that much would be held at full depth passes, or stops."""
    overall = 34 + 10 + inch(row.given) + 0.01  # plunge, what is left under the nut, shank
    tools = {"router": ROUTER, "bit": {"diameter": "3/8 in", "overall_length": overall}}
    assert (said("bit-too-short", tools=tools) == []) is row.value
    assert (inch(row.given) >= HELD) is row.value


def test_a_hair_less_than_three_quarters_is_too_little(said: Said) -> None:
    """34 mm of plunge + 10 mm + 19.05 mm is 63.05 mm."""
    found = [
        len(said("bit-too-short", tools={"router": ROUTER, "bit": {"diameter": "3/8 in", "overall_length": length}}))
        for length in ("2-1/2 in", "2-31/64 in", "2-15/32 in")  # 63.5, 63.103 and 62.706 mm
    ]
    assert found == [0, 0, 1]


def test_what_is_left_outside(report_with: ReportWith) -> None:
    """A 3 in bit sticks out by at most 2-1/4 in: 3/4 in is held."""
    tools: dict[str, Any] = {"router": ROUTER, "bit": {"diameter": "3/8 in", "overall_length": "3 in"}}
    assert reach_of(report_with(tools=tools).case).held == pytest.approx(inch("2-1/4"))


@pytest.mark.parametrize(("depth", "faults"), [("1/2 in", 0), ("1 in", 0), ("2 in", 0), ("2-3/8 in", 1)])
def test_depth_against_travel(said: Said, depth: str, faults: int) -> None:
    """A bit that comes up clear travels through the whole cut (common practice): 60 mm here, 2.36 in."""
    assert len(said("travel-too-short", cut={"depth": depth}, tools={"router": ROUTER})) == faults


@table(FEED)
def test_feed(report_with: ReportWith, row: Published) -> None:
    """The cautions of a template that is followed inside say so."""
    assert row.value in " ".join(cautions(report_with(**row.given).job))
    assert row.says in row.value
