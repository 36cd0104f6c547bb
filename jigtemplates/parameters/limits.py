"""Limits a value of an entry must keep, alone or against a field that stands before it."""

import re
from typing import Any

from pydantic import AfterValidator, PlainValidator, ValidationInfo, WithJsonSchema

from jigtemplates.errors import quoted
from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import own_fault


def between(least: int, most: int | None = None) -> AfterValidator:
    """A length within limits in mm, both ends included."""
    limits = f"at least {least} mm" if most is None else f"{least} to {most} mm"

    def limited(length: Length) -> Length:
        if length.exact < least or (most is not None and length.exact > most):
            raise own_fault(f'"{length}" is out of range (write {limits})')
        return length

    return AfterValidator(limited)


def matching(pattern: re.Pattern[str], fault: str) -> tuple[PlainValidator, WithJsonSchema]:
    """Text that matches a pattern as a whole: the reader, and what an editor may know of it."""

    def read(value: Any) -> str:
        if not isinstance(value, str) or not pattern.fullmatch(value):
            raise own_fault(f"{quoted(value)} is not {fault}")
        return value

    return PlainValidator(read), WithJsonSchema({"type": "string", "pattern": f"^{pattern.pattern}$"})


def smaller_than(length: Length | None, info: ValidationInfo, other: str, words: str) -> None:
    """Refuse a length that is not smaller than an earlier field's; `words` says what that one is."""
    limit = info.data.get(other)
    if length is not None and limit is not None and length.exact >= limit.exact:
        raise own_fault(f'"{length}" is not smaller than the {words}, "{limit}" (measure again)')


def at_least(length: Length | None, info: ValidationInfo, other: str, words: str) -> None:
    """Refuse a length that is smaller than an earlier field's; `words` says what that one is."""
    limit = info.data.get(other)
    if length is not None and limit is not None and length.exact < limit.exact:
        raise own_fault(f'"{length}" is smaller than the {words}, "{limit}" (measure again)')
