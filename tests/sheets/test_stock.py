"""Sizes of sheets as a person writes them."""

import pytest

from jigtemplates.errors import InputError
from jigtemplates.sheets.stock import stocks_of


@pytest.mark.parametrize(
    ("text", "width", "height", "shown", "count"),
    [
        ("600x300", 600.0, 300.0, "600 x 300 mm", None),
        (" 600 X 300 mm ", 600.0, 300.0, "600 x 300 mm", None),
        ("600×300", 600.0, 300.0, "600 x 300 mm", None),
        ("24 x 12 in", 609.6, 304.8, "24 x 12 in", None),
        ('24" x 12"', 609.6, 304.8, "24 x 12 in", None),
        ("23-1/2 x 11 3/4 in*3", 596.9, 298.45, "23-1/2 x 11-3/4 in", 3),
        ("600x300 * 2", 600.0, 300.0, "600 x 300 mm", 2),
        ("600 mm x 12 in", 600.0, 304.8, "600 mm x 12 in", None),
    ],
)
def test_sizes(text: str, width: float, height: float, shown: str, count: int | None) -> None:
    """Bare numbers are mm, a unit behind the second side is that of both, *N says how many there are."""
    (stock,) = stocks_of([text])
    assert (stock.width.mm, stock.height.mm, stock.text, stock.count) == (width, height, shown, count)
    assert stock.area == pytest.approx(width * height)
    assert stock.is_inch is ("in" in shown and "mm" not in shown)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("600", '"600" is not a size of sheet (write width x height, such as 600x300 for mm'),
        ("", '"" is not a size of sheet'),
        ("600x", '"600x" is not a size of sheet'),
        ("600x300x3", '"600x300x3" is not a size of sheet'),
        ("600 mm x 300", '"600 mm x 300": the second side has no unit (write 600 mm x 300 mm)'),
        ("60,5x30", '"60,5x30": "60,5" is not a length (write 60.5'),
        ("3/8x5", '"3/8x5": "3/8" is not a length (a fraction needs its unit where bare numbers are mm'),
        ("60 x 30 cm", '"60 x 30 cm": "30 cm" is not a length (write 300 mm)'),
        ("0x5", '"0x5": 0 mm is no side of a sheet (more than 0, at most 10000 mm)'),
        ("-5x5", '"-5x5": -5 mm is no side of a sheet'),
        ("99999x5", '"99999x5": 99999 mm is no side of a sheet'),
        ("600x300*0", '"600x300*0": 0 sheets is no sensible number (write *1 to *1000)'),
        ("600x300*1001", '"600x300*1001": 1001 sheets is no sensible number'),
    ],
)
def test_faults(text: str, fault: str) -> None:
    """One line: the option, what was written, what to write."""
    with pytest.raises(InputError) as error:
        stocks_of([text])
    (line,) = error.value.lines
    assert line.startswith(f"--stock: {fault}")


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("24x48", "24 x 48 in"),
        ("23.5x48.25*2", "23.5 x 48.25 in"),
        ("24 x 48 mm", None),
        ("24 x 48 in", None),
        ("600x300", None),
    ],
)
def test_numbers_without_a_unit_read_as_inches(text: str, inches: str | None) -> None:
    """Only of those that may have been meant so: no unit was typed, and a sheet can be so large."""
    (stock,) = stocks_of([text])
    other = stock.in_inches
    assert (other and other.text) == inches
    if other is not None:
        assert other.width.mm == pytest.approx(stock.width.mm * 25.4)
        assert (other.count, other.is_inch, other.in_inches) == (stock.count, True, None)


def test_every_fault_is_said_at_once() -> None:
    """Of four sizes two are wrong and one stands twice."""
    with pytest.raises(InputError) as error:
        stocks_of(["600", "600x300", "x", "600 x 300 mm*2"])
    assert [line.split(" ")[1] for line in error.value.lines] == ['"600"', '"x"', '"600']
    assert error.value.lines[2].endswith("stands there twice (keep one; 600 x 300 mm*2 means two sheets)")
