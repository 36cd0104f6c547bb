"""The pages of a template's other cuts: fence and stop as they stand for the first, the base over the whole plate."""

from collections.abc import Callable

import pytest

from jigtemplates.geometry.outline import Bounds
from jigtemplates.parameters.load import job_from_text
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.processes.setup_draw import PURPLE, THICK
from jigtemplates.processes.setup_fence import at_same_fence
from jigtemplates.processes.setup_notes import set_facts
from jigtemplates.processes.setup_plan import plan
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

Facts = list[tuple[str, str]]
Pages = Callable[..., list[tuple[Report, Facts]]]

#: The first cut at (100, 95), 50 mm from the fence and 100 from the stop.
JOB = """
title = "Two cuts"
units = "mm"
[[cut]]
shape = "slot"
width = 10
length = 50
depth = 20
x = 100
y = 95
{first}
[[cut]]
shape = "slot"
width = 10
length = 30
depth = 12
{second}
[tools]
bit = "3/8 in"
bushing = {{ diameter = "5/8 in", bore = "1/2 in", stem = "5.5 mm" }}
{work}
[plate]
width = 200
height = 180
thickness = 6
[make]
for = ["cnc"]
{make}
"""
WORK = "[work]\nthickness = 120\nheight = 80\nlength = 300\nfrom_face = 50\n"


def reported(second: str, *, first: str = "", work: str = WORK + "from_end = 100", make: str = "") -> Report:
    """The job with keys of its cuts and its work."""
    text = JOB.format(first=first, second=second, work=work, make=make)
    return report_on(job_from_text(text, name="two", profiles=Profiles()))


def second_page(second: str, **tables: str) -> tuple[Report, Facts]:
    """What the second cut's page is drawn from, and says of fence and stop."""
    first, part = reported(second, **tables).parts
    report, facts, fenced = at_same_fence(first, part)
    assert fenced is (None if report.job.work is not None or first.job.work is None else first)
    return report, facts


@pytest.mark.parametrize("make", ["", "mirrored = true"])
def test_a_cut_that_lies_the_same_way(make: str) -> None:
    """60 mm left of the first and 15 above it: fence and stop are 65 and 40 mm from its own centre lines."""
    side, way = ("right", ", on the other side (mirrored work)") if make else ("left", "")
    report, facts = second_page("x = 40\ny = 110", make=make)
    assert facts == [
        ("fence", "65 mm below the plan's long centre line (where it is for page 1)"),
        ("end stop", f"40 mm to the {side} of the plan's cross centre line{way}"),
        ("work", "120 x 80 x 300 mm"),
    ]
    picture = plan(report, Bounds(0.0, 0.0, 120.0, 130.0), 0.5, inches=False)
    said = {text.string for text in picture.texts}
    assert {"fence 65 mm", "stop 40 mm"} <= said


def test_cuts_that_are_turned_alike() -> None:
    """Turned by 90 degrees the fence is on the right: a cut 20 mm further left has it 70 mm off, the stop 30 nearer."""
    _, facts = second_page("x = 80\ny = 65\nangle = 90", first="angle = 90")
    assert facts[0] == ("fence", "70 mm to the right of the plan's long centre line (where it is for page 1)")
    assert facts[1] == ("end stop", "70 mm below the plan's cross centre line")


@pytest.mark.parametrize(
    ("second", "work", "label"),
    [
        ("x = 40\ny = 110\nangle = 90", WORK + "from_end = 100", "fence, stop"),
        ("x = 40\ny = 110\nangle = 180", WORK, "fence"),
        ("x = 40\ny = 30", WORK, "fence"),  # beyond the fence
        ("x = 30\ny = 110", WORK + "from_end = 60", "fence, stop"),  # beyond the stop
    ],
)
def test_a_cut_that_lies_another_way(second: str, work: str, label: str) -> None:
    """One line says where fence and stop are told of; so it does of a cut that lies beyond either."""
    report, facts = second_page(second, work=work)
    assert facts == [(label, "as on page 1, from the centre lines of cut 1: the plate stays where it is")]
    assert report.job.work is None


def test_without_work_there_is_no_fence() -> None:
    """Nothing is said."""
    assert second_page("x = 40\ny = 110", work="")[1] == []


@pytest.mark.parametrize(("angle", "said"), [(0, "65 mm below"), (90, "as on page 1, from")])
def test_every_page_tells_of_the_fence(angle: int, said: str) -> None:
    """The sheet's second page has the heading and the words."""
    pages = lay_out_setup(reported(f"x = 40\ny = 110\nangle = {angle}")).pattern.pages
    strings = [text.string for text in pages[1].texts]
    assert "Fence and stop" in strings
    assert said in " ".join(strings)


def test_the_fence_of_a_cut_that_lies_another_way() -> None:
    """The plan of its page has fence and stop where page 1 has them, with the distances from cut 1."""
    first, part = reported("x = 40\ny = 110\nangle = 90").parts
    cell = Bounds(0.0, 0.0, 120.0, 130.0)
    drawn = [plan(first, cell, 0.5, inches=False), plan(part, cell, 0.5, inches=False, fenced=first)]
    strokes = [{str(ink.shape) for ink in p.inks if ink.colour == PURPLE and ink.width == THICK} for p in drawn]
    assert strokes[0] == strokes[1]
    assert len(strokes[0]) == 6  # fence, stop, and the ticks of their dimension lines
    for picture in drawn:
        assert {"fence 50 mm", "stop 100 mm", "fence and stop beneath"} <= {text.string for text in picture.texts}
    assert not [ink for ink in plan(part, cell, 0.5, inches=False).inks if ink.colour == PURPLE]


BASE = """
title = "Two rounds"
units = "mm"
[[cut]]
shape = "round"
diameter = 40
depth = 20
[[cut]]
shape = "round"
diameter = 31
depth = 12
x = 247
[tools]
bit = "30 mm"
bushing = "40 mm"
router = "generic mid-size plunge"
[plate]
width = 400
height = 400
thickness = 6
[make]
for = ["cnc"]
"""


def test_one_plate_carries_the_base() -> None:
    """Openings of 50 and 41 mm, 47 mm apart: both are under a base of 150 wherever the bushing goes; 87 % is carried.

    The bushing fills the hole in the base: 1 - (25² - 20² + 20.5²) / (75² - 20²) = 0.8765, on either page and in
    `check`; with only its own opening cut out of the plate the first would have 95 %.
    """
    report = report_on(job_from_text(BASE, name="two", profiles=Profiles()))
    (carried,) = [one.message for one in report.findings if one.code == "base-carried"]
    assert "least of it, 87 %" in carried
    assert [dict(set_facts(part))["base"].partition(",")[0] for part in report.parts] == [
        "over this opening at least 87 % of it carried"
    ] * 2
