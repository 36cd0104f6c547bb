"""The set-up sheet's page about the fit: its tables, its picture, and that it never crowds."""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.parameters.load import job_from_text, load_job
from jigtemplates.processes.paper_page import Page, Window, box_of
from jigtemplates.processes.setup import SetupSheet, lay_out_setup
from jigtemplates.processes.setup_chart import GOOD, step_for
from jigtemplates.processes.setup_draw import BRASS
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

ReportOn = Callable[..., Report]
SAMPLES = Path(__file__).parents[2] / "samples"
TENON = {"fit": {"tenon": {"nominal": 10, "measured": 9.9, "within": 0.02}}}


def fit_page(made: SetupSheet) -> Page:
    """The last page."""
    return made.pattern.pages[-1]


def said(made: SetupSheet) -> str:
    """All that is written on the page, in one line."""
    page = fit_page(made)
    return " ".join(t.string for t in (*page.texts, *(t for window in page.windows for t in window.texts)))


def test_the_parts_of_the_page(sheet_report: ReportOn) -> None:
    """Head, a chart for each size, tables, what helps; that of a tenon only where there is one."""
    names = [part.name for part in lay_out_setup(sheet_report()).fit_parts]
    assert names == ["fit head", "sizes", "errors", "helps", "chart 1", "chart 2"]
    with_tenon = [part.name for part in lay_out_setup(sheet_report(**TENON)).fit_parts]
    assert with_tenon == ["fit head", "sizes", "errors", "tenon fit", "helps", "chart 1", "chart 2"]
    hole = {"shape": "round", "diameter": 40, "depth": 9}
    assert [part.name for part in lay_out_setup(sheet_report(cut=hole)).fit_parts][-1] == "chart 1"


@pytest.mark.parametrize(
    "words",
    [
        "Fit: what the cut may come out at",
        "Bench rail · last page of the set-up sheet",
        "The cut opening made by size predicted 95 % of cuts at worst most from",
        "CNC width 10 mm 10.00 ± 0.20 mm 10.00 ± 0.35 mm",
        "Where it comes from",
        "bit not measured: ± 0.1 mm taken ± 0.1 mm 31 %",
        "bushing not measured: ± 0.05 mm taken ± 0.05 mm 8 %",
        "opening CNC: ± 0.05 mm at each edge ± 0.1 mm 31 %",
        "not known: 0.05 mm taken, router turned",
        "Shares of the whole uncertainty.",
        "What helps most",
        "Keep the router's handle in one direction",
        "the router turned half round between one edge and the other",
        "Wood that swells or shrinks is not in it",
    ],
)
def test_what_it_says(sheet_report: ReportOn, words: str) -> None:
    """Bands, errors with what was taken, shares, what to do, and how it was computed."""
    assert words in said(lay_out_setup(sheet_report()))


def test_a_tenon(sheet_report: ReportOn) -> None:
    """Its chances for each way to make the opening, what good means, and the strip in the picture."""
    made = lay_out_setup(sheet_report(**TENON, make={"for": ["cnc", "paper"]}))
    text = said(made)
    assert "A tenon 10 mm nominal, measured 9.9 mm ± 0.02 mm" in text
    assert "too tight good too loose clearance at worst CNC" in text
    assert "good: 0.02 mm to 0.15 mm of clearance." in text
    assert "tenon fits well" in text
    fills = [[ink.fill for ink in window.inks] for window in fit_page(made).windows]
    assert [GOOD in chart for chart in fills] == [True, False]


def test_each_way_to_make_the_opening(sheet_report: ReportOn) -> None:
    """Its sizes and its edge; where the laser's file has no kerf the page says what that means."""
    text = said(lay_out_setup(sheet_report(make={"for": ["laser", "paper"]})))
    assert "opening laser: ± 0.05 mm at each edge ± 0.1 mm 31 %" in text
    assert "opening by hand: ± 0.3 mm at each edge ± 0.6 mm 94 %" in text
    assert "Shares of the whole uncertainty: laser. Those of another edge stand in a budget of its own." in text
    assert "The laser's kerf is not in the file" in text
    assert "The laser's kerf" not in said(lay_out_setup(sheet_report(make={"for": ["laser"], "kerf": 0.2})))


