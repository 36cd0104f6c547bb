"""A job that is right, to be spoiled one key at a time."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles

#: The job of the plan, section 5; its lines are counted on in the tests.
GOOD = """\
title = "Bench rail, 10 x 50"
units = "mm"
[cut]
shape  = "slot"
width  = 10
length = "50 mm"
depth  = 28
angle  = 0
[tools]
bit       = "3/8 in"
bushing   = "1/2 in"
clearance = "0.1 mm"
[plate]
width = 140
height = 140
thickness = 6
material = "mdf"
screws = { pattern = "corners", size = "M5", inset = 10 }
[make]
for = ["laser", "cnc", "paper"]
"""

#: Profiles of the tests' own, so that no expectation hangs on what is shipped.
OWN_PROFILES = """\
units = "mm"
[bits."my spiral"]
diameter = "9.51 mm"
shank = "1/2 in"
cutting_length = 32
overall_length = 76
kind = "up-spiral"
plunging = true
note = "measured"
[bushings."seventeen"]
diameter = 17
bore = 14
stem = 5
[bushings."thirteen a"]
diameter = 13
bore = 10
stem = 5
[bushings."thirteen b"]
diameter = 13
bore = 10
stem = 9
[bushings."thirteen c"]
diameter = 13
[screws."plain"]
diameter = 5
clearance = { fine = 5.3, medium = 5.5, coarse = 5.8 }
[holders."frame"]
width = 150
height = 100
play = 0.5
stand_off = 12
screws = { pattern = "edges", size = "M4", inset = 9 }
[holders."bare"]
width = 90
height = 80
play = 0
[holders."bad screws"]
width = 150
height = 100
play = 0
screws = { pattern = "corners", size = "plain", hole = "countersunk", inset = 9 }
"""

Change = tuple[str, str]


def changed(*changes: Change) -> str:
    """The good job with pieces of its text replaced; each piece must be there."""
    text = GOOD
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


@pytest.fixture(scope="session")
def profiles(tmp_path_factory: pytest.TempPathFactory) -> Profiles:
    """The tests' own profiles in front of the shipped ones; nobody's configuration folder."""
    folder: Path = tmp_path_factory.mktemp("profiles")
    (folder / "own.toml").write_text(OWN_PROFILES, encoding="utf-8")
    return Profiles([folder])


@pytest.fixture
def job(profiles: Profiles) -> Callable[..., Job]:
    """job(("old", "new"), ..., **options): the good job, changed and read."""

    def read(*changes: Change, **options: Any) -> Job:
        return job_from_text(changed(*changes), name="rail", profiles=profiles, **options)

    return read


@pytest.fixture
def faults(profiles: Profiles) -> Callable[..., tuple[str, ...]]:
    """faults(("old", "new"), ..., **options): the lines with which the changed job is refused."""

    def refused(*changes: Change, **options: Any) -> tuple[str, ...]:
        with pytest.raises(InputError) as caught:
            job_from_text(changed(*changes), name="rail", profiles=profiles, **options)
        return caught.value.lines

    return refused
