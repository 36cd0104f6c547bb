"""Pairs for jobs of any shape: which can be, in which order, what is said of them; against sums done by hand."""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.checks import Finding, Level
from jigtemplates.geometry.outline import LONG
from jigtemplates.match import Match, made
from jigtemplates.match.candidates import Candidate, candidates, pair_of
from jigtemplates.match.job_command import Answer, Asked, answer_to
from jigtemplates.match.judged import SAID, judged, matter_of
from jigtemplates.match.made import Source, checked_again, made_with
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.job import Job
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.report import report_on

SAMPLES = Path(__file__).parents[2] / "samples"
PLATE = 'title = "T"\nunits = "mm"\n[plate]\nwidth = 200\nheight = 200\nthickness = 9\n'
#: A tool is what a profile says of it.
Tools = Mapping[str, Mapping[str, Any]]


def bit(diameter: float, **known: Any) -> dict[str, Any]:
    return {"diameter": diameter, "shank": 6, "cutting_length": 40, **known}


def bushing(diameter: float, **known: Any) -> dict[str, Any]:
    return {"diameter": diameter, "bore": diameter - 2, "stem": 5, **known}


def drawn(folder: Path, path: str, width: int, height: int) -> dict[str, Any]:
    """A cut with that SVG path, its units mm."""
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
    text = f'{head} viewBox="0 0 {width} {height}"><path d="{path}"/></svg>'
    (folder / "drawn.svg").write_text(text, encoding="utf-8")
    return {"shape": "outline", "file": "drawn.svg", "depth": 5}


def toml(table: Mapping[str, Any]) -> str:
    def value(one: Any) -> str:
        if isinstance(one, Mapping):
            return "{ " + toml(one).replace("\n", ", ").removesuffix(", ") + " }"
        return str(one).lower() if isinstance(one, bool) else repr(one).replace("'", '"')

    return "".join(f"{key} = {value(one)}\n" for key, one in table.items())


@pytest.fixture
def ask(here: Path) -> Callable[..., Answer]:
    """ask(cut, bits, bushings): the answer for a job with that [cut] table (or text), whose own pair is the first."""

    def asked(cut: str | Mapping[str, Any], bits: Tools, bushings: Tools, *, more: str = "", **own: Any) -> Answer:
        kinds = (("bits", bits), ("bushings", bushings))
        tools = "".join(f'[{kind}."{name}"]\n{toml(one)}' for kind, held in kinds for name, one in held.items())
        (here / "tools.toml").write_text('units = "mm"\n' + tools, encoding="utf-8")
        named = {"bit": next(iter(bits)), "bushing": next(iter(bushings)), "clearance": 0.1, **own}
        table = cut if isinstance(cut, str) else f"[cut]\n{toml(cut)}"
        plate = PLATE.replace("width = 200\nheight = 200\n", "") if "outside" in table else PLATE
        (here / "job.toml").write_text(f"{plate}{more}[tools]\n{toml(named)}{table}", encoding="utf-8")
        return answer_to(Asked(Path("job.toml"), None, Path("tools.toml"), None, False, True, False))

    return asked


def names(answer: Answer) -> list[tuple[str, str]]:
    return [(one.bit.name or "", one.bushing.name or "") for one in answer.matches if one.possible]


def only(answer: Answer) -> Match:
    (one,) = answer.matches
    return one


# What is missed -------------------------------------------------------------------------------------------------


def test_a_square_corner_keeps_what_a_round_bit_cannot_reach(ask: Callable[..., Answer]) -> None:
    """Square corners and r = 3: 3 (√2 - 1) = 1.243 mm short, (4 - π) 9 = 7.73 mm² in all four; both are said."""
    square = {"shape": "rectangle", "width": 30, "length": 50, "corner_radius": 0, "depth": 10}
    one = only(ask(square, {"six": bit(6)}, {"g": bushing(14)}))
    assert one.predicted is not None
    assert one.predicted.max_deviation == pytest.approx(3 * (math.sqrt(2) - 1), abs=1e-6)
    assert one.predicted.unreachable_area == pytest.approx((4 - math.pi) * 9, abs=1e-4)
    assert one.reasons[0] == "the edge of the cut is up to 1.24 mm off, 7.73 mm² left standing"


