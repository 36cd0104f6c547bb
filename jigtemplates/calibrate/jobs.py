"""What a correction changes in the jobs of a folder, before it is written: openings, drawn lines, prints, stops."""

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigtemplates.calibrate.arithmetic import factor_of
from jigtemplates.calibrate.change import InJob
from jigtemplates.calibrate.words import guide, product, sense
from jigtemplates.checks import Level
from jigtemplates.errors import InputError
from jigtemplates.facts import own_text
from jigtemplates.lengths import Length, Measured, first_text, inch_short, mm_text, sold_as
from jigtemplates.parameters.job import Bit, Bushing, Job
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.toml_text import read_toml, shown_name
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.report import Report, report_on
from jigtemplates.say import in_inches

#: Sizes that differ by less are the same, mm (chosen: a hundredth of what anyone measures).
SAME = 1e-4


@dataclass(frozen=True, slots=True)
class Corrected:
    """What is corrected, to tell which jobs it concerns."""

    #: "bits", "bushings", "laser" or "paper"
    kind: str
    #: name of the tool
    name: str = ""
    #: size the tool is sold as
    nominal: Length | None = None


@dataclass(frozen=True, slots=True)
class Effect:
    """What becomes of one job."""

    #: the job file, with the name of the size in a family
    job: str
    #: what changes, as a sentence; "" where nothing does
    text: str
    #: why it does not reach the job although it might be expected to, with what to write; "" else
    missed: str = ""
    #: stops that the job did not have before
    impossible: tuple[str, ...] = ()

    def as_json(self) -> Mapping[str, Any]:
        """The object printed with `--json`."""
        return {"job": self.job, "changes": self.text, "missed": self.missed, "impossible": list(self.impossible)}


@dataclass(frozen=True, slots=True)
class Seen:
    """How jobs find their profiles: as the command line says, and after the change."""

    folder: Path | None
    tools: Path | None
    #: the profile files as they will be
    texts: Mapping[Path, str]
    #: what jobs will say of a tool themselves
    in_jobs: tuple[InJob, ...] = ()

    def before(self, job: Path) -> Profiles:
        """The profiles as they are."""
        return profiles_for(job, self.folder, tools=self.tools)

    def after(self, job: Path) -> Profiles:
        """The profiles as they will be."""
        profiles = self.before(job)
        for path, text in self.texts.items():
            profiles = profiles.with_file(path, text)
        return profiles

    def jobs(self, path: Path) -> tuple[Job, ...]:
        """The jobs of a file as they will be."""
        given: dict[str, Any] = {one.tool: one.value for one in self.in_jobs if _same_file(one.path, path)}
        return load_jobs(path, profiles=self.after(path), **given)


def _same_file(one: Path, other: Path) -> bool:
    return os.path.realpath(one) == os.path.realpath(other)


def effects(folders: Iterable[Path], corrected: Corrected, seen: Seen) -> Iterator[Effect]:
    """What becomes of each job of these folders that the correction concerns; one that cannot be read is named.

    InputError where one could not be read with it.
    """
    for path in (path for folder in folders for path in sorted(folder.glob("*.toml"))):
        if path.name[0] == "." or not _is_job(path):
            continue
        try:
            before = load_jobs(path, profiles=seen.before(path))
        except InputError:
            words = f"cannot be read, so it was not looked at: jigtemplates check {shown_name(str(path))} says why"
            yield Effect(path.name, "", words)
            continue
        yield from _of_file(path, before, corrected, seen)


def _is_job(path: Path) -> bool:
    try:
        return not {"cut", "cuts"}.isdisjoint(read_toml(path).data)
    except InputError:
        return False


def _of_file(path: Path, before: tuple[Job, ...], corrected: Corrected, seen: Seen) -> Iterator[Effect]:
    name = shown_name(str(path))
    try:
        after = seen.jobs(path)
    except InputError as error:  # the job's own table of a tool, which its models refuse with the new size
        raise InputError(_in_the_job(line, name) for line in error.lines) from None
    for old, new in zip(before, after, strict=True):
        called = name if old.member is None else f"{name}: {old.member}"
        if _measures(old) == _measures(new):
            missed = _missed(old, corrected)
            if missed:
                yield Effect(called, "", missed)
        else:
            yield _effect(called, report_on(old), report_on(new))


def _in_the_job(line: str, name: str) -> str:
    """The line about a tool that was handed over ("--bit: ..."), as if it stood in the job already."""
    return f"{name}: tools.{line.removeprefix('--')}" if line.startswith("--") else line


def _measures(job: Job) -> tuple[object, ...]:
    """All that a correction can change."""
    make = job.make
    sizes = tuple(tool.diameter for _, tool in (*_tools(job, "bits"), *_tools(job, "bushings")))
    return sizes, make.kerf, make.correction, job.corrections


def _tools(job: Job, kind: str) -> Iterator[tuple[str, Bit | Bushing]]:
    """Every bit or bushing of a job, by its key; the plug's own where it has one."""
    yield ("tools.bit", job.tools.bit) if kind == "bits" else ("tools.bushing", job.tools.bushing)
    if job.inlay is None:
        return
    if kind == "bushings":
        yield "inlay.plug_bushing", job.inlay.bushing
    elif job.inlay.bit != job.tools.bit:
        yield "inlay.plug_bit", job.inlay.bit


