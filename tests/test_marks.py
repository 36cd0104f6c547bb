"""The datum mark and the centre marks: where they are, and that they give way to holes and edges."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as Spot

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle, slot
from jigtemplates.marks import apart, centre_lines, centre_marks, datum_mark, group_marks

PLATE = Region(rectangle(140, 100).moved(70, 50))
OPENING = Region(slot(50, 10).moved(70, 50))
CENTRE = Point(70, 50)


def ends(strokes: tuple[Stroke, ...]) -> list[tuple[float, ...]]:
    """x and y of both ends of each straight stroke."""
    return [(*s.points[0], *s.points[-1]) for s in strokes]


def test_datum_is_at_the_lower_left() -> None:
    """Without holes it is one right angle, legs of 6 mm, 2 mm from the left and the lower edge."""
    assert datum_mark(PLATE, []) == (Stroke((Point(8, 2), Point(2, 2), Point(2, 8))),)


def test_datum_follows_the_plate() -> None:
    """On a plate elsewhere it is in that plate's lower-left corner; leg and inset can be chosen."""
    away = Region(PLATE.outer.moved(1000, -500))
    assert datum_mark(away, [], leg=4, inset=3) == (Stroke((Point(1007, -497), Point(1003, -497), Point(1003, -493))),)


def test_datum_is_shortened_by_a_hole() -> None:
    """A hole near the end of a leg makes both legs shorter, in whole millimetres."""
    hole = Outline.circle(Point(9, 2), 1)
    # The hole's edge is at x = 8; 1.5 mm before it is 6.5, so of 7, 6 and 5 only the leg to 6 is clear.
    assert datum_mark(PLATE, [hole]) == (Stroke((Point(6, 2), Point(2, 2), Point(2, 6))),)


def test_datum_moves_in_on_a_rounded_corner() -> None:
    """A corner radius of 10 mm leaves no room at 2 mm: the mark moves in along the diagonal."""
    rounded = Region(rectangle(140, 100, 10).moved(70, 50))
    # The corner is 1 mm inside the circle about (10, 10) from 10 - 9 / sqrt 2 = 3.64 on.
    assert datum_mark(rounded, []) == (Stroke((Point(10, 4), Point(4, 4), Point(4, 10))),)


def test_datum_is_left_out() -> None:
    """There is none where a hole takes the corner, nor on a round plate."""
    assert datum_mark(PLATE, [Outline.circle(Point(5, 5), 5)]) == ()
    assert datum_mark(Region(Outline.circle(Point(70, 70), 70)), []) == ()


def test_centre_marks() -> None:
    """Beside the opening from 2 to 8 mm outside its edge, at the plate's edge 6 mm long, 1 mm inside it."""
    assert ends(centre_marks(CENTRE, 0, PLATE, OPENING, [])) == [
        pytest.approx(tick)
        for tick in [
            (97, 50, 103, 50),
            (133, 50, 139, 50),
            (70, 57, 70, 63),
            (70, 93, 70, 99),
            (43, 50, 37, 50),
            (7, 50, 1, 50),
            (70, 43, 70, 37),
            (70, 7, 70, 1),
        ]
    ]


def test_centre_marks_turn_with_the_opening() -> None:
    """At 30 degrees the first tick lies on the slot's long axis, 27 to 33 mm from its centre."""
    turned = Region(slot(50, 10).rotated(30).moved(70, 50))
    first = centre_marks(CENTRE, 30, PLATE, turned, [])[0].points
    cos, sin = math.sqrt(3) / 2, 0.5
    assert first[0] == pytest.approx((70 + 27 * cos, 50 + 27 * sin))
    assert first[1] == pytest.approx((70 + 33 * cos, 50 + 33 * sin))