def test_an_ellipse_is_reached_by_bits_no_rounder_than_its_ends(ask: Callable[..., Answer]) -> None:
    """80 x 48: the ends have a radius of 24² / 40 = 14.4 mm. A 28 mm bit fits in them and comes first; 36 is last."""
    oval = {"shape": "ellipse", "width": 48, "length": 80, "depth": 10}
    bits = {"b36": bit(36), "b10": bit(10), "b28": bit(28)}
    answer = ask(oval, bits, {"g": bushing(44)})
    assert names(answer) == [("b28", "g"), ("b10", "g"), ("b36", "g")]
    off = [one.predicted.max_deviation for one in answer.matches if one.predicted is not None]
    assert [mm < 0.006 for mm in off] == [True, True, False]


def test_a_hexagon_prefers_the_bit_that_leaves_least(ask: Callable[..., Answer]) -> None:
    """Corners of 120 degrees: r (1 / sin 60° - 1) is 0.464 mm for r = 3 and 0.155 mm for r = 1."""
    nut = {"shape": "polygon", "sides": 6, "across": 36, "depth": 4}
    answer = ask(nut, {"six": bit(6), "two": bit(2)}, {"g": bushing(14)})
    assert names(answer) == [("two", "g"), ("six", "g")]
    off = [one.predicted.max_deviation for one in answer.matches if one.predicted is not None]
    assert off == pytest.approx([1 / math.sin(math.pi / 3) - 1, 3 / math.sin(math.pi / 3) - 3], abs=1e-6)


def test_less_than_a_tenth_is_no_difference(ask: Callable[..., Answer]) -> None:
    """Corners of 2 mm: bits of 4 and 4.4 mm (0.083 mm short) make them alike, so the wider one comes first."""
    cut = {"shape": "rectangle", "width": 30, "length": 50, "corner_radius": 2, "depth": 4}
    answer = ask(cut, {"four": bit(4), "wider": bit(4.4), "six": bit(6)}, {"g": bushing(14)})
    assert names(answer) == [("wider", "g"), ("four", "g"), ("six", "g")]


def test_a_butterfly_key_is_rounded_at_its_waist_by_the_offset(ask: Callable[..., Answer]) -> None:
    """Sides that lean by atan(18 / 90) lose e (1 / cos - 1): 0.238 mm for e = 12, cut away too much."""
    key = {"shape": "butterfly", "width": 36, "waist": 18, "length": 90, "corner_radius": 3.2, "depth": 9}
    one = only(ask(key, {"six": bit(6)}, {"thirty": bushing(30)}))
    assert one.predicted is not None
    assert one.predicted.max_deviation == pytest.approx(12 * (math.hypot(1, 0.2) - 1), abs=1e-3)
    assert "the edge of the cut is up to 0.24 mm off" in one.reasons[0]
    assert one.reasons[0].endswith("mm² cut away too much")


def test_a_widened_slot_is_not_called_off(ask: Callable[..., Answer]) -> None:
    """A bit as wide as the slot: trapped, and 0.1 mm wider on purpose is said but not counted against it."""
    slot = {"shape": "slot", "width": 8, "length": 40, "depth": 9}
    answer = ask(slot, {"six": bit(6), "eight": bit(8, shank=8)}, {"g": bushing(14)})
    assert names(answer) == [("eight", "g"), ("six", "g")]
    best = answer.matches[0]
    assert best.trapped
    assert best.side_play == pytest.approx(0.1)
    assert best.reasons[:2] == (
        "trapped: one pass makes the width",
        "the cut comes out 8.1 mm wide, bit + running clearance",
    )


# Shapes of their own --------------------------------------------------------------------------------------------


