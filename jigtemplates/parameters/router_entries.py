"""Routers: what must stand on the template, and what comes down through it."""

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import Name, Note, Size, Strict, own_fault
from jigtemplates.parameters.measured import MeasuredSize


class RoundBase(Strict):
    """A round base."""

    shape: Literal["round"] = Field(description="A round base.")
    diameter: MeasuredSize = Field(description="Diameter of the base.")


class RectangleBase(Strict):
    """A rectangular base."""

    shape: Literal["rectangle"] = Field(description="A rectangular base.")
    width: MeasuredSize = Field(description="Width of the base, from one handle to the other.")
    depth: MeasuredSize = Field(description="Depth of the base, from front to back.")


class Router(Strict):
    """A hand-held plunge router."""

    name: Name = Field(description="What a job calls the router.")
    base: Annotated[RoundBase | RectangleBase, Field(discriminator="shape")] = Field(
        description="Shape and size of the base's face, which slides on the template."
    )
    base_hole: MeasuredSize | None = Field(None, description="Diameter of the hole in the base, without a bushing.")
    travel: MeasuredSize | None = Field(None, description="How far the router plunges.")
    collet_to_base: MeasuredSize | None = Field(
        None, description="From the lower face of the collet nut to the face of the base, fully raised."
    )
    collets: tuple[Size, ...] = Field((), description="Diameters of the shanks its collets take.")
    nut_diameter: MeasuredSize | None = Field(None, description="Outside diameter of the collet nut.")
    note: Note | None = Field(None, description="Anything worth remembering about it.")

    @field_validator("base_hole")
    @classmethod
    def _leaves_a_base(cls, hole: Length | None, info: ValidationInfo) -> Length | None:
        base = info.data.get("base")
        if base is not None and hole is not None:
            sides = (base.diameter,) if isinstance(base, RoundBase) else (base.width, base.depth)
            smallest = min(sides, key=lambda side: side.exact)
            if hole.exact >= smallest.exact:
                raise own_fault(f'"{hole}" is not smaller than the base, "{smallest}" (measure again)')
        return hole

    @field_validator("collets")
    @classmethod
    def _once_each(cls, collets: tuple[Length, ...]) -> tuple[Length, ...]:
        for at, collet in enumerate(collets):
            if any(collet.exact == other.exact for other in collets[:at]):
                raise own_fault(f'"{collet}" stands there twice (keep one)')
        return collets
