"""The plate in its holder, and the cut in the holder's window."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import report_on

Said = Callable[..., list[tuple[str, str, str]]]

HOLDERS = """\
units = "mm"
[holders."frame"]
width = 140
height = 120
play = 0.5
depth = 6
ledge = 20
window = { width = 100, height = 60 }
[holders."open"]
width = 140
height = 120
play = 0.5
[holders."ledge"]
width = 140
height = 120
play = 0.5
ledge = 20
[holders."rounded"]
width = 140
height = 120
corner_radius = 12
play = 0.5
depth = 6
ledge = 20
window = { width = 100, height = 60, corner_radius = 30 }
[holders."square"]
width = 140
height = 120
corner_radius = 0
play = 0.5
ledge = 0.5
"""


@pytest.fixture
def held(in_holders: Callable[..., Said]) -> Said:
    """What is said of a plate in the holder "frame"."""
    return in_holders(HOLDERS)


CODES = ("plate-too-large-for-holder", "plate-loose-in-holder", "plate-below-holder", "cut-outside-window")


def test_a_plate_the_holder_sizes(held: Said) -> None:
    """A plate that takes its size from the holder fits it."""
    assert [held(code) for code in CODES] == [[], [], [], []]


def test_without_a_holder(said: Said) -> None:
    """Nothing is said of a holder that is not there."""
    assert [said(code, plate={"thickness": 1}, cut={"x": 30}) for code in CODES] == [[], [], [], []]


def test_plate_too_large(held: Said) -> None:
    """A plate larger than the recess is a stop; exactly as large goes."""
    assert held("plate-too-large-for-holder", {"width": 140.1, "height": 119}) == [
        (
            "stop",
            "plate.holder",
            "the plate (140.1 mm x 119 mm) does not go into the holder's recess (140 mm x 120 mm): leave out "
            "plate.width and plate.height, and the holder gives them",
        )
    ]
    assert held("plate-too-large-for-holder", {"width": 140, "height": 120}) == []


def test_plate_loose(held: Said) -> None:
    """More than 1 mm beyond the holder's own play is a warning."""
    assert held("plate-loose-in-holder", {"width": 139.5, "height": 118.4}) == [
        (
            "warning",
            "plate.holder",
            "the plate (139.5 mm x 118.4 mm) is loose in the holder's recess (140 mm x 120 mm), so the cut lands where "
            "it happens to lie: leave out plate.width and plate.height, and the holder gives them",
        )
    ]
    assert held("plate-loose-in-holder", {"height": 118.5}) == []


def test_plate_below_the_holder(held: Said) -> None:
    """A plate thinner than the recess is deep is a warning; as thick is none; an unknown depth says nothing."""
    assert held("plate-below-holder", {"thickness": 4}) == [
        (
            "warning",
            "plate.thickness",
            "the plate (4 mm) is thinner than the holder's recess is deep (6 mm): the router's base may ride on the "
            "holder, 2 mm higher than the plunge setting allows for; take a thicker plate or pack it up",
        )
    ]
    assert held("plate-below-holder", {"thickness": 6}) == []
    assert held("plate-below-holder", {"thickness": 4, "holder": "open"}) == []


def test_cut_outside_the_window(held: Said) -> None:
    """A cut that reaches over the window's edge is a stop; as long as the window it is none."""
    assert held("cut-outside-window", cut={"length": 100.1}) == [
        (
            "stop",
            "cut.x",
            "the bit would cut into the holder's ledge: the cut must lie within its window of 100 mm x 60 mm; move or "
            "shorten the cut, or use another holder",
        )
    ]
    assert held("cut-outside-window", cut={"length": 100}) == []
    assert len(held("cut-outside-window", cut={"length": 60.1, "angle": 90})) == 1
    assert held("cut-outside-window", {"holder": "open"}, cut={"length": 100.1}) == []


def test_cut_aside_of_the_window(held: Said) -> None:
    """A short cut that lies off the middle reaches over the edge too; mirrored on the other side."""
    for mirrored in (False, True):
        tables = {"cut": {"x": 45}, "make": {"mirrored": mirrored}}
        # the window runs from 19.75 to 119.75 of the plate's 139.5, the cut from 20 to 70
        assert held("cut-outside-window", **tables) == []
        tables["cut"] = {"x": 44}
        assert len(held("cut-outside-window", **tables)) == 1


def test_no_cut_is_in_no_ones_way(held: Said) -> None:
    """Where the bit does not fit nothing is said of the window."""
    assert held("cut-outside-window", cut={"width": 9, "length": 130}) == []


def test_a_window_from_the_ledge_alone(held: Said) -> None:
    """Without a window the ledge says what is left: 140 - 2 x 20 = 100 mm."""
    assert held("cut-outside-window", {"holder": "ledge"}, cut={"length": 100}) == []
    assert len(held("cut-outside-window", {"holder": "ledge"}, cut={"length": 100.1})) == 1


def test_the_round_ends_of_a_window(held: Said) -> None:
    """A cut that goes into a window with square corners reaches over one whose ends are round."""
    cut = {"shape": "rectangle", "width": 40, "length": 98, "depth": 10, "corner_radius": 5}
    assert held("cut-outside-window", cut=cut) == []
    assert len(held("cut-outside-window", {"holder": "rounded"}, cut=cut)) == 1
    assert held("cut-outside-window", {"holder": "rounded"}, cut={**cut, "length": 86}) == []


