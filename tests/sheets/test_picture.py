"""Words on the plates of a sheet's picture: clear of openings, fewer where there is no room for all."""

from types import SimpleNamespace
from typing import Any

import pytest

from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds
from jigtemplates.processes.paper_page import Text
from jigtemplates.processes.setup_draw import Picture
from jigtemplates.sheets.choice import choice_of
from jigtemplates.sheets.drawing import sheet_drawing
from jigtemplates.sheets.picture import _words, draw_sheet, scale_for

from .conftest import group_of, laid

PLATE = Bounds(0.0, 0.0, 60.0, 40.0)
LINES = ("7", "bench_rail", "140 x 100 mm")


def put(at: Bounds, hollow: list[Bounds], lines: tuple[str, ...] = LINES) -> tuple[list[str], list[Bounds]]:
    """The words that are shown, and the patches under them."""
    picture = Picture(Bounds(-100, -100, 200, 200))
    _words(picture, lines, at, hollow)
    return [text.string for text in picture.texts], [ink.shape.bounds for ink in picture.inks]  # type: ignore[union-attr]


def box_of(text: Text) -> Bounds:
    """The box of an upright text: 0.75 em above its baseline, 0.2 em below (measured on the face's letters)."""
    width = text_width(text.string, text.size, bold=text.bold)
    left = text.x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    return Bounds(left, text.y - 0.2 * text.size, left + width, text.y + 0.75 * text.size)


def apart(a: Bounds, b: Bounds) -> bool:
    return a.right <= b.left or b.right <= a.left or a.top <= b.bottom or b.top <= a.bottom


@pytest.mark.parametrize("stock", ["24 x 48 in", "3 x 48 in", "48 x 24 in", "600x400", "120 x 2000 mm"])
def test_captions_keep_clear_of_each_other(report_with: Any, stock: str) -> None:
    """Below a sheet of any shape its width, what the cross is and the scale stand apart, within the picture."""
    (sheet,) = laid(
        group_of(report_with(plate={"width": 70, "height": 60, "screws": None}, make={"for": ["laser"]})), stock
    ).sheets
    room = Bounds(0.0, 0.0, 190.0, 140.0)
    scale = scale_for(sheet, room)
    drawn = SimpleNamespace(sheet=sheet, drawn=sheet_drawing(sheet))
    picture = draw_sheet(drawn, choice_of(stocks=[stock]), room, scale)  # type: ignore[arg-type]
    captions = [text for text in picture.texts if text.angle == 0 and text.y < 140 - sheet.stock.height.mm * scale]
    assert len(captions) == 3
    boxes = [box_of(text) for text in captions]
    for at, one in enumerate(boxes):
        assert min(one.left, one.bottom, 190 - one.right) >= 0
        assert all(apart(one, other) for other in boxes[:at])


def test_words_stand_in_the_middle() -> None:
    """Of a plate without an opening there."""
    shown, patches = put(PLATE, [])
    assert shown == list(LINES)
    assert [box.center.x for box in patches] == pytest.approx([30.0] * 3)
    assert patches[1].center.y == pytest.approx(20.0, abs=0.5)


@pytest.mark.parametrize(
    "opening",
    [Bounds(10, 15, 50, 25), Bounds(25, 2, 35, 38), Bounds(5, 5, 30, 35), Bounds(20, 10, 58, 38)],
    ids=["lying", "standing", "on the left", "at the upper right"],
)
def test_words_keep_clear_of_an_opening(opening: Bounds) -> None:
    """Wherever it is, the number and the name stand beside it, within the plate."""
    shown, patches = put(PLATE, [opening])
    assert shown[:2] == ["7", "bench_rail"]
    for box in patches:
        assert apart(box, opening)
        assert 0 <= box.left <= box.right <= 60
        assert 0 <= box.bottom <= box.top <= 40


def test_fewer_words_where_there_is_less_room() -> None:
    """Beside an opening that leaves 8 mm the number stands alone; over one that leaves nothing too."""
    shown, (patch,) = put(PLATE, [Bounds(8, 1, 59, 39)])
    assert (shown, apart(patch, Bounds(8, 1, 59, 39))) == (["7"], True)
    assert put(PLATE, [Bounds(0, 0, 60, 40)])[0] == ["7"]


def test_a_small_plate_has_its_number() -> None:
    """4 x 3 mm on the page: the number alone, small, in its middle."""
    shown, (patch,) = put(Bounds(0, 0, 4, 3), [])
    assert shown == ["7"]
    assert patch.center.x == pytest.approx(2.0)


def test_a_number_beside_an_opening_keeps_off_the_edge() -> None:
    """Where the room on one side of the opening is too narrow for the number's patch, it stands on the other side."""
    opening = Bounds(3.7, 2.5, 8.0, 5.5)
    shown, (patch, *_) = put(Bounds(0.0, 0.0, 12.0, 8.0), [opening], ("4",))
    assert shown == ["4"]
    assert 0.25 <= patch.left < patch.right <= 11.75
    assert apart(patch, opening)
