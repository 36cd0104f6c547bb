"""A kerf that was measured over many cuts, and a printer's bars, become corrections of the process profiles."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from jigtemplates.calibrate.arithmetic import bar_of, kerf_of, lean_of
from jigtemplates.calibrate.change import Place, Rewrite, Tree, bars_of, kerfs_of, place_of, rewrite, tree_of
from jigtemplates.calibrate.jobs import Corrected, percent_of
from jigtemplates.calibrate.plausible import (
    against_earlier,
    bar_questions,
    corner_questions,
    day_questions,
    kerf_questions,
    printer_questions,
)
from jigtemplates.calibrate.proposal import Options, Proposal, length_text, rounded, with_within
from jigtemplates.errors import InputError, quoted
from jigtemplates.lengths import Length, beside_text, first_text, inch_short, is_on_rule, mm_text
from jigtemplates.parameters.corrections import kerf_in
from jigtemplates.parameters.entries import Process, Sheet
from jigtemplates.parameters.make_tables import BAR_MM, CORRECTION, WIDEST_KERF
from jigtemplates.parameters.process_entries import MeasuredKerf, PrintedBar
from jigtemplates.parameters.toml_text import parse_toml
from jigtemplates.parameters.tools_file import text_or_new
from jigtemplates.profile_files import entries_of, files_of
from jigtemplates.profiles import Found, Profiles

#: Most cuts that one gap is divided by (chosen: as `gauge kerf` makes).
MOST_CUTS = 100


@dataclass(frozen=True, slots=True)
class KerfReading:
    """The gap over so many cuts in one sheet."""

    gap: Length
    cuts: int
    sheet: str | None
    thickness: Length | None


def cuts_of(typed: str) -> int:
    """A number of cuts; InputError for anything else."""
    text = typed.strip()
    if not (text.isascii() and text.isdigit() and len(text) < 4 and 1 <= int(text) <= MOST_CUTS):
        raise InputError(
            f"--cuts: {quoted(typed)} is not a number of cuts (write a whole number from 1 to {MOST_CUTS})"
        )
    return int(text)


def kerf_proposal(reading: KerfReading, options: Options, profiles: Profiles) -> Proposal:
    """The kerf of the laser in a sheet; InputError for a sheet that is not known, and for a gap that is no kerf."""
    sheet = None if reading.sheet is None else _sheet(reading.sheet, profiles)
    new = kerf_of(reading.gap.mm, reading.cuts)
    inches = reading.gap.is_inch
    if new.mm > WIDEST_KERF:
        raise InputError(
            f'--gap: "{reading.gap}" over {_cuts(reading.cuts)} is {first_text(new.mm, inches, 3)} each, too much for '
            f"a laser (at most {beside_text(WIDEST_KERF, inches)}; is the unit right?)"
        )
    return kerf_correction(
        sheet,
        reading.thickness,
        new.mm,
        new.within,
        f"{reading.gap} over {_cuts(reading.cuts)}",
        options,
        profiles,
        inches=inches,
    )


def _cuts(count: int) -> str:
    return f"{count} cut{'s' * (count != 1)}"


def kerf_correction(
    sheet: Sheet | None, thickness: Length | None, mm: float, within: float, how: str, options: Options,
    profiles: Profiles, *, inches: bool, by_cut: bool = False,
) -> Proposal:  # fmt: skip
    """The laser's profile with a kerf of so many mm in a sheet, measured over a gap or told by a test cut."""
    laser = profiles.find("processes", "laser")
    size, good = rounded(mm, inches=inches), rounded(within, inches=inches)
    new = MeasuredKerf.model_validate(
        {"sheet": sheet.name if sheet else None, "thickness": thickness, "width": size, "within": good}
    )
    same = next((kerf for kerf in laser.entry.kerfs if kerf.of == new.of), None)
    where = f" in {new.text}" if new.text else ""
    return Proposal(
        what=f"kerf of the laser{where}",
        facts=(
            ("measured", how),
            ("until now", _kerf_until_now(laser.entry, new)),
            ("from now", f"{with_within(mm, within, inches=inches)}, the full width{where}"),
        ),
        questions=(
            *kerf_questions(size.mm, sheet, thickness.mm if thickness else None, inches=inches, by_cut=by_cut),
            *against_earlier(
                mm, within, None if same is None else same.width, None if same is None else same.within, inches=inches
            ),
            *day_questions(options.on, None if same is None else same.measured_on),
        ),
        corrected=Corrected("laser"),
        rewrites=(_kerf_rewrite(laser, new, options),),
        numbers=(
            ("sheet", new.sheet),
            ("thickness", thickness.mm if thickness else None),
            ("before", _kerf_before(laser.entry, new)),
            ("now", size.mm),
            ("within", good.mm),
        ),
    )


def _sheet(name: str, profiles: Profiles) -> Sheet:
    return profiles.find("sheets", name, where="--material").entry


def _in_force(laser: Process, new: MeasuredKerf) -> MeasuredKerf | None:
    return kerf_in(laser, new.sheet, new.thickness.mm if new.thickness else float("inf"))


def _kerf_before(laser: Process, new: MeasuredKerf) -> float:
    held = _in_force(laser, new)
    return laser.kerf.mm if held is None else held.width.mm


