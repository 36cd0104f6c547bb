"""The printer gauge: bars, sides and diagonals as pdfium measures them; papers; how far a page is askew."""

import math
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pypdfium2  # type: ignore[import-untyped]
import pytest

from jigtemplates.errors import InputError
from jigtemplates.gauges.printer import frame_on, lay_out, printer_page
from jigtemplates.profiles import Profiles
from jigtemplates.writers.faults import ReadBackError

Made = Callable[..., Path]

#: Sides and diagonal that belong to each paper, mm; in inches 6, 8, 10 and 9, 12, 15.
SIDES = {
    "a4": (150.0, 200.0, 250.0),
    "letter": (152.4, 203.2, 254.0),
    "a3": (240.0, 320.0, 400.0),
    "tabloid": (228.6, 304.8, 381.0),
}


def paper(name: str, folder: Path | None = None) -> Any:
    """A paper of the profiles."""
    return Profiles([folder] if folder else []).find("papers", name).entry


@pytest.mark.parametrize("name", SIDES)
def test_sides_and_diagonals_are_three_four_and_five(name: str) -> None:
    """On each paper the diagonal of the frame is a whole number of units: no rule shows a right angle better."""
    frame = frame_on(paper(name))
    assert (frame.width, frame.height, frame.diagonal) == pytest.approx(SIDES[name])
    assert math.hypot(frame.width, frame.height) == pytest.approx(frame.diagonal)


@pytest.mark.parametrize("name", SIDES)
def test_a_page_measures_what_it_says(gauge: Made, read: SimpleNamespace, name: str) -> None:
    """pdfium finds bars of 100.000 mm or 4 in both ways, the rest of their sides, the whole sides, and four squares."""
    page = gauge("printer", "--paper", name) / f"gauge-printer_paper_{name}.pdf"
    width, height, _ = SIDES[name]
    bar, square = (101.6, 19.05) if name in ("letter", "tabloid") else (100.0, 20.0)
    lines = read.pdf_lines(page)
    for wanted in ((bar, 0.0), (0.0, bar), (width - bar, 0.0), (0.0, height - bar), (width, 0.0), (0.0, height)):
        assert any(math.dist(wanted, line) < 0.002 for line in lines)
    assert read.pdf_sizes(page).count((square, square)) == 4


def test_the_ends_of_the_diagonals_point_from_corner_to_corner(gauge: Made, read: SimpleNamespace) -> None:
    """Four pieces of 12 by 16 mm on A4, in all four directions: on the lines that join opposite corners."""
    page = gauge("printer", "--paper", "a4") / "gauge-printer_paper_a4.pdf"
    ends = sorted(line for line in read.pdf_lines(page) if {abs(line[0]), abs(line[1])} == {12.0, 16.0})
    assert ends == [(-12.0, -16.0), (-12.0, 16.0), (12.0, -16.0), (12.0, 16.0)]


@pytest.mark.parametrize("name", SIDES)
def test_everything_stays_within_the_margins(gauge: Made, name: str) -> None:
    """No line or word of the page comes nearer than 10 mm to its edge, 15 at the foot (pdfium's boxes)."""
    page = pypdfium2.PdfDocument(gauge("printer", "--paper", name) / f"gauge-printer_paper_{name}.pdf")[0]
    width, height = page.get_size()
    point = 72 / 25.4
    for item in page.get_objects():
        left, bottom, right, top = item.get_bounds()
        assert left >= 10 * point - 0.5
        assert bottom >= 15 * point - 0.5
        assert right <= width - 10 * point + 0.5
        assert top <= height - 10 * point + 0.5


def test_the_page_is_the_papers_size_and_is_printed_unscaled(gauge: Made) -> None:
    """Letter is 612 by 792 points, and the viewer is told not to scale."""
    data = (gauge("printer", "--paper", "letter") / "gauge-printer_paper_letter.pdf").read_bytes()
    assert pypdfium2.PdfDocument(data)[0].get_size() == (612.0, 792.0)
    assert b"/PrintScaling /None" in data


def test_the_words_are_in_the_papers_unit(gauge: Made, read: SimpleNamespace) -> None:
    """A4 in millimetres, Letter in inches: bars, sides, diagonals, E, limits, the blanks and the command."""
    folder = gauge("printer")
    metric = read.pdf_text(folder / "gauge-printer_paper_a4.pdf")
    inch = read.pdf_text(folder / "gauge-printer_paper_letter.pdf")
    assert "it should be 141.4 mm" in metric
    assert "Each should be 250 mm" in metric
    assert "to the line at 100 mm" in metric
    assert "to the line at 4 in" in inch
    assert "it should be 5.657 in" in inch  # 4 in times the root of 2
    assert "whole sides, 6 in and 8 in" in inch
    assert "Bars between 3.96 and 4.04 in are usual. Below 3.88 in or above 4.12 in the page was fitted" in inch
    assert "Below 97.1 mm or above 103 mm the page was fitted" in metric
    assert '--across "____ mm" --up "____ mm" --diagonal "____ mm" --uncorrected' in metric.replace("\u2010", "-")
    assert '--across "____ in"' in inch
    assert '--bar "4 in"' in inch
    assert " mm" not in inch


def test_one_name_on_the_page_and_at_the_blanks() -> None:
    """C, D and E at both ends of their lines; the blanks name the same five, and the option of those that are typed."""
    (page,) = lay_out(paper("a4")).pages
    strings = [text.string for text in page.texts]
    assert {name: strings.count(name) for name in "CDE"} == {"C": 2, "D": 2, "E": 2}
    assert [one for one in strings if one.startswith(("A, bar", "B, bar", "E, ", "C, ", "D, "))] == [
        "A, bar across", "B, bar up",
        "A, bar across (--across):", "B, bar up (--up):", "E, diagonal of the bars (--diagonal):",
        "C, long diagonal:", "D, long diagonal:",
    ]  # fmt: skip
    assert "Then type, with your readings in the blanks:" in strings


def test_the_ends_of_e_lie_between_the_ends_of_the_bars(gauge: Made, read: SimpleNamespace) -> None:
    """Two pieces at 45 degrees: E runs from the end of one bar to that of the other, which are as long."""
    lines = read.pdf_lines(gauge("printer", "--paper", "a4") / "gauge-printer_paper_a4.pdf")
    assert [line for line in lines if abs(line[0]) == abs(line[1]) == 7.0] == [(-7.0, 7.0)] * 2


def test_a_paper_without_room_is_refused(tmp_path: Path) -> None:
    """A5 has no room for 100 mm both ways and the words: one line that names the paper."""
    (tmp_path / "papers.toml").write_text(
        'units = "mm"\n[papers.a5]\nwidth = 148\nheight = 210\nmargin = 10\nfoot = 15\noverlap = 12\n',
        encoding="utf-8",
    )
    with pytest.raises(InputError) as error:
        frame_on(paper("a5", tmp_path))
    assert error.value.lines == (
        '--paper: "a5", 148 mm x 210 mm, has no room for bars of 100 mm both ways and what is to be said of them (take '
        "a4, letter or larger)",
    )


def test_a_page_whose_bar_were_wrong_is_not_written(monkeypatch: pytest.MonkeyPatch) -> None:
    """Bytes without the level bar of 100 mm are refused when they are read back."""
    monkeypatch.setattr("jigtemplates.gauges.printer.straight_lines", lambda _contents: iter([(150.0, 0.0)]))
    with pytest.raises(ReadBackError, match="it has no line of 100 by 0 mm"):
        printer_page(paper("a4"))
