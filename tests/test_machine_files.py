"""Files that two machines of one job share."""

from pathlib import Path

import ezdxf

from jigtemplates.drawing import Drawing, Item, Pen, Role
from jigtemplates.geometry.outline import Outline
from jigtemplates.making import MachineFiles
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
    files = MachineFiles(R2000, "Square")
    wide = {Role.CUT_OUTSIDE: Pen("cut", "#ff0000", 0.2), Role.POCKET: Pen("pocket", "#00ff00", 0.2)}
    assert files.dxf(SQUARE, THIN) is files.dxf(SQUARE, wide)
    assert len(files.made) == 1


def test_pens_of_two_colours_get_a_file_each(tmp_path: Path) -> None:
    """Red and blue are colours 1 and 5 of the DXF index, each in its own file."""
    files = MachineFiles(R2000, "Square")
    blue = {Role.CUT_OUTSIDE: Pen("cut", "#0000ff", 0.1)}
    assert [colour(files.dxf(SQUARE, pens), tmp_path) for pens in (THIN, blue)] == [1, 5]


def test_two_drawings_get_a_file_each() -> None:
    """A drawing that differs by the kerf is written on its own."""
    files = MachineFiles(R2000, "Square")
    corners = ((0, 0), (20.2, 0), (20.2, 20), (0, 20))
    wider = Drawing((Item(Role.CUT_OUTSIDE, Outline.polygon(corners)),), 20.2, 20.0)
    assert files.dxf(SQUARE, THIN) != files.dxf(wider, THIN)
    assert len(files.made) == 2


def test_svg_files_are_shared_only_where_widths_agree_too() -> None:
    """SVG says how wide a line is: equal pens share a file, another width is written on its own."""
    files = MachineFiles(R2000, "Square")
    wide = {Role.CUT_OUTSIDE: Pen("cut", "#ff0000", 0.2)}
    assert files.svg(SQUARE, THIN) is files.svg(SQUARE, dict(THIN))
    assert b'stroke-width="0.1"' in files.svg(SQUARE, THIN)
    assert b'stroke-width="0.2"' in files.svg(SQUARE, wide)
