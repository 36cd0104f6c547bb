"""Bit against cut, bushing against opening, and the cut that comes out."""

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]

RECTANGLE = {"shape": "rectangle", "width": 20, "length": 50, "depth": 5}


def test_bit_wider_than_the_cut(said: Said) -> None:
    """A bit wider than the cut, even by a micrometre, is a stop with both sizes and both ways out."""
    assert said("bit-wider-than-cut", cut={"width": 9.524}) == [
        (
            "stop",
            "tools.bit",
            "the bit (9.525 mm) is wider than the cut (9.524 mm): use a bit of at most 9.524 mm, or make cut.width "
            "at least 9.525 mm",
        )
    ]
    assert said("bit-wider-than-cut", cut={"width": "9.525 mm"}) == []


@pytest.mark.parametrize(
    ("cut", "key"),
    [
        ({"shape": "round", "diameter": 9, "depth": 5}, "cut.diameter"),
        ({"shape": "rectangle", "width": 9, "length": 50, "depth": 5}, "cut.width"),
        ({"shape": "rectangle", "width": 50, "length": 9, "depth": 5}, "cut.length"),
    ],
)
def test_it_names_the_key_that_is_too_small(said: Said, cut: dict[str, Any], key: str) -> None:
    """A round has a diameter, and a rectangle's length may be its shorter side."""
    ((level, _, sentence),) = said("bit-wider-than-cut", cut=cut)
    assert level == "stop"
    assert sentence.endswith(f"use a bit of at most 9 mm, or make {key} at least 9.525 mm")


def test_only_the_bit_is_blamed(said: Said) -> None:
    """Without an opening nothing is said of play or corners."""
    codes = ("side-play", "cut-comes-out-wider", "no-running-clearance", "corner-tighter-than-bit")
    assert [said(code, cut={"width": 9}) for code in codes] == [[], [], [], []]


@pytest.mark.parametrize("bushing", ["3/8 in", "9 mm"])
def test_bushing_not_wider_than_the_bit(said: Said, bushing: str) -> None:
    """A bushing as wide as the bit or narrower cannot hold it: stop."""
    ((level, key, sentence),) = said("bushing-not-wider-than-bit", tools={"bushing": bushing})
    size = {"3/8 in": "9.525 mm", "9 mm": "9 mm"}[bushing]
    assert (level, key) == ("stop", "tools.bushing")
    assert sentence == (
        f"the bushing ({size}) must be wider than the bit (9.525 mm) that runs inside it: use a larger bushing or a "
        "smaller bit"
    )
    assert said("bushing-not-wider-than-bit", tools={"bushing": "9.526 mm"}) == []


def test_side_play(said: Said) -> None:
    """Room beyond the running clearance is a note: one pass does not make the width."""
    assert said("side-play") == [
        (
            "note",
            "cut.width",
            "the bushing can move 0.475 mm sideways in the opening, so one pass does not make the width: go all "
            "round the edge, clockwise",
        )
    ]
    assert said("side-play", cut={"width": 9.625}) == []
    ((_, _, sentence),) = said("side-play", cut={"width": 20})
    assert sentence.endswith("go all round the edge, clockwise, then clear the middle")
    assert len(said("side-play", cut={"width": 9.627})) == 1


@pytest.mark.parametrize(
    ("width", "clearance", "play"), [("9.525 mm", 0, "0 mm"), (9.54, 0, "0.015 mm"), (9.525, 0.01, "0.01 mm")]
)
def test_no_running_clearance(said: Said, width: object, clearance: float, play: str) -> None:
    """Less room than the tightest running fit (H8/f7, 0.016 mm, ISO 286 quoted) is a warning, trapped or not."""
    cut, tools = {"width": width}, {"clearance": clearance}
    assert said("no-running-clearance", cut=cut, tools=tools) == [
        (
            "warning",
            "tools.clearance",
            f"the opening is only {play} wider than the bushing, which will bind: set tools.clearance to 0.1 mm, and "
            "the cut comes out at bit + clearance",
        )
    ]
    assert said("side-play", cut=cut, tools=tools) == []


def test_enough_running_clearance(said: Said) -> None:
    """From 0.016 mm on the bushing runs."""
    assert said("no-running-clearance", cut={"width": 9.525}, tools={"clearance": 0.016}) == []
    assert said("no-running-clearance", cut={"width": 9.541}, tools={"clearance": 0}) == []


def test_loose_clearance(said: Said) -> None:
    """A trapped bushing with more than 0.34 mm of room (twice H9/d9, ISO 286 quoted) wanders: warning."""
    assert said("loose-clearance", cut={"width": 9.525}, tools={"clearance": 0.35}) == [
        (
            "warning",
            "tools.clearance",
            "a running clearance of 0.35 mm lets the bushing wander: 0.05 to 0.15 mm is usual; more is better given "
            "as cut.width",
        )
    ]
    assert said("loose-clearance", cut={"width": 9.525}, tools={"clearance": 0.34}) == []
    assert said("loose-clearance", cut={"width": 12}, tools={"clearance": 0.35}) == []


def test_cut_comes_out_wider(said: Said) -> None:
    """A cut as wide as the bit comes out at bit + clearance, and says so."""
    assert said("cut-comes-out-wider", cut={"width": "3/8 in"}) == [
        (
            "note",
            "cut.width",
            "the bit is as wide as the cut (9.525 mm), so the cut comes out at bit + running clearance: "
            "9.625 mm = 0.379 in; make the tenon to suit, or change tools.clearance",
        )
    ]
    ((_, key, sentence),) = said("cut-comes-out-wider", cut={**RECTANGLE, "length": 9.6})
    assert key == "cut.length"
    assert sentence.startswith("the bit is nearly as wide as the cut (9.6 mm), so")
    assert "9.625 mm" in sentence
    assert said("cut-comes-out-wider", cut={"width": 9.625}) == []


def test_corners_tighter_than_the_bit(said: Said) -> None:
    """A corner the bit cannot reach is a warning with the radius, the shortfall and the area."""
    assert said("corner-tighter-than-bit", cut=RECTANGLE) == [
        (
            "warning",
            "cut.corner_radius",
            "the bit leaves corners of radius 4.763 mm, up to 1.97 mm short of the cut (19.47 mm² in all): chisel "
            "them out, round the work to 4.763 mm, or set cut.corner_radius to 4.763 mm",
        )
    ]
    assert said("corner-tighter-than-bit", cut={**RECTANGLE, "corner_radius": 4.7625}) == []
    assert len(said("corner-tighter-than-bit", cut={**RECTANGLE, "corner_radius": 4.7})) == 1


def test_what_it_advises_is_enough(said: Said) -> None:
    """The radius it writes, rounded to a micrometre, ends the warning: 1/8 in leaves 1.5875 mm."""
    ((_, _, sentence),) = said("corner-tighter-than-bit", cut=RECTANGLE, tools={"bit": "1/8 in"})
    advised = sentence.rsplit(" to ", 1)[1]
    assert advised in ("1.587 mm", "1.588 mm")
    cut = {**RECTANGLE, "corner_radius": advised}
    assert said("corner-tighter-than-bit", cut=cut, tools={"bit": "1/8 in"}) == []


def test_a_rectangle_as_narrow_as_the_bit(said: Said) -> None:
    """There a corner radius would be refused, so a slot is advised instead."""
    ((_, _, sentence),) = said("corner-tighter-than-bit", cut={**RECTANGLE, "width": "3/8 in"})
    assert sentence.endswith('chisel them out, round the work to 4.763 mm, or set cut.shape to "slot"')
