"""What the profiles hold, as text or JSON."""

import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

import click
from pydantic import BaseModel

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.lengths import Length, full_text
from jigtemplates.parameters.entries import Entry, Holder
from jigtemplates.parameters.process_entries import Process
from jigtemplates.parameters.router_entries import RectangleBase, RoundBase
from jigtemplates.parameters.toml_text import read_toml
from jigtemplates.parameters.tool_sizes import size_doubts
from jigtemplates.profile_files import all_entries, files_in, read_files
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


def print_tools(file: Path | None, folder: Path | None, *, as_json: bool) -> None:
    """Print a person's own entries with all that is known of them: those of a file, or all that a job here sees.

    Raises InputError with the faults of every kind of entry in the files.
    """
    if file is not None:
        entries = all_entries(read_files([file]))
    else:
        entries = all_entries(files_in(profiles_for(Path("job.toml"), folder).folders))
    found = {kind: _nearest(held) for kind, held in entries.items()}
    if as_json:
        click.echo(json.dumps({kind: [_as_json(one) for one in held] for kind, held in found.items()}, indent=2))
    else:
        click.echo("\n".join(_tool_lines(found)))


def _nearest(entries: Iterable[Found[Any]]) -> tuple[Found[Any], ...]:
    """Of entries of one name the first, which is the one a job gets."""
    by_name: dict[str, Found[Any]] = {}
    for found in entries:
        by_name.setdefault(found.name, found)
    return tuple(by_name.values())


def _tool_lines(found: Mapping[str, tuple[Found[Any], ...]]) -> Iterator[str]:
    if not any(found.values()):
        yield 'no tools of your own are here yet; to begin: jigtemplates tools add bits NAME diameter="3/8 in"'
    for kind, entries in found.items():
        if entries:
            yield click.style(kind, bold=True)
        for one in entries:
            yield from (f"  {line}" for line in _entry_lines(one))
            if unknown := not_known(one.entry):
                yield f"    not known: {', '.join(unknown)}"
            yield from (f"    look again at {key}: {odd}" for key, odd in size_doubts(kind, one.entry))


def print_added(path: Path, kind: str, name: str, *, begun: bool = False) -> None:
    """Say where a new entry stands, what is still open, and what that is needed for; and how a new file reads numbers.

    `begun` says that the file was not there before.
    """
    entry = entry_in(path, kind, name)
    click.echo(f"added {quoted(name)} to {path}: {_short(entry)}")
    needed = _needed_to_make(entry)
    if unknown := [key for key in not_known(entry) if key not in needed]:
        click.echo(f"  not known yet: {', '.join(unknown)}")
    if needed:
        keys = ", ".join("window or ledge" if key == "window" else key for key in needed)
        click.echo(f"  still needed to make the holder itself (jigtemplates holder): {keys}")
    if begun:
        units = read_toml(path).data["units"]
        words = "inches" if units == "in" else "millimetres"
        click.echo(f'  the file is new: numbers you write into it without a unit are {words} (units = "{units}")')


def _needed_to_make(entry: BaseModel) -> tuple[str, ...]:
    """The keys of a holder that its parts cannot be made without and that are left open."""
    if not isinstance(entry, Holder):
        return ()
    from jigtemplates.holders.parts import missing_keys

    return missing_keys(entry)


def print_changed(path: Path, kind: str, name: str, before: Entry) -> None:
    """Say what of an entry is no longer as it was before."""
    old, new = (dict(_flat(entry, "")) for entry in (before, entry_in(path, kind, name)))
    changed = [key for key in dict.fromkeys((*new, *old)) if old.get(key) != new.get(key)]
    what = "changed" if changed else "nothing to change in"
    click.echo(f"{what} {quoted(name)} in {path}{':' if changed else ': it is so already'}")
    width = max(map(len, changed), default=0)
    for key in changed:
        was = f"was {old[key]}" if key in old else "was not known"
        click.echo(f"  {key:<{width}}  {new.get(key, 'taken out')} ({was})")


def entry_in(path: Path, kind: str, name: str) -> Entry:
    """The entry of that name in a file; InputError has all faults of the file."""
    return next(one for one in all_entries(read_files([path]))[kind] if one.name == name).entry


def not_known(entry: BaseModel) -> tuple[str, ...]:
    """The keys of an entry that are left open, but for the note; a process leaves them to the shipped one."""
    if isinstance(entry, Process):
        return ()
    return tuple(key for key in type(entry).model_fields if key != "note" and getattr(entry, key) in (None, ()))


def _table(entries: Iterable[Found[Any]]) -> Iterator[str]:
    rows = [(found.name, _short(found.entry), found.origin) for found in entries]
    widths = [max(len(row[i]) for row in rows) for i in (0, 1)] if rows else [0, 0]
    for name, sizes, origin in rows:
        yield f"{name:<{widths[0]}}  {sizes:<{widths[1]}}  {origin}"


def _short(entry: BaseModel) -> str:
    """The sizes of an entry in one line."""
    sizes = [(key, value) for key, value in _given(entry) if isinstance(value, Length | RoundBase | RectangleBase)]
    return ", ".join(f"{key} {_text(value)}" for key, value in sizes)


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
    return full_text(value) if isinstance(value, Length) else str(value)


def _as_json(found: Found[Any]) -> dict[str, Any]:
    from jigtemplates.manifest import plain

    return {"name": found.name, "origin": found.origin, **plain(found.entry)}
