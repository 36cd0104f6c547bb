"""The kerf gauge: its arithmetic against published readings, its lines in the files, and a round with a hidden kerf."""

from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import shapely
from shapely.ops import polygonize, unary_union

from jigtemplates.calibrate.arithmetic import kerf_of
from jigtemplates.drawing import Role, Stroke
from jigtemplates.errors import InputError
from jigtemplates.gauges.blank import BlankAsked
from jigtemplates.gauges.drawing import machine_drawing
from jigtemplates.gauges.gauge import Gauge
from jigtemplates.gauges.kerf import kerf_gauge
from jigtemplates.profiles import Profiles

Made = Callable[..., Path]


def comb(cuts: str | None = None, material: str | None = "mdf", thickness: str | None = "6 mm", **more: Any) -> Gauge:
    """The gauge for a sheet."""
    return kerf_gauge(cuts, BlankAsked(("laser",), material, thickness, **more), Profiles())


def faults(*args: Any, **more: Any) -> tuple[str, ...]:
    """The lines of the InputError."""
    with pytest.raises(InputError) as error:
        comb(*args, **more)
    return error.value.lines


def test_a_published_kerf_box() -> None:
    """Ten rectangles pushed to one side left eleven kerfs, 0.037 in together: about 0.0034 in each (Rice University,
    ENGI 210, "kerf box", read)."""
    assert round(kerf_of(0.037 * 25.4, 11).mm / 25.4, 4) == 0.0034


def test_a_round_number_of_cuts() -> None:
    """A gap of 1.9 mm over ten cuts is a kerf of 0.19 mm."""
    assert kerf_of(1.9, 10).mm == pytest.approx(0.19)


@pytest.mark.parametrize("kerf", [0.08, 0.193, 0.45])
@pytest.mark.parametrize("cuts", [None, "4", "25"])
def test_a_hidden_kerf_is_found_by_geometry(kerf: float, cuts: str | None) -> None:
    """A beam of that width runs on every line of the file (shapely's buffer); the blocks that fall out are pushed
    together, and the gap over the cuts is the kerf."""
    drawing = machine_drawing(comb(cuts))
    inside = [item.shape for item in drawing.items if item.role is Role.CUT_INSIDE]
    strokes = [shapely.LineString(shape.points) for shape in inside if isinstance(shape, Stroke)]
    (window,) = [shape for shape in inside if not isinstance(shape, Stroke)]
    ring = shapely.LinearRing(window.flattened(0.01))
    swept = unary_union([line.buffer(kerf / 2) for line in [*strokes, ring]])
    hole, number = shapely.Polygon(swept.exterior), int(cuts or 10)
    blocks = [shapely.Polygon(rim) for rim in swept.interiors]  # what the beam goes all round falls out
    assert len(blocks) == number - 1
    gap = (hole.bounds[2] - hole.bounds[0]) - sum(block.bounds[2] - block.bounds[0] for block in blocks)
    assert kerf_of(gap, number).mm == pytest.approx(kerf, abs=1e-9)


def test_the_lines_part_the_window_into_equal_blocks() -> None:
    """Drawn on the line, nine faces of 8 by 20 mm come out of window and cuts (shapely's polygonize)."""
    gauge = comb()
    lines = [shapely.LineString(stroke.points) for stroke in gauge.shared_cuts]
    window = shapely.LinearRing(gauge.windows[0].flattened(0.01))
    faces = list(polygonize(unary_union([*lines, window])))
    sizes = {(round(f.bounds[2] - f.bounds[0], 9), round(f.bounds[3] - f.bounds[1], 9)) for f in faces}
    assert (len(faces), sizes) == (9, {(8.0, 20.0)})


def test_every_cut_is_in_the_files_once_and_open(gauge: Made, read: SimpleNamespace) -> None:
    """Eight open lines and one closed window on the cutting layer, 8 mm apart, the window last (ezdxf, svgelements)."""
    folder = gauge("kerf", "--material", "mdf", "--thickness", "6 mm")
    name = "gauge-kerf-mdf-6-mm"
    for boxes in (
        read.dxf(folder / f"{name}_laser_mm.dxf", "cut_inside"),
        read.svg(folder / f"{name}_laser.svg", "cut_inside"),
    ):
        assert [box.closed for box in boxes] == [*[False] * 8, True]
        assert [box.size for box in boxes] == [*[(0.0, 20.0)] * 8, (72.0, 20.0)]
        start = boxes[-1].left
        assert [round(box.left - start, 6) for box in boxes[:-1]] == [8.0 * i for i in range(1, 9)]


