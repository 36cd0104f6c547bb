"""The offset of a guide bushing, (G - B) / 2, as openings that are really made, against published results.

Each opening is what plan and articles describe: the cut shrunk by half the bit's diameter, which is where
the bit's centre may go, grown by half the bushing's. G is the bushing's outside diameter, B the bit's.
"""

from fractions import Fraction

import pytest

from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Bounds, Outline, Region, Regions
from jigtemplates.geometry.shapes import rectangle, round_hole, slot

INCH = 25.4


def inches(text: str) -> float:
    """Millimetres of a fraction of an inch (1 in = 25.4 mm exactly, NBS Circular 572)."""
    return float(Fraction(text) * Fraction("25.4"))


def bounds(regions: Regions) -> Bounds:
    """Box of the only part."""
    (part,) = regions
    return part.bounds


def opening(cut: Outline, bit: float, bushing: float) -> Regions:
    """The opening that makes a cut from inside, trapped or not."""
    return grow(shrink((Region(cut),), bit / 2), bushing / 2)


@pytest.mark.parametrize(
    ("bushing", "bit", "per_side"),
    [
        # WOOD magazine, "Understanding Guide Bushings", read as quoted by others: 3/4 and 1/2 in, 1/8 in
        (inches("3/4"), inches("1/2"), inches("1/8")),
        # WOOD magazine, "How to Cut Quick, Easy, and Accurate Hinge Mortises"; the same pair in Fine
        # Homebuilding, "A Custom Hinge Mortising Template" (read): template 1/16 in larger on each side
        (inches("5/8"), inches("1/2"), inches("1/16")),
        # HolzWerken (Vincentz), article on the offset of guide bushings (read): 30 and 10 mm, 10 mm
        (30, 10, 10),
        # Woodworking forum, "Templates made EASY!" (read): 40 and 10 mm, 15 mm
        (40, 10, 15),
    ],
)
def test_an_opening_is_larger_by_the_offset_on_every_side(bushing: float, bit: float, per_side: float) -> None:
    """Published offsets, on a rectangle of 100 by 60 mm with corners of the bit."""
    box = bounds(opening(rectangle(100, 60, bit / 2), bit, bushing))
    assert box == pytest.approx((-50 - per_side, -30 - per_side, 50 + per_side, 30 + per_side), abs=1e-9)


@pytest.mark.parametrize("bit", ["1/8", "1/4", "5/16"])
def test_a_slot_as_wide_as_the_bushing_cuts_a_groove_as_wide_as_the_bit(bit: str) -> None:
    """A 7/16 in bushing in a 7/16 in slot: Woodworker's Journal 17(1), 1993, p. 49 (read)."""
    bushing = inches("7/16")
    template = (Region(slot(4 * INCH, bushing)),)
    groove = bounds(grow(shrink(template, bushing / 2), inches(bit) / 2))
    assert groove.height == pytest.approx(inches(bit), abs=1e-9)
    assert groove.width == pytest.approx(4 * INCH - bushing + inches(bit), abs=1e-9)


@pytest.mark.parametrize(
    ("bushing", "bit", "mortise", "wide"),
    [
        # Woodworking forum (read): slot 1/2 in wide for a mortise 3/8 in wide, 1/2 in bushing, 3/8 in bit
        (inches("1/2"), inches("3/8"), inches("3/8"), inches("1/2")),
        # Common practice, no source: for a 10 mm mortise an opening of 13.5 mm, 13 mm bushing, 9.5 mm bit
        (13, 9.5, 10, 13.5),
        # Common practice, no source: opening 3/8 in, mortise 1/4 in, one pass, 3/8 in bushing, 1/4 in bit
        (inches("3/8"), inches("1/4"), inches("1/4"), inches("3/8")),
    ],
)
def test_published_openings_of_mortises(bushing: float, bit: float, mortise: float, wide: float) -> None:
    """The opening for the mortise is as wide as published, and the bushing run in it cuts the mortise."""
    wanted = slot(50, mortise)
    made = opening(wanted, bit, bushing)
    assert bounds(made).height == pytest.approx(wide, abs=1e-9)
    routed = grow(shrink(made, bushing / 2), bit / 2)
    assert bounds(routed) == pytest.approx(wanted.bounds, abs=1e-9)


def test_an_outside_template_is_smaller_by_twice_the_offset() -> None:
    """30 and 10 mm: a round template is 20 mm smaller than the work (HolzWerken, Vincentz, read).

    The bushing runs round the template, the bit's centre half a bushing outside it, and the work begins
    half a bit inside that.
    """
    template = (Region(round_hole(180)),)
    work = shrink(grow(template, 30 / 2), 10 / 2)
    assert bounds(work).width == pytest.approx(200, abs=1e-9)
    back = shrink(grow(work, 10 / 2), 30 / 2)
    assert bounds(back).width == pytest.approx(180, abs=1e-9)
    assert back[0].outer.as_circle is not None
