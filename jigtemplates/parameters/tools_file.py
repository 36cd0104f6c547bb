"""A person's own tools in one profile file: where it is, and a new entry in it.

What is there stays byte for byte: a new entry is put below it. Nothing is written here; the caller has the new
text only when the whole of it has passed the models.
"""

import os
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, get_args

from pydantic import BaseModel

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.parameters.fault_words import fields_of
from jigtemplates.parameters.faults import models_in
from jigtemplates.parameters.toml_lines import comments_in
from jigtemplates.parameters.toml_text import TomlText, parse_toml, read_toml, shown_name
from jigtemplates.profile_files import KINDS, File, Files, all_entries, entries_of, files_of

#: Where a person's tools are kept: in the folder of profiles that every job of this folder sees.
TOOLS_FILE = Path("profiles") / "tools.toml"
#: The kinds a tools file is for; materials and machines are better copied from what is shipped.
TOOL_KINDS = ("bits", "bushings", "routers", "holders")

#: A tools file without a tool.
EMPTY_FILE = """\
# My own tools. Measure where you can: diameter = { nominal = "1/2 in", measured = "12.68 mm" }
# All of them: jigtemplates tools        Another one: jigtemplates tools add --help

units = "mm"
"""
#: What stands for a file in the lines about an entry that is in none yet.
_ADD = "tools add"
#: No key of an entry has more parts (diameter.nominal).
_MOST_PARTS = 3
#: A number as TOML has it; a longer one is left to the reader of lengths to refuse.
_NUMBER = re.compile(r"-?(0|[1-9][0-9]{0,19})(\.[0-9]{1,19})?")
#: A fraction without its unit.
_FRACTION = re.compile(r"([0-9]+[ -])?[0-9]+/[0-9]+")

Tree = dict[str, Any]


def tools_path(given: Path | None = None) -> Path:
    """The tools file: the one given, tools.toml in the folder given, else profiles/tools.toml in this folder."""
    if given is None:
        return TOOLS_FILE
    if os.path.isdir(given):
        return given / TOOLS_FILE.name
    if given.suffix.lower() == ".toml" or os.path.exists(given):
        return given
    return given.with_name(given.name + ".toml")


def read_pairs(pairs: Iterable[str]) -> dict[str, str]:
    """`KEY=VALUE` as it is typed; InputError has a line for each that is none, or is given twice."""
    values: dict[str, str] = {}
    faults = []
    for pair in pairs:
        key, sign, value = (part.strip() for part in pair.partition("="))
        if not sign or not all(key.split(".")):
            faults.append(f'{_ADD}: {quoted(pair)} is not KEY=VALUE (such as diameter="3/8 in")')
        elif key in values:
            faults.append(f"{_ADD}: {quoted(key)[1:-1]}: stands there twice (keep one)")
        values[key] = value
    if faults:
        raise InputError(faults)
    return values


def add_entry(path: Path, kind: str, name: str, values: Mapping[str, str]) -> str:
    """The text of a tools file with one more entry; a file that is missing or empty is begun.

    `values` are as a person types them, by key (`diameter.nominal`). InputError says what is wrong with them or with
    the file, and refuses an entry that is there already, in this file or beside it in a folder of profiles.
    """
    if kind not in TOOL_KINDS:
        raise InputError(f"{_ADD}: {quoted(kind)} is not a kind of tool ({did_you_mean(kind, TOOL_KINDS)})")
    _refuse_no_name(kind, name)
    text = text_or_new(path)
    file = parse_toml(text, str(path))
    units = file.data.get("units")
    table = _table(kind, values, units)
    _check(kind, name, table, units)
    _refuse_another(path, file, kind, name)
    return with_entry(text, path, kind, name, table)


def _refuse_no_name(kind: str, name: str) -> None:
    """Refuse a name that is empty, or KEY=VALUE: the name itself was forgotten."""
    if not name.strip():
        raise InputError(f'{_ADD}: the name is empty (such as: {_ADD} {kind} "my own" ...)')
    key, sign, value = name.partition("=")
    if sign and key.split(".")[0].strip() in fields_of(KINDS[kind]):
        said = f'{key.strip()}="{value.strip()}"'
        raise InputError(f"{_ADD}: the name is missing (it stands before the keys: {_ADD} {kind} NAME {said})")


def text_or_new(path: Path) -> str:
    """The file's text with its own line ends, or that of a new one; InputError where it is no text."""
    if not os.path.exists(path) or (path.is_file() and path.stat().st_size == 0):
        return EMPTY_FILE
    read_toml(path)
    return path.read_bytes().decode("utf-8")


def _table(kind: str, values: Mapping[str, str], units: object = None) -> Tree:
    """The entry as TOML has it: numbers, lists and tables of the text that was typed."""
    table: Tree = {}
    faults = []
    for key, text in values.items():
        parts = key.split(".")
        try:
            _put(table, parts, _value(KINDS[kind], parts, text, units))
        except ValueError as error:
            faults.append(f"{_ADD}: {quoted(key)[1:-1]}: {error}")
    if faults:
        raise InputError(faults)
    return table


