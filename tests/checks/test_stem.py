"""The bushing's stem against plate and stand-off."""

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]


def tools(stem: object) -> dict[str, Any]:
    """A 1/2 in bushing with that stem."""
    return {"bushing": {"diameter": "1/2 in", "bore": "13/32 in", "stem": stem}}


def test_stem_unknown(said: Said) -> None:
    """An unknown stem is a note with the length it must stay under: plate 6 and stand-off 2."""
    assert said("stem-unknown", plate={"stand_off": 2}) == [
        (
            "note",
            "tools.bushing",
            "the stem's length is not known: it must be shorter than 8 mm (plate and stand-off); measure it, file it "
            "down where it is longer, or give it as bushing = { diameter = …, stem = … }",
        )
    ]
    assert said("stem-unknown", tools=tools(5)) == []


@pytest.mark.parametrize("stem", [6, 9])
def test_stem_too_long(said: Said, stem: int) -> None:
    """A stem as long as plate and stand-off reaches the work: stop, with what to file and what to thicken."""
    assert said("stem-too-long", tools=tools(stem)) == [
        (
            "stop",
            "tools.bushing",
            f"the stem ({stem} mm) reaches the work: plate and stand-off are 6 mm; shorten it to at most 5.5 mm, or "
            f"make the plate at least {stem}.5 mm thick",
        )
    ]


def test_stem_just_short_enough(said: Said) -> None:
    """Shorter than the plate, or than plate and stand-off, it goes."""
    assert said("stem-too-long", tools=tools(5.9)) == []
    assert said("stem-too-long", tools=tools(9), plate={"stand_off": 3.5}) == []
    ((_, _, sentence),) = said("stem-too-long", tools=tools(9), plate={"stand_off": 2})
    assert sentence.endswith("shorten it to at most 7.5 mm, or make the plate at least 7.5 mm thick")


def test_stem_hardly_engages(said: Said) -> None:
    """Less than 3 mm of stem against the edge is a warning, blamed on what is short."""
    sentence = "only 2.9 mm of the stem meets the template's edge: at least 3 mm keeps it from riding up"
    assert said("stem-hardly-engages", tools=tools(2.9)) == [("warning", "tools.bushing", sentence)]
    thin = {"thickness": 2.9, "stand_off": 10, "material": None}
    assert said("stem-hardly-engages", tools=tools(5), plate=thin) == [("warning", "plate.thickness", sentence)]
    assert said("stem-hardly-engages", tools=tools(3)) == []


OnBench = Callable[..., dict[str, Any]]

#: 140 mm square with a window from 20 to 120 mm, 5 mm above the work.
FRAME = {
    "width": "140",
    "height": "140",
    "play": "0",
    "window": "{ width = 100, height = 100 }",
    "stand_off": "5",
}


def test_stem_meets_the_ledge(said: Said, on_bench: OnBench) -> None:
    """A stem longer than the plate is thick runs in the holder's window: 93.5 + (50 + 3.175) / 2 is beyond 120."""
    tools_, cut = tools(7), {"x": 93.5, "length": 50, "width": "3/8 in"}
    assert said("stem-meets-ledge", **on_bench(holder=FRAME, tools=tools_, cut=cut)) == [
        (
            "stop",
            "tools.bushing",
            "the stem (7 mm) comes 1 mm out under the plate and meets the holder's ledge: the opening reaches 0.09 mm "
            "beyond its window of 100 mm x 100 mm; shorten the stem to less than 6 mm, or move the cut",
        )
    ]
    for x, y, angle in ((93.4, 70, 0), (46.6, 70, 0), (70, 93.4, 90), (70, 46.6, 90)):
        cut = {"x": x, "y": y, "angle": angle, "length": 50, "width": "3/8 in"}
        assert said("stem-meets-ledge", **on_bench(holder=FRAME, tools=tools_, cut=cut)) == []
    for x, y, angle in ((46.5, 70, 0), (70, 93.5, 90), (70, 46.5, 90)):
        cut = {"x": x, "y": y, "angle": angle, "length": 50, "width": "3/8 in"}
        assert len(said("stem-meets-ledge", **on_bench(holder=FRAME, tools=tools_, cut=cut))) == 1


def test_stem_that_meets_no_ledge(said: Said, on_bench: OnBench) -> None:
    """A stem within the plate's thickness, a holder without a window and a plate without a holder have no ledge."""
    cut = {"x": 93.5, "length": 50, "width": "3/8 in"}
    assert said("stem-meets-ledge", **on_bench(holder=FRAME, tools=tools(6), cut=cut)) == []
    open_frame = {key: value for key, value in FRAME.items() if key != "window"}
    assert said("stem-meets-ledge", **on_bench(holder=open_frame, tools=tools(7), cut=cut)) == []
    assert said("stem-meets-ledge", tools=tools(7), cut=cut, plate={"stand_off": 5}) == []


def test_a_ledge_alone_makes_a_window(said: Said, on_bench: OnBench) -> None:
    """A holder that gives the width of its ledge has a window too: 20 mm all round 140 mm leave 100 mm."""
    cut = {"x": 93.5, "length": 50, "width": "3/8 in"}
    ledge = {**{key: value for key, value in FRAME.items() if key != "window"}, "ledge": "20"}
    ((level, _, sentence),) = said("stem-meets-ledge", **on_bench(holder=ledge, tools=tools(7), cut=cut))
    assert level == "stop"
    assert "reaches 0.09 mm beyond its window of 100 mm x 100 mm" in sentence
    assert said("stem-meets-ledge", **on_bench(holder=ledge, tools=tools(7), cut={**cut, "x": 93.4})) == []


def test_the_round_corners_of_a_window_are_ledge(said: Said, on_bench: OnBench) -> None:
    """An opening in the corner of a round window is beyond it, though within its box.

    The middle of a 12.8 mm round is 40 mm out both ways, so its rim 56.57 + 6.4 mm, where the window ends at 50 mm.
    """
    cut = {"shape": "round", "diameter": "3/8 in", "depth": 5, "x": 110, "y": 110}
    window = {**FRAME, "window": "{ width = 100, height = 100, corner_radius = 50 }"}
    ((_, _, sentence),) = said("stem-meets-ledge", **on_bench(holder=window, tools=tools(7), cut=cut))
    assert "reaches 12.97 mm beyond its window" in sentence
    assert said("stem-meets-ledge", **on_bench(holder=FRAME, tools=tools(7), cut=cut)) == []
