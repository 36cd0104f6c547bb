"""The plate on the bench has the opening its record says, whatever its bit measures by now."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

JOB = """\
title = "Bench"
units = "mm"
[cut]
shape = "slot"
width = 10
length = 50
depth = 20
[tools]
bit = "w 8"
bushing = 17
clearance = 0.1
[plate]
width = 140
height = 100
thickness = 6
screws = { pattern = "corners", size = "M5", inset = 10 }
[make]
for = ["cnc", "paper"]
"""
TOOLS = 'units = "mm"\n[bits."w 8"]\ndiameter = { nominal = 8, measured = %s }\n'


def tools(more: str = "", *, measured: float = 8) -> None:
    Path("profiles").mkdir(exist_ok=True)
    Path("profiles/tools.toml").write_text(TOOLS % measured + more, encoding="utf-8")


def job(*pairs: tuple[str, str], name: str = "j") -> None:
    text = JOB
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    Path(f"jobs/{name}.toml").write_text(text, encoding="utf-8")


@pytest.fixture
def made(here: Path, call: Call) -> Path:
    """A job made with a bit that measured 8 mm."""
    (here / "jobs").mkdir()
    tools()
    job()
    assert call("make", "jobs").status == 0
    return here


def told(call: Call, *args: str) -> dict[str, Any]:
    (one,) = json.loads(call("regenerate", "jobs", *args, "--json").out)
    assert isinstance(one, dict)
    return one


def rows(call: Call, *args: str) -> list[str]:
    out: str = call("regenerate", "jobs", *args).out
    return [" ".join(line.split()) for line in out.splitlines()]


def test_a_bit_measured_anew(made: Path, call: Call) -> None:
    """Made for 8 mm, the opening of 19 x 59 mm cuts 9.8 mm with 7.8 mm; the pair's sum asks for 19.2 mm."""
    tools(measured=7.8)
    assert rows(call, "--bit", "w 8") == [
        'With bit "w 8": 1 job; make again 1',
        "job made for would cut now keep it with new opening to do",
        "j w 8 + 17 mm 9.8 x 49.8 mm (-0.2 mm) - 19.2 x 59.2 mm make again",
        'j: tools.bit: the template was made for "w 8" of 8 mm, which measures 7.8 mm now',
        "Nothing was written: --write does it.",
    ]
    one = told(call, "--bit", "w 8")
    assert one["old"] == {
        "bit": "w 8",
        "bushing": "17 mm",
        "opening": {"width": 19.0, "length": 59.0, "corner_radius": 9.5},
        "predicted_cut": {"width": 10.0, "length": 50.0, "max_deviation": 0.0, "unreachable_area": 0.0},
    }
    assert one["cut_with_new_bit"] == {"width": 9.8, "length": 49.8, "corner_radius": 4.9, "max_deviation": 0.1}
    drawer = call("drawer", "templates", "--with-bit", "w 8").out  # the same plate, asked otherwise
    assert "9.8 x 49.8 mm" in drawer


def test_a_bushing_measured_anew(made: Path, call: Call) -> None:
    """A bushing of 16.9 mm has 0.1 mm more play: the cut grows by as much. In inches they come first."""
    more = "[bushings.brass]\ndiameter = { nominal = 17, measured = %s }\nbore = 12\n"
    tools(more % 17)
    job(("bushing = 17", 'bushing = "brass"'), ('units = "mm"', 'units = "in"'), ("= 10\n", '= "10 mm"\n'),
        ("= 50", '= "50 mm"'), ("= 20", '= "20 mm"'), ("clearance = 0.1", "clearance = 0.004"), ("= 140", "= 6"),
        ("= 100", "= 4"), ("= 6\nscrews", '= "6 mm"\nscrews'), ("inset = 10", "inset = 0.5"))  # fmt: skip
    assert call("make", "jobs").status == 0
    tools(more % 16.8)
    one = told(call, "--bushing", "brass")
    assert (one["cut_with_new_bit"]["width"], one["new_opening"]["width"]) == (10.2, 18.8)
    said = " ".join(call("regenerate", "jobs", "--bushing", "brass").out.split())
    assert 'j: tools.bushing: the template was made for "brass" of 0.669 in (17 mm), which measures 0.661 in' in said


def test_a_bushing_of_ones_own_keeps_it(made: Path, call: Call) -> None:
    """7.8 mm in 16.8 mm has the offset of 8 mm in 17 mm: that bushing is found and written."""
    tools("[bushings.thin]\ndiameter = 16.8\nbore = 12\n", measured=7.8)
    one = told(call, "--bit", "w 8", "--write")
    assert (one["status"], one["keep_template_with_bushing"]) == ("keeps", "thin")
    assert one["cut_when_kept"]["width"] == 10.0
    text = Path("jobs/j.toml").read_text(encoding="utf-8")
    assert 'bit = "w 8"' in text
    assert 'bushing = "thin"' in text


