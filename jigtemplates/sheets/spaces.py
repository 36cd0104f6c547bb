"""What is free on a sheet, as rectangles; whole numbers, so that nothing depends on rounding.

Two ways of keeping it (both described by Jylänki, "A Thousand Ways to Pack the Bin", 2010). `Overlapping`: every
largest free rectangle; they may overlap one another. `Parted`: rectangles that a saw parts by straight cuts right
across.
"""

from collections.abc import Callable
from typing import NamedTuple


class Rect(NamedTuple):
    """An upright rectangle by its lower-left corner."""

    x: int
    y: int
    width: int
    height: int


#: Smaller is better: of a free rectangle and the size that is to go into it.
Score = Callable[[Rect, int, int], tuple[int, int]]


def short_side(free: Rect, width: int, height: int) -> tuple[int, int]:
    """Leave as little as can be along one side."""
    across, up = free.width - width, free.height - height
    return (across, up) if across < up else (up, across)


def area(free: Rect, width: int, height: int) -> tuple[int, int]:
    """Take the smallest rectangle."""
    return free.width * free.height - width * height, min(free.width - width, free.height - height)


def lowest(free: Rect, width: int, height: int) -> tuple[int, int]:
    """Keep the top free: as low as can be, then as far left."""
    return free.y + height, free.x


def leftmost(free: Rect, width: int, height: int) -> tuple[int, int]:
    """Keep the right free: as far left as can be, then as low."""
    return free.x + width, free.y


#: The first wins most often (see `packing`).
SCORES: tuple[Score, ...] = (lowest, area, short_side, leftmost)


class _Free:
    """The free rectangles of a sheet; how a place is taken out of them is for the ways of keeping them to say."""

    def __init__(self, width: int, height: int, score: Score) -> None:
        self.free = [Rect(0, 0, width, height)]
        self._score = score

    def best(self, width: int, height: int) -> tuple[tuple[int, int], Rect] | None:
        """Where a size fits best, with its score; None where it fits nowhere."""
        fitting = [one for one in self.free if width <= one.width and height <= one.height]
        if not fitting:
            return None
        value, x, y = min((self._score(one, width, height), one.x, one.y) for one in fitting)
        return value, Rect(x, y, width, height)


class Overlapping(_Free):
    """The largest free rectangles of a sheet."""

    def take(self, at: Rect) -> None:
        """Use up a place that `best` gave."""
        left, bottom, right, top = at.x, at.y, at.x + at.width, at.y + at.height
        kept: list[Rect] = []
        new: list[Rect] = []
        for free in self.free:
            x, y, width, height = free
            if x >= right or left >= x + width or y >= top or bottom >= y + height:
                kept.append(free)
                continue
            if left > x:
                new.append(Rect(x, y, left - x, height))
            if right < x + width:
                new.append(Rect(right, y, x + width - right, height))
            if bottom > y:
                new.append(Rect(x, y, width, bottom - y))
            if top < y + height:
                new.append(Rect(x, top, width, y + height - top))
        self.free = kept + _outermost(new, kept)


def _outermost(new: list[Rect], kept: list[Rect]) -> list[Rect]:
    """Those of the new rectangles that lie in no other; a kept one never lies in a new one, which was part of its
    neighbour.
    """
    found: list[Rect] = []
    for one in sorted(set(new), key=lambda r: (-r.width * r.height, r)):
        if not any(_holds(other, one) for other in found) and not any(_holds(other, one) for other in kept):
            found.append(one)
    return found


def _holds(outer: Rect, inner: Rect) -> bool:
    return (
        outer.x <= inner.x
        and outer.y <= inner.y
        and inner.x + inner.width <= outer.x + outer.width
        and inner.y + inner.height <= outer.y + outer.height
    )


class Parted(_Free):
    """Free rectangles that do not overlap: each place taken is cut off by two cuts right across its rectangle."""

    def take(self, at: Rect) -> None:
        """Use up a place that `best` gave; the first cut leaves the larger of the two rests as large as can be."""
        whole = next(free for free in self.free if (free.x, free.y) == (at.x, at.y))
        self.free.remove(whole)
        aside, above = whole.width - at.width, whole.height - at.height
        is_upright = aside * whole.height >= above * whole.width
        right = Rect(at.x + at.width, at.y, aside, whole.height if is_upright else at.height)
        top = Rect(at.x, at.y + at.height, at.width if is_upright else whole.width, above)
        self.free += [rest for rest in (right, top) if rest.width > 0 and rest.height > 0]
