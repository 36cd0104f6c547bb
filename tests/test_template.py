"""A job becomes a template: size, place and turn of the opening, mirroring, label, marks."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, box

from jigtemplates.geometry.measure import deviation
from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.label import Label
from jigtemplates.label_words import label_facts
from jigtemplates.opening import Size, opening_for, size_of
from jigtemplates.parameters.job import Job
from jigtemplates.routing import predict
from jigtemplates.template import Template, make_template
from jigtemplates.wanted import cut_text

JobWith = Callable[..., Job]

#: Leaves out what takes time and is not asked about.
PLAIN: dict[str, Any] = {"label": False, "screws": None}


def size(template: Template) -> tuple[float, float, float]:
    """Width, length and corner radius of an opening that is there."""
    found = template.opening_size
    assert found is not None
    return found.width, found.length, found.corner_radius


def label(template: Template) -> Label:
    """The label, which must be there."""
    assert template.label.label is not None
    return template.label.label


def ends(outline: Outline) -> list[tuple[float, float]]:
    """Centres of a slot's two round ends."""
    return [(s.center.x, s.center.y) for s in outline.segments if isinstance(s, Arc)]


def test_the_plans_job(job_with: JobWith) -> None:
    """10 x 50 with 3/8 and 1/2 in: the opening is 13.175 x 53.175, its ends round by 6.5875."""
    template = make_template(job_with())
    # 12.7 - 9.525 = 3.175 wider and longer
    assert size(template) == pytest.approx((13.175, 53.175, 6.5875), abs=1e-9)
    assert template.widened is False
    assert template.opening[0].bounds == pytest.approx((43.4125, 63.4125, 96.5875, 76.5875), abs=1e-9)
    assert [type(s) for s in template.opening[0].outer.segments].count(Arc) == 2
    assert len(template.opening[0].outer.segments) == 4
    assert (template.plate.bounds, len(template.holes)) == ((0, 0, 140, 140), 4)


@pytest.mark.parametrize("width", ["3/8 in", "9.525 mm", 9.525, "9.53 mm", "9.6 mm"])
def test_a_cut_as_wide_as_the_bit(job_with: JobWith, width: object) -> None:
    """From the bit's own width up to bit + clearance the opening is bushing + clearance and the cut follows."""
    template = make_template(job_with(cut={"width": width}))
    assert template.widened is True
    assert size(template) == pytest.approx((12.8, 53.175, 6.4), abs=1e-9)
    cut = predict(template)
    assert cut is not None
    assert (cut.width, cut.length) == pytest.approx((9.625, 50), abs=1e-9)


def test_a_cut_of_bit_and_clearance_is_not_widened(job_with: JobWith) -> None:
    """9.625 mm is 3/8 in and 0.1 mm, whatever binary numbers make of it: nothing was changed."""
    template = make_template(job_with(cut={"width": 9.625}))
    assert template.widened is False
    assert size(template) == pytest.approx((12.8, 53.175, 6.4), abs=1e-9)


def test_without_clearance_the_opening_is_as_wide_as_the_bushing(job_with: JobWith) -> None:
    """Clearance 0 and a cut of the bit's width: 12.7 mm, and nothing was widened."""
    template = make_template(job_with(cut={"width": "9.525 mm"}, tools={"clearance": 0}))
    assert size(template) == pytest.approx((12.7, 53.175, 6.35), abs=1e-6)
    assert template.widened is False


@pytest.mark.parametrize(
    "cut",
    [
        {"width": 9.524},
        {"shape": "round", "diameter": 9.524, "depth": 5},
        {"shape": "rectangle", "width": 50, "length": 9.524, "depth": 5},
    ],
)
def test_a_bit_wider_than_the_cut(job_with: JobWith, cut: dict[str, object]) -> None:
    """A micrometre too narrow, in whichever direction, and there is no opening; the plate is still made."""
    template = make_template(job_with(cut=cut))
    assert (template.opening, template.opening_size, template.widened) == ((), None, False)
    assert predict(template) is None
    assert len(template.holes) == 4
    assert label(template).height >= 2.5


