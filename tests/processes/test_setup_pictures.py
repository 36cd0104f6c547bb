"""Section and plan of the set-up sheet: scales, what is drawn where, what is dashed, what is left out."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point
from jigtemplates.processes.paper_page import Ink, box_of
from jigtemplates.processes.setup_draw import (
    BIT,
    BRASS,
    CUT,
    DASHED,
    GREEN,
    METAL,
    PLATE,
    PURPLE,
    VERMILLION,
    WORK,
    Picture,
)
from jigtemplates.processes.setup_ends import far_apart
from jigtemplates.processes.setup_plan import key_of, plan, plan_height, plan_scale, view
from jigtemplates.processes.setup_ray import in_plate, to_edge
from jigtemplates.processes.setup_section import draw, section
from jigtemplates.processes.setup_stack import Layout, Stack, layout, section_height
from jigtemplates.processes.setup_stops import stops
from jigtemplates.report import Report

ReportOn = Callable[..., Report]
CELL = Bounds(10.0, 100.0, 110.0, 210.0)
WIDE = {"shape": "rectangle", "width": 60, "length": 80, "corner_radius": 10, "depth": 12}


def filled(picture: Picture, colour: str) -> list[Bounds]:
    """Boxes of the areas of one colour."""
    return [box_of(ink.shape) for ink in picture.inks if ink.fill == colour]


def words(picture: Picture) -> list[str]:
    """All texts."""
    return [text.string for text in picture.texts]


def drawn_section(report: Report, cell: Bounds = CELL) -> Picture:
    """The section without inches."""
    return section(report, cell, inches=False)


def drawn_plan(report: Report, cell: Bounds = CELL, scale: float = 0.5) -> Picture:
    """The plan without inches."""
    return plan(report, cell, scale, inches=False)


def parts(picture: Picture, colour: str, least: float = 1.0) -> list[Bounds]:
    """Boxes of larger areas of one colour: patches under words are lower than that many mm²."""
    return [b for b in filled(picture, colour) if b.width * b.height > least]


# The section ------------------------------------------------------------------------------------------------------


def test_the_section_is_to_scale(sheet_report: ReportOn) -> None:
    """At 1:1 the plate is 6 mm thick, the bit 9.525 mm wide, and the end of the bit 34 mm below the plate's face."""
    made = drawn_section(sheet_report())
    assert made.scale == 1.0
    left, right = [b for b in parts(made, PLATE) if b.height > 5.5]
    assert left.height == pytest.approx(6.0)
    assert right.left - left.right == pytest.approx(13.175)
    bit = min(parts(made, BIT), key=lambda b: b.bottom)
    assert bit.width == pytest.approx(9.525)
    assert left.top - bit.bottom == pytest.approx(34.0)


def test_the_bushing_stands_against_the_left_edge(sheet_report: ReportOn) -> None:
    """Its stem is 12.7 mm wide in all, 5.5 mm long below the base, and touches the opening on the left."""
    made = drawn_section(sheet_report())
    plates = [b for b in parts(made, PLATE) if b.height > 5.5]
    stems = [b for b in parts(made, BRASS) if b.bottom < plates[0].top - 1.0]
    assert len(stems) == 2
    assert stems[0].left == pytest.approx(plates[0].right)
    assert stems[1].right - stems[0].left == pytest.approx(12.7)
    assert stems[0].right - stems[0].left == pytest.approx((12.7 - 10.31875) / 2)
    assert plates[0].top - stems[0].bottom == pytest.approx(5.5)


def test_the_gap(sheet_report: ReportOn) -> None:
    """A stand-off of 3 mm lies between plate and work, and has its dimension."""
    made = drawn_section(sheet_report(plate={"stand_off": 3}))
    plates = [b for b in parts(made, PLATE) if b.height > 5.5]
    work = max(parts(made, WORK), key=lambda b: b.width)
    assert plates[0].bottom - work.top == pytest.approx(3.0)
    assert "stand-off" in words(made)
    assert "stand-off" not in words(drawn_section(sheet_report()))


