"""The bit in the router: long enough, well held, low enough and up again."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.checks.reach import reach_of
from jigtemplates.report import Report

Said = Callable[..., list[tuple[str, str, str]]]
ReportWith = Callable[..., Report]
OnBench = Callable[..., dict[str, Any]]

#: A bushing through which the router's collet nut, 24 mm, passes.
WIDE = {"diameter": 30, "bore": 24.1}


def bit(**known: Any) -> dict[str, Any]:
    """Tools with a 3/8 in bit of which that is known."""
    return {"bit": {"diameter": "3/8 in", **known}}


def nut(height: float, **known: Any) -> dict[str, Any]:
    """Tools with a 1/2 in bushing whose nut rises that high."""
    return {**bit(**known), "bushing": {"diameter": "1/2 in", "bore": 11.2, "nut": {"diameter": 35, "height": height}}}


CODES = (
    "bit-too-short", "shank-too-short", "shank-fits-no-collet", "travel-too-short", "bit-stays-in-cut",
    "bit-hardly-clear", "router-not-measured", "bit-projection",
)  # fmt: skip


def test_without_a_router(said: Said) -> None:
    """A job that names no router is told nothing of one."""
    assert [said(code) for code in CODES] == [[]] * len(CODES)


def test_a_bit_that_reaches(said: Said, on_bench: OnBench) -> None:
    """A router and a bit that suit leave one note: how far the bit may stick out."""
    tables = on_bench(tools=bit(shank="1/2 in", cutting_length=40, overall_length=80))
    assert [code for code in CODES if said(code, **tables)] == ["bit-projection"]


def test_bit_too_short(said: Said) -> None:
    """The whole bit must hold the plunge depth and 3/4 in of shank (trade articles, read): 34 + 19.05 mm."""
    assert said("bit-too-short", tools=bit(overall_length=53)) == [
        (
            "stop",
            "tools.bit",
            "the whole bit (53 mm) is shorter than the plunge depth (34 mm) and the 3/4 in (19.05 mm) that the collet "
            "must hold: use a longer bit, a thinner plate or a shallower cut",
        )
    ]
    assert said("bit-too-short", tools=bit(overall_length="53.05 mm")) == []


def test_bit_too_short_for_the_router(said: Said, on_bench: OnBench) -> None:
    """A collet nut that stops 70 - 60 = 10 mm above the base takes as much more of the bit."""
    assert said("bit-too-short", **on_bench(tools=bit(overall_length=63))) == [
        (
            "stop",
            "tools.bit",
            "the whole bit (63 mm) is shorter than the plunge depth (34 mm), the 10 mm above the base where the "
            "collet nut stops (at the end of its travel) and the 3/4 in (19.05 mm) that the collet must hold, 63.05 mm "
            "in all: use a longer bit, a thinner plate or a shallower cut",
        )
    ]
    assert said("bit-too-short", **on_bench(tools=bit(overall_length="63.05 mm"))) == []


def test_collet_nut_meets_the_bushings_nut(said: Said, on_bench: OnBench) -> None:
    """A bushing's nut 14 mm high stops the collet nut before its travel does; one of 8 mm does not."""
    ((_, _, sentence),) = said("bit-too-short", **on_bench(tools=nut(14, overall_length=67)))
    assert "the 14 mm above the base where the collet nut stops (on the bushing's nut)" in sentence
    assert said("bit-too-short", **on_bench(tools=nut(14, overall_length="67.05 mm"))) == []
    assert said("bit-too-short", **on_bench(tools=nut(8, overall_length="63.05 mm"))) == []


def test_collet_nut_through_the_bushing(said: Said, on_bench: OnBench) -> None:
    """A collet nut narrower than the bore comes down to -5 mm: 34 - 5 + 19.05; a wider one stays above the bushing."""
    tools = {**bit(overall_length=48), "bushing": WIDE}
    assert said("bit-too-short", **on_bench({"travel": "75"}, tools=tools)) == [
        (
            "stop",
            "tools.bit",
            "the whole bit (48 mm) is shorter than the plunge depth (34 mm) less the 5 mm that the collet nut comes "
            "down through the bushing and the 3/4 in (19.05 mm) that the collet must hold, 48.05 mm in all: use a "
            "longer bit, a thinner plate or a shallower cut",
        )
    ]
    tools = {**bit(overall_length="48.05 mm"), "bushing": WIDE}
    assert said("bit-too-short", **on_bench({"travel": "75"}, tools=tools)) == []
    assert len(said("bit-too-short", **on_bench({"travel": "75", "nut_diameter": "24.1"}, tools=tools))) == 1
    assert len(said("bit-too-short", **on_bench({"travel": "75", "nut_diameter": None}, tools=tools))) == 1


