"""The opening at a router table: fence, stops and pivots, and that they cut what they should."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.byhand import ByHand, FenceCut, by_hand
from jigtemplates.byhand.fence import fence_cuts, fence_table, is_plain
from jigtemplates.geometry.outline import BulgeVertex, Outline, Region
from jigtemplates.parameters.entries import Bit
from jigtemplates.report import Report

Reports = Callable[..., Report]

#: A bushing 4 mm wider than its bit: an opening of 14 x 54 mm for the cut of 10 x 50.
TOOLS = {"bit": 8, "bushing": 12}
PLATE = {"width": 140, "height": 100, "screws": None}


def bit(diameter: float, **known: Any) -> Bit:
    return Bit.model_validate({"diameter": diameter, **known}, context={"unit": "mm"})


def slot(report_with: Reports, *bits: Bit, **tables: Any) -> ByHand:
    """The slot 14 x 54 in the middle of a plate of 140 x 100, unless told otherwise."""
    return by_hand(report_with(**{"tools": TOOLS, "plate": PLATE, **tables}), bits)


def runs(made: ByHand) -> list[tuple[Any, ...]]:
    return [(c.edge, round(c.fence, 3), round(c.left_stop, 3), round(c.right_stop, 3)) for c in made.fence]


# Fence and stops -----------------------------------------------------------------------------------------------------


def test_a_bit_as_wide_as_the_opening_takes_one_setting(report_with: Reports) -> None:
    """The opening lies from 43 to 57; its ends' middles at 50 and 90, so stops at 90 - 7 and 140 - 50 - 7."""
    made = slot(report_with, bit(14))
    assert runs(made) == [("lower", 43.0, 83.0, 83.0)]
    assert (made.fence[0].settings, made.fence[0].shift) == (1, 0.0)
    assert made.tables()[1].rows == (("14 mm", "lower", "43 mm", "83 mm", "83 mm", "right to left", "one setting"),)


def test_a_narrower_bit_uses_both_edges_or_shifts_the_fence(report_with: Reports) -> None:
    """10 mm in 14: near sides at 43 from either edge, or the same edge and 4 mm further; stops at 90 - 5."""
    made = slot(report_with, bit(10))
    assert runs(made) == [("lower", 43.0, 85.0, 85.0), ("upper", 43.0, 85.0, 85.0)]
    assert [(c.settings, c.shift) for c in made.fence] == [(2, 4.0), (2, 4.0)]
    assert [row[-1] for row in made.tables()[1].rows] == [
        "or same edge, fence 4 mm further",
        "the plate turned by 180°",
    ]
    assert made.tables()[1].notes[2].startswith("The opening is in the middle: one fence setting (43 mm) does both")


def test_an_opening_off_the_middle_has_other_distances(report_with: Reports) -> None:
    """Middle at (60, 40): below 40 - 7 = 33, above 100 - 47 = 53; ends at 40 and 80: 80 - 5 and 140 - 40 - 5.

    With the lower edge away from oneself the plate's left end is on the right; turned round, they change places.
    """
    made = slot(report_with, bit(10), cut={"x": 60, "y": 40})
    assert runs(made) == [("lower", 33.0, 95.0, 75.0), ("upper", 53.0, 75.0, 95.0)]
    assert not any("in the middle" in note for note in made.tables()[1].notes)


def test_an_upright_slot_runs_along_the_sides(report_with: Reports) -> None:
    """Turned by 90 degrees, middle at (60, 50): right edge 140 - 67 = 73, left 53; ends at 30 and 70 in y."""
    made = slot(report_with, bit(10), cut={"angle": 90, "x": 60})
    # right edge away: the plate's lower end is on the right, so 100 - 30 - 5 and 70 - 5
    assert runs(made) == [("right", 73.0, 65.0, 65.0), ("left", 53.0, 65.0, 65.0)]


def test_a_rectangle_has_four_sides(report_with: Reports) -> None:
    """An opening 24 x 54 with corners of 7: 12 mm fits its corners, 15 mm does not."""
    cut = {"shape": "rectangle", "width": 20, "length": 50, "corner_radius": 5, "depth": 10}
    made = slot(report_with, bit(12), bit(15), cut=cut)
    # sides at y 38 and 62, x 43 and 97; corners' middles at x 50 and 90, y 45 and 55
    assert runs(made) == [
        ("lower", 38.0, 84.0, 84.0),
        ("upper", 38.0, 84.0, 84.0),
        ("right", 43.0, 49.0, 49.0),
        ("left", 43.0, 49.0, 49.0),
    ]
    assert [c.settings for c in made.fence] == [2, 2, 5, 5]
    assert made.tables()[1].rows[2][-1] == "or same edge, fence 42 mm further; 3 settings between, or saw out the waste"


@pytest.mark.parametrize(
    ("diameter", "settings"), [(14.05, 1), (13.95, 1), (13.94, 2), (7.0, 2), (6.97, 3), (4.7, 3), (4.6, 4)]
)
def test_how_many_settings_a_bit_takes(report_with: Reports, diameter: float, settings: int) -> None:
    """14 mm by the bit's width, to what a fence can be set to."""
    assert slot(report_with, bit(diameter)).fence[0].settings == settings


