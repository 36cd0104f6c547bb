"""The rebate round the underside of a thick plate: its size, the section it gives, and what refuses it."""

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import pytest
import shapely
from ezdxf.document import Drawing as Document
from ezdxf.entities.lwpolyline import LWPolyline
from hypothesis import assume, given
from hypothesis import strategies as st

from jigtemplates.errors import InputError
from jigtemplates.holders import window_of
from jigtemplates.holders.box import Box
from jigtemplates.lengths import Length, mm_text
from jigtemplates.making import write
from jigtemplates.parameters.entries import Holder, Window
from jigtemplates.parameters.job import Job
from jigtemplates.profiles import Profiles
from jigtemplates.rebate import rebate_of, rebate_width
from jigtemplates.report import Report, report_on

FRAME = {
    "width": "160", "height": "160", "corner_radius": "5", "play": "0.3", "depth": "6", "ledge": "22",
    "window": "{ width = 116, height = 116 }", "stand_off": "9",
    "screws": '{ pattern = "corners", size = "M5", hole = "countersunk", inset = 12 }',
}  # fmt: skip
THICK = {"thickness": 9, "rebate": True}


@pytest.fixture
def job(job_with: Callable[..., Job], tmp_path: Path) -> Callable[..., Job]:
    """job({"depth": "5"}, plate={...}): the plan's job in a holder with those keys; None leaves one out."""

    def build(holder: dict[str, str | None] | None = None, **tables: Any) -> Job:
        keys = {**FRAME, **(holder or {})}
        lines = ['units = "mm"', '[holders."frame"]', *(f"{k} = {v}" for k, v in keys.items() if v is not None)]
        (tmp_path / "own.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
        plate = {"holder": "frame", "width": None, "height": None, "screws": None, **THICK, **tables.pop("plate", {})}
        return job_with(profiles=Profiles([tmp_path]), plate=plate, **tables)

    return build


def test_size_of_a_rebate(job: Callable[..., Job]) -> None:
    """Depth is 9 - 6; width is ledge 22 + 5 (1 - 1 / root 2) = 23.46, the next half millimetre up."""
    rebate = rebate_of(job().plate)
    assert rebate is not None
    assert (rebate.width, rebate.depth, rebate.edge) == (23.5, 3.0, 6.0)
    assert (rebate.middle.width, rebate.middle.height, rebate.middle.radius) == pytest.approx((112.7, 112.7, 0))


def test_no_rebate_unless_it_is_asked_for(job: Callable[..., Job]) -> None:
    """Without the key, and with false, there is none."""
    assert rebate_of(job(plate={"rebate": None}).plate) is None
    assert rebate_of(job(plate={"rebate": False}).plate) is None


@pytest.mark.parametrize(
    ("keys", "width"),
    [
        ({"corner_radius": "0"}, 23.0),  # ledge 22 and the least room, 1 mm
        ({"corner_radius": "0", "play": "1.2"}, 23.5),  # ledge 22 and the play, 1.2 mm, up to the next half
        ({"window": "{ width = 116, height = 112 }"}, 25.5),  # the wider ledge, 24 mm, and 1.46 mm for the corners
        ({"window": None}, 23.5),  # the ledge alone gives the window
        ({"corner_radius": "80", "ledge": "20", "window": "{ width = 120, height = 120 }"}, 21.0),  # round: 20 + 1
    ],
)
def test_width_of_a_rebate(job: Callable[..., Job], keys: dict[str, str | None], width: float) -> None:
    """The wider ledge, and room for play, 1 mm, or the corners of the window, whichever is most."""
    rebate = rebate_of(job(keys).plate)
    assert rebate is not None
    assert rebate.width == pytest.approx(width)


def test_width_of_a_rebate_in_inches(job: Callable[..., Job]) -> None:
    """A holder in inches has a rebate of whole 32nds: 7/8 in (22.225 mm) and 1 mm at least give 59/64, so 15/16 in."""
    keys = {"width": '"6 in"', "height": '"6 in"', "corner_radius": "0", "ledge": '"7/8 in"', "window": None}
    rebate = rebate_of(job(keys).plate)
    assert rebate is not None
    assert rebate.width == pytest.approx(25.4 * 15 / 16)


@pytest.mark.parametrize("keys", [{}, {"corner_radius": "0"}, {"corner_radius": "20"}, {"play": "2"}])
@pytest.mark.parametrize("push", [(0, 0), (1, 0), (0, -1), (1, 1), (-1, 1)])
def test_the_middle_passes_the_window_wherever_the_plate_lies(
    job: Callable[..., Job], keys: dict[str, str], push: tuple[int, int]
) -> None:
    """Pushed against any side or corner of the recess, the middle keeps 1 mm clear of the window."""
    plate = job(keys).plate
    rebate, holder = rebate_of(plate), plate.holder
    assert rebate is not None
    assert holder is not None
    box = window_of(holder)
    assert box is not None
    half = (holder.width.mm - plate.width) / 2
    window = shapely.Polygon(box.outline.flattened(1e-4))
    middle = shapely.Polygon(rebate.middle.outline.moved(push[0] * half, push[1] * half).flattened(1e-4))
    assert window.contains(middle)
    sides = [abs(a - b) for a, b in zip(middle.bounds, window.bounds, strict=True)]
    assert min(sides) >= 0.999  # ROOM, 1 mm


def test_a_round_plate_has_a_round_middle(job: Callable[..., Job]) -> None:
    """Middle and rebate go round: 159.7 - 2 x 21 = 117.7 mm across."""
    keys = {"corner_radius": "80", "ledge": "20", "window": "{ width = 120, height = 120 }"}
    rebate = rebate_of(job(keys).plate)
    assert rebate is not None
    assert rebate.middle.is_round
    assert rebate.middle.width == pytest.approx(117.7)


def test_the_stand_off_shrinks_by_what_hangs_down(job: Callable[..., Job]) -> None:
    """The holder's 9 mm are from the ledge, below which 3 mm of the plate hang; a stand-off of one's own stays."""
    assert job().plate.stand_off == 6
    assert job(plate={"stand_off": 4}).plate.stand_off == 4
    assert report_on(job()).case.plunge_depth == 9 + 6 + 28  # the same as 6 + 9 + 28 of a plate that just fills it


def test_a_rebated_plate_carries_with_the_frame(job: Callable[..., Job]) -> None:
    """Its face is level with the holder's, so both carry the router; standing proud, only the plate does."""
    tables = {"tools": {"router": "generic mid-size plunge"}}
    codes = {f.code: f.message for f in report_on(job({"frame": "30"}, **tables)).findings}
    assert "carried by the plate and the holder's frame" in codes["base-carried"]
    proud = report_on(job({"frame": "30"}, plate={"rebate": False}, **tables))
    assert "carried by the plate wherever" in {f.code: f.message for f in proud.findings}["base-carried"]


def cnc_files(report: Report, out: Path) -> dict[str, Document]:
    """The DXF files a report makes for the CNC router, read by ezdxf, by what they show."""
    files = [file.path for file in write(report, out).files if file.path.endswith("mm.dxf")]
    return {
        ("underside" if "_underside_" in Path(path).name else "face"): ezdxf.filemanagement.readfile(path)
        for path in files
    }


def extent(document: Document, layer: str) -> list[tuple[float, float]]:
    """Left and right end of each contour of a layer, the widest first."""
    found = []
    for line in document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]'):
        assert isinstance(line, LWPolyline)
        xs = [x for x, *_ in line.get_points()]
        found.append((round(min(xs), 6), round(max(xs), 6)))
    return sorted(found, key=lambda ends: ends[0] - ends[1])