def _missed(job: Job, corrected: Corrected) -> str:
    """Why a job stays as it is that has the same tool or process."""
    if corrected.kind in ("bits", "bushings"):
        return "; ".join(_bare(job, corrected))
    # what a profile says, and not the job
    elsewhere = {one.where for one in job.corrections} | {one.where for one in job.assumptions}
    if corrected.kind == "laser" and "make.kerf" not in elsewhere and job.make.kerf and "laser" in job.make.targets:
        return f"make.kerf = {first_text(job.make.kerf, in_inches(job), 3)} stands in the job and comes first"
    if corrected.kind == "paper" and "make.printed_bar" not in elsewhere and job.make.printed_bar:
        return "make.printed_bar stands in the job and comes first"
    return ""


def _bare(job: Job, corrected: Corrected) -> Iterator[str]:
    """The keys of a job that have the bare size of a tool instead of its name."""
    for key, tool in _tools(job, corrected.kind):
        same = corrected.nominal is not None and sold_as(tool.diameter).exact == corrected.nominal.exact
        if same and tool.typed:
            add = ", or add --job" if key.startswith("tools.") else ""
            last = key.partition(".")[2]
            yield f'{key} is the bare size {tool.diameter}: write {last} = "{corrected.name}" there{add}'


def _effect(called: str, old: Report, new: Report) -> Effect:
    known = {(finding.code, finding.where) for finding in old.findings if finding.level is Level.STOP}
    stops = [one for one in new.findings if one.level is Level.STOP and (one.code, one.where) not in known]
    all_ = (*_of_each_cut(old, new), _plug(old.job, new.job), _print(old, new))
    text = "; ".join(filter(None, all_)) or "only the day of the measurement"
    return Effect(called, text, impossible=tuple(f"{one.where}: {one.message}" for one in stops))


def _of_each_cut(old: Report, new: Report) -> Iterator[str]:
    """What changes in each cut; of several with its number before it."""
    for number, (was, now) in enumerate(zip(old.parts, new.parts, strict=True), 1):
        text = "; ".join(filter(None, (_opening(was, now), _cut(was, now), _kerf(was, now))))
        if text:
            yield f"cut {number}: {text}" if len(new.parts) > 1 else text


def _opening(old: Report, new: Report) -> str:
    was, now = old.template.opening_size, new.template.opening_size
    if was is None or now is None:
        return ""
    return _pair(guide(new.job), (now.width, now.length), (was.width, was.length), new.job)


def _cut(old: Report, new: Report) -> str:
    was, now = old.predicted, new.predicted
    if was is None or now is None:
        return ""
    return _pair(f"{product(new.job)} made", (now.width, now.length), (was.width, was.length), new.job)


def _plug(old: Job, new: Job) -> str:
    """What is left round the plug of an inlay, which is made with tools of its own."""
    if old.inlay is None or new.inlay is None:
        return ""
    from jigtemplates.inlay.plug import fit_of

    was, now = fit_of(old).gap, fit_of(new).gap
    if abs(now - was) < SAME:
        return ""
    before = own_text(abs(was), new) if (was < 0) == (now < 0) else f"{own_text(abs(was), new)} {_smaller(was)}"
    return f"the plug is {own_text(abs(now), new)} a side {_smaller(now)} than the recess instead of {before}"


def _smaller(gap: float) -> str:
    return "larger" if gap < 0 else "smaller"


def _kerf(old: Report, new: Report) -> str:
    """The laser draws every opening a kerf smaller than it is to be, and a pattern a kerf larger."""
    was, now, job = old.template.opening_size, new.template.opening_size, new.job
    if was is None or now is None or abs(old.job.make.kerf - job.make.kerf) < SAME or "laser" not in job.make.targets:
        return ""
    before, after = (sense(job) * kerf for kerf in (old.job.make.kerf, job.make.kerf))
    drawn = (now.width - after, now.length - after)
    return _pair(f"the laser draws the {guide(job)}", drawn, (was.width - before, was.length - before), job)


def _print(old: Report, new: Report) -> str:
    was, now = old.job.make.correction, new.job.make.correction
    if was == now:
        return ""
    return f"patterns are printed at {_percent(now[0])} across and {_percent(now[1])} up"


def _percent(factor: float) -> str:
    return f"{mm_text(factor * 100, 2).removesuffix(' mm')} %"


def percent_of(bar: float) -> str:
    """How large a page is printed for a bar that measured that, mm: "100.81 %"."""
    return _percent(factor_of(bar))


def _pair(what: str, now: tuple[float, float], was: tuple[float, float], job: Job) -> str:
    """New extents, and the old ones where they differ; "" where they do not."""
    if all(abs(a - b) < SAME for a, b in zip(now, was, strict=True)):
        return ""
    return f"{what} {extents(*now, job)} instead of {extents(*was, job)}"


def extents(width: float, length: float, job: Job) -> str:
    """Width x length in the job's own unit; one figure where they are the same."""
    if abs(width - length) < SAME:
        return own_text(width, job)
    if in_inches(job):
        return f"{inch_short(width)} x {inch_short(length)} ({mm_text(width, 3)} x {mm_text(length, 3)})"
    return f"{mm_text(width, 3).removesuffix(' mm')} x {mm_text(length, 3)}"


def measured_before(diameter: Length | None) -> float | None:
    """What was measured earlier, mm; None where nothing was."""
    return diameter.mm if isinstance(diameter, Measured) else None
