"""Laws of the lengths' grammar, over what it allows and over anything else."""

from fractions import Fraction
from typing import Any, Literal

import pytest
from arena import fast, long
from hypothesis import given, settings
from hypothesis import strategies as st
from promises import length_is_read
from strategies import HOSTILE_TEXT, NUMBERS

from jigtemplates.lengths import LengthError, parse_length

UNITS: st.SearchStrategy[Literal["mm", "in"] | None] = st.sampled_from([None, "mm", "in"])
WHOLE = st.integers(0, 9999).map(str)
FRACTION = st.tuples(st.integers(0, 640), st.integers(1, 640)).map(lambda n: f"{n[0]}/{n[1]}")
PROPER = st.tuples(st.integers(0, 63), st.just(64)).map(lambda n: f"{n[0]}/{n[1]}")
DECIMAL = st.tuples(WHOLE, st.text("0123456789", min_size=1, max_size=9)).map(".".join)
MIXED = st.tuples(WHOLE, st.sampled_from(["-", " "]), PROPER).map("".join)
#: Pieces of which almost-lengths are made.
PIECES = st.sampled_from(
    [*"0123456789.,/-+ ½⅞″\"'−⁄ex٣²１ıK\t\n_%*()\u00a0\u200b\ufe0f", "mm", "in", "cm", "inch", "0x", "nan", "MM"]
)
ALMOST = st.lists(PIECES, max_size=12).map("".join) | st.sampled_from(HOSTILE_TEXT) | st.text(max_size=45)
ANYTHING = ALMOST | NUMBERS | st.booleans() | st.none() | st.binary(max_size=3) | st.lists(st.integers(), max_size=2)


@settings(fast, max_examples=300)
@given(st.booleans(), WHOLE | FRACTION | DECIMAL | MIXED, st.sampled_from([("mm", 1), ("in", "25.4"), ('"', "25.4")]))
def test_what_the_grammar_allows_is_read_exactly(minus: bool, number: str, unit: tuple[str, Any]) -> None:
    """Whole numbers, decimals, fractions and mixed numbers have the value that exact arithmetic gives them."""
    whole, _, rest = number.replace("-", " ").rpartition(" ")
    wanted = (int(whole or 0) + Fraction(rest)) * Fraction(unit[1])
    assert parse_length(f"{'-' if minus else ''}{number} {unit[0]}").exact == (-wanted if minus else wanted)


@settings(fast, max_examples=300)
@given(ANYTHING, UNITS)
def test_anything_is_a_length_or_one_line(value: object, unit: Literal["mm", "in"] | None) -> None:
    """What is read reads the same when it is written again; what is not is refused in one printable line."""
    length_is_read(value, unit)


@pytest.mark.slow
@settings(long, max_examples=50_000)
@given(ANYTHING, UNITS)
def test_very_much_is_a_length_or_one_line(value: object, unit: Literal["mm", "in"] | None) -> None:
    """The same for fifty thousand."""
    length_is_read(value, unit)


@settings(fast, max_examples=200)
@given(ALMOST, ALMOST)
def test_no_two_lengths_in_one(a: str, b: str) -> None:
    """Two texts behind one another are never read as the second alone."""
    try:
        both, second = parse_length(a + b), parse_length(b)
    except LengthError:
        return
    assert not a.strip(" \t\u00a0\u2009\u202f") or both.text != second.text or set(a.strip("-−")) <= set("0 ")
