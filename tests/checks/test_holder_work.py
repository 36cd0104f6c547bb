"""The work below a holder: whether it can come as near to the plate as the stand-off says, past the ledge."""

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]

#: A window of 100 by 60 in the middle of a plate of 139.5 by 119.5; ledges of 9 mm and of a thickness nobody measured.
HOLDERS = """\
units = "mm"
[holders."frame"]
width = 140
height = 120
play = 0.5
depth = 6
window = { width = 100, height = 60 }
ledge_thickness = 9
stand_off = 0
[holders."unknown"]
width = 140
height = 120
play = 0.5
depth = 6
window = { width = 100, height = 60 }
[holders."open"]
width = 140
height = 120
play = 0.5
ledge_thickness = 9
"""
SLOT = {"shape": "slot", "width": 10, "length": 50, "depth": 20}
STOPS, NOTES = "work-meets-ledge", "work-in-window"


@pytest.fixture
def held(in_holders: Callable[..., Said]) -> Said:
    """What is said of a plate 6 mm thick in the holder "frame"."""
    return in_holders(HOLDERS)


def test_a_rail_that_does_not_go_into_the_window(held: Said) -> None:
    """Work 1000 long lies on the ledge, 9 mm below the plate: a stop, what to write, and 6 + 9 + 20 mm of plunge."""
    assert held(STOPS, cut=SLOT, work={"thickness": 35, "length": 1000}) == [
        (
            "stop",
            "plate.stand_off",
            "the work (35 mm thick, 1000 mm long) does not go into the holder's window of 100 mm x 60 mm, so the ledge "
            '(9 mm) lies on it, and the cut comes out 9 mm less deep than asked: write plate.stand_off = "9 mm", or '
            "correct stand_off in the holder's profile, and the plunge is 35 mm",
        )
    ]
    assert held(NOTES, cut=SLOT, work={"thickness": 35, "length": 1000}) == []


@pytest.mark.parametrize("stand_off", [9, 9.005, 12])
def test_a_stand_off_with_room_for_the_ledge(held: Said, stand_off: float) -> None:
    """As thick as the ledge or more: the work lies below the holder, and nothing is said."""
    for work in ({}, {"work": {"thickness": 35, "length": 1000}}):
        for code in (STOPS, NOTES):
            assert held(code, plate={"stand_off": stand_off}, cut=SLOT, **work) == []


def test_a_stand_off_with_too_little_room(held: Said) -> None:
    """6 of the 9 mm: the cut is 3 mm less deep."""
    ((level, _, sentence),) = held(STOPS, plate={"stand_off": 6}, cut=SLOT, work={"thickness": 35, "length": 1000})
    assert level == "stop"
    assert 'comes out 3 mm less deep than asked: write plate.stand_off = "9 mm"' in sentence
    assert sentence.endswith("and the plunge is 35 mm")


@pytest.mark.parametrize(
    ("work", "cut", "goes_in"),
    [
        ({"length": 100}, {}, True),
        ({"length": 101}, {}, False),
        ({"length": 90, "from_end": 45}, {}, True),
        ({"length": 90, "from_end": 51}, {}, False),
        ({"length": 90, "from_end": 39}, {}, False),
        ({"length": 90}, {"x": 80}, True),  # where it lies is not known: it finds room
        ({"length": 60, "thickness": 61}, {}, False),
        ({"length": 60, "thickness": 60}, {}, True),
        ({"length": 60, "thickness": 60, "from_face": 29}, {}, False),
        ({"length": 60, "thickness": 60}, {"y": 61}, False),
        ({"length": 60}, {"angle": 90}, True),
        ({"length": 61}, {"angle": 90}, False),
        ({"length": 60, "thickness": 90}, {"angle": 90}, True),
        ({"length": 60, "thickness": 60}, {"angle": 45}, False),
        ({"length": 40, "thickness": 40}, {"angle": 45}, True),  # 28.3 mm to its corners
        ({"thickness": 61}, {}, False),  # however long it is
        ({"from_end": 51}, {}, False),
    ],
)
def test_whether_the_work_goes_in(held: Said, work: dict[str, Any], cut: dict[str, Any], goes_in: bool) -> None:
    """Work that goes in as it lies below the cut may be as near as it is said to be; any other is stopped."""
    tables = {"cut": {**SLOT, **cut}, "work": {"thickness": 35, **work}}
    assert [level for level, _, _ in held(STOPS, **tables)] == ([] if goes_in else ["stop"])
    assert held(NOTES, **tables) == []


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_mirrored_plate_lies_on_mirrored_work(held: Said, mirrored: bool) -> None:
    """9.75 mm left of the plate's middle the window ends 59.75 mm right of the cut, mirrored left of it."""
    make = {"for": ["cnc"], "mirrored": mirrored}
    cut = {**SLOT, "x": 60, "length": 20}
    for length, said in ((89.5, 0), (90, 1)):
        work = {"thickness": 35, "length": length, "from_end": 30}
        assert len(held(STOPS, cut=cut, work=work, make=make)) == said


