"""Shipped screws, and the holes drilled for them in a plate, against published tables."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from published import Published, Source, inch, table
from pydantic import ValidationError
from sources import (
    B18_2_8,
    B18_2_8_PACKAGE,
    B18_2_8_TRADE,
    B18_3,
    B18_6_1,
    DIN_7991,
    GLEN_L,
    HEADS_PACKAGE,
    HEADS_PAGE,
    ISO_273,
    ISO_273_PACKAGE,
    ISO_2306,
    ISO_10642,
    PILOT_SHEET,
    PRACTICE,
    UFL_TAPS,
)

from jigtemplates.parameters.entries import Screw
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report

FITS = ("fine", "medium", "coarse")

#: Drills by number and letter, inches: a table of size equivalents and the chart of the University of Florida, read;
#: numbers 15 and 5 from memory.
DRILLS = {"31": 0.120, "30": 0.1285, "27": 0.144, "23": 0.154, "18": 0.1695, "13": 0.185, "15": 0.180, "9": 0.196}
DRILLS |= {"3": 0.213, "5": 0.2055, "2": 0.221, "B": 0.238, "7": 0.201, "F": 0.257}


def metric(name: str, source: Source, *holes: float) -> Published:
    says = ", ".join(f"{hole:g}" for hole in holes) + " mm"
    return Published(f"{name} clearance hole: fine, medium, coarse", says, source, name, holes)


def imperial(name: str, source: Source, *holes: str) -> Published:
    """Holes as fractions, decimals or, with a #, by drill."""
    value = tuple(DRILLS[hole[1:]] * 25.4 if hole[0] == "#" else inch(hole) for hole in holes)
    return Published(f"{name} clearance hole: close, normal, loose", ", ".join(holes), source, name, value)


#: Clearance holes, mm.
CLEARANCE = (
    metric("M3", ISO_273, 3.2, 3.4, 3.6),
    metric("M4", ISO_273, 4.3, 4.5, 4.8),
    metric("M5", ISO_273, 5.3, 5.5, 5.8),
    metric("M6", ISO_273, 6.4, 6.6, 7.0),
    metric("M8", ISO_273, 8.4, 9.0, 10.0),
    metric("M5", ISO_273_PACKAGE, 5.3, 5.5, 5.8),
    metric("M6", ISO_273_PACKAGE, 6.4, 6.6, 7.0),
    imperial("1/4 in", B18_2_8, "17/64", "9/32", "19/64"),
    imperial("5/16 in", B18_2_8, "21/64", "11/32", "23/64"),
    imperial("#8", B18_2_8_TRADE, "0.180", "0.196", "0.213"),
    imperial("#10", B18_2_8_TRADE, "0.206", "0.221", "0.238"),
    imperial("#4", B18_2_8_PACKAGE, "#31", "#30", "#27"),
    imperial("#6", B18_2_8_PACKAGE, "#23", "#18", "#13"),
    imperial("#8", B18_2_8_PACKAGE, "#15", "#9", "#3"),
    imperial("#10", B18_2_8_PACKAGE, "#5", "#2", "#B"),
)

#: Drill for a coarse thread, or pilot hole in hardwood; mm.
TAPPING = (
    Published("M3 tapping drill", "2.5 mm", ISO_2306, "M3", 2.5),
    Published("M4 tapping drill", "3.3 mm", ISO_2306, "M4", 3.3),
    Published("M5 tapping drill", "4.2 mm", ISO_2306, "M5", 4.2),
    Published("M6 tapping drill", "5.0 mm", ISO_2306, "M6", 5.0),
    Published("M8 tapping drill", "6.8 mm", ISO_2306, "M8", 6.8),
    Published("1/4-20 tapping drill, 75 % of thread", "number 7, 0.201 in", UFL_TAPS, "1/4 in", inch("0.201")),
    Published("5/16-18 tapping drill, 75 % of thread", "letter F, 0.257 in", UFL_TAPS, "5/16 in", inch("0.257")),
    Published("#4 pilot hole, hardwood", "5/64 in", PILOT_SHEET, "#4", inch("5/64")),
    Published("#6 pilot hole, hardwood", "3/32 in", PILOT_SHEET, "#6", inch("3/32")),
    Published("#8 pilot hole, hardwood", "7/64 in", PILOT_SHEET, "#8", inch("7/64")),
    Published("#10 pilot hole, hardwood", "1/8 in", PILOT_SHEET, "#10", inch("1/8")),
    Published("#8 pilot hole, hardwoods", "7/64 in", GLEN_L, "#8", inch("7/64")),
    Published("#10 pilot hole, hardwoods", "1/8 in", GLEN_L, "#10", inch("1/8")),
)

