"""The second page of a set-up sheet: what the cut may come out at, from what, and how a tenon then fits.

A picture of the bands, tables of sizes, errors and fits, what to do first; nothing of it is needed while routing.
"""

from collections.abc import Iterator

from jigtemplates.budget import Budget, ByProcess
from jigtemplates.budget.band import Band, Share
from jigtemplates.budget.doubts import CENTRE_NAME, EDGE_NAMES, small_text
from jigtemplates.budget.words import (
    Group,
    advice,
    band_text,
    groups,
    limits_text,
    most_text,
    own_size,
    percent,
    tenon_text,
    thing,
)
from jigtemplates.byhand.table import Table
from jigtemplates.geometry.outline import Bounds
from jigtemplates.label_words import full_title
from jigtemplates.parameters.job import Job
from jigtemplates.processes.paper_page import GREY
from jigtemplates.processes.paper_table import TITLE as TABLE_TITLE
from jigtemplates.processes.paper_table import is_squeezed, laid_out
from jigtemplates.processes.paper_text import Block, bullet, paragraph, stacked
from jigtemplates.processes.setup_band import shortened
from jigtemplates.processes.setup_chart import chart_height, charts
from jigtemplates.processes.setup_draw import SMALL, TINY, Picture
from jigtemplates.processes.setup_words import WORD_SIZES, cut_off
from jigtemplates.report import Report
from jigtemplates.wanted import edge_of_work, is_drawn

#: Em of the page's title, mm; between its parts, and between its head and the picture.
TITLE, APART, NEAR = 6.0, 4.0, 2.5

HOW = (
    "95 % of cuts: every error as likely anywhere within its limits, and independent of the others (after JCGM "
    "100). At worst: all of them at their limits at once{turned}.{more} Wood that swells or shrinks is not in it: a "
    "test cut in scrap of the same wood comes first."
)
KERF = " The laser's kerf is not in the file; here it is taken that the shop allows for it."
EDGE = " The edge of the work is taken to lie exactly under its line."
CORNER = " In a sharp corner of the drawing an error counts more than at a side."
TURNED = ", the router turned half round between one edge and the other"


def fit_blocks(report: Report, width: float, height: float) -> tuple[list[tuple[str, Block]], float]:
    """Name and block of each part below the picture, in the largest letters that fit; and the picture's height, mm.

    Where even the smallest are too high, the last of several cuts are left out, and at last the end of what helps.
    """
    budget = report.budget
    assert budget is not None  # a job without an opening is stopped
    found = groups(budget)
    picture = chart_height(found)
    head, room = _head(report, width), height - picture - NEAR
    blocks: list[tuple[str, Block]] = []
    every = len(report.parts) - 1
    table = _sizes(report, found, every)
    for size, others in _choices(every):
        if size > SMALL and is_squeezed(table, width, size):
            continue  # smaller letters are easier to read than words of a line each
        blocks = [("fit head", head), *_blocks(report, found, others, width, size)]
        if _height(blocks) <= room:
            return blocks, picture
    name, last = blocks[-1]
    return [*blocks[:-1], (name, cut_off(last, room - _height(blocks[:-1]) - APART))], picture


def _choices(others: int) -> Iterator[tuple[float, int]]:
    """Sizes of letters and numbers of further cuts to try."""
    yield from ((size, others) for size in WORD_SIZES)
    yield from ((WORD_SIZES[-1], fewer) for fewer in range(others - 1, -1, -1))


def _height(blocks: list[tuple[str, Block]]) -> float:
    return sum(block.height for _, block in blocks) + APART * (len(blocks) - 1)


def fit_pictures(report: Report, cell: Bounds) -> tuple[Picture, ...]:
    """A chart for each size of the first cut, side by side."""
    assert report.budget is not None
    return charts(report.budget, groups(report.budget), cell, _first(report))


def _first(report: Report) -> str:
    """ "cut 1" where there are others; else nothing."""
    return "cut 1" if len(report.parts) > 1 else ""


def _head(report: Report, width: float) -> Block:
    assert report.budget is not None
    title = paragraph(f"Fit: what the {thing(report.budget)} may come out at", width, TITLE, bold=True)
    about = shortened(f"{full_title(report.job)} · last page of the set-up sheet", width, SMALL)
    return stacked((title, paragraph(about, width + 1.0, SMALL, colour=GREY)))


def _blocks(
    report: Report, found: tuple[Group, ...], others: int, width: float, size: float
) -> Iterator[tuple[str, Block]]:
    budget = report.budget
    assert budget is not None
    yield "sizes", laid_out(_sizes(report, found, others), width, size).whole
    of_first = f", {_first(report)}" if len(report.parts) > 1 else ""
    yield "errors", laid_out(_errors(budget, found, of_first), width, size).whole
    for number, fits in _tenon_budgets(report, others):
        table = _fits(fits, groups(fits), f", cut {number}" if report.job.more_tenons else "")
        yield f"tenon fit {number}" if number > 1 else "tenon fit", laid_out(table, width, size).whole
    heading = paragraph("What helps most", width, TABLE_TITLE * size, bold=True)
    bullets = stacked((heading, *(bullet(words, width, size) for words in advice(budget))), 0.2 * size)
    how = _how(budget.job)
    yield "helps", stacked((bullets, paragraph(how, width, TINY, colour=GREY)), 2.0)


