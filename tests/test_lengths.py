"""Lengths: what is read, exactly; what is refused, with which hint; what is written."""

import math
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from jigtemplates.lengths import (
    LengthError,
    both_text,
    decimal_inch_text,
    inch_decimals,
    inch_short,
    inch_text,
    is_on_rule,
    mm_text,
    parse_length,
    quantity,
    rule_text,
)

modest = settings(max_examples=200, deadline=None)


@pytest.mark.parametrize(
    ("text", "mm", "tidy"),
    [
        ("9.5 mm", "9.5", "9.5 mm"),
        ("9.5mm", "9.5", "9.5 mm"),
        ("  9.5   mm ", "9.5", "9.5 mm"),
        ("9.5\u00a0mm", "9.5", "9.5 mm"),
        ("9.5\u202fmm", "9.5", "9.5 mm"),
        ("\t9.5 mm", "9.5", "9.5 mm"),
        ("10 mm", "10", "10 mm"),
        ("-3 mm", "-3", "-3 mm"),
        ("−3 mm", "-3", "-3 mm"),
        ("1/2 mm", "0.5", "1/2 mm"),
        # 1 in = 25.4 mm exactly: NBS Circular 572, addendum 1960; 3/8 in = 9.525 mm follows
        ("3/8 in", "9.525", "3/8 in"),
        ('3/8"', "9.525", "3/8 in"),
        ('3/8 "', "9.525", "3/8 in"),
        ("3/8″", "9.525", "3/8 in"),
        ("3/8”", "9.525", "3/8 in"),
        ("3/8“", "9.525", "3/8 in"),
        ("3⁄8 in", "9.525", "3/8 in"),
        ("1 in", "25.4", "1 in"),
        ("1-1/2 in", "38.1", "1-1/2 in"),
        ("2 1/2 in", "63.5", "2-1/2 in"),
        ("-1-1/2 in", "-38.1", "-1-1/2 in"),
        ("5/4 in", "31.75", "5/4 in"),
        ("½ in", "12.7", "1/2 in"),
        ("½in", "12.7", "1/2 in"),
        ("2½ in", "63.5", "2-1/2 in"),
        ("2 ½ in", "63.5", "2-1/2 in"),
        ("2-½ in", "63.5", "2-1/2 in"),
        ("⅜ in", "9.525", "3/8 in"),
        ("0.5in", "12.7", "0.5 in"),
        (".5 in", "12.7", "0.5 in"),
        ("-.5 in", "-12.7", "-0.5 in"),
        ("0 mm", "0", "0 mm"),
        ("-0 mm", "0", "0 mm"),
    ],
)
def test_accepted_text(text: str, mm: str, tidy: str) -> None:
    """Each accepted form has its exact value and its tidied text."""
    length = parse_length(text)
    assert length.exact == Fraction(mm)
    assert length.text == str(length) == tidy


@pytest.mark.parametrize(
    ("glyph", "value"),
    [
        ("½", "1/2"), ("⅓", "1/3"), ("⅔", "2/3"), ("¼", "1/4"), ("¾", "3/4"), ("⅕", "1/5"), ("⅖", "2/5"), ("⅗", "3/5"),
        ("⅘", "4/5"), ("⅙", "1/6"), ("⅚", "5/6"), ("⅛", "1/8"), ("⅜", "3/8"), ("⅝", "5/8"), ("⅞", "7/8"),
    ],
)  # fmt: skip
def test_fraction_glyphs(glyph: str, value: str) -> None:
    """A printed fraction has the value of its digits, alone and behind a whole number."""
    assert parse_length(f"{glyph} mm").exact == Fraction(value)
    assert parse_length(f"2{glyph} mm").exact == 2 + Fraction(value)


@pytest.mark.parametrize(
    ("value", "unit", "mm", "tidy"),
    [
        (10, "mm", "10", "10 mm"),
        (0.1, "mm", "0.1", "0.1 mm"),
        (9.525, "mm", "9.525", "9.525 mm"),
        (10.0, "mm", "10", "10.0 mm"),
        (0.375, "in", "9.525", "0.375 in"),
        (-3, "mm", "-3", "-3 mm"),
        (1e-05, "mm", "0.00001", "0.00001 mm"),
        ("10", "mm", "10", "10 mm"),
        ("10", "in", "254", "10 in"),
        ("3/8", "in", "9.525", "3/8 in"),
        ("2½", "in", "63.5", "2-1/2 in"),
    ],
)
def test_bare_numbers(value: object, unit: str, mm: str, tidy: str) -> None:
    """A bare number is read in the unit given, at the decimal value that was written."""
    length = parse_length(value, unit=unit)  # type: ignore[arg-type]
    assert (length.exact, length.text) == (Fraction(mm), tidy)


