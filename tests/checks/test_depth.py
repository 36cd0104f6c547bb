"""Passes, cutting edges, plunging."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.facts import facts
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

Said = Callable[..., list[tuple[str, str, str]]]
ReportWith = Callable[..., Report]


def bit(**known: Any) -> dict[str, Any]:
    """Tools with a 3/8 in bit of which that is known."""
    return {"bit": {"diameter": "3/8 in", **known}}


@pytest.mark.parametrize(
    ("depth", "tools", "depths"),
    [
        (28, {}, [4.7, 9.3, 14, 18.7, 23.3, 28]),  # half of 9.525 is 4.7625; 28 / 4.7625 = 5.9
        (4.7625, {}, [4.7625]),
        (4.77, {}, [2.5, 4.77]),
        (10, {"bit": "3/4 in", "bushing": "1 in"}, [5, 10]),  # half of 19.05 is more than 5
        (10.01, {"bit": "3/4 in", "bushing": "1 in"}, [3.5, 6.5, 10.01]),
        (9, {"pass_depth": 3}, [3, 6, 9]),
        (0.6, {"pass_depth": 0.2}, [0.2, 0.4, 0.6]),  # 0.6 / 0.2 is 2.9999999999999996 in binary
        (0.3, {"pass_depth": 0.1}, [0.1, 0.2, 0.3]),  # 0.3 / 0.1 is 2.9999999999999996, 0.1 * 3 is not 0.3
    ],
)
def test_passes(report_with: ReportWith, depth: float, tools: dict[str, Any], depths: list[float]) -> None:
    """Passes on half or tenths of millimetres, each at most half the bit and 5 mm, or the job's own; the last exact."""
    cut = {"width": 25, "depth": depth}
    report = report_with(cut=cut, tools=tools)
    assert report.pass_depths == pytest.approx(tuple(depths))
    assert report.as_json()["passes"] == len(depths)


def test_measured_bit(report_with: ReportWith) -> None:
    """A 3/8 in bit that measures half a thousandth less takes no pass more: half of what it is sold as is 3/16 in."""
    bit = {"diameter": {"nominal": "3/8 in", "measured": "0.3745 in"}}
    report = report_with(cut={"width": 25, "depth": 23.8}, tools={"bit": bit})  # 5 x 4.756 are 23.78
    assert report.as_json()["passes"] == 6  # as tenths of a millimetre have it with 3/8 in
    assert report_with(cut={"width": 25, "depth": 23.5}, tools={"bit": bit}).as_json()["passes"] == 5
    slender = {"diameter": {"nominal": "3/8 in", "measured": "0.37 in"}}
    assert said_usual(report_with(cut={"width": 25}, tools={"bit": slender, "pass_depth": 9.5})) == ["4.76 mm is safer"]


def said_usual(report: Report) -> list[str]:
    """What is said to be usual instead of too deep a pass."""
    return [finding.message.partition(": ")[2] for finding in report.findings if finding.code == "deep-pass"]


def test_plunge_depth(report_with: ReportWith) -> None:
    """Plate + stand-off + depth of cut: 6 + 12 + 28."""
    assert report_with().case.plunge_depth == 34
    assert report_with(plate={"stand_off": 12}).case.plunge_depth == 46


def test_deep_pass(said: Said) -> None:
    """A pass deeper than the bit is wide is a warning with a safer one; as deep as it is wide is none."""
    assert said("deep-pass", tools={"pass_depth": 9.6}) == [
        (
            "warning",
            "tools.pass_depth",
            "passes of 9.6 mm are deeper than the bit is wide (9.525 mm): 4.76 mm is safer",
        )
    ]
    assert said("deep-pass", tools={"pass_depth": "3/8 in"}) == []


def test_too_many_passes(report_with: ReportWith, said: Said) -> None:
    """A pass depth in the wrong unit is a stop, and no list of a million depths is made."""
    assert said("too-many-passes", tools={"pass_depth": "0.001 in"}) == [
        (
            "stop",
            "tools.pass_depth",
            "a cut 28 mm deep would take 1103 passes of 0.0254 mm: at most 200 make sense; check cut.depth, the bit "
            "and tools.pass_depth (4.76 mm is usual for this bit)",
        )
    ]
    report = report_with(cut={"depth": 10_000}, tools={"pass_depth": 0.0001})
    assert report.as_json()["passes"] == 100_000_000
    assert len(report.pass_depths) == 201


