"""Several jobs in one call: finds their files, does the good ones and keeps the faults of the others."""

import os
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from jigtemplates.current import kept_by
from jigtemplates.errors import InputError, JigError, OutputError, quoted, unforeseen
from jigtemplates.making import write
from jigtemplates.manifest import unlisted
from jigtemplates.parallel import in_order
from jigtemplates.parameters.family import stems_in
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.replaced import strays
from jigtemplates.report import Report, report_on
from jigtemplates.undrawn import with_undrawn
from jigtemplates.writers.files import sweep

#: Sizes of one file that one process makes at a time (chosen: a second's work).
MOST_IN_PART = 10


class Part(NamedTuple):
    """Some of the jobs in a file: all, or a few of its sizes."""

    path: Path
    start: int
    stop: int
    #: what to call it in a line about a fault
    name: str


@dataclass(frozen=True)
class Done:
    """One job of a batch: its report, or the lines that say why there is none."""

    path: Path
    report: Report | None
    faults: tuple[str, ...] = ()
    #: the files were there already, as they would be made now, and were left alone
    unchanged: bool = False


@dataclass(frozen=True)
class Batch:
    """Job files with what the command line says for all of them."""

    paths: tuple[Path, ...]
    folder: Path | None = None
    bit: str | None = None
    bushing: str | None = None
    targets: Sequence[str] | None = None
    tools: Path | None = None

    @classmethod
    def of(
        cls,
        given: Iterable[Path],
        *,
        folder: Path | None = None,
        bit: str | None = None,
        bushing: str | None = None,
        targets: Sequence[str] | None = None,
        tools: Path | None = None,
    ) -> "Batch":
        """The job files that files and folders stand for.

        Raises InputError for a folder without any, and where the folder of profiles or the file of tools is none.
        """
        profiles_for(None, folder, tools=tools)  # once, not once for every job
        paths = tuple(dict.fromkeys(path for one in given for path in job_files(one)))
        return cls(paths, folder, bit, bushing, targets, tools)

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """The job files, those of many sizes in several parts."""
        return tuple(part for path in self.paths for part in _parts_of(path))

    @property
    def total(self) -> int:
        """How many jobs there are, as far as that can be seen without checking them."""
        return sum(part.stop - part.start for part in self.parts)

    def checked(self) -> Iterator[Done]:
        """Every job with its report; nothing is written. A file of several sizes is several jobs."""
        return self._done(None, 1)

    def made(self, out: Path, *, processes: int = 1) -> Iterator[Done]:
        """Every job with its files written into out, by so many processes; files that are still right are left alone.

        With more than one process the calling program must be safe to import ("spawn"): its own work stands
        behind `if __name__ == "__main__"`. Raises InputError where two jobs would share a folder, OutputError
        where out cannot be one.
        """
        refuse_shared_folders(self.paths)
        refuse_what_is_no_folder(out)
        return self._done(out, processes)

    def _done(self, out: Path | None, processes: int) -> Iterator[Done]:
        worker = _Worker(replace(self, paths=()), out)
        if processes < 2:  # job by job, so that each is shown when it is done
            return (done for part in self.parts for done in worker.each(part))
        done = in_order(worker, self.parts, processes=processes, broken=lambda part: (_broken(part),))
        return (one for part in done for one in part)


def _broken(part: Part) -> Done:
    line = f"{part.name}: the process that made this ended suddenly; nothing is half-written (is memory short?)"
    return Done(part.path, None, (line,))


