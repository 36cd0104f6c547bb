"""The pages for the bench, as another library reads them."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdfium2  # type: ignore[import-untyped]

from jigtemplates.geometry.outline import Bounds
from jigtemplates.profiles import Profiles
from jigtemplates.sheets.choice import choice_of
from jigtemplates.sheets.laying import LaidSheet
from jigtemplates.sheets.making import Sheets, drawn_sheets
from jigtemplates.sheets.page import lay_out
from jigtemplates.sheets.picture import scale_for
from jigtemplates.sheets.plates import Group, Plate
from jigtemplates.writers.pdf import write_pdf

from .conftest import group_of, laid, page_texts

Call = Callable[..., Any]
Job = Callable[..., Path]


def test_a_page_says_what_lies_on_its_sheet(job: Job, call: Call, here: Path) -> None:
    """Title, files, sheet, share, distances, zero, each plate by number, cautions of machine and material."""
    job("rail", (140, 100), title="Bench rail")
    job("post", (120, 90), title="Gate post")
    assert call("sheet", ".", "--stock", "600x400", "--name", "set", "--copies", "rail=2").status == 0
    (text,) = page_texts(here / "sheets/set/set_sheets.pdf")
    for words in (
        "set: mdf-6mm, laser, sheet 1 of 1",
        "what is cut is set_mdf-6mm_sheet1_laser_mm.dxf or set_mdf-6mm_sheet1_laser.svg",
        "600 x 400 mm, mdf, 6 mm",
        "3, which take 16 % of the sheet",  # (2 x 14000 + 10800) / 240000
        "3 mm between plates, 5 mm at the edges",
        "5 mm from the left, 5 mm from the lower edge",
        "overall 120 x 376 mm",
        "1 post, 120 x 90 mm: Gate post",
        "2 2 x rail, 140 x 100 mm: Bench rail",
        "picture 1:4",
        "Work in the order of the file",
        "never leave a running laser",
        "MDF dust is fine",
    ):
        assert words in text, words
    assert "grain" not in text
    assert "Not laid" not in text


def test_a_page_for_the_router_and_its_grain(job: Job, call: Call, here: Path) -> None:
    """Plywood by CNC router: the grain's way, how plates are held, and nothing about lasers."""
    job("rail", material="plywood", targets='["cnc"]')
    assert call("sheet", "rail.toml", "--stock", "600x400").status == 0
    (text,) = page_texts(here / "sheets/rail/rail_sheets.pdf")
    assert "along the sheet's 600 mm side" in text
    assert "600 mm, grain →" in text
    assert "never on an edge that guides the bushing" in text
    assert "aser" not in text


def test_inches_come_on_letter(job: Job, call: Call, here: Path) -> None:
    """Stock in inches: sizes in inches first, the page is 8-1/2 x 11 in."""
    job("rail", (5, 4), units="in", thickness=0.25, cut=(0.5, 1.5, 0.5))
    assert call("sheet", "rail.toml", "--stock", "24 x 12 in", "--gap", "1/8 in").status == 0
    (text,) = page_texts(here / "sheets/rail/rail_sheets.pdf")
    for words in (
        "24 x 12 in, mdf, 1/4 in (6.35 mm)",
        "1/8 in (3.175 mm) between plates",
        "rail, 5 x 4 in (127 x 101.6 mm): Rail",
    ):
        assert words in text, words
    size = pypdfium2.PdfDocument(here / "sheets/rail/rail_sheets.pdf")[0].get_size()
    assert [round(side, 3) for side in size] == [612.0, 792.0]