def test_ticks_in_a_narrow_wall_are_one() -> None:
    """Where both ticks would meet there is a single one, and in a wall too narrow for 2 mm there is none."""
    wide = Region(rectangle(112, 88).moved(70, 50))
    right, up, left, down = ends(centre_marks(CENTRE, 0, PLATE, wide, []))
    assert right == pytest.approx((128, 50, 139, 50))
    assert left == pytest.approx((12, 50, 1, 50))
    assert up == pytest.approx((70, 96, 70, 99))
    assert down == pytest.approx((70, 4, 70, 1))
    wider = Region(rectangle(112, 92).moved(70, 50))
    assert [tick[1] for tick in ends(centre_marks(CENTRE, 0, PLATE, wider, []))] == pytest.approx([50, 50])


def test_a_hole_shortens_a_tick() -> None:
    """A tick that comes near a hole ends at least 1.5 mm, at most a quarter more, before it."""
    hole = Outline.circle(Point(103, 50), 1)
    x0, _, x1, _ = ends(centre_marks(CENTRE, 0, PLATE, OPENING, [hole]))[0]
    assert x0 == pytest.approx(97)
    assert 100.2 <= x1 <= 100.5


def test_a_hole_removes_a_tick() -> None:
    """Of a tick with a hole in its middle nothing long enough is left; the others stay."""
    ticks = ends(centre_marks(CENTRE, 0, PLATE, OPENING, [Outline.circle(Point(70, 96), 3)]))
    assert len(ticks) == 7
    assert (70, 93, 70, 99) not in [tuple(round(v, 6) for v in tick) for tick in ticks]


def test_opening_that_holds_no_centre() -> None:
    """A direction that meets no edge of the opening, or begins off the plate, has no ticks."""
    aside = Region(rectangle(20, 20).moved(110, 50))
    assert [tick[0] for tick in ends(centre_marks(CENTRE, 0, PLATE, aside, []))] == pytest.approx([122, 133])
    assert centre_marks(Point(500, 500), 0, PLATE, OPENING, []) == ()


def test_centre_on_a_corner_between_two_arcs() -> None:
    """A ray through the joint of two arcs finds the edge there: a slot of two half circles is a circle."""
    circle = Region(slot(20.0000001, 20).moved(70, 50))
    assert ends(centre_marks(CENTRE, 0, PLATE, circle, []))[0] == pytest.approx((82, 50, 88, 50), abs=1e-6)


def test_edge_along_the_centre_line() -> None:
    """An opening with an edge on the centre line still ends where that edge ends."""
    half = Region(Outline.polygon([(60, 50), (90, 50), (90, 60), (60, 60)]))
    assert ends(centre_marks(CENTRE, 0, PLATE, half, []))[0] == pytest.approx((92, 50, 98, 50))


def test_centre_lines_cross_the_plate() -> None:
    """Two lines from edge to edge through the centre, whole across the opening."""
    assert ends(centre_lines(CENTRE, 0, PLATE, [])) == [(0, 50, 140, 50), (70, 0, 70, 100)]
    pierced = Region(PLATE.outer, (OPENING.outer.reversed(),))
    assert ends(centre_lines(CENTRE, 0, pierced, [])) == [(0, 50, 140, 50), (70, 0, 70, 100)]


def test_centre_lines_are_broken_by_holes() -> None:
    """A hole on a line breaks it in two at the hole's edge."""
    hole = Outline.circle(Point(120, 50), 3)
    assert ends(centre_lines(CENTRE, 0, PLATE, [hole])) == [
        pytest.approx((0, 50, 117, 50), abs=0.05),
        pytest.approx((123, 50, 140, 50), abs=0.05),
        (70, 0, 70, 100),
    ]


def test_centre_lines_turned() -> None:
    """At 45 degrees in a square plate they are its diagonals."""
    square = Region(rectangle(100, 100).moved(50, 50))
    first, second = ends(centre_lines(Point(50, 50), 45, square, []))
    assert first == pytest.approx((0, 0, 100, 100), abs=1e-9)
    assert second == pytest.approx((100, 0, 0, 100), abs=1e-9)


