"""A validated job file becomes the job the program works with: names looked up, gaps filled and noted.

What is filled in is never silent: each gap leaves a sentence in `Job.assumptions`.
"""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any, Literal

from jigtemplates.lengths import Length, Measured, first_text, sold_as
from jigtemplates.parameters import entries, job
from jigtemplates.parameters.corrections import ProcessValues, corrections, values_for
from jigtemplates.parameters.fit_values import fit_choice
from jigtemplates.parameters.forms import Hinge
from jigtemplates.parameters.inlay_table import InlayTable
from jigtemplates.parameters.make_tables import BAR_MM, MakeTable
from jigtemplates.parameters.measured_uses import measured_uses
from jigtemplates.parameters.model import JobFile
from jigtemplates.parameters.plate_tables import PlateTable, plate_corner, plate_side
from jigtemplates.parameters.resolve_cut import resolved_cut
from jigtemplates.parameters.screw_pattern import ScrewPattern
from jigtemplates.parameters.tool_tables import ToolsTable
from jigtemplates.parameters.work_tables import WorkTable
from jigtemplates.profiles import Found, Profiles
from jigtemplates.say import are_inches, written_text

#: Running clearance when none is given (chosen: a bushing of nominal size just slides).
CLEARANCE = Length(Fraction(1, 10), "0.1 mm")
#: The side of a plate that its cut decides.
NOT_YET = Length(Fraction(1), "1 mm")
#: Where a tool comes from when the job itself describes it.
IN_JOB = "job"


def resolved(
    file: JobFile,
    profiles: Profiles,
    *,
    stem: str,
    source: Path | None,
    member: str | None = None,
    others: Sequence[JobFile] = (),
) -> job.Job:
    """The job of a validated file; every name in it is known to `profiles`. `stem` is the file's.

    `others` are the same file once for each further cut of the same template.
    """
    tools = _tools(file.tools, profiles)
    plate = _plate(file.plate, profiles)
    process = values_for(file.make, plate, profiles)
    make = _make(file.make, profiles, process)
    cut = resolved_cut(file.cut, plate, tools.bit.diameter.mm, source)
    if cut.side == "outside":
        plate, cut = _pattern(plate, cut, tools)
    more_cuts = tuple(resolved_cut(other.cut, plate, tools.bit.diameter.mm, source) for other in others)
    tenon, more_tenons, of_tenons = _tenons((file, *others), (cut, *more_cuts))
    inlay, of_inlay = (None, ()) if file.inlay is None else _inlay(file.inlay, tools, (cut, *more_cuts), profiles)
    return job.Job(
        title=file.title,
        stem=stem if member is None else f"{stem}-{member}",
        file_stem=stem,
        member=member,
        source=source,
        units=file.units,
        notes=file.notes,
        cut=cut,
        tools=tools,
        plate=plate,
        work=None if file.work is None else _work(file.work, cut),
        tenon=tenon,
        make=make,
        corrections=tuple(corrections(tools, process, make.targets, inlay)),
        assumptions=(
            *_assumptions(file, tools.bushing, make, are_inches(file.units, cut)),
            *of_tenons,
            *of_inlay,
        ),
        more_cuts=more_cuts,
        more_tenons=more_tenons,
        measured=tuple(measured_uses(file)),
        fit=fit_choice(file.fit, make.targets, _kerf_within(process), profiles),
        inlay=inlay,
    )


def _tools(table: ToolsTable, profiles: Profiles) -> job.Tools:
    return job.Tools(
        bit=_bit(table.bit, profiles),
        bushing=_bushing(table.bushing, profiles),
        clearance=(CLEARANCE if table.clearance is None else table.clearance).mm,
        pass_depth=_mm(table.pass_depth),
        router=None if table.router is None else table.router.entry,
    )


def _bit(written: Length | Found[entries.Bit] | entries.Bit, profiles: Profiles) -> job.Bit:
    entry, origin = _described(written, entries.Bit)
    return job.Bit(
        name=entry.name,
        diameter=entry.diameter,
        shank=_mm(entry.shank),
        cutting_length=_mm(entry.cutting_length),
        overall_length=_mm(entry.overall_length),
        kind=entry.kind,
        plunging=entry.plunging,
        note=entry.note,
        origin=origin,
        typed=isinstance(written, Length),
        owned=_owned("bits", written, profiles),
    )


def _owned(kind: str, written: object, profiles: Profiles) -> tuple[job.Owned, ...]:
    """The person's own tools that are sold as a size which was given bare."""
    if not isinstance(written, Length) or isinstance(written, Measured) or not profiles.has_own:
        return ()
    from jigtemplates.parameters.owned import owned

    return owned(kind, written, profiles)


