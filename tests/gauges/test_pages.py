"""Plates and sheets: how openings are laid out, what a page can print, how commands are quoted."""

from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pypdfium2  # type: ignore[import-untyped]
import pytest

from jigtemplates.fonts import text_width
from jigtemplates.gauges import enter
from jigtemplates.gauges.layout import Cell, arrangements, own_plate, smallest_plate
from jigtemplates.gauges.page import command
from jigtemplates.gauges.stem import slug

Made = Callable[..., Path]

CELL = Cell(10.0, 20.0, 6.0, tuple(f"{n}.00" for n in range(10, 18)))


def test_rows_are_as_even_as_they_can_be() -> None:
    """Eight openings: one row, two of four, three of three, four of two … down to one column."""
    assert list(arrangements(8)) == [(8, 1), (4, 2), (3, 3), (2, 4), (1, 8)]


def test_a_page_is_preferred_to_a_single_long_row() -> None:
    """Thirteen openings of 10 mm stand in two rows, though the sheet would take them in one."""
    plate = own_plate(Cell(10.0, 20.0, 6.0, tuple("1234567890abc")), (600.0, 400.0))
    assert plate is not None
    assert (plate.grid.rows, plate.width <= 190) == (2, True)


def test_a_sheet_that_takes_only_a_wide_plate_gets_it() -> None:
    """On a strip 50 mm high all eight stand in one row, wider than a page."""
    plate = own_plate(Cell(20.0, 20.0, 6.0, tuple("12345678")), (400.0, 60.0))
    assert plate is not None
    assert (plate.grid.rows, plate.width > 190) == (1, True)


def test_no_plate_fits_a_tiny_sheet() -> None:
    """None, and the smallest there is says what would do."""
    assert own_plate(CELL, (40.0, 40.0)) is None
    assert smallest_plate(CELL).width >= 70


def test_values_shrink_before_the_openings_move_apart() -> None:
    """Narrow openings get lower figures; the lowest are 2.5 mm."""
    heights = [Cell(width, 20.0, 6.0, ("10.000",)).height for width in (30.0, 14.0, 3.0)]
    assert heights == sorted(heights, reverse=True)
    assert (heights[0], heights[-1]) == (4.0, 2.5)


def test_a_large_gauge_is_drawn_smaller_on_its_sheet(gauge: Made, read: SimpleNamespace) -> None:
    """Forty openings for a 30 mm bushing do not go on a page at true size; the sheet says its scale."""
    folder = gauge("bushing", "--bushing", "30 mm", "--steps", "40", "--from", "29 mm", "--for", "cnc")
    text = read.pdf_text(folder / "gauge-bushing-30-mm_how.pdf")
    assert "picture 1 : 3; cut it from the DXF or SVG file" in text
    widths = [size[0] for size in read.pdf_sizes(folder / "gauge-bushing-30-mm_how.pdf") if size[1] == 17.0]
    assert widths[0] == pytest.approx(29 / 3, abs=0.01)


@pytest.mark.parametrize(
    "args",
    [
        ("bushing", "--bushing", "1/2 in", "--material", "mdf", "--thickness", "1/4 in"),
        ("kerf", "--material", "plywood", "--thickness", "12 mm", "--cuts", "40"),
        ("fit", "rail.toml"),
    ],
)
def test_everything_stays_within_the_margins(gauge: Made, rail: Path, args: tuple[str, ...]) -> None:
    """No line or word of a sheet comes nearer than 10 mm to its edge, 15 at the foot (pdfium's boxes)."""
    (sheet,) = gauge(*args).glob("*_how.pdf")
    document = pypdfium2.PdfDocument(sheet)
    assert len(document) == 1
    width, height = document[0].get_size()
    point = 72 / 25.4
    for item in document[0].get_objects():
        left, bottom, right, top = item.get_bounds()
        assert left >= 10 * point - 0.5
        assert bottom >= 15 * point - 0.5
        assert right <= width - 10 * point + 0.5
        assert top <= height - 10 * point + 0.5


def test_what_the_font_does_not_have_is_a_box(call: Callable[..., Any], rail: Path, read: SimpleNamespace) -> None:
    """A job whose title the sheet cannot print has its gauge all the same, as it has its set-up sheet."""
    text = rail.read_text(encoding="utf-8").replace("Bench rail", "横木 rail")
    rail.write_text(text, encoding="utf-8")
    assert call("gauge", "fit", "rail.toml", "--for", "cnc").status == 0
    sheet = rail.parent / "gauges" / "gauge-fit-rail" / "gauge-fit-rail_how.pdf"
    assert "Fit gauge, □□ rail, 10 x 50" in read.pdf_text(sheet)
    assert "□: not in this font" in read.pdf_text(sheet)


def test_a_long_command_breaks_before_an_option() -> None:
    """No line of it is wider than the page; each further one begins with an option."""
    block = command(enter.printer("mm"), 100.0, 3.0)
    lines = [text.string for text in block.texts[1:]]
    assert len(lines) > 1
    assert all(line.startswith("--") for line in lines[1:])
    assert all(text_width(line, 3.0, bold=True) <= 100.0 for line in lines)
    assert " ".join(lines) == enter.printer("mm")


def test_commands_keep_their_names_from_the_shell() -> None:
    """A plain name stands bare, one with spaces in quotes, one with quotes in the other kind."""
    assert enter.bushing("mine", "mm", "0.05 mm").startswith("jigtemplates calibrate bushing mine --opening")
    assert '"my 1/2" --opening' in enter.bushing("my 1/2", "mm", "0.05 mm")
    assert "'my 1/2\"' --opening" in enter.bushing('my 1/2"', "mm", "0.05 mm")
    command = 'jigtemplates calibrate cut rail.toml --gauge --engraved "____ mm" --tenon "____ mm"'
    assert enter.cut("rail.toml", None, "mm") == command


@pytest.mark.parametrize(
    ("text", "stem"),
    [("1/2 in", "1-2-in"), ("12.7 mm", "12.7-mm"), ('My 1/2"', "my-1-2"), ("...", "x"), ("a" * 60, "a" * 40)],
)
def test_a_stem_is_a_files_name(text: str, stem: str) -> None:
    """Letters, digits, points and hyphens, never empty, never long."""
    assert slug(text) == stem
