"""Reach against published figures: shank in the collet, hole in the base, stems."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.checks.reach import reach_of
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
Said = Callable[..., list[tuple[str, str, str]]]

#: Shipped and invented: 10 mm are left under its collet nut when it is fully plunged.
ROUTER = "generic mid-size plunge"


@pytest.mark.parametrize(
    ("overall", "stops"),
    [
        # never less than 3/4 in of shank held (trade articles, read): 34 mm of plunge + 10 mm + 19.05 mm = 63.05 mm
        ("2-1/2 in", 0),  # 63.5 mm
        ("2-31/64 in", 0),  # 63.103 mm
        ("2-15/32 in", 1),  # 62.706 mm
    ],
)
def test_three_quarters_of_an_inch_are_held(said: Said, overall: str, stops: int) -> None:
    """A bit is refused as soon as less than 3/4 in of its shank would be in the collet at full depth."""
    tools = {"router": ROUTER, "bit": {"diameter": "3/8 in", "overall_length": overall}}
    assert len(said("bit-too-short", tools=tools)) == stops


def test_bottomed_and_withdrawn(report_with: ReportWith) -> None:
    """A 3 in bit sticks out by at most 2-1/4 in: 3/4 in is held (trade articles, read)."""
    tools = {"router": ROUTER, "bit": {"diameter": "3/8 in", "overall_length": "3 in"}}
    assert reach_of(report_with(tools=tools).case).held == pytest.approx(2.25 * 25.4)


@pytest.mark.parametrize("depth", ["1/2 in", "1 in", "2 in"])
def test_depth_against_travel(said: Said, depth: str) -> None:
    """A bit that comes up clear has travelled through the whole cut (never lift out in the cut: common practice)."""
    tools: dict[str, Any] = {"router": ROUTER}  # 60 mm of travel, 2.36 in
    assert said("travel-too-short", cut={"depth": depth}, tools=tools) == []
    assert len(said("travel-too-short", cut={"depth": "2-3/8 in"}, tools=tools)) == 1  # 60.325 mm
