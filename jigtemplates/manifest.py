"""The manifest: what a template's files were made from, and their hashes, as JSON without a clock."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction
from functools import cache, lru_cache
from importlib import metadata
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from jigtemplates.checks import Finding
from jigtemplates.checks.finding import warning
from jigtemplates.json_text import indented
from jigtemplates.lengths import Length, Measured
from jigtemplates.ordinary import read_start
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.make_tables import Target
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.report import Report
from jigtemplates.rings import plain_rings

#: Libraries whose version can change a file's bytes.
LIBRARIES = ("ezdxf", "Hershey-Fonts", "reportlab", "shapely", "svgelements", "svgwrite")

#: The key of what was given on the command line.
GIVEN = "given"
#: Larger manifests are not ours (chosen: ours are a few kilobytes).
LARGEST_BYTES = 1_000_000

Listed = Mapping[str, tuple[str, tuple[float, float]]]


def manifest_text(
    report: Report,
    files: Listed,
    profiles: Profiles | None = None,
    finished: Mapping[str, tuple[float, float]] | None = None,
) -> str:
    """The manifest as JSON text: program, libraries, pens, resolved job, results, files with size and hash.

    The opening stands in it exactly, about the middle of the cut and not turned, for the day the bit changes; those
    of other cuts in the same template beside it.

    `finished` has the size of the plate, mm, by the name of a file that is larger by the kerf.

    `profiles` are those the files were made with; without any, those the job sees. Which of them were given on the
    command line is noted, for the day the template is made again.
    """
    profiles = profiles or profiles_for(report.job.source)
    results = report.as_json()
    del results["files"]
    for part in (results, *results.get("cuts", ())):
        del part["budget"]  # it follows from the job, and is long
    job = plain(report.job)
    content = {
        **made_with(profiles, report.job.make.targets),
        **given_with(profiles, report.job),
        "job": {"file": job_file(report.job), "sha256": _sha256(job), **job},
        "results": results,
        "opening": plain_rings(report.template.opening_at_rest),
        **_other_openings(report),
        "files": [
            {"name": name, **sizes_mm(size, (finished or {}).get(name)), "sha256": digest}
            for name, (digest, size) in files.items()
        ],
    }
    return indented({**content, "sha256": content_hash(content)}) + "\n"


def sizes_mm(size: tuple[float, float], finished: tuple[float, float] | None) -> dict[str, float]:
    """Size of what a file shows, and where it is larger by the kerf that of the piece it becomes; mm."""
    said = {"width_mm": size[0], "height_mm": size[1]}
    if finished is None:
        return said
    return {**said, "finished_width_mm": finished[0], "finished_height_mm": finished[1]}


def _other_openings(report: Report) -> dict[str, Any]:
    others = report.template.others
    return {"other_openings": [plain_rings(one.opening_at_rest) for one in others]} if others else {}


def content_hash(content: Mapping[str, Any]) -> str:
    """SHA-256 of what a manifest says, without this hash itself: the same whatever its keys' order and spacing."""
    return _sha256({key: value for key, value in content.items() if key != "sha256"})


@lru_cache(maxsize=8)  # the jobs of a folder share their profiles
def made_with(profiles: Profiles, targets: tuple[Target, ...]) -> dict[str, Any]:
    """What besides the job decides a file's bytes: the program, its libraries, and how the processes draw.

    On paper also the person's own bits, which the plan page tells what to do with.
    """
    pens = {found.name: plain(found.entry) for found in profiles.entries("processes") if found.name in targets}
    return {
        "program": {"name": "jigtemplates", "version": _version("jigtemplates"), "sha256": code_hash()},
        "libraries": {name: _version(name) for name in LIBRARIES},
        "pens": {"sha256": _sha256(pens)},
        **({"printer_library": {"manifold3d": _version("manifold3d")}} if "print" in targets else {}),
        **({"own_bits": {"sha256": _sha256(_own_bits(profiles))}} if "paper" in targets else {}),
    }


