"""The set-up sheet as pages: one, and one about the fit; parts apart, nothing over anything, whatever the job."""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest
import shapely
import shapely.affinity
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.checks.finding import warning
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds
from jigtemplates.processes.paper_page import Page, Text, box_of
from jigtemplates.processes.setup import Part, SetupSheet, lay_out_setup
from jigtemplates.report import Report

ReportOn = Callable[..., Report]


def texts_of(made: SetupSheet) -> list[Text]:
    """Every text of the first page."""
    return texts_on(made.pattern.pages[0])


def texts_on(page: Page) -> list[Text]:
    """Every text of a page."""
    return [*page.texts, *(text for window in page.windows for text in window.texts)]


def said(made: SetupSheet) -> str:
    """All that is written on the page, in one line."""
    return " ".join(text.string for text in texts_of(made))


def letters(text: Text) -> shapely.Polygon:
    """What a text covers: 0.73 em above its baseline, 0.2 em below (measured on the face's letters)."""
    width = text_width(text.string, text.size, bold=text.bold)
    start = -width * {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    box = shapely.box(start, -0.2 * text.size, start + width, 0.73 * text.size)
    turned = shapely.affinity.rotate(box, text.angle, origin=(0, 0))
    return shapely.affinity.translate(turned, text.x, text.y)


def overlaps(texts: list[Text]) -> Iterator[tuple[str, str]]:
    """Texts that cover more than a trace of each other."""
    shapes = [letters(text) for text in texts]
    pairs = shapely.STRtree(shapes).query(shapes, predicate="intersects").T
    for i, j in sorted((i, j) for i, j in pairs if i < j):
        if shapely.intersection(shapes[i], shapes[j]).area > 0.05:
            yield texts[i].string, texts[j].string


def outside(texts: list[Text], room: Bounds) -> list[str]:
    """Texts that reach out of a room by more than 0.1 mm."""
    box = shapely.box(*room).buffer(0.1)
    return [text.string for text in texts if not box.contains(letters(text))]


def faults_of(made: SetupSheet) -> list[object]:
    """Everything a look at the two pages would find fault with."""
    first, fit = made.pattern.pages
    width, height = made.pattern.width, made.pattern.height
    room = Bounds(10.0, 15.0, width - 10.0, height - 10.0)
    return [*faults_on(first, made.parts, room), *faults_on(fit, made.fit_parts, room)]


def faults_on(page: Page, parts: tuple[Part, ...], room: Bounds) -> list[object]:
    """The same of one page."""
    found: list[object] = list(overlaps(texts_on(page)))
    found += outside(list(page.texts), room)
    for window in page.windows:
        found += outside(list(window.texts), window.box)
    boxes = {part.name: shapely.box(*part.box) for part in parts}
    found += [(a, b) for a, b in combinations(boxes, 2) if shapely.intersection(boxes[a], boxes[b]).area > 1e-6]
    found += [name for name, box in boxes.items() if not shapely.box(*room).buffer(1e-6).contains(box)]
    found += [text.string for text in texts_on(page) if text.size < 2.645]  # 7.5 pt
    return [*found, *_lines_outside(page, room)]


def _lines_outside(page: Page, room: Bounds) -> list[object]:
    boxes = [box_of(ink.shape) for ink in page.inks]
    return [
        b
        for b in boxes
        if b.left < room.left - 0.1 or b.right > room.right + 0.1 or b.bottom < room.bottom - 0.1 or b.top > room.top
    ]


@st.composite
def jobs(draw: st.DrawFn) -> dict[str, Any]:
    """Jobs of every kind, small and large, in mm and inches, with everything said or nothing."""
    bit: Any = draw(st.sampled_from([3, 6, 8, "3/8 in", 12, {"diameter": 12.7, "shank": 8, "cutting_length": 25}]))
    size: float = 9.525 if isinstance(bit, str) else bit["diameter"] if isinstance(bit, dict) else bit
    bushing: dict[str, Any] = {"diameter": round(size + draw(st.sampled_from([3.2, 7, 16])), 3)}
    thickness = draw(st.sampled_from([3.2, 6, 12, 18]))
    if draw(st.booleans()):
        bushing |= {"bore": round((bushing["diameter"] + size) / 2, 3), "stem": round(0.8 * thickness, 2)}
    if draw(st.booleans()):
        bushing |= {"nut": {"diameter": bushing["diameter"] + 9, "height": 8}}
    shape = draw(st.sampled_from(["slot", "round", "rectangle"]))
    width, depth = round(size * draw(st.sampled_from([1, 1.1, 4])), 3), draw(st.sampled_from([1.5, 9, 28, 55]))
    cut: dict[str, Any] = {"shape": shape, "depth": depth}
    longest = width * draw(st.sampled_from([1.5, 3, 9]))
    cut |= {"diameter": width} if shape == "round" else {"width": width, "length": round(longest, 2)}
    if shape == "rectangle":
        cut["corner_radius"] = draw(st.sampled_from([0, round(size / 2, 4)]))
    cut["angle"] = draw(st.sampled_from([0, 38, 90, -60]))
    reach = (longest if shape != "round" else width) + bushing["diameter"] - size
    plate = {"width": round(reach + draw(st.sampled_from([12, 60, 150])), 1), "thickness": thickness, "label": False}
    plate["height"] = round(reach + draw(st.sampled_from([12, 60, 150])), 1)
    plate["stand_off"] = draw(st.sampled_from([0, 2, 15]))
    tables: dict[str, Any] = {"cut": cut, "tools": {"bit": bit, "bushing": bushing}, "plate": plate}
    tables["make"] = {"for": ["paper"], "papers": [draw(st.sampled_from(["a4", "letter", "a3"]))]}
    if draw(st.booleans()):
        tables["work"] = {"thickness": round(width + draw(st.sampled_from([12, 60])), 2), "height": depth + 10}
        tables["work"] |= draw(st.sampled_from([{}, {"from_end": 30.0}, {"length": 900, "from_end": 300}]))
        tables["tenon"] = {"joints": 12, "glue_room": 0.4, "edge": "round", "strip": 500}
    if draw(st.booleans()):
        tables["tools"]["router"] = "generic mid-size plunge"
    return tables


TITLES = ["Rail", "Loose-tenon mortise for the legs of the long workbench, left-hand side, 10 by 50"]


@given(jobs(), st.sampled_from(TITLES), st.sampled_from(["mm", "in"]))
@settings(max_examples=50, deadline=None)
def test_nothing_overlaps_and_all_is_within_the_margins(
    sheet_report: ReportOn, tables: dict[str, Any], title: str, units: str
) -> None:
    """Texts stand clear of each other, parts of the page too, nothing is smaller than 7.5 pt or over an edge."""
    if units == "in":  # the same sizes, written as text
        tables = {name: _with_units(table) for name, table in tables.items()}
    report = sheet_report(title, units, **tables)
    if not report.stopped:
        made = lay_out_setup(report)
        assert faults_of(made) == []
        setting = f"{report.case.plunge_depth:g} mm"
        assert (f"plunge {setting}" if units == "mm" else f" in {setting}; ") in said(made)


def _with_units(table: Any) -> Any:
    if isinstance(table, dict):
        return {k: v if k in ("angle", "joints") else _with_units(v) for k, v in table.items()}
    return f"{table} mm" if isinstance(table, int | float) and not isinstance(table, bool) else table


def test_the_look_at_a_page_finds_faults(sheet_report: ReportOn) -> None:
    """Two texts on one spot, one over the margin and one too small are found by the law above."""
    made = lay_out_setup(sheet_report())
    page, fit = made.pattern.pages
    spoilt = replace(page, texts=(*page.texts, page.texts[0], Text("x", 3.0, 50.0, 2.0)))
    found = faults_of(replace(made, pattern=replace(made.pattern, pages=(spoilt, fit))))
    assert found == [("Bench rail", "Bench rail"), "x", "x"]


@pytest.mark.parametrize(
    ("papers", "size"),
    [
        (["a4", "letter"], (210.0, 297.0)),
        (["letter", "a4"], (215.9, 279.4)),
        (["a3", "letter"], (215.9, 279.4)),
        (["tabloid"], (215.9, 279.4)),
        (["a3"], (210.0, 297.0)),
    ],
)
def test_the_paper(sheet_report: ReportOn, papers: list[str], size: tuple[float, float]) -> None:
    """The first of the job's papers that is A4 or Letter; else Letter for inch papers and A4 for others."""
    made = lay_out_setup(sheet_report(make={"for": ["paper"], "papers": papers}))
    assert (made.pattern.width, made.pattern.height) == size
    assert len(made.pattern.pages) == 2


def test_the_parts_of_the_page(sheet_report: ReportOn) -> None:
    """Head, figures, three columns and two pictures."""
    names = [part.name for part in lay_out_setup(sheet_report()).parts]
    assert names == ["head", "figures", "passes", "settings", "attention", "section", "plan"]


@pytest.mark.parametrize(
    "words",
    [
        "Bench rail",
        "slot 10 x 50 x 28 mm · set-up sheet, keep it with the template",
        "34 mm",  # plate 6 + cut 28
        "3/8 in",
        "9.525 mm",
        "24,000",  # up to 1 in: "Choosing Proper Router Bit Speeds"
        "clockwise",
        "plunge 34 mm",
        "opening 13.175 mm",  # 10 + (12.7 - 9.525)
        "bushing 12.7 mm",
        "bore 10.319 mm",
        "bit 9.525 mm",
        "cut 10 mm",
        "5.5 mm",
        "scale 1:1 · dashed: size not known",
        "Plan, seen from above",
        "datum corner",
        "feed: clockwise",
        "6 passes of at most 4.7 mm",
        "10.7",
        "0.475 mm, run round the edge",
        "Unplug the router to change bit or bushing.",
        "Numbers are aids, no guarantee: make a test",
    ],
)
def test_what_it_says(sheet_report: ReportOn, words: str) -> None:
    """Everything the bench needs stands on the sheet, with the numbers of the job."""
    assert words in said(lay_out_setup(sheet_report()))


def test_key_figures_are_large(sheet_report: ReportOn) -> None:
    """Plunge setting at 30 pt; the band's other figures, the passes and the section's plunge at least 14 pt."""
    sizes = {text.string: text.size * 72 / 25.4 for text in texts_of(lay_out_setup(sheet_report()))}
    assert sizes["34 mm"] > 28
    for figure in ("3/8 in", "1/2 in", "24,000", "clockwise", "10.7", "29.3", "34", "plunge 34 mm"):
        assert sizes[figure] > 13.9


def test_mirrored_says_so(sheet_report: ReportOn) -> None:
    """A mirrored job says MIRRORED in the head and at the plan; another nowhere."""
    mirrored = said(lay_out_setup(sheet_report(make={"for": ["laser"], "mirrored": True})))
    assert mirrored.count("MIRRORED") == 2
    assert "MIRRORED" not in said(lay_out_setup(sheet_report()))


def test_letters_the_font_lacks(sheet_report: ReportOn) -> None:
    """They become □, and the head says what that means: the sheet never stops a job whose files need no title."""
    made = lay_out_setup(sheet_report("竹 shelf"))
    assert "□ shelf" in said(made)
    assert "□: not in this font" in said(made)
    assert made.pattern.title == "□ shelf"
    assert "not in this font" not in said(lay_out_setup(sheet_report("Füße ½")))


def test_a_name_the_font_lacks(sheet_report: ReportOn) -> None:
    """Names of tools are treated as the title is."""
    made = lay_out_setup(sheet_report(tools={"bit": {"name": "竹", "diameter": "3/8 in"}}))
    assert "□, 3/8 in = 9.525 mm" in said(made)


def test_many_warnings(sheet_report: ReportOn) -> None:
    """Where there are more warnings than room, the first stand there and the rest are counted."""
    report = sheet_report()
    many = replace(
        report, findings=tuple(warning(f"w{i}", "plate", f"warning {i} {'word ' * 18}: do") for i in range(30))
    )
    made = lay_out_setup(many)
    assert faults_of(made) == []
    assert "warning 0 word" in said(made)
    assert re.search(r"… and \d+ more: see jigtemplates check", said(made))


def test_many_warnings_in_fewer_words(sheet_report: ReportOn) -> None:
    """Where they have no room whole, they are said in fewer words before any is left out."""
    words = f"{'word ' * 12}: do this, or {'that ' * 26}"
    report = replace(
        sheet_report(), findings=tuple(warning(f"w{i}", "plate", f"warning {i} {words}") for i in range(6))
    )
    made = lay_out_setup(report)
    assert faults_of(made) == []
    assert said(made).count("do this") == 6
    assert "that" not in said(made).partition("Look at first")[2].partition("Before you rout")[0]
    assert "more: see jigtemplates check" not in said(made)
    two = said(lay_out_setup(replace(report, findings=report.findings[:2])))
    assert two.count("that that") >= 2


def test_the_same_job_gives_the_same_sheet(sheet_report: ReportOn) -> None:
    """No clock and no chance in it."""
    assert lay_out_setup(sheet_report()) == lay_out_setup(sheet_report())
