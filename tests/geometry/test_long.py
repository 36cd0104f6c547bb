"""Outlines kept as columns of numbers are outlines like any other."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from jigtemplates.geometry.long import (
    LongOutline,
    compact,
    corner_turns,
    corners_of,
    halved,
    is_closed,
    long_outline,
    split,
    table_of,
)
from jigtemplates.geometry.outline import LONG, BulgeVertex, Line, Outline, Point, Segment
from jigtemplates.geometry.shapes import arc_slot, ellipse, rectangle, round_hole, slot
from jigtemplates.geometry.table import Rows, Table, rows_of

SHAPES = {
    "rectangle": rectangle(60, 40),
    "round corners": rectangle(60, 40, 6).moved(100, -30),
    "slot": slot(50, 12),
    "ellipse": ellipse(80, 50),
    "arc slot": arc_slot(40, 200, 10),
    "circle": round_hole(20),
    "more than half": Outline.from_bulges([BulgeVertex(0, 0, 0.0), BulgeVertex(10, 0, 2.5), BulgeVertex(10, 8, -0.3)]),
}


@pytest.fixture(params=SHAPES)
def pair(request: pytest.FixtureRequest) -> tuple[Outline, LongOutline]:
    """An outline, and the same in columns."""
    plain = SHAPES[request.param]
    return plain, LongOutline(Table.of(plain.segments))


def test_it_measures_the_same(pair: tuple[Outline, LongOutline]) -> None:
    """Area, length, box, direction, tightest arc, number of segments, and what circle it is."""
    plain, columns = pair
    for name in ("area", "length", "bounds", "inside_radius"):
        assert getattr(columns, name) == pytest.approx(getattr(plain, name), abs=1e-9), name
    assert (columns.count, columns.is_ccw, columns.as_circle) == (plain.count, plain.is_ccw, plain.as_circle)
    assert is_closed(columns, 1e-12)


def test_it_moves_the_same(pair: tuple[Outline, LongOutline]) -> None:
    """Reversed, moved, turned, scaled and mirrored it has the segments that any outline has then."""
    plain, columns = pair
    changes: list[Callable[[Outline], Outline]] = [
        lambda o: o.reversed(),
        lambda o: o.moved(3, -4),
        lambda o: o.rotated(30, Point(1, 2)),
        lambda o: o.rotated(90),
        lambda o: o.scaled(25.4),
        lambda o: o.mirrored(),
        lambda o: o.started_mid_straight(),
    ]
    for change in changes:
        assert same(change(columns).segments, change(plain).segments)


def test_it_is_written_the_same(pair: tuple[Outline, LongOutline]) -> None:
    """Vertices with bulges, and corners on chords, are those of any outline."""
    plain, columns = pair
    assert columns.bulge_vertices() == [pytest.approx(v, abs=1e-12) for v in plain.bulge_vertices()]
    for tolerance in (1.0, 0.01):
        assert columns.flattened(tolerance) == [pytest.approx(p, abs=1e-12) for p in plain.flattened(tolerance)]
        assert corners_of(plain, tolerance) == pytest.approx(corners_of(columns, tolerance), abs=1e-12)


def test_it_equals_what_has_the_same_segments(pair: tuple[Outline, LongOutline]) -> None:
    """Whichever way it is kept: equal, with one hash; and not equal to what is a little different, or no outline."""
    plain, columns = pair
    again = LongOutline(Table.of(plain.segments))
    assert plain == columns
    assert columns == plain
    assert columns == again
    assert hash(columns) == hash(again) == hash(plain)
    assert columns != plain.moved(1e-9, 0)
    assert columns != again.moved(1e-9, 0)
    assert columns != "outline"


def same(found: tuple[Segment, ...], wanted: tuple[Segment, ...]) -> bool:
    """Whether two chains agree to 1e-12 mm."""
    a, b = Table.of(found), Table.of(wanted)
    return all(
        getattr(a, name) == pytest.approx(getattr(b, name), abs=1e-12)
        for name in ("starts", "ends", "centers", "radii", "turns")
    )


def test_only_many_segments_are_kept_in_columns() -> None:
    """From LONG on; a short one is a plain outline."""
    angles = np.arange(LONG) * 2 * math.pi / LONG
    ring = Table.polygon(100 * np.column_stack([np.cos(angles), np.sin(angles)]))
    assert isinstance(long_outline(ring), LongOutline)
    short = long_outline(ring.rows(slice(0, LONG - 1)))
    assert not isinstance(short, LongOutline)
    plain = Outline(tuple(ring.segments()))
    assert isinstance(compact(plain), LongOutline)
    assert compact(plain) == plain
    assert compact(short) is short
    # a ring of n corners on a circle of 100: n / 2 r² sin(2 pi / n)
    assert compact(plain).area == pytest.approx(LONG / 2 * 1e4 * math.sin(2 * math.pi / LONG), rel=1e-12)


def test_bulges_are_those_of_dxf() -> None:
    """|bulge| 1 is half a circle, tan(22.5 degrees) a quarter, and 0 straight."""
    table = Table.from_bulges(
        np.array([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0)]), np.array([1.0, math.tan(math.pi / 8), 0])
    )
    assert table.radii == pytest.approx([5, 50**0.5, 0])
    assert table.centers[0] == pytest.approx([5, 0])
    assert np.degrees(table.sweeps) == pytest.approx([180, 90, 0])
    assert table.middles[0] == pytest.approx([5, -5])


def test_arcs_are_split_into_equal_pieces() -> None:
    """A whole circle in three; halves at most for a polyline; lines stay whole."""
    circle = Table.of(round_hole(20).segments)
    pieces = split(circle, np.array([3]))
    assert np.degrees(pieces.sweeps) == pytest.approx([120] * 3)
    assert pieces.ends[-1] == pytest.approx([10, 0])
    assert np.degrees(halved(circle).sweeps) == pytest.approx([180, 180])
    straight = Table.of([Line(Point(0, 0), Point(1, 0))])
    assert split(straight, np.array([1])) is straight


def test_corners_turn_left_or_right() -> None:
    """A square's corners turn left by 90 degrees; an arc that leaves a line smoothly does not turn."""
    sines, cosines = corner_turns(table_of(rectangle(2, 2)))
    assert np.degrees(np.arctan2(sines, cosines)) == pytest.approx([90] * 4)
    sines, cosines = corner_turns(table_of(rectangle(20, 20, 4)))
    assert np.arctan2(sines, cosines) == pytest.approx([0] * 8, abs=1e-12)


def test_rows_are_a_sequence_of_segments() -> None:
    """As long as the table, one, some or all of them; and a table again without a detour."""
    segments = rectangle(20, 20, 4).segments
    rows = Rows(Table.of(segments))
    assert (len(rows), rows[1], rows[-1], tuple(rows)) == (8, segments[1], segments[-1], segments)
    assert tuple(rows[2:4]) == segments[2:4]
    assert rows_of(rows) is rows.table
    assert len(rows_of(segments)) == 8


def test_segments_at_a_level_are_those_that_reach_it(pair: tuple[Outline, LongOutline]) -> None:
    """All that a level crosses are among them, of lines and arcs; of a level far away there are none in columns."""
    plain, columns = pair
    box = plain.bounds
    for share in (0.1, 0.5, 0.9):
        y = box.bottom + share * box.height
        wanted = [s for s in plain.segments if (s.start.y - y) * (s.end.y - y) < 0]
        assert set(wanted) <= set(columns.segments_at(y))
        assert set(wanted) <= set(plain.segments_at(y))
    assert columns.segments_at(box.top + 1000) == ()
