"""Laws of every shape: its template, routed, gives the shape back wherever the bit reaches; against Clipper."""

from collections.abc import Callable

import numpy as np
import pyclipr
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.geometry.measure import deviation, total_area
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Outline, Region, Regions
from jigtemplates.geometry.shapes import (
    arc_slot,
    butterfly_key,
    ellipse,
    hand_hold,
    hinge_gain,
    rectangle,
    regular_polygon,
    round_hole,
    slot,
    uneven_rectangle,
)

PolygonOf = Callable[..., "shapely.Geometry"]

#: Each shape, of a size that a bit of up to 12 mm goes into.
SHAPES = {
    "slot": slot(60, 13),
    "round": round_hole(30),
    "rectangle": rectangle(60, 40, 5),
    "corner radii": uneven_rectangle(60, 40, (0, 5, 14, 3)),
    "ellipse": ellipse(70, 30),
    "upright ellipse": ellipse(30, 70),
    "triangle": regular_polygon(3, 30),
    "pentagon": regular_polygon(5, 40, 3),
    "hexagon": regular_polygon(6, 40),
    "butterfly": butterfly_key(80, 34, 16),
    "round butterfly": butterfly_key(80, 34, 16, 4),
    "hand-hold": hand_hold(100, 30, 8),
    "arc slot": arc_slot(60, 90, 13),
    "tight arc slot": arc_slot(10, 200, 13),
    "hinge": hinge_gain(89, 25, overrun=9, end_radius=6),
}
#: Those that the largest of the bits reaches everywhere, with no corner of wood for a bushing to round off.
REACHED = ("slot", "round", "hand-hold", "arc slot")


def routed(cut: Regions, bit: float, bushing: float) -> tuple[Regions, Regions]:
    """The opening for a cut, and what the bit makes of it."""
    opening = grow(shrink(cut, bit / 2), bushing / 2)
    return opening, grow(shrink(opening, bushing / 2), bit / 2)


def clipper(area: "shapely.Geometry", *distances: float) -> "shapely.Geometry":
    """The area offset by one distance after the other by Clipper: nanometres, arcs to a tenth of a micrometre."""
    paths = [np.array(p.exterior.coords)[:-1] for p in shapely.get_parts(area)]
    for distance in distances:
        engine = pyclipr.ClipperOffset()
        engine.scaleFactor, engine.arcTolerance = 1_000_000, 100.0
        engine.addPaths(paths, pyclipr.JoinType.Round, pyclipr.EndType.Polygon)
        paths = [np.array(p)[:, :2] for p in engine.execute(distance) if len(p) > 2]
    return shapely.union_all([shapely.Polygon(p) for p in paths])


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("bit", "bushing"), [(6, 12), (9.525, 15.875), (12, 30)])
def test_opening_and_cut_are_those_of_another_engine(
    name: str, bit: float, bushing: float, polygon_of: PolygonOf
) -> None:
    """Clipper, shrinking and growing chords of the same shape, finds opening and cut to within a few micrometres."""
    cut = (Region(SHAPES[name]),)
    chords = polygon_of(cut, 1e-4)
    ours = routed(cut, bit, bushing)
    steps = (-bit / 2, bushing / 2, -bushing / 2, bit / 2)
    for mine, taken in zip(ours, (steps[:2], steps), strict=True):
        other = clipper(chords, *taken)
        film = shapely.symmetric_difference(polygon_of(mine, 1e-4), other, grid_size=1e-6)
        assert len(mine) == 1
        assert not other.is_empty
        assert shapely.buffer(film, -0.003).is_empty


@pytest.mark.parametrize("name", REACHED)
@given(bit=st.floats(3, 12), wall=st.floats(1, 20))
@settings(max_examples=10)
def test_what_the_bit_reaches_comes_out_as_asked(name: str, bit: float, wall: float) -> None:
    """Law: a shape without tight corners comes out again to a nanometre, whatever bit and bushing."""
    cut = (Region(SHAPES[name]),)
    _, made = routed(cut, bit, bit + wall)
    assert deviation(made, cut) < 1e-6
    assert total_area(made) == pytest.approx(total_area(cut), abs=1e-5)


@pytest.mark.parametrize("name", [name for name in SHAPES if "butterfly" not in name and name != "tight arc slot"])
@given(bit=st.floats(3, 12), wall=st.floats(1, 20))
@settings(max_examples=5)
def test_nothing_is_cut_that_was_not_asked_for(name: str, polygon_of: PolygonOf, bit: float, wall: float) -> None:
    """Law: but for wood that points into the cut, the cut that comes out lies within the one that was asked for."""
    cut = (Region(SHAPES[name]),)
    _, made = routed(cut, bit, bit + wall)
    assert total_area(made) <= total_area(cut) + 1e-6
    film = shapely.difference(polygon_of(made), polygon_of(cut), grid_size=1e-7)
    assert shapely.buffer(film, -1e-4).is_empty


def test_the_comparison_can_fail(polygon_of: PolygonOf) -> None:
    """A cut made with a bushing 0.02 mm off is told from the right one."""
    cut = (Region(SHAPES["ellipse"]),)
    other = clipper(polygon_of(cut, 1e-4), -3, 6)
    film = shapely.symmetric_difference(polygon_of(routed(cut, 6, 12.02)[0], 1e-4), other, grid_size=1e-6)
    assert not shapely.buffer(film, -0.003).is_empty


def test_an_outline_is_closed(polygon_of: PolygonOf) -> None:
    """Every shape is a closed chain, counter-clockwise, that crosses itself nowhere."""
    for name, outline in SHAPES.items():
        chain: Outline = outline
        following = [*chain.segments[1:], chain.segments[0]]
        assert all(a.end == b.start for a, b in zip(chain.segments, following, strict=True)), name
        assert chain.area > 0
        assert polygon_of((Region(chain),)).is_valid
