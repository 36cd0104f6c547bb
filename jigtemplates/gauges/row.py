"""The row of values of a gauge: from, to and step as they were typed become exact lengths and what is engraved.

What is engraved is what is drawn: a value that its digits cannot say exactly is refused, not rounded.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from jigtemplates.errors import InputError, quoted
from jigtemplates.lengths import MM_PER_INCH, Length, both_text, inch_short, mm_text, sold_as

#: Most openings of one gauge (chosen: a hand tries no more, and a plate holds no more).
MOST = 40
#: Step and half of the row's usual width: mm, and in inches (chosen: 0.05 mm and 0.002 in are what a hand can tell
#: apart; 0.2 mm to each side is more than bushings of one trade size differ by).
STEP = {False: Fraction(5, 100), True: Fraction(2, 1000)}
HALF = {False: Fraction(2, 10), True: Fraction(8, 1000)}
#: Digits that are engraved, the usual and the most.
DIGITS = {False: (2, 3), True: (3, 4)}
_UNIT = {False: "mm", True: "in"}


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed for a row; None where it was not."""

    first: Length | None = None
    last: Length | None = None
    step: Length | None = None
    #: number of openings, as typed
    count: str | None = None

    @property
    def lengths(self) -> tuple[tuple[str, Length], ...]:
        """The lengths that were given, by option."""
        all_ = (("--from", self.first), ("--to", self.last), ("--step", self.step))
        return tuple((name, length) for name, length in all_ if length is not None)

    def in_inches(self, size: Length) -> bool:
        """Whether the row is in inches: the lengths that were typed decide, else the size itself."""
        typed = [length for _, length in self.lengths]
        return (typed[0] if typed else sold_as(size)).is_inch


@dataclass(frozen=True, slots=True)
class Row:
    """Values in rising order."""

    #: mm, exact
    values: tuple[Fraction, ...]
    inches: bool
    #: decimals that say every value exactly
    digits: int

    @property
    def step(self) -> float:
        """From one value to the next, mm."""
        return float(self.values[1] - self.values[0])

    @property
    def unit(self) -> str:
        """Unit of the engraved values."""
        return _UNIT[self.inches]

    @property
    def unit_word(self) -> str:
        """The unit as a plate says it: "in in" would be no help."""
        return "inches" if self.inches else "mm"

    def text(self, value: Fraction) -> str:
        """A value as it is engraved, without its unit: "12.70", "0.500"."""
        return f"{float(value / _mm(self.inches)):.{self.digits}f}"

    def named(self, value: Fraction) -> str:
        """A value with its unit, as an option takes it: "12.70 mm"."""
        return f"{self.text(value)} {self.unit}"

    @property
    def span(self) -> str:
        """First and last value and the step: "12.50 to 12.90 mm in steps of 0.05 mm"."""
        step = self.values[1] - self.values[0]
        return f"{self.text(self.values[0])} to {self.named(self.values[-1])} in steps of {self.named(step)}"


def said(mm: float, inches: bool) -> str:
    """A length with its other unit, the one that was typed first: "12.7 mm = 0.5 in", "1/2 in (12.7 mm)"."""
    return f"{inch_short(mm)} ({mm_text(mm, 3)})" if inches else both_text(mm, 3)


def row_of(size: Length, asked: Asked, *, lower: Fraction = Fraction(0), exactly: bool = False) -> Row:
    """The row about a size, or as it was asked for; a row of its own begins `lower` (mm) deeper than usual.

    With `exactly` the size itself is one of a row of its own where it can be engraved with one decimal more than usual:
    0.3125 for 5/16 in.
    Raises InputError with every fault of what was typed.
    """
    inches = asked.in_inches(size)
    count, faults = _count(asked.count)
    faults += [*_inexact(asked, inches), *_reversed(asked), *_too_much(asked)]
    if faults:
        raise InputError(faults)
    first, step, number = _planned(_middle(size, inches, exactly), asked, inches, count, lower)
    most = _at_most(first, step, number, asked, inches)
    if most:
        raise InputError(most)
    values = tuple(first + i * step for i in range(number))
    return Row(values, inches, _digits(values, inches))


def count_of(typed: str | None) -> int | None:
    """The number of openings; None where none was typed. InputError for anything but a sensible whole number."""
    count, faults = _count(typed)
    if faults:
        raise InputError(faults)
    return count


