"""Outside work: a pattern followed round its outside, from the job to its files."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pytest
import shapely

from jigtemplates.cautions import cautions
from jigtemplates.checks import Level
from jigtemplates.drawer import Tool, cut_by
from jigtemplates.errors import InputError
from jigtemplates.facts import facts
from jigtemplates.geometry.outline import Regions
from jigtemplates.label_words import label_facts
from jigtemplates.making import write
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

SEAT = """
title = "Stool seat"
units = "mm"
[cut]
shape = "rectangle"
side = "outside"
width = 220
length = 320
corner_radius = 40
depth = 20
[tools]
bit = "10 mm"
bushing = "30 mm"
[plate]
thickness = 9
"""


def read(text: str, name: str = "seat") -> Job:
    return job_from_text(text, name=name, profiles=Profiles())


def with_cut(*lines: str) -> str:
    """The job with another cut."""
    head, _, tail = SEAT.partition("[cut]\n")
    return f'{head}[cut]\nside = "outside"\ndepth = 20\n' + "\n".join(lines) + "\n" + tail[tail.index("[tools]") :]


def on(text: str) -> Report:
    return report_on(read(text))


def codes(report: Report) -> dict[str, Level]:
    return {finding.code: finding.level for finding in report.findings}


def shape_of(regions: Regions, chord: float = 1e-4) -> Any:
    return shapely.unary_union(
        [shapely.Polygon(r.outer.flattened(chord), [h.flattened(chord) for h in r.holes]) for r in regions]
    )


@pytest.fixture(scope="module")
def seat() -> Report:
    """A seat of 220 x 320, corners r 40, with a 30 mm bushing and a 10 mm bit."""
    return on(SEAT)


def test_a_round_pattern_is_20_mm_smaller() -> None:
    """A 30 mm bushing and a 10 mm bit: a round pattern is 20 mm smaller than the work (HolzWerken, read)."""
    report = on(with_cut('shape = "round"', "diameter = 200"))
    size = report.template.opening_size
    assert size is not None
    assert (size.width, size.length) == pytest.approx((180.0, 180.0), abs=1e-6)


def test_the_pattern_is_the_work_less_the_offset_all_round(seat: Report) -> None:
    """200 x 300, corners 40 - 10 = 30; the plate is that large and lies on the datum."""
    (pattern,) = (seat.template.plate,)
    assert pattern.bounds == pytest.approx((0, 0, 300, 200), abs=1e-9)
    assert (seat.job.plate.width, seat.job.plate.height) == pytest.approx((300, 200), abs=1e-9)
    arcs = [round(s.radius, 9) for s in pattern.outer.segments if hasattr(s, "radius")]
    assert arcs == [30.0] * 4
    assert seat.template.opening == ()


def test_the_work_comes_out_as_asked(seat: Report) -> None:
    """Routed round: 220 x 320 again, nothing standing and nothing lost."""
    made = seat.predicted
    assert made is not None
    assert (made.width, made.length) == pytest.approx((220, 320), abs=1e-6)
    assert made.max_deviation < 1e-6
    assert (made.unreachable_area, made.excess_area) == (0.0, 0.0)


def test_shapely_agrees_on_a_convex_pattern(seat: Report) -> None:
    """The same by a fine shapely buffer (64 chords a quarter, which on convex outlines is sound): within 0.1 mm²."""
    work = shape_of(seat.template.cut)
    expected = work.buffer(5, quad_segs=256).buffer(-15, quad_segs=256)
    assert shape_of(seat.template.opening_at_rest).symmetric_difference(expected).area < 0.1


def test_sharp_corners_come_out_rounded_to_the_offset() -> None:
    """A square of 100: the pattern is a sharp square of 80; the bushing rolls round its corners, which leave r 10.

    A square corner loses (1 - pi / 4) r²: four of them 85.84 mm² at r 10; the edge is 10 (sqrt 2 - 1) = 4.14 mm off.
    """
    report = on(with_cut('shape = "rectangle"', "width = 100", "length = 100"))
    made = report.predicted
    assert made is not None
    assert made.excess_area == pytest.approx(85.8407, abs=1e-3)
    assert made.max_deviation == pytest.approx(4.1421, abs=1e-3)
    (finding,) = [one for one in report.findings if one.code == "corners-rounded"]
    assert finding.where == "cut.corner_radius"
    assert finding.message.startswith(
        "corners of the work tighter than 10 mm, half of bushing less bit, come out rounded"
    )
    assert "the edge at most 4.14 mm off" in finding.message


def test_inside_corners_keep_the_bits_radius() -> None:
    """A butterfly key followed round its outside has two corners that go in: what the bit leaves there is said."""
    cut = with_cut('shape = "butterfly"', "length = 200", "width = 160", "waist = 110")
    report = on(cut.replace('bushing = "30 mm"', 'bushing = "20 mm"').replace('bit = "10 mm"', 'bit = "16 mm"'))
    made = report.predicted
    assert made is not None
    assert made.unreachable_area > 0.01
    (finding,) = [one for one in report.findings if one.code == "corner-tighter-than-bit"]
    assert finding.message.startswith("corners that go in are tighter than the bit (8 mm radius) and keep ")


def test_the_pattern_turns_with_its_angle() -> None:
    """Turned by 90 degrees the plate is 200 wide and 300 high."""
    job = read(SEAT.replace("depth = 20", "depth = 20\nangle = 90"))
    assert (job.plate.width, job.plate.height) == pytest.approx((200, 300), abs=1e-6)


def test_nothing_left_of_the_pattern() -> None:
    """A round of 18 with an offset of 10 a side: a stop, and nothing is made."""
    report = on(with_cut('shape = "round"', "diameter = 18"))
    (stop,) = [finding for finding in report.findings if finding.level is Level.STOP]
    assert (stop.code, stop.where) == ("no-pattern", "cut.side")
    assert "10 mm a side smaller than the work" in stop.message


def test_a_pattern_that_is_but_a_line() -> None:
    """Work of 20 with a bit of 10 in a bushing of 30 leaves a pattern without any width: none at all, and no crash."""
    report = on(with_cut('shape = "rectangle"', "width = 20", "length = 80"))
    assert codes(report)["no-pattern"] is Level.STOP


def test_a_pattern_that_falls_apart() -> None:
    """A key with a waist of 15 has none left 10 mm in from each side: a stop."""
    report = on(with_cut('shape = "butterfly"', "length = 200", "width = 160", "waist = 15"))
    assert codes(report)["pattern-in-parts"] is Level.STOP


def test_an_outline_with_others_inside(tmp_path: Path) -> None:
    """A drawing of a ring is no piece to cut out round its outside: a stop that says what to draw."""
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">{}</svg>'
    circles = '<circle cx="50" cy="50" r="45"/><circle cx="50" cy="50" r="20"/>'
    (tmp_path / "ring.svg").write_text(svg.format(circles), encoding="utf-8")
    (tmp_path / "ring.toml").write_text(with_cut('shape = "outline"', 'file = "ring.svg"'), encoding="utf-8")
    from jigtemplates.parameters.load import load_job

    assert codes(report_on(load_job(tmp_path / "ring.toml", profiles=Profiles())))["pattern-with-holes"] is Level.STOP


def test_the_router_is_carried_on_one_side_only(seat: Report) -> None:
    """A pattern carries less than half of the base; that is always said, with the strips' thickness."""
    (finding,) = [one for one in seat.findings if one.code == "base-overhangs"]
    assert finding.level is Level.WARNING
    assert "lay strips as thick as it (9 mm) under the outer side" in finding.message


