"""What is made of each shape: its opening and cut, the narrowest passage, what the plate says, the edge of the work."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.facts import facts
from jigtemplates.geometry.measure import deviation
from jigtemplates.geometry.outline import Arc, Line
from jigtemplates.label_words import label_facts
from jigtemplates.parameters.job import Job
from jigtemplates.report import Report
from jigtemplates.routing import is_convex
from jigtemplates.template import make_template
from jigtemplates.wanted import cut_outline, cut_text, edge_of_work, narrow_key, narrow_side

JobWith = Callable[..., Job]
ReportWith = Callable[..., Report]

ELLIPSE = {"shape": "ellipse", "width": 30, "length": 60, "depth": 5}
POLYGON = {"shape": "polygon", "sides": 6, "across": 30, "corner_radius": 5, "depth": 5}
KEY = {"shape": "butterfly", "width": 30, "length": 80, "waist": 16, "corner_radius": 5, "depth": 5}
GRIP = {"shape": "hand-hold", "width": 30, "length": 100, "rise": 8, "depth": 5}
ARC = {"shape": "arc-slot", "radius": 60, "span": 90, "width": 12, "depth": 5}
HINGE = {"shape": "hinge", "width": 25, "length": 76, "corner_radius": 6, "depth": 2.5}
UNEVEN = {"shape": "rectangle", "width": 40, "length": 60, "corner_radii": [5, 5, 14, 8], "depth": 5}
ALL = {"ellipse": ELLIPSE, "polygon": POLYGON, "key": KEY, "grip": GRIP, "arc": ARC, "hinge": HINGE, "uneven": UNEVEN}


@pytest.mark.parametrize(
    ("cut", "key", "side"),
    [
        (ELLIPSE, "cut.width", 30),
        ({**ELLIPSE, "width": 60, "length": 30}, "cut.length", 30),
        (POLYGON, "cut.across", 30),
        (KEY, "cut.waist", 16),
        ({**KEY, "length": 12, "corner_radius": 0}, "cut.length", 12),
        (GRIP, "cut.width", 30),
        (ARC, "cut.width", 12),
        (UNEVEN, "cut.width", 40),
        (HINGE, "cut.width", 32.7625),  # 25 and the overrun of 4.7625 + 3
        ({**HINGE, "length": 30}, "cut.length", 30),
    ],
)
def test_the_narrowest_passage(job_with: JobWith, cut: dict[str, Any], key: str, side: float) -> None:
    """Which size it is, and which key gives it."""
    wanted = job_with(cut=cut).cut
    assert narrow_side(wanted) == pytest.approx(side)
    assert narrow_key(wanted) == key


@pytest.mark.parametrize(
    ("cut", "play"), [(KEY, 16 - 9.525), (ARC, 12 - 9.525), (POLYGON, 30 - 9.525), (HINGE, 32.7625 - 9.525)]
)
def test_side_play_is_that_of_the_narrowest_passage(report_with: ReportWith, cut: dict[str, Any], play: float) -> None:
    """However far the opening extends."""
    assert report_with(cut=cut).case.side_play == pytest.approx(play, abs=1e-9)


@pytest.mark.parametrize("name", ["key", "arc", "grip"])
def test_as_narrow_as_the_bit(report_with: ReportWith, name: str) -> None:
    """A waist, arc slot or hand-hold as wide as the bit is widened by the clearance, and the bushing is trapped."""
    narrow = {"key": {"waist": "3/8 in"}, "arc": {"width": "3/8 in"}, "grip": {"width": "3/8 in"}}[name]
    report = report_with(cut={**ALL[name], **narrow})
    assert report.template.widened
    assert report.case.trapped
    assert report.case.side_play == pytest.approx(0.1)
    assert len(report.template.opening) == 1
    assert report.predicted is not None
    assert len(report.predicted.outline) == 1


def test_a_key_as_wide_as_the_widened_waist(report_with: ReportWith) -> None:
    """Ends that are wider than the bit by less than the clearance make a straight slot of it, not a fault."""
    cut = {**KEY, "waist": "3/8 in", "width": 9.6, "corner_radius": 0}
    predicted = report_with(cut=cut).predicted
    assert predicted is not None
    assert predicted.width == pytest.approx(9.625)


def test_a_trapped_arc_slot_follows_its_arc(report_with: ReportWith) -> None:
    """As wide as the bit: the way of the bushing's middle lies 60 from the centre of the arc, within the clearance."""
    predicted = report_with(cut={**ARC, "width": "3/8 in"}).predicted
    assert predicted is not None
    for segment in predicted.path[0].outer.segments:
        assert math.dist(segment.middle, (0, -60)) == pytest.approx(60, abs=0.051)


