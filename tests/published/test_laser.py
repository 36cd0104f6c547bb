"""Laser: typical kerfs, where the beam runs, and what must not be cut."""

from collections.abc import Callable

import pytest
from published import Published, inch, table
from sources import (
    CMU,
    FAB_ACADEMY,
    KERF_GUIDE,
    KERF_HALF,
    KERF_TABLE,
    KERF_THREAD,
    LASER_MANUAL,
    LASER_MANUAL_2,
    MIT_CIRCLES,
    MIT_SLOTS,
    RICE,
    RICE_BOX,
    UCLA,
    UIC,
    UT_AUSTIN,
    XP,
)

from jigtemplates.calibrate.arithmetic import kerf_of
from jigtemplates.drawing import Drawing, Role, Stroke
from jigtemplates.geometry.outline import Bounds
from jigtemplates.processes.machine import laser_drawing
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
Said = Callable[..., list[tuple[str, str, str]]]


def kerf(sheet: str, thickness: str, width: str) -> Published:
    what = f"kerf in {thickness} in {sheet}, full width"
    return Published(what, f"{width} in", KERF_TABLE, (sheet, inch(thickness)), inch(width))


#: Sheet and thickness; full width that a beam removes, mm.
KERFS = (
    kerf("acrylic", "1/8", "0.009"),
    kerf("acrylic", "1/4", "0.010"),
    kerf("plywood", "1/8", "0.008"),
    kerf("plywood", "1/4", "0.010"),
    kerf("mdf", "1/8", "0.006"),
    kerf("mdf", "1/4", "0.008"),
)

#: Kerfs that have been measured, mm, and whether we believe them.
MEASURED = (
    Published("kerf in plywood, boxes that fit", "0.009 in", RICE, inch("0.009"), True),
    Published("kerf in plywood, by calliper", "0.173 mm", RICE, 0.173, True),
    Published("kerf overall, least", "0.08 mm", KERF_TABLE, 0.08, True),
    Published("kerf overall, most", "0.45 mm", KERF_TABLE, 0.45, True),
)

#: Kerf the file is made with and the beam's own; width of a 50 mm plate and of a 10 mm slot afterwards.
SIZES = (
    Published(
        "50 mm square, kerf 0.2, not allowed for", "49.8 mm; holes 0.2 larger", LASER_MANUAL, (0, 0.2), (49.8, 10.2)
    ),
    Published("50 mm square, kerf 0.4, path half a kerf out", "50.0 mm", LASER_MANUAL_2, (0.4, 0.4), (50.0, 10.0)),
    Published("50 mm square measures 49.73: kerf", "0.27 mm", KERF_THREAD, (0.27, 0.27), (50.0, 10.0)),
    Published("10 mm slot measures 10.31: kerf", "0.31 mm", KERF_THREAD, (0.31, 0.31), (50.0, 10.0)),
)
#: The same of measured pieces and holes, whose difference is two kerfs; in 50 and 10 mm.
DIFFERENCES = (
    Published("hole 20.14 mm, piece 19.76 mm", "(20.14 - 19.76) / 2 = 0.19 mm", FAB_ACADEMY, (20.14, 19.76), 0.19),
    Published("1 in: hole 1.0185 in, piece 0.9815 in", "0.0185 in", MIT_CIRCLES, (25.8699, 24.9301), inch("0.0185")),
)

#: Gap that ten blocks leave, inches, and the kerfs in it; one kerf, inches.
BOXES = (Published("ten blocks leave 0.037 in, eleven kerfs", "0.0034 in", RICE_BOX, (0.037, 11), 0.0034),)

#: Kerf and width of the path round a 50 mm plate.
PATHS = (Published("beam round a 50 mm square, kerf 0.4", "50.4 mm", LASER_MANUAL_2, 0.4, 50.4),)

#: Sizes drawn and measured, or measured and drawn; the kerf as the source works it out: half of it, a quarter, twice.
WRONG_KERFS = (
    Published(
        "100 mm square measures 99.8",
        "0.05 mm, a quarter",
        KERF_GUIDE,
        (100, 99.8),
        0.05,
        ("kerf 0.2 mm, all of it", 0.2),
    ),
    Published(
        "50 mm square measures 49.8", "(50 - 49.8) x 2 = 0.4 mm", LASER_MANUAL_2, (50, 49.8), 0.4, ("kerf 0.2 mm", 0.2)
    ),
    Published("hole of 10 mm measures 10.2", "0.2 / 2 = 0.1 mm", LASER_MANUAL_2, (10.2, 10), 0.1, ("kerf 0.2 mm", 0.2)),
    Published(
        "4.1 mm slot holds 4.19 mm",
        "(4.19 - 4.1) / 2 = 0.045 mm",
        MIT_SLOTS,
        (4.19, 4.1),
        0.045,
        ("kerf 0.09 mm", 0.09),
    ),
    Published(
        "piece of 1/2 in drawn 0.504 in",
        "kerf 0.002 in",
        UCLA,
        (inch("0.504"), inch("0.5")),
        inch("0.002"),
        ("half: kerf 0.004 in", inch("0.004")),
    ),
    Published(
        "kerf measured from the centre of the cut", "0.1 mm", KERF_HALF, (50, 49.8), 0.1, ("half: kerf 0.2 mm", 0.2)
    ),
)

