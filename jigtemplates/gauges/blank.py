"""What a gauge is made from and by: options as they were typed, read with all their faults at once."""

import math
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from typing import TypeVar

from jigtemplates.checks.finding import Finding, note, stop, warning
from jigtemplates.checks.material import WIDEST_KERF
from jigtemplates.errors import InputError, quoted
from jigtemplates.gauges.enter import argument
from jigtemplates.lengths import Length, Unit, beside_text, first_text
from jigtemplates.match.command import read_lengths
from jigtemplates.parameters.corrections import kerf_in
from jigtemplates.parameters.entries import Process, Sheet
from jigtemplates.parameters.job import DxfChoice
from jigtemplates.parameters.make_tables import WIDEST_KERF as MOST_KERF
from jigtemplates.parameters.process_entries import MeasuredKerf
from jigtemplates.profiles import Profiles

#: Steps smaller than this are lost in what a machine repeats to, mm (chosen: a hundredth of a millimetre or two of
#: play in the drive, and as much in the edge).
REPEATS = 0.03

#: The row of a laser without a kerf begins this much lower, mm: openings come out wider by a kerf, 0.08 to 0.45 mm
#: overall (laser cutting table, read; see references). Chosen: a usual one.
KERF_ALLOWANCE = Fraction(2, 10)

#: So many measured kerfs are named at most (chosen: a line stays readable).
MOST_TOLD = 3

#: Chord of facets, mm; gauges are written with arcs, so it is not used.
_CHORD = 0.01

_SHEET = re.compile(r"\s*[x×]\s*", re.IGNORECASE)

Read = TypeVar("Read")


@dataclass
class Faults:
    """Collects the lines of several readings, so that a person sees them all."""

    lines: list[str] = field(default_factory=list)

    def of(self, read: Callable[[], Read]) -> Read | None:
        """What was read; None where it had faults, which are kept."""
        try:
            return read()
        except InputError as error:
            self.lines += [line for line in error.lines if line not in self.lines]
            return None

    def stop(self) -> None:
        """Raise InputError where there were any."""
        if self.lines:
            raise InputError(self.lines)


@dataclass(frozen=True, slots=True)
class Blank:
    """The sheet a gauge is cut from, and the machines it is cut on."""

    targets: tuple[str, ...]
    material: Sheet | None
    thickness: Length | None
    #: full width the beam removes, for which the contours are moved, mm
    kerf: float
    dxf: DxfChoice
    #: width and height of the piece it must come out of, mm; None where it was not said
    sheet: tuple[float, float] | None = None
    #: options that would use a kerf that was measured, where none is known of this sheet; "" where there are none
    measured: str = ""

    @property
    def named(self) -> str:
        """Material and thickness, such as "mdf 6 mm"; empty where neither was said."""
        parts = (self.material.name if self.material else "", self.thickness.text if self.thickness else "")
        return " ".join(part for part in parts if part)

    @property
    def lower(self) -> Fraction:
        """How much lower a usual row begins, mm: openings of a laser without a kerf come out wider than drawn."""
        return KERF_ALLOWANCE if "laser" in self.targets and not self.kerf else Fraction(0)

    @property
    def wall(self) -> float:
        """Least wall between openings and to the edge, mm: the material's, else 6 (chosen: that of mdf)."""
        return self.material.min_wall.mm if self.material else 6.0


@dataclass(frozen=True, slots=True)
class BlankAsked:
    """The options about it as they were typed."""

    targets: Sequence[str] = ("laser", "cnc")
    material: str | None = None
    thickness: str | None = None
    kerf: str | None = None
    sheet: str | None = None
    #: of the DXF files
    units: Unit | None = None


