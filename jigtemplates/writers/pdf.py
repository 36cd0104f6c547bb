"""Paper patterns as PDF, by reportlab. What a file from here keeps:

- every page is exactly the paper's size, and the viewer is asked to print it unscaled, on one side;
- one unit of the page's contents is one millimetre before the pattern's correction: the only
  transform of a page is that scale, and of a window the place of the drawing's (0, 0);
- arcs are Béziers of at most 45°, within 1e-5 of the radius of the true circle;
- all fonts are embedded subsets, and no standard font is referred to;
- the same pattern gives the same bytes: no clock, no random name.

`check_pdf` reads the bytes back, without the library that wrote them.
"""

import math
import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import lru_cache
from io import BytesIO
from itertools import groupby
from typing import Any

from jigtemplates.drawing import Stroke
from jigtemplates.fonts import registered, text_width
from jigtemplates.geometry.outline import Arc, Segment, cos_sin
from jigtemplates.processes.paper_page import Ink, Page, Pattern, Text, Window
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.pdf_reader import PdfFile, media_box, page_scale, straight_lines

#: Points in a millimetre: 1 pt = 1/72 in (ISO 32000-1, 8.3.2.3), 1 in = 25.4 mm.
POINT = 72.0 / 25.4
#: Most a page's box may differ from the paper in the file, pt (eight decimals are written).
BOX_SLACK = 1e-7
#: What a calibration bar measures, mm: 4 in.
BAR = 101.6
#: reportlab's number for the non-zero winding rule (canvas.FILL_NON_ZERO).
NON_ZERO = 1


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
        for page in pattern.pages:
            _page(canvas, page, pattern.correction)
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


def _page(canvas: Any, page: Page, correction: tuple[float, float]) -> None:
    canvas.scale(POINT * correction[0], POINT * correction[1])
    canvas.setLineCap(0)
    canvas.setLineJoin(1)
    _inks(canvas, page.inks)
    for window in page.windows:
        _window(canvas, window)
    _texts(canvas, page.texts)
    canvas.showPage()


def _window(canvas: Any, window: Window) -> None:
    canvas.saveState()
    canvas.translate(*window.origin)
    s = window.shown
    path = canvas.beginPath()
    path.rect(s.left, s.bottom, s.width, s.height)
    canvas.clipPath(path, stroke=0, fill=0)
    _inks(canvas, window.inks)
    _texts(canvas, window.texts)
    canvas.restoreState()


def _inks(canvas: Any, inks: tuple[Ink, ...]) -> None:
    for pen, path in _paths(inks):
        _set_pen(canvas, pen)
        canvas.drawPath(path, stroke=int(pen.width > 0), fill=int(bool(pen.fill)), fillMode=NON_ZERO)


@lru_cache(maxsize=4)  # a job's papers show the same plate, whose numbers take long to write
def _paths(inks: tuple[Ink, ...]) -> tuple[tuple[Ink, Any], ...]:
    """A pen and its path: neighbours in one pen share a path, so that a label is one stroke operation."""
    from reportlab.pdfgen.pathobject import PDFPathObject

    paths: list[tuple[Ink, Any]] = []
    for _, group in groupby(inks, key=lambda ink: (ink.width, ink.colour, ink.dash, ink.fill)):
        alike = list(group)
        path = PDFPathObject()
        for ink in alike:
            _trace(path, ink)
        paths.append((alike[0], path))
    return tuple(paths)


def _set_pen(canvas: Any, ink: Ink) -> None:
    canvas.setLineWidth(ink.width)
    canvas.setStrokeColorRGB(*_rgb(ink.colour))
    canvas.setDash(list(ink.dash))
    if ink.fill:
        canvas.setFillColorRGB(*_rgb(ink.fill))


def _rgb(colour: str) -> tuple[float, float, float]:
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return red, green, blue


def _trace(path: Any, ink: Ink) -> None:
    shape = ink.shape
    if isinstance(shape, Stroke):
        path.moveTo(*shape.points[0])
        for point in shape.points[1:]:
            path.lineTo(*point)
        return
    path.moveTo(*shape.segments[0].start)
    for segment in shape.segments:
        _segment(path, segment)
    path.close()


def _segment(path: Any, segment: Segment) -> None:
    if not isinstance(segment, Arc):
        path.lineTo(*segment.end)
        return
    for curve in beziers(segment):
        path.curveTo(*curve)


def beziers(arc: Arc) -> Iterator[tuple[float, float, float, float, float, float]]:
    """Cubic pieces of at most 45°: two control points and the end of each.

    The handles are 4/3 tan(sweep / 4) of the radius (Goldapp, Comput. Aided Geom. Des. 8, 1991, from
    memory): the middle of each piece lies on the circle, and none of it 1e-5 of the radius off.
    """
    pieces = max(1, math.ceil(abs(arc.sweep) / (math.pi / 4) - 1e-9))
    step = arc.sweep / pieces
    handle = 4.0 / 3.0 * math.tan(step / 4.0) * arc.radius
    (cx, cy), r = arc.center, arc.radius
    for i in range(pieces):
        a, b = arc.start_angle + i * step, arc.start_angle + (i + 1) * step
        x0, y0, x1, y1 = (
            cx + r * math.cos(a),
            cy + r * math.sin(a),
            cx + r * math.cos(b),
            cy + r * math.sin(b),
        )
        if i == pieces - 1:
            x1, y1 = arc.end
        yield (
            x0 - handle * math.sin(a),
            y0 + handle * math.cos(a),
            x1 + handle * math.sin(b),
            y1 - handle * math.cos(b),
            x1,
            y1,
        )


def _texts(canvas: Any, texts: Iterable[Text]) -> None:
    """All texts of a page in one text object."""
    block = canvas.beginText()
    font: tuple[bool, float] | None = None
    colour = None
    for text in texts:
        if font != (text.bold, text.size):
            font = (text.bold, text.size)
            block.setFont(registered(text.bold), text.size)
        if colour != text.colour:
            colour = text.colour
            block.setFillColorRGB(*_rgb(colour))
        block.setTextTransform(*_place(text))
        block.textOut(text.string)
    canvas.drawText(block)


def _place(text: Text) -> tuple[float, float, float, float, float, float]:
    """The text's matrix: turned, and started so that its anchor falls on (x, y)."""
    share = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    back = share and share * text_width(text.string, text.size, bold=text.bold)
    cos, sin = cos_sin(text.angle)
    return cos, sin, -sin, cos, text.x - back * cos, text.y - back * sin


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
    lines = {(round(run, 3), round(rise, 3)) for run, rise in straight_lines(contents[:6000])}
    for bar, way in (((BAR, 0.0), "level"), ((0.0, BAR), "upright")):
        if bar not in lines:
            yield f"it has no {way} bar of 4 in"
