"""Inlay by guide bushings: recess and plug from one opening, and a second template made from the outside of a first.

The recess is routed with the larger bushing. For the plug the smaller bushing runs round the same opening, and what
stands inside the groove is smaller than the opening by half of bushing and bit together on every side. Both are routed
here, and what the command `inlay` says of the pair is compared with the same values.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from published import Published, Source, inch, table
from sources import FHB_INLAY, MARKS, RF_BOWTIE, RF_CALCULATIONS, RF_HELP, RF_INLAY_MATH, RF_TABLE, WOOD_INLAY

from jigtemplates.geometry.measure import deviation
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Region, Regions
from jigtemplates.geometry.shapes import rectangle, round_hole, slot
from jigtemplates.inlay import Pair
from jigtemplates.inlay.pairs import candidates
from jigtemplates.opening import opening_for
from jigtemplates.profiles import Profiles
from jigtemplates.routing import route

Call = Callable[..., Any]


def mm(text: str) -> float:
    """Millimetres of a size as it is written."""
    number, unit = text.split()
    return inch(number) if unit == "in" else float(number)


def pair(bit: str, small: str, large: str, source: Source) -> Published:
    return Published(f"bushings {large} and {small}, {bit} bit", "plug fits recess", source, (bit, small, large), 0.0)


#: Bit, smaller and larger bushing that make plug and recess from one opening; the difference of the two.
PAIRS = (
    pair("5 mm", "10 mm", "20 mm", RF_BOWTIE),
    pair("1/8 in", "1/2 in", "3/4 in", RF_BOWTIE),
    pair("1/8 in", "1/4 in", "1/2 in", FHB_INLAY),
    pair("1/4 in", "1/2 in", "1 in", RF_CALCULATIONS),
)


def second(bushing: str, bit: str) -> Published:
    what = f"3/8 in bushing, 1/8 in bit, then {bushing}, {bit}"
    given = ("3/8 in", "1/8 in", bushing, bit)
    return Published(what, "recess as the first template", RF_TABLE, given, 0.0)


#: Bushing and bit round the outside of a template, then inside the template so made; the difference to the first.
SECOND = (second("5/8 in", "1/8 in"), second("3/4 in", "1/4 in"), second("1 in", "1/2 in"))

#: Bushing and bit; how much wider the opening is than the plug, in all or a side. The sources give the bit; the
#: bushing that makes it so is the smallest of the two-piece style, 5/16 in (ours to say).
LARGER = (
    Published("opening wider than the inlay, 1/8 in bit", "7/16 in", WOOD_INLAY, ("5/16", "1/8", 1), inch("7/16")),
    Published("opening wider a side, 1/8 in bit", "7/32 in", MARKS, ("5/16", "1/8", 2), inch("7/32")),
)

#: Bushing and bit inside a recess itself; how much it leaves standing along the edge.
LIP = (Published("1 in bushing in the recess, 1/2 in bit: lip", "1/4 in", RF_TABLE, ("1", "1/2"), inch("1/4")),)

#: Template hole, bushing and bit; the diameter cut, as published and as it is.
WRONG_CIRCLE = (
    Published(
        "circle of a 100 mm hole, 20 mm bushing, 10 mm bit",
        "less half the bushing, plus half the bit: 95 mm",
        RF_INLAY_MATH,
        (100.0, 20.0, 10.0),
        95.0,
        right=("less the bushing, plus the bit: 90 mm", 90.0),
    ),
)

#: Recess with bushing and bit, plug with bushing and bit; the gap in all, as published and as it is.
WRONG_PAIR = (
    Published(
        "recess 1 in and 1/2 in bit, plug 3/4 in and 1/4 in bit",
        "same offset, so the plug fits",
        RF_HELP,
        ("1 in", "1/2 in", "3/4 in", "1/4 in"),
        0.0,
        right=("plug 1/2 in too small", inch("1/2")),
    ),
)

OPENINGS = {
    "rectangle": rectangle(140, 100, 20),
    "slot": slot(150, 60),
    "round": round_hole(110),
}


def plug_of(opening: Regions, bit: float, bushing: float) -> Regions:
    """What the groove leaves standing inside, when the bushing runs round the opening."""
    return shrink(shrink(opening, bushing / 2), bit / 2)


@pytest.mark.parametrize("shape", ["rectangle", "slot", "round"])
@table(PAIRS)
def test_inlay(row: Published, shape: str) -> None:
    """Recess and plug are the same outline, corners included."""
    bit, small, large = map(mm, row.given)
    opening = (Region(OPENINGS[shape]),)
    recess, plug = route(opening, bit, large), plug_of(opening, bit, small)
    assert deviation(recess, plug) == pytest.approx(row.value, abs=1e-9)
    assert 0 < recess[0].area < opening[0].area


@table(PAIRS)
def test_inlay_from_the_recess(row: Published) -> None:
    """The opening for a wanted recess gives the plug of the same size."""
    bit, small, large = map(mm, row.given)
    wanted = (Region(rectangle(60, 40, bit)),)
    plug = plug_of(opening_for(wanted, bit, large), bit, small)
    assert (plug[0].bounds.width, plug[0].bounds.height) == pytest.approx((60, 40), abs=1e-9)
    assert deviation(plug, wanted) == pytest.approx(row.value, abs=1e-9)


@table(SECOND)
def test_second_template(row: Published) -> None:
    """The recess routed in the second template is the first template again."""
    bushing, bit, next_bushing, next_bit = map(mm, row.given)
    first = (Region(rectangle(200, 150, 10)),)
    opening = grow(grow(first, bushing / 2), bit / 2)
    assert deviation(route(opening, next_bit, next_bushing), first) == pytest.approx(row.value, abs=1e-9)


@table(LARGER)
def test_opening_larger_than_the_inlay(row: Published) -> None:
    """Width and length, in all or a side."""
    bushing, bit, sides = row.given
    assert 2 * Pair(inch(bit), inch(bushing)).beyond / sides == pytest.approx(row.value, abs=1e-9)
    (plug,) = plug_of((Region(rectangle(120, 90, 30)),), inch(bit), inch(bushing))
    assert (120 - plug.bounds.width) / sides == pytest.approx(row.value, abs=1e-9)
    assert (90 - plug.bounds.height) / sides == pytest.approx(row.value, abs=1e-9)


@table(LIP)
def test_lip(row: Published) -> None:
    """The bushing runs along the recess, and the next cut leaves a lip all round."""
    bushing, bit = row.given
    (inner,) = route((Region(rectangle(200, 150, 20)),), inch(bit), inch(bushing))
    assert (200 - inner.bounds.width) / 2 == pytest.approx(row.value, abs=1e-9)
    assert (150 - inner.bounds.height) / 2 == pytest.approx(row.value, abs=1e-9)


@table(WRONG_CIRCLE)
def test_wrong_circle(row: Published) -> None:
    """Half of each is only one side of the circle: the whole difference comes off its diameter."""
    hole, bushing, bit = row.given
    (cut,) = route((Region(round_hole(hole)),), bit, bushing)
    assert row.right is not None
    assert cut.bounds.width == pytest.approx(row.right[1], abs=1e-9)
    assert cut.bounds.width != pytest.approx(row.value, abs=1)


@table(WRONG_PAIR)
def test_wrong_pair(row: Published) -> None:
    """Equal offsets do not make an inlay: the plug's groove lies wholly inside the opening, its bit's width too."""
    bushing, bit, plug_bushing, plug_bit = map(mm, row.given)
    assert bushing - bit == pytest.approx(plug_bushing - plug_bit)  # as the thread says
    opening = (Region(round_hole(inch("4"))),)
    (recess,), (plug,) = route(opening, bit, bushing), plug_of(opening, plug_bit, plug_bushing)
    assert row.right is not None
    gap = recess.bounds.width - plug.bounds.width
    assert gap == pytest.approx(row.right[1], abs=1e-9)
    assert gap != pytest.approx(row.value, abs=1)


@table(PAIRS)
def test_inlay_said(here: Path, call: Call, row: Published) -> None:
    """The command `inlay` calls the pair fitting."""
    bit, small, large = row.given
    said = call("inlay", "--recess", bit, large, "--plug", bit, small)
    assert (said.status, said.err) == (0, "")
    assert "They fit: the plug is as large as the recess." in said.out


@table(PAIRS)
def test_inlay_found(row: Published) -> None:
    """Among the two bushings it is found for its bit, unless one of them is not sold."""
    bit, small, large = row.given
    names = {f"bushing {large}", f"bushing {small}"}
    shipped = [found for found in Profiles().entries("bushings") if found.name in names]
    found = candidates(mm(bit), mm(bit), [one.entry for one in shipped])
    fitting = [(one.recess.name, one.plug.name) for one in found if one.fit.fits]
    assert fitting == ([] if small == "1/4 in" else [(f"bushing {large}", f"bushing {small}")])


@table(SECOND)
def test_second_template_said(here: Path, call: Call, row: Published) -> None:
    """So is the pair for a second template."""
    bushing, bit, next_bushing, next_bit = row.given
    said = call("inlay", "--first", bit, bushing, "--second", next_bit, next_bushing)
    assert (said.status, said.err) == (0, "")
    assert "They fit: the cut of the second is as large as the first." in said.out


@table(WRONG_PAIR)
def test_wrong_pair_said(here: Path, call: Call, row: Published) -> None:
    """A quarter of an inch a side, and what would make it right."""
    bushing, bit, plug_bushing, plug_bit = row.given
    said = call("inlay", "--recess", bit, bushing, "--plug", plug_bit, plug_bushing)
    text = " ".join(said.out.split())
    assert said.status == 1
    assert "They miss by 1/4 in (6.35 mm) a side: the plug leaves a gap of 1/4 in (6.35 mm) a side" in text
    assert "one of these would make them fit: the recess's bushing 1-1/2 in (38.1 mm)" in text
