"""Reports as text: what stands on the lines, how they are wrapped, and the statuses of several jobs."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.batch import Done
from jigtemplates.checks import Level
from jigtemplates.checks.finding import Finding
from jigtemplates.report import Report, WrittenFile
from jigtemplates.terminal import brief_lines, caution_lines, report_lines, status

Call = Callable[..., Any]
Make = Callable[..., Report]


def finding(level: Level, message: str = "it is so") -> Finding:
    return Finding(level, "some-code", "cut.width", message)


def plain(lines: Any) -> list[str]:
    """The lines without their colours."""
    import click

    return [click.unstyle(line) for line in lines]


@pytest.fixture
def report(report_with: Make, here: Path) -> Report:
    """The plan's job, with findings and files of our own choosing in the tests."""
    from dataclasses import replace

    return replace(report_with(), findings=())


def test_a_report_begins_with_its_title(report: Report) -> None:
    """The first line is the title; the facts follow, label and value in two columns."""
    lines = plain(report_lines(report))
    assert lines[0] == "Bench rail, 10 x 50"
    assert lines[1] == "  bit         3/8 in = 9.525 mm"
    assert any(line.startswith("  opening     13.175 x 53.175 mm") for line in lines)


@pytest.mark.parametrize(
    ("level", "styled"),
    [
        (Level.STOP, "\x1b[31m\x1b[1m  stop     \x1b[0m"),
        (Level.WARNING, "\x1b[33m\x1b[22m  warning  \x1b[0m"),
        (Level.NOTE, "\x1b[36m\x1b[22m  note     \x1b[0m"),
    ],
)
def test_a_finding_is_coloured_by_its_level(report: Report, level: Level, styled: str) -> None:
    """Red and bold, yellow or cyan on the word alone; then key, sentence and code in plain text."""
    lines = list(report_lines(report.with_findings((finding(level),))))
    assert styled + "cut.width: it is so [some-code]" in lines


def test_cautions_are_said_once(report: Report) -> None:
    """Of two jobs alike every caution stands once, and the two that close every list stand at the end."""
    lines = plain(caution_lines([report, report]))
    assert lines[0] == "Before you rout:"
    assert lines == plain(caution_lines([report]))
    assert [line.split(":")[0] for line in lines[-2:]] == [
        "  - Numbers are aids, no guarantee",
        "  - Follow the manuals of your tools and local rules; where in doubt, ask someone trained.",
    ]
    assert list(caution_lines([])) == []


def test_notes_may_be_counted_only(report: Report) -> None:
    """`make` counts the notes and names the command that shows them; stops and warnings stay."""
    noted = report.with_findings((finding(Level.NOTE), finding(Level.WARNING, "mind this")))
    shown = plain(report_lines(noted, with_notes=False))
    assert "  1 note more, and the cautions: jigtemplates check" in shown
    twice = plain(report_lines(noted.with_findings((finding(Level.NOTE),)), with_notes=False))
    assert "  2 notes more, and the cautions: jigtemplates check" in twice
    assert "  warning  cut.width: mind this [some-code]" in shown
    assert not any(line.startswith("  note") for line in shown)


def test_files_stand_with_their_size(report: Report) -> None:
    """Every file has its overall size in mm and inch beside it; the manifest has none."""
    files = (WrittenFile("t/rail/rail_cnc.svg", "0", (140.0, 139.7)), WrittenFile("t/rail/rail.json", "1", None))
    head, drawn, manifest = plain(report_lines(report.with_files(files)))[-3:]
    assert head == "  Files in t/rail, with the overall size to check with a rule:"
    assert drawn == "    rail_cnc.svg  140 x 139.7 mm = 5.512 x 5.500 in"
    assert manifest == "    rail.json"


def test_a_set_up_sheet_shows_its_page(report: Report) -> None:
    """The sheet is no plate to lay a rule on: its size says that it is the page's."""
    files = (WrittenFile("t/rail/rail_setup.pdf", "0", (210.0, 297.0)),)
    assert plain(report_lines(report.with_files(files)))[-1] == (
        "    rail_setup.pdf  page 210 x 297 mm = 8.268 x 11.693 in"
    )


