"""Shipped guide bushings, and offsets (bushing less bit, halved), against published values."""

from fractions import Fraction

import pytest

from jigtemplates.lengths import parse_length
from jigtemplates.profiles import Profiles

#: Outside diameter, bore and offset with a 1/8 and a 1/4 in bit, inches, two-piece style: shop tip "router
#: template offsets", alan.net, read. None: the bore is no wider than the bit.
TRADE_TABLE = [
    ("5/16", "1/4", "3/32", None),
    ("3/8", "9/32", "1/8", "1/16"),
    ("7/16", "11/32", "5/32", "3/32"),
    ("1/2", "13/32", "3/16", "1/8"),
    ("5/8", "17/32", "1/4", "3/16"),
    ("3/4", "21/32", "5/16", "1/4"),
    ("51/64", "5/8", "43/128", "35/128"),
]


def exact(bushing: str) -> tuple[Fraction, Fraction]:
    """Outside diameter and bore of a shipped inch bushing, in inches."""
    entry = Profiles().find("bushings", f"bushing {bushing} in").entry
    assert entry.bore is not None
    return entry.diameter.exact / Fraction("25.4"), entry.bore.exact / Fraction("25.4")


@pytest.mark.parametrize(("outside", "bore"), [row[:2] for row in TRADE_TABLE])
def test_inch_bushings_have_the_published_bores(outside: str, bore: str) -> None:
    """Outside diameter and bore are the published fractions of an inch, exactly."""
    assert exact(outside) == (Fraction(outside), Fraction(bore))


@pytest.mark.parametrize(("outside", "offset"), [(row[0], row[2]) for row in TRADE_TABLE])
def test_offsets_with_an_eighth_inch_bit(outside: str, offset: str) -> None:
    """Half the difference of bushing and 1/8 in bit is the published offset."""
    bit = Profiles().find("bits", "straight 1/8 in").entry.diameter
    bushing = Profiles().find("bushings", f"bushing {outside} in").entry.diameter
    assert (bushing.exact - bit.exact) / 2 == parse_length(f"{offset} in").exact


@pytest.mark.parametrize(("outside", "offset"), [(row[0], row[3]) for row in TRADE_TABLE if row[3]])
def test_offsets_with_a_quarter_inch_bit(outside: str, offset: str) -> None:
    """Half the difference of bushing and 1/4 in bit is the published offset."""
    bit = Profiles().find("bits", "straight 1/4 in").entry.diameter
    bushing = Profiles().find("bushings", f"bushing {outside} in").entry.diameter
    assert (bushing.exact - bit.exact) / 2 == parse_length(f"{offset} in").exact


def test_a_quarter_inch_bit_does_not_pass_the_smallest_bushing() -> None:
    """The 5/16 in bushing's bore is the 1/4 in bit's own diameter: published as not possible."""
    bit = Profiles().find("bits", "straight 1/4 in").entry.diameter
    assert exact("5/16")[1] == bit.exact / Fraction("25.4")


@pytest.mark.parametrize(
    ("bushing", "bit", "offset"),
    [
        # WOOD magazine, "Understanding Guide Bushings", read as quoted by others
        ("bushing 3/4 in", "straight 1/2 in", "1/8 in"),
        # WOOD magazine, "How to Cut Quick, Easy, and Accurate Hinge Mortises", read: 1/16 in on each side
        ("bushing 5/8 in", "straight 1/2 in", "1/16 in"),
        # HolzWerken (Vincentz), article on the offset of guide bushings, read
        ("bushing 30 mm", "straight 10 mm", "10 mm"),
        # woodworking forum, "Templates made EASY!", read
        ("bushing 40 mm", "straight 10 mm", "15 mm"),
    ],
)
def test_offsets_of_published_pairs(bushing: str, bit: str, offset: str) -> None:
    """The pairs that magazines and forums work out can be named from the profiles and give their offset."""
    outside = Profiles().find("bushings", bushing).entry.diameter
    cutter = Profiles().find("bits", bit).entry.diameter
    assert (outside.exact - cutter.exact) / 2 == parse_length(offset).exact


def test_metric_bushings_run_from_10_to_40_mm() -> None:
    """10 and 40 mm: trade article, read; 12, 14, 17, 20, 24, 27 and 30 mm: memory."""
    metric = [found.entry.diameter.mm for found in Profiles().entries("bushings") if found.name.endswith("mm")]
    assert metric == [10, 12, 14, 17, 20, 24, 27, 30, 40]


def test_no_shipped_bushing_claims_a_stem() -> None:
    """Stems run from 3/16 to 5/8 in whatever the size (WOOD, "Get on Board with Guide Bushings", read)."""
    assert {found.entry.stem for found in Profiles().entries("bushings")} == {None}
