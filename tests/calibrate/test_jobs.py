"""Which jobs a correction is looked up in, and what it is said to change in them."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

BUSHING = ("calibrate", "bushing", "my 1/2", "--measured", "12.8 mm")

#: The plug is made with the 1/2 in bushing, the recess with one of 22.225 mm and a bit of 3.175: glue line 1.6125 mm.
INLAY = """\
title = "Box lid"
units = "mm"
[cut]
shape = "ellipse"
width = 50
length = 90
depth = 3
[tools]
bit = "eighth"
bushing = "wide"
[inlay]
plug_bushing = "my 1/2"
[plate]
width = 180
height = 150
thickness = 6
material = "mdf"
[make]
for = ["laser"]
"""
#: (12.7 + 3.175) / 2 - (17.4625 - 3.175) / 2 mm is 0.79375 mm a side.
WIDE = '\n[bits.eighth]\ndiameter = "3.175 mm"\n[bushings.wide]\ndiameter = "17.4625 mm"\nbore = "14 mm"\n'


def joined(out: str) -> str:
    """Lines that were wrapped, as one."""
    return " ".join(out.split())


@pytest.fixture
def inlay(tools: Path, here: Path) -> Path:
    """A job whose plug alone is made with the bushing."""
    tools.write_text(tools.read_text(encoding="utf-8") + WIDE, encoding="utf-8")
    path = here / "lid.toml"
    path.write_text(INLAY, encoding="utf-8")
    return path


def test_the_plug_of_an_inlay(call: Call, inlay: Path) -> None:
    """A bushing 0.1 mm wider leaves a plug 0.05 mm a side smaller: 0.844 mm instead of 0.794."""
    line = "lid.toml: the plug is 0.844 mm a side smaller than the recess instead of 0.794 mm"
    assert line in joined(call(*BUSHING, "--look").out)


def test_a_plug_too_large(call: Call, inlay: Path, tools: Path) -> None:
    """A recess's bushing of 19 mm leaves a plug 0.025 mm too large, of which 0.1 mm more makes one that goes in."""
    text = tools.read_text(encoding="utf-8").replace("17.4625", "19.1")
    tools.write_text(text, encoding="utf-8")
    line = "lid.toml: the plug is 0.025 mm a side smaller than the recess instead of 0.025 mm larger"
    assert line in joined(call(*BUSHING, "--look").out)
    narrower = call("calibrate", "bushing", "my 1/2", "--measured", "12.6 mm", "--look").out
    line = "lid.toml: the plug is 0.075 mm a side larger than the recess instead of 0.025 mm"
    assert line in joined(narrower)


def test_a_plug_by_a_bare_size(call: Call, inlay: Path) -> None:
    """A plug's bushing that is named by its size is not reached, and what to write is said."""
    inlay.write_text(INLAY.replace('"my 1/2"', '"1/2 in"'), encoding="utf-8")
    assert (
        'lid.toml: not reached: inlay.plug_bushing is the bare size 1/2 in: write plug_bushing = "my 1/2" there '
    ) in joined(call(*BUSHING, "--look").out)


def test_the_plugs_own_bit(call: Call, inlay: Path) -> None:
    """plug_bit = "my 3/8" counts as well as the recess's bit."""
    inlay.write_text(INLAY.replace("[inlay]\n", '[inlay]\nplug_bit = "my 3/8"\n'), encoding="utf-8")
    said = call("calibrate", "bit", "my 3/8", "--measured", "9.425 mm", "--look")
    assert "  lid.toml: the plug is 3.919 mm a side smaller than the recess instead of 3.969 mm" in said.out


def test_each_cut_of_a_template(call: Call, shop: Path) -> None:
    """Of two cuts both openings are told, each 0.1 mm wider."""
    text = shop.read_text(encoding="utf-8").replace("[cut]", "[[cut]]\nx = 45")
    other = '[[cut]]\nx = 105\nshape = "round"\ndiameter = 30\ndepth = 10\n\n[tools]'
    shop.write_text(text.replace("[tools]", other), encoding="utf-8")
    assert (
        "rail.toml: cut 1: opening 13.275 x 53.275 mm instead of 13.175 x 53.175 mm; cut 2: opening 33.275 mm "
        "instead of 33.175 mm"
    ) in joined(call(*BUSHING, "--look").out)


