"""A solid: what a printer is given, before any file format.

Millimetres, x right, y up, z up from the printer's bed. A template lies on its underside, its datum corner at
(0, 0, 0), its upper face up. What the parts are for is not known here, only where they are.
"""

from dataclasses import dataclass

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Point, Regions


@dataclass(frozen=True, slots=True)
class Prism:
    """A body with straight sides over an area."""

    area: Regions
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class Cone:
    """A cone, or what is left of one cut off flat, that widens upwards."""

    center: Point
    bottom: float
    top: float
    #: at the bottom and at the top
    radii: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Beads:
    """Strokes given a width, with round ends and joints: lettering, marks."""

    strokes: tuple[Stroke, ...]
    width: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class Solid:
    """The body less what is cut out of it, with what is added.

    The mesh of it never reaches beyond the body nor into a cut as they are drawn: facets keep to the side where
    there is less of the solid, by at most `chord`. Beads are drawn as near as they need to be, on either side.
    """

    body: Prism
    cuts: tuple[Prism | Cone | Beads, ...]
    added: tuple[Beads, ...]
    #: how far a facet may be from what it stands for, mm
    chord: float
