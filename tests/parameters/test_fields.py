"""The kinds of value a key may have."""

from fractions import Fraction
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import Angle, Coordinate, Gap, Name, Note, Size, Strict

INCH = Length(Fraction(254, 10), "1 in")


def fault(kind: Any, value: object, unit: str | None = "mm") -> str:
    """The one sentence with which a value of this kind is refused."""
    with pytest.raises(ValidationError) as caught:
        TypeAdapter(kind).validate_python(value, context={"unit": unit})
    (details,) = caught.value.errors()
    return details["msg"]


@pytest.mark.parametrize("kind", [Size, Gap, Coordinate])
def test_lengths_are_read(kind: Any) -> None:
    """Each kind of length reads text and numbers in the unit of the context, and passes a Length on."""
    read = TypeAdapter(kind).validate_python
    assert read("3/8 in", context={"unit": None}).mm == 9.525
    assert read(2, context={"unit": "in"}).mm == 50.8
    assert read(INCH) is INCH
    assert read(10_000, context={"unit": "mm"}).mm == 10_000


@pytest.mark.parametrize("kind", [Size, Gap, Coordinate])
def test_lengths_are_refused(kind: Any) -> None:
    """Each kind of length refuses what is no length, a missing unit and more than ten metres."""
    assert fault(kind, "12,7 mm") == '"12,7 mm" is not a length (write 12.7 mm)'
    assert "the unit is missing" in fault(kind, 3, unit=None)
    assert fault(kind, 10_000.1) == "10000.1 is too large (at most 10000 mm; is the unit right?)"
    assert fault(kind, "400 in") == '"400 in" is too large (at most 10000 mm; is the unit right?)'


def test_ranges() -> None:
    """A size is above 0, a gap at least 0, a coordinate anything."""
    assert fault(Size, 0) == "0 is not a size (write a length greater than 0)"
    assert fault(Size, "-1 in") == '"-1 in" is not a size (write a length greater than 0)'
    assert TypeAdapter(Gap).validate_python(0, context={"unit": "mm"}).mm == 0
    assert fault(Gap, -0.1) == "-0.1 is less than nothing (write 0 or more)"
    assert TypeAdapter(Coordinate).validate_python("-3 mm").mm == -3
    assert fault(Coordinate, -10_001) == "-10001 is too large (at most 10000 mm; is the unit right?)"


@pytest.mark.parametrize("value", [0, -360, 360, 22.5])
def test_angles(value: float) -> None:
    """An angle is any number of degrees up to a full turn either way."""
    assert TypeAdapter(Angle).validate_python(value) == value


@pytest.mark.parametrize("value", [float("inf"), float("-inf"), float("nan"), -360.5, 10**400])
def test_angles_out_of_range(value: float) -> None:
    """An angle is finite and at most one turn."""
    assert fault(Angle, value).endswith(" is not an angle from -360 to 360 degrees")


@pytest.mark.parametrize("value", ["30", True, None, [30], "30 deg"])
def test_angles_are_numbers(value: object) -> None:
    """An angle is a number without a unit."""
    assert fault(Angle, value).endswith(" is not an angle (write a number of degrees without quotes, such as 30)")


def test_names() -> None:
    """A name is one line of up to 80 characters, without spaces at its ends."""
    assert TypeAdapter(Name).validate_python("  Tür ½ × 2  ") == "Tür ½ × 2"
    assert TypeAdapter(Name).validate_python("x" * 80) == "x" * 80
    assert fault(Name, "x" * 81).endswith(" has 81 characters (at most 80)")
    assert fault(Name, " ") == "it is empty (write some text, or leave the key out)"
    assert fault(Name, "a\tb") == '"a\\tb" has control characters (write plain text)'
    assert fault(Name, 3) == '3 is not text (put it in quotes, such as "Bench rail")'


def test_notes() -> None:
    """A note may have several lines and up to 2000 characters."""
    assert TypeAdapter(Note).validate_python("one\n\ttwo\n") == "one\n\ttwo"
    assert fault(Note, "x" * 2001).endswith(" has 2001 characters (at most 2000)")
    assert fault(Note, "a\x1bb") == '"a\\x1bb" has control characters (write plain text)'


def test_strict() -> None:
    """A table refuses unknown keys and never changes."""

    class Table(Strict):
        width: Size

    table = Table.model_validate({"width": "3 mm"})
    with pytest.raises(ValidationError):
        table.width = INCH
    with pytest.raises(ValidationError):
        Table.model_validate({"width": "3 mm", "height": "3 mm"})
