"""Shipped screws against published tables.

"quoted": read in a table that quotes the standard, whose own text was not at hand. "read": read in the
source itself. "memory": recalled, not seen.
"""

import pytest

from jigtemplates.parameters.entries import Screw
from jigtemplates.profiles import Profiles


def screw(name: str) -> Screw:
    return Profiles().find("screws", name).entry


def in_inches(*mm: float) -> list[float]:
    return [round(length / 25.4, 4) for length in mm]


def clearance(name: str) -> list[float]:
    holes = screw(name).clearance
    return [holes.fine.mm, holes.medium.mm, holes.coarse.mm]


@pytest.mark.parametrize(
    ("name", "holes"),
    [
        ("M3", [3.2, 3.4, 3.6]),
        ("M4", [4.3, 4.5, 4.8]),
        ("M5", [5.3, 5.5, 5.8]),
        ("M6", [6.4, 6.6, 7.0]),
        ("M8", [8.4, 9.0, 10.0]),
    ],
)
def test_metric_clearance_holes_are_those_of_iso_273(name: str, holes: list[float]) -> None:
    """Fine, medium, coarse in mm: ISO 273, quoted in Machinery's Handbook, 31st ed., p. 2173 (BS 4186)."""
    assert clearance(name) == holes


@pytest.mark.parametrize(("name", "drill"), [("M3", 2.5), ("M4", 3.3), ("M5", 4.2), ("M6", 5.0), ("M8", 6.8)])
def test_metric_tapping_drills_are_those_of_iso_2306(name: str, drill: float) -> None:
    """Drill for a coarse thread in mm: ISO 2306, quoted in trade charts."""
    tapping = screw(name).tapping
    assert tapping is not None
    assert tapping.mm == drill


@pytest.mark.parametrize(("name", "head"), [("M3", 6.72), ("M4", 8.96), ("M5", 11.20), ("M6", 13.44), ("M8", 17.92)])
def test_metric_countersunk_heads_are_those_of_iso_10642(name: str, head: float) -> None:
    """Theoretical sharp head in mm at 90 degrees: ISO 10642, quoted in three tables."""
    found = screw(name)
    assert found.head is not None
    assert (found.head.mm, found.head_angle) == (head, 90)


@pytest.mark.parametrize(
    ("name", "holes"),
    [
        # the three of 1/4 and 5/16 in: quoted, Machinery's Handbook, 31st ed., p. 1741
        ("1/4 in", [17 / 64, 9 / 32, 19 / 64]),
        ("5/16 in", [21 / 64, 11 / 32, 23 / 64]),
        # #8 and #10: quoted in a fastener trade table; normal, and loose of #8, also in Machinery's Handbook
        ("#8", [0.180, 0.196, 0.213]),
        ("#10", [0.206, 0.221, 0.238]),
        # normal (drills number 30 and 18) and loose: quoted, Machinery's Handbook; close: memory
        ("#4", [0.120, 0.1285, 0.144]),
        ("#6", [0.154, 0.1695, 0.185]),
    ],
)
def test_inch_clearance_holes_are_those_of_asme_b18_2_8(name: str, holes: list[float]) -> None:
    """Close, normal and loose holes in inches: ASME B18.2.8."""
    assert in_inches(*clearance(name)) == pytest.approx(holes, abs=5e-5)


@pytest.mark.parametrize(("name", "drill"), [("1/4 in", 0.201), ("5/16 in", 0.257)])
def test_inch_tapping_drills_are_number_7_and_letter_f(name: str, drill: float) -> None:
    """Drill in inches for 1/4-20 and 5/16-18 at about 75 % of thread: trade charts, read."""
    tapping = screw(name).tapping
    assert tapping is not None
    assert in_inches(tapping.mm) == [drill]


@pytest.mark.parametrize(("name", "head"), [("1/4 in", 0.531), ("5/16 in", 0.656)])
def test_inch_countersunk_heads_are_those_of_asme_b18_3(name: str, head: float) -> None:
    """Theoretical sharp head in inches at 82 degrees: ASME B18.3, quoted in two tables."""
    found = screw(name)
    assert found.head is not None
    assert (in_inches(found.head.mm), found.head_angle) == ([head], 82)


@pytest.mark.parametrize(
    ("name", "body", "head"),
    [("#4", 0.112, 0.225), ("#6", 0.138, 0.279), ("#8", 0.164, 0.332), ("#10", 0.190, 0.385)],
)
def test_wood_screws_are_those_of_asme_b18_6_1(name: str, body: float, head: float) -> None:
    """Body (0.060 + 0.013 N) and largest flat head in inches: ASME B18.6.1, quoted."""
    found = screw(name)
    assert found.head is not None
    assert in_inches(found.diameter.mm, found.head.mm) == [body, head]


@pytest.mark.parametrize(("name", "number"), [("#4", 4), ("#6", 6), ("#8", 8), ("#10", 10)])
def test_a_wood_screw_number_gives_its_diameter(name: str, number: int) -> None:
    """Number N is 0.060 + 0.013 N inches thick (ASME B18.6.1, quoted)."""
    assert screw(name).diameter.mm == pytest.approx((0.060 + 0.013 * number) * 25.4, abs=1e-9)


@pytest.mark.parametrize(("name", "words"), [("M5", "4 mm hole"), ("M6", "8 mm"), ("#8", "pilot hole in hardwood")])
def test_a_note_tells_what_is_common_practice_only(name: str, words: str) -> None:
    """What no standard gives (plywood, room to shift, a pilot hole) is named in the screw's note."""
    assert words in (screw(name).note or "")
