"""Cuts that jobs ask for, built by the meaning of their own words and figures, without the program; millimetres."""

import math
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from other_programs import area, dxf_lines, svg_contours

from jigtemplates.parameters.job import Cut, Job

#: Chords to a quarter of a circle.
FINE = 200


def slot(length: float, width: float) -> Any:
    """A slot by its meaning: everything within half a width of a line, on 200 chords a quarter."""
    line = shapely.LineString([(-(length - width) / 2, 0), ((length - width) / 2, 0)])
    return shapely.buffer(line if length > width else shapely.Point(0, 0), width / 2, quad_segs=FINE)


def rectangle(length: float, width: float, radius: float) -> Any:
    """A rectangle with round corners by its meaning: everything within the radius of a smaller one."""
    x, y = length / 2 - radius, width / 2 - radius
    if radius == 0:
        return shapely.box(-x, -y, x, y)
    core = shapely.box(-x, -y, x, y) if min(x, y) > 0 else shapely.LineString([(-x, -y), (x, y)])
    return shapely.buffer(core, radius, quad_segs=FINE)


def uneven(length: float, width: float, radii: list[float]) -> Any:
    """A rectangle with a radius for each corner, from the lower left one counter-clockwise."""
    found = shapely.box(-length / 2, -width / 2, length / 2, width / 2)
    for radius, (x, y) in zip(radii, [(-1, -1), (1, -1), (1, 1), (-1, 1)], strict=True):
        corner = shapely.box(*sorted_box(x * length / 2, y * width / 2, x * radius, y * radius))
        middle = shapely.Point(x * (length / 2 - radius), y * (width / 2 - radius))
        found = found.difference(corner).union(corner.intersection(middle.buffer(radius, quad_segs=FINE)))
    return found


def sorted_box(x: float, y: float, across: float, up: float) -> tuple[float, float, float, float]:
    """The box from a corner inwards."""
    return min(x, x - across), min(y, y - up), max(x, x - across), max(y, y - up)


def polygon(sides: int, across: float) -> Any:
    """A regular polygon by its size across flats (even sides), a flat at the bottom."""
    radius = across / 2 / math.cos(math.pi / sides)
    ways = [math.tau * (i + 0.5) / sides - math.pi / 2 for i in range(sides)]
    return shapely.Polygon([(radius * math.cos(way), radius * math.sin(way)) for way in ways])


def ellipse(length: float, width: float) -> Any:
    """A true ellipse on 2,000 chords."""
    ways = [math.tau * i / 2000 for i in range(2000)]
    return shapely.Polygon([(length / 2 * math.cos(way), width / 2 * math.sin(way)) for way in ways])


def arc_slot(radius: float, span: float, width: float) -> Any:
    """Everything within half a width of an arc whose middle is the origin and whose centre is below it."""
    half = math.radians(span) / 2
    ways = [math.pi / 2 - half + 2 * half * i / 800 for i in range(801)]
    line = shapely.LineString([(radius * math.cos(way), radius * math.sin(way) - radius) for way in ways])
    return shapely.buffer(line, width / 2, quad_segs=FINE)


def butterfly(length: float, width: float, waist: float, radius: float) -> Any:
    """Two trapezia, rounded at their four outer corners: shrunk by the radius and grown again."""
    x, y, w = length / 2, width / 2, waist / 2
    sharp = shapely.Polygon([(-x, -y), (0, -w), (x, -y), (x, y), (0, w), (-x, y)])
    core = shapely.buffer(sharp, -radius, join_style="mitre", mitre_limit=50)
    return shapely.buffer(core, radius, quad_segs=FINE).union(sharp.intersection(shapely.box(-x / 2, -y, x / 2, y)))


def hand_hold(length: float, width: float, rise: float) -> Any:
    """A slot, and on it the segment of a circle that touches both round ends; the middle is that of its box.

    The circle of radius R about (0, -c) touches the ends, of radius r about (±x, 0), from outside and goes up to
    r + rise: x² + c² = (R - r)² and R - c = r + rise, hence c = (x² - rise²) / 2 rise.
    """
    r, x = width / 2, (length - width) / 2
    c = (x * x - rise * rise) / (2 * rise)
    disc = shapely.buffer(shapely.Point(0, -c), r + rise + c, quad_segs=1500)
    out = (r + rise + c) / (rise + c)  # where they touch, from the disc's centre through an end's
    wedge = shapely.Polygon([(0, -c), (x * out, c * out - c), (2 * x, 3 * c), (-2 * x, 3 * c), (-x * out, c * out - c)])
    arch = disc.intersection(wedge).intersection(shapely.box(-length, 0, length, width + rise))
    return shapely.affinity.translate(slot(length, width).union(arch), 0, -rise / 2)


