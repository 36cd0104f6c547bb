"""Hinge gains: how much larger the template is, sizes of leaves, and corners."""

from collections.abc import Callable

import pytest
from published import Published, Source, inch, table
from sources import A156, EHOW_HINGES, FHB_HINGES, FULL_MORTISE, HINGE_BITS, JLC_HINGES, WOOD_HINGES

from jigtemplates.report import Report

ReportWith = Callable[..., Report]
PAIR = ("5/8 in", "1/2 in")


def sides(bushing: str, source: Source, says: str) -> Published:
    what = f"template of a gain, {bushing} in bushing, 1/2 in bit"
    return Published(what, f"{says} in larger on three sides", source, (f"{bushing} in", "1/2 in"), inch(says))


#: Bushing and bit; larger on each of three sides. The eHow page gives no pair: 3/4 in and 1/2 in are ours to say.
SIDES = (sides("5/8", WOOD_HINGES, "1/16"), sides("5/8", FHB_HINGES, "1/16"), sides("3/4", EHOW_HINGES, "1/8"))

#: Bushing and bit; how much longer the template is than the gain, in all. The pairs are ours to say.
IN_ALL = (
    Published("template longer than the gain, least", "1/8 in", JLC_HINGES, ("5/8 in", "1/2 in"), inch("1/8")),
    Published("template longer than the gain, most", "1/4 in", JLC_HINGES, ("3/4 in", "1/2 in"), inch("1/4")),
)

#: Lengths of leaves in use.
LEAVES = (
    Published("leaf of a house door", "3-1/2 in", A156, "3-1/2 in", inch("3-1/2")),
    Published("leaf of a house door", "4 in", A156, "4 in", inch("4")),
    Published("leaf in commerce", "4-1/2 in", A156, "4-1/2 in", inch("4-1/2")),
    Published("leaf of a house door, the standard", "3-1/2 in", FULL_MORTISE, "3-1/2 in", inch("3-1/2")),
    Published("leaf in commerce, the standard", "4-1/2 in", FULL_MORTISE, "4-1/2 in", inch("4-1/2")),
)

#: Corner radius; whether a 1/2 in bit leaves anything in the corner to be chopped.
CORNERS = (
    Published("1/4 in corners, 1/2 in bit", "the bit makes them", HINGE_BITS, "1/4 in", False),
    Published("1/4 in corners are in use", "1/4 in", A156, "1/4 in", False),
    Published("5/8 in corners are in use", "5/8 in", A156, "5/8 in", False),
)


def hinge(report_with: ReportWith, length: str, radius: str, pair: tuple[str, str] = PAIR) -> Report:
    """A gain of 1-1/8 in from the edge for a leaf of that length."""
    cut = {"shape": "hinge", "length": length, "width": "1-1/8 in", "corner_radius": radius, "depth": "3/32 in"}
    bushing, bit = pair
    return report_with(cut=cut, tools={"bit": bit, "bushing": bushing}, plate={"width": 200, "height": 140})


@table(SIDES)
def test_hinge_template(report_with: ReportWith, row: Published) -> None:
    """Both ends and the back lie further out by the published offset."""
    box = hinge(report_with, "3-1/2 in", "1/4 in", row.given).template.opening_at_rest[0].bounds
    half = inch("3-1/2") / 2 + row.value
    assert (box.left, box.right) == pytest.approx((-half, half), abs=1e-9)
    assert box.top == pytest.approx(inch("1-1/8") / 2 + row.value, abs=1e-9)


@table(IN_ALL)
def test_hinge_template_in_all(report_with: ReportWith, row: Published) -> None:
    """Along the edge of the door the opening is longer than the leaf by the published size."""
    box = hinge(report_with, "3-1/2 in", "1/4 in", row.given).template.opening_at_rest[0].bounds
    assert box.width - inch("3-1/2") == pytest.approx(row.value, abs=1e-9)


@pytest.mark.parametrize("radius", ["1/4 in", "5/8 in"])
@table(LEAVES)
def test_hinge_gain(report_with: ReportWith, row: Published, radius: str) -> None:
    """The gain comes out as long as the leaf, and the bit leaves the work before its corner begins."""
    cut = hinge(report_with, row.given, radius).predicted
    assert cut is not None
    assert (cut.width, cut.length) == pytest.approx((inch("1-1/8"), row.value), abs=1e-9)
    assert cut.max_deviation < 1e-9
    edge = -inch("1-1/8") / 2
    straights = [s for s in cut.outline[0].outer.segments if abs(s.start.x - s.end.x) < 1e-9]
    assert all(min(s.start.y, s.end.y) < edge - 2.9 for s in straights)  # straight on for 3 mm past the edge
    # "at least half the bit": the bit's axis, 1/4 in above the end of the cut, still comes past the edge
    assert cut.outline[0].bounds.bottom == pytest.approx(edge - 6.35 - 3)


@table(CORNERS)
def test_hinge_corner(report_with: ReportWith, row: Published) -> None:
    """A corner no tighter than half the bit needs no chisel; a square one does."""
    for radius, is_said in ((row.given, row.value), ("0 in", True)):
        codes = [finding.code for finding in hinge(report_with, "3-1/2 in", radius).findings]
        assert ("corner-tighter-than-bit" in codes) is is_said
