"""The plate on narrow work: what tips, by how much it overhangs, which screws find no wood."""

from collections.abc import Callable
from math import asin, pi, sqrt
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]

#: A rail 35 mm thick under the plan's plate of 140 mm, whose slot lies in the middle.
NARROW = {"thickness": 35, "height": 90}
REMEDY = (
    "Clamp a batten or block beside the work, flush with it, for the plate to lie on, or use a jig that holds the work "
    "and carries the plate"
)


def share(low: float, high: float, radius: float, hole: float) -> float:
    """Of a disc with a hole in its middle, the share between two parallels; the hole lies between them."""

    def half(y: float) -> float:
        return y * sqrt(radius**2 - y**2) + radius**2 * asin(y / radius)

    return (half(high) - half(low) - pi * hole**2) / (pi * (radius**2 - hole**2))


def test_a_plate_on_a_narrow_rail(said: Said) -> None:
    """70 - 17.5 mm of it are in the air on either side: a warning; the bushing, 0.2375 mm off, has 28 % under it."""
    assert int(100 * share(-17.7375, 17.2625, 75, 6.35)) == 28
    assert said("plate-tips", work=NARROW) == [
        (
            "warning",
            "work.thickness",
            "the plate lies on work 35 mm thick and reaches 52.5 mm beyond either face, so plate and router can tip: "
            "as little as 28 % of a router's base (of 150 mm; no router is given) has work under it. " + REMEDY,
        )
    ]


def test_with_the_router_that_is_named(said: Said, on_bench: Callable[..., dict[str, Any]]) -> None:
    """A base of 115 mm has 37 % of it over the rail, one of 70 mm more than half."""
    assert int(100 * share(-17.7375, 17.2625, 57.5, 6.35)) == 37
    compact = {"base": '{ shape = "round", diameter = 115 }', "base_hole": "30"}
    ((_, _, sentence),) = said("plate-tips", **on_bench(router=compact, work=NARROW))
    assert "as little as 37 % of the router's base (115 mm) has work under it" in sentence
    tiny = {"base": '{ shape = "round", diameter = 70 }', "base_hole": "30"}
    assert said("plate-tips", **on_bench(router=tiny, work=NARROW)) == []


@pytest.mark.parametrize(("thickness", "tips"), [(61, True), (62, False), (140, False), (200, False)])
def test_half_of_the_base(said: Said, thickness: float, tips: bool) -> None:
    """Work of 62 mm has half of a base of 150 mm on it, work of 61 mm has less; no plate overhangs work of 140 mm."""
    assert (
        share(-thickness / 2 - 0.2375, thickness / 2 - 0.2375, 75, 6.35) < 0.5 if thickness < 100 else False
    ) == tips
    assert bool(said("plate-tips", work={"thickness": thickness, "height": 90})) == tips


def test_close_to_an_edge(said: Said) -> None:
    """9.5 mm from a face of wide work: the middle of the bushing, 0.2375 off, comes nearer to it than 10 mm."""
    wide = {"thickness": 200, "height": 90}
    ((_, _, sentence),) = said("plate-tips", work={**wide, "from_face": 9.5})
    assert "reaches 60.5 mm beyond the reference face, so" in sentence
    assert "and its middle comes within 9.26 mm of the work's edge. Clamp" in sentence
    ((_, _, sentence),) = said("plate-tips", work={**wide, "from_face": 190.5})
    assert "reaches 60.5 mm beyond the face opposite, so" in sentence
    assert said("plate-tips", work={**wide, "from_face": 30}) == []


def test_beyond_the_end(said: Said) -> None:
    """Near the end of a wide board the plate overhangs that, mirrored on its other side, and of a short one both."""
    board = {"thickness": 300, "height": 90}
    for make in ({}, {"mirrored": True}):
        ((_, _, sentence),) = said("plate-tips", work={**board, "length": 500, "from_end": 28}, make=make)
        assert "reaches 42 mm beyond its end, so" in sentence
        assert "within 7.76 mm of the work's edge" in sentence  # 28 - 20.2375
    ((_, _, sentence),) = said("plate-tips", work={**board, "length": 500, "from_end": 472})
    assert "reaches 42 mm beyond its other end, so" in sentence
    ((_, _, sentence),) = said("plate-tips", work={**board, "length": 56, "from_end": 28})
    assert "reaches 42 mm beyond either end, so" in sentence


def test_turned_with_the_cut(said: Said) -> None:
    """The work lies along the cut: turned by 45 degrees the plate's corners reach 98.99 - 17.5 mm beyond it."""
    ((_, _, sentence),) = said("plate-tips", cut={"angle": 45}, work=NARROW)
    assert "reaches 81.49 mm beyond either face" in sentence


def test_a_hinge_gain(said: Said) -> None:
    """The edge of the work is that of the gain: 25 mm of leaf, 12.5 from its middle, so 57.5 mm hang over."""
    hinge = {"shape": "hinge", "width": 25, "length": 76, "corner_radius": 6, "depth": 2.5}
    ((_, _, sentence),) = said("plate-tips", cut=hinge, work={"thickness": 35, "height": 900})
    assert "reaches 57.5 mm beyond the reference face and 47.5 mm beyond the face opposite" in sentence
    assert "has work under it, and its middle comes to the work's edge. Clamp" in sentence


@pytest.mark.parametrize(
    "tables",
    [
        {},
        {"work": NARROW, "plate": {"stand_off": 12}},
        {"work": NARROW, "cut": {"repeat": {"count": 4, "ring": 60}, "length": 20}},
    ],
)
def test_where_it_is_not_asked(said: Said, tables: dict[str, Any]) -> None:
    """Without [work], with a plate kept off it, and on a ring, whose cuts lie along no work."""
    assert [said(code, **tables) for code in ("plate-tips", "screws-beside-work")] == [[], []]


