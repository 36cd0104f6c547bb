"""The set-up sheet: a page to hang over the bench and to keep with the template, and one behind it about the fit.

Key figures in a band, a section and a plan to scale, and below them the table of passes, the settings and what to
look at first. It is laid out for A4 or Letter, whichever the job's papers are like.
"""

import unicodedata
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache, partial

from jigtemplates.fonts import missing
from jigtemplates.geometry.outline import Bounds, Point
from jigtemplates.label_words import full_title
from jigtemplates.opening import least_side
from jigtemplates.outside import is_outside
from jigtemplates.processes.paper_page import GREY, Page, Pattern, Text, Window
from jigtemplates.processes.paper_text import Block, paragraph, stacked, wrapped
from jigtemplates.processes.setup_band import band, key_figures
from jigtemplates.processes.setup_budget import APART as FIT_APART
from jigtemplates.processes.setup_budget import fit_blocks, fit_pictures
from jigtemplates.processes.setup_draw import SMALL, TINY, Picture
from jigtemplates.processes.setup_first import at_first_place
from jigtemplates.processes.setup_notes import (
    Facts,
    cautions_block,
    fence_facts,
    findings_block,
    set_facts,
    short_findings,
    tenon_facts,
)
from jigtemplates.processes.setup_passes import passes_block
from jigtemplates.processes.setup_plan import plan, plan_height, plan_scale
from jigtemplates.processes.setup_section import draw
from jigtemplates.processes.setup_stack import Stack, layout, section_height
from jigtemplates.processes.setup_words import BETWEEN, WORD_SIZES, facts_block, fitted, is_in_inches
from jigtemplates.report import Report
from jigtemplates.wanted import cut_text

#: A4 (ISO 216) and Letter (ASME Y14.1), upright, mm.
A4, LETTER = (210.0, 297.0), (215.9, 279.4)
#: Left free at the sides and the top, and at the foot, mm (as paper patterns do).
MARGIN, FOOT = 10.0, 15.0
#: Between the parts of the page, mm.
APART, NEAR = 5.0, 2.5
#: The tenon stock stands below the passes where it leaves them this much, mm (chosen: six of them).
LEAST_PASSES = 45.0
#: Em of its letters, mm, the smallest last.
TENON_SIZES = (3.3, SMALL, TINY)
#: The pictures take at least and at most this height, mm (chosen).
LEAST_PICTURES, MOST_PICTURES = 97.0, 135.0
#: Words that take more than this part of their room are set anew where the pictures leave them more (chosen: shorter
#: ones have their largest letters already).
TIGHT = 0.9
#: Share of the width for the section; the rest is the plan's.
SECTION_SHARE = 0.53
#: Shares of the width for passes, settings and what to look at.
COLUMNS = (0.28, 0.383, 0.337)
#: Stands for a character the font does not have.
NO_LETTER = "□"


@dataclass(frozen=True)
class Part:
    """A part of the page and the room it takes; parts never overlap."""

    name: str
    box: Bounds


@dataclass(frozen=True)
class SetupSheet:
    """The page, and where its parts are."""

    pattern: Pattern
    parts: tuple[Part, ...]
    #: scales of section and plan, paper over real
    section_scale: float
    plan_scale: float
    #: parts of the last page, which says what the cut may come out at
    fit_parts: tuple[Part, ...] = ()


def paper_for(report: Report) -> tuple[float, float]:
    """A4 or Letter: the job's first paper where it is one of them, else its kin (inch papers: Letter)."""
    papers = report.job.make.papers
    for paper in papers:
        size = (paper.width.mm, paper.height.mm)
        if size in (A4, LETTER):
            return size
    return LETTER if papers and papers[0].width.is_inch else A4


def lay_out_setup(report: Report) -> SetupSheet:
    """The set-up sheet of a job that can be made; a page for each cut that differs, and one about the fit.

    Parts and scales are those of the first page.
    """
    sheets = [_lay_out_page(*page, number) for number, page in enumerate(_fenced(report), 1)]
    fit, fit_parts = _fit_page(report)
    pages = (*(sheet.pattern.pages[0] for sheet in sheets), fit)
    return replace(sheets[0], pattern=replace(sheets[0].pattern, pages=pages), fit_parts=fit_parts)


def _fenced(report: Report) -> Iterator[tuple[Report, Facts, Report | None]]:
    """A report for each cut, what is said of fence and stop, and the first one's report where that shows them."""
    first, *others = report.parts
    yield first, fence_facts(first), None
    if others:
        from jigtemplates.processes.setup_fence import at_same_fence  # most templates have one cut

        yield from (at_same_fence(first, part) for part in others)


