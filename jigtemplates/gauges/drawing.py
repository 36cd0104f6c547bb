"""A gauge becomes a drawing for a machine: contours of openings and plate moved by half the kerf, shared cuts not.

A line that is cut once and parts two pieces has no side to move to: the beam runs on it.
"""

from collections.abc import Iterator

from jigtemplates.drawing import Drawing, Item, Role
from jigtemplates.gauges.gauge import Gauge
from jigtemplates.gauges.layout import plate_region
from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Outline, Region
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.geometry.tidy import without_slivers
from jigtemplates.processes.layout import drawing_of, rings, shifted, strokes


def machine_drawing(gauge: Gauge, kerf: float = 0.0) -> Drawing:
    """The lines of a gauge with their roles, for a beam of that kerf (mm, full width); 0 keeps true outlines.

    With a kerf the drawing is one kerf larger than the plate, which the beam then takes off.
    """
    half = kerf / 2
    items = [shifted(item, half) for item in _items(gauge, half)] if half else list(_items(gauge, 0.0))
    return drawing_of(items, gauge.plate.width + kerf, gauge.plate.height + kerf)


def _items(gauge: Gauge, half: float) -> Iterator[Item]:
    yield from strokes(Role.ENGRAVE, gauge.engraved)
    yield from strokes(Role.MARK, gauge.marks)
    yield from (Item(Role.POCKET, hole.rim) for hole in gauge.holes if hole.head)
    for hole in gauge.holes:
        yield from rings(Role.DRILL, offset((Region(hole.outline),), -half))
    # The pieces between shared cuts lie fast only while the window round them is not cut: it comes last.
    yield from strokes(Role.CUT_INSIDE, gauge.shared_cuts)
    for step in gauge.steps:
        yield from rings(Role.CUT_INSIDE, without_slivers(offset((Region(step.opening),), -half)))
    yield from (Item(Role.CUT_INSIDE, window) for window in gauge.windows)
    yield Item(Role.CUT_OUTSIDE, _grown(gauge, half))


def _grown(gauge: Gauge, half: float) -> Outline:
    """The plate's outline grown; square corners stay square, since a beam may run past them."""
    plate = gauge.plate
    if not half:
        return plate_region(plate.width, plate.height, plate.corner_radius).outer
    width, height = plate.width + 2 * half, plate.height + 2 * half
    radius = plate.corner_radius + half if plate.corner_radius else 0.0
    return rectangle(width, height, min(radius, width / 2, height / 2)).moved(plate.width / 2, plate.height / 2)