def test_a_rectangle_may_be_shorter_than_wide(job_with: JobWith) -> None:
    """The clearance goes to the shorter side, which may be the length."""
    cut = {"shape": "rectangle", "width": 50, "length": "3/8 in", "depth": 5}
    template = make_template(job_with(cut=cut))
    assert template.widened is True
    assert size(template)[:2] == pytest.approx((53.175, 12.8), abs=1e-9)


def test_a_round_cut(job_with: JobWith) -> None:
    """A round cut gives one whole circle: 40 becomes 43.175; as wide as the bit, 12.8."""
    for diameter, opening in ((40, 43.175), ("3/8 in", 12.8)):
        template = make_template(job_with(cut={"shape": "round", "diameter": diameter, "depth": 5}))
        circle = template.opening[0].outer.as_circle
        assert circle is not None
        assert tuple(circle.center) == (70, 70)
        assert size(template) == pytest.approx((opening, opening, opening / 2), abs=1e-9)


def test_square_corners(job_with: JobWith) -> None:
    """A square corner of the cut gives the opening a corner as round as the bushing."""
    template = make_template(job_with(cut={"shape": "rectangle", "width": 20, "length": 50, "depth": 5}))
    assert size(template) == pytest.approx((23.175, 53.175, 6.35), abs=1e-9)
    assert len(template.opening[0].outer.segments) == 8


def test_round_corners(job_with: JobWith) -> None:
    """A corner of 8 mm grows by the offset of 1.5875 mm."""
    cut = {"shape": "rectangle", "width": 20, "length": 50, "corner_radius": 8, "depth": 5}
    assert size(make_template(job_with(cut=cut))) == pytest.approx((23.175, 53.175, 9.5875), abs=1e-9)


def test_size_of_nothing() -> None:
    """An empty area has no size; one without arcs has corners of 0; several parts have one box."""
    assert size_of(()) is None
    box_10 = Region(rectangle(10, 4))
    assert size_of((box_10,)) == Size(4, 10, 0)
    assert size_of((box_10, Region(box_10.outer.moved(20, 3)))) == Size(7, 30, 0)


def test_the_opening_turned_by_90_degrees(job_with: JobWith) -> None:
    """At x 40, y 60 and 90 degrees the opening stands upright about (40, 60)."""
    template = make_template(job_with(cut={"x": 40, "y": 60, "angle": 90}))
    assert template.opening[0].bounds == pytest.approx((33.4125, 33.4125, 46.5875, 86.5875), abs=1e-9)
    assert size(template) == pytest.approx((13.175, 53.175, 6.5875), abs=1e-9)


def test_the_opening_turned_by_30_degrees(job_with: JobWith) -> None:
    """The round ends are about points 20 mm from (60, 50), counter-clockwise from the right."""
    template = make_template(job_with(cut={"x": 60, "y": 50, "angle": 30}))
    # 20 cos 30 = 17.3205, 20 sin 30 = 10
    right, left = ends(template.opening[0].outer)
    assert right == pytest.approx((77.3205081, 60), abs=1e-7)
    assert left == pytest.approx((42.6794919, 40), abs=1e-7)


def test_mirrored(job_with: JobWith) -> None:
    """Mirrored, x 60 of 140 becomes 80, 30 degrees becomes -30, and a hole at x 15 comes to 125."""
    plate = {"screws": {"pattern": "points", "size": "M5", "points": [[15, 20], [120, 110]]}}
    template = make_template(job_with(cut={"x": 60, "y": 50, "angle": 30}, plate=plate, make={"mirrored": True}))
    right, left = ends(template.opening[0].outer)
    assert right == pytest.approx((97.3205081, 40), abs=1e-7)
    assert left == pytest.approx((62.6794919, 60), abs=1e-7)
    assert [h.center for h in template.holes] == [(125, 20), (20, 110)]
    assert template.plate.bounds == (0, 0, 140, 140)


def test_a_mirrored_label_can_be_read(job_with: JobWith) -> None:
    """It says MIRRORED, and its letters are not mirrored: the foot of the L runs to the right."""
    found = label(make_template(job_with("L", make={"mirrored": True})))
    assert "MIRRORED" in " ".join(found.lines)
    assert found.angle == 0
    top, corner, foot = found.strokes[0].points
    assert top.x == corner.x < foot.x
    assert top.y > corner.y == foot.y


