"""What was measured and is in force for a job: kerf and printer from the process profiles, tools as measured.

What a job says itself comes first; then what was measured in its sheet, then what the profile says of any sheet.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jigtemplates.lengths import Length, Measured
from jigtemplates.parameters import job
from jigtemplates.parameters.make_tables import MakeTable, PrintedBarTable
from jigtemplates.parameters.process_entries import MeasuredKerf, PrintedBar, Process
from jigtemplates.profiles import Profiles

#: A sheet this much thinner or thicker is still the one a kerf was measured in, mm (sheets run 0.2 to 0.5 mm under
#: the size they are sold as: common practice, no source).
SAME_SHEET = 0.5


@dataclass(frozen=True, slots=True)
class ProcessValues:
    """What a job and the process profiles say of laser and printer."""

    #: full width the beam removes
    kerf: Length
    #: the measurement it comes from; None where the job says it, or the profile of any sheet
    measured: MeasuredKerf | None
    #: what the bars of an uncorrected page measured; None when nothing was measured
    bar: PrintedBarTable | None


def values_for(table: MakeTable, plate: job.Plate, profiles: Profiles) -> ProcessValues:
    """Kerf and printed bars for a job's [make] table and plate."""
    bar = table.printed_bar
    if bar is None and "paper" in table.targets:
        bar = profiles.find("processes", "paper").entry.printed_bar
    if table.kerf is not None:
        return ProcessValues(table.kerf, None, bar)
    laser = profiles.find("processes", "laser").entry
    measured = kerf_in(laser, None if plate.material is None else plate.material.name, plate.thickness)
    return ProcessValues(laser.kerf if measured is None else measured.width, measured, bar)


def kerf_in(laser: Process, sheet: str | None, thickness: float) -> MeasuredKerf | None:
    """The kerf measured in that sheet (thickness in mm), the nearest thickness first; None where there is none.

    A kerf measured in a sheet that was not named counts for every sheet that has none of its own.
    """
    fitting = [kerf for kerf in laser.kerfs if kerf.sheet in (None, sheet) and _apart(kerf, thickness) <= SAME_SHEET]
    return min(
        fitting,
        key=lambda kerf: (kerf.sheet is None, kerf.thickness is None, _apart(kerf, thickness)),
        default=None,
    )


def _apart(kerf: MeasuredKerf, thickness: float) -> float:
    return 0.0 if kerf.thickness is None else abs(kerf.thickness.mm - thickness)


def corrections(
    tools: job.Tools, process: ProcessValues, targets: Iterable[str], inlay: job.InlayChoice | None = None
) -> Iterator[job.Correction]:
    """Every dated measurement that the job is computed with; a bit that the plug shares is said once."""
    sizes = [("tools.bit", tools.bit.diameter), ("tools.bushing", tools.bushing.diameter)]
    if inlay is not None:
        sizes += [("inlay.plug_bit", inlay.bit.diameter)] if inlay.bit is not tools.bit else []
        sizes += [("inlay.plug_bushing", inlay.bushing.diameter)]
    for where, length in sizes:
        if isinstance(length, Measured) and length.measured_on is not None:
            text = f"computed with {length}, sold as {length.nominal}"
            yield job.Correction(where, text, length.measured_on)
    kerf = process.measured
    if kerf is not None and kerf.measured_on is not None and "laser" in targets:
        yield job.Correction("make.kerf", f"the laser's kerf is {kerf.width}{_in(kerf)}", kerf.measured_on)
    if isinstance(process.bar, PrintedBar) and process.bar.measured_on is not None:
        bars = f"the printer's bars of 100 mm are {process.bar.across} across and {process.bar.up} up"
        yield job.Correction("make.printed_bar", bars, process.bar.measured_on)


def _in(kerf: MeasuredKerf) -> str:
    return f" in {kerf.text}" if kerf.text else ""