def _how(job: Job) -> str:
    """What the figures mean, and what is not in them."""
    said = (
        (KERF, "laser" in job.make.targets and not job.make.kerf),
        (EDGE, edge_of_work(job.cut) is not None),
        (CORNER, is_drawn(job.cut)),
    )
    more = "".join(words for words, applies in said if applies)
    return HOW.format(turned=TURNED if job.fit.turned else "", more=more)


def _sizes(report: Report, found: tuple[Group, ...], others: int) -> Table:
    """The sizes of the first cut, and of so many others."""
    job, parts = report.job, report.parts
    first = f"{_first(report)}, " if len(parts) > 1 else ""
    rows = [(f"{first}{by}", *row[1:]) for by, one in found for row in _size_rows(by, one, job)]
    for number, part in enumerate(parts[1 : others + 1], 2):
        made = () if part.budget is None else groups(part.budget)
        rows += [(f"cut {number}, {by}", *row[1:]) for by, one in made for row in _size_rows(by, one, job)]
    left = len(parts) - 1 - others
    notes = (f"… and {left} more {'cut' if left == 1 else 'cuts'}: see jigtemplates check",) if left else ()
    assert report.budget is not None
    what = thing(report.budget)
    header = (_made_by(report.budget), "size", "predicted", "95 % of cuts", "at worst", "most from")
    return Table(f"The {what}" if len(parts) == 1 else f"The {what}s", header, tuple(rows), notes)


def _made_by(budget: Budget) -> str:
    return "pattern made by" if budget.is_outside else "opening made by"


def _size_rows(by: str, one: ByProcess, job: Job) -> Iterator[tuple[str, ...]]:
    for band in one.bands:
        yield (
            by,
            band.size.name + (", trapped" if band.size.trapped else ""),
            own_size(band.size.predicted, job),
            band_text(band.likely, job),
            band_text(band.worst, job),
            most_text(band),
        )


def _errors(budget: Budget, found: tuple[Group, ...], of_first: str) -> Table:
    by, first = found[0]
    names = [band.size.name for band in first.bands]
    header = ("error", "how well it is known", *(text for name in names for text in (f"moves the {name}", "share")))
    rows: list[tuple[str, ...]] = []
    for name in _names(first):
        makers = found if name in EDGE_NAMES else found[:1]
        rows += [_error_row(name, maker, one, budget.job) for maker, one in makers]
    note = f"Shares of the whole uncertainty: {by}. Those of another edge stand in a budget of its own."
    return Table(
        f"Where it comes from{of_first}",
        header,
        tuple(rows),
        (note if len(found) > 1 else "Shares of the whole uncertainty.",),
    )


def _names(one: ByProcess) -> list[str]:
    """Of every error in any of the sizes, in their order; that of the bushing off centre stands last."""
    names = dict.fromkeys(share.name for band in one.bands for share in band.shares)
    return [*(name for name in names if name != CENTRE_NAME), CENTRE_NAME]


def _error_row(name: str, by: str, one: ByProcess, job: Job) -> tuple[str, ...]:
    cells = [(band, next((share for share in band.shares if share.name == name), None)) for band in one.bands]
    known = next(share.known for _, share in cells if share is not None)
    known = f"{by}: {known}" if name in EDGE_NAMES else known
    return (name, known, *(text for band, share in cells for text in _moved(band, share, job)))


def _moved(band: Band, share: Share | None, job: Job) -> tuple[str, str]:
    """How far an error moves a size, and its share; a dash where it has none."""
    if share is None or not share.up + share.down:
        return ("–", "–")
    up = small_text(share.up, job)
    return (f"± {up}" if share.down else f"0 to + {up}", percent(band.part(share)))


def _tenon_budgets(report: Report, others: int) -> Iterator[tuple[int, Budget]]:
    """Of the first cut, and of so many others those that have tenons of their own, where a tenon's fit is known."""
    for number, part in enumerate(report.parts[: others + 1], 1):
        budget = part.budget
        if budget is not None and budget.tenon is not None and (number == 1 or part.job.tenon is not None):
            yield number, budget


def _fits(budget: Budget, found: tuple[Group, ...], of_cut: str) -> Table:
    header = (_made_by(budget), "too tight", "good", "too loose", "clearance at worst")
    rows = tuple(_fit_row(by, one, budget.job) for by, one in found)
    return Table(f"A tenon {tenon_text(budget)}{of_cut}", header, rows, (f"{limits_text(budget)}.",))


def _fit_row(by: str, one: ByProcess, job: Job) -> tuple[str, ...]:
    assert one.fit is not None
    chances = (one.fit.too_tight, one.fit.good, one.fit.too_loose)
    low, high = (small_text(mm, job) for mm in one.fit.clearance)
    return (by, *(percent(chance) for chance in chances), f"{low} to {high}")
