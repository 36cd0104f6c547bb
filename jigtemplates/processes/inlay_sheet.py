"""The sheet of an inlay: recess and plug from one opening, both set-ups, and one laid over the other; one page.

It comes beside the set-up sheet, on the same paper and in the same manner.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from jigtemplates.cautions import fastest
from jigtemplates.checks.depth import passes
from jigtemplates.checks.finding import Case
from jigtemplates.facts import passes_text
from jigtemplates.geometry.outline import Bounds, Point
from jigtemplates.inlay import Fit, Verdict
from jigtemplates.inlay.plug import THROUGH, choice_of, fit_of, plug_case
from jigtemplates.inlay.rows import inlay_rows
from jigtemplates.inlay.words import CAUTIONS, said
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.processes.inlay_plan import NONE, Scene, overlay_plan, plan_height, plan_scale, plug_plan, recess_plan
from jigtemplates.processes.inlay_section import Stack, sections
from jigtemplates.processes.paper_page import BLACK, GREY, Page, Pattern, Text, Window
from jigtemplates.processes.paper_text import Block, beside, bullet, paragraph, stacked, wrapped
from jigtemplates.processes.setup import APART, FOOT, MARGIN, NEAR, Part, paper_for, printable
from jigtemplates.processes.setup_band import Figure, band
from jigtemplates.processes.setup_draw import SMALL, Picture
from jigtemplates.processes.setup_notes import tool_words
from jigtemplates.processes.setup_words import BETWEEN, facts_block, fitted, is_in_inches, titled
from jigtemplates.report import Report

#: The pictures take at most this height, mm, plans and sections (chosen).
MOST_PLAN, MOST_SECTIONS = 78.0, 88.0
#: The two rows of pictures are at least so high, mm (chosen: smaller ones say nothing).
LEAST_ROW = 48.0
#: Share of the width for the table of both set-ups; the rest is for the cautions.
TABLE_SHARE = 0.58


#: The verdict in the band of figures; what is too large is stopped.
_VERDICTS = {Verdict.FITS: "fits", Verdict.TIGHT: "tight", Verdict.LOOSE: "loose"}


@dataclass(frozen=True)
class InlaySheet:
    """The page, and where its parts are."""

    pattern: Pattern
    parts: tuple[Part, ...]


def lay_out_inlay(report: Report) -> InlaySheet:
    """The sheet of a job with [inlay] that can be made."""
    width, height = paper_for(report)
    area = Bounds(MARGIN, FOOT, width - MARGIN, height - MARGIN)
    laid = report.case.inlay
    assert laid is not None  # a job without an opening is stopped
    scene, inches = Scene(report.template.opening, fit_of(report.job), laid), is_in_inches(report)
    head, figures = _head(report, area.width), band(_figures(report, scene.fit, inches), area.width)
    top = area.top - head.height - figures.height - NEAR - APART
    words = _words(report, scene.fit, inches, area.width, top - area.bottom - 2 * (LEAST_ROW + APART))
    pictures = _pictures(report, scene, Bounds(area.left, area.bottom + words.height + APART, area.right, top), inches)
    low = min(picture.cell.bottom for picture in pictures) - APART
    places = (
        ("head", head, area.top),
        ("figures", figures, area.top - head.height - NEAR),
        ("words", words, low),
    )
    return _bound(report, area, (width, height), places, pictures)


def _head(report: Report, width: float) -> Block:
    title, _ = printable(report.job.title)
    sizes = (7.2, 6.0, 4.94)
    size = next((s for s in sizes if len(wrapped(title, width, s, True)) <= (1 if s > 6.5 else 2)), sizes[-1])
    about = "inlay: recess and plug from one template · keep it with the template"
    parts = [paragraph(line, width + 1.0, size, bold=True) for line in wrapped(title, width, size, True)[:2]]
    mirrored = "MIRRORED · " if report.job.make.mirrored else ""
    return stacked([*parts, paragraph(f"{mirrored}{about}", width, SMALL, colour=GREY)])


def _figures(report: Report, fit: Fit, inches: bool) -> tuple[Figure, ...]:
    """Gap, both plunge settings, speed, feed."""
    plug = plug_case(report.case)
    speed = fastest(max(fit.recess.bit, fit.plug.bit))
    line = inch_short(fit.glue_line) if inches else mm_text(fit.glue_line, 3)
    wanted = f"glue line wanted: {line if fit.glue_line else 'none'}, {_VERDICTS[fit.verdict]}"
    return (
        Figure("GAP A SIDE", _figure(fit.gap, inches, 3), wanted, 9.0),
        Figure("RECESS, PLUNGE", _figure(report.case.plunge_depth, inches), _other(report.case.plunge_depth, inches)),
        Figure("PLUG, PLUNGE", _figure(plug.plunge_depth, inches), _other(plug.plunge_depth, inches)),
        Figure("SPEED, AT MOST", f"{speed:,}" if speed else "see maker", "rpm"),
        Figure("FEED", "clockwise", "both times, inside"),
    )


def _figure(mm: float, inches: bool, digits: int = 2) -> str:
    if mm < NONE:
        return "none"
    return inch_short(mm) if inches else mm_text(mm, digits)


def _other(mm: float, inches: bool) -> str:
    return mm_text(mm) if inches else "base to end of bit"


def _pictures(report: Report, scene: Scene, room: Bounds, inches: bool) -> tuple[Picture, ...]:
    """Recess and plug side by side; below them one over the other, and the sections."""
    half = (room.width - APART) / 2
    right = room.left + half + APART
    row = min(MOST_PLAN, (room.height - APART) / 2)
    scale = plan_scale(scene, half, row)
    high = plan_height(scene, scale, half)
    low = room.top - high
    below = low - APART
    deep = max(high, min(MOST_SECTIONS, below - room.bottom))
    return (
        recess_plan(scene, Bounds(room.left, low, room.left + half, room.top), scale),
        plug_plan(scene, Bounds(right, low, room.right, room.top), scale),
        overlay_plan(scene, Bounds(room.left, below - deep, room.left + half, below), scale, inches=inches),
        sections(_stack(report, scene.fit), Bounds(right, below - deep, room.right, below), inches=inches),
    )


def _stack(report: Report, fit: Fit) -> Stack:
    plate, depth = report.job.plate, max(cut.depth for cut in report.job.cuts)
    return Stack(fit, plate.thickness, plate.stand_off, depth, choice_of(report.job).thickness)


def _words(report: Report, fit: Fit, inches: bool, width: float, height: float) -> Block:
    """Both set-ups in a table, what comes out, and the cautions beside them."""
    left, right = TABLE_SHARE * width - APART, (1 - TABLE_SHARE) * width

    def table(size: float) -> list[Block]:
        facts = facts_block("What comes out", _results(report, fit, inches), left, size)
        return [titled("Both set-ups", _table(report, inches, left, size), left), facts]

    def cautions(size: float) -> list[Block]:
        bullets = stacked((bullet(caution, right, size) for caution in CAUTIONS), 0.2 * size)
        return [titled("Before you rout the plug", bullets, right)]

    return beside(_in(table, height), _in(cautions, height), left + APART)


def _in(make: Callable[[float], list[Block]], height: float) -> Block:
    """In letters no larger than SMALL, for the pictures' sake."""
    return fitted(lambda size: make(min(size, SMALL)), height, BETWEEN)


