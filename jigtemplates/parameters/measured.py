"""A size that was measured: what a thing is sold as beside what it is.

    diameter = { nominal = "1/2 in", measured = "12.68 mm", within = "0.02 mm", measured_on = 2026-11-25 }

Wherever such a size stands, a plain length may stand too. It is for what can be measured: tools, routers, holders,
stock, plates, the kerf. What is wanted, such as the cut, is a plain length.
"""

from typing import TYPE_CHECKING, Annotated, Any

from pydantic import AfterValidator, Discriminator, Field, Tag, ValidationInfo, field_validator

from jigtemplates.lengths import Length, Measured
from jigtemplates.parameters.fields import TABLE, TEXT, Day, Gap, Size, Strict, own_fault
from jigtemplates.parameters.limits import between

#: A size measured further from the nominal one than this is taken for a slip, mm (chosen: a bit sharpened
#: many times loses less, and neighbouring trade sizes are 1.5 mm apart).
FURTHEST = 1


class EarlierSize(Strict):
    """A measurement that a later one took the place of."""

    measured: Size = Field(description="Size that was measured.")
    within: Annotated[Gap, between(0, FURTHEST)] | None = Field(None, description="How good that measurement was.")
    measured_on: Day | None = Field(None, description="Day it was measured.")


class MeasuredTable(Strict):
    """A size as it is sold and as it was measured."""

    nominal: Size = Field(description="Size it is sold as; this stands on labels.")
    measured: Size | None = Field(None, description="Size you measured; everything is computed with it.")
    within: Annotated[Gap, between(0, FURTHEST)] | None = Field(
        None, description="How far the true size may be from the measured one, either way."
    )
    measured_on: Day | None = Field(None, description="Day it was measured: 2026-11-25.")
    was: tuple[EarlierSize, ...] = Field((), description="Earlier measurements, the latest first; nothing uses them.")

    @field_validator("measured")
    @classmethod
    def _is_near_the_nominal(cls, measured: Length | None, info: ValidationInfo) -> Length | None:
        nominal = info.data.get("nominal")
        if measured is not None and nominal is not None and abs(measured.exact - nominal.exact) > FURTHEST:
            raise own_fault(
                f'"{measured}" is more than {FURTHEST} mm from the nominal size, "{nominal}" (measure again, or '
                "correct the nominal size)"
            )
        return measured

    @field_validator("within")
    @classmethod
    def _is_of_a_measurement(cls, within: Length | None, info: ValidationInfo) -> Length | None:
        if within is not None and "measured" in info.data and info.data["measured"] is None:
            raise own_fault("says how good a measurement is, and there is none (give measured too, or leave it out)")
        return within

    @field_validator("measured_on")
    @classmethod
    def _is_the_day_of_one(cls, day: str | None, info: ValidationInfo) -> str | None:
        if day is not None and "measured" in info.data and info.data["measured"] is None:
            raise own_fault("says when it was measured, and there is no measurement (give measured too)")
        return day


def _length(table: MeasuredTable) -> Length:
    """What to compute with: a measured length where there is one, else the nominal size as a plain length."""
    if table.measured is None:
        return table.nominal
    return Measured(table.measured.exact, table.measured.text, table.nominal, table.within, table.measured_on)


def written_as(value: Any) -> str:
    """The tag of a value that is either a table or something simpler."""
    return TABLE if isinstance(value, dict) else TEXT


if TYPE_CHECKING:  # what the validators give, whichever way it was written
    MeasuredLength = Length
    MeasuredSize = Length
    MeasuredGap = Length
    Diameter = Length
else:
    #: The table, as the length it stands for.
    MeasuredLength = Annotated[MeasuredTable, AfterValidator(_length)]
    #: A length greater than 0, or a table of a nominal and a measured one.
    MeasuredSize = Annotated[
        Annotated[Size, Tag(TEXT)] | Annotated[MeasuredLength, Tag(TABLE)], Discriminator(written_as)
    ]
    #: The same, where there may be nothing: a length of 0 or more.
    MeasuredGap = Annotated[
        Annotated[Gap, Tag(TEXT)] | Annotated[MeasuredLength, Tag(TABLE)], Discriminator(written_as)
    ]
    #: Of a bit or a bushing.
    Diameter = MeasuredSize
