"""The sheet of an inlay: one page, nothing over anything, whatever the shape; what it says, and that it is made."""

from collections.abc import Callable
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
import shapely
import shapely.affinity

from jigtemplates.fonts import text_width
from jigtemplates.geometry.measure import total_area
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region
from jigtemplates.inlay import Fit, Pair
from jigtemplates.inlay.overlay import lay_over
from jigtemplates.inlay.plug import fit_of
from jigtemplates.making import write
from jigtemplates.parameters.load import load_job
from jigtemplates.processes.inlay_plan import (
    Scene,
    exaggerated,
    overlay_plan,
    plan_scale,
    plug_plan,
    recess_plan,
    widened_by,
)
from jigtemplates.processes.inlay_section import Stack, section_scale
from jigtemplates.processes.inlay_sheet import InlaySheet, lay_out_inlay
from jigtemplates.processes.paper_page import Text
from jigtemplates.processes.setup_draw import PLATE
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on
from jigtemplates.writers.pdf import check_pdf, write_pdf

ReportOn = Callable[..., Report]

CUTS: dict[str, dict[str, Any]] = {
    "rectangle": {"shape": "rectangle", "width": 50, "length": 80, "corner_radius": 6, "depth": 5},
    "square corners": {"shape": "rectangle", "width": 20, "length": 90, "corner_radius": 0, "depth": 12, "angle": 30},
    "round": {"shape": "round", "diameter": 30, "depth": 3},
    "as wide as the bit": {"shape": "slot", "width": 5, "length": 60, "depth": 3},
    "upright key": {"shape": "butterfly", "width": 40, "length": 80, "waist": 20, "depth": 5, "angle": 90},
    "arc slot": {"shape": "arc-slot", "radius": 40, "span": 120, "width": 12, "depth": 5},
    "large": {"shape": "ellipse", "width": 220, "length": 330, "depth": 6},
    "small": {"shape": "round", "diameter": 8, "depth": 2},
    "four": {"shape": "round", "diameter": 12, "depth": 5, "repeat": {"count": 4, "pitch": 40, "direction": 90}},
    "deep": {"shape": "round", "diameter": 40, "depth": 40},
}
TOOLS = {"bit": "5 mm", "bushing": {"diameter": 20, "bore": 16, "stem": 5}}
PLUG: dict[str, Any] = {"plug_bushing": {"diameter": 10, "bore": 8, "stem": 5}, "glue_line": 0, "plug_thickness": 6}
GLUED = {**PLUG, "plug_bushing": {"diameter": 10.1, "bore": 8, "stem": 5}, "glue_line": 0.05}


@pytest.fixture(scope="module")
def report_on_inlay(sheet_report: ReportOn) -> ReportOn:
    """A report on a cut of CUTS with a plug, in a unit, on papers."""

    def build(name: str = "rectangle", units: str = "mm", paper: str = "a4", **tables: Any) -> Report:
        cut = CUTS[name]
        plate = {"width": 420, "height": 420, "thickness": 6, "stand_off": 0, **tables.pop("plate", {})}
        make = {"for": ["cnc"], "papers": [paper]}
        inlay = tables.pop("inlay", GLUED)
        if units == "in":  # bare numbers are inches there
            cut, inlay, plate, tools = (in_mm(table) for table in (cut, inlay, plate, TOOLS))
        else:
            tools = TOOLS
        return sheet_report(
            tables.pop("title", "Inlay"), units, cut=cut, tools=tools, plate=plate, inlay=inlay, make=make
        )

    return build


def in_mm(table: Any) -> Any:
    """The same sizes with their unit; counts and angles stay."""
    if isinstance(table, dict):
        return {k: v if k in ("angle", "count", "direction", "span") else in_mm(v) for k, v in table.items()}
    return f"{table} mm" if isinstance(table, int | float) and not isinstance(table, bool) else table


def texts_of(sheet: InlaySheet) -> list[Text]:
    (page,) = sheet.pattern.pages
    return [*page.texts, *(text for window in page.windows for text in window.texts)]


