"""The section of a set-up sheet: router base, bushing, plate, gap, work and bit at full plunge, to scale.

Section coordinates are real millimetres: across from the middle of the cut, the reference face
on the left; up from the face of the router's base, on which everything is measured. The bushing stands against the
left edge of the opening, as it does when that side is cut. Of a wide opening a part is left out on the right of the
bushing, between two thin lines.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.processes.paper_page import BLACK, GREY, Text
from jigtemplates.processes.setup_dims import axis, break_line
from jigtemplates.processes.setup_draw import (
    BIT,
    BRASS,
    CAST,
    DASHED,
    GRAIN,
    MEDIUM,
    METAL,
    PLATE,
    PURPLE,
    SHEET,
    SMALL,
    THICK,
    THIN,
    TINY,
    TUBE,
    WORK,
    Picture,
    box,
    hatching,
    scale_text,
)
from jigtemplates.processes.setup_section_dims import dimensions
from jigtemplates.processes.setup_stack import (
    BASE,
    BELOW,
    CAPTION,
    FLANGE,
    LEFT,
    RIGHT,
    ROW,
    SHANK,
    STRIP,
    Layout,
    Stack,
    layout,
)
from jigtemplates.report import Report


def section(report: Report, cell: Bounds, *, inches: bool) -> Picture:
    """The section in a cell of the page."""
    stack = Stack(report)
    return draw(stack, layout(stack, cell.width, cell.height), cell, inches=inches)


def draw(stack: Stack, how: Layout, cell: Bounds, *, inches: bool) -> Picture:
    """A stack in a cell as it was laid out, from the back to the front."""
    frame = Frame(stack, how, Picture(cell, how.scale))
    _caption(frame)
    if stack.report.job.plate.holder is not None:
        from jigtemplates.processes.setup_section_edge import ledge_behind

        ledge_behind(frame)
    _work(frame)
    _plate(frame)
    _interruption(frame)
    _base(frame)
    _bushing(frame)
    _bit(frame)
    dimensions(frame, inches=inches)
    _names(frame)  # over the dimensions' extension lines
    return frame.picture


@dataclass
class Frame:
    """Where section coordinates come to lie on the page."""

    stack: Stack
    how: Layout
    picture: Picture
    #: ends of what is shown, the face of the base and the lowest line of the work, page mm
    left: float = field(init=False)
    right: float = field(init=False)
    face: float = field(init=False)
    bottom: float = field(init=False)

    def __post_init__(self) -> None:
        cell = self.picture.cell
        self.left, self.right = cell.left + LEFT, cell.right - RIGHT
        self.face = cell.top - CAPTION - 3 * ROW - SHANK - BASE
        self.bottom = self.face - self.how.scale * self.stack.plunge - BELOW

    def free_x(self, across: float, *, beyond: bool = False) -> float:
        """On the page; beyond: on the far side of what is left out."""
        gone = self.how.removed if beyond else 0.0
        return (self.left + self.right) / 2 + self.how.scale * (across - gone + self.how.shift)

    def x(self, across: float, *, beyond: bool = False) -> float:
        """On the page, within the part that is shown."""
        return min(self.right, max(self.left, self.free_x(across, beyond=beyond)))

    def shows(self, across: float, *, beyond: bool = False) -> bool:
        """Whether a place lies within the part that is shown."""
        return self.left < self.free_x(across, beyond=beyond) < self.right

    def y(self, up: float) -> float:
        """On the page."""
        return self.face + self.how.scale * up

    def part(self, ring: Sequence[Point], fill: str, hatch: tuple[float, float, str]) -> None:
        """A part that is cut by the section: tint and hatching, without its edges."""
        self.picture.area(Outline.polygon(ring), fill)
        self.picture.inks.extend(hatching([ring], *hatch))

    def edges(self, *points: Point, width: float = THICK, dash: tuple[float, ...] = ()) -> None:
        """Edges of a part."""
        self.picture.line(*points, width=width, dash=dash)

    def side(self, top: Point, low: float, *, is_edge: bool) -> None:
        """An upright end of a part: its edge, or the sign that it goes on."""
        if is_edge:
            self.edges(top, Point(top.x, low))
        else:
            break_line(self.picture, top, Point(top.x, low))


def _caption(f: Frame) -> None:
    cell = f.picture.cell
    f.picture.text(Text("Section across the cut", cell.left, cell.top - 3.2, SMALL + 0.4, True))
    shortened = " · opening shortened" if f.how.removed > 0 else ""
    about = f"scale {scale_text(f.how.scale)} · dashed: size not known{shortened}"
    f.picture.text(Text(about, cell.left, cell.top - 7.0, TINY, colour=GREY))


def _work(f: Frame) -> None:
    """The work with its cut; its own edges where they are known and near enough to be shown."""
    s, work = f.stack, f.stack.report.job.work
    top, foot = f.y(-s.room), f.y(-s.plunge)
    low = max(f.bottom, f.y(-s.room - work.height) if work and work.height is not None else -math.inf)
    inner, outer = f.free_x(s.cut[0]), f.free_x(s.cut[1], beyond=True)
    a = Point(f.x(s.work[0]), top)
    # open to the edge of the work, the cut has no wall on the right
    b = Point(f.x(s.work[1], beyond=True), top if s.edge is None else foot)
    rim = [Point(inner, top), Point(inner, foot), Point(outer, foot), Point(outer, b.y)]
    f.part([Point(a.x, low), Point(b.x, low), b, *reversed(rim), a], WORK, GRAIN)
    f.edges(a, *rim, b)
    f.side(a, low, is_edge=f.shows(s.work[0]))
    f.side(b, low, is_edge=f.shows(s.work[1], beyond=True))
    if low > f.bottom:
        f.edges(Point(a.x, low), Point(b.x, low))
    else:
        break_line(f.picture, Point(a.x, low), Point(b.x, low))
    if s.edge is None and f.shows(s.work[0]):
        _fence(f, a, low, -1.0)
    if s.edge is not None and work is not None and f.shows(s.work[1], beyond=True):
        _fence(f, b, low, 1.0)


def _fence(f: Frame, corner: Point, low: float, side: float) -> None:
    """What the reference face lies against: on the left (side -1), of a gain on the right, below what the bit takes."""
    near, far, high = corner.x + side * 0.25, corner.x + side * 4.2, corner.y - 0.6
    low = max(low, high - 14.0)
    f.picture.outline(box(min(near, far), low, max(near, far), high), MEDIUM, PURPLE, fill="#F3DEEA")
    if high - low > 10.0:
        f.picture.text(Text("fence", corner.x + side * 2.1 + 0.9, (low + high) / 2, TINY, anchor="middle", angle=90))


def _plate(f: Frame) -> None:
    s = f.stack
    for side in (-1, 1):
        edge, beyond = s.plate_edge(side), side > 0
        if s.is_outside and beyond:
            continue
        rim, end = f.free_x(s.opening[beyond], beyond=beyond), f.x(edge, beyond=beyond)
        under = _underside(f, side, rim, end)
        ring = [Point(rim, f.face), Point(end, f.face), *under]
        f.part(ring, PLATE, SHEET)
        f.edges(ring[1], ring[0], *reversed(under))
        f.side(ring[1], under[0].y, is_edge=f.shows(edge, beyond=beyond))
    if s.report.job.plate.holder is not None:
        from jigtemplates.processes.setup_section_edge import holder

        holder(f)


def _underside(f: Frame, side: int, rim: float, end: float) -> list[Point]:
    """From the plate's outer end to the opening."""
    if not f.stack.report.job.plate.rebate:
        return [Point(end, f.y(-f.stack.plate)), Point(rim, f.y(-f.stack.plate))]
    from jigtemplates.processes.setup_section_edge import underside

    return underside(f, side, rim, end)


