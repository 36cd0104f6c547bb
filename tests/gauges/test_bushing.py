"""The bushing gauge: openings, values and words; measured in the files by the libraries of others."""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import shapely

from jigtemplates.drawing import Role
from jigtemplates.gauges.blank import BlankAsked
from jigtemplates.gauges.bushing import bushing_gauge
from jigtemplates.gauges.drawing import machine_drawing
from jigtemplates.gauges.gauge import Gauge
from jigtemplates.gauges.row import Asked
from jigtemplates.geometry.outline import Outline
from jigtemplates.lengths import parse_length
from jigtemplates.profiles import Profiles

Made = Callable[..., Path]
NAME = "gauge-bushing-12-mm"


def twelve(**options: Any) -> Gauge:
    """The gauge for a bushing of 12 mm, made without a kerf unless one is given."""
    return bushing_gauge("12 mm", options.pop("asked", Asked()), BlankAsked(**options), Profiles())


def codes(gauge: Gauge) -> list[tuple[str, str, str]]:
    """Level, code and place of each finding."""
    return [(finding.level.value, finding.code, finding.where) for finding in gauge.findings]


def test_the_openings_are_as_wide_as_engraved_in_every_file(gauge: Made, read: SimpleNamespace) -> None:
    """Nine slots from 11.80 to 12.20 mm wide and 25 mm long, in DXF (by ezdxf) and SVG (by svgelements)."""
    folder = gauge("bushing", "--bushing", "12 mm", "--for", "cnc")
    wanted = [(round(11.8 + 0.05 * i, 2), 25.0) for i in range(9)]
    assert [box.size for box in read.dxf(folder / f"{NAME}_cnc_mm.dxf", "cut_inside")] == wanted
    assert [box.size for box in read.svg(folder / f"{NAME}_cnc.svg", "cut_inside")] == wanted
    assert all(box.closed for box in read.svg(folder / f"{NAME}_cnc.svg", "cut_inside"))


def test_how_many_openings_is_told_apart_from_their_widths() -> None:
    """The number is followed by what there are so many of, and not by the first width."""
    assert dict(twelve().words.facts)["openings"].startswith("13 openings, 11.60 to 12.20 mm in steps")


def test_the_picture_on_the_sheet_is_at_true_size(gauge: Made, read: SimpleNamespace) -> None:
    """The sheet says so, and pdfium measures the same nine slots on it, and the plate round them."""
    folder = gauge("bushing", "--bushing", "12 mm", "--for", "cnc")
    sheet = folder / f"{NAME}_how.pdf"
    assert "picture 1 : 1, true size" in read.pdf_text(sheet)
    slots = [size for size in read.pdf_sizes(sheet) if size[1] == 25.0]
    assert slots == [(round(11.8 + 0.05 * i, 2), 25.0) for i in range(9)]
    (outer,) = read.dxf(folder / f"{NAME}_cnc_mm.dxf", "cut_outside")
    assert outer.size in read.pdf_sizes(sheet)


def test_a_kerf_narrows_openings_and_widens_the_plate(gauge: Made, read: SimpleNamespace) -> None:
    """With 0.2 mm the beam's path is that much narrower and shorter inside, wider outside; the name and SVG say so."""
    folder = gauge("bushing", "--bushing", "12 mm", "--for", "laser", "--kerf", "0.2 mm")
    name = f"{NAME}_laser_kerf0.2"
    assert read.dxf(folder / f"{name}_mm.dxf", "cut_inside")[0].size == (11.6, 24.8)
    (outer,) = read.svg(folder / f"{name}.svg", "cut_outside")
    width, height = outer.size
    assert read.svg_size(folder / f"{name}.svg") == [f"{width:g}mm", f"{height:g}mm", f"0 0 {width:g} {height:g}"]
    assert (width * 10 % 10, height * 10 % 10) == pytest.approx((2, 2))  # whole millimetres and one kerf


def test_values_rise_from_left_to_right_and_row_by_row_downwards(gauge: Made, read: SimpleNamespace) -> None:
    """Of thirteen openings for a 1/2 in bushing each is right of the one before, or below and at the left again."""
    folder = gauge("bushing", "--bushing", "1/2 in", "--for", "laser", "--units", "mm")
    boxes = read.dxf(folder / "gauge-bushing-1-2-in_laser_mm.dxf", "cut_inside")
    assert [box.size[0] for box in boxes] == [round(25.4 * (0.484 + 0.002 * i), 3) for i in range(13)]
    for before, after in pairwise(boxes):
        assert after.left > before.right or (after.top < before.bottom and after.left < boxes[0].right)


def test_every_value_is_engraved_once_above_its_opening() -> None:
    """The strokes of each value, seven or so, lie above their own opening and below the next one up."""
    gauge = twelve(targets=("cnc",))
    for step in gauge.steps:
        box = step.opening.bounds
        above = [
            stroke
            for stroke in gauge.engraved
            if all(box.left - 2 < p.x < box.right + 2 and 0 < p.y - box.top < 6 for p in stroke.points)
        ]
        assert len(above) >= 4  # four figures and a point at least
    assert gauge.steps[0].text == "11.80"


