"""Pairs as lines for a terminal."""

from typing import Any

from jigtemplates.match import Wanted, match
from jigtemplates.match.near import suited
from jigtemplates.match.text import match_lines, tenon_lines
from jigtemplates.parameters.entries import Bit, Bushing

SLOT = Wanted(10.0, 50.0, 20.0)


def bit(diameter: float, **known: Any) -> Bit:
    return Bit.model_validate({"diameter": diameter, **known}, context={"unit": "mm"})


def bushing(diameter: float, **known: Any) -> Bushing:
    return Bushing.model_validate({"diameter": diameter, **known}, context={"unit": "mm"})


def test_lines_show_a_pair_with_its_sizes_and_reasons() -> None:
    """Number, names, opening, cut and passes in a row, why it ranks there under it."""
    found = match(SLOT, [bit(8, cutting_length=25)], [bushing(14, bore=11, stem=5)], plate_thickness=6.0)
    assert list(match_lines(SLOT, found)) == [
        "1 of 1 pair can make a slot 10 x 50 mm, 20 mm deep",
        "     bit   bushing  opening     cut made    passes",
        "  1  8 mm  14 mm    16 x 56 mm  10 x 50 mm  5",
        "     2 mm side play: go round the edge to make the width; its cutting edges (25 mm) reach the depth;",
        "     3 mm between bit and bore: enough for the chips; the stem (5 mm) suits the plate",
    ]


def test_lines_say_once_what_is_true_of_all() -> None:
    """Shared reasons follow the table; equal diameters are one row."""
    found = match(
        Wanted(10.0), [bit(8), bit(8, shank=6)], [bushing(14, bore=12), bushing(20, bore=12)], plate_thickness=None
    )
    assert list(match_lines(Wanted(10.0), found)) == [
        "2 of 2 pairs can make a round of 10 mm, best first",
        "     bit   bushing  opening    cut made   passes",
        "  1  8 mm  14 mm    dia 16 mm  dia 10 mm  -",
        "     1 more of these diameters",
        "  2  8 mm  20 mm    dia 22 mm  dia 10 mm  -",
        "     1 more of these diameters",
        "  All of these: 2 mm side play: go round the edge to make the width; 4 mm between bit and bore:",
        "  ample room for chips",
    ]


def test_lines_show_ten_and_count_the_rest() -> None:
    """Ten pairs and how many more; --all shows every one, and those that cannot with why."""
    bits = [bit(5 + n / 4) for n in range(12)] + [bit(11)]
    found = match(SLOT, bits, [bushing(16, bore=14)], plate_thickness=None)
    some, every = list(match_lines(SLOT, found)), list(match_lines(SLOT, found, show_all=True))
    assert "  … and 2 more (--all shows them)" in some
    assert "  1 pair cannot (--all says why)" in some
    assert [line.split()[:2] for line in every if line.startswith("  12 ")] == [["12", "5.0"]]
    assert every[-3:] == ["Not possible:", "  11 mm in 16 mm", "      the bit (11 mm) is wider than the cut (10 mm)"]


def test_lines_for_a_cut_that_none_can_make_say_why() -> None:
    """Bushings that fail with one bit for one reason are one line."""
    wanted = Wanted(4.0, 30.0, corner_radius=1.0)
    found = match(wanted, [bit(8)], [bushing(14), bushing(17), bushing(20)], plate_thickness=None)
    assert list(match_lines(wanted, found)) == [
        "0 of 3 pairs can make a rectangle 4 x 30 mm, corners r 1 mm",
        "Not possible:",
        "  8 mm in 14 mm and 2 others",
        "      the bit (8 mm) is wider than the cut (4 mm); the corners (1 mm) are tighter than the bit's",
        "      radius (4 mm)",
    ]


def test_sizes_are_in_inches_for_a_person_who_writes_inches() -> None:
    """The head, the opening and the tenons; 12.7 + 0.1 and 9.525 + 0.1 mm are 0.504 and 0.379 in."""
    wanted = Wanted(9.525, 25.4, 12.7)
    found = match(wanted, [bit(9.525)], [bushing(12.7)], plate_thickness=None)
    lines = list(match_lines(wanted, found, inches=True))
    assert lines[0] == "1 of 1 pair can make a slot 3/8 x 1 in, 1/2 in deep"
    assert "0.504 x 1-1/8 in" in lines[2]
    assert "0.379 x 1 in" in lines[2]
    suits = suited([bit(9.525)], [bushing(12.7)], width=9.525)
    assert list(tenon_lines(suits, 0.1, inches=True)) == [
        "Tenons that suit a bit exactly, width in one pass (thickness = bit + clearance 0.004 in - fit 0.004 in):",
        "  3/8 in thick with 9.525 mm, mortise 0.379 in wide",
    ]
