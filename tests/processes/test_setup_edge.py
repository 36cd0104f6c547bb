"""A rebated plate on the set-up sheet: its edge in the holder drawn to scale, its step where the section reaches it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.geometry.outline import Bounds, Outline
from jigtemplates.parameters.load import job_from_text
from jigtemplates.processes.paper_page import Ink, box_of
from jigtemplates.processes.paper_text import Block
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.processes.setup_draw import HOLDER, PLATE, Picture
from jigtemplates.processes.setup_edge import edge_block
from jigtemplates.processes.setup_notes import set_facts
from jigtemplates.processes.setup_section import draw
from jigtemplates.processes.setup_section_edge import BEHIND
from jigtemplates.processes.setup_stack import Layout, Stack
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on
from tests.processes.conftest import toml
from tests.processes.test_setup import faults_of, outside, overlaps, said

Held = Callable[..., Report]
FRAME: dict[str, Any] = {
    "width": "160", "height": "160", "corner_radius": "5", "play": "0.4", "depth": "6", "ledge": "20",
    "ledge_thickness": "8", "stand_off": "9",
}  # fmt: skip
CELL = Bounds(10.0, 100.0, 110.0, 210.0)


IN_INCHES: dict[str, str | None] = {
    "width": "6", "height": "6", "corner_radius": "0", "play": '"1/64 in"', "depth": '"1/4 in"', "ledge": '"3/4 in"',
    "ledge_thickness": '"1/4 in"', "stand_off": '"1/2 in"',
}  # fmt: skip
TABLES: dict[str, dict[str, Any]] = {
    "cut": {"shape": "slot", "width": "10 mm", "length": "50 mm", "depth": "28 mm"},
    "tools": {"bit": "3/8 in", "bushing": {"diameter": "1/2 in", "bore": "13/32 in", "stem": "5.5 mm"}},
    "plate": {"holder": "frame", "thickness": "9 mm", "rebate": True, "label": False},
    "make": {"for": ["cnc"]},
}


@pytest.fixture
def held(tmp_path: Path) -> Held:
    """held({"depth": "5"}, units="in", cut={…}): a rebated plate of 9 mm in a holder with those keys."""

    def build(holder: dict[str, str | None] | None = None, units: str = "mm", **tables: dict[str, Any]) -> Report:
        keys = {**FRAME, **(holder or {})}
        lines = [f'units = "{units}"', "[holders.frame]", *(f"{k} = {v}" for k, v in keys.items() if v is not None)]
        (tmp_path / "own.toml").write_text("\n".join(lines), encoding="utf-8")
        lines = ['title = "Bench rail"', f'units = "{units}"']
        for name in {**TABLES, **tables}:
            table = {**TABLES.get(name, {}), **tables.get(name, {})}
            lines += [f"[{name}]", *(f"{key} = {toml(value)}" for key, value in table.items() if value is not None)]
        return report_on(job_from_text("\n".join(lines), name="rail", profiles=Profiles([tmp_path])))

    return build


def areas(inks: "tuple[Ink, ...] | list[Ink]", colour: str) -> list[Bounds]:
    """Boxes of areas of a colour; patches below words are smaller than 35 mm²."""
    boxes = [box_of(ink.shape) for ink in inks if ink.fill == colour]
    return [b for b in boxes if b.width * b.height > 35.0]


def words(block: Block) -> list[str]:
    """All texts of a block, as they are read."""
    return [text.string for text in block.texts]


def test_the_edge_is_to_scale(held: Held) -> None:
    """At 1:2 the plate is 4.5 mm thick in all, lies 0.1 mm from the recess; the ledge's foot is 7 mm below the face."""
    block = edge_block(held(), 49.0)
    (plate,), (holder,) = areas(block.inks, PLATE), areas(block.inks, HOLDER)
    assert "scale 1:2" in words(block)
    assert plate.height == pytest.approx(4.5)
    assert holder.height == pytest.approx(7.0)
    assert plate.top == pytest.approx(holder.top)
    assert holder.right - plate.left == pytest.approx(10.0 - 0.1)


def test_the_edge_has_its_dimensions(held: Held) -> None:
    """Width of the rebate and the ledge, thickness of the edge, height of the step."""
    assert words(edge_block(held(), 49.0)) == [
        "Edge in the holder",
        "scale 1:2",
        "holder",
        "edge 6 mm",
        "step 3 mm",
        "rebate 21.5 mm",
        "ledge 20 mm",
    ]


