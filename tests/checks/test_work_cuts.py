"""Every cut of one plate within the stock, which lies as the first one's from_face and from_end say."""

from collections.abc import Callable

import pytest

from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

Made = Callable[..., Report]

#: Work of 60 by 30, whose reference face lies 25 mm below y = 100 and whose end 45 mm left of x = 70.
JOB = """
title = "Two cuts"
units = "{units}"
[[cut]]
shape = "slot"
width = "10 mm"
length = "50 mm"
depth = "20 mm"
x = "70 mm"
y = "100 mm"
{first}
[[cut]]
{second}
[tools]
bit = "3/8 in"
bushing = {{ diameter = "5/8 in", bore = "1/2 in", stem = "5.5 mm" }}
[work]
thickness = "60 mm"
height = "30 mm"
from_face = "25 mm"
{work}
[plate]
width = "140 mm"
height = "140 mm"
thickness = "6 mm"
[make]
for = ["cnc"]
{make}
"""
SLOT = 'shape = "slot"\nwidth = "10 mm"\nlength = "40 mm"\ndepth = "12 mm"\n'
CODES = ("cut-beyond-work", "mortise-breaks-through", "thin-wood")


@pytest.fixture(scope="module")
def made() -> Made:
    """The job with keys of its second cut (on top of SLOT, or with a shape of its own) and of other tables."""

    def build(second: str, *, first: str = "", work: str = "", make: str = "", units: str = "mm") -> Report:
        own = second if "shape" in second else SLOT + second
        text = JOB.format(units=units, first=first, second=own, work=work, make=make)
        return report_on(job_from_text(text, name="two", profiles=Profiles()))

    return build


def found(report: Report) -> list[tuple[str, str, str]]:
    """Code, key and first words of what is said of wood, in order."""
    return [(one.code, one.where, one.message.partition(":")[0]) for one in report.findings if one.code in CODES]


def test_a_second_cut_beyond_the_reference_face(made: Made) -> None:
    """The face lies at y = 75; a slot round y = 40 lies wholly beyond it: a warning, on the second cut's page alone."""
    report = made('y = "40 mm"')
    (one,) = [one for one in report.findings if one.code in CODES]
    assert (one.level, one.code, one.where) == ("warning", "cut-beyond-work", "cut 2.y")
    assert one.message == (
        "cut 2 lies wholly beyond the reference face, where there is no work: move it, or correct work.from_face, "
        "which is that of cut 1"
    )
    assert [one in part.findings for part in report.parts] == [False, True]


@pytest.mark.parametrize(
    ("second", "work", "side", "where", "key"),
    [
        ('y = "70 mm"', "", "the reference face", "cut 2.y", "work.from_face"),  # its edge on that of the work
        ('y = "140 mm"', "", "the face opposite", "cut 2.y", "work.from_face"),
        ('x = "5 mm"\ny = "85 mm"', 'from_end = "45 mm"', "the end of the work", "cut 2.x", "work.from_end"),
        (
            'x = "120 mm"\ny = "85 mm"',
            'from_end = "45 mm"\nlength = "75 mm"',
            "the other end of the work",
            "cut 2.x",
            "work.from_end",
        ),
    ],
)
def test_beyond_each_side(made: Made, second: str, work: str, side: str, where: str, key: str) -> None:
    """Each side by its name, with the key that moves the cut and the one that says where the work lies."""
    (one,) = [one for one in made(second, work=work).findings if one.code == "cut-beyond-work"]
    assert one.where == where
    assert one.message.startswith(f"cut 2 lies wholly beyond {side}, where there is no work: ")
    assert one.message.endswith(f"or correct {key}, which is that of cut 1")


def test_a_mirrored_plate_has_its_ends_mirrored(made: Made) -> None:
    """What lies beyond the end lies beyond the same end of the mirrored work."""
    second, work = 'x = "5 mm"\ny = "85 mm"', 'from_end = "45 mm"\nlength = "400 mm"'
    for make in ("", "mirrored = true"):
        (one,) = [one for one in made(second, work=work, make=make).findings if one.code == "cut-beyond-work"]
        assert "beyond the end of the work" in one.message


