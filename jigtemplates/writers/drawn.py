"""What a file draws, as its reader found it, and how it differs from what was meant.

Two measures guard each other. Box, signed area and length are taken from the outline that was
asked for, before any writer touched it; corner by corner the segments are those the writer should
have made of it. So neither a fault of the writer's own steps nor a mirror image passes.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import LONG, Arc, Line, Outline, Point, Segment
from jigtemplates.writers.faults import shown, shown_point
from jigtemplates.writers.layers import SAME, Shape


@dataclass(frozen=True, slots=True)
class Drawn:
    """One contour or stroke as a file says it, mm, y up."""

    layer: str
    closed: bool
    #: end to end; a circle is one whole arc
    segments: Sequence[Segment]


@dataclass(frozen=True, slots=True)
class Meant:
    """One contour or stroke as it was asked for."""

    shape: Shape
    #: as this kind of file should say it, from its starting point on
    segments: Sequence[Segment]
    #: how far straight facets may leave the arcs, mm; None where arcs stay arcs
    chord: float | None = None


@lru_cache(maxsize=1024)  # a job's label is read back from every file
def stroke_segments(stroke: Stroke) -> tuple[Segment, ...]:
    """The straights of an open polyline."""
    return tuple(Line(a, b) for a, b in pairwise(stroke.points))


def repeated(drawn: Sequence[Drawn]) -> Drawn | None:
    """The first that has a segment in common with another on its layer, or within itself."""
    if any(len(one.segments) >= LONG for one in drawn):  # not for a long label: its strokes are short
        from jigtemplates.writers.drawn_long import repeated_among

        return repeated_among(drawn)
    seen: set[tuple[object, ...]] = set()
    for one in drawn:
        for trace in _traces(one.segments):
            key = (one.layer, *trace)
            if key in seen:
                return one
            seen.add(key)
    return None


def _traces(segments: Iterable[Segment]) -> Iterator[tuple[int, ...]]:
    """What each segment leaves on the material, whichever way it is travelled."""
    reached, b = None, (0, 0)
    for segment in segments:
        a = b if segment.start == reached else _grid(segment.start)
        reached, b = segment.end, _grid(segment.end)
        ends = (*a, *b) if a < b else (*b, *a)
        # Only an arc needs its middle: one straight runs between two points.
        yield ends if isinstance(segment, Line) else (*ends, *_grid(segment.middle))


def _grid(p: Point) -> tuple[int, int]:
    return round(p.x / SAME), round(p.y / SAME)


def difference(drawn: Drawn, meant: Meant) -> str | None:
    """What is wrong with it, without saying which one it is; None where it is as meant."""
    wants_closed = isinstance(meant.shape, Outline)
    if drawn.closed != wants_closed:
        return f"is {_state(drawn.closed)} and should be {_state(wants_closed)}"
    if wants_closed and _ends_where_it_began(drawn):
        return "repeats its first point at the end"
    return next(_differences(drawn, meant), None)


def _state(closed: bool) -> str:
    return "closed" if closed else "open"


def _ends_where_it_began(drawn: Drawn) -> bool:
    last = drawn.segments[-1]
    return isinstance(last, Line) and last.length <= SAME


def _differences(drawn: Drawn, meant: Meant) -> Iterator[str]:
    circle = _circle(meant.segments) if meant.chord is None else None
    if circle is not None:
        yield from _circle_differences(drawn, circle)
        return
    if isinstance(meant.shape, Outline):
        yield from _measure_differences(_outline(drawn.segments), meant.shape, meant.chord or 0.0)
    if meant.chord is None:
        yield from _segment_differences(drawn.segments, meant.segments)
    else:
        yield from _facet_differences(drawn.segments, meant.segments, meant.chord)


def _outline(segments: Sequence[Segment]) -> Outline:
    if len(segments) < LONG:
        return Outline(tuple(segments))
    from jigtemplates.geometry.long import long_outline
    from jigtemplates.geometry.table import rows_of

    return long_outline(rows_of(segments))


def _circle(segments: Sequence[Segment]) -> Arc | None:
    """The whole circle these segments are: an arc whose end is its start."""
    first = segments[0]
    return first if isinstance(first, Arc) and len(segments) == 1 and first.start == first.end else None


def _circle_differences(drawn: Drawn, wanted: Arc) -> Iterator[str]:
    """A file's circle has neither start nor direction: its middle and radius say it all."""
    found = _circle(drawn.segments)
    if found is None:
        yield "is no circle and should be one"
    elif math.dist(found.center, wanted.center) > SAME or abs(found.radius - wanted.radius) > SAME:
        yield f"is a circle {_round(found)} and should be one {_round(wanted)}"


