"""Is a template's folder still what its job would make? Answered from the manifest, without making anything."""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigtemplates.errors import InputError
from jigtemplates.manifest import GIVEN, LARGEST_BYTES, content_hash, given_with, job_hash, made_with
from jigtemplates.ordinary import hash_of, read_start
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import Profiles
from jigtemplates.report import WrittenFile


@dataclass(frozen=True)
class Kept:
    """A manifest as it stands on disk beside the files it lists."""

    #: the manifest
    path: Path
    #: its own bytes, SHA-256 as hexadecimal
    sha256: str
    #: what it says
    data: Mapping[str, Any]
    #: the files it lists, in its order, without itself
    files: tuple[WrittenFile, ...]

    def changed_files(self) -> Iterator[str]:
        """Names of listed files that are gone or whose bytes are no longer those it lists."""
        return (Path(file.path).name for file in self.files if hash_of(Path(file.path)) != file.sha256)

    @property
    def all_files(self) -> tuple[WrittenFile, ...]:
        """The files with the manifest at their end, as `making.write` reports them."""
        return (*self.files, WrittenFile(self.path.as_posix(), self.sha256, None))


def kept_by(job: Job, out: Path, profiles: Profiles, *, however_given: bool = False) -> Kept | None:
    """The manifest of a job's folder in out, where making the job again would change no file; else None.

    Same resolved job, same pens, same program and libraries, and every listed file has the bytes it was
    written with. `profiles` are those the job was read with, and given as its manifest says, unless `however_given`.
    """
    try:
        kept = read_manifest(out / job.stem / f"{job.stem}.json")
    except InputError:
        return None
    said, made = kept.data, made_with(profiles, job.make.targets)
    same = all(said.get(key) == value for key, value in made.items()) and _job_hash_in(said) == job_hash(job)
    as_given = however_given or said.get(GIVEN) == given_with(profiles, job).get(GIVEN)
    return kept if same and as_given and kept.files and not any(kept.changed_files()) else None


def _job_hash_in(data: Mapping[str, Any]) -> object:
    job = data.get("job")
    return job.get("sha256") if isinstance(job, dict) else None


def read_manifest(path: Path) -> Kept:
    """The manifest at a place; InputError in one line where it cannot be read or is none of ours."""
    name = shown_name(str(path))
    try:
        raw = read_start(path, LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name is not valid"
        raise InputError(f"{name}: cannot be read ({reason})") from None
    foreign = InputError(f"{name}: this is no manifest of jigtemplates, or it is damaged (make the template again)")
    if len(raw) > LARGEST_BYTES:
        raise foreign
    try:
        data = json.loads(raw.decode("utf-8"))
        if data["program"]["name"] != "jigtemplates":
            raise foreign
        files = tuple(_listed(path.parent, file) for file in data["files"])
    except (ValueError, KeyError, TypeError, RecursionError):
        raise foreign from None
    if data.get("sha256") != content_hash(data):
        raise InputError(f"{name}: manifest changed since it was written (make the template again)")
    return Kept(path, hashlib.sha256(raw).hexdigest(), data, files)


def _listed(folder: Path, file: Mapping[str, Any]) -> WrittenFile:
    """A file of the list; of its name only the last part counts, lest it lead elsewhere."""
    place = folder / Path(file["name"]).name
    size = (float(file["width_mm"]), float(file["height_mm"]))
    more = "finished_width_mm" in file  # the file is larger than the plate, by the kerf
    finished = (float(file["finished_width_mm"]), float(file["finished_height_mm"])) if more else None
    return WrittenFile(place.as_posix(), str(file["sha256"]), size, finished)
