"""The cut within the stock it goes into, tenons or none."""

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]

#: Stock of 40 by 25, 300 long.
WORK = {"thickness": 40, "height": 25, "length": 300, "from_face": 14, "from_end": 45}
SLOT = {"shape": "slot", "width": 10, "length": 50, "depth": 20}


def tables(work: dict[str, Any] | None = None, **cut: Any) -> dict[str, Any]:
    """Tables of a job; further keys of the cut."""
    return {"cut": {**SLOT, **cut}, "work": {**WORK, **(work or {})}}


def test_a_cut_within_the_work_is_not_spoken_of(said: Said) -> None:
    """14 - 5 = 9 mm of wood beside it, 45 - 25 = 20 at the end, 25 - 20 = 5 below: all is well."""
    assert said("mortise-breaks-through", **tables()) == []
    assert said("thin-wood", **tables()) == []


@pytest.mark.parametrize(
    ("work", "cut", "where", "place"),
    [
        ({}, {"depth": 25}, "cut.depth", "the far side, below the cut"),
        ({}, {"depth": 30}, "cut.depth", "the far side, below the cut"),
        ({"from_face": 3}, {}, "work.from_face", "the reference face"),
        ({"from_face": 37}, {}, "work.from_face", "the face opposite"),
        ({"from_end": 10}, {}, "work.from_end", "the end of the work"),
        ({"from_end": 290}, {}, "work.from_end", "the other end of the work"),
    ],
)
def test_a_cut_that_comes_out_of_the_work(
    said: Said, work: dict[str, Any], cut: dict[str, Any], where: str, place: str
) -> None:
    """Through the work, out of a face or off an end: a warning that says where, also without tenons."""
    sentence = f"the cut comes out at {place}: nothing is left of the wood there; move it or make it smaller"
    assert said("mortise-breaks-through", **tables(work, **cut)) == [("warning", where, sentence)]


def test_little_wood_left(said: Said) -> None:
    """4 mm beside the cut, where 4.5 is sensible (joinery text, read; see references)."""
    sentence = (
        "only 4 mm of wood between the cut and the reference face, where at least 4.5 mm is sensible: move it or make "
        "it smaller"
    )
    assert said("thin-wood", **tables({"from_face": 9})) == [("warning", "work.from_face", sentence)]
    assert said("thin-wood", **tables({"from_face": 9.5})) == []


def test_a_height_that_is_not_known(said: Said) -> None:
    """Without work.height nothing is said of the far side, and that is said; of a gain, which is shallow, nothing."""
    unknown = {"work": {**WORK, "height": None}}
    sentence = (
        "whether the cut comes out below is not looked at, since the size of the work in the direction of the cut's "
        "depth is not known: give it as work.height (a rail's width; of a door that is cut into its edge the door's "
        "width)"
    )
    for more in ({}, {"tenon": {"joints": 2}}):
        made = {"cut": {**SLOT, "depth": 200}, **unknown, **more}
        assert said("work-height-unknown", **made) == [("note", "work.height", sentence)]
        assert said("mortise-breaks-through", **made) == []
    assert said("work-height-unknown", **tables()) == []
    assert said("work-height-unknown", cut=GAIN, work={"thickness": 40}) == []


#: A gain 25 mm wide and 80 long.
GAIN = {"shape": "hinge", "width": 25, "length": 80, "corner_radius": 5, "depth": 3}


@pytest.mark.parametrize(
    ("work", "place"),
    [
        ({"thickness": 25}, "the face opposite"),
        ({"thickness": 20}, "the face opposite"),
        ({"thickness": 40, "height": 3}, "the far side, below the gain"),
        ({"thickness": 40, "from_end": 40}, "the end of the work"),
    ],
)
def test_a_gain_is_open_to_one_edge_only(said: Said, work: dict[str, Any], place: str) -> None:
    """At the reference face a gain comes out on purpose; elsewhere that is a warning."""
    ((level, _, sentence),) = said("mortise-breaks-through", cut=GAIN, work=work)
    assert level == "warning"
    assert sentence.startswith(f"the gain comes out at {place}: nothing is left")


def test_a_gain_within_the_work(said: Said) -> None:
    """Stock of 40 mm keeps 15 mm beside a gain of 25; of 28 mm it keeps 3, said of the gain's width."""
    for code in ("mortise-breaks-through", "thin-wood"):
        assert said(code, cut=GAIN, work={"thickness": 40, "height": 700, "from_end": 100}) == []
    ((_, where, sentence),) = said("thin-wood", cut=GAIN, work={"thickness": 28})
    assert (where, sentence.partition(",")[0]) == (
        "cut.width",
        "only 3 mm of wood between the gain and the face opposite",
    )


def test_twins_are_looked_at_together(said: Said) -> None:
    """Twins 24 mm apart in the middle of 40 reach 17 mm to either side: 3 mm are left, with tenons or not."""
    twins = tables({"from_face": 20}, repeat={"count": 2, "pitch": 24, "direction": 90})
    for tables_of_it in (twins, {**twins, "tenon": {"joints": 2}}):
        found = said("thin-wood", **tables_of_it)
        assert [where for _, where, _ in found] == ["work.from_face", "work.from_face"]
        assert "only 3 mm of wood" in found[0][2]
    assert said("not-a-third", **{**twins, "tenon": {"joints": 2}}) == []


def test_a_row_along_the_work(said: Said) -> None:
    """Two slots end to end 60 apart reach 55 mm from their middle: 45 mm from the end they come out there."""
    row = tables({"from_face": 20}, length=40, repeat={"count": 2, "pitch": 60})
    assert [where for _, where, _ in said("mortise-breaks-through", **row)] == ["work.from_end"]


def test_a_ring_is_looked_at_as_one(said: Said) -> None:
    """A ring lies along no face: nothing but the single cut is looked at."""
    ring = tables({"from_face": 20}, shape="slot", length=20, repeat={"count": 4, "ring": 90})
    assert said("mortise-breaks-through", **ring) == []
