"""Choosing the pair: order, reasons, what is impossible and why, what is near; the same as geometry finds."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jigtemplates import opening, practice
from jigtemplates.checks import Level
from jigtemplates.match import Match, Wanted, match
from jigtemplates.match.near import nearest, suited
from jigtemplates.match.text import nearest_line, tenon_lines
from jigtemplates.parameters.entries import Bit, Bushing

SLOT = Wanted(10.0, 50.0, 20.0)


def bit(diameter: float, **known: Any) -> Bit:
    return Bit.model_validate({"diameter": diameter, **known}, context={"unit": "mm"})


def bushing(diameter: float, **known: Any) -> Bushing:
    return Bushing.model_validate({"diameter": diameter, **known}, context={"unit": "mm"})


def only(wanted: Wanted, a: Bit, b: Bushing, **more: Any) -> Match:
    """The one match of one pair."""
    found = match(wanted, [a], [b], **{"plate_thickness": 6.0, **more})
    assert len(found) == 1
    return found[0]


def sizes(found: tuple[Match, ...]) -> list[tuple[float, float]]:
    return [(one.bit.diameter.mm, one.bushing.diameter.mm) for one in found]


def test_json_has_the_agreed_keys_and_numbers() -> None:
    """13 mm over 9.5 mm for 10 x 50: the opening is 3.5 larger, half a millimetre of side play, 5 passes for 20 mm."""
    pair = only(SLOT, bit(9.5, name="mine", cutting_length=25), bushing(13, bore=11.5, stem=5))
    assert pair.as_json() == {
        "bit": "mine",
        "bushing": "13 mm",
        "possible": True,
        "opening": {"width": 13.5, "length": 53.5, "corner_radius": 6.75},
        "predicted_cut": {"width": 10.0, "length": 50.0, "max_deviation": 0.0},
        "side_play": 0.5,
        "trapped": False,
        "passes": 5,
        "reasons": [
            "0.5 mm side play: go round the edge to make the width",
            "its cutting edges (25 mm) reach the depth",
            "2 mm between bit and bore: enough for the chips",
            "the stem (5 mm) suits the plate",
        ],
    }


def test_a_trapped_pair_says_what_comes_out() -> None:
    """A 10 mm bit for a 10 mm slot: one pass, and the cut is as wide as bit and clearance."""
    pair = only(SLOT, bit(10), bushing(14), clearance=0.1)
    assert pair.trapped
    assert pair.opening is not None
    assert (pair.opening.width, pair.opening.length) == pytest.approx((14.1, 54.0))
    assert pair.predicted is not None
    assert (pair.predicted.width, pair.predicted.max_deviation) == pytest.approx((10.1, 0.05))
    assert pair.reasons[:2] == (
        "trapped: one pass makes the width",
        "the cut comes out 10.1 mm wide, bit + running clearance",
    )


@pytest.mark.parametrize(
    ("wanted", "a", "b", "reason"),
    [
        (SLOT, bit(10.5), bushing(14), "the bit (10.5 mm) is wider than the cut (10 mm)"),
        (SLOT, bit(8), bushing(8), "the bushing (8 mm) is not wider than the bit (8 mm)"),
        (SLOT, bit(8), bushing(10, bore=8), "the bit (8 mm) does not pass the bushing's bore (8 mm)"),
        (
            SLOT,
            bit(8),
            bushing(10, bore=8.1),
            "only 0.1 mm between bit and bore: a bushing a little off centre touches the bit",
        ),
        (SLOT, bit(8), bushing(12, stem=6), "the stem (6 mm) reaches the work: plate and stand-off are 6 mm"),
        (
            SLOT,
            bit(8, cutting_length=19, shank=12),
            bushing(12),
            "the cutting edges (19 mm) are shorter than the cut is deep (20 mm) and the shank is thicker than the bit",
        ),
        (
            SLOT,
            bit(8, cutting_length=19),
            bushing(12),
            "the cutting edges (19 mm) are shorter than the cut is deep (20 mm) and the shank is not known",
        ),
        (
            SLOT,  # plunge 6 + 20, and 19.05 to hold
            bit(8, overall_length=45),
            bushing(12),
            "the whole bit (45 mm) is shorter than the plunge (26 mm) and the 3/4 in (19.05 mm) that the collet must "
            "hold",
        ),
        (
            SLOT,
            bit(8, shank=12, cutting_length=26),
            bushing(14, bore=12),
            "the shank (12 mm) does not pass the bore (12 mm), and the cutting edges (26 mm) are not longer than the "
            "plunge (26 mm)",
        ),
        (
            SLOT,
            bit(8, shank=12, cutting_length=30),
            bushing(14, bore=12, nut={"diameter": 30, "height": 4}),
            "the shank (12 mm) does not pass the bore (12 mm), and the cutting edges (30 mm) are not longer than the "
            "plunge and the nut (30 mm)",
        ),
        (
            SLOT,
            bit(8, overall_length=49, cutting_length=30),
            bushing(12),
            "the whole bit (49 mm) is shorter than its cutting edges (30 mm) and the 3/4 in (19.05 mm) that the collet "
            "must hold",
        ),
        (
            Wanted(10, 50, 20, 3),
            bit(8),
            bushing(12),
            "the corners (3 mm) are tighter than the bit's radius (4 mm)",
        ),
    ],
)
def test_an_impossible_pair_says_why(wanted: Wanted, a: Bit, b: Bushing, reason: str) -> None:
    """Each thing that forbids a pair is its only reason, with its numbers."""
    pair = only(wanted, a, b)
    assert (pair.possible, pair.reasons) == (False, (reason,))


@pytest.mark.parametrize(
    ("wanted", "a", "b"),
    [
        (SLOT, bit(10), bushing(14)),
        (SLOT, bit(8), bushing(10, bore=8.2)),
        (SLOT, bit(8), bushing(12, stem=5.9)),
        (SLOT, bit(8, cutting_length=20, shank=12), bushing(14, bore=13)),
        (SLOT, bit(8, cutting_length=19, shank=8), bushing(12)),
        (SLOT, bit(8, overall_length=45.05), bushing(12)),
        (SLOT, bit(8, shank=12, cutting_length=26.1), bushing(14, bore=12)),
        (Wanted(10, 50, 20, 4), bit(8), bushing(12)),
        (Wanted(10, 50, 20, 3.98), bit(8), bushing(12)),  # 0.008 mm short at the corner: nobody sees it
    ],
)
def test_a_pair_at_the_very_limit_is_possible(wanted: Wanted, a: Bit, b: Bushing) -> None:
    """The other side of every limit."""
    assert only(wanted, a, b).possible


def test_all_reasons_are_given_at_once() -> None:
    """A pair that fails thrice says so thrice."""
    assert len(only(SLOT, bit(11), bushing(11, bore=9, stem=7)).reasons) == 4


@pytest.mark.parametrize(
    ("a", "b", "remark"),
    [
        (bit(8), bushing(9.5), "the bushing is only 1.5 mm wider than the bit: measure its bore first"),
        (bit(8), bushing(12), "the bushing's bore is not known: measure it"),
        (
            bit(8),
            bushing(12, bore=9.5),
            "1.5 mm between bit and bore, less than 1/16 in: chips pack, take shallow passes",
        ),
        (bit(8), bushing(12, bore=10), "2 mm between bit and bore: enough for the chips"),
        (bit(8), bushing(14, bore=11.2), "3.2 mm between bit and bore: ample room for chips"),
        (bit(8), bushing(14), "the stem's length is not known: it must be under 6 mm"),
        (bit(8), bushing(14, stem=2), "only 2 mm of the stem meets the template's edge"),
        (bit(8), bushing(14), "the length of its cutting edges is not known: measure it"),
        (
            bit(8, cutting_length=15, shank=8),
            bushing(14),
            "the cut is deeper than its edges (15 mm): clear the chips often",
        ),
        (bit(8, plunging=False), bushing(14), "the bit does not plunge: drill a starting hole"),
    ],
)  # fmt: skip
def test_a_possible_pair_says_what_to_look_at(a: Bit, b: Bushing, remark: str) -> None:
    """Room for chips, stem, edges and plunging each have their sentence."""
    pair = only(SLOT, a, b)
    assert pair.possible
    assert remark in pair.reasons


def test_trapped_comes_before_everything() -> None:
    """A trapped pair without chip room still stands before one with room that must go round the edge."""
    found = match(SLOT, [bit(8), bit(10)], [bushing(11.5, bore=10.2), bushing(20, bore=17)], plate_thickness=6.0)
    assert sizes(found) == [(10, 20), (10, 11.5), (8, 20), (8, 11.5)]


def test_among_the_others_the_least_side_play_wins() -> None:
    """The widest bit that fits has the least side play, in whatever order they are given."""
    found = match(SLOT, [bit(6), bit(9), bit(8)], [bushing(14, bore=13)], plate_thickness=6.0)
    assert sizes(found) == [(9, 14), (8, 14), (6, 14)]


def test_chip_room_comes_before_stem_and_reach_and_these_before_the_plate() -> None:
    """Ample, enough, unknown, tight; then a known stem; then the smaller opening."""
    guides = [
        bushing(30, bore=20, stem=5),
        bushing(12, bore=9, stem=5),
        bushing(13),
        bushing(14, bore=11),
        bushing(20, bore=18),
        bushing(9),
        bushing(22, bore=18, stem=5),
    ]
    found = match(SLOT, [bit(8)], guides, plate_thickness=6.0)
    assert [b for _, b in sizes(found)] == [22, 30, 20, 14, 13, 12, 9]


def test_equals_stay_in_the_order_they_were_given() -> None:
    """The person's own tools come first in the profiles and stay first."""
    found = match(SLOT, [bit(8, name="own"), bit(8, name="shipped")], [bushing(14)], plate_thickness=None)
    assert [one.bit.name for one in found] == ["own", "shipped"]


