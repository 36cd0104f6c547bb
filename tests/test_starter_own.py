"""A job of an ordinary shape begins with the person's own tools where there are both kinds, and says so."""

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.parameters.load import load_job
from jigtemplates.report import report_on

Call = Callable[..., Any]

ALL = ("slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge")
BITS = """\
units = "mm"
[bits."straight 6"]
diameter = { nominal = 6, measured = 5.9 }
shank = 8
cutting_length = 20
[bits."spiral 8"]
diameter = 8
shank = 8
cutting_length = 32
"""
BUSHINGS = """\
[bushings."g 24"]
diameter = 24
bore = 20
stem = 5
[bushings."g 14"]
diameter = 14
bore = 12.1
stem = 5
"""


@pytest.fixture
def own(here: Path) -> Path:
    """A tools file with two bits and two bushings."""
    (here / "profiles").mkdir()
    (here / "profiles" / "tools.toml").write_text(BITS + BUSHINGS, encoding="utf-8")
    return here / "profiles" / "tools.toml"


@pytest.mark.usefixtures("own")
@pytest.mark.parametrize("shape", ALL)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_shape_begins_with_own_tools(shape: str, units: str, call: Call, here: Path) -> None:
    """The bit with less side play that is deep enough, in the smaller bushing; the job is not stopped."""
    said = call("new", "--shape", shape, "--units", units)
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines()[-1].startswith("of your own spiral 8 in g 14 comes nearest: the cut ")
    text = (here / f"{shape}.toml").read_text(encoding="utf-8")
    tools = tomllib.loads(text)["tools"]
    assert (tools["bit"], tools["bushing"]) == ("spiral 8", "g 14")
    assert "\n# of your own bits and bushings this pair comes nearest to the cut: the cut " in text
    assert f"jigtemplates match {shape}.toml\n" in text
    assert not report_on(load_job(here / f"{shape}.toml")).stopped


@pytest.mark.usefixtures("own")
def test_what_comes_of_the_pair_is_said(call: Call) -> None:
    """As asked for a slot; a butterfly's inside corners at the waist are rounded, by so much in the job's unit."""
    assert call("new", "--shape", "slot").out.endswith("g 14 comes nearest: the cut comes out as asked\n")
    assert call("new", "--shape", "butterfly").out.endswith("g 14 comes nearest: the cut is up to 0.04 mm off\n")
    shown = call("new", "-", "--shape", "slot")
    assert shown.err == "of your own spiral 8 in g 14 comes nearest: the cut comes out as asked\n"
    assert 'bit = "spiral 8"' in shown.out


@pytest.mark.parametrize("kept", [BITS, BUSHINGS])
def test_who_has_one_kind_alone_begins_with_common_ones(kept: str, own: Path, call: Call, here: Path) -> None:
    """No pair can be made of own tools alone: 3/8 in and 5/8 in, and no word of own ones."""
    own.write_text(kept if kept is BITS else f'units = "mm"\n{kept}', encoding="utf-8")
    said = call("new", "--shape", "hinge")
    assert said.out == "wrote hinge.toml: change it, then: jigtemplates check hinge.toml\n"
    tools = tomllib.loads((here / "hinge.toml").read_text(encoding="utf-8"))["tools"]
    assert (tools["bit"], tools["bushing"]) == ("3/8 in", "5/8 in")


@pytest.mark.parametrize("shape", ["slot", "hinge"])
def test_own_tools_that_cannot_make_it(shape: str, own: Path, call: Call, here: Path) -> None:
    """The nearest stands in the job, with why it will not do, by arithmetic and on the screen."""
    own.write_text(BITS + BUSHINGS.replace("stem = 5", "stem = 14"), encoding="utf-8")
    said = call("new", "--shape", shape)
    why = "the stem (14 mm) reaches the work: plate and stand-off are 6 mm"
    assert said.out.splitlines()[-1] == f"no bit and bushing of your own make it yet: {why}"
    text = " ".join((here / f"{shape}.toml").read_text(encoding="utf-8").replace("#", " ").split())
    assert f"none of your own bits and bushings makes this yet; with the nearest, {why}; all pairs:" in text
    assert call("check", f"{shape}.toml").status == 1


def test_a_pair_that_the_checks_stop(own: Path, call: Call) -> None:
    """What only the whole job shows is said as well: an opening of 132 mm leaves no wall in a plate of 140 mm."""
    own.write_text(
        BITS + '[bushings."wide"]\ndiameter = 100\nbore = 20\nstem = 5\n',
        encoding="utf-8",
    )
    said = call("new", "--shape", "slot").out.splitlines()[-1]
    assert said.startswith("no bit and bushing of your own make it yet: ")


@pytest.mark.parametrize("shape", ["round", "ellipse"])
def test_a_bit_wider_than_the_cut(shape: str, own: Path, call: Call, here: Path) -> None:
    """Nothing comes out, and the job is written all the same."""
    text = 'units = "mm"\n[bits."plate"]\ndiameter = 60\n[bushings."huge"]\ndiameter = 80\nbore = 70\nstem = 5\n'
    own.write_text(text, encoding="utf-8")
    said = call("new", "--shape", shape)
    assert (said.status, (here / f"{shape}.toml").exists()) == (0, True)
    assert said.out.splitlines()[-1].startswith("no bit and bushing of your own make it yet: the bit (60 mm) is wider")


def test_faults_of_the_tools_file_are_said(own: Path, call: Call, here: Path) -> None:
    """As for every job: nothing is written before they are mended."""
    own.write_text('[bits."a"]\ndiameter = "x"\n', encoding="utf-8")
    said = call("new", "--shape", "slot")
    assert (said.status, (here / "slot.toml").exists()) == (2, False)
    assert said.faults[0].startswith("profiles/tools.toml:2: ")
