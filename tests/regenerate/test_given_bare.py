"""A bare size, while the person has a tool sold as it that measures otherwise: taken as it stands, which is said."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

JOB = """\
title = "Rail"
units = "mm"
[cut]
shape = "slot"
width = 12
length = 50
depth = 10
[tools]
bit = 9
bushing = 16
clearance = 0.1
[plate]
width = 140
height = 140
thickness = 6
[make]
for = ["cnc"]
"""
TOOLS = """\
units = "mm"
[bits.worn]
diameter = { nominal = 8, measured = 7.9 }
[bits.exact]
diameter = { nominal = 10, measured = 10 }
[bushings.brass]
diameter = { nominal = 16, measured = 15.95 }
"""
BIT = '--bit: 8 mm is taken as it stands; "worn" measures 7.9 mm (for that: --bit "worn")\n'
BUSHING = '--bushing: 16 mm is taken as it stands; "brass" measures 15.95 mm (for that: --bushing "brass")\n'


@pytest.fixture
def jobs(here: Path) -> Path:
    """A job, and the person's own tools beside it."""
    folder = here / "jobs"
    (folder / "profiles").mkdir(parents=True)
    (folder / "profiles" / "tools.toml").write_text(TOOLS, encoding="utf-8")
    (folder / "rail.toml").write_text(JOB, encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--bit", "8 mm"), BIT),
        (("--bit", "8 mm", "--bushing", "16 mm"), BIT + BUSHING),
        (("--bit", "worn"), ""),
        (("--bit", "10 mm"), ""),  # one's own measures just that
        (("--bit", "7 mm"), ""),  # none is sold as it
    ],
)
def test_a_bare_size(jobs: Path, call: Call, options: tuple[str, ...], said: str) -> None:
    """On stderr, with JSON too, so that the answer stays what it is."""
    plain = call("regenerate", "jobs", *options)
    assert (plain.status, plain.err) == (0, said)
    assert call("regenerate", "jobs", *options, "--json").err == said
