"""The paper process: a drawing becomes pages to print at true size, check with a rule and glue on.

Every page is one standard size, with a level and an upright bar that show whether the printer kept
the size. A drawing that fits one page takes one; a larger one is tiled behind a cover page. Nothing
is ever scaled to fit: what cannot be printed true is refused.
"""

import math
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from jigtemplates.drawing import Drawing, Pens
from jigtemplates.errors import JigError, quoted
from jigtemplates.fonts import missing
from jigtemplates.processes.paper_cover import cover_blocks, joining, map_block
from jigtemplates.processes.paper_drawing import drawing_inks, legend
from jigtemplates.processes.paper_page import Ink, Page, PaperSize, Pattern, PatternNotes, box_of
from jigtemplates.processes.paper_sheet import (
    LEAST_WINDOW,
    Sheet,
    correction_notices,
    factor_text,
    head_block,
    page,
    sheets,
    window_below,
)
from jigtemplates.processes.paper_single import CLEAR, Arrangement, arrangements, fits, whole
from jigtemplates.processes.paper_text import Block, info_block
from jigtemplates.processes.paper_tilepage import GUTTER, edges_block, tile_window
from jigtemplates.processes.paper_tiles import (
    PAD,
    Grid,
    Mark,
    cross_hairs,
    diagonal,
    make_grid,
    marks_on,
    needed,
)

if TYPE_CHECKING:
    from jigtemplates.byhand import ByHand
    from jigtemplates.processes.paper_plan import PlanPages

__all__ = ["PaperSize", "Pattern", "PatternNotes", "lay_out"]

#: Sizes of the notes, em in mm, tried in this order (chosen: 8 pt and 7 pt; smaller is no help in a shop).
NOTE_SIZES = (2.8, 2.5)
#: More tiles than this are refused (chosen: nobody tapes a hundred sheets true).
MOST_TILES = 100


@dataclass(frozen=True)
class _Job:
    """What is laid out, checked and tidied."""

    drawing: Drawing
    inks: tuple[Ink, ...]
    notes: PatternNotes
    paper: PaperSize
    correction: tuple[float, float]
    mirrored: bool
    pens: Pens
    by_hand: "ByHand | None"

    def head(self, sheet: Sheet, name: str, number: str, extra: tuple[str, ...] = ()) -> Block:
        """The header of one page."""
        notices = (*correction_notices(self.correction), *extra)
        return head_block(self.notes, notices, self.mirrored, sheet.area.width, name, number)

    def info(self, size: float) -> Callable[[float], Block]:
        """Facts, legend and cautions as a block of a width."""
        samples = legend(self.drawing, self.pens)
        return lambda width: info_block(self.notes, samples, width, size)

    def plan(self, sheet: Sheet) -> "PlanPages | None":
        """How the plate is made by hand, where that is wanted: the last pages."""
        if self.by_hand is None:
            return None
        from jigtemplates.processes.paper_plan import plan_pages

        return plan_pages(self.by_hand, self.notes, correction_notices(self.correction), self.mirrored, sheet)

    def pattern(self, sheet: Sheet, pages: tuple[Page, ...], ends: tuple[Mark, ...] = ()) -> Pattern:
        """The pages bound together."""
        points = (ends[0].at, ends[1].at) if ends else None
        return Pattern(self.notes.title, sheet.width, sheet.height, pages, self.correction, points)


def lay_out(
    drawing: Drawing,
    pens: Pens,
    notes: PatternNotes,
    paper: PaperSize,
    *,
    correction: tuple[float, float] = (1.0, 1.0),
    mirrored: bool = False,
    by_hand: "ByHand | None" = None,
) -> Pattern:
    """The pages of a drawing at true size: one where it fits, else a cover and tiles; then the plan pages.

    correction multiplies what is printed across and up the page, to make good one printer's measured
    error: 100 over what its 100 mm bar measured. mirrored says so on every page; the drawing is
    given already mirrored. by_hand is what the plan pages say; without it there are none. Roles without a
    pen are left out. Raises JigError with a line for each fault.
    """
    notes = _tidied(notes, inches=notes.inches or (by_hand is not None and by_hand.inches))
    drawing, inks, within = _inked(drawing, pens)
    faults = list(_faults(drawing, within, notes, paper, correction))
    if faults:
        raise JigError(faults)
    job = _Job(drawing, inks, notes, paper, correction, mirrored, pens, by_hand)
    return _single(job) or _tiled(job)


