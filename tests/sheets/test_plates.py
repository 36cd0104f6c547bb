"""Which plates are wanted, what shares a sheet, and what is said of the jobs."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from jigtemplates.batch import Done
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report
from jigtemplates.sheets.plates import STOPPED, findings_on, groups_of, listed

from .conftest import done_with, group_of

Make = Callable[..., Report]

OUTSIDE = {"shape": "round", "diameter": 90, "depth": 12, "side": "outside"}


def said(reports: list[Report]) -> list[tuple[str, str, str]]:
    """Level, code and sentence of what is found."""
    done = done_with(*reports)
    groups = groups_of(done, {report.job.stem: 1 for report in reports})
    return [(one.level.value, one.code, one.message) for one in findings_on(done, groups)]


def test_one_material_of_one_thickness_shares_sheets(report_with: Make) -> None:
    """Laser before cnc, then by material and thickness; a job for both is on sheets of both."""
    reports = [
        report_with(name="a"),
        report_with(name="b", plate={"thickness": 9}),
        report_with(name="c", plate={"material": "acrylic"}, make={"for": ["cnc"]}),
        report_with(name="d", plate={"material": None}),
    ]
    groups = groups_of(done_with(*reports), dict.fromkeys("abcd", 2))
    assert [(group.machine, group.name, group.count) for group in groups] == [
        ("laser", "unnamed-6mm", 2),
        ("laser", "mdf-6mm", 2),
        ("laser", "mdf-9mm", 2),
        ("cnc", "unnamed-6mm", 2),
        ("cnc", "acrylic-6mm", 2),
        ("cnc", "mdf-6mm", 2),
        ("cnc", "mdf-9mm", 2),
    ]


def test_a_pair_is_two_plates(report_with: Make) -> None:
    """One for each hand, called as their own files are."""
    group = group_of(report_with(make={"for": ["laser"], "pair": "left"}), copies=3)
    assert [(plate.name, plate.title, plate.copies) for plate in group.plates] == [
        ("rail", "Bench rail, 10 x 50, LEFT", 3),
        ("rail_MIRRORED", "Bench rail, 10 x 50, RIGHT", 3),
    ]
    assert group.count == 6


def test_none_of_a_job_is_none(report_with: Make) -> None:
    """A job of which no copy is wanted is on no sheet."""
    assert groups_of(done_with(report_with()), {"rail": 0}) == ()


def test_of_a_pattern_the_box_counts_and_the_shape_is_the_area(report_with: Make) -> None:
    """Round work of 90 mm: a pattern of 90 - (12.7 - 9.525) = 86.825 mm, whatever the job says of a plate."""
    group = group_of(
        report_with(cut=OUTSIDE, plate={"width": None, "height": None, "screws": None}, make={"for": ["cnc"]})
    )
    (plate,) = group.plates
    assert [round(side, 6) for side in plate.size] == [86.825, 86.825]
    assert round(plate.area, 3) == 5920.787  # pi / 4 x 86.825²


def test_kerf_is_the_lasers(report_with: Make) -> None:
    """The laser's sheet is drawn with the job's kerf, the router's never."""
    groups = groups_of(done_with(report_with(make={"for": ["laser", "cnc"], "kerf": 0.2})), {"rail": 1})
    assert [(group.machine, group.plates[0].kerf) for group in groups] == [("laser", 0.2), ("cnc", 0.0)]
    assert [round(group.plates[0].drawing.width, 6) for group in groups] == [140.2, 140.0]


def test_a_job_that_is_stopped_is_not_laid(report_with: Make) -> None:
    """It is named with its reason; the others are laid."""
    bad = report_with(name="bad", tools={"bit": "11 mm"})
    found = said([bad, report_with(name="good")])
    assert found[0][:2] == ("stop", STOPPED)
    assert found[0][2].startswith(
        "bad not laid, since it cannot be made: tools.bit: the bit (11 mm) is wider than the cut (10 mm)"
    )
    groups = groups_of(done_with(bad, report_with(name="good")), {"bad": 1, "good": 1})
    assert [plate.name for group in groups for plate in group.plates] == ["good", "good"]


def test_a_job_without_a_machine_is_told(report_with: Make) -> None:
    """For paper alone: on no sheet, and what to do."""
    assert said([report_with(make={"for": ["paper"]})]) == [
        (
            "warning",
            "on-no-sheet",
            "on no sheet, for neither laser nor cnc is asked for: rail; add one of them there, or lay them with --for "
            "laser or --for cnc",
        )
    ]


def test_a_job_that_cannot_be_read_says_nothing_here() -> None:
    """Its faults are lines of their own."""
    assert groups_of([Done(Path("a.toml"), None, ("a.toml: no",))], {}) == ()
    assert list(findings_on([Done(Path("a.toml"), None, ("a.toml: no",))], ())) == []


def test_kerfs_that_differ_are_told(report_with: Make) -> None:
    """0.1 and 0.25 mm for one sheet cannot both be right."""
    reports = [
        report_with(name=name, make={"for": ["laser"], "kerf": kerf}) for name, kerf in (("a", 0.1), ("b", 0.25))
    ]
    assert said(reports) == [
        (
            "warning",
            "kerfs-differ",
            "mdf-6mm: the jobs give different kerfs (0.1, 0.25 mm), and each plate is drawn with its own: one laser in "
            "one sheet has one kerf",
        )
    ]


def test_a_rebate_is_told(report_with: Make) -> None:
    """The sheet is cut from above; by laser the rebate is made by hand, by cnc from a file of its own."""
    report = report_with()
    job = replace(report.job, plate=replace(report.job.plate, rebate=True))
    rebated = replace(report, case=replace(report.case, template=replace(report.template, job=job)))
    found = said([rebated])
    assert [(level, code) for level, code, _ in found] == [("warning", "rebate-underside")] * 2
    assert found[0][2] == (
        "rail: the sheet is cut from above; the rebate in the underside follows, plate by plate: by hand"
    )
    assert found[1][2].endswith("plate by plate: its own file cnc_underside_MIRRORED has that (jigtemplates make)")


def test_dxf_options_that_differ_are_told(report_with: Make) -> None:
    """One job for R12, one not: a note says how the sheet is written."""
    reports = [
        report_with(name="a", make={"for": ["laser"], "dxf": {"version": "R12"}}),
        report_with(name="b", make={"for": ["laser"]}),
    ]
    ((level, code, message),) = said(reports)
    assert (level, code) == ("note", "dxf-options-differ")
    assert message.startswith("mdf-6mm: the jobs ask for different DXF files; a sheet's is R12 as soon as one asks")


def test_many_names_are_counted() -> None:
    """Seven are all told, of eight the last two are counted; each once."""
    assert listed([*"abcdefg"]) == "a, b, c, d, e, f, g"
    assert listed([*"abcdefghh"]) == "a, b, c, d, e, f and 2 more"


def test_profiles_are_those_shipped() -> None:
    """The gaps and margins that plates are laid with, and the cutter, as processes.toml has them."""
    laser, cnc = (Profiles().find("processes", name).entry for name in ("laser", "cnc"))
    assert [one.text for one in (laser.gap, laser.margin) if one] == ["3 mm", "5 mm"]
    assert [one.text for one in (cnc.gap, cnc.margin, cnc.cutter) if one] == ["8 mm", "15 mm", "6 mm"]
    assert laser.cutter is None
    assert [found.name for found in Profiles().entries("sheets") if found.entry.grain] == ["plywood"]  # type: ignore[union-attr]