def moved_up(row: Row, least: Fraction) -> Row:
    """The same number of values and step, the first one least (mm), or the next that can be engraved."""
    digits = max(row.digits, _places(least, row.inches) or 0)
    grain = _mm(row.inches) / 10**digits
    first = math.ceil(least / grain) * grain
    return Row(tuple(first + value - row.values[0] for value in row.values), row.inches, digits)


def from_least(row: Row, least: Fraction) -> Row:
    """The values of a row that are no less than least, mm; perhaps none."""
    return Row(tuple(value for value in row.values if value >= least), row.inches, row.digits)


def _mm(inches: bool) -> Fraction:
    return MM_PER_INCH if inches else Fraction(1)


def _count(typed: str | None) -> tuple[int | None, list[str]]:
    if typed is None:
        return None, []
    text = typed.strip()
    if not (text.isascii() and text.isdigit() and len(text) < 5 and 2 <= int(text) <= MOST):
        return None, [f"--steps: {quoted(typed)} is not a number of openings (write a whole number from 2 to {MOST})"]
    return int(text), []


def _inexact(asked: Asked, inches: bool) -> Iterator[str]:
    """Lengths that the digits of an engraved value cannot say."""
    digits = DIGITS[inches][1]
    for name, length in asked.lengths:
        if _places(length.exact, inches) is None:
            near = f"{float(length.exact / _mm(inches)):.{digits - 1}f} {_UNIT[inches]}"
            yield (
                f"{name}: {quoted(length.text)} cannot be engraved exactly with {digits} decimals "
                f"(write {near if float(near.split()[0]) else 'more'})"
            )


def _places(value: Fraction, inches: bool) -> int | None:
    """The fewest usual decimals that say a value; None where they cannot."""
    for digits in DIGITS[inches]:
        if (value / _mm(inches) * 10**digits).denominator == 1:
            return digits
    return None


def _digits(values: tuple[Fraction, ...], inches: bool) -> int:
    return max(_places(value, inches) or DIGITS[inches][1] for value in values)


def _reversed(asked: Asked) -> Iterator[str]:
    if asked.first and asked.last and asked.first.exact >= asked.last.exact:
        yield f'--from: "{asked.first}" is not below --to, "{asked.last}" (the row rises: exchange them)'


def _too_much(asked: Asked) -> Iterator[str]:
    if len(asked.lengths) == 3 and asked.count is not None:
        yield "--steps: --from, --to and --step say the number already (leave one of the four out)"


def _middle(size: Length, inches: bool, exactly: bool) -> Fraction:
    """What a row goes round, mm: the size, rounded to the usual decimals where not more of them are wanted."""
    if exactly and _places(size.exact, inches) is not None:
        return size.exact
    grain = _mm(inches) / 10 ** DIGITS[inches][0]
    middle: Fraction = round(size.exact / grain) * grain
    return middle


def _planned(
    middle: Fraction, asked: Asked, inches: bool, count: int | None, lower: Fraction
) -> tuple[Fraction, Fraction, int]:
    """First value, step and number."""
    first, last = _exact(asked.first), _exact(asked.last)
    step = _exact(asked.step) or STEP[inches] * _mm(inches)
    if first is not None and last is not None and count is not None:
        return first, (last - first) / (count - 1), count
    half = HALF[inches] * _mm(inches)
    below = math.ceil((half + lower) / step) * step
    above = math.ceil(half / step) * step
    if count is not None:
        if first is None:
            first = middle - count // 2 * step if last is None else last - (count - 1) * step
        return first, step, count
    first = first if first is not None else (middle - below if last is None else min(middle - below, last - step))
    last = last if last is not None else max(middle + above, first + step)
    return first, step, math.ceil((last - first) / step) + 1


def _exact(length: Length | None) -> Fraction | None:
    return None if length is None else length.exact


def _at_most(first: Fraction, step: Fraction, number: int, asked: Asked, inches: bool) -> list[str]:
    """Faults that only the whole row shows."""
    if number > MOST:
        return [
            f"--step: the row would have {number} openings, more than {MOST} (take a larger step or less of a range)"
        ]
    if first <= 0:
        return ["--from: the row would begin at 0 or below (give --from, or a smaller --step)"]
    if _places(step, inches) is None:
        few = [n for n in range(2, MOST + 1) if _places(step * (number - 1) / (n - 1), inches) is not None]
        near = min(few, key=lambda n: abs(n - number), default=None)
        hint = f"write {near}" if near else "give --step instead"
        return [f"--steps: {number} openings between them are not exactly engraved steps apart ({hint})"]
    return []
