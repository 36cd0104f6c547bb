"""What every [cut] table has, whatever the shape."""

from typing import Annotated, Any, Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.parameters.deferred import Deferred
from jigtemplates.parameters.fields import Angle, Coordinate, CutDepth, Flag, Strict, own_fault
from jigtemplates.parameters.repeat_table import RepeatTable
from jigtemplates.parameters.work_tables import TenonTable


class CutBase(Strict):
    """What every cut has."""

    side: Literal["inside", "outside"] = Field(
        default="inside",
        description="inside: a recess in the work. outside: a piece cut out round a pattern, which is the plate then.",
    )
    depth: CutDepth = Field(description="Depth of the cut in the work.")
    angle: Angle = Field(default=0.0, description="Turn of the cut in the plate, degrees counter-clockwise.")
    x: Coordinate | None = Field(
        default=None,
        description="Middle of the cut from the plate's left edge; else the plate's middle.",
    )
    y: Coordinate | None = Field(
        default=None,
        description="Middle of the cut from the plate's lower edge; else the plate's middle.",
    )
    repeat: RepeatTable | None = Field(default=None, description="The same cut several times in this template.")
    mirrored: Flag = Field(default=False, description="Whether this cut is the mirror image, left for right.")

    @field_validator("x", "y", "repeat")
    @classmethod
    def _is_for_a_recess(cls, value: Any, info: ValidationInfo) -> Any:
        if value is not None and info.data.get("side") == "outside":
            raise own_fault('does not go with side = "outside" (leave it out: a pattern is followed on its own)')
        return value


class MortiseBase(CutBase):
    """What every cut has that loose tenons are made for."""

    tenon: Annotated[TenonTable | None, Deferred(TenonTable)] = Field(
        default=None, description="Loose tenons for this cut, where [tenon] is not theirs."
    )

    @field_validator("tenon")
    @classmethod
    def _is_for_a_mortise(cls, tenon: TenonTable | None, info: ValidationInfo) -> TenonTable | None:
        if tenon is not None and info.data.get("side") == "outside":
            raise own_fault(
                'does not go with side = "outside" (leave it out: tenons fill a recess; write their mortise as a job '
                "of its own)"
            )
        return tenon
