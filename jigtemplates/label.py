"""The engraved label: which place on the plate it gets, and how large its letters can be.

Millimetres, x right, y up. A label is a block of centred lines of single-line lettering. It reads from
the bottom edge of the plate or, turned 90 degrees, from the right edge (drawing practice, from memory).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise, product

from jigtemplates.drawing import Stroke
from jigtemplates.freespace import FreeSpace, Obstacle
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region, cos_sin
from jigtemplates.lettering import letter, text_box, text_width

#: Heights of capitals that are tried, mm. The last is the stated minimum (chosen: the smallest that
#: stays legible when a laser engraves it into wood; the steps are chosen too).
HEIGHTS = (5.0, 4.5, 4.0, 3.5, 3.0, 2.5)

#: Least distance from the label to the plate's edge and to anything else, mm (chosen).
MARGIN = 2.5

#: From baseline to baseline, in heights of a capital (chosen: brackets and descenders stay apart).
PITCH = 1.6

#: Places tried across a band beside the opening, from its middle outwards (chosen).
PLACES = 9

#: Squares of the last search, mm, and the most along the plate's longer side (chosen for speed).
SQUARE = 1.0
MOST_SQUARES = 96


@dataclass(frozen=True)
class Label:
    """A label that has found its place."""

    block: "_Block"
    #: height of a capital, mm
    height: float
    #: direction of the lines, degrees counter-clockwise: 0 or 90
    angle: float
    #: the middle of the box
    center: Point

    @property
    def lines(self) -> tuple[str, ...]:
        """The lines as they were given, top first."""
        return self.block.lines

    @cached_property
    def box(self) -> Bounds:
        """Upright box round the strokes."""
        width, depth = self.block.size(self.height, self.angle)
        x, y = self.center
        return Bounds(x - width / 2, y - depth / 2, x + width / 2, y + depth / 2)

    @cached_property
    def strokes(self) -> tuple[Stroke, ...]:
        """The lettering."""
        return self.block.strokes(self.height, self.angle, self.center)

    def __getstate__(self) -> dict[str, object]:
        """Without the strokes, most of what a report of another process would weigh: they can be made again."""
        return {name: value for name, value in vars(self).items() if name != "strokes"}

    @property
    def outline(self) -> Outline:
        """The box as an outline, for what must keep clear of the label."""
        return outline_of(self.box)


def outline_of(box: Bounds) -> Outline:
    """An upright box as an outline."""
    left, bottom, right, top = box
    return Outline.polygon(((left, bottom), (right, bottom), (right, top), (left, top)))


@dataclass(frozen=True, slots=True)
class LabelPlacement:
    """What became of a label, so that the caller can say so."""

    #: None where no height found room anywhere: refused
    label: Label | None
    #: it does not stand at the preferred place
    moved: bool = False
    #: its letters are lower than the first height asked for
    shrunk: bool = False


@dataclass(frozen=True, slots=True)
class _Block:
    """Lines set at height 1 with the first baseline at y = 0 and x = 0 in the middle."""

    lines: tuple[str, ...]
    ink: Bounds

    def size(self, height: float, angle: float) -> tuple[float, float]:
        """Extent along x and y once it stands at that height and angle."""
        width, depth = self.ink.width * height, self.ink.height * height
        return (width, depth) if angle == 0 else (depth, width)

    def strokes(self, height: float, angle: float, center: Point) -> tuple[Stroke, ...]:
        """The lettering, its box centred on a point."""
        cos, sin = cos_sin(angle)
        strokes: list[Stroke] = []
        for row, line in enumerate(self.lines):
            x = -text_width(line, height) / 2 - self.ink.center.x * height
            y = -row * PITCH * height - self.ink.center.y * height
            at = Point(center.x + x * cos - y * sin, center.y + x * sin + y * cos)
            strokes.extend(letter(line, height, at, angle))
        return tuple(strokes)


def place_label(
    lines: Sequence[str],
    *,
    plate: Region,
    blocked: Sequence[Obstacle],
    preferred: Point | None = None,
    others: Sequence[Sequence[str]] = (),
    heights: tuple[float, ...] = HEIGHTS,
    margin: float = MARGIN,
) -> LabelPlacement:
    """Find room for a label: it shrinks, then it moves, then it is refused.

    blocked is all that the label must stay away from: openings, screw holes with their countersinks,
    marks. The largest outline in it counts as the opening. `others` are the same facts broken into
    lines differently (`line_breaks`); at each height they are tried after `lines`, so the largest
    letters win. The order of places:

    1. preferred, the middle of the label; where that is None the strip between the opening and the
       plate's lower edge, centred on the opening (with nothing blocked, the plate's middle);
    2. above the opening, then left and right of it, turned 90 degrees or upright;
    3. anywhere, upright or turned, as near to the preferred place as it can be.

    In each of them from the first height to the last. Raises LetteringError for characters that
    cannot be engraved and ValueError where no line has anything to engrave.
    """
    blocks = [_block(layout) for layout in (lines, *others)]
    space = FreeSpace(plate, tuple(blocked))
    beside = _Sides(plate.bounds, _opening_bounds(blocked))
    wanted = [preferred] if preferred else list(beside.below())
    found = _first_free(space, blocks, heights, [(place, 0.0) for place in wanted], margin)
    moved = found is None
    found = found or _first_free(space, blocks, heights, beside.elsewhere(), margin)
    found = found or _anywhere(space, blocks, heights, wanted[0], margin)
    if found is None:
        return LabelPlacement(None)
    return LabelPlacement(found, moved=moved, shrunk=found.height < heights[0])


def line_breaks(facts: Sequence[str], separator: str = "  ") -> tuple[tuple[str, ...], ...]:
    """The facts on as many lines as there are, on one line fewer, and so on to a single line.

    Their order stays; of all ways to break them into that many lines the one with the shortest longest
    line is taken. Meant for a handful of facts: with n of them 2 to the power n - 1 ways are compared.
    """
    return tuple(
        min(_broken(facts, count, separator), key=lambda lines: max(text_width(line, 1.0) for line in lines))
        for count in range(len(facts), 0, -1)
    )


def _broken(facts: Sequence[str], count: int, separator: str) -> Iterator[tuple[str, ...]]:
    for cuts in combinations(range(1, len(facts)), count - 1):
        stops = (0, *cuts, len(facts))
        yield tuple(separator.join(facts[a:b]) for a, b in pairwise(stops))


def _block(lines: Sequence[str]) -> _Block:
    boxes: list[Bounds] = []
    for row, line in enumerate(lines):
        ink, middle = text_box(line, 1.0), text_width(line, 1.0) / 2
        if ink.width or ink.height:
            drop = row * PITCH
            boxes.append(Bounds(ink.left - middle, ink.bottom - drop, ink.right - middle, ink.top - drop))
    if not boxes:
        raise ValueError("a label needs at least one line with something to engrave")
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return _Block(tuple(lines), Bounds(min(lefts), min(bottoms), max(rights), max(tops)))


def _opening_bounds(blocked: Sequence[Obstacle]) -> Bounds | None:
    outlines = [shape for shape in blocked if isinstance(shape, Outline)]
    return max(outlines, key=lambda outline: abs(outline.area)).bounds if outlines else None


@dataclass(frozen=True, slots=True)
class _Sides:
    """The four bands of the plate beside the opening."""

    plate: Bounds
    opening: Bounds | None

    def below(self) -> Iterator[Point]:
        """Places under the opening, the middle of the band first; the plate's middle without an opening."""
        if self.opening is None:
            yield self.plate.center
            return
        for y in _from_the_middle(self.plate.bottom, self.opening.bottom):
            yield Point(self.opening.center.x, y)

    def elsewhere(self) -> Iterator[tuple[Point, float]]:
        """Places above, then left and right of the opening, each with the angle of the lines."""
        if self.opening is None:
            return
        x, y = self.opening.center
        for high in _from_the_middle(self.opening.top, self.plate.top):
            yield Point(x, high), 0.0
        bands = ((self.plate.left, self.opening.left), (self.opening.right, self.plate.right))
        for angle, (near, far) in product((90.0, 0.0), bands):
            for beside in _from_the_middle(near, far):
                yield Point(beside, y), angle


