"""The printer gauge: a page of bars and diagonals that show what a printer makes of lengths and of a square corner.

::

       4u ┌─────────┐      across 3u and up 4u, both diagonals 5u (sides of 3, 4 and 5 make a right angle); only the
          │╲       ╱│      ends of the diagonals are drawn, so that there is room for words
      100 ┤  words  │
         B│╱       ╲│      the first 100 mm of two sides, on papers in inches the first 4 in, are the bars A and B;
          └─────┬───┘      E is the diagonal of the bars, from one's far end to the other's
            A  100  3u

Printed askew by an angle s the diagonals C and D differ: c² - d² = 4 · 3u · 4u · sin s.

The page is printed as it stands, without the correction that is to be found.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from jigtemplates.errors import InputError, quoted
from jigtemplates.gauges import enter
from jigtemplates.gauges.page import APART, blank, command, head, steps
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.parameters.entries import Paper
from jigtemplates.processes.paper_page import GREY, Ink, Page, Pattern, Text, line
from jigtemplates.processes.paper_text import Block, paragraph, stacked
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.pdf import check_pdf, write_pdf
from jigtemplates.writers.pdf_reader import PdfFile, straight_lines

#: Length of the bars, mm: on metric papers, and on those in inches (as on paper patterns, which carry both).
BAR = {False: 100.0, True: 101.6}
#: Their figures, as shares of them, and the ticks between two of these.
FIGURES = {False: ("0", "50", "100 mm"), True: ("0", "2", "4 in")}
TICKS = {False: 5, True: 8}
#: Room on the right of the rectangle, above it for the title, and below it for the level bar's figures, mm (chosen).
BESIDE, ABOVE, BELOW = 6.0, 16.0, 10.0
#: Room on its left for the upright bar's figures, mm.
LEFT = 10.0
#: The unit of the rectangle is a whole number of these, mm: metric papers and inch papers (chosen: whole figures).
UNIT = {False: 10.0, True: 12.7}
#: Lines are this wide, mm (chosen: a rule is read to 0.1 mm against them).
HAIR = 0.12
#: Side of the small squares, mm; on papers in inches 3/4 in.
SQUARE = {False: 20.0, True: 19.05}
#: From the rectangle's sides to the words, mm.
INSET = 26.0
#: How much of a diagonal is drawn at each end, as a share of it (chosen: clear of the words).
END = 0.08
#: How much of E is drawn at each end, along each side, mm (chosen: as long as the ticks of the bars are apart).
END_OF_E = 7.0
#: What is measured, by the names on the page; the first three are typed, in the order of the command.
BLANKS = (
    "A, bar across (--across)", "B, bar up (--up)", "E, diagonal of the bars (--diagonal)", "C, long diagonal",
    "D, long diagonal",
)  # fmt: skip
#: Diagonals further apart than this are worth a word, mm (chosen: what a rule shows, and the square of a template).
ASKEW = 0.5


@dataclass(frozen=True, slots=True)
class Frame:
    """The rectangle on the page, mm."""

    corner: Point
    #: a third of its width
    unit: float
    inches: bool

    @property
    def width(self) -> float:
        """Along x."""
        return 3 * self.unit

    @property
    def height(self) -> float:
        """Along y."""
        return 4 * self.unit

    @property
    def bar(self) -> float:
        """Length of the bars."""
        return BAR[self.inches]

    @property
    def square(self) -> float:
        """Side of the small squares."""
        return SQUARE[self.inches]

    @property
    def diagonal(self) -> float:
        """Corner to corner."""
        return 5 * self.unit

    def named(self, mm: float, digits: int = 2) -> str:
        """A length in the paper's unit; digits of millimetres."""
        return inch_short(mm) if self.inches else mm_text(mm, digits)


def frame_on(paper: Paper) -> Frame:
    """The largest rectangle of 3 by 4 on the paper; InputError where its sides are shorter than the bars."""
    inches = paper.width.is_inch
    wide = paper.width.mm - 2 * paper.margin.mm - LEFT - BESIDE
    high = paper.height.mm - paper.margin.mm - paper.foot.mm - ABOVE - BELOW
    unit = math.floor(min(wide / 3, high / 4) / UNIT[inches] + 1e-9) * UNIT[inches]
    if 3 * unit < BAR[inches]:
        raise InputError(
            f"--paper: {quoted(paper.name)}, {paper.width} x {paper.height}, has no room for bars "
            f"of {FIGURES[inches][-1]} both ways and what is to be said of them (take a4, letter or larger)"
        )
    corner = Point(paper.margin.mm + LEFT + (wide - 3 * unit) / 2, paper.foot.mm + BELOW + (high - 4 * unit) / 2)
    return Frame(corner, unit, inches)


