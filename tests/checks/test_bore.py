"""The bit, and the shank where it comes that far down, through the bushing's bore."""

from collections.abc import Callable

import pytest

Said = Callable[..., list[tuple[str, str, str]]]


def bushing(bore: object = None) -> dict[str, object]:
    """A 1/2 in bushing described in the job."""
    return {"diameter": "1/2 in", **({} if bore is None else {"bore": bore})}


def test_bore_unknown(said: Said) -> None:
    """An unknown bore is a note with the way to give it; a known one is not."""
    assert said("bore-unknown", tools={"bushing": 17}) == [
        (
            "note",
            "tools.bushing",
            "the bushing's bore is not known: see that the bit passes through it with at least 1/16 in to spare, or "
            "give it as bushing = { diameter = …, bore = … }",
        )
    ]
    assert said("bore-unknown", tools={"bushing": bushing(11)}) == []


@pytest.mark.parametrize("bore", ["3/8 in", "9 mm"])
def test_bit_does_not_pass(said: Said, bore: str) -> None:
    """A bore no wider than the bit is a stop (trade table, alan.net: 1/4 in through 1/4 in is not possible)."""
    shown = {"3/8 in": "9.525 mm", "9 mm": "9 mm"}[bore]
    assert said("bit-does-not-pass-bore", tools={"bushing": bushing(bore)}) == [
        (
            "stop",
            "tools.bit",
            f"the bit (9.525 mm) does not pass through the bushing's bore ({shown}): use a bushing with a wider bore "
            "or a smaller bit",
        )
    ]
    assert said("bit-does-not-pass-bore", tools={"bushing": bushing("9.526 mm")}) == []


def test_bit_touches_the_bushing(said: Said) -> None:
    """Less than 0.2 mm of room in all is a stop, with the room of each side; 0.2 mm exactly is a warning as before."""
    assert said("bit-touches-bushing", tools={"bushing": bushing("9.6 mm")}) == [
        (
            "stop",
            "tools.bushing",
            "only 0.08 mm between bit and bore, 0.04 mm a side: a bushing a little off centre touches the bit, metal "
            "on metal; use a bushing with a wider bore or a smaller bit",
        )
    ]
    assert said("bit-touches-bushing", tools={"bushing": bushing("9.725 mm")}) == []
    assert said("chip-room", tools={"bushing": bushing("9.725 mm")})[0][0] == "warning"


def test_chips_pack(said: Said) -> None:
    """Less than 1/16 in of room is a warning, and 1/16 in exactly is not: 9.525 + 1.5875 = 11.1125."""
    sentence = (
        " between bit and bore, less than 1/16 in (1.59 mm) in all: chips will pack and the bit may touch; centre the "
        "bushing with care, take shallow passes, or use a wider bushing"
    )
    assert said("chip-room", tools={"bushing": bushing(10)}) == [
        ("warning", "tools.bushing", "only 0.48 mm" + sentence)
    ]
    assert said("chip-room", tools={"bushing": bushing("11.11 mm")})[0][0] == "warning"
    assert said("chip-room", tools={"bushing": bushing("11.1125 mm")})[0][0] == "note"


def test_better_room(said: Said) -> None:
    """Between 1/16 and 1/8 in is a note; from 1/8 in on nothing is said."""
    assert said("chip-room", tools={"bit": 6, "bushing": bushing(8)}) == [
        (
            "note",
            "tools.bushing",
            "2 mm between bit and bore: enough, but 1/8 in (3.18 mm) in all clears chips better",
        )
    ]
    assert said("chip-room", tools={"bit": 6, "bushing": bushing("9.175 mm")}) == []


def test_bushing_hardly_wider_than_the_bit(said: Said) -> None:
    """With an unknown bore, less than 1/16 in between bit and bushing leaves no bore the bit passes: warning."""
    assert said("bushing-hardly-wider-than-bit", tools={"bushing": 9.6}) == [
        (
            "warning",
            "tools.bushing",
            "the bushing is only 0.075 mm wider than the bit, less than the 1/16 in (1.59 mm) that its own wall "
            "takes: the bit hardly passes through it; measure the bore, or use a wider bushing",
        )
    ]
    assert said("bushing-hardly-wider-than-bit", tools={"bushing": "11.1125 mm"}) == []
    assert said("bushing-hardly-wider-than-bit", tools={"bushing": 9}) == []
    assert said("bushing-hardly-wider-than-bit", tools={"bushing": {"diameter": 11, "bore": 9.8}}) == []


def bit(shank: object, cutting_length: object = None) -> dict[str, object]:
    """A 3/8 in bit with that shank."""
    described = {"diameter": "3/8 in", "shank": shank, "cutting_length": cutting_length}
    return {key: value for key, value in described.items() if value is not None}


def test_shank_may_meet_the_bushing(said: Said) -> None:
    """A shank no thinner than the bore, on a bit of unknown length, is a warning with the plunge depth."""
    tools = {"bit": bit("1/2 in"), "bushing": {"diameter": 17, "bore": 12.7}}
    assert said("shank-may-meet-bushing", tools=tools) == [
        (
            "warning",
            "tools.bit",
            "the shank (12.7 mm) does not pass through the bore (12.7 mm): the part of the bit below the shank must be "
            "longer than the plunge depth of 34 mm; measure it and give it as cutting_length",
        )
    ]
    tools["bushing"] = {"diameter": 17, "bore": 12.8}
    assert said("shank-may-meet-bushing", tools=tools) == []


def test_shank_meets_the_bushing(said: Said) -> None:
    """Cutting edges no longer than the plunge depth of 34 mm bring that shank down to the bushing: stop."""
    tools = {"bit": bit("1/2 in", 34), "bushing": {"diameter": 17, "bore": 12}}
    assert said("shank-meets-bushing", tools=tools) == [
        (
            "stop",
            "tools.bit",
            "the shank (12.7 mm) does not pass through the bore (12 mm) and the cutting length (34 mm) is not longer "
            "than the plunge depth (34 mm): use a longer bit, a thinner plate or a wider bushing",
        )
    ]
    tools["bit"] = bit("1/2 in", 34.1)
    assert said("shank-meets-bushing", tools=tools) == []
    tools["bit"] = bit("1/4 in", 20)
    assert said("shank-meets-bushing", tools=tools) == []


def test_shank_meets_the_bushings_nut(said: Said) -> None:
    """A bushing ends with its nut, so one of 10 mm takes 34 + 10 mm of the bit below the shank."""
    wide = {"diameter": 17, "bore": 12, "nut": {"diameter": 30, "height": 10}}
    assert said("shank-meets-bushing", tools={"bit": bit("1/2 in", 44), "bushing": wide}) == [
        (
            "stop",
            "tools.bit",
            "the shank (12.7 mm) does not pass through the bore (12 mm) and the cutting length (44 mm) is not longer "
            "than the plunge depth (34 mm) and the height of the bushing's nut (10 mm): use a longer bit, a thinner "
            "plate or a wider bushing",
        )
    ]
    assert said("shank-meets-bushing", tools={"bit": bit("1/2 in", 44.1), "bushing": wide}) == []
    ((_, _, sentence),) = said("shank-may-meet-bushing", tools={"bit": bit("1/2 in"), "bushing": wide})
    assert sentence.endswith(
        "must be longer than the plunge depth of 34 mm and the height of the bushing's nut (10 mm); measure it and "
        "give it as cutting_length"
    )
