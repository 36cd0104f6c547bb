"""Rows of text as a table for a terminal or a text file."""

from collections.abc import Iterator, Sequence


def table_lines(header: Sequence[str], rows: Sequence[Sequence[str]], *, indent: int = 2) -> Iterator[str]:
    """The header and the rows, columns as wide as their widest text, two spaces between, none at the ends."""
    all_rows = [header, *rows]
    widths = [max(len(row[column]) for row in all_rows) for column in range(len(header))]
    for row in all_rows:
        cells = (f"{text:<{width}}" for text, width in zip(row, widths, strict=True))
        yield (" " * indent + "  ".join(cells)).rstrip()
