"""The label's place: preferred, then smaller, then elsewhere, then refused, and never in the way."""

import math
import pickle

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as Spot

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle, slot
from jigtemplates.label import Label, LabelPlacement, line_breaks, place_label
from jigtemplates.lettering import LetteringError, letter, text_width

FACTS = ("Bench rail, 10 x 50", "bit 3/8 in, bushing 1/2 in", "cut 10 x 50 mm", "THIS SIDE UP")


def plate(width: float, height: float) -> Region:
    """A plate with its lower-left corner at the origin."""
    return Region(rectangle(width, height).moved(width / 2, height / 2))


def found(placement: LabelPlacement) -> Label:
    """The label, which must have found a place."""
    assert placement.label is not None
    return placement.label


def extent(label: Label) -> Bounds:
    """The box of the strokes as they were drawn."""
    xs = [p.x for s in label.strokes for p in s.points]
    ys = [p.y for s in label.strokes for p in s.points]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def test_below_the_opening_first() -> None:
    """With room below the opening the label stands there, half-way to the edge, full size."""
    opening = slot(53.5, 13.5).moved(60, 80)
    placement = place_label(FACTS, plate=plate(140, 140), blocked=[opening])
    label = found(placement)
    assert (label.height, label.angle, label.lines) == (5.0, 0.0, FACTS)
    assert label.box.center == pytest.approx((60, (80 - 6.75) / 2))
    assert (placement.moved, placement.shrunk) == (False, False)


def test_the_largest_outline_is_the_opening() -> None:
    """Screw holes in front of the opening in the list do not change the preferred place."""
    holes = [Outline.circle(Point(x, y), 3) for x in (10, 130) for y in (10, 130)]
    opening = slot(53.5, 13.5).moved(60, 80)
    label = found(place_label(["A"], plate=plate(140, 140), blocked=[*holes, opening]))
    assert label.box.center == pytest.approx((60, 36.625))


def test_empty_plate_takes_its_middle() -> None:
    """Nothing blocked: the label stands in the plate's middle; a mark alone is no opening."""
    assert found(place_label(["A"], plate=plate(100, 80), blocked=[])).box.center == pytest.approx((50, 40))
    mark = Stroke((Point(2, 8), Point(2, 2), Point(8, 2)))
    assert found(place_label(["A"], plate=plate(100, 80), blocked=[mark])).box.center == pytest.approx((50, 40))


def test_preferred_place_is_kept() -> None:
    """A preferred place is the middle of the label's box."""
    label = found(place_label(["A"], plate=plate(100, 80), blocked=[], preferred=Point(30, 20)))
    assert label.box.center == pytest.approx((30, 20))


def test_height_is_that_of_a_capital() -> None:
    """Lines without descenders: n of them are 1.6 (n - 1) + 1 heights tall, each line centred."""
    label = found(place_label(["HHH", "H"], plate=plate(100, 80), blocked=[]))
    assert label.box.height == pytest.approx(2.6 * 5.0)
    first, second = label.strokes[:9], label.strokes[9:]
    assert [sum(p.x for s in line for p in s.points) / len(line) / 2 for line in (first, second)] == [
        pytest.approx(50)
    ] * 2
    assert min(p.y for s in first for p in s.points) - max(p.y for s in second for p in s.points) == pytest.approx(3)


def test_box_and_outline_are_the_strokes_extent() -> None:
    """The box is where the strokes are, and the outline runs counter-clockwise round it."""
    label = found(place_label(["Fg", "j/"], plate=plate(100, 80), blocked=[], preferred=Point(30, 20)))
    assert extent(label) == pytest.approx(label.box)
    assert label.outline.bounds == label.box
    assert label.outline.is_ccw


def test_shrinks_where_it_is() -> None:
    """A low strip: the letters become lower at the preferred place before the label moves."""
    # 20 mm below the opening, 5 kept as margin: four lines are about 6.1 heights, so 2.5 but not 3.
    opening = rectangle(60, 10).moved(70, 26)
    placement = place_label(["H"] * 4, plate=plate(140, 140), blocked=[opening])
    assert found(placement).height == 2.5
    assert found(placement).box.center.x == pytest.approx(70)
    assert found(placement).box.top < 21
    assert (placement.moved, placement.shrunk) == (False, True)


