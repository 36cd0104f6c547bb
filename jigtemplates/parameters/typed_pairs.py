"""`KEY=VALUE` as a person types a tool: what each stands for, and all that is wrong with them.

A length is typed with its unit, whatever the file it goes into says of bare numbers: it is read at once, and a bare
number taken for the wrong unit would ruin a workpiece.
"""

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from jigtemplates.errors import InputError, quoted
from jigtemplates.lengths import Unit
from jigtemplates.parameters.fault_words import fields_of
from jigtemplates.parameters.faults import dotted, models_in
from jigtemplates.parameters.toml_text import TomlText
from jigtemplates.profile_files import KINDS, File, Files, Found, entries_of

#: No key of an entry has more parts (diameter.nominal).
MOST_PARTS = 3
#: A number as TOML has it; a longer one is left to the reader of lengths to refuse.
_NUMBER = re.compile(r"-?(0|[1-9][0-9]{0,19})(\.[0-9]{1,19})?")
#: What the reader of lengths says of a number without its unit, behind the entry's name.
_BARE = re.compile(r"(?P<key>[^: ]+): (?P<said>.* is not a length \(the unit is missing; [^,]*), or set units .*\)")
#: A fraction without its unit: 3/8 is never of a millimetre.
_INCH_FRACTION = re.compile(r"-?([0-9]+[ -])?[0-9]+/[0-9]+")

#: A unit behind a number.
_FIRST_UNIT = re.compile(r"[0-9½⅓⅔¼¾⅛⅜⅝⅞] ?(?P<unit>mm|in|[\"″”])(?![A-Za-z])")
#: What stands for the file in the lines about an entry that is in none yet.
_NOWHERE = "typed"

Tree = dict[str, Any]


def read_pairs(pairs: Iterable[str], command: str) -> dict[str, str]:
    """`KEY=VALUE` as it is typed after the command; InputError has a line for each that is none, or is given twice."""
    values: dict[str, str] = {}
    faults = []
    for pair in pairs:
        key, sign, value = (part.strip() for part in pair.partition("="))
        if not sign or not all(key.split(".")):
            faults.append(f'{command}: {quoted(pair)} is not KEY=VALUE (such as diameter="3/8 in")')
        elif key in values:
            faults.append(f"{command}: {quoted(key)[1:-1]}: stands there twice (keep one)")
        values[key] = value
    if faults:
        raise InputError(faults)
    return values


def table_of(kind: str, values: Mapping[str, str], command: str) -> Tree:
    """The values by key as TOML has them: numbers, lists and tables of the text that was typed."""
    table: Tree = {}
    faults = []
    for key, value in read_values(kind, values, command).items():
        try:
            put(table, key.split("."), value)
        except ValueError as error:
            faults.append(f"{command}: {quoted(key)[1:-1]}: {error}")
    if faults:
        raise InputError(faults)
    return table


def read_values(kind: str, values: Mapping[str, str], command: str) -> dict[str, Any]:
    """Each typed value as its field expects it, by its dotted key; the model says later what does not fit."""
    read: dict[str, Any] = {}
    faults = []
    for key, text in values.items():
        try:
            read[key] = _value(KINDS[kind], key.split("."), text)
        except ValueError as error:
            faults.append(f"{command}: {quoted(key)[1:-1]}: {error}")
    if faults:
        raise InputError(faults)
    return read


def put(table: Tree, parts: list[str], value: Any) -> None:
    """Put a value where the parts of its key lead; ValueError where another one stands in the way."""
    if len(parts) > MOST_PARTS:
        raise ValueError(f"no key of a tool has so many parts (at most {MOST_PARTS})")
    held: Any = table
    for part in parts[:-1]:
        held = held.setdefault(part, {}) if isinstance(held, dict) else held
    if not isinstance(held, dict) or parts[-1] in held:
        raise ValueError("is given as a whole and by its parts (give one or the other)")
    held[parts[-1]] = value


def refuse_faults(
    kind: str, name: str, table: Tree, *, typed: Mapping[str, str], command: str, units: object = None
) -> None:
    """Refuse an entry that the models refuse, before it stands anywhere.

    `typed` are its values that were typed, by key, all of whose lengths need their unit; `units` is what governs bare
    numbers in the rest. InputError has one line for all that lack a unit, and one for each other fault; where there is
    none, one for each typed size that no tool of the kind has.
    """
    found = _faults(kind, name, table, None)
    head = f"{dotted((kind, name))}."
    bare = [(line, seen) for line in found if (seen := _BARE.fullmatch(line.removeprefix(head)))]
    faults = found
    if any(_is_typed(seen["key"], typed) for _, seen in bare):
        faults = [_unit_missing({key: text for key, text in typed.items() if key in {seen["key"] for _, seen in bare}})]
        faults += [f"{head}{seen['key']}: {seen['said']})" for _, seen in bare if _is_below(seen["key"], typed)]
        faults += [line for line in found if line not in {line for line, _ in bare}]
    elif units is not None:
        faults = _faults(kind, name, table, units)
    faults = faults or _odd_sizes(kind, name, table, units, typed)
    if faults:
        raise InputError([f"{command}: {line}" for line in faults if line])