def test_too_deep_for_the_bit(said: Said) -> None:
    """Without a pass depth of its own the depth of the cut is blamed; 200 passes are allowed."""
    ((level, key, _),) = said("too-many-passes", cut={"depth": 941})  # 199 x 4.7 + 4.7625 = 940.06
    assert (level, key) == ("stop", "cut.depth")
    assert said("too-many-passes", cut={"depth": 940}) == []


def test_reach_unknown(said: Said) -> None:
    """Without a cutting length a note says what the bit must reach."""
    assert said("reach-unknown") == [
        (
            "note",
            "tools.bit",
            "the length of the bit's cutting edges is not known: they must be longer than the cut is deep (28 mm), and "
            "the bit must reach 34 mm below the base; measure it, or give it as bit = { diameter = …, shank = …, "
            "cutting_length = … }",
        )
    ]
    assert said("reach-unknown", tools=bit(cutting_length=30)) == []


def test_deeper_than_the_cutting_edges(said: Said) -> None:
    """A cut deeper than the edges are long is a warning; just as deep is none."""
    assert said("deeper-than-cutting-edges", tools=bit(cutting_length=27.9)) == [
        (
            "warning",
            "cut.depth",
            "the cut (28 mm) is deeper than the cutting edges are long (27.9 mm): only go on if the shank is thinner "
            "than the bit, and clear the chips after each pass",
        )
    ]
    assert said("deeper-than-cutting-edges", tools=bit(cutting_length=28)) == []


def test_shank_meets_the_work(said: Said) -> None:
    """With a shank thicker than the bit that is a stop; with one no thicker it stays a warning."""
    thick = bit(cutting_length=25, shank="1/2 in")
    assert said("shank-meets-work", tools=thick) == [
        (
            "stop",
            "cut.depth",
            "the cut (28 mm) is deeper than the cutting edges are long (25 mm) and the shank (12.7 mm) is thicker than "
            "the bit (9.525 mm), so it would jam in the cut: use a longer bit, or cut at most 25 mm deep",
        )
    ]
    assert said("deeper-than-cutting-edges", tools=thick) == []
    same = bit(cutting_length=25, shank="3/8 in")
    assert said("shank-meets-work", tools=same) == []
    assert len(said("deeper-than-cutting-edges", tools=same)) == 1


def test_bit_that_cannot_plunge(said: Said) -> None:
    """Known not to cut across its end: a warning; unknown or able: nothing."""
    assert said("bit-cannot-plunge", tools=bit(plunging=False)) == [
        (
            "warning",
            "tools.bit",
            "the bit does not cut across its end: use a plunging bit, or drill a starting hole first",
        )
    ]
    assert said("bit-cannot-plunge", tools=bit(plunging=True)) == []
    assert said("bit-cannot-plunge") == []


IN_INCHES = """
title = "Latch"
units = "in"
[cut]
shape = "slot"
width = "5/8"
length = 2
depth = "1-1/8"
[tools]
bit = { diameter = { nominal = "3/8", measured = "0.3745" } }
bushing = "5/8"
[plate]
width = 6
height = 6
thickness = "1/4"
[make]
for = ["paper"]
"""


def test_passes_are_on_a_rule() -> None:
    """A newcomer's job: 1-1/8 in deep with a 3/8 in bit measured 0.3745 in is six passes of 3/16 in."""
    report = report_on(job_from_text(IN_INCHES, name="latch", profiles=Profiles()))
    assert report.pass_depths == pytest.approx([25.4 * 3 / 16 * number for number in range(1, 7)])
    assert dict(facts(report))["passes"] == "6, each 3/16 in (4.76 mm) deeper"
    assert dict(facts(report))["plunge"].startswith("1-3/8 in (34.93 mm)")