def test_section_of_plate_and_holder(job: Callable[..., Job], tmp_path: Path) -> None:
    """From the files as made: the edge rests on the ledge, the face is flush, the middle hangs free in the window.

    The section across the middle: x from the middle of the recess, z up from the holder's face.
    """
    job_made = job(make={"for": ["cnc"]})
    files = cnc_files(report_on(job_made), tmp_path / "out")
    left, right = extent(files["face"], "cut_outside")[0]
    assert (left, right) == (0, 159.7)
    _, (inner_left, inner_right) = extent(files["underside"], "pocket")
    over = 5.0  # the drawing of the underside is that much larger on every side
    step_left, step_right = inner_left - over - 159.7 / 2, inner_right - over - 159.7 / 2
    assert (step_left, step_right) == pytest.approx((-56.35, 56.35))
    rebate = 3.0  # plate.thickness - depth of the recess
    plate = shapely.union_all([
        shapely.box(-79.85, -6, 79.85, 0),  # 9 mm thick, less the rebate
        shapely.box(step_left, -9, step_right, -9 + rebate),
    ])  # fmt: skip
    frame = [shapely.box(80, -6, 110, 0), shapely.box(58, -15, 110, -6)]  # upper frame and ledge, right of the middle
    holder = shapely.union_all([*frame, *(shapely.affinity.scale(one, -1, 1, origin=(0, 0)) for one in frame)])
    assert shapely.intersection(plate, holder).area == 0
    resting = shapely.intersection(plate.boundary, holder.boundary)
    assert resting.length == pytest.approx(2 * 21.85)  # the ledge, 22 mm, less half the play, on each side
    assert resting.bounds == (-79.85, -6, 79.85, -6)
    assert plate.bounds[3] == holder.bounds[3] == 0  # the faces are flush
    assert holder.bounds[1] == -15  # the holder lies on the work, 6 mm below the plate's middle
    assert job_made.plate.stand_off == plate.bounds[1] - holder.bounds[1] == 6