@dataclass
class _Worker:
    """Does the jobs of a batch, in this process or another."""

    #: what the command line says for all; its paths are not needed
    batch: Batch
    #: where files are written; None only reports
    out: Path | None
    _profiles: dict[Path, Profiles] = field(default_factory=dict)
    _read: tuple[Path | None, tuple[Job, ...]] = (None, ())

    def __call__(self, part: Part) -> tuple[Done, ...]:
        return tuple(self.each(part))

    def each(self, part: Part) -> Iterator[Done]:
        """Every job of a part, or the faults of its file: none of its jobs is done then."""
        try:
            jobs = self._jobs(part)
        except Exception as error:
            if part.start == 0:
                yield Done(part.path, None, placed(error, part.path))
            return
        for job in jobs:
            try:
                yield self._finished(job, part.path)
            except Exception as error:  # of ours too: one job's fault is not the others'
                yield Done(part.path, None, placed(error, part.path, job.member))

    def _jobs(self, part: Part) -> tuple[Job, ...]:
        if self._read[0] != part.path:
            batch, own = self.batch, self._profiles_of(part.path)
            jobs = load_jobs(part.path, profiles=own, bit=batch.bit, bushing=batch.bushing, targets=batch.targets)
            self._read = (part.path, jobs)
        return self._read[1][part.start : part.stop]

    def _profiles_of(self, path: Path) -> Profiles:
        """Read once for all jobs of a folder."""
        if path.parent not in self._profiles:
            self._profiles[path.parent] = profiles_for(path, self.batch.folder, tools=self.batch.tools)
        return self._profiles[path.parent]

    def _finished(self, job: Job, path: Path) -> Done:
        own = self._profiles_of(path)
        report = with_undrawn(report_on(job), own)
        if self.out is None or report.stopped:
            return Done(path, report)
        refuse_what_is_no_folder(self.out / job.stem)
        kept = kept_by(job, self.out, own)
        if kept is not None:
            folder, names = self.out / job.stem, {Path(file.path).name for file in kept.all_files}
            sweep(folder)
            older = unlisted(folder, kept.path.name, names, strays(folder, job.stem, names))
            return Done(path, report.with_files(kept.all_files).with_findings(older), unchanged=True)
        return Done(path, write(report, self.out, profiles=own))


def refuse_what_is_no_folder(folder: Path) -> None:
    """One line for a place that cannot be a folder, where each file in it would have its own."""
    try:
        there = next(place for place in (folder, *folder.parents) if os.path.lexists(place))
        if there.is_dir():
            return
        reason = "this is not a folder"
    except (OSError, ValueError) as error:
        there, reason = folder, getattr(error, "strerror", None) or "no folder can have this name"
    raise OutputError(f"{shown_name(str(there))}: nothing can be written there: {reason} (choose another place)")


def placed(error: Exception, path: Path, member: str | None = None) -> tuple[str, ...]:
    """The lines of an error, with the job's name where they do not say where they belong."""
    if isinstance(error, InputError | OutputError):
        return error.lines
    name = shown_name(str(path)) + ("" if member is None else f": {member}")
    lines = error.lines if isinstance(error, JigError) else (unforeseen(error),)
    return tuple(f"{name}: {line}" for line in lines)


def _parts_of(path: Path) -> Iterator[Part]:
    """A file of many sizes in pieces, so that no process has to make them all."""
    stems, name = stems_in(path) or (path.stem,), shown_name(str(path))
    for start in range(0, len(stems), MOST_IN_PART):
        stop = min(start + MOST_IN_PART, len(stems))
        sizes = f" ({stems[start]} to {stems[stop - 1]})" if len(stems) > MOST_IN_PART else ""
        yield Part(path, start, stop, name + sizes)


def job_files(path: Path) -> tuple[Path, ...]:
    """The file itself, or the *.toml files of a folder in the order of their names.

    Folders in it are passed over, and hidden files: some systems strew copies such as ._rail.toml.
    """
    if not os.path.isdir(path):
        return (path,)
    try:
        names = sorted(os.listdir(path))
    except OSError as error:
        raise InputError(f"{shown_name(str(path))}: the folder cannot be read ({error.strerror})") from None
    found = tuple(path / name for name in names if name.lower().endswith(".toml") and name[0] != ".")
    found = tuple(job for job in found if not os.path.isdir(job))
    if not found:
        raise InputError(f"{shown_name(str(path))}: no job file in this folder (a job's name ends in .toml)")
    return found


def refuse_shared_folders(paths: Iterable[Path]) -> None:
    """Names that differ in case, or in how an accent is composed, are one name on some systems."""
    seen: dict[str, Path] = {}
    faults = []
    for path, stem in ((job, stem) for job in paths for stem in stems_in(job)):
        other = seen.setdefault(unicodedata.normalize("NFC", stem).casefold(), path)
        if other is not path:
            name, same = shown_name(str(path)), shown_name(str(other))
            faults.append(f"{name}: would write into the same folder {quoted(stem)} as {same} (rename one of them)")
    if faults:
        raise InputError(faults)
