"""The PDF of a paper pattern, read by pikepdf and PDFium; and that the read-back refuses what is wrong."""

import io
import math
import re
from collections.abc import Mapping
from dataclasses import replace

import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawing import Drawing, Item, Pen, Role
from jigtemplates.fonts import missing, text_width
from jigtemplates.geometry.outline import Arc, Outline, Point
from jigtemplates.processes.paper import PaperSize, Pattern, PatternNotes, lay_out
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.pdf import check_pdf, write_pdf
from jigtemplates.writers.pdf_page import beziers

A4 = PaperSize("a4", 210.0, 297.0)
LETTER = PaperSize("letter", 215.9, 279.4)
NOTES = PatternNotes(
    "Tenon ½ (ø 12) – Füße, Θ, Жук",
    (("bit", "3/8 in = 9.525 mm"), ("opening", "13.18 × 53.18 mm")),
    ("Unplug the router to change bits.",),
    "100 × 60 mm (3.937 × 2.362 in)",
)
Pens = Mapping[Role, Pen]


def board(width: float, height: float) -> Drawing:
    """A plain plate."""
    corners = [(0, 0), (width, 0), (width, height), (0, height)]
    return Drawing((Item(Role.CUT_OUTSIDE, Outline.polygon(corners)),), width, height)


@pytest.fixture
def pattern(drawing: Drawing, pens: Pens) -> Pattern:
    """The asymmetric drawing of these tests on one A4."""
    return lay_out(drawing, pens, NOTES, A4)


def opened(data: bytes) -> pikepdf.Pdf:
    """The file as qpdf reads it, with nothing for it to mend."""
    pdf = pikepdf.open(io.BytesIO(data))
    assert pdf.check_pdf_syntax() == []
    return pdf


def texts(data: bytes) -> list[str]:
    """Each page's text as PDFium extracts it."""
    pdf = pypdfium2.PdfDocument(data)
    found = []
    for page in pdf:
        text = page.get_textpage()
        found.append(text.get_text_range())
        text.close()
        page.close()
    pdf.close()
    return found


@pytest.mark.parametrize(
    ("paper", "points"),
    [
        (A4, (595.27559055, 841.88976378)),  # 210 x 297 mm, ISO 216, times 72 / 25.4
        (LETTER, (612.0, 792.0)),  # 8.5 x 11 in, ASME Y14.1
        (PaperSize("a3", 297, 420), (841.88976378, 1190.55118110)),
        (PaperSize("tabloid", 279.4, 431.8), (792.0, 1224.0)),
    ],
)
def test_page_boxes(pens: Pens, paper: PaperSize, points: tuple[float, float]) -> None:
    """Every page is exactly the paper, to 1e-8 pt, with no other box and no turn."""
    data = write_pdf(lay_out(board(700, 500), pens, NOTES, paper))
    pdf = opened(data)
    for page in pdf.pages:
        box = sorted(float(n) for n in page.MediaBox[2:])  # type: ignore[arg-type, misc]
        assert box == pytest.approx(sorted(points), abs=1.1e-8)
        assert list(page.MediaBox[:2]) == [0, 0]  # type: ignore[call-overload]
        assert "/CropBox" not in page
        assert int(page.get("/Rotate", 0)) == 0


def test_viewer_preferences(pattern: Pattern) -> None:
    """The viewer is asked not to scale and to print one side."""
    pdf = opened(write_pdf(pattern))
    wanted = pdf.Root.ViewerPreferences
    assert str(wanted.PrintScaling) == "/None"
    assert str(wanted.Duplex) == "/Simplex"


def test_fonts_embedded(pattern: Pattern) -> None:
    """Every font a page refers to is an embedded subset of DejaVu Sans."""
    pdf = opened(write_pdf(pattern))
    fonts = pdf.pages[0].Resources.Font
    names = [str(font.BaseFont) for _, font in fonts.items()]
    assert sorted(re.sub(r"^/[A-Z]{6}\+", "", n) for n in names) == ["DejaVuSans", "DejaVuSans-Bold"]
    assert all(len(font.FontDescriptor.FontFile2.read_bytes()) > 1000 for _, font in fonts.items())


def test_texts_survive(pens: Pens) -> None:
    """Title, facts and the rule's sentence are found as text on every page, in all three alphabets."""
    pages = texts(write_pdf(lay_out(board(420, 300), pens, NOTES, A4)))
    assert len(pages) == 7
    for number, page in enumerate(pages, 1):
        assert "Tenon ½ (ø 12) – Füße, Θ, Жук" in page
        assert f"page {number} of 7" in page
        assert page.count("if this is not 100.0 mm, do not use this page") == 2
    assert "13.18 × 53.18 mm" in pages[0]
    assert "cut here, lay over A1 (page 2)" in pages[2]


def test_same_bytes(drawing: Drawing, pens: Pens) -> None:
    """The same pattern gives the same bytes; another title gives others."""
    first, again = (write_pdf(lay_out(drawing, pens, NOTES, A4)) for _ in range(2))
    assert first == again
    assert first != write_pdf(lay_out(drawing, pens, replace(NOTES, title="Other"), A4))


def test_no_clock_and_no_name(pattern: Pattern) -> None:
    """The file carries reportlab's fixed date, our program's name and no author."""
    pdf = opened(write_pdf(pattern))
    about = pdf.docinfo
    assert str(about.CreationDate) == "D:20000101000000+00'00'"
    assert (str(about.Creator), str(about.Author)) == ("jigtemplates", "")
    assert str(about.Title) == NOTES.title


