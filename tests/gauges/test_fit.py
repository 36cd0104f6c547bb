"""The fit gauge: openings that give the engraved cuts, on the job's plate where there is room; what cannot be."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import shapely

from jigtemplates.errors import InputError
from jigtemplates.gauges.fit import fit_gauge
from jigtemplates.gauges.gauge import Gauge
from jigtemplates.gauges.row import Asked
from jigtemplates.lengths import parse_length
from jigtemplates.parameters.job import Job
from jigtemplates.profiles import Profiles

Build = Callable[..., Job]
Made = Callable[..., Path]

#: A kerf that is known, so that the row is the usual one.
KERF = {"kerf": 0.2, "for": ["laser", "cnc"]}


@pytest.fixture
def fit(job_with: Build) -> Callable[..., Gauge]:
    """fit(asked, cut={...}): the gauge of the plan's job with keys changed, its kerf known."""

    def build(asked: Asked | None = None, *, sheet: Any = None, targets: Any = (), **tables: Any) -> Gauge:
        job = job_with(**{"make": KERF, **tables})
        return fit_gauge(job, asked or Asked(), sheet=sheet, targets=targets)

    return build


def codes(gauge: Gauge) -> list[tuple[str, str, str]]:
    """Level, code and place of each finding but for the bushing's room for chips, which the plan's pair lacks."""
    found = [(finding.level.value, finding.code, finding.where) for finding in gauge.findings]
    return [one for one in found if one[1] != "chip-room"]


def test_openings_are_bushing_less_bit_wider_than_the_cuts(fit: Callable[..., Gauge]) -> None:
    """Nine cuts round 10 mm, each opening 12.7 - 9.525 = 3.175 mm wider, 20.4 + 3.175 long rounded as the cut is."""
    gauge = fit()
    assert [step.text for step in gauge.steps] == [f"{9.8 + 0.05 * i:.2f}" for i in range(9)]
    for step in gauge.steps:
        assert step.width == pytest.approx(float(step.text) + 3.175, abs=1e-9)
        assert step.opening.bounds.width == pytest.approx(step.width, abs=1e-9)
        assert step.opening.bounds.height == pytest.approx(21 + 3.175, abs=1e-9)  # twice 10.2, whole mm


def test_routing_each_opening_cuts_what_is_engraved(fit: Callable[..., Gauge]) -> None:
    """Shapely's own buffer, shrunk by the bushing's radius and grown by the bit's: the engraved width within 1 µm."""
    for step in fit().steps:
        opening = shapely.Polygon(step.opening.flattened(1e-6))
        path = opening.buffer(-12.7 / 2, quad_segs=2000)
        cut = path.buffer(9.525 / 2, quad_segs=2000)
        assert cut.bounds[2] - cut.bounds[0] == pytest.approx(float(step.text), abs=1e-3)
        assert step.cut == pytest.approx(float(step.text), abs=1e-6)


def test_it_lies_on_the_jobs_plate_with_its_screws(fit: Callable[..., Gauge]) -> None:
    """140 x 140 mm with four M5 holes; openings 6 mm and more from holes, edge and each other; no finding."""
    gauge = fit()
    assert (gauge.plate.width, gauge.plate.height, len(gauge.holes)) == (140, 140, 4)
    solids = [shapely.Polygon(step.opening.flattened(0.01)) for step in gauge.steps]
    solids += [shapely.Point(hole.center).buffer(hole.diameter / 2) for hole in gauge.holes]
    edge = shapely.box(0, 0, 140, 140).exterior
    for at, one in enumerate(solids):
        assert min(one.distance(other) for other in [edge, *solids[:at], *solids[at + 1 :]]) >= 5.99 or at >= 9
    assert codes(gauge) == []


def test_openings_keep_far_from_the_plates_edges(fit: Callable[..., Gauge]) -> None:
    """On 260 x 200 mm nine cuts stand in two rows, 65 mm and more from every edge, not in one long row."""
    gauge = fit(plate={"width": 260, "height": 200})
    boxes = [step.opening.bounds for step in gauge.steps]
    assert len({round(box.center.y, 6) for box in boxes}) == 2
    assert min(min(box.left, 260 - box.right, box.bottom, 200 - box.top) for box in boxes) > 65


def test_a_plate_without_room_gets_one_of_its_own(fit: Callable[..., Gauge]) -> None:
    """A plate of 70 x 60 mm holds no nine openings: the gauge's own has no screws, and 50 mm to its edges."""
    gauge = fit(plate={"width": 70, "height": 60, "screws": None})
    assert codes(gauge) == [("note", "own-plate", "plate")]
    assert gauge.findings[0].message.startswith(
        "the openings have no room on the job's plate, 70 mm x 60 mm, so the gauge has a plate of its own, "
    )
    left = min(step.opening.bounds.left for step in gauge.steps)
    bottom = min(step.opening.bounds.bottom for step in gauge.steps)
    assert left >= 50
    assert bottom >= 50
    assert gauge.holes == ()