def test_a_unit_in_the_text_wins() -> None:
    """The unit for bare numbers does not touch a length that has its own."""
    assert parse_length("3/8 in", unit="mm").exact == Fraction("9.525")
    assert parse_length("10 mm", unit="in").exact == 10


GENERAL = "write a number and a unit, such as 9.5 mm or 3/8 in"
SUMS = "sums are not worked out here; write one number and its unit, such as 9.5 mm or 3/8 in"
FINITE = "a length is a finite number; " + GENERAL
WHOLE = "a fraction has whole numbers above and below the line, such as 3/4 in"
TWO = "one number with one unit; write the whole length in mm or in inches"
STRANGE = "that unit is not known here; give the length in mm or inches"
EXPONENT = "write the number out, without an exponent"

REFUSED = [
    # commas and other separators
    ("12,7 mm", "write 12.7 mm"),
    ("0,125 in", "write 0.125 in"),
    ("12,7", "write 12.7"),
    ("1,27 cm", "write 12.7 mm"),
    ("12,7 MM", "write 12.7 mm"),
    ("12,7 parsec", "write 12.7 parsec"),
    (",5 in", "write .5 in"),
    ("1,000 mm", "a comma is not read; write 1000 mm or 1.000 mm"),
    ("1,234.5 mm", "write 1234.5 mm, without a comma"),
    ("1,234,567 mm", "write 1234567 mm, without a comma"),
    ("1.234,5 mm", "write 1234.5 mm"),
    ("1,2,3 mm", "use a point for decimals and no other separator"),
    ("1 000 mm", "write 1000 mm, without a separator"),
    ("1'000.5 mm", "write 1000.5 mm, without a separator"),
    ("1_000 mm", "write 1000 mm, without a separator"),
    ("1.234.567 mm", "write 1234567 mm, without a separator"),
    # numbers that are none
    ("nan", FINITE),
    ("NaN mm", FINITE),
    ("inf mm", FINITE),
    ("-infinity", FINITE),
    ("∞ mm", FINITE),
    ("1e3 mm", EXPONENT),
    ("1.5E-2 in", EXPONENT),
    # expressions
    ("3+4 mm", SUMS),
    ("1/2*2 in", SUMS),
    ("(3) mm", SUMS),
    ("3-4 mm", SUMS),
    ("3 - 4 mm", SUMS),
    ("- 3 mm", SUMS),
    ("10 x 50 mm", SUMS),
    ("10×50 mm", SUMS),
    ("1/2/3 in", SUMS),
    ("2**3 mm", SUMS),
    ("½½ in", SUMS),
    # a glyph before a digit is not 1/21
    ("½1 in", "a whole number stands before ½, not behind it; write 2½ in, say"),
    ("1½1 in", "a whole number stands before ½, not behind it; write 2½ in, say"),
    ("⅜2 mm", "a whole number stands before ⅜, not behind it; write 2⅜ in, say"),
    # hexadecimal
    ("1 1-8 in", "write 1-1/8 in"),
    ("1-1-8 in", "write 1-1/8 in"),
    ("-2 15-64 inches", "write -2-15/64 in"),
    ('1 3-8"', "write 1-3/8 in"),
    ("1 1-8", "write 1-1/8 in"),
    ("3-8 in", "if a fraction is meant, write 3/8 in"),
    ("3-8 mm", SUMS),  # no one divides a millimetre so
    ("1 3-8 ft", SUMS),
    ("5-4 in", SUMS),
    ("1-2-3-4 in", SUMS),
    ("10-20 mm", SUMS),
    ("0x10 mm", "a hexadecimal number is no length; write a number and a unit, such as 9.5 mm or 3/8 in"),
    ("-0XfF", "a hexadecimal number is no length; write a number and a unit, such as 9.5 mm or 3/8 in"),
    ("3/4-1/2 in", SUMS),
    ("+3 mm", "leave the plus sign out; write 3 mm"),
    # fractions
    ("3/0 in", "a fraction cannot have 0 below the line"),
    ("1 3/0 in", "a fraction cannot have 0 below the line"),
    ("1 5/4 in", "the fraction of a mixed number is less than 1; write 2-1/4 in"),
    ("1-4/4 mm", "the fraction of a mixed number is less than 1; write 2 mm"),
    ("1.5/2 in", WHOLE),
    ("1/2.5 in", WHOLE),
    ("1.5 1/2 in", WHOLE),
    ("1.5-1/2 in", WHOLE),
    ("3 / 8 in", "write a fraction without spaces, such as 3/8 in"),
    ("12. mm", "write a digit after the point, or leave the point out"),
    # units
    ("12 cm", "write 120 mm"),
    ("1.2 m", "write 1200 mm"),
    ("3 dm", "write 300 mm"),
    ("500 um", "write 0.5 mm"),
    ("500 µm", "write 0.5 mm"),
    ("1/3 cm", "write 10/3 mm"),
    ("-1-1/2 cm", "write -15 mm"),
    ("9 millimetres", "write 9 mm"),
    ("5 ft", "write 60 in"),
    ("6'", "write 72 in"),
    ("6′", "write 72 in"),
    ("2 yd", "write 72 in"),
    ("5 thou", "write 0.005 in"),
    ("3/8''", "write 3/8 in"),
    ("3/8 inch", "write 3/8 in"),
    ("2 inches", "write 2 in"),
    ("2 Inches", "write 2 in"),
    ("3/8 in.", "write 3/8 in"),
    ("1/0 ft", "give the length in inches"),
    ("1/0 cm", "give the length in mm"),
    ("12 MM", "units are written small; write 12 mm"),
    ("12 Mm", "units are written small; write 12 mm"),
    ("3/8 In", "units are written small; write 3/8 in"),
    ("3/8 IN", "units are written small; write 3/8 in"),
    ("12 furlongs", STRANGE),
    ("12 mm;", STRANGE),
    ("3 mm 2 in", TWO),
    ("1' 6\"", TWO),
    ("mm", "the number is missing; " + GENERAL),
    ("wide", "the number is missing; " + GENERAL),
    # a bare number where no unit is set
    ("10", 'the unit is missing; write 10 mm or 10 in, or set units = "mm" or "in"'),
    ("3/8", 'the unit is missing; write 3/8 in or 3/8 mm, or set units = "mm" or "in"'),
    # the rest
    ("", "it is empty; " + GENERAL),
    ("   ", "it is empty; " + GENERAL),
    ("-", GENERAL),
    ("1 2 mm", GENERAL),
    ("1--1/2 in", GENERAL),
    ("١٢ mm", "the number is missing; " + GENERAL),
]


