"""What became of the label."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.profiles import Profiles

Said = Callable[..., list[tuple[str, str, str]]]

CODES = ("label-off", "label-left-out", "label-moved", "label-smaller", "label-letters")


def plate(width: float, height: float) -> dict[str, Any]:
    """A plate without screws."""
    return {"width": width, "height": height, "screws": None}


def test_a_label_with_room(said: Said) -> None:
    """Nothing is said of a label that has its place and size."""
    assert [said(code, plate=plate(200, 200)) for code in CODES] == [[]] * 5


def test_label_off(said: Said) -> None:
    """No label wanted is a note: somebody must write it by hand."""
    assert said("label-off", plate={"label": False}) == [
        ("note", "plate.label", "the plate carries no label: write bit, bushing and cut on it by hand")
    ]


def test_label_left_out(said: Said) -> None:
    """No room even with the smallest letters is a warning."""
    assert said("label-left-out", plate=plate(66, 26)) == [
        (
            "warning",
            "plate.label",
            "there is no room for the label, even with letters of 2.5 mm: write bit, bushing and cut on the plate by "
            "hand, or make the plate larger",
        )
    ]


def test_label_smaller(said: Said) -> None:
    """Smaller letters below the opening are a note with their height."""
    ((level, key, sentence),) = said("label-smaller", plate=plate(100, 100))
    assert (level, key) == ("note", "plate.label")
    height = sentence.removeprefix("the label's letters are ").removesuffix(" high, to fit below the opening")
    assert height in ("4.5 mm", "4 mm", "3.5 mm", "3 mm", "2.5 mm")


def test_label_moved(said: Said) -> None:
    """A label elsewhere than below the opening is a note with the height of its letters."""
    ((level, key, sentence),) = said("label-moved", cut={"y": 26}, plate=plate(140, 140))
    assert (level, key) == ("note", "plate.label")
    assert sentence == "the label did not fit below the opening and stands elsewhere, with letters of 5 mm"


def test_title_without_letters(said: Said) -> None:
    """A title in letters that cannot be engraved is a stop that names them and what to do, and no other finding."""
    assert said("label-letters", "Рейка") == [
        (
            "stop",
            "title",
            '"Рейка" cannot be engraved: there is no single-line letter for "Р" (U+0420), "е" (U+0435), "й" (U+0439), '
            '"к" (U+043A) and 1 more (write it with A-Z, a-z, 0-9 and plain punctuation), or leave the label off: '
            "plate.label = false",
        )
    ]
    assert said("label-left-out", "Рейка") == []
    assert said("label-letters", "Рейка", plate={"label": False}) == []
    assert said("label-letters", "Türrahmen ½ × 3°") == []


@pytest.mark.parametrize(("kind", "key"), [("bits", "bit"), ("bushings", "bushing")])
def test_a_tool_whose_name_has_no_letters(said: Said, tmp_path: Path, kind: str, key: str) -> None:
    """A person's own name for a tool is not engraved, so it may be in any letters."""
    (tmp_path / "own.toml").write_text(f'units = "mm"\n[{kind}."木"]\ndiameter = 9.6\n', encoding="utf-8")
    assert said("label-letters", profiles=Profiles([tmp_path]), tools={key: "木"}) == []