def test_only_a_mirrored_label_says_so(job_with: JobWith) -> None:
    """A template that is not mirrored does not say MIRRORED."""
    assert "MIRRORED" not in " ".join(label(make_template(job_with())).lines)


def test_what_the_label_says(job_with: JobWith) -> None:
    """Name, bit, bushing, cut and which side is up, in this order."""
    assert label_facts(job_with()) == (
        "Bench rail, 10 x 50",
        "bit 3/8 in",
        "bushing 1/2 in",
        "cut 10 x 50 x 28 mm",
        "this side up",
    )
    assert label(make_template(job_with())).lines == label_facts(job_with())
    assert label_facts(job_with(make={"mirrored": True}))[-1] == "MIRRORED"


def test_the_label_says_the_cut_that_comes_out(job_with: JobWith) -> None:
    """A trapped cut of 3/8 in is labelled with the 9.625 mm it will have, and a bit by the size it is sold as."""
    job = job_with(cut={"width": "3/8 in"}, tools={"bit": "up-spiral 3/8 in"})
    assert label_facts(job)[1:4:2] == ("bit 3/8 in", "cut 9.625 x 50 x 28 mm")
    measured = job_with(tools={"bit": {"name": "mine", "diameter": {"nominal": "3/8 in", "measured": 9.48}}})
    assert label_facts(measured)[1] == "bit 3/8 in"
    round_job = job_with(cut={"shape": "round", "diameter": "3/8 in", "depth": 5})
    assert label_facts(round_job)[3] == "cut dia 9.625 x 5 mm"


def test_cut_text(job_with: JobWith) -> None:
    """A round cut is given by its diameter; three decimals at most."""
    assert cut_text(job_with(cut={"shape": "round", "diameter": 40, "depth": 12}).cut) == "dia 40 x 12 mm"
    assert cut_text(job_with(cut={"width": "1/2 in", "depth": "1-1/8 in"}).cut) == "12.7 x 50 x 28.575 mm"


def test_cut_text_in_inches(job_with: JobWith) -> None:
    """A cut written in inches is labelled in inches, as fractions where they are on a rule."""
    cut = job_with(cut={"width": "3/8 in", "length": "2 in", "depth": "1-1/8 in"}).cut
    assert cut_text(cut) == "3/8 x 2 x 1-1/8 in"
    assert cut_text(cut, least=9.625) == "0.379 x 2 x 1-1/8 in"


def test_a_title_without_letters(job_with: JobWith) -> None:
    """A title that cannot be engraved leaves the label out; nothing is raised."""
    template = make_template(job_with("Рейка"))
    assert template.label.label is None
    assert size(template) == pytest.approx((13.175, 53.175, 6.5875), abs=1e-9)


def test_no_label_wanted(job_with: JobWith) -> None:
    """label = false: none, whatever the title holds."""
    assert make_template(job_with("Рейка", plate={"label": False})).label.label is None


def test_centre_marks_give_way_to_the_label(job_with: JobWith) -> None:
    """On a plate of 70 x 70 the label only fits without some of the centre marks: they give way."""
    roomy, tight = (make_template(job_with(plate={"width": w, "height": w, "screws": None})) for w in (140, 70))
    assert label(tight).height >= 2.5
    assert 0 < len(tight.marks) < len(roomy.marks)


@pytest.mark.parametrize("plate", [{}, {"width": 70, "height": 70, "screws": None}, {"width": 200, "height": 60}])
@pytest.mark.parametrize("angle", [0, 33, 90])
def test_label_and_marks_keep_clear(job_with: JobWith, plate: dict[str, object], angle: int) -> None:
    """Label, marks, opening and holes keep their distance from each other (distances by shapely)."""
    template = make_template(job_with(plate=plate, cut={"angle": angle, "length": 40}))
    taken = [*(r.outer for r in template.opening), *(h.rim for h in template.holes)]
    outlines = [LineString([*o.flattened(0.01), o.flattened(0.01)[0]]) for o in taken]
    marks = [LineString(mark.points) for mark in template.marks]
    assert all(mark.distance(outline) >= 1.4 for mark in marks for outline in outlines)
    if template.label.label:
        field = box(*template.label.label.box)
        assert all(field.distance(line) >= 1.4 for line in (*marks, *outlines))