def test_the_sheet_shows_it_at_true_size(gauge: Made, read: SimpleNamespace) -> None:
    """pdfium measures the window of 72 by 20 mm and the plate of 92 by 51 mm on the page."""
    folder = gauge("kerf", "--material", "mdf", "--thickness", "6 mm")
    sheet = folder / "gauge-kerf-mdf-6-mm_how.pdf"
    assert {(72.0, 20.0), (92.0, 51.0)} <= set(read.pdf_sizes(sheet))
    text = read.pdf_text(sheet)
    assert "gap / 10 = kerf" in text
    assert 'jigtemplates calibrate kerf --gap "____ mm" --cuts 10 --material mdf --thickness "6 mm"' in text


def test_no_kerf_moves_its_lines(tmp_path: Path) -> None:
    """Whatever kerf the profile says, the gauge is drawn on the line: it is what measures it."""
    shipped = Profiles().find("processes", "laser").entry
    pens = "\n".join(f'{role} = {{ layer = "{pen.layer}", colour = "{pen.colour}", stroke = 0.1 }}'
                     for role, pen in shipped.roles.drawn().items())  # fmt: skip
    (tmp_path / "processes.toml").write_text(
        f'units = "mm"\n[processes.laser]\nkerf = 0.3\n[processes.laser.roles]\n{pens}\n', encoding="utf-8"
    )
    gauge = kerf_gauge(None, BlankAsked(("laser",), "mdf", "6 mm"), Profiles([tmp_path]))
    assert (gauge.kerf, gauge.windows[0].bounds.width, gauge.findings) == (0.0, 72.0, ())


def test_blocks_are_wider_than_the_sheet_is_thick() -> None:
    """In 12 mm the blocks are 14 mm wide, so that they do not tip."""
    assert dict(comb(thickness="12 mm").data)["pitch"] == 14.0


def test_inches_come_first_where_the_sheet_is_in_inches(gauge: Made, read: SimpleNamespace) -> None:
    """A sheet of 1/4 in: the gap is read in inches, on a Letter page."""
    folder = gauge("kerf", "--material", "mdf", "--thickness", "1/4 in")
    text = read.pdf_text(folder / "gauge-kerf-mdf-1-4-in_how.pdf")
    assert "0.002 in in the gap is 0.0002 in in the kerf" in text
    assert '--gap "____ in" --cuts 10 --material mdf --thickness "1/4 in"' in text


@pytest.mark.parametrize("typed", ["3", "41", "x", "10.5", "-10", ""])
def test_a_number_of_cuts_is_whole_and_sensible(typed: str) -> None:
    """Anything but 4 to 40 is refused in one line."""
    assert faults(typed) == (f'--cuts: "{typed}" is not a number of cuts (write a whole number from 4 to 40)',)


def test_a_kerf_belongs_to_one_sheet() -> None:
    """Without material and thickness there is no gauge: both lines at once."""
    assert faults(None, None, None) == (
        "--material: a kerf belongs to one sheet (name its material)",
        "--thickness: a kerf belongs to one sheet (name its thickness)",
    )


@pytest.mark.parametrize(
    ("more", "found"),
    [
        ({"material": "phenolic"}, "phenolic must not go into a laser"),
        ({"sheet": "80 x 100 mm"}, "the plate is 92 mm x 51 mm, more than 80 mm x 100 mm: take fewer cuts (--cuts)"),
        ({"sheet": "100 x 50 mm"}, "the plate is 92 mm x 51 mm, more than 100 mm x 50 mm"),
    ],
)
def test_what_stops_it(more: dict[str, Any], found: str) -> None:
    """A sheet that must not be lasered, one that is too small either way."""
    gauge = comb(**more)
    assert gauge.stopped
    assert gauge.findings[0].message.startswith(found)