def test_a_first_cut_that_is_turned(made: Made) -> None:
    """Turned by 90 degrees the face lies 25 mm right of x = 70; the key that moves a cut across it is x."""
    ((code, where, _),) = found(made('x = "120 mm"\ny = "60 mm"\nangle = 90', first="angle = 90"))
    assert (code, where) == ("cut-beyond-work", "cut 2.x")
    assert found(made('x = "80 mm"\ny = "30 mm"\nangle = 90', first="angle = 90")) == []


@pytest.mark.parametrize(
    ("second", "words"),
    [
        ('y = "77 mm"', "cut 2 comes out at the reference face"),
        ('y = "82 mm"', "only 2 mm of wood between cut 2 and the reference face, where at least 4.5 mm is sensible"),
        ('y = "132 mm"', "cut 2 comes out at the face opposite"),
        ('x = "40 mm"\ny = "85 mm"', "cut 2 comes out at the end of the work"),
        ('x = "50 mm"\ny = "85 mm"\nangle = 45', "cut 2 comes out at the reference face"),
    ],
)
def test_a_second_cut_that_comes_out(made: Made, second: str, words: str) -> None:
    """Through a face or off an end, and where little is left, as it is said of one cut."""
    report = made(second, work='from_end = "45 mm"')
    ((_, where, said),) = found(report)
    assert said == words
    assert where in ("cut 2.x", "cut 2.y")


def test_a_second_cut_through_the_work(made: Made) -> None:
    """30 mm deep in work of 30 mm nothing is left below it."""
    deep = SLOT.replace("12 mm", "30 mm") + 'y = "85 mm"'
    ((_, where, words),) = found(made(deep))
    assert (where, words) == ("cut 2.depth", "cut 2 comes out at the far side, below it")


def test_all_is_well(made: Made) -> None:
    """8 mm of wood beside the second cut, whose group ends 10 mm from the end of the work: nothing is said."""
    assert found(made('y = "88 mm"', work='from_end = "45 mm"')) == []


def test_the_whole_of_a_repeated_cut(made: Made) -> None:
    """Rounds at y = 65 and 85: the one comes out of the work, whose face lies at 75."""
    rounds = 'shape = "round"\ndiameter = "16 mm"\ndepth = "9 mm"\ny = "75 mm"\n'
    report = made(rounds + 'repeat = { count = 2, pitch = "20 mm", direction = 90 }', first="")
    ((code, _, words),) = [one for one in found(report) if "reference" in one[2]]
    assert (code, words) == ("mortise-breaks-through", "cut 2 comes out at the reference face")


def test_the_first_cut_has_its_number(made: Made) -> None:
    """Beside another, what is said of the first names it."""
    report = made('y = "90 mm"', work='from_end = "20 mm"')
    assert ("mortise-breaks-through", "work.from_end", "cut 1 comes out at the end of the work") in found(report)


def test_a_ring_first_lies_along_no_work(made: Made) -> None:
    """Nothing is known then of where the faces are; the far side is still looked at."""
    ring = 'repeat = { count = 2, ring = "70 mm", start_angle = 90 }'
    deep = SLOT.replace("12 mm", "40 mm") + 'y = "20 mm"'
    said = [words for _, where, words in found(made(deep, first=ring)) if where.startswith("cut 2")]
    assert said == ["cut 2 comes out at the far side, below it"]


def test_in_inches(made: Made) -> None:
    """A job in inches is answered in inches."""
    ((_, _, words),) = found(made('y = "82.3 mm"', units="in"))
    assert words == (
        "only 0.091 in (2.3 mm) of wood between cut 2 and the reference face, where at least 0.177 in (4.5 mm) is "
        "sensible"
    )


def test_a_cut_beyond_the_work_does_not_tip_the_plate(made: Made) -> None:
    """What tips is told of the cuts in the work: a batten beside it would be cut into by the other."""
    (tips,) = [one.message for one in made('y = "40 mm"').findings if one.code == "plate-tips"]
    assert "as little as 48 % of a router's base" in tips  # with the bushing of cut 1, 24.76 mm from the face
    assert "its middle comes to the work's edge" not in tips
    inside = made('y = "88 mm"').findings
    (tips,) = [one.message for one in inside if one.code == "plate-tips"]
    assert "as little as 47 % of a router's base" in tips  # 12.76 mm from it
