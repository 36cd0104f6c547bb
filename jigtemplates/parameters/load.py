"""Reads a job: TOML to a validated model to the resolved job, with every fault as a line."""

import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from pydantic import ValidationError

from jigtemplates.errors import InputError
from jigtemplates.lengths import Length
from jigtemplates.parameters.family import CUTS, family_faults, members, told_apart
from jigtemplates.parameters.faults import Fault, faults_of, lines_of
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.model import JobFile
from jigtemplates.parameters.outline_table import outline_faults
from jigtemplates.parameters.resolve import resolved
from jigtemplates.parameters.several import CUT, of_cut, several_faults, variants
from jigtemplates.parameters.stem import checked_stem
from jigtemplates.parameters.toml_lines import Path as KeyPath
from jigtemplates.parameters.toml_text import TomlText, parse_toml, read_toml, shown_name
from jigtemplates.parameters.typed_table import typed_table
from jigtemplates.profiles import Profiles, profiles_for

#: The keys that may be given from outside the file, and the options that give them.
_OPTIONS: Mapping[tuple[str, str], str] = {
    ("tools", "bit"): "--bit",
    ("tools", "bushing"): "--bushing",
    ("make", "for"): "--for",
}

Tool = str | int | float | Length


def load_job(
    path: str | os.PathLike[str],
    *,
    profiles: Profiles | None = None,
    bit: Tool | None = None,
    bushing: Tool | None = None,
    targets: Sequence[str] | None = None,
) -> Job:
    """Read a job file; InputError has one line for each fault.

    `bit`, `bushing` and `targets` stand in for tools.bit, tools.bushing and make.for; a bare number is in the
    job's units. Without `profiles`, those beside the job, the person's own and the shipped ones are used. A file
    of several sizes, [cuts.NAME], is refused here: `load_jobs` reads it.
    """
    return _from_file(Path(path), profiles, _given(bit, bushing, targets)).one()


def load_jobs(
    path: str | os.PathLike[str],
    *,
    profiles: Profiles | None = None,
    bit: Tool | None = None,
    bushing: Tool | None = None,
    targets: Sequence[str] | None = None,
) -> tuple[Job, ...]:
    """Read every job of a file, as `load_job` does: one for each [cuts.NAME], or the only one.

    A fault in one size is a fault of the file: InputError, and no job at all.
    """
    return _from_file(Path(path), profiles, _given(bit, bushing, targets)).all()


def job_from_text(
    text: str | bytes,
    *,
    name: str = "job",
    profiles: Profiles | None = None,
    bit: Tool | None = None,
    bushing: Tool | None = None,
    targets: Sequence[str] | None = None,
) -> Job:
    """Read a job from TOML text; `name` is its stem and stands for the file in the lines of an InputError."""
    return _from_text(text, name, profiles, _given(bit, bushing, targets)).one()


def jobs_from_text(
    text: str | bytes,
    *,
    name: str = "job",
    profiles: Profiles | None = None,
    bit: Tool | None = None,
    bushing: Tool | None = None,
    targets: Sequence[str] | None = None,
) -> tuple[Job, ...]:
    """Read every job of TOML text, as `load_jobs` does of a file."""
    return _from_text(text, name, profiles, _given(bit, bushing, targets)).all()


_Given = Mapping[tuple[str, str], Any]


def _given(bit: Tool | None, bushing: Tool | None, targets: Sequence[str] | None) -> _Given:
    """What is given from outside the file; of text instead of a list the model can say what it should be."""
    listed = targets if targets is None or isinstance(targets, str) else list(targets)
    tools = {("tools", "bit"): typed_table(bit), ("tools", "bushing"): typed_table(bushing)}
    values = {**tools, ("make", "for"): listed}
    return {key: value for key, value in values.items() if value is not None}


def _from_file(path: Path, profiles: Profiles | None, given: _Given) -> "_Reading":
    name = shown_name(str(path))
    text = read_toml(path)
    return _Reading(text, name, given, profiles or profiles_for(path), checked_stem(path.stem, name), path)


def _from_text(text: str | bytes, name: str, profiles: Profiles | None, given: _Given) -> "_Reading":
    stem = checked_stem(name, "job")
    return _Reading(parse_toml(text, name), name, given, profiles or profiles_for(None), stem, None)


class _Files(NamedTuple):
    """A job's model, once for each of its cuts."""

    #: with the first cut
    file: JobFile
    others: tuple[JobFile, ...] = ()


