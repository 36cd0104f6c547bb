"""What every [cut] table has, whatever the shape."""

from pydantic import Field

from jigtemplates.parameters.fields import Angle, Coordinate, CutDepth, Flag, Strict
from jigtemplates.parameters.repeat_table import RepeatTable


class CutBase(Strict):
    """What every cut has."""

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
