"""Two kinds of mortise in one plate: tenon stock, checks, fit and set-up page of each."""

from collections.abc import Callable
from dataclasses import replace
from itertools import takewhile
from pathlib import Path
from typing import Any

import pytest
from click import unstyle

from jigtemplates.parameters.load import job_from_text
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on
from jigtemplates.terminal import report_lines

JOB = """\
title = "Frame"
units = "mm"
[[cut]]
shape = "slot"
width = 10
length = 50
depth = 28
y = 50
tenon = { joints = 8, glue_room = 2, strip = 600 }
[[cut]]
shape = "slot"
width = 12
length = 30
depth = 20
y = 110
tenon = { joints = 4, glue_room = 0.5, waste = 10 }
[[cut]]
shape = "round"
diameter = 20
depth = 8
x = 30
[tools]
bit = "8 mm"
bushing = { diameter = "14 mm", bore = 11, stem = 5 }
clearance = 0.1
[plate]
width = 200
height = 160
thickness = 6
[make]
for = ["cnc"]
"""


def read(text: str) -> Report:
    return report_on(job_from_text(text, name="frame", profiles=Profiles()))


@pytest.fixture(scope="module")
def report() -> Report:
    """Tenons of cut 1 and of cut 2; cut 3 has none."""
    return read(JOB)


def test_tenon_stock_as_json(report: Report) -> None:
    """Above that of the first cut; with each cut its own, and none with one that has none.

    10 - 0.1, 50 - 0.1, 28 + 28 - 4; a strip of 8 is 40 + 8 x 52 + 9 x 3 = 483. 12 - 0.1, 30 - 0.1, 20 + 20 - 1; of 4
    it is 20 + 4 x 39 + 5 x 3 = 191.
    """
    said = report.as_json()
    first, second, third = said["cuts"]
    assert said["tenons"] == first["tenons"]
    assert first["tenons"] == {
        "pieces": 8, "thickness": 9.9, "width": 49.9, "length": 52.0, "edge_radius": 4.95, "strip_length": 483.0,
        "total_length": 483.0, "strips": 1, "per_strip": 8,
    }  # fmt: skip
    assert second["tenons"] == {
        "pieces": 4, "thickness": 11.9, "width": 29.9, "length": 39.0, "edge_radius": 5.95, "strip_length": 191.0,
        "total_length": 191.0, "strips": 1, "per_strip": 4,
    }  # fmt: skip
    assert "tenons" not in third


def test_tenons_as_json_of_other_jobs(report_with: Callable[..., Report]) -> None:
    """Of one cut; not there where none are asked for; null where the template makes no cut."""
    assert report_with(tenon={"joints": 3}).as_json()["tenons"]["pieces"] == 3
    assert "tenons" not in report_with().as_json()
    stopped = report_with(cut={"width": 9}, tenon={"joints": 3})
    assert stopped.stopped
    assert stopped.as_json()["tenons"] is None


def shown(report: Report, **more: Any) -> list[str]:
    return [unstyle(line) for line in report_lines(report, **more)]


