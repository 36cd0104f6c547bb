"""The [cut] table of an outline that somebody drew, and the reading of its file."""

import math
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from pathlib import Path, PurePosixPath
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, WithJsonSchema

from jigtemplates.errors import InputError, quoted
from jigtemplates.geometry.outline import Region
from jigtemplates.lengths import Length, mm_text
from jigtemplates.parameters.cut_base import CutBase
from jigtemplates.parameters.faults import Fault
from jigtemplates.parameters.fields import Name, own_fault, text_of
from jigtemplates.parameters.forms import FromFile

#: Factors beyond which a scale is surely a mistake (`imports.outline_file`, said again so that it is not loaded here).
SMALLEST_SCALE, LARGEST_SCALE = 1e-3, 1e3
#: Longest name of a file, with its folders, characters (chosen).
LONGEST = 200


def _file(value: Any) -> str:
    text = text_of(LONGEST)(value)
    path = PurePosixPath(text)
    if path.is_absolute() or "\\" in text or ":" in text:
        where = 'write it from the job\'s folder on, such as "leaf.svg", with /'
        raise own_fault(f"{quoted(text)} is not a place beside the job ({where})")
    if path.suffix.lower() not in (".svg", ".dxf"):
        raise own_fault(f"{quoted(text)} is neither .svg nor .dxf (save the drawing as one of them)")
    return text


def _scale(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise own_fault(f"{quoted(value)} is not a factor (write a number without quotes, such as 0.5)")
    if not SMALLEST_SCALE <= value <= LARGEST_SCALE:
        raise own_fault(f"{quoted(value)} is not a factor from {SMALLEST_SCALE:g} to {LARGEST_SCALE:g}")
    return float(value)


File = Annotated[str, PlainValidator(_file), WithJsonSchema({"type": "string", "pattern": r"\.(svg|SVG|dxf|DXF)$"})]
Scale = Annotated[
    float,
    PlainValidator(_scale),
    WithJsonSchema({"type": "number", "minimum": SMALLEST_SCALE, "maximum": LARGEST_SCALE}),
]


class OutlineTable(CutBase):
    """An outline from a drawing: a DXF or SVG file beside the job."""

    shape: Literal["outline"] = Field(description="An outline from a DXF or SVG drawing.")
    file: File = Field(description="The drawing, from the job's folder on.")
    select: Name | None = Field(
        default=None,
        description="Layer or group, or id or handle of one contour; else all that the drawing shows.",
    )
    scale: Scale = Field(default=1.0, description="Factor by which the drawing is made larger.")
    units: Literal["mm", "in"] | None = Field(
        default=None, description="Unit of a drawing that does not say its own; bare numbers in it are read so."
    )


def outline_faults(table: object, job_file: Path | None) -> Iterator[Fault]:
    """What is wrong with the drawing that a validated [cut] table names; nothing for any other table."""
    if isinstance(table, OutlineTable):
        try:
            drawn(table, job_file)
        except InputError as error:
            yield from (Fault(("cut", "file"), ("cut", "file"), line) for line in error.lines)


def drawn(table: OutlineTable, job_file: Path | None) -> FromFile:
    """The drawn outline of a table; InputError has a line, without the job's name, for each fault."""
    if job_file is None:
        raise InputError(f"{quoted(table.file)} cannot be looked for: the job itself is no file (load it from one)")
    from jigtemplates.imports.outline_file import outline_bytes

    data = outline_bytes(job_file.parent / table.file)
    return _read(data, PurePosixPath(table.file).name, table.file, table.select, table.scale, table.units)


@lru_cache(maxsize=4)  # checked first, then taken; and the sizes of a family may share a drawing
def _read(
    data: bytes, name: str, file: str, select: str | None, scale: float, units: Literal["mm", "in"] | None
) -> FromFile:
    import hashlib

    from jigtemplates.geometry.inside import tightest_corner, widest_inside
    from jigtemplates.imports.outline_file import outline_of

    region = outline_of(data, name, select=select, scale=scale, unit=units)
    digest = hashlib.sha256(data).hexdigest()
    sizes = (widest_inside(region), tightest_corner(region))
    return FromFile(file, digest, select, scale, units, *sizes, region)


def extents(region: Region) -> tuple[Length, Length]:
    """Width along y and length along x, as lengths."""
    box = region.bounds
    return _length(box.height), _length(box.width)


def _length(mm: float) -> Length:
    return Length(Fraction(round(mm * 10**6), 10**6), mm_text(mm, 3))
