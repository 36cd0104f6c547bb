"""The cautions: all of the plan's, only where they apply."""

from collections.abc import Callable

import pytest

from jigtemplates.cautions import cautions
from jigtemplates.parameters.job import Job

JobWith = Callable[..., Job]

ALWAYS = (
    "Unplug the router to change bit",
    "eye, ear and dust protection",
    "Clamp work and template",
    "3/4 in (19 mm) of shank in the collet",
    "nut tight and below the face of the base",
    "Several shallow passes",
    "inside the template feed clockwise",
    "Speed at most 24,000 rpm",
    "switch off and let it stop before lifting out",
    "no guarantee: make a test cut in scrap first",
    "Follow the manuals",
    "ask someone trained",
)


@pytest.mark.parametrize("machine", ["laser", "cnc", "paper", "print"])
def test_what_always_applies(job_with: JobWith, machine: str) -> None:
    """Section 6 of the plan, whatever the template is made on."""
    text = " ".join(cautions(job_with(make={"for": [machine]})))
    assert [words for words in ALWAYS if words not in text] == []


def test_laser(job_with: JobWith) -> None:
    """Only a laser is warned of PVC and of being left alone."""
    line = "Never laser PVC, vinyl or unknown plastic; never leave a running laser."
    assert line in cautions(job_with(make={"for": ["laser"]}))
    assert line not in cautions(job_with(make={"for": ["cnc", "paper"]}))


def test_cnc(job_with: JobWith) -> None:
    """Only a CNC router is told of tabs."""
    line = "Hold the plate down well: no tabs on the opening, whose edge guides the bushing."
    assert line in cautions(job_with(make={"for": ["cnc"]}))
    assert line not in cautions(job_with(make={"for": ["laser", "paper"]}))


def test_print(job_with: JobWith) -> None:
    """Only a printed template is told of heat at its edge."""
    line = "Printed edge: feed steadily, never let the bushing rub in one place; look at it before every job."
    assert line in cautions(job_with(make={"for": ["print"]}))
    assert line not in cautions(job_with(make={"for": ["laser", "cnc", "paper"]}))


def test_outside(job_with: JobWith) -> None:
    """Only round the outside end grain is at its corners, and the feed is the other way."""
    line = "End grain tears out at its corners: light passes, a backing strip there, end grain before the long sides."
    outside = cautions(job_with(cut={"side": "outside"}, plate={"width": None, "height": None}))
    assert line in outside
    assert any("feed counter-clockwise" in caution for caution in outside)
    assert line not in cautions(job_with())
    assert len(line) <= 110


def test_a_pattern_is_not_clamped(job_with: JobWith) -> None:
    """Clamps are in the router's way all round a pattern, so nothing tells to clamp it."""
    outside = " ".join(cautions(job_with(cut={"side": "outside"}, plate={"width": None, "height": None})))
    assert "Screw or tape the pattern down: clamps are in the way." in outside
    assert "Clamp work" not in outside
    assert "Screw or tape" not in " ".join(cautions(job_with()))


def test_material(job_with: JobWith) -> None:
    """The material's own cautions come along; without a material there are none."""
    line = "MDF dust is fine: extract it and wear a mask."
    assert line in cautions(job_with())
    assert line not in cautions(job_with(plate={"material": None}))


def test_large_bit(job_with: JobWith) -> None:
    """A cutter larger than the published table has its maker's speed."""
    lines = cautions(job_with(tools={"bit": 90, "bushing": 100}))
    assert any(line.endswith("Speed as the bit's maker says.") for line in lines)


def test_they_are_short(job_with: JobWith) -> None:
    """No caution is longer than a line of 110 characters, and none is said twice."""
    lines = cautions(job_with())
    assert max(map(len, lines)) <= 110
    assert len(set(lines)) == len(lines)