def test_a_bit_wider_than_the_opening_is_no_help(report_with: Reports) -> None:
    """14.06 mm in an opening of 14: none of the bits."""
    made = slot(report_with, bit(14.06))
    assert made.fence == ()
    assert made.tables()[1].notes == (
        "None of the bits makes this opening: all are wider than it, or than its corners are round.",
    )


def test_a_turned_opening_has_no_fence(report_with: Reports) -> None:
    """At 30 degrees no side runs along an edge; at 180 it does again."""
    made = slot(report_with, bit(10), cut={"angle": 30})
    assert made.fence == ()
    assert made.tables()[1].notes == (
        "The cut is turned in the plate, so its sides run along no edge: not possible with a fence.",
    )
    assert len(slot(report_with, bit(10), cut={"angle": 180}).fence) == 2


def test_only_straight_sides_with_equal_corners_run_along_a_fence(report_with: Reports) -> None:
    """A slot and a rectangle do; a lens, unequal corners and two openings do not, and the table says so."""
    lens = Outline.from_bulges([BulgeVertex(-15, 0, 1 / 3), BulgeVertex(15, 0, 1 / 3)])
    corners = [(0, 5, 0.41421356), (5, 0, 0), (30, 0, 0), (30, 20, 0), (0, 20, 0)]  # one of four is round
    uneven = Outline.from_bulges([BulgeVertex(*corner) for corner in corners])
    made = slot(report_with, bit(10))
    assert is_plain(made.template.opening)
    assert not is_plain((Region(lens),))
    assert not is_plain((Region(uneven),))
    assert not is_plain(made.template.opening * 2)
    odd = replace(made.template, opening=(Region(lens.moved(70, 50)),))
    assert fence_cuts(odd, [bit(4)]) == ()
    assert fence_table(odd, (), False).notes == (
        "This opening has other sides than straight ones along the plate's edges, or unequal corners: saw and file it.",
    )


def test_the_widest_four_bits_are_told_each_size_once(report_with: Reports) -> None:
    """Narrower ones take more settings; a second bit of the same size says nothing new."""
    made = slot(report_with, *[bit(d) for d in (6, 8, 8, 9, 10, 11, 12)])
    assert [c.diameter for c in made.fence[::2]] == [12, 11, 10, 9]


def test_a_bit_shorter_than_the_plate_is_thick_says_so(report_with: Reports) -> None:
    """6 mm of plate: edges of 5 mm do not go through, 6 do."""
    made = slot(report_with, bit(14, cutting_length=5))
    assert made.tables()[1].rows[0][-1] == "one setting; cuts only 5 mm deep"
    assert fence_table(made.template, made.fence, True).rows[0][-1] == "one setting; cuts only 0.197 in ≈ 13/64 deep"
    assert slot(report_with, bit(14, cutting_length=6)).fence[0].too_short is None


def place(cut: FenceCut, along: float, width: float, height: float) -> tuple[float, float]:
    """Where the bit's axis is on the plate, that far from the end of the plate that is on one's right."""
    off = cut.fence + cut.diameter / 2
    return {
        "lower": (along, off),
        "upper": (width - along, height - off),
        "left": (off, height - along),
        "right": (width - off, along),
    }[cut.edge]


def swept(made: ByHand) -> Iterator[Any]:
    """What each run cuts away: the plate pushed from one stop to the other."""
    plate = made.template.job.plate
    for cut in made.fence:
        span = plate.width if cut.edge in ("lower", "upper") else plate.height
        ends = (span - cut.left_stop - cut.diameter / 2, cut.right_stop + cut.diameter / 2)
        path = shapely.LineString([place(cut, along, plate.width, plate.height) for along in ends])
        yield path.buffer(cut.diameter / 2, quad_segs=64)


@settings(max_examples=60, deadline=None)
@given(
    angle=st.sampled_from([0, 90, 180, 270]),
    x=st.integers(50, 90),
    y=st.integers(40, 60),
    length=st.integers(20, 50),
    diameter=st.integers(40, 140).map(lambda n: n / 10),
    corners=st.sampled_from([None, 4, 6]),
)
def test_what_fence_and_stops_cut_is_inside_the_opening_and_reaches_its_sides(
    report_with: Reports, angle: int, x: int, y: int, length: int, diameter: float, corners: int | None
) -> None:
    """Law: pushed from stop to stop, the bit stays within the opening and cuts its straight sides as they should be."""
    cut: dict[str, Any] = {"angle": angle, "x": x, "y": y, "length": length}
    if corners:
        cut = {**cut, "shape": "rectangle", "width": 16, "corner_radius": corners, "depth": 10}
    made = slot(report_with, bit(diameter), cut=cut)
    opening = shapely.Polygon(np.array(made.template.opening[0].outer.flattened(1e-4)))
    reach = 0.03 + 1e-3  # a bit a little wider than the opening is told to be as wide
    if not made.fence:
        assert diameter > 2 * made.template.opening_size.corner_radius + 0.05  # type: ignore[union-attr]
        return
    covered = shapely.union_all(list(swept(made)))
    assert opening.buffer(reach).covers(covered)
    for line in (s for s in made.template.opening[0].outer.segments if s.length and not hasattr(s, "radius")):
        assert covered.distance(shapely.Point(*line.middle)) < reach + 0.03


