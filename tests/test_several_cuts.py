"""Several cuts in one template: where they stand, what is routed, checked, said and written of each."""

import json
import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import ezdxf
import pytest
import shapely

from jigtemplates.byhand import by_hand, with_own_bits
from jigtemplates.checks.labelling import check_label
from jigtemplates.facts import facts, short_facts
from jigtemplates.geometry.outline import Bounds
from jigtemplates.label_words import label_facts
from jigtemplates.making import write
from jigtemplates.parameters.load import job_from_text
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on
from jigtemplates.wanted import places_of

Make = Callable[..., Report]

LOCK = """
title = "Lock case"
units = "mm"
[[cut]]
shape = "slot"
width = 16
length = 80
depth = 20
y = 90
[[cut]]
shape = "round"
diameter = 20
depth = 12
x = 60
y = 40
repeat = { count = 3, pitch = 40 }
[[cut]]
shape = "rectangle"
width = 20
length = 40
depth = 8
x = 150
y = 40
angle = 30
corner_radii = [10, 5, 5, 5]
mirrored = true
[tools]
bit = "1/4 in"
bushing = "1/2 in"
[plate]
width = 200
height = 160
thickness = 6
"""


@pytest.fixture(scope="module")
def lock() -> Report:
    """A slot, three rounds in a row, and a turned and mirrored rectangle."""
    return report_on(job_from_text(LOCK, name="lock", profiles=Profiles()))


def codes(report: Report) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for finding in report.findings:
        found.setdefault(finding.code, []).append(finding.where)
    return found


def spots(report: Report) -> list[tuple[float, float, float]]:
    return [(round(x, 6) + 0.0, round(y, 6) + 0.0, angle) for x, y, angle in places_of(report.job.cut)]


def boxes(report: Report) -> list[Bounds]:
    return [Bounds(*(round(side, 6) for side in region.bounds)) for region in report.template.opening]


def test_twin_mortises_stand_about_the_middle(report_with: Make) -> None:
    """Two slots 32 mm apart side by side: 16 mm above and below the middle of the plate, openings 13.175 wide.

    3/8 in bit, 1/2 in bushing: 10 + 12.7 - 9.525 = 13.175.
    """
    report = report_with(cut={"repeat": {"count": 2, "pitch": 32, "direction": 90}})
    assert spots(report) == [(70, 54, 0), (70, 86, 0)]
    assert [(b.bottom, b.top) for b in boxes(report)] == [(47.4125, 60.5875), (79.4125, 92.5875)]
    assert not report.stopped


def test_the_group_turns_as_a_whole(report_with: Make) -> None:
    """Turned by 90 degrees, twins side by side stand right and left of the middle."""
    report = report_with(cut={"angle": 90, "repeat": {"count": 2, "pitch": 32, "direction": 90}})
    assert spots(report) == [(86, 70, 90), (54, 70, 90)]


def test_rows_of_rows(report_with: Make) -> None:
    """Three by two rounds: along the row first, then the row to its left."""
    cut = {"shape": "round", "diameter": 10, "depth": 5}
    report = report_with(cut={**cut, "repeat": {"count": 3, "pitch": 30, "rows": 2, "row_pitch": 40}})
    assert [place[:2] for place in spots(report)] == [(40, 50), (70, 50), (100, 50), (40, 90), (70, 90), (100, 90)]


@pytest.mark.parametrize(("turned", "angles"), [(True, [0, 90, 180, 270]), (False, [0, 0, 0, 0])])
def test_a_ring(report_with: Make, turned: bool, angles: list[float]) -> None:
    """Four on a ring of 80: 40 mm right, above, left and below of the middle; each turned by its step, or none."""
    cut = {"width": 10, "length": 20, "repeat": {"count": 4, "ring": 80, "turned": turned}}
    report = report_with(cut=cut)
    assert spots(report) == [
        (110, 70, angles[0]),
        (70, 110, angles[1]),
        (30, 70, angles[2]),
        (70, 30, angles[3]),
    ]


def test_a_ring_begins_where_it_is_told(report_with: Make) -> None:
    """start_angle = 90 puts the first one straight above."""
    cut = {"shape": "round", "diameter": 10, "depth": 5, "repeat": {"count": 3, "ring": 80, "start_angle": 90}}
    first = spots(report_with(cut=cut))[0]
    assert first[:2] == (70, 110)


