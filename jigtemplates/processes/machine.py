"""Laser and CNC router: the template's lines as the machine needs them.

The CNC file carries true outlines; compensating for the cutter belongs to the machine's own program.
The laser file may allow for the kerf, the full width the beam removes: the beam runs half a kerf
inside every opening and hole and half a kerf outside the plate. The kerf has nothing to do with the
bushing's offset, which is in the opening already.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from jigtemplates.drawing import Drawing, Item, Role, Stroke
from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.geometry.tidy import without_slivers
from jigtemplates.parameters.job import Plate
from jigtemplates.processes.layout import countersinks, drawing_of, engraving, rings, shifted, strokes
from jigtemplates.template import Template

if TYPE_CHECKING:
    from jigtemplates.rebate import Rebate


def cnc_drawing(template: Template) -> Drawing:
    """True outlines, countersinks as pockets, label and marks."""
    return _drawing(template, 0.0)


def laser_drawing(template: Template, kerf: float = 0.0) -> Drawing:
    """Outlines for a beam that removes kerf (mm, full width); the plate's lower-left corner stays at (0, 0).

    With a kerf the drawing is one kerf larger than the plate, which the beam then takes off.
    """
    return _drawing(template, kerf)


def underside_drawing(template: Template, rebate: "Rebate") -> Drawing:
    """The plate turned over, left for right, with its rebate: a pocket round its middle, OVERRUN past its edge.

    The screw holes stand in it once more, to register the plate on pins, and the plate's edge as a mark; it is cut from
    the other side. The datum corner, now at the lower right, has its mark within the middle, which stays.
    """
    from jigtemplates.rebate import OVERRUN  # which most jobs do without

    plate = template.job.plate

    def over(outline: Outline) -> Outline:
        return outline.mirrored().moved(plate.width, 0.0)

    holes = tuple(over(hole.outline) for hole in template.holes)
    middle, opening = over(rebate.middle_on(plate)), tuple(over(region.outer) for region in template.opening)
    items = [
        *_underside_marks(middle, (*opening, *holes)),
        Item(Role.MARK, over(template.plate.outer)),
        *rings(Role.POCKET, _grown(plate, OVERRUN)),
        Item(Role.POCKET, middle.turned(False)),
        *(Item(Role.DRILL, hole) for hole in holes),
    ]
    box = template.plate.bounds
    return drawing_of([shifted(item, OVERRUN) for item in items], box.width + 2 * OVERRUN, box.height + 2 * OVERRUN)


def _underside_marks(middle: Outline, blocked: tuple[Outline, ...]) -> Iterator[Item]:
    """The datum corner and the words that tell this side from the other, in the middle as far as they have room."""
    from jigtemplates.label import line_breaks, place_label
    from jigtemplates.marks import datum_mark

    face = Region(middle)
    seen_from_above = datum_mark(Region(middle.mirrored()), [one.mirrored() for one in blocked])
    datum = tuple(Stroke(tuple(Point(-p.x, p.y) for p in stroke.points)) for stroke in seen_from_above)
    breaks = line_breaks(("underside", "MIRRORED", "seen from below"))
    placed = place_label(breaks[0], plate=face, blocked=(*blocked, *datum), others=breaks[1:]).label
    yield from strokes(Role.ENGRAVE, placed.strokes if placed else ())
    yield from strokes(Role.MARK, datum)


def _drawing(template: Template, kerf: float) -> Drawing:
    half = kerf / 2
    items = [
        *engraving(template),
        *countersinks(template),
        *(item for hole in template.holes for item in rings(Role.DRILL, offset((Region(hole.outline),), -half))),
        *rings(Role.CUT_INSIDE, without_slivers(offset(template.opening, -half))),
        *rings(Role.CUT_OUTSIDE, without_slivers(_outside(template, half))),
    ]
    if half:
        items = [shifted(item, half) for item in items]
    box = template.plate.bounds
    return drawing_of(items, box.width + kerf, box.height + kerf)


def _outside(template: Template, distance: float) -> Regions:
    """The plate's edge grown: a pattern's as any outline, a plate's with its corners as they are."""
    if template.job.cut.side == "outside":
        return offset((template.plate,), distance)
    return _grown(template.job.plate, distance)


def _grown(plate: Plate, distance: float) -> Regions:
    """The plate's outline grown; square corners stay square, since a beam may run past them."""
    width, height = plate.width + 2 * distance, plate.height + 2 * distance
    radius = plate.corner_radius + distance if plate.corner_radius else 0.0
    outline = rectangle(width, height, min(radius, width / 2, height / 2))
    return (Region(outline.moved(plate.width / 2, plate.height / 2)),)
