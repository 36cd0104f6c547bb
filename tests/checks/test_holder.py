"""The plate in its holder, and the cut in the holder's window."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.profiles import Profiles

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
"""


@pytest.fixture
def held(said: Said, tmp_path: Path) -> Said:
    """The same, for a plate in the holder "frame"."""
    (tmp_path / "own.toml").write_text(HOLDERS, encoding="utf-8")

    def found(code: str, plate: dict[str, Any] | None = None, **tables: Any) -> list[tuple[str, str, str]]:
        in_frame = {"holder": "frame", "width": None, "height": None, "screws": None, **(plate or {})}
        return said(code, profiles=Profiles([tmp_path]), plate=in_frame, **tables)

    return found


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