def test_other_line_breaks_before_smaller_letters() -> None:
    """Where fewer lines keep the letters large, they are taken at the same place."""
    opening = rectangle(60, 10).moved(70, 26)
    blocked = [opening]
    placement = place_label(["H"] * 4, others=[["HHHH"]], plate=plate(140, 140), blocked=blocked)
    assert found(placement).lines == ("HHHH",)
    assert found(placement).height == 5.0
    assert not placement.shrunk


def test_moves_above() -> None:
    """No room below: above the opening, upright, full size."""
    placement = place_label(FACTS, plate=plate(140, 140), blocked=[rectangle(60, 10).moved(70, 10)])
    label = found(placement)
    assert (label.height, label.angle) == (5.0, 0.0)
    assert label.box.center == pytest.approx((70, (15 + 140) / 2))
    assert (placement.moved, placement.shrunk) == (True, False)


def test_moves_to_the_left_and_is_turned() -> None:
    """No room below and above: left of the opening, reading upwards, so that it is read from the right."""
    opening = rectangle(20, 130).moved(70, 70)
    label = found(place_label(["FFFFFFF", "FF"], plate=plate(140, 140), blocked=[opening]))
    assert (label.height, label.angle) == (5.0, 90.0)
    assert label.box.center == pytest.approx((30, 70))
    assert label.box.height > label.box.width
    # The first letter is the lowest of the left column; its stem is its lowest line and runs leftwards.
    stem = label.strokes[0].points
    assert stem[0].y == stem[1].y == pytest.approx(label.box.bottom)
    assert stem[0].x < stem[1].x
    assert stem[0].x == pytest.approx(label.box.left)


def test_moves_to_the_right() -> None:
    """No room below, above and left: right of the opening."""
    opening = rectangle(20, 130).moved(20, 70)
    label = found(place_label(["FFFFFFF", "FF"], plate=plate(140, 140), blocked=[opening]))
    assert (label.angle, label.box.center) == (90.0, pytest.approx((85, 70)))


def test_moves_anywhere() -> None:
    """Only one corner is free: it is found, with the largest letters that fit there."""
    wall = Stroke((Point(0, 70), Point(100, 70), Point(100, 140)))
    opening = rectangle(136, 66).moved(70, 35)
    left = rectangle(90, 66).moved(49, 107)
    placement = place_label(["HHHH"], plate=plate(140, 140), blocked=[opening, left, wall])
    label = found(placement)
    assert placement.moved
    assert label.height == 5.0
    assert label.box.left >= 102.5
    assert label.box.bottom >= 70.5


def test_turned_where_only_that_fits() -> None:
    """A strip too narrow for the line takes it turned."""
    label = found(place_label(["HHHHHHHHHH"], plate=plate(12, 100), blocked=[rectangle(4, 4).moved(6, 4)]))
    assert label.angle == 90.0


@pytest.mark.parametrize("size", [(140, 8), (20, 20), (4, 4)])
def test_refused(size: tuple[float, float]) -> None:
    """No room at the least height anywhere: no label, and nothing said to be moved or shrunk."""
    opening = Outline.circle(Point(size[0] / 2, size[1] / 2), 1.5)
    placement = place_label(FACTS, plate=plate(*size), blocked=[opening])
    assert placement == LabelPlacement(None, moved=False, shrunk=False)


def test_never_below_the_least_height() -> None:
    """The heights asked for are the only ones: with the last one raised, the label is refused."""
    # A strip of 21 mm less two margins is 16: the block is about 5.9 heights either way.
    lines, blocked = ["HHHHHH"] * 4, [rectangle(140, 119).moved(70, 80.5)]
    assert found(place_label(lines, plate=plate(140, 140), blocked=blocked)).height == 2.5
    assert place_label(lines, plate=plate(140, 140), blocked=blocked, heights=(4.0, 3.0)).label is None


def test_label_without_letters() -> None:
    """A label with nothing to engrave is the caller's mistake and says so."""
    with pytest.raises(ValueError, match="a label needs at least one line with something to engrave"):
        place_label(["", "  "], plate=plate(100, 100), blocked=[])


