"""Single-line lettering: what is written, where it stands, and what is refused."""

import itertools
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds, Point
from jigtemplates.lettering import (
    LetteringError,
    _joined,
    letter,
    missing_letters,
    text_box,
    text_width,
    transliterate,
)

PRINTABLE = "".join(map(chr, range(33, 127)))

# Record of glyph 506, F of the Simplex Roman, in the Hershey data: after its number and length the
# left and right bound, then the strokes, all as letters counted from R, y down; " R" lifts the pen.
GLYPH_506 = "HZLFL[ RLFYF RLPTP"


def points(strokes: tuple[Stroke, ...]) -> list[Point]:
    """All points of some strokes, in order."""
    return [p for stroke in strokes for p in stroke.points]


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("Bench rail, 10 x 50", "Bench rail, 10 x 50"),
        ("½ ¼ ¾ ⅛ ⅜ ⅝ ⅞", "1/2 1/4 3/4 1/8 3/8 5/8 7/8"),
        ("2½ in", "2 1/2 in"),
        ("2 ½ in", "2 1/2 in"),
        ("1⁄2", "1/2"),
        ("10 × 50", "10 x 50"),
        ("ø8, Ø 8, ⌀8", "dia 8, dia 8, dia 8"),
        ("8ø", "8 dia"),
        ("Bjørn Øst", "Bjorn Ost"),
        ("10–12 — 3 − 1", "10-12 - 3 - 1"),
        ("3/8″ 5′ “a” ‘b’ it’s", "3/8\" 5' \"a\" 'b' it's"),
        ("45° 20 °C °", "45 deg 20 deg C deg"),
        ("Überlänge à Łódź", "Uberlange a Lodz"),
        ("o\u0308 x\u0302", "o x"),
        ("Maß, Straẞe, Æther, œuvre", "Mass, StraSSe, AEther, oeuvre"),
        ("±0.1 µm ≤ 2 ≥ 1 ≈ 3 6÷2", "+/-0.1 um <= 2 >= 1 ~ 3 6/2"),
        ("mm² ﬁt…", "mm2 fit..."),
        ("a\tb\nc\u00a0d", "a b c d"),
    ],
)
def test_transliterate(written: str, plain: str) -> None:
    """Fractions, signs, quotes and accents become what can be engraved."""
    assert transliterate(written) == plain


def test_transliterate_leaves_what_it_cannot_write() -> None:
    """A character without a plain form is not dropped: it comes back for the refusal to name it."""
    assert transliterate("木 ¨ \x00 \u200b") == "木 ¨ \x00 \u200b"


@given(st.text(max_size=30))
@settings(max_examples=100, deadline=None)
def test_transliterate_twice_changes_nothing_more(text: str) -> None:
    """What has been made plain stays as it is."""
    assert transliterate(transliterate(text)) == transliterate(text)


def test_f_is_the_published_glyph() -> None:
    """F at a height of 21 is glyph 506 of the Hershey data, y turned upwards, baseline at 0."""
    left, right, strokes = GLYPH_506[0], GLYPH_506[1], GLYPH_506[2:].split(" R")
    decoded = [
        [(ord(x) - ord(left), 9 - (ord(y) - ord("R"))) for x, y in zip(s[::2], s[1::2], strict=True)] for s in strokes
    ]
    assert [list(stroke.points) for stroke in letter("F", 21)] == decoded
    assert text_width("F", 21) == ord(right) - ord(left)


def test_f_is_not_mirrored() -> None:
    """The stem of F is on the left, both arms point right, the longer one is on top."""
    stem, top, arm = letter("F", 21)
    assert stem.points == (Point(4, 21), Point(4, 0))
    assert top.points == (Point(4, 21), Point(17, 21))
    assert arm.points == (Point(4, 11), Point(12, 11))


def test_turned_a_quarter() -> None:
    """At 90 degrees the text runs upwards and the tops of its letters point left, about its start."""
    stem, top, _ = letter("F", 21, Point(100, 50), 90)
    assert stem.points == (Point(79, 54), Point(100, 54))
    assert top.points == (Point(79, 54), Point(79, 67))


def test_second_letter_stands_one_advance_further() -> None:
    """In FF the second F is 18 units right of the first (bounds H to Z of its record)."""
    first, second = points(letter("F", 21)), points(letter("FF", 21))[6:]
    assert [(b.x - a.x, b.y - a.y) for a, b in zip(first, second, strict=True)] == [(18, 0)] * 6


def test_a_stroke_that_goes_on_is_one_stroke() -> None:
    """L, two strokes in the data, is drawn without lifting."""
    assert letter("L", 21) == (Stroke((Point(4, 21), Point(4, 0), Point(16, 0))),)


