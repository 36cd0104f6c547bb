"""The router's base on the plate: tipping, share, heads of screws, room for clamps."""

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]
OnBench = Callable[..., dict[str, Any]]

CODES = (
    "router-tips", "router-nearly-tips", "base-hardly-carried", "base-carried", "screw-under-base", "clamp-room",
    "no-room-for-clamps", "bushing-wider-than-base",
)  # fmt: skip

REMEDY = "screw a wider base to the router and enter it as its base, or make the plate larger round a smaller opening"

#: The bushing, 1/2 in, fits the hole exactly and stands in one place: its middle is that of the plate.
ROUND = {"shape": "round", "diameter": "3/8 in", "depth": 10}
STILL = {"clearance": 0}


def base(diameter: float) -> dict[str, str]:
    """A round base without a hole."""
    return {"base": f'{{ shape = "round", diameter = {diameter} }}', "base_hole": f"{min(20, diameter - 1)}"}


def place(x: float = 70, **plate: Any) -> dict[str, Any]:
    """A bushing that stands x mm from the left edge of a plate without screws or label, thin walls allowed."""
    return {
        "cut": {**ROUND, "x": x},
        "tools": STILL,
        "plate": {"screws": None, "label": False, "wall": 0.1, "width": 400, "height": 400, **plate},
    }


def test_without_a_router(said: Said) -> None:
    """A job that names no router is told nothing of one, even without screws."""
    assert [said(code, plate={"screws": None}) for code in CODES] == [[]] * len(CODES)


def test_without_an_opening(said: Said, on_bench: OnBench) -> None:
    """A bit wider than the cut leaves no opening and nothing to carry."""
    assert [said(code, **on_bench(tools={"bit": 12})) for code in CODES] == [[]] * len(CODES)


def large(width: float, router: float) -> dict[str, Any]:
    """A rectangular recess of that width, 200 mm long, and a router with that base."""
    return {
        "router": base(router),
        "cut": {"shape": "rectangle", "width": width, "length": 200, "corner_radius": 5, "depth": 5},
        "tools": {"bit": 8, "bushing": {"diameter": 20, "bore": 14}},
        "plate": {"width": 420, "height": 400},
    }


def test_router_tips(said: Said, on_bench: OnBench) -> None:
    """In a recess as wide as the base the bushing leaves the middle of the base over nothing: a stop, told once."""
    ((level, key, sentence),) = said("router-tips", **on_bench(**large(150, 150)))
    assert (level, key) == ("stop", "tools.router")
    assert sentence.startswith("with the bushing at (")
    assert "the middle of the router's base (150 mm) lies " in sentence
    assert sentence.endswith(f" outside what it stands on, so the router tips: {REMEDY}")
    assert [code for code in CODES if said(code, **on_bench(**large(150, 150)))] == ["router-tips"]


def test_router_does_not_tip(said: Said, on_bench: OnBench) -> None:
    """A base wider than the recess and its length does not tip in it."""
    assert said("router-tips", **on_bench(**large(150, 300))) == []


def test_where_it_tips(said: Said, on_bench: OnBench) -> None:
    """A ring of 4 mm all round keeps a base of 60 mm from tipping; over a hole wider than itself it falls in."""
    tables = on_bench(
        base(60),
        cut={"shape": "round", "diameter": 40, "depth": 5},
        tools={"bit": 8, "bushing": {"diameter": 20, "bore": 14}},
        plate={"width": 400, "height": 400, "screws": None},
    )
    # Opening 40 + 12 = 52 mm: in the middle a ring of radius 26 to 30 mm carries the base, elsewhere more.
    assert said("router-tips", **tables) == []
    tables["cut"] = {"shape": "round", "diameter": 60, "depth": 5}
    # Opening 72 mm: in the middle nothing carries the base.
    ((_, _, sentence),) = said("router-tips", **tables)
    assert "(60 mm) lies 30 mm outside what it stands on" in sentence


@pytest.mark.parametrize(("x", "codes"), [(9.99, 1), (10, 0), (10.01, 0)])
def test_router_nearly_tips(said: Said, on_bench: OnBench, x: float, codes: int) -> None:
    """Less than 10 mm from the plate's edge to the middle of the base is a warning."""
    assert len(said("router-nearly-tips", **on_bench(base(100), **place(x)))) == codes


def test_router_nearly_tips_sentence(said: Said, on_bench: OnBench) -> None:
    """It says where, how much is left and what to do; it is no note and no stop as well."""
    tables = on_bench(base(100), **place(8))
    assert said("router-nearly-tips", **tables) == [
        (
            "warning",
            "tools.router",
            "with the bushing at (8 mm, 200 mm) the middle of the router's base (100 mm) is only 8 mm from the edge of "
            f"what it stands on, less than 10 mm: keep the weight on the plate, or {REMEDY}",
        )
    ]
    assert said("router-tips", **tables) == []
    assert said("base-carried", **tables) == []


