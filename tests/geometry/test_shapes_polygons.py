"""Rectangles with a radius for each corner, polygons, butterfly keys, hinge gains: literal segments and sums."""

import math

import pytest

from jigtemplates.geometry.outline import Arc, Line, Outline
from jigtemplates.geometry.shapes import butterfly_key, hinge_gain, regular_polygon, uneven_rectangle
from jigtemplates.geometry.shapes.corners import rounded

ROOT_3 = 1.7320508075688772


def kinds(outline: Outline) -> str:
    """L for a line, A for an arc."""
    return "".join("A" if isinstance(s, Arc) else "L" for s in outline.segments)


def test_each_corner_has_its_own_radius() -> None:
    """60 by 40 with 0, 5, 10 and 3 from the lower left on: segments by hand, counter-clockwise."""
    outline = uneven_rectangle(60, 40, (0, 5, 10, 3))
    assert kinds(outline) == "LALALAL"
    assert outline.segments[:3] == (
        Line((-30, -20), (25, -20)),
        Arc((25, -20), (30, -15), (25, -15), 5, 1),
        Line((30, -15), (30, 10)),
    )
    assert outline.segments[3] == Arc((30, 10), (20, 20), (20, 10), 10, 1)
    assert outline.segments[5] == Arc((-27, 20), (-30, 17), (-27, 17), 3, 1)
    # 2400 - (1 - pi/4)(25 + 100 + 9)
    assert outline.area == pytest.approx(2400 - 134 * (1 - math.pi / 4), abs=1e-9)
    assert outline.bounds == (-30, -20, 30, 20)


def test_two_corners_of_half_a_side_are_one_arc() -> None:
    """40 wide with 20 at both lower corners: a half circle, not two quarters."""
    outline = uneven_rectangle(40, 30, (20, 20, 0, 0))
    assert outline.segments == (
        Arc((-20, 5), (20, 5), (0, 5), 20, 1),
        Line((20, 5), (20, 15)),
        Line((20, 15), (-20, 15)),
        Line((-20, 15), (-20, 5)),
    )


def test_arcs_join_over_the_beginning() -> None:
    """Half a circle on the left, whose arcs are the last and the first: one arc all the same."""
    outline = uneven_rectangle(60, 40, (20, 0, 0, 20))
    assert kinds(outline) in {"ALLL", "LLLA"}
    assert outline.area == pytest.approx(2400 - 800 + 200 * math.pi, abs=1e-9)


@pytest.mark.parametrize("radii", [(31, 30, 0, 0), (0, 25, 16, 0), (0, 0, 31, 30), (20.1, 0, 0, 20), (-1, 0, 0, 0)])
def test_radii_that_do_not_fit_a_side(radii: tuple[float, ...]) -> None:
    """Two radii are at most the side between them, on every side; none is negative."""
    message = "corner radii must not be negative, and two of them no more than the side between them"
    with pytest.raises(ValueError, match=f"^{message}$"):
        uneven_rectangle(60, 40, radii)


def test_a_hexagon() -> None:
    """30 over the flats: sides of 30 / sqrt 3, 2 sqrt 3 15² mm², flat at the bottom, 20 sqrt 3 over the corners."""
    outline = regular_polygon(6, 30)
    assert kinds(outline) == "LLLLLL"
    assert [s.length for s in outline.segments] == pytest.approx([30 / ROOT_3] * 6)
    assert outline.area == pytest.approx(2 * ROOT_3 * 225)
    assert outline.bounds == pytest.approx((-10 * ROOT_3, -15, 10 * ROOT_3, 15))
    assert outline.segments[0].start == pytest.approx((-5 * ROOT_3, -15))
    assert outline.segments[0].end == pytest.approx((5 * ROOT_3, -15))


def test_a_triangle() -> None:
    """A circle of 20 touches its sides: 30 high, its point up, the origin a third of that above its base."""
    outline = regular_polygon(3, 20)
    assert outline.bounds == pytest.approx((-10 * ROOT_3, -10, 10 * ROOT_3, 20))
    assert outline.area == pytest.approx(300 * ROOT_3)


def test_a_square_of_four_sides() -> None:
    """Four sides and no radius: the square, to a rounding."""
    assert regular_polygon(4, 20).bounds == pytest.approx((-10, -10, 10, 10))
    assert regular_polygon(4, 20).area == pytest.approx(400)


def test_a_hexagon_with_round_corners() -> None:
    """A corner of r and 120 degrees loses r² (tan 30° - pi/6), six of them; the flats stay where they are."""
    outline = regular_polygon(6, 30, 4)
    assert kinds(outline) == "LALALALALALA"
    assert outline.area == pytest.approx(2 * ROOT_3 * 225 - 6 * 16 * (1 / ROOT_3 - math.pi / 6))
    assert outline.bounds.height == pytest.approx(30)
    # corners on a circle of (15 - 4) / cos 30°, and 4 more: 16.7017
    assert outline.bounds.width == pytest.approx(2 * (11 * 2 / ROOT_3 + 4))