#: Countersunk head at its sharp edge, mm, and its whole angle.
HEADS = (
    Published("M3 countersunk head, sharp", "6.72 mm, 90 degrees", ISO_10642, "M3", (6.72, 90)),
    Published("M4 countersunk head, sharp", "8.96 mm, 90 degrees", ISO_10642, "M4", (8.96, 90)),
    Published("M5 countersunk head, sharp", "11.20 mm, 90 degrees", ISO_10642, "M5", (11.20, 90)),
    Published("M6 countersunk head, sharp", "13.44 mm, 90 degrees", ISO_10642, "M6", (13.44, 90)),
    Published("M8 countersunk head, sharp", "17.92 mm, 90 degrees", ISO_10642, "M8", (17.92, 90)),
    Published("1/4 in countersunk head, sharp", "0.531 in, 82 degrees", B18_3, "1/4 in", (inch("0.531"), 82)),
    Published("5/16 in countersunk head, sharp", "0.656 in, 82 degrees", B18_3, "5/16 in", (inch("0.656"), 82)),
    Published("#4 flat head, largest", "0.225 in, 82 degrees", B18_6_1, "#4", (inch("0.225"), 82)),
    Published("#6 flat head, largest", "0.279 in, 82 degrees", B18_6_1, "#6", (inch("0.279"), 82)),
    Published("#8 flat head, largest", "0.332 in, 82 degrees", B18_6_1, "#8", (inch("0.332"), 82)),
    Published("#10 flat head, largest", "0.385 in, 82 degrees", B18_6_1, "#10", (inch("0.385"), 82)),
)

#: Body of a wood screw by its number N, 0.060 + 0.013 N inches; mm.
BODIES = (
    Published("#4 wood screw, body", "0.112 in", B18_6_1, "#4", inch("0.112")),
    Published("#6 wood screw, body", "0.138 in", B18_6_1, "#6", inch("0.138")),
    Published("#8 wood screw, body", "0.164 in", B18_6_1, "#8", inch("0.164")),
    Published("#10 wood screw, body", "0.190 in", B18_6_1, "#10", inch("0.190")),
)

#: Words of a screw's note, for what no standard gives.
NOTES = (
    Published("M5 tapped straight into plywood", "4 mm hole", PRACTICE, "M5", "4 mm hole"),
    Published("M6 through hole with room to shift", "8 mm", PRACTICE, "M6", "8 mm"),
    Published("pilot hole", "smaller in softwood", GLEN_L, "#8", "pilot hole in hardwood"),
)


def too_narrow(name: str, says: str, right: str, source: Source) -> Published:
    return Published(f"{name} clearance hole", says, source, name, inch(says[:-3]), (right, inch(right[:-3])))


#: Clearance holes narrower than the screw's own body, which nothing passes.
TOO_NARROW = (
    too_narrow("#4", "3/32 in", "0.120 in", PILOT_SHEET),
    too_narrow("#6", "7/64 in", "0.154 in", PILOT_SHEET),
    too_narrow("#8", "9/64 in", "0.180 in", PILOT_SHEET),
    too_narrow("#10", "5/32 in", "0.206 in", PILOT_SHEET),
    too_narrow("#10", "3/16 in", "0.206 in", GLEN_L),
)

#: Heads under the wrong standard: two standards give one screw different heads.
WRONG_HEADS = (
    Published("M5 head of ISO 10642", "10 mm", HEADS_PACKAGE, "M5", 10.0, ("11.20 mm; 10 is DIN 7991's", 11.20)),
    Published("M8 head of ISO 10642", "16 mm", HEADS_PACKAGE, "M8", 16.0, ("17.92 mm; 16 is DIN 7991's", 17.92)),
)
#: The other way round, and DIN 7991 itself.
OTHER_HEADS = (
    Published("M5 head of DIN 7991", "11.2 mm", HEADS_PAGE, "M5", 11.2, ("10 mm; 11.2 is ISO 10642's", 10.0)),
    Published("M8 head of DIN 7991", "17.92 mm", HEADS_PAGE, "M8", 17.92, ("16 mm; 17.92 is ISO 10642's", 16.0)),
)
DIN_HEADS = (
    Published("M5 head of DIN 7991", "10 mm", DIN_7991, "M5", 10.0),
    Published("M8 head of DIN 7991", "16 mm", DIN_7991, "M8", 16.0),
)


