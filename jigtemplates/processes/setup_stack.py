"""What the section of a set-up sheet cuts through, and the scale and layout it is drawn with; real mm."""

import math
from dataclasses import dataclass
from functools import cached_property

from jigtemplates.fonts import text_width
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.outside import is_outside
from jigtemplates.processes.setup_draw import LARGE, SCALES
from jigtemplates.processes.setup_ray import to_edge
from jigtemplates.report import Report
from jigtemplates.say import in_inches
from jigtemplates.wanted import edge_of_work

# Rooms on the page, mm (chosen).
CAPTION = 8.5
ROW = 4.9  # one dimension above or below the drawing
LEFT, RIGHT = 22.0, 30.0  # dimensions beside it
BASE = 6.0  # what is shown of the base's thickness, which is not known
SHANK = 9.0  # what is shown of the bit above the base
BELOW = 6.5  # what is shown of the work below the cut
FLANGE = 2.2  # drawn thickness of the bushing's flange, which is not known
FLANGE_OUT = 5.0  # how far it is drawn beyond the stem where the hole in the base is not known
ASIDE, BASE_ASIDE = 7.0, 3.5  # least of the plate shown beside the opening, of the base beside its hole
GAP_KEPT = 8.5  # of an opening that is interrupted, what is kept between the bit and the other edge of the cut
FOOT = 1.0  # below the last row
OPEN = 12.0  # shown beside the bushing where there is no plate any more, real mm
STRIP = 2.4  # between the two lines that say that a part is left out


@dataclass(frozen=True)
class Stack:
    """What is cut by the section, real mm; None where a size is not known."""

    report: Report

    @cached_property
    def plate(self) -> float:
        """Thickness of the plate."""
        return self.report.job.plate.thickness

    @cached_property
    def stand_off(self) -> float:
        """Gap between plate and work."""
        return self.report.job.plate.stand_off

    @cached_property
    def depth(self) -> float:
        """Depth of the cut in the work."""
        return self.report.job.cut.depth

    @cached_property
    def room(self) -> float:
        """From the base's face to the work."""
        return self.plate + self.stand_off

    @cached_property
    def plunge(self) -> float:
        """From the base's face to the end of the bit."""
        return self.report.case.plunge_depth

    @property
    def beside_bit(self) -> float:
        """From the bit to the other edge of the cut."""
        return self.cut[1] - self.axis - self.bit / 2

    @property
    def plunge_words(self) -> str:
        """The plunge setting as it stands beside its dimension line."""
        return f"plunge {inch_short(self.plunge) if in_inches(self.report.job) else mm_text(self.plunge)}"

    @cached_property
    def bit(self) -> float:
        """Diameter of the bit."""
        return self.report.case.bit

    @cached_property
    def bushing(self) -> float:
        """Outside diameter of the bushing."""
        return self.report.case.bushing

    @cached_property
    def edge(self) -> float | None:
        """Where the work ends, across, for a cut that is open to its edge."""
        return edge_of_work(self.report.job.cut)

    def _across(self, low: float, high: float) -> tuple[float, float]:
        """A cut that is open to the edge of the work is shown with its guided side on the left."""
        return (low, high) if self.edge is None else (-high, -low)

    @cached_property
    def opening(self) -> tuple[float, float]:
        """Left and right edge of the opening, across, where it is widest."""
        if self.is_outside:
            return 0.0, self.bushing + OPEN
        boxes = [region.bounds for region in self.report.template.opening_at_rest]
        return self._across(min(b.bottom for b in boxes), max(b.top for b in boxes))

    @property
    def is_outside(self) -> bool:
        """Whether a pattern on the left is followed round its outside; across is measured from its edge then."""
        return is_outside(self.report.job.cut)

    @property
    def opening_width(self) -> float:
        """Of the opening, where it is widest."""
        return self.opening[1] - self.opening[0]

    @cached_property
    def cut(self) -> tuple[float, float]:
        """Left and right edge of the cut that comes out, across, where it is widest."""
        if self.is_outside:
            return self.axis - self.bit / 2, self.axis + self.bit / 2
        assert self.report.predicted is not None  # a job without an opening is stopped
        boxes = [region.bounds for region in self.report.predicted.outline]
        low, high = self._across(min(b.bottom for b in boxes), max(b.top for b in boxes))
        return low, high if self.edge is None else min(high, self.edge)

    @cached_property
    def work(self) -> tuple[float, float]:
        """Left and right edge of the work, across; infinite where they are not known."""
        work = self.report.job.work
        if self.edge is not None:
            return -math.inf if work is None else self.edge - work.thickness, self.edge
        return (-math.inf, math.inf) if work is None else (-work.from_face, work.thickness - work.from_face)

    def plate_edge(self, side: int) -> float:
        """Edge of the plate on the left (side -1) or right (1) of the middle of the cut, across.

        Of a pattern there is none on the right, and on the left it goes on.
        """
        if self.is_outside:
            return -math.inf if side < 0 else self.opening[1]
        return side * to_edge(self.report, side if self.edge is None else -side)

    @cached_property
    def axis(self) -> float:
        """Where the bit stands: the bushing against the left edge."""
        return self.opening[0] + self.bushing / 2

    @cached_property
    def bore(self) -> float | None:
        """Inside diameter of the bushing."""
        return self.report.job.tools.bushing.bore

    @cached_property
    def drawn_bore(self) -> float:
        """The bore, or half the wall's room where it is not known."""
        return self.bore if self.bore is not None else (self.bushing + self.bit) / 2

    @cached_property
    def stem(self) -> float | None:
        """How far the stem projects below the base."""
        return self.report.job.tools.bushing.stem

    @cached_property
    def drawn_stem(self) -> float:
        """The stem, or two thirds of the room under the base where it is not known."""
        return self.stem if self.stem is not None else self.room * 2 / 3

    def hole(self, scale: float) -> float:
        """Radius of the hole in the base, which the flange fills; a flange of ordinary width where it is not known."""
        router = self.report.job.tools.router
        if router is not None and router.base_hole is not None:
            return max(router.base_hole.mm, self.bushing) / 2
        nut = self.report.job.tools.bushing.nut
        return max(self.bushing / 2 + FLANGE_OUT / scale, nut.diameter.mm / 2 if nut else 0.0)

    def base_radius(self) -> float:
        """Least half width of the base; infinite where the router is not known."""
        router = self.report.job.tools.router
        if router is None:
            return math.inf
        base = router.base
        return (base.diameter.mm if base.shape == "round" else min(base.width.mm, base.depth.mm)) / 2


