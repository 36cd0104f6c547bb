"""What every cut file shares: the drawing sorted into layers, refused where it cannot be true.

- Roles without a pen are left out; the others come in WORKING_ORDER, items of a role as they stood.
- Roles next to each other in that order may share a layer if their pens look the same.
- Layer names are plain ASCII without spaces, at most 31 characters (the limit of DXF R12), and
  differ in more than capitals, for DXF does not tell "Cut" from "CUT".
- The drawing lies with its lower-left corner at (0, 0) and is as large as it says.
- Contours are closed and strokes have two points or more.
"""

import math
import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple

from jigtemplates.drawing import WORKING_ORDER, Drawing, Item, Pen, Pens, Stroke
from jigtemplates.errors import quoted
from jigtemplates.geometry.outline import LONG, Arc, Bounds, Outline
from jigtemplates.writers.faults import UnwritableError, shown_point

#: Two places closer than this are one, mm: far below any machine, far above rounding (chosen).
SAME = 1e-6

_RANK = {role: place for place, role in enumerate(WORKING_ORDER)}
_LAYER_NAME = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_$-]{0,30}")
_COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")

Shape = Outline | Stroke


class Layer(NamedTuple):
    """Shapes that are drawn with one pen, one after the other."""

    pen: Pen
    shapes: tuple[Shape, ...]


def layers(drawing: Drawing, pens: Pens) -> tuple[Layer, ...]:
    """The drawing's items with a pen, in working order.

    Raises UnwritableError with every fault of the pens in use and of the drawing.
    """
    for known, looks, found in _LATELY:
        if known is drawing and looks == pens:
            return found
    found = _found(drawing, pens)
    _LATELY.append((drawing, dict(pens), found))
    del _LATELY[:-_MOST_LATELY]
    return found


#: A drawing is written and read back as DXF and as SVG, and is looked at the same way each time.
_LATELY: list[tuple[Drawing, Pens, tuple[Layer, ...]]] = []
_MOST_LATELY = 2


def _found(drawing: Drawing, pens: Pens) -> tuple[Layer, ...]:
    items = sorted((i for i in drawing.items if i.role in pens), key=lambda i: _RANK[i.role])
    used = list(dict.fromkeys(pens[i.role] for i in items))
    faults = [*_pen_faults(used), *_shape_faults(drawing.items)]
    faults = faults or [*_place_faults(drawing)]
    if not items and not faults:
        faults = ["nothing to write: no line of the drawing has a pen in this file"]
    if faults:
        raise UnwritableError(faults)
    groups = groupby(items, key=lambda i: pens[i.role])
    return tuple(Layer(pen, tuple(i.shape for i in group)) for pen, group in groups)


def ready(outline: Outline) -> Outline:
    """The outline as it is cut: a whole circle in one piece, anything else from mid-straight."""
    circle = whole_circle(outline)
    return outline.started_mid_straight() if circle is None else Outline((circle,))


def whole_circle(outline: Outline) -> Arc | None:
    """The circle an outline is, in however many arcs, or None."""
    if outline.count >= LONG:
        return None  # no circle is written in so many arcs
    first = outline.segments[0]
    if not isinstance(first, Arc):
        return None
    if len(outline.segments) > 1 and not all(_same_circle(first, s) for s in outline.segments):
        return None
    whole = Arc(first.start, first.start, first.center, first.radius, first.turn)
    return whole if abs(outline.length - whole.length) <= SAME else None


def bounds(shapes: Iterable[Shape]) -> Bounds:
    """Upright box round all the shapes, mm."""
    boxes = [_box(s) for s in shapes]
    return Bounds(
        min(b.left for b in boxes),
        min(b.bottom for b in boxes),
        max(b.right for b in boxes),
        max(b.top for b in boxes),
    )


def _same_circle(a: Arc, b: object) -> bool:
    return (
        isinstance(b, Arc)
        and math.dist(a.center, b.center) <= SAME
        and abs(a.radius - b.radius) <= SAME
        and a.turn == b.turn
    )


def _box(shape: Shape) -> Bounds:
    if isinstance(shape, Outline):
        return shape.bounds
    return _stroke_box(shape)


@lru_cache(maxsize=1024)  # a job's label is measured when each file is written and when it is read back
def _stroke_box(stroke: Stroke) -> Bounds:
    xs, ys = [p.x for p in stroke.points], [p.y for p in stroke.points]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _pen_faults(pens: list[Pen]) -> Iterator[str]:
    seen: dict[str, Pen] = {}
    for pen in pens:
        yield from _look_faults(pen)
        other = seen.setdefault(pen.layer.upper(), pen)
        if other.layer != pen.layer:
            both = f"{quoted(other.layer)} and {quoted(pen.layer)}"
            yield f"layers {both} differ in capitals only (write them alike)"
        elif other != pen:
            yield (
                f"layer {quoted(pen.layer)} is asked for with two looks "
                "(give every role on it the same colour and stroke)"
            )


def _look_faults(pen: Pen) -> Iterator[str]:
    name = quoted(pen.layer)
    if not _LAYER_NAME.fullmatch(pen.layer):
        yield f'{name} is not a layer name (write 1 to 31 letters, digits, "_", "-" or "$")'
    elif pen.layer.upper() == "DEFPOINTS":
        yield f"layer {name} is never plotted (choose another name)"
    if not _COLOUR.fullmatch(pen.colour):
        yield f'layer {name}: {quoted(pen.colour)} is not a colour (write "#rrggbb")'
    if not 0 < pen.stroke < math.inf:
        yield f"layer {name}: stroke {pen.stroke:g} mm is not a line width (write more than 0 mm)"


def _shape_faults(items: Iterable[Item]) -> Iterator[str]:
    for number, item in enumerate(items, 1):
        where = f"item {number} ({item.role})"
        if isinstance(item.shape, Outline):
            if not _is_closed(item.shape):
                yield f"{where} is a contour that is not closed"
        elif len(item.shape.points) < 2:
            yield f"{where} is a stroke with fewer than two points"


def _is_closed(outline: Outline) -> bool:
    if outline.count >= LONG:
        from jigtemplates.geometry.long import is_closed

        return is_closed(outline, SAME)
    ring = outline.segments
    return bool(ring) and all(math.dist(a.end, b.start) <= SAME for a, b in zip(ring, ring[1:] + ring[:1], strict=True))


def _place_faults(drawing: Drawing) -> Iterator[str]:
    if not drawing.items:
        yield "nothing to write: the drawing is empty"
        return
    box = bounds(i.shape for i in drawing.items)
    size = (0.0, 0.0, drawing.width, drawing.height)
    # "not <=" instead of ">": a NaN anywhere must be a fault, too
    if not all(abs(got - wanted) <= SAME for got, wanted in zip(box, size, strict=True)):
        lies = f"{shown_point(box.left, box.bottom)} to {shown_point(box.right, box.top)} mm"
        wanted = f"(0, 0) to {shown_point(drawing.width, drawing.height)} mm"
        yield f"the drawing lies from {lies} and must lie from {wanted}"


def tidy(value: float) -> float:
    """A coordinate without rounding dust: ten decimals (1e-10 mm, or 2.5e-9 mm in inches), no -0."""
    return round(value, 10) + 0.0