@pytest.mark.parametrize(("text", "hint"), REFUSED)
def test_refused_text(text: str, hint: str) -> None:
    """Each refused form is named as it was written, with its own hint of what to write."""
    with pytest.raises(LengthError) as caught:
        parse_length(text)
    assert str(caught.value) == f'"{text}" is not a length ({hint})'
    assert caught.value.hint == hint


def test_a_hint_can_be_followed() -> None:
    """Wherever a hint says "write" and a length, that length is read."""
    followed = 0
    for _, hint in REFUSED:
        if hint.startswith("write ") and hint[6] in ".0123456789-":
            parse_length(hint[6:].partition(", ")[0].replace("parsec", "mm"), unit="mm")
            followed += 1
    assert followed > 20


def test_fraction_in_a_metric_job() -> None:
    """A bare fraction is not taken for millimetres, since it nearly always means inches."""
    with pytest.raises(LengthError) as caught:
        parse_length("3/8", unit="mm")
    assert caught.value.hint == "a fraction needs its unit where bare numbers are mm; write 3/8 in or 3/8 mm"


def test_absurdly_long_text() -> None:
    """Text of more than 40 characters is refused unread, and shown shortened."""
    with pytest.raises(LengthError) as caught:
        parse_length("1" * 41 + " mm")
    assert str(caught.value) == (
        f'"{"1" * 39}…" is not a length (longer than 40 characters; write a number and a unit, such as 9.5 mm)'
    )


