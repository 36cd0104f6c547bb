"""The operators of a page, beside those that reportlab's own canvas writes."""

import io
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from reportlab.lib.rl_accel import fp_str
from reportlab.pdfgen.canvas import Canvas

from jigtemplates.drawing import Stroke
from jigtemplates.fonts import registered
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.processes.paper_page import Ink, Page, Text, Window
from jigtemplates.writers import pdf_page
from jigtemplates.writers.pdf_page import POINT, Lettering, inks_text, page_text

#: 300 characters, more than one font of a PDF can hold.
MANY = "".join(chr(code) for code in range(0xC0, 0x24F)) + "".join(chr(code) for code in range(0x400, 0x450))


def canvas() -> Any:
    """reportlab's, empty."""
    return Canvas(io.BytesIO(), (200, 200), invariant=1, initialFontName=registered())


def ours(page: Page, on: Any | None = None) -> str:
    """The page as this module writes it."""
    return page_text(page, (1.0, 1.0), Lettering((on or canvas())._doc))


@given(st.floats(-9e6, 9e6) | st.floats(-1e-5, 1e-5) | st.integers(-999, 999).map(lambda n: n / 8))
@settings(max_examples=300, deadline=None)
@example(999_999.96)
@example(-4e-7)
@example(1e-7)
@example(-0.25)
@example(1e6)
def test_numbers(value: float) -> None:
    """A number is written as reportlab writes it."""
    assert pdf_page._number(value) == fp_str(value)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_no_number(value: float) -> None:
    """What is no finite number is not written."""
    with pytest.raises(ValueError, match="cannot be drawn"):
        ours(Page("", (), (Text("a", value, 0.0, 3.0),)))


def test_the_memory_of_numbers_has_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    """No more numbers are remembered than are worth it, and those after are right still."""
    monkeypatch.setattr(pdf_page, "_MOST_REMEMBERED", 3)
    numbers = pdf_page._Numbers()
    assert [numbers[n / 2] for n in range(9)] == ["0", ".5", "1", "1.5", "2", "2.5", "3", "3.5", "4"]
    assert len(numbers) <= 3


TEXTS = (
    Text("bit (3/8 in) \\ x", 10.0, 20.0, 3.0),
    Text("Füße – ½ Θ Жук", 1.5, 2.0, 3.0, bold=True, anchor="middle", angle=90.0),
    Text("", 5.0, 5.0, 3.0, bold=True),
    Text("ASCII", 5.0, 5.0, 3.0, bold=True, colour="#595959"),
    Text(MANY, 5.0, 6.0, 2.5, anchor="end", angle=30.0),
    Text("after", 5.0, 6.0, 2.5),
    Text("ɏ", 5.0, 6.0, 2.5),
)


def test_texts() -> None:
    """Texts of every kind, with more characters than a font holds, are those of reportlab's text object."""
    from jigtemplates.fonts import text_width
    from jigtemplates.geometry.outline import cos_sin

    theirs = canvas()
    block = theirs.beginText()
    font = colour = None
    for text in TEXTS:
        if font != (text.bold, text.size):
            font = (text.bold, text.size)
            block.setFont(registered(text.bold), text.size)
        if colour != text.colour:
            colour = text.colour
            block.setFillColorRGB(*(int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)))
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * text_width(
            text.string, text.size, bold=text.bold
        )
        cos, sin = cos_sin(text.angle)
        block.setTextTransform(cos, sin, -sin, cos, text.x - back * cos, text.y - back * sin)
        block.textOut(text.string)
    assert ours(Page("", (), TEXTS)).splitlines()[-1] == block.getCode()


RING = Outline.polygon([(0, 0), (7, 0), (7, 9.5)])
DOT = Outline.circle(Point(3, 3), 1.25)
STROKE = Stroke((Point(1, 2), Point(3.5, 0.25), Point(100.123456, 7)))


def test_lines() -> None:
    """Pens, paths and fills are those of reportlab's path object; neighbours in one pen are one path."""
    inks = (Ink(RING), Ink(STROKE), Ink(RING, 0.0, fill="#8c8c8c"), Ink(DOT, 0.5, "#ff0000", (2.0, 1.5), "#00ff00"))
    theirs = canvas()
    paths = [theirs.beginPath() for _ in range(3)]
    for path in paths[:2]:
        path.moveTo(0, 0)
        path.lineTo(7, 0)
        path.lineTo(7, 9.5)
        path.lineTo(0, 0)
        path.close()
    paths[0].moveTo(1, 2)
    paths[0].lineTo(3.5, 0.25)
    paths[0].lineTo(100.123456, 7)
    (arc,) = DOT.segments
    paths[2].moveTo(4.25, 3)
    for curve in pdf_page.beziers(arc):  # type: ignore[arg-type]  # a circle is one arc
        paths[2].curveTo(*curve)
    paths[2].close()
    grey = 0x8C / 255
    looks: Any = (
        (0.2, (0, 0, 0), [], None),
        (0.0, (0, 0, 0), [], (grey,) * 3),
        (0.5, (1, 0, 0), [2.0, 1.5], (0, 1, 0)),
    )
    for path, (width, colour, dash, fill) in zip(paths, looks, strict=True):
        theirs.setLineWidth(width)
        theirs.setStrokeColorRGB(*colour)
        theirs.setDash(dash)
        if fill:
            theirs.setFillColorRGB(*fill)
        theirs.drawPath(path, stroke=int(width > 0), fill=int(fill is not None), fillMode=1)
    assert "\n".join(inks_text(inks)) == "\n".join(theirs._code)


def test_an_unseen_line() -> None:
    """A line of no width with nothing in it paints nothing."""
    assert inks_text((Ink(RING, 0.0),))[-1] == "n"


def test_window() -> None:
    """A window is moved, clipped, drawn and left as reportlab does it, within the page's own scale."""
    window = Window(Bounds(-1.5, -1.5, 20.0, 30.25), Point(12.0, 40.0), (Ink(STROKE),))
    theirs = canvas()
    theirs.scale(POINT, POINT)
    theirs.setLineCap(0)
    theirs.setLineJoin(1)
    theirs.saveState()
    theirs.translate(12.0, 40.0)
    frame = theirs.beginPath()
    frame.rect(-1.5, -1.5, 21.5, 31.75)
    theirs.clipPath(frame, stroke=0, fill=0)
    for line in inks_text((Ink(STROKE),)):
        theirs.addLiteral(line)
    theirs.drawText(theirs.beginText())
    theirs.restoreState()
    theirs.drawText(theirs.beginText())
    assert ours(Page("", (), (), (window,))) == "\n".join(theirs._code)
