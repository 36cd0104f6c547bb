"""A report becomes files: drawing, bytes, read back, and written all or none.

The manifest beside them says what they were made from, so that it can be seen later whether they
still agree with the job.
"""

import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import astuple, dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from jigtemplates.byhand import ByHand, with_own_bits
from jigtemplates.cautions import cautions
from jigtemplates.checks import Level
from jigtemplates.drawing import Drawing, Pen, Pens, Role
from jigtemplates.facts import short_facts, size_text
from jigtemplates.label_words import full_title
from jigtemplates.manifest import manifest_text, unlisted
from jigtemplates.parameters.entries import Bit, Paper, Process
from jigtemplates.parameters.job import DxfChoice
from jigtemplates.processes.machine import cnc_drawing, laser_drawing
from jigtemplates.processes.pattern import paper_drawing
from jigtemplates.processes.pens import pens_of
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.replaced import replaced, strays
from jigtemplates.report import Report, WrittenFile
from jigtemplates.say import in_inches
from jigtemplates.undrawn import with_undrawn
from jigtemplates.writers.files import write_all

if TYPE_CHECKING:
    from jigtemplates.writers.mesh import Mesh


@dataclass(frozen=True)
class MadeFile:
    """The bytes of one file and the size of what it shows."""

    name: str
    data: bytes
    #: width and height of what it shows, mm
    size: tuple[float, float]
    #: those of the piece it becomes, where the file is larger by the kerf; else None
    finished: tuple[float, float] | None = None

    @property
    def listed(self) -> tuple[str, tuple[float, float], tuple[float, float] | None]:
        """SHA-256 of its bytes, and its sizes."""
        return hashlib.sha256(self.data).hexdigest(), self.size, self.finished


def write(report: Report, out: Path, *, profiles: Profiles | None = None) -> Report:
    """Writes the template's files into a folder named after the job, in out; all of them or none.

    Returns the report with the files named; a report with a stop is returned as it is and nothing is
    written. Files whose bytes would not change are left alone. Raises OutputError where the folder
    cannot be written and ReadBackError where a file does not say what it should.
    """
    if report.stopped:
        return report
    before = replaced(report.job, out)
    if any(finding.level is Level.STOP for finding in before):
        return report.with_findings(before)
    files, written = prepared(report, out, profiles or profiles_for(report.job.source))
    write_all(files)
    return written.with_findings(before)


def prepared(report: Report, out: Path, profiles: Profiles) -> tuple[dict[Path, bytes], Report]:
    """The bytes of each file by its place, the manifest's last, and the report that names them; nothing is written."""
    report = with_undrawn(report, profiles)
    made = tuple(make_files(report, profiles))
    folder = out / report.job.stem
    manifest_name = f"{report.job.stem}.json"
    listed = {file.name: file.listed[:2] for file in made}
    finished = {file.name: file.finished for file in made if file.finished}
    manifest = manifest_text(report, listed, profiles, finished).encode()
    left_behind = unlisted(folder, manifest_name, {*listed, manifest_name}, strays(folder, report.job.stem, listed))
    files = [WrittenFile(_shown(folder / name), *sizes, finished.get(name)) for name, sizes in listed.items()]
    files.append(WrittenFile(_shown(folder / manifest_name), hashlib.sha256(manifest).hexdigest(), None))
    placed = {**{folder / file.name: file.data for file in made}, folder / manifest_name: manifest}
    return placed, report.with_files(tuple(files)).with_findings(left_behind)


def _shown(path: Path) -> str:
    return path.as_posix()


def make_files(report: Report, profiles: Profiles) -> Iterator[MadeFile]:
    """The files a job asks for and its set-up sheet, read back in memory; of a pair those for both hands."""
    for one in hands(report):
        yield from _one_hand(one, profiles)


def hands(report: Report) -> tuple[Report, ...]:
    """A report for each hand the job has a plate for; this one where it is no pair."""
    return (report,) if report.other_hand is None else (report, report.other_hand)


def _one_hand(report: Report, profiles: Profiles) -> Iterator[MadeFile]:
    """Laser, cnc, paper, print, setup."""
    targets = report.job.make.targets
    files = MachineFiles(report.job.make.dxf, full_title(report.job))
    if "laser" in targets:
        drawing = laser_drawing(report.template, report.job.make.kerf)
        yield from _machine_files(report, drawing, "laser", profiles, files)
    if "cnc" in targets:
        yield from _machine_files(report, cnc_drawing(report.template), "cnc", profiles, files)
        if report.job.plate.rebate:
            yield from _underside_files(report, profiles, files)
    if "paper" in targets:
        own = [found.entry for found in profiles.own("bits") if isinstance(found.entry, Bit)]
        by_hand, pens = with_own_bits(report, own), pens_of(_process("paper", profiles))
        drawing = paper_drawing(report.template, report.predicted)  # one for all papers: what is made of it is kept
        for paper in report.job.make.papers:
            yield _paper_file(report, paper, drawing, pens, by_hand)
    if "print" in targets:
        yield from _print_files(report, _process("print", profiles))
    yield _setup_file(report)
    if report.job.inlay is not None:
        yield _inlay_file(report)


