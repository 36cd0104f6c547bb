"""The two faces paper is lettered in: DejaVu Sans, regular and bold, subset (README.md says how).

The files are read once in a process and registered with reportlab under names of our own, so that
no face of the machine can take their place. A size is the em square's height, in whatever unit the
width is wanted.
"""

from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

REGULAR = "JigSans"
BOLD = "JigSans-Bold"

_FILES = {REGULAR: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf"}


@cache
def _face(name: str):  # type: ignore[no-untyped-def]  # reportlab is untyped
    from reportlab.pdfbase import pdfmetrics

    from jigtemplates.fonts.face import Face

    font = Face(name, str(Path(__file__).with_name(_FILES[name])), asciiReadable=True)
    pdfmetrics.registerFont(font)
    return font


def registered(bold: bool = False) -> str:
    """The name reportlab knows the face by; registers it the first time."""
    name = BOLD if bold else REGULAR
    _face(name)
    return name


@cache
def _advances(bold: bool) -> dict[int, float]:
    """Width of each character the face has, in ems."""
    face = _face(BOLD if bold else REGULAR).face
    return {code: face.getCharWidth(code) / 1000.0 for code in face.charToGlyph}


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line of text, in the unit of size; a character the face lacks counts as 1/2 em."""
    return size * _ems(text, bold)


@lru_cache(maxsize=4096)  # the same words are measured for every arrangement of a page that is tried
def _ems(text: str, bold: bool) -> float:
    advances = _advances(bold)
    return sum(advances.get(ord(c), 0.5) for c in text)


def missing(texts: "Iterable[str]") -> list[str]:
    """Characters that cannot be printed, each once, in order of appearance.

    Those without a glyph, and those that print nothing or turn the text round (controls, joiners,
    direction marks).
    """
    known = _advances(False)
    seen = dict.fromkeys(c for text in texts for c in text)
    return [c for c in seen if ord(c) not in known or not (c.isprintable() or c == " ")]