ROUTER = {"router": "generic mid-size plunge"}


@pytest.mark.parametrize("plate", [{"width": 70, "height": 60}, {"width": 150, "height": 150}])
def test_a_plate_of_its_own_has_room_for_clamps(fit: Callable[..., Gauge], plate: dict[str, int]) -> None:
    """A base of 150 mm: at the left and right 20 mm stay free of it, wherever the bushing of 12.7 mm goes."""
    gauge = fit(plate={**plate, "screws": None}, tools=ROUTER)
    assert ("note", "own-plate", "plate") in codes(gauge)
    assert not {code for _, code, _ in codes(gauge)} & {"no-room-for-clamps", "base-hardly-carried", "router-tips"}
    boxes = [step.opening.bounds for step in gauge.steps]
    least = 20 + 75 - 12.7 / 2  # jaw and half the base, from the middle of a bushing that touches the opening's edge
    assert min(box.left for box in boxes) >= least - 1e-6
    assert gauge.plate.width - max(box.right for box in boxes) >= least - 1e-6
    assert max(gauge.plate.width, gauge.plate.height) < 300


def test_a_sheet_too_small_for_clamps(fit: Callable[..., Gauge]) -> None:
    """The gauge is made all the same, and what is said names its own options."""
    gauge = fit(plate={"width": 70, "height": 60, "screws": None}, tools=ROUTER, sheet=(190, 210))
    (told,) = (finding for finding in gauge.findings if finding.code == "no-room-for-clamps")
    assert told.where == "--sheet"
    assert told.message == (
        "the plate has no screws, and the router's base leaves no 20 mm for a clamp at any side of it: no larger plate "
        "comes out of the sheet, so give a larger one (--sheet), or take fewer cuts (--steps)"
    )
    assert gauge.plate.width <= 190


def test_screws_under_the_base_are_left_to_the_job(fit: Callable[..., Gauge]) -> None:
    """The plan's plate has its screws' heads under a base of 150 mm: the gauge takes a plate without screws."""
    gauge = fit(tools=ROUTER)
    assert [code for level, code, _ in codes(gauge) if level == "warning"] == []
    assert gauge.holes == ()


def test_the_unit_of_the_files_is_the_jobs(fit: Callable[..., Gauge], job_with: Build) -> None:
    """As the job has it, or as asked for."""
    assert fit().dxf.unit == "mm"
    assert fit(make={**KERF, "dxf": {"units": "in"}}).dxf.unit == "in"
    assert fit_gauge(job_with(make=KERF), Asked(), units="in").dxf.unit == "in"


def test_the_holders_window_counts(job_with: Build, tmp_path: Path) -> None:
    """A holder whose window is 40 x 40 mm leaves no place for nine cuts; one of 130 x 130 mm does."""
    text = 'units = "mm"\n'
    for side in (40, 130):
        text += f"[holders.of{side}]\nwidth = 140\nheight = 140\nplay = 0.5\n"
        text += f"window = {{ width = {side}, height = {side} }}\n"
    (tmp_path / "holders.toml").write_text(text, encoding="utf-8")
    own = {}
    for side in (40, 130):
        plate = {"holder": f"of{side}", "screws": None, "width": None, "height": None}
        job = job_with(plate=plate, make=KERF, profiles=Profiles([tmp_path]))
        own[side] = [code for _, code, _ in codes(fit_gauge(job, Asked()))]
    assert own == {40: ["own-plate"], 130: []}


def test_a_mirrored_plate_whose_screws_are_one_sided_gets_its_own(fit: Callable[..., Gauge]) -> None:
    """Holes at points of their own fit a mirrored plate on one face only, and the gauge is not mirrored."""
    points = {"pattern": "points", "size": "M5", "points": [[10, 10], [130, 70]]}
    gauge = fit(plate={"screws": points}, make={**KERF, "mirrored": True})
    assert ("note", "own-plate", "plate") in codes(gauge)
    same = fit(make={**KERF, "mirrored": True})
    assert len(same.holes) == 4


