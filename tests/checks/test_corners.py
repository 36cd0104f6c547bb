"""Corners for each shape: which the bit leaves round, which wood it takes off, and what is advised."""

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]

KEY = {"shape": "butterfly", "width": 30, "length": 80, "waist": 16, "depth": 5}
ARC = {"shape": "arc-slot", "radius": 20, "span": 120, "width": 12, "depth": 5}
HINGE = {"shape": "hinge", "width": 25, "length": 76, "depth": 2.5}
POLYGON = {"shape": "polygon", "sides": 6, "across": 30, "depth": 5}
ELLIPSE = {"shape": "ellipse", "width": 20, "length": 60, "depth": 5}
UNEVEN = {"shape": "rectangle", "width": 40, "length": 60, "corner_radii": [4, 5, 14, 3], "depth": 5}


def test_a_polygon(said: Said) -> None:
    """All six corners: b (1 / sin 60° - 1) short; six times b² (tan 30° - pi / 6) of wood; b = 4.7625."""
    # 4.7625 * 0.154701 = 0.7368; 6 * 22.68141 * (0.577350 - 0.523599) = 7.3150
    assert said("corner-tighter-than-bit", cut=POLYGON) == [
        (
            "warning",
            "cut.corner_radius",
            "the bit leaves all 6 corners round, radius 4.763 mm, up to 0.74 mm short of the cut (7.31 mm² in all): "
            "chisel them out, round the corners of what goes in to 4.763 mm, or set cut.corner_radius to 4.763 mm",
        )
    ]
    assert said("corner-tighter-than-bit", cut={**POLYGON, "corner_radius": 4.763}) == []


def test_a_polygon_as_narrow_as_the_bit(said: Said) -> None:
    """There no corner radius would do: a round is advised."""
    ((_, _, sentence),) = said("corner-tighter-than-bit", cut={**POLYGON, "across": "3/8 in"})
    assert sentence.endswith('or set cut.shape to "round"')


def test_a_butterfly_key(said: Said) -> None:
    """Four corners of 90° - atan(7/40) = 80.074°: b (1 / sin 40.037° - 1) = 2.64 mm short."""
    # one corner keeps b² (1 / tan 40.037° - (pi - 1.39755) / 2) = 22.68141 * (1.190199 - 0.872021) = 7.21668
    ((level, where, sentence),) = said("corner-tighter-than-bit", cut=KEY)
    assert (level, where) == ("warning", "cut.corner_radius")
    assert sentence == (
        "the bit leaves the four corners at the ends of the key round, radius 4.763 mm, up to 2.64 mm short of the cut "
        "(28.87 mm² in all): chisel them out, round the key's corners to 4.763 mm, or set cut.corner_radius to 4.763 mm"
    )
    assert said("corner-tighter-than-bit", cut={**KEY, "corner_radius": 4.763}) == []


def test_a_butterfly_key_with_no_room_for_the_radius(said: Said) -> None:
    """Sides that lean by 59° leave no room for corners of 4.7625: a smaller bit is advised."""
    ((_, _, sentence),) = said("corner-tighter-than-bit", cut={**KEY, "length": 12, "waist": 10})
    assert sentence.endswith("round the key's corners to 4.763 mm, or use a smaller bit")


def test_a_square_hinge(said: Said) -> None:
    """Two corners at the back: (sqrt 2 - 1) b = 1.97 mm short, 2 (1 - pi/4) b² = 9.73 mm²; none in the air."""
    assert said("corner-tighter-than-bit", cut=HINGE) == [
        (
            "warning",
            "cut.corner_radius",
            "the bit leaves the two corners at the back of the gain round, radius 4.763 mm, where the leaf's are "
            "square: up to 1.97 mm short of the cut (9.73 mm² in all): chisel them out, round the leaf's corners to "
            "4.763 mm, or use a hinge with corners of 1/4 in and set cut.corner_radius to it",
        )
    ]


@pytest.mark.parametrize(
    ("bit", "radius", "words"),
    [
        ("1/2 in", "4 mm", "where the leaf's are 4 mm: up to 0.97 mm short"),
        ("1/2 in", "4 mm", "or use a hinge with corners of 1/4 in and set"),
        ("3/4 in", "1/4 in", "or use a hinge with corners of 5/8 in and set"),
        ("1-1/2 in", "5/8 in", "round the leaf's corners to 19.05 mm"),
    ],
)
def test_a_hinge_with_round_corners(said: Said, bit: str, radius: str, words: str) -> None:
    """The next radius that hinges are sold with is named, as long as there is one."""
    tools = {"bit": bit, "bushing": "2 in"}
    ((_, _, sentence),) = said("corner-tighter-than-bit", cut={**HINGE, "corner_radius": radius}, tools=tools)
    assert words in sentence
    assert ("use a hinge" in sentence) == (bit != "1-1/2 in")


def test_a_hinge_whose_corners_the_bit_makes(said: Said) -> None:
    """1/4 in corners and a 1/2 in bit: nothing is left, and nothing is said."""
    cut, tools = {**HINGE, "corner_radius": "1/4 in"}, {"bit": "1/2 in", "bushing": "5/8 in"}
    assert said("corner-tighter-than-bit", cut=cut, tools=tools) == []


