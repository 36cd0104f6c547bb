"""A plate that is put back turned: its outline, its screws over the holder's holes, the cut in each place."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.profiles import Profiles

Said = Callable[..., list[tuple[str, str, str]]]

HOLDERS = """\
units = "mm"
[holders."square"]
width = 160
height = 160
corner_radius = 0
play = 0.4
depth = 6
window = { width = 120, height = 100 }
screws = { pattern = "corners", size = "M5", inset = 10 }
[holders."oblong"]
width = 160
height = 120
corner_radius = 0
play = 0.4
screws = { pattern = "corners", size = "M5", inset = 10 }
[holders."round"]
width = 160
height = 160
corner_radius = 80
play = 0.4
screws = { pattern = "ring", size = "M5", count = 6, diameter = 140 }
"""

CODES = (
    "screws-off-holder",
    "plate-not-turnable",
    "screw-misses-when-turned",
    "cut-outside-window",
    "stem-meets-ledge",
)


@pytest.fixture
def held(said: Said, tmp_path: Path) -> Said:
    """The same, for a plate in the holder "square" that may be put back by quarter turns."""
    (tmp_path / "own.toml").write_text(HOLDERS, encoding="utf-8")

    def found(code: str, plate: dict[str, Any] | None = None, **tables: Any) -> list[tuple[str, str, str]]:
        keys = {"holder": "square", "width": None, "height": None, "screws": None, "turn": 90, **(plate or {})}
        return said(code, profiles=Profiles([tmp_path]), plate=keys, **tables)

    return found


@pytest.mark.parametrize(
    "plate",
    [
        {},
        {"turn": 180},
        {"holder": "oblong", "turn": 180},
        {"holder": "round", "turn": 60},
        {"holder": "round", "turn": 120},
        {"turn": None},
    ],
)
def test_plates_that_can_be_turned(held: Said, plate: dict[str, Any]) -> None:
    """A square by quarter turns, an oblong by half turns, a round one by the steps of its ring: nothing stops them."""
    assert [held(code, plate) for code in CODES] == [[], [], [], [], []]


@pytest.mark.parametrize(
    ("plate", "size", "why"),
    [
        (
            {"holder": "oblong", "turn": 90},
            "90° the plate (159.6 mm x 119.6 mm)",
            "quarter turns need a square plate, others than half turns a round one",
        ),
        (
            {"turn": 60},
            "60° the plate (159.6 mm x 159.6 mm)",
            "such steps need a round plate (a holder whose corner_radius is half its width makes one)",
        ),
    ],
)
def test_plates_that_cannot(held: Said, plate: dict[str, Any], size: str, why: str) -> None:
    """An oblong by quarter turns and a square by sixths do not cover their own place."""
    sentence = f"after a turn of {size} does not cover its own place: {why}"
    assert held("plate-not-turnable", plate) == [("stop", "plate.turn", sentence)]


def test_without_a_holder(said: Said) -> None:
    """A plate without a holder is turned on its own screws: the plan's is square, its screws in the corners."""
    for code in CODES:
        assert said(code, plate={"turn": 90}) == []
    off = {"pattern": "points", "size": "M5", "points": [[10, 10], [131, 130]]}
    assert said("screw-misses-when-turned", plate={"turn": 180, "screws": off}) == [
        (
            "stop",
            "plate.turn",
            "after a turn of 180° screw hole 1 at (10 mm, 10 mm) (and 1 more) comes to (130 mm, 130 mm), 1 mm from the "
            'nearest hole: lay the screws out in the corners of a square, or on a ring (pattern = "ring") of as many '
            "as the plate has places",
        )
    ]


def test_screws_that_miss_the_holders_holes(held: Said) -> None:
    """A ring of six turned by twelfths misses by the chord of 30 degrees on 70 mm: 2 x 70 x sin 15 = 36.23 mm."""
    assert held("screw-misses-when-turned", {"holder": "round", "turn": 30}) == [
        (
            "stop",
            "plate.turn",
            "after a turn of 30° screw hole 1 at (149.8 mm, 79.8 mm) (and 5 more) comes to (140.42 mm, 114.8 mm), "
            "36.23 mm from the nearest hole of the holder: lay the screws out in the corners of a square, or on a ring "
            '(pattern = "ring") of as many as the plate has places',
        )
    ]


def test_fewer_screws_than_the_holder_has_holes(held: Said) -> None:
    """A plate with two screws may be turned in the steps of the holder's six holes: each finds one."""
    two = {"holder": "round", "turn": 60, "screws": {"pattern": "ring", "size": "M5", "count": 2, "diameter": 140}}
    assert [held(code, two) for code in CODES] == [[], [], [], [], []]


