"""How a template leaves the program: what a process draws, and the papers patterns are printed on."""

import re
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import ZERO, Day, Gap, Name, Size, Strict, own_fault
from jigtemplates.parameters.limits import between, matching
from jigtemplates.parameters.make_tables import WIDEST_KERF, PrintedBarTable

#: DXF R12 allows a layer's name 31 ASCII characters without spaces; a letter first also makes it an SVG id.
LAYER = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,30}")
COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")
#: Widest line of a drawing, mm (chosen: a wider one hides what it shows).
WIDEST_STROKE = 2
#: Smallest width and height to print on, mm: a bar of 4 in (101.6 mm) and its words (chosen).
SMALLEST_PRINT = 120

#: Furthest an edge of an opening may lie from where it is drawn, mm (chosen: a template that is worse guides nothing).
WIDEST_EDGE = 2

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


class EarlierKerf(Strict):
    """A kerf that a later measurement took the place of."""

    width: Annotated[Size, between(0, WIDEST_KERF)] = Field(description="Full width that was measured.")
    within: Gap | None = Field(None, description="How good that measurement was.")
    measured_on: Day | None = Field(None, description="Day it was measured.")


class MeasuredKerf(Strict):
    """What a beam removes from one sheet, measured."""

    sheet: Name | None = Field(None, description="Name of the sheet material; without it, any.")
    thickness: Size | None = Field(None, description="Thickness of the sheet; without it, any.")
    width: Annotated[Size, between(0, WIDEST_KERF)] = Field(description="Full width removed.")
    within: Gap | None = Field(None, description="How far the true width may be from it, either way.")
    measured_on: Day | None = Field(None, description="Day it was measured: 2026-11-25.")
    was: tuple[EarlierKerf, ...] = Field((), description="Earlier measurements, the latest first; nothing uses them.")

    @property
    def of(self) -> tuple[str | None, Fraction | None]:
        """What it was measured in: sheet and thickness."""
        return self.sheet, None if self.thickness is None else self.thickness.exact

    @property
    def text(self) -> str:
        """What it was measured in, in words: "mdf, 6 mm", "" where that was not said."""
        said = (self.sheet, None if self.thickness is None else self.thickness.text)
        return ", ".join(part for part in said if part is not None)


class EarlierBar(PrintedBarTable):
    """Bars that a later print took the place of."""

    measured_on: Day | None = Field(None, description="Day they were measured.")


class PrintedBar(EarlierBar):
    """What the bars of an uncorrected page measured, which corrects all patterns."""

    was: tuple[EarlierBar, ...] = Field((), description="Earlier measurements, the latest first; nothing uses them.")


class Process(Strict):
    """How one machine, or a printer, is given a template."""

    name: Name = Field(description="What a job calls the process.")
    kerf: Gap = Field(ZERO, description="Full width the process removes; 0 where it was not measured.")
    kerfs: tuple[MeasuredKerf, ...] = Field((), description="The kerf measured in single sheets; comes before kerf.")
    printed_bar: PrintedBar | None = Field(None, description="What the 100 mm bars measured on your printer.")
    within: Annotated[Gap, between(0, WIDEST_EDGE)] | None = Field(
        None, description="How far the edge of an opening may lie from where it is drawn, either way."
    )
    dxf_version: Literal["R2000", "R12"] = Field("R2000", description="Version of the DXF file.")
    gap: Gap | None = Field(None, description="Left between two plates on a sheet.")
    margin: Gap | None = Field(None, description="Left free at every edge of a sheet.")
    cutter: Size | None = Field(None, description="Diameter of the cutter that goes round the plates.")
    allowance: Gap | None = Field(None, description="How much wider a 3D printer is to make screw holes; else 0.")
    opening_allowance: Gap | None = Field(None, description="The same for openings; 0 until it is measured.")
    roles: Roles = Field(
        default_factory=Roles.model_construct,
        description="What is drawn, on which layer, in which colour. Left out: all that is not written is as shipped.",
    )

    def over(self, other: "Process") -> "Process":
        """This process with all that it leaves out as the other has it."""
        left_out = other.model_fields_set - self.model_fields_set
        return self.model_copy(update={key: getattr(other, key) for key in left_out})

    @property
    def is_whole(self) -> bool:
        """Whether it says what is drawn, and so does not stand over another process."""
        return bool(self.roles.drawn())

    @field_validator("kerfs")
    @classmethod
    def _once_a_sheet(cls, kerfs: tuple[MeasuredKerf, ...]) -> tuple[MeasuredKerf, ...]:
        sheets = [kerf.of for kerf in kerfs]
        for at, kerf in enumerate(kerfs):
            if kerf.of in sheets[:at]:
                raise own_fault(f"{kerf.text or 'any sheet'} stands there twice (keep one)")
        return kerfs

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