def test_what_is_not_in_the_figures(sheet_report: ReportOn) -> None:
    """Of a hinge gain, where its line lies; that of a drawing is said of leaf.svg among the samples."""
    hinge = {"shape": "hinge", "width": 25, "length": 76, "corner_radius": 5, "depth": 2.5}
    assert "The edge of the work is taken to lie exactly" in said(lay_out_setup(sheet_report(cut=hinge)))
    leaf = report_on(load_job(SAMPLES / "leaf-tray.toml"))
    assert "In a sharp corner of the drawing an error counts more" in said(lay_out_setup(leaf))
    plain = said(lay_out_setup(sheet_report()))
    assert "exactly under its line" not in plain
    assert "sharp corner" not in plain


def test_a_trapped_cut(sheet_report: ReportOn) -> None:
    """What only widens stands as 0 to +; the length has no running clearance; binding is warned of."""
    text = said(lay_out_setup(sheet_report(cut={"width": 9.525})))
    assert "CNC width, trapped 9.625 mm" in text
    assert "running clearance trapped: the bushing rubs to either side, or not 0 to + 0.1 mm 13 % – –" in text
    assert "The bushing may not go into the opening (CNC 6 %)" in text


def test_a_router_that_is_not_turned(sheet_report: ReportOn) -> None:
    """Nothing is said of turning it."""
    text = said(lay_out_setup(sheet_report(fit={"turned": False})))
    assert "router held in one direction – – – –" in text
    assert "half round" not in text
    assert "Keep the router's handle" not in text


def test_inches(sheet_report: ReportOn) -> None:
    """A job in inches is told in inches, its scales too."""
    cut = {"shape": "slot", "width": "1/2 in", "length": "2 in", "depth": "1/2 in"}
    plate = {"width": "6 in", "height": "6 in", "thickness": "1/4 in"}
    text = said(lay_out_setup(sheet_report("Gain", "in", cut=cut, plate=plate)))
    assert "Width, in" in text
    assert "0.500 in (12.7 mm)" in text
    assert "0.500 ± 0.008 in" in text
    assert "not measured: ± 0.0039 in taken" in text


def test_outside_work(sheet_report: ReportOn) -> None:
    """Round a pattern it is the work that comes out, and the pattern that is made."""
    cut = {"shape": "rectangle", "side": "outside", "width": 90, "length": 120, "corner_radius": 20, "depth": 12}
    made = lay_out_setup(sheet_report(cut=cut, plate={"width": None, "height": None}))
    text = said(made)
    assert "Fit: what the work may come out at" in text
    assert "The work pattern made by" in text
    assert "pattern CNC: ± 0.05 mm at each edge" in text
    assert "opening" not in text


SEVERAL = 'title = "Rack"\nunits = "mm"\n[tools]\nbit = "6 mm"\nbushing = "10 mm"\n[plate]\nwidth = 900\nheight = 90\n'
SEVERAL += 'thickness = 6\nlabel = false\n[make]\nfor = ["laser", "paper"]\n'


def rack(count: int) -> Report:
    """A template with so many rounds, no two alike."""
    cut = '[[cut]]\nshape = "round"\ndiameter = {d}\ndepth = 8\nx = {x}\ny = 45\n'
    cuts = "".join(cut.format(d=12 + i / 2, x=30 + 28 * i) for i in range(count))
    return report_on(job_from_text(SEVERAL + cuts, profiles=Profiles()))


def test_several_cuts() -> None:
    """The sizes of each stand in the table, after those of the first; whose the charts and errors are is said."""
    text = said(lay_out_setup(rack(3)))
    assert "The cuts opening made by" in text
    assert "cut 1, laser diameter 12 mm 12.00 ± 0.20 mm" in text
    assert "Cut 1: diameter, mm" in text
    assert "Where it comes from, cut 1" in text
    assert "cut 2, laser diameter 12.5 mm 12.50 ± 0.20 mm" in text
    assert "cut 3, by hand diameter 13 mm 13.00 ± 0.61 mm" in text


def test_one_cut_has_no_number() -> None:
    """Where there is one cut nothing says which."""
    text = said(lay_out_setup(rack(1)))
    assert "Diameter, mm" in text
    assert "cut 1" not in text.lower()


def test_more_cuts_than_room() -> None:
    """The last ones are left out and counted; the page stays within its margins and its parts apart."""
    made = lay_out_setup(rack(20))
    assert "more cuts: see jigtemplates check" in said(made)
    boxes = sorted((part.box for part in made.fit_parts if not part.name.startswith("chart")), key=lambda box: -box.top)
    assert boxes[-1].bottom >= 15.0 - 1e-6
    assert all(upper.bottom >= lower.top - 1e-6 for upper, lower in pairwise(boxes))