@pytest.mark.parametrize(
    ("tools", "said"),
    [
        ({"bushing": {"diameter": "1/2 in", "stem": 5}}, "bore not known: measure"),
        ({"bushing": {"diameter": 14, "bore": 12}}, "not known:"),
    ],
)
def test_what_is_not_known_is_dashed(sheet_report: ReportOn, tools: dict[str, Any], said: str) -> None:
    """An unknown bore or stem is drawn in dashes and asks to be measured."""
    report = sheet_report(tools=tools)
    bushing = report.job.tools.bushing
    assert None in (bushing.bore, bushing.stem) or bushing.assumed
    known = drawn_section(sheet_report(tools={"bushing": {"diameter": 14, "bore": 12, "stem": 5}}))
    assert said not in words(known)
    if None in (bushing.bore, bushing.stem):
        made = drawn_section(report)
        assert said in words(made)
        assert _dashes(made) > _dashes(known)


def _dashes(picture: Picture) -> int:
    return sum(ink.dash == DASHED for ink in picture.inks)


def test_a_known_nut_is_drawn_whole(sheet_report: ReportOn) -> None:
    """A nut of 28 x 9 mm: its two halves end 14 mm from the axis and 9 mm above the face of the base."""
    bushing = {"diameter": "1/2 in", "bore": 10.4, "stem": 5, "nut": {"diameter": 28, "height": 9}}
    made = drawn_section(sheet_report(tools={"bushing": bushing}))
    face = max(b.top for b in parts(made, PLATE) if b.height > 5.5)
    nuts = [b for b in parts(made, BRASS) if b.bottom > face + 1.0]
    assert len(nuts) == 2
    assert nuts[1].right - nuts[0].left == pytest.approx(28.0)
    assert nuts[0].top - face == pytest.approx(9.0)


def test_a_known_shank(sheet_report: ReportOn) -> None:
    """Above cutting edges of 30 mm the shank is 8 mm wide and drawn in full; of an unknown one in dashes."""
    bit = {"diameter": 10, "shank": 8, "cutting_length": 30}
    made = drawn_section(sheet_report(tools={"bit": bit, "bushing": {"diameter": 14, "bore": 12, "stem": 5}}))
    shank, edges = sorted(parts(made, BIT), key=lambda b: -b.bottom)
    assert (shank.width, edges.width) == pytest.approx((8.0, 10.0))
    assert edges.height == pytest.approx(30.0)


def test_edges_that_reach_above_the_base(sheet_report: ReportOn) -> None:
    """Cutting edges longer than what is shown: no shank is drawn."""
    bit = {"diameter": 10, "cutting_length": 70}
    made = drawn_section(sheet_report(tools={"bit": bit, "bushing": {"diameter": 14, "bore": 12, "stem": 5}}))
    assert len(parts(made, BIT)) == 1


def test_the_work_in_the_section(sheet_report: ReportOn) -> None:
    """Stock of 34 x 31 mm: its own edges are drawn, 17 mm from the middle, with a fence at the reference face."""
    report = sheet_report(work={"thickness": 34, "height": 31})
    made = drawn_section(report)
    work = max(parts(made, WORK), key=lambda b: b.width)
    assert (work.width, work.height) == pytest.approx((34.0, 31.0))
    (fence,) = filled(made, "#F3DEEA")
    assert fence.right == pytest.approx(work.left - 0.25)
    assert "fence" in words(made)


def test_the_fence_at_a_gain(sheet_report: ReportOn) -> None:
    """Of stock of 35 mm a gain 25 mm wide leaves 10 on the left; the fence stands on the right, below the bit."""
    cut = {"shape": "hinge", "width": 25, "length": 80, "corner_radius": 5, "depth": 3}
    report = sheet_report(cut=cut, work={"thickness": 35})
    made = drawn_section(report)
    work, (fence,) = parts(made, WORK)[0], filled(made, "#F3DEEA")
    scale = layout(Stack(report), CELL.width, CELL.height).scale
    bit = max(filled(made, BIT), key=lambda area: area.height)
    assert bit.left - work.left == pytest.approx(10 * scale, abs=0.01)
    assert fence.left == pytest.approx(work.right + 0.25)
    assert fence.top < min(area.bottom for area in filled(made, BIT)) - 0.5
    assert filled(drawn_section(sheet_report(cut=cut)), "#F3DEEA") == []


def test_a_low_fence_has_no_word_on_it(sheet_report: ReportOn) -> None:
    """Where only a little of the work is shown, the fence stands without its name."""
    made = drawn_section(sheet_report(cut={"depth": 1.5}, work={"thickness": 20, "height": 60}))
    assert len(filled(made, "#F3DEEA")) == 1
    assert "fence" not in words(made)