def _described(written: Any, kind: type[Any]) -> tuple[Any, str]:
    """A tool as an entry, however it was written, and where it was read."""
    if isinstance(written, Found):
        return written.entry, written.origin
    return (kind.model_construct(diameter=written) if isinstance(written, Length) else written), IN_JOB


def _bushing(written: Length | Found[entries.Bushing] | entries.Bushing, profiles: Profiles) -> job.Bushing:
    entry, origin = _described(written, entries.Bushing)
    known = {"bore": _mm(entry.bore), "stem": _mm(entry.stem)}
    taken: dict[str, tuple[float, str]] = {}
    if origin == IN_JOB:
        same = [one for one in profiles.entries("bushings") if _diameter(one.entry) == _diameter(entry)]
        taken = {key: found for key in known if known[key] is None and (found := _agreed(same, key))}
    return job.Bushing(
        name=entry.name,
        diameter=entry.diameter,
        nut=entry.nut,
        note=entry.note,
        origin=origin,
        typed=isinstance(written, Length),
        assumed=tuple(taken),
        assumed_from=next((name for _, name in taken.values()), None),
        owned=_owned("bushings", written, profiles),
        **(known | {key: size for key, (size, _) in taken.items()}),
    )


def _diameter(bushing: Any) -> Fraction:
    """The diameter it is sold as: bushings of one trade size have one bore, whatever each measures."""
    return sold_as(bushing.diameter).exact


def _agreed(same: Iterable[Found[Any]], key: str) -> tuple[float, str] | None:
    """What all entries that state a size agree on, and the first of them; None when they differ."""
    stated = [(getattr(one.entry, key), one.name) for one in same if getattr(one.entry, key) is not None]
    if len({length.exact for length, _ in stated}) != 1:
        return None
    length, name = stated[0]
    return length.mm, name


def _plate(table: PlateTable, profiles: Profiles) -> job.Plate:
    holder: entries.Holder | None = None if table.holder is None else table.holder.entry
    width, height = plate_side(table.width, holder, "width"), plate_side(table.height, holder, "height")
    # a pattern's size is known when its cut is; the model has refused any other plate without a size or a holder
    width, height = width or NOT_YET, height or NOT_YET
    stand_off = _mm(table.stand_off)
    pattern: ScrewPattern | None = table.screws
    if holder is not None:
        stand_off = float(holder.stand_off.exact - _hang(table, holder)) if stand_off is None else stand_off
        pattern = holder.screws if pattern is None else pattern
    return job.Plate(
        width=width.mm,
        height=height.mm,
        thickness=table.thickness.mm,
        corner_radius=plate_corner(table.corner_radius, holder, width, height),
        stand_off=stand_off or 0.0,
        material=None if table.material is None else table.material.entry,
        wall=_mm(table.wall),
        label=table.label,
        holder=holder,
        screws=None if pattern is None else screws_of(pattern, profiles.find("screws", pattern.size).entry),
        rebate=table.rebate,
        turn=table.turn,
    )


def _pattern(plate: job.Plate, cut: job.Cut, tools: job.Tools) -> tuple[job.Plate, job.Cut]:
    """Plate and cut of outside work, as large and where the pattern comes to lie."""
    from jigtemplates.outside import sized

    return sized(plate, cut, tools)


def _hang(table: PlateTable, holder: entries.Holder) -> Fraction:
    """How far the middle of a rebated plate hangs below the ledge, mm; 0 for any other."""
    if not table.rebate or holder.depth is None:
        return Fraction(0)
    return table.thickness.exact - holder.depth.exact


def screws_of(table: ScrewPattern, screw: entries.Screw) -> job.Screws:
    """A pattern in mm, with what the profiles say of its screw."""
    return job.Screws(
        pattern=table.pattern,
        screw=screw,
        hole=table.hole,
        fit=table.fit,
        inset=_mm(table.inset),
        count=table.count,
        diameter=_mm(table.diameter),
        start_angle=table.start_angle or 0.0,
        points=tuple((x.mm, y.mm) for x, y in table.points or ()),
    )


def _work(table: WorkTable, cut: job.Cut) -> job.Work:
    """The stock; a gain that is open to its edge lies half its width from there, whatever the thickness is."""
    usual = cut.width / 2 if isinstance(cut.form, Hinge) else table.thickness.mm / 2
    return job.Work(
        thickness=table.thickness.mm,
        height=_mm(table.height),
        length=_mm(table.length),
        from_face=usual if table.from_face is None else table.from_face.mm,
        from_end=_mm(table.from_end),
    )