def there(shape: Any, x: float, y: float, angle: float, *, mirrored: float | None = None) -> Any:
    """A shape turned, moved to its place, and mirrored with a plate of that width."""
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    moved = shapely.transform(
        shape, lambda p: np.column_stack([x + p[:, 0] * cos - p[:, 1] * sin, y + p[:, 0] * sin + p[:, 1] * cos])
    )
    return moved if mirrored is None else flipped(moved, mirrored)


def flipped(shape: Any, width: float) -> Any:
    """The mirror image, left for right, on a plate of that width."""
    return shapely.transform(shape, lambda p: np.column_stack([width - p[:, 0], p[:, 1]]))


def asked_of(job: Job) -> Any:
    """All the cuts of a job in their places on its plate, from the figures in its text.

    Not independent of the program: how far a hinge gain goes on past the edge of the work and its corners out there
    (chosen by the program), a plate's size out of a holder's profile, and that a cut as wide as the bit is made wider
    by the running clearance (the documented rule, done again here). Drawn outlines are read by the other readers.
    """
    return shapely.union_all([placed for cut in job.cuts for placed in _placed(cut, job)])


def _placed(cut: Cut, job: Job) -> list[Any]:
    shape = shaped(cut, job)
    if cut.mirrored:
        shape = shapely.transform(shape, lambda p: p * (-1, 1))
    cos, sin = math.cos(math.radians(cut.angle)), math.sin(math.radians(cut.angle))
    return [
        there(shape, cut.x + x * cos - y * sin, cut.y + x * sin + y * cos, cut.angle + turn)
        for x, y, turn in _group(cut)
    ]


def _group(cut: Cut) -> list[tuple[float, float, float]]:
    """Middles and turns of repeats about the middle of their group."""
    again = cut.repeat
    if again is None:
        return [(0.0, 0.0, 0.0)]
    if again.ring:
        ways = [again.start_angle + 360 * i / again.count for i in range(again.count)]
        radius = again.ring.mm / 2
        turns = [360 * i / again.count if again.turned else 0.0 for i in range(again.count)]
        return [
            (radius * math.cos(math.radians(way)), radius * math.sin(math.radians(way)), turn)
            for way, turn in zip(ways, turns, strict=True)
        ]
    assert again.pitch is not None
    assert again.rows == 1
    along = [again.pitch.mm * (i - (again.count - 1) / 2) for i in range(again.count)]
    way = math.radians(again.direction)
    return [(one * math.cos(way), one * math.sin(way), 0.0) for one in along]


def shaped(cut: Cut, job: Job) -> Any:
    """One cut about its middle, before it is turned."""
    least = job.tools.bit.diameter.mm + job.tools.clearance
    narrow = cut.width < least - 1e-9 and cut.shape in ("slot", "round", "rectangle", "arc-slot")
    width = least if narrow else cut.width
    length = max(cut.length, width)
    form: Any = cut.form
    match cut.shape:
        case "slot" | "round":
            return slot(length, width)
        case "ellipse":
            return ellipse(length, width)
        case "rectangle" if form is not None:
            return uneven(length, width, [radius.mm for radius in form.corner_radii])
        case "rectangle":
            return rectangle(length, width, cut.corner_radius)
        case "polygon":
            return polygon(form.sides, width)
        case "butterfly":
            return butterfly(length, width, form.waist.mm, cut.corner_radius)
        case "arc-slot":
            return arc_slot(form.radius.mm, form.span, width)
        case "hand-hold":
            return hand_hold(length, width, form.rise.mm)
        case "hinge":
            above = uneven(length, width, [0, 0, cut.corner_radius, cut.corner_radius])
            below = uneven(length, form.overrun, [form.end_radius, form.end_radius, 0, 0])
            return above.union(shapely.affinity.translate(below, 0, -(width + form.overrun) / 2))
    assert cut.shape == "outline"
    assert job.source is not None
    return drawn(Path(job.source).parent / form.file, form.select)


def drawn(path: Path, select: str | None) -> Any:
    """A closed contour of a drawing by its layer or id, the middle of its box at the origin; inches in a DXF file."""
    if path.suffix == ".svg":
        shape = area(
            [one.ring for one in svg_contours(path.read_bytes(), 0.0, names=True) if one.layer == select or not select]
        )
    else:
        lines = shapely.multilinestrings(
            [shapely.linestrings(one) for one in dxf_lines(path.read_bytes(), select or "", 25.4)]
        )
        shape = shapely.polygonize([shapely.set_precision(lines, 1e-6)]).geoms[0]
    left, bottom, right, top = shape.bounds
    return shapely.affinity.translate(shape, -(left + right) / 2, -(bottom + top) / 2)