def test_screws_of_its_own_off_the_holders(held: Said) -> None:
    """Screws that do not lie over the holder's as drawn are a warning; a plate of another size lies in the middle."""
    own = {"pattern": "corners", "size": "M5", "inset": 12}
    assert held("screws-off-holder", {"screws": own, "turn": None}) == [
        (
            "warning",
            "plate.screws",
            "screw hole 1 at (12 mm, 12 mm) (and 3 more) lies 2.83 mm from the nearest hole of the holder: leave "
            "plate.screws out, and the holder gives them",
        )
    ]
    assert held("screw-misses-when-turned", {"screws": own}) == []  # turned, they still cover their own places
    smaller = {"screws": {**own, "inset": 9.5}, "width": 158.6, "height": 158.6, "turn": None}
    assert held("screws-off-holder", smaller) == []


def test_cut_outside_the_window_when_turned(held: Said) -> None:
    """A cut of 110 mm lies along the window of 120 x 100 as drawn, and over its ledge after a quarter turn."""
    assert held("cut-outside-window", {"turn": 180}, cut={"length": 110}) == []
    assert held("cut-outside-window", cut={"length": 110}) == [
        (
            "stop",
            "plate.turn",
            "turned by 90° the bit would cut into the holder's ledge: the cut must lie within its window of 120 mm x "
            "100 mm; move or shorten the cut, or use another holder",
        )
    ]
    assert held("cut-outside-window", cut={"length": 130})[0][1] == "cut.x"  # as drawn already


def test_stem_over_the_ledge_when_turned(held: Said) -> None:
    """A stem of 8 mm comes out under the plate of 6 mm and meets the ledge only after a quarter turn."""
    tables = {"cut": {"length": 99.9}, "tools": {"bushing": {"diameter": "1/2 in", "bore": "13/32 in", "stem": 8}}}
    assert held("stem-meets-ledge", {"turn": 180, "stand_off": 9}, **tables) == []
    assert held("stem-meets-ledge", {"stand_off": 9}, **tables) == [
        (
            "stop",
            "plate.turn",
            "turned by 90° the opening reaches 1.54 mm beyond the holder's window, and the stem (8 mm) meets the ledge "
            "there: shorten the stem, or move the cut",
        )
    ]


def test_where_the_cut_comes_to(held: Said) -> None:
    """A note names the middle of the cut in each place; in the middle of the plate it stays."""
    assert held("turned-places", cut={"x": 100}) == [
        (
            "note",
            "plate.turn",
            "the plate can be put back in 4 places; in the first it lies as drawn, the datum corner at the lower left. "
            "As it is turned, counter-clockwise, the middle of the cut comes to (100 mm, 79.8 mm) at 0°, (79.8 mm, 100 "
            "mm) at 90°, (59.6 mm, 79.8 mm) at 180°, (79.8 mm, 59.6 mm) at 270°, measured as in the first",
        )
    ]
    assert held("turned-places")[0][2].endswith("the middle of the cut stays at (79.8 mm, 79.8 mm)")
    assert "as drawn. As it" in held("turned-places", {"holder": "round", "turn": 60})[0][2]


def test_many_places_are_not_all_named(held: Said) -> None:
    """Of twelve places eight are named."""
    twelve = {"holder": "round", "turn": 30, "screws": {"pattern": "ring", "size": "M5", "count": 6, "diameter": 140}}
    found = held("turned-places", {**twelve, "holder": None, "width": 160, "height": 160, "corner_radius": 80,
                                   "screws": None}, cut={"x": 100})  # fmt: skip
    assert found[0][2].count("°") == 8
    assert "at 210° …, measured" in found[0][2]


@pytest.mark.parametrize("turn", [0, -90, 7, 100, 360, 5])
def test_steps_that_do_not_come_round(held: Said, turn: float) -> None:
    """A step that does not go into a whole turn 2 to 64 times is refused in one line."""
    with pytest.raises(InputError) as caught:
        held("plate-not-turnable", {"turn": turn})
    assert caught.value.lines[0].endswith(
        f"plate.turn: {turn:g} is not a step that comes round (write 180, 90, or 360 by the number of places, 2 to 64; "
        "no minus)"
    )


def test_a_seventh_in_decimals(held: Said) -> None:
    """51.43 degrees stand for a seventh of a turn; its places are those of a seventh exactly."""
    ring = {"pattern": "ring", "size": "M5", "count": 7, "diameter": 120}
    plate = {"holder": None, "width": 160, "height": 160, "corner_radius": 80, "screws": ring, "turn": 51.43}
    assert held("screw-misses-when-turned", plate) == []
    assert "in 7 places" in held("turned-places", plate)[0][2]


def test_a_pattern_is_not_turned(said: Said) -> None:
    """Outside work is followed round a pattern that lies in no holder: turn does not go with it."""
    cut = {"shape": "round", "diameter": 60, "depth": 10, "side": "outside"}
    with pytest.raises(InputError) as caught:
        said("plate-not-turnable", cut=cut, plate={"width": None, "height": None, "screws": None, "turn": 90})
    assert caught.value.lines[0].endswith(
        'plate.turn: does not go with cut.side = "outside" (leave it out: a pattern lies on the work)'
    )
