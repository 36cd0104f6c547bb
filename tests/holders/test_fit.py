"""The frame of a holder and its plate laid together: play all round, at every turn, and screws over their holes.

shapely measures, on chords of the exact outlines.
"""

import math
from collections.abc import Callable
from typing import Any

import pytest
import shapely

from jigtemplates.geometry.outline import Outline, Point
from jigtemplates.holders.parts import Part, Parts
from jigtemplates.report import Report

CHORD = 1e-5

ROUND = {
    "corner_radius": "80", "ledge": "16", "window": "{ width = 128, height = 128 }", "joining": None,
    "screws": '{ pattern = "ring", size = "M4", hole = "countersunk", count = 12, diameter = 144 }',
}  # fmt: skip


def area(outline: Outline, chord: float = CHORD) -> shapely.Polygon:
    """The outline on chords."""
    return shapely.Polygon(outline.flattened(chord))


def in_frame(outline: Outline, part: Part, report: Report, turn: float = 0.0) -> Outline:
    """Something of the plate, laid in the middle of the part's recess and turned there."""
    plate = report.job.plate
    dx, dy = (part.outside.width - plate.width) / 2, (part.outside.height - plate.height) / 2
    return outline.moved(dx, dy).rotated(turn, Point(part.outside.width / 2, part.outside.height / 2))


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_square_plate_has_half_the_play_on_every_side(
    held: Callable[..., Report], parts: Callable[..., Parts], turn: float
) -> None:
    """Play 0.3: the plate lies 0.15 mm within the recess, and no more than that from any of its four sides."""
    report, upper = held(plate={"turn": 90}), parts().upper
    recess = area(upper.placed(upper.through))
    plate = area(in_frame(report.template.plate.outer, upper, report, turn))
    assert recess.contains(plate)
    assert shapely.distance(recess.exterior, plate.exterior) == pytest.approx(0.15, abs=2 * CHORD)
    for mine, its in zip(plate.bounds, recess.bounds, strict=True):
        assert abs(mine - its) == pytest.approx(0.15, abs=2 * CHORD)


@pytest.mark.parametrize("place", range(12))
def test_a_round_plate_has_half_the_play_all_round(
    held: Callable[..., Report], parts: Callable[..., Parts], place: int
) -> None:
    """In a round recess the gap is 0.15 mm everywhere, at each twelfth of a turn."""
    report, upper = held(ROUND, plate={"turn": 30}), parts(**ROUND).upper
    recess = area(upper.placed(upper.through), 1e-3)
    plate = area(in_frame(report.template.plate.outer, upper, report, 30 * place), 1e-3)
    assert recess.contains(plate)
    assert shapely.distance(recess.exterior, plate.exterior) == pytest.approx(0.15, abs=2e-3)
    assert shapely.hausdorff_distance(recess.exterior, plate.exterior) == pytest.approx(0.15, abs=5e-3)


@pytest.mark.parametrize(
    ("keys", "step", "count"), [({}, 90, 4), (ROUND, 30, 12)], ids=["quarter turns", "twelfths of a turn"]
)
def test_every_screw_lies_over_its_hole_at_every_turn(
    held: Callable[..., Report], parts: Callable[..., Parts], keys: dict[str, Any], step: float, count: int
) -> None:
    """The plate's holes and those of the ledge are concentric, in the layers and in the single piece."""
    report = held(keys, plate={"turn": step})
    made = parts(**keys)
    for part in (made.ledge, made.single):
        centers = [bore.hole.center for bore in part.bores if bore.key == "screws"]
        assert len(centers) == len(report.template.holes) == count
        for place in range(count):
            for hole in report.template.holes:
                circle = in_frame(hole.outline, part, report, place * step).as_circle
                assert circle is not None
                nearest = min(math.dist(circle.center, center) for center in centers)
                assert nearest == pytest.approx(0, abs=1e-9)


def test_the_layers_have_one_outside_and_their_screws_in_line(parts: Callable[..., Parts]) -> None:
    """Laid on each other both layers have the same edge, and the holes that join them are concentric."""
    made = parts()
    assert made.upper.placed(made.upper.outside) == made.ledge.placed(made.ledge.outside)
    upper = [bore.hole.center for bore in made.upper.bores]
    assert upper == [bore.hole.center for bore in made.ledge.bores if bore.key == "joining"]
    assert upper == [(12, 12), (208, 12), (208, 208), (12, 208)]


def test_the_cut_of_a_turned_plate_stays_in_the_window(
    held: Callable[..., Report], parts: Callable[..., Parts]
) -> None:
    """A cut off the middle of the plate, routed in each of the four places, touches the ledge in none."""
    report, ledge = held(plate={"turn": 90}, cut={"y": 125, "length": 60}), parts().ledge
    window = area(ledge.placed(ledge.through))
    for turn in (0, 90, 180, 270):
        (made,) = report.case.cut_made
        assert window.contains(area(in_frame(made.outer, ledge, report, turn)))
    assert not report.stopped
