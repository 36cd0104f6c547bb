"""The sheet that goes with a gauge: what it shows, how it is used, where the reading is written and entered."""

from dataclasses import replace
from itertools import product

from jigtemplates.drawing import Drawing, Pens, Stroke
from jigtemplates.errors import JigError
from jigtemplates.gauges.drawing import machine_drawing
from jigtemplates.gauges.gauge import Gauge
from jigtemplates.gauges.page import APART, SIZES, blank, cautions, command, facts, head, steps
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.parameters.entries import Paper
from jigtemplates.processes.paper_drawing import pen_ink
from jigtemplates.processes.paper_page import GREY, Ink, Page, Pattern, Window
from jigtemplates.processes.paper_text import Block, paragraph, stacked
from jigtemplates.processes.setup import NO_LETTER, printable

#: Scales of the picture that are tried, and what they are called (chosen: what a rule can be laid on).
SCALES = (
    (1.0, "1 : 1, true size"),
    *((1 / part, f"1 : {part:g}") for part in (1.5, 2, 2.5, 3, 4, 5, 6, 8, 10)),
)
#: Kept free round the picture, mm.
CLEAR = 1.0


def lay_out(gauge: Gauge, pens: Pens, paper: Paper) -> Pattern:
    """One page; the picture at the largest scale that leaves the words their room.

    What the font does not have is □, as on the set-up sheet. Raises JigError where the words are too long for a page.
    """
    area = Bounds(paper.margin.mm, paper.foot.mm, paper.width.mm - paper.margin.mm, paper.height.mm - paper.margin.mm)
    drawing = machine_drawing(gauge)
    for (scale, named), size in product(SCALES, SIZES):
        above, below = _above(gauge, area.width, size), _below(gauge, area.width, size)
        caption = paragraph(f"picture {named}; cut it from the DXF or SVG file", area.width, 2.5, colour=GREY)
        used = above.height + caption.height + drawing.height * scale + 2 * CLEAR + below.height + 3 * APART
        if drawing.width * scale + 2 * CLEAR <= area.width and used <= area.height:
            return _bound(gauge, paper, area, (above, caption, below), _inks(drawing, pens, scale), (drawing, scale))
    raise JigError(
        f"{gauge.stem}: what is to be said of the gauge is too long for one page (shorten the cautions of the sheet in "
        "its profile)"
    )


def _above(gauge: Gauge, width: float, size: float) -> Block:
    title, lost = printable(gauge.title)
    about = f"{gauge.kind} gauge · how it is used · keep it with the plate"
    about += f" · {NO_LETTER}: not in this font" if lost else ""
    pairs = [(label, _clean(value)) for label, value in gauge.words.facts]
    return stacked((head(title, about, width), facts(pairs, width, size)), 0.8 * APART)


def _clean(text: str) -> str:
    return printable(text)[0]


def _below(gauge: Gauge, width: float, size: float) -> Block:
    words = gauge.words
    *first, (what, unit) = (words.reading, *filter(None, [words.second]))
    return stacked(
        (
            steps(map(_clean, words.steps), width, size),
            *(blank(f"{before}:", its_unit, size) for before, its_unit in first),
            blank(f"{what}:", f"{unit}      date ____________", size),
            command(_clean(words.enter), width, size),
            cautions(map(_clean, words.cautions), width, size),
        ),
        0.8 * APART,
    )


def _bound(
    gauge: Gauge,
    paper: Paper,
    area: Bounds,
    blocks: tuple[Block, Block, Block],
    inks: tuple[Ink, ...],
    shown: tuple[Drawing, float],
) -> Pattern:
    above, caption, below = blocks
    drawing, scale = shown
    width, height = drawing.width * scale, drawing.height * scale
    top = area.top - above.height - APART
    origin = Point(area.center.x - width / 2, top - CLEAR - height)
    window = Window(Bounds(-CLEAR, -CLEAR, width + CLEAR, height + CLEAR), origin, inks)
    under = origin.y - CLEAR
    placed = (
        above.placed(area.left, area.top),
        caption.placed(area.left, under),
        below.placed(area.left, under - caption.height - APART),
    )
    texts = tuple(text for block in placed for text in block.texts)
    page = Page("", tuple(ink for block in placed for ink in block.inks), texts, (window,))
    return Pattern(_clean(gauge.title), paper.width.mm, paper.height.mm, (page,))


def _inks(drawing: Drawing, pens: Pens, scale: float) -> tuple[Ink, ...]:
    """The lines of the drawing, made smaller where the picture is."""
    inks = [pen_ink(item.role, item.shape, pens) for item in drawing.items if item.role in pens]
    return tuple(replace(ink, shape=_scaled(ink.shape, scale)) for ink in inks)


def _scaled(shape: Outline | Stroke, scale: float) -> Outline | Stroke:
    if scale == 1.0:
        return shape
    if isinstance(shape, Outline):
        return shape.scaled(scale)
    return Stroke(tuple(Point(p.x * scale, p.y * scale) for p in shape.points))
