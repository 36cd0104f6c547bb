"""A gauge becomes files: drawings for the machines, the sheet that says how it is used, a record; all or none."""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from jigtemplates.checks.finding import Finding, warning
from jigtemplates.errors import OutputError, quoted
from jigtemplates.gauges.drawing import machine_drawing
from jigtemplates.gauges.gauge import Gauge
from jigtemplates.gauges.howto import lay_out
from jigtemplates.making import MachineFiles, MadeFile, kerf_part, sizes_of
from jigtemplates.manifest import LARGEST_BYTES, content_hash, made_with, plain, sizes_mm, unlisted
from jigtemplates.ordinary import read_start
from jigtemplates.parameters.entries import Paper
from jigtemplates.parameters.make_tables import Target
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.processes.pens import pens_of
from jigtemplates.profiles import Profiles
from jigtemplates.report import WrittenFile
from jigtemplates.writers.files import write_all


@dataclass(frozen=True, slots=True)
class Written:
    """The files of a gauge, as a person opens them."""

    files: tuple[WrittenFile, ...]
    #: all of them were there already, byte for byte
    unchanged: bool
    #: warnings about what was left in the folder
    findings: tuple[Finding, ...]


def gauge_files(gauge: Gauge, profiles: Profiles) -> Iterator[MadeFile]:
    """Laser, cnc and the sheet, each read back in memory."""
    files = MachineFiles(gauge.dxf, gauge.title)
    for target in gauge.targets:
        kerf = gauge.kerf if target == "laser" else 0.0
        drawing, pens = machine_drawing(gauge, kerf), pens_of(profiles.find("processes", target).entry)
        name = "_".join((gauge.stem, target, *kerf_part((kerf,), gauge.dxf.unit)))
        sizes = sizes_of(drawing, kerf)
        yield MadeFile(f"{name}_{gauge.dxf.unit}.dxf", files.dxf(drawing, pens), *sizes)
        yield MadeFile(f"{name}.svg", files.svg(drawing, pens), *sizes)
    yield _sheet(gauge, profiles)


def _sheet(gauge: Gauge, profiles: Profiles) -> MadeFile:
    from jigtemplates.writers.pdf import check_pdf, write_pdf

    paper = profiles.find("papers", "letter" if gauge.inches else "a4").entry
    pattern = lay_out(gauge, pens_of(profiles.find("processes", "paper").entry), paper)
    data = write_pdf(pattern)
    check_pdf(data, pattern, bars=False)
    return MadeFile(f"{gauge.stem}_how.pdf", data, (pattern.width, pattern.height))


def printer_file(paper: Paper) -> MadeFile:
    """The page of the printer gauge for a paper; InputError where that is too small."""
    from jigtemplates.gauges.printer import printer_page

    size = (paper.width.mm, paper.height.mm)
    return MadeFile(f"gauge-printer_paper_{paper.name}.pdf", printer_page(paper), size)


def write(
    stem: str,
    files: Iterator[MadeFile],
    said: Mapping[str, Any],
    out: Path,
    targets: tuple[Target, ...],
    profiles: Profiles,
) -> Written:
    """Write the files and a record of them into out/stem; OutputError where that cannot be, and nothing is written.

    That is also where the folder holds another gauge, or the templates of a job that is called so.

    The record is called STEM_gauge.json: a folder of templates with a gauge among them stays readable.
    """
    folder, made = out / stem, tuple(files)
    if (folder / f"{stem}.json").is_file():
        raise OutputError(
            f"{shown_name(str(folder))}: holds the templates of a job called {quoted(stem)}, which the gauge would "
            "replace (rename the job, or choose another folder with --out)"
        )
    record_name = f"{stem}_gauge.json"
    other = _other_before(folder, record_name, said)
    record = _record(made, said, targets, profiles)
    names = {*(file.name for file in made), record_name}
    older = tuple(replace(finding, where="--for") for finding in unlisted(folder, record_name, names))
    placed = {folder / file.name: file.data for file in made}
    done = write_all({**placed, folder / record_name: record})
    listed = [WrittenFile((folder / file.name).as_posix(), *file.listed) for file in made]
    listed.append(WrittenFile((folder / record_name).as_posix(), hashlib.sha256(record).hexdigest(), None))
    return Written(tuple(listed), not done.written, (*other, *older))


def _other_before(folder: Path, record_name: str, said: Mapping[str, Any]) -> tuple[Finding, ...]:
    """OutputError where the folder holds the gauge of another tool or sheet whose name becomes the same file name.

    Of a job's gauge it is a warning: a title may have been changed since. Nothing where no record can be read.
    """
    before, now = _title_before(folder / record_name), said["title"]
    if before is None or before == now:
        return ()
    name = shown_name(str(folder))
    if said["kind"] != "fit":
        raise OutputError(
            f"{name}: holds {quoted(before)}, which {quoted(now)} would replace, for both make the same file name "
            "(choose another folder with --out, or delete that one)"
        )
    return (
        warning(
            "other-gauge-before",
            "--out",
            f"the files that stood in {name} were {quoted(before)}, and are replaced by {quoted(now)}: if that was of "
            "another job, choose another folder with --out",
        ),
    )


def _title_before(record: Path) -> str | None:
    try:
        title = json.loads(read_start(record, LARGEST_BYTES).decode("utf-8"))["gauge"]["title"]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None
    return title if isinstance(title, str) else None


def _record(
    made: tuple[MadeFile, ...], said: Mapping[str, Any], targets: tuple[Target, ...], profiles: Profiles
) -> bytes:
    """What the files were made from and their hashes, as JSON without a clock."""
    content = {
        **made_with(profiles, targets),
        "gauge": plain(said),
        "files": [
            {
                "name": file.name,
                **sizes_mm(file.size, file.finished),
                "sha256": hashlib.sha256(file.data).hexdigest(),
            }
            for file in made
        ],
    }
    return (json.dumps({**content, "sha256": content_hash(content)}, indent=2, ensure_ascii=False) + "\n").encode()
