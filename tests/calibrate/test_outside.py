"""Outside work: what is measured is the piece cut out, which a wider bit makes smaller and tape on the pattern larger.

Width of the work = pattern + bushing - bit (a round pattern 20 mm smaller than the work for a 30 mm bushing and a 10 mm
bit: HolzWerken, read; see references).
"""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

#: Pattern: 100 x 200 less 12.7 - 9.525 mm is 96.825 x 196.825.
PATTERN = """\
title = "Pattern"
units = "mm"
[cut]
shape = "rectangle"
width = 100
length = 200
corner_radius = 20
depth = 12
side = "outside"
[tools]
bit = "my 3/8"
bushing = "my 1/2"
[plate]
thickness = 6
material = "mdf"
[make]
for = ["cnc", "laser", "paper"]
"""


@pytest.fixture
def pattern(tools: Path, here: Path) -> Path:
    """A job for work cut out round a pattern."""
    path = here / "pattern.toml"
    path.write_text(PATTERN, encoding="utf-8")
    return path


@pytest.fixture
def told(call: Call, pattern: Path) -> Callable[..., dict[str, Any]]:
    """told("100.1 mm"): what is said of a piece that is as much off along, as data; nothing is written."""

    def said(width: str, *more: str) -> dict[str, Any]:
        length = f"{float(width.removesuffix(' mm')) + 100:g} mm"
        measured = ("--measured-width", width, "--measured-length", length)
        out = call("calibrate", "cut", "pattern.toml", *measured, *more, "--json", "--look").out
        found: dict[str, Any] = json.loads(out)
        return found

    return said


def test_the_work_is_larger_than_the_pattern(call: Call, pattern: Path) -> None:
    """A pattern of 96.825 x 196.825 mm is expected to give work of 100 x 200 mm, and 100.1 is 0.1 too wide."""
    call("calibrate", "bit", "my 3/8", "--measured", "9.525 mm")
    said = call(
        "calibrate", "cut", "pattern.toml", "--measured-width", "100.1 mm", "--measured-length", "200.1 mm", "--look"
    )
    lines = said.out.splitlines()
    assert lines[1].startswith("  template  pattern 96.825 x 196.825 mm, made by cnc")
    assert "  expected  work of 100 x 200 mm with bit, bushing and kerf as they are known" in lines
    assert "  measured  width 100.1 mm, 0.1 mm too wide; length 200.1 mm, 0.1 mm too long" in lines
    assert " pattern came out 0.1 mm too wide: correct the size of the cutter" in " ".join(said.out.split())
    assert "cut" not in {word for line in lines[1:4] for word in line.split()}


def test_the_manifests_pattern_counts(call: Call, pattern: Path, told: Callable[..., dict[str, Any]]) -> None:
    """Made for a bit of 9.525 mm, which is then found to be 9.425: the same pattern leaves work 0.1 mm wider."""
    call("make", "pattern.toml", "--for", "cnc")
    call("calibrate", "bit", "my 3/8", "--measured", "9.425 mm")
    said = told("100.1 mm")
    assert (said["kind"], said["expected"]) == ("right", {"width": 100.1, "length": 200.1})
    assert said["nothing"] == "the work is as expected, as far as 0.02 mm can be told"


@pytest.mark.parametrize(("part", "now"), [("bit", 9.425), ("bushing", 12.8)])
def test_work_too_wide_is_a_narrower_bit_or_a_wider_bushing(
    told: Callable[..., dict[str, Any]], part: str, now: float
) -> None:
    """The other way round than in a recess."""
    assert told("100.1 mm", "--correct", part)["now"] == pytest.approx(now)


def test_a_corrected_bit_makes_it_right(call: Call, pattern: Path) -> None:
    """Work 0.1 mm too narrow: the bit cuts 9.625 mm, and the next pattern is 0.1 mm larger, 96.925 mm."""
    call("calibrate", "cut", "pattern.toml", "--measured-width", "99.9 mm", "--correct", "bit")
    assert json.loads(call("check", "pattern.toml", "--json").out)["opening"]["width"] == pytest.approx(96.925)


def test_a_kerf_that_is_not_known_makes_the_work_narrower(told: Callable[..., dict[str, Any]]) -> None:
    """The beam takes its kerf off the pattern: 0.2 mm too narrow is a kerf of 0.2 mm, too wide is none."""
    said = told("99.8 mm", "--made-by", "laser")
    assert (said["what"], said["now"]) == ("kerf of the laser in mdf, 6 mm", pytest.approx(0.2))
    said = told("100.2 mm", "--made-by", "laser")
    assert "kerf" not in [cause["part"] for cause in said["causes"]]


def test_a_kerf_known_since_is_allowed_for(call: Call, pattern: Path, told: Callable[..., dict[str, Any]]) -> None:
    """A pattern lasered without an allowance is a kerf smaller, and so is the work."""
    call("make", "pattern.toml", "--for", "laser")
    call("calibrate", "kerf", "--gap", "2 mm", "--cuts", "10", "--material", "mdf", "--thickness", "6 mm")
    assert told("99.8 mm", "--made-by", "laser")["kind"] == "right"