def test_walls_are_the_materials() -> None:
    """Openings stay 6 mm apart in mdf, and 6 mm from the edge; nothing overlaps."""
    gauge = twelve(material="mdf", thickness="6 mm", targets=("cnc",))
    boxes = [step.opening.bounds for step in gauge.steps]
    for at, one in enumerate(boxes):
        assert one.left >= 6 - 1e-9
        assert gauge.plate.width - one.right >= 6 - 1e-9
        for other in boxes[at + 1 :]:
            apart = max(other.left - one.right, one.left - other.right, other.bottom - one.top, one.bottom - other.top)
            assert apart >= 6 - 0.3  # cells are as wide as the widest


def test_without_a_kerf_the_laser_is_warned_of_and_the_row_begins_lower() -> None:
    """13 openings from 11.60 mm, and a warning that the kerf would be taken for the bushing's."""
    gauge = twelve(material="mdf", thickness="6 mm", targets=("laser",))
    assert [step.text for step in gauge.steps][:1] == ["11.60"]
    assert len(gauge.steps) == 13
    assert codes(gauge) == [("warning", "kerf-not-set", "--kerf")]
    assert "the kerf would count as the tool's; measure the kerf first" in gauge.findings[0].message


def test_a_measured_kerf_is_taken_from_the_persons_own_profile(tmp_path: Path) -> None:
    """A laser whose kerf in 6 mm mdf was measured: 0.19 mm in that sheet, what the profile says in any other."""
    shipped = Profiles().find("processes", "laser").entry
    pens = "\n".join(f'{role} = {{ layer = "{pen.layer}", colour = "{pen.colour}", stroke = 0.1 }}'
                     for role, pen in shipped.roles.drawn().items())  # fmt: skip
    (tmp_path / "processes.toml").write_text(
        'units = "mm"\n[processes.laser]\nkerf = 0.1\nkerfs = [{ sheet = "mdf", thickness = 6, width = 0.19 }]\n'
        f"[processes.laser.roles]\n{pens}\n",
        encoding="utf-8",
    )
    profiles = Profiles([tmp_path])
    in_mdf = bushing_gauge("12 mm", Asked(), BlankAsked(("laser",), "mdf", "6 mm"), profiles)
    other = bushing_gauge("12 mm", Asked(), BlankAsked(("laser",), "plywood", "6 mm"), profiles)
    assert (in_mdf.kerf, other.kerf) == (0.19, 0.1)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (
            {},
            '--material mdf --thickness "6 mm", or --material "birch ply" --thickness "1/8 in", or --material acrylic',
        ),
        ({"material": "mdf"}, '--material mdf --thickness "6 mm"'),
        ({"thickness": "6 mm"}, '--material mdf --thickness "6 mm", or --material acrylic'),
        ({"material": "plywood", "thickness": "6 mm"}, None),
        ({"kerf": "0 mm"}, None),
    ],
)
def test_a_kerf_that_was_measured_is_offered(tmp_path: Path, asked: dict[str, Any], told: str | None) -> None:
    """The options that would use one, as far as they agree with those given; else it is to be measured."""
    (tmp_path / "processes.toml").write_text(
        '[processes.laser]\nkerfs = [{ sheet = "mdf", thickness = "6 mm", width = "0.19 mm" }, '
        '{ sheet = "birch ply", thickness = "1/8 in", width = "0.2 mm" }, { sheet = "acrylic", width = "0.1 mm" }, '
        '{ sheet = "plywood", thickness = "12 mm", width = "0.3 mm" }]\n',
        encoding="utf-8",
    )
    gauge = bushing_gauge("12 mm", Asked(), BlankAsked(("laser",), **asked), Profiles([tmp_path]))
    (said,) = (finding.message for finding in gauge.findings if finding.code == "kerf-not-set")
    first = "measure the kerf first (jigtemplates gauge kerf)"
    how = first if told is None else f"a measured one is in your profile, so say which sheet this is ({told})"
    assert said.endswith(f"would count as the tool's; {how}")


def test_a_gauge_in_inches() -> None:
    """Its DXF files are in inches unless mm are asked for, and its plate's sides are whole quarters of an inch."""
    half = bushing_gauge("1/2 in", Asked(), BlankAsked(("cnc",)), Profiles())
    metric = bushing_gauge("1/2 in", Asked(), BlankAsked(("cnc",), units="mm"), Profiles())
    assert (half.dxf.unit, metric.dxf.unit, twelve(targets=("cnc",)).dxf.unit) == ("in", "mm", "mm")
    assert twelve(targets=("cnc",), units="in").dxf.unit == "in"
    quarters = [side / 6.35 for side in (half.plate.width, half.plate.height)]
    assert quarters == pytest.approx([round(quarter) for quarter in quarters], abs=1e-9)


