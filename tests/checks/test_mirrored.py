"""A cut that is mirrored and stays as it is; a pair of plates of which one is enough."""

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]

ALIKE = "a cut of this shape is its own mirror image, and mirrored = true does not change its angle: "
RADII = {"shape": "rectangle", "width": 20, "length": 50, "depth": 5, "corner_radii": [6, 6, 9, 6]}


@pytest.mark.parametrize(
    ("cut", "advice"),
    [
        ({"mirrored": True, "angle": 30}, "to lean it the other way write angle = -30"),
        ({"mirrored": True, "angle": -22.5}, "to lean it the other way write angle = 22.5"),
        ({"mirrored": True}, "leave it out"),
        ({"mirrored": True, "angle": 180}, "leave it out"),
    ],
)
def test_its_own_mirror_image(said: Said, cut: dict[str, Any], advice: str) -> None:
    """A slot is the same left for right; what leans it the other way is said."""
    assert said("mirrored-alike", cut=cut) == [("note", "cut.mirrored", ALIKE + advice)]


@pytest.mark.parametrize("cut", [{"angle": 30}, {**RADII, "mirrored": True, "angle": 30}])
def test_nothing_to_say(said: Said, cut: dict[str, Any]) -> None:
    """Of a cut that is not mirrored, and of one whose corners differ."""
    assert said("mirrored-alike", cut=cut) == []


ONE_IS_ENOUGH = [
    (
        "note",
        "make.pair",
        "the plates for the left and the right hand have the same openings and holes, so that either does for both: "
        "leave pair out, or place the cut where the hands differ",
    )
]
POINTS = {"pattern": "points", "size": "M5", "points": [[10, 10], [120, 10]]}


@pytest.mark.parametrize(
    ("changed", "is_alike"),
    [
        ({}, True),
        ({"cut": {"angle": 90}}, True),
        ({"cut": {"repeat": {"count": 2, "pitch": 30, "direction": 90}}}, True),
        ({"cut": {"angle": 30}}, False),
        ({"cut": {"x": 60}}, False),
        ({"plate": {"screws": POINTS}}, False),
        ({"cut": {**RADII}}, False),
        (
            {
                "cut": {"shape": "round", "diameter": 60, "depth": 5, "side": "outside"},
                "plate": {"width": None, "height": None, "screws": None},
            },
            True,
        ),
    ],
)
def test_a_pair_of_which_one_is_enough(said: Said, changed: dict[str, Any], *, is_alike: bool) -> None:
    """Openings and holes that are their own mirror image in the plate's middle; anything else differs."""
    found = said("pair-alike", make={"pair": "left"}, **changed)
    assert found == (ONE_IS_ENOUGH if is_alike else [])
    assert said("pair-alike", **changed) == []
