"""The [tools] table: a bit and a bushing, each a diameter, a name from the profiles or a table of its own."""

from typing import Annotated, Any

from pydantic import Discriminator, Field, PlainValidator, Tag, ValidationInfo, WithJsonSchema

from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.fields import SIZES, TABLE, TEXT, Gap, Size, Strict
from jigtemplates.parameters.lookup import length_or_entry, named
from jigtemplates.parameters.measured import MeasuredLength, written_as


def _named_or_sized(kind: str) -> tuple[PlainValidator, WithJsonSchema, Tag]:
    """A Length, or what the profiles have under that name (`profiles.Found`)."""

    def read(value: Any, info: ValidationInfo) -> Any:
        return length_or_entry(kind, value, info)

    # Any text may be a name from the profiles, so an editor can only check that it is not empty.
    text = {"anyOf": [{"type": "number", "exclusiveMinimum": 0}, {"type": "string", "minLength": 1}]}
    return PlainValidator(read), WithJsonSchema(text), Tag(TEXT)


def _tool_written_as(value: Any) -> str:
    """The tag of a tool: a table that gives a nominal or a measured size is a diameter, any other a whole tool."""
    return SIZES if isinstance(value, dict) and ("nominal" in value or "measured" in value) else written_as(value)


_OR_DIAMETER = Annotated[MeasuredLength, Tag(SIZES)]
BitKey = Annotated[
    Annotated[Any, *_named_or_sized("bits")] | Annotated[Bit, Tag(TABLE)] | _OR_DIAMETER,
    Discriminator(_tool_written_as),
]
BushingKey = Annotated[
    Annotated[Any, *_named_or_sized("bushings")] | Annotated[Bushing, Tag(TABLE)] | _OR_DIAMETER,
    Discriminator(_tool_written_as),
]


class ToolsTable(Strict):
    """The bit and the guide bushing that are used together."""

    bit: BitKey = Field(description="The router bit: its diameter, its name in the profiles, or a table.")
    bushing: BushingKey = Field(
        description="The guide bushing: its outside diameter, its name in the profiles, or a table."
    )
    router: Annotated[Any, *named("routers")] | None = Field(
        default=None, description="Name of the router in the profiles, for reach and support."
    )
    clearance: Gap | None = Field(
        default=None,
        description="Running clearance: width of the opening less the bushing's diameter; else 0.1 mm.",
    )
    pass_depth: Size | None = Field(default=None, description="Deepest single pass you want to take.")