def _interruption(f: Frame) -> None:
    """A strip without anything between two thin lines, where a part of the opening is left out."""
    if f.how.removed <= 0:
        return
    s = f.stack
    kept = f.how.scale * (s.beside_bit - f.how.removed)
    left = f.free_x(s.axis + s.bit / 2) + (kept - STRIP) / 2
    high, low = f.y(-s.drawn_stem) - 0.8, f.bottom - 0.8
    f.picture.area(box(left, low, left + STRIP, high), "#FFFFFF")
    for x in (left, left + STRIP):
        break_line(f.picture, Point(x, high), Point(x, low))


def _base(f: Frame) -> None:
    """The base with its hole, whose edge is dashed where it is not known."""
    s, router = f.stack, f.stack.report.job.tools.router
    known = router is not None and router.base_hole is not None
    top = f.face + BASE
    for side in (-1, 1):
        edge = s.axis + side * s.base_radius()
        rim, end = f.free_x(s.axis + side * s.hole(f.how.scale)), f.x(edge)
        if (end - rim) * side <= 0.5:
            continue
        ring = [Point(rim, f.face), Point(end, f.face), Point(end, top), Point(rim, top)]
        f.part(ring, METAL, CAST)
        f.edges(ring[1], ring[0])
        f.edges(ring[0], ring[3], width=MEDIUM, dash=() if known else DASHED)
        break_line(f.picture, ring[3], ring[2])
        f.side(ring[2], f.face, is_edge=f.shows(edge))


