"""The row of values: what was typed becomes exact lengths, and every fault is a line."""

from fractions import Fraction

import pytest

from jigtemplates.errors import InputError
from jigtemplates.gauges.row import Asked, Row, from_least, moved_up, row_of, said
from jigtemplates.lengths import Length, Measured, parse_length

HALF_INCH = parse_length("1/2 in")
TEN = parse_length("10 mm")


def asked(first: str = "", last: str = "", step: str = "", count: str | None = None) -> Asked:
    """What stands behind the four options."""
    start, stop, apart = (parse_length(text) if text else None for text in (first, last, step))
    return Asked(start, stop, apart, count)


def texts(row: Row) -> list[str]:
    """All the engraved values."""
    return [row.text(value) for value in row.values]


def faults(size: Length, what: Asked) -> tuple[str, ...]:
    """The lines of the InputError."""
    with pytest.raises(InputError) as error:
        row_of(size, what)
    return error.value.lines


def test_the_usual_row_in_millimetres() -> None:
    """Round 10 mm: nine values 0.05 mm apart, two decimals."""
    row = row_of(TEN, Asked())
    assert texts(row) == ["9.80", "9.85", "9.90", "9.95", "10.00", "10.05", "10.10", "10.15", "10.20"]
    assert row.values[0] == Fraction(98, 10)
    assert (row.unit, row.unit_word, row.span) == ("mm", "mm", "9.80 to 10.20 mm in steps of 0.05 mm")
    assert row.step == pytest.approx(0.05)


def test_the_usual_row_in_inches() -> None:
    """Round 1/2 in: nine values two thousandths apart, which are exact in millimetres."""
    row = row_of(HALF_INCH, Asked())
    assert texts(row) == ["0.492", "0.494", "0.496", "0.498", "0.500", "0.502", "0.504", "0.506", "0.508"]
    assert row.values[4] == Fraction(127, 10)
    assert row.values[1] - row.values[0] == Fraction(508, 10000)
    assert (row.unit_word, row.named(row.values[4])) == ("inches", "0.500 in")


def test_a_measured_size_is_the_middle_and_the_sold_one_says_the_unit() -> None:
    """A bushing sold as 1/2 in that measures 12.68 mm: inches, about 0.499 in."""
    measured = Measured(Fraction(1268, 100), "12.68 mm", HALF_INCH)
    assert texts(row_of(measured, Asked()))[4] == "0.499"


def test_a_row_may_begin_lower() -> None:
    """With 0.2 mm for the kerf the row has four values more below, and none more above."""
    row = row_of(TEN, Asked(), lower=Fraction(2, 10))
    assert (texts(row)[0], texts(row)[-1], len(row.values)) == ("9.60", "10.20", 13)


@pytest.mark.parametrize(
    ("what", "values"),
    [
        (asked("9.9 mm", "10.1 mm"), ["9.90", "9.95", "10.00", "10.05", "10.10"]),
        (asked("9.9 mm", "10.1 mm", "0.1 mm"), ["9.90", "10.00", "10.10"]),
        (asked("9.9 mm", "10.04 mm", "0.1 mm"), ["9.90", "10.00", "10.10"]),
        (asked("9.9 mm", "10.1 mm", count="3"), ["9.90", "10.00", "10.10"]),
        (asked("9.9 mm", step="0.1 mm", count="2"), ["9.90", "10.00"]),
        (asked(last="10.1 mm", step="0.1 mm", count="2"), ["10.00", "10.10"]),
        (asked(step="0.1 mm", count="3"), ["9.90", "10.00", "10.10"]),
        (asked(step="0.025 mm", count="3"), ["9.975", "10.000", "10.025"]),
        (asked("11 mm", step="0.5 mm"), ["11.00", "11.50"]),
        (asked(last="9 mm", step="0.5 mm"), ["8.50", "9.00"]),
        (asked("0.39 in", "0.4 in", "0.005 in"), ["0.390", "0.395", "0.400"]),
        (asked("0.3900 in", "0.391 in", "0.0005 in"), ["0.3900", "0.3905", "0.3910"]),
    ],
)
def test_what_was_typed_makes_the_row(what: Asked, values: list[str]) -> None:
    """From, to, step and number in every combination; a row covers its last value; digits as many as are needed."""
    assert texts(row_of(TEN, what)) == values