def test_one_folder_below(call: Call, shop: Path, here: Path) -> None:
    """Jobs in a folder below are told too, as `drawer` finds them; hidden folders and those deeper are not."""
    text = shop.read_text(encoding="utf-8")
    for folder in ("jobs", ".old", "jobs/deeper"):
        (here / folder).mkdir()
        (here / folder / "seat.toml").write_text(text, encoding="utf-8")
    lines = call(*BUSHING, "--look").out.splitlines()
    start = lines.index("What it changes in the jobs of this folder and those just below it:")
    assert [line.split(":")[0].strip() for line in lines[start + 1 : -1]] == ["rail.toml", "jobs/seat.toml"]


def test_jobs_names_one_folder(call: Call, shop: Path, here: Path) -> None:
    """--jobs: that folder and no other, and it is named."""
    (here / "jobs" / "deeper").mkdir(parents=True)
    (here / "jobs" / "deeper" / "rail.toml").write_text(shop.read_text(encoding="utf-8"), encoding="utf-8")
    said = call(*BUSHING, "--look", "--jobs", "jobs").out.splitlines()
    assert 'No job of "jobs" is changed by it; look elsewhere with --jobs DIR.' in said
    said = call(*BUSHING, "--look", "--jobs", "jobs/deeper").out.splitlines()
    assert 'What it changes in the jobs of "jobs/deeper":' in said


def test_none_here(call: Call, tools: Path, here: Path) -> None:
    """Where no job is changed the folder that was looked in is named, and --jobs."""
    said = joined(call(*BUSHING, "--look").out)
    looked = f"No job of this folder and those just below it ({here}) is changed by it; look elsewhere with --jobs DIR."
    assert looked in said


def test_beside_the_job_of_a_test_cut(call: Call, shop: Path, here: Path) -> None:
    """The folder of the job that was named is the one that is looked in."""
    (here / "jobs").mkdir()
    shop.rename(here / "jobs" / "rail.toml")
    said = call("calibrate", "cut", "jobs/rail.toml", "--measured-width", "9.9 mm", "--look").out.splitlines()
    assert 'What it changes in the jobs of "jobs":' in said


@pytest.mark.parametrize(
    ("name", "what"), [("jobbs", "there is no such folder"), ("rail.toml", "this is not a folder")]
)
def test_jobs_is_no_folder(call: Call, shop: Path, name: str, what: str) -> None:
    """A folder that is not there is a fault, and no silence."""
    said = call(*BUSHING, "--jobs", name)
    assert (said.status, said.err) == (2, f"--jobs: {name}: {what} (give the folder that holds the job files)\n")


def test_a_folder_that_cannot_be_listed(call: Call, shop: Path, here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing below is then looked at, and the words do not say that it was."""

    def none(_self: Path) -> Any:
        raise PermissionError

    monkeypatch.setattr(Path, "iterdir", none)
    assert "What it changes in the jobs of this folder:" in call(*BUSHING, "--look").out


def test_a_job_without_units_whose_cut_is_in_inches(call: Call, tools: Path, here: Path) -> None:
    """Such a job is answered in inches, like one that says so."""
    job = """title = "Rail"
[cut]
shape = "slot"
width = "1/2 in"
length = "2 in"
depth = "1/2 in"
[tools]
bit = "my 3/8"
bushing = "my 1/2"
[plate]
width = "6 in"
height = "5 in"
thickness = "1/4 in"
"""
    (here / "rail.toml").write_text(job, encoding="utf-8")
    said = joined(call(*BUSHING, "--look").out)
    assert "rail.toml: opening 0.629 in x 2.129 in (15.975 mm x 54.075 mm) instead of 5/8 in x 2-1/8 in" in said
