"""The laws of laying rectangles, and how few sheets it takes beside a bound and another library."""

import math
import random
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import pytest
import rectpack  # type: ignore[import-untyped]
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.sheets.packing import Blank, Packing, Piece, pack

#: Rounding of places to nanometres, mm.
NEAR = 2e-6


class Box(NamedTuple):
    """Where a piece lies, mm."""

    left: float
    bottom: float
    right: float
    top: float


def boxes(packing: Packing, pieces: Sequence[Piece], sheet: int) -> list[Box]:
    """The boxes of the pieces on a sheet."""
    found = []
    for spot in packing.sheets[sheet].spots:
        width, height, _ = pieces[spot.piece]
        if spot.turned:
            width, height = height, width
        found.append(Box(spot.x, spot.y, spot.x + width, spot.y + height))
    return found


def apart(a: Box, b: Box) -> float:
    """The larger of the distances between two boxes along x and y; negative where they overlap."""
    return max(a.left - b.right, b.left - a.right, a.bottom - b.top, b.bottom - a.top)


SIDE = st.floats(20, 400).map(lambda mm: round(mm, 2))
PIECES = st.lists(st.builds(Piece, SIDE, SIDE, st.booleans()), min_size=1, max_size=25)
BLANKS = st.lists(
    st.builds(lambda w, h, n: Blank(w, h, w * h, n), SIDE, SIDE, st.none() | st.integers(1, 3)), min_size=1, max_size=3
)
GAP = st.floats(0, 12).map(lambda mm: round(mm, 2))


@settings(max_examples=40)
@given(pieces=PIECES, blanks=BLANKS, gap=GAP, straight=st.booleans())
def test_nothing_is_lost_and_nothing_lies_too_near(
    pieces: list[Piece], blanks: list[Blank], gap: float, straight: bool
) -> None:
    """Each piece lies once or is left; within its sheet, no nearer than the gap, turned only where it may be."""
    packing = pack(pieces, blanks, gap, straight_cuts=straight)
    placed = [spot.piece for sheet in packing.sheets for spot in sheet.spots]
    assert sorted([*placed, *packing.left]) == list(range(len(pieces)))
    for number, sheet in enumerate(packing.sheets):
        blank, there = blanks[sheet.blank], boxes(packing, pieces, number)
        assert sheet.spots
        assert all(box.left >= 0 and box.bottom >= 0 for box in there)
        assert all(box.right <= blank.width + NEAR and box.top <= blank.height + NEAR for box in there)
        assert all(apart(a, b) >= gap - NEAR for i, a in enumerate(there) for b in there[:i])
        assert not any(spot.turned and not pieces[spot.piece].may_turn for spot in sheet.spots)
    for i, blank in enumerate(blanks):
        assert blank.most is None or sum(sheet.blank == i for sheet in packing.sheets) <= blank.most


@settings(max_examples=40)
@given(pieces=PIECES, blank=st.builds(lambda w, h: Blank(w, h, w * h), SIDE, SIDE), gap=GAP)
def test_only_what_is_too_large_is_left_of_endless_stock(pieces: list[Piece], blank: Blank, gap: float) -> None:
    """What is left fits the empty sheet in no way it may lie; what is laid fits in one."""
    left = set(pack(pieces, [blank], gap).left)
    for number, (width, height, may_turn) in enumerate(pieces):
        ways = [(width, height), *([(height, width)] if may_turn else [])]
        assert (number in left) is not any(w <= blank.width and h <= blank.height for w, h in ways)


def can_be_sawn(there: Sequence[Box], gap: float) -> bool:
    """Whether cuts right across part the boxes one from another (tried in every way, each part on its own)."""
    if len(there) < 2:
        return True
    for low, high in ((0, 2), (1, 3)):
        order = sorted(there, key=lambda box: box[low])
        reach = -math.inf
        for i, box in enumerate(order):
            if i and box[low] >= reach + gap - NEAR:
                return can_be_sawn(order[:i], gap) and can_be_sawn(order[i:], gap)
            reach = max(reach, box[high])
    return False


@settings(max_examples=40)
@given(pieces=PIECES, gap=GAP)
def test_straight_cuts_part_every_sheet(pieces: list[Piece], gap: float) -> None:
    """With straight_cuts a saw as wide as the gap can part each sheet by cuts right across."""
    packing = pack(pieces, [Blank(500, 450, 225_000)], gap, straight_cuts=True)
    for number in range(len(packing.sheets)):
        assert can_be_sawn(boxes(packing, pieces, number), gap)


def test_the_saw_check_can_fail() -> None:
    """Four pieces round a fifth, like a pinwheel, are parted by no cut right across."""
    wheel = [Box(0, 0, 20, 10), Box(20, 0, 30, 20), Box(10, 20, 30, 30), Box(0, 10, 10, 30), Box(10, 10, 20, 20)]
    assert not can_be_sawn(wheel, 0.0)


def test_a_pinwheel_is_found() -> None:
    """Five pieces that fill a sheet only like a pinwheel lie on one; where a saw is to part them they take two."""
    sides = ((20, 10), (10, 20), (20, 10), (10, 20), (10, 10))
    pieces, blank = [Piece(*side, False) for side in sides], Blank(30, 30, 900)
    assert len(pack(pieces, [blank], 0.0).sheets) == 1
    assert len(pack(pieces, [blank], 0.0, straight_cuts=True).sheets) == 2


def random_set(seed: int) -> tuple[list[Piece], Blank, float]:
    """Plates such as a shop has, on a sheet of a size it buys."""
    dice = random.Random(seed)
    width, height = dice.choice([(590, 390), (590, 290), (1210, 600)])
    sides = [(round(dice.uniform(80, 250), 1), round(dice.uniform(80, 250), 1)) for _ in range(dice.choice([30, 60]))]
    return [Piece(*side) for side in sides], Blank(width, height, width * height), dice.choice([3.0, 8.0])


