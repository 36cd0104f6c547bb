"""What a shape has besides width, length and corner radius; a cut without more has no form.

A `Length` keeps what was written; a bare number is mm, an angle degrees.
"""

from dataclasses import dataclass, field

from jigtemplates.geometry.outline import Region
from jigtemplates.lengths import Length, Unit


@dataclass(frozen=True, slots=True)
class Uneven:
    """A rectangle whose corners differ."""

    #: lower left, lower right, upper right, upper left
    corner_radii: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class Polygon:
    """A regular polygon; its width and its length are the size across it."""

    sides: int


@dataclass(frozen=True, slots=True)
class Butterfly:
    """A butterfly key; its width is that of its ends."""

    #: width in its middle
    waist: Length


@dataclass(frozen=True, slots=True)
class HandHold:
    """A hand-hold; its width is that of its ends."""

    #: how much further its upper side reaches in the middle than at the ends
    rise: Length


@dataclass(frozen=True, slots=True)
class ArcSlot:
    """A slot along an arc; its width is across the slot, its length along the centre line, ends included."""

    #: of the centre line
    radius: Length
    #: angle between the centres of its ends, degrees
    span: float


@dataclass(frozen=True, slots=True)
class Hinge:
    """A gain open to the edge of the work; its width is from that edge, its length along it."""

    #: how far the bit goes on past the edge of the work, mm
    overrun: float
    #: radius of the corners out there, mm
    end_radius: float


@dataclass(frozen=True, slots=True)
class FromFile:
    """An outline from a drawing; its width and its length are those of its upright box."""

    #: the drawing's name as the job has it, from the job's folder on
    file: str
    #: of the drawing's bytes, SHA-256 as hexadecimal
    sha256: str
    select: str | None
    scale: float
    units: Unit | None
    #: diameter of the largest circle inside it, mm
    widest_inside: float
    #: radius of the tightest corner that a bit has to go into, mm; 0 for a sharp one
    tightest_corner: float
    #: the outline itself, the middle of its box at the origin; the drawing's hash stands for it in a manifest
    region: Region = field(metadata={"manifest": False})


Form = FromFile | Uneven | Polygon | Butterfly | HandHold | ArcSlot | Hinge