@given(st.floats(0.1, 500), st.floats(-math.pi, math.pi), st.floats(0.001, 6.283), st.sampled_from([1, -1]))
@settings(max_examples=60, deadline=None)
def test_beziers_follow_the_circle(radius: float, start: float, sweep: float, turn: int) -> None:
    """Pieces of at most 45° join end to end and keep within 1e-5 of the radius of the true circle."""

    def on(angle: float) -> Point:
        return Point(radius * math.cos(angle), radius * math.sin(angle))

    arc = Arc(on(start), on(start + turn * sweep), Point(0, 0), radius, turn)
    pieces = list(beziers(arc))
    assert len(pieces) in (math.ceil(sweep / math.radians(45) - 1e-6), math.ceil(sweep / math.radians(45)))
    assert pieces[-1][4:] == tuple(arc.end)
    x0, y0 = arc.start
    for x1, y1, x2, y2, x3, y3 in pieces:
        for t in (0.1, 0.21, 0.5, 0.79, 0.9):  # the error peaks at 0.21
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            x, y = a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3
            assert abs(math.hypot(x, y) - radius) < 1e-5 * radius
        x0, y0 = x3, y3


def test_both_faces_have_the_same_letters() -> None:
    """What the regular face can print the bold one can: Latin, Greek, Cyrillic, fractions, signs."""
    letters = "Aß ÆøŁŠž Ωθ Жщ ½ ¼ ⅜ ⅛ × ± – … “” • → ↑ ⌀ ≤ ° ″ €"
    assert missing([letters]) == []
    assert all(text_width(c, 1.0, bold=True) > 0.2 for c in letters)
    assert missing(["日\u200b\x07 ok"]) == ["日", "\u200b", "\x07"]


def test_width_of_text() -> None:
    """Widths are the face's: in DejaVu Sans a figure is 1303 of 2048 units wide (hmtx table, fontTools)."""
    assert text_width("0123456789", 2.048) == pytest.approx(13.03, abs=0.01)
    assert text_width("\ue000", 3.0) == 1.5


def test_read_back_accepts(pens: Pens) -> None:
    """A file as written passes, with one page, with many, corrected, and whatever its title says."""
    for drawing, how in ((board(140, 140), {}), (board(420, 300), {"correction": (1.02, 0.98)})):
        found = lay_out(drawing, pens, NOTES, A4, **how)  # type: ignore[arg-type]
        check_pdf(write_pdf(found), found)
    odd = lay_out(board(99, 99), pens, replace(NOTES, title="/Type /Page (\\ /FontFile2 1 0 R"), A4)
    check_pdf(write_pdf(odd), odd)


def broken(data: bytes, pattern: Pattern) -> str:
    """What the read-back says against it."""
    with pytest.raises(ReadBackError) as caught:
        check_pdf(data, pattern)
    (line,) = caught.value.lines
    assert line.startswith("PDF file read back: ")
    assert line.endswith(" (a fault of this program: the file was not written)")
    return line.removeprefix("PDF file read back: ").partition(" (a fault")[0]


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        (b"%PDF-1", b"%PDX-1", "it does not begin with %PDF and end with %%EOF"),
        (b"%%EOF", b"%%E", "it does not begin with %PDF and end with %%EOF"),
        (b"\nxref\n", b"\nyref\n", "its cross-reference table is not where it says"),
        (b"2 0 obj\n", b"2 0 abj\n", "its cross-reference table points beside an object"),
        (b"/PrintScaling /None", b"/PrintScaling /Nine", "/PrintScaling /None is missing"),
        (b"/Duplex /Simplex", b"/Duplex /Complex", "/Duplex /Simplex is missing"),
        (b"/FontFile2", b"/FontFile7", "2 fonts, 0 of them embedded"),
        (b"/Contents ", b"/Contentz ", "a page has no contents"),
        (
            b"/MediaBox [ 0 0 595.27559055",
            b"/MediaBox [ 0 0 595.00000000",
            "page 1: its box is (0.0, 0.0, 595.0, 841.88976378), not 210 x 297 mm",
        ),
        (b"/MediaBox", b"/MadiaBox", "page 1: its box is (), not 210 x 297 mm"),
    ],
)
def test_read_back_refuses(pattern: Pattern, old: bytes, new: bytes, fault: str) -> None:
    """A file with one thing changed is refused with the sentence that names it."""
    data = write_pdf(pattern)
    assert old in data
    assert broken(data.replace(old, new), pattern) == fault


def test_read_back_refuses_spoilt_contents(pattern: Pattern) -> None:
    """A page whose contents cannot be unpacked is refused."""
    data = write_pdf(pattern)
    number = re.search(rb"/Contents (\d+) 0 R", data)
    assert number
    start = data.index(b"stream\n", data.index(b"\n%b 0 obj" % number[1])) + 7
    spoilt = data[:start] + b"\x00\x00" + data[start + 2 :]
    assert broken(spoilt, pattern) == "a page's contents cannot be unpacked"


def test_read_back_compares_with_what_was_meant(pattern: Pattern) -> None:
    """Another number of pages, another correction, or a page without its bars is refused."""
    data = write_pdf(pattern)
    (page,) = pattern.pages
    assert broken(data, replace(pattern, pages=(page, page))) == "1 pages, not 2"
    corrected = replace(pattern, correction=(1.01, 1.0))
    assert broken(data, corrected) == "page 1: one unit is 2.83465 x 2.83465 pt, not 2.86299 x 2.83465 pt"
    bare = replace(pattern, pages=(replace(page, inks=()),))
    assert broken(write_pdf(bare), bare) == "page 1: it has no level bar of 4 in"


def test_read_back_of_a_page_without_transform(pattern: Pattern) -> None:
    """A page in points instead of millimetres is refused."""
    data = write_pdf(replace(pattern, correction=(25.4 / 72, 25.4 / 72)))
    assert broken(data, pattern).startswith("page 1: one unit is 1 x 1 pt, not 2.83465 x 2.83465")
