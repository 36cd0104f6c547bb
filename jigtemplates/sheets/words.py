"""What is said of sheets: text for terminal and page, and the object that `--json` prints."""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from jigtemplates.report import DECIMALS
from jigtemplates.sheets.choice import Choice
from jigtemplates.sheets.laying import LaidSheet, length_words, size_words, stock_words
from jigtemplates.sheets.plates import Group, Plate

if TYPE_CHECKING:
    from jigtemplates.sheets.making import Drawn, Sheets

#: A strip that is left is worth a word from this width on, mm (chosen: a small template comes out of it).
USEFUL = 60.0

#: Common practice, no source.
CAUTIONS = {
    "laser": (
        "Never laser PVC, vinyl or unknown plastic; never leave a running laser.",
        "A small piece that falls may tip up into the head: stop before you reach in.",
    ),
    "cnc": (
        "Fasten the sheet and each plate before its edge is cut: tape, vacuum, or tabs on the outer edge of the plate, "
        "never on an edge that guides the bushing.",
        "Look that no clamp stands where the cutter goes; wear eye, ear and dust protection.",
    ),
}
ORDER = "Work in the order of the file: marks, holes, every opening, and only then the edges of the plates."


def material_words(group: Group, choice: Choice) -> str:
    """ "mdf, 6 mm"."""
    name = group.material.name if group.material else "material not named"
    return f"{name}, {length_words(group.thickness, choice)}"


def share_words(share: float) -> str:
    """ "71 %"."""
    return f"{100 * share:.0f} %"


def counted(sheet: LaidSheet) -> dict[Plate, int]:
    """The plates of a sheet, each once with how many there are, in the order of the jobs."""
    found = Counter(laid.plate for laid in sheet.plates)
    return {plate: found[plate] for plate in sheet.group.plates if plate in found}


def rest_words(sheet: LaidSheet, choice: Choice) -> str | None:
    """The strip that is left whole, as "600 x 180 mm"; None for one too narrow to be of use."""
    return size_words(sheet.rest, choice) if min(sheet.rest) >= USEFUL else None


def sheet_lines(made: "Sheets") -> Iterator[tuple[str, str]]:
    """For each sheet its head and the plates on it; a line about all sheets of a group comes before, with head ""."""
    choice = made.choice
    for layout in made.layouts:
        sheets, group = layout.sheets, layout.group
        laid = sum(len(sheet.plates) for sheet in sheets)
        number = f"{len(sheets)} sheet{'s' * (len(sheets) != 1)}"
        plates = f"{laid} of {group.count} plate{'s' * (group.count != 1)}"
        yield "", f"{group.machine}: {material_words(group, choice)}: {plates} on {number}"
        for sheet in sheets:
            yield f"sheet {sheet.number}", _sheet_line(sheet, choice)


def _sheet_line(sheet: LaidSheet, choice: Choice) -> str:
    plates = ", ".join(
        f"{count} x {plate.name}" if count > 1 else plate.name for plate, count in counted(sheet).items()
    )
    rest = rest_words(sheet, choice)
    left = f"; {rest} left whole" if rest else ""
    return f"{stock_words(sheet.stock, choice)}, {share_words(sheet.share)} used: {plates}{left}"


def as_json(made: "Sheets", drawn: Sequence["Drawn"]) -> dict[str, Any]:
    """Lengths in mm, the share of a sheet as 0 to 1, places from a sheet's lower-left corner.

    x and y are those of the lower-left corner of the box round the plate as it lies; "turned" is 90 for a quarter to
    the left, else 0. "zero" is where (0, 0) of the sheet's files lies on the sheet.
    """
    return {
        "name": made.name,
        "sheets": [_sheet(one, made) for one in drawn],
        "findings": [
            {"level": one.level.value, "code": one.code, "where": one.where, "message": one.message}
            for one in made.findings
        ],
        "files": [file.path for file in made.files],
    }


def _sheet(one: "Drawn", made: "Sheets") -> dict[str, Any]:
    sheet, rules = one.sheet, one.sheet.rules
    return {
        "process": sheet.group.machine,
        "material": sheet.group.material.name if sheet.group.material else None,
        "thickness": _round(sheet.group.thickness),
        "number": sheet.number,
        "width": _round(sheet.stock.width.mm),
        "height": _round(sheet.stock.height.mm),
        "gap": _round(rules.gap),
        "margin": _round(rules.margin),
        "share_used": _round(sheet.share),
        "left_whole": [_round(side) for side in sheet.rest],
        "zero": [_round(side) for side in one.drawn.zero],
        "files": [one.dxf_name, one.svg_name],
        "plates": [
            {
                "plate": laid.plate.name,
                "title": laid.plate.title,
                "mirrored": laid.plate.report.job.make.mirrored,
                "x": _round(laid.x),
                "y": _round(laid.y),
                "width": _round(laid.size[0]),
                "height": _round(laid.size[1]),
                "turned": 90 if laid.turned else 0,
                "kerf": _round(laid.plate.kerf),
            }
            for laid in sheet.plates
        ],
    }


def _round(number: float) -> float:
    return round(number, DECIMALS) + 0.0
