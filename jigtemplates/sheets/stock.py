"""The sheets there are, as a person names them: "600x300", "24 x 12 in", "600 x 300 mm*2"."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from jigtemplates.errors import InputError, quoted
from jigtemplates.lengths import MM_PER_INCH, Length, LengthError, parse_length
from jigtemplates.parameters.fields import LONGEST_MM

#: More sheets of one size than this are surely a slip (chosen).
MOST_SHEETS = 1_000

_COUNT = re.compile(r"(?P<size>.*?)\s*\*\s*(?P<count>[0-9]{1,6})\s*", re.DOTALL)
_BY = re.compile(r"\s*[x×]\s*", re.IGNORECASE)
_UNIT = re.compile(r'\s*(?P<unit>mm|in|["″”“])\s*$')

#: How a size is written.
FORM = 'write width x height, such as 600x300 for mm, or "24 x 12 in"; *2 behind it: there are two'


@dataclass(frozen=True, slots=True)
class Stock:
    """A size of sheet; a material's grain runs along its first side."""

    width: Length
    height: Length
    #: how many there are; None: as many as are needed
    count: int | None = None
    #: as it was typed where no unit was, so that mm were taken; else None
    unitless: str | None = None

    @property
    def text(self) -> str:
        """ "600 x 300 mm", "24 x 12 in"; each side with its unit where they differ."""
        first, second = self.width.text, self.height.text
        same = first.rpartition(" ")[2] == second.rpartition(" ")[2]
        return f"{first.rpartition(' ')[0] if same else first} x {second}"

    @property
    def area(self) -> float:
        """In mm²."""
        return self.width.mm * self.height.mm

    @property
    def is_inch(self) -> bool:
        """Whether it was given in inches, which are then said first."""
        return self.width.is_inch

    @property
    def in_inches(self) -> "Stock | None":
        """The same numbers read as inches; None where a unit was typed, or no sheet is so large."""
        if self.unitless is None or max(self.width.exact, self.height.exact) * MM_PER_INCH > LONGEST_MM:
            return None
        width, height = (_as_inches(side) for side in (self.width, self.height))
        return Stock(width, height, self.count)


def _as_inches(side: Length) -> Length:
    return Length(side.exact * MM_PER_INCH, side.text.removesuffix("mm") + "in")


def stocks_of(texts: Sequence[str]) -> tuple[Stock, ...]:
    """The sizes in the order given; InputError with a line for each fault, and for a size that stands twice."""
    found: list[Stock] = []
    faults: list[str] = []
    for text in texts:
        try:
            stock = _stock(text)
        except ValueError as error:
            faults.append(f"--stock: {error}")
            continue
        if any((one.width.exact, one.height.exact) == (stock.width.exact, stock.height.exact) for one in found):
            faults.append(f"--stock: {quoted(text)} stands there twice (keep one; {stock.text}*2 means two sheets)")
        found.append(stock)
    if faults:
        raise InputError(faults)
    return tuple(found)


def _stock(text: str) -> Stock:
    """One size; ValueError says what is wrong with it."""
    counted = _COUNT.fullmatch(text)
    size, count = (counted["size"], int(counted["count"])) if counted else (text, None)
    if count is not None and not 1 <= count <= MOST_SHEETS:
        raise ValueError(f"{quoted(text)}: {count} sheets is no sensible number (write *1 to *{MOST_SHEETS})")
    sides = _BY.split(size)
    if len(sides) != 2 or not all(sides):
        raise ValueError(f"{quoted(text)} is not a size of sheet ({FORM})")
    width, height = (_side(side, text) for side in _with_units(sides, text))
    return Stock(width, height, count, None if any(map(_UNIT.search, sides)) else text)


def _with_units(sides: Sequence[str], text: str) -> tuple[str, str]:
    """Both sides; a unit behind the second stands for both."""
    first, second = (_UNIT.search(side) for side in sides)
    if first is not None and second is None:
        raise ValueError(f"{quoted(text)}: the second side has no unit (write {sides[0]} x {sides[1]} {first['unit']})")
    if first is None and second is not None:
        return f"{sides[0]} {second['unit']}", sides[1]
    return sides[0], sides[1]


def _side(side: str, text: str) -> Length:
    """A side; without a unit it is in mm."""
    try:
        length = parse_length(side, unit="mm")
    except LengthError as error:
        raise ValueError(f"{quoted(text)}: {error}") from None
    if not 0 < length.exact <= LONGEST_MM:
        raise ValueError(f"{quoted(text)}: {length} is no side of a sheet (more than 0, at most {LONGEST_MM} mm)")
    return length
