"""The job that --size names."""

from pathlib import Path

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.load import jobs_from_text
from jigtemplates.parameters.one_size import one_size

JOB = """
title = "Rail"
units = "mm"
[cut]
shape = "slot"
width = 10
length = 50
depth = 20
[tools]
bit = "8 mm"
bushing = 12
clearance = 0.1
[plate]
width = 140
height = 100
thickness = 6
[make]
for = ["cnc"]
"""
PATH = Path("shop/rail.toml")


def test_the_only_job() -> None:
    """Nothing needs to be named."""
    jobs = jobs_from_text(JOB)
    assert one_size(jobs, None, PATH) is jobs[0]


def test_one_of_several() -> None:
    """The one of that name."""
    jobs = jobs_from_text(JOB + "[cuts.long]\nlength = 80\n[cuts.short]\nlength = 40\n")
    assert one_size(jobs, "short", PATH).cut.length == 40


@pytest.mark.parametrize(
    ("sizes", "size", "line"),
    [
        ("", "long", "--size: shop/rail.toml holds one size only (leave it out)"),
        ("[cuts.a]\n[cuts.b]\n", None, '--size: shop/rail.toml holds several sizes (say which: "a", "b")'),
        ("[cuts.long]\n", "lang", '--size: "lang" is not in shop/rail.toml (did you mean "long"?)'),
    ],
)
def test_what_is_none(sizes: str, size: str | None, line: str) -> None:
    """Each is one line that names the file."""
    with pytest.raises(InputError) as raised:
        one_size(jobs_from_text(JOB + sizes), size, PATH)
    assert raised.value.lines == (line,)
