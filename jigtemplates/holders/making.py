"""A holder's parts become a folder of files: drawn, written, read back, put on disk all or none.

Beside them a manifest says what they were made from, as with a job's templates.
"""

import hashlib
import json
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from jigtemplates.cautions import LAST
from jigtemplates.checks.finding import Finding, Level, warning
from jigtemplates.drawing import Drawing
from jigtemplates.errors import InputError, OutputError, quoted
from jigtemplates.facts import size_text
from jigtemplates.gauges.enter import argument
from jigtemplates.holders.drawings import label_lines, part_drawing, part_label
from jigtemplates.holders.parts import Part, Parts, parts_of
from jigtemplates.holders.walls import findings_on
from jigtemplates.holders.words import part_facts
from jigtemplates.lengths import Length, Unit, inch_short, mm_text
from jigtemplates.making import MachineFiles, MadeFile, kerf_part, sizes_of
from jigtemplates.manifest import LARGEST_BYTES, content_hash, made_with, plain, sizes_mm, unlisted
from jigtemplates.ordinary import read_start
from jigtemplates.parameters.corrections import kerf_in
from jigtemplates.parameters.entries import Holder, Paper, Process, Sheet
from jigtemplates.parameters.job import DxfChoice
from jigtemplates.parameters.stem import is_device
from jigtemplates.processes.pens import pens_of
from jigtemplates.profiles import Profiles
from jigtemplates.report import WrittenFile
from jigtemplates.writers.files import write_all

Target = Literal["laser", "cnc", "paper"]

#: Chord tolerance of facets, of which these files have none, mm.
CHORD = 0.01

#: End of the manifest's name: another than a template's, for which the drawer looks in the same folder.
MANIFEST = "_holder.json"

#: Common practice, no source.
CAUTIONS = (
    "Unplug the router to change the bit; wear eye, ear and dust protection.",
    "Clamp the part; several shallow passes; inside an edge clockwise, round the outside counter-clockwise.",
    "Clamp a part on a scrap board to drill it; never hold it in the hand.",
)
LASER_CAUTION = "Never laser PVC, vinyl or unknown plastic; never leave a running laser."


@dataclass(frozen=True)
class Choice:
    """What is to be made of a holder."""

    targets: tuple[Target, ...]
    #: full width the laser's beam removes, mm; or the laser, which knows it of sheets it was measured in
    kerf: float | Process
    papers: tuple[Paper, ...]
    #: what the parts are made of; None where that was not said
    material: Sheet | None = None
    #: of the DXF files, and what is said first; None: that of the holder
    units: Unit | None = None

    def kerf_of(self, part: Part) -> float:
        """Full width removed round a part, mm: as given, else as measured in a sheet of its material and thickness."""
        if not isinstance(self.kerf, Process):
            return self.kerf
        found = kerf_in(self.kerf, None if self.material is None else self.material.name, part.thickness)
        return (self.kerf.kerf if found is None else found.width).mm


@dataclass(frozen=True)
class HolderReport:
    """A holder's parts, what was found, and the files that were made."""

    parts: Parts
    choice: Choice
    findings: tuple[Finding, ...]
    files: tuple[WrittenFile, ...] = ()

    @property
    def holder(self) -> Holder:
        """What its profile says."""
        return self.parts.holder

    @property
    def stopped(self) -> bool:
        """True where a finding forbids making the files."""
        return any(finding.level is Level.STOP for finding in self.findings)


def report_on_holder(name: str, choice: Choice, profiles: Profiles) -> HolderReport:
    """The parts of the holder of that name and what is found; InputError for an unknown name and missing sizes."""
    holder = _said_in(profiles.find("holders", name).entry, choice.units)
    file_stem(holder)
    parts = parts_of(holder, profiles)
    layers = (parts.upper, parts.ledge)
    told = _told_kerfs(choice, layers)
    found = findings_on(
        parts, choice.targets, min(map(choice.kerf_of, layers)), material=choice.material, measured=told
    )
    return HolderReport(parts, choice, (*found, *_labels(parts)))


def _said_in(holder: Holder, units: Unit | None) -> Holder:
    """The same holder, its width written in the unit that is said first."""
    if units is None or holder.width.is_inch == (units == "in"):
        return holder
    text = inch_short(holder.width.mm) if units == "in" else mm_text(holder.width.mm, 3)
    return holder.model_copy(update={"width": Length(holder.width.exact, text)})


def _told_kerfs(choice: Choice, layers: Sequence[Part]) -> str:
    """Which kerfs are known of such sheets, and how they are used; "" where none is, or a sheet was named."""
    if not isinstance(choice.kerf, Process) or choice.material is not None:
        return ""
    laser = choice.kerf
    names = dict.fromkeys(one.sheet for one in laser.kerfs if one.sheet is not None)
    usable = (name for name in names if any(kerf_in(laser, name, part.thickness) for part in layers))
    return ", or ".join(f"--material {argument(name)}" for name in usable)


def _labels(parts: Parts) -> Iterator[Finding]:
    missing = [part.name for part in parts if part_label(part, parts.holder) is None]
    if missing:
        yield warning(
            "label-left-out",
            "name",
            f"no label on the {' and the '.join(missing)}: it has no room beside the recess, or letters that cannot be "
            "engraved; write on it by hand which holder it belongs to",
        )


def file_stem(holder: Holder) -> str:
    """The holder's name as files can have it: letters, digits, - and _; InputError where nothing is left of it."""
    plain_name = unicodedata.normalize("NFC", holder.name)
    stem = re.sub(r"[^\w-]+", "-", plain_name).strip("-")
    if not stem.strip("_"):
        raise InputError(f"holder {quoted(holder.name)}: no file can be named after it (give it a letter or a digit)")
    return f"{stem}-holder" if is_device(stem) else stem