def bound(pieces: Sequence[Piece], blank: Blank, gap: float) -> int:
    """No fewer sheets can do: the area of pieces with their gaps, over that of a sheet with one more gap."""
    needed = math.fsum((piece.width + gap) * (piece.height + gap) for piece in pieces)
    return math.ceil(needed / ((blank.width + gap) * (blank.height + gap)) - 1e-9)


@pytest.mark.parametrize("seed", range(8))
def test_few_sheets_are_used(seed: int) -> None:
    """On random sets never below the area's bound, and at most a fifth and one sheet above it."""
    pieces, blank, gap = random_set(seed)
    least, used = bound(pieces, blank, gap), len(pack(pieces, [blank], gap).sheets)
    assert least <= used <= 1.2 * least + 1


def others(pieces: Sequence[Piece], blank: Blank, gap: float) -> Iterator[int]:
    """How many sheets rectpack takes in its usual ways; in thousandths of a millimetre, for it wants whole numbers."""
    for way in (rectpack.MaxRectsBssf, rectpack.MaxRectsBl, rectpack.GuillotineBssfSas, rectpack.SkylineMwfl):
        packer = rectpack.newPacker(mode=rectpack.PackingMode.Offline, pack_algo=way, rotation=True)
        for number, piece in enumerate(pieces):
            packer.add_rect(round((piece.width + gap) * 1000), round((piece.height + gap) * 1000), number)
        packer.add_bin(round((blank.width + gap) * 1000), round((blank.height + gap) * 1000), count=float("inf"))
        packer.pack()
        assert len(packer.rect_list()) == len(pieces)
        yield len(packer)


@pytest.mark.parametrize("seed", range(8))
def test_no_more_sheets_than_another_library(seed: int) -> None:
    """rectpack 0.2.2 in four of its ways never needs fewer sheets on these sets."""
    pieces, blank, gap = random_set(seed)
    assert len(pack(pieces, [blank], gap).sheets) <= min(others(pieces, blank, gap))


def test_what_fits_exactly_does_fit() -> None:
    """Four plates of 5-1/2 in and three gaps of 1/2 in are 23-1/2 in; with 0.01 mm less it takes a second sheet."""
    pieces = [Piece(5.5 * 25.4, 100.0, False)] * 4
    assert len(pack(pieces, [Blank(23.5 * 25.4, 100.0, 1.0)], 0.5 * 25.4).sheets) == 1
    assert len(pack(pieces, [Blank(23.5 * 25.4 - 0.01, 100.0, 1.0)], 0.5 * 25.4).sheets) == 2


def test_pieces_are_turned_where_that_helps_and_may_be() -> None:
    """100 x 300 on 400 x 120 lies only turned."""
    blank = Blank(400, 120, 48_000)
    assert pack([Piece(100, 300)], [blank], 3).sheets[0].spots[0].turned is True
    assert pack([Piece(100, 300, False)], [blank], 3).left == (0,)


def test_of_two_sizes_the_least_area_is_used() -> None:
    """Five plates of 100 x 100: four on 210 x 210, and the fifth on 110 x 110."""
    blanks = [Blank(210, 210, 44_100), Blank(110, 110, 12_100)]
    packing = pack([Piece(100, 100)] * 5, blanks, 5)
    assert sorted(len(sheet.spots) for sheet in packing.sheets) == [1, 4]
    assert sorted(sheet.blank for sheet in packing.sheets) == [0, 1]


@pytest.mark.parametrize("seed", range(4))
def test_a_second_size_costs_no_more_sheet(seed: int) -> None:
    """Where two sizes can be had, no more area is used than with the better one alone."""
    pieces, blank, gap = random_set(seed)
    other = Blank(450, 450, 202_500)

    def area(*kinds: Blank) -> float:
        return math.fsum(kinds[sheet.blank].area for sheet in pack(pieces, kinds, gap).sheets)

    assert area(blank, other) <= min(area(blank), area(other))


def test_no_more_sheets_than_there_are() -> None:
    """Of two sheets for one plate each and five plates three are left."""
    packing = pack([Piece(100, 100)] * 5, [Blank(110, 110, 12_100, 2)], 5)
    assert (len(packing.sheets), packing.left) == (2, (2, 3, 4))


def test_equal_plates_lie_in_rows() -> None:
    """Six of 100 x 80 on 330 x 250: two rows of three from the lower left, none turned."""
    packing = pack([Piece(100, 80)] * 6, [Blank(330, 250, 82_500)], 10)
    spots = {(spot.x, spot.y, spot.turned) for spot in packing.sheets[0].spots}
    assert spots == {(x, y, False) for x in (0, 110, 220) for y in (0, 90)}


def test_no_pieces_or_no_sheets() -> None:
    """Nothing to lay takes no sheet; without any sheet all is left."""
    assert pack([], [Blank(100, 100, 10_000)], 3) == ((), ())
    assert pack([Piece(10, 10)], [], 3) == ((), (0,))


def test_the_same_set_is_laid_the_same_way() -> None:
    """Twice the same input, twice the same places."""
    pieces, blank, gap = random_set(3)
    assert pack(pieces, [blank], gap) == pack(pieces, [blank], gap)


def test_of_very_many_pieces_some_ways_are_tried() -> None:
    """Fifteen hundred equal plates still find their places, 20 on a sheet."""
    packing = pack([Piece(100, 100)] * 1500, [Blank(545, 440, 239_800)], 10)
    assert [len(sheet.spots) for sheet in packing.sheets] == [20] * 75
