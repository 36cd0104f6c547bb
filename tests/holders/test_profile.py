"""What a holder's profile may say: corners, window, and what is refused in one line."""

from collections.abc import Callable

import pytest

from jigtemplates.errors import InputError
from jigtemplates.lengths import Length
from jigtemplates.parameters.entries import Holder
from jigtemplates.profiles import Profiles

WithHolder = Callable[..., Profiles]


def read(profiles: Profiles) -> Holder:
    return profiles.find("holders", "frame").entry


def mm(length: Length | None) -> float | None:
    return None if length is None else length.mm


def test_all_keys(with_holder: WithHolder) -> None:
    """Every key is read in the unit of the file."""
    holder = read(with_holder(insert='"9/32 in"', window="{ width = 116, height = 110, corner_radius = 4 }"))
    assert holder.window is not None
    assert holder.joining is not None
    assert (mm(holder.corner_radius), mm(holder.window.corner_radius)) == (5, 4)
    assert (mm(holder.insert), mm(holder.ledge_thickness)) == (7.14375, 9)
    assert (holder.joining.size, holder.joining.hole) == ("M5", "countersunk")


def test_what_may_be_unknown(with_holder: WithHolder) -> None:
    """Corners, ledge's thickness, insert and joining may be left out; a job needs none of them."""
    holder = read(with_holder(corner_radius=None, ledge_thickness=None, joining=None))
    assert {holder.corner_radius, holder.ledge_thickness, holder.joining, holder.insert} == {None}


def test_a_round_recess(with_holder: WithHolder) -> None:
    """Half the width is the largest corner radius."""
    assert mm(read(with_holder(corner_radius="80")).corner_radius) == 80


@pytest.mark.parametrize(
    ("keys", "fault"),
    [
        (
            {"corner_radius": "80.1"},
            'corner_radius: "80.1 mm" is more than half a side of the recess (write at most half its shorter side)',
        ),
        (
            {"window": "{ width = 100, height = 60, corner_radius = 31 }"},
            'window.corner_radius: "31 mm" is more than half a side of the window (write at most half its shorter '
            "side)",
        ),
        (
            {"corner_radius": "80", "ledge": "10", "window": "{ width = 120, height = 120, corner_radius = 5 }"},
            'window: its corners (corner_radius "5 mm") reach out of the recess, whose corners are rounder ("80 mm"): '
            "make the window smaller or its corners rounder",
        ),
        ({"corner_radius": "-1"}, "corner_radius: -1 is less than nothing (write 0 or more)"),
        ({"ledge_thickness": "0"}, "ledge_thickness: 0 is not a size (write a length greater than 0)"),
        (
            {"joining": '{ pattern = "corners", size = "M5" }'},
            'joining.inset: is missing (the pattern "corners" needs it)',
        ),
    ],
)
def test_what_is_refused(with_holder: WithHolder, keys: dict[str, str], fault: str) -> None:
    """One line with the key."""
    with pytest.raises(InputError) as caught:
        read(with_holder(**keys))
    (line,) = caught.value.lines
    assert line.endswith(f": holders.frame.{fault}")


def test_a_window_that_just_stays_inside(with_holder: WithHolder) -> None:
    """In a round recess of 160 mm a square window of 113 mm has its corners at 79.9 mm from the middle: inside."""
    keys = {"corner_radius": "80", "ledge": "20", "joining": None}
    assert read(with_holder(**keys, window="{ width = 113, height = 113, corner_radius = 0 }")).window is not None
    with pytest.raises(InputError, match="reach out of the recess"):
        read(with_holder(**keys, window="{ width = 113.2, height = 113.2, corner_radius = 0 }"))