def test_a_mirrored_plate_has_the_places_on_the_other_side(report_with: Make) -> None:
    """make.mirrored: the first of a row stands where the last one stood, and the group about the same height."""
    cut = {"shape": "round", "diameter": 10, "depth": 5, "x": 50, "repeat": {"count": 2, "pitch": 40}}
    plain, mirrored = report_with(cut=cut), report_with(cut=cut, make={"mirrored": True})
    centres = [box.center.x for box in boxes(plain)], [box.center.x for box in boxes(mirrored)]
    assert centres == ([30, 70], [110, 70])


def test_a_mirrored_cut_is_the_mirror_image_of_the_cut(report_with: Make) -> None:
    """Of a rectangle with one rounder corner, lower left, the mirrored one has it lower right."""
    cut = {"shape": "rectangle", "width": 40, "length": 60, "depth": 5, "corner_radii": [20, 8, 8, 8]}
    plain, mirrored = report_with(cut=cut), report_with(cut={**cut, "mirrored": True})

    def round_side(report: Report) -> str:
        (region,) = report.template.opening
        arcs = [s for s in region.outer.segments if hasattr(s, "radius") and s.radius > 20]
        return "left" if arcs[0].center.x < 70 else "right"

    assert (round_side(plain), round_side(mirrored)) == ("left", "right")


def test_mirrored_twice_is_not_mirrored(report_with: Make) -> None:
    """A mirrored cut on a mirrored plate is the cut again."""
    cut = {"shape": "rectangle", "width": 40, "length": 60, "depth": 5, "corner_radii": [20, 8, 8, 8]}
    both = report_with(cut={**cut, "mirrored": True}, make={"mirrored": True})
    assert (
        both.template.opening[0].outer.bulge_vertices()
        == report_with(cut=cut).template.opening[0].outer.bulge_vertices()
    )


def test_every_cut_comes_out_as_asked(lock: Report) -> None:
    """Slot 16 x 80, rounds of 20 and a rectangle of 20 x 40, each routed on its own, to a thousandth."""
    made = [(round(p.predicted.width, 3), round(p.predicted.length, 3)) for p in lock.parts if p.predicted]
    assert made == [(16, 80), (20, 20), (20, 40)]
    assert [p.predicted.max_deviation < 1e-6 for p in lock.parts if p.predicted] == [True] * 3


def test_the_template_has_all_openings(lock: Report) -> None:
    """Five openings on one plate; an opening of the row at 20, 60 and 100 mm from the left."""
    assert len(lock.template.opening) == 5
    assert [box.center.x for box in boxes(lock)[1:4]] == [20, 60, 100]


def test_json_has_the_numbers_of_every_cut(lock: Report) -> None:
    """The first cut's numbers stand where they always do; "cuts" has all, with their places and their own depths."""
    said = lock.as_json()
    assert said["plunge_depth"] == 26
    assert [cut["plunge_depth"] for cut in said["cuts"]] == [26, 18, 14]
    assert [cut["shape"] for cut in said["cuts"]] == ["slot", "round", "rectangle"]
    assert said["cuts"][1]["places"] == [[20, 40, 0], [60, 40, 0], [100, 40, 0]]
    assert said["cuts"][2]["places"] == [[150, 40, 30]]


def test_json_of_one_cut_has_no_list(report_with: Make) -> None:
    """One cut in one place is said as ever; one that is repeated has its places."""
    assert "cuts" not in report_with().as_json()
    assert len(report_with(cut={"repeat": {"count": 2, "pitch": 60}, "length": 30}).as_json()["cuts"]) == 1


def test_findings_name_the_cut(lock: Report) -> None:
    """The side play of each cut is said with the cut's number."""
    assert codes(lock)["side-play"] == ["cut 1.width", "cut 2.diameter", "cut 3.width"]


def test_a_bit_too_wide_for_one_cut_stops_the_template() -> None:
    """The second of two cuts is narrower than the bit: a stop that names it, and nothing of the first."""
    report = report_on(job_from_text(LOCK.replace("diameter = 20", "diameter = 6"), name="lock", profiles=Profiles()))
    assert report.stopped
    stop = next(finding for finding in report.findings if finding.code == "bit-wider-than-cut")
    assert "make cut.diameter at least 6.35 mm" in stop.message
    assert codes(report)["bit-wider-than-cut"] == ["tools.bit"]


