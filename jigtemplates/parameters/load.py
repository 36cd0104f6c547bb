"""Reads a job: TOML to a validated model to the resolved job, with every fault as a line."""

import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from jigtemplates.errors import InputError
from jigtemplates.lengths import Length
from jigtemplates.parameters.faults import fault_lines
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.model import JobFile
from jigtemplates.parameters.resolve import resolved
from jigtemplates.parameters.stem import checked_stem
from jigtemplates.parameters.toml_lines import Path as KeyPath
from jigtemplates.parameters.toml_text import TomlText, parse_toml, read_toml, shown_name
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
    job's units. Without `profiles`, those beside the job, the person's own and the shipped ones are used.
    """
    path = Path(path)
    name = shown_name(str(path))
    text = read_toml(path)
    stem = checked_stem(path.stem, name)
    given = {("tools", "bit"): bit, ("tools", "bushing"): bushing, ("make", "for"): _listed(targets)}
    return _job(text, name, given, profiles or profiles_for(path), stem=stem, source=path)


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
    stem = checked_stem(name, "job")
    given = {("tools", "bit"): bit, ("tools", "bushing"): bushing, ("make", "for"): _listed(targets)}
    return _job(parse_toml(text, name), name, given, profiles or profiles_for(None), stem=stem, source=None)


def _job(
    text: TomlText,
    name: str,
    given: Mapping[tuple[str, str], Any],
    profiles: Profiles,
    *,
    stem: str,
    source: Path | None,
) -> Job:
    given = {key: value for key, value in given.items() if value is not None}
    data = _with_options(text.data, given)
    try:
        file = JobFile.model_validate(data, context={"unit": _unit(data), "profiles": profiles})
    except ValidationError as error:
        labels: dict[KeyPath, str] = {key: _OPTIONS[key] for key in given}
        raise InputError(fault_lines(error, JobFile, name=name, locate=text.locate, labels=labels)) from None
    return resolved(file, profiles, stem=stem, source=source)


def _listed(targets: Sequence[str] | None) -> Any:
    """A sequence as a list; text stays text, so that the model can say what it should be."""
    return targets if targets is None or isinstance(targets, str) else list(targets)


def _unit(data: Mapping[str, Any]) -> str | None:
    """The unit of bare numbers; a wrong one is a fault of its own and must not make every number faulty."""
    unit = data.get("units")
    return unit if unit in ("mm", "in") or unit is None else "mm"


def _with_options(data: Mapping[str, Any], given: Mapping[tuple[str, str], Any]) -> dict[str, Any]:
    """The data with the given keys put in; a table that is no table is left for the model to refuse."""
    merged = dict(data)
    for (table, key), value in given.items():
        held = merged.get(table, {})
        if isinstance(held, dict):
            merged[table] = {**held, key: value}
    return merged
