"""Fonts as they are embedded, beside reportlab's own way."""

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

import jigtemplates.fonts
from jigtemplates.fonts.face import Face

FILE = str(Path(jigtemplates.fonts.__file__).with_name("DejaVuSans.ttf"))
#: 300 characters, more than one font of a PDF can hold.
MANY = "".join(chr(code) for code in range(0xC0, 0x24F)) + "".join(chr(code) for code in range(0x400, 0x450))


@pytest.fixture(autouse=True)
def _forgotten() -> Iterator[None]:
    yield
    pdfmetrics._fonts.pop("Trial", None)


def document(font: TTFont, *texts: str) -> bytes:
    """A page with the texts."""
    pdfmetrics.registerFont(font)
    buffer = io.BytesIO()
    canvas = Canvas(buffer, (300, 300), pageCompression=1, invariant=1, initialFontName="Trial")
    for text in texts:
        canvas.drawString(10, 10, text)
    canvas.save()
    return buffer.getvalue()


@pytest.mark.parametrize("texts", [("ASCII",), ("½ × ⅜", "Жук"), (MANY, "again")])
def test_the_same_bytes(texts: tuple[str, ...]) -> None:
    """A document is the one that reportlab's own font makes, the first time and when all is remembered."""
    theirs = document(TTFont("Trial", FILE), *texts)
    font = Face("Trial", FILE)
    assert [document(font, *texts), document(font, *texts)] == [theirs, theirs]


def test_other_characters_are_another_subset() -> None:
    """What is remembered of one document does not get into one with other characters."""
    font = Face("Trial", FILE)
    first = document(font, "½")
    assert document(font, "Ж") == document(TTFont("Trial", FILE), "Ж") != first
