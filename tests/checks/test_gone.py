"""Wood that a drawn cut takes too much: a whole piece that is gone stops, a point that is blunted warns."""

import math
import random
from collections.abc import Callable
from pathlib import Path

import pytest

from jigtemplates.checks import Finding
from jigtemplates.parameters.load import load_job
from jigtemplates.report import report_on

PAGE = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">'
JOB = (
    'title = "Tray"\nunits = "mm"\n[cut]\nshape = "outline"\nfile = "d.svg"\ndepth = 8\n[tools]\nbit = 6\n'
    "bushing = {bushing}\nclearance = 0.1\n[plate]\nwidth = 200\nheight = 200\nthickness = 6\n[make]\n"
    'for = ["laser"]\n'
)
Taken = Callable[[str, float], Finding | None]


@pytest.fixture
def taken(tmp_path: Path) -> Taken:
    """What is said of wood taken too much by a bit of 6 mm whose bushing is so many offsets of 1 mm larger."""

    def said(outline: str, offset: float) -> Finding | None:
        (tmp_path / "d.svg").write_text(f'{PAGE}<path fill-rule="evenodd" d="{outline}"/></svg>')
        (tmp_path / "tray.toml").write_text(JOB.format(bushing=6 + 2 * offset))
        report = report_on(load_job(tmp_path / "tray.toml"))
        found = [one for one in report.findings if one.code in ("wood-cut-away", "corner-rounded-off")]
        assert len(found) < 2
        return found[0] if found else None

    return said


def tongue(width: float, length: float) -> str:
    """A recess of 80 by 70 with a tongue of wood from its right side."""
    return f"M 0 0 H 80 V {35 - width / 2} H {80 - length} V {35 + width / 2} H 80 V 70 H 0 Z"


def point(angle: float, length: float) -> str:
    """The same with a point of this angle, degrees."""
    half = length * math.tan(math.radians(angle / 2))
    return f"M 0 0 H 80 V {35 - half:.6f} L {80 - length} 35 L 80 {35 + half:.6f} V 70 H 0 Z"


@pytest.mark.parametrize("length", [5, 12, 40])
@pytest.mark.parametrize("offset", [1.0, 1.6, 3.0, 7.0])
def test_a_narrow_tongue_is_gone_whatever_the_offset(taken: Taken, length: float, offset: float) -> None:
    """1 mm wide and 5 to 40 long, it is taken to the round foot that the bit leaves: a stop with every bushing."""
    finding = taken(tongue(1, length), offset)
    assert finding is not None
    assert (finding.level.value, finding.code) == ("stop", "wood-cut-away")
    assert f"narrower than the bushing can go round ({2 * offset:g} mm)" in finding.message


@pytest.mark.parametrize(("offset", "level"), [(1.9, "warning"), (2.1, "stop")])
def test_as_wide_as_twice_the_offset(taken: Taken, offset: float, level: str) -> None:
    """A tongue of 4 mm stands with an offset of 1.9 mm, its corners rounded, and is gone with 2.1."""
    finding = taken(tongue(4, 40), offset)
    assert finding is not None
    assert finding.level.value == level


@pytest.mark.parametrize("angle", [16, 30, 60, 90])
@pytest.mark.parametrize("offset", [1.0, 2.0, 3.0])
def test_a_point_is_blunted(taken: Taken, angle: float, offset: float) -> None:
    """A slender point too: it loses (1 / sin(angle / 2) - 1) offsets, and the warning says how much."""
    finding = taken(point(angle, 50 if angle < 60 else 20), offset)
    assert finding is not None
    assert (finding.level.value, finding.code) == ("warning", "corner-rounded-off")
    lost = offset * (1 / math.sin(math.radians(angle / 2)) - 1)
    said = float(finding.message.partition("up to ")[2].partition(" mm")[0])
    assert said == pytest.approx(lost, abs=0.006)


def test_a_point_that_is_taken_nearly_to_its_foot(taken: Taken) -> None:
    """Of a point of 28 mm on a foot of 10 mm an offset of 7 mm leaves next to nothing: gone."""
    finding = taken(point(20, 28), 7)
    assert finding is not None
    assert finding.level.value == "stop"


def test_a_point_before_a_wall(taken: Taken) -> None:
    """Wood on the other side of the cut is not what the point grows out of: 10 mm from its tip, 14 mm taken."""
    finding = taken(point(16, 70), 3)
    assert finding is not None
    assert finding.level.value == "warning"


@pytest.mark.parametrize(("offset", "level"), [(1.0, "warning"), (1.6, "stop"), (7.0, "stop")])
def test_a_tongue_that_narrows(taken: Taken, offset: float, level: str) -> None:
    """10 mm long, 3 mm at its foot and 1 mm at its end: shortened by 2 x 1 mm, gone by 2 x 1.6."""
    finding = taken("M 0 0 H 80 V 33.5 L 70 34.5 V 35.5 L 80 36.5 V 70 H 0 Z", offset)
    assert finding is not None
    assert finding.level.value == level


@pytest.mark.parametrize("offset", [1.0, 3.0, 7.0])
def test_what_hung_on_a_neck(taken: Taken, offset: float) -> None:
    """A head of 20 by 20 on a neck of 1 mm, 10 mm long: with the neck the head is torn off."""
    finding = taken("M 0 0 H 80 V 34.5 H 70 V 25 H 50 V 45 H 70 V 35.5 H 80 V 70 H 0 Z", offset)
    assert finding is not None
    assert finding.level.value == "stop"


@pytest.mark.parametrize(("offset", "level"), [(1.0, "warning"), (7.0, "stop")])
def test_a_short_waist(taken: Taken, offset: float, level: str) -> None:
    """An hourglass that the bit leaves 3 mm of at its waist: it holds, and with a large offset it is torn in two."""
    finding = taken("M 0 0 H 80 V 25 L 70 34.5 L 60 25 H 50 V 45 H 60 L 70 35.5 L 80 45 V 70 H 0 Z", offset)
    assert finding is not None
    assert finding.level.value == level


def test_an_island(taken: Taken) -> None:
    """3 mm across and free on all sides: gone with an offset of 2, rounded with 1."""
    outline = "M 0 0 H 80 V 80 H 0 Z M 38.5 38.5 H 41.5 V 41.5 H 38.5 Z"
    levels = [(finding := taken(outline, offset)) and finding.level.value for offset in (1, 2)]
    assert levels == ["warning", "stop"]


@pytest.mark.parametrize(("reach", "level"), [(1.5, "warning"), (2, "stop")])
def test_small_detail_is_no_piece(taken: Taken, reach: float, level: str) -> None:
    """2 mm wide, of 1.5 mm 0.9 are taken: told as detail. Of 2 mm 1.3 are: a piece."""
    finding = taken(tongue(2, reach), 7)
    assert finding is not None
    assert finding.level.value == level


def test_the_noise_of_a_traced_outline(taken: Taken) -> None:
    """600 points that are off by up to 0.05 mm: many little pieces are taken, none of them stands for one."""
    chance, points = random.Random(1), []
    for number in range(600):
        turn = number * math.tau / 600
        radius = 35 + 6 * math.sin(9 * turn) + chance.uniform(-0.05, 0.05)
        points.append(f"{45 + radius * math.cos(turn):.4f} {45 + radius * math.sin(turn):.4f}")
    finding = taken(f"M {' L '.join(points)} Z", 3)
    assert finding is not None
    assert finding.level.value == "warning"


def test_nothing_is_taken(taken: Taken) -> None:
    """A rectangle has no wood that reaches into it."""
    assert taken("M 0 0 H 80 V 70 H 0 Z", 3) is None
