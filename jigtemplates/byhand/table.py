"""A table as text: title, header, rows and what is to be said under it; laid out by whoever prints it."""

from collections.abc import Iterator
from dataclasses import dataclass

from jigtemplates.lengths import inch_text, mm_text


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


def shown(mm: float, inches: bool) -> str:
    """A length for a rule: in inches with the nearest 1/64 for a job in inches, else in mm."""
    return inch_text(mm) if inches else mm_text(mm)