def given_with(profiles: Profiles, job: Job) -> dict[str, Any]:
    """What was given with --profiles and --tools; nothing where neither was, or the job came as text."""
    if job.source is None or (profiles.extra is None and profiles.tools is None):
        return {}
    from jigtemplates.given_profiles import note_of

    note = note_of(profiles, job.source)
    return {GIVEN: note} if note else {}


def _own_bits(profiles: Profiles) -> list[Any]:
    """In their order; of equal ones the first is named."""
    return [(found.name, plain(found.entry)) for found in profiles.own("bits")]


@cache
def code_hash() -> str:
    """SHA-256 of the program itself, whatever the line ends: two installations may call themselves the same version."""
    package, digest = Path(__file__).parent, hashlib.sha256()
    for path in sorted(package.rglob("*.py")):
        digest.update(path.relative_to(package).as_posix().encode())
        digest.update(path.read_bytes().replace(b"\r\n", b"\n"))
    return digest.hexdigest()


def _sha256(value: Any) -> str:
    return hashlib.sha256(json.dumps(value, sort_keys=True).encode()).hexdigest()


@cache
def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:  # run from a checkout that was never installed
        return "unknown"


def job_file(job: Job) -> str | None:
    """Name of the job file, without the folders of the machine it was on; None for a job from text."""
    return job.source.name if job.source else None


def job_hash(job: Job) -> str:
    """SHA-256 of the resolved job: the same for two files that mean the same."""
    return _sha256(plain(job))


def plain(value: Any) -> Any:
    """A resolved parameter as JSON can hold it: a length as text and mm, a job without its source.

    The text and mm of a measured size are those it was computed with; its nominal size stands beside them.
    """
    if isinstance(value, Length):
        return {"text": value.text, "mm": round(value.mm, 9), **_sold_as(value)}
    if isinstance(value, Job):
        return {f.name: plain(getattr(value, f.name)) for f in fields(value) if f.name != "source"}
    if is_dataclass(value):
        told = (f.name for f in fields(value) if f.metadata.get("manifest", True))
        return {name: _without_folders(name, plain(getattr(value, name))) for name in told}
    if isinstance(value, BaseModel):
        return {name: plain(getattr(value, name)) for name in type(value).model_fields}
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if isinstance(value, Fraction):
        return float(value)
    return value


def _sold_as(length: Length) -> dict[str, Any]:
    if not isinstance(length, Measured):
        return {}
    day = {} if length.measured_on is None else {"measured_on": length.measured_on}
    return {"used": "measured", "nominal": plain(length.nominal), "within": plain(length.within), **day}


def _without_folders(key: str, value: Any) -> Any:
    """Of a tool's origin only the name of the file: its folder belongs to one machine."""
    return Path(value).name if key == "origin" else value


def unlisted(folder: Path, manifest_name: str, names: set[str], more: Iterable[str] = ()) -> tuple[Finding, ...]:
    """Warnings for files of an earlier make that this one does not renew and that are still there.

    These are what the manifest that stands there lists, and `more`.
    """
    stale = {name for name in (*_listed_before(folder / manifest_name), *more) if name not in names}
    there = sorted(name for name in stale if (folder / name).is_file())
    if not there:
        return ()
    return (
        warning(
            "older-files",
            "make.for",
            f"made earlier and not renewed now, so perhaps no longer right: {', '.join(there)}; delete them, or make "
            "them again",
        ),
    )


def _listed_before(path: Path) -> Iterator[str]:
    """File names in an earlier manifest; nothing where there is none that can be read."""
    try:
        raw = read_start(path, LARGEST_BYTES + 1)
        if len(raw) > LARGEST_BYTES:
            return
        files = json.loads(raw.decode("utf-8"))["files"]
        yield from (Path(file["name"]).name for file in files)
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return
