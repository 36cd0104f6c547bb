"""A person's own tools in one profile file: where it is, and a new entry in it.

What is there stays byte for byte: a new entry is put below it. Nothing is written here; the caller has the new
text only when the whole of it has passed the models.
"""

import os
import re
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.lengths import Unit
from jigtemplates.parameters.fault_words import fields_of
from jigtemplates.parameters.toml_lines import comments_in
from jigtemplates.parameters.toml_text import TomlText, parse_toml, read_toml, shown_name
from jigtemplates.parameters.typed_pairs import refuse_faults, table_of, unit_of
from jigtemplates.profile_files import KINDS, all_entries, files_of

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
#: The same for a shop that measures in inches.
EMPTY_INCH_FILE = EMPTY_FILE.replace("12.68 mm", "0.499 in").replace('units = "mm"', 'units = "in"')
_ADD = "tools add"

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


def add_entry(path: Path, kind: str, name: str, values: Mapping[str, str], units: Unit | None = None) -> str:
    """The text of a tools file with one more entry; a file that is missing or empty is begun.

    `values` are as a person types them, by key (`diameter.nominal`), every length with its unit. `units` is how bare
    numbers are read in a file that is begun, else the unit of the first length. InputError says what is wrong with
    them or with the file, and refuses an entry that is there already, in this file or beside it in a folder of
    profiles.
    """
    refuse_kind(kind, _ADD)
    _refuse_no_name(kind, name)
    table = table_of(kind, values, _ADD)
    refuse_faults(kind, name, table, typed=values, command=_ADD)
    text = text_or_new(path, units or unit_of(text for key, text in values.items() if key != "note"))
    file = parse_toml(text, str(path))
    if units is not None and file.data.get("units") != units:
        raise InputError(f"--units: {shown_name(str(path))} is there already and stays as it is (leave --units out)")
    _refuse_another(path, file, kind, name)
    return with_entry(text, path, kind, name, table)


def refuse_kind(kind: str, command: str) -> None:
    """Refuse a kind that a tools file is not for."""
    if kind not in TOOL_KINDS:
        raise InputError(f"{command}: {quoted(kind)} is not a kind of tool ({did_you_mean(kind, TOOL_KINDS)})")


def _refuse_no_name(kind: str, name: str) -> None:
    """Refuse a name that is empty, or KEY=VALUE: the name itself was forgotten."""
    if not name.strip():
        raise InputError(f'{_ADD}: the name is empty (such as: {_ADD} {kind} "my own" ...)')
    key, sign, value = name.partition("=")
    if sign and key.split(".")[0].strip() in fields_of(KINDS[kind]):
        said = f'{key.strip()}="{value.strip()}"'
        raise InputError(f"{_ADD}: the name is missing (it stands before the keys: {_ADD} {kind} NAME {said})")


def text_or_new(path: Path, units: Unit | None = None) -> str:
    """The file's text with its own line ends, or that of a new one in those units; InputError where it is no text."""
    if is_to_begin(path):
        return EMPTY_INCH_FILE if units == "in" else EMPTY_FILE
    read_toml(path)
    return path.read_bytes().decode("utf-8")


def is_to_begin(path: Path) -> bool:
    """Whether there is no such file, or one of no bytes."""
    return not os.path.exists(path) or (path.is_file() and path.stat().st_size == 0)


def _refuse_another(path: Path, text: TomlText, kind: str, name: str) -> None:
    """Refuse a name that the file has, or another file of the same folder of profiles: neither would win."""
    for place, held in ((path, text), *beside(path)):
        tools = held.data.get(kind)
        if isinstance(tools, dict) and name in tools:
            where = f"{shown_name(str(place))}:{held.locate((kind, name))}: {kind}.{quoted(name)[1:-1]}"
            raise InputError(
                f"{where}: is there already (use another name, or change it: {change_command(place, kind, name)})"
            )


def beside(path: Path) -> Iterator[tuple[Path, TomlText]]:
    """The other files of the folder of profiles that a tools file is in, those that can be read."""
    others = sorted(path.parent.glob("*.toml")) if path.parent.name == TOOLS_FILE.parent.name else []
    for place in others:
        held = None if place == path else _read(place)
        if held is not None:
            yield place, held


def change_command(path: Path, kind: str, name: str) -> str:
    """What is typed to change an entry."""
    file = "" if path == TOOLS_FILE else f" --file {as_typed(str(path))}"
    return f"jigtemplates tools change {kind} {as_typed(name)} KEY=VALUE{file}"


def as_typed(word: str) -> str:
    """A word as it is typed on a command line, in quotes where it needs them."""
    if re.fullmatch(r"[\w./:-]+", word):
        return word
    quote = "'" if '"' in word else '"'
    return f"{quote}{shown_name(word)}{quote}"


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