@pytest.mark.parametrize(
    ("router", "tools", "collet", "stopped_by"),
    [
        ({}, {}, 10, "at the end of its travel"),
        ({"travel": "75"}, {}, 0, "on the bushing"),
        ({"travel": "75"}, nut(9), 9, "on the bushing's nut"),
        ({"travel": None}, nut(9), 9, "on the bushing's nut"),
        ({"collet_to_base": None}, {}, 0, "on the bushing"),
        ({"travel": "75"}, {"bushing": WIDE}, -5, "at the end of its travel"),
        ({"travel": "90"}, {"bushing": WIDE}, -8, "on the work"),  # plate 6 and stand-off 2
        ({"travel": "90"}, {"bushing": 30}, 0, "on the bushing"),  # a bore that is not known
    ],
)
def test_where_the_collet_nut_stops(
    report_with: ReportWith,
    on_bench: OnBench,
    router: dict[str, str | None],
    tools: dict[str, Any],
    collet: float,
    stopped_by: str,
) -> None:
    """The highest of travel's end, bushing, its nut, and the work under a bushing that it passes."""
    reach = reach_of(report_with(**on_bench(router, tools=tools, plate={"stand_off": 2})).case)
    assert (reach.collet, reach.stopped_by) == (collet, stopped_by)
    assert reach.least == 36 + collet


def test_shank_too_short(said: Said) -> None:
    """Cutting edges stay out of the collet, with a router or without: 45 + 19.05 mm."""
    assert said("shank-too-short", tools=bit(cutting_length=45, overall_length=64)) == [
        (
            "stop",
            "tools.bit",
            "the whole bit (64 mm) is shorter than its cutting edges (45 mm), which must stay out of the collet, and "
            "the 3/4 in (19.05 mm) that the collet must hold: use a bit with a longer shank",
        )
    ]
    assert said("bit-too-short", tools=bit(cutting_length=45, overall_length=64)) == []
    assert said("shank-too-short", tools=bit(cutting_length=45, overall_length="64.05 mm")) == []


def test_shank_fits_no_collet(said: Said, on_bench: OnBench) -> None:
    """A 6 mm shank is no 1/4 in one; a measured 6.32 mm is. Nothing where shank or collets are not known."""
    assert said("shank-fits-no-collet", **on_bench(tools=bit(shank=6))) == [
        (
            "stop",
            "tools.bit",
            "the shank (6 mm) fits none of the router's collets (8 mm, 1/4 in, 1/2 in): use a bit with one of these "
            "shanks, or add the collet to the router's entry if you have it",
        )
    ]
    assert said("shank-fits-no-collet", **on_bench(tools=bit(shank=6.3))) == []
    assert len(said("shank-fits-no-collet", **on_bench(tools=bit(shank=6.29)))) == 1
    assert said("shank-fits-no-collet", **on_bench({"collets": None}, tools=bit(shank=6))) == []
    assert said("shank-fits-no-collet", **on_bench(tools=bit())) == []


def test_travel_too_short(said: Said, on_bench: OnBench) -> None:
    """A cut deeper than the router plunges is a stop, and is not told twice; as deep as it plunges is none."""
    shallow = on_bench({"travel": "27.9"})
    assert said("travel-too-short", **shallow) == [
        (
            "stop",
            "cut.depth",
            "the router plunges 27.9 mm and the cut is 28 mm deep, so the bit would start and stop in the wood: cut at "
            "most 27.9 mm deep, or use a router with more travel",
        )
    ]
    assert said("bit-stays-in-cut", **shallow) == []
    assert said("bit-projection", **shallow) == []
    assert said("travel-too-short", **on_bench({"travel": "28"})) == []
    assert len(said("travel-too-short", **on_bench({"travel": "27.9", "collet_to_base": None}))) == 1


