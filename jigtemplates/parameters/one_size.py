"""Which job of a file is meant where the command line names one of its sizes."""

from collections.abc import Sequence
from pathlib import Path

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.toml_text import shown_name


def one_size(jobs: Sequence[Job], size: str | None, path: Path) -> Job:
    """Of the jobs of a file the one that --size names, or the only one; InputError where that is none of them."""
    name = shown_name(str(path))
    members = {job.member: job for job in jobs if job.member is not None}
    if not members:
        if size is not None:
            raise InputError(f"--size: {name} holds one size only (leave it out)")
        return jobs[0]
    if size is None:
        raise InputError(f"--size: {name} holds several sizes (say which: {', '.join(map(quoted, members))})")
    if size not in members:
        raise InputError(f"--size: {quoted(size)} is not in {name} ({did_you_mean(size, members)})")
    return members[size]
