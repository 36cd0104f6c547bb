"""Tenons of each kind of mortise in one template: in the table of its cut, beside [tenon] for the first."""

import json
import tomllib
from collections.abc import Callable
from typing import Any

import jsonschema
import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.job import Job, TenonChoice
from jigtemplates.parameters.load import job_from_text, jobs_from_text
from jigtemplates.parameters.schema import shipped_schema
from jigtemplates.placing import single_cuts
from jigtemplates.profiles import Profiles

REST = """\
[tools]
bit = "1/4 in"
bushing = { diameter = "1/2 in", bore = "7/16 in" }
clearance = 0.1
[plate]
width = 200
height = 160
thickness = 6
"""
SLOT = 'shape = "slot"\nwidth = 10\nlength = 50\ndepth = 28\ny = 50\n'
OTHER = 'shape = "rectangle"\nwidth = 12\nlength = 30\ndepth = 20\ncorner_radius = 4\ny = 110\n'
ROUND = 'shape = "round"\ndiameter = 20\ndepth = 8\nx = 30\n'
OWN = "tenon = { joints = 4, fit = 0.2, glue_room = 2, mate_depth = 25, kerf = 3, waste = 20 }\n"


def text(*cuts: str, rest: str = REST) -> str:
    """A job in mm with an array of cuts."""
    return 'title = "Frame"\nunits = "mm"\n' + "".join(f"[[cut]]\n{cut}" for cut in cuts) + rest


def read(source: str) -> Job:
    return job_from_text(source, name="frame", profiles=Profiles())


def faults(source: str) -> tuple[str, ...]:
    with pytest.raises(InputError) as caught:
        jobs_from_text(source, name="frame", profiles=Profiles())
    return caught.value.lines


def test_each_cut_its_own() -> None:
    """Two tables, two kinds of tenon; a cut without one has none; as a table below its cut it means the same."""
    job = read(text(SLOT + "tenon = { joints = 6 }\n", OTHER + OWN, ROUND))
    assert job.tenon == TenonChoice(6, 0.1, 1.5875, 28, "round", 3, 20, None)
    assert job.more_tenons == (TenonChoice(4, 0.2, 2, 25, "square", 3, 20, None), None)
    below = "[cut.tenon]\njoints = 4\nfit = 0.2\nglue_room = 2\nmate_depth = 25\nkerf = 3\nwaste = 20\n"
    assert read(text(SLOT, OTHER + below)).more_tenons == job.more_tenons[:1]


def test_beside_a_tenon_table() -> None:
    """[tenon] stays that of the first cut, and the other has its own; tenons are as many as the repeats."""
    twin = OTHER + "repeat = { count = 2, pitch = 40 }\n" + OWN
    job = read(text(SLOT, twin, rest=REST + "[tenon]\njoints = 3\n"))
    assert job.tenon is not None
    assert (job.tenon.joints, job.tenon.key) == (3, "tenon")
    (other,) = job.more_tenons
    assert other is not None
    assert (other.joints, other.key) == (8, "cut.tenon")


def test_without_any() -> None:
    """Old jobs stay as they were: of several cuts without tables of their own, nothing."""
    assert read(text(SLOT, OTHER)).more_tenons == ()
    assert read(text(SLOT, OTHER, rest=REST + "[tenon]\njoints = 3\n")).more_tenons == ()


def test_in_a_job_of_one_cut() -> None:
    """The key may stand in [cut] too, and means what [tenon] means."""
    one = read('title = "Rail"\nunits = "mm"\n[cut]\n' + SLOT + OWN + REST)
    assert one.tenon == TenonChoice(4, 0.2, 2, 25, "round", 3, 20, None)


def test_sizes_of_one_file() -> None:
    """A size in [cuts.NAME] may have its own number of joints over that of [cut]."""
    sizes = "[cuts.front]\nlength = 50\n[cuts.back]\nlength = 60\ntenon = { joints = 2 }\n"
    shared = 'title = "Rail"\nunits = "mm"\n[cut]\nshape = "slot"\nwidth = 10\ndepth = 28\ntenon = { joints = 4 }\n'
    front, back = jobs_from_text(shared + sizes + REST, name="rail", profiles=Profiles())
    assert front.tenon is not None
    assert back.tenon is not None
    assert (front.tenon.joints, back.tenon.joints) == (4, 2)


def test_each_cut_alone() -> None:
    """Looked at as the only one, a cut keeps its tenons; of the tenon that is there, in [fit], the others know none."""
    rest = REST + "[tenon]\njoints = 3\n[fit]\ntenon = 9.9\n"
    first, second, third = single_cuts(read(text(SLOT, OTHER + OWN, ROUND, rest=rest)))
    assert [one.tenon and one.tenon.joints for one in (first, second, third)] == [3, 4, None]
    assert [one.more_tenons for one in (first, second, third)] == [(), (), ()]
    assert first.fit.tenon is not None
    assert second.fit.tenon is None
    assert third.fit.tenon is not None  # no tenons of its own: it is tried there as before