def test_two_cuts_that_no_bit_routes() -> None:
    """Two cuts of 1 mm and a bit of 3: two stops, no opening, nothing to number and no crash."""
    cut = '[[cut]]\nshape = "slot"\nwidth = 1\nlength = 3\ndepth = 1\n'
    tail = "[tools]\nbit = 3\nbushing = 10\n[plate]\nwidth = 100\nheight = 100\nthickness = 6\n"
    report = report_on(job_from_text(f'title = "x"\nunits = "mm"\n{cut}{cut}x = 30\n{tail}', profiles=Profiles()))
    assert codes(report)["bit-wider-than-cut"] == ["tools.bit", "tools.bit"]
    assert report.template.opening == ()


def test_openings_that_run_into_each_other_stop_it(report_with: Make) -> None:
    """Twins nearer than their openings are wide: a stop at the repeat, with the numbers and places of both."""
    report = report_with(cut={"repeat": {"count": 2, "pitch": 13, "direction": 90}})
    (stop,) = [finding for finding in report.findings if finding.code == "holes-overlap"]
    assert (stop.where, stop.level.value) == ("cut.repeat", "stop")
    assert "opening 1 at (70 mm, 63.5 mm) and opening 2 at (70 mm, 76.5 mm) overlap" in stop.message


def test_a_thin_wall_between_openings_is_a_warning(report_with: Make) -> None:
    """Openings of 13.175 mm at a pitch of 16 leave 2.825 mm, where MDF asks for more."""
    report = report_with(cut={"repeat": {"count": 2, "pitch": 16, "direction": 90}})
    (wall,) = [finding for finding in report.findings if finding.code == "thin-wall"]
    assert (wall.where, wall.level.value) == ("cut.repeat", "warning")
    assert wall.message.startswith("only 2.83 mm between opening 1")


def test_an_opening_off_the_plate_is_named(report_with: Make) -> None:
    """The last of a row that does not fit is the one that is told."""
    cut = {"shape": "round", "diameter": 20, "depth": 5, "x": 40, "repeat": {"count": 2, "pitch": 120}}
    found = [f for f in report_with(cut=cut).findings if f.code == "opening-off-plate"]
    assert [f.message.partition(" does")[0] for f in found] == ["opening 1 at (-20 mm, 70 mm)"]


def test_the_deepest_cut_is_asked_for_depth(report_with: Make) -> None:
    """Edges of 15 mm are too short for the 20 mm slot and long enough for the 12 mm rounds: one finding, cut 1."""
    tools = 'bit = { diameter = "1/4 in", cutting_length = 15, shank = "1/4 in" }'
    source = LOCK.replace('bit = "1/4 in"', tools)
    found = codes(report_on(job_from_text(source, name="lock", profiles=Profiles())))
    assert found["deeper-than-cutting-edges"] == ["cut 1.depth"]


def test_the_label_names_every_cut(lock: Report) -> None:
    """Each cut by its number and sizes, a repeated one with how often, a mirrored one with that word."""
    assert label_facts(lock.job)[3:6] == (
        "1: cut 16 x 80 x 20 mm",
        "2: cut dia 20 x 12 mm, 3 times",
        "3: cut mirrored 20 x 40 x 8 mm",
    )


def test_every_opening_has_its_cuts_number(lock: Report) -> None:
    """A 1, three times 2 and a 3, each nearest to an opening of that cut and clear of all (distances by shapely)."""
    found = lock.template.numbers
    assert [one.number for one in found] == [1, 2, 2, 2, 3]
    areas = [shapely.Polygon(region.outer.flattened(0.01)) for region in lock.template.opening]
    for own, one in zip(areas, found, strict=True):
        box = shapely.box(*one.box)
        assert min(areas, key=box.distance) is own
        assert 1.5 <= own.distance(box) <= 9.0
    strokes = {stroke for one in found for stroke in one.strokes}
    assert strokes < set(lock.template.marks)


def test_every_page_shows_the_numbers(lock: Report) -> None:
    """In the plan of each cut's page every opening has its number."""
    pages = lay_out_setup(lock).pattern.pages
    for page in pages[:3]:
        (plan,) = [w for w in page.windows if any(t.string == "Plan, seen from above" for t in w.texts)]
        assert sorted(t.string for t in plan.texts if t.string.isdigit()) == ["1", "2", "2", "2", "3"]


