"""Sheets become files: a DXF and an SVG for each, the pages for the bench, a record; all of them or none."""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from jigtemplates.batch import refuse_what_is_no_folder
from jigtemplates.checks.finding import Finding, Level
from jigtemplates.errors import InputError, OutputError, quoted
from jigtemplates.making import MachineFiles, MadeFile, kerf_part
from jigtemplates.manifest import LARGEST_BYTES, content_hash, job_file, job_hash, made_with, sizes_mm, unlisted
from jigtemplates.ordinary import read_start
from jigtemplates.parameters.entries import Process
from jigtemplates.parameters.job import DxfChoice
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.processes.pens import pens_of
from jigtemplates.profiles import Found, Profiles
from jigtemplates.report import WrittenFile
from jigtemplates.sheets.choice import Choice, Machine
from jigtemplates.sheets.drawing import SheetDrawing, sheet_drawing
from jigtemplates.sheets.laying import LaidSheet, Layout
from jigtemplates.sheets.plates import Group
from jigtemplates.writers.files import write_all

#: From what every reader understands to what only good ones do.
_ARCS = ("facets", "pieces", "bulges")


@dataclass(frozen=True)
class Sheets:
    """What was laid, what is said of it, and the files that were made."""

    name: str
    choice: Choice
    layouts: tuple[Layout, ...]
    findings: tuple[Finding, ...]
    files: tuple[WrittenFile, ...] = ()
    #: all of them were there already, byte for byte
    unchanged: bool = False

    @property
    def sheets(self) -> tuple[LaidSheet, ...]:
        """The sheets of all groups."""
        return tuple(sheet for layout in self.layouts for sheet in layout.sheets)

    @property
    def stopped(self) -> bool:
        """Whether a plate was not laid."""
        return any(finding.level is Level.STOP for finding in self.findings)


@dataclass(frozen=True)
class Drawn:
    """A sheet, its drawing and what its files are called."""

    sheet: LaidSheet
    drawn: SheetDrawing
    #: without their endings
    stem: str
    dxf: DxfChoice

    @property
    def dxf_name(self) -> str:
        """With the unit its coordinates are in."""
        return f"{self.stem}_{self.dxf.unit}.dxf"

    @property
    def svg_name(self) -> str:
        """Always in mm."""
        return f"{self.stem}.svg"

    @property
    def finished(self) -> tuple[float, float] | None:
        """How far the finished plates reach, mm, where the drawing is larger by the kerf; else None."""
        return self.sheet.finished if any(laid.plate.kerf for laid in self.sheet.plates) else None


def process_of(machine: Machine, groups: Sequence[Group], seen: Mapping[Path, Profiles]) -> Found[Process]:
    """The process that draws the sheets of a machine, as the profiles beside the jobs have it.

    `seen` has the profiles by a job's folder. InputError where two jobs would be drawn differently.
    """
    jobs = [plate.report.job for group in groups if group.machine == machine for plate in group.plates]
    sources = dict.fromkeys(job.source for job in jobs if job.source)
    first: tuple[Path, Found[Process]] | None = None
    for source in sources:
        found = seen[source.parent].find("processes", machine)
        if first is not None and _look(found.entry) != _look(first[1].entry):
            raise InputError(
                f"{shown_name(str(source))}: its profiles draw and space plates for {machine} differently from those "
                f"of {shown_name(str(first[0]))}, so the two cannot share a sheet (lay them in two calls)"
            )
        first = first or (source, found)
    assert first is not None  # a group has plates, and theirs come from files
    return first[1]


def _look(process: Process) -> tuple[object, ...]:
    return process.roles, process.gap, process.margin, process.cutter


def drawn_sheets(made: Sheets) -> tuple[Drawn, ...]:
    """Every sheet as a drawing, with the name of its files."""
    return tuple(
        Drawn(sheet, sheet_drawing(sheet), sheet_stem(made.name, sheet, dxf.unit), dxf)
        for layout, dxf in ((one, _dxf_choice(one.group, made.choice)) for one in made.layouts)
        for sheet in layout.sheets
    )


def sheet_stem(name: str, sheet: LaidSheet, unit: str = "mm") -> str:
    """ "shop_mdf-6mm_sheet1_laser_kerf0.2"; of different kerfs all. `unit` is that of the DXF file."""
    kerfs = sorted({laid.plate.kerf for laid in sheet.plates})
    parts = (name, sheet.group.name, f"sheet{sheet.number}", sheet.group.machine, *kerf_part(kerfs, unit))
    return "_".join(parts)


def _dxf_choice(group: Group, choice: Choice) -> DxfChoice:
    """R12 and plain arcs as soon as one job asks for them; the unit that was typed, else inches where all ask."""
    asked = [plate.report.job.make.dxf for plate in group.plates]
    return DxfChoice(
        "R12" if any(one.version == "R12" for one in asked) else "R2000",
        choice.units or ("in" if all(one.unit == "in" for one in asked) else "mm"),
        min((one.arcs for one in asked), key=_ARCS.index),
        min(one.chord for one in asked),
    )


