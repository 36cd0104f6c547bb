"""A table whose model is built when a job has the table, and costs a job without it nothing."""

from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema


@dataclass(frozen=True, slots=True)
class Deferred:
    """Annotates a field of that model: its own validator is built at the first value there is.

    Faults keep their places: pydantic takes over the lines of a ValidationError that a validator raises.
    """

    model: type[BaseModel]

    def __get_pydantic_core_schema__(self, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:
        """A function that reads the table; the model's own schema is not asked for."""
        return core_schema.with_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, _schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """What an editor is told: the model's schema."""
        self.model.model_rebuild()
        return handler(self.model.__pydantic_core_schema__)

    def _read(self, value: Any, info: ValidationInfo) -> Any:
        return self.model.model_validate(value, context=info.context)
