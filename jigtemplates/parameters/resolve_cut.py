"""A validated [cut] table becomes the cut the program works with."""

import math
from pathlib import Path

from jigtemplates.lengths import Length
from jigtemplates.parameters.cut_tables import (
    AnyCut,
    ArcSlotTable,
    ButterflyTable,
    EllipseTable,
    HandHoldTable,
    HingeTable,
    PolygonTable,
    RectangleTable,
    RoundTable,
)
from jigtemplates.parameters.forms import ArcSlot, Butterfly, Form, FromFile, HandHold, Hinge, Polygon, Uneven
from jigtemplates.parameters.job import Cut, Plate, Repeat
from jigtemplates.parameters.outline_table import OutlineTable, drawn, extents
from jigtemplates.parameters.repeat_table import RepeatTable

#: How far a hinge gain goes on past the edge of the work beyond half the bit, mm (chosen: the bit is then free of the
#: work by a pencil line's width and more, before it turns).
BEYOND = 3.0


def resolved_cut(table: AnyCut, plate: Plate, bit: float, source: Path | None = None) -> Cut:
    """The cut of a table, in the middle of the plate where nothing else is said; bit is its diameter, mm.

    Source is the job's file, beside which a drawing is looked for.
    """
    form = drawn(table, source) if isinstance(table, OutlineTable) else _form(table, bit)
    width, length = extents(form.region) if isinstance(form, FromFile) else _written(table)
    return Cut(
        shape=table.shape,
        width=width.mm,
        length=_along(table) if isinstance(table, ArcSlotTable) else length.mm,
        corner_radius=form.tightest_corner if isinstance(form, FromFile) else _corner_radius(table, width.mm),
        depth=table.depth.mm,
        angle=table.angle,
        x=plate.width / 2 if table.x is None else table.x.mm,
        y=plate.height / 2 if table.y is None else table.y.mm,
        width_written=width,
        length_written=length,
        depth_written=table.depth,
        form=form,
        repeat=None if table.repeat is None else _repeat(table.repeat),
        mirrored=table.mirrored,
        side=table.side,
    )


def _repeat(table: RepeatTable) -> Repeat:
    return Repeat(
        count=table.count,
        pitch=table.pitch,
        direction=table.direction or 0.0,
        rows=table.rows or 1,
        row_pitch=table.row_pitch,
        ring=table.ring,
        start_angle=table.start_angle or 0.0,
        turned=table.turned is not False,
    )


def _written(table: AnyCut) -> tuple[Length, Length]:
    assert not isinstance(table, OutlineTable)
    if isinstance(table, RoundTable):
        return table.diameter, table.diameter
    if isinstance(table, PolygonTable):
        return table.across, table.across
    if isinstance(table, ArcSlotTable):
        return table.width, table.radius
    return table.width, table.length


def _along(slot: ArcSlotTable) -> float:
    """Length of an arc slot along its centre line, both ends included."""
    return slot.radius.mm * math.radians(slot.span) + slot.width.mm


def _corner_radius(table: AnyCut, width: float) -> float:
    if isinstance(table, RectangleTable) and table.corner_radii is not None:
        return min(radius.mm for radius in table.corner_radii)
    if isinstance(table, RectangleTable | PolygonTable | ButterflyTable | HingeTable):
        return table.corner_radius.mm
    if isinstance(table, EllipseTable):
        shorter, longer = sorted((width, table.length.mm))
        return shorter**2 / longer / 2  # of curvature: the square of the shorter half axis by the longer
    return width / 2


def _form(table: AnyCut, bit: float) -> Form | None:
    if isinstance(table, RectangleTable):
        return None if table.corner_radii is None else Uneven(table.corner_radii)
    if isinstance(table, PolygonTable):
        return Polygon(table.sides)
    if isinstance(table, ButterflyTable):
        return Butterfly(table.waist)
    if isinstance(table, HandHoldTable):
        return HandHold(table.rise)
    if isinstance(table, ArcSlotTable):
        return ArcSlot(table.radius, table.span)
    return _hinge(table, bit) if isinstance(table, HingeTable) else None


def _hinge(table: HingeTable, bit: float) -> Hinge:
    """The overrun that lets the bit leave the work, and go in at all where it is wider than the gain is deep in."""
    overrun = max(bit / 2, bit - table.width.mm) + BEYOND
    return Hinge(overrun, min(bit, table.length.mm) / 2)
