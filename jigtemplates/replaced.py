"""Would a job replace the templates of another, and which files of an earlier make does it leave behind?

Told from the manifest that stands in its folder, and from the names beside it.
"""

import json
import os
import re
from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Any

from jigtemplates.checks import Finding, Level
from jigtemplates.checks.finding import stop, warning
from jigtemplates.errors import OutputError, quoted
from jigtemplates.manifest import LARGEST_BYTES, job_file, plain
from jigtemplates.ordinary import read_start
from jigtemplates.parameters.job import Job

#: What may differ though a job is the same one: how it is called, what it was made for, the manifest's own keys.
_PASSING = ("title", "make", "file", "sha256")


def replaced(job: Job, out: Path) -> tuple[Finding, ...]:
    """A stop where the folder holds what another job file made; a warning where perhaps it does.

    A manifest names its job file without a folder, so a/r.toml and b/r.toml are told apart by their title, if
    more than the title differs. Nothing where there is no manifest that can be read.
    """
    said = _job_before(out / job.stem / f"{job.stem}.json")
    before, now = said.get("file"), job_file(job)
    if isinstance(before, str) and now is not None and before != now:
        return (
            stop(
                "replaces-another-job",
                "make.for",
                f"the templates in the folder {quoted(job.stem)} were made from {quoted(before)}, and {quoted(now)} "
                "would replace them: rename the job, choose another folder with --out, or delete that folder",
            ),
        )
    title = said.get("title")
    if isinstance(title, str) and title != job.title and _kept(said) != _kept(json.loads(json.dumps(plain(job)))):
        return (
            warning(
                "other-job-before",
                "title",
                f"the files that stood in the folder {quoted(job.stem)} were made for {quoted(title)}, not for "
                f"{quoted(job.title)}, and are replaced: if that was another job, rename one of the two or use --out",
            ),
        )
    return ()


#: What follows a template's name in that of its files, whatever it was made for.
_MADE = re.compile(
    r"(_MIRRORED)?_("
    r"(laser(_kerf[0-9][0-9.e-]*(mm)?)?|cnc(_underside_MIRRORED)?)(_(mm|in)\.dxf|\.svg)"
    r"|print(\.3mf|_mm\.stl)|paper_[\w.-]+\.pdf|(setup|inlay)\.pdf)"
)


def strays(folder: Path, stem: str, listed: Collection[str]) -> tuple[str, ...]:
    """Names of files in a template's folder that are called as its files are, and that are not listed; sorted.

    They are left from an earlier make: for another machine, kerf or unit. Nothing where the folder cannot be read.
    """
    try:
        there = os.listdir(folder)
    except OSError:
        return ()
    named = (name for name in there if name.startswith(stem) and _MADE.fullmatch(name, len(stem)))
    return tuple(sorted(name for name in named if name not in listed))


def refuse_another_job(job: Job, out: Path) -> None:
    """Raises OutputError where the folder holds what another job file made."""
    for finding in replaced(job, out):
        if finding.level is Level.STOP:
            raise OutputError(f"{job.stem}: {finding.message}")


def _kept(job: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in job.items() if key not in _PASSING}


def _job_before(path: Path) -> Mapping[str, Any]:
    try:
        job = json.loads(read_start(path, LARGEST_BYTES).decode("utf-8"))["job"]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return {}
    return job if isinstance(job, dict) else {}
