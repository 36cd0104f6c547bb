"""The [make] table: for which machines or printers, and how their files are to be."""

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.errors import quoted
from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import Flag, Gap, Name, Size, Strict, no_less_than, own_fault
from jigtemplates.parameters.lookup import entry
from jigtemplates.parameters.measured import MeasuredGap

Target = Literal["laser", "cnc", "paper", "print"]

#: Length of the bars printed on every page for measuring, mm (output-files.md).
BAR_MM = 100
#: Smallest and largest correction of a printer (output-files.md).
CORRECTION = (Fraction(97, 100), Fraction(103, 100))
#: Widest kerf, mm (chosen: several times the 0.45 mm published for lasers; more is surely a wrong unit).
WIDEST_KERF = 2
#: Coarsest chord tolerance, mm (chosen: a template that follows its arcs worse guides badly).
COARSEST_CHORD = 1
#: Finest chord tolerance, mm (chosen: far below what any machine follows; finer ones only swell the file).
FINEST_CHORD = "0.001"
#: Widest allowance of a printed hole or opening, mm (chosen: several times the 0.1 to 0.3 mm that hobby printers'
#: holes are published to be too small by; more is surely a wrong unit).
WIDEST_ALLOWANCE = 2
#: Least depth or height of printed letters, mm (chosen: one thin layer).
LEAST_LABEL = "0.1"
#: Most of it, mm (chosen: a plate is not thick).
MOST_LABEL = 3
_PAPERS = ("a4", "letter")


class DxfTable(Strict):
    """How DXF files are written."""

    version: Literal["R2000", "R12"] | None = Field(
        default=None, description="Version of the DXF file; else the process profile's."
    )
    units: Literal["mm", "in"] = Field(default="mm", description="Unit of the coordinates.")
    arcs: Literal["bulges", "pieces", "facets"] = Field(
        default="bulges",
        description="Arcs as bulges of a polyline, as separate lines and arcs, or as short straight facets.",
    )
    chord: Annotated[Size, no_less_than(FINEST_CHORD)] = Field(
        default=Length(Fraction(1, 100), "0.01 mm"),
        description="How far a facet may be from its arc.",
    )

    @field_validator("chord")
    @classmethod
    def _is_fine(cls, chord: Length) -> Length:
        return _at_most(chord, COARSEST_CHORD, "for a template")


class PrintedBarTable(Strict):
    """What the two 100 mm bars of a printed page measured, to correct one printer."""

    across: Size = Field(description="Measured length of the horizontal 100 mm bar.")
    up: Size = Field(description="Measured length of the vertical 100 mm bar.")

    @field_validator("across", "up")
    @classmethod
    def _is_a_printers_error(cls, measured: Length) -> Length:
        if not CORRECTION[0] <= BAR_MM / measured.exact <= CORRECTION[1]:
            raise own_fault(
                f"{quoted(measured.text)} is too far from {BAR_MM} mm to be a printer's error "
                "(97.1 to 103.0 mm; print again at 100 %, without fitting to the page)"
            )
        return measured


class PrintTable(Strict):
    """How a printed template is made."""

    allowance: Gap | None = Field(
        default=None,
        description="How much wider screw holes are made, since they print too small; else the process profile's.",
    )
    opening_allowance: Gap | None = Field(
        default=None,
        description="The same for openings, measured on a print of yours; else the process profile's.",
    )
    chord: Annotated[Size, no_less_than(FINEST_CHORD)] = Field(
        default=Length(Fraction(1, 100), "0.01 mm"),
        description="How far a facet of the mesh may be from its arc.",
    )
    label: Literal["sunk", "raised", "none"] = Field(
        default="sunk",
        description="Letters sunk into the upper face or raised from it, or none.",
    )
    label_depth: Annotated[Size, no_less_than(LEAST_LABEL)] = Field(
        default=Length(Fraction(6, 10), "0.6 mm"),
        description="How deep letters and marks are sunk, or how high letters are raised.",
    )
    formats: tuple[Literal["3mf", "stl"], ...] = Field(
        default=("3mf", "stl"), min_length=1, description="Kinds of file."
    )

    @field_validator("allowance", "opening_allowance")
    @classmethod
    def _is_a_printers(cls, allowance: Length | None) -> Length | None:
        return allowance if allowance is None else _at_most(allowance, WIDEST_ALLOWANCE, "for a printer")

    @field_validator("chord")
    @classmethod
    def _is_fine(cls, chord: Length) -> Length:
        return _at_most(chord, COARSEST_CHORD, "for a template")

    @field_validator("label_depth")
    @classmethod
    def _is_shallow(cls, depth: Length) -> Length:
        return _at_most(depth, MOST_LABEL, "for letters")

    @field_validator("formats")
    @classmethod
    def _once_each(cls, names: tuple[str, ...]) -> tuple[str, ...]:
        return _without_doubles(names)


class MakeTable(Strict):
    """What to make."""

    targets: tuple[Target, ...] = Field(
        default=("laser", "cnc", "paper"),
        alias="for",
        min_length=1,
        description="Machines and printers to make it for.",
    )
    kerf: MeasuredGap | None = Field(
        default=None,
        description="Full width the laser's beam removes; else the process profile's.",
    )
    dxf: DxfTable = Field(default_factory=DxfTable.model_construct, description="How DXF files are written.")
    papers: tuple[Name, ...] = Field(
        default=_PAPERS,
        min_length=1,
        validate_default=True,
        description="Names of the papers to print on.",
    )
    printed_bar: PrintedBarTable | None = Field(
        default=None, description="What the 100 mm bars of a printed page measured on your printer."
    )
    printing: PrintTable = Field(
        default_factory=PrintTable.model_construct, alias="print", description="How a printed template is made."
    )
    mirrored: Flag = Field(default=False, description="Mirror everything on purpose.")
    pair: Literal["left", "right"] | None = Field(
        default=None,
        description="Make the mirror image as well, for the other hand; the hand that the plate as drawn is for.",
    )

    @field_validator("targets", "papers")
    @classmethod
    def _once_each(cls, names: tuple[str, ...]) -> tuple[str, ...]:
        return _without_doubles(names)

    @field_validator("papers")
    @classmethod
    def _are_known(cls, names: tuple[str, ...], info: ValidationInfo) -> tuple[str, ...]:
        for name in names:
            entry("papers", name, info)
        return names

    @field_validator("kerf")
    @classmethod
    def _is_a_beam(cls, kerf: Length | None) -> Length | None:
        return kerf if kerf is None else _at_most(kerf, WIDEST_KERF, "for a laser")


def _without_doubles(names: tuple[str, ...]) -> tuple[str, ...]:
    doubles = [name for at, name in enumerate(names) if name in names[:at]]
    if doubles:
        raise own_fault(f"{quoted(doubles[0])} stands there twice (keep one)")
    return names


def _at_most(length: Length, most: int, why: str) -> Length:
    if length.exact > most:
        raise own_fault(f"{quoted(length.text)} is too much {why} (at most {most} mm)")
    return length
