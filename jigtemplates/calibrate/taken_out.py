"""A correction taken out of a file that was changed since: only the keys it changed get back what they held.

Whatever else was changed since stays, comments too. A key that was changed since as well is no longer the correction's:
then nothing is taken out, and the line says what to type.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigtemplates.errors import InputError, quoted
from jigtemplates.parameters.edit import set_value
from jigtemplates.parameters.faults import dotted
from jigtemplates.parameters.toml_text import parse_toml
from jigtemplates.parameters.tools_file import EMPTY_FILE, TOOL_KINDS, as_typed, change_command, inline
from jigtemplates.parameters.tools_remove import without

Keys = tuple[str, ...]
Tree = dict[str, Any]

#: Of kind, entry and key, or of a job's table, tool and key: how deep a change is looked for.
_DEEPEST = 3


class _Gone:
    """What a key has that is not there."""


_GONE = _Gone()


@dataclass(frozen=True, slots=True)
class _Change:
    """A key with what it held before and after a correction."""

    keys: Keys
    before: Any
    after: Any


def taken_out(now: str, before: str | None, after: str, path: Path, shown: str) -> str:
    """The text of a file as it is now, without the correction that made `after` of `before`; None: there was no file.

    `shown` stands for the file in the lines of an InputError, which names every key that was changed since.
    """
    begun = EMPTY_FILE if before is None else before
    old, new = (parse_toml(text, shown).data if text.strip() else {} for text in (begun, after))
    held = parse_toml(now, shown).data
    changes = [one for one in _changes(old, new) if _at(held, one.keys) != one.before]
    faults = [_line(one, path, shown) for one in changes if _at(held, one.keys) != one.after]
    if faults:
        raise InputError(faults)
    for one in changes:
        now = _restored(now, one, shown)
    return now


def _changes(before: Tree, after: Tree, above: Keys = ()) -> Iterator[_Change]:
    """Every key that differs, as deep as it is told apart; a kind that was not there is one without entries."""
    for key in {**before, **after}:
        old, new = before.get(key, _GONE), after.get(key, _GONE)
        if old is _GONE and isinstance(new, dict) and not above:
            old = {}
        if isinstance(old, dict) and isinstance(new, dict) and len(above) < _DEEPEST - 1:
            yield from _changes(old, new, (*above, key))
        elif old != new:
            yield _Change((*above, key), old, new)


def _at(data: Tree, keys: Keys) -> Any:
    held: Any = data
    for key in keys:
        held = held.get(key, _GONE) if isinstance(held, dict) else _GONE
    return held


def _restored(text: str, change: _Change, shown: str) -> str:
    if change.before is not _GONE:
        return set_value(text, change.keys, change.before, name=shown)
    return without(text, change.keys, _less(parse_toml(text, shown).data, change.keys), shown)


def _less(data: Tree, keys: Keys) -> Tree:
    """The same without a key that is there."""
    first, *rest = keys
    if rest:
        return {**data, first: _less(data[first], tuple(rest))}
    return {key: value for key, value in data.items() if key != first}


def _line(change: _Change, path: Path, shown: str) -> str:
    """That a key was changed since, and what to type for what it held before."""
    where = f"{shown}: {dotted(change.keys)}: was changed since that correction and is left as it is"
    if change.before is _GONE:
        return f"{where} (before, it was not there: delete it by hand)"
    kind, name, *key = change.keys
    value = change.before if isinstance(change.before, str) else _written(change.before)
    if kind in TOOL_KINDS and len(key) == 1:
        said = change_command(path, kind, name).replace("KEY=VALUE", f"{key[0]}={as_typed(value)}", 1)
        return f"{where} (for what it held before: {said})"
    held = quoted(value) if isinstance(change.before, str) else value
    return f"{where} (for what it held before, write there {change.keys[-1]} = {held})"


def _written(value: Any) -> str:
    """A value as it stands in a file, tables in { }."""
    import tomlkit

    held = inline(value)
    return str((held if hasattr(held, "as_string") else tomlkit.item(held)).as_string())