def _process(name: str, profiles: Profiles) -> Process:
    found = profiles.find("processes", name).entry
    assert isinstance(found, Process)
    return found


def _name(report: Report, *parts: str, ending: str) -> str:
    """The job's stem, MIRRORED where it is, then the parts: "rail_laser_mm.dxf"."""
    mirrored = ("MIRRORED",) if report.job.make.mirrored else ()
    return "_".join((report.job.stem, *mirrored, *parts)) + ending


@dataclass(frozen=True)
class MachineFiles:
    """The DXF and SVG files of one job, each written and read back once.

    Laser and CNC router are often given the very same file: DXF does not even say how wide a line is.
    """

    choice: DxfChoice
    title: str
    made: dict[tuple[str, Drawing, tuple[tuple[object, ...], ...]], bytes] = field(default_factory=dict)

    def dxf(self, drawing: Drawing, pens: Pens) -> bytes:
        """The DXF file of a drawing in these layers and colours."""
        look = tuple((role, pen.layer, pen.colour) for role, pen in _used(drawing, pens))
        return self._once(("dxf", drawing, look), lambda: _dxf(drawing, pens, self.choice))

    def svg(self, drawing: Drawing, pens: Pens) -> bytes:
        """The SVG file of a drawing in these layers, colours and widths."""
        look = tuple((role, *astuple(pen)) for role, pen in _used(drawing, pens))
        return self._once(("svg", drawing, look), lambda: _svg(drawing, pens, self.title))

    def _once(self, key: tuple[str, Drawing, tuple[tuple[object, ...], ...]], write: Callable[[], bytes]) -> bytes:
        if key not in self.made:
            self.made[key] = write()
        return self.made[key]


def _used(drawing: Drawing, pens: Pens) -> list[tuple[Role, Pen]]:
    """The pens of the roles that the drawing has."""
    roles = {item.role for item in drawing.items}
    return [(role, pen) for role, pen in pens.items() if role in roles]


def _svg(drawing: Drawing, pens: Pens, title: str) -> bytes:
    from jigtemplates.writers.readback import check_svg
    from jigtemplates.writers.svg import write_svg

    data = write_svg(drawing, pens, title=title)
    check_svg(data, drawing, pens)
    return data


def _dxf(drawing: Drawing, pens: Pens, choice: DxfChoice) -> bytes:
    from jigtemplates.writers.dxf import write_dxf
    from jigtemplates.writers.readback import check_dxf

    version, unit, arcs, chord = choice.version, choice.unit, choice.arcs, choice.chord
    data = write_dxf(drawing, pens, version=version, unit=unit, arcs=arcs, chord=chord)
    check_dxf(data, drawing, pens, version=version, unit=unit, arcs=arcs, chord=chord)
    return data


def _machine_files(
    report: Report, drawing: Drawing, target: str, profiles: Profiles, files: MachineFiles
) -> Iterator[MadeFile]:
    make, pens = report.job.make, pens_of(_process(target, profiles))
    width = make.kerf if target == "laser" else 0.0
    kerf, sizes = kerf_part((width,), make.dxf.unit), sizes_of(drawing, width)
    yield MadeFile(_name(report, target, *kerf, make.dxf.unit, ending=".dxf"), files.dxf(drawing, pens), *sizes)
    yield MadeFile(_name(report, target, *kerf, ending=".svg"), files.svg(drawing, pens), *sizes)


def kerf_part(kerfs: Sequence[float], unit: str) -> tuple[str, ...]:
    """What a file's name says of the kerf, always in mm: "kerf0.15"; nothing where there is none.

    Beside a DXF file in inches it says its unit, lest it be read in that: "kerf0.15mm". Of different kerfs all, from
    the least; three decimals, as a kerf is measured.
    """
    if not any(kerfs):
        return ()
    return (f"kerf{'-'.join(dict.fromkeys(f'{round(kerf, 3):g}' for kerf in kerfs))}{'mm' if unit == 'in' else ''}",)


