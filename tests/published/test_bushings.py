"""Guide bushings: shipped diameters and bores, stems, and room for chips round the bit."""

from collections.abc import Callable
from fractions import Fraction

import pytest
from published import Published, inch, table
from sources import ALAN, HYLTON, MEMORY, METRIC_BUSHINGS, ROUTER_MANUAL, WOOD_ON_BOARD

from jigtemplates.checks.bore import BETTER_ROOM, LEAST_ROOM
from jigtemplates.match import Wanted, match
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.profiles import Profiles

Said = Callable[..., list[tuple[str, str, str]]]


def bore(outside: str, inside: str) -> Published:
    value = (Fraction(outside), Fraction(inside))
    return Published(f"bore of the {outside} in bushing", f"{inside} in", ALAN, f"bushing {outside} in", value)


#: Two-piece style: outside diameter and bore, inches.
BORES = (
    bore("5/16", "1/4"),
    bore("3/8", "9/32"),
    bore("7/16", "11/32"),
    bore("1/2", "13/32"),
    bore("5/8", "17/32"),
    bore("3/4", "21/32"),
    bore("51/64", "5/8"),
)

#: Pairs the same table calls impossible, the bore being no wider than the bit.
IMPOSSIBLE = (Published("1/4 in bit in the 5/16 in bushing", "not possible", ALAN, ("1/4 in", "5/16 in"), False),)

#: Shipped metric diameters.
METRIC = (
    Published("smallest and largest metric bushing", "10 and 40 mm", METRIC_BUSHINGS, (0, -1), (10, 40)),
    Published(
        "metric bushings between",
        "12, 14, 17, 20, 24, 27, 30 mm",
        MEMORY,
        tuple(range(1, 8)),
        (12, 14, 17, 20, 24, 27, 30),
    ),
)

#: Stem, and whether it fits a template of 1/4 in, than which it must be shorter; stems run from 3/16 to 5/8 in.
STEMS = (
    Published("stem of 3/16 in, template of 1/4 in", "shorter: fits", WOOD_ON_BOARD, "3/16 in", True),
    Published("stem of 5/8 in, template of 1/4 in", "longer: does not fit", WOOD_ON_BOARD, "5/8 in", False),
)

#: Bore less bit.
ROOM = (
    Published("bit smaller than the bore, at least", "1/16 in", ROUTER_MANUAL, LEAST_ROOM, inch("1/16")),
    Published("better, between bit and bushing", "1/16 in a side", HYLTON, BETTER_ROOM, 2 * inch("1/16")),
)


@table(BORES)
def test_bore(row: Published) -> None:
    """Outside diameter and bore of the shipped bushing are the published fractions of an inch, exactly."""
    entry = Profiles().find("bushings", row.given).entry
    assert entry.bore is not None
    assert (entry.diameter.exact / Fraction("25.4"), entry.bore.exact / Fraction("25.4")) == row.value


@table(IMPOSSIBLE)
def test_bit_that_does_not_pass(said: Said, row: Published) -> None:
    """`match` calls it impossible, and a job with it stops."""
    bit, bushing = row.given
    profiles = Profiles()
    bits = [profiles.find("bits", f"straight {bit}").entry]
    bushings = [profiles.find("bushings", f"bushing {bushing}").entry]
    (found,) = match(Wanted(25.4, 50.8), bits, bushings, plate_thickness=None)
    assert found.possible is row.value
    assert found.reasons == ("the bit (6.35 mm) does not pass the bushing's bore (6.35 mm)",)
    assert len(said("bit-does-not-pass-bore", tools={"bit": bit, "bushing": bushing})) == 1


@table(BORES)
def test_other_bits_pass(said: Said, row: Published) -> None:
    """A 1/8 in bit passes every bore of the table, as its offsets suppose."""
    tools = {"bit": "1/8 in", "bushing": row.given}
    assert said("bit-does-not-pass-bore", tools=tools, cut={"width": 30}) == []


@table(METRIC)
def test_metric_bushing(row: Published) -> None:
    """The shipped metric bushings are those."""
    shipped = [found.entry.diameter.mm for found in Profiles().entries("bushings") if found.name.endswith("mm")]
    assert len(shipped) == 9
    assert tuple(shipped[i] for i in row.given) == row.value


@table(STEMS)
def test_stem(said: Said, row: Published) -> None:
    """A stem that is not shorter than the template is found out."""
    tools = {"bushing": {"diameter": "1/2 in", "bore": "13/32 in", "stem": row.given}}
    assert (said("stem-too-long", tools=tools, plate={"thickness": "1/4 in"}) == []) is row.value


def test_no_shipped_bushing_claims_a_stem() -> None:
    """They are sold with stems of 3/16 to 5/8 in whatever the size: none can be given."""
    assert {found.entry.stem for found in Profiles().entries("bushings")} == {None}


@table(ROOM)
def test_room_for_chips(said: Said, row: Published) -> None:
    """The room is the published one, and a bore with that much is not called too little."""
    assert row.given == row.value
    bushing = {"diameter": "3/4 in", "bore": f"{6.35 + row.value} mm"}
    found = said("chip-room", tools={"bit": "1/4 in", "bushing": bushing})
    assert not [sentence for _, _, sentence in found if sentence.startswith("only")]


def test_less_room_is_said_and_ranked_last(said: Said) -> None:
    """13/32 in less 3/8 in is 1/32 in; `match` puts the better room first and too little last."""
    assert said("chip-room")[0][2].startswith("only 0.79 mm between bit and bore")
    guides = [
        Bushing.model_validate({"name": name, "diameter": "1/2 in", "bore": width})
        for name, width in (("less", "19/64 in"), ("enough", "5/16 in"), ("better", "3/8 in"))
    ]
    found = match(Wanted(10.0, 50.0), [Bit.model_validate({"diameter": "1/4 in"})], guides, plate_thickness=None)
    assert [one.bushing.name for one in found] == ["better", "enough", "less"]


@pytest.mark.parametrize(("stem", "fits"), [("15/64 in", True), ("1/4 in", False)])
def test_the_edge_of_a_stem_that_fits(said: Said, stem: str, fits: bool) -> None:
    """Shorter than the plate, not as long."""
    tools = {"bushing": {"diameter": "1/2 in", "bore": "13/32 in", "stem": stem}}
    assert (said("stem-too-long", tools=tools, plate={"thickness": "1/4 in"}) == []) is fits
