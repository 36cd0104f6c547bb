"""What the profiles hold, as text or JSON."""

import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

import click
from pydantic import BaseModel

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.lengths import Length
from jigtemplates.profiles import KINDS, Found, Profiles, profiles_for


def print_profiles(kind: str | None, name: str | None, folder: Path | None, *, as_json: bool) -> None:
    """Print the kinds, the entries of a kind, or one entry; InputError for an unknown kind or name."""
    profiles = profiles_for(Path("job.toml"), folder)  # as a job in this folder would find them
    if kind is None:
        _print_kinds(profiles, as_json)
        return
    if kind not in KINDS:
        raise InputError(f"profiles: {quoted(kind)} is not a kind of profile ({did_you_mean(kind, KINDS)})")
    entries = [profiles.find(kind, name)] if name else profiles.entries(kind)
    if as_json:
        click.echo(json.dumps([_as_json(found) for found in entries], indent=2))
    elif name:
        click.echo("\n".join(_entry_lines(entries[0])))
    else:
        click.echo("\n".join(_table(entries)))


def _print_kinds(profiles: Profiles, as_json: bool) -> None:
    counts = {kind: len(profiles.entries(kind)) for kind in KINDS}
    if as_json:
        click.echo(json.dumps(counts, indent=2))
        return
    for kind, count in counts.items():
        click.echo(f"{kind:<10} {count:>3}")
    click.echo("\nsearched, the first wins: " + ", ".join([*map(str, profiles.folders), "those shipped"]))


def _table(entries: Iterable[Found[Any]]) -> Iterator[str]:
    rows = [(found.name, _short(found.entry), found.origin) for found in entries]
    widths = [max(len(row[i]) for row in rows) for i in (0, 1)] if rows else [0, 0]
    for name, sizes, origin in rows:
        yield f"{name:<{widths[0]}}  {sizes:<{widths[1]}}  {origin}"


def _short(entry: BaseModel) -> str:
    """The sizes of an entry in one line."""
    sizes = [(key, value) for key, value in _given(entry) if isinstance(value, Length)]
    return ", ".join(f"{key} {value.text}" for key, value in sizes)


def _given(entry: BaseModel) -> Iterator[tuple[str, Any]]:
    for key in type(entry).model_fields:
        value = getattr(entry, key)
        if key != "name" and value not in (None, (), {}):
            yield key, value


def _entry_lines(found: Found[Any]) -> Iterator[str]:
    yield f"{found.name}  ({found.origin})"
    flat = list(_flat(found.entry, ""))
    width = max((len(key) for key, _ in flat), default=0)
    for key, value in flat:
        yield f"  {key:<{width}}  " + value.replace("\n", "\n" + " " * (width + 4))


def _flat(entry: BaseModel, head: str) -> Iterator[tuple[str, str]]:
    """Every field that is given, nested ones by dotted key."""
    for key, value in _given(entry):
        if isinstance(value, BaseModel):
            yield from _flat(value, f"{head}{key}.")
        else:
            yield f"{head}{key}", _text(value)


def _text(value: Any) -> str:
    if isinstance(value, BaseModel):
        return " ".join(f"{key} {_text(part)}" for key, part in _given(value))
    if isinstance(value, Mapping):
        return "; ".join(f"{key}: {_text(part)}" for key, part in value.items())
    if isinstance(value, tuple | list):
        return ", ".join(_text(part) for part in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value.text if isinstance(value, Length) else str(value)


def _as_json(found: Found[Any]) -> dict[str, Any]:
    from jigtemplates.manifest import plain

    return {"name": found.name, "origin": found.origin, **plain(found.entry)}
