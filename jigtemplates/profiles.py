"""Finds profiles: what a person's tools, materials and machines are, by name.

Entry by entry the nearest folder wins: `profiles` beside the job, a folder given by the person, `profiles` in the
current folder, the person's configuration folder, then what is shipped with the program. A kind is read when it is
first asked for.
"""

import os
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, Literal, overload

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.own_folders import FOLDER, user_folder
from jigtemplates.parameters.entries import Bit, Bushing, Entry, Holder, Paper, Process, Router, Screw, Sheet
from jigtemplates.parameters.toml_text import parse_toml, shown_name
from jigtemplates.profile_files import KINDS, Files, Found, entries_of, files_in, files_of, read_files

__all__ = ["KINDS", "SHIPPED", "Found", "Profiles", "profiles_for", "shipped_folder", "user_folder"]

#: Origin of an entry that came with the program.
SHIPPED = "shipped"
#: How many folders above a job's are looked at for profiles that were not searched (chosen: jobs lie no deeper).
_ABOVE = 3
#: Most places named in a line about an unknown name (chosen: the line stays readable).
_PLACES = 3


class Profiles:
    """The profiles of one search path; each kind is read once, when it is first asked for.

    Jobs of one folder may share it. Every method raises InputError with all the faults of the
    files it had to read.
    """

    def __init__(
        self,
        folders: Iterable[Path] = (),
        *,
        tools: Path | None = None,
        job_folder: Path | None = None,
        extra: Path | None = None,
    ) -> None:
        """`folders` are the person's own, the nearest first; what is shipped always comes last.

        `tools` is a profile file whose entries come before all of them. `job_folder` is where the job is, for a
        word about profiles above it that are not searched. `extra` is that one of the folders which was given.
        """
        self.folders = tuple(folders)
        self.tools = tools
        self.extra = extra
        self._job_folder = job_folder
        self._own: Files | None = None
        #: whether those are not what stands on the disk
        self._is_as_if = False
        self._kinds: dict[str, dict[str, Found[Entry]]] = {}

    def entries(self, kind: str) -> tuple[Found[Entry], ...]:
        """All entries of a kind that a name can reach, the nearest folder's first, as they stand there."""
        return tuple(self._named(kind).values())

    @property
    def has_own(self) -> bool:
        """Whether there may be an entry that is not shipped; no file is read to know it."""
        return bool(self.folders or self.tools or (self._own and self._own.files))

    def own(self, kind: str) -> tuple[Found[Entry], ...]:
        """The person's own entries of a kind: all but those that are shipped."""
        return tuple(found for found in self.entries(kind) if found.origin != SHIPPED) if self.has_own else ()

    def with_file(self, path: Path, text: str) -> "Profiles":
        """The same profiles as if the file at that place held this text, whether it is there yet or not.

        A file that is not there counts where its folder is one that a job sees. InputError has the text's faults.
        """
        read = files_in(self.folders, first=() if self.tools is None else (self.tools,))
        new = files_of(parse_toml(text, str(path)), path)
        real = os.path.realpath(path)
        at = [os.path.realpath(file.folder / Path(file.name).name) for file in read.files]
        files = tuple(new.files[0] if one == real else file for one, file in zip(at, read.files, strict=True))
        if real not in at and self._sees(path.parent):
            last = next((i for i, file in enumerate(files) if file.folder == user_folder()), len(files))
            files = (*files[:last], *new.files, *files[last:])
        made = Profiles(self.folders, tools=self.tools, job_folder=self._job_folder, extra=self.extra)
        made._own = Files(files, (*read.faults, *new.faults))
        made._is_as_if = True
        return made

    def __getstate__(self) -> dict[str, Any]:
        """For another process: where to look; what was read from the disk it reads for itself."""
        return {**vars(self), "_own": self._own if self._is_as_if else None, "_kinds": {}}

    def _sees(self, folder: Path) -> bool:
        """Whether a job would search a folder that perhaps is not there yet."""
        beside = () if self._job_folder is None else (self._job_folder / FOLDER,)
        searched = {os.path.realpath(one) for one in (*self.folders, *beside, Path(FOLDER))}
        return os.path.realpath(folder) in searched

    def looked(self, hint: str, kind: str, name: str) -> str:
        """The hint of a line about an unknown name of a kind, and where was looked.

        Unchanged where all are shipped, or where a near name was found. Where an entry of the very name stands in
        profiles above the job, which are not searched, that alone is said.
        """
        meant = self._unsearched(kind, name)
        if meant is not None:
            return meant
        own = [shown_name(str(place)) for place in (*((self.tools,) if self.tools else ()), *self.folders)]
        if not own or hint.endswith("?"):
            return hint
        named = [*own[:_PLACES], *(["…"] if len(own) > _PLACES else []), SHIPPED]
        return f"{hint}{'' if hint.endswith('…') else '.'} Looked in: {', '.join(named)}"

    def _unsearched(self, kind: str, name: str) -> str | None:
        """Where above the job the entry of that name stands, in a folder that is not among those searched."""
        if self._job_folder is None:
            return None
        from jigtemplates.near_folder import holds

        seen = {os.path.realpath(folder) for folder in (*self.folders, shipped_folder())}
        for up in range(1, _ABOVE + 1):
            folder = Path(os.path.normpath(self._job_folder.joinpath(*[".."] * up, FOLDER)))
            file = None if os.path.realpath(folder) in seen else holds(folder, kind, name)
            if file is not None:
                add = f"add --profiles {_typed(folder)}"
                return f"{quoted(name)} is in {shown_name(str(file))}, which is not looked in: {add}"
        return None

    # fmt: off
    @overload
    def find(self, kind: Literal["bits"], name: str, *, where: str = ...) -> Found[Bit]: ...
    @overload
    def find(self, kind: Literal["bushings"], name: str, *, where: str = ...) -> Found[Bushing]: ...
    @overload
    def find(self, kind: Literal["sheets"], name: str, *, where: str = ...) -> Found[Sheet]: ...
    @overload
    def find(self, kind: Literal["screws"], name: str, *, where: str = ...) -> Found[Screw]: ...
    @overload
    def find(self, kind: Literal["processes"], name: str, *, where: str = ...) -> Found[Process]: ...
    @overload
    def find(self, kind: Literal["papers"], name: str, *, where: str = ...) -> Found[Paper]: ...
    @overload
    def find(self, kind: Literal["holders"], name: str, *, where: str = ...) -> Found[Holder]: ...
    @overload
    def find(self, kind: Literal["routers"], name: str, *, where: str = ...) -> Found[Router]: ...
    @overload
    def find(self, kind: str, name: str, *, where: str = ...) -> Found[Entry]: ...
    # fmt: on
    def find(self, kind: str, name: str, *, where: str = "") -> Found[Any]:
        """The entry of that name; `where` (file, line, key) starts the error's line when there is none."""
        named = self._named(kind)
        if name not in named:
            raise InputError(": ".join(filter(None, (where, self._unknown(kind, name, named)))))
        return named[name]

    def _unknown(self, kind: str, name: str, known: Iterable[str]) -> str:
        hint = self.looked(did_you_mean(name, known), kind, name)
        stop = "" if hint.endswith(("?", "…")) else "."
        return f"{quoted(name)} is not among the {kind} ({hint}{stop} To list them: jigtemplates profiles {kind})"

    def _named(self, kind: str) -> dict[str, Found[Entry]]:
        if kind not in KINDS:
            raise InputError(f"{quoted(kind)} is not a kind of profile ({did_you_mean(kind, KINDS)})")
        if kind not in self._kinds:
            self._kinds[kind] = self._nearest(kind)
        return self._kinds[kind]

    def _nearest(self, kind: str) -> dict[str, Found[Entry]]:
        if self._own is None:
            self._own = files_in(self.folders, first=() if self.tools is None else (self.tools,))
        nearest: dict[str, Found[Entry]] = {}
        for found in (*entries_of(self._own, kind), *_shipped(kind)):
            held = nearest.setdefault(found.name, found)
            if held is not found and isinstance(held.entry, Process) and not held.entry.is_whole:
                nearest[found.name] = _over(held, found)
        return _whole(nearest) if kind == "processes" else nearest