@pytest.mark.parametrize(("height", "percent"), [(36, 42), (42, 49)])
def test_base_hardly_carried(said: Said, on_bench: OnBench, height: int, percent: int) -> None:
    """On a strip of 36 or 42 mm less than half of a base of 100 mm, less its hole of 20 mm, is carried: a warning.

    A strip within h of a diameter has 1 - 2 segments of the circle (memory): 0.448 for h = 18, 0.519 for 21. The hole
    is 0.04 of the circle and within the strip: (0.448 - 0.04) / 0.96 = 0.425, (0.5186 - 0.04) / 0.96 = 0.4985.
    """
    tables = on_bench(base(100), **place(200, height=height))
    assert said("base-hardly-carried", **tables) == [
        (
            "warning",
            "tools.router",
            f"with the bushing at (200 mm, {height // 2} mm) only {percent} % of the router's base (100 mm) is "
            f"carried, less than half: keep the weight on the plate, or {REMEDY}",
        )
    ]
    assert said("base-carried", **tables) == []


def test_base_carried_by_half(said: Said, on_bench: OnBench) -> None:
    """A strip of 42.2 mm carries (0.5208 - 0.04) / 0.96 = 0.5008 of that base: a note and no warning."""
    tables = on_bench(base(100), **place(200, height=42.2))
    assert said("base-hardly-carried", **tables) == []
    assert said("base-carried", **tables) == [
        (
            "note",
            "tools.router",
            "the router's base (100 mm) is carried by the plate wherever the bushing goes: least of it, 50 %, with the "
            "bushing at (200 mm, 21.1 mm), and its middle is never less than 21.1 mm from the edge of that",
        )
    ]


def test_rectangular_base(said: Said, on_bench: OnBench) -> None:
    """Of a rectangular base the circle inside it counts, and the sentence says so."""
    tables = on_bench({"base": '{ shape = "rectangle", width = 165, depth = 145 }'}, **place(200))
    ((_, _, sentence),) = said("base-carried", **tables)
    assert sentence.startswith(
        "the router's base (145 mm, the circle inside it, which counts at every turn) is carried by the plate wherever"
    )


HOLDER = {"width": "140", "height": "44", "play": "0"}
FRAMED = {**HOLDER, "depth": "6", "frame": "30"}


def in_holder(holder: dict[str, str], x: float = 8, **plate: Any) -> dict[str, Any]:
    """The bushing at x in a holder's plate of 140 x 44 mm without screws; a base of 100 mm."""
    return {"router": base(100), "holder": holder, **place(x, width=None, height=None, **plate)}


def test_frame_that_is_flush(said: Said, on_bench: OnBench) -> None:
    """A flush frame carries, and is named."""
    ((_, _, sentence),) = said("base-carried", **on_bench(**in_holder(FRAMED)))
    assert " is carried by the plate and the holder's frame wherever the bushing goes: " in sentence
    assert said("router-nearly-tips", **on_bench(**in_holder(FRAMED))) == []


@pytest.mark.parametrize("missing", ["frame", "depth"])
def test_frame_that_is_not_known(said: Said, on_bench: OnBench, missing: str) -> None:
    """Without the frame's width or the recess's depth only the plate counts; the sentence says how it would."""
    holder = {key: value for key, value in FRAMED.items() if key != missing}
    ((_, _, sentence),) = said("router-nearly-tips", **on_bench(**in_holder(holder)))
    assert sentence.endswith(
        f"or {REMEDY}; if the holder's frame is flush with the plate, give its frame and depth, and it counts too"
    )


def test_frame_that_is_not_flush(said: Said, on_bench: OnBench) -> None:
    """A plate that stands above the frame carries alone; the sentence says what thickness would be flush."""
    ((_, _, sentence),) = said("router-nearly-tips", **on_bench(**in_holder(FRAMED, thickness=9)))
    assert sentence.endswith(f"or {REMEDY}; a plate of 6 mm, flush with the holder's frame, would make that count too")


def test_plate_below_its_holder(said: Said, on_bench: OnBench) -> None:
    """A base that rides on the holder, above the plate, is left to the check of the holder; one within is not."""
    deep = on_bench(**in_holder({**FRAMED, "depth": "9"}))
    assert [code for code in CODES if said(code, **deep)] == []
    assert len(said("plate-below-holder", **deep)) == 1
    within = on_bench(**{**in_holder({**FRAMED, "depth": "9"}, x=70), "router": base(40)})
    assert len(said("base-carried", **within)) == 1