def test_impossible_pairs_stand_last_and_the_nearest_first() -> None:
    """First what lacks one thing, then a bit that is a little too wide, then one that is far too wide."""
    found = match(SLOT, [bit(20), bit(11), bit(8)], [bushing(22, stem=7)], plate_thickness=6.0)
    assert [a for a, _ in sizes(found)] == [8, 11, 20]
    assert not any(one.possible for one in found)


def test_without_a_plate_or_depth_nothing_is_said_of_them() -> None:
    """What needs the plate's thickness or the depth is left out, not guessed."""
    pair = only(Wanted(10.0, 50.0), bit(8, cutting_length=5), bushing(14, bore=13, stem=50), plate_thickness=None)
    assert (pair.possible, pair.passes) == (True, None)
    assert pair.reasons == (
        "2 mm side play: go round the edge to make the width",
        "5 mm between bit and bore: ample room for chips",
    )


def test_a_length_equal_to_the_width_is_a_round() -> None:
    """With or without its length, a round has one diameter; a square has corners."""
    assert Wanted(40.0).is_round
    assert Wanted(40.0, 40.0).is_round
    assert not Wanted(40.0, 40.0, corner_radius=5.0).is_round
    pair = only(Wanted(40.0), bit(8), bushing(12))
    assert pair.opening is not None
    assert (pair.opening.width, pair.opening.length, pair.opening.corner_radius) == (44.0, 44.0, 22.0)


