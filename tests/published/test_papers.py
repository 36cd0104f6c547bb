"""Shipped papers, colours and kerfs against published values."""

import pytest

from jigtemplates.profiles import Profiles

#: Okabe and Ito, "Color Universal Design", 2002 (values read in several reprints).
OKABE_ITO = {
    "black": "#000000",
    "orange": "#E69F00",
    "sky blue": "#56B4E9",
    "bluish green": "#009E73",
    "yellow": "#F0E442",
    "blue": "#0072B2",
    "vermillion": "#D55E00",
    "reddish purple": "#CC79A7",
}


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        ("a4", 210, 297),  # ISO 216, quoted
        ("a3", 297, 420),  # ISO 216, quoted
        ("letter", 215.9, 279.4),  # 8.5 x 11 in: ASME Y14.1, quoted
        ("tabloid", 279.4, 431.8),  # 11 x 17 in: ASME Y14.1, quoted
    ],
)
def test_papers_have_their_standard_size(name: str, width: float, height: float) -> None:
    """Width and height in mm, upright, as the standards give them."""
    paper = Profiles().find("papers", name).entry
    assert (paper.width.mm, paper.height.mm) == (width, height)


@pytest.mark.parametrize("name", ["a4", "a3", "letter", "tabloid"])
def test_papers_keep_the_margins_a_printer_needs(name: str) -> None:
    """At least 10 mm at the sides, 15 at the foot, tiles overlapping by 10 to 15 mm (output-files rule)."""
    paper = Profiles().find("papers", name).entry
    assert paper.margin.mm >= 10
    assert paper.foot.mm >= 15
    assert 10 <= paper.overlap.mm <= 15


@pytest.mark.parametrize("name", ["laser", "cnc"])
@pytest.mark.parametrize(
    ("role", "colour"),
    [
        ("cut_outside", "vermillion"),
        ("cut_inside", "blue"),
        ("drill", "bluish green"),
        ("engrave", "black"),
        ("mark", "orange"),
    ],
)
def test_machines_get_a_colour_of_the_palette_for_each_role(name: str, role: str, colour: str) -> None:
    """Roles of the laser and the CNC router have the published colours we gave them."""
    assert Profiles().find("processes", name).entry.roles.drawn()[role].colour == OKABE_ITO[colour]


def test_every_colour_is_of_the_palette() -> None:
    """No process uses a colour outside the published palette of Okabe and Ito."""
    pens = [p for found in Profiles().entries("processes") for p in found.entry.roles.drawn().values()]
    assert len(pens) == 18
    assert {pen.colour for pen in pens} <= set(OKABE_ITO.values())


@pytest.mark.parametrize(
    ("sheet", "kerfs"),
    [
        ("acrylic", [(1 / 8, 0.009), (1 / 4, 0.010)]),
        ("plywood", [(1 / 8, 0.008), (1 / 4, 0.010)]),
        ("mdf", [(1 / 8, 0.006), (1 / 4, 0.008)]),
    ],
)
def test_typical_kerfs_are_the_published_full_widths(sheet: str, kerfs: list[tuple[float, float]]) -> None:
    """Thickness and full width removed by a laser in inches: laser cutting table, read."""
    found = Profiles().find("sheets", sheet).entry.kerf["laser"]
    inches = [(round(k.thickness.mm / 25.4, 6), round(k.width.mm / 25.4, 6)) for k in found]
    assert inches == kerfs


@pytest.mark.parametrize("sheet", ["pvc", "polycarbonate", "phenolic", "printed"])
def test_what_must_not_be_lasered_says_so(sheet: str) -> None:
    """PVC and polycarbonate (university workshops, read), phenolic and printed plates (chosen)."""
    entry = Profiles().find("sheets", sheet).entry
    assert not entry.laser
    assert any(caution.startswith("Never laser") for caution in entry.cautions)
