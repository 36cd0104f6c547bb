"""The command `calibrate`: options as they were typed become a correction, shown and written; or one is taken back."""

import json
import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import click

from jigtemplates.calibrate import text
from jigtemplates.calibrate.arithmetic import CALIPER, STEP, Size, slid_in, taken_by
from jigtemplates.calibrate.asked import Asked, Blamed
from jigtemplates.calibrate.change import Rewrite
from jigtemplates.calibrate.clock import day_of
from jigtemplates.calibrate.jobs import Effect, Seen, effects
from jigtemplates.calibrate.process import BarReading, KerfReading, cuts_of, kerf_proposal, printer_proposal
from jigtemplates.calibrate.proposal import Options, Proposal, length_text
from jigtemplates.calibrate.remedies import TAPE
from jigtemplates.calibrate.tool import Kind, refuse_far, tool_of, tool_proposal
from jigtemplates.calibrate.trial import cut_proposal
from jigtemplates.calibrate.undo import Step, list_path, near, steps, with_step, without_last
from jigtemplates.errors import InputError, OutputError
from jigtemplates.lengths import Length, beside_text
from jigtemplates.match.command import read_lengths
from jigtemplates.parameters.make_tables import BAR_MM
from jigtemplates.parameters.measured import FURTHEST
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.parameters.tools_file import tools_path
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.tools_command import bytes_of, sole_use
from jigtemplates.writers.files import write_all


class Typed(NamedTuple):
    """What every correction may be told, as it was typed."""

    on: str | None = None
    file: Path | None = None
    folder: Path | None = None
    jobs: Path | None = None
    sure: bool = False
    look: bool = False
    as_json: bool = False


def calibrate_kerf(typed: Typed, gap: str | None, cuts: str | None, material: str | None, thickness: str | None) -> int:
    """The laser's kerf from the gap over many cuts."""
    _needed({"--gap": gap, "--cuts": cuts}, 'calibrate kerf --gap "1.9 mm" --cuts 10 --material mdf --thickness "6 mm"')
    options = _options(typed)
    lengths = read_lengths({"--gap": gap, "--thickness": thickness})
    assert cuts is not None
    reading = KerfReading(lengths["--gap"], cuts_of(cuts), material, lengths.get("--thickness"))
    return _carry_out(kerf_proposal(reading, options, _profiles(options)), options, "Kerf of the laser")


def calibrate_tool(
    kind: Kind, name: str, typed: Typed, jobs: Sequence[Path], *,
    measured: str | None, within: str | None, opening: str | None = None, step: str | None = None,
) -> int:  # fmt: skip
    """A bit or bushing as measured, or the opening of a gauge that a bushing just slides in."""
    options = _options(typed)
    if kind == "bits":
        _needed({"--measured": measured}, 'calibrate bit "my 3/8" --measured "9.48 mm"')
    elif (measured is None) == (opening is None):
        raise InputError(
            "calibrate bushing: give one of the two: --opening, the narrowest it slides in, or --measured, by caliper"
        )
    if step is not None and opening is None:
        raise InputError("--step: belongs to --opening (leave it out)")
    if within is not None and measured is None:
        raise InputError("--within: belongs to --measured; an opening is good to half a step (leave it out)")
    lengths = read_lengths({"--measured": measured, "--within": within, "--opening": opening, "--step": step})
    profiles = _profiles(options)
    tool = tool_of(kind, name, profiles)
    new, how = _tool_size(lengths)
    inches = lengths["--opening" if opening else "--measured"].is_inch
    refuse_far(tool, new.mm, "--opening" if opening else "--measured", inches=inches)
    proposal = tool_proposal(tool, new, how, options, profiles, inches=inches, jobs=jobs)
    return _carry_out(proposal, options, tool.called[0].upper() + tool.called[1:])


def _tool_size(lengths: Mapping[str, Length]) -> tuple[Size, str]:
    opening = lengths.get("--opening")
    if opening is None:
        measured = lengths["--measured"]
        return Size(measured.mm, _within(lengths)), f"{measured}, by caliper"
    step = lengths["--step"].mm if "--step" in lengths else STEP[opening.is_inch]
    if step > FURTHEST:
        most = beside_text(FURTHEST, lengths["--step"].is_inch)
        raise InputError(f'--step: "{lengths["--step"]}" is too much for a step (at most {most})')
    smaller = length_text(opening.mm - step, inches=opening.is_inch)
    return slid_in(opening.mm, step), f"slides in an opening of {opening} and not in one of {smaller}"