def test_cuts_that_the_pair_cannot_make_are_left_out(fit: Callable[..., Gauge]) -> None:
    """9.525 + 0.1 mm is the least: 9.60 of a row from 9.60 is left out, and the finding says which and why."""
    gauge = fit(Asked(parse_length("9.6 mm"), parse_length("9.8 mm")))
    assert [step.text for step in gauge.steps] == ["9.65", "9.70", "9.75", "9.80"]
    (found,) = [f for f in gauge.findings if f.code == "cuts-left-out"]
    assert found.message == (
        "no cut narrower than 9.625 mm = 0.379 in, bit + running clearance, can be made with this pair: a narrower "
        "opening would not let the bushing in; left out: 9.60 mm. The row is 9.65 to 9.80 mm in steps of 0.05 mm"
    )


def test_a_trapped_bushing_begins_at_the_least(fit: Callable[..., Gauge]) -> None:
    """A cut as wide as the bit: nine cuts from 9.625 mm up, the first of them what the template makes."""
    gauge = fit(cut={"width": 9.525})
    assert (gauge.steps[0].text, gauge.steps[-1].text, len(gauge.steps)) == ("9.625", "10.025", 9)
    assert ("warning", "cuts-left-out", "tools.bit") in codes(gauge)


def test_no_cut_at_all_is_one_line(fit: Callable[..., Gauge]) -> None:
    """A row below bit + clearance is refused with what would do."""
    with pytest.raises(InputError) as error:
        fit(Asked(parse_length("9 mm"), parse_length("9.6 mm"), parse_length("0.2 mm")))
    assert error.value.lines == (
        "--to: fewer than two of the cuts can be made: none is narrower than 9.625 mm = 0.379 in, bit + running "
        "clearance (take a higher --to, or another pair with --bit and --bushing)",
    )


@pytest.mark.parametrize(("first", "side"), [("11 mm", "above"), ("9.7 mm", "below")])
def test_a_row_beside_the_wanted_width_is_asked_about(fit: Callable[..., Gauge], first: str, side: str) -> None:
    """Rows wholly above or below 10 mm: a warning."""
    gauge = fit(Asked(parse_length(first), step=parse_length("0.05 mm"), count="3"))
    assert codes(gauge) == [("warning", "width-outside-row", "--from")]
    assert f"is {side} the width that the job asks for, 10 mm: is that meant?" in gauge.findings[0].message


def test_the_jobs_own_stops_stop_it(fit: Callable[..., Gauge]) -> None:
    """A bushing no wider than the bit stops the gauge as it stops the template."""
    gauge = fit(tools={"bit": "9 mm", "bushing": "9 mm", "clearance": 0.1})
    assert gauge.stopped
    assert "bushing-not-wider-than-bit" in [finding.code for finding in gauge.findings]


def test_a_sheet_too_small_stops_it(fit: Callable[..., Gauge]) -> None:
    """A plate of its own that does not come out of the sheet."""
    gauge = fit(sheet=(100.0, 100.0), plate={"width": 70, "height": 60, "screws": None})
    assert ("stop", "does-not-fit-sheet", "--sheet") in codes(gauge)


def test_without_a_kerf_it_begins_lower_and_says_so(fit: Callable[..., Gauge]) -> None:
    """A laser without a kerf: from 9.65 (9.60 is too narrow for the pair), and a note under the job's own key."""
    gauge = fit(make={"for": ["laser"]})
    assert gauge.steps[0].text == "9.65"
    assert ("note", "kerf-not-set", "make.kerf") in codes(gauge)


def test_targets_of_the_command_line_come_first(fit: Callable[..., Gauge]) -> None:
    """--for cnc: no laser, no kerf."""
    gauge = fit(targets=("cnc",))
    assert (gauge.targets, gauge.kerf) == (("cnc",), 0.0)


def test_a_job_for_paper_needs_a_machine(fit: Callable[..., Gauge]) -> None:
    """A job that is made on paper, or printed, has no gauge until a machine is named."""
    for target in ("paper", "print"):
        with pytest.raises(InputError) as caught:
            fit(make={"for": [target]})
        assert caught.value.lines == (
            '--for: "rail" is made for neither laser nor cnc (add one of them: --for laser, or --for cnc)',
        )


def test_a_round_has_round_openings(fit: Callable[..., Gauge]) -> None:
    """A dowel's hole of 20 mm: circles of 20 + 3.175 mm in the middle of the row."""
    gauge = fit(cut={"shape": "round", "diameter": 20, "depth": 10})
    middle = next(step for step in gauge.steps if step.text == "20.00")
    assert middle.opening.as_circle is not None
    assert middle.width == pytest.approx(23.175, abs=1e-9)
    assert "a dowel, of the thickness you will use" in gauge.words.steps[2]


