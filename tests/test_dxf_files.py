"""DXF files that two machines of one job share."""

from pathlib import Path

import ezdxf

from jigtemplates.drawing import Drawing, Item, Pen, Role
from jigtemplates.geometry.outline import Outline
from jigtemplates.making import DxfFiles
from jigtemplates.parameters.job import DxfChoice

SQUARE = Drawing((Item(Role.CUT_OUTSIDE, Outline.polygon(((0, 0), (20, 0), (20, 20), (0, 20)))),), 20.0, 20.0)
R2000 = DxfChoice("R2000", "mm", "bulges", 0.01)
THIN = {Role.CUT_OUTSIDE: Pen("cut", "#ff0000", 0.1)}


def colour(data: bytes, folder: Path) -> int:
    """The indexed colour of the layer, as another program reads it."""
    path = folder / "a.dxf"
    path.write_bytes(data)
    return int(ezdxf.readfile(path).layers.get("cut").color)  # type: ignore[attr-defined]


def test_pens_that_differ_in_width_share_a_file() -> None:
    """A DXF file says no line width, so pens of two widths are given one file, written once."""
    files = DxfFiles(R2000)
    wide = {Role.CUT_OUTSIDE: Pen("cut", "#ff0000", 0.2), Role.POCKET: Pen("pocket", "#00ff00", 0.2)}
    assert files.of(SQUARE, THIN) is files.of(SQUARE, wide)
    assert len(files.made) == 1


def test_pens_of_two_colours_get_a_file_each(tmp_path: Path) -> None:
    """Red and blue are colours 1 and 5 of the DXF index, each in its own file."""
    files = DxfFiles(R2000)
    blue = {Role.CUT_OUTSIDE: Pen("cut", "#0000ff", 0.1)}
    assert [colour(files.of(SQUARE, pens), tmp_path) for pens in (THIN, blue)] == [1, 5]


def test_two_drawings_get_a_file_each() -> None:
    """A drawing that differs by the kerf is written on its own."""
    files = DxfFiles(R2000)
    corners = ((0, 0), (20.2, 0), (20.2, 20), (0, 20))
    wider = Drawing((Item(Role.CUT_OUTSIDE, Outline.polygon(corners)),), 20.2, 20.0)
    assert files.of(SQUARE, THIN) != files.of(wider, THIN)
    assert len(files.made) == 2