def test_a_hinge_gain_takes_a_bit_wider_than_it_is_deep_in(ask: Callable[..., Answer]) -> None:
    """12 mm from the edge of the work: a 16 mm bit goes on past the edge, as long as the gain is longer than it."""
    gain = {"shape": "hinge", "width": 12, "length": 60, "corner_radius": 8, "depth": 3}
    bits = {"sixteen": bit(16, shank=8), "huge": bit(64, shank=8, cutting_length=None)}
    bits["huge"].pop("cutting_length")
    answer = ask(gain, bits, {"g": bushing(80)})
    assert names(answer) == [("sixteen", "g")]
    assert answer.matches[1].reasons == ("the bit (64 mm) is wider than the cut (60 mm)",)


def test_a_neck_that_a_bushing_does_not_pass_costs_rank(ask: Callable[..., Answer], here: Path) -> None:
    """Two squares joined by a 7 mm neck: the 8 mm bit leaves the neck standing, and is told to be lifted out."""
    path = "M0 0 H30 V11.5 H50 V0 H80 V30 H50 V18.5 H30 V30 H0 Z"
    cut = drawn(here, path, 80, 30)
    answer = ask(cut, {"e": bit(8), "f": bit(4)}, {"g": bushing(14)})
    assert names(answer) == [("f", "g"), ("e", "g")]
    assert "the bushing does not pass between 2 parts of the cut" in answer.matches[1].reasons


def test_wood_that_the_bushing_cannot_go_round_stops_a_pair(ask: Callable[..., Answer], here: Path) -> None:
    """A tongue of 3 mm into the cut: a bushing 8 mm wider than the bit takes it off, one 2.4 mm wider does not."""
    path = "M0 0 H60 V50 H0 V26.5 H30 V23.5 H0 Z"
    cut = drawn(here, path, 60, 50)
    answer = ask(cut, {"e": bit(8)}, {"near": bushing(10.4, bore=9), "far": bushing(16)})
    assert names(answer) == [("e", "near")]
    (stopped,) = answer.matches[1].reasons
    assert stopped.startswith("a part that is to stay standing is cut away")
    assert answer.matches[1].opening is not None


def test_a_drawn_outline_of_the_samples(here: Path) -> None:
    """bracket.dxf has corners of 1/4 in: a 1/2 in bit makes them, one of 16 mm is 1.65 (√2 - 1) short."""
    tools = (
        'units = "mm"\n[bits]\na = { diameter = 16 }\nb = { diameter = "1/2 in" }\n[bushings]\ng = { diameter = 24 }\n'
    )
    (here / "t.toml").write_text(tools, encoding="utf-8")
    answer = answer_to(Asked(SAMPLES / "shelf-bracket.toml", None, Path("t.toml"), None, False, False, False))
    assert [(one.bit.name, one.in_job) for one in answer.matches] == [("b", False), (None, True), ("a", False)]
    assert answer.matches[0].predicted is not None
    assert answer.matches[0].predicted.max_deviation < 1e-6
    assert answer.matches[2].predicted is not None
    assert answer.matches[2].predicted.max_deviation == pytest.approx(1.65 * (math.sqrt(2) - 1), abs=2e-3)


