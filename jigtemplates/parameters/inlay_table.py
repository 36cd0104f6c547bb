"""The [inlay] table: the plug that is to fill the cut, made with the same template."""

from fractions import Fraction

from pydantic import Field, field_validator

from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import Gap, Size, Strict, own_fault
from jigtemplates.parameters.tool_tables import BitKey, BushingKey

#: Gap wanted between recess and plug, a side, when none is given. Chosen: the pairs the trade publishes
#: (Gr - Br = Gp + Bp) leave none, and what a bushing wobbles and the bit wears makes room enough for a thin glue.
GLUE_LINE = Length(Fraction(0), "0 mm")
#: Widest glue line, a side, mm (chosen: what is wider is filler, not glue, and more is surely a wrong unit).
WIDEST_GLUE_LINE = 2


class InlayTable(Strict):
    """The plug that fills the cut: routed with the same template and a smaller guide bushing."""

    plug_bushing: BushingKey = Field(
        description="The guide bushing for the plug: its outside diameter, its name in the profiles, or a table."
    )
    plug_bit: BitKey | None = Field(default=None, description="The bit for the plug; else that of [tools].")
    glue_line: Gap | None = Field(
        default=None, description="Gap wanted between recess and plug, a side; else 0: Gr - Br = Gp + Bp."
    )
    plug_thickness: Size | None = Field(
        default=None, description="Thickness of the stock for the plug; else the depth of the cut."
    )

    @field_validator("glue_line")
    @classmethod
    def _is_a_glue_line(cls, gap: Length | None) -> Length | None:
        if gap is not None and gap.exact > WIDEST_GLUE_LINE:
            raise own_fault(
                f'"{gap}" is too much for a glue line (at most {WIDEST_GLUE_LINE} mm a side; is the unit right?)'
            )
        return gap