def _within(lengths: Mapping[str, Length]) -> float:
    within = lengths.get("--within")
    if within is None:
        return CALIPER
    if within.exact > FURTHEST:
        most = beside_text(FURTHEST, within.is_inch)
        raise InputError(f'--within: "{within}" is too much for a measurement (at most {most})')
    return within.mm


def calibrate_cut(
    job: Path, typed: Typed, *, width: str | None, length: str | None, size: str | None, made_by: str | None,
    correct: Blamed | None, tape: str | None, within: str | None, out: Path | None, cut: str | None = None,
    gauge: bool = False, engraved: str | None = None, tenon: str | None = None,
) -> int:  # fmt: skip
    """What a test cut says, what helps, and the correction of the likeliest cause."""
    if tenon is None:
        _needed({"--measured-width": width}, f'calibrate cut {shown_name(str(job))} --measured-width "10.05 mm"')
    _fit_together(gauge=gauge, width=width, length=length, engraved=engraved, tenon=tenon)
    options = _options(typed)
    sizes = {"--measured-width": width, "--measured-length": length, "--engraved": engraved, "--tenon": tenon}
    lengths = read_lengths({**sizes, "--tape": tape, "--within": within})
    good = _within(lengths)
    if tenon is not None and within is None:
        good = taken_by(good, STEP[lengths["--engraved"].is_inch])
    asked = Asked(
        job=job,
        width=lengths["--measured-width" if tenon is None else "--tenon"],
        length=lengths.get("--measured-length"),
        within=good,
        size=size,
        cut=cut,
        by=made_by,
        blame=correct,
        tape=lengths["--tape"].mm if "--tape" in lengths else TAPE,
        out=out or Path("gauges" if gauge else "templates"),
        gauge=gauge,
        engraved=lengths.get("--engraved"),
        is_tenon=tenon is not None,
    )
    options = replace(options, beside=job.parent)
    profiles = profiles_for(job, options.folder, tools=options.tools)
    title = f"{'Fit gauge' if gauge else 'Test cut'} of {shown_name(str(job))}"
    return _carry_out(cut_proposal(asked, options, profiles), options, title)


def _fit_together(
    *, gauge: bool, width: str | None, length: str | None, engraved: str | None, tenon: str | None
) -> None:
    """InputError for options that do not go together."""
    faults = []
    if gauge and length is not None:
        faults.append("--measured-length: a gauge's cuts are shorter than the job's (leave it out)")
    faults += [
        f"{name}: belongs to a cut of the fit gauge (add --gauge, or leave it out)"
        for name, value in (("--engraved", engraved), ("--tenon", tenon))
        if value is not None and not gauge
    ]
    if tenon is not None and width is not None:
        faults.append("--tenon: stands in for --measured-width (leave one of the two out)")
    if gauge and tenon is not None and engraved is None:
        faults.append("--engraved is missing: the value engraved at the cut that takes the tenon")
    if faults:
        raise InputError(faults)


def calibrate_printer(
    typed: Typed, *, across: str | None, up: str | None, diagonal: str | None, bar: str | None, corrected: bool | None
) -> int:
    """The printer's scale from two bars."""
    _needed({"--across": across, "--up": up}, 'calibrate printer --across "99.2 mm" --up "99.6 mm"')
    options = _options(typed)
    lengths = read_lengths({"--across": across, "--up": up, "--diagonal": diagonal, "--bar": bar})
    drawn = lengths["--bar"].mm if "--bar" in lengths else float(BAR_MM)
    reading = BarReading(lengths["--across"], lengths["--up"], lengths.get("--diagonal"), drawn, corrected)
    return _carry_out(printer_proposal(reading, options, _profiles(options)), options, "Size of printed patterns")


def _needed(options: Mapping[str, str | None], example: str) -> None:
    missing = [name for name, value in options.items() if value is None]
    if missing:
        are = "is" if len(missing) == 1 else "are"
        raise InputError(f"{' and '.join(missing)} {are} missing (such as: jigtemplates {example})")


def _options(typed: Typed) -> Options:
    """What was typed, read; InputError for a day or a folder that is none."""
    if typed.jobs is not None and not typed.jobs.is_dir():
        found = "this is not a folder" if typed.jobs.exists() else "there is no such folder"
        raise InputError(f"--jobs: {shown_name(str(typed.jobs))}: {found} (give the folder that holds the job files)")
    return Options(
        on=day_of(typed.on),
        file=None if typed.file is None else tools_path(typed.file),
        folder=typed.folder,
        jobs=typed.jobs,
        sure=typed.sure,
        look=typed.look,
        as_json=typed.as_json,
    )