def test_label_with_blank_line() -> None:
    """A blank line keeps its place and draws nothing."""
    label = found(place_label(["H", "", "H"], plate=plate(100, 80), blocked=[]))
    assert label.box.height == pytest.approx(4.2 * 5.0)
    assert len(label.strokes) == 6


def test_label_with_a_character_without_strokes() -> None:
    """What cannot be engraved is refused by name, not left out."""
    with pytest.raises(LetteringError, match=r'"木" \(U\+6728\)'):
        place_label(["cut", "木"], plate=plate(100, 100), blocked=[])


def test_line_breaks() -> None:
    """All facts on their own lines, then fewer, each time with the shortest longest line, in order."""
    assert line_breaks(("HHHHHH", "H", "HH", "HHH")) == (
        ("HHHHHH", "H", "HH", "HHH"),
        ("HHHHHH", "H  HH", "HHH"),
        ("HHHHHH  H", "HH  HHH"),
        ("HHHHHH  H  HH  HHH",),
    )
    assert line_breaks(("a", "b"), separator=" / ")[1] == ("a / b",)
    assert line_breaks(()) == ()


@st.composite
def circles(draw: st.DrawFn) -> tuple[float, float, float]:
    """A hole somewhere on a plate of up to 200 mm: x, y, radius."""
    return draw(st.floats(0, 200)), draw(st.floats(0, 200)), draw(st.floats(1, 30))


@given(
    st.floats(30, 200),
    st.floats(30, 200),
    st.lists(circles(), max_size=5),
    st.floats(0, 5),
    st.sampled_from(FACTS),
)
@settings(max_examples=60, deadline=None)
def test_every_stroke_keeps_its_distance(
    width: float, height: float, holes: list[tuple[float, float, float]], margin: float, text: str
) -> None:
    """Wherever a label lands, its strokes keep the margin from the edge and from the true circles."""
    blocked = [Outline.circle(Point(x, y), r) for x, y, r in holes]
    label = place_label([text, "H"], plate=plate(width, height), blocked=blocked, margin=margin).label
    if label is None:
        return
    box = extent(label)
    assert min(box.left, box.bottom, width - box.right, height - box.top) >= margin
    assert box == pytest.approx(label.box, abs=1e-9)
    for x, y, r in holes:
        lines = [LineString(stroke.points) for stroke in label.strokes]
        # Inside a hole the distance to its centre is below its radius, so this also finds a label in one.
        assert min(line.distance(Spot(x, y)) for line in lines) - r >= margin


@given(st.floats(2.5, 40))
@settings(max_examples=20, deadline=None)
def test_rounded_corners_are_respected(radius: float) -> None:
    """Strokes keep the margin from a rounded plate's edge, measured on the true corner circle."""
    rounded = Region(rectangle(90, 90, radius).moved(45, 45))
    wall = rectangle(20, 60).moved(45, 60)
    label = place_label(["HHHHHH"], plate=rounded, blocked=[wall], preferred=Point(20, 8)).label
    if label is None:
        return
    for p in (p for stroke in label.strokes for p in stroke.points):
        if p.x < radius and p.y < radius:
            assert math.dist(p, (radius, radius)) <= radius - 2.5


def test_text_width_is_what_the_label_uses() -> None:
    """A one-line label is its text as `letter` writes it, centred by its strokes."""
    label = found(place_label(["cut 10"], plate=plate(100, 80), blocked=[]))
    alone = letter("cut 10", 5.0)
    shift = label.strokes[0].points[0].x - alone[0].points[0].x
    assert [s.points[0].x - shift for s in label.strokes] == pytest.approx([s.points[0].x for s in alone])
    assert label.box.width < text_width("cut 10", 5.0)


def test_another_process_gets_a_label_without_its_strokes() -> None:
    """They are most of its weight; there they are made again, and are the same."""
    label = found(place_label(FACTS, plate=plate(140, 140), blocked=[slot(53.5, 13.5).moved(60, 80)]))
    drawn = label.strokes
    sent = pickle.dumps(label)
    again = pickle.loads(sent)
    assert len(drawn) > 80
    assert len(sent) < 600
    assert again == label
    assert again.strokes == drawn
    assert again.box == label.box
