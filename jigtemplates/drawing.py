"""A drawing: what a process is given to cut, drill, engrave or print, before any file format.

Millimetres, x right, y up, lower-left corner of the plate at (0, 0). An item has a role and a
shape; what a role looks like (layer, colour, stroke) is a pen, and pens come from a process profile.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from jigtemplates.geometry.outline import Outline, Point


class Role(StrEnum):
    """What a line is for. The value is the name used in profiles and files."""

    CUT_OUTSIDE = "cut_outside"
    CUT_INSIDE = "cut_inside"
    DRILL = "drill"
    POCKET = "pocket"
    ENGRAVE = "engrave"
    MARK = "mark"
    REFERENCE = "reference"


#: The order in which a machine should work: light work first, the cut that frees the plate last.
WORKING_ORDER = (
    Role.REFERENCE,
    Role.MARK,
    Role.ENGRAVE,
    Role.POCKET,
    Role.DRILL,
    Role.CUT_INSIDE,
    Role.CUT_OUTSIDE,
)


@dataclass(frozen=True, slots=True)
class Stroke:
    """An open polyline: engraved lettering, a centre line, a tick."""

    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Item:
    """One contour or stroke with its role."""

    role: Role
    shape: Outline | Stroke


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything that goes into one file, in working order, within (0, 0) to (width, height)."""

    items: tuple[Item, ...]
    #: overall size of the drawing, mm
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Pen:
    """How a role is drawn in a file."""

    #: layer name in DXF and group id in SVG: ASCII, no spaces, at most 31 characters
    layer: str
    #: colour as "#rrggbb"
    colour: str
    #: line width in SVG and on paper, mm
    stroke: float


Pens = Mapping[Role, Pen]