def lay_out(paper: Paper) -> Pattern:
    """The page for a paper; InputError where that is too small."""
    frame = frame_on(paper)
    area = Bounds(paper.margin.mm, paper.foot.mm, paper.width.mm - paper.margin.mm, paper.height.mm - paper.margin.mm)
    top = head(
        f"Printer gauge, {paper.name}",
        "print at 100 %, actual size, one side, no fitting to the page · one page for each printer and each paper",
        area.width,
    ).placed(area.left, area.top)
    inside = _words(frame).placed(frame.corner.x + INSET, frame.corner.y + frame.height - INSET)
    page = Page(
        "", (*_lines(frame), *_ticks(frame), *top.inks, *inside.inks), (*top.texts, *_figures(frame), *inside.texts)
    )
    return Pattern(f"Printer gauge, {paper.name}", paper.width.mm, paper.height.mm, (page,))


def printer_page(paper: Paper) -> bytes:
    """The page as a PDF file, read back: sides, diagonals and bars are measured in its bytes."""
    pattern, frame = lay_out(paper), frame_on(paper)
    data = write_pdf(pattern)
    check_pdf(data, pattern, bars=False)
    _check_lines(data, frame)
    return data


def _check_lines(data: bytes, frame: Frame) -> None:
    file, share = PdfFile(data), frame.unit * END
    drawn = {(round(x, 3), round(y, 3)) for page in file.pages for x, y in straight_lines(file.contents(page))}
    w, h = frame.width, frame.height
    bar = frame.bar
    bars = ((bar, 0.0), (0.0, bar), (w - bar, 0.0), (0.0, h - bar))
    wanted = (*bars, (-END_OF_E, END_OF_E), (w, 0.0), (0.0, h), (3 * share, 4 * share), (-3 * share, 4 * share))
    for run, rise in wanted:
        if (round(run, 3), round(rise, 3)) not in drawn:
            raise ReadBackError(
                f"PDF file read back: it has no line of {run:g} by {rise:g} mm (a fault of this program: the file was "
                "not written)"
            )


def _lines(frame: Frame) -> Iterator[Ink]:
    """Sides, two of them with their bars; ends of the diagonals and of E; squares in the corners."""
    (x, y), w, h, bar = frame.corner, frame.width, frame.height, frame.bar
    right, top = x + w, y + h
    for start, end in (
        ((x, y), (x + bar, y)), ((x + bar, y), (right, y)), ((x, y), (x, y + bar)), ((x, y + bar), (x, top)),
        ((x + bar, y), (x + bar - END_OF_E, y + END_OF_E)), ((x + END_OF_E, y + bar - END_OF_E), (x, y + bar)),
        ((x, top), (right, top)), ((right, y), (right, top)),
    ):  # fmt: skip
        yield line(start, end, HAIR)
    dx, dy = 3 * frame.unit * END, 4 * frame.unit * END
    for way, at_x in ((1.0, x), (-1.0, right)):
        yield line((at_x, y), (at_x + way * dx, y + dy), HAIR)
        yield line((right if way > 0 else x, top), ((right if way > 0 else x) - way * dx, top - dy), HAIR)
    side = frame.square
    for left, bottom in ((x, y), (right - side, y), (x, top - side), (right - side, top - side)):
        yield Ink(_square(left, bottom, side), HAIR, GREY)


def _square(left: float, bottom: float, side: float) -> Outline:
    right, top = left + side, bottom + side
    return Outline.polygon(((left, bottom), (right, bottom), (right, top), (left, top)))


