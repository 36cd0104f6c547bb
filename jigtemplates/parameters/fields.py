"""The kinds of value a key may have: lengths in three ranges, angles, names, yes or no.

A bare number is read in the unit of the file, which comes with the validation context
(`{"unit": "mm" | "in" | None}`), so the same models serve jobs and profiles.
"""

import math
import re
from collections.abc import Callable
from datetime import date, datetime
from fractions import Fraction
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    PlainValidator,
    StrictBool,
    StrictInt,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from jigtemplates.errors import quoted
from jigtemplates.lengths import Length, LengthError, Unit, parse_length

#: Type of the faults we word ourselves; every other type is put into plain words by `faults`.
OWN_FAULT = "jig"
#: Tags for a value that is either text or a table, of a thing or of its sizes; they name no key of the file.
TEXT, TABLE, SIZES = OWN_TAGS = ("<text>", "<table>", "<sizes>")
#: Longest length a hand-held router's template could have, mm (chosen: ten metres is surely a wrong unit).
LONGEST_MM = 10_000
#: Longest name or title, characters (chosen: one line on a label or a sheet).
LONGEST_NAME = 80
#: Longest free text, characters (chosen: half a page).
LONGEST_NOTE = 2_000

_DAY = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}")

ZERO = Length(Fraction(0), "0 mm")

#: What an editor can check of a length written as text; the reader itself is stricter and gives hints.
_UNSIGNED = (
    r"([0-9]+([ -][0-9]+/[0-9]+)?|[0-9]*\.[0-9]+|[0-9]+/[0-9]+|([0-9]+[ -]?)?[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])"
    ' *(mm|in|["″”“])? *$'
)


class Strict(BaseModel):
    """A table in which unknown keys are refused and whose values never change."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True)


def own_fault(message: str) -> PydanticCustomError:
    """A fault in our own words; `faults` prints the message as it is, after the place."""
    return PydanticCustomError(OWN_FAULT, "{message}", {"message": message})


def _read(value: Any, info: ValidationInfo) -> Length:
    if isinstance(value, Length):
        return value
    unit: Unit | None = (info.context or {}).get("unit")
    try:
        length = parse_length(value, unit=unit)
    except LengthError as error:
        raise own_fault(str(error)) from None
    return _bounded(value, length)


def _bounded(value: Any, length: Length) -> Length:
    if abs(length.exact) > LONGEST_MM:
        raise own_fault(f"{quoted(value)} is too large (at most {LONGEST_MM} mm; is the unit right?)")
    return length


def sized(value: Any, length: Length) -> Length:
    """The length read from a value, which must be greater than 0 and of a sensible size."""
    if length.exact <= 0:
        raise own_fault(f"{quoted(value)} is not a size (write a length greater than 0)")
    return _bounded(value, length)


def _size(value: Any, info: ValidationInfo) -> Length:
    return sized(value, _read(value, info))


def no_less_than(least: str) -> AfterValidator:
    """A limit for a length: at least so many mm, said as decimals such as "0.1"."""

    def limited(length: Length | None) -> Length | None:
        if length is not None and length.exact < Fraction(least):
            raise own_fault(f"{quoted(length.text)} is too small (write at least {least} mm; is the unit right?)")
        return length

    return AfterValidator(limited)


def _gap(value: Any, info: ValidationInfo) -> Length:
    length = _read(value, info)
    if length.exact < 0:
        raise own_fault(f"{quoted(value)} is less than nothing (write 0 or more)")
    return length


def _angle(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise own_fault(f"{quoted(value)} is not an angle (write a number of degrees without quotes, such as 30)")
    if not (math.isfinite(value) if isinstance(value, float) else True) or abs(value) > 360:
        raise own_fault(f"{quoted(value)} is not an angle from -360 to 360 degrees")
    return float(value)


def _span(value: Any) -> float:
    span = _angle(value)
    if not 0 < span < 360:
        raise own_fault(f"{quoted(value)} is not a span (write degrees, more than 0 and less than 360)")
    return span


def _day(value: Any) -> str:
    """A date as TOML has it, or the same in quotes; a date that is none is refused."""
    if isinstance(value, date) and not isinstance(value, datetime):
        return value.isoformat()
    try:
        return read_day(value).isoformat()
    except ValueError as error:
        raise own_fault(str(error)) from None


def read_day(value: object) -> date:
    """The date of a text such as 2026-11-25; ValueError says what is wrong with any other."""
    if isinstance(value, str) and _DAY.fullmatch(value):
        try:
            return date.fromisoformat(value)
        except ValueError:
            raise ValueError(f"{quoted(value)} is no day of the calendar (write year-month-day: 2026-11-25)") from None
    raise ValueError(f"{quoted(value)} is not a date (write year-month-day: 2026-11-25)")


def text_of(most: int, *, lines: bool = False) -> Callable[[Any], str]:
    """A reader of text of 1 to `most` characters, none of control (but line ends and tabs with `lines`)."""

    def read(value: Any) -> str:
        if not isinstance(value, str):
            raise own_fault(f'{quoted(value)} is not text (put it in quotes, such as "Bench rail")')
        text = value.strip()
        if not text:
            raise own_fault("it is empty (write some text, or leave the key out)")
        if len(text) > most:
            raise own_fault(f"{quoted(text)} has {len(text)} characters (at most {most})")
        if not _printable(text, "\n\t" if lines else ""):
            raise own_fault(f"{quoted(text)} has control characters (write plain text)")
        return text

    return read


def _printable(text: str, also: str) -> bool:
    return all(c.isprintable() or c in also for c in text)


def _length_schema(sign: str = "", **limits: float) -> WithJsonSchema:
    number = {"type": "number", "maximum": LONGEST_MM, **limits}
    return WithJsonSchema({"anyOf": [number, {"type": "string", "pattern": f"^ *{sign}{_UNSIGNED}"}]})


#: A length greater than 0.
Size = Annotated[Length, PlainValidator(_size), _length_schema(exclusiveMinimum=0)]
#: A size of a cut: no bit makes, and no drawing shows, a smaller one (chosen).
CutSize = Annotated[Size, no_less_than("0.1")]
#: A depth of a cut: less than any router can be set to (chosen).
CutDepth = Annotated[Size, no_less_than("0.01")]
#: A length of 0 or more.
Gap = Annotated[Length, PlainValidator(_gap), _length_schema(minimum=0)]
#: A length of either sign: a place or a shift.
Coordinate = Annotated[Length, PlainValidator(_read), _length_schema("-?", minimum=-LONGEST_MM)]
#: Degrees, counter-clockwise.
Angle = Annotated[float, PlainValidator(_angle), WithJsonSchema({"type": "number", "minimum": -360, "maximum": 360})]
#: Degrees between two directions: more than none, less than a whole turn.
Span = Annotated[
    float,
    PlainValidator(_span),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 360}),
]
#: A day, "2026-11-25".
Day = Annotated[str, PlainValidator(_day), WithJsonSchema({"type": "string", "format": "date"})]
#: A name or title: one line of text.
Name = Annotated[
    str,
    PlainValidator(text_of(LONGEST_NAME)),
    WithJsonSchema({"type": "string", "minLength": 1, "maxLength": LONGEST_NAME}),
]
#: Free text of several lines.
Note = Annotated[
    str,
    PlainValidator(text_of(LONGEST_NOTE, lines=True)),
    WithJsonSchema({"type": "string", "minLength": 1, "maxLength": LONGEST_NOTE}),
]
#: true or false, nothing that merely looks like it.
Flag = StrictBool
#: A whole number, without quotes.
Count = StrictInt