def test_wide_stock_goes_on(sheet_report: ReportOn) -> None:
    """Stock wider than what is shown has no edges and no fence in the section."""
    made = drawn_section(sheet_report(work={"thickness": 300, "height": 60}))
    assert filled(made, "#F3DEEA") == []


def test_a_small_base_ends(sheet_report: ReportOn) -> None:
    """Without a router the base goes on; a base hole as wide as what is shown leaves no base in it."""
    assert len(parts(drawn_section(sheet_report()), METAL)) >= 2
    report = sheet_report(tools={"router": "generic large plunge, flat side"})  # a hole of 50 mm
    stack = Stack(report)
    assert stack.hole(1.0) == 25.0
    assert stack.base_radius() == 72.5
    assert Stack(sheet_report()).base_radius() == math.inf


def test_a_hole_wider_than_the_picture(sheet_report: ReportOn) -> None:
    """Drawn at a scale at which base and hole are wider than the cell, no sliver of base is drawn."""
    report = sheet_report(tools={"router": "generic large plunge, flat side"})
    stack = Stack(report)
    how = layout(stack, 100.0, 130.0)
    assert how.scale == 0.5
    made = draw(stack, Layout(2.0, 0.0, 0.0), CELL, inches=False)
    assert parts(made, METAL) == []


@pytest.mark.parametrize(
    ("depth", "height", "scale"),
    [(10, 130.0, 2.0), (28, 130.0, 2.0), (28, 100.0, 1.0), (60, 130.0, 1.0), (60, 90.0, 0.5), (400, 130.0, 1 / 6)],
)
def test_the_scale_is_the_largest_that_fits(sheet_report: ReportOn, depth: int, height: float, scale: float) -> None:
    """Deeper cuts and lower cells take smaller scales, each a round one."""
    stack = Stack(sheet_report(cut={"depth": depth}, tools={"pass_depth": 5}))
    assert layout(stack, 100.0, height).scale == pytest.approx(scale)
    assert section_height(stack, scale) <= height


def test_a_wide_opening_is_interrupted(sheet_report: ReportOn) -> None:
    """A recess of 60 mm at 1:1: what is left out is said, the rest is true, and the dimension is the whole."""
    report = sheet_report(cut=WIDE, tools={"bit": 12, "bushing": {"diameter": 20, "bore": 16, "stem": 5}})
    stack = Stack(report)
    how = layout(stack, 100.0, 130.0)
    assert how.scale == 1.0
    assert how.removed == pytest.approx(68.0 - 20.0 - 8.5)
    made = drawn_section(report)
    left, right = [b for b in parts(made, PLATE) if b.height > 5.5]
    assert right.left - left.right == pytest.approx(28.5)
    assert left.height == pytest.approx(6.0)
    assert "opening 68 mm" in words(made)
    assert any("opening shortened" in said for said in words(made))
    assert not any("opening shortened" in said for said in words(drawn_section(sheet_report())))


def test_a_section_that_fits_nowhere(sheet_report: ReportOn) -> None:
    """In a cell of no size the smallest scale is taken, nothing is raised."""
    assert layout(Stack(sheet_report()), 0.0, 0.0).scale == pytest.approx(0.01)


def test_inches_in_the_section(sheet_report: ReportOn) -> None:
    """In a job in inches every dimension is in inches and has its millimetres beside it; the plunge is 1-1/4 in."""
    report = sheet_report(
        units="in",
        cut={"shape": "slot", "width": "1/2 in", "length": "2 in", "depth": "1 in"},
        tools={"bit": "3/8 in", "bushing": {"diameter": "5/8 in", "bore": "1/2 in", "stem": "3/16 in"}},
        plate={"width": 6, "height": 6, "thickness": "1/4 in"},
    )
    said = words(section(report, CELL, inches=True))
    for pair in (("opening 3/4 in", "19.05 mm"), ("bushing 5/8 in", "15.875 mm"), ("bit 3/8 in", "9.525 mm")):
        assert set(pair) <= set(said)
    assert {"6.35 mm", "1/4 in", "25.4 mm", "1 in", "4.76 mm", "3/16 in"} <= set(said)
    assert "plunge 1-1/4 in" in said