def test_an_outline_of_very_many_points_is_made_ten_times_at_most(
    ask: Callable[..., Answer], here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A circle of LONG chords with 12 pairs of different diameters: the job's and the nine next, two are left."""
    monkeypatch.setattr(made, "MOST_MADE", 1000)
    steps = [math.tau * i / LONG for i in range(LONG)]
    path = "M" + " L".join(f"{40 + 40 * math.cos(a):.4f} {40 + 40 * math.sin(a):.4f}" for a in steps) + " Z"
    cut = drawn(here, path, 80, 80)
    bits = {f"b{n}": bit(n) for n in (6, 7, 8, 9)}
    guides = {f"g{n}": bushing(n) for n in (14, 16, 18)}
    answer = ask(cut, bits, guides)
    pairs = candidates(answer.job, [one.bit for one in answer.matches[:0]], [])
    assert [one.in_job for one in pairs] == [True]
    source = Source(Path("job.toml"), profiles_for(Path("job.toml"), tools=Path("tools.toml")))
    found = candidates(answer.job, _tools(source, "bits"), _tools(source, "bushings"))
    some, left = made_with(source, answer.job, found)
    assert (len(some), left, some[0].pair.in_job) == (10, 2, True)
    assert len(answer.matches) == 12


def _tools(source: Source, kind: str) -> list[Any]:
    return [one.entry for one in source.profiles.own(kind)]


# Outside work ---------------------------------------------------------------------------------------------------


def test_a_round_pattern_is_smaller_than_its_work_by_bushing_less_bit(ask: Callable[..., Answer]) -> None:
    """20 mm for a 30 mm bushing and a 10 mm bit (HolzWerken, read; see outside.py); no side play is said."""
    work = {"shape": "round", "diameter": 180, "depth": 12, "side": "outside"}
    one = only(ask(work, {"ten": bit(10)}, {"thirty": bushing(30)}))
    assert one.opening is not None
    assert (one.opening.width, one.opening.length) == pytest.approx((160, 160))
    assert one.predicted is not None
    assert (one.predicted.width, one.predicted.max_deviation) == pytest.approx((180, 0), abs=1e-6)
    assert (one.side_play, one.trapped) == (None, False)
    assert one.reasons[0] == "the bushing runs round the outside of the pattern, counter-clockwise"


def test_sharp_corners_of_outside_work_are_rounded_by_the_offset(ask: Callable[..., Answer]) -> None:
    """(24 - 8) / 2 = 8 rounds them by 8 (√2 - 1) = 3.314, so the bushing nearest to the bit comes first."""
    work = {"shape": "rectangle", "width": 120, "length": 160, "corner_radius": 0, "depth": 12, "side": "outside"}
    answer = ask(work, {"eight": bit(8, shank=8)}, {"g24": bushing(24), "g14": bushing(14)})
    assert names(answer) == [("eight", "g14"), ("eight", "g24")]
    assert answer.matches[1].reasons[0].startswith("the edge of the work is up to 3.31 mm off, ")
    assert answer.matches[1].reasons[0].endswith("mm² cut away too much")


def test_round_a_pattern_fewer_passes_come_first(ask: Callable[..., Answer]) -> None:
    """Corners that all make: the 10 mm bit takes 3 passes for 12 mm and the 6 mm bit 4; then the larger pattern."""
    work = {"shape": "rectangle", "width": 120, "length": 160, "corner_radius": 30, "depth": 12, "side": "outside"}
    answer = ask(work, {"six": bit(6), "ten": bit(10)}, {"g24": bushing(24), "g20": bushing(20)})
    assert names(answer) == [("ten", "g20"), ("ten", "g24"), ("six", "g20"), ("six", "g24")]
    assert [one.passes for one in answer.matches] == [3, 3, 4, 4]


def test_the_columns_of_outside_work_have_its_words(call: Any, ask: Callable[..., Answer]) -> None:
    """Pattern and work made, not opening and cut."""
    ask({"shape": "round", "diameter": 180, "depth": 12, "side": "outside"}, {"ten": bit(10)}, {"thirty": bushing(30)})
    lines = call("match", "job.toml", "--tools", "tools.toml").out.splitlines()
    assert lines[1].split() == ["bit", "bushing", "pattern", "work", "made", "passes"]
    assert lines[2].split()[:9] == ["1", "ten", "thirty", "dia", "160", "mm", "dia", "180", "mm"]


# Several cuts ---------------------------------------------------------------------------------------------------

TWO = """\
[[cut]]
shape = "slot"
width = 10
length = 50
depth = 8
y = 60
[[cut]]
shape = "rectangle"
width = 30
length = 40
corner_radius = 0
depth = 14
y = 140
"""


def test_of_several_cuts_the_worst_counts(ask: Callable[..., Answer]) -> None:
    """The slot traps the 10 mm bit, the rectangle does not: 20 mm of play; its corners are short by 5 (√2 - 1)."""
    answer = ask(TWO, {"ten": bit(10, shank=8), "six": bit(6)}, {"g": bushing(14)})
    assert names(answer) == [("six", "g"), ("ten", "g")]
    ten = answer.matches[1]
    assert (ten.cut, ten.trapped, ten.side_play, ten.passes) == (2, False, 20.0, 3)  # 14 mm deep, 5 mm a pass
    assert ten.predicted is not None
    assert ten.predicted.max_deviation == pytest.approx(5 * (math.sqrt(2) - 1), abs=1e-6)
    assert ten.reasons[:3] == (
        "the edge of cut 2 is up to 2.07 mm off, 21.46 mm² left standing",  # (4 - π) 25
        "up to 20 mm side play: go round the edge to make the width, then clear the middle",
        "cut 1 comes out 10.1 mm wide, bit + running clearance",
    )
    assert ten.as_json()["cut"] == 2


def test_the_deviation_of_every_cut_ranks_before_side_play(call: Any, ask: Callable[..., Answer]) -> None:
    """With 0.1 mm clearance a bit of 7.96 mm makes 8 mm 8.06 wide, one of 7.9 exactly, with more play in the other."""
    two = TWO.replace("rectangle", "slot").replace(
        "width = 30\nlength = 40\ncorner_radius = 0", "width = 8\nlength = 40"
    )
    answer = ask(two, {"spiral": bit(7.96, shank=8), "new": bit(7.9, shank=8)}, {"g": bushing(14), "h": bushing(16)})
    assert names(answer) == [("new", "g"), ("new", "h"), ("spiral", "g"), ("spiral", "h")]
    new, spiral = answer.matches[0], answer.matches[2]
    assert (new.cut, spiral.cut) == (1, 2)
    assert (new.side_play, spiral.side_play) == pytest.approx((2.1, 2.04))
    assert spiral.predicted is not None
    assert spiral.predicted.width == pytest.approx(8.06)
    said = call("match", "job.toml", "--tools", "tools.toml").out
    assert "spiral  g        cut 2: 14.1 x " in said
    assert "cut 2 comes out 8.06 mm wide" in said


def test_the_narrowest_of_several_cuts_refuses_a_bit(ask: Callable[..., Answer]) -> None:
    """12 mm goes into the rectangle but not into the slot."""
    answer = ask(TWO, {"six": bit(6), "twelve": bit(12, shank=8)}, {"g": bushing(16)})
    assert answer.matches[1].reasons == ("the bit (12 mm) is wider than the cut (10 mm)",)


def test_several_cuts_are_called_by_their_number(call: Any, ask: Callable[..., Answer]) -> None:
    """The head counts them, the row says whose sizes it has: 30 + 14 - 6 by 40 + 14 - 6."""
    ask(TWO, {"six": bit(6)}, {"g": bushing(14)})
    lines = call("match", "job.toml", "--tools", "tools.toml").out.splitlines()
    assert lines[0] == '1 of 1 pair can make "T" (2 different cuts)'
    assert lines[2].startswith("  1  six  g        cut 2: 38 x 48 mm  30 x 40 mm  5       now in the job")


def test_openings_that_run_into_each_other_stop_a_pair(ask: Callable[..., Answer]) -> None:
    """Two slots 24 mm apart: their openings are 18 mm wide with a 14 mm bushing and 34 mm with one of 30."""
    twin = {
        "shape": "slot",
        "width": 10,
        "length": 50,
        "depth": 8,
        "repeat": {"count": 2, "pitch": 24, "direction": 90},
    }
    answer = ask(twin, {"six": bit(6)}, {"g14": bushing(14), "g30": bushing(30), "g22": bushing(22)})
    assert names(answer)[0] == ("six", "g14")
    assert [(one.bushing.name, one.possible) for one in answer.matches][-1] == ("g30", False)
    assert "overlap" in answer.matches[-1].reasons[0]


def test_a_thin_wall_costs_rank_and_is_said(ask: Callable[..., Answer]) -> None:
    """36 mm apart, openings of 24 and 33 mm: 12 mm of wall are enough, 3 mm are said and rank lower than less room."""
    twin = {
        "shape": "slot",
        "width": 10,
        "length": 50,
        "depth": 8,
        "repeat": {"count": 2, "pitch": 36, "direction": 90},
    }
    answer = ask(twin, {"six": bit(6)}, {"g29": bushing(29, stem=5), "g20": bushing(20)})
    assert names(answer) == [("six", "g20"), ("six", "g29")]
    assert any(
        text.startswith("only 3 mm between") and text.endswith("is sensible") for text in answer.matches[1].reasons
    )


# Inlays ---------------------------------------------------------------------------------------------------------

INLAY = "[inlay]\nplug_bushing = {{ diameter = 10, bore = 8, stem = 5 }}\n{0}glue_line = 0\n"
OVAL = {"shape": "ellipse", "width": 40, "length": 60, "depth": 3}


def test_an_inlay_wants_bushing_less_bit_to_be_that_of_the_plug_s_sum(ask: Callable[..., Answer]) -> None:
    """Gr - Br = Gp + Bp (see inlay): 16 - 3 = 10 + 3 fits; 17 leaves 0.5 too little a side, 15 leaves as much open."""
    guides = {"g17": bushing(17), "g15": bushing(15), "g16": bushing(16), "g12": bushing(12)}
    answer = ask(OVAL, {"three": bit(3)}, guides, more=INLAY.format(""))
    assert names(answer) == [("three", "g16"), ("three", "g15")]
    assert [one.reasons[0] for one in answer.matches] == [
        "recess and plug fit",
        "recess and plug do not fit, they miss by 0.5 mm a side: the plug leaves a gap of 0.5 mm a side where none is "
        "wanted",
        "recess and plug do not fit, they miss by 0.5 mm a side: the plug is larger than the recess by 0.5 mm a side",
        "recess and plug do not fit, they miss by 2 mm a side: the plug leaves a gap of 2 mm a side where none is "
        "wanted",
    ]  # fmt: skip


def test_a_plug_s_own_bit_stays(ask: Callable[..., Answer]) -> None:
    """With plug_bit = 3 a recess with 4 wants 10 + 3 + 4 = 17; without it the plug is routed with 4 too: 18."""
    guides, bits = {"g17": bushing(17), "g18": bushing(18)}, {"four": bit(4)}
    own = ask(OVAL, bits, guides, more=INLAY.format("plug_bit = 3\n"))
    assert own.matches[0].bushing.name == "g17"
    assert own.matches[0].reasons[0] == "recess and plug fit"
    same = ask(OVAL, bits, guides, more=INLAY.format(""))
    assert (same.matches[0].bushing.name, same.matches[0].reasons[0]) == ("g18", "recess and plug fit")


def test_a_bit_as_wide_as_its_bushing_hears_nothing_of_plugs(ask: Callable[..., Answer]) -> None:
    """The bushing is named as what is wrong."""
    answer = ask(OVAL, {"three": bit(3)}, {"g16": bushing(16), "g3": {"diameter": 3}}, more=INLAY.format(""))
    assert answer.matches[-1].reasons == ("the bushing (3 mm) is not wider than the bit (3 mm)",)


# Bits and bushings ----------------------------------------------------------------------------------------------

SLOT = {"shape": "slot", "width": 12, "length": 50, "depth": 20}


@pytest.mark.parametrize(
    ("a", "g", "reason"),
    [
        (
            bit(6),
            bushing(6.5, bore=6.1),
            "only 0.1 mm between bit and bore: a bushing a little off centre touches the bit",
        ),
        (bit(6), bushing(14, stem=9), "the stem (9 mm) reaches the work: plate and stand-off are 9 mm"),
        (
            bit(6, shank=8, cutting_length=19),
            bushing(14),
            "the cutting edges (19 mm) are shorter than the cut is deep (20 mm) and the shank is thicker than the bit",
        ),
        (
            bit(6, overall_length=48),
            bushing(14),
            "the whole bit (48 mm) is shorter than its cutting edges (40 mm) and the 3/4 in (19.05 mm) that the collet "
            "must hold",
        ),
    ],
)  # fmt: skip
def test_tools_are_refused_with_the_words_of_match(
    ask: Callable[..., Answer], a: dict[str, Any], g: dict[str, Any], reason: str
) -> None:
    """As without a job: room, stem, edges, length."""
    one = only(ask(SLOT, {"a": a}, {"g": g}))
    assert (one.possible, one.reasons, one.opening) == (False, (reason,), None)


def test_a_shank_that_is_not_known_is_trusted_but_said(ask: Callable[..., Answer]) -> None:
    """Edges shorter than the cut: check warns of it and so it can be, as long as no thicker shank is known."""
    one = only(ask(SLOT, {"a": {"diameter": 6, "cutting_length": 15}}, {"g": bushing(14)}))
    assert one.possible
    assert "the cut is deeper than its edges (15 mm): clear the chips often" in one.reasons


def test_passes_go_no_deeper_than_the_job_wants(ask: Callable[..., Answer]) -> None:
    """pass_depth 2.5 for 20 mm: 8 passes, of the pair that can be and of the one that is too wide."""
    answer = ask(SLOT, {"six": bit(6), "wide": bit(14)}, {"g": bushing(20)}, pass_depth=2.5)
    assert [(one.possible, one.passes) for one in answer.matches] == [(True, 8), (False, 8)]


def test_a_shank_that_may_meet_the_bushing_is_said_and_costs_rank(ask: Callable[..., Answer]) -> None:
    """Two bits of one diameter in one bushing: the one whose shank may not pass the bore comes second."""
    bits = {"thick": {"diameter": 6, "shank": 12}, "thin": {"diameter": 6, "shank": 6}}
    answer = ask(SLOT, bits, {"g": bushing(14, bore=12)})
    assert names(answer) == [("thin", "g"), ("thick", "g")]
    assert answer.matches[1].reasons[-1] == "the shank (12 mm) does not pass through the bore (12 mm)"


def test_the_router_s_collets_refuse_a_shank(ask: Callable[..., Answer], here: Path) -> None:
    """What only a check knows stops a pair with its whole sentence, another bit of the same diameter is made."""
    (here / "profiles").mkdir()
    router = '[routers.mine]\nbase = { shape = "round", diameter = "150 mm" }\ncollets = ["8 mm"]\n'
    (here / "profiles" / "r.toml").write_text(router, encoding="utf-8")
    bits = {"thin": bit(6, shank=6), "thick": bit(6, shank=8)}
    answer = ask(SLOT, bits, {"g": bushing(14)}, router="mine")
    assert names(answer) == [("thick", "g")]
    assert (
        answer.matches[1].reasons[0].startswith("the shank (6 mm) fits none of the router's collets (8 mm): use a bit")
    )


def test_of_two_trapped_bits_the_one_that_widens_less_is_made_first(ask: Callable[..., Answer]) -> None:
    """Both get 0.1 mm of clearance in an 8 mm slot: 7.94 makes 8.04 and 7.98 makes 8.08, so 7.94 ranks and is guessed
    first, and 8 mm, which makes 8.1, last."""
    slot = {"shape": "slot", "width": 8, "length": 40, "depth": 9}
    bits = {"b8": bit(8, shank=8), "b7.98": bit(7.98), "b7.94": bit(7.94), "b6": bit(6)}
    answer = ask(slot, bits, {"g": bushing(14)})
    assert [a for a, _ in names(answer)] == ["b7.94", "b7.98", "b8", "b6"]
    source = Source(Path("job.toml"), profiles_for(Path("job.toml"), tools=Path("tools.toml")))
    guessed = candidates(answer.job, _tools(source, "bits"), _tools(source, "bushings"))
    assert [one.bit.name for one in guessed] == ["b7.94", "b7.98", "b8", "b6"]


# The parts ------------------------------------------------------------------------------------------------------


def test_only_the_matter_of_a_warning_is_told() -> None:
    """Up to the colon or semicolon; a plug's warning keeps its name."""

    def finding(message: str) -> Finding:
        return Finding(Level.WARNING, "code", "tools.bit", message)

    assert matter_of(finding("it is thin: make it thicker")) == "it is thin"
    assert matter_of(finding("it is thin; make it thicker: so")) == "it is thin"
    assert matter_of(finding("for the plug: it is thin: make it thicker")) == "for the plug: it is thin"


def test_warnings_that_have_other_words_are_really_codes() -> None:
    """Each of them stands in a check or in the inlay's findings."""
    rooms = ("checks", "inlay")
    files = [one for room in rooms for one in (SAMPLES.parent / "jigtemplates" / room).glob("*.py")]
    text = "".join(one.read_text(encoding="utf-8") for one in files)
    assert [code for code in SAID if f'"{code}"' not in text] == []


def test_nothing_made_is_nothing_judged() -> None:
    """No pair that is worth being made: no matches."""
    assert list(judged(())) == []


@pytest.mark.parametrize("sample", ["tiller-rack", "mantel-inlay", "lantern-post", "quay-stool-seat", "shelf-bracket"])
def test_checking_again_finds_what_making_again_does(sample: str) -> None:
    """Other lengths and names at the same diameters: findings, case by case, are those of a report of its own."""
    path = SAMPLES / f"{sample}.toml"
    source = Source(path, profiles_for(path))
    job = source.job()
    tools = replace(job.tools, bit=replace(job.tools.bit, cutting_length=5.0, shank=30.0), pass_depth=1.0)
    other = replace(job, tools=replace(tools, bushing=replace(tools.bushing, stem=2.0)))
    again, anew = checked_again(report_on(job), other), report_on(other)
    assert again.findings == anew.findings
    assert again.as_json()["predicted_cut"] == anew.as_json()["predicted_cut"]
    assert [part.job for part in again.parts] == [part.job for part in anew.parts]


OWN_BITS = [(3, 6, 12), (6, 6, 25), (8, 8, 32), (9.48, 6.35, 32), (12, 12, 40), (16, 12, 20)]
OWN_BUSHINGS = [(9.525, 7.14, 4.76), (12.7, 10.32, 5), (17, 14, 8), (30, 26, 5)]


@pytest.mark.parametrize("sample", ["porch-door-hinge", "casement-stay", "tiller-rack", "leaf-tray", "gate-bench-rail"])
def test_what_arithmetic_refuses_a_check_stops(sample: str, here: Path) -> None:
    """Every pair that is refused unmade is stopped when it is made all the same."""
    text = "".join(
        f'[bits."b{d}"]\ndiameter = {d}\nshank = {s}\ncutting_length = {c}\n' for d, s, c in OWN_BITS
    ) + "".join(f'[bushings."g{d}"]\ndiameter = {d}\nbore = {b}\nstem = {s}\n' for d, b, s in OWN_BUSHINGS)
    (here / "t.toml").write_text('units = "mm"\n' + text, encoding="utf-8")
    path = SAMPLES / f"{sample}.toml"
    source = Source(path, profiles_for(path, tools=Path("t.toml")))
    job, own = source.job(), Profiles(tools=Path("t.toml"))
    held = [[found.entry for found in own.own(kind)] for kind in ("bits", "bushings")]
    bits = [one for one in held[0] if isinstance(one, Bit)]
    bushings = [one for one in held[1] if isinstance(one, Bushing)]
    refused = [one for one in candidates(job, bits, bushings) if one.stops]
    assert len(refused) >= 4
    assert [pair_of(one) for one in refused if not _stopped(source, one)] == []


def _stopped(source: Source, one: Candidate) -> bool:
    job: Job = source.job(pair_of(one))
    return report_on(job).stopped
