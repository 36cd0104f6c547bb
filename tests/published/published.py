"""A published value, and the table of them that `pytest tests/published -v` prints.

Each module of this folder keeps its values as tuples of `Published` with names in capitals, and runs its tests over
them with `table`; `test_register.py` counts what stands there.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

import pytest

#: read: the number was read in that source. quoted: read in a table or text that quotes it. memory: recalled, not
#: seen. common practice: a fact of the trade without a source.
How = Literal["read", "quoted", "memory", "common practice"]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value stands in print."""

    #: author or publication, then the title
    name: str
    #: how it was seen
    how: How


@dataclass(frozen=True, slots=True)
class Published:
    """One value of one source, and what our code is asked to get it."""

    #: what the value is of
    what: str
    #: the value as the source gives it
    says: str
    source: Source
    #: what our code is given, lengths in mm
    given: Any
    #: the value as our code gives it: mm, mm², degrees, rpm
    value: Any
    #: what is right and its value, where the source is known to be wrong
    right: tuple[str, Any] | None = None

    @property
    def verdict(self) -> str:
        """What the source says, and what is right where that is something else."""
        return self.says if self.right is None else f"says {self.says}; right: {self.right[0]}"

    @property
    def cells(self) -> tuple[str, str, str, str]:
        """The row's columns."""
        return self.what, self.verdict, self.source.name, self.source.how


def table(rows: Sequence[Published]) -> pytest.MarkDecorator:
    """Runs a test for each row, given to it as `row`; the rows in columns are the tests' ids."""
    widths = [max(map(len, column)) for column in zip(*(row.cells for row in rows), strict=True)]
    lines = (" | ".join(cell.ljust(width) for cell, width in zip(row.cells, widths, strict=True)) for row in rows)
    return pytest.mark.parametrize("row", rows, ids=[line.rstrip() for line in lines])


def inch(text: str) -> float:
    """Millimetres of inches written as 1/8, 1-1/4 or 0.201: 25.4 to the inch (NBS Circular 572), not our parser."""
    whole, dash, part = text.rpartition("-")
    inches = Fraction(whole) + Fraction(part) if dash else Fraction(part)
    return float(inches * Fraction("25.4"))
