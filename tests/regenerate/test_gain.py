"""A hinge gain is measured from the edge of the work, whatever bit the bit of today is."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

Call = Callable[..., Any]

GATE = """
title = "Gate"
units = "mm"
[cut]
shape = "hinge"
width = 28
length = 80
depth = 3
[tools]
bit = "12 mm"
bushing = "16 mm"
[plate]
width = 180
height = 120
thickness = 6
[make]
for = ["cnc"]
"""


def test_a_gain_with_another_bit(here: Path, call: Call) -> None:
    """The offset is 3 instead of 2 mm: 1 mm less at three sides, and none at the side that is open."""
    (here / "jobs").mkdir()
    (here / "jobs" / "gate.toml").write_text(GATE, encoding="utf-8")
    said = call("regenerate", "jobs", "--bit", "10 mm")
    assert said.out.splitlines()[2].split("  ")[2:4] == ["12 mm + 16 mm", "27 x 78 mm (-1 mm)"]
    (gate,) = json.loads(call("regenerate", "jobs", "--bit", "10 mm", "--json").out)
    assert (gate["cut_with_new_bit"]["width"], gate["cut_with_new_bit"]["length"]) == (27.0, 78.0)
