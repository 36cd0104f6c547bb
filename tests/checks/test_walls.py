"""Everything on the plate, with walls between."""

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]


def points(*places: tuple[float, float], **more: Any) -> dict[str, Any]:
    """A plate of 140 x 140 with M5 holes (5.5 mm) there."""
    return {"screws": {"pattern": "points", "size": "M5", "points": list(places), **more}}


def test_opening_off_the_plate(said: Said) -> None:
    """An opening that crosses the edge, or leaves no more than 0.01 mm of wall, is a stop."""
    sentence = "the opening does not lie on the plate: move it, or make the plate larger"
    for x in (26, 26.5875, 140, 500):  # half the opening is 26.5875 long
        assert said("opening-off-plate", cut={"x": x}) == [("stop", "cut.x", sentence)]
    assert said("opening-off-plate", cut={"x": 26.6}) == []


def test_opening_near_the_edge(said: Said) -> None:
    """A wall below MDF's 6 mm is a warning; one of 6 mm is none."""
    assert said("thin-wall", cut={"x": 32}) == [
        (
            "warning",
            "cut.x",
            "only 5.41 mm between the opening and the plate's edge, where 6 mm is sensible: move it, make the plate "
            "larger, or set plate.wall if you know better",
        )
    ]
    assert said("thin-wall", cut={"x": 32.5875}) == []


@pytest.mark.parametrize(
    ("plate", "least"), [({"wall": 5.3}, None), ({"wall": 5.5}, "5.5 mm"), ({"material": None}, None)]
)
def test_which_wall_counts(said: Said, plate: dict[str, Any], least: str | None) -> None:
    """The job's own wall wins, then the material's; without either it is 5 mm. The wall here is 5.4125 mm."""
    found = said("thin-wall", cut={"x": 32}, plate=plate)
    assert [f"where {least} is sensible" in sentence for _, _, sentence in found] == ([] if least is None else [True])


def test_wall_without_a_material(said: Said) -> None:
    """Without a material the least is 5 mm."""
    ((_, _, sentence),) = said("thin-wall", cut={"x": 31}, plate={"material": None})
    assert "only 4.41 mm between" in sentence
    assert "where 5 mm is sensible" in sentence


def test_equal_walls_share_a_warning(said: Said) -> None:
    """Four corner screws equally near to the edges are said once, all four named."""
    ((_, key, sentence),) = said("thin-wall", plate={"screws": {"pattern": "corners", "size": "M5", "inset": 7}})
    assert key == "plate.screws"
    assert sentence.startswith(
        "only 4.25 mm between screw hole 1 at (7 mm, 7 mm) and screw hole 2 at (133 mm, 7 mm) and "
    )
    assert sentence.count("screw hole") == 4


def test_hole_off_the_plate(said: Said) -> None:
    """A hole that reaches over the edge is a stop with its number and place."""
    assert said("hole-off-plate", plate=points((20, 20), (2, 70))) == [
        (
            "stop",
            "plate.screws",
            "screw hole 2 at (2 mm, 70 mm) does not lie on the plate: move it, or make the plate larger",
        )
    ]
    assert said("hole-off-plate", plate=points((2.76, 70))) == []


def test_holes_off_a_rounded_corner(said: Said) -> None:
    """A corner radius of 40 leaves no plate under corner screws 10 mm in: all four are stops."""
    found = said("hole-off-plate", plate={"corner_radius": 40})
    # from (40, 40) to (10, 10) are 42.4 mm, more than 40
    assert [sentence.split(" at ")[0] for _, _, sentence in found] == [f"screw hole {n}" for n in (1, 2, 3, 4)]
    assert said("hole-off-plate", plate={"corner_radius": 20}) == []


def test_a_countersink_counts_with_its_head(said: Said) -> None:
    """M5 countersunk is 11.2 mm wide: 5.5 mm from the edge it lies over it, as a clearance hole it does not."""
    screws = {"pattern": "corners", "size": "M5", "inset": 5.5}
    assert len(said("hole-off-plate", plate={"screws": {**screws, "hole": "countersunk"}})) == 4
    assert said("hole-off-plate", plate={"screws": screws}) == []


def test_hole_over_the_opening(said: Said) -> None:
    """A hole that touches the opening is a stop."""
    assert said("holes-overlap", plate=points((70, 78))) == [
        (
            "stop",
            "plate.screws",
            "the opening and screw hole 1 at (70 mm, 78 mm) overlap: move one of them",
        )
    ]
    # 70 + 6.5875 + 2.75 = 79.3375
    assert said("holes-overlap", plate=points((70, 79.4))) == []
    ((_, key, sentence),) = said("thin-wall", plate=points((70, 79.4)))
    assert key == "plate.screws"
    assert sentence.startswith("only 0.06 mm between the opening and screw hole 1 at (70 mm, 79.4 mm), where 6 mm")


def test_holes_over_each_other(said: Said) -> None:
    """Two holes that overlap are a stop; 6 mm apart is enough."""
    assert said("holes-overlap", plate=points((20, 20), (24, 20))) == [
        (
            "stop",
            "plate.screws",
            "screw hole 1 at (20 mm, 20 mm) and screw hole 2 at (24 mm, 20 mm) overlap: move one of them",
        )
    ]
    assert said("holes-overlap", plate=points((20, 20), (31.5, 20))) == []
    assert said("thin-wall", plate=points((20, 20), (31.5, 20))) == []
    assert len(said("thin-wall", plate=points((20, 20), (31.4, 20)))) == 1
