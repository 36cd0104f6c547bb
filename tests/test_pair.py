"""A pair: one job, a template for the left hand and its mirror image for the right."""

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from jigtemplates.checks import CHECKS, Case, Finding, Level
from jigtemplates.checks.finding import stop
from jigtemplates.errors import InputError
from jigtemplates.label_words import full_title, label_facts
from jigtemplates.making import write
from jigtemplates.parameters.job import Job
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.report import Report, report_on

Make = Callable[..., Report]


def test_a_pair_has_files_for_both_hands(report_with: Make, tmp_path: Path) -> None:
    """The plate as drawn keeps its names; the other hand's files say MIRRORED; all stand in one folder and manifest."""
    report = write(report_with(cut={"x": 50}, make={"pair": "left", "for": ["cnc"]}), tmp_path)
    assert [Path(file.path).name for file in report.files] == [
        "rail_cnc_mm.dxf",
        "rail_cnc.svg",
        "rail_setup.pdf",
        "rail_MIRRORED_cnc_mm.dxf",
        "rail_MIRRORED_cnc.svg",
        "rail_MIRRORED_setup.pdf",
        "rail.json",
    ]


def test_the_other_hand_is_the_mirror_image(report_with: Make, tmp_path: Path) -> None:
    """Read by ezdxf: the opening's middle is 50 mm from the left edge in one file, 140 - 50 = 90 mm in the other."""
    write(report_with(cut={"x": 50}, make={"pair": "left", "for": ["cnc"]}), tmp_path)

    def middle(name: str) -> float:
        shapes = ezdxf.readfile(tmp_path / "rail" / name).modelspace()
        (opening,) = [shape for shape in shapes if shape.dxftype() == "LWPOLYLINE" and "inside" in shape.dxf.layer]
        xs = [point[0] for point in opening.get_points("xy")]
        return (min(xs) + max(xs)) / 2

    assert middle("rail_cnc_mm.dxf") == pytest.approx(50, abs=1e-6)
    assert middle("rail_MIRRORED_cnc_mm.dxf") == pytest.approx(90, abs=1e-6)


@pytest.mark.parametrize(
    ("pair", "mirrored", "title"),
    [
        ("left", False, "Bench rail, 10 x 50, LEFT"),
        ("left", True, "Bench rail, 10 x 50, RIGHT"),
        ("right", False, "Bench rail, 10 x 50, RIGHT"),
        ("right", True, "Bench rail, 10 x 50, LEFT"),
    ],
)
def test_each_plate_says_its_hand(job_with: Callable[..., Job], pair: str, mirrored: bool, title: str) -> None:
    """On the label, with MIRRORED on the one that is, and at the head of its set-up sheet."""
    job = job_with(make={"pair": pair, "mirrored": mirrored})
    assert full_title(job) == title
    assert label_facts(job)[0] == title
    assert ("MIRRORED" in label_facts(job)) is mirrored
    assert title in [text.string for text in lay_out_setup(report_on(job)).pattern.pages[0].texts]


def test_without_a_pair_no_hand_is_said(job_with: Callable[..., Job]) -> None:
    """One template has its title alone."""
    assert full_title(job_with()) == "Bench rail, 10 x 50"


def test_what_the_other_hand_alone_has_is_said(job_with: Callable[..., Job], tmp_path: Path) -> None:
    """On a small plate the label of the other hand, longer by its word MIRRORED, finds no room: said with the rest."""
    job = job_with("Rail", plate={"height": 44, "width": 80, "screws": None}, make={"pair": "left"})
    report = report_on(job)
    (said,) = [finding for finding in report.findings if finding.code == "label-left-out"]
    assert said.message.startswith("on the RIGHT plate, there is no room for the label")
    assert write(report, tmp_path).findings == report.findings
    mirrored = replace(job, make=replace(job.make, mirrored=True))  # the RIGHT plate is the job's own now
    (own,) = [finding for finding in report_on(mirrored).findings if finding.code == "label-left-out"]
    assert own.message.startswith("there is no room for the label")


def test_check_and_make_find_the_same(rail: Path, call: Callable[..., Any]) -> None:
    """A pair's findings, and so the number of its notes, are those of both plates: shown, made, and made again."""
    text = rail.read_text(encoding="utf-8").replace("screws =", "# screws =") + 'pair = "left"\n'
    for old, new in (("Bench rail, 10 x 50", "Rail"), ("width = 140", "width = 80"), ("height = 140", "height = 44")):
        text = text.replace(old, new)
    rail.write_text(text, encoding="utf-8")
    checked, made, again = (json.loads(call(name, "rail.toml", "--json").out) for name in ("check", "make", "make"))
    assert checked["findings"] == made["findings"] == again["findings"]
    notes = [finding for finding in checked["findings"] if finding["level"] == "note"]
    assert any(finding["message"].startswith("on the RIGHT plate, ") for finding in checked["findings"])
    shown = call("check", "rail.toml").out
    assert sum(line.startswith("  note ") for line in shown.splitlines()) == len(notes)
    assert f"  {len(notes)} notes more, and the cautions: jigtemplates check" in call("make", "rail.toml").out


def test_a_stop_of_the_other_hand_stops_both(job_with: Callable[..., Job], monkeypatch: pytest.MonkeyPatch) -> None:
    """No half of a pair is made: a stop for the RIGHT plate stands first among the findings of the pair."""

    def only_mirrored(case: Case) -> Iterator[Finding]:
        if case.job.make.mirrored:
            yield stop("odd", "plate", "it cannot lie there: turn it")

    monkeypatch.setattr("jigtemplates.checks.CHECKS", (*CHECKS, only_mirrored))
    report = report_on(job_with(make={"pair": "left"}))
    assert (report.findings[0].level, report.findings[0].message) == (
        Level.STOP,
        "on the RIGHT plate, it cannot lie there: turn it",
    )
    assert report.stopped
    assert not report_on(job_with()).stopped


def test_a_hand_that_is_none(job_with: Callable[..., Job]) -> None:
    """Only left and right are hands."""
    with pytest.raises(InputError) as caught:
        job_with(make={"pair": "both"})
    assert caught.value.lines == ('rail:20: make.pair: "both" is not known here (known: "left", "right")',)
