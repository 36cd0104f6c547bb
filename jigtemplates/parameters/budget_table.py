"""The [fit] table: what the budget of errors is computed with, and which fit of a tenon is good."""

from fractions import Fraction
from typing import Annotated

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import Coordinate, Flag, Gap, Strict, own_fault
from jigtemplates.parameters.limits import between
from jigtemplates.parameters.measured import Diameter

#: How far the bushing may sit off the bit's axis where that is not said (chosen: what is left after setting it with a
#: centring cone; magazines and forums say that it must be centred, and give no figure).
OFF_CENTRE = Length(Fraction(5, 100), "0.05 mm")
#: Further off no bushing sits, mm (chosen: the bit would soon touch the bore).
FURTHEST_OFF = 2
#: A tenon with less clearance needs more than the hand. Chosen near the least clearance of a running fit, H8/f7:
#: 0.016 mm for 10 to 18 mm (ISO 286, quoted in references).
TOO_TIGHT = Length(Fraction(2, 100), "0.02 mm")
#: A tenon with more clearance is loose: a snug one and one that gets too loose differ by about 0.005 in = 0.127 mm
#: (woodworking magazine's forum, "mortise tolerance", read). The strongest is at 0.1 mm, between the two (Elek et al.,
#: Eur. J. Wood Wood Prod. 78, 2020, abstract).
TOO_LOOSE = Length(Fraction(15, 100), "0.15 mm")
#: Limits of a fit are within this of nothing, mm (chosen: beyond it is no fit, but a gap).
WIDEST_FIT = 2


class FitTable(Strict):
    """What is known of the router, and of what goes into the cut."""

    off_centre: Annotated[Gap, between(0, FURTHEST_OFF)] | None = Field(
        default=None, description="How far the bushing may sit off the bit's axis; else 0.05 mm."
    )
    turned: Flag | None = Field(
        default=None,
        description="Whether the router may be turned while a cut is made; else true. With its handle held in one "
        "direction, a bushing off centre only shifts the cut.",
    )
    tenon: Diameter | None = Field(
        default=None, description="Thickness of the tenon there is, measured where possible; else that of [tenon]."
    )
    too_tight: Annotated[Coordinate, between(-WIDEST_FIT, WIDEST_FIT)] | None = Field(
        default=None, description="A tenon with less clearance is too tight; else 0.02 mm."
    )
    too_loose: Annotated[Coordinate, between(-WIDEST_FIT, WIDEST_FIT)] | None = Field(
        default=None, validate_default=True, description="A tenon with more clearance is too loose; else 0.15 mm."
    )

    @field_validator("too_loose")
    @classmethod
    def _is_looser(cls, loose: Length | None, info: ValidationInfo) -> Length | None:
        tight = info.data.get("too_tight", TOO_TIGHT) or TOO_TIGHT
        if tight.exact >= (loose or TOO_LOOSE).exact:
            raise own_fault(
                f'"{loose or TOO_LOOSE}" is not more than too_tight, "{tight}" (a fit between the two is good)'
            )
        return loose