def test_bushing_wider_than_the_base(said: Said, on_bench: OnBench) -> None:
    """A base no wider than the bushing is a slip of the pen: stop."""
    assert said("bushing-wider-than-base", **on_bench(base(12.7))) == [
        (
            "stop",
            "tools.router",
            "the bushing (12.7 mm) is not narrower than the router's base (12.7 mm): measure both again",
        )
    ]
    assert said("bushing-wider-than-base", **on_bench(base(12.8))) == []


def screwed(**screws: Any) -> dict[str, Any]:
    """M5 screws (heads taken as 11.2 mm, countersunk in the profile) 150 mm left and right of the bushing."""
    pattern = {"pattern": "points", "size": "M5", "points": [[50, 200], [350, 200]], **screws}
    return place(200, screws=pattern)


def test_screw_under_the_base(said: Said, on_bench: OnBench) -> None:
    """A base of 290 mm comes within 145 + 5.6 mm of the bushing's middle: the heads at 150 mm are under it."""
    assert said("screw-under-base", **on_bench(base(290), **screwed())) == [
        (
            "warning",
            "plate.screws",
            "the base comes over the heads of screws (about 11.2 mm wide; how high they stand is not known) that are "
            "less than 150.6 mm from where the middle of the bushing goes: holes 1 and 2 (150 mm); countersink "
            'them (hole = "countersunk"), or move them out of its way',
        )
    ]
    assert said("screw-under-base", **on_bench(base(288.8), **screwed())) == []  # 144.4 + 5.6 = 150
    assert len(said("screw-under-base", **on_bench(base(288.9), **screwed()))) == 1


def test_one_screw_under_the_base(said: Said, on_bench: OnBench) -> None:
    """Only those under the base are named, by their number."""
    ((_, _, sentence),) = said("screw-under-base", **on_bench(base(200), **screwed(points=[[50, 200], [300, 200]])))
    assert ": hole 2 (100 mm); countersink" in sentence


@pytest.mark.parametrize("hole", ["countersunk", "tapped"])
def test_screws_without_heads_above(said: Said, on_bench: OnBench, hole: str) -> None:
    """Countersunk heads lie below the face, and a tapped hole's screw comes from below."""
    assert said("screw-under-base", **on_bench(base(290), **screwed(hole=hole))) == []


def test_head_that_is_not_known(said: Said, on_bench: OnBench, tmp_path: Any) -> None:
    """Where the profile has no head, it counts as twice the thread: 100 + 5 mm."""
    tables = on_bench(base(200), **screwed(size="mine", points=[[95.1, 200], [94.9, 200]]))
    screw = '[screws."mine"]\ndiameter = 5\nclearance = { fine = 5.3, medium = 5.5, coarse = 5.8 }\n'
    (tmp_path / "screws.toml").write_text('units = "mm"\n' + screw, encoding="utf-8")
    ((_, _, sentence),) = said("screw-under-base", **tables)
    assert "(about 10 mm wide;" in sentence
    assert ": hole 1 (104.9 mm); countersink" in sentence


def test_room_for_clamps(said: Said, on_bench: OnBench) -> None:
    """A plate without screws is clamped where the base does not come to: 20 mm at a side are room."""
    tables = on_bench(base(360), **place(200, height=401))
    assert said("clamp-room", **tables) == [
        (
            "note",
            "plate.screws",
            "the plate has no screws: keep clamps out of the way of the router's base, which leaves 20 mm at the left, "
            "20 mm at the right, 20.5 mm at the bottom, 20.5 mm at the top",
        )
    ]
    assert said("no-room-for-clamps", **tables) == []


def test_no_room_for_clamps(said: Said, on_bench: OnBench) -> None:
    """Less than 20 mm at every side is a warning."""
    tables = on_bench(base(360.1), **place(200))
    assert said("no-room-for-clamps", **tables) == [
        (
            "warning",
            "plate.screws",
            "the plate has no screws, and the router's base leaves no 20 mm for a clamp at any side of it: make the "
            "plate larger, or give it countersunk screws",
        )
    ]
    assert said("clamp-room", **tables) == []


def test_no_clamps(said: Said, on_bench: OnBench) -> None:
    """With screws, or in a holder, no clamp is on the plate."""
    for tables in (on_bench(base(360.1), **screwed(hole="countersunk")), on_bench(**in_holder(FRAMED))):
        assert [said(code, **tables) for code in ("clamp-room", "no-room-for-clamps")] == [[], []]
