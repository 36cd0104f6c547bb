"""The plates that are wanted: templates by material and thickness, as often as each is to be made."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from jigtemplates.batch import Done
from jigtemplates.checks.finding import Finding, Level, note, stop, warning
from jigtemplates.drawing import Drawing
from jigtemplates.errors import quoted
from jigtemplates.label_words import full_title
from jigtemplates.making import hands
from jigtemplates.parameters.entries import Sheet
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.processes.machine import cnc_drawing, laser_drawing
from jigtemplates.report import Report
from jigtemplates.sheets.choice import MACHINES, Machine, file_part

#: Code of the finding about a job that is stopped.
STOPPED = "job-stopped"


@dataclass(frozen=True, eq=False)
class Plate:
    """A template of one hand, and how often it is wanted."""

    report: Report
    copies: int
    machine: Machine

    @property
    def name(self) -> str:
        """As its own files are called: the job's stem, and MIRRORED where it is."""
        return f"{self.report.job.stem}_MIRRORED" if self.report.job.make.mirrored else self.report.job.stem

    @property
    def title(self) -> str:
        """The job's title, and the hand it is for."""
        return full_title(self.report.job)

    @property
    def kerf(self) -> float:
        """Full width that is removed along the lines, mm: the job's kerf for a laser, else 0."""
        return self.report.job.make.kerf if self.machine == "laser" else 0.0

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the finished plate, or of the box round a pattern, mm."""
        box = self.report.template.plate.bounds
        return box.width, box.height

    @property
    def area(self) -> float:
        """Of the plate within its edge, openings and holes included, mm²."""
        return self.report.template.plate.area

    @cached_property
    def drawing(self) -> Drawing:
        """The plate alone, as its own file for that machine has it."""
        template = self.report.template
        return laser_drawing(template, self.kerf) if self.machine == "laser" else cnc_drawing(template)


@dataclass(frozen=True, eq=False)
class Group:
    """Plates that come from the same sheets."""

    machine: Machine
    #: None where the jobs name none
    material: Sheet | None
    #: mm
    thickness: float
    plates: tuple[Plate, ...]

    @property
    def name(self) -> str:
        """For files: "mdf-6mm"; a material without a name is "unnamed"."""
        return f"{file_part(self.material.name) if self.material else 'unnamed'}-{self.thickness:.6g}mm"

    @property
    def count(self) -> int:
        """How many plates in all."""
        return sum(plate.copies for plate in self.plates)


def groups_of(done: Iterable[Done], copies: Mapping[str, int]) -> tuple[Group, ...]:
    """The plates of all jobs that can be made, laser before CNC router, then by material and thickness.

    `copies` has the number wanted by the job's stem; a pair gives a plate for each hand.
    """
    plates = [plate for one in done if one.report for plate in _plates(one.report, copies[one.report.job.stem])]
    plates.sort(key=_kind)
    return tuple(_group(list(alike)) for _, alike in groupby(plates, key=_kind))


def _plates(report: Report, copies: int) -> Iterator[Plate]:
    if report.stopped or not copies:
        return
    of_both = hands(report)
    for machine in MACHINES:
        if machine in report.job.make.targets:
            yield from (Plate(hand, copies, machine) for hand in of_both)


def _kind(plate: Plate) -> tuple[int, str, float]:
    """What plates of one group have in common; numbers that differ by rounding alone are one."""
    made_of = plate.report.job.plate
    return MACHINES.index(plate.machine), made_of.material.name if made_of.material else "", round(made_of.thickness, 6)


def _group(plates: Sequence[Plate]) -> Group:
    made_of = plates[0].report.job.plate
    return Group(plates[0].machine, made_of.material, made_of.thickness, tuple(plates))


def findings_on(done: Sequence[Done], groups: Sequence[Group]) -> Iterator[Finding]:
    """What is to be said of the jobs themselves before they are laid."""
    for one in done:
        if one.report and one.report.stopped:
            yield _stopped(one.report)
    reports = [one.report for one in done if one.report and not one.report.stopped]
    elsewhere = [report.job.stem for report in reports if not {*MACHINES} & {*report.job.make.targets}]
    if elsewhere:
        yield warning(
            "on-no-sheet",
            "make.for",
            f"on no sheet, for neither laser nor cnc is asked for: {listed(elsewhere)}; add one of them there, or lay "
            "them with --for laser or --for cnc",
        )
    yield from _same_names(reports)
    for group in groups:
        yield from _group_findings(group)


def _stopped(report: Report) -> Finding:
    why = "; ".join(f"{one.where}: {one.message}" for one in report.findings if one.level is Level.STOP)
    return stop(STOPPED, report.job.stem, f"{report.job.stem} not laid, since it cannot be made: {why}")


def _same_names(reports: Sequence[Report]) -> Iterator[Finding]:
    """Jobs of one name from several folders."""
    sources: dict[str, list[str]] = {}
    for report in reports:
        job = report.job
        sources.setdefault(job.stem, []).append(shown_name(job.source.as_posix()) if job.source else job.stem)
    for stem, paths in sources.items():
        if len(paths) > 1:
            yield note(
                "same-name",
                "JOB",
                f"{listed(paths)} are all called {quoted(stem)}: on the pages only their titles tell them apart, and "
                f"--copies {stem}=N counts for each of them",
            )


def _group_findings(group: Group) -> Iterator[Finding]:
    kerfs = sorted({plate.kerf for plate in group.plates})
    if len(kerfs) > 1:
        yield warning(
            "kerfs-differ",
            "make.kerf",
            f"{group.name}: the jobs give different kerfs ({', '.join(f'{kerf:g}' for kerf in kerfs)} mm), and each "
            "plate is drawn with its own: one laser in one sheet has one kerf",
        )
    rebated = [plate.name for plate in group.plates if plate.report.job.plate.rebate]
    if rebated:
        how = (
            "its own file cnc_underside_MIRRORED has that (jigtemplates make)" if group.machine == "cnc" else "by hand"
        )
        yield warning(
            "rebate-underside",
            "plate.rebate",
            f"{listed(rebated)}: the sheet is cut from above; the rebate in the underside follows, plate by plate: "
            f"{how}",
        )
    choices = {plate.report.job.make.dxf for plate in group.plates}
    if len(choices) > 1:
        yield note(
            "dxf-options-differ",
            "make.dxf",
            f"{group.name}: the jobs ask for different DXF files; a sheet's is R12 as soon as one asks for that, has "
            "the plainest arcs that one asks for, and is in inches only where all ask for them",
        )


#: So many names are told, and of more their number (chosen: a line stays readable).
_NAMED = 6


def listed(names: Sequence[str]) -> str:
    """Names in a row, each once; of many the first and how many more."""
    once = list(dict.fromkeys(names))
    more = f" and {len(once) - _NAMED} more" if len(once) > _NAMED + 1 else ""
    return ", ".join(once if not more else once[:_NAMED]) + more
