"""The day the bit changes: what becomes of every job of a folder, and the rewriting of jobs and templates.

All or nothing for each job file, which may hold several sizes: it and its templates are written together.
Order of the replacements: the files of the templates, each template's manifest after them, the job file
last. An error or Ctrl-C among them puts everything back. A run that is killed there leaves every file
whole, old or new, and the job file old unless all else is new: the next run does the whole job again.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import NamedTuple

from jigtemplates.batch import placed, refuse_what_is_no_folder
from jigtemplates.checks import Finding
from jigtemplates.checks.finding import note
from jigtemplates.current import kept_by
from jigtemplates.errors import OutputError, quoted
from jigtemplates.given_profiles import NOTHING, Given, remembered, said_of
from jigtemplates.given_tool import GivenTool
from jigtemplates.making import prepared
from jigtemplates.parallel import in_order
from jigtemplates.parameters.edit import set_tools
from jigtemplates.parameters.job import Job, Tools
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.regenerate.existing import Existing, existing, pair_of, same_pair
from jigtemplates.regenerate.keep import cut_with, keeping, keeps, spoilt_inlay, wide_enough
from jigtemplates.regenerate.meant import Kind, Seen, by_kind, is_old, is_written, tool_of
from jigtemplates.regenerate.notes import OLDER, held_back, measured_since, unknown_elsewhere
from jigtemplates.regenerate.outcome import Outcome, Status, left, planned, unchanged
from jigtemplates.replaced import refuse_another_job
from jigtemplates.report import Report, report_on
from jigtemplates.writers.files import write_all

Reports = tuple[Report, ...]


class Plan(NamedTuple):
    """What is to be done with the jobs of a file."""

    status: Status
    #: the jobs with the tools they are to have
    reports: Reports
    #: the bushing to write into the file; None: the one that stands there
    bushing: str | None
    #: whether the file has other tools now
    tools_change: bool = True


@dataclass
class Regeneration:
    """What is the same for every job of a folder; calling it with a job file does that file."""

    #: where the templates are
    out: Path
    #: the new tools; at least one of them
    bit: GivenTool | None
    bushing: GivenTool | None
    #: those they replace: a job with others is left as it is; None: whatever it has
    old_bit: GivenTool | None = None
    old_bushing: GivenTool | None = None
    #: a folder of profiles and a file of tools, as given; without them those the templates were made with
    given: Given = NOTHING
    #: without it nothing is written
    write: bool = False
    _remembered: dict[Path, Given] = field(default_factory=dict)
    _profiles: dict[tuple[Path, Given], Profiles] = field(default_factory=dict)

    @property
    def new(self) -> dict[Kind, GivenTool]:
        """The new tools by their kind."""
        return by_kind(self.bit, self.bushing)

    @property
    def old(self) -> dict[Kind, GivenTool]:
        """Those they replace, as far as that was said."""
        return by_kind(self.old_bit, self.old_bushing)

    def seen(self, paths: Sequence[Path]) -> list[Seen]:
        """What is known of every file before a template is made: which are done with already, and their tools."""
        return [self._seen(path) for path in paths]

    def all(self, seen: Sequence[Seen], *, processes: int = 1) -> Iterator[Outcome]:
        """Every job of the files, in their order; those that change are done by so many processes."""
        rest = [one.path for one in seen if not one.outcomes]
        changed = in_order(self, rest, processes=processes, broken=lambda path: (_broken(path),))
        return _in_turn([one.outcomes for one in seen], changed)

    def __call__(self, path: Path) -> tuple[Outcome, ...]:
        """The jobs of a file; none is written where one of them cannot be."""
        try:
            return self._done(path)
        except Exception as error:  # of ours too: one file's fault is not the others'
            return (Outcome(path, path.stem, faults=tuple(_with_job(line, path) for line in placed(error, path))),)

    def _seen(self, path: Path) -> Seen:
        try:
            jobs = self._load(path, None, None)
        except Exception:  # whatever it is, it is said when the file is done
            return Seen(path)
        tools = jobs[0].tools  # those of all jobs of the file
        kinds = self._replaced(path, tools)
        has_old = self._has_old(path, tools)
        alone = () if has_old else tuple(left(path, job) for job in jobs)
        done = alone if kinds != () else self._unchanged(path, jobs)
        return Seen(path, done, tools, len(jobs), () if alone else kinds or (), has_old, alone)

    def _unchanged(self, path: Path, jobs: Sequence[Job]) -> tuple[Outcome, ...]:
        """The jobs of a file that has these tools, if their files are what they would make; found without geometry."""
        try:
            kept = [(job, kept_by(job, self.out, self._own(path), however_given=True)) for job in jobs]
            notes = tuple(self._read_again(path))
            found = tuple(unchanged(path, job, one, notes) for job, one in kept if one is not None)
        except Exception:
            return ()
        return found if len(found) == len(jobs) else ()

    def _before(self, path: Path) -> Given:
        """What was given when the templates of a file were made; looked up before they are written anew."""
        if path not in self._remembered:
            self._remembered[path] = remembered(path, self.out, self.given)
        return self._remembered[path]

    def _own(self, path: Path) -> Profiles:
        given = self.given.over(self._before(path))
        key = (path.parent, given)
        if key not in self._profiles:
            self._profiles[key] = profiles_for(path, given.folder, tools=given.tools)
        return self._profiles[key]

    def _load(self, path: Path, bit: str | None, bushing: str | None) -> tuple[Job, ...]:
        return load_jobs(path, profiles=self._own(path), bit=bit, bushing=bushing)

    def _replaced(self, path: Path, tools: Tools) -> tuple[Kind, ...] | None:
        """The kinds of the given tools that jobs with these do not have yet; None where they cannot have them."""
        if all(is_written(tool, tool_of(tools, kind)) for kind, tool in self.new.items()):
            return ()
        try:
            new = self._load(path, _text(self.bit), _text(self.bushing))[0].tools
        except Exception:
            return None
        return tuple(kind for kind in self.new if tool_of(new, kind) != tool_of(tools, kind))

    def _has_old(self, path: Path, tools: Tools) -> bool:
        return all(is_old(old, tool_of(tools, kind), self._own(path)) for kind, old in self.old.items())

    def _reports(self, path: Path, bushing: str | None) -> Reports:
        """The jobs with the new bit in a bushing; None: with the one that stands in the file."""
        return tuple(report_on(job) for job in self._load(path, _text(self.bit), bushing))

    def _done(self, path: Path) -> tuple[Outcome, ...]:
        source = path.read_bytes() if path.is_file() else b""
        now = tuple(report_on(job) for job in self._load(path, None, None))
        given = self._reports(path, _text(self.bushing))
        old = tuple(existing(one, new, self.out) for one, new in zip(now, given, strict=True))
        plan = self._plan(path, now, old, given)
        outcomes = tuple(self._outcome(path, *each, plan) for each in zip(now, old, plan.reports, strict=True))
        if not self.write or plan.status == "impossible":
            return outcomes
        written, older = self._written(path, source, plan)
        return tuple(
            replace(one, written=tuple(_of_job(written, self.out / one.job, path)), findings=(*one.findings, *found))
            for one, found in zip(outcomes, older, strict=True)
        )

    def _plan(self, path: Path, now: Reports, old: Sequence[Existing], new: Reports) -> Plan:
        """The bushing with which every template of the file stays right, else new openings."""
        given = _text(self.bushing)
        writes = now[0].job.tools != new[0].job.tools
        changes = writes or not all(same_pair(was.pair, pair_of(one.job)) for was, one in zip(old, new, strict=True))
        if changes and _all_keep(old, new):
            return Plan("keeps", new, given, writes)
        if changes and self.bit is not None and given is None:
            for name in keeping(old, new[0].case.bit, self._own(path)):
                other = self._reports(path, name)
                if _all_keep(old, other):
                    return Plan("keeps", other, name)
        spoilt = changes and any(spoilt_inlay(was, one) for was, one in zip(old, new, strict=True))
        possible = not spoilt and not any(report.stopped for report in new)
        return Plan("regenerated" if possible else "impossible", new, given, writes)

    def _outcome(self, path: Path, now: Report, old: Existing, new: Report, plan: Plan) -> Outcome:
        bit = now.case.bit if self.bit is None else new.case.bit
        bushing = now.case.bushing if self.bushing is None else new.case.bushing
        cuts = [cut_with(one, bit, bushing) for one in old.openings]
        kept = [cut_with(one, *_pair(new)) if plan.status == "keeps" else None for one in old.openings]
        same = plan.status == "regenerated" and old.is_plate_of(new)
        outcome = planned(path, old, new, "renewed" if same else plan.status, cuts, kept)
        return replace(outcome, findings=(*outcome.findings, *self._notes(path, old, new, plan)))

    def _notes(self, path: Path, old: Existing, new: Report, plan: Plan) -> Iterator[Finding]:
        yield from measured_since(old, new)
        if plan.status == "impossible" and (spoilt := spoilt_inlay(old, new)):
            yield spoilt
        elif plan.status == "impossible":
            yield from held_back(new, plan.reports)
            yield from self._other_bushing(path, new)
        else:
            names = {"bit": _text(self.bit), "bushing": plan.bushing}
            yield from unknown_elsewhere(path, self.given.over(self._before(path)), self._own(path), names)
        yield from self._read_again(path)

    def _read_again(self, path: Path) -> Iterator[Finding]:
        """That profiles are read which nobody asked for now."""
        for where, message in said_of(self._before(path)):
            yield note("profiles-read-again", where, message)

    def _other_bushing(self, path: Path, new: Report) -> Iterator[Finding]:
        """A bushing of the person's own with which the whole file could be made."""
        if self.bushing is not None:
            return
        for name in wide_enough(new.case.bit, self._own(path)):
            if not any(report.stopped for report in self._reports(path, name)):
                yield note(
                    "other-bushing",
                    "tools.bushing",
                    f"it can be made with {quoted(name)}: add --bushing {quoted(name)}",
                )
                return

    def _written(self, path: Path, source: bytes, plan: Plan) -> tuple[tuple[Path, ...], Sequence[Sequence[Finding]]]:
        """Write the templates of the new jobs and the job file, all or none, it last.

        The files that changed, and what is said of files from before in the folder of each job.
        """
        files: dict[Path, bytes] = {}
        older: list[Sequence[Finding]] = []
        for report in plan.reports:
            refuse_what_is_no_folder(self.out / report.job.stem)
            refuse_another_job(report.job, self.out)
            made, listed = prepared(report, self.out, self._own(path))
            files |= made
            older.append([finding for finding in listed.findings if finding.code == OLDER])
        folders = {place.parent for place in files}  # jobs stand in one folder: other processes do theirs meanwhile
        if plan.tools_change:
            name = shown_name(str(path))
            text = set_tools(source.decode("utf-8"), bit=_text(self.bit), bushing=plan.bushing, name=name)
            files[path.resolve()] = text.encode("utf-8")  # of a link, the file it leads to
        if path.read_bytes() != source:
            raise OutputError(f"{shown_name(str(path))}: was changed meanwhile and is left as it is (run this again)")
        return write_all(files, folders=folders).written, older


