"""A person's tools file without one of its entries; nothing is written here.

The entry's own lines go, with the comments among them; every other line stays byte for byte.
"""

import tomllib
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.parameters.toml_lines import Statement, statements
from jigtemplates.parameters.toml_text import parse_toml, read_toml, shown_name
from jigtemplates.parameters.tools_file import EMPTY_FILE, TOOL_KINDS

_REMOVE = "tools remove"
_BOM = "\ufeff"


def remove_entry(path: Path, kind: str, name: str) -> str:
    """The text of a tools file with one entry less; that of a new file where nothing else was in it.

    InputError for a kind or name that is not there, for a file that is none, and for an entry that stands so that it
    cannot be taken out alone.
    """
    if kind not in TOOL_KINDS:
        raise InputError(f"{_REMOVE}: {quoted(kind)} is not a kind of tool ({did_you_mean(kind, TOOL_KINDS)})")
    read_toml(path)  # for what it says of a file that cannot be read
    raw, shown = path.read_bytes(), shown_name(str(path))
    data = parse_toml(raw, str(path)).data  # of the same bytes as the text: another run may change the file meanwhile
    held = data.get(kind, {})
    if not isinstance(held, dict) or name not in held:
        known = did_you_mean(name, held if isinstance(held, dict) else ())
        raise InputError(f"{shown}: {kind}: {quoted(name)} is not in this file ({known})")
    wanted = {**data, kind: {other: entry for other, entry in held.items() if other != name}}
    text = raw.decode("utf-8")
    bom = _BOM if text.startswith(_BOM) else ""
    for removed in (_without_lines, _without_key):
        made = removed(text.removeprefix(bom), kind, name)
        if made is not None and _full(_data(made)) == _full(wanted):
            return bom + made if made.strip() else EMPTY_FILE
    raise InputError(f"{shown}: {kind}.{quoted(name)[1:-1]}: cannot be taken out as it stands (delete it by hand)")


def _without_lines(text: str, kind: str, name: str) -> str | None:
    """The text without the lines of the entry; None where it has none of its own."""
    spans = list(_spans(text, kind, name))
    for start, end in reversed(spans):
        text = _closed_up(text[:start], text[end:])
    return text if spans else None


def _closed_up(above: str, below: str) -> str:
    """What stood above and below the lines that are gone, with one gap where there were two."""
    if not below.strip():
        return above.rstrip() + ("\r\n" if "\r\n" in above else "\n")
    blank = not above.strip() or above.splitlines()[-1].strip() == ""
    return above + (_without_blank_lines(below) if blank else below)


def _spans(text: str, kind: str, name: str) -> Iterator[tuple[int, int]]:
    """Whole lines of the entry, from its first to its last statement; more than one span where others stand between."""
    found = list(statements(text))
    own = [one.path[:2] == (kind, name) for one in found]
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


def _without_key(text: str, kind: str, name: str) -> str | None:
    """The text without a key inside a { } table."""
    import tomlkit

    try:
        document: Any = tomlkit.parse(text)
        del document[kind][name]
        return str(document.as_string())
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
