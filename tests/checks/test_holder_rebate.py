"""A rebated plate: what is left of it, the opening in the thinner edge, the stem over the ledge, the screws."""

from collections.abc import Callable

import pytest

from jigtemplates.checks.holder_rebate import check_rebate
from jigtemplates.report import Report

Said = Callable[..., list[tuple[str, str, str]]]

HOLDERS = """\
units = "mm"
[holders."frame"]
width = 160
height = 160
corner_radius = 0
play = 0.4
depth = 6
window = { width = 120, height = 120 }
stand_off = 9
screws = { pattern = "corners", size = "M5", hole = "countersunk", inset = 11 }
[holders."thin"]
width = 160
height = 160
corner_radius = 0
play = 0.4
depth = 2.5
ledge = 20
stand_off = 9
screws = { pattern = "corners", size = "M5", hole = "countersunk", inset = 11 }
[holders."round"]
width = 160
height = 160
corner_radius = 80
play = 0.4
depth = 6
ledge = 20
stand_off = 9
[holders."narrow"]
width = 160
height = 46
corner_radius = 0
play = 0.4
depth = 6
ledge = 22
stand_off = 9
"""


@pytest.fixture
def held(in_holders: Callable[..., Said]) -> Said:
    """What is said of a rebated plate of 9 mm in the holder "frame"."""
    return in_holders(HOLDERS, thickness=9, rebate=True)


HOW = (
    "rebate the underside all round, 21 mm wide and 3 mm deep: 6 mm stays on the ledge, and the upper face lies flush "
    "with the holder's"
)
BY_HAND = ". By hand on a router table: bit 3 mm high, its far side 21 mm in front of the fence"


@pytest.mark.parametrize(
    ("targets", "more"),
    [
        (["paper"], ""),
        (["cnc"], "; a CNC file of its own shows the underside, with the rebate as a pocket"),
        (["laser"], "; a laser cannot make it"),
        (["print"], "; a printed plate has it already"),
        (
            ["laser", "cnc"],
            "; a CNC file of its own shows the underside, with the rebate as a pocket; a laser cannot make it",
        ),
    ],
)
def test_how_to_make_it(held: Said, targets: list[str], more: str) -> None:
    """A note says width, depth, what stays, the fence, and what the machines can do of it."""
    found = held("rebate", make={"for": targets})
    assert found == [("note", "plate.rebate", f"{HOW}{more}{BY_HAND}")]


def test_a_round_plate_finds_no_fence(held: Said) -> None:
    """Of a round plate no fence distance is said."""
    assert held("rebate", {"holder": "round"}, make={"for": ["paper"]}) == [("note", "plate.rebate", HOW)]


def test_no_other_plate_is_spoken_of(report_with: Callable[..., Report]) -> None:
    """Without a rebate the check says nothing."""
    assert list(check_rebate(report_with().case)) == []


def test_nothing_left_of_the_middle(held: Said) -> None:
    """Two rebates of 23 mm on a plate of 45.6 mm leave nothing: a stop, and nothing more is said of the rebate."""
    plate = {"holder": "narrow"}
    tables = {"cut": {"length": 20}, "tools": {"bit": "1/4 in", "bushing": "3/8 in"}}
    assert held("rebate-takes-all", plate, **tables) == [
        (
            "stop",
            "plate.rebate",
            "a rebate 23 mm wide on every side leaves nothing of the plate's middle: take a plate as thick as the "
            "recess is deep",
        )
    ]
    assert held("rebate", plate, **tables) == []
    assert held("rebate-takes-all") == []


def test_an_opening_that_reaches_into_the_rebate(held: Said) -> None:
    """The middle is 159.6 - 42 = 117.6 mm wide; the opening is 3.175 mm longer than the cut."""
    assert held("opening-in-rebate", cut={"length": 114.4}) == []
    assert held("opening-in-rebate", cut={"length": 118}) == [
        (
            "warning",
            "cut.x",
            "the opening reaches 1.79 mm into the rebate, where only 6 mm of the plate guides the bushing: move or "
            "shorten the cut, or use another holder",
        )
    ]


@pytest.mark.parametrize(("stem", "stops"), [(6, 0), (7, 1), (9, 1)])
def test_a_stem_longer_than_the_edge_is_thick(held: Said, stem: float, stops: int) -> None:
    """Over the ledge the stem has 6 mm, not 9; a stem as long meets nothing, a longer one the ledge."""
    bushing = {"diameter": "1/2 in", "bore": "13/32 in", "stem": stem}
    found = held("stem-meets-ledge", cut={"length": 119.5}, tools={"bushing": bushing})
    assert found == stops * [
        (
            "stop",
            "tools.bushing",
            f"the stem ({stem} mm) is longer than the rebated edge is thick (6 mm) and meets the holder's ledge: the "
            "opening reaches 1.34 mm beyond its window; shorten the stem, or move the cut",
        )
    ]
    assert held("stem-meets-ledge", cut={"length": 50}, tools={"bushing": bushing}) == []


def test_a_stem_longer_than_the_plate_is_told_once(held: Said) -> None:
    """A stem that comes out under the whole plate is told by the check of stems."""
    bushing = {"diameter": "1/2 in", "bore": "13/32 in", "stem": 10}
    (found,) = held("stem-meets-ledge", cut={"length": 119.5}, tools={"bushing": bushing})
    assert "comes 1 mm out under the plate" in found[2]


def test_countersinks_in_the_edge(held: Said) -> None:
    """M5 heads of 11.2 mm at 90 degrees sink (11.2 - 5.5) / 2 = 2.85 mm: through an edge of 2.5 mm, not of 6."""
    assert held("countersink-through-edge") == []
    assert held("countersink-through-edge", {"holder": "thin"}) == [
        (
            "stop",
            "plate.screws",
            "the countersinks (2.85 mm deep) go through the rebated edge, which is 2.5 mm thick: take smaller screws, "
            "or another hole",
        )
    ]


def test_thread_in_the_edge(held: Said) -> None:
    """A thread shorter than the screw is thick is a warning."""
    tapped = {"pattern": "corners", "size": "M5", "hole": "tapped", "inset": 11}
    assert held("short-thread", {"screws": tapped}) == []
    assert held("short-thread", {"holder": "thin", "screws": tapped}) == [
        (
            "warning",
            "plate.screws",
            "only 2.5 mm of thread is left in the rebated edge, less than the screw is thick (5 mm): screw from above "
            "into the ledge",
        )
    ]
