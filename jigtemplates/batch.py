"""Several jobs in one call: finds their files, does the good ones and keeps the faults of the others."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from jigtemplates.errors import InputError, JigError, quoted
from jigtemplates.making import write
from jigtemplates.parameters.load import load_job
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

    @classmethod
    def of(
        cls,
        given: Iterable[Path],
        *,
        folder: Path | None = None,
        bit: str | None = None,
        bushing: str | None = None,
        targets: Sequence[str] | None = None,
    ) -> "Batch":
        """The job files that files and folders stand for; InputError for a folder without any."""
        paths = tuple(dict.fromkeys(path for one in given for path in job_files(one)))
        return cls(paths, folder, bit, bushing, targets)

    def checked(self) -> Iterator[Done]:
        """Every job with its report; nothing is written."""
        return (self._done(path, lambda job_report, _: job_report) for path in self.paths)

    def made(self, out: Path) -> Iterator[Done]:
        """Every job with its files written into out; InputError where two would share a folder."""
        _refuse_shared_folders(self.paths)
        return (self._done(path, lambda report, own: write(report, out, profiles=own)) for path in self.paths)

    def _done(self, path: Path, finish: Callable[[Report, Profiles], Report]) -> Done:
        try:
            own = profiles_for(path, self.folder)
            job = load_job(path, profiles=own, bit=self.bit, bushing=self.bushing, targets=self.targets)
            return Done(path, finish(report_on(job), own))
        except JigError as error:
            return Done(path, None, _named(error, path))


def _named(error: JigError, path: Path) -> tuple[str, ...]:
    """The lines of an error, with the job's name where they do not say it."""
    return tuple(line if path.name in line else f"{path}: {line}" for line in error.lines)


def job_files(path: Path) -> tuple[Path, ...]:
    """The file itself, or the *.toml files of a folder in the order of their names."""
    if not path.is_dir():
        return (path,)
    try:
        found = tuple(sorted(p for p in path.glob("*.toml") if p.is_file()))
    except OSError as error:
        raise InputError(f"{path}: the folder cannot be read ({error.strerror})") from None
    if not found:
        raise InputError(f"{path}: no job file in this folder (a job's name ends in .toml)")
    return found


def _refuse_shared_folders(paths: Iterable[Path]) -> None:
    seen: dict[str, Path] = {}
    faults = []
    for path in paths:
        other = seen.setdefault(path.stem.lower(), path)
        if other is not path:
            faults.append(
                f"{path}: would write into the same folder {quoted(path.stem)} as {other} (rename one of them)"
            )
    if faults:
        raise InputError(faults)