def test_a_line_for_each(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    """How many, how large, from which strip: for `check` and for `make`; how they fit only for `check`."""
    monkeypatch.setenv("COLUMNS", "120")
    for lines in (shown(report), shown(report, with_notes=False)):
        words = " ".join(" ".join(lines).split())
        for said in (
            "1: tenons 8 of 9.9 mm x 49.9 mm x 52 mm, edges rounded r 4.95 mm, from 1 strip of 483 mm "
            "(8 x 52 mm + 9 saw cuts of 3 mm + 20 mm waste at each end)",
            "2: tenons 4 of 11.9 mm x 29.9 mm x 39 mm, edges rounded r 5.95 mm, from 1 strip of 191 mm "
            "(4 x 39 mm + 5 saw cuts of 3 mm + 10 mm waste at each end)",
        ):
            assert said in words
    assert not any(line.startswith("  tenon 1") for line in shown(report, with_notes=False))
    labels = [line[2:16].strip() for line in shown(report)]
    assert [label for label in labels if label.startswith(("tenon ", "it is"))] == [
        "tenon 1", "it is 1", "tenon 2", "it is 2",
    ]  # fmt: skip


def test_other_lines(report_with: Callable[..., Report]) -> None:
    """Of one cut without a number; in several strips; square; none that could be made; in inches first."""

    def line(report: Report) -> str:
        lines = shown(report)
        first = next(at for at, line in enumerate(lines) if line.startswith("  tenons"))
        own = [lines[first].partition("tenons")[2], *takewhile(lambda line: line[:14].isspace(), lines[first + 1 :])]
        return " ".join(" ".join(own).split())

    tables: dict[str, Any] = {"joints": 8, "glue_room": 2, "edge": "square"}
    assert line(report_with(tenon={**tables, "strip": 300})) == (
        "8 of 9.9 mm x 40 mm x 52 mm, edges square, from 2 strips of at most 263 mm (4 x 52 mm + 5 saw cuts of "
        "3 mm + 20 mm waste at each end)"
    )
    assert line(report_with(tenon={**tables, "strip": 60})) == "8 of 9.9 mm x 40 mm x 52 mm, edges square"
    assert line(report_with(tenon={**tables, "fit": 10})) == "none: nothing is left of it"
    assert line(report_with(cut={"width": 9}, tenon=tables)) == "none: nothing is left of it"
    inch = report_with(cut={"width": "3/8 in", "length": "2 in", "depth": "1 in"}, tenon=tables | {"fit": 0})
    inch = report_on(replace(inch.job, units="in"))
    assert line(inch).startswith("8 of 0.379 x 1.621 x 1.843 in (9.63 x 41.18 x 46.8 mm), edges square, from 1 strip")


def test_each_is_checked_at_its_own_key(report: Report) -> None:
    """What is to be said of tenons names the cut they are for, and stands in that cut's report alone."""
    found = [(one.code, one.where) for one in report.findings if one.code in ("wide-tenon", "glue-room")]
    assert found == [("wide-tenon", "cut 1.length"), ("glue-room", "cut 2.tenon.glue_room")]
    in_parts = [[one.code for one in part.findings if one.code in ("wide-tenon", "glue-room")] for part in report.parts]
    assert in_parts == [["wide-tenon"], ["glue-room"], []]


def test_in_a_job_of_one_cut_at_its_key() -> None:
    """Without a number; of [tenon] at [tenon]."""
    head, _, tail = JOB.partition("[[cut]]")
    one = head + "[cut]" + tail.partition("[[cut]]")[0] + "[tools]" + tail.partition("[tools]")[2]
    for text, where in (
        (one.replace("glue_room = 2", "glue_room = 9"), "cut.tenon.glue_room"),
        (one.replace("strip = 600", "strip = 60"), "cut.tenon.strip"),
        (one.replace("glue_room = 2", "glue_room = 28"), "cut.tenon"),
        (one.replace("tenon = {", "# ") + "[tenon]\njoints = 1\nglue_room = 9\n", "tenon.glue_room"),
    ):
        found = [one.where for one in read(text).findings if one.code in ("glue-room", "strip-too-short", "no-tenon")]
        assert found == [where]


def test_the_fit_of_each(report: Report) -> None:
    """The budget of each cut has the tenon planned for it; one without tenons has none."""
    budgets = [part.budget for part in report.parts]
    assert [one and one.tenon and round(one.tenon.thickness, 6) for one in budgets] == [9.9, 11.9, None]


def test_the_set_up_sheet(report: Report) -> None:
    """Each page has the stock for its own cut, the last the fit of each kind, with its number."""
    made = lay_out_setup(report)
    *pages, last = [" ".join(text.string for text in page.texts) for page in made.pattern.pages]
    assert ["Tenon stock" in page for page in pages] == [True, True, False]
    assert "thickness 9.9 mm width 49.9 mm length 52 mm" in pages[0]
    assert "thickness 11.9 mm width 29.9 mm length 39 mm" in pages[1]
    assert "A tenon 9.9 mm thick (planned: ± 0.05 mm taken), cut 1" in last
    assert "A tenon 11.9 mm thick (planned: ± 0.05 mm taken), cut 2" in last
    assert [part.name for part in made.fit_parts].count("tenon fit 2") == 1


def test_only_the_second_has_tenons() -> None:
    """Nothing is said of tenons for the first then."""
    report = read(JOB.replace("tenon = { joints = 8, glue_room = 2, strip = 600 }\n", ""))
    said = report.as_json()
    assert "tenons" not in said
    assert ["tenons" in cut for cut in said["cuts"]] == [False, True, False]
    last = " ".join(text.string for text in lay_out_setup(report).pattern.pages[-1].texts)
    assert last.count("A tenon ") == 1
    assert "A tenon 11.9 mm thick (planned: ± 0.05 mm taken), cut 2" in last
    labels = [line[2:16].strip() for line in shown(report)]
    assert [label for label in labels if label.startswith(("tenon ", "it is"))] == ["tenon 2", "it is 2"]


def test_one_table_for_the_first_is_told_as_before() -> None:
    """[tenon] beside cuts without tables of their own: the fit stands last and without a number."""
    text = "".join(line for line in JOB.splitlines(keepends=True) if not line.startswith("tenon"))
    report = read(text + "[tenon]\njoints = 8\n")
    labels = [line[2:16].strip() for line in shown(report)]
    assert [label for label in labels if label.startswith(("tenon", "it is"))] == ["tenon", "it is"]
    assert "A tenon 9.9 mm thick (planned: ± 0.05 mm taken)," not in " ".join(
        text.string for text in lay_out_setup(report).pattern.pages[-1].texts
    )


def test_a_fit_gauge_of_such_a_job(here: Path, call: Callable[..., Any]) -> None:
    """The gauge tries the first cut and has no tenons itself."""
    (here / "frame.toml").write_text(JOB, encoding="utf-8")
    said = call("gauge", "fit", "frame.toml", "--steps", "3")
    assert said.status == 0
    assert "glue room" not in said.out