def test_a_rectangle_wider_than_long_is_tried_by_its_narrow_side(fit: Callable[..., Gauge]) -> None:
    """Width 50, length 12: the row is round 12 mm."""
    gauge = fit(cut={"shape": "rectangle", "width": 50, "length": 12, "corner_radius": 5, "depth": 10})
    assert "12.00" in [step.text for step in gauge.steps]


def test_other_shapes_have_no_single_width(fit: Callable[..., Gauge]) -> None:
    """An ellipse is refused by name."""
    with pytest.raises(InputError) as error:
        fit(cut={"shape": "ellipse", "width": 20, "length": 40, "depth": 10})
    assert error.value.lines == (
        'rail.toml: cut.shape: a fit gauge tries a width, and "ellipse" has no single one (it is made for slot, '
        "rectangle and round)",
    )


def test_work_cut_out_round_a_pattern_has_no_fit_gauge(job_with: Build) -> None:
    """side = "outside": nothing goes into such a cut."""
    job = job_with(make=KERF)
    with pytest.raises(InputError) as error:
        fit_gauge(replace(job, cut=replace(job.cut, side="outside")), Asked())
    assert error.value.lines == (
        "rail.toml: cut.side: a fit gauge tries what goes into a cut, and this job cuts work out round a pattern (take "
        "a job with a cut from inside)",
    )


def test_a_rebated_plate_is_told_how_to_get_its_rebate(job_with: Build, tmp_path: Path) -> None:
    """The gauge's files have none: the template's file for the underside serves; a plate of its own needs none."""
    (tmp_path / "holders.toml").write_text(
        'units = "mm"\n[holders.frame]\nwidth = 160\nheight = 160\nplay = 0.5\ndepth = 4\nledge = 8\nstand_off = 3\n'
        "window = { width = 140, height = 140 }\n",
        encoding="utf-8",
    )
    plate = {"holder": "frame", "screws": None, "width": None, "height": None, "rebate": True}
    job = job_with(plate=plate, make=KERF, profiles=Profiles([tmp_path]))
    gauge = fit_gauge(job, Asked())
    assert ("warning", "rebate-not-made", "plate.rebate") in codes(gauge)
    many = fit_gauge(job, Asked(parse_length("9.7 mm"), step=parse_length("0.05 mm"), count="40"))
    assert "rebate-not-made" not in [code for _, code, _ in codes(many)]


def test_of_several_cuts_the_first_is_tried(job_with: Build) -> None:
    """A template of two cuts: the gauge is round the first one's width, and says so."""
    job = job_with(make=KERF)
    other = replace(job.cut, width=14.0, x=30.0, width_written=parse_length("14 mm"))
    gauge = fit_gauge(replace(job, more_cuts=(other,)), Asked())
    assert "10.00" in [step.text for step in gauge.steps]
    assert ("note", "first-cut", "cut") in codes(gauge)


def test_a_title_that_cannot_be_engraved_is_left_off_the_plate(job_with: Build) -> None:
    """The plate says pair and unit all the same."""
    gauge, plain = (fit_gauge(job_with(title, make=KERF), Asked()) for title in ("横木", "Rail"))
    assert 100 < len(gauge.engraved) < len(plain.engraved)


def test_inch_jobs_read_in_inches_first(job_with: Build) -> None:
    """units = "in": values in thousandths, a depth of 3/8 in, sizes in inches first, and 0.375 underlined."""
    job = replace(
        job_with(
            cut={"width": "3/8 in", "length": "2 in", "depth": "1 in"}, tools={"bit": "1/4 in", "bushing": "1/2 in"},
            make=KERF,
        ), units="in",
    )  # fmt: skip
    gauge = fit_gauge(job, Asked())
    assert [step.text for step in gauge.steps][:5] == ["0.367", "0.369", "0.371", "0.373", "0.375"]
    assert dict(gauge.words.facts)["cuts"].startswith(f"{len(gauge.steps)} cuts, 0.367 to ")
    assert ("plunge", "0.611 in (15.525 mm) from the base, for cuts 3/8 in (9.525 mm) deep") in gauge.words.facts
    assert gauge.inches


def test_an_inch_job_may_give_its_width_in_millimetres(job_with: Build) -> None:
    """10 mm in a job in inches: the row is in thousandths round 0.394 in."""
    gauge = fit_gauge(replace(job_with(make=KERF), units="in"), Asked())
    assert "0.394" in [step.text for step in gauge.steps]


