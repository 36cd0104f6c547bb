"""The judge of offsets can say no: each thing that may be wrong is told, of a result that has just that wrong."""

from dataclasses import replace

import pytest
import shapely
from engines.chords import area_of, nested, ring_of
from engines.crossing import crossings
from engines.judging import Case, apart, count, judge, lawful, sound
from engines.occt import _united
from engines.outlines import SHORT, case, is_sound, one
from engines.references import CAPSULES, CLIPPER, ENGINES, MANIFOLD, Engine

from jigtemplates.geometry.outline import Arc, BulgeVertex, Line, Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle

#: A plate of 20 by 10 with a round hole of 4, and by its meaning what it is grown by 1: round corners, a hole of 2.
PLATE = one(rectangle(20, 10), Outline.circle(Point(0, 0), 2))
CASE = Case("plate", 0, PLATE, 1.0)
RIGHT = one(rectangle(22, 12, 1), Outline.circle(Point(0, 0), 1))


def faults(ours: Regions, engines: tuple[Engine, ...] = (CLIPPER,)) -> str:
    """All that is said of a result for the plate."""
    return "\n".join(judge(CASE, ours, engines).faults)


def test_the_right_result_is_right() -> None:
    """By every engine but the buffer, that is not asked where there is a hole."""
    verdict = judge(CASE, RIGHT, ENGINES)
    assert verdict.faults == ()
    assert (verdict.asked, verdict.clear, verdict.segments, verdict.loose) == (3, 3, 9, 0)


@pytest.mark.parametrize("engine", [CLIPPER, MANIFOLD, CAPSULES], ids=lambda engine: engine.name)
def test_a_hundredth_of_a_millimetre_is_seen_by_each_engine(engine: Engine) -> None:
    """Too small on one side and too large on the other."""
    said = faults(one(rectangle(21.98, 12, 1), Outline.circle(Point(0, 0), 1)), (engine,))
    assert f"{engine.name}: something is missing" in said
    said = faults(one(rectangle(22.02, 12, 1), Outline.circle(Point(0, 0), 1)), (engine,))
    assert f"{engine.name}: something is too much" in said
    assert f"{engine.name}: 0.0" in said
    assert "mm apart" in said


def test_a_lost_hole_and_a_part_too_many_are_counted() -> None:
    """Whatever their size, where nothing is near to vanishing."""
    assert "parts and holes (0,), there {(1,)}" in faults(one(rectangle(22, 12, 1)))
    speck = Region(Outline.circle(Point(30, 0), 0.01))
    assert "parts and holes (0, 1), there {(1,)}" in faults((*RIGHT, speck))


def test_lines_and_circles_a_nanometre_off_are_told() -> None:
    """No engine sees that: they are held against the outline's own."""
    assert "a circle is off by 1e-06 mm" in faults(one(rectangle(22, 12, 1 + 1e-6), RIGHT[0].holes[0]))
    assert "an end is off its line or circle by 3e-05 mm" in faults(one(rectangle(22 + 6e-5, 12, 1), RIGHT[0].holes[0]))


def test_a_boundary_at_another_distance_is_told() -> None:
    """A square corner for a round one, though on the lines it may be on."""
    said = faults(one(rectangle(22, 12), RIGHT[0].holes[0]))
    assert "a corner is off by 0.41 mm" in said


def test_open_turned_and_short_ones_are_told() -> None:
    """A chain with a gap, an outer ring the wrong way round, a segment of 10 nm."""
    first, *rest = RIGHT[0].outer.segments
    gap = Outline((first._replace(start=Point(first.start.x + 0.1, first.start.y)), *rest))
    assert "a chain is open" in faults((Region(gap, RIGHT[0].holes),))
    assert "an outer ring runs clockwise" in "\n".join(lawful(CASE, (Region(RIGHT[0].outer.reversed()),)))
    line = Line(Point(-5, -6), Point(5, -6))
    split = [line, Line(line.end, Point(5.00001, -6)), Line(Point(5.00001, -6), Point(9, -6))]
    assert "1 segments of 1e-05 mm and more" in "\n".join(lawful(CASE, (Region(Outline(tuple(split))),)))