def screw(name: str) -> Screw:
    return Profiles().find("screws", name).entry


def head_of(name: str) -> float:
    head = screw(name).head
    assert head is not None
    return head.mm


@table(CLEARANCE)
def test_clearance_hole(row: Published) -> None:
    """The profile has the published holes, to the thousandth of an inch that a standard rounds a drill to."""
    holes = screw(row.given).clearance
    assert [getattr(holes, fit).mm for fit in FITS] == pytest.approx(list(row.value), abs=0.0006 * 25.4)
    if row.given[0] == "M":
        assert tuple(getattr(holes, fit).mm for fit in FITS) == row.value


@table(CLEARANCE)
def test_clearance_hole_drilled(report_with: Callable[..., Report], row: Published) -> None:
    """So have the four holes of a plate that is screwed down with it."""
    for fit, hole in zip(FITS, row.value, strict=True):
        screws = {"pattern": "corners", "size": row.given, "inset": 12, "fit": fit}
        drilled = report_with(plate={"screws": screws}).template.holes
        assert [round(h.diameter, 9) for h in drilled] == pytest.approx([hole] * 4, abs=0.0006 * 25.4)


@table(TAPPING)
def test_tapping_drill(report_with: Callable[..., Report], row: Published) -> None:
    """Profile and plate have the published drill."""
    tapping = screw(row.given).tapping
    assert tapping is not None
    assert tapping.mm == pytest.approx(row.value, abs=1e-9)
    screws = {"pattern": "corners", "size": row.given, "inset": 12, "hole": "tapped"}
    holes = report_with(plate={"screws": screws}).template.holes
    assert [(h.diameter, h.head) for h in holes] == [(pytest.approx(row.value, abs=1e-9), None)] * 4


@table(HEADS)
def test_countersunk_head(report_with: Callable[..., Report], row: Published) -> None:
    """Profile and plate have the published head."""
    assert (head_of(row.given), screw(row.given).head_angle) == (pytest.approx(row.value[0], abs=1e-9), row.value[1])
    screws = {"pattern": "corners", "size": row.given, "inset": 12, "hole": "countersunk"}
    holes = report_with(plate={"screws": screws}).template.holes
    assert [h.head for h in holes] == [pytest.approx(row.value[0], abs=1e-9)] * 4


@table(BODIES)
def test_body(row: Published) -> None:
    """The profile's diameter, which is also the formula's."""
    diameter = screw(row.given).diameter.mm
    assert diameter == pytest.approx(row.value, abs=1e-9)
    assert diameter == pytest.approx((0.060 + 0.013 * int(row.given[1:])) * 25.4, abs=1e-9)


@table(NOTES)
def test_note(row: Published) -> None:
    """The screw's note names what no standard gives."""
    assert row.value in (screw(row.given).note or "")


@table(TOO_NARROW)
def test_clearance_hole_too_narrow(row: Published) -> None:
    """A screw with the source's hole is refused, since its body does not pass; ours is the standard's."""
    assert row.right is not None
    body, ours = screw(row.given).diameter, screw(row.given).clearance.fine
    assert row.value < body.mm < ours.mm
    assert ours.mm == pytest.approx(row.right[1], abs=1e-9)
    entry: dict[str, Any] = {"name": row.given, "diameter": str(body)}
    entry["clearance"] = {"fine": row.says, "medium": str(ours), "coarse": str(ours)}
    sentence = f'"{row.says}" is smaller than the screw\'s diameter, "{body}" (measure again)'
    with pytest.raises(ValidationError, match=re.escape(sentence)):
        Screw.model_validate(entry)


@table(WRONG_HEADS)
def test_head_under_the_wrong_standard(row: Published) -> None:
    """The shipped screw names ISO 10642 and has its head."""
    assert row.right is not None
    assert (screw(row.given).standard or "").startswith("ISO 10642")
    assert head_of(row.given) == row.right[1] != row.value


@table(OTHER_HEADS)
def test_head_of_the_other_standard(row: Published) -> None:
    """What the page calls DIN 7991 is the head we ship under ISO 10642; a countersink made for it holds either."""
    assert row.right is not None
    assert head_of(row.given) == row.value > row.right[1]
    assert "DIN" not in (screw(row.given).standard or "")


@table(DIN_HEADS)
def test_smaller_head(row: Published) -> None:
    """A DIN 7991 screw lies below the face of a plate countersunk for ISO 10642, never above it."""
    assert screw(row.given).diameter.mm < row.value < head_of(row.given)