def test_the_underside_is_seen_from_below(job: Callable[..., Job], tmp_path: Path) -> None:
    """A hole near the plate's lower-left corner is near the lower-right one of the underside, 5 mm further in."""
    screws = {"pattern": "points", "size": "M5", "points": [[12, 14], [140, 150]]}
    files = cnc_files(report_on(job(plate={"screws": screws}, make={"for": ["cnc"]})), tmp_path / "out")

    def centers(name: str) -> list[tuple[float, float]]:
        circles = files[name].modelspace().query('CIRCLE[layer=="drill"]')
        return sorted((round(c.dxf.center.x, 6), round(c.dxf.center.y, 6)) for c in circles)

    assert centers("face") == [(12, 14), (140, 150)]
    assert centers("underside") == [(24.7, 155), (152.7, 19)]


def test_files_of_a_rebated_plate(job: Callable[..., Job], tmp_path: Path) -> None:
    """The underside has files of its own, whose names say that they are mirrored; no laser file, which could not."""
    report = write(report_on(job(make={"for": ["laser", "cnc"]})), tmp_path / "out")
    names = [file.path.rpartition("/")[2] for file in report.files]
    assert names == [
        "rail_laser_mm.dxf", "rail_laser.svg", "rail_cnc_mm.dxf", "rail_cnc.svg",
        "rail_cnc_underside_MIRRORED_mm.dxf", "rail_cnc_underside_MIRRORED.svg", "rail_setup.pdf", "rail.json",
    ]  # fmt: skip


def test_no_underside_where_the_process_draws_no_pockets(job: Callable[..., Job], tmp_path: Path) -> None:
    """A profile without pockets gets no file that would lack the one thing it is for."""
    given = job(make={"for": ["cnc"]})
    pen = '{ layer = "a", colour = "#000000", stroke = 0.1 }'
    text = f"[processes.cnc]\nkerf = 0\n[processes.cnc.roles]\ncut_outside = {pen}\ncut_inside = {pen}\n"
    (tmp_path / "cnc.toml").write_text('units = "mm"\n' + text, encoding="utf-8")
    report = write(report_on(given), tmp_path / "out", profiles=Profiles([tmp_path]))
    assert [Path(f.path).name for f in report.files] == [
        "rail_cnc_mm.dxf",
        "rail_cnc.svg",
        "rail_setup.pdf",
        "rail.json",
    ]