def test_feed_is_counter_clockwise_round_the_outside(seat: Report) -> None:
    """WOOD; Woodworker's Journal, Winter 2010 (read): hand-held round the outside counter-clockwise. On all sheets."""
    assert any("round a pattern feed counter-clockwise" in line for line in cautions(seat.job))
    assert not any(" clockwise" in line for line in cautions(seat.job))
    page = lay_out_setup(seat).pattern.pages[0]
    words = [text.string for part in (page, *page.windows) for text in part.texts]
    assert "counter-clockwise" in words
    assert "feed: counter-clockwise" in words
    assert "clockwise" not in words


def test_what_is_said_of_it(seat: Report) -> None:
    """Facts and label speak of work and pattern, not of cut and opening."""
    said = dict(facts(seat))
    assert said["work wanted"] == "rectangle, 220 mm wide, 320 mm long, corners r 40 mm, 20 mm deep"
    assert said["pattern"].startswith("200 x 300 mm = ")
    assert said["work made"].endswith("as asked")
    assert "side play" not in said
    assert label_facts(seat.job)[3:5] == ("work 220 x 320 x 20 mm", "follow the outside")


def test_json_says_which_side(seat: Report) -> None:
    """ "side" tells that the opening is the pattern; there is no side play, and nothing is trapped."""
    said = seat.as_json()
    assert (said["side"], said["side_play"], said["trapped"]) == ("outside", None, False)
    assert (said["opening"]["width"], said["predicted_cut"]["width"]) == (200, 220)


def test_a_recess_says_no_side(report_with: Callable[..., Report]) -> None:
    """A recess is said as ever."""
    assert "side" not in report_with().as_json()


