"""The files that were made, as lines on a terminal: one listing and one rule for sizes, whatever command made them."""

from collections.abc import Iterator, Sequence

from jigtemplates.lengths import inch_decimals, mm_text
from jigtemplates.report import WrittenFile

#: Files whose size is that of their page and not of a plate to lay a rule on.
PAGES = ("_setup.pdf", "_inlay.pdf", "_sheets.pdf", "_how.pdf")


def file_lines(
    files: Sequence[WrittenFile], *, inches: bool, unchanged: bool = False, pages: str | tuple[str, ...] = PAGES
) -> Iterator[str]:
    """The folder, then each file with its overall size; nothing where there is no file.

    Of a file that is larger by the kerf the size of the piece that is cut from it, which is what a rule measures.

    `inches` says inches first, `unchanged` that the files were there already; `pages` is how the names of those end
    whose size is their page's.
    """
    if not files:
        return
    names = [file.path.rpartition("/") for file in files]
    width = max(len(name) for _, _, name in names)
    still = " (unchanged)" if unchanged else ""
    yield f"  Files in {names[0][0]}{still}, with the overall size to check with a rule:"
    for file, (_, _, name) in zip(files, names, strict=True):
        yield f"    {name:<{width}}  {_size(file, inches, pages)}".rstrip()
    larger = sorted(filter(None, map(_larger, files)))
    if larger:
        yield f"    once cut: the file itself is {_span(larger, inches)} larger, for the kerf"


def _size(file: WrittenFile, inches: bool, pages: str | tuple[str, ...]) -> str:
    """Millimetres and decimal inches, or the other way round; nothing for a record."""
    if file.size is None:
        return ""
    width, height = file.finished or file.size
    page = "page " if file.path.endswith(pages) else ""
    mm = f"{mm_text(width, 3).removesuffix(' mm')} x {mm_text(height, 3)}"
    inch = f"{inch_decimals(width)} x {inch_decimals(height)} in"
    larger = "" if file.finished is None else " once cut"
    return f"{page}{inch} = {mm}{larger}" if inches else f"{page}{mm} = {inch}{larger}"


def _larger(file: WrittenFile) -> float:
    """By how much a file is larger than the piece, mm, each way; on a sheet of different kerfs the larger of them."""
    if file.size is None or file.finished is None:
        return 0.0
    return round(max(drawn - cut for drawn, cut in zip(file.size, file.finished, strict=True)), 3)


def _span(larger: Sequence[float], inches: bool) -> str:
    """ "0.16 mm", "0.15 to 0.2 mm" of files that differ."""
    text, unit = (inch_decimals, " in") if inches else (lambda mm: mm_text(mm, 3).removesuffix(" mm"), " mm")
    return " to ".join(dict.fromkeys((text(larger[0]), text(larger[-1])))) + unit