def sizes_of(drawing: Drawing, kerf: float) -> tuple[tuple[float, float], tuple[float, float] | None]:
    """The size of a drawing, and with a kerf that of the piece it becomes, which is smaller by that; mm."""
    size = (drawing.width, drawing.height)
    return size, (round(size[0] - kerf, 9), round(size[1] - kerf, 9)) if kerf else None


def _underside_files(report: Report, profiles: Profiles, files: MachineFiles) -> Iterator[MadeFile]:
    """The rebate of a plate turned over, for the CNC router; nothing where its profile draws no pockets."""
    from jigtemplates.processes.machine import underside_drawing
    from jigtemplates.rebate import rebate_of

    rebate, pens = rebate_of(report.job.plate), pens_of(_process("cnc", profiles))
    if rebate is not None and Role.POCKET in pens:
        drawing = underside_drawing(report.template, rebate)
        size, parts = (drawing.width, drawing.height), ("cnc", "underside", "MIRRORED")
        yield MadeFile(_name(report, *parts, report.job.make.dxf.unit, ending=".dxf"), files.dxf(drawing, pens), size)
        yield MadeFile(_name(report, *parts, ending=".svg"), files.svg(drawing, pens), size)


def _paper_file(report: Report, paper: Paper, drawing: Drawing, pens: Pens, by_hand: ByHand) -> MadeFile:
    from jigtemplates.processes.paper import PaperSize, PatternNotes, lay_out
    from jigtemplates.writers.pdf import check_pdf, write_pdf

    make = report.job.make
    overall = size_text(drawing.width, drawing.height, inches=in_inches(report.job))
    notes = PatternNotes(full_title(report.job), short_facts(report), cautions(report.job), overall)
    size = PaperSize(paper.name, paper.width.mm, paper.height.mm, paper.margin.mm, paper.foot.mm, paper.overlap.mm)
    pattern = lay_out(drawing, pens, notes, size, correction=make.correction, mirrored=make.mirrored, by_hand=by_hand)
    data = write_pdf(pattern)
    check_pdf(data, pattern)
    return MadeFile(_name(report, "paper", paper.name, ending=".pdf"), data, (drawing.width, drawing.height))


def _print_files(report: Report, process: Process) -> Iterator[MadeFile]:
    """The mesh of the template in the kinds of file that are wanted; its size is that of the plate."""
    from jigtemplates.processes.printed import printed_solid, printed_words
    from jigtemplates.writers.mesh_build import mesh_of

    choice, box = report.job.make.printing, report.template.plate.bounds
    assert choice is not None  # it is there wherever "print" is among the targets
    mesh = mesh_of(printed_solid(report.template, choice, pens_of(process)))
    if "3mf" in choice.formats:
        data = _threemf(mesh, full_title(report.job), printed_words(choice))
        yield MadeFile(_name(report, "print", ending=".3mf"), data, (box.width, box.height))
    if "stl" in choice.formats:
        data = _stl(mesh, f"{printed_words(choice)}; {full_title(report.job)}")
        yield MadeFile(_name(report, "print", "mm", ending=".stl"), data, (box.width, box.height))


def _threemf(mesh: "Mesh", title: str, description: str) -> bytes:
    from jigtemplates.writers.threemf import write_threemf
    from jigtemplates.writers.threemf_reader import check_threemf

    data = write_threemf(mesh, title=title, description=description)
    check_threemf(data, mesh, title=title, description=description)
    return data


def _stl(mesh: "Mesh", note: str) -> bytes:
    from jigtemplates.writers.stl import write_stl
    from jigtemplates.writers.stl_reader import check_stl

    data = write_stl(mesh, note=note)
    check_stl(data, mesh, note=note)
    return data


def _inlay_file(report: Report) -> MadeFile:
    """The sheet of an inlay: recess and plug, one laid over the other; its size is that of the page."""
    from jigtemplates.processes.inlay_sheet import lay_out_inlay
    from jigtemplates.writers.pdf import check_pdf, write_pdf

    sheet = lay_out_inlay(report).pattern
    data = write_pdf(sheet)
    check_pdf(data, sheet, bars=False)
    return MadeFile(_name(report, "inlay", ending=".pdf"), data, (sheet.width, sheet.height))


def _setup_file(report: Report) -> MadeFile:
    """The set-up sheet, which comes along whatever is made; its size is that of the page."""
    from jigtemplates.processes.setup import lay_out_setup
    from jigtemplates.writers.pdf import check_pdf, write_pdf

    sheet = lay_out_setup(report).pattern
    data = write_pdf(sheet)
    check_pdf(data, sheet, bars=False)
    return MadeFile(_name(report, "setup", ending=".pdf"), data, (sheet.width, sheet.height))
