"""Text to millimetres and back.

The grammar is strict and ours, since a guess at a length ruins a workpiece: a general reader takes
`12,7 mm` for 127 mm and `2 1/2 in` for 1 inch without a word. A number is a decimal (`9.5`, `.5`), a
fraction (`3/8`, `½`) or a mixed number (`1-1/2`, `2 1/2`, `2½`); the unit is `mm`, `in` or an inch
mark. Everything else is refused, each form with its own hint (see `length_hints`).

An inch is 25.4 mm exactly (NBS Circular 572, addendum 1960). Fractions stay fractions until the end.
"""

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from jigtemplates.errors import quoted

if TYPE_CHECKING:
    import pint

Unit = Literal["mm", "in"]

#: NBS Circular 572, addendum 1960
MM_PER_INCH = Fraction(254, 10)
#: No length needs more characters (chosen); it also bounds the arithmetic on somebody's text.
LONGEST_TEXT = 40
_TOO_LONG = f"longer than {LONGEST_TEXT} characters; write a number and a unit, such as 9.5 mm"
#: Inches are shown to this fraction: the finest division of a workshop rule (common practice).
FINEST_INCH = 64
#: A float is taken for an exact 64th when it is within this part of a 64th (chosen: rounding noise only).
_EXACT = 1e-6
#: The digits of any float and its decimals; the usual 28 are too few for what somebody may write.
_ALL_DIGITS = Context(prec=400)
#: Decimals of a millimetre or an inch kept before rounding for show; further ones are binary noise (chosen).
BINARY_TAIL = 9

_SPACES = re.compile("[ \t\u00a0\u2009\u202f]+")
_GLYPHS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅙": "1/6", "⅚": "5/6",
    "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
#: Not before a digit: written out as 1/2, the ½ of "½1 in" would take the digit for its own.
_GLYPH = re.compile(f"(?P<whole>(?<=[0-9])[ -]?)?(?P<glyph>[{''.join(_GLYPHS)}])(?![0-9])")
_MARKS = str.maketrans({"″": '"', "”": '"', "“": '"', "−": "-", "⁄": "/"})
_LENGTH = re.compile(
    r"(?P<sign>-?)"
    r"(?:(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
    r"|(?P<decimal>[0-9]+(?:\.[0-9]+)?|\.[0-9]+))"
    r' ?(?P<unit>mm|in|")?'
)


@dataclass(frozen=True, slots=True)
class Length:
    """A length that keeps its exact value and the way it was written."""

    #: value in mm, exact
    exact: Fraction
    #: as the person wrote it, tidied, always with its unit: "3/8 in", "9.5 mm", "1-1/2 in"
    text: str

    @property
    def mm(self) -> float:
        """The nearest float, in mm."""
        return float(self.exact)

    @property
    def is_inch(self) -> bool:
        """True when it was written in inches."""
        return self.text.endswith(" in")

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Measured(Length):
    """A size of which two things are known: what it is sold as, and what was measured.

    It is the measured length that counts; what it is sold as only names it.
    """

    #: the size it is sold as
    nominal: Length
    #: how far the true size may be from the measured one, either way; None when that was not said
    within: Length | None = None
    #: the day it was measured, "2026-11-25"; None when that was not said
    measured_on: str | None = None

    def __str__(self) -> str:
        return self.text


def sold_as(length: Length) -> Length:
    """The nominal size of a measured length; any other length itself."""
    return length.nominal if isinstance(length, Measured) else length


def full_text(length: Length) -> str:
    """A length as written; a measured one with all that is known: "1/2 in nominal, measured 12.68 mm ± 0.02 mm"."""
    if not isinstance(length, Measured):
        return length.text
    within = "" if length.within is None else f" ± {length.within}"
    return f"{length.nominal} nominal, measured {length}{within}"


class LengthError(ValueError):
    """Text or a value that is not a length; str() is the fault with its hint, without a place."""

    def __init__(self, value: object, hint: str) -> None:
        self.hint = hint
        super().__init__(f"{quoted(value)} is not a length ({hint})")


