"""The [work] and [tenon] tables: the stock the cut goes into, and the loose tenons that go into the cut."""

from fractions import Fraction
from typing import Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import Count, Gap, Size, Strict, own_fault
from jigtemplates.parameters.limits import smaller_than
from jigtemplates.parameters.measured import MeasuredSize

#: Most joints of one kind (chosen: more than any piece of furniture has).
MOST_JOINTS = 1000
#: Clearance of a tenon's thickness in its mortise when none is given: strongest at a tight fit of 0.1 mm (Elek
#: et al., Eur. J. Wood Wood Prod. 78, 2020, abstract).
FIT = Length(Fraction(1, 10), "0.1 mm")
#: Room for glue at the bottom of a mortise: 1/16 to 1/8 in deeper than the tenon (Popular Woodworking, "Make More
#: Room in the Mortise").
GLUE_ROOM = Length(Fraction(254, 160), "1/16 in")
#: What a saw removes (chosen: an ordinary circular saw blade).
SAW_KERF = Length(Fraction(3), "3 mm")
#: Lost at each end of a strip (chosen).
WASTE = Length(Fraction(20), "20 mm")


class WorkTable(Strict):
    """The stock the cut goes into, for the fence, the stops and the proportions."""

    thickness: MeasuredSize = Field(description="Thickness of the stock, across the cut's width.")
    height: MeasuredSize | None = Field(
        default=None,
        description="Size of the stock in the direction of the cut's depth: of a rail its width, of a door that is cut "
        "into its edge the door's width.",
    )
    length: MeasuredSize | None = Field(default=None, description="Length of the stock, along the cut.")
    from_face: Size | None = Field(
        default=None,
        description="From the reference face to the middle of the cut; else half the thickness. A hinge gain needs "
        "none: it is open to the edge of the work.",
    )
    from_end: Size | None = Field(default=None, description="From the stock's end to the middle of the cut.")

    @field_validator("from_face")
    @classmethod
    def _is_in_the_thickness(cls, distance: Length | None, info: ValidationInfo) -> Length | None:
        smaller_than(distance, info, "thickness", "thickness")
        return distance

    @field_validator("from_end")
    @classmethod
    def _is_in_the_length(cls, distance: Length | None, info: ValidationInfo) -> Length | None:
        smaller_than(distance, info, "length", "length")
        return distance


class TenonTable(Strict):
    """Loose tenons for the cut, and the strips they are sawn from."""

    joints: Count = Field(description="How many joints, one tenon each.")
    fit: Gap | None = Field(
        default=None, description="How much thinner the tenon is than the mortise is wide; else 0.1 mm."
    )
    glue_room: Gap | None = Field(
        default=None, description="How much deeper each mortise is than the tenon reaches; else 1/16 in."
    )
    mate_depth: Size | None = Field(default=None, description="Depth of the other mortise; else the same as the cut's.")
    edge: Literal["round", "square"] | None = Field(
        default=None, description="Edges of the tenon; else round, and square for a rectangle."
    )
    kerf: Gap | None = Field(default=None, description="What the saw removes at each cut; else 3 mm.")
    waste: Gap | None = Field(default=None, description="Lost at each end of a strip; else 20 mm.")
    strip: Size | None = Field(default=None, description="Longest strip you can saw or store.")

    @field_validator("joints")
    @classmethod
    def _is_a_number_of_joints(cls, joints: int) -> int:
        if not 1 <= joints <= MOST_JOINTS:
            raise own_fault(f"{joints} is not a number of joints (write 1 to {MOST_JOINTS})")
        return joints