def test_bit_stays_in_the_cut(said: Said, on_bench: OnBench) -> None:
    """A nut of 43 mm needs 34 + 43 = 77 mm of bit, and 70 + 6 = 76 are clear of the work: stop; 40 mm leave 3."""
    assert said("bit-stays-in-cut", **on_bench(tools=nut(43))) == [
        (
            "stop",
            "tools.router",
            "a bit that sticks 77 mm out of the collet, as the depth needs with the collet nut on the bushing's nut, "
            "still stands 1 mm deep in the work when the router is fully raised, so the bit would start and stop in "
            "the wood: cut less deep, use a thicker plate or a router with more room under the collet",
        )
    ]
    assert said("bit-projection", **on_bench(tools=nut(43))) == []
    assert said("bit-stays-in-cut", **on_bench(tools=nut(42))) == []
    assert said("bit-stays-in-cut", **on_bench({"collet_to_base": None}, tools=nut(43))) == []


def test_bit_hardly_clear(said: Said, on_bench: OnBench) -> None:
    """Less than 3 mm clear of the work is a warning: cutting edges of 74 mm leave 2; of 73 mm 3."""
    assert said("bit-hardly-clear", **on_bench(tools=bit(cutting_length=74))) == [
        (
            "warning",
            "tools.router",
            "a bit that sticks 74 mm out of the collet, as its cutting edges do, comes up only 2 mm clear of the work, "
            "less than 3 mm: set it no longer, and see that it is clear before you switch on or lift the router",
        )
    ]
    assert said("bit-hardly-clear", **on_bench(tools=bit(cutting_length=73))) == []
    assert said("bit-hardly-clear", **on_bench(tools=bit(cutting_length=77))) == []  # then it is a stop


@pytest.mark.parametrize("key", ["travel", "collet_to_base"])
def test_router_not_measured(said: Said, on_bench: OnBench, key: str) -> None:
    """A router without its travel or its collet's height is a note to measure them."""
    assert said("router-not-measured", **on_bench({key: None})) == [
        (
            "note",
            "tools.router",
            "travel or collet_to_base of the router is not known, so whether its collet comes low enough and the bit "
            "high enough is not checked: measure them, and give them in the router's entry",
        )
    ]
    assert said("router-not-measured", **on_bench()) == []
    assert said("bit-projection", **on_bench({key: None})) == []


def projection(most: str, end: str = "", least: str = "44 mm", purpose: str = "it reaches 34 mm below the base") -> str:
    """The note's sentence."""
    return (
        f"let the bit stick {least} to {most} out of the collet: at least so much that {purpose}, at most so much that "
        f"{end}"
    )


@pytest.mark.parametrize(
    ("tools", "sentence"),
    [
        (nut(8, overall_length=80), projection("60.95 mm", "3/4 in of its shank is held")),  # 80 - 19.05
        (nut(8, overall_length=100), projection("76 mm", "it comes up clear of the work")),  # 70 + 6
        (
            nut(8),
            projection("76 mm", "it comes up clear of the work")
            + "; in all it must be at least 63.05 mm long (its overall_length is not known)",
        ),
        (
            bit(overall_length=80),
            projection("60.95 mm", "3/4 in of its shank is held")
            + "; see that the collet nut clears the bushing's nut, whose height is not known",
        ),
        (
            nut(8, overall_length=80, cutting_length=50),
            projection("60.95 mm", "3/4 in of its shank is held", "50 mm", "the cutting edges stay out of it"),
        ),
    ],
)
def test_projection(said: Said, on_bench: OnBench, tools: dict[str, Any], sentence: str) -> None:
    """How far the bit may stick out, and what sets each limit."""
    assert said("bit-projection", **on_bench(tools=tools)) == [("note", "tools.router", sentence)]


def test_projection_through_a_bushing(said: Said, on_bench: OnBench) -> None:
    """A collet nut that passes the bushing down to the work is not told to clear the bushing's nut."""
    tools = {**bit(overall_length=80), "bushing": WIDE}
    ((_, _, sentence),) = said("bit-projection", **on_bench({"travel": "90"}, tools=tools))
    assert sentence.startswith("let the bit stick 28 mm to 60.95 mm out of the collet")
    assert sentence.endswith("held")