def test_a_polygon_as_round_as_it_can_be() -> None:
    """Corners of half of across leave the circle that touches the sides."""
    circle = regular_polygon(5, 30, 15).as_circle
    assert circle is not None
    assert circle.radius == 15


@pytest.mark.parametrize(("sides", "across"), [(2, 30), (6, 0), (6, -1)])
def test_no_such_polygon(sides: int, across: float) -> None:
    """Two sides, or no size."""
    with pytest.raises(ValueError, match=r"^a polygon needs three sides or more and a size across them$"):
        regular_polygon(sides, across)


@pytest.mark.parametrize("radius", [-1, 15.01])
def test_a_polygon_too_round(radius: float) -> None:
    """A radius above half of across has no place, nor has a negative one."""
    with pytest.raises(ValueError, match=r"^a polygon's corner radius must lie between 0 and half its size across$"):
        regular_polygon(6, 30, radius)


def test_a_butterfly_key() -> None:
    """80 long, 30 at the ends, 16 at the waist: six straights through literal corners, 80 x 23 mm²."""
    outline = butterfly_key(80, 30, 16)
    assert [s.start for s in outline.segments] == [(-40, -15), (0, -8), (40, -15), (40, 15), (0, 8), (-40, 15)]
    assert outline.area == 80 * 23


def test_a_butterfly_key_with_round_corners() -> None:
    """Four round corners between ends and sides; they reach less far out; the waist stays sharp."""
    outline = butterfly_key(80, 30, 16, 2)
    assert kinds(outline) == "LLALALLALA"
    # The sides fall by atan(7/40), so a rounding of 2 begins 2 tan(49.963°) = 2.3804 from the corner: 15 + 2 - 2.3804.
    assert outline.bounds == pytest.approx((-40, -14.6196, 40, 14.6196), abs=1e-4)
    # A corner of interior angle t loses r² (1 / tan(t/2) - (pi - t)/2); t = 90° - atan(7/40).
    t = math.pi / 2 - math.atan(7 / 40)
    assert outline.area == pytest.approx(1840 - 4 * 4 * (1 / math.tan(t / 2) - (math.pi - t) / 2))
    assert {(s.radius, s.turn) for s in outline.segments if isinstance(s, Arc)} == {(2, 1)}


@pytest.mark.parametrize(("length", "width", "waist"), [(80, 16, 16), (80, 16, 17), (80, 16, 0), (0, 16, 8)])
def test_no_such_key(length: float, width: float, waist: float) -> None:
    """A waist as wide as the ends, none, or no length."""
    message = "a butterfly key must have a length and be narrower at its waist than at its ends"
    with pytest.raises(ValueError, match=f"^{message}$"):
        butterfly_key(length, width, waist)


def test_a_key_with_corners_too_round() -> None:
    """Two roundings of 13 do not go on an end of 30: each takes 13 tan(50°), 15.5 mm."""
    assert butterfly_key(80, 30, 16, 12.5).area > 0
    with pytest.raises(ValueError, match=r"^a straight is too short for the round corners at its ends$"):
        butterfly_key(80, 30, 16, 13)


def test_a_corner_that_points_inwards_is_not_rounded() -> None:
    """Rounding is for corners that point outwards, by a radius above 0."""
    corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 1.0)]
    for radii in ([0, 0, 0, 0.1], [-1, 0, 0, 0]):
        message = "only a corner that points outwards can be rounded, by a radius above 0"
        with pytest.raises(ValueError, match=f"^{message}$"):
            rounded(corners, radii)


def test_a_hinge_gain() -> None:
    """89 by 25 with corners of 6 at the back, 9 past the edge with corners of 5: the edge is 12.5 below the origin."""
    outline = hinge_gain(89, 25, 6, overrun=9, end_radius=5)
    assert outline.bounds == (-44.5, -21.5, 44.5, 12.5)
    assert [(s.center, s.radius) for s in outline.segments if isinstance(s, Arc)] == [
        ((39.5, -16.5), 5),
        ((38.5, 6.5), 6),
        ((-38.5, 6.5), 6),
        ((-39.5, -16.5), 5),
    ]


def test_a_hinge_gain_that_ends_at_the_edge() -> None:
    """Without an overrun and round corners it is the leaf itself."""
    assert hinge_gain(89, 25).segments[0] == Line((-44.5, -12.5), (44.5, -12.5))
    assert hinge_gain(89, 25).area == 89 * 25
