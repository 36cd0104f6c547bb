"""Our own files read back: what `make` writes is the same outline again, through both readers."""

import math
from collections.abc import Callable
from typing import Any, Literal

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawing import Drawing, Item, Pen, Role
from jigtemplates.geometry.offset import grow
from jigtemplates.geometry.outline import Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle, slot
from jigtemplates.imports.outline_file import outline_of
from jigtemplates.writers.dxf import write_dxf
from jigtemplates.writers.svg import write_svg

PENS = {role: Pen(role.value.upper(), "#000000", 0.1) for role in Role}


def drawing(region: Region) -> Drawing:
    """The region's rings, moved on to a page of their size."""
    box = region.bounds
    items = tuple(Item(Role.CUT_INSIDE, ring.moved(-box.left, -box.bottom)) for ring in region.rings)
    return Drawing(items, box.width, box.height)


def centred(region: Region) -> Region:
    """The region with the middle of its box at the origin."""
    x, y = region.bounds.center
    return Region(region.outer.moved(-x, -y), tuple(h.moved(-x, -y) for h in region.holes))


def polygon(region: Region) -> "shapely.Geometry":
    """On chords of a tenth of a micrometre."""
    return shapely.Polygon(region.outer.flattened(1e-4), [h.flattened(1e-4) for h in region.holes])


def assert_same(found: Region, wanted: Region, tolerance: float = 1e-5) -> None:
    """As many segments of each kind, and nothing between them thicker than tolerance, mm."""
    wanted = centred(wanted)
    assert len(found.holes) == len(wanted.holes)
    film = shapely.symmetric_difference(polygon(found), polygon(wanted), grid_size=1e-7)
    assert shapely.buffer(film, -tolerance - 1e-4).is_empty
    assert found.area == pytest.approx(wanted.area, abs=2 * tolerance * sum(r.length for r in wanted.rings))
    assert sum(len(r.segments) for r in found.rings) == sum(len(r.segments) for r in wanted.rings)


def hooks(seed: list[tuple[int, int]], radius: float) -> Region:
    """A star about the origin with as many corners as seeds, its corners rounded, a slot or circle as a hole."""
    count = len(seed)
    corners = [
        (r * math.cos(math.tau * (i + d / 100) / count), r * math.sin(math.tau * (i + d / 100) / count))
        for i, (r, d) in enumerate(seed)
    ]
    (body,) = grow((Region(Outline.polygon(corners)),), radius)
    hole = slot(9, 4).rotated(30) if count % 2 else Outline.circle(Point(1, 1), 3)
    return Region(body.outer, (hole.turned(False),))


STARS = st.lists(st.tuples(st.integers(12, 60), st.integers(0, 60)), min_size=3, max_size=9)
RADII = st.floats(0.5, 8).map(lambda r: round(r, 3))


@settings(max_examples=25)
@given(STARS, RADII)
def test_our_svg_reads_back(seed: list[tuple[int, int]], radius: float) -> None:
    """An SVG of ours, arcs cut in pieces and begun mid-straight, is the outline it was made from."""
    region = hooks(seed, radius)
    data = write_svg(drawing(region), PENS, title="t")
    assert_same(outline_of(data, "a.svg"), region)


@settings(max_examples=25)
@given(STARS, RADII, st.sampled_from(["bulges", "pieces"]), st.sampled_from(["mm", "in"]))
def test_our_dxf_reads_back(
    seed: list[tuple[int, int]], radius: float, arcs: Literal["bulges", "pieces"], unit: Literal["mm", "in"]
) -> None:
    """A DXF of ours, in either unit, as polylines or in pieces, is the outline it was made from."""
    region = hooks(seed, radius)
    data = write_dxf(drawing(region), PENS, unit=unit, arcs=arcs)
    assert_same(outline_of(data, "a.dxf"), region)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_our_oldest_dxf_asks_for_its_unit(unit: Any, faults: Callable[..., tuple[str, ...]]) -> None:
    """R12 cannot say its unit, so it is asked for; then it is the same outline."""
    region = Region(rectangle(40, 20, 3))
    data = write_dxf(drawing(region), PENS, unit=unit, version="R12")
    assert faults(data, "a.dxf") == ('a.dxf: does not say its unit (write units = "mm" or units = "in")',)
    assert_same(outline_of(data, "a.dxf", unit=unit), region)


def test_the_comparison_can_fail() -> None:
    """An outline 0.001 mm larger is told from the right one."""
    region = Region(rectangle(40, 20, 3))
    with pytest.raises(AssertionError):
        assert_same(centred(Region(rectangle(40.002, 20.002, 3))), region)