def scale_of(chart: Window) -> Callable[[float], float]:
    """What a place on the page stands for, from the first and the last figure of the scale."""
    figures = [(text.x, float(text.string)) for text in chart.texts if text.string.replace(".", "").isdigit()]
    (x0, mm0), (x1, mm1) = figures[0], figures[-1]
    return lambda x: mm0 + (x - x0) * (mm1 - mm0) / (x1 - x0)


def test_the_picture_measured(sheet_report: ReportOn) -> None:
    """On its own scale the bar runs from 9.80 to 10.20 and the line from 9.65 to 10.35; 50 ± 0.2 beside it."""
    for chart, middle in zip(fit_page(lay_out_setup(sheet_report())).windows, (10.0, 50.0), strict=True):
        read = scale_of(chart)
        (bar,) = (box_of(ink.shape) for ink in chart.inks if ink.fill == BRASS)
        assert read(bar.left) == pytest.approx(middle - 0.202, abs=0.002)
        assert read(bar.right) == pytest.approx(middle + 0.202, abs=0.002)
        lines = [box_of(ink.shape) for ink in chart.inks if not ink.fill]
        ends = [line for line in lines if line.height == 0 and abs(line.bottom - bar.center.y) < 1e-6]
        assert [(read(end.left), read(end.right)) for end in ends] == [pytest.approx((middle - 0.35, middle + 0.35))]


def test_the_strip_measured(sheet_report: ReportOn) -> None:
    """A tenon of 9.9 mm fits well from 9.92 to 10.05 mm."""
    chart = fit_page(lay_out_setup(sheet_report(**TENON))).windows[0]
    (strip,) = (box_of(ink.shape) for ink in chart.inks if ink.fill == GOOD)
    read = scale_of(chart)
    assert (read(strip.left), read(strip.right)) == pytest.approx((9.92, 10.05), abs=1e-6)


def test_nothing_in_doubt(sheet_report: ReportOn, tmp_path: Path) -> None:
    """A cut without any error has a scale round its size, and nothing that helps."""
    (tmp_path / "a.toml").write_text('[processes.cnc]\nwithin = "0 mm"\n', encoding="utf-8")
    exact: dict[str, Any] = {"nominal": "8 mm", "measured": "8 mm", "within": "0 mm"}
    text = (
        'title = "t"\nunits = "mm"\n[cut]\nshape = "round"\ndiameter = 30\ndepth = 5\n'
        f"[tools]\nbit = {{ diameter = {_toml(exact)} }}\nbushing = {{ nominal = 14, measured = 14, within = 0 }}\n"
        '[plate]\nwidth = 90\nheight = 90\nthickness = 6\n[fit]\noff_centre = 0\n[make]\nfor = ["cnc"]\n'
    )
    made = lay_out_setup(report_on(job_from_text(text, profiles=Profiles([tmp_path]))))
    assert "30.00 ± 0.00 mm" in said(made)
    assert "29.90 29.95 30.00 30.05 30.10" in said(made)


def _toml(table: dict[str, Any]) -> str:
    return "{ " + ", ".join(f'{key} = "{value}"' for key, value in table.items()) + " }"


@pytest.mark.parametrize(
    ("span", "step"), [(0.7, 0.2), (0.6, 0.1), (1.7, 0.5), (0.02, 0.005), (12.0, 2.0), (0.0013, 0.0005)]
)
def test_the_steps_of_a_scale(span: float, step: float) -> None:
    """1, 2 or 5 times a power of ten, seven figures at most."""
    assert step_for(span) == pytest.approx(step)


IN_INCHES = """
title = "Dog holes"
units = "in"
[[cut]]
shape = "round"
diameter = "3/4 in"
depth = 1
x = 3
[[cut]]
shape = "slot"
width = 1
length = "4-1/2 in"
depth = 1
x = 8
[tools]
bit = "1/2 in"
bushing = "3/4 in"
[plate]
width = 13
height = 7
thickness = "1/4 in"
[make]
for = ["laser", "cnc", "paper"]
papers = ["a4"]
"""


def test_a_wide_table_has_smaller_letters() -> None:
    """Sizes in inches of two cuts for two machines: each stands in one line, what most comes from in three at most."""
    made = lay_out_setup(report_on(job_from_text(IN_INCHES, name="dogs", profiles=Profiles())))
    texts = [text.string for text in fit_page(made).texts]
    assert {"0.750 in (19.05 mm)", "4.500 in (114.3 mm)", "cut 1, laser, CNC"} <= set(texts)
    column = texts[texts.index("cut 1, laser, CNC") : texts.index("cut 1, by hand")]
    assert len(column) - 5 <= 3
