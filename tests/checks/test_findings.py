"""All checks together: order, levels, what the plan's job is told."""

from collections.abc import Callable

from jigtemplates.checks import CHECKS, Level
from jigtemplates.report import Report

ReportWith = Callable[..., Report]


def test_the_plans_job(report_with: ReportWith) -> None:
    """The job of the plan is told this, warnings before notes, each in the order of the checks."""
    assert [(f.level.value, f.code) for f in report_with().findings] == [
        ("warning", "chip-room"),
        ("note", "side-play"),
        ("note", "stem-unknown"),
        ("note", "reach-unknown"),
        ("note", "kerf-not-set"),
        ("note", "assumed"),
    ]


def test_stops_come_first(report_with: ReportWith) -> None:
    """Whatever check they come from, stops stand before warnings and warnings before notes."""
    report = report_with(
        "Рейка",
        cut={"x": 20},
        tools={"bit": 9.5, "bushing": {"diameter": "1/2 in", "bore": 10, "stem": 7}},
        plate={"material": "pvc"},
        make={"dxf": {"version": "R12"}},
    )
    assert [f.code for f in report.findings if f.level is Level.STOP] == [
        "stem-too-long",
        "opening-off-plate",
        "never-laser",
        "label-letters",
    ]
    levels = [f.level for f in report.findings]
    assert levels == sorted(levels, key=[Level.STOP, Level.WARNING, Level.NOTE].index)
    assert {Level.WARNING, Level.NOTE} <= set(levels)
    assert report.stopped


def test_a_job_that_says_everything(report_with: ReportWith) -> None:
    """Measured tools with room for everything leave nothing to say but the side play."""
    report = report_with(
        cut={"depth": 12},
        tools={
            "bit": {"diameter": 6, "shank": 6, "cutting_length": 20, "overall_length": 60, "plunging": True},
            "bushing": {"diameter": 12, "bore": 10, "stem": 5},
        },
        plate={"width": 200, "height": 200},
        make={"kerf": 0.2},
    )
    assert [f.code for f in report.findings] == ["side-play"]
    assert not report.stopped


def test_every_check_is_asked() -> None:
    """Each file of the package has its check in CHECKS, once; one has two."""
    names = [check.__module__.rsplit(".", 1)[1] for check in CHECKS]
    assert names == [
        "fit", "bore", "stem", "depth", "reach", "walls", "outside", "drawn", "mirrored", "mirrored", "loose", "holder",
        "support", "sizes", "material", "output", "tenon", "work", "inlay", "assumptions", "corrections", "labelling",
    ]  # fmt: skip