def _profiles(options: Options) -> Profiles:
    return profiles_for(Path("job.toml"), options.folder, tools=options.tools)


def _carry_out(proposal: Proposal, options: Options, title: str) -> int:
    """Show the correction and what it changes, and write it unless it is doubted; the exit status.

    0: written, or nothing to correct; 1: doubted, or no size of a tool explains what was measured.
    """
    before = {one.path: one.held if isinstance(one, Rewrite) else bytes_of(one.path) for one in proposal.rewrites}
    texts = {one.path: one.text() for one in proposal.rewrites}
    found = _effects(proposal, options, texts)
    doubted = bool(proposal.questions) or any(effect.impossible for effect in found)
    writes = bool(texts) and not options.look and (options.sure or not doubted)
    if writes:
        _write(proposal, options, texts, before)
    _print(proposal, options, found, title, doubted=doubted, written=writes)
    return 1 if (doubted and not options.sure) or (proposal.nothing and not _is_right(proposal)) else 0


def _is_right(proposal: Proposal) -> bool:
    return dict(proposal.numbers).get("kind") == "right"


def _effects(proposal: Proposal, options: Options, texts: Mapping[Path, str]) -> tuple[Effect, ...]:
    if not proposal.rewrites:
        return ()
    profiles = {one.path: texts[one.path] for one in proposal.rewrites if isinstance(one, Rewrite)}
    seen = Seen(options.folder, options.tools, profiles, proposal.in_jobs)
    return tuple(effects(options.folders, proposal.corrected, seen))


def _write(
    proposal: Proposal, options: Options, texts: Mapping[Path, str], before: Mapping[Path, bytes | None]
) -> None:
    """Write the files with the list for `--undo`, all or none; OutputError where one was changed meanwhile.

    The list first: what a killed run has changed can be taken back.
    """
    tools = Path(os.path.realpath(tools_path(options.file)))
    with sole_use(tools, tools.parent):
        changed = [path for path in texts if bytes_of(path) != before[path]]
        if changed:
            raise OutputError(f"{shown_name(str(path))}: was changed meanwhile (run this again)" for path in changed)
        real = {_real(path): text for path, text in texts.items()}
        undo = with_step(tools, proposal.what, options.on, real)
        write_all({list_path(tools): undo, **{path: text.encode() for path, text in real.items()}})


def _real(path: Path) -> Path:
    """Of a link the file it leads to."""
    return Path(os.path.realpath(path)) if os.path.islink(path) else path


def _print(
    proposal: Proposal, options: Options, found: Sequence[Effect], title: str, *, doubted: bool, written: bool
) -> None:
    if options.as_json:
        click.echo(json.dumps(text.as_json(proposal, options, found, doubted=doubted, written=written), indent=2))
        return
    for line in text.proposal_lines(proposal, found, title, options):
        click.echo(line)
    for line in text.question_lines(proposal.questions, found):
        click.echo(line)
    if proposal.rewrites:
        for line in text.outcome_lines(proposal, options, doubted=doubted):
            click.echo(line)


def _steps(tools: Path, file: Path | None) -> list[Step]:
    """What can be taken back; InputError where there is nothing."""
    held = steps(tools)
    if not held:
        raise InputError(f"{shown_name(str(tools_path(file)))}: no correction to take back")
    return held


def _restored(last: Step, files: Mapping[Path, bytes | None]) -> str:
    """Which files are as before, and which have more that was changed since."""
    whole, partly = list[str](), list[str]()
    for path, before in last.before.items():
        (whole if files[path] == (None if before is None else before.encode()) else partly).append(near(path))
    said = [f"{', '.join(whole)} as before"] if whole else []
    said += [f"{', '.join(partly)} as before but for what was changed since, which stays"] if partly else []
    return "; ".join(said)


def undo(file: Path | None) -> int:
    """Take the last correction back; InputError where there is none, or what it changed was changed since."""
    tools = Path(os.path.realpath(tools_path(file)))
    _steps(tools, file)  # a fault leaves no folder behind
    with sole_use(tools, tools.parent):
        held = _steps(tools, file)  # another may have taken it back meanwhile
        files = without_last(tools, held)
        write_all(files)
    with suppress(OSError):  # made for it, and empty again
        if any(data is None for data in files.values()):
            tools.parent.rmdir()
    last, left = held[-1], len(held) - 1
    more = f"; {left} more can be taken back" if left else ""
    click.echo(f"taken back: {last.what}, measured on {last.on}: {_restored(last, files)}{more}")
    return 0
