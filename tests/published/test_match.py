"""What `match` says of pairs that magazines, trade tables and common practice have worked out."""

from fractions import Fraction

import pytest

from jigtemplates.match import Match, Wanted, match
from jigtemplates.match.near import suited
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.profiles import Profiles


def inch(text: str) -> float:
    """Fraction of an inch in mm, exactly 25.4 to the inch (NBS Circular 572, addendum 1960, read)."""
    return float(Fraction(text) * Fraction("25.4"))


def pair(wanted: Wanted, bit: str, bushing: str, clearance: float = 0.1) -> Match:
    """One bit in one bushing, given by their diameters."""
    cutter = Bit.model_validate({"diameter": bit})
    guide = Bushing.model_validate({"diameter": bushing})
    return match(wanted, [cutter], [guide], plate_thickness=None, clearance=clearance)[0]


@pytest.mark.parametrize("clearance", [0.0, 0.1])
def test_a_half_inch_slot_guides_three_eighths(clearance: float) -> None:
    """1/2 in bushing, 3/8 in bit: a slot 1/2 in wide for a mortise 3/8 in wide (woodworking forum, read)."""
    found = pair(Wanted(inch("3/8"), inch("2")), "3/8 in", "1/2 in", clearance)
    assert found.trapped
    assert found.opening is not None
    assert found.predicted is not None
    assert found.opening.width == pytest.approx(inch("1/2") + clearance)
    assert found.predicted.width == pytest.approx(inch("3/8") + clearance)


@pytest.mark.parametrize("bit", ["1/8", "1/4"])
def test_a_slot_as_wide_as_the_bushing_makes_a_groove_as_wide_as_the_bit(bit: str) -> None:
    """7/16 in bushing, any bit (Woodworker's Journal 17(1), 1993, p. 49, read)."""
    found = pair(Wanted(inch(bit), inch("3")), f"{bit} in", "7/16 in", 0.0)
    assert found.opening is not None
    assert found.predicted is not None
    assert found.opening.width == pytest.approx(inch("7/16"))
    assert found.predicted.width == pytest.approx(inch(bit))


def test_thirteen_over_nine_and_a_half_for_a_ten_millimetre_mortise() -> None:
    """Opening 13.5 mm (common practice); the bushing has the half millimetre to move."""
    found = pair(Wanted(10.0, 50.0), "9.5 mm", "13 mm")
    assert found.opening is not None
    assert (found.opening.width, found.side_play, found.trapped) == (13.5, 0.5, False)


def test_three_eighths_over_a_quarter_makes_a_quarter_in_one_pass() -> None:
    """Opening 3/8 in, mortise 1/4 in, one pass (common practice)."""
    found = pair(Wanted(inch("1/4"), inch("1")), "1/4 in", "3/8 in", 0.0)
    assert found.opening is not None
    assert found.opening.width == pytest.approx(inch("3/8"))
    assert found.trapped
    assert "trapped: one pass makes the width" in found.reasons


#: Outside diameter, and offset with a 1/4 in bit, inches, two-piece style: shop tip "router template offsets",
#: alan.net, read. None: not possible, the bore is the bit's own diameter.
QUARTER_INCH_BIT = [
    ("5/16", None), ("3/8", "1/16"), ("7/16", "3/32"), ("1/2", "1/8"), ("5/8", "3/16"), ("3/4", "1/4"),
    ("51/64", "35/128"),
]  # fmt: skip


@pytest.mark.parametrize(("outside", "offset"), QUARTER_INCH_BIT)
def test_shipped_pairs_are_as_possible_as_the_trade_table_says(outside: str, offset: str | None) -> None:
    """A 1/4 in bit in each inch bushing for a cut 1 x 2 in: the opening is twice the offset larger, or cannot be."""
    profiles = Profiles()
    bits = [profiles.find("bits", "straight 1/4 in").entry]
    bushings = [profiles.find("bushings", f"bushing {outside} in").entry]
    (found,) = match(Wanted(inch("1"), inch("2")), bits, bushings, plate_thickness=None)
    assert found.possible == (offset is not None)
    if offset is None:
        assert found.reasons == ("the bit (6.35 mm) does not pass the bushing's bore (6.35 mm)",)
    else:
        assert found.opening is not None
        assert found.opening.width == pytest.approx(inch("1") + 2 * inch(offset))


@pytest.mark.parametrize(
    ("bit", "bushing", "offset"),
    [
        # WOOD magazine, "Understanding Guide Bushings", read as quoted by others
        ("1/2 in", "3/4 in", inch("1/8")),
        # WOOD magazine, "How to Cut Quick, Easy, and Accurate Hinge Mortises", read
        ("1/2 in", "5/8 in", inch("1/16")),
        # HolzWerken (Vincentz), article on the offset of guide bushings, read
        ("10 mm", "30 mm", 10.0),
        # woodworking forum, "Templates made EASY!", read
        ("10 mm", "40 mm", 15.0),
    ],
)
def test_published_offsets_stand_on_every_side_of_the_opening(bit: str, bushing: str, offset: float) -> None:
    """Width and length of the opening are the cut's and twice the offset, the corner's radius once."""
    found = pair(Wanted(60.0, 90.0, corner_radius=15.0), bit, bushing)
    assert found.opening is not None
    assert (found.opening.width, found.opening.length) == pytest.approx((60 + 2 * offset, 90 + 2 * offset))
    assert found.opening.corner_radius == pytest.approx(15 + offset)


@pytest.mark.parametrize("bit", ["1/4", "3/8", "1/2"])
def test_tenon_stock_as_thick_as_the_bit_needs_one_pass(bit: str) -> None:
    """Stock as thick as the bit is wide (common practice): with equal clearance and fit of 0.1 mm.

    0.1 mm is the strongest fit (Elek et al., Eur. J. Wood Wood Prod. 78, 2020, abstract read).
    """
    cutter, guide = Bit.model_validate({"diameter": f"{bit} in"}), Bushing.model_validate({"diameter": "1 in"})
    (found,) = suited([cutter], [guide], width=10.0, clearance=0.1)
    assert found.thickness == pytest.approx(inch(bit))


def test_room_for_chips_is_ranked_as_published() -> None:
    """1/16 in in all is enough (a router manual, read), 1/16 in a side better (B. Hylton, Router Magic, read)."""
    cutter = Bit.model_validate({"diameter": "1/4 in"})
    guides = [
        Bushing.model_validate({"name": name, "diameter": "1/2 in", "bore": bore})
        for name, bore in (("less", "19/64 in"), ("enough", "5/16 in"), ("better", "3/8 in"))
    ]
    found = match(Wanted(10.0, 50.0), [cutter], guides, plate_thickness=None)
    assert [one.bushing.name for one in found] == ["better", "enough", "less"]