def blank_of(asked: BlankAsked, profiles: Profiles, *, inches: bool = False) -> Blank:
    """The blank; InputError with all faults. With inches the DXF files are in them where nothing else was asked for."""
    faults = Faults()
    material = asked.material
    sheet = None if material is None else faults.of(lambda: profiles.find("sheets", material, where="--material").entry)
    lengths = faults.of(lambda: read_lengths({"--thickness": asked.thickness})) or {}
    piece = faults.of(lambda: None if asked.sheet is None else read_sheet(asked.sheet))
    targets = faults.of(lambda: targets_of(asked.targets)) or ()
    process = faults.of(lambda: _process(targets[0] if targets else "laser", profiles))
    thickness = lengths.get("--thickness")
    kerf = faults.of(lambda: _kerf(asked, targets, sheet, thickness, profiles))
    faults.stop()
    assert kerf is not None
    assert process is not None
    dxf = DxfChoice(process.dxf_version, asked.units or ("in" if inches else "mm"), "bulges", _CHORD)
    told = "" if kerf or "laser" not in targets else _told_kerfs(asked, sheet, thickness, _process("laser", profiles))
    return Blank(targets, sheet, thickness, kerf, dxf, piece, told)


def targets_of(names: Sequence[str]) -> tuple[str, ...]:
    """Laser before cnc; InputError for paper, and for one named twice."""
    if "paper" in names:
        raise InputError(
            "--for: a paper pattern is good to a few tenths of a millimetre, so this gauge is not made on paper "
            "(write laser or cnc)"
        )
    if "print" in names:
        raise InputError("--for: a gauge is not made as a printed plate (write laser or cnc)")
    doubles = [name for at, name in enumerate(names) if name in names[:at]]
    if doubles:
        raise InputError(f"--for: {quoted(doubles[0])} stands there twice (keep one)")
    return tuple(name for name in ("laser", "cnc") if name in names)


def _process(name: str, profiles: Profiles) -> Process:
    return profiles.find("processes", name).entry


def _kerf(
    asked: BlankAsked, targets: Sequence[str], sheet: Sheet | None, thickness: Length | None, profiles: Profiles
) -> float:
    """What was typed, else what was measured in this sheet, else what the profile says; only a laser has one."""
    if asked.kerf is None:
        if "laser" not in targets:
            return 0.0
        laser = _process("laser", profiles)
        name, thick = sheet.name if sheet else None, thickness.mm if thickness else math.inf
        measured = kerf_in(laser, name, thick)
        return (laser.kerf if measured is None else measured.width).mm
    if targets and "laser" not in targets:
        raise InputError("--kerf: only a laser's file allows for it (leave it out, or add laser to --for)")
    width = _zero_or_more("--kerf", asked.kerf)
    if width.mm > MOST_KERF:
        most = beside_text(MOST_KERF, width.is_inch)
        raise InputError(f"--kerf: {quoted(asked.kerf)} is too much for a laser (at most {most})")
    return width.mm


def _told_kerfs(asked: BlankAsked, sheet: Sheet | None, thickness: Length | None, laser: Process) -> str:
    """Options that name a sheet in which the kerf was measured, as far as they agree with what was typed."""
    if asked.kerf is not None:
        return ""
    thick = thickness.mm if thickness else math.inf
    fitting = (
        one
        for one in laser.kerfs
        if (sheet is None or one.sheet == sheet.name)
        and (thickness is None or one.thickness is None or kerf_in(laser, one.sheet, thick) is not None)
    )
    return ", or ".join(list(dict.fromkeys(filter(None, map(_sheet_options, fitting))))[:MOST_TOLD])


def _sheet_options(kerf: MeasuredKerf) -> str:
    material = "" if kerf.sheet is None else f"--material {argument(kerf.sheet)}"
    thickness = "" if kerf.thickness is None else f"--thickness {argument(kerf.thickness.text)}"
    return f"{material} {thickness}".strip()


def _zero_or_more(option: str, typed: str) -> Length:
    """A length that may be 0; InputError names the option."""
    may_be_zero = "--clearance"  # of those that `match` reads, it may be
    try:
        return read_lengths({may_be_zero: typed})[may_be_zero]
    except InputError as error:
        raise InputError(line.replace(may_be_zero, option, 1) for line in error.lines) from None


