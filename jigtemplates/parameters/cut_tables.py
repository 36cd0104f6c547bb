"""The [cut] table: one model for each shape, so that a key of another shape is noticed."""

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.errors import quoted
from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import ZERO, Angle, Coordinate, Gap, Size, Strict, own_fault


class _Cut(Strict):
    """What every cut has."""

    depth: Size = Field(description="Depth of the cut in the work.")
    angle: Angle = Field(default=0.0, description="Turn of the cut in the plate, degrees counter-clockwise.")
    x: Coordinate | None = Field(
        default=None,
        description="Middle of the cut from the plate's left edge; else the plate's middle.",
    )
    y: Coordinate | None = Field(
        default=None,
        description="Middle of the cut from the plate's lower edge; else the plate's middle.",
    )


class SlotTable(_Cut):
    """A slot: straight sides and round ends."""

    shape: Literal["slot"] = Field(description="A slot with round ends.")
    width: Size = Field(description="Width across the slot.")
    length: Size = Field(description="Overall length of the slot, both round ends included.")

    @field_validator("length")
    @classmethod
    def _at_least_as_long_as_wide(cls, length: Length, info: ValidationInfo) -> Length:
        width = info.data.get("width")
        if width is not None and length.exact < width.exact:
            raise own_fault(
                f"{quoted(length.text)} is less than the width {quoted(width.text)} (swap them and turn "
                'the slot by angle = 90, or use shape = "round")'
            )
        return length


class RoundTable(_Cut):
    """A round hole or recess."""

    shape: Literal["round"] = Field(description="A circle.")
    diameter: Size = Field(description="Diameter of the circle.")


class RectangleTable(_Cut):
    """A rectangle with round corners."""

    shape: Literal["rectangle"] = Field(description="A rectangle.")
    width: Size = Field(description="Extent across, along y before turning.")
    length: Size = Field(description="Extent along x before turning.")
    corner_radius: Gap = Field(default=ZERO, description="Radius of the corners wanted in the work.")

    @field_validator("corner_radius")
    @classmethod
    def _fits_the_sides(cls, radius: Length, info: ValidationInfo) -> Length:
        return radius_within(radius, info.data.get("width"), info.data.get("length"))


def radius_within(radius: Length, *sides: Length | None) -> Length:
    """Refuse a corner radius of more than half the smaller side; unknown sides are passed over."""
    known = [side for side in sides if side is not None]
    smallest = min(known, key=lambda side: side.exact, default=None)
    if smallest is not None and 2 * radius.exact > smallest.exact:
        raise own_fault(
            f"{quoted(radius.text)} is more than half the smaller side, {quoted(smallest.text)} (write less)"
        )
    return radius


CutTable = Annotated[SlotTable | RoundTable | RectangleTable, Field(discriminator="shape")]