def test_of_work_that_is_not_given(held: Said) -> None:
    """A note that the work must come up, what to write where it cannot, and which keys would tell."""
    sentence = (
        "the work must come 9 mm up into the holder's window of 100 mm x 60 mm, for the ledge (9 mm) is thicker than "
        "the stand-off has room for: where the work is larger, the cut comes out as much less deep; write "
        'plate.stand_off = "9 mm", or correct stand_off in the holder\'s profile, and the plunge is 35 mm'
    )
    assert held(NOTES, cut=SLOT) == [
        (
            "note",
            "plate.stand_off",
            f"{sentence} (with the work's thickness and length in [work] this is looked at)",
        )
    ]
    assert held(NOTES, cut=SLOT, work={"thickness": 35}) == [
        ("note", "plate.stand_off", f"{sentence} (with work.length this is looked at)")
    ]
    ring = {**SLOT, "length": 20, "repeat": {"count": 3, "ring": 40}}
    assert [said for _, _, said in held(NOTES, cut=ring, work={"thickness": 35, "length": 1000})] == [sentence]


def test_of_a_ledge_that_nobody_measured(held: Said) -> None:
    """With a stand-off of nothing there is still a ledge: a warning for large work, else a note; with one, nothing."""
    remedy = "measure the ledge, and write its thickness as plate.stand_off: the plunge is as much more"
    unknown = {"holder": "unknown"}
    assert held(STOPS, plate=unknown, cut=SLOT, work={"thickness": 35, "length": 1000}) == [
        (
            "warning",
            "plate.stand_off",
            "the work (35 mm thick, 1000 mm long) does not go into the holder's window of 100 mm x 60 mm, so the ledge "
            f"lies on it, and the cut comes out less deep by the ledge's thickness: {remedy}",
        )
    ]
    assert held(NOTES, plate=unknown, cut=SLOT) == [
        (
            "note",
            "plate.stand_off",
            "with this stand-off the work must come up through the holder's window of 100 mm x 60 mm to the plate: "
            f"where it is larger, {remedy} (with the work's thickness and length in [work] this is looked at)",
        )
    ]
    for work in ({}, {"work": {"thickness": 35, "length": 1000}}):
        for code in (STOPS, NOTES):
            assert held(code, plate={**unknown, "stand_off": 5}, cut=SLOT, **work) == []


def test_a_rebated_plate_hangs_into_the_window(held: Said) -> None:
    """9 mm of plate in a recess of 6 hang 3 mm below the ledge's face: of 9 mm of ledge 6 are its stand-off."""
    tables = {"cut": SLOT, "work": {"thickness": 35, "length": 1000}}
    rebated = {"thickness": 9, "rebate": True}
    assert held(STOPS, plate={**rebated, "stand_off": 6}, **tables) == []
    ((_, _, sentence),) = held(STOPS, plate={**rebated, "stand_off": 2}, **tables)
    assert 'comes out 4 mm less deep than asked: write plate.stand_off = "6 mm"' in sentence
    assert sentence.endswith("and the plunge is 35 mm")  # 9 + 6 + 20


def test_a_holder_without_a_window(held: Said) -> None:
    """Where nothing is known of the window nothing is said."""
    for code in (STOPS, NOTES):
        assert held(code, plate={"holder": "open"}, cut=SLOT, work={"thickness": 35, "length": 1000}) == []


@pytest.mark.parametrize(
    ("plate", "level", "off", "plunge"),
    [
        ({"stand_off": 9}, "warning", 9, 26),
        ({"stand_off": 9.005}, "warning", 9, 26),
        ({"stand_off": 12}, "note", 12, 26),  # not the ledge, so something else is meant to keep it off
        ({"stand_off": 5, "holder": "unknown"}, "note", 5, 26),
        ({"stand_off": 6, "thickness": 9, "rebate": True}, "warning", 6, 29),
    ],
)
def test_work_that_goes_in_although_it_is_to_stay_below(
    held: Said, plate: dict[str, Any], level: str, off: int, plunge: int
) -> None:
    """90 by 50 goes into a window of 100 by 60, so no ledge keeps it off the plate: 6 + 20 mm of plunge are enough."""
    tables = {"cut": SLOT, "work": {"thickness": 50, "length": 90}}
    ((found, where, sentence),) = held("work-under-window", plate=plate, **tables)
    assert (found, where) == (level, "plate.stand_off")
    assert sentence.replace("9.01 mm", "9 mm").replace("9.00 mm", "9 mm") == (
        f"the work (50 mm thick, 90 mm long) goes into the holder's window of 100 mm x 60 mm, and where it "
        f"stands up to the plate the cut comes out {off} mm deeper than asked: "
        f"write plate.stand_off = 0, and the plunge is {plunge} mm, or see that the work lies {off} mm below the plate"
    )
    assert held(STOPS, plate=plate, **tables) == []


@pytest.mark.parametrize(
    ("plate", "work"),
    [
        ({"stand_off": 0}, {"thickness": 50, "length": 90}),  # it comes up
        ({"stand_off": 9}, {"thickness": 50}),  # how long it is is not known
        ({"stand_off": 9}, {"thickness": 50, "length": 101}),
        ({"stand_off": 6}, {"thickness": 50, "length": 90}),  # 3 mm into the window, as is meant
        ({"stand_off": 9, "holder": "open"}, {"thickness": 50, "length": 90}),
    ],
)
def test_work_that_is_where_it_is_said_to_be(held: Said, plate: dict[str, Any], work: dict[str, Any]) -> None:
    """Nothing is said where the work comes up, does not go in, or its length or the window is not known."""
    assert held("work-under-window", plate=plate, cut=SLOT, work=work) == []