def test_stock_in_mm_told_in_inches(job: Job, call: Call, here: Path) -> None:
    """--units in: 600 x 400 mm is 23.622 x 15.748 in, said first on screen and page, at the picture too."""
    job("rail", (5, 4), units="in", thickness=0.25, cut=(0.5, 1.5, 0.5))
    said = call("sheet", "rail.toml", "--stock", "600x400", "--units", "in", "--grain", "along").out
    assert "sheet 1   23.622 x 15.748 in (600 x 400 mm), 5 % used: rail" in said
    (text,) = page_texts(here / "sheets/rail/rail_sheets.pdf")
    for words in (
        "23.622 x 15.748 in (600 x 400 mm), mdf",
        "23.622 in, grain",
        "x 4 in (127 x 101.6 mm)",
        "sheet's 23.622 in",
    ):
        assert words in text, words


def test_stock_in_inches_told_in_mm(job: Job, call: Call, here: Path) -> None:
    """--units mm: 24 x 12 in is 609.6 x 304.8 mm."""
    job("rail", (140, 90))
    said = call("sheet", "rail.toml", "--stock", "24 x 12 in", "--units", "mm").out
    assert "sheet 1   609.6 x 304.8 mm (24 x 12 in), " in said
    assert "609.6 mm" in page_texts(here / "sheets/rail/rail_sheets.pdf")[0]


def test_the_last_page_says_what_was_not_laid(job: Job, call: Call, here: Path) -> None:
    """Of eight plates that are too large six are named; the first page of two says nothing of it."""
    job("good", (280, 180))
    for number in range(8):
        job(f"large{number}", (700, 100 + number))
    assert call("sheet", ".", "--stock", "600x400", "--name", "set", "--copies", "good=5").status == 1
    first, last = page_texts(here / "sheets/set/set_sheets.pdf")
    assert "Not laid" not in first
    assert "large0 not laid: 700 x 100 mm is 110 mm too wide for a sheet of 600 x 400 mm" in last
    assert "large5 not laid" in last
    assert "large6" not in last
    assert "and 2 more: see the record" in last


def test_many_kinds_of_plate_are_listed_as_far_as_they_fit(report_with: Any, tmp_path: Path) -> None:
    """A hundred and sixty kinds on one sheet: in four columns without titles, and how many more there are."""
    title = "One of a long row of templates with a title that takes its room"
    report = report_with(title, plate={"width": 60, "height": 40, "screws": None, "label": False}, cut={"length": 14})
    kinds = tuple(Plate(report, 1, "laser") for _ in range(160))
    layout = laid(Group("laser", report.job.plate.material, 6.0, kinds), "1200x700")
    made = Sheets("set", choice_of(stocks=["1200x700"]), (layout,), ())
    pattern = lay_out(made, drawn_sheets(made), Profiles().find("papers", "a4").entry)
    (tmp_path / "page.pdf").write_bytes(write_pdf(pattern))
    (text,) = page_texts(tmp_path / "page.pdf")
    assert "One of a long row" not in text
    shown = len(re.findall("rail, 60 x 40 mm", text))
    assert 60 < shown < 160
    assert f"and {160 - shown} more: see the record beside the files" in text


def test_letters_that_the_font_lacks_are_shown_as_such(job: Job, call: Call, here: Path) -> None:
    """A title in characters that cannot be printed leaves the rest of the page as it is."""
    job("rail", title="Rail 木", plate="label = false\n")
    assert call("sheet", "rail.toml", "--stock", "600x400").status == 0
    (text,) = page_texts(here / "sheets/rail/rail_sheets.pdf")
    assert "1 rail, 140 x 100 mm: Rail □" in text


def test_the_picture_has_a_scale_that_a_rule_reads(report_with: Any) -> None:
    """600 x 300 on a page 190 mm wide: 1 : 4. The largest sheet there can be still has one."""
    (sheet,) = laid(group_of(report_with(make={"for": ["laser"]})), "600x300").sheets
    assert scale_for(sheet, Bounds(0, 0, 190, 140)) == 0.25
    (huge,) = laid(group_of(report_with(make={"for": ["laser"]})), "10000x10000").sheets
    assert isinstance(huge, LaidSheet)
    assert scale_for(huge, Bounds(0, 0, 190, 142)) == 1 / 75
    assert scale_for(huge, Bounds(0, 0, 10, 10)) == 0.01
