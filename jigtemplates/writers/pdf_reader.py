"""Reads a PDF of ours back, without the library that wrote it: objects by the cross-reference table.

Only what a paper pattern needs to be checked: page boxes, contents, fonts and viewer preferences.
Anything that does not look as such a file must is a ReadBackError.
"""

import re
import zlib
from collections.abc import Iterator
from functools import cached_property

from jigtemplates.writers.faults import ReadBackError

# What is taken is not given back ("++"): else every number is tried again from each of its digits on.
_NUMBER = rb"-?(?:\d++(?:\.\d++)?|\.\d++)"
_LINE = re.compile(rb"(%b) (%b) m (%b) (%b) l" % ((_NUMBER,) * 4))
_TEXT = re.compile(rb"\((?:\\.|[^\\()])*\)", re.DOTALL)
_SCALE = re.compile(rb"(%b) 0 0 (%b) 0 0 cm" % ((_NUMBER,) * 2))


class PdfFile:
    """The objects of one file, by number."""

    def __init__(self, data: bytes) -> None:
        if not data.startswith(b"%PDF-") or not data.rstrip().endswith(b"%%EOF"):
            raise ReadBackError("it does not begin with %PDF and end with %%EOF")
        start = re.search(rb"startxref\s+(\d+)\s+%%EOF\s*$", data)
        if not start or not data.startswith(b"xref", int(start[1])):
            raise ReadBackError("its cross-reference table is not where it says")
        self.objects = dict(_objects(data, int(start[1])))

    @cached_property
    def pages(self) -> list[bytes]:
        """The dictionary of each page, in the file's order of objects."""
        return [o for o in self._dictionaries if re.search(rb"/Type /Page\s", o)]

    @cached_property
    def _dictionaries(self) -> list[bytes]:
        # Texts are blanked first: a title may say anything.
        return [_TEXT.sub(b"()", o) for o in self.objects.values() if b"\nstream\n" not in o]

    @cached_property
    def catalog(self) -> bytes:
        """Everything the file says outside its streams."""
        return b"\n".join(self._dictionaries)

    def contents(self, page: bytes) -> bytes:
        """The drawing operators of a page."""
        number = re.search(rb"/Contents (\d+) 0 R", page)
        body = self.objects.get(int(number[1]), b"") if number else b""
        head, _, stream = body.partition(b"stream\n")
        length = re.search(rb"/Length (\d+)", head)
        if not length:
            raise ReadBackError("a page has no contents")
        try:
            return zlib.decompress(stream[: int(length[1])])
        except zlib.error as error:
            raise ReadBackError("a page's contents cannot be unpacked") from error


def _objects(data: bytes, table: int) -> Iterator[tuple[int, bytes]]:
    """Each object from its place in the table to its `endobj`."""
    for entry in re.finditer(rb"(\d{10}) \d{5} n", data[table:]):
        at = int(entry[1])
        begin = re.compile(rb"(\d+) 0 obj\s").match(data, at)
        if not begin:
            raise ReadBackError("its cross-reference table points beside an object")
        yield int(begin[1]), data[begin.end() : data.find(b"endobj", begin.end())]


def media_box(page: bytes) -> tuple[float, ...]:
    """The page's box in points; empty where it has none."""
    found = re.search(rb"/MediaBox \[([^\]]*)\]", page)
    return tuple(float(n) for n in found[1].split()) if found else ()


def page_scale(contents: bytes) -> tuple[float, float]:
    """Points per unit across and up: the page's own transform, after the library's empty one."""
    for found in _SCALE.finditer(contents[:200]):
        if found[0] != b"1 0 0 1 0 0 cm":
            return float(found[1]), float(found[2])
    return 1.0, 1.0


def straight_lines(contents: bytes) -> Iterator[tuple[float, float]]:
    """Run and rise of each two-point line."""
    for found in _LINE.finditer(contents):
        x0, y0, x1, y1 = (float(n) for n in found.groups())
        yield x1 - x0, y1 - y0
