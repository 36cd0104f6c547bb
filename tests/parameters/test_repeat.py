"""The `repeat` key and arrays of cuts, as they are written and refused."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.job import Job, Repeat
from jigtemplates.parameters.load import job_from_text, jobs_from_text
from jigtemplates.profiles import Profiles

REST = """
[tools]
bit = "1/4 in"
bushing = "1/2 in"
[plate]
width = 200
height = 160
thickness = 6
"""
SLOT = 'shape = "slot"\nwidth = 10\nlength = 50\ndepth = 20\n'
ROUND = 'shape = "round"\ndiameter = 20\ndepth = 12\n'


def text(*cuts: str, head: str = "", rest: str = REST) -> str:
    """A job in mm with an array of cuts."""
    return f'title = "Lock"\nunits = "mm"\n{head}' + "".join(f"[[cut]]\n{cut}" for cut in cuts) + rest


def read(source: str) -> Job:
    return job_from_text(source, name="lock", profiles=Profiles())


def faults(source: str) -> tuple[str, ...]:
    with pytest.raises(InputError) as caught:
        read(source)
    return caught.value.lines


def test_a_row(job_with: Callable[..., Job]) -> None:
    """count, pitch and direction come through; what is left out is one row, end to end."""
    repeat = job_with(cut={"repeat": {"count": 2, "pitch": "32 mm", "direction": 90}}).cut.repeat
    assert repeat is not None
    assert (repeat.count, repeat.pitch and repeat.pitch.mm, repeat.direction, repeat.rows) == (2, 32.0, 90.0, 1)
    assert repeat.total == 2


def test_a_ring(job_with: Callable[..., Job]) -> None:
    """A ring has a diameter and a first angle; each cut on it is turned unless that is refused."""
    cut = {"shape": "round", "diameter": 8, "depth": 5, "repeat": {"count": 6, "ring": 60}}
    repeat = job_with(cut=cut).cut.repeat
    assert repeat is not None
    assert (repeat.ring and repeat.ring.mm, repeat.start_angle, repeat.turned) == (60.0, 0.0, True)
    cut["repeat"] = {"count": 6, "ring": 60, "turned": False, "start_angle": 15}
    again = job_with(cut=cut).cut.repeat
    assert again is not None
    assert (again.start_angle, again.turned) == (15.0, False)


def test_one_cut_is_not_repeated(job_with: Callable[..., Job]) -> None:
    """Without the key there is no repeat, no mirror and no other cut."""
    job = job_with()
    assert (job.cut.repeat, job.cut.mirrored, job.more_cuts, job.cuts) == (None, False, (), (job.cut,))


@pytest.mark.parametrize(
    ("repeat", "line"),
    [
        ("{ count = 1, pitch = 32 }", "repeat.count: 1 is not a number of cuts to repeat (write 2 to 100)"),
        ("{ count = 101, pitch = 32 }", "repeat.count: 101 is not a number of cuts to repeat (write 2 to 100)"),
        ("{ count = 2, pitch = 32, rows = 0 }", "repeat.rows: 0 is not a number of cuts to repeat (write 1 to 100)"),
        (
            "{ count = 20, pitch = 32, rows = 6, row_pitch = 20 }",
            "repeat.rows: 6 rows make more than 100 cuts (write fewer)",
        ),
        ("{ count = 2 }", "repeat.ring: is missing (the diameter of a ring, or pitch for a row)"),
        (
            "{ count = 2, pitch = 30, ring = 60 }",
            "repeat.ring: stands beside pitch (keep one of the two: ring, or pitch for a row)",
        ),
        ("{ count = 2, ring = 60, direction = 90 }", "repeat.direction: does not go with ring (leave it out)"),
        ("{ count = 2, pitch = 60, turned = true }", "repeat.turned: does not go with pitch (leave it out)"),
        ("{ count = 2, pitch = 60, rows = 2 }", "repeat.row_pitch: is missing (from one row to the next)"),
        ("{ count = 2, pitch = 0 }", "repeat.pitch: 0 is not a size (write a length greater than 0)"),
    ],
)
def test_repeats_that_cannot_be(repeat: str, line: str) -> None:
    """Each is refused in one line that names the key and what to write."""
    found = faults(text(f"{SLOT}repeat = {repeat}\n").replace("[[cut]]", "[cut]"))
    assert found == (f"lock:8: cut.{line}",)


def test_an_array_of_cuts() -> None:
    """[[cut]] makes several cuts of one job, in the order of the file, each with its own place and angle."""
    job = read(text(SLOT + "y = 100\n", ROUND + "x = 30\ny = 40\n", SLOT + "angle = 30\nmirrored = true\n"))
    assert [cut.shape for cut in job.cuts] == ["slot", "round", "slot"]
    assert [(cut.x, cut.y, cut.angle) for cut in job.cuts] == [(100, 100, 0), (30, 40, 0), (100, 80, 30)]
    assert [cut.mirrored for cut in job.cuts] == [False, False, True]


def test_an_array_of_one_is_one_cut() -> None:
    """One [[cut]] means the same as [cut]."""
    assert read(text(SLOT)) == read(text(SLOT).replace("[[cut]]", "[cut]"))


def test_faults_in_an_array_name_the_cut_and_all_come_at_once() -> None:
    """A fault of the second cut is at its line and has its number; a fault of the tools is said once."""
    source = text(SLOT.replace("depth = 20", "depth = 0"), ROUND.replace("20", '"20 cm"')).replace("1/4 in", "9,5 mm")
    assert faults(source) == (
        "lock:7: cut 1.depth: 0 is not a size (write a length greater than 0)",
        'lock:10: cut 2.diameter: "20 cm" is not a length (write 200 mm)',
        'lock:14: tools.bit: "9,5 mm" is not a length (write 9.5 mm)',
    )


def test_no_cut_and_too_many() -> None:
    """An empty array and one of 21 are refused with their number."""
    empty = 'title = "Lock"\nunits = "mm"\ncut = []\n' + REST
    assert faults(empty) == ("lock:3: cut: holds 0 cuts (write a table [[cut]] for each; 1 to 20)",)
    assert faults(text(*[SLOT] * 21)) == ("lock:3: cut: holds 21 cuts (write a table [[cut]] for each; 1 to 20)",)


def test_an_array_of_something_else() -> None:
    """What is no table is named with its place."""
    source = f'title = "Lock"\nunits = "mm"\ncut = [{{ shape = "round", diameter = 20, depth = 5 }}, 3]\n{REST}'
    assert faults(source) == ("lock:3: cut 2: 3 does not fit here (write a table [[cut]] for each cut)",)


def test_tenons_are_for_the_first_cut() -> None:
    """A [tenon] table beside several cuts is for the first one, and that is said; the others need be no mortises."""
    hexagon = 'shape = "polygon"\nacross = 30\nsides = 6\ndepth = 5\n'
    job = read(text(SLOT, hexagon) + "[tenon]\njoints = 3\n")
    assert job.tenon is not None
    assert "the tenons are for the first cut alone" in [one.text for one in job.assumptions]


def test_twin_mortises_take_two_tenons_a_joint(job_with: Callable[..., Job]) -> None:
    """Four joints of a cut made twice need eight tenons."""
    job = job_with(cut={"repeat": {"count": 2, "pitch": 32, "direction": 90}}, tenon={"joints": 4})
    assert job.tenon is not None
    assert job.tenon.joints == 8


def test_a_family_of_several_cuts_is_refused() -> None:
    """[cuts.NAME] beside [[cut]]: the shared cut must be one table."""
    source = text(SLOT, ROUND) + "[cuts.long]\nlength = 80\n"
    with pytest.raises(InputError) as caught:
        jobs_from_text(source, name="lock", profiles=Profiles())
    assert caught.value.lines == ("lock:3: cut: holds several cuts, which sizes cannot share (write one table [cut])",)


@pytest.mark.parametrize("value", ["3", '"twice"', "[]", "true"])
def test_a_repeat_that_is_no_table(value: Any) -> None:
    """It is refused, and nothing else is said."""
    assert len(faults(text(f"{SLOT}repeat = {value}\n"))) == 1


def test_repeat_defaults_stand_for_one_row() -> None:
    """A Repeat made by hand has one row in the direction of the length."""
    assert Repeat(3).total == 3
