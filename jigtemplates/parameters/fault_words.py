"""One sentence for each kind of fault the validator knows, in the words of the person who wrote the file."""

import re
from collections.abc import Callable, Mapping
from typing import Any, Literal, NamedTuple, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from jigtemplates.errors import SHOWN_CHARACTERS, did_you_mean, quoted
from jigtemplates.parameters.fields import OWN_FAULT
from jigtemplates.parameters.toml_lines import Path

Models = tuple[type[BaseModel], ...]


class Place(NamedTuple):
    """Where a fault is, in the person's keys and in our models."""

    #: the keys as written, without the validator's own tags
    path: Path
    #: the models of the table that holds the last key
    table: Models
    #: all the alternatives to that table (a slot, a round, a rectangle)
    tables: Models
    #: the models that may stand at the last key
    here: Models


def worded(details: ErrorDetails, place: Place) -> tuple[Path, str]:
    """The keys to name and the sentence that follows them."""
    if details["type"] == OWN_FAULT:
        return place.path, details["msg"]
    return _WORDS.get(details["type"], _other)(details, place)


def fields_of(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """The fields of a model by the key a person writes."""
    return {field.alias or name: field for name, field in model.model_fields.items()}


def tags(model: type[BaseModel]) -> set[Any]:
    """The values that choose this model among its alternatives: those of its one-valued keys."""
    literals = (f.annotation for f in model.model_fields.values() if get_origin(f.annotation) is Literal)
    return {values[0] for values in map(get_args, literals) if len(values) == 1}


def _missing(_: ErrorDetails, place: Place) -> tuple[Path, str]:
    described = [fields_of(m)[key].description for m in place.table for key in place.path[-1:] if key in fields_of(m)]
    meaning = next((f" ({_in_passing(text)})" for text in described if text), "")
    return place.path, f"is missing{meaning}"


def _in_passing(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:].rstrip(".")


def _unknown_key(_: ErrorDetails, place: Place) -> tuple[Path, str]:
    key = str(place.path[-1])
    holders = [name for m in place.tables if key in fields_of(m) for name in sorted(tags(m))]
    if holders:
        these = [name for m in place.table for name in sorted(tags(m))]
        return (
            place.path,
            f"is for {_listed(holders)}, not for {' or '.join(map(quoted, these))}",
        )
    known = [name for m in place.table for name in fields_of(m)]
    return place.path[:-1], f"unknown key {quoted(key)} ({did_you_mean(key, known)})"


def _listed(names: list[str]) -> str:
    """ "a", "b" and "c", in quotes."""
    *first, last = map(quoted, names)
    return f"{', '.join(first)} and {last}" if first else last


def _choice(details: ErrorDetails, place: Place) -> tuple[Path, str]:
    return place.path, _not_among(details["input"], details["ctx"]["expected"])


def _not_among(value: object, expected: str) -> str:
    known = re.findall("'([^']*)'", expected)
    word = value if isinstance(value, str) else quoted(value)
    return f"{quoted(value)} is not known here ({did_you_mean(word, known)})"


def _alternative(details: ErrorDetails, place: Place) -> tuple[Path, str]:
    key = details["ctx"]["discriminator"].strip("'")
    return (*place.path, key), _not_among(details["input"][key], details["ctx"]["expected_tags"])


def _no_alternative(details: ErrorDetails, place: Place) -> tuple[Path, str]:
    key = details["ctx"]["discriminator"].strip("'")
    known = ", ".join(quoted(name) for m in place.here for name in sorted(tags(m)))
    return (*place.path, key), f"is missing (one of {known})"


def _wanted(what: str) -> "Sentence":
    def sentence(details: ErrorDetails, place: Place) -> tuple[Path, str]:
        return place.path, f"{quoted(details['input'])} does not fit here (write {what})"

    return sentence


def _list(details: ErrorDetails, place: Place) -> tuple[Path, str]:
    given = details["input"]
    is_short = isinstance(given, str | int | float) and len(str(given)) <= SHOWN_CHARACTERS
    instead = f"a list: [{quoted(given)}]" if is_short else "a list in [ ]"
    return place.path, f"{quoted(given)} does not fit here (write {instead})"


def _empty_list(_: ErrorDetails, place: Place) -> tuple[Path, str]:
    return place.path, "the list is empty (write at least one, or leave the key out)"


def _other(details: ErrorDetails, place: Place) -> tuple[Path, str]:
    return place.path, f"{quoted(details['input'])} is not valid here"


Sentence = Callable[[ErrorDetails, Place], tuple[Path, str]]

_TABLE = _wanted("a table of keys")

#: The validator's names of faults.
_WORDS: Mapping[str, Sentence] = {
    "missing": _missing,
    "extra_forbidden": _unknown_key,
    "literal_error": _choice,
    "union_tag_invalid": _alternative,
    "union_tag_not_found": _no_alternative,
    "model_type": _TABLE,
    "model_attributes_type": _TABLE,
    "dict_type": _TABLE,
    "list_type": _list,
    "tuple_type": _list,
    "bool_type": _wanted("true or false, without quotes"),
    "int_type": _wanted("a whole number, without quotes"),
    "too_short": _empty_list,
}