@dataclass(frozen=True, slots=True)
class _Reading:
    """A job file that is TOML, on its way to be one job or several."""

    text: TomlText
    #: what stands for the file in a line about a fault
    name: str
    given: _Given
    profiles: Profiles
    stem: str
    source: Path | None

    def one(self) -> Job:
        """The only job; InputError for a file of several sizes."""
        if CUTS in self.text.data:
            raise self._error([Fault((CUTS,), (CUTS,), "holds several sizes (read them with load_jobs)")])
        return self.all()[0]

    def all(self) -> tuple[Job, ...]:
        """Every job, in the file's order."""
        data = _with_options(self.text.data, self.given)
        if CUTS in data:
            return self._family(data)
        files = self._validated(data)
        if not isinstance(files, _Files):
            raise self._error(files)
        return (self._resolved(files, None),)

    def _family(self, data: Mapping[str, Any]) -> tuple[Job, ...]:
        wrong = tuple(family_faults(data))
        if wrong:
            raise self._error(wrong)
        for name in data[CUTS]:
            checked_stem(f"{self.stem}-{name}", self.name)
        files = [(member, self._validated(member.data)) for member in members(data)]
        good = [(member.name, file) for member, file in files if isinstance(file, _Files)]
        if len(good) < len(files):
            raise self._error(told_apart([(m, () if isinstance(f, _Files) else f) for m, f in files]))
        return tuple(self._resolved(file, name) for name, file in good)

    def _validated(self, data: Mapping[str, Any]) -> "_Files | tuple[Fault, ...]":
        """The models of the data, or what is wrong with it."""
        if not isinstance(data.get(CUT), list):
            file = self._model(data)
            return _Files(file) if isinstance(file, JobFile) else file
        wrong = tuple(several_faults(data))
        if wrong:
            return wrong
        files = [self._model(variant) for variant in variants(data)]
        good = [file for file in files if isinstance(file, JobFile)]
        if len(good) == len(files):
            return _Files(good[0], tuple(good[1:]))
        faults = [(of_cut(f, i)) for i, found in enumerate(files) if not isinstance(found, JobFile) for f in found]
        return tuple(fault for fault in faults if fault is not None)

    def _model(self, data: Mapping[str, Any]) -> JobFile | tuple[Fault, ...]:
        try:
            file = JobFile.model_validate(data, context=self._context(data))
        except ValidationError as error:
            return tuple(faults_of(error, JobFile))
        return (*outline_faults(file.cut, self.source), *_gain_faults(file)) or file

    def _context(self, data: Mapping[str, Any]) -> dict[str, Any]:
        cut = data.get(CUT)  # a table, or what is wrong with it is said elsewhere
        side = cut.get("side", "inside") if isinstance(cut, dict) else "inside"
        outside = side == "outside" if side in ("inside", "outside") else None  # None: the side itself is faulty
        return {"unit": _unit(data), "profiles": self.profiles, "outside": outside}

    def _resolved(self, files: "_Files", member: str | None) -> Job:
        return resolved(
            files.file, self.profiles, stem=self.stem, source=self.source, member=member, others=files.others
        )

    def _error(self, faults: Iterable[Fault]) -> InputError:
        labels: dict[KeyPath, str] = {key: _OPTIONS[key] for key in self.given}
        return InputError(lines_of(faults, name=self.name, locate=self.text.locate, labels=labels))


def _unit(data: Mapping[str, Any]) -> str | None:
    """The unit of bare numbers; a wrong one is a fault of its own and must not make every number faulty."""
    unit = data.get("units")
    return unit if unit in ("mm", "in") or unit is None else "mm"


def _gain_faults(file: JobFile) -> Iterable[Fault]:
    """What of [work] does not go with a cut that is open to the edge; the module is read for such a cut alone."""
    cut = file.cut
    if file.work is None or cut.shape != "hinge":
        return ()
    from jigtemplates.parameters.gain import gain_faults

    return gain_faults(cut, file.work)


def _with_options(data: Mapping[str, Any], given: Mapping[tuple[str, str], Any]) -> dict[str, Any]:
    """The data with the given keys put in; a table that is no table is left for the model to refuse."""
    merged = dict(data)
    for (table, key), value in given.items():
        held = merged.get(table, {})
        if isinstance(held, dict):
            merged[table] = {**held, key: value}
    return merged