def _fit_page(report: Report) -> tuple[Page, tuple[Part, ...]]:
    """The last page: its head, the charts, and tables and words below them."""
    width, height = paper_for(report)
    area = Bounds(MARGIN, FOOT, width - MARGIN, height - MARGIN)
    blocks, charts_height = fit_blocks(report, area.width, area.height)
    (_, head), *below = blocks
    y = area.top - head.height - NEAR
    pictures = fit_pictures(report, Bounds(area.left, y - charts_height, area.right, y))
    places = [("fit head", head, area.top)]
    y -= charts_height + FIT_APART
    for name, block in below:
        places.append((name, block, y))
        y -= block.height + FIT_APART
    placed = [block.placed(area.left, top) for _, block, top in places]
    parts = [Part(name, Bounds(area.left, top - block.height, area.right, top)) for name, block, top in places]
    parts += [Part(f"chart {number}", picture.cell) for number, picture in enumerate(pictures, 1)]
    return _page(placed, pictures), tuple(parts)


def _lay_out_page(report: Report, fence: Facts, fenced: Report | None, number: int) -> SetupSheet:
    width, height = paper_for(report)
    area = Bounds(MARGIN, FOOT, width - MARGIN, height - MARGIN)
    head, figures = _head(report, area.width, number), band(key_figures(report), area.width)
    top = area.top - head.height - figures.height - APART - NEAR
    least = top - area.bottom - LEAST_PICTURES - APART
    columns = _columns(report, fence, area.width, least)
    highest = max(block.height for block in columns)
    room = top - area.bottom - APART - highest
    first, second = _pictures(report, fenced, Bounds(area.left, top - min(MOST_PICTURES, room), area.right, top))
    left = first.cell.bottom - APART - area.bottom
    if highest > TIGHT * least and left > least:  # the pictures take less than they might
        columns = _columns(report, fence, area.width, left)
    return _bound(report, area, (width, height), (head, figures), (first, second), columns)


def _pictures(report: Report, fenced: Report | None, room: Bounds) -> tuple[Picture, Picture]:
    """Section and plan side by side; their cells end where the higher of them does."""
    inches, split = is_in_inches(report), room.left + SECTION_SHARE * room.width
    stack, right = Stack(at_first_place(report)), split + APART
    how = layout(stack, split - room.left, room.height)
    scale = plan_scale(report, room.right - right, room.height, fenced)
    high = plan_height(report, scale, room.right - right, fenced)
    low = room.top - min(room.height, max(section_height(stack, how.scale), high))
    return (
        draw(stack, how, Bounds(room.left, low, split, room.top), inches=inches),
        plan(report, Bounds(right, low, room.right, room.top), scale, inches=inches, fenced=fenced),
    )


def _head(report: Report, width: float, number: int) -> Block:
    """The title, in two lines at most; what is cut, and what the page is."""
    job = report.job
    title, lost = printable(full_title(job))
    ems = (7.2, 6.0, 4.94)
    size = next((em for em in ems if len(wrapped(title, width, em, True)) <= (1 if em > 6.5 else 2)), ems[-1])
    lines = wrapped(title, width, size, True)[:2]
    sizes = cut_text(job.cut, least=least_side(job), inches=is_in_inches(report))
    about = f"{job.cut.shape} {sizes} · set-up sheet, keep it with the template"
    if job.cut.repeat is not None:
        about = f"{job.cut.repeat.total} x {about}"
    if report.template.beside:
        about = f"CUT {number} · {about}"
    about += f" · {NO_LETTER}: not in this font" if lost else ""
    parts = [paragraph(words, width + 1.0, size, bold=True) for words in lines]
    parts.append(paragraph(f"MIRRORED · {about}" if job.make.mirrored else about, width, SMALL, colour=GREY))
    return stacked(parts)


@lru_cache(maxsize=2048)  # most words are those of the job before
def printable(text: str) -> tuple[str, bool]:
    """One line of text with □ for what the font does not have, and whether there was any."""
    tidy = " ".join(unicodedata.normalize("NFC", text).split())
    lost = missing([tidy])
    return "".join(NO_LETTER if c in lost else c for c in tidy), bool(lost)