# Against the geometry -------------------------------------------------------------------------------------------


def tenths(least: int, most: int) -> st.SearchStrategy[float]:
    return st.integers(least, most).map(lambda n: n / 10)


@st.composite
def cuts(draw: st.DrawFn) -> Wanted:
    """Slots, rounds and rectangles of a few millimetres to a hand's breadth."""
    width = draw(tenths(50, 400))
    shape = draw(st.sampled_from(["slot", "round", "rectangle"]))
    if shape == "round":
        return Wanted(width, None, 20.0)
    length = draw(tenths(50, 900))
    if shape == "slot":
        return Wanted(width, max(width, length), 20.0)
    return Wanted(width, length, 20.0, draw(st.integers(0, 10)) / 20 * min(width, length))


@settings(max_examples=80, deadline=None)
@given(
    wanted=cuts(),
    cutter=tenths(30, 200),
    more=tenths(10, 150),
    clearance=st.sampled_from([0.0, 0.05, 0.1, 0.2]),
    near=st.sampled_from([None, 0.0, 0.03, 0.08]),
)
def test_the_sums_are_what_geometry_finds(
    job_with: Callable[..., Any], wanted: Wanted, cutter: float, more: float, clearance: float, near: float | None
) -> None:
    """Opening, predicted cut, deviation, side play, trapped and passes of any pair are those of its template."""
    from jigtemplates.report import report_on

    diameter = cutter if near is None else round(min(wanted.extents) - near, 3)  # bits that hardly fit, too
    assume(wanted.corner_radius is None or wanted.corner_radius > 0.3 or wanted.corner_radius == 0)
    pair = only(wanted, bit(diameter), bushing(round(diameter + more, 3)), clearance=clearance)
    width, length = wanted.extents
    cut: dict[str, Any] = {
        "shape": "rectangle",
        "width": width,
        "length": length,
        "corner_radius": wanted.corner_radius,
    }
    if wanted.corner_radius is None:
        cut = {"shape": "round", "diameter": width} if wanted.is_round else {"shape": "slot", **_sides(wanted)}
    tools = {"bit": diameter, "bushing": round(diameter + more, 3), "clearance": clearance}
    report = report_on(job_with(cut={**cut, "depth": 20}, tools=tools))
    said, found = report.as_json(), pair.as_json()
    for area, keys in (("opening", ("width", "length", "corner_radius")), ("predicted_cut", ("width", "length"))):
        if said[area] is None:
            assert found[area] is None
            return
        for key in keys:
            assert found[area][key] == pytest.approx(said[area][key], abs=2e-5), (area, key)
    made = found["predicted_cut"]["max_deviation"]
    assert made == pytest.approx(said["predicted_cut"]["max_deviation"], abs=0.006)  # seen at places 0.2 mm apart
    assert found["side_play"] == pytest.approx(said["side_play"], abs=2e-5)
    assert (found["trapped"], found["passes"]) == (said["trapped"], said["passes"])


def _sides(wanted: Wanted) -> dict[str, float]:
    return dict(zip(("width", "length"), wanted.extents, strict=True))