def test_a_bushing_off_centre_takes_from_the_work(told: Callable[..., dict[str, Any]]) -> None:
    """A router that turns then cuts deeper into it: only work too narrow tells of it."""
    parts = {width: {cause["part"] for cause in told(width)["causes"]} for width in ("99.8 mm", "100.2 mm")}
    assert parts == {"99.8 mm": {"bit", "bushing", "opening", "centre"}, "100.2 mm": {"bit", "bushing", "opening"}}


def test_tape_on_the_pattern_makes_the_work_larger(told: Callable[..., dict[str, Any]]) -> None:
    """Work too narrow by 0.2 mm takes two layers of 0.05 mm; no tenon goes into it."""
    assert told("99.8 mm", "--correct", "bit")["advice"][-1] == (
        "2 layers of tape 0.05 mm thick on the pattern's edge, all round: the next piece comes out as asked (measure "
        "your tape: --tape)"
    )
    assert not any("tenon" in line for line in told("99.8 mm")["advice"])


def test_sandpaper_on_the_pattern_makes_the_work_smaller(told: Callable[..., dict[str, Any]]) -> None:
    """Work too wide by 0.1 mm: 0.05 mm a side off the pattern; by 0.4 mm that is no longer sanded straight."""
    assert told("100.1 mm")["advice"][-1] == (
        "take 0.05 mm off the pattern's edge, all round, with fine sandpaper on a flat block, and try again: tape "
        "would only make the work larger still"
    )
    assert not any("sandpaper" in line for line in told("100.4 mm")["advice"])


def test_another_pair_on_the_same_pattern(call: Call, told: Callable[..., dict[str, Any]]) -> None:
    """96.825 + 12.7 - 9.6 mm: a wider bit makes the work narrower; what was off, 0.14 mm, stays: 100.065."""
    call("tools", "add", "bits", "bit a", "diameter=9.6 mm")
    assert [line for line in told("100.14 mm", "--correct", "bushing")["advice"] if line.startswith('"')] == [
        '"bit a" in "my 1/2": the same template then makes the work 100.065 mm wide',
    ]


def test_near_enough(told: Callable[..., dict[str, Any]]) -> None:
    """Half of a tenon's fit needs nothing."""
    assert "leave it: the work is within 0.05 mm of the 100 mm asked for" in told("100.04 mm")["advice"]


@pytest.mark.parametrize(
    ("length", "why"),
    [
        ("199.8 mm", "Too short: a dent or a burnt corner at an end of the pattern, or the pattern moved along"),
        ("200.3 mm", "Too long: chips or glue at an end of the pattern, or the router not held against it all round"),
    ],
)
def test_uneven(call: Call, pattern: Path, length: str, why: str) -> None:
    """Length alone off: what is in the way at an end of a pattern is not what is in the way in an opening."""
    said = call("calibrate", "cut", "pattern.toml", "--measured-width", "100 mm", "--measured-length", length)
    assert said.status == 1
    assert f"{why}. Look, cut out another piece and measure it again" in " ".join(said.out.split())


def test_a_round_in_inches_on_a_laser_is_no_fault_of_the_program(call: Call, pattern: Path) -> None:
    """12 in measured 12.01: too wide for any kerf, so bushing and pattern are named; nothing fails."""
    text = PATTERN.replace('"mm"', '"in"').replace('"rectangle"', '"round"').replace("width = 100", "diameter = 12")
    text = text.replace("length = 200\ncorner_radius = 20\ndepth = 12", "depth = 0.75").replace("= 6\n", "= 0.25\n")
    pattern.write_text(text.replace('"cnc", ', ""), encoding="utf-8")
    said = call("calibrate", "cut", "pattern.toml", "--measured-width", "12.01 in")
    assert (said.status, said.err) == (0, "")
    assert "expected  work of 12 in (304.8 mm) with" in said.out
    assert "kerf," not in said.out


def test_a_kerf_draws_the_pattern_larger(call: Call, pattern: Path) -> None:
    """0.19 mm: the line runs round 96.825 mm at half of it, 97.015 mm across, where it ran on the edge before."""
    kerf = ("--gap", "1.9 mm", "--cuts", "10", "--material", "mdf", "--thickness", "6 mm")
    assert (
        "  pattern.toml: the laser draws the pattern 97.015 x 197.015 mm instead of 96.825 x 196.825 mm"
        in call("calibrate", "kerf", *kerf).out.splitlines()
    )
    call("make", "pattern.toml", "--for", "laser")
    files = json.loads((pattern.parent / "templates" / "pattern" / "pattern.json").read_text(encoding="utf-8"))["files"]
    sizes = [sorted((file["width_mm"], file["height_mm"])) for file in files if file["name"].endswith(".dxf")]
    assert sizes == [pytest.approx([97.015, 197.015])]


def test_a_bits_correction_tells_of_the_pattern(call: Call, pattern: Path) -> None:
    """Wider by 0.1 mm: a pattern as much larger."""
    said = call("calibrate", "bit", "my 3/8", "--measured", "9.625 mm", "--look")
    line = "  pattern.toml: pattern 96.925 x 196.925 mm instead of 96.825 x 196.825 mm"
    assert line in said.out.splitlines()