def test_one_cut_has_no_number(report_with: Make) -> None:
    """Where all openings are of one cut there is nothing to tell apart."""
    report = report_with(cut={"shape": "round", "diameter": 12, "depth": 5, "repeat": {"count": 2, "pitch": 40}})
    assert report.template.numbers == ()


def test_a_label_of_many_cuts_names_three_and_counts_the_rest() -> None:
    """Of six cuts three are named, and the others counted."""
    head, _, tail = LOCK.partition("[[cut]]")
    cuts = "".join(f'[[cut]]\nshape = "round"\ndiameter = {8 + i}\ndepth = 5\nx = {20 + 30 * i}\n' for i in range(6))
    job = job_from_text(head + cuts + tail[tail.index("[tools]") :], name="six", profiles=Profiles())
    said = ("1: cut dia 8 x 5 mm", "2: cut dia 9 x 5 mm", "3: cut dia 10 x 5 mm", "and 3 cuts more")
    assert label_facts(job)[3:7] == said


@pytest.mark.parametrize(
    ("repeat", "said"),
    [
        ({"count": 2, "pitch": "32 mm", "direction": 90}, "2 times, 32 mm from middle to middle, side by side"),
        ({"count": 3, "pitch": "2 in"}, "3 times, 2 in from middle to middle, end to end"),
        ({"count": 2, "pitch": 70, "direction": 45}, "2 times, 70 mm from middle to middle, at 45° to its length"),
        (
            {"count": 2, "pitch": 60, "rows": 2, "row_pitch": 40},
            "4 times, 60 mm from middle to middle, end to end, in 2 rows 40 mm apart",
        ),
        ({"count": 4, "ring": 90}, "4 times on a ring of 90 mm, each turned by its step"),
        (
            {"count": 4, "ring": 90, "turned": False, "start_angle": 45},
            "4 times on a ring of 90 mm, the first at 45°, none of them turned",
        ),
    ],
)
def test_how_a_cut_is_repeated_is_said(report_with: Make, repeat: dict[str, Any], said: str) -> None:
    """In words, among the facts."""
    cut = {"shape": "round", "diameter": 10, "depth": 5, "repeat": repeat}
    assert dict(facts(report_with(cut=cut)))["repeated"] == said


def test_facts_of_several_cuts_have_their_number(lock: Report) -> None:
    """What belongs to a cut has its number before it, what belongs to the plate has none."""
    labels = [label for label, _ in facts(lock)]
    assert labels[:4] == ["bit", "bushing", "offset", "1: cut wanted"]
    assert "2: repeated" in labels
    assert "3: passes" in labels
    assert "plate" in labels


def test_the_dxf_has_every_opening(lock: Report, tmp_path: Path) -> None:
    """Read by ezdxf: five closed openings of the right areas (stadium, circle, rounded rectangle), inside the plate.

    Openings: 22.35 x 86.35 with round ends; dia 26.35; 26.35 x 46.35 less its corners.
    """
    write(lock, tmp_path)
    drawing = ezdxf.readfile(tmp_path / "lock" / "lock_cnc_mm.dxf")
    inside = [entity for entity in drawing.modelspace() if "inside" in entity.dxf.layer.lower()]
    assert len(inside) == 5
    circles = [entity for entity in inside if entity.dxftype() == "CIRCLE"]
    assert sorted(round(circle.dxf.center.x, 6) for circle in circles) == [20, 60, 100]
    assert {round(circle.dxf.radius, 6) for circle in circles} == {13.175}


def test_the_manifest_has_every_opening(lock: Report, tmp_path: Path) -> None:
    """The openings of the other cuts stand exactly in the manifest, for the day the bit changes."""
    write(lock, tmp_path)
    data = json.loads((tmp_path / "lock" / "lock.json").read_text(encoding="utf-8"))
    assert len(data["other_openings"]) == 2
    ((x0, _, b0), (x1, _, b1)) = data["other_openings"][0][0]["outer"]
    assert (abs(x1 - x0), b0, b1) == (26.35, 1.0, 1.0)