def test_control_characters_are_not_echoed() -> None:
    """An error line never repeats a control character."""
    with pytest.raises(LengthError, match=r'^"3\\x00\\x1b mm" is not a length'):
        parse_length("3\x00\x1b mm")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 1e300, 1e-300, 10**40])
def test_senseless_numbers(value: float) -> None:
    """Numbers that are not finite, or absurd in size, are refused."""
    with pytest.raises(LengthError, match=r"is not a length \(a length is a finite number of a sensible size\)$"):
        parse_length(value, unit="mm")


def test_numbers_too_long_to_print() -> None:
    """A whole number that Python itself refuses to print has its line all the same."""
    with pytest.raises(LengthError) as caught:
        parse_length(10**5000, unit="mm")
    assert str(caught.value) == (
        "a number of thousands of digits is not a length (a length is a finite number of a sensible size)"
    )


@pytest.mark.parametrize(
    ("value", "shown"), [(True, "true"), (False, "false"), (None, "None"), ([1], "a list"), ({}, "a table")]
)
def test_other_types(value: object, shown: str) -> None:
    """true, lists and tables are no lengths."""
    with pytest.raises(LengthError) as caught:
        parse_length(value, unit="mm")
    assert str(caught.value) == (f"{shown} is not a length (write a number, or text such as 9.5 mm or 3/8 in)")


def test_properties() -> None:
    """A length knows its nearest float in mm and whether it was written in inches."""
    assert parse_length("3/8 in").mm == 9.525
    assert parse_length("3/8 in").is_inch
    assert not parse_length("9.525 mm").is_inch
    assert parse_length('3/8"').is_inch


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (13.18, "13.18 mm"),
        (13.2, "13.2 mm"),
        (13.0, "13 mm"),
        (100.0, "100 mm"),
        (13.184, "13.18 mm"),
        (-0.001, "0 mm"),
        (-3.5, "-3.5 mm"),
    ],
)
def test_mm_text(mm: float, text: str) -> None:
    """Millimetres are rounded to hundredths and lose their trailing zeros."""
    assert mm_text(mm) == text


def test_mm_text_digits() -> None:
    """The number of decimals can be chosen; none keeps the zeros of a whole number."""
    assert mm_text(13.1849, 3) == "13.185 mm"
    assert mm_text(100, 0) == "100 mm"


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (12.7, "1/2 in"),
        (9.525, "3/8 in"),
        (38.1, "1-1/2 in"),
        (25.4, "1 in"),
        (-12.7, "-1/2 in"),
        (0.0, "0 in"),
        (13.18, "33/64 in (0.519 in)"),
        (9.5, "3/8 in (0.374 in)"),
        (13.0, "33/64 in (0.512 in)"),
        (50.0, "1-31/32 in (1.969 in)"),
        (0.1, "0.004 in"),
    ],
)
def test_inch_text(mm: float, text: str) -> None:
    """An exact 64th stands alone; else the nearest one stands beside decimals."""
    assert inch_text(mm) == text


def test_both_text() -> None:
    """Millimetres and decimal inches stand side by side."""
    assert both_text(13.18) == "13.18 mm = 0.519 in"
    assert both_text(12.7) == "12.7 mm = 0.5 in"


def test_quantity() -> None:
    """A pint quantity keeps the unit that was written and converts as pint does."""
    inch = quantity(parse_length("3/8 in"))
    assert (inch.magnitude, str(inch.units)) == (0.375, "inch")
    assert inch.to("millimeter").magnitude == pytest.approx(9.525, abs=1e-12)
    assert str(quantity(parse_length("9.5 mm"))) == "9.5 millimeter"


numbers = st.one_of(
    st.decimals(-9999, 9999, allow_nan=False, allow_infinity=False, places=4).map(lambda d: format(d, "f")),
    st.builds(
        lambda whole, top, bottom: f"{whole}-{top % bottom}/{bottom}",
        st.integers(0, 9999),
        st.integers(0, 9999),
        st.integers(1, 9999),
    ),
    st.builds(lambda top, bottom: f"{top}/{bottom}", st.integers(-99, 9999), st.integers(1, 9999)),
)


@modest
@given(numbers, st.sampled_from(["mm", "in"]))
def test_reading_what_was_tidied_changes_nothing(number: str, unit: str) -> None:
    """The tidied text reads back as the same length."""
    length = parse_length(f"{number} {unit}")
    assert parse_length(length.text) == length