TOOL_STOPS = {
    "bit-wider-than-cut", "bushing-not-wider-than-bit", "bit-does-not-pass-bore", "stem-too-long", "shank-meets-work",
    "bit-too-short", "shank-too-short", "shank-meets-bushing",
}  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(
    diameter=st.sampled_from([6.0, 8.0, 10.0, 12.0]),
    shank=st.sampled_from([6.0, 8.0, 12.0]),
    edges=st.sampled_from([15.0, 20.0, 27.0]),
    overall=st.sampled_from([40.0, 50.0]),
    outside=st.sampled_from([8.0, 12.0, 17.0]),
    bore=st.sampled_from([7.0, 8.0, 10.0, 13.0]),
    stem=st.sampled_from([4.0, 6.0]),
    nut=st.sampled_from([None, {"diameter": 30.0, "height": 2.0}]),
)
def test_possible_means_that_a_check_of_the_job_stops_nothing(
    report_with: Callable[..., Any],
    diameter: float,
    shank: float,
    edges: float,
    overall: float,
    outside: float,
    bore: float,
    stem: float,
    nut: dict[str, float] | None,
) -> None:
    """A pair of known sizes is possible exactly where the job made of it has no stop for its tools."""
    assume(bore < outside)
    lengths = {"diameter": diameter, "shank": shank, "cutting_length": edges, "overall_length": overall}
    guide: dict[str, Any] = {"diameter": outside, "bore": bore, "stem": stem, **({"nut": nut} if nut else {})}
    report = report_with(cut={"depth": 20}, tools={"bit": lengths, "bushing": guide})
    stops = {finding.code for finding in report.findings if finding.level is Level.STOP}
    possible = only(SLOT, bit(**lengths), bushing(**guide)).possible
    assert possible == (not stops & TOOL_STOPS)


def test_the_slack_of_a_bit_that_just_fits_is_the_template_s() -> None:
    """Light commands and geometry take the same bit for fitting."""
    assert practice.FITS == opening.FITS


def test_a_corner_that_grows_both_ways_is_furthest_off_across_it() -> None:
    """A square of 20 with corners of 10 and a bit of 20: both sides grow 0.05, the corner 0.05 x 1.414."""
    pair = only(Wanted(20.0, 20.0, corner_radius=10.0), bit(20), bushing(24), clearance=0.1)
    assert pair.predicted is not None
    assert pair.predicted.max_deviation == pytest.approx(0.0707, abs=1e-4)


# What is near ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wanted", "cutter", "instead"),
    [
        (Wanted(6.0, 50.0, 20.0), bit(8), Wanted(8.1, 50.0, 20.0)),
        (Wanted(6.0), bit(8), Wanted(8.1)),
        (Wanted(10.0, 50.0, 20.0, 1.0), bit(8), Wanted(10.0, 50.0, 20.0, 4.0)),
        (Wanted(10.0, 50.0, 40.0), bit(8, shank=12, cutting_length=30), Wanted(10.0, 50.0, 30.0)),
        (Wanted(10.0, 50.0, 40.0), bit(8, overall_length=60), Wanted(10.0, 50.0, 34.95)),  # 60 - 19.05 - 6
    ],
)
def test_the_nearest_cut_changes_only_what_must_change(wanted: Wanted, cutter: Bit, instead: Wanted) -> None:
    """A wider cut, rounder corners or less depth, each by what the bit needs."""
    found = nearest(wanted, [cutter, bit(30)], [bushing(14, bore=13), bushing(40)], plate_thickness=6.0)
    assert found is not None
    assert found[0] == instead
    assert found[1].possible


def test_there_may_be_no_cut_near() -> None:
    """A bit that passes no bushing, and one too short to reach the work, make nothing."""
    assert nearest(SLOT, [bit(20)], [bushing(14)], plate_thickness=6.0) is None
    assert nearest(SLOT, [bit(8, overall_length=25)], [bushing(14)], plate_thickness=6.0) is None
    assert nearest_line(None) == "No cut near it can be made with these bits and bushings."


def test_tenons_suit_bits_that_run_in_a_bushing() -> None:
    """Bit + clearance - fit, nearest to the width first, each diameter once; 20 mm passes no bore here."""
    bits = [bit(6), bit(9.5, name="a"), bit(9.5, name="b"), bit(20), bit(11)]
    found = suited(bits, [bushing(14, bore=12)], width=10.0, clearance=0.15)
    assert [(one.bit, one.cut, one.thickness) for one in found] == [
        ("a", 9.65, 9.55),
        ("11 mm", 11.15, 11.05),
        ("6 mm", 6.15, 6.05),
    ]
    assert suited([bit(13)], [bushing(14)], width=10.0) == ()  # no bore leaves a wall of half a millimetre
    assert list(tenon_lines((), 0.1)) == []