def parse_length(value: object, *, unit: Unit | None = None) -> Length:
    """Read a length, or raise LengthError with a hint of what to write.

    `unit` says how a bare number is read; None refuses a bare number. A bare fraction is refused in a
    job in millimetres: 3/8 there nearly always means inches. Floats are taken at the decimal value that
    was written, not at the binary one. A sign is read; whether it may be negative is for the caller.
    """
    if isinstance(value, str):
        return _parse_text(value, unit)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise LengthError(value, "write a number, or text such as 9.5 mm or 3/8 in")
    return _parse_number(value, unit)


def _parse_text(value: str, unit: Unit | None) -> Length:
    if len(value) > LONGEST_TEXT:
        raise LengthError(value, _TOO_LONG)
    text = tidied(value)
    match = _LENGTH.fullmatch(text)
    if match is None:
        from jigtemplates.length_hints import hint_for

        raise LengthError(value, hint_for(text))
    return _length(value, match, unit)


def _parse_number(value: int | float, unit: Unit | None) -> Length:
    if not math.isfinite(value) if isinstance(value, float) else abs(value) >= 10**LONGEST_TEXT:
        raise LengthError(value, "a length is a finite number of a sensible size")
    text = format(Decimal(repr(value)), "f")
    if len(text) > LONGEST_TEXT:
        raise LengthError(value, "a length is a finite number of a sensible size")
    match = _LENGTH.fullmatch(text)
    assert match is not None, text  # format "f" writes plain decimals only
    return _length(value, match, unit)


def tidied(text: str) -> str:
    """The same text with single spaces, plain quotes, minus and slash, and ½ written as 1/2 (2½ as 2-1/2).

    A glyph before a digit stays and is refused: no number is written so.
    """
    plain = _SPACES.sub(" ", text).strip(" ").translate(_MARKS)
    return _GLYPH.sub(lambda m: ("" if m["whole"] is None else "-") + _GLYPHS[m["glyph"]], plain)


def _length(value: object, match: re.Match[str], default: Unit | None) -> Length:
    number = _number(value, match)
    written = _number_as_written(match, number)
    unit = _unit(value, match, written, default)
    text = f"{written} {unit}"
    if len(text) > LONGEST_TEXT:  # it must be read again where it is written into a file
        raise LengthError(value, _TOO_LONG)
    return Length(number * (MM_PER_INCH if unit == "in" else 1), text)


def _number(value: object, match: re.Match[str]) -> Fraction:
    if match["decimal"] is not None:
        size = Fraction(match["decimal"])
    else:
        size = _mixed(value, match["whole"], int(match["top"]), int(match["bottom"]), match["unit"])
    return -size if match["sign"] else size


def _mixed(value: object, whole: str | None, top: int, bottom: int, unit: str | None) -> Fraction:
    if bottom == 0:
        raise LengthError(value, "a fraction cannot have 0 below the line")
    if whole is not None and top >= bottom:
        better = mixed_text(int(whole) + Fraction(top, bottom))
        raise LengthError(value, f"the fraction of a mixed number is less than 1; write {better} {unit or 'in'}")
    return int(whole or 0) + Fraction(top, bottom)


def _number_as_written(match: re.Match[str], number: Fraction) -> str:
    sign = "-" if number < 0 else ""
    if match["decimal"] is not None:
        return sign + ("0" if match["decimal"].startswith(".") else "") + match["decimal"]
    whole = "" if match["whole"] is None else match["whole"] + "-"
    return f"{sign}{whole}{match['top']}/{match['bottom']}"


def _unit(value: object, match: re.Match[str], written: str, default: Unit | None) -> Unit:
    if match["unit"]:
        return "mm" if match["unit"] == "mm" else "in"
    first, second = ("in", "mm") if match["top"] is not None else ("mm", "in")  # the likelier one first
    choices = f"write {written} {first} or {written} {second}"
    if default is None:
        raise LengthError(value, f'the unit is missing; {choices}, or set units = "mm" or "in"')
    if default == "mm" and match["top"] is not None:
        raise LengthError(value, f"a fraction needs its unit where bare numbers are mm; {choices}")
    return default


def mixed_text(number: Fraction) -> str:
    """A number as a workshop writes it: 3/8, 1-1/2, 2; a sign in front."""
    whole, rest = divmod(abs(number), 1)
    parts = [str(whole)] if whole or not rest else []
    parts += [f"{rest.numerator}/{rest.denominator}"] if rest else []
    return ("-" if number < 0 else "") + "-".join(parts)