def _round(circle: Arc) -> str:
    return f"of radius {shown(circle.radius)} mm about {shown_point(*circle.center)}"


def _measure_differences(found: Outline, wanted: Outline, slack: float) -> Iterator[str]:
    """Box, area and length; slack is what facets may take off each edge, mm."""
    near = SAME + slack
    if any(abs(a - b) > near for a, b in zip(found.bounds, wanted.bounds, strict=True)):
        yield f"lies within {_box(found)} and should lie within {_box(wanted)}"
    if abs(found.area - wanted.area) > near * wanted.length:
        yield f"has an area of {shown(found.area)} mm² and should have {shown(wanted.area)} mm²"
    # A facet spans a quarter circle at most: sin(45°) / (45° in radians) = 0.9003 of its arc.
    least = wanted.length * (0.9 if slack else 1.0) - SAME
    if not least <= found.length <= wanted.length + SAME:
        yield f"is {shown(found.length)} mm long and should be {shown(wanted.length)} mm"


def _box(outline: Outline) -> str:
    box = outline.bounds
    return f"{shown_point(box.left, box.bottom)} to {shown_point(box.right, box.top)}"


def _segment_differences(found: Sequence[Segment], wanted: Sequence[Segment]) -> Iterator[str]:
    if len(found) != len(wanted):
        yield f"has {len(found)} segments and should have {len(wanted)}"
        return
    if len(found) >= LONG:
        from jigtemplates.writers.drawn_long import are_alike

        if are_alike(found, wanted):
            return
    for number, (a, b) in enumerate(zip(found, wanted, strict=True), 1):
        if math.dist(a.start, b.start) > SAME or math.dist(a.end, b.end) > SAME:
            places = f"{_run(a)} and should run from {_run(b)}"
            yield f"has a segment {number} from {places}"
        if _turn(a) != _turn(b):
            yield f"has a segment {number} that is {_TURNS[_turn(a)]} and should be {_TURNS[_turn(b)]}"


def _run(segment: Segment) -> str:
    return f"{shown_point(*segment.start)} to {shown_point(*segment.end)}"


_TURNS = {0: "straight", 1: "a counter-clockwise arc", -1: "a clockwise arc"}


def _turn(segment: Segment) -> int:
    return segment.turn if isinstance(segment, Arc) else 0


def _facet_differences(found: Sequence[Segment], wanted: Sequence[Segment], chord: float) -> Iterator[str]:
    """Follow the wanted segments in turn: straights as they are, arcs in chords with ends on them."""
    facets = list(found)
    for number, segment in enumerate(wanted, 1):
        steps = _taken(facets, segment)
        if not steps or math.dist(steps[0].start, segment.start) > SAME:
            yield f"leaves its segment {number}, from {_run(segment)}"
            return
        if isinstance(segment, Arc) and any(_sagitta(s, segment) > chord + SAME for s in steps):
            yield f"has a facet more than {shown(chord)} mm off its arc"
    if facets:
        yield f"has {len(facets)} facets too many"


def _taken(facets: list[Segment], wanted: Segment) -> list[Segment]:
    """Take facets off the front up to the wanted segment's end; none where they do not follow it."""
    steps: list[Segment] = []
    while facets:
        step = facets.pop(0)
        steps.append(step)
        if math.dist(step.end, wanted.end) <= SAME:
            return steps
        if not isinstance(wanted, Arc) or _off_circle(step, wanted) > SAME:
            return []
    return []


def _off_circle(step: Segment, arc: Arc) -> float:
    return abs(math.dist(step.end, arc.center) - arc.radius)


def _sagitta(step: Segment, arc: Arc) -> float:
    half = math.dist(step.start, step.end) / 2
    return arc.radius - math.sqrt(max(0.0, arc.radius**2 - half**2))