def test_crossings_slivers_and_invalid_rings_are_told() -> None:
    """An eight, and a part thinner than may be."""
    eight = Outline.polygon([(0, 0), (9, 9), (9, 0), (0, 9)])
    assert "1 crossings, by" in "\n".join(lawful(CASE, (Region(eight),)))
    assert "not valid: Self-intersection" in "\n".join(sound((Region(eight),)))
    assert "a sliver of 1e-06 mm" in "\n".join(
        sound((Region(Outline.polygon([(0, 0), (9, 0), (9, 1e-6), (0, 1e-6)])),))
    )


@pytest.mark.parametrize(
    ("a", "b", "deep"),
    [
        (Line(Point(0, 0), Point(8, 8)), Line(Point(0, 8), Point(8, 0)), True),
        (Line(Point(0, 0), Point(8, 0)), Line(Point(9, -1), Point(9, 1)), False),
        (Line(Point(-9, 3), Point(9, 3)), Arc(Point(5, 0), Point(-5, 0), Point(0, 0), 5, 1), True),
        (Line(Point(-9, 5), Point(9, 5)), Arc(Point(5, 0), Point(-5, 0), Point(0, 0), 5, 1), False),
        (Line(Point(-9, -3), Point(9, -3)), Arc(Point(5, 0), Point(-5, 0), Point(0, 0), 5, 1), False),
        (Arc(Point(0, 4), Point(4, 0), Point(-1e6, -1e6), 1414216.39, -1), Line(Point(0, 0), Point(9, 9)), True),
        (Arc(Point(5, 0), Point(-5, 0), Point(0, 0), 5, 1), Arc(Point(8, 5), Point(-2, 5), Point(3, 5), 5, -1), True),
        (Arc(Point(5, 0), Point(-5, 0), Point(0, 0), 5, 1), Arc(Point(6, 9), Point(-4, 9), Point(1, 9), 5, 1), False),
    ],
)
def test_lines_and_arcs_cross_within_both_or_not(a: Line | Arc, b: Line | Arc, deep: bool) -> None:
    """Any two of them; touching is not crossing."""
    assert bool(crossings([a, b], 1e-3)) is deep
    assert bool(crossings([b, a], 1e-3)) is deep


def test_loops_nest_to_an_area() -> None:
    """An island in a hole is a part of its own; no loop is no area."""
    rings = [rectangle(20, 20), rectangle(10, 10).reversed(), rectangle(4, 4)]
    area = nested([ring_of(ring, 1e-3) for ring in rings])
    assert area.area == pytest.approx(400 - 100 + 16)
    assert count(area, 1e-3) == (0, 1)
    assert nested([]).is_empty


def test_distances_of_areas() -> None:
    """Of two empty ones 0, of an empty one and another infinite, of squares what their corners are apart."""
    none, square = shapely.Polygon(), shapely.box(0, 0, 9, 9)
    assert apart(none, none) == 0
    assert apart(none, square) == float("inf")
    assert apart(square, shapely.box(0, 0, 9, 10)) == 1


def test_unsound_outlines_are_not_asked_about() -> None:
    """One that crosses itself between arcs, a hole across the rim, a speck; the same number gives the same outline."""
    arched = Outline.from_bulges(
        [BulgeVertex(0, 0, -0.6), BulgeVertex(9, 0, 0), BulgeVertex(9, 2, 0), BulgeVertex(0, 2, 0)]
    )
    assert not is_sound(one(arched))
    assert not is_sound(one(rectangle(9, 9), Outline.circle(Point(4, 0), 2)))
    assert not is_sound(one(rectangle(0.05, 0.05)))
    assert is_sound(PLATE)
    drawn, again = case(7, SHORT), case(7, SHORT)
    assert drawn is not None
    assert drawn == again
    assert replace(drawn.regions[0]) == drawn.regions[0]


def test_loops_of_another_program_that_cross_themselves_are_no_answer() -> None:
    """Others are united, those within others taken out."""
    eight = ring_of(Outline.polygon([(0, 0), (9, 9), (9, 0), (0, 9)]), 1e-3)
    square, small = (ring_of(rectangle(size, size), 1e-3) for size in (9, 3))
    assert _united([[eight]]) == "crosses itself"
    assert _united([[square, small]]).area == pytest.approx(72)
    assert area_of(one(rectangle(9, 9)), 1e-3).area == pytest.approx(81)
