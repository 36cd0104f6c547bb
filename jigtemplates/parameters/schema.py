"""The JSON schema of a job, with which an editor completes keys and underlines faults.

`python -m jigtemplates.parameters.schema` writes it again after a change of the models.
"""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from jigtemplates.lengths import Length
from jigtemplates.parameters.family import MEMBER, MOST_MEMBERS
from jigtemplates.parameters.fields import Coordinate, Gap, Size
from jigtemplates.parameters.model import JobFile
from jigtemplates.parameters.several import MOST_CUTS

#: The schema's name inside this package.
FILE_NAME = "job.schema.json"


class _ForToml(GenerateJsonSchema):
    """TOML has no null, and a key's name needs no title."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        made = self.generate_inner(schema["schema"])
        default = schema.get("default")
        if isinstance(default, Length):
            return {**made, "default": default.text}
        return made if default is None else {**made, "default": self.encode_default(default)}

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False


def job_schema() -> dict[str, Any]:
    """The schema made from the models, as JSON Schema 2020-12."""
    made = JobFile.model_json_schema(by_alias=True, schema_generator=_ForToml)
    lengths = {name: TypeAdapter(kind).json_schema() for name, kind in _LENGTHS.items()}
    shared = _with_shared(_with_family(made), lengths)
    shared["$defs"] |= lengths
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **shared}


def _with_family(made: dict[str, Any]) -> dict[str, Any]:
    """The schema of a job that may hold [cuts.NAME] tables; then [cut] is only what they share."""
    keys = dict(made["properties"])
    cut, title = keys.pop("cut"), keys["title"]
    shapes = [made["$defs"][one["$ref"].rpartition("/")[2]] for one in cut["oneOf"]]
    # What a key means is said as the first of the shapes that have it says it.
    shared = {key: schema for shape in reversed(shapes) for key, schema in shape["properties"].items()}
    shared["shape"] = {
        "enum": [shape["properties"]["shape"]["const"] for shape in shapes],
        "type": "string",
        "description": "Shape of the cut.",
    }
    part = {"type": "object", "additionalProperties": False}
    family = {
        "description": "Several sizes, a table for each; its keys win over those of [cut].",
        "type": "object",
        "minProperties": 1,
        "maxProperties": MOST_MEMBERS,
        "propertyNames": {"pattern": f"^{MEMBER.pattern}$"},
        "additionalProperties": {"$ref": "#/$defs/Member"},
    }
    shared_cut = {"description": "What all sizes have in common."}
    return {
        **made,
        "$defs": {
            **made["$defs"],
            "SizedPlate": {"description": "A plate with a size of its own, or a holder that gives it one.", **_SIZED},
            "SharedCut": {**shared_cut, **part, "properties": shared},
            "Member": {"description": "One size.", **part, "properties": {"title": title, **shared}},
        },
        "properties": {**keys, "cut": shared_cut, "cuts": family},
        "required": [key for key in made["required"] if key not in ("title", "cut")],
        "if": {"required": ["cuts"]},
        "then": {"properties": {"cut": {"$ref": "#/$defs/SharedCut"}}},
        "else": {
            "properties": {"cut": {"description": cut["description"], "anyOf": [cut, _several(cut)]}},
            "required": ["title", "cut"],
        },
        "allOf": [{"if": _OUTSIDE, "else": {"properties": {"plate": {"$ref": "#/$defs/SizedPlate"}}}}],
    }


def _several(cut: dict[str, Any]) -> dict[str, Any]:
    """An array of cuts, [[cut]]."""
    return {"description": "Several cuts in one template.", "type": "array", "items": cut, "maxItems": MOST_CUTS}


#: A pattern takes its size from the work; any other plate has a size of its own, or a holder gives it one.
_OUTSIDE = {
    "properties": {
        "cut": {
            "description": "Outside work.",
            "properties": {"side": {"description": "Round the outside.", "const": "outside"}},
            "required": ["side"],
        }
    },
    "required": ["cut"],
}
_SIZED = {"anyOf": [{"required": ["holder"]}, {"required": ["width", "height"]}]}

_LENGTHS: dict[str, Any] = {"Size": Size, "Gap": Gap, "Coordinate": Coordinate}


def _with_shared(part: Any, lengths: dict[str, Any]) -> Any:
    """The same schema with each kind of length said once and referred to."""
    if isinstance(part, list):
        return [_with_shared(one, lengths) for one in part]
    if not isinstance(part, dict):
        return part
    for name, length in lengths.items():
        if part.get("anyOf") == length["anyOf"]:
            rest = {key: value for key, value in part.items() if key != "anyOf"}
            return {"$ref": f"#/$defs/{name}", **rest}
    return {key: _with_shared(value, lengths) for key, value in part.items()}


def schema_text() -> str:
    """The schema as it stands in the file: the same models give the same text."""
    return json.dumps(job_schema(), indent=2, ensure_ascii=False) + "\n"


def shipped_schema() -> str:
    """The text of the schema that came with the program."""
    return files("jigtemplates.parameters").joinpath(FILE_NAME).read_text(encoding="utf-8")


def write_schema(folder: Path = Path(__file__).parent) -> Path:
    """Write the schema into a folder: beside this module, in a checkout."""
    path = folder / FILE_NAME
    path.write_text(schema_text(), encoding="utf-8", newline="\n")
    return path


if __name__ == "__main__":
    print(write_schema())