def _in_turn(seen: Sequence[tuple[Outcome, ...]], changed: Iterator[tuple[Outcome, ...]]) -> Iterator[Outcome]:
    """What was seen to be unchanged, and in the gaps what was done."""
    for outcomes in seen:
        yield from outcomes or next(changed)
    list(changed)  # it ends its processes here, where an interruption is heard, and not when it is forgotten


def _with_job(line: str, path: Path) -> str:
    """A line about an option names the job: other jobs, with other profiles, may know the tool."""
    return f"{shown_name(str(path))}: {line}" if line.startswith("--") else line


def _pair(report: Report) -> tuple[float, float]:
    """Diameters of bit and bushing, mm."""
    return report.case.bit, report.case.bushing


def _text(tool: GivenTool | None) -> str | None:
    return None if tool is None else tool.text


def _all_keep(old: Sequence[Existing], new: Reports) -> bool:
    return all(keeps(was, now) for was, now in zip(old, new, strict=True))


def _of_job(written: tuple[Path, ...], folder: Path, path: Path) -> Iterator[str]:
    """Of the files that were written those of one job: in its folder, and the job file."""
    yield from (place.as_posix() for place in written if place.parent == folder)
    if path.resolve() in written:
        yield path.as_posix()


def _broken(path: Path) -> Outcome:
    line = (
        f"{shown_name(str(path))}: the process that did this ended suddenly; no file is half-written (is memory short?)"
    )
    return Outcome(path, path.stem, faults=(line,))