def write_holder(report: HolderReport, out: Path, profiles: Profiles) -> HolderReport:
    """Writes the files into a folder named after the holder, in out; all of them or none.

    Returns the report with the files named; one with a stop is returned as it is and nothing is written. Raises
    OutputError where the folder cannot be written, or holds the parts of another holder.
    """
    if report.stopped:
        return report
    stem = file_stem(report.holder)
    folder, manifest_name = out / stem, f"{stem}{MANIFEST}"
    _refuse_another(folder / manifest_name, report.holder)
    made = tuple(_files(report, stem, profiles))
    manifest = _manifest(report, made, profiles)
    stale = unlisted(folder, manifest_name, {*(file.name for file in made), manifest_name})
    write_all({**{folder / file.name: file.data for file in made}, folder / manifest_name: manifest})
    files = [WrittenFile((folder / file.name).as_posix(), *file.listed) for file in made]
    files.append(WrittenFile((folder / manifest_name).as_posix(), hashlib.sha256(manifest).hexdigest(), None))
    return HolderReport(report.parts, report.choice, (*report.findings, *stale), tuple(files))


def _refuse_another(path: Path, holder: Holder) -> None:
    """A folder that holds another holder's parts is left alone: two names may have become one."""
    try:
        before = json.loads(read_start(path, LARGEST_BYTES).decode("utf-8"))["holder"]["name"]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return
    if before != holder.name:
        raise OutputError(
            f"{path.parent.as_posix()}: holds the parts of {quoted(str(before))}, which would be replaced (choose "
            "another folder with --out, or rename the holder)"
        )


def _files(report: HolderReport, stem: str, profiles: Profiles) -> Iterator[MadeFile]:
    """The files of every part: layers for the laser, all for the CNC router and on paper."""
    parts, choice = report.parts, report.choice
    for part in parts:
        files = MachineFiles(_dxf_choice(report, profiles), f"{report.holder.name}: {part.name}")
        named = f"{stem}_{part.key}"
        if "laser" in choice.targets and part.pocket is None:
            kerf = choice.kerf_of(part)
            name = "_".join((named, "laser", *kerf_part((kerf,), files.choice.unit)))
            drawing = part_drawing(part, report.holder, kerf)
            yield from _machine_files(files, drawing, name, "laser", profiles, kerf)
        if "cnc" in choice.targets:
            yield from _machine_files(files, part_drawing(part, report.holder), f"{named}_cnc", "cnc", profiles)
        if "paper" in choice.targets:
            yield from (_paper_file(report, part, paper, named, profiles) for paper in choice.papers)


def _dxf_choice(report: HolderReport, profiles: Profiles) -> DxfChoice:
    """R12 as soon as one of the processes asks for that, as for a job; inches where the holder is in them."""
    machines = [target for target in report.choice.targets if target != "paper"]
    asked = [profiles.find("processes", name).entry.dxf_version for name in machines]
    unit: Unit = "in" if report.holder.width.is_inch else "mm"
    return DxfChoice("R12" if "R12" in asked else "R2000", unit, "bulges", CHORD)


def _machine_files(
    files: MachineFiles, drawing: Drawing, name: str, process: Target, profiles: Profiles, kerf: float = 0.0
) -> Iterator[MadeFile]:
    pens, sizes = pens_of(profiles.find("processes", process).entry), sizes_of(drawing, kerf)
    yield MadeFile(f"{name}_{files.choice.unit}.dxf", files.dxf(drawing, pens), *sizes)
    yield MadeFile(f"{name}.svg", files.svg(drawing, pens), *sizes)


def _paper_file(report: HolderReport, part: Part, paper: Paper, name: str, profiles: Profiles) -> MadeFile:
    from jigtemplates.processes.paper import PaperSize, PatternNotes, lay_out
    from jigtemplates.writers.pdf import check_pdf, write_pdf

    drawing, pens = part_drawing(part, report.holder), pens_of(profiles.find("processes", "paper").entry)
    title = f"{report.holder.name}: {part.name}"
    cautions = (*CAUTIONS, *((LASER_CAUTION,) if "laser" in report.choice.targets else ()), *LAST)
    overall = size_text(part.outside.width, part.outside.height, inches=report.holder.width.is_inch)
    notes = PatternNotes(title, part_facts(part, report.parts), cautions, overall, report.holder.width.is_inch)
    size = PaperSize(paper.name, paper.width.mm, paper.height.mm, paper.margin.mm, paper.foot.mm, paper.overlap.mm)
    pattern = lay_out(drawing, pens, notes, size)
    data = write_pdf(pattern)
    check_pdf(data, pattern)
    return MadeFile(f"{name}_paper_{paper.name}.pdf", data, (drawing.width, drawing.height))


def _manifest(report: HolderReport, files: Sequence[MadeFile], profiles: Profiles) -> bytes:
    """Program, libraries, pens, the holder as it was read, its parts, and each file with size and hash."""
    from jigtemplates.holders.words import as_json

    results = as_json(report)
    del results["files"], results["holder"]
    content: dict[str, Any] = {
        **made_with(profiles, report.choice.targets),
        "holder": plain(profiles.find("holders", report.holder.name).entry),
        "made_for": list(report.choice.targets),
        "material": None if report.choice.material is None else report.choice.material.name,
        "kerf": {part.key: report.choice.kerf_of(part) for part in (report.parts.upper, report.parts.ledge)},
        "results": results,
        "labels": {part.key: list(label_lines(part, report.holder)) for part in report.parts},
        "files": [{"name": file.name, **sizes_mm(*file.listed[1:]), "sha256": file.listed[0]} for file in files],
    }
    return (json.dumps({**content, "sha256": content_hash(content)}, indent=2, ensure_ascii=False) + "\n").encode()
