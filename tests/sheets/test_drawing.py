"""Every line of a plate stands on its sheet exactly as in the plate's own file, and is worked in its turn."""

import json
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from .conftest import Contour, contours

Call = Callable[..., Any]
Job = Callable[..., Path]

SCREWS = 'screws = { pattern = "corners", size = "M5", inset = 10 }\n'
UNEVEN = "corner_radius = 12\n"


def on_the_sheet(own: list[Contour], plate: dict[str, Any], zero: list[float]) -> list[Contour]:
    """The contours of a plate's own file where the record says that they lie on the sheet's file."""
    half = plate["kerf"] / 2
    x, y = plate["x"] - half - zero[0], plate["y"] - half - zero[1]
    height = plate["width"] + plate["kerf"]  # of a turned plate: its own height is its width as it lies
    return [(one.turned(height) if plate["turned"] else one).moved(x, y).rounded for one in own]


@pytest.mark.parametrize("make", ["", "kerf = 0.2\n"])
def test_every_contour_is_that_of_the_template(job: Job, call: Call, here: Path, make: str) -> None:
    """Boxes, areas and bulges of the sheet are those of the files `make` writes, moved and turned; read by ezdxf."""
    sizes = {"tall": (110, 180), "wide": (180, 110), "small": (120, 90), "odd": (133.7, 101.3)}
    for name, size in sizes.items():
        job(name, size, plate=SCREWS + UNEVEN, make=make)
    assert call("make", ".").status == 0
    assert call("sheet", ".", "--stock", "400x330", "--copies", "2", "--name", "set").status == 0
    record = json.loads((here / "sheets/set/set_sheets.json").read_text(encoding="utf-8"))
    kerf = "_kerf0.2" if make else ""
    own = {name: contours(here / f"templates/{name}/{name}_laser{kerf}_mm.dxf") for name in sizes}
    turned = {plate["turned"] for sheet in record["sheets"] for plate in sheet["plates"]}
    assert turned == {0, 90}  # else this proves less than it says
    for sheet in record["sheets"]:
        meant = [one for plate in sheet["plates"] for one in on_the_sheet(own[plate["plate"]], plate, sheet["zero"])]
        found = [one.rounded for one in contours(here / "sheets/set" / sheet["files"][0])]
        assert Counter(found) == Counter(meant)
    assert sum(len(sheet["plates"]) for sheet in record["sheets"]) == 8


def test_a_contour_in_the_wrong_place_is_seen() -> None:
    """The comparison can fail: a plate turned the other way, or moved by a tenth, is another one."""
    one = Contour("cut_inside", (10.0, 20.0, 60.0, 30.0), 400.0, (1.0, 1.0))
    plate = {"x": 5.0, "y": 5.0, "width": 100.0, "height": 140.0, "turned": 90, "kerf": 0.0}
    assert on_the_sheet([one], plate, [5.0, 5.0]) == [one._replace(box=(70.0, 10.0, 80.0, 60.0))]
    assert on_the_sheet([one], {**plate, "x": 5.1}, [5.0, 5.0]) != on_the_sheet([one], plate, [5.0, 5.0])


def test_every_inside_is_cut_before_the_first_edge(job: Job, call: Call, here: Path) -> None:
    """In DXF and SVG all marks, letters, holes and openings of the sheet stand before the first plate's edge."""
    for name in ("a", "b", "c"):
        job(name, plate=SCREWS)
    assert call("sheet", ".", "--stock", "600x400", "--name", "set").status == 0
    folder = here / "sheets/set"
    layers = [one.layer for one in contours(folder / "set_mdf-6mm_sheet1_laser_mm.dxf")]
    order = list(dict.fromkeys(layers))
    assert order == ["mark", "engrave", "drill", "cut_inside", "cut_outside"]
    assert layers == sorted(layers, key=order.index)  # each layer in one run
    assert (layers.count("cut_outside"), layers.count("cut_inside"), layers.count("drill")) == (3, 3, 12)
    groups = ElementTree.parse(folder / "set_mdf-6mm_sheet1_laser.svg").getroot()
    ids = [group.get("id") for group in groups if group.tag.endswith("}g")]
    assert ids == order


def test_edges_are_cut_in_the_order_of_the_plates(job: Job, call: Call, here: Path) -> None:
    """Four plates in two rows: there and back, so that the machine travels little."""
    job("a", (100, 100))
    assert call("sheet", "a.toml", "--stock", "250x250", "--copies", "4").status == 0
    edges = [one for one in contours(here / "sheets/a/a_mdf-6mm_sheet1_laser_mm.dxf") if one.layer == "cut_outside"]
    assert [one.rounded.box[:2] for one in edges] == [(0, 0), (103, 0), (103, 103), (0, 103)]


def test_zero_is_where_the_beam_begins(job: Job, call: Call, here: Path) -> None:
    """With a kerf of 0.2 mm the lines begin 0.1 mm before the plate: 4.9 mm from the sheet's edges, kept 5 mm free."""
    job("a", (100, 100), make="kerf = 0.2\n")
    assert call("sheet", "a.toml", "--stock", "250x250").status == 0
    (sheet,) = json.loads((here / "sheets/a/a_sheets.json").read_text(encoding="utf-8"))["sheets"]
    assert sheet["zero"] == [4.9, 4.9]
    assert sheet["files"] == ["a_mdf-6mm_sheet1_laser_kerf0.2_mm.dxf", "a_mdf-6mm_sheet1_laser_kerf0.2.svg"]
    (edge,) = [one for one in contours(here / "sheets/a" / sheet["files"][0]) if one.layer == "cut_outside"]
    assert edge.rounded.box == (0.0, 0.0, 100.2, 100.2)


def test_a_pair_keeps_its_hands(job: Job, call: Call, here: Path) -> None:
    """Of a pair both hands lie on the sheet, each as its own file has it: turned, never mirrored."""
    job("a", (180, 110), plate=SCREWS, make='pair = "left"\n', cut=(10, 40, 12))
    text = (here / "a.toml").read_text(encoding="utf-8").replace("depth = 12", "depth = 12\nx = 60\ny = 50\nangle = 20")
    (here / "a.toml").write_text(text, encoding="utf-8")
    assert call("make", "a.toml").status == 0
    assert call("sheet", "a.toml", "--stock", "600x400").status == 0
    (sheet,) = json.loads((here / "sheets/a/a_sheets.json").read_text(encoding="utf-8"))["sheets"]
    own = {name: contours(here / f"templates/a/{name}_laser_mm.dxf") for name in ("a", "a_MIRRORED")}
    assert sorted((plate["plate"], plate["mirrored"]) for plate in sheet["plates"]) == [
        ("a", False), ("a_MIRRORED", True),
    ]  # fmt: skip
    meant = [one for plate in sheet["plates"] for one in on_the_sheet(own[plate["plate"]], plate, sheet["zero"])]
    assert Counter(one.rounded for one in contours(here / "sheets/a" / sheet["files"][0])) == Counter(meant)
