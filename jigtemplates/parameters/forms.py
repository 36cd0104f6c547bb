"""What a shape has besides width, length and corner radius; a cut without more has no form.

A `Length` keeps what was written; a bare number is mm, an angle degrees.
"""

from dataclasses import dataclass

from jigtemplates.lengths import Length


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


Form = Uneven | Polygon | Butterfly | HandHold | ArcSlot | Hinge
