"""A table as text: title, header, rows and what is to be said under it; laid out by whoever prints it."""

from collections.abc import Iterator
from dataclasses import dataclass

from jigtemplates.lengths import decimal_inch_text, is_on_rule, mm_text, rule_text


@dataclass(frozen=True, slots=True)
class Table:
    """One table of texts."""

    title: str
    header: tuple[str, ...]
    #: each as long as the header
    rows: tuple[tuple[str, ...], ...]
    #: sentences that belong under it
    notes: tuple[str, ...] = ()

    def lines(self) -> Iterator[str]:
        """The table for a terminal: columns as wide as their widest text; only title and notes without rows."""
        yield self.title
        if self.rows:
            table = (self.header, *self.rows)
            widths = [max(len(row[i]) for row in table) for i in range(len(self.header))]
            for row in table:
                yield "  " + "  ".join(f"{text:<{width}}" for text, width in zip(row, widths, strict=True)).rstrip()
        yield from (f"  {note}" for note in self.notes)


def letters(at: int) -> str:
    """A to Z, then AA, AB ...; `at` counts from 0."""
    text, rest = "", at + 1
    while rest:
        rest, letter = divmod(rest - 1, 26)
        text = chr(ord("A") + letter) + text
    return text


def shown(mm: float, inches: bool) -> str:
    """A length for a rule: in mm; of a job in inches "1/2 in", or where that is not exact "0.519 in ≈ 33/64"."""
    if not inches:
        return mm_text(mm)
    fraction = rule_text(mm)
    if is_on_rule(mm):
        return f"{fraction} in"
    return decimal_inch_text(mm) + (f" ≈ {fraction}" if fraction != "0" else "")