def test_the_set_up_sheet_has_a_page_for_each_cut(lock: Report) -> None:
    """Three pages, each with its own plunge setting: 6 + 20, 6 + 12, 6 + 8 mm; the last is about the fit."""
    *pages, _ = lay_out_setup(lock).pattern.pages
    words = [[text.string for text in page.texts] for page in pages]
    assert [next(w for w in said if w.endswith("mm")) for said in words] == ["26 mm", "18 mm", "14 mm"]
    assert [next(w for w in said if w.startswith("CUT")).partition(" ·")[0] for said in words] == [
        "CUT 1",
        "CUT 2",
        "CUT 3",
    ]


def test_by_hand_every_opening_is_told(lock: Report) -> None:
    """Drilled ends of all openings; runs for the slot, none for the turned rectangle; a pin for the rounds, once."""
    plan = by_hand(lock, ())
    assert [hole.what for hole in plan.drilling].count("opening") == 3
    titles = [table.title for table in plan.tables()]
    assert titles[1:3] == [
        "The openings at a router table, with a fence",
        "The round opening at a router table, on a pin",
    ]
    notes = plan.tables()[1].notes
    assert notes[0] == (
        "Openings by their letters on the plan, middles from the datum corner: A at (100 mm, 90 mm), B at (150 mm, "
        "40 mm)."
    )
    # without a bit the slot has no run either
    assert "Openings A and B: not with a fence; saw and file them." in notes


@pytest.mark.parametrize(
    ("repeat", "said"),
    [
        ({"count": 2, "pitch": 60}, "Openings A and B: not with a fence; saw and file them."),
        ({"count": 3, "pitch": 40}, "Openings A to C: not with a fence; saw and file them."),
        ({"count": 3, "ring": 110}, "Openings B and C: not with a fence; saw and file them."),
    ],
)
def test_by_hand_openings_without_a_fence_share_a_line(report_with: Make, repeat: dict[str, Any], said: str) -> None:
    """Of turned openings none runs along a fence; on a ring of three the first alone does. One line says which."""
    turned = 0 if "ring" in repeat else 30
    cut = {"shape": "slot", "width": 10, "length": 20, "depth": 10, "angle": turned, "repeat": repeat}
    report = report_with(cut=cut, plate={"width": 200, "height": 200})
    (table,) = [table for table in with_own_bits(report, []).tables() if table.title.startswith("The openings at")]
    assert [note for note in table.notes if "not with a fence" in note] == [said]


def test_by_hand_twins_have_a_run_each(report_with: Make) -> None:
    """A bit as wide as both openings: two runs, 47.4 and 79.4 mm from the lower edge less half its surplus."""
    from jigtemplates.lengths import parse_length
    from jigtemplates.parameters.entries import Bit

    report = report_with(cut={"repeat": {"count": 2, "pitch": 32, "direction": 90}})
    wide = Bit.model_construct(name="wide", diameter=parse_length("13.175 mm"), cutting_length=None)
    runs = by_hand(report, [wide]).fence
    assert [(run.opening, run.edge) for run in runs] == [("A", "lower"), ("B", "lower")]
    assert [run.fence for run in runs] == pytest.approx([47.4125, 79.4125], abs=1e-9)


def test_places_of_a_ring_lie_on_it(report_with: Make) -> None:
    """Seven on a ring: each exactly half the ring's diameter from the middle."""
    cut = {"shape": "round", "diameter": 6, "depth": 5, "repeat": {"count": 7, "ring": "70 mm", "start_angle": 10}}
    places = places_of(report_with(cut=cut).job.cut)
    assert [math.dist((70, 70), place[:2]) for place in places] == pytest.approx([35.0] * 7, abs=1e-9)


def test_a_page_has_a_line_for_each_cut(lock: Report) -> None:
    """On paper each cut takes one line: what is wanted, how often, opening, plunge and passes."""
    said = short_facts(lock)
    assert [label for label, _ in said] == ["bit", "bushing", "offset", "cut 1", "cut 2", "cut 3", "plate"]
    assert dict(said)["cut 2"] == "round dia 20 x 12 mm, 3 times; opening dia 26.35 mm; plunge 18 mm, 4 passes"


