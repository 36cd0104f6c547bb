"""The drawing's items as they are inked: pens, dashes, and a cross at every centre to drill."""

import math
from collections.abc import Iterable, Iterator

from jigtemplates.drawing import WORKING_ORDER, Drawing, Pens, Role, Stroke
from jigtemplates.geometry.outline import TAU, Arc, Bounds, Line, Outline, Point, Segment
from jigtemplates.processes.paper_page import Ink, box_of, line

#: Chain line for what is not cut: dash, gap, dot, gap in mm (chosen, in the manner of ISO 128's chain lines).
CHAIN = (4.0, 0.9, 0.7, 0.9)
#: How far the cross of a hole stands out of its circle, mm (chosen: enough to find it once the bit is in).
CROSS = 2.5
#: A round of more than this radius is not drilled: it gets a small cross at its centre only (chosen), mm.
DRILLED = 16.0


def pen_ink(role: Role, shape: Outline | Stroke, pens: Pens) -> Ink:
    """The shape in its role's pen."""
    pen = pens[role]
    return Ink(shape, pen.stroke, pen.colour, CHAIN if role is Role.REFERENCE else ())


def drawing_inks(drawing: Drawing, pens: Pens) -> tuple[Ink, ...]:
    """Every line of the drawing in its own coordinates, crosses last."""
    inks = [pen_ink(item.role, item.shape, pens) for item in drawing.items]
    return (*inks, *_crosses(drawing, pens))


def legend(drawing: Drawing, pens: Pens) -> list[tuple[Role, Ink]]:
    """A sample of each pen the drawing uses, in working order, the cut first."""
    used = {item.role for item in drawing.items}
    sample = Stroke((Point(0.0, 0.0), Point(1.0, 0.0)))
    return [(role, pen_ink(role, sample, pens)) for role in reversed(WORKING_ORDER) if role in used]


def _crosses(drawing: Drawing, pens: Pens) -> Iterable[Ink]:
    """One cross for each centre, as large as the largest circle about it asks."""
    arms: dict[tuple[float, float], tuple[float, Role]] = {}
    for item in drawing.items:
        circle = item.shape.as_circle if isinstance(item.shape, Outline) else None
        if circle is None or item.role not in (Role.DRILL, Role.CUT_INSIDE):
            continue
        key = (round(circle.center.x, 6), round(circle.center.y, 6))
        arm = circle.radius + CROSS if circle.radius <= DRILLED else 2 * CROSS
        arms[key] = max(arms.get(key, (0.0, item.role)), (arm, item.role))
    for (x, y), (arm, role) in arms.items():
        pen = pens[role]
        thin = min(pen.stroke, 0.15)
        yield line((x - arm, y), (x + arm, y), thin, pen.colour)
        yield line((x, y - arm), (x, y + arm), thin, pen.colour)


def touches(shape: Outline | Stroke, box: Bounds) -> bool:
    """Whether any of the line lies in the box; an arc is followed to 0.05 mm, and a near miss counts."""
    b = box_of(shape)
    if b.left > box.right or b.right < box.left or b.bottom > box.top or b.top < box.bottom:
        return False
    near = 0.05
    wide = Bounds(box.left - near, box.bottom - near, box.right + near, box.top + near)
    return any(_crosses_box(p, q, wide) for p, q in _chords(shape, near))


def _chords(shape: Outline | Stroke, tolerance: float) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    if isinstance(shape, Stroke):
        return zip(shape.points, shape.points[1:], strict=False)
    points = shape.flattened(tolerance)
    return zip(points, points[1:] + points[:1], strict=True)


def _crosses_box(p: tuple[float, float], q: tuple[float, float], box: Bounds) -> bool:
    """Liang and Barsky's clipping of a segment to a box (ACM Trans. Graph. 3(1), 1984): is any left?"""
    enter, leave = 0.0, 1.0
    for start, end, low, high in ((p[0], q[0], box.left, box.right), (p[1], q[1], box.bottom, box.top)):
        run = end - start
        if run == 0.0:
            if not low <= start <= high:
                return False
            continue
        near, far = sorted(((low - start) / run, (high - start) / run))
        enter, leave = max(enter, near), min(leave, far)
    return enter <= leave


def distance(point: Point, shape: Outline | Stroke) -> float:
    """From a point to the nearest place of a line, mm."""
    if isinstance(shape, Outline):
        return min(_to_segment(point, s) for s in shape.segments)
    return min(_to_segment(point, Line(a, b)) for a, b in zip(shape.points, shape.points[1:], strict=False))


def _to_segment(p: Point, s: Segment) -> float:
    if isinstance(s, Arc):
        ends = min(math.dist(p, s.start), math.dist(p, s.end))
        ahead = math.atan2(p.y - s.center.y, p.x - s.center.x) - s.start_angle
        within = (s.turn * ahead) % TAU <= abs(s.sweep)
        return abs(math.dist(p, s.center) - s.radius) if within else ends
    dx, dy = s.end.x - s.start.x, s.end.y - s.start.y
    square = dx * dx + dy * dy
    along = ((p.x - s.start.x) * dx + (p.y - s.start.y) * dy) / square if square else 0.0
    along = min(1.0, max(0.0, along))
    return math.dist(p, (s.start.x + along * dx, s.start.y + along * dy))