def _bushing(f: Frame) -> None:
    """Stem, flange and nut on both sides of the bit; dashed where a size is not known."""
    s, nut = f.stack, f.stack.report.job.tools.bushing.nut
    high = f.face + FLANGE
    top = f.face + BASE + 1.6 if nut is None else max(f.y(nut.height.mm), high)
    low = f.y(-s.drawn_stem)
    for side in (-1, 1):
        out, bore = f.free_x(s.axis + side * s.bushing / 2), f.free_x(s.axis + side * s.drawn_bore / 2)
        _flange_and_nut(f, side, top)
        f.part([Point(bore, low), Point(out, low), Point(out, high), Point(bore, high)], BRASS, TUBE)
        f.edges(Point(out, low), Point(out, f.face), width=MEDIUM)
        f.edges(Point(bore, low), Point(out, low), width=MEDIUM, dash=() if s.stem is not None else DASHED)
        f.edges(Point(bore, low), Point(bore, top), width=MEDIUM, dash=() if s.bore is not None else DASHED)


def _flange_and_nut(f: Frame, side: int, top: float) -> None:
    s, nut, high = f.stack, f.stack.report.job.tools.bushing.nut, f.face + FLANGE
    hole = s.hole(f.how.scale)
    half = nut.diameter.mm / 2 if nut else (s.bushing / 2 + hole) / 2
    near, rim, out = (f.free_x(s.axis + side * r) for r in (s.drawn_bore / 2, hole, half))
    if top > high:
        shape = box(min(near, out), high, max(near, out), top)
        f.picture.outline(shape, MEDIUM if nut else THIN, BLACK, () if nut else DASHED, BRASS)
    f.picture.outline(box(min(near, rim), f.face, max(near, rim), high), THIN, BLACK, DASHED, BRASS)


def _bit(f: Frame) -> None:
    """The bit is not cut by a section (as shafts are not); its shank goes on above the base."""
    s, bit = f.stack, f.stack.report.job.tools.bit
    high, low = f.face + BASE + SHANK - 2.0, f.y(-s.plunge)
    edges = bit.cutting_length
    split = min(high, f.y(-s.plunge + (edges if edges is not None else s.depth)))
    left, right = f.free_x(s.axis - s.bit / 2), f.free_x(s.axis + s.bit / 2)
    if high - split > 0.3:
        _upper_bit(f, split, high)
    f.picture.area(box(left, low, right, split), BIT)
    f.edges(Point(left, split), Point(left, low), Point(right, low), Point(right, split))
    break_line(f.picture, *_bit_top(f, high, bit.shank))
    middle = (left + right) / 2
    axis(f.picture, Point(middle, low - 2.5), Point(middle, high + 1.6))


def _bit_top(f: Frame, high: float, shank: float | None) -> tuple[Point, Point]:
    half = (shank if shank is not None else f.stack.bit) / 2
    return Point(f.free_x(f.stack.axis - half), high), Point(f.free_x(f.stack.axis + half), high)


def _upper_bit(f: Frame, split: float, high: float) -> None:
    """From the end of the cutting edges up: the shank, dashed where it is not known."""
    bit = f.stack.report.job.tools.bit
    a, b = _bit_top(f, high, bit.shank)
    f.picture.area(box(a.x, split, b.x, high), BIT)
    known = bit.cutting_length is not None and bit.shank is not None
    for end in (a, b):
        f.edges(Point(end.x, split), end, width=MEDIUM, dash=() if known else DASHED)
    if bit.cutting_length is not None:
        f.edges(Point(a.x, split), Point(b.x, split), width=MEDIUM)


def _names(f: Frame) -> None:
    """What each part is, where there is room for the word in it."""
    s = f.stack
    opening, cut = f.free_x(s.opening[1], beyond=True), f.free_x(s.cut[1], beyond=True)
    _name(f, "base", (f.free_x(s.axis + s.hole(f.how.scale)), f.x(s.axis + s.base_radius())), (f.face, f.face + BASE))
    if s.is_outside:
        _name(f, "plate", (f.left, f.free_x(s.opening[0])), (f.y(-s.plate), f.face))
    else:
        _name(f, "plate", (opening, f.x(s.plate_edge(1), beyond=True)), (f.y(-s.plate), f.face))
    up = max(f.bottom, f.y(-s.plunge)), f.y(-s.room)
    if s.edge is None:
        _name(f, "work", (cut, f.x(s.work[1], beyond=True)), up)
    else:
        _name(f, "work", (f.x(s.work[0]), f.free_x(s.cut[0])), (f.bottom, up[1]))


_TINTS = {"base": METAL, "plate": PLATE, "work": WORK}


def _name(f: Frame, word: str, across: tuple[float, float], up: tuple[float, float]) -> None:
    f.picture.name(word, Bounds(across[0], up[0], across[1], up[1]), _TINTS[word])