def _columns(report: Report, fence: Facts, width: float, height: float) -> tuple[Block, Block, Block]:
    """Passes, settings, what to look at; none higher than height."""
    first, second, third = (share * width - APART for share in COLUMNS)
    edge, tenon = _edge(report, first), tenon_facts(report)
    beside = height - (edge.height + BETWEEN if edge.height else 0.0)
    passes = passes_block(report, first, beside)
    choices = [facts_block("Tenon stock", tenon, first, size) for size in TENON_SIZES] if tenon else [Block(0.0)]
    stock = next((b for b in choices if b.height + BETWEEN + passes.height <= beside), choices[-1])
    under = beside - stock.height - BETWEEN
    is_under = bool(tenon) and under >= LEAST_PASSES
    parts = [("Fence and stop", fence), ("The set", set_facts(report))]  # what is left out stands last
    parts += [("Tenon stock", tenon)] if not is_under else []

    def settings(size: float) -> list[Block]:
        return [facts_block(words, pairs, second, size) for words, pairs in parts]

    outside = is_outside(report.job.cut)
    found = partial(_found, report)
    return (
        stacked((passes_block(report, first, under), edge, stock) if is_under else (passes, edge), BETWEEN),
        fitted(settings, height, BETWEEN),
        _attention(found, third + APART, height, partial(cautions_block, outside=outside, inches=is_in_inches(report))),
    )


def _edge(report: Report, width: float) -> Block:
    """A rebated plate's edge in its holder; nothing for another plate."""
    if not report.job.plate.rebate:
        return Block(0.0)
    from jigtemplates.processes.setup_edge import edge_block

    return edge_block(report, width)


def _found(report: Report, *, tight: bool) -> list[str]:
    return [printable(words)[0] for words in short_findings(report, tight=tight)]


def _attention(
    found: Callable[..., list[str]], width: float, height: float, cautions: Callable[[float, float], Block]
) -> Block:
    """Warnings and cautions; where there are too many warnings, in fewer words (tight), and then the first ones."""
    for words, shown in _choices(found):
        for size in WORD_SIZES:
            block = stacked((findings_block(words, shown, width, size), cautions(width, size)), BETWEEN)
            if block.height <= height:
                return block
    return fitted(
        lambda size: [findings_block(found(tight=True), 0, width, size), cautions(width, size)],
        height,
        BETWEEN,
    )


def _choices(found: Callable[..., list[str]]) -> Iterator[tuple[list[str], int]]:
    """Warnings, and how many of them are said, the best first; nothing without any."""
    if whole := found(tight=False):
        yield whole, len(whole)
        tight = found(tight=True)
        yield from ((tight, shown) for shown in range(len(tight), 0, -1))


def _bound(
    report: Report,
    area: Bounds,
    paper: tuple[float, float],
    heads: tuple[Block, Block],
    pictures: tuple[Picture, Picture],
    columns: tuple[Block, Block, Block],
) -> SetupSheet:
    """The page from its parts."""
    head, figures = heads
    places = [("head", head, area.left, area.top, area.width)]
    places.append(("figures", figures, area.left, area.top - head.height - NEAR, area.width))
    x, y = area.left, pictures[0].cell.bottom - APART
    for name, block, share in zip(("passes", "settings", "attention"), columns, COLUMNS, strict=True):
        wide = share * area.width
        places.append((name, block, x, y, wide if name == "attention" else wide - APART))
        x += wide
    blocks = [block.placed(left, top) for _, block, left, top, _ in places]
    parts = [Part(name, Bounds(left, top - block.height, left + wide, top)) for name, block, left, top, wide in places]
    parts += [Part(name, picture.cell) for name, picture in zip(("section", "plan"), pictures, strict=True)]
    pattern = Pattern(printable(full_title(report.job))[0], *paper, (_page(blocks, pictures),))
    return SetupSheet(pattern, tuple(parts), pictures[0].scale, pictures[1].scale)


def _page(blocks: Iterable[Block], pictures: Iterable[Picture]) -> Page:
    """A page of blocks in their places, and of pictures."""
    blocks = tuple(blocks)
    return Page(
        "",
        tuple(ink for block in blocks for ink in block.inks),
        tuple(_clean(text) for block in blocks for text in block.texts),
        tuple(_window(picture) for picture in pictures),
    )


def _clean(text: Text) -> Text:
    string, lost = printable(text.string)
    return replace(text, string=string) if lost else text


def _window(picture: Picture) -> Window:
    """The picture in its cell of the page, where nothing reaches beyond it."""
    return Window(picture.cell, Point(0.0, 0.0), tuple(picture.inks), tuple(_clean(t) for t in picture.texts))
