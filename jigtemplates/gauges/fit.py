"""The fit gauge: short cuts round the wanted width, made with the real pair. Which one takes the tenon?

Each opening is what the template of such a cut would have, (cut less bit) plus bushing, and is routed on the screen as
the template is. So the gauge holds the errors of bit, bushing and machine all together: the cut that takes the tenon is
as wide as that and the fit, and what is engraved at it less than that is how much wider than asked every cut comes out.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import cast

from jigtemplates.checks.finding import Finding
from jigtemplates.checks.support import JAW
from jigtemplates.drawing import Stroke
from jigtemplates.errors import InputError, quoted
from jigtemplates.freespace import FreeSpace
from jigtemplates.gauges.blank import Blank
from jigtemplates.gauges.bushing import too_large
from jigtemplates.gauges.fit_row import cut_length, made_width, wanted_width, widths
from jigtemplates.gauges.fit_words import fit_findings, fit_words, job_name, plate_words
from jigtemplates.gauges.gauge import Gauge, Plate, Step
from jigtemplates.gauges.layout import (
    GRAIN,
    NEAR,
    SHEET,
    Cell,
    Grid,
    arrangements,
    own_plate,
    plate_region,
    smallest_plate,
    titled,
)
from jigtemplates.gauges.row import Asked, Row
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.holes import screw_holes
from jigtemplates.lengths import Length, Unit, inch_short, mm_text
from jigtemplates.lettering import text_box
from jigtemplates.marks import datum_mark
from jigtemplates.parameters.job import Cut, Job
from jigtemplates.parameters.job import Plate as JobPlate
from jigtemplates.parameters.make_tables import Target
from jigtemplates.report import Report, report_on
from jigtemplates.say import in_inches

#: Depth of the test cuts, mm, and in a job in inches (chosen: enough to feel the fit, two passes or three).
DEPTH = {False: 10.0, True: 9.525}
#: From the openings to the edge of a plate of the gauge's own, mm (chosen: a base of 150 mm stays carried well past its
#: middle).
EDGE = 50.0
#: What is said of a plate that no clamp can hold beside the router.
NO_CLAMPS = "no-room-for-clamps"
#: What forbids a place on the job's plate, and what only makes another one better.
PLACED = frozenset(
    {"opening-off-plate", "holes-overlap", "thin-wall", "cut-outside-window", "router-tips", "stem-meets-ledge"}
    | {NO_CLAMPS, "base-hardly-carried", "screw-under-base"}
)
#: Patterns of screws that look the same from either face.
_SAME_BOTH_WAYS = ("corners", "edges")


@dataclass(frozen=True, slots=True)
class _Laid:
    """The openings in their places, and what the checks say of them."""

    report: Report
    grid: Grid
    own: bool


def fit_gauge(
    job: Job,
    asked: Asked,
    *,
    targets: tuple[str, ...] = (),
    sheet: tuple[float, float] | None = None,
    units: Unit | None = None,
) -> Gauge:
    """The gauge for a job's (first) cut and its pair; InputError has every fault of what was typed.

    `targets`, and `units` for the DXF files, stand in for the job's; `sheet` is what a plate of the gauge's own must
    come out of, mm.
    """
    blank = _blank(job, targets, sheet, units)
    job = replace(job, make=replace(job.make, targets=cast(tuple[Target, ...], blank.targets)))
    wanted = wanted_width(job)
    row, found = widths(job, wanted, asked, blank.lower)
    cell = _cell(job, row, blank)
    laid = _on_jobs_plate(job, row, cell) or _on_own_plate(job, row, cell, sheet)
    if laid is None:
        laid = _laid(job, row, smallest_plate(cell).grid, *_size(cell), own=True)
        found = (*found, too_large(cell, blank, inches=row.inches))
    return _gauge(job, wanted, row, laid, blank, found)


def _blank(job: Job, targets: tuple[str, ...], sheet: tuple[float, float] | None, units: Unit | None) -> Blank:
    named = targets or tuple(target for target in job.make.targets if target in ("laser", "cnc"))
    if not named:
        raise InputError(
            f"--for: {quoted(job.stem)} is made for neither laser nor cnc (add one of them: --for laser, or --for cnc)"
        )
    text = inch_short if in_inches(job) else mm_text
    thickness = Length(Fraction(job.plate.thickness).limit_denominator(10**6), text(job.plate.thickness))
    kerf = job.make.kerf if "laser" in named else 0.0
    dxf = job.make.dxf if units is None else replace(job.make.dxf, unit=units)
    return Blank(named, job.plate.material, thickness, kerf, dxf, sheet)


def _cell(job: Job, row: Row, blank: Blank) -> Cell:
    offset = job.tools.bushing.diameter.mm - job.tools.bit.diameter.mm
    widest = float(row.values[-1])
    length = widest if job.cut.shape == "round" else cut_length(row)
    wall = job.plate.wall if job.plate.wall is not None else blank.wall
    texts = tuple(row.text(value) for value in row.values)
    return Cell(widest + offset, length + offset, wall, texts, max(EDGE, wall), grain=GRAIN[row.inches])


def _size(cell: Cell) -> tuple[float, float]:
    plate = smallest_plate(cell)
    return plate.width, plate.height


def _on_jobs_plate(job: Job, row: Row, cell: Cell) -> _Laid | None:
    """On the plate of the job, with its screws, where the checks let the openings be."""
    plate, screws = job.plate, job.plate.screws
    if job.make.mirrored and screws is not None and screws.pattern not in _SAME_BOTH_WAYS:
        return None
    region = plate_region(plate.width, plate.height, plate.corner_radius)
    space = FreeSpace(region, tuple(hole.rim for hole in screw_holes(plate)))
    for columns, rows in sorted(arrangements(len(cell.texts)), key=partial(_least_margin, plate, cell), reverse=True):
        wide, high = cell.block(columns, rows)
        grid = Grid(cell, columns, rows, Point((plate.width - wide) / 2, (plate.height - high) / 2))
        if not space.fits(list(grid.boxes()), 1.0).all():
            continue
        laid = _laid(job, row, grid, plate.width, plate.height, own=False)
        if not any(finding.code in PLACED for finding in laid.report.findings):
            return laid
    return None


def _least_margin(plate: JobPlate, cell: Cell, way: tuple[int, int]) -> float:
    """From the openings to the nearest edge, mm: the more of it, the better the router's base is carried."""
    wide, high = cell.block(*way)
    return min(plate.width - wide, plate.height - high) / 2