def test_millimetres_are_left_out_where_there_is_no_room(sheet_report: ReportOn) -> None:
    """Three parts in a few millimetres of height keep their inches alone."""
    report = sheet_report(cut={"depth": 1.5}, plate={"thickness": 6, "stand_off": 1})
    said = words(draw(Stack(report), Layout(0.1, 0.0, 0.0), CELL, inches=True))
    assert "0.236 in" in said
    assert "6 mm" not in said


# The plan -----------------------------------------------------------------------------------------------------------


def test_the_plan_is_to_scale(sheet_report: ReportOn) -> None:
    """At 1:2 the plate is 70 mm wide, and its dimensions say 140."""
    made = drawn_plan(sheet_report())
    assert filled(made, PLATE)[0].width == pytest.approx(70.0)
    assert words(made).count("140 mm") == 2
    assert words(made).count("70 mm") == 2
    assert "scale 1:2" in words(made)


@pytest.mark.parametrize(
    ("side", "scale"), [(30, 2.0), (70, 1.0), (140, 0.5), (180, 0.4), (400, 1 / 5), (1500, 1 / 20)]
)
def test_scale_of_the_plan(sheet_report: ReportOn, side: int, scale: float) -> None:
    """The largest scale at which the plate has room in a cell of 100 x 130 mm."""
    cut = {"shape": "round", "diameter": 12, "depth": 5}
    report = sheet_report(cut=cut, plate={"width": side, "height": side})
    assert plan_scale(report, 100.0, 130.0) == pytest.approx(scale)
    assert plan_height(report, scale) <= 130.0


def test_a_plan_that_fits_nowhere(sheet_report: ReportOn) -> None:
    """In a cell of no size the smallest scale is taken, nothing is raised."""
    assert plan_scale(sheet_report(), 0.0, 0.0) == pytest.approx(0.01)


@pytest.mark.parametrize(
    ("cut", "ends"),
    [
        # slot: half of 53.175 less 6.35 from the middle
        ({"shape": "slot", "width": 10, "length": 50, "depth": 9}, [(-20.2375, 0), (20.2375, 0)]),
        ({"shape": "round", "diameter": 30, "depth": 9}, [(-10.2375, 0), (10.2375, 0)]),
        # square corners: the bushing fits right into the corner
        (
            {"shape": "rectangle", "width": 20, "length": 40, "corner_radius": 0, "depth": 9},
            [(-15.2375, -5.2375), (15.2375, 5.2375)],
        ),
        # wider than long
        (
            {"shape": "rectangle", "width": 40, "length": 20, "corner_radius": 0, "depth": 9},
            [(-5.2375, -15.2375), (5.2375, 15.2375)],
        ),
    ],
)
def test_where_the_bushing_ends(sheet_report: ReportOn, cut: dict[str, Any], ends: list[tuple[float, float]]) -> None:
    """The bushing stands at both ends of a slot, across a round, and in opposite corners of a rectangle."""
    made = drawn_plan(sheet_report(cut=cut))
    plate = filled(made, PLATE)[0].center
    found = [circle.center for circle in filled(made, BRASS) if circle.width == pytest.approx(6.35)]
    expected = [(plate.x + x / 2, plate.y + y / 2) for x, y in ends]
    assert [tuple(p) for p in found] == [pytest.approx(p) for p in expected]


def test_a_turned_cut(sheet_report: ReportOn) -> None:
    """Turned by 90 degrees the bushing's ends lie one above the other; mirrored, the other way about."""
    cut = {"shape": "slot", "width": 10, "length": 50, "depth": 9, "angle": 30}
    made = drawn_plan(sheet_report(cut=cut))
    a, b = [c.center for c in filled(made, BRASS) if c.width == pytest.approx(6.35)]
    assert math.degrees(math.atan2(b.y - a.y, b.x - a.x)) == pytest.approx(30.0)
    made = drawn_plan(sheet_report(cut=cut, make={"for": ["cnc"], "mirrored": True}))
    a, b = [c.center for c in filled(made, BRASS) if c.width == pytest.approx(6.35)]
    assert math.degrees(math.atan2(b.y - a.y, b.x - a.x)) == pytest.approx(-30.0)
    assert "scale 1:2 · MIRRORED" in words(made)