def _table(report: Report, inches: bool, width: float, size: float) -> Block:
    """A row for each setting, recess and plug beside each other."""
    label = 6.2 * size
    column = (width - label) / 2

    def row(name: str, first: str, second: str, *, is_head: bool = False) -> Block:
        colour = GREY if is_head else BLACK
        left, right = (paragraph(text, column - 2.0, size, bold=not is_head, colour=colour) for text in (first, second))
        return beside(paragraph(name, label - 1.0, size, colour=GREY), beside(left, right, column), label)

    rows = [row("", "recess", "plug", is_head=True), *(row(*texts) for texts in _settings(report, inches))]
    return stacked(rows, 0.2 * size)


def _settings(report: Report, inches: bool) -> Iterator[tuple[str, str, str]]:
    job, plug, choice, fit = report.job, plug_case(report.case), choice_of(report.job), fit_of(report.job)
    yield "bit", tool_words(job.tools.bit, inches), tool_words(choice.bit, inches)
    yield "bushing", tool_words(job.tools.bushing, inches), tool_words(choice.bushing, inches)
    inside, beyond = (f"{said(mm, inches)} inside the opening's" for mm in (fit.recess.inside, fit.plug.beyond))
    yield "edge", inside, beyond
    into = f"{said(choice.thickness, inches)} stock, {said(THROUGH, inches, 1)} into the board"
    yield "depth", said(job.cut.depth, inches), into
    yield "passes", passes_text(passes(report.case), inches), passes_text(passes(plug), inches)
    yield "plunge", _plunges(report.case, inches), _plunges(plug, inches)
    if any(region.holes for region in report.template.opening):
        round_it = "counter-clockwise round the piece within the opening"
        yield "feed", round_it, round_it


def _plunges(case: Case, inches: bool) -> str:
    """The plunge setting of each pass, from the base: "1: 9.3 mm; 2: 11.7 mm"."""
    over = case.plunge_depth - case.job.cut.depth
    text = inch_short if inches else mm_text
    return "; ".join(f"{number}: {text(over + depth)}" for number, depth in enumerate(passes(case), 1))


def _results(report: Report, fit: Fit, inches: bool) -> Iterable[tuple[str, str]]:
    """What laying one over the other says, and the radii."""
    names = {"recess made", "plug made", "laid over"}
    found = [(label, value) for label, value in inlay_rows(report) if label in names]
    convex, concave = said(fit.smallest_convex, inches), said(fit.smallest_concave, inches)
    radii = f"{convex} where the inlay points out, {concave} where it points in"
    return [*found, ("least radius", radii)]


def _bound(
    report: Report,
    area: Bounds,
    paper: tuple[float, float],
    places: Iterable[tuple[str, Block, float]],
    pictures: tuple[Picture, ...],
) -> InlaySheet:
    """The page from its parts."""
    blocks = [(name, block.placed(area.left, top), top) for name, block, top in places]
    parts = [Part(name, Bounds(area.left, top - block.height, area.right, top)) for name, block, top in blocks]
    parts += [Part(f"picture {number}", picture.cell) for number, picture in enumerate(pictures, 1)]
    page = Page(
        "",
        tuple(ink for _, block, _ in blocks for ink in block.inks),
        tuple(_clean(text) for _, block, _ in blocks for text in block.texts),
        tuple(_window(picture) for picture in pictures),
    )
    return InlaySheet(Pattern(printable(report.job.title)[0], *paper, (page,)), tuple(parts))


def _clean(text: Text) -> Text:
    string, lost = printable(text.string)
    return replace(text, string=string) if lost else text


def _window(picture: Picture) -> Window:
    return Window(picture.cell, Point(0.0, 0.0), tuple(picture.inks), tuple(_clean(t) for t in picture.texts))
