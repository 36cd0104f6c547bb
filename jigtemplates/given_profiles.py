"""Which profiles were given on the command line when a template was made: noted in its manifest, found again from it.

A note leads from the job's folder to them and names no folder of one machine. What lies too far away for that is noted
by its name alone.
"""

import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from jigtemplates.current import read_manifest
from jigtemplates.errors import InputError
from jigtemplates.manifest import GIVEN, LARGEST_BYTES
from jigtemplates.ordinary import read_start
from jigtemplates.parameters.family import stems_in
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import Profiles

#: What a note may hold, as the options are called, and what stands behind them.
KINDS = {"profiles": "DIR", "tools": "FILE"}
#: How many folders up a way may lead (as `profiles` looks above a job: jobs lie no deeper).
ABOVE = 3


class Given(NamedTuple):
    """What stands behind --profiles and --tools; None where nothing does."""

    #: the folder of profiles
    folder: Path | None = None
    #: the file of tools
    tools: Path | None = None

    def over(self, other: "Given") -> "Given":
        """The same, and the other's where nothing is given here."""
        return Given(self.folder or other.folder, self.tools or other.tools)


#: Neither of them.
NOTHING = Given()


def note_of(profiles: Profiles, job: Path) -> dict[str, dict[str, str | None]]:
    """What a manifest says of the profiles a job was read with: of each that was given its name, and the way to it.

    Nothing of the folder `profiles` beside the job, which is seen anyway.
    """
    beside = os.path.realpath(job.parent / "profiles")
    extra = profiles.extra if profiles.extra and os.path.realpath(profiles.extra) != beside else None
    return {
        kind: _noted(place, job.parent) for kind, place in zip(KINDS, (extra, profiles.tools), strict=True) if place
    }


def _noted(place: Path, folder: Path) -> dict[str, str | None]:
    """Its name, and the way to it from the folder; None where that would name folders of this machine."""
    there, here = (Path(os.path.abspath(one)) for one in (place, folder))
    try:
        common, way = Path(os.path.commonpath((there, here))), Path(os.path.relpath(there, here)).as_posix()
    except ValueError:  # on another drive
        return {"name": there.name, "way": None}
    is_near = common != Path(common.anchor) and common not in Path(os.path.expanduser("~")).parents
    return {"name": there.name, "way": way if is_near and not _is_astray(way) else None}


def _is_astray(way: str) -> bool:
    """Whether a way is none that a note may hold: it leads too far up, or begins at a root."""
    return os.path.isabs(way) or way.split("/").count("..") > ABOVE


def remembered(path: Path, out: Path, asked: Given = NOTHING) -> Given:
    """What was given when the templates of a job file were made into out, and is not asked for now; nothing where their
    manifests say nothing.

    InputError as `remembered_in` has it.
    """
    return remembered_in([out / stem / f"{stem}.json" for stem in stems_in(path)], path, asked)


def remembered_in(manifests: Iterable[Path], path: Path, asked: Given = NOTHING) -> Given:
    """The same of these manifests of templates of a job file.

    InputError has a line for what is not there any more, and where they were made with different ones.
    """
    notes = [note for manifest in manifests if (note := _note(manifest, path))]
    found: list[Path | None] = []
    faults: list[str] = []
    for kind, now in zip(KINDS, asked, strict=True):
        said = [] if now else [one for note in notes if (one := note.get(kind))]
        ways = list(dict.fromkeys((one["name"], one["way"]) for one in said))
        place = _place(ways[0][1], kind, path) if len(ways) == 1 else None
        found.append(place)
        if ways and place is None:
            faults.append(f"{shown_name(str(path))}: {_fault(kind, [shown_name(name) for name, _ in ways])}")
    if faults:
        raise InputError(faults)
    return Given(*found)


def _note(manifest: Path, job: Path) -> Mapping[str, Mapping[str, Any]] | None:
    """What a manifest of this job says of them; None where it is none, or says nothing. Most are not even parsed."""
    try:
        if f'"{GIVEN}"'.encode() not in read_start(manifest, LARGEST_BYTES + 1):
            return None
        said = read_manifest(manifest).data
        return {kind: _checked(one) for kind, one in said[GIVEN].items()} if said["job"]["file"] == job.name else None
    except (OSError, ValueError, KeyError, TypeError, AttributeError, InputError):
        return None


def _checked(one: Mapping[str, Any]) -> Mapping[str, Any]:
    """A note as we write them; ValueError for any other, lest it lead anywhere."""
    name, way = one["name"], one["way"]
    if not isinstance(name, str) or not (way is None or (isinstance(way, str) and not _is_astray(way))):
        raise ValueError(f"no note of ours: {one}")
    return one


def _place(way: str | None, kind: str, job: Path) -> Path | None:
    """Where it lies, as seen from here; None where it does not."""
    if way is None:
        return None
    place = Path(os.path.normpath(job.parent / way))
    return place if (place.is_dir() if kind == "profiles" else place.is_file()) else None


def _fault(kind: str, names: list[str]) -> str:
    option, what = f"--{kind}", KINDS[kind]
    if len(names) > 1:
        these = " and ".join(f"{option} {name}" for name in names)
        return f"its templates were made with {these} (give {option} {what} for all of them)"
    return (
        f"its template was made with {option} {names[0]}, which is not found from here (give {option} {what}: where it "
        "is now, or another one)"
    )


def said_of(given: Given) -> Iterator[tuple[str, str]]:
    """Where it belongs and what it says: a sentence for each that was remembered."""
    for (kind, what), before in zip(KINDS.items(), given, strict=True):
        if before is not None:
            said = f"given as --{kind} when the template was made, is read again (another one: --{kind} {what})"
            yield kind, f"{shown_name(str(before))}, {said}"
