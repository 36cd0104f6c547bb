"""Names in a job, looked up in the profiles while the job is validated, so that a wrong one has its line."""

import re
from typing import TYPE_CHECKING, Any

from pydantic import PlainValidator, ValidationInfo, WithJsonSchema
from pydantic.config import JsonDict

from jigtemplates.errors import did_you_mean, quoted
from jigtemplates.lengths import Length, LengthError, Unit, parse_length
from jigtemplates.parameters.fields import LONGEST_NAME, own_fault, sized, text_of

if TYPE_CHECKING:
    from jigtemplates.profiles import Found, Profiles

#: What one entry of a kind is called in a sentence.
_CALLED = {
    "bits": "bit",
    "bushings": "guide bushing",
    "sheets": "sheet material",
    "screws": "screw",
    "papers": "paper",
    "holders": "holder",
    "routers": "router",
}
#: What begins as a length does, and an empty text.
LIKE_A_LENGTH = re.compile(r"\s*([-+.]?[0-9½⅓⅔¼¾⅛⅜⅝⅞]|[-+]?(nan|inf)\b|$)", re.IGNORECASE)


def profiles_of(info: ValidationInfo) -> "Profiles":
    """The profiles that came with the validation context, or the shipped ones alone."""
    given: Profiles | None = (info.context or {}).get("profiles")
    if given is not None:
        return given
    from jigtemplates.profiles import Profiles as Shipped

    return Shipped()


def entry(kind: str, name: str, info: ValidationInfo) -> "Found[Any]":
    """The entry of that name, or a fault that suggests a name."""
    found, near = _look_up(kind, name, info)
    if found is None:
        raise own_fault(f"{quoted(name)} is no {_CALLED[kind]} in the profiles ({near})")
    return found


def named(kind: str) -> tuple[PlainValidator, WithJsonSchema]:
    """The reader of a name in the profiles, which gives what stands there (`profiles.Found`)."""

    def read(value: Any, info: ValidationInfo) -> Any:
        return entry(kind, text_of(LONGEST_NAME)(value), info)

    name: JsonDict = {"type": "string", "minLength": 1, "maxLength": LONGEST_NAME}
    return PlainValidator(read), WithJsonSchema(name)


def length_or_entry(kind: str, value: Any, info: ValidationInfo) -> "Length | Found[Any]":
    """A tool given as a number or text: a length greater than 0, or the entry of that name."""
    if isinstance(value, Length):
        return sized(value.text, value)
    unit: Unit | None = (info.context or {}).get("unit")
    try:
        return sized(value, parse_length(value, unit=unit))
    except LengthError as error:
        return _named(kind, value, info, str(error))


def _named(kind: str, value: Any, info: ValidationInfo, fault: str) -> "Found[Any]":
    if not isinstance(value, str):
        raise own_fault(fault)
    found, near = _look_up(kind, value.strip(), info)
    if found is not None:
        return found
    if LIKE_A_LENGTH.match(value) and not near.startswith(("did you mean", '"')):
        raise own_fault(fault)
    raise own_fault(f"{quoted(value)} is neither a length nor a {_CALLED[kind]} in the profiles ({near})")


def _look_up(kind: str, name: str, info: ValidationInfo) -> "tuple[Found[Any] | None, str]":
    """The entry, or None and what may have been meant."""
    profiles = profiles_of(info)
    entries = {found.name: found for found in profiles.entries(kind)}
    return (entries[name], "") if name in entries else (None, profiles.looked(did_you_mean(name, entries), kind, name))