@pytest.mark.parametrize(
    ("what", "line"),
    [
        (asked("13 mm", "12 mm"), '--from: "13 mm" is not below --to, "12 mm" (the row rises: exchange them)'),
        (asked("12 mm", "12 mm"), '--from: "12 mm" is not below --to, "12 mm" (the row rises: exchange them)'),
        (
            asked("9 mm", "11 mm", "0.01 mm"),
            "--step: the row would have 201 openings, more than 40 (take a larger step or less of a range)",
        ),
        (asked(step="11 mm"), "--from: the row would begin at 0 or below (give --from, or a smaller --step)"),
        (
            asked("31/64 in"),
            '--from: "31/64 in" cannot be engraved exactly with 4 decimals (write 0.484 in)',
        ),
        (
            asked(step="0.0004 mm"),
            '--step: "0.0004 mm" cannot be engraved exactly with 3 decimals (write more)',
        ),
        (
            asked("9.9 mm", "10 mm", count="7"),
            "--steps: 7 openings between them are not exactly engraved steps apart (write 6)",
        ),
        (asked(count="x"), '--steps: "x" is not a number of openings (write a whole number from 2 to 40)'),
        (asked(count="1"), '--steps: "1" is not a number of openings (write a whole number from 2 to 40)'),
        (asked(count="41"), '--steps: "41" is not a number of openings (write a whole number from 2 to 40)'),
        (asked(count="²"), '--steps: "²" is not a number of openings (write a whole number from 2 to 40)'),
        (
            asked("9 mm", "10 mm", "0.1 mm", "3"),
            "--steps: --from, --to and --step say the number already (leave one of the four out)",
        ),
    ],
)
def test_a_fault_is_one_line(what: Asked, line: str) -> None:
    """Each fault of the four options: the option, what is wrong, what to write."""
    assert faults(TEN, what) == (line,)


def test_all_faults_at_once() -> None:
    """A reversed range, a value that cannot be engraved and no number: three lines."""
    found = faults(TEN, asked("1/3 in", "0.25 in", count="many"))
    assert [line.partition(":")[0] for line in found] == ["--steps", "--from", "--from"]


def test_no_number_between_two_values_is_engraved_exactly() -> None:
    """Values a thousandth apart have no third between them: the step must be given."""
    found = faults(TEN, asked("10 mm", "10.001 mm", count="3"))
    assert found == ("--steps: 3 openings between them are not exactly engraved steps apart (write 2)",)


def test_a_row_moved_up_begins_where_it_may() -> None:
    """Nine values that begin at the least, exactly where three digits say it, else at the next that can be engraved."""
    row = moved_up(row_of(TEN, Asked()), Fraction(9625, 1000))
    assert (texts(row)[0], texts(row)[-1], len(row.values)) == ("9.625", "10.025", 9)
    assert texts(moved_up(row_of(TEN, Asked()), Fraction(96254, 10000)))[0] == "9.63"


def test_a_row_from_its_least() -> None:
    """Values below the least are left out, one as large as it stays; none may be left."""
    row = row_of(TEN, Asked())
    assert texts(from_least(row, Fraction(101, 10))) == ["10.10", "10.15", "10.20"]
    assert from_least(row, Fraction(11)).values == ()


def test_lengths_are_said_in_the_unit_that_was_typed_first() -> None:
    """12.7 mm in a metric row and in one in inches."""
    assert said(12.7, False) == "12.7 mm = 0.5 in"
    assert said(12.7, True) == "1/2 in (12.7 mm)"
