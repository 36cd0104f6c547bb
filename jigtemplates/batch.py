"""Several jobs in one call: finds their files, does the good ones and keeps the faults of the others."""

import os
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from jigtemplates.errors import InputError, JigError, OutputError, quoted
from jigtemplates.making import write
from jigtemplates.parameters.family import stems_in
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.report import Report, report_on


@dataclass(frozen=True)
class Done:
    """One job of a batch: its report, or the lines that say why there is none."""

    path: Path
    report: Report | None
    faults: tuple[str, ...] = ()


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

    @property
    def total(self) -> int:
        """How many jobs there are, as far as that can be seen without checking them."""
        return sum(len(stems_in(path)) for path in self.paths)

    def checked(self) -> Iterator[Done]:
        """Every job with its report; nothing is written. A file of several sizes is several jobs."""
        return (done for path in self.paths for done in self._done(path, lambda job_report, _: job_report))

    def made(self, out: Path) -> Iterator[Done]:
        """Every job with its files written into out.

        Raises InputError where two jobs would share a folder, OutputError where out cannot be one.
        """
        _refuse_shared_folders(self.paths)
        _refuse_what_is_no_folder(out)
        return (done for path in self.paths for done in self._done(path, lambda report, own: _made(report, out, own)))

    def _done(self, path: Path, finish: Callable[[Report, Profiles], Report]) -> Iterator[Done]:
        """Every job of a file, or the faults of the file: none of its jobs is done then."""
        try:
            own = profiles_for(path, self.folder, tools=self.tools)
            jobs = load_jobs(path, profiles=own, bit=self.bit, bushing=self.bushing, targets=self.targets)
        except JigError as error:
            yield Done(path, None, _placed(error, path))
            return
        for job in jobs:
            try:
                yield Done(path, finish(report_on(job), own))
            except JigError as error:
                yield Done(path, None, _placed(error, path))


def _made(report: Report, out: Path, profiles: Profiles) -> Report:
    if not report.stopped:
        _refuse_what_is_no_folder(out / report.job.stem)
    return write(report, out, profiles=profiles)


def _refuse_what_is_no_folder(folder: Path) -> None:
    """One line for a place that cannot be a folder, where each file in it would have its own."""
    try:
        there = next(place for place in (folder, *folder.parents) if os.path.lexists(place))
        if there.is_dir():
            return
        reason = "this is not a folder"
    except (OSError, ValueError) as error:
        there, reason = folder, getattr(error, "strerror", None) or "no folder can have this name"
    raise OutputError(f"{shown_name(str(there))}: nothing can be written there: {reason} (choose another place)")


def _placed(error: JigError, path: Path) -> tuple[str, ...]:
    """The lines of an error, with the job's name where they do not say where they belong."""
    if isinstance(error, InputError | OutputError):
        return error.lines
    return tuple(f"{shown_name(str(path))}: {line}" for line in error.lines)


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


def _refuse_shared_folders(paths: Iterable[Path]) -> None:
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
