"""Single-line lettering: text becomes open strokes a laser or a pen follows once.

Millimetres, x right along the line of text, y up; height is the height of a capital letter. The
letters are the Simplex Roman of the Hershey fonts (NBS Special Publication 424, glyphs 501 and
following), read from the package Hershey-Fonts (MIT licence). The data came with this condition,
kept here and to be kept in the repository's LICENSE beside our own licence:

    USE RESTRICTION: This distribution of the Hershey Fonts may be used by anyone for any purpose,
    commercial or otherwise, providing that:

    1. The following acknowledgements must be distributed with the font data:

       - The Hershey Fonts were originally created by Dr. A. V. Hershey while working at the
         U. S. National Bureau of Standards.
       - The format of the Font data in this distribution was originally created by
         James Hurt, Cognition, Inc., 900 Technology Park Drive, Billerica, MA 01821
         (mit-eddie!ci-dandelion!hurt)

    2. The font data in this distribution may be converted into any other format *EXCEPT* the
       format distributed by the U.S. NTIS (which organization holds the rights to the distribution
       and use of the font data in that particular format).
"""

import re
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from jigtemplates.drawing import Stroke
from jigtemplates.errors import InputError, quoted
from jigtemplates.geometry.outline import Bounds, Point, cos_sin

#: The font's line of baselines and the height of its capitals, in its own units, y down
#: (the package's description of the "Normal" size: base line 9, cap line -12).
BASE_LINE = 9
CAP_UNITS = 21

#: The face used: unlike the package's "futural", its full stop stands on the baseline.
FACE = "rowmans"

ORIGIN = Point(0.0, 0.0)

#: Most characters named in one error line (chosen: it still fits a screen's width).
NAMED_CHARACTERS = 4

_Units = tuple[int, int]


class LetteringError(InputError):
    """Some characters have no single-line letter; `characters` holds each of them once."""

    def __init__(self, text: str, characters: str) -> None:
        self.characters = characters
        named = ", ".join(f"{quoted(c)} (U+{ord(c):04X})" for c in characters[:NAMED_CHARACTERS])
        more = len(characters) - NAMED_CHARACTERS
        super().__init__(
            f"{quoted(text)} cannot be engraved: there is no single-line letter for {named}"
            f"{f' and {more} more' if more > 0 else ''} (write it with A-Z, a-z, 0-9 and plain punctuation)"
        )


@dataclass(frozen=True, slots=True)
class _Glyph:
    """One letter in font units: x from its left edge, y up from the baseline."""

    #: from this letter's left edge to the next one's
    advance: int
    strokes: tuple[tuple[_Units, ...], ...]
    #: left, bottom, right and top of the strokes; None for the space
    ink: tuple[int, int, int, int] | None


_NOTHING = _Glyph(0, (), None)