def test_an_arc_slot_that_cannot_be_widened(report_with: ReportWith) -> None:
    """A clearance that would close its inner edge changes nothing: there is a finding instead of a fault."""
    report = report_with(cut={**ARC, "radius": 5, "width": 9.6}, tools={"clearance": 1})
    assert report.template.widened is False
    assert report.predicted is not None


@pytest.mark.parametrize("name", ALL)
def test_what_the_bit_reaches_comes_out_as_asked(report_with: ReportWith, name: str) -> None:
    """With corners no tighter than the bit every shape comes out to a micrometre, but for the waist of a key."""
    report = report_with(cut=ALL[name], tools={"bit": "8 mm"})
    assert report.predicted is not None
    assert report.predicted.max_deviation < (0.036 if name == "key" else 1e-6)
    assert report.predicted.unreachable_area < 0.01


@pytest.mark.parametrize(
    ("cut", "text"),
    [
        (ELLIPSE, "ellipse 30 x 60 x 5 mm"),
        (POLYGON, "polygon 30 x 5 mm, 6 sides"),
        (KEY, "butterfly 30 x 80 x 5 mm, waist 16"),
        (GRIP, "hand-hold 30 x 100 x 5 mm, rise 8"),
        ({**GRIP, "rise": 0}, "hand-hold 30 x 100 x 5 mm"),
        (ARC, "arc-slot 12 x 5 mm, r 60, 90 deg"),
        (HINGE, "hinge 25 x 76 x 2.5 mm"),
        (UNEVEN, "cut 40 x 60 x 5 mm"),
    ],
)
def test_what_the_label_says(job_with: JobWith, cut: dict[str, Any], text: str) -> None:
    """The shape where its sizes do not tell it, then sizes and depth, then what it has besides."""
    assert label_facts(job_with(cut=cut))[3] == text


def test_the_label_in_inches(job_with: JobWith) -> None:
    """All in inches: fractions, of the waist as well; a widened waist says what comes out."""
    cut = {**KEY, "width": "1-1/4 in", "length": "3 in", "waist": "3/8 in", "depth": "1/4 in", "corner_radius": 0}
    job = job_with(cut=cut)
    assert cut_text(job.cut) == "1-1/4 x 3 x 1/4 in, waist 3/8"
    assert label_facts(job)[3] == "butterfly 1-1/4 x 3 x 1/4 in, waist 0.379"


@pytest.mark.parametrize(
    ("cut", "text"),
    [
        (ELLIPSE, "ellipse, 30 mm wide, 60 mm long, 5 mm deep"),
        (POLYGON, "polygon of 6 sides, 30 mm across, corners r 5 mm, 5 mm deep"),
        (KEY, "butterfly key, 30 mm wide, 16 mm at the waist, 80 mm long, corners r 5 mm, 5 mm deep"),
        (GRIP, "hand-hold, 30 mm wide, 100 mm long, arched by 8 mm, 5 mm deep"),
        ({**GRIP, "rise": 0, "angle": 30}, "hand-hold, 30 mm wide, 100 mm long, 5 mm deep, turned 30°"),
        (ARC, "arc slot, 12 mm wide, radius 60 mm, 90°, 5 mm deep"),
        (HINGE, "hinge gain, 25 mm from the edge of the work, 76 mm long, corners r 6 mm, 2.5 mm deep"),
        (
            UNEVEN,
            "rectangle, 40 mm wide, 60 mm long, corners r 5 mm lower left, 5 mm lower right, 14 mm upper right, "
            "8 mm upper left, 5 mm deep",
        ),
    ],
)
def test_the_cut_as_it_was_written(report_with: ReportWith, cut: dict[str, Any], text: str) -> None:
    """For the terminal and the sheets: every size with its name."""
    assert dict(facts(report_with(cut=cut)))["cut wanted"] == text


