"""Reads profile files: every *.toml of a folder may hold tables named after the kinds of entry.

    units = "mm"
    [bits."my 3/8 in spiral"]
    diameter = "9.51 mm"

All the faults of the files that were read are collected; the caller raises them together.
"""

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Generic, TypeVar, get_args

from pydantic import ValidationError

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.lengths import LengthError, Unit, parse_length
from jigtemplates.parameters.entries import Bit, Bushing, Entry, Holder, Paper, Process, Router, Screw, Sheet
from jigtemplates.parameters.faults import fault_lines
from jigtemplates.parameters.stem import unfit_character
from jigtemplates.parameters.toml_text import TomlText, read_toml, shown_name

#: The kinds of profile, as their tables are named, and the model of an entry.
KINDS: Mapping[str, type[Entry]] = {
    "bits": Bit,
    "bushings": Bushing,
    "sheets": Sheet,
    "screws": Screw,
    "processes": Process,
    "papers": Paper,
    "holders": Holder,
    "routers": Router,
}
#: A job may give these as a bare diameter, so a name of theirs must not read as a length.
_KNOWN_BY_DIAMETER = ("bits", "bushings")
#: Their names become parts of file names as they are, which must lead nowhere else.
_IN_FILE_NAMES = ("papers",)

E = TypeVar("E", bound=Entry, covariant=True)


@dataclass(frozen=True, slots=True)
class Found(Generic[E]):
    """An entry, and where it came from."""

    #: what the profile says
    entry: E
    #: the kind's name: "bits", "screws", …
    kind: str
    #: the name a job writes
    name: str
    #: "shipped", or the file as the person would recognise it
    origin: str


@dataclass(frozen=True, slots=True)
class File:
    """A profile file that could be read, before its entries are looked at."""

    #: the folder it is in; entries of one folder must not share a name
    folder: Path
    #: the file as the person would recognise it
    name: str
    #: what is said of its entries' origin
    origin: str
    #: its tables, and where they stand
    text: TomlText

    def place(self, path: tuple[str, ...]) -> str:
        """File and line of a key, "tools.toml:7"; the file alone for what stands in none."""
        line = self.text.locate(path)
        return self.name if line is None else f"{self.name}:{line}"


@dataclass(frozen=True, slots=True)
class Files:
    """Profile files, and what is wrong with them as files."""

    files: tuple[File, ...]
    faults: tuple[str, ...]


def files_in(folders: Iterable[Path], *, first: Iterable[Path] = ()) -> Files:
    """The files `first`, then the *.toml files of the folders, each folder's by name."""
    paths, faults = list(first), list[str]()
    for folder in folders:
        try:
            paths += _toml_files(folder)
        except OSError as error:
            faults.append(f"{shown_name(str(folder))}: cannot be read ({error.strerror})")
    read = read_files(paths)
    return Files(read.files, (*faults, *read.faults))


def read_files(paths: Iterable[Path], origin: str | None = None) -> Files:
    """The given files; `origin` is said of their entries instead of each file's name."""
    files, faults = list[File](), list[str]()
    for path in paths:
        try:
            read = files_of(read_toml(path), path, origin)
        except InputError as error:
            faults += error.lines
        else:
            faults += read.faults
            files += read.files
    return Files(tuple(files), tuple(faults))


def files_of(text: TomlText, path: Path, origin: str | None = None) -> Files:
    """The file a text stands for, as if it had been read from that place."""
    name = shown_name(str(path))
    return Files((File(path.parent, name, origin or name, text),), tuple(_outer_faults(text, name)))


def all_entries(read: Files) -> dict[str, tuple[Found[Entry], ...]]:
    """All entries of every kind; InputError has all faults of the files, whatever their kind."""
    found, faults = dict[str, tuple[Found[Entry], ...]](), list[str]()
    for kind in KINDS:
        try:
            found[kind] = entries_of(read, kind)
        except InputError as error:
            faults += error.lines
    if faults:
        raise InputError(dict.fromkeys(faults))
    return found


def entries_of(read: Files, kind: str) -> tuple[Found[Entry], ...]:
    """All entries of a kind, in the files' order; InputError has all faults of the files and of the kind."""
    found, faults = list[Found[Entry]](), list(read.faults)
    places: dict[tuple[Path, str], str] = {}
    for file in read.files:
        for name, table in _tables(file, kind):
            place = file.place((kind, name))
            twice = places.setdefault((file.folder, name), place)
            wrong = _name_faults(kind, name, table, None if twice == place else twice)
            faults += (f"{place}: {kind}.{quoted(name)[1:-1]}: {fault}" for fault in wrong)
            try:
                if isinstance(table, dict):
                    found.append(Found(_entry(file, kind, name, table), kind, name, file.origin))
            except InputError as error:
                faults += error.lines
    if faults:
        raise InputError(faults)
    return tuple(found)


def _toml_files(folder: Path) -> list[Path]:
    """Hidden files are left out: some systems strew copies such as ._bits.toml, which are no TOML."""
    names = sorted(os.listdir(folder))
    return [folder / name for name in names if name.lower().endswith(".toml") and not name.startswith(".")]


def _outer_faults(text: TomlText, name: str) -> Iterator[str]:
    """Faults of the outermost keys: an unknown one, units, a kind that is no table of tables."""
    for key, value in text.data.items():
        fault = _outer_fault(key, value)
        if fault:
            yield f"{name}:{text.locate((key,))}: {fault}"


def _outer_fault(key: str, value: object) -> str | None:
    if key == "units":
        known = " or ".join(quoted(unit) for unit in get_args(Unit))
        return None if value in get_args(Unit) else f"units: {quoted(value)} is not known here (write {known})"
    if key not in KINDS:
        return f"unknown key {quoted(key)} ({did_you_mean(key, (*KINDS, 'units'))})"
    if not isinstance(value, dict):
        return f'{key}: {quoted(value)} does not fit here (write a table for each entry, [{key}."NAME"])'
    return None


def _tables(file: File, kind: str) -> Iterable[tuple[str, Any]]:
    tables = file.text.data.get(kind)
    return tables.items() if isinstance(tables, dict) else ()


def _name_faults(kind: str, name: str, table: object, twice: str | None) -> Iterator[str]:
    if not isinstance(table, dict):
        yield f"{quoted(table)} does not fit here (write a table of keys)"
    elif "name" in table:
        yield 'unknown key "name" (the entry is called what its table is called; leave it out)'
    if name != name.strip():
        yield "the name begins or ends with a space (leave it out)"
    if kind in _IN_FILE_NAMES and (odd := unfit_character(name)):
        yield f"the name has the character {odd} and becomes a part of file names (use letters, digits, - and _)"
    if kind in _KNOWN_BY_DIAMETER and _reads_as_length(name):
        yield f'a job takes this name for a bare diameter (call it "my {quoted(name)[1:-1]}", say)'
    if twice is not None:
        yield f"stands in {twice} too (keep one)"


def _reads_as_length(name: str) -> bool:
    try:
        parse_length(name, unit="in")
    except LengthError:
        return False
    return True


def _entry(file: File, kind: str, name: str, table: Mapping[str, Any]) -> Entry:
    model, units = KINDS[kind], file.text.data.get("units")
    try:
        return model.model_validate({**table, "name": name}, context={"unit": units and _unit(units)})
    except ValidationError as error:
        raise InputError(
            fault_lines(error, model, name=file.name, locate=file.text.locate, below=(kind, name))
        ) from None


def _unit(units: object) -> Unit:
    """The unit a file names; what is not a unit is a fault already, and must not cause one at each number."""
    return "in" if units == "in" else "mm"