def test_a_bit_that_is_hardly_narrower(made: Path, call: Call) -> None:
    """0.02 mm narrower: the plate stays right, its files are made for the new size, the job file is not touched."""
    tools(measured=7.98)
    before = Path("jobs/j.toml").stat().st_mtime_ns
    one = told(call, "--bit", "w 8", "--write")
    assert (one["status"], one["keep_template_with_bushing"], one["cut_when_kept"]["width"]) == ("keeps", "17 mm", 9.98)
    assert Path("jobs/j.toml").stat().st_mtime_ns == before
    assert told(call, "--bit", "w 8")["status"] == "unchanged"


def test_a_job_changed_by_hand(made: Path, call: Call) -> None:
    """It has the new bit, but was not made with it: what the plate cuts is said of the recorded opening."""
    job(('bit = "w 8"', 'bit = "7 mm"'))
    one = told(call, "--bit", "7 mm")
    assert (one["old"]["bit"], one["cut_with_new_bit"]["width"], one["status"]) == ("w 8", 9.0, "regenerated")


def test_a_plate_of_another_size(made: Path, call: Call) -> None:
    """A bushing keeps no plate that is not the job's any more."""
    tools("[bushings.thin]\ndiameter = 16.8\nbore = 12\n", measured=7.8)
    job(("width = 140", "width = 150"))
    assert told(call, "--bit", "w 8")["status"] == "regenerated"


def test_each_of_several_cuts(made: Path, call: Call) -> None:
    """The record has an opening for each."""
    cut = '[[cut]]\nshape = "slot"\nwidth = {}\nlength = 40\ndepth = 20\ny = {}\n'
    head, _, rest = JOB.partition("[cut]")
    two = f"{head}{cut.format(10, 30)}{cut.format(12, 70)}[tools]{rest.partition('[tools]')[2]}"
    Path("jobs/j.toml").write_text(two, encoding="utf-8")
    assert call("make", "jobs").status == 0
    tools(measured=7.8)
    one = told(call, "--bit", "w 8")
    assert one["cut_with_new_bit"]["width"] == 9.8
    assert one["other_cuts"][0]["cut_with_new_bit"]["width"] == 11.8
    assert one["other_cuts"][0]["opening"]["width"] == 21.0


def test_a_pattern(made: Path, call: Call) -> None:
    """Outside work: 8 mm in 17 mm goes round a pattern 9 mm narrower; 7.8 mm leaves the work 0.2 mm wider."""
    job(("depth = 20", 'depth = 20\nside = "outside"'), ("width = 10", "width = 60"), ("length = 50", "length = 100"),
        ("width = 140\nheight = 100\n", ""),
        ('screws = { pattern = "corners", size = "M5", inset = 10 }\n', ""))  # fmt: skip
    assert call("make", "jobs").status == 0
    tools("[bushings.thin]\ndiameter = 16.8\nbore = 12\n", measured=7.8)
    one = told(call, "--bit", "w 8", "--bushing", "17 mm")
    assert (one["old"]["opening"]["width"], one["cut_with_new_bit"]["width"]) == (51.0, 60.2)
    assert told(call, "--bit", "w 8")["status"] == "keeps"


@pytest.mark.parametrize(
    "spoil",
    [
        lambda data: data["job"].update(file="other.toml"),
        lambda data: data.pop("opening"),
        lambda data: data["results"].pop("findings"),
        lambda data: data.update(other_openings=[data["opening"]]),
    ],
    ids=["another job's", "without an opening", "without findings", "with more openings"],
)
def test_a_record_that_is_not_the_jobs(made: Path, call: Call, spoil: Callable[[Any], Any]) -> None:
    """Then the template is the one that the job as it is now would make."""
    from jigtemplates.manifest import content_hash

    path = Path("templates/j/j.json")
    data = json.loads(path.read_text(encoding="utf-8"))
    spoil(data)
    path.write_text(json.dumps({**data, "sha256": content_hash(data)}), encoding="utf-8")
    tools(measured=7.8)
    assert told(call, "--bit", "w 8")["cut_with_new_bit"]["width"] == 10.0


def test_without_a_record(made: Path, call: Call) -> None:
    """The same where none is there, in the folder that is given."""
    tools(measured=7.8)
    assert told(call, "--bit", "w 8", "--out", "elsewhere")["old"]["opening"]["width"] == 19.2


def test_a_run_that_was_killed(made: Path, call: Call) -> None:
    """The record has the new bit and the job the old one: nobody was told of a new plate, so it is said now."""
    old = Path("jobs/j.toml").read_bytes()
    assert call("regenerate", "jobs", "--bit", "7 mm", "--write").status == 0
    Path("jobs/j.toml").write_bytes(old)
    one = told(call, "--bit", "7 mm")
    assert (one["status"], one["cut_with_new_bit"]["width"], one["new_opening"]["width"]) == ("regenerated", 9.0, 20.0)
