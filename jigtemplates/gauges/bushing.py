"""The bushing gauge: a row of openings from below to above a guide bushing. Which one does it just slide in?

The openings are slots, not round holes. A template guides the bushing between two straight edges, so its width is what
counts, and a hole would also ask whether bushing and hole are round. Each is longer than the bushing by as much again,
20 mm at most, so that the hand feels it slide from end to end.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from jigtemplates.cautions import LAST
from jigtemplates.checks.finding import Finding, stop, warning
from jigtemplates.errors import InputError
from jigtemplates.facts import diameter_text
from jigtemplates.gauges import enter
from jigtemplates.gauges.blank import Blank, BlankAsked, Faults, blank_findings, blank_of
from jigtemplates.gauges.gauge import Gauge, Plate, Step, Words
from jigtemplates.gauges.layout import (
    GRAIN,
    SHEET,
    Cell,
    OwnPlate,
    own_plate,
    plate_region,
    smallest_plate,
    titled,
    upright_slot,
)
from jigtemplates.gauges.row import Asked, Row, row_of, said
from jigtemplates.gauges.stem import slug
from jigtemplates.given_tool import Option, given_tools
from jigtemplates.lengths import Length, first_text, parse_length, sold_as
from jigtemplates.marks import datum_mark
from jigtemplates.profiles import Profiles
from jigtemplates.say import sides_text

#: How far a bushing slides at most, mm (chosen: a hand feels shake and binding over two centimetres).
TRAVEL = 20.0
#: A row that ends this far from the bushing is a slip of the unit, mm (chosen).
FURTHEST = 2.0


@dataclass(frozen=True, slots=True)
class Bushing:
    """The bushing as it was named."""

    #: as it was typed: a name from the profiles, or a diameter
    name: str
    #: the measured diameter where there is one
    diameter: Length


def bushing_gauge(typed: str, asked: Asked, blank: BlankAsked, profiles: Profiles) -> Gauge:
    """The gauge for a bushing; InputError has every fault of what was typed."""
    faults = Faults()
    bushing = faults.of(lambda: _bushing(typed, profiles))
    inches = bushing is not None and asked.in_inches(bushing.diameter)
    sheet = faults.of(lambda: blank_of(blank, profiles, inches=inches))
    lower = sheet.lower if sheet else Fraction(0)
    size = bushing.diameter if bushing else Length(Fraction(10), "10 mm")  # faults of the row show all the same
    row = faults.of(lambda: row_of(size, asked, lower=lower))
    if bushing and row:
        faults.of(lambda: _near(row, bushing))
    faults.stop()
    assert bushing is not None
    assert sheet is not None
    assert row is not None
    return _gauge(bushing, row, sheet)


def _bushing(typed: str, profiles: Profiles) -> Bushing:
    tool = given_tools((Option("--bushing", "bushings", typed),), profiles)[0]
    assert tool is not None
    if tool.named:
        return Bushing(tool.text, profiles.find("bushings", tool.text).entry.diameter)
    return Bushing(tool.text, parse_length(tool.text))


def _near(row: Row, bushing: Bushing) -> None:
    first, last, size = float(row.values[0]), float(row.values[-1]), bushing.diameter.mm
    if first > size + FURTHEST or last < size - FURTHEST:
        raise InputError(
            f"--from: the row, {row.span}, is nowhere near the bushing, {said(size, row.inches)} (is the unit right?)"
        )


def _gauge(bushing: Bushing, row: Row, blank: Blank) -> Gauge:
    texts = tuple(row.text(value) for value in row.values)
    widest = float(row.values[-1])
    length, grain = float(math.ceil(widest + min(widest, TRAVEL))), GRAIN[row.inches]
    cell = Cell(widest, length, blank.wall, texts, grain=grain)
    own = own_plate(cell, blank.sheet or SHEET)
    found = (
        *_outside(row, bushing),
        *blank_findings(blank, row.step, inches=row.inches),
        *_too_large(own, cell, blank, row.inches),
    )
    plate = own or smallest_plate(cell)
    steps = tuple(_step(row, plate, cell, index) for index in range(len(texts)))
    region = plate_region(plate.width, plate.height)
    values, marks = plate.grid.values(), datum_mark(region, [step.opening for step in steps])
    facts = [f"bushing {sold_as(bushing.diameter)}", f"opening widths in {row.unit_word}", *filter(None, [blank.named])]
    title = titled(facts, region, [*(step.opening for step in steps), *values, *marks], plate.title_middle)
    return Gauge(
        kind="bushing",
        stem=f"gauge-bushing-{slug(bushing.name)}",
        title=f"Bushing gauge, {bushing.name}",
        plate=Plate(plate.width, plate.height, 0.0, blank.thickness.mm if blank.thickness else None, blank.material),
        targets=blank.targets,
        kerf=blank.kerf,
        dxf=blank.dxf,
        steps=steps,
        engraved=(*values, *title),
        marks=marks,
        words=_words(bushing, row, blank, cell),
        data=(("bushing", {"name": bushing.name, "diameter": bushing.diameter.mm}), ("unit", row.unit)),
        findings=found,
        inches=row.inches,
    )


def _step(row: Row, plate: OwnPlate, cell: Cell, index: int) -> Step:
    width = float(row.values[index])
    slot = upright_slot(cell.length, width, plate.grid.center(index))
    return Step(row.text(row.values[index]), width, slot, width)


def _outside(row: Row, bushing: Bushing) -> tuple[Finding, ...]:
    first, last, size = row.values[0], row.values[-1], bushing.diameter.exact
    if first <= size <= last:
        return ()
    side = "above" if first > size else "below"
    return (
        warning(
            "bushing-outside-row",
            "--from",
            f"the whole row, {row.span}, is {side} the bushing, {said(bushing.diameter.mm, row.inches)}: it may slide "
            "in all of the openings or in none",
        ),
    )


def _too_large(own: OwnPlate | None, cell: Cell, blank: Blank, inches: bool) -> tuple[Finding, ...]:
    """A stop where the openings do not fit the sheet."""
    return () if own is not None else (too_large(cell, blank, inches=inches),)


def too_large(cell: Cell, blank: Blank, *, inches: bool) -> Finding:
    """The stop about a sheet, or about the largest plate where none was named."""
    need, (width, height) = smallest_plate(cell), blank.sheet or SHEET
    return stop(
        "does-not-fit-sheet",
        "--sheet",
        f"{len(cell.texts)} openings take a plate of {sides_text(need.width, need.height, inches=inches)} or the like, "
        f"more than {sides_text(width, height, inches=inches)}: take fewer of them (--steps), or a larger "
        "sheet (--sheet)",
    )


def _words(bushing: Bushing, row: Row, blank: Blank, cell: Cell) -> Words:
    first = row.named(row.values[0])
    laser = () if "laser" not in blank.targets else (("laser kerf", kerf_text(blank.kerf, row.inches)),)
    plate = (("plate", blank.named),) if blank.named else ()
    return Words(
        facts=(
            ("bushing", _named(bushing)),
            ("openings", f"{len(row.values)} openings, {row.span}, {first_text(cell.length, row.inches)} long"),
            *plate,
            *laser,
        ),
        steps=(
            "Make the plate as you make your templates: same sheet, same machine, same settings. Take off nothing with "
            "sandpaper.",
            "Take the bushing out of the router, clean it, and try it from the engraved side, with the stem square to "
            f"the plate. Begin with the narrowest opening, {first}.",
            "Go up until it just slides from end to end under its own weight or a finger's push, without force. Turn "
            "it as it slides: a bushing that is not round binds in one position.",
            "The reading is the value engraved at that opening: the narrowest one the bushing slides in. If it shakes "
            "sideways there, the steps are too coarse; try a second gauge with smaller ones.",
            "The bushing's true size lies between that value and the next smaller one. The value less the size you "
            "measured is the running clearance that your machine needs.",
        ),
        enter=enter.bushing(bushing.name, row.unit, f"{row.named(row.values[1] - row.values[0])}"),
        reading=("narrowest opening it slides in", row.unit),
        cautions=(
            "Unplug the router before you take the bushing out or put it in.",
            *machine_cautions(blank),
            *LAST[1:],
        ),
    )


def _named(bushing: Bushing) -> str:
    """Its size, and its name where it has one."""
    size = diameter_text(bushing.diameter)
    return size if bushing.name == sold_as(bushing.diameter).text else f"{bushing.name} ({size})"


def kerf_text(kerf: float, inches: bool) -> str:
    """What the laser's file allows for."""
    return f"{said(kerf, inches)} allowed for in the file" if kerf else "none allowed for in the file"


def machine_cautions(blank: Blank) -> tuple[str, ...]:
    """What goes for making any plate, and what its material asks."""
    lines = []
    if "laser" in blank.targets:
        lines.append("Never laser PVC, vinyl or unknown plastic; never leave a running laser.")
    if "cnc" in blank.targets:
        lines.append("Hold the plate down well: no tabs on the edge of an opening.")
    return (*lines, *(blank.material.cautions if blank.material else ()))