# Written out because Unicode's own decomposition has none, or not the one a workshop reads.
_WRITTEN = str.maketrans(
    dict.fromkeys("×✕⨯", "x")
    | dict.fromkeys("⌀∅", "dia")
    | dict.fromkeys("°˚", "deg")
    | dict.fromkeys("‐‑‒–—―−·•", "-")
    | dict.fromkeys("″”“„‟«»", '"')
    | dict.fromkeys("′’‘‚‛´", "'")
    | {"÷": "/", "±": "+/-", "µ": "u", "μ": "u", "≤": "<=", "≥": ">=", "≈": "~", "ı": "i"}
    | {"ß": "ss", "ẞ": "SS", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ø": "o", "Ø": "O"}
    | {"ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "ð": "d", "Ð": "D", "þ": "th", "Þ": "Th"}
)

# In a Norse word ø is a letter; anywhere else it is the diameter sign.
_DIAMETER = re.compile(r"(?<![^\W\d_])[øØ](?![^\W\d_])")
# A word made of a sign stands apart from a letter or number: "45°" is "45 deg", "⌀8" is "dia 8".
_BEFORE_SIGN = re.compile(r"(?<=\w)(?=[°˚⌀∅])|(?<=\d)(?=[¼-¾⅐-⅞])")
_AFTER_SIGN = re.compile(r"(?<=[°˚⌀∅])(?=\w)")
_ACCENTS = re.compile(r"(?<=[^\W\d_])[\u0300-\u036f]+")


def transliterate(text: str) -> str:
    """The text in plain characters as far as that can be done: 2½ is 2 1/2, 10 × 50 is 10 x 50.

    Accents are left off (ä is a: which language's spelling is meant cannot be known), ß is ss, ø is
    o inside a word and dia elsewhere, ° is deg, any white space is one space. What has no plain form
    comes back unchanged, for `letter` to refuse by name.
    """
    if text.isascii() and text.isprintable():
        return text
    text = _ACCENTS.sub("", unicodedata.normalize("NFC", text))
    text = _DIAMETER.sub("⌀", text)
    text = _AFTER_SIGN.sub(" ", _BEFORE_SIGN.sub(" ", text))
    return "".join(map(_plain, text.translate(_WRITTEN)))


def _plain(character: str) -> str:
    """One character without accent or ligature, or unchanged where nothing plain would be left."""
    if character.isspace():
        return " "
    parts = unicodedata.normalize("NFKD", character).replace("⁄", "/")
    plain = "".join(c for c in parts if not unicodedata.combining(c))
    return plain if plain.isascii() and plain.isprintable() and plain.strip() else character


def letter(text: str, height: float, at: Point = ORIGIN, angle: float = 0.0) -> tuple[Stroke, ...]:
    """The text as strokes, from the left end of its baseline at `at`, turned angle degrees ccw about it.

    The text is transliterated first. Height is that of a capital, mm, above 0; some letters reach
    below the baseline and brackets above the capitals (`text_box`). Raises LetteringError for
    characters without strokes; the space is the only one that may have none.
    """
    cos, sin = cos_sin(angle)
    right_x, right_y = cos * height / CAP_UNITS, sin * height / CAP_UNITS
    strokes: list[Stroke] = []
    pen = 0
    for glyph in _glyphs(text):
        for line in glyph.strokes:
            strokes.append(
                Stroke(
                    tuple(
                        Point(at.x + (pen + x) * right_x - y * right_y, at.y + (pen + x) * right_y + y * right_x)
                        for x, y in line
                    )
                )
            )
        pen += glyph.advance
    return tuple(strokes)


def text_width(text: str, height: float) -> float:
    """Length of the baseline in mm, the space round the first and last letter included."""
    return sum(glyph.advance for glyph in _glyphs(text)) * height / CAP_UNITS


def text_box(text: str, height: float) -> Bounds:
    """Box round the strokes of `letter(text, height)`, mm; all 0 for a text of spaces only."""
    boxes: list[tuple[int, int, int, int]] = []
    pen = 0
    for glyph in _glyphs(text):
        if glyph.ink:
            left, bottom, right, top = glyph.ink
            boxes.append((pen + left, bottom, pen + right, top))
        pen += glyph.advance
    if not boxes:
        return Bounds(0.0, 0.0, 0.0, 0.0)
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    scale = height / CAP_UNITS
    return Bounds(min(lefts) * scale, min(bottoms) * scale, max(rights) * scale, max(tops) * scale)


def missing_letters(text: str) -> str:
    """The characters of the transliterated text that have no strokes, each once, in order."""
    plain = dict.fromkeys(transliterate(text))
    return "".join(c for c in plain if c != " " and not _glyph(c).strokes)


@lru_cache(maxsize=512)  # a line is measured several times before it is drawn
def _glyphs(text: str) -> tuple[_Glyph, ...]:
    missing = missing_letters(text)
    if missing:
        raise LetteringError(text, missing)
    return tuple(_glyph(c) for c in transliterate(text))


@cache
def _glyph(character: str) -> _Glyph:
    """The letter for a printable ASCII character; one without strokes for any other.

    The font keeps a ring where ASCII has the control character 127, hence the test.
    """
    found = _font().get(character) if character.isascii() and character.isprintable() else None
    if found is None:
        return _NOTHING
    left = found.left_offset
    raised = [[(x - left, BASE_LINE - y) for x, y in stroke] for stroke in found.strokes]
    strokes = _joined(raised)
    xs = [x for stroke in strokes for x, _ in stroke]
    ys = [y for stroke in strokes for _, y in stroke]
    ink = (min(xs), min(ys), max(xs), max(ys)) if strokes else None
    return _Glyph(found.char_width, strokes, ink)


def _joined(strokes: list[list[_Units]]) -> tuple[tuple[_Units, ...], ...]:
    """One polyline wherever a stroke goes on from the end of the one before; no point twice in a row."""
    lines: list[list[_Units]] = []
    for stroke in strokes:
        if not lines or lines[-1][-1] != stroke[0]:
            lines.append([stroke[0]])
        for point in stroke:
            if point != lines[-1][-1]:
                lines[-1].append(point)
    return tuple(tuple(line) for line in lines if len(line) > 1)


@cache
def _font() -> dict[str, Any]:
    """The package's letters by character; imported and unpacked at the first letter, once a process."""
    from HersheyFonts import HersheyFonts

    font = HersheyFonts()
    font.load_default_font(FACE)
    glyphs: dict[str, Any] = font.all_glyphs
    return glyphs