@pytest.mark.parametrize(
    ("holder", "plate", "fault"),
    [
        (
            {"depth": None},
            {},
            "depth of the holder is not known (add to its profile, measured)",
        ),
        (
            {"depth": None, "ledge": None, "window": None},
            {},
            "depth and ledge or window of the holder are not known (add to its profile, measured)",
        ),
        (
            {"ledge": "80", "window": None},  # nothing is left between two such ledges
            {},
            "ledge or window of the holder is not known (add to its profile, measured)",
        ),
        (
            {},
            {"thickness": 6},
            'there is nothing to rebate: the plate ("6 mm") is not thicker than the recess is deep ("6 mm") (leave it '
            "out)",
        ),
        (
            {"stand_off": "2"},
            {},
            "the plate's middle would hang 3 mm below the ledge, where the holder stands only 2 mm off the work (take "
            "a thinner plate, or say plate.stand_off)",
        ),
    ],
)
def test_what_refuses_a_rebate(
    job: Callable[..., Job], holder: dict[str, str | None], plate: dict[str, Any], fault: str
) -> None:
    """One line at the key, with all that is missing."""
    with pytest.raises(InputError) as caught:
        job(holder, plate=plate)
    (line,) = caught.value.lines
    assert line.endswith(f": plate.rebate: {fault}")


def test_a_rebate_needs_a_holder(job_with: Callable[..., Job]) -> None:
    """Without a holder there is no recess to be flush with."""
    with pytest.raises(InputError) as caught:
        job_with(plate={"rebate": True})
    assert caught.value.lines[0].endswith(
        'plate.rebate: needs a holder, whose recess the plate is to lie flush in (holder = "NAME", or leave it out)'
    )


def test_a_plate_that_the_parameters_would_refuse(job: Callable[..., Job]) -> None:
    """Called past the parameters, a rebate without a depth or a ledge raises instead of guessing."""
    plate = job({"depth": None, "ledge": None, "window": None}, plate={"rebate": None}).plate
    assert plate.holder is not None
    with pytest.raises(ValueError, match="whose recess has a depth"):
        rebate_of(_rebated(plate))
    with pytest.raises(ValueError, match="needs a ledge or a window"):
        rebate_width(plate.holder, Box(100, 100))


def _rebated(plate: Any) -> Any:
    from dataclasses import replace

    return replace(plate, rebate=True)


def _length(mm: float) -> Length:
    return Length(Fraction(mm), mm_text(mm))


@given(
    st.floats(80, 300), st.floats(80, 300), st.floats(5, 30), st.floats(5, 30), st.floats(0, 1), st.floats(0, 3),
)  # fmt: skip
def test_any_middle_passes_its_window(
    width: float, height: float, beside: float, below: float, roundness: float, play: float
) -> None:
    """Whatever the holder's sizes and corners: pushed into a corner of the recess, the middle stays in the window."""
    radius = roundness * min(width, height) / 2
    window = Window.model_construct(
        width=_length(width - 2 * beside), height=_length(height - 2 * below), corner_radius=None
    )
    holder = Holder.model_construct(
        name="any", width=_length(width), height=_length(height), corner_radius=_length(radius), play=_length(play),
        window=window,
    )  # fmt: skip
    plate = Box(width - play, height - play, min(radius, (width - play) / 2, (height - play) / 2))
    taken = rebate_width(holder, plate)
    middle = Box(plate.width - 2 * taken, plate.height - 2 * taken, max(0.0, plate.radius - taken))
    around = window_of(holder)
    assert around is not None
    assume(min(middle.width, middle.height) > 1)
    pushed = shapely.Polygon(middle.outline.moved(play / 2, play / 2).flattened(1e-3))
    assert shapely.Polygon(around.outline.flattened(1e-3)).buffer(2e-3).contains(pushed)