@pytest.mark.parametrize(
    ("mirrored", "angle", "stop", "fence"),
    [
        (False, 0, (-22.5, None), (None, -7.0)),
        (True, 0, (22.5, None), (None, -7.0)),
        (False, 90, (None, -22.5), (7.0, None)),
        (True, 90, (None, -22.5), (-7.0, None)),
    ],
)
def test_work_of_a_mirrored_plate_is_mirrored(
    sheet_report: ReportOn, mirrored: bool, angle: int, stop: tuple[Any, Any], fence: tuple[Any, Any]
) -> None:
    """A stop 45 mm left of the cut stands 45 mm right of it on the mirrored plate; turned, the fence changes sides."""
    report = sheet_report(
        cut={"shape": "slot", "width": 10, "length": 50, "depth": 9, "angle": angle},
        work={"thickness": 40, "height": 25, "length": 300, "from_face": 14, "from_end": 45},
        make={"for": ["cnc"], "mirrored": mirrored},
    )
    made = drawn_plan(report)
    middle = filled(made, PLATE)[0].center
    found: list[tuple[Any, Any]] = []
    for a, b in strokes_of(made, PURPLE, 0.5):
        if math.dist(a, b) > 20:
            upright = abs(a.x - b.x) < 1e-9
            found.append((a.x - middle.x, None) if upright else (None, a.y - middle.y))
    assert found == [(pytest.approx(x) if x else None, pytest.approx(y) if y else None) for x, y in (fence, stop)]
    assert "stop 45 mm" in words(made)


def heads(picture: Picture) -> list[tuple[Point, Point]]:
    """Tip and middle of the base of each arrow head."""
    found = []
    for ink in picture.inks:
        if ink.fill == GREEN and isinstance(ink.shape, Outline) and len(ink.shape.segments) == 3:
            tip, a, b = (s.start for s in ink.shape.segments)
            found.append((tip, Point((a.x + b.x) / 2, (a.y + b.y) / 2)))
    return found


@pytest.mark.parametrize("angle", [0, 38, 90, -120])
@pytest.mark.parametrize(
    "shape", [{"shape": "slot", "width": 10, "length": 50}, {"shape": "round", "diameter": 30}], ids=["slot", "round"]
)
def test_the_feed_is_clockwise(sheet_report: ReportOn, shape: dict[str, Any], angle: int) -> None:
    """Seen from above, both arrows run clockwise about the middle of the cut, however it is turned."""
    made = drawn_plan(sheet_report(cut={**shape, "depth": 9, "angle": angle}))
    middle = filled(made, PLATE)[0].center
    found = heads(made)
    assert len(found) == 2
    for tip, base in found:
        ahead = (tip.x - base.x) * (base.y - middle.y) - (tip.y - base.y) * (base.x - middle.x)
        assert ahead > 0  # the cross product of a clockwise turn about the middle


def test_what_is_not_reached_is_shaded(sheet_report: ReportOn) -> None:
    """Square corners: vermillion lies below the cut made and is named in the key; a slot has none."""
    cut = {"shape": "rectangle", "width": 22, "length": 74, "corner_radius": 0, "depth": 16}
    made = drawn_plan(sheet_report(cut=cut))
    assert [(b.width, b.height) for b in filled(made, VERMILLION)][:1] == [pytest.approx((37.0, 11.0))]
    colours = [ink.fill for ink in made.inks]
    assert colours.index(VERMILLION) < colours.index(CUT)
    assert "not reached: finish by hand" in words(made)
    assert VERMILLION not in [ink.fill for ink in drawn_plan(sheet_report()).inks]


def test_the_screws(sheet_report: ReportOn) -> None:
    """Holes at their places, with the rim of their countersink; M5: 5.5 and 11.2 mm."""
    screws = {"pattern": "corners", "size": "M5", "inset": 12, "hole": "countersunk"}
    made = drawn_plan(sheet_report(plate={"screws": screws}))
    plate = filled(made, PLATE)[0]
    white = filled(made, "#FFFFFF")
    for size in (5.5, 11.2):
        holes = [b for b in white if b.width == pytest.approx(size / 2)]
        assert len(holes) == 4
        assert holes[0].center == pytest.approx((plate.left + 6, plate.bottom + 6))


WORK_TABLE = {"thickness": 34, "height": 60, "length": 700, "from_end": 55}


def strokes_of(picture: Picture, colour: str, width: float) -> list[tuple[Point, ...]]:
    """Lines of one colour and width."""
    return [
        ink.shape.points
        for ink in picture.inks
        if isinstance(ink.shape, Stroke) and (ink.colour, ink.width) == (colour, width)
    ]


