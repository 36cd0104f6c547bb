"""The [inlay] table: what may be written, what is taken where it is not, what is refused."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text

Build = Callable[..., Job]

TEXT = """\
title = "Inlay"
units = "mm"
[cut]
shape = "round"
diameter = 40
depth = 4
[tools]
bit = "5 mm"
bushing = "20 mm"
clearance = 0.1
[plate]
width = 120
height = 120
thickness = 6
[make]
kerf = 0
[inlay]
"""


def assumed(job: Job) -> dict[str, str]:
    return {one.where: one.text for one in job.assumptions if "inlay" in one.where}


def test_everything_written() -> None:
    """Nothing is assumed; a name and a table are looked up as in [tools]."""
    more = 'plug_bushing = { diameter = 10, bore = 8 }\nplug_bit = "straight 3 mm"\nglue_line = 0.1\nplug_thickness = 6'
    inlay = job_from_text(TEXT + more).inlay
    assert inlay is not None
    assert (inlay.bushing.diameter.mm, inlay.bushing.bore, inlay.bit.name) == (10.0, 8.0, "straight 3 mm")
    assert (inlay.glue_line.mm, inlay.thickness) == (0.1, 6.0)
    assert assumed(job_from_text(TEXT + more)) == {}


def test_what_is_not_written() -> None:
    """The bit of [tools], no glue line, stock as thick as the recess is deep; each is said."""
    job = job_from_text(TEXT + 'plug_bushing = "10 mm"')
    assert job.inlay is not None
    assert job.inlay.bit == job.tools.bit
    assert (job.inlay.glue_line.mm, job.inlay.thickness) == (0.0, 4.0)
    assert assumed(job) == {
        "inlay.plug_bit": "the plug is taken to be routed with the same bit as the recess (inlay.plug_bit is not set)",
        "inlay.glue_line": "no glue line assumed: recess and plug of one size (inlay.glue_line is not set)",
        "inlay.plug_thickness": (
            "the inlay stock is taken to be as thick as the recess is deep (inlay.plug_thickness is not set)"
        ),
    }


def test_bore_of_the_profiles() -> None:
    """A bushing by its diameter has the bore of the one in the profiles, and that is said."""
    job = job_from_text(TEXT + 'plug_bushing = "1/2 in"')
    assert job.inlay is not None
    assert job.inlay.bushing.bore == pytest.approx(10.31875)
    assert assumed(job)["inlay.plug_bushing"] == (
        'bore of the plug\'s bushing taken from "bushing 1/2 in", which has the same diameter'
    )


def test_the_deepest_of_several_cuts() -> None:
    """Stock that is not given is as thick as the deepest recess."""
    text = TEXT.replace("[cut]", "[[cut]]").replace(
        "[tools]", '[[cut]]\nshape = "round"\ndiameter = 20\ndepth = 7\nx = 20\n[tools]'
    )
    inlay = job_from_text(text + 'plug_bushing = "10 mm"').inlay
    assert inlay is not None
    assert inlay.thickness == 7.0


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("glue_line = 0.1", "job:17: inlay.plug_bushing: is missing (the guide bushing for the plug: its outside"),
        ('plug_bushing = "10 mm"\nglue_line = -0.1', "inlay.glue_line: -0.1 is less than nothing (write 0 or more)"),
        (
            'plug_bushing = "10 mm"\nglue_line = 2.5',
            'inlay.glue_line: "2.5 mm" is too much for a glue line (at most 2 mm a side; is the unit right?)',
        ),
        (
            'plug_bushing = "ten"',
            'inlay.plug_bushing: "ten" is neither a length nor a guide bushing in the profiles (known: ',
        ),
        (
            'plug_bushing = "10 mm"\nplug_thickness = 0',
            "inlay.plug_thickness: 0 is not a size (write a length greater than 0)",
        ),
        ('plug_bushing = "10 mm"\nplug_bits = "3 mm"', 'inlay: unknown key "plug_bits" (did you mean "plug_bit"?)'),
    ],
)
def test_faults(line: str, fault: str) -> None:
    """One line for each fault, with its place and what to write."""
    with pytest.raises(InputError) as error:
        job_from_text(TEXT + line)
    (said,) = error.value.lines
    assert fault in said


def test_no_inlay(job_with: Callable[..., Any]) -> None:
    """A job without the table has none."""
    assert job_with().inlay is None