def profiles_for(
    job_path: str | os.PathLike[str] | None = None,
    extra: str | os.PathLike[str] | None = None,
    *,
    tools: str | os.PathLike[str] | None = None,
) -> Profiles:
    """The profiles a job sees: those in the file `tools`, in `profiles` beside it, in the folder `extra`, in
    `profiles` of the current folder, the person's own, the shipped.

    Only `tools` and `extra` have to exist; InputError if they do not, or where one of the others is no folder.
    """
    job_folder = None if job_path is None else Path(job_path).parent
    folders = [] if job_folder is None else [job_folder / FOLDER]
    folders += [] if extra is None else [_given_folder(Path(extra))]
    folders += [Path(FOLDER), user_folder()]
    _refuse_no_folders(folders)
    seen = {os.path.realpath(shipped_folder())}
    folders = [folder for folder in folders if os.path.isdir(folder) and _first_time(folder, seen)]
    return Profiles(
        folders,
        tools=None if tools is None else _given_file(Path(tools)),
        job_folder=job_folder,
        extra=None if extra is None else Path(extra),
    )


def shipped_folder(package: Path = Path(__file__).parent) -> Path:
    """The profiles that came with the program: inside the installed package, or beside it in a checkout."""
    for folder in (package / "_profiles", package.parent / "profiles"):
        if (folder / "bits.toml").is_file():
            return folder
    raise InputError("the profiles that belong to jigtemplates are missing (install it again)")