def test_the_plate_gets_the_corners_of_the_recess(report_with: Callable[..., Any], held: Said, tmp_path: Path) -> None:
    """Its corners are as round as the recess's and go in; square ones of its own do not, and are a stop."""
    held("plate-corner-meets-recess")  # writes the holders
    plate = {"holder": "rounded", "width": None, "height": None, "screws": None}
    report = report_with(profiles=Profiles([tmp_path]), plate=plate)
    assert report.job.plate.corner_radius == 12
    assert held("plate-corner-meets-recess", {"holder": "rounded"}) == []
    assert held("plate-corner-meets-recess", {"holder": "rounded", "corner_radius": 0}) == [
        (
            "stop",
            "plate.corner_radius",
            "the plate's corners (r 0 mm) do not go into those of the recess (r 12 mm): leave out plate.corner_radius, "
            "and the holder gives it",
        )
    ]


def test_corners_that_the_play_lets_pass(held: Said) -> None:
    """Play of 0.25 mm a side lets a corner pass that is 0.85 mm less round, and no more: 0.25 / 0.293."""
    assert held("plate-corner-meets-recess", {"holder": "rounded", "corner_radius": 11.2}) == []
    assert len(held("plate-corner-meets-recess", {"holder": "rounded", "corner_radius": 11.1})) == 1


def test_a_plate_that_is_too_large_is_said_once(held: Said) -> None:
    """Where it does not go in at all, its corners are no question."""
    too_large = {"holder": "rounded", "width": 150, "height": 130, "corner_radius": 0}
    assert held("plate-corner-meets-recess", too_large) == []
    assert len(held("plate-too-large-for-holder", too_large)) == 1


def test_corners_of_the_recess_unknown(held: Said) -> None:
    """A square plate in a recess of which nothing is known is a note; round corners, or a known recess, none."""
    assert held("recess-corners-unknown") == [
        (
            "note",
            "plate.corner_radius",
            "the plate's corners are square, and whether the recess's are is not known: if a bit left them round, give "
            "their radius as corner_radius in the holder's profile, and the plate gets it too",
        )
    ]
    assert held("recess-corners-unknown", {"corner_radius": 3}) == []
    assert held("recess-corners-unknown", {"holder": "square"}) == []


def test_plate_proud_of_the_holder(held: Said, job_with: Callable[..., Any]) -> None:
    """A plate thicker than the recess is deep is a warning; where the job says that it is meant, a note."""
    sentence = (
        "the plate stands 3 mm proud of the holder's face, which then does not carry the router: plate.rebate = true "
        "rebates it round its underside to lie flush, plate.rebate = false says that this is meant"
    )
    assert held("plate-proud-of-holder", {"thickness": 9}) == [("warning", "plate.rebate", sentence)]
    meant = (
        "the plate stands 3 mm proud of the holder's face, as is meant: keep the router's base on the plate, the "
        "holder does not carry it"
    )
    assert held("plate-proud-of-holder", {"thickness": 9, "rebate": False}) == [("note", "plate.rebate", meant)]
    assert held("plate-proud-of-holder", {"thickness": 6.005}) == []
    assert held("plate-proud-of-holder", {"thickness": 9, "holder": "open"}) == []


def test_plate_that_drops_through(held: Said) -> None:
    """A ledge no wider than the room in the recess lets a plate pushed aside fall; a wider one does not."""
    narrow = {"holder": "square", "width": 139.4, "height": 119.5}
    assert held("plate-drops-through", narrow) == [
        (
            "stop",
            "plate.holder",
            "pushed to one side the plate comes off the ledge (0.5 mm wide) on the other: make it as large as the "
            "holder gives it",
        )
    ]
    assert len(held("plate-drops-through", {"holder": "square"})) == 1  # 0.5 mm play on a ledge of 0.5 mm
    assert held("plate-drops-through", {"holder": "square", "width": 139.6, "height": 119.6}) == []


def test_screws_over_the_window(held: Said) -> None:
    """A screw that has the window under it, in part or whole, is a warning; over the ledge it is none."""
    corners = {"pattern": "corners", "size": "M5", "inset": 26}
    assert held("screw-misses-ledge", {"screws": corners}) == []  # the window begins 29.75 mm from the lower edge
    assert held("screw-misses-ledge", {"screws": {"pattern": "edges", "size": "M5", "inset": 17.5}}) == [
        (
            "warning",
            "plate.screws",
            "screw hole 2, 4 does not lie over the ledge but over the window of 100 mm x 60 mm: nothing is there to "
            "screw into; move it outwards, or use the holder's screws",
        )
    ]
    assert held("screw-misses-ledge", {"screws": {"pattern": "edges", "size": "M5", "inset": 16.5}}) == []


def test_inch_jobs_read_in_inches(held: Said, tmp_path: Path) -> None:
    """In a job in inches the sentence has inches first: 3/8 in on a recess of 1/4 in stands 1/8 in proud."""
    text = """\
title = "Inches"
units = "in"
[cut]
shape = "slot"
width = "3/8 in"
length = 2
depth = 1
[tools]
bit = "3/8 in"
bushing = "1/2 in"
[plate]
holder = "inches"
thickness = "3/8 in"
"""
    holder = 'units = "in"\n[holders."inches"]\nwidth = 6\nheight = 5\nplay = "1/64 in"\ndepth = "1/4 in"\n'
    (tmp_path / "inches.toml").write_text(holder, encoding="utf-8")
    job = job_from_text(text, name="inches", profiles=Profiles([tmp_path]))
    (found,) = [f.message for f in report_on(job).findings if f.code == "plate-proud-of-holder"]
    assert found.startswith("the plate stands 1/8 in (3.18 mm) proud of the holder's face")