@pytest.mark.parametrize(
    ("source", "lines"),
    [
        (
            text(SLOT + OWN, OTHER, rest=REST + "[tenon]\njoints = 3\n"),
            ("frame:25: tenon: stands beside cut.tenon (keep one of the two)",),
        ),
        (
            text(SLOT, OTHER + "tenon = { joint = 4 }\n"),
            (
                "frame:16: cut 2.tenon.joints: is missing (how many joints, one tenon each)",
                'frame:16: cut 2.tenon: unknown key "joint" (did you mean "joints"?)',
            ),
        ),
        (
            text(SLOT, OTHER + "tenon = { joints = 0 }\n"),
            ("frame:16: cut 2.tenon.joints: 0 is not a number of joints (write 1 to 1000)",),
        ),
        (
            text(SLOT, OTHER + "tenon = 4\n"),
            ("frame:16: cut 2.tenon: 4 does not fit here (write a table of keys)",),
        ),
        (
            text(SLOT, 'shape = "ellipse"\nwidth = 20\nlength = 30\ndepth = 5\n' + OWN),
            ('frame:14: cut 2.tenon: is for "slot", "round" and "rectangle", not for "ellipse"',),
        ),
        (
            'title = "Seat"\nunits = "mm"\n[cut]\nside = "outside"\nshape = "round"\ndiameter = 200\ndepth = 20\n'
            + OWN
            + REST.replace("width = 200\nheight = 160\n", ""),
            (
                'frame:8: cut.tenon: does not go with side = "outside" (leave it out: tenons fill a recess; write '
                "their mortise as a job of its own)",
            ),
        ),
    ],
)
def test_what_is_refused(source: str, lines: tuple[str, ...]) -> None:
    """Where, what is wrong, what to write: of a cut's table with the number of the cut."""
    assert faults(source) == lines


def test_what_was_not_said() -> None:
    """Each table's gaps are told at its own key; [tenon] says that it is the first cut's, and what another writes."""
    said = [(one.where, one.text) for one in read(text(SLOT, OTHER + "tenon = { joints = 4 }\n")).assumptions]
    assert said == [
        (
            "cut 2.tenon",
            "for the tenons, fit 0.1 mm, glue_room 1/16 in, kerf 3 mm, waste 20 mm assumed (not set in cut.tenon)",
        ),
        (
            "cut 2.tenon.mate_depth",
            "the other mortise is taken to be as deep as this one (tenon.mate_depth is not set)",
        ),
    ]
    whole = "[tenon]\njoints = 3\nfit = 0.1\nglue_room = 1\nmate_depth = 20\nkerf = 3\nwaste = 20\n"
    said = [(one.where, one.text) for one in read(text(SLOT, OTHER + OWN, ROUND, rest=REST + whole)).assumptions]
    assert said == [
        ("tenon", "the tenons are for the first cut alone (for cut 3 write tenon = { joints = 4 } in its table)")
    ]
    said = [(one.where, one.text) for one in read(text(SLOT, OTHER + OWN, rest=REST + whole)).assumptions]
    assert said == [("tenon", "the tenons are for the first cut alone")]


def test_of_one_cut_at_its_key() -> None:
    """Without a number where there is no other cut."""
    one = read('title = "Rail"\nunits = "mm"\n[cut]\n' + SLOT + "tenon = { joints = 4 }\n" + REST)
    assert [found.where for found in one.assumptions] == ["cut.tenon", "cut.tenon.mate_depth"]


def test_an_editor_knows_the_key() -> None:
    """The schema takes it in each kind of cut that is a mortise, and in no other, by an independent validator."""
    validator = jsonschema.Draft202012Validator(json.loads(shipped_schema()))
    good = text(SLOT + OWN, OTHER + OWN, ROUND + "tenon = { joints = 1 }\n")
    assert validator.is_valid(tomllib.loads(good))
    assert not validator.is_valid(tomllib.loads(good.replace("joints = 1 }", "joint = 1 }")))
    bad = text(SLOT, 'shape = "ellipse"\nwidth = 20\nlength = 30\ndepth = 5\n' + OWN)
    assert not validator.is_valid(tomllib.loads(bad))


def test_the_manifest_says_them(job_with: Callable[..., Any]) -> None:
    """They are part of the resolved job; where they are written is not."""
    from jigtemplates.manifest import plain

    job = read(text(SLOT, OTHER + OWN))
    (other,) = plain(job)["more_tenons"]
    assert (other["joints"], other["fit"], other["edge"]) == (4, 0.2, "square")
    assert "key" not in other
    assert plain(job_with())["more_tenons"] == []