@dataclass(frozen=True)
class Layout:
    """How a stack is drawn in a width."""

    scale: float
    #: left out of the middle of a wide opening, right of the bushing; real mm, 0 for nothing
    removed: float
    #: from the middle of what is drawn to the middle of the cut's left part, real mm
    shift: float


def layout(stack: Stack, width: float, height: float) -> Layout:
    """The largest scale at which the section has room in a cell of that size, wide openings interrupted."""
    for scale in SCALES:
        found = _at_scale(stack, scale, width - LEFT - RIGHT)
        if found is not None and section_height(stack, scale) <= height:
            return found
    return _at_scale(stack, SCALES[-1], math.inf) or Layout(SCALES[-1], 0.0, 0.0)


def _at_scale(stack: Stack, scale: float, width: float) -> Layout | None:
    """The section at a scale, whole where the width allows it, else interrupted; None where even that is too wide."""
    for removed in (0.0, max(0.0, stack.beside_bit - GAP_KEPT / scale)):
        low, high = _extent(stack, scale, removed)
        if scale * (high - low) <= width:
            return Layout(scale, removed, -(low + high) / 2)
    return None


def _extent(stack: Stack, scale: float, removed: float) -> tuple[float, float]:
    """Left and right end of what must be shown: opening and base hole, with some plate and base beside them."""
    hole = stack.hole(scale) + BASE_ASIDE / scale
    low = min(stack.opening[0] - ASIDE / scale, stack.axis - hole)
    high = max(stack.opening[1] - removed + ASIDE / scale, stack.axis + hole)
    return low, high


def section_height(stack: Stack, scale: float) -> float:
    """Height the whole section takes at a scale, caption, rows of dimensions and the words of the plunge included."""
    words = text_width(stack.plunge_words, LARGE, bold=True) + 1.0
    return CAPTION + 3 * ROW + max(words, BASE + SHANK + scale * stack.plunge + BELOW + 2 * ROW) + FOOT