@modest
@given(st.fractions(-10_000, 10_000, max_denominator=9999))
def test_fractions_stay_exact(value: Fraction) -> None:
    """A fraction of an inch is exactly 25.4 times itself in mm, whatever it is."""
    length = parse_length(f"{value.numerator}/{value.denominator} in")
    assert length.exact == value * Fraction(254, 10)


@modest
@given(st.floats(-1e6, 1e6, allow_nan=False).filter(lambda x: x == 0 or abs(x) > 1e-6))
def test_floats_are_taken_as_written(value: float) -> None:
    """A float becomes the decimal number that its shortest text says."""
    assert parse_length(value, unit="mm").exact == Fraction(repr(value))


@settings(max_examples=500, deadline=None)
@given(
    st.one_of(
        st.text(max_size=50),
        st.text("0123456789./-, +*'\"½⅜mincMe×_", max_size=20),
        st.integers(),
        st.floats(),
        st.booleans(),
        st.none(),
    ),
    st.sampled_from(["mm", "in", None]),
)
@example("1" * 39 + "m", None)
@example("-1 1/0ft", "in")
def test_anything_is_a_length_or_a_length_error(value: object, unit: str | None) -> None:
    """No value whatever raises anything but a LengthError, of one printable line."""
    length, line = None, ""
    try:
        length = parse_length(value, unit=unit)  # type: ignore[arg-type]
    except LengthError as error:
        line = str(error)
    assert line.isprintable()
    assert line if length is None else math.isfinite(length.mm)


@pytest.mark.parametrize(
    ("mm", "digits", "expected"),
    [
        (1.5875, 3, "1.588 mm"),
        (34.925, 2, "34.93 mm"),
        (2.675, 2, "2.68 mm"),
        (-1.5875, 3, "-1.588 mm"),
        (1e6, 2, "1000000 mm"),
    ],
)
def test_a_half_is_rounded_up_as_by_hand(mm: float, digits: int, expected: str) -> None:
    """A size that ends in 5 is rounded away from zero, whatever the binary tail of its float."""
    assert mm_text(mm, digits) == expected


@pytest.mark.parametrize(
    ("mm", "on_rule", "expected"),
    [
        (12.7, True, "1/2"),
        (38.1, True, "1-1/2"),
        (13.175, False, "33/64"),
        (0.1, False, "0"),
        (25.4, True, "1"),
        (25.4 * 1.5 / 64, False, "1/32"),
        (25.4 * 0.5 / 64, False, "1/64"),
    ],  # halfway between two marks: the higher
)
def test_a_rule_shows_the_nearest_64th(mm: float, on_rule: bool, expected: str) -> None:
    """rule_text is the nearest 1/64 and is_on_rule says whether it is exact."""
    assert (rule_text(mm), is_on_rule(mm)) == (expected, on_rule)


@pytest.mark.parametrize(
    ("mm", "expected"),
    [
        (12.7, "1/2 in"), (34.925, "1-3/8 in"), (9.582, "0.377 in"), (0.1016, "0.004 in"), (7.62, "0.300 in"),
        (25.4 * 0.0895, "0.090 in"), (25.4 - 23.1267, "0.090 in"),  # half up, whatever the binary tail
        (0.005, "0.0002 in"), (0.0005, "0.00002 in"), (0.00001, "0 in"),
    ],
)  # fmt: skip
def test_a_short_inch_is_a_fraction_or_three_decimals(mm: float, expected: str) -> None:
    """A size on a mark of the rule is a fraction, any other has three decimals, or as many as it needs."""
    assert inch_short(mm) == expected


@pytest.mark.parametrize(
    ("sixteenths", "expected"),
    # the sixteenths that end in 5 in the fourth decimal; Python's own format has .062, .312, .562 and .812
    [(1, "0.063"), (3, "0.188"), (5, "0.313"), (7, "0.438"), (9, "0.563"), (11, "0.688"), (13, "0.813"), (15, "0.938")],
)
def test_odd_sixteenths_go_up(sixteenths: int, expected: str) -> None:
    """5/16 in is 0.313 in, as one rounds by hand: in every place that gives decimals."""
    mm = 25.4 * sixteenths / 16
    assert (inch_decimals(mm), decimal_inch_text(mm)) == (expected, f"{expected} in")