def test_the_edge_of_the_work(report_with: ReportWith) -> None:
    """A hinge gain of 25 from the edge: 12.5 below its middle; the opening goes on by overrun + offset, 9.35 mm."""
    report = report_with(cut=HINGE)
    assert edge_of_work(report.job.cut) == 12.5
    # overrun 4.7625 + 3, offset (12.7 - 9.525) / 2 = 1.5875
    assert dict(facts(report))["edge of work"] == (
        "the line on the plate, 12.5 mm from the middle of the gain; the opening runs 9.35 mm past it"
    )
    assert report.as_json()["predicted_cut"]["width"] == 25
    assert report.as_json()["opening"]["width"] == pytest.approx(25 + 7.7625 + 2 * 1.5875)
    assert "line = edge of work" in label_facts(report.job)
    assert "edge of work" not in dict(facts(report_with(cut=ELLIPSE)))
    assert "edge of work" not in dict(facts(report_with(cut={**HINGE, "length": 9, "corner_radius": 0})))


def lines_at(job: Job, x: float | None = None, y: float | None = None) -> list[tuple[float, ...]]:
    """The marks that run along a straight of the plate: where they begin and end on it."""
    marks = [mark.points for mark in make_template(job).marks if len(mark.points) == 2]
    if y is not None:
        found = [(a.x, b.x) for a, b in marks if abs(a.y - y) < 1e-6 and abs(b.y - y) < 1e-6]
    else:
        found = [(a.y, b.y) for a, b in marks if abs(a.x - (x or 0)) < 1e-6 and abs(b.x - (x or 0)) < 1e-6]
    return sorted(tuple(sorted(pair)) for pair in found)


def test_the_edge_of_the_work_is_marked(job_with: JobWith) -> None:
    """From edge to edge of the plate at y = 70 - 12.5, broken by the opening (38 + 1.5875) and a gap beside it."""
    left, right = lines_at(job_with(cut=HINGE), y=57.5)
    assert left == pytest.approx((0, 70 - 39.5875 - 1.5), abs=0.55)
    assert right == pytest.approx((70 + 39.5875 + 1.5, 140), abs=0.55)


def test_the_edge_of_the_work_turns_with_the_cut(job_with: JobWith) -> None:
    """Turned by 90 degrees counter-clockwise it is the upright line to the right of the middle."""
    assert len(lines_at(job_with(cut={**HINGE, "angle": 90}), x=82.5)) == 2


def test_uneven_corners_are_mirrored(job_with: JobWith) -> None:
    """Mirrored, the round corner of 14 comes from the upper right to the upper left."""

    def place(job: Job) -> tuple[float, float]:
        arcs = [s for s in make_template(job).opening[0].outer.segments if isinstance(s, Arc)]
        return tuple(max(arcs, key=lambda s: s.radius).center)

    x, y = place(job_with(cut=UNEVEN))
    assert (x, y) == pytest.approx((70 + 30 - 14, 70 + 20 - 14))
    assert place(job_with(cut=UNEVEN, make={"mirrored": True})) == pytest.approx((140 - x, y))


@pytest.mark.parametrize("name", ["polygon", "key", "grip", "arc", "hinge", "ellipse"])
def test_the_other_shapes_are_their_own_mirror_images(job_with: JobWith, name: str) -> None:
    """So that a mirrored template needs no other outline."""
    outline = cut_outline(job_with(cut={**ALL[name], **({"sides": 5} if name == "polygon" else {})}).cut)
    assert deviation(_region(outline), _region(outline.mirrored())) < 1e-9


def _region(outline: Any) -> Any:
    from jigtemplates.geometry.outline import Region

    return (Region(outline),)


def test_which_outlines_bend_inwards(job_with: JobWith) -> None:
    """A key at its waist and an arc slot along its inner edge; the others nowhere."""
    bent = [name for name, cut in ALL.items() if not is_convex(cut_outline(job_with(cut=cut).cut))]
    assert bent == ["key", "arc"]


def test_the_opening_is_exact(job_with: JobWith) -> None:
    """A hexagon's opening is six lines and six arcs, a hand-hold's a line and three arcs: no chords."""
    for cut, kinds in ((POLYGON, (6, 6)), (GRIP, (1, 3)), (ARC, (0, 4)), (HINGE, (4, 4))):
        segments = make_template(job_with(cut=cut)).opening[0].outer.segments
        assert (sum(isinstance(s, Line) for s in segments), sum(isinstance(s, Arc) for s in segments)) == kinds