def _on_own_plate(job: Job, row: Row, cell: Cell, sheet: tuple[float, float] | None) -> _Laid | None:
    """On a plate of its own; where the router leaves no room for clamps on it, with that at its left and right."""
    laid = _own_laid(job, row, cell, sheet)
    if laid is None or not any(finding.code == NO_CLAMPS for finding in laid.report.findings):
        return laid
    return _own_laid(job, row, replace(cell, sides=_clamped_sides(laid)), sheet) or laid


def _own_laid(job: Job, row: Row, cell: Cell, sheet: tuple[float, float] | None) -> _Laid | None:
    own = own_plate(cell, sheet or SHEET)
    return None if own is None else _laid(job, row, own.grid, own.width, own.height, own=True)


def _clamped_sides(laid: _Laid) -> float:
    """How far from the openings the left and right edges must be for the router's base and a clamp's jaw, mm."""
    ride, plate = laid.report.case.ride, laid.report.job.plate
    assert ride is not None  # it is the router that leaves no room
    first, last = float(ride.places[:, 0].min()), float(ride.places[:, 0].max())
    margin = min(box.left for box in laid.grid.boxes())
    return margin + JAW + ride.radius - min(first, plate.width - last)


def _laid(job: Job, row: Row, grid: Grid, width: float, height: float, *, own: bool) -> _Laid:
    """The gauge as a job of many cuts, so that it is checked and routed as any template is."""
    plate = replace(job.plate, label=False)
    if own:
        plate = replace(plate, width=width, height=height, corner_radius=0.0, holder=None, screws=None, rebate=None)
    cuts = [_cut(job.cut, row, grid, index) for index in range(len(row.values))]
    make = replace(job.make, mirrored=False, pair=None)
    alone = replace(job, work=None, tenon=None, more_tenons=(), inlay=None)
    many = replace(alone, cut=cuts[0], more_cuts=tuple(cuts[1:]), plate=plate, make=make)
    return _Laid(report_on(many), grid, own)


