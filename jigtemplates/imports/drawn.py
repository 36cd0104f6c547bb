"""What a reader finds in a file: pieces, each an unbroken run of lines and arcs, in mm as the file has them.

The file's own coordinates are kept (y runs down in an SVG), so that a place in a fault is the place that the
drawing program shows.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from jigtemplates.geometry.outline import Segment
from jigtemplates.geometry.table import Rows
from jigtemplates.imports.fit import Smooth, fitted, joined, whole_arc
from jigtemplates.imports.trouble import refuse

#: Most curves of a drawing, and most places along them (chosen: fitted in some twenty seconds; an outline that was
#: traced has a few hundred).
MOST_CURVES, MOST_PLACES = 10_000, 500_000

#: A line, an exact arc, or a curve by places along it.
Part = Segment | Smooth


def length_of(segments: Sequence[Segment]) -> float:
    """Of all together, mm."""
    return float(segments.table.lengths.sum()) if isinstance(segments, Rows) else sum(s.length for s in segments)


def are_finite(segments: Sequence[Segment]) -> bool:
    """Whether no coordinate is infinite or no number."""
    if isinstance(segments, Rows):
        return bool(np.isfinite(segments.table.starts).all() and np.isfinite(segments.table.ends).all())
    return all(math.isfinite(n) for s in segments for n in (*s.start, *s.end))


@dataclass(frozen=True, slots=True)
class Run:
    """Parts that follow one another without a break."""

    parts: Sequence[Part]
    #: True where the file itself says that the end goes on as the start
    closed: bool


@dataclass(frozen=True, slots=True)
class Drawn:
    """One entity, or one run of a path."""

    #: what to call it in a fault: `path "leaf"`, `LINE 2F on layer "cut"`
    name: str
    #: its id or handle, by which it can be selected
    ident: str | None
    #: layers and groups it belongs to, by which it can be selected with others
    groups: tuple[str, ...]
    segments: Sequence[Segment]
    #: True where the file itself says that the end goes on as the start
    closed: bool
    #: why it is no piece of a contour, a sentence without the file's name
    fault: str | None = None


@dataclass
class Effort:
    """What the curves of a drawing cost so far, which is refused before it takes minutes."""

    curves: int = 0
    places: int = 0

    def spend(self, parts: Iterable[Part]) -> None:
        """Adds these; OutlineError where it gets too much."""
        for part in parts:
            if isinstance(part, Smooth):
                self.curves += 1
                self.places += len(part.places)
        if self.curves > MOST_CURVES or self.places > MOST_PLACES:
            refuse(f"has curves beyond measure (at most {MOST_CURVES}, of an ordinary size; draw it simpler)")


def segments_of(parts: Iterable[Part], chord: float, effort: Effort | None = None) -> Sequence[Segment]:
    """Parts that follow one another as lines and arcs, curves fitted within chord, mm.

    The effort is that of the whole drawing so far; OutlineError where it gets too much.
    """
    if isinstance(parts, Rows):
        return parts
    parts = tuple(parts)
    (effort or Effort()).spend(parts)
    done: list[Segment] = []
    parts = [_arc_or_curve(part, chord) if isinstance(part, Smooth) else part for part in parts]
    for is_curve, run in groupby(parts, lambda part: isinstance(part, Smooth)):
        if is_curve:
            curves = joined([part for part in run if isinstance(part, Smooth)])
            done.extend(s for curve in curves for s in fitted(curve, chord))
        else:
            done.extend(part for part in run if not isinstance(part, Smooth))
    return tuple(done)


def _arc_or_curve(curve: Smooth, chord: float) -> Part:
    return (whole_arc(curve, chord) if len(curve.places) > 1 else None) or curve