def _inked(drawing: Drawing, pens: Pens) -> tuple[Drawing, tuple[Ink, ...], bool]:
    """The drawing without what has no pen, its lines, and whether they lie within its size."""
    for known, looks, found in _LATELY:
        if known is drawing and looks == pens:
            return found
    inked = replace(drawing, items=tuple(i for i in drawing.items if i.role in pens))
    found = inked, drawing_inks(inked, pens), _within(inked)
    _LATELY[:] = [(drawing, dict(pens), found)]
    return found


#: All papers of a job show the same drawing.
_LATELY: list[tuple[Drawing, Pens, tuple[Drawing, tuple[Ink, ...], bool]]] = []


def _tidied(notes: PatternNotes, *, inches: bool) -> PatternNotes:
    """Composed characters, single spaces, no line breaks."""

    def tidy(text: str) -> str:
        return " ".join(unicodedata.normalize("NFC", text).split())

    facts = tuple((tidy(label), tidy(value)) for label, value in notes.facts)
    cautions = tuple(tidy(c) for c in notes.cautions)
    return PatternNotes(tidy(notes.title), facts, cautions, tidy(notes.overall), inches)


def _faults(
    drawing: Drawing, within: bool, notes: PatternNotes, paper: PaperSize, correction: tuple[float, float]
) -> Iterator[str]:
    if not drawing.items:
        yield "paper: nothing to print: no line of the drawing has a pen on paper"
    elif not within:
        yield f"paper: the drawing reaches beyond its own {drawing.width:g} x {drawing.height:g} mm"
    for axis, factor in zip(("across", "up"), correction, strict=True):
        if not 0.97 <= factor <= 1.03:
            yield (
                f"paper: correction {axis} {factor_text(factor)} is outside 0.97 to 1.03 "
                "(set the printer to 100 %, print again and measure the bar)"
            )
    for what, value, least in (("margin", paper.margin, 10.0), ("foot", paper.foot, 15.0)):
        if not value >= least:
            yield (
                f"paper {quoted(paper.name)}: {what} {value:g} mm is less than {least:g} mm "
                "(printers do not reach the edge)"
            )
    if not 10.0 <= paper.overlap <= 15.0:
        yield f"paper {quoted(paper.name)}: overlap {paper.overlap:g} mm is outside 10 to 15 mm (write 12)"
    yield from _unprintable(notes)


def _within(drawing: Drawing) -> bool:
    """Whether every line lies within (0, 0) and the drawing's size, to 1e-6 mm (rounding, chosen)."""
    boxes = [box_of(item.shape) for item in drawing.items]
    if not boxes:
        return True
    low = min(min(b.left, b.bottom) for b in boxes)
    return (
        low >= -1e-6
        and max(b.right for b in boxes) <= drawing.width + 1e-6
        and max(b.top for b in boxes) <= drawing.height + 1e-6
    )


def _unprintable(notes: PatternNotes) -> Iterator[str]:
    texts = [notes.title, *(t for fact in notes.facts for t in fact), *notes.cautions, notes.overall]
    lost = missing(texts)
    if lost:
        shown = ", ".join(f"{quoted(c)} (U+{ord(c):04X})" for c in lost[:8]) + (" …" if len(lost) > 8 else "")
        yield f"paper: the pattern's font cannot print {shown} (write it in Latin, Greek or Cyrillic letters)"


def _single(job: _Job) -> Pattern | None:
    """The pattern on one page, or None where drawing and notes do not fit one."""
    turns = [s for s in sheets(job.paper, job.correction, inches=job.notes.inches) if s.fits_bars]
    for size in NOTE_SIZES:
        for sheet in turns:
            head = job.head(sheet, "", "page 1 of 1")
            for way in arrangements(sheet, head, job.drawing, job.info(size)):
                if fits(job.drawing, way.room):
                    return _on_one_page(job, sheet, way)
    return None


