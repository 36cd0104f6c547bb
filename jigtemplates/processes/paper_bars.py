"""The calibration bars: what tells a true-size print from a page the printer has fitted.

Each bar carries 100 mm above its line and 4 in (101.6 mm) below it, from one zero.
"""

from dataclasses import replace
from functools import lru_cache

from jigtemplates.drawing import Stroke
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Point
from jigtemplates.processes.paper_page import Ink, Text, line

INCH = 25.4  # exact, NBS Circular 572 (addendum of 1960)
#: The longer of the two scales, mm.
BAR_LENGTH = 4 * INCH
#: Room a bar takes across its length, mm: figures, ticks, line, ticks, figures.
BAR_DEPTH = 11.5
#: The bar's line above the bottom of that room, mm.
BAR_LINE = 6.0
#: Room of the upright bar with its sentence beside it, mm.
STRIP = 18.5

#: What stands at a bar, by whether inches are said first; then its lower scale is the one to measure.
SENTENCES = {
    False: "if this is not 100.0 mm, do not use this page",
    True: "if this is not 4.00 in (101.6 mm), do not use this page",
}

TICK = 0.15  # mm; chosen: a rule is read to 0.1 mm against it
FIGURE = 2.3  # em of the figures, mm

Placed = tuple[tuple[Ink, ...], tuple[Text, ...]]


def bar() -> Placed:
    """A level bar with its zero at (0, 0)."""
    return _ticks(), _figures()


def _ticks() -> tuple[Ink, ...]:
    up = [(10.0 * i, 3.2 if i % 5 == 0 else 2.0) for i in range(11)]
    down = [(INCH * i / 4, -3.2 if i % 4 == 0 else -2.0 if i % 2 == 0 else -1.3) for i in range(17)]
    ticks = (line((x, 0.0), (x, y), TICK) for x, y in up + down)
    return (line((0.0, 0.0), (BAR_LENGTH, 0.0), TICK), *ticks)


def _figures() -> tuple[Text, ...]:
    above = (("0", 0.0), ("50", 50.0), ("100 mm", 100.0))
    below = (("0", 0.0), *((str(i), INCH * i) for i in (1, 2, 3)), ("4 in", BAR_LENGTH))
    return (
        *(Text(string, x, 3.7, FIGURE, anchor="middle") for string, x in above),
        *(Text(string, x, -5.4, FIGURE, anchor="middle") for string, x in below),
    )


@lru_cache(maxsize=16)  # they stand at the same place of every page of a size
def across(x: float, y: float) -> Placed:
    """The level bar with its zero at (x, y)."""
    inks, texts = bar()
    return tuple(_shifted(i, x, y, False) for i in inks), tuple(t.moved(x, y) for t in texts)


@lru_cache(maxsize=16)
def upright(x: float, y: float, inches: bool = False) -> Placed:
    """The bar standing on its zero at (x, y), millimetres on its left, its sentence on the right."""
    inks, texts = bar()
    turned = (replace(t, x=x - t.y, y=y + t.x, angle=90) for t in texts)
    sentence = Text(SENTENCES[inches], x + 9.4, y, 2.5, bold=True, angle=90)
    return tuple(_shifted(i, x, y, True) for i in inks), (*turned, sentence)


def _shifted(ink: Ink, x: float, y: float, turned: bool) -> Ink:
    assert isinstance(ink.shape, Stroke)
    places = ((-p.y, p.x) if turned else p for p in ink.shape.points)
    return replace(ink, shape=Stroke(tuple(Point(x + px, y + py) for px, py in places)))


@lru_cache(maxsize=16)
def beside_bar(x: float, y: float, width: float, inches: bool = False) -> Placed:
    """The sentence and the blanks for what was measured, in the room right of a level bar's line at y."""
    size, said = 2.6, SENTENCES[inches]
    sentence = min(size, size * width / text_width(said, size, bold=True))
    inks, texts = _blanks(x, y - 5.0, width, size, "in" if inches else "mm")
    return inks, (
        Text(f"Measure both bars{', 0 to 4 in,' if inches else ''} with a rule:", x, y + 3.2, size),
        Text(said, x, y - 0.4, sentence, bold=True),
        *texts,
    )


def _blanks(x: float, y: float, width: float, size: float, unit: str) -> Placed:
    """`across ____ mm   up ____ mm`, as wide as width."""
    inks, texts = [], []
    space = 0.8
    words = ("across", unit, "up", unit)
    rule = (width - sum(text_width(w, size) for w in words) - 7 * space) / 2
    for i, word in enumerate(words):
        texts.append(Text(word, x, y, size))
        x += text_width(word, size) + (space if i % 2 == 0 else 3 * space)
        if i % 2 == 0:
            inks.append(line((x, y - 0.4), (x + rule, y - 0.4), 0.15))
            x += rule + space
    return tuple(inks), tuple(texts)