#: Sheet; whether it may go into a laser.
SHEETS = (
    Published("PVC, vinyl", "never", UIC, "pvc", False),
    Published("PVC and what contains chlorine", "never", CMU, "pvc", False),
    Published("PVC, vinyl, faux leather", "never", XP, "pvc", False),
    Published("polycarbonate", "never", UT_AUSTIN, "polycarbonate", False),
    Published("polycarbonate above 1 mm", "never", XP, "polycarbonate", False),
    Published("ABS, printed in 3D", "never", UT_AUSTIN, "printed", False),
    Published("ABS", "never", XP, "printed", False),
    Published("epoxy, resin, fibreglass", "never", UT_AUSTIN, "phenolic", False),
    Published("cast acrylic", "approved", UIC, "acrylic", True),
    Published("birch plywood", "approved", UIC, "plywood", True),
    Published("composite boards", "approved", UIC, "mdf", True),
    Published("composite boards, hardboard", "approved", UIC, "hardboard", True),
)


def small(report_with: ReportWith, kerf: float) -> Drawing:
    """The laser's drawing of a plate of 50 mm with an opening 10 mm wide."""
    plate = {"width": 50, "height": 50, "screws": None, "label": False}
    cut = {"width": 10, "length": 20}
    report = report_with(cut=cut, plate=plate, tools={"bit": "9.5 mm", "bushing": "9.6 mm"})
    assert report.template.opening_size is not None
    return laser_drawing(report.template, kerf)


def box(drawing: Drawing, role: Role) -> Bounds:
    (shape,) = [item.shape for item in drawing.items if item.role is role]
    assert not isinstance(shape, Stroke)
    return shape.bounds


@table(KERFS)
def test_kerf(row: Published) -> None:
    """The sheet's typical kerf at that thickness."""
    sheet, thickness = row.given
    found = {round(k.thickness.mm, 6): k.width.mm for k in Profiles().find("sheets", sheet).entry.kerf["laser"]}
    assert len(found) == 2
    assert found[round(thickness, 6)] == pytest.approx(row.value, abs=1e-9)


@table(MEASURED)
def test_measured_kerf(said: Said, row: Published) -> None:
    """Nothing is said of a kerf that has been measured; more than the most is doubted."""
    assert (said("kerf-implausible", make={"for": ["laser"], "kerf": row.given}) == []) is row.value
    assert len(said("kerf-implausible", make={"for": ["laser"], "kerf": 0.46})) == 1


@table(SIZES)
def test_size_after_the_beam(report_with: ReportWith, row: Published) -> None:
    """The beam takes half its width off the plate on every side, and as much more out of the opening."""
    kerf, beam = row.given
    drawing, true = small(report_with, kerf), small(report_with, 0)
    plate, opening = box(drawing, Role.CUT_OUTSIDE), box(drawing, Role.CUT_INSIDE)
    assert plate.width - beam == pytest.approx(row.value[0], abs=1e-9)
    assert opening.height + beam - box(true, Role.CUT_INSIDE).height == pytest.approx(row.value[1] - 10, abs=1e-9)


@table(DIFFERENCES)
def test_difference(report_with: ReportWith, row: Published) -> None:
    """Of a hole and a piece drawn alike; files made with and without kerf differ by two kerfs as well."""
    hole, piece = row.given
    assert (hole - piece) / 2 == pytest.approx(row.value)
    without, made = small(report_with, 0), small(report_with, row.value)
    larger = box(made, Role.CUT_OUTSIDE).width - box(without, Role.CUT_OUTSIDE).width
    smaller = box(without, Role.CUT_INSIDE).width - box(made, Role.CUT_INSIDE).width
    assert larger + smaller == pytest.approx(hole - piece, abs=1e-9)


@table(BOXES)
def test_kerf_box(row: Published) -> None:
    """What the gauge says to divide, and what `calibrate` makes of the reading, in mm."""
    gap, kerfs = row.given
    assert round(kerf_of(gap * 25.4, kerfs).mm / 25.4, 4) == row.value


@table(PATHS)
def test_path(report_with: ReportWith, row: Published) -> None:
    """Half a kerf outside on every side; the drawing is as large."""
    drawing = small(report_with, row.given)
    assert box(drawing, Role.CUT_OUTSIDE).width == pytest.approx(row.value, abs=1e-9)
    assert (drawing.width, drawing.height) == pytest.approx((row.value, row.value), abs=1e-9)


@table(WRONG_KERFS)
def test_wrong_kerf(report_with: ReportWith, row: Published) -> None:
    """With the source's figure the plate comes out wrong; with the full width, drawn less measured, true."""
    assert row.right is not None
    drawn, measured = row.given
    beam = row.right[1]
    assert drawn - measured == pytest.approx(beam)
    assert box(small(report_with, beam), Role.CUT_OUTSIDE).width - beam == pytest.approx(50, abs=1e-9)
    assert abs(box(small(report_with, row.value), Role.CUT_OUTSIDE).width - beam - 50) > 0.04


@table(SHEETS)
def test_sheet(said: Said, row: Published) -> None:
    """What a workshop bans, we stop a laser job for, and say why; what it approves passes."""
    entry = Profiles().find("sheets", row.given).entry
    assert entry.laser is row.value
    assert any(caution.startswith("Never laser") for caution in entry.cautions) is not row.value
    plate = {"material": row.given, "thickness": str(entry.thickness[-1])}
    stops = said("never-laser", plate=plate, make={"for": ["laser"]})
    assert (stops == []) is row.value
