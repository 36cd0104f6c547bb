"""A person's tools file with some keys of one entry changed or taken out; nothing is written here.

Everything else in the file stays byte for byte.
"""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.parameters.faults import dotted, models_in
from jigtemplates.parameters.in_place import with_value
from jigtemplates.parameters.measured import MeasuredTable
from jigtemplates.parameters.toml_text import parse_toml, shown_name
from jigtemplates.parameters.tools_file import refuse_kind
from jigtemplates.parameters.tools_remove import file_with, without
from jigtemplates.parameters.typed_pairs import fields_at, put, read_values, refuse_faults
from jigtemplates.profile_files import KINDS, all_entries, files_of

_CHANGE = "tools change"
#: What `calibrate` enters together with its day.
_CALIBRATED = (("bits", "diameter"), ("bushings", "diameter"))

Tree = dict[str, Any]
Keys = tuple[str, ...]


def change_entry(path: Path, kind: str, name: str, values: Mapping[str, str], taken_out: Iterable[str] = ()) -> str:
    """The text of a tools file with other values in an entry, typed as for a new one, and some keys taken out.

    A size becomes a nominal and a measured one where only the latter is given (`diameter.measured`). InputError for an
    entry that is not there, and for every fault of what was typed.
    """
    refuse_kind(kind, _CHANGE)
    text, data = file_with(path, kind, name)
    all_entries(files_of(parse_toml(text, str(path)), path))  # the file itself may be at fault
    held, gone = data[kind][name], tuple(dict.fromkeys(taken_out))
    _refuse_nothing(values, gone)
    read = read_values(kind, values, _CHANGE)
    wanted = _wanted(kind, held, read, gone)
    refuse_faults(kind, name, wanted, typed=values, command=_CHANGE, units=data.get("units"))
    _refuse_old_day(kind, held, wanted, {*values, *gone})
    for key in gone:
        text = _without(text, path, (kind, name, *key.split(".")))
    for key in read:
        text = _written(text, path, (kind, name), wanted, key.split("."))
    made = parse_toml(text, str(path))
    if made.data != {**data, kind: {**data[kind], name: wanted}}:
        raise InputError(f"{shown_name(str(path))}: {dotted((kind, name))}: cannot be changed as it stands (edit it)")
    all_entries(files_of(made, path))
    return text


def _without(text: str, path: Path, keys: Keys) -> str:
    return without(text, keys, _less(parse_toml(text, str(path)).data, keys), shown_name(str(path)))


def _refuse_nothing(values: Mapping[str, str], gone: Iterable[str]) -> None:
    if not values and not gone:
        raise InputError(f'{_CHANGE}: nothing to change is given (such as shank="1/4 in", or --without shank)')
    twice = [key for key in gone if key in values]
    if twice:
        raise InputError(
            [f"{_CHANGE}: {quoted(key)[1:-1]}: is given and taken out (one or the other)" for key in twice]
        )


def _wanted(kind: str, held: Tree, read: Mapping[str, Any], gone: Iterable[str]) -> Tree:
    """The entry as it is to be."""
    wanted, faults = held, list[str]()
    for key in gone:
        try:
            wanted = _less(wanted, tuple(key.split(".")))
        except KeyError:
            known = did_you_mean(key, _flat(held))
            faults.append(f"{_CHANGE}: --without {quoted(key)[1:-1]}: is not in the entry ({known})")
    typed: Tree = {}
    for key, value in read.items():
        parts = key.split(".")
        try:
            put(typed, parts, value)  # refuses what is given twice over
            wanted = _with(kind, wanted, tuple(parts), value)
        except ValueError as error:
            faults.append(f"{_CHANGE}: {quoted(key)[1:-1]}: {error}")
    if faults:
        raise InputError(faults)
    return wanted


def _with(kind: str, held: Tree, parts: Keys, value: Any, at: Keys = ()) -> Tree:
    first, rest = parts[0], parts[1:]
    if not rest:
        return {**held, first: value}
    inner = held.get(first, {})
    if not isinstance(inner, dict):
        inner = _as_nominal(kind, (*at, first), inner)
    return {**held, first: _with(kind, inner, rest, value, (*at, first))}


def _as_nominal(kind: str, key: Keys, size: Any) -> Tree:
    """A plain size as the nominal one of a table; ValueError where none may stand there."""
    fields = fields_at(KINDS[kind], key)
    if not any(model is MeasuredTable for field in fields for model in models_in(field.annotation)):
        raise ValueError(f"{'.'.join(key)} is no table but {quoted(size)} (give it as a whole)")
    return {"nominal": size}


def _less(held: Tree, keys: Keys) -> Tree:
    """The same without a key; KeyError where it is not there."""
    first, rest = keys[0], keys[1:]
    inner = held[first]
    if not rest:
        return {key: value for key, value in held.items() if key != first}
    if not isinstance(inner, dict):
        raise KeyError(first)
    return {**held, first: _less(inner, rest)}


def _flat(held: Tree, head: str = "") -> Iterable[str]:
    for key, value in held.items():
        yield f"{head}{key}"
        if isinstance(value, dict):
            yield from _flat(value, f"{head}{key}.")


def _refuse_old_day(kind: str, held: Tree, wanted: Tree, said: set[str]) -> None:
    """Refuse a new reading beside the day of an earlier one: it would be told as if it had been taken then."""
    faults = []
    for key, now in wanted.items():
        was = held.get(key)
        if not (isinstance(now, dict) and isinstance(was, dict) and "measured_on" in was):
            continue
        if now.get("measured") != was.get("measured") and not said & {key, f"{key}.measured_on"}:
            calibrate = f" (jigtemplates calibrate {kind[:-1]} enters both)" if (kind, key) in _CALIBRATED else ""
            faults.append(
                f"{_CHANGE}: {key}.measured: the day of the earlier one, {was['measured_on']}, stands beside it: "
                f"give {key}.measured_on too, or --without {key}.measured_on{calibrate}"
            )
    if faults:
        raise InputError(faults)


def _written(text: str, path: Path, entry: Keys, wanted: Tree, parts: list[str]) -> str:
    """The text with what is wanted at a key, or at the part of it that stands there as something else than a table."""
    held: Any = parse_toml(text, str(path)).data[entry[0]][entry[1]]
    depth = 0
    while depth < len(parts) - 1 and isinstance(held.get(parts[depth]), dict):
        held, depth = held[parts[depth]], depth + 1
    value: Any = wanted
    for part in parts[: depth + 1]:
        value = value[part]
    keys = (*entry, *parts[: depth + 1])
    if parts[depth] in held and held[parts[depth]] == value and type(held[parts[depth]]) is type(value):
        return text
    try:
        return with_value(text, keys, value) or text  # where nothing changes the caller says so
    except Exception:  # tomlkit fails in ways of its own on what the standard reader takes
        return text