def said(sheet: InlaySheet) -> str:
    return " ".join(text.string for text in texts_of(sheet))


def letters(text: Text) -> "shapely.Geometry":
    """What a text covers, as for the set-up sheet."""
    width = text_width(text.string, text.size, bold=text.bold)
    start = -width * {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    return shapely.affinity.translate(
        shapely.box(start, -0.2 * text.size, start + width, 0.73 * text.size), text.x, text.y
    )


def overlapping(texts: list[Text]) -> list[tuple[str, str]]:
    shapes = [(text.string, letters(text)) for text in texts]
    return [(a, b) for (a, p), (b, q) in combinations(shapes, 2) if shapely.intersection(p, q).area > 0.05]


def apart(a: Bounds, b: Bounds) -> bool:
    return a.right <= b.left + 0.01 or b.right <= a.left + 0.01 or a.top <= b.bottom + 0.01 or b.top <= a.bottom + 0.01


@pytest.mark.parametrize("name", CUTS)
@pytest.mark.parametrize(("units", "paper"), [("mm", "a4"), ("in", "letter")])
def test_nothing_lies_over_anything(report_on_inlay: ReportOn, name: str, units: str, paper: str) -> None:
    """Parts apart and on the page, no text over another, in both units and on both papers; the PDF is read back."""
    sheet = lay_out_inlay(report_on_inlay(name, units, paper))
    boxes = [part.box for part in sheet.parts]
    assert all(apart(a, b) for a, b in combinations(boxes, 2))
    low, right = min(box.bottom for box in boxes), max(box.right for box in boxes)
    assert low >= 15.0 - 0.01
    assert right <= sheet.pattern.width - 10.0 + 0.01
    assert overlapping(texts_of(sheet)) == []
    check_pdf(write_pdf(sheet.pattern), sheet.pattern, bars=False)


@pytest.mark.parametrize("name", CUTS)
def test_words_stay_in_their_pictures(report_on_inlay: ReportOn, name: str) -> None:
    """No text of a picture reaches out of its cell, where it would be cut off."""
    (page,) = lay_out_inlay(report_on_inlay(name)).pattern.pages
    for window in page.windows:
        cell = shapely.box(*window.shown).buffer(0.1)
        assert [text.string for text in window.texts if not shapely.contains(cell, letters(text))] == []


def test_what_it_says(report_on_inlay: ReportOn) -> None:
    """Gap, both plunge settings and pairs, where the edges lie, what comes out, the cautions."""
    words = said(lay_out_inlay(report_on_inlay()))
    for part in (
        "GAP A SIDE 0.05 mm glue line wanted: 0.05 mm, fits",
        "RECESS, PLUNGE 11 mm",
        "PLUG, PLUNGE 12.4 mm",
        "FEED clockwise both times, inside",
        "plunge 1: 8.5 mm; 2: 11 mm 1: 8 mm; 2: 10.5 mm; 3: 12.4 mm",
        "bushing 20 mm 10.1 mm",
        "(bushing - bit) / 2 = 7.5 mm",
        "(bushing + bit) / 2 = 7.55 mm",
        "recess made 50 x 80 mm plug made 49.9 x 79.9 mm",
        "they differ by 0.05 mm all round, no overlap",
        "gap 0.05 mm a side, drawn",
        "2.5 mm where the inlay points out, 7.5 mm where it points in",
        "a slip inwards cuts into the plug",
    ):
        assert part in words, part


def test_without_a_gap(report_on_inlay: ReportOn) -> None:
    """Edge on edge: nothing is drawn wider, and both edges stand in line."""
    words = said(lay_out_inlay(report_on_inlay(inlay=PLUG)))
    assert "GAP A SIDE none glue line wanted: none, fits" in words
    assert "edge on edge: no gap" in words
    assert ": both edges stand in line" in words


@pytest.mark.parametrize(("bushing", "verdict"), [(10.0, "tight"), (10.4, "loose")])
def test_what_misses_says_so(report_on_inlay: ReportOn, bushing: float, verdict: str) -> None:
    """A sheet that is made in spite of a warning carries it at its head."""
    inlay = {**GLUED, "plug_bushing": {"diameter": bushing, "bore": 8, "stem": 5}}
    assert f"glue line wanted: 0.05 mm, {verdict}" in said(lay_out_inlay(report_on_inlay(inlay=inlay)))


def test_inches_first(report_on_inlay: ReportOn) -> None:
    """A job in inches: fractions and decimals of an inch, mm behind or below them."""
    words = said(lay_out_inlay(report_on_inlay(units="in", paper="letter")))
    assert "GAP A SIDE 0.002 in glue line wanted: 0.002 in, fits" in words
    assert "RECESS, PLUNGE 0.433 in 11 mm" in words
    assert "gap 0.002 in = 0.05 mm a side" in words


def test_mirrored_says_so(sheet_report: ReportOn) -> None:
    """MIRRORED stands at the head."""
    make = {"for": ["cnc"], "mirrored": True}
    report = sheet_report("Inlay", cut=CUTS["rectangle"], tools=TOOLS, inlay=PLUG, make=make)
    assert "MIRRORED · inlay: recess and plug" in said(lay_out_inlay(report))


def test_a_long_title_with_a_letter_that_is_not_there(report_on_inlay: ReportOn) -> None:
    """Two lines at most, and a box for what the font lacks."""
    title = "A very long name of an inlay that goes on and on, over the 漢 edge of a single line"
    sheet = lay_out_inlay(report_on_inlay(title=title[:80]))
    assert "□" in said(sheet)
    assert overlapping(texts_of(sheet)) == []


def test_the_gap_is_drawn_wide_enough_to_be_seen() -> None:
    """At least 0.8 mm on the page by one of a few round factors; none for no gap."""
    given = ((0.05, 0.5), (0.1, 1.0), (1.0, 1.0), (0.0, 1.0), (0.001, 0.1))
    assert [widened_by(gap, scale) for gap, scale in given] == [50, 10, 1, 1, 1000]


def test_a_part_is_never_lost_to_the_drawing(report_on_inlay: ReportOn) -> None:
    """Where a gap drawn wider would swallow the plug, it is drawn as it is."""
    report = report_on_inlay("small")
    laid = report.case.inlay
    assert laid is not None
    scene = Scene(report.template.opening, fit_of(report.job), laid)
    assert exaggerated(scene, 1000) == laid.plug
    # a radius of 3.95 mm is drawn 9 gaps smaller
    (region,) = exaggerated(scene, 10)
    assert region.area == pytest.approx(3.5**2 * 3.14159265)


def test_scales_fit_their_cells(report_on_inlay: ReportOn) -> None:
    """The largest scale of the list that has room, and the smallest where none has."""
    laid = report_on_inlay("rectangle").case.inlay
    assert laid is not None
    report = report_on_inlay("rectangle")
    scene = Scene(report.template.opening, fit_of(report.job), laid)
    # the opening is 95 x 65 mm: at 1:1.5 it takes 63.3 + 8 mm, at 1:1 103 mm
    assert plan_scale(scene, 92.5, 80.0) == pytest.approx(1 / 1.5)
    assert plan_scale(scene, 1.0, 1.0) == pytest.approx(0.01)
    stack = Stack(Fit(Pair(5, 20), Pair(5, 10)), 6, 0, 5, 6)
    # 20 mm across at 2:1 and 33 mm of room beside it; 11 + 12.4 mm high and 42.7 mm of room
    assert section_scale(stack, 92.5, 95.0) == 2.0
    assert section_scale(stack, 92.5, 80.0) == 1.5


def test_the_plug_is_drawn_green_and_the_plate_as_ever(report_on_inlay: ReportOn) -> None:
    """The second plan holds the plug's area to scale, and the template's colour is that of the set-up sheet."""
    report = report_on_inlay(inlay=PLUG)
    (page,) = lay_out_inlay(report).pattern.pages
    recess, plug, *_ = page.windows
    assert any(ink.fill == PLATE for ink in recess.inks)
    (drawn,) = [ink.shape for ink in plug.inks if ink.fill == "#CFE8DC" and ink.width > 0.2]
    laid = report.case.inlay
    assert laid is not None
    assert drawn.area == pytest.approx(total_area(laid.plug) / 1.5**2)  # type: ignore[union-attr]


def test_a_ring(report_on_inlay: ReportOn) -> None:
    """What stands within the opening is drawn as template, and leaves a hole in the plug."""
    ring = Region(Outline.circle(Point(0, 0), 50), (Outline.circle(Point(0, 0), 20, -1),))
    fit = fit_of(report_on_inlay().job)
    scene = Scene((ring,), fit, lay_over((ring,), fit))
    cell = Bounds(0, 0, 90, 90)
    recess, plug, over = (
        recess_plan(scene, cell, 0.5),
        plug_plan(scene, cell, 0.5),
        overlay_plan(scene, cell, 0.5, inches=False),
    )
    fills = [
        [ink.fill for ink in picture.inks if isinstance(ink.shape, Outline) and not ink.shape.is_ccw]
        for picture in (recess, plug, over)
    ]
    assert fills == [[PLATE, "#FFFFFF", PLATE], [PLATE, "", "#F9DCC6", "#FFFFFF", PLATE], ["#FFFFFF", "#FFFFFF"]]


def test_round_a_piece_within_the_opening(tmp_path: Path) -> None:
    """There the router goes the other way, which the sheet says of both cuts."""
    ring = "M 5 55 A 50 50 0 1 0 105 55 A 50 50 0 1 0 5 55 Z M 35 55 A 20 20 0 1 1 75 55 A 20 20 0 1 1 35 55 Z"
    size = 'width="110mm" height="110mm" viewBox="0 0 110 110"'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size}><path d="{ring}"/></svg>'
    (tmp_path / "ring.svg").write_text(svg, encoding="utf-8")
    text = (
        'title = "Ring"\nunits = "mm"\n[cut]\nshape = "outline"\nfile = "ring.svg"\ndepth = 3\n[tools]\nbit = 5\n'
        "bushing = 20\n[plate]\nwidth = 180\nheight = 180\nthickness = 6\n[inlay]\nplug_bushing = 10\n"
    )
    (tmp_path / "ring.toml").write_text(text, encoding="utf-8")
    words = said(lay_out_inlay(report_on(load_job(tmp_path / "ring.toml", profiles=Profiles()))))
    assert words.count("counter-clockwise") == 2


def test_it_is_made_with_the_others(report_on_inlay: ReportOn, tmp_path: Path) -> None:
    """<stem>_inlay.pdf stands beside the set-up sheet, and in the manifest; without [inlay] there is none."""
    made = write(report_on_inlay(), tmp_path, profiles=Profiles())
    names = [Path(file.path).name for file in made.files]
    assert names[-3:] == ["rail_setup.pdf", "rail_inlay.pdf", "rail.json"]
    assert (tmp_path / "rail" / "rail_inlay.pdf").read_bytes().startswith(b"%PDF-")
    assert '"rail_inlay.pdf"' in (tmp_path / "rail" / "rail.json").read_text(encoding="utf-8")


def test_none_without_an_inlay(sheet_report: ReportOn, tmp_path: Path) -> None:
    """A job without [inlay] has no such file."""
    made = write(sheet_report(), tmp_path, profiles=Profiles())
    assert not [file.path for file in made.files if "inlay" in Path(file.path).name]


def test_a_round_inlay_has_a_diameter(report_on_inlay: ReportOn) -> None:
    """Recess and plug of a round are told by their diameters."""
    words = said(lay_out_inlay(report_on_inlay("round")))
    assert "recess made dia 30 mm plug made dia 29.9 mm" in words
