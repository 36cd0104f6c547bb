"""Router practice against published figures: speeds, passes, chip room, stems, running fits."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.cautions import fastest
from jigtemplates.checks.bore import BETTER_ROOM, LEAST_ROOM
from jigtemplates.checks.fit import BINDS, LOOSE
from jigtemplates.practice import HELD
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
Said = Callable[..., list[tuple[str, str, str]]]


@pytest.mark.parametrize(
    ("inches", "speed"),
    [
        # "Choosing Proper Router Bit Speeds", read: up to 1 in 24,000; 1-2 in 18,000; 2-2-1/2 in 16,000;
        # 2-1/2-3-1/2 in 12,000 rpm
        (0.25, 24_000),
        (1.0, 24_000),
        (1.01, 18_000),
        (2.0, 18_000),
        (2.01, 16_000),
        (2.5, 16_000),
        (2.51, 12_000),
        (3.5, 12_000),
        (3.51, None),
    ],
)
def test_speed_by_diameter(inches: float, speed: int | None) -> None:
    """The fastest speed for a cutter's diameter is the published one."""
    assert fastest(inches * 25.4) == speed


@pytest.mark.parametrize(
    ("bit", "deepest"),
    [
        ("1/8 in", 1.5875),  # less than half the bit's diameter (a cutter guide, read)
        ("1/4 in", 3.175),  # 1/8 in whatever the bit (a router manual, read) is this bit's half
        (8, 4.0),
        (12, 5.0),  # about 5 mm (common practice), and below the 1/4 in of WOOD, "Take the Plunge with a Router" (read)
        ("3/4 in", 5.0),
    ],
)
def test_depth_of_a_pass(report_with: ReportWith, bit: Any, deepest: float) -> None:
    """A pass is half the bit and at most 5 mm deep: as deep as that is one pass, more is two."""
    tools = {"bit": bit, "bushing": 30}
    assert report_with(tools=tools, cut={"width": 25, "depth": deepest}).as_json()["passes"] == 1
    assert report_with(tools=tools, cut={"width": 25, "depth": deepest + 0.01}).as_json()["passes"] == 2


def test_chip_room() -> None:
    """1/16 in in all (a router manual, read); better 1/16 in a side (B. Hylton, Router Magic, read)."""
    assert LEAST_ROOM == 1.5875
    assert BETTER_ROOM == 3.175


@pytest.mark.parametrize(
    ("bushing", "bore", "eighth", "quarter"),
    [
        # shop tip "router template offsets", alan.net, read: OD and bore, offsets with a 1/8 in and a 1/4 in bit
        ("5/16 in", "1/4 in", 3 / 32, None),  # "not possible": the bore is as wide as the bit
        ("3/8 in", "9/32 in", 1 / 8, 1 / 16),
        ("7/16 in", "11/32 in", 5 / 32, 3 / 32),
        ("1/2 in", "13/32 in", 3 / 16, 1 / 8),
        ("5/8 in", "17/32 in", 1 / 4, 3 / 16),
        ("3/4 in", "21/32 in", 5 / 16, 1 / 4),
        ("51/64 in", "5/8 in", 43 / 128, 35 / 128),
    ],
)
def test_two_piece_bushings(
    report_with: ReportWith, bushing: str, bore: str, eighth: float, quarter: float | None
) -> None:
    """Every published pair has its published offset, and the pair that cannot work is stopped."""
    for bit, offset in (("1/8 in", eighth), ("1/4 in", quarter)):
        report = report_with(tools={"bit": bit, "bushing": {"diameter": bushing, "bore": bore}}, cut={"width": 30})
        stops = [finding.code for finding in report.findings if finding.code == "bit-does-not-pass-bore"]
        assert stops == ([] if offset is not None else ["bit-does-not-pass-bore"])
        if offset is not None:
            assert report.offset == pytest.approx(offset * 25.4, abs=1e-9)


def test_shipped_bores(said: Said) -> None:
    """A bare diameter finds the published bore: 1/4 in does not pass 5/16 in, 3/8 in has too little room in 1/2 in."""
    assert len(said("bit-does-not-pass-bore", tools={"bit": "1/4 in", "bushing": "5/16 in"})) == 1
    # 13/32 in less 3/8 in is 1/32 in = 0.79 mm
    assert said("chip-room")[0][2].startswith("only 0.79 mm between bit and bore")


@pytest.mark.parametrize(
    ("stem", "fits"), [("3/16 in", True), ("15/64 in", True), ("1/4 in", False), ("5/8 in", False)]
)
def test_stems(said: Said, stem: str, fits: bool) -> None:
    """Stems run from 3/16 to 5/8 in and must be shorter than the template, here 1/4 in (WOOD, read)."""
    tools = {"bushing": {"diameter": "1/2 in", "bore": "13/32 in", "stem": stem}}
    assert (said("stem-too-long", tools=tools, plate={"thickness": "1/4 in"}) == []) is fits
    assert said("stem-hardly-engages", tools=tools, plate={"thickness": "1/4 in"}) == []


def test_shank_in_the_collet() -> None:
    """Never less than 3/4 in of shank is held (trade articles, read)."""
    assert pytest.approx(0.75 * 25.4) == HELD


def test_running_fits() -> None:
    """Least clearance of H8/f7 at 10-18 mm, 0.016; LOOSE is beyond H9/d9's most, 0.169, twice (ISO 286, quoted)."""
    assert BINDS == 0.016
    assert 2 * 0.169 < LOOSE < 0.35


@pytest.mark.parametrize(("clearance", "codes"), [(0.006, 1), (0.02, 0), (0.05, 0), (0.136, 0), (0.169, 0)])
def test_clearances_of_running_fits(said: Said, clearance: float, codes: int) -> None:
    """Running fits H8/f7 and H9/d9 (0.016 to 0.169 mm) pass; a sliding fit H7/g6 of 0.006 mm binds in a template."""
    tools, cut = {"clearance": clearance}, {"width": "3/8 in"}
    found = said("no-running-clearance", tools=tools, cut=cut) + said("loose-clearance", tools=tools, cut=cut)
    assert len(found) == codes


@pytest.mark.parametrize(
    ("tools", "width"),
    [
        # Woodworker's Journal 17(1), 1993, p. 49, read: a slot as wide as the bushing makes a groove as wide as the bit
        ({"bit": "1/4 in", "bushing": "7/16 in", "clearance": 0}, "1/4 in"),
        # woodworking forum, read: slot 1/2 in wide for a mortise 3/8 in wide
        ({"bit": "3/8 in", "bushing": "1/2 in", "clearance": 0}, "3/8 in"),
    ],
)
def test_one_pass_makes_the_width(report_with: ReportWith, tools: dict[str, Any], width: str) -> None:
    """Bushing as wide as the slot: the cut is as wide as the bit, and trapped."""
    report = report_with(tools=tools, cut={"width": width})
    size, cut = report.template.opening_size, report.predicted
    assert size is not None
    assert cut is not None
    assert size.width == pytest.approx(report.case.bushing, abs=1e-6)
    assert cut.width == pytest.approx(report.case.bit, abs=1e-6)
    assert report.case.trapped