def test_fence_and_stop(sheet_report: ReportOn) -> None:
    """The fence 17 mm below the long centre line, the stop 55 mm left of the cross one, both with their distance."""
    made = drawn_plan(sheet_report(work=WORK_TABLE))
    middle = filled(made, PLATE)[0].center
    lines = [(a, b) for a, b in strokes_of(made, PURPLE, 0.5) if math.dist(a, b) > 50]
    (fence,) = [line for line in lines if line[0].y == pytest.approx(line[1].y)]
    (stop,) = [line for line in lines if line[0].x == pytest.approx(line[1].x)]
    assert middle.y - fence[0].y == pytest.approx(8.5)
    assert middle.x - stop[0].x == pytest.approx(27.5)
    assert {"fence 17 mm", "stop 55 mm"} <= set(words(made))
    assert "fence and stop beneath" in words(made)


def test_a_turned_fence(sheet_report: ReportOn) -> None:
    """With the cut turned by 90 degrees the fence stands upright on its right, its words along it."""
    report = sheet_report(
        cut={"shape": "slot", "width": 10, "length": 50, "depth": 9, "angle": 90}, work={"thickness": 30, "height": 60}
    )
    made = drawn_plan(report)
    middle = filled(made, PLATE)[0].center
    (fence,) = [(a, b) for a, b in strokes_of(made, PURPLE, 0.5) if math.dist(a, b) > 50]
    assert (fence[0].x - middle.x, fence[1].x - middle.x) == pytest.approx((7.5, 7.5))
    (text,) = [t for t in made.texts if t.string == "fence 15 mm"]
    assert abs(text.angle) == 90


@pytest.mark.parametrize(
    ("work", "expected"),
    [
        (WORK_TABLE, [("fence", 17.0, 17.0), ("stop", 55.0, 55.0)]),
        ({"thickness": 34, "height": 60}, [("fence", 17.0, 17.0)]),
        ({**WORK_TABLE, "from_end": 105}, [("fence", 17.0, 17.0), ("stop", 105.0, 105.0)]),
        ({**WORK_TABLE, "from_end": 106}, [("fence", 17.0, 17.0), ("stop", 106.0, 88.2)]),
        ({**WORK_TABLE, "thickness": 900}, [("fence", 450.0, 88.2), ("stop", 55.0, 55.0)]),
    ],
)
def test_far_stops_are_drawn_nearer(
    sheet_report: ReportOn, work: dict[str, Any], expected: list[tuple[str, float, float]]
) -> None:
    """Further off than three quarters of 140 mm they stand 13 % of it beyond the plate; their distance is said."""
    report = sheet_report(work=work)
    shown: list[tuple[str, Any, Any]] = [(name, stop.distance, stop.at) for name, stop in stops(report).shown]
    assert shown == [(name, distance, pytest.approx(at)) for name, distance, at in expected]
    made = drawn_plan(report)
    for name, distance, _ in expected:
        assert f"{name} {distance:g} mm" in words(made)
    assert ("broken: further off than drawn" in words(made)) == any(d > at for _, d, at in expected)
    far = [name for name, d, at in expected if d > at]
    strokes = [line for line in strokes_of(made, PURPLE, 0.25) if math.dist(*line) == pytest.approx(2.786, abs=0.01)]
    assert len(strokes) == 2 * len(far)  # two across the line of each


@pytest.mark.parametrize(("mirrored", "way"), [(False, -1), (True, 1)])
def test_a_far_stop_stands_on_its_own_side(sheet_report: ReportOn, mirrored: bool, way: int) -> None:
    """178 mm off it is drawn beyond the left edge of the plate, mirrored beyond the right one."""
    make = {"for": ["cnc"], "mirrored": mirrored}
    made = drawn_plan(sheet_report(work={**WORK_TABLE, "from_end": 178}, make=make))
    middle = filled(made, PLATE)[0].center
    upright = [a for a, b in strokes_of(made, PURPLE, 0.5) if math.dist(a, b) > 50 and a.x == pytest.approx(b.x)]
    assert [a.x - middle.x for a in upright] == [pytest.approx(way * 44.1)]


def test_a_stop_under_a_wide_plate_is_drawn_where_it_stands(sheet_report: ReportOn) -> None:
    """With the cut near the plate's right end a stop 115 mm off lies under the plate, and is no nearer."""
    cut = {"shape": "slot", "width": 10, "length": 20, "depth": 9, "x": 120}
    found = stops(sheet_report(cut=cut, work={**WORK_TABLE, "from_end": 115})).end
    assert found is not None
    assert (found.at, found.is_far) == (115, False)


