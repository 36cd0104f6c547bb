"""Paper patterns as PDF, by reportlab. What a file from here keeps:

- every page is exactly the paper's size, and the viewer is asked to print it unscaled, on one side;
- one unit of the page's contents is one millimetre before the pattern's correction: the only
  transform of a page is that scale, and of a window the place of the drawing's (0, 0);
- arcs are Béziers of at most 45°, within 1e-5 of the radius of the true circle;
- all fonts are embedded subsets, and no standard font is referred to;
- the same pattern gives the same bytes: no clock, no random name.

`check_pdf` reads the bytes back, without the library that wrote them.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO

from jigtemplates.fonts import registered
from jigtemplates.processes.paper_page import Pattern
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.pdf_page import POINT, Lettering, page_text
from jigtemplates.writers.pdf_reader import PdfFile, media_box, page_scale, straight_lines

#: Most a page's box may differ from the paper in the file, pt (eight decimals are written).
BOX_SLACK = 1e-7
#: What a calibration bar measures, mm: 4 in.
BAR = 101.6


class _Points(float):
    """A page's side, which reportlab would write with three or four decimals, in full."""

    def __str__(self) -> str:
        return f"{float(self):.8f}".rstrip("0").rstrip(".")


def write_pdf(pattern: Pattern) -> bytes:
    """The pattern as the bytes of a PDF file."""
    from reportlab.pdfgen.canvas import Canvas

    buffer = BytesIO()
    size = (_Points(pattern.width * POINT), _Points(pattern.height * POINT))
    with _binary_streams():
        canvas = Canvas(buffer, size, pageCompression=1, invariant=1, pdfVersion=(1, 7), initialFontName=registered())
        canvas.setTitle(pattern.title)
        canvas.setAuthor("")
        canvas.setCreator("jigtemplates")
        canvas.setProducer("jigtemplates")
        for name, value in (("PrintScaling", "None"), ("Duplex", "Simplex")):
            canvas.setViewerPreference(name, value)
        lettering = Lettering(canvas._doc)
        for page in pattern.pages:
            canvas.addLiteral(page_text(page, pattern.correction, lettering))
            canvas.showPage()
        canvas.save()
    return buffer.getvalue()


@contextmanager
def _binary_streams() -> Iterator[None]:
    """Without reportlab's second, ASCII encoding of streams: smaller, and quicker to write and read back."""
    from reportlab import rl_config

    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


def check_pdf(data: bytes, pattern: Pattern, *, bars: bool = True) -> None:
    """Raise ReadBackError unless data holds the pattern's pages, at true size and with its fonts.

    With bars, every page must have its calibration bars.
    """
    try:
        fault = next(_faults(PdfFile(data), pattern, bars), None)
    except ReadBackError as error:  # from the reader
        fault = str(error)
    if fault is not None:
        raise ReadBackError(f"PDF file read back: {fault} (a fault of this program: the file was not written)")


def _faults(file: PdfFile, pattern: Pattern, bars: bool) -> Iterator[str]:
    if len(file.pages) != len(pattern.pages):
        yield f"{len(file.pages)} pages, not {len(pattern.pages)}"
    for number, page in enumerate(file.pages, 1):
        yield from (f"page {number}: {fault}" for fault in _page_faults(file, page, pattern, bars))
    for wanted in (b"/PrintScaling /None", b"/Duplex /Simplex"):
        if wanted not in file.catalog:
            yield f"{wanted.decode()} is missing"
    fonts = re.findall(rb"/BaseFont /(\S+)", file.catalog)
    embedded = len(re.findall(rb"/FontFile2 \d+ 0 R", file.catalog))
    if not fonts or embedded != len(fonts):
        yield f"{len(fonts)} fonts, {embedded} of them embedded"


def _page_faults(file: PdfFile, page: bytes, pattern: Pattern, bars: bool) -> Iterator[str]:
    box = media_box(page)
    wanted = (0.0, 0.0, pattern.width * POINT, pattern.height * POINT)
    if len(box) != 4 or any(abs(a - b) > BOX_SLACK for a, b in zip(box, wanted, strict=True)):
        yield f"its box is {box}, not {pattern.width:g} x {pattern.height:g} mm"
    contents = file.contents(page)
    scale = page_scale(contents)
    meant = [POINT * factor for factor in pattern.correction]
    if any(abs(a - b) > 1e-5 for a, b in zip(scale, meant, strict=True)):
        yield f"one unit is {scale[0]:g} x {scale[1]:g} pt, not {meant[0]:g} x {meant[1]:g} pt"
    if bars:
        yield from _bar_faults(contents)


def _bar_faults(contents: bytes) -> Iterator[str]:
    # The bars are a page's first lines.
    lacking = {(BAR, 0.0): "level", (0.0, BAR): "upright"}
    lines = straight_lines(contents[:6000])
    while lacking and (line := next(lines, None)):
        lacking.pop((round(line[0], 3), round(line[1], 3)), None)
    yield from (f"it has no {way} bar of 4 in" for way in lacking.values())
