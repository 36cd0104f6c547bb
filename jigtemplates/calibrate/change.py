"""A correction as a change of the person's files: which key gets which value, and the text that comes of it.

Nothing is written here. What was there stays: comments, order, and the old value beside the new one, in `was`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from jigtemplates.lengths import Length, Measured
from jigtemplates.parameters.edit import set_tools, set_value
from jigtemplates.parameters.process_entries import MeasuredKerf
from jigtemplates.parameters.toml_text import parse_toml, read_toml, shown_name
from jigtemplates.parameters.tools_file import text_or_new, tools_path, with_entry
from jigtemplates.profile_files import Found, all_entries, files_of
from jigtemplates.profiles import SHIPPED
from jigtemplates.tools_command import bytes_of

#: Earlier values that are kept (chosen: ten years of a measurement a year).
KEPT = 10

#: Keys of a reading, in the order an earlier one is written in.
READING = ("measured", "width", "measured_on", "across", "up", "within")

Tree = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Place:
    """Where an entry is written: in which file, and what stands there now."""

    path: Path
    kind: str
    name: str
    #: the entry as the file has it; None where it has none yet
    raw: Tree | None
    #: what the file holds; None where there is none
    held: bytes | None


def place_of(kind: str, name: str, found: Found[Any] | None, given: Path | None) -> Place:
    """The file given; else the one of the person's that has the entry; else the tools file.

    InputError where that file cannot be read.
    """
    own = found is not None and found.origin != SHIPPED
    path = Path(found.origin) if own and found is not None and given is None else tools_path(given)
    held = bytes_of(path)
    data = parse_toml(text_or_new(path), str(path)).data
    entries = data.get(kind, {})
    raw = entries.get(name) if isinstance(entries, dict) else None
    return Place(path, kind, name, raw if isinstance(raw, dict) else None, held)


@dataclass(frozen=True, slots=True)
class Rewrite:
    """One file with one value changed, or with one entry more."""

    path: Path
    keys: tuple[str, ...]
    value: Any
    #: what the file held when the value was reckoned
    held: bytes | None

    def text(self) -> str:
        """The file's new text; InputError where the value will not do there, or cannot be put there."""
        text, name = text_or_new(self.path), shown_name(str(self.path))
        if len(self.keys) == 2:  # a whole entry
            return with_entry(text, self.path, *self.keys, self.value)
        made = set_value(text, self.keys, self.value, name=name)
        all_entries(files_of(parse_toml(made, str(self.path)), self.path))
        return made


@dataclass(frozen=True, slots=True)
class InJob:
    """What a job says of a tool, changed."""

    path: Path
    #: "bit" or "bushing"
    tool: str
    #: the job's own table of the tool; the name that takes the place of a bare size
    value: Tree | str

    def text(self) -> str:
        """The job's new text; InputError where it cannot be rewritten."""
        read_toml(self.path)
        text, name = self.path.read_bytes().decode("utf-8"), shown_name(str(self.path))
        if isinstance(self.value, str):
            return set_tools(text, name=name, **{self.tool: self.value})
        return set_value(text, ("tools", self.tool, "diameter"), self.value["diameter"], name=name)


def rewrite(place: Place, key: str, value: Any, whole: Tree) -> Rewrite:
    """The key of an entry with another value; where the file has no such entry, all of it."""
    if place.raw is None:
        return Rewrite(place.path, (place.kind, place.name), whole, place.held)
    return Rewrite(place.path, (place.kind, place.name, key), value, place.held)


def diameter_of(raw: Any, nominal: Length, size: str, within: str, on: str) -> Tree:
    """A measured diameter, the size it is sold as beside it, and what was measured before.

    `raw` is the diameter as the file has it, or None.
    """
    held = raw if isinstance(raw, dict) else {}
    sold = held.get("nominal", raw if raw is not None and not held else nominal.text)
    new = {"measured": size, **_dated(on, within)}
    return {"nominal": sold, **new, **_was(held, new)}


def kerfs_of(held: Iterable[Tree], known: Iterable[MeasuredKerf], new: MeasuredKerf, on: str) -> list[Tree]:
    """The list of kerfs with a new one; of the same sheet the old one goes into its `was`.

    `held` are the tables of the file, `known` the same as they were read.
    """
    said = {"sheet": new.sheet, "thickness": new.thickness and new.thickness.text}
    table: Tree = {key: value for key, value in said.items() if value is not None}
    reading = {"width": new.width.text, **_dated(on, None if new.within is None else new.within.text)}
    tables, earlier = list[Tree](), Tree()
    for raw, kerf in zip(held, known, strict=True):
        if kerf.of != new.of:
            tables.append(raw)
        else:
            earlier = raw
    return [*tables, {**table, **reading, **_was(earlier, reading)}]


def bars_of(held: Tree | None, across: str, up: str, on: str) -> Tree:
    """What the bars measured, the earlier measurement beside it."""
    new = {**_dated(on, None), "across": across, "up": up}
    return {**new, **_was(held or {}, new)}


def _dated(on: str, within: str | None) -> Tree:
    good = {} if within is None else {"within": within}
    return {"measured_on": date.fromisoformat(on), **good}


def _was(held: Tree, new: Tree) -> Tree:
    """The earlier values: those that stand there, and before them the one the new reading takes the place of.

    The same reading once more, of the same day, is no second one: a run that was killed between two files is repeated.
    """
    known = {key: held[key] for key in (*READING, *new) if key in held}
    earlier = [known] if known and known != new else []
    tables = [*earlier, *held.get("was", [])]
    return {"was": tables[:KEPT]} if tables else {}


def tree_of(model: Any) -> Tree:
    """An entry, or a part of one, as a file has it: every length with its unit; without its name."""
    return {key: _plain(key, getattr(model, key)) for key in _said(model) if key != "name"}


def _said(entry: Any) -> list[str]:
    return [
        key for key in type(entry).model_fields if key in entry.model_fields_set and getattr(entry, key) is not None
    ]


def _plain(key: str, value: Any) -> Any:
    if isinstance(value, Measured):
        within = {} if value.within is None else {"within": value.within.text}
        day = {} if value.measured_on is None else {"measured_on": date.fromisoformat(value.measured_on)}
        return {"nominal": value.nominal.text, "measured": value.text, **within, **day}
    if key == "measured_on":
        return date.fromisoformat(value)
    if isinstance(value, Length):
        return value.text
    if isinstance(value, tuple):
        return [_plain(key, one) for one in value]
    return tree_of(value) if isinstance(value, BaseModel) else value