def test_no_opening_has_no_centre_marks(job_with: JobWith) -> None:
    """Without an opening only the datum is marked: one stroke at the lower left."""
    template = make_template(job_with(cut={"width": 9}))
    assert [stroke.points for stroke in template.marks] == [((8, 2), (2, 2), (2, 8))]


def test_reference_lines(job_with: JobWith) -> None:
    """The centre lines cross in the middle of the cut, from edge to edge."""
    template = make_template(job_with(cut={"x": 60, "y": 50}))
    assert [(*s.points[0], *s.points[-1]) for s in template.reference] == [(0, 50, 140, 50), (60, 0, 60, 140)]


def test_plate_with_round_corners(job_with: JobWith) -> None:
    """Area 140 x 90 less (4 - pi) 8², lower-left corner at the origin."""
    template = make_template(job_with(plate={"height": 90, "corner_radius": 8}))
    assert tuple(template.plate.bounds) == (0, 0, 140, 90)
    assert template.plate.area == pytest.approx(12600 - (4 - math.pi) * 64)


def test_opening_for_a_cut_with_a_neck() -> None:
    """Two squares of 20 joined by a neck of 5 give a 9 mm bit two openings; a 30 mm bit none."""
    dumbbell = Outline.polygon(
        [(0, 0), (20, 0), (20, 8), (40, 8), (40, 0), (60, 0), (60, 20), (40, 20), (40, 13), (20, 13), (20, 20), (0, 20)]
    )
    openings = opening_for((Region(dumbbell),), 9, 9.5)
    # In the mouth of the neck the bit's middle stops where both corners are 4.5 mm away: 4.5² = 2.5² +
    # 3.741657², so at x = 20 - 3.741657, and the opening goes on for 4.75 from there.
    assert [r.bounds for r in openings] == [
        pytest.approx((-0.25, -0.25, 21.008343, 20.25), abs=1e-6),
        pytest.approx((38.991657, -0.25, 60.25, 20.25), abs=1e-6),
    ]
    assert opening_for((Region(dumbbell),), 30, 31) == ()


@given(
    bit=st.floats(3, 20),
    wall=st.floats(1, 20),
    more=st.floats(0, 30),
    longer=st.floats(0, 80),
    angle=st.floats(-180, 180),
)
@settings(max_examples=40, deadline=None)
def test_what_is_asked_comes_out(
    job_with: JobWith, bit: float, wall: float, more: float, longer: float, angle: float
) -> None:
    """Law: a slot no narrower than bit + clearance comes out as asked, however it is turned."""
    bit, wall, more, longer, angle = (round(n, 3) for n in (bit, wall, more, longer, angle))
    width = round(bit + 0.1 + more, 3)
    cut = {"width": width, "length": round(width + longer, 3), "angle": angle}
    template = make_template(job_with(cut=cut, tools={"bit": bit, "bushing": round(bit + wall, 3)}, plate=PLAIN))
    made = predict(template)
    assert made is not None
    assert (made.width, made.length) == pytest.approx((width, width + longer), abs=1e-6)
    assert made.max_deviation < 1e-6
    assert made.unreachable_area < 1e-5
    assert deviation(template.placed(made.outline), template.placed(template.cut)) < 1e-6


def test_placed_keeps_holes(job_with: JobWith) -> None:
    """An area with a hole is turned and moved with it, by the angle of the job."""
    template = make_template(job_with(cut={"x": 60, "y": 50, "angle": 90}, plate=PLAIN))
    ring = Region(rectangle(20, 10), (Outline.circle(Point(5, 0), 1, -1),))
    (moved,) = template.placed((ring,))
    assert tuple(moved.bounds) == (55, 40, 65, 60)
    assert moved.holes[0].bounds == pytest.approx((59, 54, 61, 56))
    assert all(isinstance(s, Line) for s in moved.outer.segments)
