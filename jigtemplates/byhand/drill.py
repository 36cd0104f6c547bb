"""Drilling by hand: what is drilled where, in order, and which drill comes nearest; mm from the datum corner."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from jigtemplates.byhand.table import Table, shown
from jigtemplates.geometry.outline import Arc, Point, Region, Regions
from jigtemplates.lengths import MM_PER_INCH, Length, mixed_text, mm_text
from jigtemplates.template import Template

#: Drills that can be bought, metric: steps of 0.5 mm to 30 mm (chosen: twist drills, and Forstner bits above 13 mm).
METRIC = tuple(Length(Fraction(n, 2), mm_text(n / 2)) for n in range(2, 61))
#: Drills that can be bought, inch: steps of 1/64 in to 1 in (chosen, as above).
INCH = tuple(Length(Fraction(n, 64) * MM_PER_INCH, f"{mixed_text(Fraction(n, 64))} in") for n in range(3, 65))
#: More than this nobody pares away, mm in diameter (chosen): it is sawn.
PARED = 3.0
#: How finely an outline is followed to see whether a hole has room, mm (chosen: nobody drills truer).
ROUGH = 0.01
#: Centres nearer to each other are one hole, mm (chosen: nobody drills two).
TOGETHER = 0.5
#: A drill so little larger still counts as fitting, mm (chosen: no drill is truer).
OVER = 0.01


@dataclass(frozen=True, slots=True)
class DrillHole:
    """A hole to drill through the plate."""

    number: int
    x: float
    y: float
    #: what is drilled: "screw hole", "end of the opening", "corner of the opening", "opening"
    what: str
    #: diameter it should have, mm
    diameter: float
    #: diameter of the countersink at the upper face, mm; None without one
    countersink: float | None
    #: of the opening's holes: the widest drill that stays inside; None where there is none, and for screw holes
    drill: Length | None


def drill_holes(template: Template, drills: Sequence[Length]) -> tuple[DrillHole, ...]:
    """The screw holes in the order of their pattern, then the opening's ends or corners, row by row from below.

    `drills` are the sizes to choose from for the opening.
    """
    screws = [
        DrillHole(i, hole.center.x, hole.center.y, "screw hole", hole.diameter, hole.head, None)
        for i, hole in enumerate(template.holes, 1)
    ]
    ends = [
        DrillHole(i, place.x, place.y, what, 2 * radius, None, widest_within(2 * radius, drills))
        for i, (place, radius, what) in enumerate(opening_ends(template.opening), len(screws) + 1)
    ]
    return (*screws, *ends)


def opening_ends(opening: Regions) -> Iterator[tuple[Point, float, str]]:
    """Centre and radius of every round end or corner of the opening in which a hole has room, and what it is."""
    for region in opening:
        circle = region.outer.as_circle
        if circle is not None:
            yield circle.center, circle.radius, "opening"
            continue
        arcs = [s for s in region.outer.segments if isinstance(s, Arc) and s.turn > 0 and _has_room(region, s)]
        holes = _apart(sorted(arcs, key=lambda arc: (round(arc.center.y, 6), round(arc.center.x, 6))))
        what = "end of the opening" if len(holes) == 2 else "corner of the opening"
        for arc in holes:
            yield arc.center, arc.radius, what


def _apart(arcs: Sequence[Arc]) -> list[Arc]:
    """Of arcs whose centres lie together the narrowest: one hole, which stays inside for each of them."""
    kept: list[Arc] = []
    for arc in arcs:
        same = next((i for i, other in enumerate(kept) if math.dist(other.center, arc.center) < TOGETHER), None)
        if same is None:
            kept.append(arc)
        elif arc.radius < kept[same].radius:
            kept[same] = arc
    return kept


def _has_room(region: Region, arc: Arc) -> bool:
    """Whether the whole circle of an arc lies in the region, to 0.02 mm: of an ellipse's arcs only some do."""
    rings = [ring.flattened(ROUGH) for ring in region.rings]
    edges = ((a, b) for ring in rings for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))
    return all(_from_edge(arc.center, a, b) >= arc.radius - 2 * ROUGH for a, b in edges)


def _from_edge(point: Point, a: tuple[float, float], b: tuple[float, float]) -> float:
    """Distance of a point from a straight edge, mm."""
    (ax, ay), (bx, by) = a, b
    dx, dy = bx - ax, by - ay
    length = dx * dx + dy * dy
    along = min(1.0, max(0.0, ((point.x - ax) * dx + (point.y - ay) * dy) / length)) if length else 0.0
    return math.dist(point, (ax + along * dx, ay + along * dy))


def widest_within(diameter: float, drills: Sequence[Length]) -> Length | None:
    """The drill that leaves least to pare: the nearest one that is not wider than the hole; None without one."""
    fitting = [drill for drill in drills if drill.mm <= diameter + OVER]
    return max(fitting, key=lambda drill: drill.exact, default=None)


def drilling_table(holes: Sequence[DrillHole], inches: bool, own: bool, *, round_plate: bool = False) -> Table:
    """The holes as text, their places from the datum corner; a round plate has that of the square round it."""
    header = ("no.", "x", "y", "drill", "countersink", "what")
    rows = tuple(_row(hole, inches) for hole in holes)
    series = "your own drills" if own else f"drills in steps of {'1/64 in to 1 in' if inches else '0.5 mm to 30 mm'}"
    corner = "the lower-left one of the square round the plate," if round_plate else "the plate's lower-left one"
    notes = [f"x and y from the datum corner, {corner} seen from above."]
    if any(hole.drill for hole in holes):
        notes.append(f"Holes of the opening: the nearest of {series} that stays inside; pare the rest to the line.")
    return Table("Drilling, in this order", header, rows, tuple(notes))


def _row(hole: DrillHole, inches: bool) -> tuple[str, ...]:
    countersink = "-" if hole.countersink is None else f"to {shown(hole.countersink, inches)}"
    place = shown(hole.x, inches), shown(hole.y, inches)
    return (str(hole.number), *place, _drill(hole, inches), countersink, hole.what)


def _drill(hole: DrillHole, inches: bool) -> str:
    size = shown(hole.diameter, inches)
    if hole.what == "screw hole":
        return size
    if hole.drill is None:
        return f"none for {size}: saw and file"
    if hole.drill.mm > hole.diameter - OVER:
        return hole.drill.text
    if hole.diameter - hole.drill.mm > PARED:
        return f"{hole.drill.text} to start, saw to {size}"
    return f"{hole.drill.text}, then pare to {size}"