@given(
    st.floats(-180, 180),
    st.lists(st.tuples(st.floats(0, 140), st.floats(0, 100), st.floats(0.5, 12)), max_size=6),
)
@settings(max_examples=60, deadline=None)
def test_marks_keep_their_distance(angle: float, holes: list[tuple[float, float, float]]) -> None:
    """Every mark stays on the plate, 1.5 mm off every true circle and off the opening, and is 2 mm long."""
    opening = Region(slot(50, 10).rotated(angle).moved(70, 50))
    blocked = [Outline.circle(Point(x, y), r) for x, y, r in holes]
    ticks = centre_marks(CENTRE, angle, PLATE, opening, blocked)
    marks = [*ticks, *datum_mark(PLATE, [*blocked, opening.outer])]
    core = [CENTRE.x - 20 * math.cos(math.radians(angle)), CENTRE.y - 20 * math.sin(math.radians(angle))]
    spine = LineString([core, (2 * CENTRE.x - core[0], 2 * CENTRE.y - core[1])])
    for mark in marks:
        line = LineString(mark.points)
        assert line.length >= 2 - 1e-9
        assert all(0.5 - 1e-9 <= p.x <= 139.5 + 1e-9 and 0.5 - 1e-9 <= p.y <= 99.5 + 1e-9 for p in mark.points)
        assert line.distance(spine) >= 5 + 1.5  # a slot is what lies within 5 mm of its middle line
        assert all(line.distance(Spot(x, y)) - r >= 1.5 for x, y, r in holes)
    for tick in ticks:
        along = (tick.points[-1].x - CENTRE.x, tick.points[-1].y - CENTRE.y)
        quarter = math.degrees(math.atan2(along[1], along[0])) - angle
        assert abs((quarter + 45) % 90 - 45) < 1e-6


def test_strokes_that_lie_upon_each_other_are_kept_once() -> None:
    """Of two ticks 1 mm apart the first is kept (1.5 mm is the least between marks), one 2 mm off as well."""
    first, near, far = (Stroke((Point(0, y), Point(10, y))) for y in (0.0, 1.0, 2.0))
    assert apart([first, near, far]) == (first, far)
    assert apart([]) == ()


TWINS = [(Point(70, 42), 0.0), (Point(70, 58), 0.0)]


def test_marks_of_a_group() -> None:
    """Side by side: on the line between them a tick of 10 mm with a bar of 5 at each side; the common line has none."""
    assert ends(group_marks(CENTRE, 0, TWINS, PLATE, [])) == [
        pytest.approx(tick)
        for tick in [(129, 50, 139, 50), (129, 47.5, 129, 52.5), (11, 50, 1, 50), (11, 52.5, 11, 47.5)]
    ]


def test_marks_of_a_group_of_three() -> None:
    """The middle one's own ticks are the group's."""
    assert group_marks(CENTRE, 0, [*TWINS, (CENTRE, 0.0)], PLATE, []) == ()


def test_marks_of_a_ring() -> None:
    """Four round a ring, the first at 45 degrees and none of them turned: both middle lines have ticks."""
    ring = [(Point(70 + x, 50 + y), 0.0) for x in (-20, 20) for y in (-20, 20)]
    assert len(group_marks(CENTRE, 0, ring, PLATE, [])) == 8


def test_marks_of_a_group_give_way() -> None:
    """A hole ending 11 mm from the edge shortens the tick to 8 mm; one ending at 6 mm leaves none on that side."""
    for reach, tick in ((11.0, [(9, 50, 1, 50), (9, 52.5, 9, 47.5)]), (6.0, [])):
        hole = Outline.circle(Point(reach + 5, 50), 5)
        found = ends(group_marks(CENTRE, 0, TWINS, PLATE, [hole]))
        assert [t for t in found if t[0] < 70] == [pytest.approx(t) for t in tick]