def _ticks(frame: Frame) -> Iterator[Ink]:
    """Every 10 mm or quarter of an inch of the bars; where they end, across the line."""
    (x, y), half = frame.corner, TICKS[frame.inches]
    for i in range(2 * half + 1):
        at, out = frame.bar * i / (2 * half), 2.6 if i % half == 0 else 2.1 if frame.inches and i % 4 == 0 else 1.5
        inner = 2.0 if i == 2 * half else 0.0
        yield line((x + at, y - out), (x + at, y + inner), HAIR)
        yield line((x - out, y + at), (x + inner, y + at), HAIR)


def _figures(frame: Frame) -> Iterator[Text]:
    """What each bar, side and diagonal is called and should measure."""
    (x, y), w, h = frame.corner, frame.width, frame.height
    size, away = 2.5, 2.6
    for i, string in enumerate(FIGURES[frame.inches]):
        at = frame.bar * i / 2
        yield Text(string, x + at, y - away - 2.6, size, anchor="middle")
        yield Text(string, x - away - 0.8, y + at, size, anchor="middle", angle=90)
    yield Text("A, bar across", x + 60.0, y + 1.6, size)
    yield Text("B, bar up", x + 3.4, y + 60.0, size, angle=90)
    yield Text("E", x + frame.bar - END_OF_E - 3.0, y + END_OF_E + 0.6, 4.0, True, "middle")
    yield Text("E", x + END_OF_E + 3.0, y + frame.bar - END_OF_E - 3.4, 4.0, True, "middle")
    yield Text(f"whole side {frame.named(w)}", x + w / 2, y + h + 1.4, size, anchor="middle")
    yield Text(f"whole side {frame.named(h)}", x + w + 3.4, y + h / 2, size, anchor="middle", angle=90)
    for left, way in ((x, 1.0), (x + w, -1.0)):
        name = "C" if way > 0 else "D"
        yield Text(name, left + way * 6.0, y + 14.0, 4.0, True, "middle")
        yield Text(name, (x + w if way > 0 else x) - way * 6.0, y + h - 17.0, 4.0, True, "middle")


def _words(frame: Frame) -> Block:
    """What to do, the blanks and the command, for the room within the rectangle."""
    width, unit, size = frame.width - 2 * INSET, "in" if frame.inches else "mm", 3.0
    diagonal = frame.named(frame.diagonal)
    limit = inch_short(0.02 * 25.4) if frame.inches else mm_text(ASKEW)
    corner, end = frame.named(math.hypot(frame.bar, frame.bar), 1), FIGURES[frame.inches][-1]
    usual, fitted = _limits(frame)
    good = "about 0.01 in" if frame.inches else "a few tenths of a millimetre"
    doing = (
        "Set the printer to 100 %, actual size, one side. Let the page lie for an hour: fresh from a hot printer it is "
        "narrower than it will be.",
        f"Measure the bars A and B from 0 to the line at {end}, middle of line to middle of line, with the best rule "
        "you have. Measure E too, the diagonal of the bars, from the end of A straight to the end of B: it should be "
        f"{corner}.",
        f"To be surer, measure whole sides, {frame.named(frame.width)} and {frame.named(frame.height)}: they should be "
        "off by the same share as the bars.",
        f"Measure both long diagonals, C and D, from corner to corner. Each should be {diagonal}; they are not typed. "
        f"Where they differ by more than {limit}, the printer pulls the paper askew, and no factor mends that: use "
        "another tray or another printer.",
        f"The squares in the corners have sides of {frame.named(frame.square)}: one that is off while the bars are "
        "right shows that the error is not even over the page.",
        f"Bars between {usual} are usual. {fitted} the page was fitted: print it again at 100 %.",
    )
    blanks = [blank(f"{name}:", unit, size) for name in BLANKS]
    return stacked(
        (
            steps(doing, width, size),
            stacked(blanks, 0.8),
            blank("printer, date:", "", size, 60.0),
            command(enter.printer(unit), width, size),
            paragraph(
                f"A printed pattern is good for layout, to {good}; it does not set the fit of a bushing.",
                width,
                2.5,
                colour=GREY,
            ),
        ),
        APART,
    )


def _limits(frame: Frame) -> tuple[str, str]:
    """Lengths of a bar between which is usual, and those that no printer's error makes (1 and 3 %)."""
    return (
        ("3.96 and 4.04 in", "Below 3.88 in or above 4.12 in")
        if frame.inches
        else ("99 and 101 mm", "Below 97.1 mm or above 103 mm")
    )