def write(made: Sheets, out: Path, profiles: Profiles, processes: Mapping[Machine, Found[Process]]) -> Sheets:
    """Write the files into a folder of the set's name in out; nothing where there is no sheet.

    Returns the same with the files named. Raises OutputError where the folder cannot be written, or holds the
    templates of a job, or sheets that were made from other jobs.
    """
    if not made.sheets:
        return made
    folder, record_name = out / made.name, f"{made.name}_sheets.json"
    refuse_what_is_no_folder(out)
    refuse_what_is_no_folder(folder)
    _refuse_others(folder, made)
    drawn = drawn_sheets(made)
    files = tuple(_files(made, drawn, profiles, processes))
    record = _record(made, drawn, files, profiles)
    names = {*(file.name for file in files), record_name}
    older = tuple(replace(finding, where="--out") for finding in unlisted(folder, record_name, names))
    done = write_all({**{folder / file.name: file.data for file in files}, folder / record_name: record})
    listed = [WrittenFile((folder / file.name).as_posix(), *file.listed) for file in files]
    listed.append(WrittenFile((folder / record_name).as_posix(), hashlib.sha256(record).hexdigest(), None))
    return replace(made, findings=(*made.findings, *older), files=tuple(listed), unchanged=not done.written)


def _files(
    made: Sheets, drawn: Sequence[Drawn], profiles: Profiles, processes: Mapping[Machine, Found[Process]]
) -> Iterator[MadeFile]:
    """DXF and SVG of each sheet, and the pages; each read back in memory."""
    for one in drawn:
        pens, drawing = pens_of(processes[one.sheet.group.machine].entry), one.drawn.drawing
        files, sizes = MachineFiles(one.dxf, sheet_title(made, one.sheet)), (one.drawn.size, one.finished)
        yield MadeFile(one.dxf_name, files.dxf(drawing, pens), *sizes)
        yield MadeFile(one.svg_name, files.svg(drawing, pens), *sizes)
    yield _pages(made, drawn, profiles)


def sheet_title(made: Sheets, sheet: LaidSheet) -> str:
    """ "shop: mdf-6mm, laser, sheet 1 of 3"."""
    count = next(len(layout.sheets) for layout in made.layouts if layout.group is sheet.group)
    return f"{made.name}: {sheet.group.name}, {sheet.group.machine}, sheet {sheet.number} of {count}"


def _pages(made: Sheets, drawn: Sequence[Drawn], profiles: Profiles) -> MadeFile:
    from jigtemplates.sheets.page import lay_out
    from jigtemplates.writers.pdf import check_pdf, write_pdf

    pattern = lay_out(made, drawn, profiles.find("papers", "letter" if made.choice.inches else "a4").entry)
    data = write_pdf(pattern)
    check_pdf(data, pattern, bars=False)
    return MadeFile(f"{made.name}_sheets.pdf", data, (pattern.width, pattern.height))


def _record(made: Sheets, drawn: Sequence[Drawn], files: Sequence[MadeFile], profiles: Profiles) -> bytes:
    """What the files were made from and which template lies where, as JSON without a clock."""
    from jigtemplates.sheets.words import as_json

    machines = tuple(dict.fromkeys(layout.group.machine for layout in made.layouts))
    said = as_json(made, drawn)
    del said["files"]
    content: dict[str, Any] = {
        **made_with(profiles, machines),
        "jobs": _jobs(made),
        **said,
        "files": [
            {
                "name": file.name,
                **_sizes(file),
                "sha256": hashlib.sha256(file.data).hexdigest(),
            }
            for file in files
        ],
    }
    return (json.dumps({**content, "sha256": content_hash(content)}, indent=2, ensure_ascii=False) + "\n").encode()


def _sizes(file: MadeFile) -> dict[str, float]:
    return {key: round(mm, 6) for key, mm in sizes_mm(file.size, file.finished).items()}


def _jobs(made: Sheets) -> list[dict[str, Any]]:
    """The jobs that have plates, each once, with the hash of what it resolves to."""
    jobs = {
        (job.source, job.stem): {"file": job_file(job), "stem": job.stem, "title": job.title, "sha256": job_hash(job)}
        for layout in made.layouts
        for job in (plate.report.job for plate in reversed(layout.group.plates))
    }
    return sorted(jobs.values(), key=lambda job: (job["stem"], job["sha256"]))


def _refuse_others(folder: Path, made: Sheets) -> None:
    """A folder is left alone that holds the templates of a job, or sheets of other jobs only."""
    if (folder / f"{made.name}.json").is_file():
        raise OutputError(
            f"{shown_name(str(folder))}: holds the templates of a job called {quoted(made.name)} (choose another "
            "folder with --out, or another name with --name)"
        )
    try:
        said = json.loads(read_start(folder / f"{made.name}_sheets.json", LARGEST_BYTES).decode("utf-8"))
        before = {str(job["stem"]) for job in said["jobs"]}
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return
    if before and before.isdisjoint(job["stem"] for job in _jobs(made)):
        others = ", ".join(quoted(name)[1:-1] for name in sorted(before)[:3])
        raise OutputError(
            f"{shown_name(str(folder))}: holds the sheets of other jobs ({others}), which would be replaced (give "
            "these a name of their own with --name, or choose another folder with --out)"
        )