def test_in_a_holder(said: Said, on_bench: Callable[..., dict[str, Any]]) -> None:
    """A holder's frame carries the plate, however narrow the work."""
    holder = {"width": "140", "height": "140", "play": "0.3"}
    tables = on_bench(holder=holder, work=NARROW)
    assert [said(code, **tables) for code in ("plate-tips", "screws-beside-work")] == [[], []]


def test_the_base_is_said_to_be_carried_with_a_proviso(said: Said, on_bench: Callable[..., dict[str, Any]]) -> None:
    """What the plate carries is no comfort while the plate itself can tip."""
    proviso = ", as long as the plate itself does not tip (see work.thickness)"
    ((_, _, sentence),) = said("base-carried", **on_bench(work=NARROW))
    assert sentence.endswith(proviso)
    ((_, _, sentence),) = said("base-carried", **on_bench(work={"thickness": 140, "height": 90}))
    assert proviso not in sentence


@pytest.mark.parametrize(
    ("screws", "words"),
    [
        ({"pattern": "corners", "inset": 10}, "all 4 screw holes lie"),
        ({"pattern": "edges", "inset": 10}, "screw holes 1 and 3 lie"),
        ({"pattern": "points", "points": [[20, 70], [120, 84.9]]}, "screw hole 2 lies"),  # 17.5 - 2.75 = 14.75
        ({"pattern": "points", "points": [[20, 70], [120, 84.7]]}, ""),
    ],
)
def test_screws_beside_the_work(said: Said, screws: dict[str, Any], words: str) -> None:
    """Holes that are not wholly over the work are named, with what to lay under the plate."""
    found = said("screws-beside-work", work=NARROW, plate={"screws": {"size": "M5", **screws}})
    sentence = (
        f"{words} beside the work: nothing is there to screw into unless you lay a batten or block under the plate"
    )
    assert found == ([("note", "plate.screws", sentence)] if words else [])


def test_without_screws(said: Said) -> None:
    """A plate without screws has none beside the work."""
    assert said("screws-beside-work", work=NARROW, plate={"screws": None}) == []


# In a holder ------------------------------------------------------------------------------------------------------

#: A recess of 160, its frame 30 mm wide, its ledge of 9 mm lying on the work, and a window of 116.
FRAME = {
    "width": "160",
    "height": "160",
    "play": "0.3",
    "depth": "6",
    "window": "{ width = 116, height = 116 }",
    "ledge_thickness": "9",
    "frame": "30",
    "stand_off": "9",
}


def test_a_holder_on_a_narrow_rail(said: Said, on_bench: Callable[..., dict[str, Any]]) -> None:
    """A frame 220 mm wide on stock of 30 mm: 95 mm of it are in the air on either side, whatever carries the base."""
    assert int(100 * share(-15.2375, 14.7625, 75, 6.35)) == 24
    tables = on_bench(holder=FRAME, work={"thickness": 30, "height": 80})
    assert said("plate-tips", **tables) == [
        (
            "warning",
            "work.thickness",
            "the holder lies on work 30 mm thick and reaches 95 mm beyond either face, so holder and router can tip: "
            "as little as 24 % of the router's base (150 mm) has work under it. Clamp a batten or block beside the "
            "work, flush with it, for the holder to lie on, or use a jig that holds the work and carries the holder",
        )
    ]
    assert said("screws-beside-work", **tables) == []
    assert said("plate-tips", **on_bench(holder=FRAME, work={"thickness": 220, "height": 80})) == []


@pytest.mark.parametrize(
    ("holder", "angle", "by"),
    [
        ({"frame": None}, 0, "65 mm"),  # of a frame of unknown width what is known: the recess
        ({}, 45, "140.56 mm"),  # its corners: 110 times the root of 2, less 15
        ({"corner_radius": "80"}, 45, "95 mm"),  # a round one
    ],
)
def test_how_far_a_holder_reaches(
    said: Said, on_bench: Callable[..., dict[str, Any]], holder: dict[str, Any], angle: int, by: str
) -> None:
    """The outside of its frame counts, square or round as that is made."""
    keys = {key: value for key, value in {**FRAME, **holder}.items() if value is not None}
    tables = on_bench(holder=keys, work={"thickness": 30, "height": 80}, cut={"angle": angle})
    ((_, _, sentence),) = said("plate-tips", **tables)
    assert f"the holder lies on work 30 mm thick and reaches {by} beyond either face" in sentence


@pytest.mark.parametrize(
    ("holder", "work"),
    [
        ({"stand_off": "0"}, {"thickness": 30, "length": 100}),  # clamped round the work, which comes up to the plate
        ({"stand_off": "12"}, {"thickness": 30}),  # carried by something else, 3 mm above the work
        ({"ledge_thickness": None}, {"thickness": 30}),  # nobody measured what lies below the plate
        ({"window": None}, {"thickness": 30}),
        ({}, {"thickness": 30, "length": 100}),  # it goes into the window, of which check_holder speaks
    ],
)
def test_a_holder_that_does_not_lie_on_the_work(
    said: Said, on_bench: Callable[..., dict[str, Any]], holder: dict[str, Any], work: dict[str, Any]
) -> None:
    """Nothing is said of a holder that is clamped or carried otherwise."""
    keys = {key: value for key, value in {**FRAME, **holder}.items() if value is not None}
    assert said("plate-tips", **on_bench(holder=keys, work=work)) == []
