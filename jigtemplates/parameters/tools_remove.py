"""A person's tools file without one of its entries; nothing is written here.

The entry's own lines go, with the comments among them; every other line stays byte for byte.
"""

import tomllib
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.parameters.faults import dotted
from jigtemplates.parameters.in_place import without_value
from jigtemplates.parameters.toml_lines import Statement, statements
from jigtemplates.parameters.toml_text import parse_toml, read_toml, shown_name
from jigtemplates.parameters.tools_file import EMPTY_FILE, as_typed, beside, refuse_kind

_REMOVE = "tools remove"
_BOM = "\ufeff"

Tree = dict[str, Any]


def remove_entry(path: Path, kind: str, name: str) -> str:
    """The text of a tools file with one entry less; that of a new file where nothing else was in it.

    InputError for a kind or name that is not there, for a file that is none, and for an entry that stands so that it
    cannot be taken out alone.
    """
    refuse_kind(kind, _REMOVE)
    text, data = file_with(path, kind, name)
    wanted = {**data, kind: {other: entry for other, entry in data[kind].items() if other != name}}
    return without(text, (kind, name), wanted, shown_name(str(path)))


def file_with(path: Path, kind: str, name: str) -> tuple[str, Tree]:
    """The text of a tools file that has the entry, and what it says; InputError where it has none."""
    read_toml(path)  # for what it says of a file that cannot be read
    raw = path.read_bytes()
    data = parse_toml(raw, str(path)).data  # of the same bytes as the text: another run may change the file meanwhile
    held = data.get(kind, {})
    if not isinstance(held, dict) or name not in held:
        known = _elsewhere(path, kind, name) or did_you_mean(name, held if isinstance(held, dict) else ())
        raise InputError(f"{shown_name(str(path))}: {kind}: {quoted(name)} is not in this file ({known})")
    return raw.decode("utf-8"), data


def _elsewhere(path: Path, kind: str, name: str) -> str | None:
    """What to add for an entry that another file of the same folder of profiles has."""
    for place, text in beside(path):
        held = text.data.get(kind)
        if isinstance(held, dict) and name in held:
            return f"it is in another: add --file {as_typed(str(place))}"
    return None


def without(text: str, keys: tuple[str, ...], wanted: Tree, shown: str) -> str:
    """The text without a key, which then says what is wanted; that of a new file where nothing else was in it.

    `shown` stands for the file in the line of an InputError, where the key cannot be taken out alone.
    """
    bom = _BOM if text.startswith(_BOM) else ""
    for removed in (_without_lines, _without_key):
        made = removed(text.removeprefix(bom), keys)
        if made is not None and _full(_data(made)) == _full(wanted):
            return bom + made if made.strip() else EMPTY_FILE
    raise InputError(f"{shown}: {dotted(keys)}: cannot be taken out as it stands (delete it by hand)")


def _without_lines(text: str, keys: tuple[str, ...]) -> str | None:
    """The text without the lines of an entry, or a key of one; None where it has none of its own."""
    spans = list(_spans(text, keys))
    for start, end in reversed(spans):
        text = _closed_up(text[:start], text[end:])
    return text if spans else None


def _closed_up(above: str, below: str) -> str:
    """What stood above and below the lines that are gone, with one gap where there were two."""
    if not below.strip():
        return above.rstrip() + ("\r\n" if "\r\n" in above else "\n")
    blank = not above.strip() or above.splitlines()[-1].strip() == ""
    return above + (_without_blank_lines(below) if blank else below)


def _spans(text: str, keys: tuple[str, ...]) -> Iterator[tuple[int, int]]:
    """Whole lines of the entry or key, from first to last statement; several spans where others stand between."""
    found = list(statements(text))
    own = [one.path[: len(keys)] == keys for one in found]
    first: Statement | None = None
    for (one, is_own), (_, next_own) in pairwise([*zip(found, own, strict=True), (None, False)]):
        first = first or (one if is_own else None)
        if is_own and not next_own and first is not None and one is not None:
            yield text.rfind("\n", 0, first.start) + 1, one.end + 1
            first = None


def _without_blank_lines(text: str) -> str:
    lines = text.splitlines(keepends=True)
    first = next((at for at, line in enumerate(lines) if line.strip()), len(lines))
    return "".join(lines[first:])


def _without_key(text: str, keys: tuple[str, ...]) -> str | None:
    """The text without a key inside a { } table; None where it does not stand so."""
    try:
        return without_value(text, keys)
    except Exception:  # tomlkit fails in ways of its own on what the standard reader takes
        return None


def _data(text: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return None


def _full(data: dict[str, Any] | None) -> dict[str, Any] | None:
    """The data without tables that hold nothing: what is left of a kind does not matter."""
    return None if data is None else {key: held for key, held in data.items() if held != {}}