def test_joining_drops_what_has_no_length() -> None:
    """A point said twice is said once, and a lone point is no stroke."""
    assert _joined([[(0, 0), (0, 0), (1, 0)], [(1, 0), (1, 1)], [(5, 5)], [(6, 6), (6, 6)]]) == (
        ((0, 0), (1, 0), (1, 1)),
    )


@pytest.mark.parametrize("character", PRINTABLE)
def test_every_printable_character_has_strokes(character: str) -> None:
    """Every printable ASCII character is drawn, inside its advance, no point twice and no line twice."""
    strokes = letter(character, 21)
    assert strokes
    lines = [pair for stroke in strokes for pair in itertools.pairwise(stroke.points)]
    assert all(len(stroke.points) > 1 for stroke in strokes)
    assert all(a != b for a, b in lines)
    assert len({frozenset(line) for line in lines}) == len(lines)
    xs = [p.x for p in points(strokes)]
    assert 0 <= min(xs) <= max(xs) <= text_width(character, 21)


def test_full_stop_stands_on_the_baseline() -> None:
    """The point of 9.525 is at the foot of the figures, not half-way up."""
    assert text_box(".", 21).bottom == 0
    assert text_box("9", 21) == Bounds(3, 0, 16, 21)


def test_box_is_round_the_ink() -> None:
    """The box reaches a third of the height below the baseline for g and starts at F's stem."""
    assert text_box(" Fg", 21) == Bounds(20, -7, 49, 21)
    assert text_box("  ", 21) == text_box("", 21) == Bounds(0, 0, 0, 0)


def test_space_has_width_but_no_strokes() -> None:
    """Spaces and empty text draw nothing; a space still moves on by 16 units (J to Z in the data)."""
    assert letter("", 5) == letter("  ", 5) == ()
    assert text_width("", 5) == 0
    assert text_width(" ", 21) == 16


@given(
    st.text(PRINTABLE + " ", min_size=1, max_size=12),
    st.floats(0.5, 50),
    st.floats(-500, 500),
    st.floats(-500, 500),
    st.floats(-720, 720),
)
@settings(max_examples=60, deadline=None)
def test_place_height_and_angle(text: str, height: float, x: float, y: float, angle: float) -> None:
    """Height scales, at moves and angle turns what is written at the origin; width grows with the height."""
    plain = points(letter(text, 21))
    placed = points(letter(text, height, Point(x, y), angle))
    turn = complex(0, 1) ** (angle / 90) * height / 21
    for a, b in zip(plain, placed, strict=True):
        assert complex(*b) == pytest.approx(complex(x, y) + complex(*a) * turn, abs=1e-9)
    assert text_width(text, height) == pytest.approx(text_width(text, 1) * height)


@given(st.text(PRINTABLE + " ", min_size=1, max_size=12), st.floats(0.5, 50))
@settings(max_examples=60, deadline=None)
def test_box_law(text: str, height: float) -> None:
    """The box is the extent of the strokes."""
    drawn = points(letter(text, height)) or [Point(0, 0)]
    xs, ys = [p.x for p in drawn], [p.y for p in drawn]
    assert text_box(text, height) == pytest.approx((min(xs), min(ys), max(xs), max(ys)))


def test_refusal_names_the_characters() -> None:
    """A character without strokes is refused by name, each once, with what to write instead."""
    with pytest.raises(LetteringError) as caught:
        letter("木 rail 木本", 5)
    assert caught.value.characters == "木本"
    assert caught.value.lines == (
        '"木 rail 木本" cannot be engraved: there is no single-line letter for "木" (U+6728), "本" (U+672C) '
        "(write it with A-Z, a-z, 0-9 and plain punctuation)",
    )


def test_refusal_of_many_characters_stays_short() -> None:
    """Of more than four characters the rest is counted."""
    with pytest.raises(LetteringError, match=r"\(U\+0411\).*\(U\+0414\) and 2 more \(write it with"):
        letter("БВГДЕЖ", 5)


@pytest.mark.parametrize("measure", [text_width, text_box, letter])
def test_refusal_of_control_characters(measure) -> None:  # type: ignore[no-untyped-def]
    """A control character is refused and shown escaped; the font's ring at 127 is not taken for it."""
    with pytest.raises(LetteringError, match=r'letter for "\\x7f" \(U\+007F\) \(write'):
        measure("a\x7f", 5)


def test_missing_letters_can_be_asked_beforehand() -> None:
    """What would be refused, each once and in order; nothing for a text that can be made plain."""
    assert missing_letters("本木 木½") == "本木"
    assert missing_letters("2½ × 3 ø 5°") == ""


def test_importing_loads_no_font() -> None:
    """Importing the lettering, the label and the marks loads neither the font nor shapely nor numpy."""
    code = (
        "import sys, jigtemplates.lettering, jigtemplates.label, jigtemplates.marks\n"
        "print(sorted({'HersheyFonts', 'shapely', 'numpy'} & set(sys.modules)))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
