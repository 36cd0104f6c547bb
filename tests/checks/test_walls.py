"""Everything on the plate, with walls between."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.profiles import Profiles

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
            "the opening is only 5.41 mm from the plate's edge, where 6 mm is sensible: move it, make the plate "
            "larger, or set plate.wall if you know better",
        )
    ]
    assert said("thin-wall", cut={"x": 32.5875}) == []


def test_a_thousandth_is_none(said: Said) -> None:
    """A wall less than its round figure by a thousandth or two of an inch is as good, a tenth of 1 mm is not.

    The newcomer's screws: 1/2 in from the edge, heads of 0.531 in, so 5.956 mm where 6 mm is sensible.
    """
    quarter = {"pattern": "corners", "size": "1/4 in", "inset": "1/2 in", "hole": "countersunk"}
    assert said("thin-wall", plate={"screws": quarter}) == []
    assert said("thin-wall", cut={"x": 32.5475}) == []  # 5.96 mm
    assert len(said("thin-wall", cut={"x": 32.4975})) == 1  # 5.91 mm
    assert len(said("thin-wall", plate={"screws": {**quarter, "inset": "0.49 in"}})) == 1


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
    assert "is only 4.41 mm from the plate's edge" in sentence
    assert "where 5 mm is sensible" in sentence


def test_equal_walls_share_a_warning(said: Said) -> None:
    """Four corner screws equally near to the edges are said once, in a few words."""
    assert said("thin-wall", plate={"screws": {"pattern": "corners", "size": "M5", "inset": 7}}) == [
        (
            "warning",
            "plate.screws",
            "each of the 4 screw holes is only 4.25 mm from the plate's edge, where 6 mm is sensible: move them, "
            "make the plate larger, or set plate.wall if you know better",
        )
    ]


def test_some_equal_walls(said: Said) -> None:
    """Of several holes those that are too near are named by their numbers, six of them at most."""
    ((_, _, three),) = said("thin-wall", plate=points((7, 20), (20, 20), (133, 20), (7, 60)))
    assert three.startswith("each of screw holes 1, 3 and 4 is only 4.25 mm from the plate's edge, where")
    many = [(7, 14 * i + 15) for i in range(8)]
    ((_, _, eight),) = said("thin-wall", plate=points((120, 120), *many))
    assert "each of screw holes 2, 3, 4, 5, 6, 7 and 2 more is only 4.25 mm from the plate's edge" in eight


HOLDER = """
[holders.turn]
width = 180
height = 180
corner_radius = 90
play = 0.4
depth = 6
window = { width = 148, height = 148 }
screws = { pattern = "ring", size = "M4", hole = "countersunk", count = 12, diameter = 163 }
"""


def test_walls_beside_a_holders_screws(said: Said, tmp_path: Path) -> None:
    """Screws that the holder brings are a matter of its profile; those of the job's own stay the job's."""
    (tmp_path / "own.toml").write_text(f'units = "mm"\n{HOLDER}', encoding="utf-8")
    plate = {"holder": "turn", "width": None, "height": None, "screws": None}
    # 89.8 - 81.5 - 8.96 / 2, the head of an M4
    assert said("thin-wall", plate=plate, profiles=Profiles([tmp_path])) == [
        (
            "warning",
            "plate.holder",
            "each of the 12 screw holes is only 3.82 mm from the plate's edge, where 6 mm is sensible: give the "
            "holder's screws in its profile more room to its recess, or take smaller ones there, or set plate.wall if "
            "you know better",
        )
    ]
    own = {"pattern": "ring", "size": "M4", "hole": "countersunk", "count": 4, "diameter": 163}
    ((_, key, sentence),) = said("thin-wall", plate={**plate, "screws": own}, profiles=Profiles([tmp_path]))
    assert key == "plate.screws"
    assert (
        "each of the 4 screw holes is only 3.82 mm from the plate's edge, where 6 mm is sensible: move them, make"
        in sentence
    )


@pytest.mark.parametrize("name", [found.entry.name for found in Profiles().entries("holders")])
@pytest.mark.parametrize("material", ["mdf", "plywood"])
def test_shipped_holders_leave_walls(said: Said, name: str, material: str) -> None:
    """A plate for a holder as it is shipped, with the holder's own screws, has walls of a sensible thickness."""
    plate = {"holder": name, "width": None, "height": None, "screws": None, "material": material}
    cut = {"shape": "round", "diameter": "12 mm", "depth": "10 mm"}
    assert said("thin-wall", plate=plate, cut=cut) == []
    assert said("screw-misses-ledge", plate=plate, cut=cut) == []


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
    """A corner radius of 40 leaves no plate under corner screws 10 mm in: one stop for all four."""
    # from (40, 40) to (10, 10) are 42.4 mm, more than 40
    assert said("hole-off-plate", plate={"corner_radius": 40}) == [
        (
            "stop",
            "plate.screws",
            "the 4 screw holes do not lie on the plate: move them, or make the plate larger",
        )
    ]
    assert said("hole-off-plate", plate={"corner_radius": 20}) == []


def test_a_countersink_counts_with_its_head(said: Said) -> None:
    """M5 countersunk is 11.2 mm wide: 5.5 mm from the edge it lies over it, as a clearance hole it does not."""
    screws = {"pattern": "corners", "size": "M5", "inset": 5.5}
    assert len(said("hole-off-plate", plate={"screws": {**screws, "hole": "countersunk"}})) == 1
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


def test_equal_pairs_share_a_finding(said: Said) -> None:
    """Openings in a row that are equally near to each other, or that overlap, are said once with how many more."""
    cut = {"shape": "round", "diameter": 10, "depth": 10}
    row = {"count": 4, "pitch": "16 mm"}
    ((level, key, sentence),) = said("thin-wall", cut={**cut, "repeat": row})
    assert (level, key) == ("warning", "cut.repeat")
    assert sentence.startswith(
        "only 2.83 mm between opening 1 at (46 mm, 70 mm) and opening 2 at (62 mm, 70 mm) (and between 2 "
        "more pairs), where 6 mm"
    )
    ((level, _, sentence),) = said("holes-overlap", cut={**cut, "repeat": {**row, "pitch": "12 mm"}})
    assert level == "stop"
    assert sentence.startswith(
        "opening 1 at (52 mm, 70 mm) and opening 2 at (64 mm, 70 mm) overlap (and 2 more pairs do): make the pitch"
    )
    ((_, _, sentence),) = said("holes-overlap", cut={**cut, "repeat": {"count": 3, "pitch": "12 mm"}})
    assert " overlap (and 1 more pair does): " in sentence