def test_the_edge_in_inches(held: Held) -> None:
    """A job in inches has its inches alone here; the settings beside it have both."""
    found = words(edge_block(held(IN_INCHES, "in", plate={"thickness": "3/8 in"}), 49.0))
    assert found[2:] == ["edge 1/4 in", "step 1/8 in", "rebate 13/16 in", "ledge 3/4 in"]


def test_a_ledge_of_unknown_thickness_goes_on(held: Held) -> None:
    """5 mm of it are shown, and no line closes it below."""
    block = edge_block(held({"ledge_thickness": None}), 49.0)
    (holder,) = areas(block.inks, HOLDER)
    assert holder.height == pytest.approx(3.0 + 5.0)
    closing = [ink for ink in block.inks if box_of(ink.shape) == pytest.approx((holder.left, holder.bottom) * 2)]
    thick = [box_of(ink.shape) for ink in block.inks if not ink.fill and ink.width == 0.5]
    assert not closing
    assert not [b for b in thick if b.height < 1e-9 and b.bottom == pytest.approx(holder.bottom)]


def test_the_wider_ledge_is_shown(held: Held) -> None:
    """Ledges of 10 mm at the sides and 15 mm below: the rebate is made for the wider one, and that one is drawn."""
    found = words(edge_block(held({"ledge": None, "window": "{ width = 140, height = 130 }"}), 49.0))
    assert "ledge 15 mm" in found


def test_words_of_thin_steps_stand_apart(held: Held) -> None:
    """A step of 0.5 mm: its words are moved below those of the edge, and a line leads to what they name."""
    block = edge_block(held(plate={"thickness": "6.5 mm"}), 49.0)
    edge, step = (next(t for t in block.texts if t.string.startswith(name)) for name in ("edge", "step"))
    assert edge.y - step.y >= 3.0


@pytest.mark.parametrize("thickness", ["6.5 mm", "9 mm", "14.5 mm"])
def test_words_of_the_edge_stand_apart(held: Held, thickness: str) -> None:
    """In inches without a mark on a rule they are longest: none lies over another or beyond the column."""
    frame: dict[str, str | None] = {key: f'"{value} mm"' for key, value in FRAME.items()}
    block = edge_block(held({**frame, "ledge": '"22 mm"'}, "in", plate={"thickness": thickness}), 49.0)
    assert list(overlaps(list(block.texts))) == []
    assert outside(list(block.texts), Bounds(0.0, -block.height, 49.0, 0.0)) == []


def test_the_edge_stands_on_the_sheet(held: Held) -> None:
    """With tenon stock below it, in mm and inches, without a fault; a plate that is not rebated has none."""
    more = {"tenon": {"joints": 12}, "work": {"thickness": "30 mm", "height": "60 mm"}}
    inches = held(IN_INCHES, "in", cut={"depth": "15 mm"}, plate={"thickness": "3/8 in"}, **more)
    for report in (held(), held(**more), inches):
        made = lay_out_setup(report)
        assert "Edge in the holder" in said(made)
        assert faults_of(made) == []
    assert "Edge in the holder" not in said(lay_out_setup(held(plate={"rebate": False})))


# In the section itself --------------------------------------------------------------------------------------------


def section_of(report: Report, scale: float) -> Picture:
    """The section drawn at a scale, whatever has room."""
    return draw(Stack(report), Layout(scale, 0.0, 0.0), CELL, inches=False)


NEAR_EDGE: dict[str, Any] = {"cut": {"y": 30}}


def corners(picture: Picture, colour: str) -> set[tuple[float, float]]:
    """Corners of the areas of a colour: across from the middle of the cut, up from the plate's face; page mm."""
    middle = 10.0 + (22.0 + 100.0 - 30.0) / 2
    face = 210.0 - 8.5 - 3 * 4.9 - 9.0 - 6.0
    shapes = [ink.shape for ink in picture.inks if ink.fill == colour and isinstance(ink.shape, Outline)]
    rings = [shape.segments for shape in shapes if abs(shape.area) > 32.0]  # patches below words are smaller
    return {(round(s.start.x - middle, 2), round(s.start.y - face, 2)) for ring in rings for s in ring}


def test_the_step_in_the_section(held: Held) -> None:
    """30 mm from the plate's edge, at 1:2: 6 mm thick on a rebate 21.5 mm wide, 9 mm thick at the opening."""
    picture = section_of(held(**NEAR_EDGE), 0.5)
    assert {(-15.0, 0.0), (-15.0, -3.0), (-4.25, -3.0), (-4.25, -4.5)} <= corners(picture, PLATE)