def mm_text(mm: float, digits: int = 2) -> str:
    """Millimetres rounded to `digits` decimals, trailing zeros dropped: 13.2 becomes "13.2 mm"."""
    return f"{_decimals(mm, digits)} mm"


def inch_text(mm: float) -> str:
    """Inches for a workshop rule: "1/2 in" when that is exact, else "33/64 in (0.519 in)", the nearest 1/64.

    What rounds to no 64th at all is given in decimals alone.
    """
    fraction = rule_text(mm)
    if is_on_rule(mm):
        return f"{fraction} in"
    return f"{fraction} in ({decimal_inch_text(mm)})" if fraction != "0" else decimal_inch_text(mm)


def rule_text(mm: float) -> str:
    """The nearest 1/64 on a workshop rule, without its unit: "33/64", "2-3/32"; "0" for less than half of one."""
    return mixed_text(Fraction(rounded_text(mm / float(MM_PER_INCH) * FINEST_INCH, 0)) / FINEST_INCH)


def is_on_rule(mm: float) -> bool:
    """Whether a length is exactly on a mark of 1/64 in."""
    sixty_fourths = mm / float(MM_PER_INCH) * FINEST_INCH
    return abs(sixty_fourths - round(sixty_fourths)) < _EXACT


def inch_short(mm: float) -> str:
    """A fraction where it is on a mark of a rule, else three decimals: "1-3/8 in", "0.377 in".

    What three decimals would round to nothing has as many as it needs, five at most.
    """
    if is_on_rule(mm):
        return f"{rule_text(mm)} in"
    inches = mm / float(MM_PER_INCH)
    return f"{rounded_text(inches, next((digits for digits in (3, 4, 5) if round(inches, digits)), 0))} in"


def first_text(mm: float, inches: bool, digits: int = 2) -> str:
    """A length in a sentence: "34.93 mm", or with inches first "1-3/8 in (34.93 mm)"."""
    return f"{inch_short(mm)} ({mm_text(mm, digits)})" if inches else mm_text(mm, digits)


def beside_text(mm: float, inches: bool, digits: int = 2) -> str:
    """A length that stands in brackets itself: "34.93 mm", or with inches first "1-3/8 in = 34.93 mm"."""
    return f"{inch_short(mm)} = {mm_text(mm, digits)}" if inches else mm_text(mm, digits)


def both_text(mm: float, digits: int = 2) -> str:
    """Millimetres and decimal inches side by side: "13.18 mm = 0.519 in"."""
    return f"{mm_text(mm, digits)} = {decimal_inch_text(mm)}"


def decimal_inch_text(mm: float) -> str:
    """Inches in decimals: "0.519 in"; of 5/16 in "0.313 in"."""
    return f"{_decimals(mm / float(MM_PER_INCH), 3)} in"


def inch_decimals(mm: float, digits: int = 3) -> str:
    """Millimetres as decimal inches for a column of them, without the unit and with all their zeros: "0.500".

    The one rule for decimal inches: what lies halfway goes up, as one rounds by hand (rule B of ISO 80000-1,
    annex B; from memory). So 5/16 in is "0.313" wherever it is said; Python's own formats would say "0.312".
    """
    return rounded_text(mm / float(MM_PER_INCH), digits)


def _decimals(number: float, digits: int) -> str:
    """Rounded half up, as one does by hand, without closing zeros: 1.5875 to three decimals is 1.588, 0.3 is 0.3."""
    text = rounded_text(number, digits)
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def rounded_text(number: float, digits: int) -> str:
    """Rounded half up, all zeros kept, whatever its binary tail: to three decimals 0.3125 is "0.313", 0.3 "0.300"."""
    exact = Decimal(repr(round(number, BINARY_TAIL)))
    return f"{exact.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP, _ALL_DIGITS):f}"


def quantity(length: Length) -> "pint.Quantity[float]":
    """The length as a pint quantity, in the unit it was written in."""
    import pint

    number, unit = (length.exact / MM_PER_INCH, "inch") if length.is_inch else (length.exact, "millimeter")
    return pint.Quantity(float(number), unit)