def test_the_width_the_template_makes_is_underlined(fit: Callable[..., Gauge]) -> None:
    """One level stroke as wide as the figures, between the value 10.00 and its opening."""
    gauge = fit()
    wanted = next(step for step in gauge.steps if step.text == "10.00").opening.bounds
    lines = [
        stroke.points
        for stroke in gauge.engraved
        if len(stroke.points) == 2
        and stroke.points[0].y == stroke.points[1].y
        and 0 < stroke.points[0].y - wanted.top < 1.5
    ]
    assert len(lines) == 1
    assert (lines[0][0].x + lines[0][1].x) / 2 == pytest.approx(wanted.center.x)


def test_without_an_underlined_cut_no_word_is_said_of_one(fit: Callable[..., Gauge]) -> None:
    """Of a row that leaves 10.00 out no value is underlined, and the words do not speak of one."""
    assert "underlined" not in " ".join(fit(Asked(parse_length("9.98 mm"), parse_length("10.08 mm"))).words.steps)
    assert "The underlined one is what the template of rail.toml makes now." in fit().words.steps[3]


def test_the_reading_is_which_cut_takes_the_tenon(fit: Callable[..., Gauge]) -> None:
    """Both readings that the command asks for have a blank, and either it or the job is changed, never both."""
    words = fit().words
    assert (words.reading, words.second) == (
        ("engraved at the cut that takes the tenon", "mm"), ("the tenon measures", "mm"),
    )  # fmt: skip
    assert words.enter == 'jigtemplates calibrate cut rail.toml --gauge --engraved "____ mm" --tenon "____ mm"'
    assert "do one of two things, not both" in words.steps[4]
    assert "write the value as width under [cut] in rail.toml" in words.steps[4]
    wide = {"shape": "rectangle", "width": 50, "length": 12, "corner_radius": 5, "depth": 10}
    assert "write the value as length under [cut]" in fit(cut=wide).words.steps[4]


def test_a_wanted_width_that_can_be_engraved_is_one_of_the_row(job_with: Build) -> None:
    """5/16 in is engraved 0.3125, between 0.3105 and 0.3145, and underlined; 9.905 mm needs a third decimal."""
    cut = {"width": "5/16 in", "length": "2 in", "depth": "1 in"}
    job = replace(job_with(cut=cut, tools={"bit": "1/4 in", "bushing": "1/2 in"}, make=KERF), units="in")
    gauge = fit_gauge(job, Asked())
    assert [step.text for step in gauge.steps][3:6] == ["0.3105", "0.3125", "0.3145"]
    assert gauge.steps[4].value == pytest.approx(7.9375, abs=1e-9)
    assert "The underlined one" in gauge.words.steps[3]
    assert "9.905" in [step.text for step in fit_gauge(job_with(cut={"width": 9.905}, make=KERF), Asked()).steps]


def test_a_wanted_width_that_cannot_be_engraved_is_rounded(job_with: Build) -> None:
    """19/64 in has six decimals: the row is in thousandths round 0.297."""
    cut = {"width": "19/64 in", "length": "2 in", "depth": "1 in"}
    job = replace(job_with(cut=cut, tools={"bit": "1/4 in", "bushing": "1/2 in"}, make=KERF), units="in")
    assert "0.297" in [step.text for step in fit_gauge(job, Asked()).steps]


def test_files_measure_what_was_meant(gauge: Made, read: SimpleNamespace, rail: Path) -> None:
    """DXF for the CNC router (ezdxf) and SVG (svgelements): 12 openings from 9.65 + 3.175 mm up, 24.175 mm long."""
    folder = gauge("fit", "rail.toml", "--for", "cnc", "--from", "9.65 mm", "--to", "10.2 mm")
    sizes = [(round(9.65 + 0.05 * i + 3.175, 3), 24.175) for i in range(12)]
    assert [box.size for box in read.dxf(folder / "gauge-fit-rail_cnc_mm.dxf", "cut_inside")] == sizes
    assert [box.size for box in read.svg(folder / "gauge-fit-rail_cnc.svg", "cut_inside")] == sizes
    holes = read.dxf(folder / "gauge-fit-rail_cnc_mm.dxf", "drill")
    assert [box.size for box in holes] == [(5.5, 5.5)] * 4  # M5, medium: ISO 273
    text = read.pdf_text(folder / "gauge-fit-rail_how.pdf")
    assert 'jigtemplates calibrate cut rail.toml --gauge --engraved "____ mm" --tenon "____ mm"' in text
    assert "engraved at the cut that takes the tenon:" in text
    assert "the tenon measures:" in text
    assert "picture 1 : 1.5;" in text
    smaller = [size for size in read.pdf_sizes(folder / "gauge-fit-rail_how.pdf") if size[1] == 16.12]
    assert [size[0] for size in smaller] == [pytest.approx(width / 1.5, abs=0.011) for width, _ in sizes]