def test_an_ellipse(said: Said) -> None:
    """20 by 60 has ends of radius 10² / 30 = 3.333: a bit of 9.525 does not follow, one of 6.6 does."""
    ((level, where, sentence),) = said("corner-tighter-than-bit", cut=ELLIPSE)
    assert (level, where) == ("warning", "tools.bit")
    assert sentence.startswith("the ellipse's ends are tighter (radius 3.333 mm) than the bit (radius 4.763 mm), which")
    assert sentence.endswith(
        "use a bit of at most 6.67 mm, carve them out, or shape what goes in to the cut that is made"
    )
    assert said("corner-tighter-than-bit", cut=ELLIPSE, tools={"bit": 6.6, "bushing": 12.7}) == []


@pytest.mark.parametrize(
    ("radii", "words"),
    [
        (
            [4, 5, 14, 3],
            "the bit leaves the lower left and upper left corners round, radius 4.763 mm, up to 0.73 mm short",
        ),
        ([4, 4, 14, 3], "the bit leaves the lower left, lower right and upper left corners round"),
        ([5, 5, 14, 3], "the bit leaves the upper left corner round"),
    ],
)
def test_uneven_corners(said: Said, radii: list[float], words: str) -> None:
    """Those that are too tight are named."""
    ((_, where, sentence),) = said("corner-tighter-than-bit", cut={**UNEVEN, "corner_radii": radii})
    assert where == "cut.corner_radii"
    assert sentence.startswith(words)
    assert sentence.endswith("round the work there to 4.763 mm, or write 4.763 mm there in cut.corner_radii")


def test_the_waist_of_a_key(said: Said) -> None:
    """Wood of 160.1° at the waist: e (1 / cos 9.926° - 1) is lost; e = 1.5875 gives 0.024 mm, a note."""
    # 1 / cos(atan(14/80)) = 1.015197
    assert said("corner-rounded-off", cut=KEY) == [
        (
            "note",
            "cut.waist",
            "the two corners of wood at the waist come out round, radius 1.588 mm, so up to 0.024 mm is cut away that "
            "was not asked for: ease the key there, or take a bit and a bushing nearer to each other in size",
        )
    ]
    ((level, _, sentence),) = said("corner-rounded-off", cut=KEY, tools={"bushing": 30})
    assert level == "warning"  # e = 10.2375: 0.156 mm
    assert "up to 0.156 mm is cut away" in sentence
    assert said("corner-rounded-off", cut=KEY, tools={"bushing": 10}) == []


def test_the_routed_waist_is_as_computed(report_with: Callable[..., Any]) -> None:
    """Geometry finds the same 0.156 mm at the waist that the sum gives, where the corners are round enough."""
    predicted = report_with(cut={**KEY, "corner_radius": 5}, tools={"bushing": 30}).predicted
    assert predicted.max_deviation == pytest.approx(10.2375 * 0.0151966, abs=1e-4)
    assert predicted.unreachable_area < 0.01
    assert predicted.excess_area > 0.1


def test_an_arc_slot_tighter_than_the_offset(said: Said) -> None:
    """An inner edge of 14 is none for an offset of 1.5875, but is for one of 15.2375."""
    assert said("corner-rounded-off", cut=ARC) == []
    tools = {"bushing": 40}
    ((level, where, sentence),) = said("corner-rounded-off", cut=ARC, tools=tools)
    assert (level, where) == ("warning", "cut.radius")
    assert sentence.startswith("the inner edge (radius 14 mm) is tighter than the offset (15.238 mm), so up to ")


def test_the_ends_of_an_arc_slot(said: Said) -> None:
    """300° about 30 mm: 30 mm between the ends' centres less an opening of 15.175 is 14.825; about 20 mm, 4.83."""
    cut = {**ARC, "radius": 30, "span": 300}
    assert said("thin-wall", cut=cut) == []
    assert said("thin-wall", cut={**cut, "radius": 20}, plate={"wall": 5}) == [
        (
            "warning",
            "cut.span",
            "only 4.83 mm between the ends of the opening, where 5 mm is sensible: make the span smaller or the radius "
            "larger, or set plate.wall if you know better",
        )
    ]


def test_an_opening_that_bites_its_tail(said: Said) -> None:
    """300° about 14 mm: the cut's ends stay 2 mm apart, the opening's do not, and the middle would fall out: stop."""
    assert said("ends-meet", cut={**ARC, "radius": 14, "span": 300}) == [
        (
            "stop",
            "cut.span",
            "the ends of the opening meet, so the middle of the plate falls out: make the span smaller or the radius "
            "larger, or take a smaller bushing",
        )
    ]


def test_what_goes_into_a_widened_cut(said: Said) -> None:
    """No tenon goes into an arc slot: what goes in is to be made to suit."""
    ((_, _, sentence),) = said("cut-comes-out-wider", cut={**ARC, "width": "3/8 in"})
    assert "make what goes in to suit" in sentence