def test_the_files_have_the_pattern_as_their_outside(seat: Report, tmp_path: Path) -> None:
    """Read by ezdxf: one closed outline, 300 x 200 with corners r 30, and no opening; with a kerf half of it larger."""
    write(seat, tmp_path)
    (outside,) = [s for s in ezdxf.readfile(tmp_path / "seat" / "seat_cnc_mm.dxf").modelspace() if "cut" in s.dxf.layer]
    xs, ys = zip(*outside.get_points("xy"), strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((0, 300, 0, 200), abs=1e-6)
    kerfed = on(SEAT + "[make]\nkerf = 0.2\n")
    write(kerfed, tmp_path / "k")
    path = tmp_path / "k" / "seat" / "seat_laser_kerf0.2_mm.dxf"
    (outside,) = [s for s in ezdxf.readfile(path).modelspace() if "cut" in s.dxf.layer]
    xs, ys = zip(*outside.get_points("xy"), strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((300.2, 200.2), abs=1e-6)


def test_the_drawer_routes_a_pattern_round_its_outside(seat: Report) -> None:
    """With a bit of 8 instead of 10 the work comes out 2 mm larger all told: W = pattern + bushing - bit."""
    made = cut_by(seat.template.opening_at_rest, Tool("8", 8.0), Tool("30", 30.0), is_outside=True)
    assert (made.width, made.length) == pytest.approx((222, 322), abs=1e-6)


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        (
            "thickness = 9",
            "thickness = 9\nwidth = 100",
            'seat:16: plate.width: does not go with cut.side = "outside" (leave it out: a pattern has the size of the '
            "work less the offset)",
        ),
        (
            "thickness = 9",
            "thickness = 9\ncorner_radius = 5",
            'seat:16: plate.corner_radius: does not go with cut.side = "outside" (leave it out: a pattern has the '
            "corners of the work)",
        ),
        (
            "depth = 20",
            "depth = 20\nx = 5",
            'seat:11: cut.x: does not go with side = "outside" (leave it out: a pattern is followed on its own)',
        ),
        (
            "depth = 20",
            "depth = 20\nrepeat = { count = 2, pitch = 400 }",
            'seat:11: cut.repeat: does not go with side = "outside" (leave it out: a pattern is followed on its own)',
        ),
        (
            "thickness = 9\n",
            "thickness = 9\n[work]\nthickness = 30\nheight = 40\n",
            'seat:16: work: does not go with cut.side = "outside" (leave it out: fence and stops bring a template over '
            "a recess; lay the pattern where the piece is to come, and fasten it there)",
        ),
        (
            "thickness = 9\n",
            "thickness = 9\n[tenon]\njoints = 4\n",
            'seat:16: tenon: does not go with cut.side = "outside" (leave it out: tenons fill a recess; write their '
            "mortise as a job of its own)",
        ),
        (
            "thickness = 9\n",
            'thickness = 9\n[inlay]\nplug_bushing = "20 mm"\n',
            'seat:16: inlay: does not go with cut.side = "outside" (leave it out: the plug is made with the template '
            "of its recess; write [inlay] in that job)",
        ),
        (
            'shape = "rectangle"',
            'shape = "hinge"',
            'seat:6: cut.side: a hinge gain is open to the edge of the work (use shape = "rectangle" for a pattern)',
        ),
        ('side = "outside"', 'side = "out"', 'seat:6: cut.side: "out" is not known here (did you mean "outside"?)'),
    ],
)
def test_what_does_not_go_with_a_pattern(old: str, new: str, line: str) -> None:
    """One line each: where, and that it is to be left out."""
    with pytest.raises(InputError) as caught:
        read(SEAT.replace(old, new))
    assert caught.value.lines == (line,)


def test_a_pattern_in_a_holder_is_refused() -> None:
    """A pattern lies on the work; a holder takes plates."""
    with pytest.raises(InputError) as caught:
        read(SEAT + 'holder = "quay-frame-160"\n')
    (line,) = caught.value.lines
    assert line.startswith("seat:16: plate.holder: ")


def test_a_pattern_among_several_cuts_is_refused() -> None:
    """A pattern takes the whole plate."""
    cut = '[[cut]]\nshape = "round"\ndiameter = 20\ndepth = 5\nside = "outside"\n'
    tail = '[tools]\nbit = "1/4 in"\nbushing = "1/2 in"\n[plate]\nwidth = 200\nheight = 160\nthickness = 6\n'
    with pytest.raises(InputError) as caught:
        read('title = "x"\nunits = "mm"\n' + cut.replace('side = "outside"\n', "") + cut + tail)
    assert caught.value.lines == (
        "seat:11: cut 2.side: a pattern takes the whole plate (write a job of its own for it)",
    )
