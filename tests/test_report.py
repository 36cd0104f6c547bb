"""The numbers of a job as data and as JSON, with the keys and types that are fixed."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.checks import Finding, Level
from jigtemplates.report import Report, WrittenFile

ReportWith = Callable[..., Report]


def test_the_plans_job(report_with: ReportWith) -> None:
    """The job of the plan gives the numbers of the plan, under the keys of the plan."""
    data = report_with().as_json()
    findings = data.pop("findings")
    assert data.pop("budget")["coverage"] == 0.95  # tests/budget has the rest of it
    assert data == {
        "title": "Bench rail, 10 x 50",
        "opening": {"width": 13.175, "length": 53.175, "corner_radius": 6.5875},
        "offset": 1.5875,
        "predicted_cut": {"width": 10.0, "length": 50.0, "max_deviation": 0.0, "unreachable_area": 0.0},
        "side_play": 0.475,
        "trapped": False,
        "plunge_depth": 34.0,
        "passes": 6,
        "pass_depths": [4.7, 9.3, 14.0, 18.7, 23.3, 28.0],
        "files": [],
    }
    assert all(set(f) == {"level", "code", "where", "message"} for f in findings)
    assert {f["level"] for f in findings} == {"warning", "note"}


def test_types(report_with: ReportWith) -> None:
    """As JSON, lengths are numbers, trapped is true or false, passes is whole, the rest is text and lists."""
    data = json.loads(json.dumps(report_with().as_json()))
    assert [type(data[key]) for key in ("title", "offset", "side_play", "trapped", "plunge_depth", "passes")] == [
        str, float, float, bool, float, int,
    ]  # fmt: skip
    assert all(type(n) is float for n in (*data["opening"].values(), *data["predicted_cut"].values()))
    assert all(type(text) is str for finding in data["findings"] for text in finding.values())


def test_a_trapped_job(report_with: ReportWith) -> None:
    """As wide as the bit: opening G + clearance, cut B + clearance, trapped."""
    data = report_with(cut={"width": "3/8 in"}).as_json()
    assert data["opening"] == {"width": 12.8, "length": 53.175, "corner_radius": 6.4}
    assert data["predicted_cut"] == {"width": 9.625, "length": 50.0, "max_deviation": 0.05, "unreachable_area": 0.0}
    assert (data["side_play"], data["trapped"]) == (0.1, True)


def test_a_rectangle_shorter_than_wide(report_with: ReportWith) -> None:
    """Its side play is across the shorter side, so it is trapped too."""
    data = report_with(cut={"shape": "rectangle", "width": 50, "length": "3/8 in", "depth": 5}).as_json()
    assert (data["opening"]["width"], data["opening"]["length"]) == (53.175, 12.8)
    assert (data["side_play"], data["trapped"]) == (0.1, True)


def test_square_corners(report_with: ReportWith) -> None:
    """What stays standing is given: 1.972692 mm deep and 19.469886 mm² in all (see test_routing)."""
    data = report_with(cut={"shape": "rectangle", "width": 20, "length": 50, "depth": 5}).as_json()
    assert data["predicted_cut"]["max_deviation"] == pytest.approx(1.972692, abs=1e-6)
    assert data["predicted_cut"]["unreachable_area"] == pytest.approx(19.469886, abs=1e-6)


def test_no_opening(report_with: ReportWith) -> None:
    """Without an opening there are nulls and a stop, and the rest is still told."""
    report = report_with(cut={"width": 9})
    data = report.as_json()
    assert (data["opening"], data["predicted_cut"], data["side_play"], data["trapped"]) == (None, None, None, False)
    assert (data["plunge_depth"], data["passes"]) == (34.0, 6)
    assert data["findings"][0] == {
        "level": "stop",
        "code": "bit-wider-than-cut",
        "where": "tools.bit",
        "message": "the bit (9.525 mm) is wider than the cut (9 mm): use a bit of at most 9 mm, or make cut.width at "
        "least 9.525 mm",
    }
    assert report.stopped
    assert "NaN" not in json.dumps(data)
    assert "Infinity" not in json.dumps(data)


def test_never_minus_nothing(report_with: ReportWith) -> None:
    """A zero is written 0.0 and never -0.0."""
    assert "-0.0" not in json.dumps(report_with(tools={"clearance": 0}, cut={"width": 9.525}).as_json())


@pytest.mark.parametrize(
    ("tools", "offset"),
    [
        ({"bushing": "3/4 in", "bit": "1/2 in"}, 3.175),  # 1/8 in: WOOD magazine, "Understanding Guide Bushings"
        ({"bushing": "5/8 in", "bit": "1/2 in"}, 1.5875),  # 1/16 in: WOOD, hinge mortises
        ({"bushing": 30, "bit": 10}, 10.0),  # HolzWerken
        ({"bushing": 40, "bit": 10}, 15.0),  # woodworking forum, "Templates made EASY!"
    ],
)
def test_published_offsets(report_with: ReportWith, tools: dict[str, Any], offset: float) -> None:
    """The offset is that of the published pair (references; read)."""
    assert report_with(tools=tools, cut={"width": 20}).as_json()["offset"] == offset


def test_more_findings_and_files(report_with: ReportWith) -> None:
    """What is added stands at the end, and the report it came from is as it was."""
    report = report_with()
    more = Finding(Level.NOTE, "more", "title", "one more")
    later = report.with_findings((more,)).with_files((WrittenFile("out/rail/rail.json", "00", None),))
    assert later.findings == (*report.findings, more)
    assert later.as_json()["files"] == ["out/rail/rail.json"]
    assert report.files == ()
    assert more not in report.findings
