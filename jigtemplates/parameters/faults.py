"""Turns the faults a model finds into lines a woodworker can act on, all at once.

`rail.toml:7: tools.bit: "12,7 mm" is not a length (write 12.7 mm)`. The validator's own vocabulary
(models, unions, literals) never reaches the reader.
"""

import inspect
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple, get_args

from pydantic import BaseModel, ValidationError

from jigtemplates.errors import quoted
from jigtemplates.parameters.fault_words import Models, Place, fields_of, tags, worded
from jigtemplates.parameters.fields import OWN_TAGS
from jigtemplates.parameters.toml_lines import Locate, Path


class Fault(NamedTuple):
    """One fault of a file's values, before it is a line."""

    #: the keys to name
    keys: Path
    #: the keys whose line it is; it may be longer by an unknown key
    at: Path
    #: what is wrong and what to write instead
    message: str


def fault_lines(
    error: ValidationError,
    model: type[BaseModel],
    *,
    name: str,
    locate: Locate,
    below: Path = (),
    labels: Mapping[Path, str] | None = None,
) -> tuple[str, ...]:
    """One line for each fault, in the order of the file.

    `name` is the file's name and `locate` finds a key's line in it. `below` is the path of the table that was
    validated. `labels` names paths whose value did not come from the file (`{("tools", "bit"): "--bit"}`).
    """
    found = (Fault((*below, *keys), (*below, *at), message) for keys, at, message in faults_of(error, model))
    return lines_of(found, name=name, locate=locate, labels=labels)


def faults_of(error: ValidationError, model: type[BaseModel]) -> Iterator[Fault]:
    """What a model has found wrong, in the words and keys of the person."""
    for details in error.errors(include_url=False):
        if details["type"] == "too_short" and details["input"]:
            continue  # the list only seems empty because each of its items is faulty, and says so
        place = _walk(model, details["loc"], unknown_key=details["type"] == "extra_forbidden")
        keys, message = worded(details, place)
        yield Fault(keys, max(place.path, keys, key=len), message)


def lines_of(
    faults: Iterable[Fault], *, name: str, locate: Locate, labels: Mapping[Path, str] | None = None
) -> tuple[str, ...]:
    """One line for each fault, in the order of the file; what would be said twice is said once."""
    found = [(locate(at), keys, message) for keys, at, message in faults]
    lines = [(line or 0, _line(name, line, keys, message, labels or {})) for line, keys, message in found]
    return tuple(dict.fromkeys(text for _, text in sorted(lines, key=lambda item: item[0])))


def _line(name: str, line: int | None, path: Path, message: str, labels: Mapping[Path, str]) -> str:
    for end in range(len(path), 0, -1):
        if path[:end] in labels:
            return f"{labels[path[:end]]}: {message}"
    where = name if line is None else f"{name}:{line}"
    return ": ".join(filter(None, (where, dotted(path), message)))


def dotted(path: Sequence[str | int]) -> str:
    """A path as it is spoken of: `plate.screws.points[0]`; keys come from the file, so they are tidied."""
    text = ""
    for part in path:
        text += f"[{part}]" if isinstance(part, int) else ("." if text else "") + quoted(part)[1:-1]
    return text


def _walk(model: type[BaseModel], loc: Path, *, unknown_key: bool) -> Place:
    """The keys of a place as the person wrote them, and the models round it.

    An unknown key stands last and is the person's own, even if it looks like a tag of ours.
    """
    path: Path = ()
    models: Models = (model,)
    siblings = table = tables = models
    for position, part in enumerate(loc, 1):
        tagged = tuple(m for m in models if part in tags(m)) if len(models) > 1 else ()
        if tagged:
            models = tagged
        elif part not in OWN_TAGS or (unknown_key and position == len(loc)):
            path = (*path, part)
            if isinstance(part, str):
                table, tables = models, siblings
                free = models if position < len(loc) else ()  # a table whose keys are the person's own
                models = siblings = tuple(_held(models, part)) or free
    return Place(path, table, tables, siblings)


def _held(models: Models, key: str) -> Iterator[type[BaseModel]]:
    for model in models:
        if key in (fields := fields_of(model)):
            yield from models_in(fields[key].annotation)


def models_in(annotation: Any) -> Iterator[type[BaseModel]]:
    """The models among the types of a field."""
    if inspect.isclass(annotation) and issubclass(annotation, BaseModel):
        yield annotation
    for argument in get_args(annotation):
        yield from models_in(argument)