def test_a_page_of_many_cuts_has_six_lines_for_them() -> None:
    """Of twelve cuts five are told, and the others counted."""
    head, _, tail = LOCK.partition("[[cut]]")
    cuts = "".join(f'[[cut]]\nshape = "round"\ndiameter = 7\ndepth = 5\nx = {12 + 15 * i}\n' for i in range(12))
    report = report_on(job_from_text(head + cuts + tail[tail.index("[tools]") :], name="m", profiles=Profiles()))
    said = short_facts(report)
    assert [label for label, _ in said[3:-1]] == [*(f"cut {n}" for n in range(1, 6)), "and more"]
    assert said[-2][1] == "7 other cuts: see the set-up sheet"


def test_a_page_of_one_cut_has_all_facts(report_with: Make) -> None:
    """One cut is told in full, as on the terminal."""
    report = report_with()
    assert short_facts(report) == facts(report)


CROWDED = """
title = "Crowded"
units = "mm"
[[cut]]
shape = "rectangle"
width = 24
length = 24
depth = 12
x = 36
y = 16.5
repeat = { count = 2, pitch = 34 }
[[cut]]
shape = "slot"
width = 24
length = 50
depth = 5
x = 110
y = 16.5
[tools]
bit = "1/4 in"
bushing = "1/2 in"
[plate]
width = 150
height = 33
thickness = 6
wall = 0.5
"""
BY_HAND = "write it there by hand, so that each is routed to its own depth, or make the plate larger"


def test_number_that_finds_no_room() -> None:
    """An opening that goes without its number is named, lest it is routed to another one's depth."""
    report = report_on(job_from_text(CROWDED, name="crowded", profiles=Profiles()))
    assert [(one.level.value, one.where, one.message) for one in report.findings if one.code == "number-left-out"] == [
        (
            "warning",
            "plate",
            f"there is no room to engrave its number beside 1 of the 2 openings of cut 1: {BY_HAND}",
        )
    ]


@pytest.mark.parametrize(
    ("left", "openings"),
    [
        ((1, 2, 2, 2, 3), None),
        ((1, 2, 3), "2 of the 3 openings of cut 2"),
        ((2, 2), "the opening of cut 1, 1 of the 3 openings of cut 2, the opening of cut 3"),
        ((3,), "the opening of cut 1, all of the 3 openings of cut 2"),
    ],
)
def test_numbers_that_find_no_room(lock: Report, left: tuple[int, ...], openings: str | None) -> None:
    """Those of every cut in one sentence, by how many of its openings lack one."""
    one_each = {one.number: one for one in lock.template.numbers}
    template = replace(lock.template, numbers=tuple(one_each[number] for number in left))
    found = [one.message for one in check_label(replace(lock.case, template=template))]
    said = f"there is no room to engrave its number beside {openings}: {BY_HAND}"
    assert [one for one in found if "number" in one] == ([] if openings is None else [said])


GAINS = """
title = "Door edge"
units = "mm"
[[cut]]
shape = "hinge"
width = 25
length = 76
depth = 3
x = 130
y = 60
repeat = {{ count = 2, pitch = 120 }}
[[cut]]
shape = "hinge"
width = 30
length = 60
depth = 3
x = {x}
y = {y}
angle = {angle}
[tools]
bit = 12
bushing = 20
[plate]
width = 420
height = 150
thickness = 6
label = false
"""


@pytest.mark.parametrize(("y", "angle", "count"), [(62.5, 0, 1), (32.5, 180, 1), (70, 0, 2)])
def test_gains_along_one_edge_share_its_line(y: float, angle: float, count: int, tmp_path: Path) -> None:
    """A pair of gains and one of another size, laid on the same edge of the work: one line, and files can be written.

    The edge lies half a gain's width below its middle: 60 - 12.5 = 62.5 - 15; turned round, 32.5 + 15 above.
    """
    report = report_on(job_from_text(GAINS.format(x=330, y=y, angle=angle), name="door", profiles=Profiles()))
    strokes = [s.points for s in report.template.marks if len(s.points) == 2]
    level = [(a, b) for a, b in strokes if abs(a.y - b.y) < 1e-9 and round(a.y, 3) in (47.5, 55.0)]
    assert {round(a.y, 3) for a, _ in level} == {1: {47.5}, 2: {47.5, 55.0}}[count]
    spans = sorted((round(a.y, 3), *sorted((a.x, b.x))) for a, b in level)
    assert all(before[0] < after[0] or before[2] < after[1] for before, after in pairwise(spans))
    assert write(report, tmp_path, profiles=Profiles()).files