def test_the_work_round_a_gain(sheet_report: ReportOn) -> None:
    """Fence and edge of the work are one line, 12.5 mm below the middle; the other face is 35 - 12.5 above it."""
    cut = {"shape": "hinge", "width": 25, "length": 80, "corner_radius": 5, "depth": 3}
    made = drawn_plan(sheet_report(cut=cut, work={"thickness": 35}))
    middle = filled(made, PLATE)[0].center
    dashed = [i.shape.points for i in made.inks if isinstance(i.shape, Stroke) and i.dash == DASHED]
    assert sorted(a.y - middle.y for a, _ in dashed) == pytest.approx([-6.25, 11.25])
    (fence,) = [a.y for a, b in strokes_of(made, PURPLE, 0.5) if math.dist(a, b) > 50]
    assert fence - middle.y == pytest.approx(-6.25)
    assert "dashed: the edge of the work" not in words(made)
    assert "dashed: the edge of the work" in words(drawn_plan(sheet_report(cut=cut)))


def test_the_view_grows_with_the_stops(sheet_report: ReportOn) -> None:
    """A stop beyond the plate's edge widens the view to where it stands."""
    assert view(sheet_report()) == (0.0, 0.0, 140.0, 140.0)
    assert view(sheet_report(work={**WORK_TABLE, "from_end": 100})) == (-30.0, 0.0, 140.0, 140.0)
    assert len(key_of(sheet_report(work=WORK_TABLE))) == 5  # fence and stop, and the dashed other face


def test_small_plates_have_their_words_outside(sheet_report: ReportOn) -> None:
    """A distance too short for its words has them beyond its end."""
    made = drawn_plan(sheet_report(cut={"shape": "round", "diameter": 10, "depth": 5}, plate={"width": 40}), scale=0.25)
    (text,) = [t for t in made.texts if t.string == "20 mm" and t.angle == 0]
    assert text.anchor == "start"


def test_sizes_in_inches(sheet_report: ReportOn) -> None:
    """In inches the plan says both where there is room, else the inches alone."""
    made = plan(sheet_report(plate={"width": 152.4, "height": 50.8}), CELL, 0.5, inches=True)
    assert "6 in (152.4 mm)" in words(made)
    assert "1 in" in words(made)


# From the middle of the cut to the plate's edge ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("angle", "left", "right"), [(0, 70, 70), (90, 80, 60), (45, 80 * math.sqrt(2), 60 * math.sqrt(2))]
)
def test_to_the_edge(sheet_report: ReportOn, angle: int, left: float, right: float) -> None:
    """Across the cut to the plate's edges, 80 mm from its left one and 70 mm from its lower one."""
    cut = {"shape": "slot", "width": 10, "length": 50, "depth": 9, "angle": angle, "x": 80, "y": 70}
    report = sheet_report(cut=cut, plate={"height": 160 if angle == 45 else 140})
    if angle == 45:  # to the left edge at the upper left, to the right edge at the lower right
        left, right = 80 * math.sqrt(2), 60 * math.sqrt(2)
    assert (to_edge(report, 1), to_edge(report, -1)) == pytest.approx((left, right))


def test_in_the_plate(sheet_report: ReportOn) -> None:
    """Along and to the left of a cut turned by 90 degrees: up and to the left in the plate."""
    cut = {"shape": "slot", "width": 10, "length": 50, "depth": 9, "angle": 90, "x": 80, "y": 70}
    assert in_plate(sheet_report(cut=cut), 5.0, 2.0) == (78.0, 75.0)


def test_inks_are_on_the_page(sheet_report: ReportOn) -> None:
    """No line of a picture leaves its cell."""
    report, cell = sheet_report(work=WORK_TABLE), Bounds(10.0, 90.0, 110.0, 210.0)
    for made in (drawn_section(report, cell), drawn_plan(report, cell)):
        boxes = [box_of(ink.shape) for ink in made.inks if isinstance(ink, Ink)]
        assert min(b.left for b in boxes) >= cell.left - 0.1
        assert max(b.right for b in boxes) <= cell.right + 0.1
        assert min(b.bottom for b in boxes) >= cell.bottom - 0.1
        assert max(b.top for b in boxes) <= cell.top + 0.1