# Pivots --------------------------------------------------------------------------------------------------------------

ROUND = {"shape": "round", "diameter": 40, "depth": 10}  # an opening of 44 mm


def test_a_round_opening_turns_about_a_pin(report_with: Reports) -> None:
    """44 mm with a 10 mm bit: its axis 17 mm from the pin, its near side 12 mm."""
    made = slot(report_with, bit(10, cutting_length=5), cut=ROUND)
    assert made.fence == ()
    assert [(p.bit, round(p.radius, 6), round(p.near_side, 6)) for p in made.pivots] == [("10 mm", 17.0, 12.0)]
    table = made.tables()[1]
    assert table.rows == (("10 mm", "17 mm", "12 mm", "turn the plate about the pin; cuts only 5 mm deep"),)
    assert table.notes[0].startswith("Or bore it: a hole saw, Forstner bit or drill of 44 mm")
    assert len(table.notes) == 3


@pytest.mark.parametrize(("diameter", "count"), [(44.05, 1), (44.06, 0), (43.95, 1), (43.9, 0), (22, 0), (21.9, 1)])
def test_a_pin_needs_wood_round_it(report_with: Reports, diameter: float, count: int) -> None:
    """A bit of half the opening or more would cut away the middle; one as wide as the opening needs no pin."""
    assert len(slot(report_with, bit(diameter), cut=ROUND).pivots) == count


def test_a_bit_as_wide_as_a_round_opening_plunges(report_with: Reports) -> None:
    """No pin, no radius, and nothing comes loose."""
    table = slot(report_with, bit(44), cut=ROUND).tables()[1]
    assert table.rows == (("44 mm", "-", "-", "as wide as the opening: plunge"),)
    assert len(table.notes) == 1


def test_a_turned_round_is_still_a_round(report_with: Reports) -> None:
    """Turning a circle changes nothing."""
    assert len(slot(report_with, bit(10), cut={**ROUND, "diameter": 30}).pivots) == 1


def test_where_the_wood_goes_is_against_the_rotation(report_with: Reports) -> None:
    """Seen from above a table's bit turns counter-clockwise: only a run that widens on the fence's side goes right."""
    assert slot(report_with, bit(10)).tables()[1].notes[-1] == (
        "Feed as the row says, against the bit's rotation, a few millimetres deep at a time: from right to left in a "
        "full-width run and in one that widens on your side; from left to right, well pressed to the fence, in one "
        "that widens on the fence's side. Push blocks, hands clear of the bit."
    )


@pytest.mark.parametrize(
    ("diameter", "feeds"),
    [
        (14, ["right to left"]),  # one full-width run
        (10, ["right to left", "left to right"]),  # 4 mm are left, on the fence's side once the plate is turned round
        (6, ["right to left", "right to left"]),  # 2 mm stand between the two runs: both are full width
    ],
)
def test_every_row_says_which_way_to_feed(report_with: Reports, diameter: float, feeds: list[str]) -> None:
    """A bit that turns counter-clockwise runs left at the fence's side, right at yours: the wood goes against it."""
    table = slot(report_with, bit(diameter)).tables()[1]
    column = table.header.index("feed")
    assert [row[column] for row in table.rows] == feeds


def test_a_plate_on_a_pin_turns_clockwise(report_with: Reports) -> None:
    """At (1, 0) from the pin the outer side of a counter-clockwise bit runs (0, 1): the wood is to run (0, -1)."""
    outwards, turns = (1.0, 0.0), 1.0  # counter-clockwise: the velocity at r is (-y, x)
    edges = (-turns * outwards[1], turns * outwards[0])
    wood = (-edges[0], -edges[1])
    clockwise = outwards[0] * wood[1] - outwards[1] * wood[0] < 0
    assert clockwise
    note = slot(report_with, bit(10), cut=ROUND).tables()[1].notes[1]
    assert note.startswith("Turn the plate clockwise, seen from above: a table's bit turns the other way")
    assert note.endswith("Keep both hands on top of the plate and clear of the bit: it may come through.")


def test_a_round_plate_has_no_edge_for_a_fence(report_with: Reports) -> None:
    """Of a round plate no distance from a fence is told, and its places are measured from the square round it."""
    made = slot(report_with, plate={"width": 140, "height": 140, "corner_radius": 70, "screws": None})
    assert made.fence == ()
    drilling, fence, _ = made.tables()
    assert drilling.notes[0] == (
        "x and y from the datum corner, the lower-left one of the square round the plate, seen from above."
    )
    assert (fence.rows, fence.notes) == (
        (),
        (
            "The plate is round and has no edge that runs along a fence: rout the opening while the blank is still "
            "square, or saw and file it.",
        ),
    )