def _is_typed(key: str, typed: Mapping[str, str]) -> bool:
    return key in typed or _is_below(key, typed)


def _is_below(key: str, typed: Mapping[str, str]) -> bool:
    """Whether a key stands in a list or a table that was typed as a whole."""
    return key not in typed and any(key.startswith((f"{one}.", f"{one}[")) for one in typed)


def _unit_missing(bare: Mapping[str, str]) -> str:
    """One line about all numbers without their unit, and both ways to write them; nothing where there are none."""
    if not bare:
        return ""
    ways = [_with_unit(bare, unit) for unit in ("in", "mm")]
    keys = ", ".join(f"{key}={text}" for key, text in bare.items())
    what = "a length needs its unit" if len(bare) == 1 else "lengths need their unit"
    return f"{keys}: {what} (write {', or '.join(dict.fromkeys(ways))})"


def _with_unit(bare: Mapping[str, str], unit: Unit) -> str:
    """The pairs with that unit; a fraction is one of an inch whatever the others are."""
    units = {key: "in" if _INCH_FRACTION.fullmatch(text) else unit for key, text in bare.items()}
    return " ".join(f'{key}="{text} {units[key]}"' for key, text in bare.items())


def _faults(kind: str, name: str, table: Tree, units: object) -> list[str]:
    """The lines about an entry, without what begins them."""
    try:
        _entries(kind, name, table, units)
    except InputError as error:
        return [line.removeprefix(f"{_NOWHERE}: ") for line in error.lines]
    return []


def _entries(kind: str, name: str, table: Tree, units: object) -> tuple[Found[Any], ...]:
    data = {kind: {name: table}} | ({} if units is None else {"units": units})
    file = File(Path(), _NOWHERE, _NOWHERE, TomlText(data, lambda _: None))
    return entries_of(Files((file,), ()), kind)


def _odd_sizes(kind: str, name: str, table: Tree, units: object, typed: Mapping[str, str]) -> list[str]:
    """A line for each size that was typed and that no tool of its kind has; of a good entry."""
    from jigtemplates.parameters.tool_sizes import BY_HAND, size_doubts

    keys = {key.split(".")[0] for key in typed}
    return [
        f"{dotted((kind, name))}.{key}: {odd} ({BY_HAND})"
        for found in _entries(kind, name, table, units)
        for key, odd in size_doubts(kind, found.entry)
        if key.split(".")[0] in keys
    ]


def unit_of(values: Iterable[str]) -> Unit | None:
    """The unit of the first length among what was typed; None where there is none."""
    for text in values:
        found = _FIRST_UNIT.search(text)
        if found:
            return "mm" if found["unit"] == "mm" else "in"
    return None


def _value(model: type[BaseModel], parts: list[str], text: str) -> Any:
    """A typed value as the field expects it; the model says what does not fit."""
    kinds = set(_kinds(model, parts))
    if str in kinds:
        return text
    if text[:1] in ("[", "{"):
        return _toml(text)
    if tuple in kinds:
        return [_plain(part.strip()) for part in text.split(",")]
    return _plain(text)


def _kinds(model: type[BaseModel], parts: list[str]) -> Iterator[Any]:
    """Every type that may stand at a key."""
    waiting = [field.annotation for field in fields_at(model, parts)]
    while waiting:
        kind = waiting.pop()
        yield getattr(kind, "__origin__", kind)
        waiting.extend(get_args(kind))


def fields_at(model: type[BaseModel], parts: Sequence[str]) -> list[FieldInfo]:
    """The fields that a key may lead to."""
    models: tuple[type[BaseModel], ...] = (model,)
    fields = [fields_of(model).get(parts[0])]
    for part in parts[1:]:
        models = tuple(one for field in fields if field for one in models_in(field.annotation))
        fields = [fields_of(one).get(part) for one in models]
    return [field for field in fields if field]


def _plain(text: str) -> Any:
    if text in ("true", "false"):
        return text == "true"
    if _NUMBER.fullmatch(text):
        return float(text) if "." in text else int(text)
    return text


def _toml(text: str) -> Any:
    """A list or a table as a TOML file has it."""
    try:
        (held,) = tomllib.loads(f"value = {text}").values()
    except (ValueError, RecursionError):
        raise ValueError(f"{quoted(text)} cannot be read (a list is [10, 20], a table {{ key = 10 }})") from None
    return held
