"""Arrows and words in the plan of a set-up sheet keep clear of openings, screws, fence and each other."""

import math
from collections.abc import Callable
from itertools import combinations
from typing import Any

import pytest
import shapely

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point, cos_sin
from jigtemplates.processes.paper_page import GREY, Ink
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.processes.setup_draw import GREEN, PLATE, PURPLE, Picture, patch
from jigtemplates.processes.setup_plan import plan, plan_height
from jigtemplates.processes.setup_plan_numbers import number_texts
from jigtemplates.processes.setup_plan_room import Crowd, Turned, arcs_room, crowd, feed_arrows
from jigtemplates.report import Report

ReportOn = Callable[..., Report]
CELL = Bounds(10.0, 100.0, 97.0, 210.0)
EMPTY = Crowd((), (), (), ())
#: an opening of 40 x 10 mm on the page
BOX = Bounds(-20.0, -5.0, 20.0, 5.0)
TWIN: dict[str, Any] = {
    "cut": {"shape": "slot", "width": "5/16 in", "length": "1-3/4 in", "depth": 1, "angle": 90}
    | {"repeat": {"count": 2, "pitch": "5/8 in", "direction": 90}},
    "tools": {"bit": "1/4 in", "bushing": {"diameter": "7/16 in", "bore": "11/32 in", "stem": "5/32 in"}},
    "plate": {
        "width": 6,
        "height": 8,
        "thickness": "1/4 in",
        "screws": {"pattern": "corners", "size": "#8", "inset": "1/2 in"},
    },
    "work": {"thickness": 2.25, "height": 2.25, "length": 29, "from_face": 1, "from_end": 1.5},
}


def shapes(picture: Picture, colour: str, width: float) -> list[shapely.LineString]:
    """Open lines of one colour and width."""
    return [
        shapely.LineString(ink.shape.points)
        for ink in picture.inks
        if isinstance(ink.shape, Stroke) and (ink.colour, ink.width) == (colour, width)
    ]


def test_words_and_arrows_of_a_twin_in_inches(sheet_report: ReportOn) -> None:
    """Twin mortises in inches: neither words nor arrows touch an opening, a screw hole, fence or stop."""
    report = sheet_report("Leg", "in", **TWIN)
    made = plan(report, CELL, 0.25, inches=True)
    named = [t for t in made.texts if t.string.startswith(("fence 1", "stop 1"))]
    assert [t.string.partition(" (")[0] for t in named] == ["fence 1 in", "stop 1-1/2 in"]
    arrows = shapes(made, GREEN, 0.5)
    assert len(arrows) == 2
    texts = [shapely.Polygon(patch(text).flattened(0.01)) for text in named]
    filled = [ink for ink in made.inks if isinstance(ink.shape, Outline) and ink.fill == "#FFFFFF" and ink.width]
    assert len(filled) >= 6  # four screw holes, two openings
    solid = [shapely.Polygon(ink.shape.flattened(0.01)) for ink in filled if isinstance(ink.shape, Outline)]
    lines = [line for line in shapes(made, PURPLE, 0.5) if line.length > 20]
    assert len(lines) == 2
    for mark in (*texts, *arrows):
        assert min(mark.distance(other) for other in (*solid, *lines)) > 0.4


def test_words_keep_off_the_plates_edge(sheet_report: ReportOn) -> None:
    """Where the plate has no room beside cut and stock, the stop's words stand above it, not over its edge."""
    cut = {"shape": "rectangle", "width": 40, "length": 120, "corner_radius": 10, "depth": 20}
    work = {"thickness": 140, "height": 140, "length": 1200, "from_end": 200}
    plate = {"width": 300, "height": 200}
    made = plan(
        sheet_report(cut=cut, tools={"bit": 20, "bushing": 30}, plate=plate, work=work), CELL, 1 / 6, inches=False
    )
    (rim,) = [
        ink.shape for ink in made.inks if isinstance(ink.shape, Outline) and (ink.fill, ink.width) == (PLATE, 0.5)
    ]
    edge = shapely.LinearRing(rim.flattened(0.01))
    named = [text for text in made.texts if text.string in ("fence 70 mm", "stop 200 mm")]
    assert len(named) == 2
    away = [shapely.Polygon(patch(text).flattened(0.01)).distance(edge) for text in named]
    assert min(away) >= 0.4


@pytest.mark.parametrize(
    ("boxes", "sides"),
    [
        ((), "top bottom"),
        ((Bounds(-30, 6, 30, 20),), "right left"),
        ((Bounds(-30, 6, 30, 20), Bounds(21, -5, 40, 5)), "bottom left"),
        ((Bounds(-30, 6, 30, 20), Bounds(21, -5, 40, 5), Bounds(-40, -5, -21, 5)), "bottom"),
        ((Bounds(-60, -60, 60, 60),), "top bottom"),
    ],
    ids=["free", "long side taken", "two sides", "one side", "nowhere"],
)
def test_where_the_arrows_stand(boxes: tuple[Bounds, ...], sides: str) -> None:
    """Along both long sides, else at both ends, else on any two sides, on one, or along the long sides all the same."""
    found = []
    for a, b in feed_arrows(BOX, Crowd(boxes, (), (), ())):
        middle = Point((a.x + b.x) / 2, (a.y + b.y) / 2)
        found.append(
            ("top" if middle.y > 0 else "bottom") if abs(middle.y) > 5 else ("right" if middle.x > 0 else "left")
        )
        assert (b.x - a.x) * middle.y - (b.y - a.y) * middle.x > 0  # clockwise
    assert " ".join(found) == sides


