"""A cut that is mirrored and stays as it is."""

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