# Cuts of other shapes -----------------------------------------------------------------------------------------------

HINGE = {"shape": "hinge", "width": 28, "length": 89, "corner_radius": 6.35, "depth": 3}
HINGE_TOOLS = {"bit": 12.7, "bushing": {"diameter": 16, "bore": 14.5, "stem": 5}}


def test_a_gain_in_the_section(sheet_report: ReportOn) -> None:
    """Open to the edge of the work: the guided side on the left, the work ends on the right, 28 mm from it."""
    report = sheet_report(cut=HINGE, tools=HINGE_TOOLS)
    stack = Stack(report)
    assert stack.cut[1] - stack.cut[0] == pytest.approx(28.0)
    assert stack.work[0] == -math.inf
    assert stack.work[1] == pytest.approx(14.0)
    assert stack.axis == pytest.approx(-14.0 + 6.35)
    made = draw(stack, Layout(0.5, 0.0, 0.0), CELL, inches=False)
    bit = min(parts(made, BIT), key=lambda b: b.bottom)
    work = max(parts(made, WORK), key=lambda b: b.width)
    assert work.right - bit.left == pytest.approx(14.0)
    assert "cut 28 mm" in words(made)
    assert "work" in words(made)


def test_a_gain_that_is_shortened(sheet_report: ReportOn) -> None:
    """What is left out lies between the bit and the edge of the work, of which 8.5 mm are kept."""
    stack = Stack(sheet_report(cut=HINGE, tools=HINGE_TOOLS))
    how = layout(stack, 105.0, 130.0)
    assert how.scale == 1.0
    assert how.removed == pytest.approx(28.0 - 12.7 - 8.5)
    made = draw(stack, how, CELL._replace(right=115.0), inches=False)
    bit = min(parts(made, BIT), key=lambda b: b.bottom)
    work = max(parts(made, WORK), key=lambda b: b.width)
    assert work.right - bit.right == pytest.approx(8.5)


def test_a_gain_in_the_plan(sheet_report: ReportOn) -> None:
    """The edge of the work is dashed, 14 mm below the middle of the cut, and named in the key."""
    made = drawn_plan(sheet_report(cut=HINGE, tools=HINGE_TOOLS))
    (edge,) = [ink for ink in made.inks if ink.dash == DASHED]
    assert isinstance(edge.shape, Stroke)
    assert filled(made, PLATE)[0].center.y - edge.shape.points[0].y == pytest.approx(7.0)
    assert "dashed: the edge of the work" in words(made)


@pytest.mark.parametrize(
    ("cut", "ends"),
    [
        # a hexagon 36 mm across, 12.7 bushing and 9.525 bit: the path's corners are (18 - 4.7625) / cos 30° out
        ({"shape": "polygon", "across": 36, "sides": 6, "depth": 9}, [(-15.2853, 0), (15.2853, 0)]),
        ({"shape": "ellipse", "width": 50, "length": 84, "depth": 9}, [(-37.2375, 0), (37.2375, 0)]),
    ],
)
def test_ends_in_other_shapes(sheet_report: ReportOn, cut: dict[str, Any], ends: list[tuple[float, float]]) -> None:
    """The two places of the bushing that are furthest apart lie where the bit has reached both ends."""
    found = far_apart(sheet_report(cut=cut))
    assert [tuple(p) for p in found] == [pytest.approx(p, abs=2e-3) for p in ends]


def test_lopsided_openings_have_their_arrows_beside_them(sheet_report: ReportOn) -> None:
    """An arc slot lies to one side of its middle: no arrow crosses its opening."""
    cut = {"shape": "arc-slot", "radius": 64, "width": 12, "span": 75, "depth": 9}
    report = sheet_report(cut=cut)
    made = drawn_plan(report)
    opening = [made_at(made, region.bounds) for region in report.template.opening]
    for tip, base in heads(made):
        assert all(not (o.bottom < p.y < o.top) for o in opening for p in (tip, base))


def made_at(picture: Picture, bounds: Bounds) -> Bounds:
    """A box of the plate, on the page at 1:2."""
    plate = filled(picture, PLATE)[0]
    x, y = plate.left, plate.bottom
    return Bounds(x + bounds.left / 2, y + bounds.bottom / 2, x + bounds.right / 2, y + bounds.top / 2)
