"""Loose-tenon stock: sizes from the predicted cut, strips at the saw, proportions worth a word."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.parameters.job import TenonChoice, Work
from jigtemplates.report import Report
from jigtemplates.tenon import TenonStock, stock_for, strip_for

CHOICE = TenonChoice(joints=8, fit=0.1, glue_room=2.0, mate_depth=28.0, edge="round", kerf=3.0, waste=20.0, strip=None)
WORK = Work(thickness=30.0, height=60.0, length=None, from_face=15.0, from_end=None)
RECTANGLE = {"shape": "rectangle", "width": 20, "length": 50, "corner_radius": 6, "depth": 28}
Reports = Callable[..., Report]


def stock(report: Report, choice: TenonChoice = CHOICE, work: Work | None = None) -> TenonStock:
    found = stock_for(report, choice, work)
    assert found is not None
    return found


def said(found: TenonStock) -> list[tuple[str, str, str]]:
    """Level, code and key of every finding."""
    return [(one.level.value, one.code, one.where) for one in found.findings()]


def test_a_tenon_is_as_large_as_the_mortise_less_its_fit_and_glue_room(report_with: Reports) -> None:
    """Mortise 10 x 50, 28 deep twice: 9.9 thick, 49.9 wide, 28 + 28 - 2 - 2 = 52 long, edges r 4.95."""
    found = stock(report_with())
    assert (found.thickness, found.width, found.length, found.edge_radius) == (9.9, 49.9, 52.0, 4.95)
    assert found.pieces == 8


def test_the_predicted_mortise_counts_and_not_the_one_asked_for(report_with: Reports) -> None:
    """A 10 mm bit makes 10.1 mm of a 10 mm slot, so the tenon is 10 mm."""
    found = stock(report_with(tools={"bit": 10, "bushing": 14}))
    assert (found.thickness, found.width, found.edge_radius) == (10.0, 49.9, 5.0)


def test_square_edges_stay_out_of_round_ends(report_with: Reports) -> None:
    """50 long and 10 wide leaves 40 of straight sides."""
    found = stock(report_with(), replace(CHOICE, edge="square"))
    assert (found.width, found.edge_radius) == (40.0, 0.0)
    assert dict(found.facts())["edges"] == "square"
    assert "its round ends stay open" in dict(found.facts())["width"]


def test_square_edges_are_eased_as_a_rectangle_s_corners(report_with: Reports) -> None:
    """A rectangle 20 x 50 with corners of 6 mm: full width, edges r 6; the 9.525 mm bit alone would leave 4.7625."""
    found = stock(report_with(cut=RECTANGLE), replace(CHOICE, edge="square"))
    assert (found.thickness, found.width, found.edge_radius) == (19.9, 49.9, 6.0)
    tight = stock(report_with(cut={**RECTANGLE, "corner_radius": 0}), replace(CHOICE, edge="square"))
    assert tight.edge_radius == 4.7625


def test_a_round_takes_a_dowel(report_with: Reports) -> None:
    """A round of 20 mm: 19.9 mm either way, edges of half that."""
    found = stock(report_with(cut={"shape": "round", "diameter": 20, "depth": 28}))
    assert (found.thickness, found.width, found.edge_radius) == (19.9, 19.9, 9.95)


def test_the_shorter_side_is_the_thickness(report_with: Reports) -> None:
    """A rectangle wider than long still has a tenon as thick as its shorter side."""
    found = stock(report_with(cut={**RECTANGLE, "width": 50, "length": 20}))
    assert (found.thickness, found.width) == (19.9, 49.9)
    assert found.mortise.extents == pytest.approx((50.0, 20.0))


def test_a_job_without_an_opening_has_no_tenon(report_with: Reports) -> None:
    """A bit wider than the cut makes no mortise."""
    assert stock_for(report_with(tools={"bit": 11, "bushing": 14}), CHOICE) is None


def test_one_strip_holds_all_pieces_where_none_is_too_long(report_with: Reports) -> None:
    """8 x 52 + 9 saw cuts of 3 + 2 x 20 waste = 483 mm."""
    found = stock(report_with())
    assert (found.per_strip, found.strips, found.strip_length, found.total_length) == (8, 1, 483.0, 483.0)
    assert dict(found.facts())["strips"].startswith("1 of 483 mm = 19.016 in, saw cuts of 3 mm and 20 mm waste")


def test_a_longest_strip_makes_several(report_with: Reports) -> None:
    """In 300 mm: (300 - 40 - 3) / 55 = 4.67, so 4 pieces in 40 + 208 + 15 = 263 mm; 9 joints take 4 + 4 + 1.

    The last strip is 40 + 52 + 6 = 98 mm: 263 + 263 + 98 = 624 in all.
    """
    found = stock(report_with(), replace(CHOICE, joints=9, strip=300.0))
    assert (found.per_strip, found.strips, found.strip_length, found.total_length) == (4, 3, 263.0, 624.0)
    assert dict(found.facts())["strips"].startswith("3 of at most 263 mm = 10.354 in with 4 pieces each, 624 mm in all")


@pytest.mark.parametrize(("strip", "per_strip"), [(98.0, 1), (97.9, 0), (153.0, 2), (152.9, 1)])
def test_a_piece_fits_a_strip_to_the_last_saw_cut(report_with: Reports, strip: float, per_strip: int) -> None:
    """One piece takes 40 + 52 + 6 = 98 mm, two take 40 + 104 + 9 = 153 mm."""
    assert stock(report_with(), replace(CHOICE, strip=strip)).per_strip == per_strip


@settings(max_examples=60, deadline=None)
@given(joints=st.integers(1, 60), strip=st.integers(60, 1500), kerf=st.integers(0, 5), waste=st.integers(0, 40))
def test_no_strip_is_longer_than_said_and_none_could_be_saved(
    report_with: Reports, joints: int, strip: int, kerf: int, waste: int
) -> None:
    """Law: every strip fits, the strips hold all pieces, and one strip less would not."""
    choice = replace(CHOICE, joints=joints, strip=float(strip), kerf=float(kerf), waste=float(waste))
    found = stock(report_with(), choice)
    if not found.strips:
        assert strip_for(1, found.length, choice) > strip
        return
    assert found.strip_length <= strip + 1e-6
    assert (found.strips - 1) * found.per_strip < joints <= found.strips * found.per_strip
    assert found.per_strip == joints or strip_for(found.per_strip + 1, found.length, choice) > strip


def test_facts_give_both_units_and_the_sums(report_with: Reports) -> None:
    """Every figure with how it came about."""
    assert stock(report_with()).facts() == (
        ("thickness", "9.9 mm = 0.39 in (mortise 10 mm - fit 0.1 mm)"),
        ("width", "49.9 mm = 1.965 in (mortise 50 mm - fit 0.1 mm, round edges included)"),
        ("length", "52 mm = 2.047 in (28 mm + 28 mm deep, less 2 mm for glue in each)"),
        ("edges", "rounded, r 4.95 mm = 0.195 in"),
        ("pieces", "8"),
        ("strips", "1 of 483 mm = 19.016 in, saw cuts of 3 mm and 20 mm waste at each end included"),
        ("grain", "along the length of the tenon"),
    )


@pytest.mark.parametrize(
    "change", [{"fit": 10.0}, {"glue_room": 28.0}, {"mate_depth": 1.0, "glue_room": 14.5}]
)  # fmt: skip
def test_nothing_may_be_left_of_a_tenon(report_with: Reports, change: dict[str, float]) -> None:
    """Fit or glue room that eat the tenon up: one warning, and no sizes of less than nothing at the saw."""
    found = stock(report_with(), replace(CHOICE, **change), WORK)  # type: ignore[arg-type]
    assert said(found) == [("warning", "no-tenon", "tenon")]
    assert found.facts() == (("tenon", "none: nothing is left of it"),)


def test_square_edges_leave_no_dowel(report_with: Reports) -> None:
    """A round mortise has no straight part."""
    found = stock(
        report_with(cut={"shape": "round", "diameter": 20, "depth": 28}), replace(CHOICE, edge="square"), WORK
    )
    assert [one.message for one in found.findings()] == [
        "fit, glue room and edges leave a tenon of 19.9 mm x 0 mm x 52 mm, which is none: look at tenon.fit, "
        "tenon.glue_room, tenon.mate_depth and tenon.edge"
    ]


def test_sound_proportions_are_not_worth_a_word(report_with: Reports) -> None:
    """A third of 30 mm stock, five times as wide, five times as long, 10 mm of wood either side."""
    assert stock(report_with(cut={"length": 49}), CHOICE, WORK).findings() == ()


def test_a_strip_may_be_too_short(report_with: Reports) -> None:
    """40 of waste, 52 of tenon and two saw cuts."""
    (finding,) = stock(report_with(cut={"length": 49}), replace(CHOICE, strip=90.0)).findings()
    assert (finding.code, finding.message) == (
        "strip-too-short",
        "a strip of 90 mm gives no tenon 52 mm long: with waste and saw cuts that takes 98 mm; set tenon.strip or "
        "tenon.waste",
    )


@pytest.mark.parametrize(
    ("work", "expected"),
    [
        (replace(WORK, from_face=9.5), []),
        (replace(WORK, from_face=9.4), [("warning", "thin-wood", "work.from_face")]),
        (replace(WORK, from_face=5.0), [("warning", "mortise-breaks-through", "work.from_face")]),
        (replace(WORK, from_face=20.5), []),
        (replace(WORK, from_face=20.6), [("warning", "thin-wood", "work.from_face")]),
        (replace(WORK, height=32.5), []),
        (replace(WORK, height=32.4), [("warning", "thin-wood", "cut.depth")]),
        (replace(WORK, height=28.0), [("warning", "mortise-breaks-through", "cut.depth")]),
        (replace(WORK, from_end=29.0), []),
        (replace(WORK, from_end=28.9), [("warning", "thin-wood", "work.from_end")]),
        (replace(WORK, length=100.0, from_end=71.0), []),
        (replace(WORK, length=100.0, from_end=71.1), [("warning", "thin-wood", "work.from_end")]),
        (replace(WORK, thickness=24.75, from_face=12.4), []),
        (replace(WORK, thickness=24.7, from_face=12.4), [("note", "not-a-third", "cut.width")]),
        (replace(WORK, thickness=39.6, from_face=20.0), []),
        (replace(WORK, thickness=39.7, from_face=20.0), [("note", "not-a-third", "cut.width")]),
    ],
)
def test_each_wall_has_its_word(report_with: Reports, work: Work, expected: list[tuple[str, str, str]]) -> None:
    """Both sides of 4.5 mm at each face, and of a quarter and two fifths of the stock."""
    assert said(stock(report_with(cut={"length": 49}), CHOICE, work)) == expected


def test_sentences_of_the_walls(report_with: Reports) -> None:
    """What is left, where, and what to do."""
    found = stock(report_with(cut={"length": 49}), CHOICE, replace(WORK, from_face=9.0, height=20.0))
    assert [one.message for one in found.findings()] == [
        "only 4 mm of wood between the mortise and the reference face, where at least 4.5 mm is sensible: move it or "
        "make it smaller",
        "the mortise comes out at the far side, below the mortise: nothing is left of the wood there; move it or make "
        "it smaller",
    ]


def test_the_check_speaks_only_where_tenons_are_asked_for(said: Any) -> None:
    """A job without [tenon] has no word of them; one with it has its notes, in the key of the job."""
    assert said("wide-tenon", cut={"length": 120}) == []
    assert said("wide-tenon", cut={"length": 120}, tenon={"joints": 4}) == [
        (
            "note",
            "cut.length",
            "the tenon is 119.9 mm wide, more than 5 times its thickness (9.9 mm): two narrower tenons move less with "
            "the seasons",
        )
    ]