def read_sheet(typed: str) -> tuple[float, float]:
    """Width and height of a piece of sheet, mm: "600 mm x 300 mm", "600 x 300 mm", "24 x 12 in".

    InputError where it is not two lengths.
    """
    parts = _SHEET.split(typed.strip())
    if len(parts) != 2 or not all(parts):
        raise InputError(f'--sheet: {quoted(typed)} is not a width and a height (write "600 x 300 mm")')
    unit = re.search(r'(mm|in|["″”])\s*$', parts[1])
    if unit and not re.search(r'(mm|in|["″”])\s*$', parts[0]):
        parts[0] += f" {unit[1]}"  # the last unit stands for both
    faults = Faults()
    sides = [faults.of(partial(_side, part)) for part in parts]
    faults.stop()
    width, height = (side.mm for side in sides if side is not None)
    return width, height


def _side(text: str) -> Length:
    return read_lengths({"--sheet": text})["--sheet"]


@dataclass(frozen=True, slots=True)
class Keys:
    """What a person changes when something is in the way: options, or keys of the job."""

    material: str = "--material"
    targets: str = "--for"
    kerf: str = "--kerf"
    #: whether the reading is entered as the size of a tool, which the kerf would spoil
    is_of_tool: bool = True


OPTIONS = Keys()


def blank_findings(
    blank: Blank, step: float | None, *, says_kerf: bool = True, keys: Keys = OPTIONS, inches: bool = False
) -> tuple[Finding, ...]:
    """What is to be looked at in material, kerf and step (mm); `says_kerf` where a kerf that is not known matters.

    With inches they are said first.
    """
    laser = _laser_findings(blank, says_kerf, keys, inches) if "laser" in blank.targets else ()
    return (*laser, *_step_findings(step, inches))


def _laser_findings(blank: Blank, says_kerf: bool, keys: Keys, inches: bool) -> Iterable[Finding]:
    if blank.material is None:
        yield note(
            "material-unknown",
            keys.material,
            "the laser file is made without knowing the material: never put PVC, vinyl or unknown plastic in a laser",
        )
    elif not blank.material.laser:
        yield stop(
            "never-laser",
            keys.material,
            f"{blank.material.name} must not go into a laser: take another material, or leave laser out of "
            f"{keys.targets}",
        )
    if says_kerf and blank.kerf == 0:
        yield _kerf_not_set(keys, blank.measured)
    elif blank.kerf > WIDEST_KERF:
        yield warning(
            "kerf-implausible",
            keys.kerf,
            f"a kerf of {first_text(blank.kerf, inches, 3)} is wider than a laser's usual "
            f"{'0.003 to 0.018 in (0.08 to 0.45 mm)' if inches else '0.08 to 0.45 mm'}: give the full width that "
            "the beam removes, measured over many cuts",
        )


def _kerf_not_set(keys: Keys, measured: str) -> Finding:
    words = (
        "the laser file carries no kerf allowance, so every opening comes out one kerf wider than it says and the "
        "reading is that much lower, unless your laser's program allows for it"
    )
    if keys.is_of_tool:
        first = "measure the kerf first (jigtemplates gauge kerf)"
        there = f"a measured one is in your profile, so say which sheet this is ({measured})"
        how = there if measured else first
        return warning(
            "kerf-not-set", keys.kerf, f"{words}: entered as it is, the kerf would count as the tool's; {how}"
        )
    return note("kerf-not-set", keys.kerf, f"{words}: it then holds only for templates made the same way")


def _step_findings(step: float | None, inches: bool) -> Iterable[Finding]:
    if step is not None and step < REPEATS - 1e-9:
        yield warning(
            "step-too-fine",
            "--step",
            f"steps of {first_text(step, inches, 3)} are smaller than what a machine repeats to, about "
            f"{first_text(REPEATS, inches)}: neighbouring openings may come out alike or in the wrong order; take "
            f"{'0.002 in (0.05 mm)' if inches else '0.05 mm'}",
        )