def test_a_stopped_report_says_that_nothing_is_made(report: Report) -> None:
    """Its last line says so, in red."""
    lines = list(report_lines(report.with_findings((finding(Level.STOP),))))
    assert lines[-1] == "\x1b[31m  Nothing is made until what is marked stop is changed.\x1b[0m"


def test_a_brief_report_leaves_the_notes_out(report: Report) -> None:
    """One of many: title, number of files and their folder, stops and warnings, no notes."""
    files = tuple(WrittenFile(f"t/rail/{name}", "0", None) for name in ("a", "b"))
    noted = report.with_files(files).with_findings((finding(Level.NOTE), finding(Level.WARNING, "mind this")))
    assert plain(brief_lines(noted)) == [
        "Bench rail, 10 x 50: 2 files in t/rail",
        "  warning  cut.width: mind this [some-code]",
    ]
    assert plain(brief_lines(noted, unchanged=True))[0] == "Bench rail, 10 x 50: unchanged, 2 files in t/rail"
    stopped = report.with_findings((finding(Level.STOP),))
    assert plain(brief_lines(stopped))[0] == "Bench rail, 10 x 50: nothing made"


@pytest.mark.parametrize("columns", ["50", "80", "100"])
def test_lines_fit_the_terminal(report: Report, monkeypatch: pytest.MonkeyPatch, columns: str) -> None:
    """Sentences are wrapped to the terminal's width, with the later lines under the first word of the value."""
    monkeypatch.setenv("COLUMNS", columns)
    words = "one two three four five six seven eight nine ten " * 5
    lines = plain(report_lines(report.with_findings((finding(Level.WARNING, words),))))
    wrapped = lines[next(i for i, line in enumerate(lines) if line.startswith("  warning")) :]
    assert len(wrapped) > 2
    assert max(map(len, wrapped)) <= int(columns)
    assert all(line.startswith(" " * 11 + "") and line[11] != " " for line in wrapped[1:])


def test_lines_never_grow_wider_than_a_hundred(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    """A very wide terminal does not make lines that are hard to read; a very narrow one still gets words."""
    words = "word " * 100
    for columns, widest in (("300", 100), ("5", 11 + 30)):
        monkeypatch.setenv("COLUMNS", columns)
        lines = plain(report_lines(report.with_findings((finding(Level.NOTE, words),))))
        assert max(len(line) for line in lines if "word" in line) <= widest


def test_names_are_not_torn_at_their_hyphens(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file's name or a code stays in one piece, so that it can be copied."""
    monkeypatch.setenv("COLUMNS", "45")
    name = "gate-bench-rail-with-a-long-name_laser_mm.dxf"
    lines = plain(report_lines(report.with_findings((finding(Level.NOTE, f"look at {name} again"),))))
    assert any(line.strip() == name for line in lines)


def test_status_is_the_worst_of_all(report: Report) -> None:
    """2 where one has no report, else 1 where one is stopped, else 0; nothing at all is 0."""
    good = Done(Path("a"), report)
    stopped = Done(Path("b"), report.with_findings((finding(Level.STOP),)))
    broken = Done(Path("c"), None, ("c: fault",))
    assert [status(x) for x in ([], [good], [good, stopped], [broken, stopped, good])] == [0, 0, 1, 2]


def test_check_of_several_jobs_shows_each_in_full(call: Call, rail: Path) -> None:
    """`check` is there for the numbers: two jobs, two full reports, the cautions once at the end."""
    (rail.parent / "a.toml").write_bytes(rail.read_bytes())
    out = call("check", "rail.toml", "a.toml").out
    assert (out.count("  opening "), out.count("Before you rout:")) == (2, 1)


def test_json_of_several_jobs_leaves_the_broken_out(call: Call, rail: Path) -> None:
    """The list has the jobs that could be read; the others are lines on stderr and status 2."""
    import json

    said = call("check", "nowhere.toml", "rail.toml", "--json")
    assert [one["title"] for one in json.loads(said.out)] == ["Bench rail, 10 x 50"]
    assert (said.status, said.faults) == (2, ["nowhere.toml: there is no such file"])