def _kerf_until_now(laser: Process, new: MeasuredKerf) -> str:
    held = _in_force(laser, new)
    if held is None:
        return f"{laser.kerf} in any sheet" if laser.kerf.exact else "none allowed for"
    day = f", measured on {held.measured_on}" if held.measured_on else ""
    return f"{held.width} in {held.text or 'any sheet'}{day}"


def _kerf_rewrite(laser: Found[Any], new: MeasuredKerf, options: Options) -> Rewrite:
    place = place_of("processes", "laser", laser, options.file)
    if place.raw is not None and "kerfs" in place.raw:
        held, known = place.raw["kerfs"], _kerfs_in(place)
    else:
        held, known = [tree_of(kerf) for kerf in laser.entry.kerfs], laser.entry.kerfs
    kerfs = kerfs_of(held, known, new, options.on)
    return rewrite(place, "kerfs", kerfs, {"kerfs": kerfs})


def _kerfs_in(place: Place) -> tuple[MeasuredKerf, ...]:
    """The kerfs of a file's own entry, in its order."""
    read = files_of(parse_toml(text_or_new(place.path), str(place.path)), place.path)
    entry = next(found.entry for found in entries_of(read, "processes") if found.name == "laser")
    assert isinstance(entry, Process)
    return entry.kerfs


@dataclass(frozen=True, slots=True)
class BarReading:
    """Two bars and perhaps the distance of their far ends, as they were measured."""

    across: Length
    up: Length
    diagonal: Length | None
    #: length they are drawn with, mm
    drawn: float
    #: whether the page was printed with the correction in force; None: that was not said
    is_corrected: bool | None


def printer_proposal(reading: BarReading, options: Options, profiles: Profiles) -> Proposal:
    """What the printer's bars measured, in the paper's profile; InputError for bars that no printer's error makes."""
    paper = profiles.find("processes", "paper")
    held = paper.entry.printed_bar
    if held is not None and reading.is_corrected is None:
        raise InputError(
            "printer: a correction is in force already (give --corrected where the page says that it is corrected, and "
            "--uncorrected where it was printed as it is)"
        )
    base = (held.across.mm, held.up.mm) if held is not None and reading.is_corrected else (BAR_MM, BAR_MM)
    bars = [bar_of(one.mm, reading.drawn, b) for one, b in zip((reading.across, reading.up), base, strict=True)]
    _refuse_no_error(reading, bars)
    texts = [length_text(bar, inches=False) for bar in bars]
    scale = BAR_MM / reading.drawn
    diagonal = None if reading.diagonal is None else reading.diagonal.mm * scale
    measured = (reading.across.mm * scale, reading.up.mm * scale)
    which = bar_questions(reading.across.mm, reading.up.mm, reading.drawn)
    odd = (*which, *printer_questions(bars[0], bars[1]), *corner_questions(*measured, diagonal))
    place = place_of("processes", "paper", paper, options.file)
    tree = bars_of(_bars_held(place.raw, held), texts[0], texts[1], options.on)
    return Proposal(
        what="size of printed patterns",
        facts=(
            ("measured", _bars_text(reading)),
            ("until now", "as they are" if held is None else _percents(held.across.mm, held.up.mm)),
            ("from now", _percents(*bars)),
            *(() if diagonal is None or odd else (("corner", f"{lean_of(*measured, diagonal) + 90:.2f}°"),)),
        ),
        questions=(*odd, *day_questions(options.on, None if held is None else held.measured_on)),
        corrected=Corrected("paper"),
        rewrites=(rewrite(place, "printed_bar", tree, {"printed_bar": tree}),),
        numbers=(("across", round(bars[0], 6)), ("up", round(bars[1], 6))),
    )


def _bars_held(raw: Tree | None, held: PrintedBar | None) -> Tree | None:
    if raw is not None and isinstance(raw.get("printed_bar"), dict):
        table: Tree = raw["printed_bar"]
        return table
    return None if held is None else tree_of(held)


def _refuse_no_error(reading: BarReading, bars: list[float]) -> None:
    faults = [
        f'{option}: "{written}" for a bar of {_drawn(reading)} is too far off to be a printer\'s error (up to '
        "3 %; print again at 100 %, without fitting to the page)"
        for option, written, bar in zip(("--across", "--up"), (reading.across, reading.up), bars, strict=True)
        if not CORRECTION[0] <= BAR_MM / Fraction(bar) <= CORRECTION[1]
    ]
    if faults:
        raise InputError(faults)


def _bars_text(reading: BarReading) -> str:
    on = (
        ""
        if reading.is_corrected is None
        else f", on {'a corrected' if reading.is_corrected else 'an uncorrected'} page"
    )
    return f"{reading.across} across and {reading.up} up, for bars of {_drawn(reading)}{on}"


def _drawn(reading: BarReading) -> str:
    """Length the bars are drawn with, in inches where they were measured so and it is a usual fraction."""
    return inch_short(reading.drawn) if reading.across.is_inch and is_on_rule(reading.drawn) else mm_text(reading.drawn)


def _percents(across: float, up: float) -> str:
    return f"printed at {percent_of(across)} across and {percent_of(up)} up"