@cache
def _shipped(kind: str) -> tuple[Found[Entry], ...]:
    """Shipped entries stand in the file of their kind and do not change while the program runs."""
    return entries_of(read_files([shipped_folder() / f"{kind}.toml"], SHIPPED), kind)


def _over(partial: Found[Entry], other: Found[Entry]) -> Found[Entry]:
    """A process that says not what is drawn, and so only changes what the next one of its name says."""
    assert isinstance(partial.entry, Process)
    assert isinstance(other.entry, Process)
    return replace(partial, entry=partial.entry.over(other.entry))


def _whole(processes: dict[str, Found[Entry]]) -> dict[str, Found[Entry]]:
    """The same; InputError where one says not what is drawn and there is no other of its name."""
    faults = [
        f"{found.origin}: processes.{quoted(name)[1:-1]}: roles is missing (write what is drawn, or call it as one "
        f"that is shipped: {', '.join(found.name for found in _shipped('processes'))})"
        for name, found in processes.items()
        if isinstance(found.entry, Process) and not found.entry.is_whole
    ]
    if faults:
        raise InputError(faults)
    return processes


def _typed(folder: Path) -> str:
    from jigtemplates.parameters.tools_file import as_typed

    return as_typed(str(folder))


def _given_folder(folder: Path) -> Path:
    if not os.path.isdir(folder):
        from jigtemplates.near_folder import no_such_folder

        found = no_such_folder(folder, "give the name of a folder of *.toml files")
        raise InputError(f"{shown_name(str(folder))}: {found}")
    return folder


def _refuse_no_folders(folders: Iterable[Path]) -> None:
    """A file, or a link that leads nowhere, in the place of a folder would hide the tools a person believes in."""
    faults = [
        f"{shown_name(str(folder))}: {_what_it_is(folder)} "
        "(profiles are searched there: make it a folder, or rename it)"
        for folder in folders
        if os.path.lexists(folder) and not os.path.isdir(folder)
    ]
    if faults:
        raise InputError(dict.fromkeys(faults))


def _what_it_is(folder: Path) -> str:
    return "this is not a folder" if os.path.exists(folder) else "this link leads nowhere"


def _given_file(file: Path) -> Path:
    if not os.path.exists(file):
        raise InputError(
            f"{shown_name(str(file))}: there is no such file (to begin one: jigtemplates tools add --help)"
        )
    return file


def _first_time(folder: Path, seen: set[str]) -> bool:
    real = os.path.realpath(folder)
    new = real not in seen
    seen.add(real)
    return new