def test_the_holder_in_the_section(held: Held) -> None:
    """Its recess ends 0.2 mm beyond the plate, its window 20 mm before that; 8 mm of ledge lie below the recess."""
    picture = section_of(held(**NEAR_EDGE), 0.5)
    assert {(-15.1, 0.0), (-15.1, -3.0), (-5.1, -3.0), (-5.1, -7.0)} <= corners(picture, HOLDER)
    assert "holder" in [text.string for text in picture.texts]


def test_only_the_ledge_is_shown(held: Held) -> None:
    """At 1:1 the recess ends beyond what is shown, 24 mm from the middle: of the holder there is the ledge alone."""
    found = corners(section_of(held(**NEAR_EDGE), 1.0), HOLDER)
    assert found == {(-24.0, -6.0), (-10.2, -6.0), (-10.2, -14.0), (-24.0, -14.0)}


def test_far_from_the_edge_nothing_is_added(held: Held) -> None:
    """In the middle of the plate step and holder lie beyond what is shown: the plate goes on, 9 mm thick."""
    picture = section_of(held(), 1.0)
    assert corners(picture, HOLDER) == set()
    assert {y for _, y in corners(picture, PLATE)} == {0.0, -9.0}


def test_a_ledge_below_the_work_is_not_drawn(held: Held) -> None:
    """Where the work comes up into the window, 1 mm below the plate's middle, the section shows the step alone."""
    picture = section_of(held(cut={"y": 30}, plate={"stand_off": 1}), 0.5)
    assert corners(picture, HOLDER) == set()
    assert (-4.25, -4.5) in corners(picture, PLATE)


def test_a_ledge_of_unknown_thickness_ends_at_the_work(held: Held) -> None:
    """It lies on the work, 15 mm below the face: half of that on the page."""
    found = corners(section_of(held({"ledge_thickness": None}, **NEAR_EDGE), 0.5), HOLDER)
    assert min(y for _, y in found) == pytest.approx(-7.5)


#: A plate that lies in the recess without a rebate.
FLAT: dict[str, Any] = {"plate": {"thickness": 6, "rebate": None, "stand_off": 8}}


def test_the_ledge_between_a_flat_plate_and_the_work(held: Held) -> None:
    """30 mm from the edge of a plate as thick as the recess is deep the ledge, 8 mm, lies on the work, cut through."""
    picture = section_of(held(cut={"y": 30}, **FLAT), 0.5)
    assert {(-15.1, 0.0), (-15.1, -3.0), (-5.1, -3.0), (-5.1, -7.0)} <= corners(picture, HOLDER)


def test_the_ledge_behind_what_is_cut(held: Held) -> None:
    """In the middle of the plate it shows behind, from the plate down to the work, all across, and is named."""
    picture = section_of(held(**FLAT), 1.0)
    assert corners(picture, HOLDER) == set()
    assert corners(picture, BEHIND) == {(-24.0, -6.0), (-24.0, -14.0), (24.0, -14.0), (24.0, -6.0)}
    assert "ledge" in [text.string for text in picture.texts]


@pytest.mark.parametrize(("stand_off", "ledge"), [(0, "8"), (7.9, "8"), (8, None)])
def test_no_ledge_behind(held: Held, stand_off: float, ledge: str | None) -> None:
    """Where the work comes up into the window, or nobody knows how thick the ledge is, none is shown."""
    plate = {**FLAT["plate"], "stand_off": stand_off}
    picture = section_of(held({"ledge_thickness": ledge}, plate=plate), 1.0)
    assert corners(picture, BEHIND) == set()
    assert "ledge" not in [text.string for text in picture.texts]


def test_the_sheet_says_that_the_work_comes_up(held: Held) -> None:
    """The set names the 8 mm, or the unknown ledge; of work that goes in, or stays below, nothing."""
    low = {"plate": {**FLAT["plate"], "stand_off": 0}}
    said = {
        "8": "the work comes 8 mm up into its window; else add as much to the plunge",
        None: "the work comes up through its window; else add the ledge's thickness to the plunge",
    }
    for ledge, words in said.items():
        assert dict(set_facts(held({"ledge_thickness": ledge}, **low)))["holder"] == words
    assert "holder" not in dict(set_facts(held(**FLAT)))
    assert "holder" not in dict(set_facts(held(**low, work={"thickness": 20, "length": 60})))


def test_an_opening_in_the_rebate(held: Held) -> None:
    """25 mm from the edge the opening reaches into the rebate: there the plate is 6 mm thick up to it."""
    found = corners(section_of(held(cut={"y": 25}), 1.0), PLATE)
    assert (-6.59, -6.0) in found
    assert not [corner for corner in found if corner[0] < 0 and corner[1] < -6.001]