def _cut(cut: Cut, row: Row, grid: Grid, index: int) -> Cut:
    """One of the test cuts: upright, in the middle of its cell."""
    middle, value = grid.center(index), row.values[index]
    width, is_round = float(value), cut.shape == "round"
    length = width if is_round else cut_length(row)
    written = Length(value, row.named(value))
    return replace(
        cut,
        shape="round" if is_round else "slot",
        width=width,
        length=length,
        corner_radius=width / 2,
        depth=min(cut.depth, DEPTH[row.inches]),
        angle=0.0 if is_round else 90.0,
        x=middle.x,
        y=middle.y,
        width_written=written,
        length_written=written if is_round else Length(Fraction(length), mm_text(length)),
        form=None,
        repeat=None,
        mirrored=False,
    )


def _gauge(job: Job, wanted: Length, row: Row, laid: _Laid, blank: Blank, found: tuple[Finding, ...]) -> Gauge:
    template, many = laid.report.template, laid.report.job
    plate = many.plate
    steps = tuple(_steps(laid, row))
    values = (*laid.grid.values(), *_underline(laid.grid, row, made_width(job)))
    solid = [*(step.opening for step in steps), *(hole.rim for hole in template.holes)]
    marks = datum_mark(template.plate, solid)
    foot = Point(plate.width / 2, laid.grid.corner.y / 2)  # below the openings, where there is room
    title = titled(plate_words(job, row), template.plate, [*solid, *_boxed(laid.grid), *marks], foot)
    return Gauge(
        kind="fit",
        stem=f"gauge-fit-{job.stem}",
        title=f"Fit gauge, {job.title}",
        plate=Plate(plate.width, plate.height, plate.corner_radius, plate.thickness, plate.material),
        targets=blank.targets,
        kerf=blank.kerf,
        dxf=blank.dxf,
        steps=steps,
        engraved=(*values, *title),
        marks=marks,
        holes=template.holes,
        words=fit_words(job, many, row, blank, steps),
        data=_data(job, row, wanted),
        findings=(*found, *fit_findings(job, laid.report, blank, row, own=laid.own)),
        inches=row.inches,
    )


def _steps(laid: _Laid, row: Row) -> Iterator[Step]:
    for value, part in zip(row.values, laid.report.parts, strict=True):
        size, cut = part.template.opening_size, part.predicted
        assert size is not None  # no cut of the row is narrower than bit + running clearance
        assert cut is not None
        yield Step(row.text(value), float(value), part.template.opening[0].outer, size.width, cut.width)


def _underline(grid: Grid, row: Row, made: Fraction) -> tuple[Stroke, ...]:
    """A line under the width that the job's template makes, where it is one of the row."""
    if made not in row.values:
        return ()
    box = _value_box(grid, row.values.index(made))
    y = box.bottom - NEAR / 2
    return (Stroke((Point(box.left, y), Point(box.right, y))),)


def _value_box(grid: Grid, index: int) -> Bounds:
    """The box round a value's strokes."""
    height = grid.cell.height
    ink, middle = text_box(grid.cell.texts[index], height), grid.center(index)
    bottom = middle.y + grid.cell.length / 2 + NEAR
    return Bounds(middle.x - ink.width / 2, bottom, middle.x + ink.width / 2, bottom + ink.height)


def _boxed(grid: Grid) -> list[Outline]:
    """The boxes of the cells, for the title to keep clear of."""
    return [
        Outline.polygon(((b.left, b.bottom), (b.right, b.bottom), (b.right, b.top), (b.left, b.top)))
        for b in grid.boxes()
    ]


def _data(job: Job, row: Row, wanted: Length) -> tuple[tuple[str, object], ...]:
    tools = job.tools
    return (
        ("job", job_name(job)),
        ("wanted", wanted.mm),
        ("bit", tools.bit.diameter.mm),
        ("bushing", tools.bushing.diameter.mm),
        ("clearance", tools.clearance),
        ("unit", row.unit),
    )