def _put(table: Tree, parts: list[str], value: Any) -> None:
    if len(parts) > _MOST_PARTS:
        raise ValueError(f"no key of a tool has so many parts (at most {_MOST_PARTS})")
    held: Any = table
    for part in parts[:-1]:
        held = held.setdefault(part, {}) if isinstance(held, dict) else held
    if not isinstance(held, dict) or parts[-1] in held:
        raise ValueError("is given as a whole and by its parts (give one or the other)")
    held[parts[-1]] = value


def _value(model: type[BaseModel], parts: list[str], text: str, units: object) -> Any:
    """A typed value as the field expects it; the model says what does not fit."""
    kinds = set(_kinds(model, parts))
    if str in kinds:
        return text
    if units != "in" and _FRACTION.fullmatch(text):
        raise ValueError(f"{quoted(text)} is not a length (give the unit: {text} in)")
    if text[:1] in ("[", "{"):
        return _toml(text)
    if tuple in kinds:
        return [_plain(part.strip()) for part in text.split(",")]
    return _plain(text)


def _kinds(model: type[BaseModel], parts: list[str]) -> Iterator[Any]:
    """Every type that may stand at a key."""
    models: tuple[type[BaseModel], ...] = (model,)
    fields = [fields_of(model).get(parts[0])]
    for part in parts[1:]:
        models = tuple(one for field in fields if field for one in models_in(field.annotation))
        fields = [fields_of(one).get(part) for one in models]
    waiting = [field.annotation for field in fields if field]
    while waiting:
        kind = waiting.pop()
        yield getattr(kind, "__origin__", kind)
        waiting.extend(get_args(kind))


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


def _check(kind: str, name: str, table: Tree, units: object) -> None:
    """Refuse an entry that the models refuse, before it stands anywhere."""
    data = {kind: {name: table}} | ({} if units is None else {"units": units})
    file = File(Path(), _ADD, _ADD, TomlText(data, lambda _: None))
    entries_of(Files((file,), ()), kind)


def _refuse_another(path: Path, text: TomlText, kind: str, name: str) -> None:
    """Refuse a name that the file has, or another file of the same folder of profiles: neither would win."""
    beside = sorted(path.parent.glob("*.toml")) if path.parent.name == TOOLS_FILE.parent.name else []
    for place in (path, *(other for other in beside if other != path)):
        with_name = text if place == path else _read(place)
        held = {} if with_name is None else with_name.data.get(kind)
        if with_name is not None and isinstance(held, dict) and name in held:
            where = f"{shown_name(str(place))}:{with_name.locate((kind, name))}"
            raise InputError(f"{where}: {kind}.{quoted(name)[1:-1]}: is there already (edit it, or use another name)")


def _read(path: Path) -> TomlText | None:
    try:
        return read_toml(path)
    except InputError:  # said when the profiles are used
        return None


def with_entry(text: str, path: Path, kind: str, name: str, table: Tree) -> str:
    """The text with the entry below it, or, where TOML forbids that, inside what is there."""
    data = parse_toml(text, str(path)).data
    held = data.get(kind, {})
    wanted = {**data, kind: {**held, name: table}} if isinstance(held, dict) else data
    for written in (_below, _inside):
        made = written(text, kind, name, table)
        if made is not None and _says(made, wanted) and comments_in(made) == comments_in(text):
            all_entries(files_of(parse_toml(made, str(path)), path))
            return made
    all_entries(files_of(parse_toml(text, str(path)), path))  # perhaps the file itself is at fault
    raise InputError(f"{shown_name(str(path))}: {kind}: cannot be added to as it stands (write the entry by hand)")


def _says(text: str, data: Tree) -> bool:
    try:
        return tomllib.loads(text.removeprefix("\ufeff")) == data
    except tomllib.TOMLDecodeError:
        return False


def _below(text: str, kind: str, name: str, table: Tree) -> str:
    import tomlkit

    entry = tomlkit.table()
    for key, value in table.items():
        entry.add(key, inline(value))
    kinds = tomlkit.table(is_super_table=True)
    kinds.add(name, entry)
    document = tomlkit.document()
    document.add(kind, kinds)
    line_end = "\r\n" if "\r\n" in text else "\n"
    above = text if text.endswith("\n") else text + line_end
    return above + line_end + document.as_string().replace("\n", line_end)


def _inside(text: str, kind: str, name: str, table: Tree) -> str | None:
    import tomlkit

    try:
        document: Any = tomlkit.parse(text)
        document[kind][name] = inline(table)
        return str(document.as_string())
    except Exception:  # tomlkit fails in ways of its own on what the standard reader takes
        return None


def inline(value: Any) -> Any:
    """A value as tomlkit writes it, every table in { } and every list in one line."""
    import tomlkit

    return tomlkit.value(_literal(value)) if isinstance(value, dict | list) else value


def _literal(value: Any) -> str:
    import tomlkit

    if isinstance(value, list):
        return f"[{', '.join(map(_literal, value))}]"
    if isinstance(value, dict):
        return (
            "{ " + ", ".join(f"{tomlkit.key(key).as_string()} = {_literal(one)}" for key, one in value.items()) + " }"
        )
    text: str = tomlkit.item(value).as_string()
    return text