def test_an_arrow_moves_on_past_a_line() -> None:
    """A fence 2 mm below the opening: that arrow stands beyond it, the other near its side."""
    fence = (Point(-100.0, -7.0), Point(100.0, -7.0))
    ends = ((Bounds(21, -5, 40, 5)), Bounds(-40, -5, -21, 5))
    top, bottom = feed_arrows(BOX, Crowd(ends, (), (fence,), ()))
    assert (top[0].y, bottom[0].y) == pytest.approx((7.4, -9.2), abs=0.1)


def test_arcs_turn_away() -> None:
    """Arcs about a round opening turn until a screw hole is between them; between many holes they are shorter."""
    screw, starts = (Point(0.0, 12.0), 2.0), (150.0, 330.0)
    assert arcs_room(Point(0.0, 0.0), 12.0, starts, EMPTY) == (100.0, 0.0)
    found = arcs_room(Point(0.0, 0.0), 12.0, starts, Crowd((), (screw,), (), ()))
    assert found == (100.0, 60.0)  # from 210 degrees to 110, and from 30 to -70: the hole at 90 takes 17 on both sides
    holes = tuple((Point(12.0 * cos, 12.0 * sin), 1.5) for cos, sin in map(cos_sin, (0.0, 90.0, 180.0, 270.0)))
    span, turn = arcs_room(Point(0.0, 0.0), 12.0, starts, Crowd((), holes, (), ()))
    assert span == 50.0
    assert {(start + turn - 25) % 90 for start in starts} <= {35.0, 50.0}  # about the middle between two holes
    wall = Bounds(-50.0, -50.0, 50.0, 50.0)
    assert arcs_room(Point(0.0, 0.0), 12.0, starts, Crowd((wall,), (), (), ())) == (100.0, 0.0)


def test_what_is_in_the_way() -> None:
    """Fillings but the plate's, strong lines and texts are; grey lines only for who asks; turned with the cut."""
    inks = [
        Ink(Outline.polygon([(0, 0), (100, 0), (100, 100), (0, 100)]), 0.5, fill=PLATE),
        Ink(Outline.polygon([(40, 40), (60, 40), (60, 50), (40, 50)]), 0.5, fill="#FFFFFF"),
        Ink(Outline.circle(Point(10, 10), 3), 0.25, fill="#FFFFFF"),
        Ink(Stroke((Point(0, 80), Point(100, 80))), 0.5, PURPLE),
        Ink(Stroke((Point(0, 90), Point(100, 90))), 0.13, GREY),
    ]
    free = crowd(inks, (), Turned(Point(50.0, 50.0), 90.0))

    def is_free(x: float, y: float, *, faint: bool = False) -> bool:
        at = Turned(Point(50.0, 50.0), 90.0).of(Point(x, y))
        return free.is_free(Bounds(at.x - 1, at.y - 1, at.x + 1, at.y + 1), faint=faint)

    assert [is_free(*at) for at in ((50, 45), (62, 45), (10, 12), (14, 14), (20, 81), (20, 90))] == [
        False,
        True,
        False,
        True,
        False,
        True,
    ]
    assert not is_free(20, 90, faint=True)


def test_a_number_moves_out_of_openings() -> None:
    """A number 1 mm from its opening moves 2 mm away, round what stands above it; where all is taken it stays."""
    opening = Outline.circle(Point(0.0, 0.0), 10.0)
    (text,) = number_texts([(3, Point(0.0, 11.0))], [opening])
    assert text.string == "3"
    assert (text.x, text.y) == pytest.approx((0.0, 12.0 - 1.08))
    wall = Outline.polygon([(-50, 10.5), (50, 10.5), (50, 60), (-50, 60)])
    (aside,) = number_texts([(1, Point(0.0, 10.2))], [opening, wall])
    assert math.hypot(aside.x, aside.y + 1.08) >= 12.0
    assert aside.y + 1.08 <= 8.5
    walls = [wall.rotated(turn) for turn in (0.0, 90.0, 180.0, 270.0)]
    (stuck,) = number_texts([(1, Point(0.0, 10.2))], [opening, *walls])
    assert stuck.y == pytest.approx(10.2 - 1.08)


def test_numbers_in_a_row_stay_at_their_openings() -> None:
    """Small rounds in a row, each with its number at its left: none moves to its neighbour, none onto another."""
    openings = [Outline.circle(Point(9.0 * i, 0.0), 3.3) for i in range(4)]
    texts = list(number_texts([(3, Point(9.0 * i - 4.3, 1.5)) for i in range(4)], openings))
    places = [Point(text.x, text.y + 1.08) for text in texts]
    assert [min(range(4), key=lambda i: math.dist(place, (9.0 * i, 0.0))) for place in places] == [0, 1, 2, 3]
    assert all(math.dist(a, b) >= 3.0 for a, b in combinations(places, 2))


def test_the_key_stands_in_two_columns_where_there_is_room(sheet_report: ReportOn) -> None:
    """Five lines take three rows in a cell 100 mm wide, five in one of 60: 7.8 mm higher."""
    report = sheet_report("Leg", "in", **TWIN)
    assert plan_height(report, 0.25, 60.0) - plan_height(report, 0.25, 100.0) == pytest.approx(7.8)


def test_fence_and_stop_stand_before_the_set(sheet_report: ReportOn) -> None:
    """On a full page nothing of them is left out, nor of the set: what the pictures leave is used to its foot."""
    sheet = lay_out_setup(sheet_report("Leg", "in", **TWIN, tenon={"joints": 4}))
    said = [text.string for text in sheet.pattern.pages[0].texts]
    assert said.index("Fence and stop") < said.index("The set")
    assert {"end stop", "side play"} <= set(said)
    assert not any(words.startswith("… more") for words in said)
    (settings,) = [part.box for part in sheet.parts if part.name == "settings"]
    assert settings.bottom >= 15.0 - 1e-6
