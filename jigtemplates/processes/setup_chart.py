"""The picture of the budget: for each size a scale, on it the band of each way to make the opening.

A thick bar is where 95 % of cuts are, the thin line goes on to the worst; the green strip is where the tenon fits well.
"""

import math

from jigtemplates.budget import Budget
from jigtemplates.budget.band import Band
from jigtemplates.budget.words import Group
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds
from jigtemplates.lengths import MM_PER_INCH
from jigtemplates.processes.paper_page import GREY, Text
from jigtemplates.processes.setup_draw import BLUE, BRASS, GREEN, MEDIUM, SMALL, THICK, THIN, TINY, Picture, box
from jigtemplates.say import in_inches

#: Heights on the page, mm (chosen): caption, a band, the scale below.
CAPTION, ROW, SCALE = 12.5, 7.0, 7.5
#: Between two charts, for the names on the left, and free at the right end of a scale.
BETWEEN, NAMES, ASIDE = 7.0, 21.0, 4.0
#: Half the height of a bar, and of the stroke at the end of a thin line.
BAR, END = 1.7, 1.2
#: A scale has at most so many figures (chosen: they stand clear of each other).
MOST_TICKS = 7
#: The strip in which a tenon fits well: pale green, chosen so that a grey printer shows it too.
GOOD = "#D5EEE4"
#: What the lines mean.
KEY = "bar: 95 % of cuts · line: at worst · dashed: as predicted"
#: Steps of a scale, times a power of ten.
_STEPS = (1.0, 2.0, 5.0)


def chart_height(found: tuple[Group, ...]) -> float:
    """Height that the charts take, mm."""
    return CAPTION + ROW * len(found) + SCALE


def charts(budget: Budget, found: tuple[Group, ...], cell: Bounds, which: str = "") -> tuple[Picture, ...]:
    """A chart for each size of the cut, side by side in the cell; a single one in half of it.

    Of several cuts `which` says whose they are: "cut 1".
    """
    count = len(found[0][1].bands)
    width = (cell.width - BETWEEN) / 2
    lefts = [cell.left + i * (width + BETWEEN) for i in range(count)]
    return tuple(
        Chart(budget, found, i, Picture(Bounds(left, cell.bottom, left + width, cell.top)), which).drawn()
        for i, left in enumerate(lefts)
    )


class Chart:
    """One chart while it is drawn."""

    def __init__(self, budget: Budget, found: tuple[Group, ...], size: int, picture: Picture, which: str) -> None:
        """Of one of the sizes, by its number."""
        self.budget, self.found, self.picture, self.which = budget, found, picture, which
        self.bands: tuple[Band, ...] = tuple(one.bands[size] for _, one in found)
        ends = [mm for band in self.bands for mm in band.worst]
        self.good = self._good()
        ends += self.good or ()
        self.low, self.high = min(ends), max(ends)
        if self.high - self.low < 1e-6:  # nothing is in doubt
            self.low, self.high = self.low - 0.1, self.high + 0.1
        cell = self.picture.cell
        self.left, self.right = cell.left + NAMES, cell.right - ASIDE
        self.foot, self.top = cell.bottom + SCALE, cell.top - CAPTION

    def _good(self) -> tuple[float, float] | None:
        """The mortise widths in which the tenon fits well; None for another size, and without a tenon."""
        band, tenon = self.bands[0], self.budget.tenon
        if tenon is None or band is not self.found[0][1].narrow:
            return None
        tight, loose = self.budget.job.fit.limits
        return tenon.thickness + tight, tenon.thickness + loose

    def x(self, mm: float) -> float:
        """On the page."""
        return self.left + (self.right - self.left) * (mm - self.low) / (self.high - self.low)

    def drawn(self) -> Picture:
        """Everything, from the back to the front."""
        self._caption()
        self._strip()
        self._predicted()
        for i, (by, _) in enumerate(self.found):
            self._band(by, self.bands[i], self.top - i * ROW)
        self._scale()
        return self.picture

    def _caption(self) -> None:
        cell, name = self.picture.cell, self.bands[0].size.name
        unit = "in" if in_inches(self.budget.job) else "mm"
        title = f"{name}, {unit}" if not self.which else f"{self.which}: {name}, {unit}"
        self.picture.text(Text(title[0].upper() + title[1:], cell.left, cell.top - 3.2, SMALL + 0.4, True))
        self.picture.text(Text(KEY, cell.left, cell.top - 7.0, TINY, colour=GREY))

    def _strip(self) -> None:
        if self.good is None:
            return
        left, right = (self.x(mm) for mm in self.good)
        self.picture.area(box(left, self.foot, right, self.top), GOOD)
        for x in (left, right):
            self.picture.line((x, self.foot), (x, self.top), width=THIN, colour=GREEN)
        words = "tenon fits well"
        half = text_width(words, TINY) / 2
        middle = min(max((left + right) / 2, self.picture.cell.left + half), self.picture.cell.right - half)
        self.picture.text(Text(words, middle, self.top + 1.0, TINY, anchor="middle", colour=GREEN))

    def _predicted(self) -> None:
        x = self.x(self.bands[0].size.predicted)
        self.picture.line((x, self.foot), (x, self.top), width=THIN, dash=(1.2, 0.8))

    def _band(self, by: str, band: Band, top: float) -> None:
        y = top - ROW / 2
        low, high = (self.x(mm) for mm in band.worst)
        self.picture.line((low, y), (high, y), width=MEDIUM)
        for x in (low, high):
            self.picture.line((x, y - END), (x, y + END), width=MEDIUM)
        a, b = (self.x(mm) for mm in band.likely)
        self.picture.outline(box(a, y - BAR, b, y + BAR), THIN, BLUE, fill=BRASS)
        x = self.x(band.size.predicted)
        self.picture.line((x, y - BAR), (x, y + BAR), width=THICK)
        self.picture.text(Text(by, self.picture.cell.left, y - 0.27 * TINY, TINY))

    def _scale(self) -> None:
        """The line below with its figures, in the job's own unit."""
        inch = in_inches(self.budget.job)
        unit = float(MM_PER_INCH) if inch else 1.0
        self.picture.line((self.left, self.foot), (self.right, self.foot), width=MEDIUM)
        step = step_for((self.high - self.low) / unit)
        digits = max(0, -math.floor(math.log10(step) + 1e-9))
        first, last = math.ceil(self.low / unit / step - 1e-9), math.floor(self.high / unit / step + 1e-9)
        for i in range(first, last + 1):
            x = self.x(i * step * unit)
            self.picture.line((x, self.foot), (x, self.foot - 1.2), width=THIN)
            self.picture.text(Text(f"{i * step:.{digits}f}", x, self.foot - 4.4, TINY, anchor="middle"))


def step_for(span: float) -> float:
    """The finest step of 1, 2 or 5 times a power of ten with which a span has no more figures than MOST_TICKS."""
    power = 10.0 ** math.floor(math.log10(span / MOST_TICKS))
    return next(s * power for s in (*_STEPS, 10.0, 20.0) if span / (s * power) <= MOST_TICKS - 1)
