"""Laser and CNC router: the template's lines as the machine needs them.

The CNC file carries true outlines; compensating for the cutter belongs to the machine's own program.
The laser file may allow for the kerf, the full width the beam removes: the beam runs half a kerf
inside every opening and hole and half a kerf outside the plate. The kerf has nothing to do with the
bushing's offset, which is in the opening already.
"""

from jigtemplates.drawing import Drawing, Role
from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Region, Regions
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.geometry.tidy import without_slivers
from jigtemplates.parameters.job import Plate
from jigtemplates.processes.layout import countersinks, drawing_of, engraving, rings, shifted
from jigtemplates.template import Template


def cnc_drawing(template: Template) -> Drawing:
    """True outlines, countersinks as pockets, label and marks."""
    return _drawing(template, 0.0)


def laser_drawing(template: Template, kerf: float = 0.0) -> Drawing:
    """Outlines for a beam that removes kerf (mm, full width); the plate's lower-left corner stays at (0, 0).

    With a kerf the drawing is one kerf larger than the plate, which the beam then takes off.
    """
    return _drawing(template, kerf)


def _drawing(template: Template, kerf: float) -> Drawing:
    half = kerf / 2
    items = [
        *engraving(template),
        *countersinks(template),
        *(item for hole in template.holes for item in rings(Role.DRILL, offset((Region(hole.outline),), -half))),
        *rings(Role.CUT_INSIDE, without_slivers(offset(template.opening, -half))),
        *rings(Role.CUT_OUTSIDE, without_slivers(_grown(template.job.plate, half))),
    ]
    if half:
        items = [shifted(item, half) for item in items]
    box = template.plate.bounds
    return drawing_of(items, box.width + kerf, box.height + kerf)


def _grown(plate: Plate, distance: float) -> Regions:
    """The plate's outline grown; square corners stay square, since a beam may run past them."""
    width, height = plate.width + 2 * distance, plate.height + 2 * distance
    radius = plate.corner_radius + distance if plate.corner_radius else 0.0
    outline = rectangle(width, height, min(radius, width / 2, height / 2))
    return (Region(outline.moved(plate.width / 2, plate.height / 2)),)
