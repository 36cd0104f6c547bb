"""The table of passes of a set-up sheet."""

from jigtemplates.facts import step_text
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.processes.paper_page import GREY, Text, line
from jigtemplates.processes.paper_text import Block, paragraph, stacked
from jigtemplates.processes.setup_draw import LARGE, MIDDLE, SMALL, TINY, fitting
from jigtemplates.processes.setup_words import heading, is_in_inches
from jigtemplates.report import Report


def passes_block(report: Report, width: float, height: float) -> Block:
    """Depth and plunge setting of each pass; of many, the first and the last ones with the step between them."""
    depths, inches = report.pass_depths, is_in_inches(report)
    count = len(depths)
    step = step_text(depths, inches)
    about = f"{count} passes of {step}" if count > 1 else f"1 pass of {step}"
    head = stacked((heading("Passes", width), paragraph(about, width, SMALL), _columns(width, inches)), 0.4)
    room = height - head.height - 0.4
    size, pitch = next(((s, p) for s, p in _row_sizes(inches) if p * count <= room), _row_sizes(inches)[-1])
    shown = _elided(list(enumerate(depths, 1)), max(3, int(room / pitch)))
    over = report.case.plunge_depth - report.job.cut.depth
    table = (_row(row, over, width, size, pitch, inches) for row in shown)
    return stacked((head, stacked(table)), 0.4)


def _row_sizes(inches: bool) -> tuple[tuple[float, float], ...]:
    """Em of the figure and height of the row, mm, the smallest last."""
    return ((LARGE, 7.0), (LARGE, 6.2)) if inches else ((LARGE, 7.0), (LARGE, 6.2), (4.2, 5.2), (MIDDLE, 4.5))


Row = tuple[int, float]
#: Right ends of the columns of depth and plunge setting, shares of the width.
DEPTH, DEPTH_INCH, PLUNGE = 0.42, 0.355, 0.76


def _elided(all_rows: list[Row], most: int) -> list[Row | None]:
    """All rows, or the first ones, None, and the last one, most of them together."""
    if len(all_rows) <= most:
        return list(all_rows)
    return [*all_rows[: most - 2], None, all_rows[-1]]


def _columns(width: float, inches: bool) -> Block:
    def head(words: str, end: float) -> Text:
        return Text(words, end * width, -TINY, TINY, anchor="end", colour=GREY)

    texts: tuple[Text, ...] = (head("depth, in", DEPTH_INCH), head("plunge, in", PLUNGE), head("mm", 1.0))
    if not inches:
        texts = (head("depth, mm", DEPTH), head("plunge, mm", 1.0))
    return Block(3.6, (Text("no.", 0.0, -TINY, TINY, colour=GREY), *texts))


def _row(row: Row | None, over: float, width: float, size: float, pitch: float, inches: bool) -> Block:
    base = -0.36 * size - pitch / 2
    rule = (line((0.0, -pitch), (width, -pitch), 0.1, "#BBBBBB"),)
    if row is None:
        return Block(pitch, (Text("…", 0.3 * width, base, size), Text("…", 0.85 * width, base, size)), rule)
    number, depth = row
    small, words = min(size, MIDDLE), _bare(over + depth, inches)
    texts = [Text(str(number), 0.0, base, small)]
    if inches:
        texts += [
            Text(_bare(depth, True), _depth_end(inches) * width, 0.3 - pitch / 2, SMALL, anchor="end"),
            Text(_bare(depth, False), _depth_end(inches) * width, -2.5 - pitch / 2, TINY, anchor="end", colour=GREY),
            Text(words, PLUNGE * width, base, fitting(words, 0.39 * width, size, SMALL), True, "end"),
            Text(_bare(over + depth, False), width, base, TINY, anchor="end", colour=GREY),
        ]
    else:
        texts.append(Text(_bare(depth, False), _depth_end(inches) * width, base, small, anchor="end"))
        texts.append(Text(words, width, base, fitting(words, 0.5 * width, size, SMALL), True, "end"))
    return Block(pitch, tuple(texts), rule)


def _depth_end(inches: bool) -> float:
    return DEPTH_INCH if inches else DEPTH


def _bare(mm: float, inches: bool) -> str:
    return inch_short(mm).removesuffix(" in") if inches else mm_text(mm).removesuffix(" mm")