def _tenons(
    files: Sequence[JobFile], cuts: Sequence[job.Cut]
) -> tuple[job.TenonChoice | None, tuple[job.TenonChoice | None, ...], tuple[job.Assumption, ...]]:
    """The tenons of the first cut and of the others, and what was not written of them."""
    if all(file.tenon is None and getattr(file.cut, "tenon", None) is None for file in files):
        return None, (), ()
    from jigtemplates.parameters.resolve_tenon import resolved_tenons, tenon_assumptions

    inches = are_inches(files[0].units, cuts[0])
    return *resolved_tenons(files, cuts), tuple(tenon_assumptions(files, inches))


def _inlay(
    table: InlayTable, tools: job.Tools, cuts: tuple[job.Cut, ...], profiles: Profiles
) -> tuple[job.InlayChoice, tuple[job.Assumption, ...]]:
    """The plug, and what was not written of it."""
    from jigtemplates.parameters.resolve_inlay import inlay_assumptions, resolved_inlay

    bit = tools.bit if table.plug_bit is None else _bit(table.plug_bit, profiles)
    bushing = _bushing(table.plug_bushing, profiles)
    return resolved_inlay(table, bit=bit, bushing=bushing, cuts=cuts), tuple(inlay_assumptions(table, bushing))


def _make(table: MakeTable, profiles: Profiles, process: ProcessValues) -> job.Make:
    bar = process.bar
    return job.Make(
        targets=table.targets,
        kerf=process.kerf.mm,
        dxf=job.DxfChoice(_dxf_version(table, profiles), table.dxf.units, table.dxf.arcs, table.dxf.chord.mm),
        papers=tuple(profiles.find("papers", name).entry for name in table.papers),
        correction=(1.0, 1.0) if bar is None else (BAR_MM / bar.across.mm, BAR_MM / bar.up.mm),
        printed_bar=None if bar is None else (bar.across, bar.up),
        printing=_printing(table, profiles) if "print" in table.targets else None,
        mirrored=table.mirrored,
        pair=table.pair,
    )


def _printing(table: MakeTable, profiles: Profiles) -> job.PrintChoice:
    own, process = table.printing, profiles.find("processes", "print").entry
    allowance = process.allowance if own.allowance is None else own.allowance
    opening_allowance = process.opening_allowance if own.opening_allowance is None else own.opening_allowance
    return job.PrintChoice(
        allowance=_mm(allowance) or 0.0,
        opening_allowance=_mm(opening_allowance) or 0.0,
        chord=own.chord.mm,
        label=own.label,
        label_depth=own.label_depth.mm,
        formats=own.formats,
    )


def _dxf_version(table: MakeTable, profiles: Profiles) -> Literal["R2000", "R12"]:
    """What the job says, else R12 as soon as one of its processes asks for that: every reader knows it."""
    if table.dxf.version is not None:
        return table.dxf.version
    machines = [name for name in table.targets if name in ("laser", "cnc")]
    asked = [profiles.find("processes", name).entry.dxf_version for name in machines]
    return "R12" if "R12" in asked else "R2000"


def _assumptions(file: JobFile, bushing: job.Bushing, make: job.Make, inches: bool) -> Iterator[job.Assumption]:
    if file.tools.clearance is None:
        text = f"running clearance {written_text(CLEARANCE, inches)} assumed (tools.clearance is not set)"
        yield job.Assumption("tools.clearance", text)
    if bushing.assumed:
        text = f'of the bushing taken from "{bushing.assumed_from}", which has the same diameter'
        yield job.Assumption("tools.bushing", f"{' and '.join(bushing.assumed)} {text}")
    if file.work is not None and file.work.from_face is None and file.cut.shape != "hinge":
        text = "the cut is taken to be in the middle of the stock's thickness (work.from_face is not set)"
        yield job.Assumption("work.from_face", text)
    if file.make.kerf is None and make.kerf and "laser" in file.make.targets:
        text = f'kerf {first_text(make.kerf, inches, 3)} taken from the process profile "laser"'
        yield job.Assumption("make.kerf", text)
    if make.printing is not None:
        yield from _print_assumptions(file, make.printing, inches)


def _print_assumptions(file: JobFile, choice: job.PrintChoice, inches: bool) -> Iterator[job.Assumption]:
    for key, what in (("allowance", "screw holes"), ("opening_allowance", "openings")):
        taken = getattr(choice, key)
        if taken and getattr(file.make.printing, key) is None:
            text = f'{what} are printed {first_text(taken, inches, 3)} wider, taken from the process profile "print"'
            yield job.Assumption(f"make.print.{key}", text)


def _mm(length: Length | None) -> float | None:
    return None if length is None else length.mm


def _kerf_within(process: ProcessValues) -> float | None:
    """How good the kerf's measurement is, mm; None where it was not measured, or that was not said."""
    if isinstance(process.kerf, Measured):
        return _mm(process.kerf.within)
    return None if process.measured is None else _mm(process.measured.within)
