"""The band of key figures of a set-up sheet, to be read at arm's length."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jigtemplates.cautions import fastest
from jigtemplates.fonts import text_width
from jigtemplates.lengths import Length, Measured, inch_short, is_on_rule, mm_text, rule_text, sold_as
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Bit, Bushing, Job
from jigtemplates.processes.paper_page import GREY, Ink, Text, line
from jigtemplates.processes.paper_text import Block
from jigtemplates.processes.setup_dims import measured_line
from jigtemplates.processes.setup_draw import SMALL, THICK, THIN, TINY, fitting
from jigtemplates.processes.setup_words import is_in_inches
from jigtemplates.report import Report

#: Em of the plunge setting and of the other figures, mm: 30 pt and 18 pt (chosen).
HUGE, BIG = 10.5, 6.4
#: Height of the band and shares of its width, mm.
HEIGHT, SHARES = 21.5, (0.27, 0.175, 0.175, 0.18, 0.20)


@dataclass(frozen=True, slots=True)
class Figure:
    """A key figure: what it is, the figure, what stands below it."""

    name: str
    figure: str
    below: str
    #: em of the figure, mm
    size: float = BIG


def key_figures(report: Report) -> tuple[Figure, ...]:
    """Plunge setting, bit, bushing, speed, feed."""
    job, depth = report.job, report.case.plunge_depth
    speed = fastest(report.case.bit)
    inches = is_in_inches(report)
    return (
        Figure("PLUNGE SETTING", *_plunge(depth, inches), HUGE),
        Figure("BIT", sold_as(job.tools.bit.diameter).text, _below(job.tools.bit, inches)),
        Figure("BUSHING", sold_as(job.tools.bushing.diameter).text, _below(job.tools.bushing, inches)),
        Figure("SPEED, AT MOST", f"{speed:,}" if speed else "see maker", "rpm"),
        _feed(job),
    )


def _plunge(depth: float, inches: bool) -> tuple[str, str]:
    """The plunge setting and what stands below it: of inches that are on no rule the nearest that are."""
    if not inches:
        return mm_text(depth), "base to end of bit"
    below = "base to end of bit" if is_on_rule(depth) else f"about {rule_text(depth)} in"
    return inch_short(depth), f"{mm_text(depth)}; {below}"


def _feed(job: Job) -> Figure:
    if is_outside(job.cut):
        return Figure("FEED", "counter-clockwise", "round the outside", SMALL + 1.2)
    return Figure("FEED", "clockwise", "inside the opening")


def _below(tool: Bit | Bushing, inches: bool) -> str:
    """The size in the other unit, or the measured one."""
    diameter: Length = tool.diameter
    if isinstance(diameter, Measured):
        return f"measured {measured_line(diameter, inches)}"
    return mm_text(diameter.mm, 3) if diameter.is_inch else inch_short(diameter.mm)


def band(figures: Sequence[Figure], width: float) -> Block:
    """The key figures in a row between two lines, the first one widest."""

    inks: list[Ink] = [line((0.0, y), (width, y), THICK) for y in (0.0, -HEIGHT)]
    texts: list[Text] = []
    x = 0.0
    for figure, share in zip(figures, SHARES, strict=True):
        room = share * width
        if x:
            inks.append(line((x, -3.0), (x, 3.0 - HEIGHT), THIN, GREY))
        texts.extend(_figure(figure, x + (2.6 if x else 0.0), room - 4.0))
        x += room
    return Block(HEIGHT, tuple(texts), tuple(inks))


def _figure(figure: Figure, x: float, room: float) -> Iterator[Text]:
    yield Text(figure.name, x, -5.2, TINY, True, colour=GREY)
    size = fitting(figure.figure, room, figure.size, SMALL)
    yield Text(figure.figure, x, 6.6 - HEIGHT, size, True)
    below = figure.below
    if text_width(below, TINY) > room:  # the other unit stands in the set as well
        below = below.partition(" = ")[0]
    yield Text(shortened(below, room, TINY), x, 2.3 - HEIGHT, TINY)


def shortened(text: str, room: float, size: float, *, bold: bool = False) -> str:
    """The text, or as much of it as fits the room with "…" behind it."""
    if text_width(text, size, bold=bold) <= room:
        return text
    while text and text_width(f"{text}…", size, bold=bold) > room:
        text = text[:-1]
    return f"{text.rstrip()}…"
