"""How a template leaves the program: what a process draws, and the papers patterns are printed on."""

import re
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import ZERO, Gap, Name, Size, Strict, own_fault
from jigtemplates.parameters.limits import between, matching

#: DXF R12 allows a layer's name 31 ASCII characters without spaces; a letter first also makes it an SVG id.
LAYER = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,30}")
COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")
#: Widest line of a drawing, mm (chosen: a wider one hides what it shows).
WIDEST_STROKE = 2
#: Smallest width and height to print on, mm: a bar of 4 in (101.6 mm) and its words (chosen).
SMALLEST_PRINT = 120

#: Without these a file is no template: a plate without its opening, or without its edge.
NEEDED = ("cut_outside", "cut_inside")
_ARE = {1: "is", 2: "are"}

_LAYER_FAULT = "a layer name (a letter, then letters, digits, _ or -; at most 31 characters)"
Layer = Annotated[str, *matching(LAYER, _LAYER_FAULT)]
Colour = Annotated[str, *matching(COLOUR, "a colour (write it as #rrggbb, such as #0072B2)")]


class RolePen(Strict):
    """How the lines of one role are drawn."""

    layer: Layer = Field(description="Layer in DXF and group in SVG.")
    colour: Colour = Field(description="Colour as #rrggbb.")
    stroke: Annotated[Size, between(0, WIDEST_STROKE)] = Field(description="Width of the line.")


class Roles(Strict):
    """The roles a process draws; one that is left out is not drawn, but plate and openings always are."""

    cut_outside: RolePen | None = Field(None, description="The plate's own outline.")
    cut_inside: RolePen | None = Field(None, description="Openings.")
    drill: RolePen | None = Field(None, description="Round holes for screws.")
    pocket: RolePen | None = Field(None, description="Countersinks and other sunk places.")
    engrave: RolePen | None = Field(None, description="The label.")
    mark: RolePen | None = Field(None, description="Centre lines and ticks to make on the plate.")
    reference: RolePen | None = Field(None, description="Lines to look at, never to cut.")

    def drawn(self) -> dict[str, RolePen]:
        """The pens of the roles this process draws, by the role's name, in the order of the fields."""
        pens = {role: getattr(self, role) for role in type(self).model_fields}
        return {role: pen for role, pen in pens.items() if pen is not None}


class Process(Strict):
    """How one machine, or a printer, is given a template."""

    name: Name = Field(description="What a job calls the process.")
    kerf: Gap = Field(ZERO, description="Full width the process removes; 0 where it was not measured.")
    dxf_version: Literal["R2000", "R12"] = Field("R2000", description="Version of the DXF file.")
    allowance: Gap = Field(ZERO, description="How much wider a 3D printer is to make screw holes.")
    opening_allowance: Gap = Field(ZERO, description="The same for openings; 0 where it was not measured.")
    roles: Roles = Field(description="What is drawn, on which layer, in which colour.")

    @field_validator("roles")
    @classmethod
    def _draws_and_agrees(cls, roles: Roles) -> Roles:
        missing = [role for role in NEEDED if role not in roles.drawn()]
        if missing:
            raise own_fault(
                f"{' and '.join(missing)} {_ARE[len(missing)]} missing (give at least {' and '.join(NEEDED)})"
            )
        _one_colour_a_layer(roles)
        return roles


def _one_colour_a_layer(roles: Roles) -> None:
    """Two roles may share a layer, in one spelling (DXF ignores case) and one colour."""
    first: dict[str, tuple[str, RolePen]] = {}
    for role, pen in roles.drawn().items():
        other, same = first.setdefault(pen.layer.lower(), (role, pen))
        if (same.layer, same.colour.lower()) != (pen.layer, pen.colour.lower()):
            raise own_fault(f'{other} and {role} share the layer "{pen.layer}" (write it alike, in one colour)')


class Paper(Strict):
    """A paper size, upright, and what must stay free on it."""

    name: Name = Field(description="What a job calls the paper.")
    margin: Annotated[Size, between(10)] = Field(description="Left free at the left, the right and the top.")
    foot: Annotated[Size, between(15)] = Field(description="Left free at the bottom.")
    overlap: Annotated[Size, between(10, 15)] = Field(description="How far neighbouring tiles overlap.")
    width: Size = Field(description="Width of the paper.")
    height: Size = Field(description="Height of the paper.")

    @field_validator("width")
    @classmethod
    def _wide_enough(cls, width: Length, info: ValidationInfo) -> Length:
        _room_to_print(width, info, ("margin", "margin"))
        return width

    @field_validator("height")
    @classmethod
    def _high_enough(cls, height: Length, info: ValidationInfo) -> Length:
        _room_to_print(height, info, ("margin", "foot"))
        return height


def _room_to_print(length: Length, info: ValidationInfo, sides: tuple[str, str]) -> None:
    free = sum(info.data[side].exact for side in sides if side in info.data)
    if length.exact - free < SMALLEST_PRINT:
        raise own_fault(f'"{length}" leaves less than {SMALLEST_PRINT} mm to print on (use a larger paper)')