def _from_the_middle(a: float, b: float) -> list[float]:
    """Evenly spaced places between a and b, the middle first, then alternately on both sides of it."""
    step = (b - a) / (PLACES + 1)
    offsets = sorted(range(-(PLACES // 2), PLACES // 2 + 1), key=lambda i: (abs(i), i))
    return [(a + b) / 2 + i * step for i in offsets]


def _first_free(
    space: FreeSpace,
    blocks: Sequence[_Block],
    heights: Sequence[float],
    places: Iterable[tuple[Point, float]],
    margin: float,
) -> Label | None:
    """The largest letters that fit on a place; among equals the first block, then the first place."""
    spots = list(places)
    for height in heights:
        trials = [Label(block, height, angle, center) for block, (center, angle) in product(blocks, spots)]
        free = space.fits([trial.box for trial in trials], margin)
        if free.any():
            return trials[int(free.argmax())]
    return None


def _anywhere(
    space: FreeSpace, blocks: Sequence[_Block], heights: Sequence[float], wanted: Point, margin: float
) -> Label | None:
    """The largest letters that fit on a grid over the plate, as near to the wanted place as they can be."""
    longer = max(space.plate.bounds.width, space.plate.bounds.height)
    cells = space.cells(max(SQUARE, longer / MOST_SQUARES), margin)
    for height, block, angle in product(heights, blocks, (0.0, 90.0)):
        center = cells.nearest(*block.size(height, angle), wanted)
        if center:
            return Label(block, height, angle, center)
    return None