def test_what_is_found_in_inches() -> None:
    """The sentences of a row in inches say inches first."""
    options: dict[str, Any] = {"targets": ("laser",), "kerf": "1/32 in", "material": "mdf", "sheet": "3 x 2 in"}
    gauge = bushing_gauge("1/2 in", Asked(step=parse_length("0.001 in")), BlankAsked(**options), Profiles())
    said = {finding.code: finding.message for finding in gauge.findings}
    assert said["kerf-implausible"].startswith(
        "a kerf of 1/32 in (0.794 mm) is wider than a laser's usual 0.003 to 0.018 in (0.08 to 0.45 mm): "
    )
    assert said["step-too-fine"] == (
        "steps of 0.001 in (0.025 mm) are smaller than what a machine repeats to, about 0.001 in (0.03 mm): "
        "neighbouring openings may come out alike or in the wrong order; take 0.002 in (0.05 mm)"
    )
    assert ", more than 3 x 2 in (76.2 x 50.8 mm): take fewer of them" in said["does-not-fit-sheet"]


@pytest.mark.parametrize(
    ("options", "found"),
    [
        ({"targets": ("laser",), "kerf": "0.2 mm"}, ("note", "material-unknown", "--material")),
        ({"targets": ("laser",), "kerf": "0.2 mm", "material": "phenolic"}, ("stop", "never-laser", "--material")),
        ({"targets": ("laser",), "kerf": "0.6 mm", "material": "mdf"}, ("warning", "kerf-implausible", "--kerf")),
        (
            {"targets": ("cnc",), "asked": Asked(step=parse_length("0.02 mm"))},
            ("warning", "step-too-fine", "--step"),
        ),
        (
            {"targets": ("cnc",), "asked": Asked(parse_length("12.1 mm"), parse_length("12.4 mm"))},
            ("warning", "bushing-outside-row", "--from"),
        ),
        (
            {"targets": ("cnc",), "asked": Asked(parse_length("11.5 mm"), parse_length("11.9 mm"))},
            ("warning", "bushing-outside-row", "--from"),
        ),
        ({"targets": ("cnc",), "sheet": "50 x 50 mm"}, ("stop", "does-not-fit-sheet", "--sheet")),
    ],
)
def test_what_is_found(options: dict[str, Any], found: tuple[str, str, str]) -> None:
    """Each finding of material, kerf, step, row and sheet."""
    assert codes(twelve(**options)) == [found]


def test_a_step_that_a_machine_repeats_is_not_warned_of() -> None:
    """0.03 mm is just enough."""
    assert codes(twelve(targets=("cnc",), asked=Asked(step=parse_length("0.03 mm")))) == []


def test_the_sheet_too_small_says_how_large_it_would_have_to_be() -> None:
    """Nine openings of 12 mm do not come out of 50 x 50 mm: one size that would do, and what to change."""
    (found,) = twelve(targets=("cnc",), sheet="50 x 50 mm").findings
    assert found.message.startswith("9 openings take a plate of 70 mm x 126 mm or the like, ")
    assert found.message.endswith("more than 50 mm x 50 mm: take fewer of them (--steps), or a larger sheet (--sheet)")


def test_a_plate_goes_into_the_sheet_it_is_given() -> None:
    """On a strip of 400 x 60 mm all nine openings stand in one row."""
    gauge = twelve(targets=("cnc",), sheet="400 x 60 mm")
    assert (gauge.plate.width <= 400, gauge.plate.height <= 60) == (True, True)
    assert len({round(step.opening.bounds.center.y, 6) for step in gauge.steps}) == 1


def test_a_large_bushing_slides_20_mm() -> None:
    """Slots for a 40 mm bushing are not 80 mm long but 61: 20 mm more than the widest, rounded up."""
    gauge = bushing_gauge("40 mm", Asked(), BlankAsked(("cnc",)), Profiles())
    assert {round(step.opening.bounds.height, 6) for step in gauge.steps} == {61.0}


def test_a_named_bushing_is_called_by_name_and_engraved_by_size(gauge: Made, read: SimpleNamespace) -> None:
    """The sheet and the command to type name it as the profiles do; quotes in it are kept from the shell."""
    folder = gauge("bushing", "--bushing", "bushing 1/2 in", "--for", "cnc")
    text = read.pdf_text(folder / "gauge-bushing-bushing-1-2-in_how.pdf")
    assert "bushing bushing 1/2 in (1/2 in = 12.7 mm)" in text
    assert 'jigtemplates calibrate bushing "bushing 1/2 in" --opening "____ in" --step "0.002 in"' in text


def test_a_hidden_bushing_is_found_with_a_kerf_that_is_wrong() -> None:
    """Files made for a kerf of 0.15 mm, cut by a beam of 0.18 (shapely's buffer): 12.07 mm first goes into "12.05"."""
    drawing = machine_drawing(twelve(targets=("laser",), kerf="0.15 mm"), 0.15)
    paths = [item.shape for item in drawing.items if item.role is Role.CUT_INSIDE]
    assert all(isinstance(path, Outline) for path in paths)
    holes = [shapely.Polygon(path.flattened(1e-5)).buffer(0.18 / 2) for path in paths if isinstance(path, Outline)]
    widths = [hole.bounds[2] - hole.bounds[0] for hole in holes]
    assert next(index for index, width in enumerate(widths) if width >= 12.07) == 5  # 11.80, 11.85 … 12.05
    assert widths[5] == pytest.approx(12.08, abs=1e-4)
