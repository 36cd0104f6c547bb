"""A template that is kept: what it cuts with the bushing that keeps it right, of every cut and of a pair as well."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

HEAD = """\
title = "Rail"
units = "mm"
[tools]
bit = "8 mm"
bushing = "14 mm"
clearance = 0.1
[plate]
width = 140
height = 140
thickness = 6
[make]
for = ["cnc"]
"""
CUT = '[cut]\nshape = "slot"\nwidth = 10\nlength = 50\ndepth = 20\n'
TWO = "".join(
    f'[[cut]]\nshape = "slot"\nwidth = {width}\nlength = 50\ndepth = 20\ny = {y}\n' for width, y in ((10, 40), (12, 90))
)
#: With a bit of 7.5 mm its offset is (13.52 - 7.5) / 2 = 3.01 mm, where 8 mm in 14 mm has 3 mm: 0.02 mm in width.
TOOLS = 'units = "mm"\n[bushings.brass]\ndiameter = 13.52\nbore = 11\nstem = 5\n'


@pytest.fixture
def jobs(here: Path) -> Path:
    """A pair, a template of two cuts, and one alone; the person's own bushing among the profiles."""
    for folder in ("jobs", "profiles"):
        (here / folder).mkdir()
    (here / "profiles" / "tools.toml").write_text(TOOLS, encoding="utf-8")
    for name, text in (("alone", HEAD + CUT), ("pair", HEAD + 'pair = "left"\n' + CUT), ("two", HEAD + TWO)):
        (here / "jobs" / f"{name}.toml").write_text(text, encoding="utf-8")
    return here / "jobs"


def test_every_row_says_how_far_a_kept_cut_is_off(jobs: Path, call: Call) -> None:
    """In the same words for a pair, for each of several cuts and for one alone."""
    said = call("regenerate", "jobs", "--bit", "7.5 mm")
    assert said.out.splitlines()[:6] == [
        "With bit 7.5 mm: 3 jobs; keep the template 3",
        "  job      made for      would cut now             keep it with      new opening  to do",
        "  alone    8 mm + 14 mm  9.5 x 49.5 mm (-0.5 mm)   brass (-0.02 mm)  -            keep the template",
        "  pair     8 mm + 14 mm  9.5 x 49.5 mm (-0.5 mm)   brass (-0.02 mm)  -            keep the template",
        "  two      8 mm + 14 mm  9.5 x 49.5 mm (-0.5 mm)   brass (-0.02 mm)  -            keep the template",
        "    cut 2                11.5 x 49.5 mm (-0.5 mm)  brass (-0.02 mm)  -",
    ]


def test_the_kept_cut_as_json(jobs: Path, call: Call) -> None:
    """Its sizes and its largest distance from what is asked: 0.01 mm a side."""
    alone, pair, two = json.loads(call("regenerate", "jobs", "--bit", "7.5 mm", "--json").out)
    kept = {"width": 9.98, "length": 49.98, "corner_radius": 4.99, "max_deviation": 0.01}
    assert alone["cut_when_kept"] == pair["cut_when_kept"] == two["cut_when_kept"] == kept
    assert two["other_cuts"][0]["cut_when_kept"] == kept | {"width": 11.98, "corner_radius": 5.99}


def test_one_that_is_not_kept_says_nothing_of_it(jobs: Path, call: Call) -> None:
    """Where no bushing keeps a template right there is no such cut, in no row."""
    for one in json.loads(call("regenerate", "jobs", "--bit", "7 mm", "--json").out):
        assert one["status"] == "regenerated"
        assert all("cut_when_kept" not in cut for cut in (one, *one.get("other_cuts", ())))
    assert " (-0.02 mm)" not in call("regenerate", "jobs", "--bit", "7 mm").out


def test_one_that_cuts_as_before(jobs: Path, call: Call) -> None:
    """A bushing and bit of the very same offset keep it without a word about a difference."""
    lines = call("regenerate", "jobs", "--bit", "7.5 mm", "--bushing", "13.5 mm").out.splitlines()
    assert lines[2] == ("  alone    8 mm + 14 mm  10 x 50 mm     13.5 mm       -            keep the template")
