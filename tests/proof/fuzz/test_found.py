"""Everything that the searches of this folder found, by name, in the smallest form that showed it."""

import pytest
from drawings import dxfs
from promises import outline_is_read

from jigtemplates.errors import InputError
from jigtemplates.imports.outline_file import outline_of
from jigtemplates.lengths import LengthError, both_text, mm_text, parse_length


def test_a_length_of_more_digits_than_decimal_arithmetic_keeps() -> None:
    """A number of 36 digits is shown like any other; rounding it failed for want of digits."""
    assert mm_text(parse_length("2" * 36 + " mm").mm) == "222222222222222230000000000000000000 mm"
    assert both_text(1e30).startswith("1000000000000000000000000000000 mm = ")


@pytest.mark.parametrize("text", ["1" * 38, "0." + "1" * 36, "0" * 35 + "½ in"])
def test_a_length_that_gets_too_long_when_it_is_tidied(text: str) -> None:
    """Unit and written-out fraction count: else a file would be written that could not be read again."""
    with pytest.raises(LengthError, match="longer than 40 characters; write a number and a unit, such as 9.5 mm"):
        parse_length(text, unit="mm")


def test_a_kind_of_entity_that_speaks_to_the_terminal() -> None:
    """Control characters in an entity's kind or handle are written out, and either is shortened."""
    data = dxfs()[0].replace(b"LINE", b"LI\x1b[2J" + b"N" * 500, 1)
    with pytest.raises(InputError, match=r'a\.dxf: LI\\x1b\[2JN{30,40}… .{1,5} on layer "0": is a LI'):
        outline_of(data, "a.dxf")
    outline_is_read(data, "a.dxf")


@pytest.mark.parametrize("select", [None, "recess"])
def test_a_drawing_of_specks(select: str | None) -> None:
    """A line of no length is no outline, and no index out of range either."""
    data = b"0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nrecess\n10\n5\n20\n5\n11\n5\n21\n5\n0\nENDSEC\n0\nEOF\n"
    with pytest.raises(InputError, match=r"^a\.dxf: draws no outline \(draw it as a path, polyline or circle"):
        outline_of(data, "a.dxf", unit="mm", select=select)


def test_a_drawing_without_any_header() -> None:
    """It says no unit and must be asked for one; the library behind the reader takes it for metres."""
    data = b"0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n10\n5\n20\n5\n40\n4\n0\nENDSEC\n0\nEOF\n"
    with pytest.raises(InputError, match=r'^a\.dxf: does not say its unit \(write units = "mm" or units = "in"\)$'):
        outline_of(data, "a.dxf")
    assert outline_of(data, "a.dxf", unit="in").rings[0].bounds.width == pytest.approx(8 * 25.4, abs=1e-9)