def _on_one_page(job: _Job, sheet: Sheet, way: Arrangement) -> Pattern:
    """The pattern whole on the first page, and the plan pages."""
    plan = job.plan(sheet)
    total = 1 + (len(plan.bodies) if plan else 0)
    window = whole(job.drawing, job.inks, way.room)
    first = page(sheet, job.head(sheet, "", f"page 1 of {total}"), (way.notes,), (window,))
    return job.pattern(sheet, (first, *(plan.numbered(2, total) if plan else ())))


def _tiled(job: _Job) -> Pattern:
    """A cover and tiles, the sheet turned the way that needs fewer of them."""
    plans = [(sheet, _grid(job, sheet)) for sheet in _sheets_for_tiles(job)]
    sheet, grid = min(plans, key=lambda plan: len(plan[1].printed))
    hairs = cross_hairs(grid, job.inks)
    ends = diagonal(grid, job.inks) if len(grid.printed) > 1 else ()
    plan = job.plan(sheet)
    before = len(grid.printed) + 1
    total = before + (len(plan.bodies) if plan else 0)
    pages = {tile.name: number for number, tile in enumerate(grid.printed, 2)}
    tiles = []
    for tile in grid.printed:
        head = job.head(sheet, tile.name, f"page {pages[tile.name]} of {total}")
        marks = marks_on(tile.shown, hairs, ends)
        window = tile_window(tile, window_below(sheet, head), job.inks, marks)
        edges = edges_block(grid, tile, window.box, pages)
        tiles.append(page(sheet, head, (edges,), (window,), tile.name))
    last = plan.numbered(before + 1, total) if plan else ()
    return job.pattern(sheet, (_cover(job, sheet, grid, ends, total), *tiles, *last), ends)


def _sheets_for_tiles(job: _Job) -> list[Sheet]:
    """The ways of turning the sheet that leave room for bars and a tile; refused where there is none."""
    found = []
    for sheet in sheets(job.paper, job.correction, inches=job.notes.inches):
        window = window_below(sheet, job.head(sheet, "A1", "page 2 of 2"))
        if sheet.fits_bars and window.height >= LEAST_WINDOW:
            found.append(sheet)
    if not found:
        p = job.paper
        raise JigError(
            f"paper {quoted(p.name)}: {p.width:g} x {p.height:g} mm has no room for the calibration bars and "
            "the title (take A4, Letter or larger, or a shorter title)"
        )
    return found


def _grid(job: _Job, sheet: Sheet) -> Grid:
    """The tiles of a drawing on one way of turning the sheet."""
    drawing, overlap = job.drawing, job.paper.overlap
    window = window_below(sheet, job.head(sheet, "A1", "page 2 of 2"))
    if fits(drawing, window):
        return make_grid(drawing, (1, 1), overlap, CLEAR)
    columns = needed(drawing.width + 2 * PAD, window.width - 2 * GUTTER, overlap)
    rows = needed(drawing.height + 2 * PAD, window.height - 2 * GUTTER, overlap)
    if columns * rows > MOST_TILES:
        raise JigError(
            f"paper {quoted(job.paper.name)}: {drawing.width:g} x {drawing.height:g} mm would take "
            f"{columns * rows} pages, more than {MOST_TILES} (take a larger paper or a smaller plate)"
        )
    return make_grid(drawing, (columns, rows), overlap, PAD)


def _cover(job: _Job, sheet: Sheet, grid: Grid, ends: tuple[Mark, ...], total: int) -> Page:
    """The first page: map, steps, notes; refused where they are too long for it."""
    head = job.head(sheet, "", f"page 1 of {total}")
    length = math.dist(ends[0].at, ends[1].at) if ends else None
    steps = joining(length, inches=job.notes.inches)
    room = window_below(sheet, head)

    def picture(width: float, height: float) -> Block:
        return map_block(grid, job.inks, ends, width, height) if ends else Block(0.0)

    for size in NOTE_SIZES:
        blocks = cover_blocks(room, steps, job.info(size), picture, size)
        if blocks:
            return page(sheet, head, blocks, (), "cover")
    raise JigError(
        f"paper {quoted(job.paper.name)}: {len(job.notes.facts)} facts and "
        f"{len(job.notes.cautions)} cautions are too long for one page (shorten them, or take a larger paper)"
    )
