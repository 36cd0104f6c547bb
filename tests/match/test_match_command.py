"""The command `match`: statuses, JSON, where tools come from, one line for a fault."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

TOOLS = """\
units = "mm"
[bits."eight"]
diameter = 8
[bushings."fourteen"]
diameter = { nominal = "14 mm", measured = "13.96 mm" }
bore = 11
"""


@pytest.fixture
def tools(here: Path) -> str:
    (here / "tools.toml").write_text(TOOLS, encoding="utf-8")
    return "tools.toml"


def test_match_prints_a_list_of_the_possible(call: Any, tools: str) -> None:
    """--json: one object for the one pair of the file, and the measured size counts: 10 + 13.96 - 8."""
    said = call("match", "--width", "10 mm", "--length", "50 mm", "--tools", tools, "--json")
    assert (said.status, said.err) == (0, "")
    (pair,) = json.loads(said.out)
    assert (pair["bit"], pair["bushing"], pair["possible"]) == ("eight", "fourteen", True)
    assert pair["opening"] == {"width": 15.96, "length": 55.96, "corner_radius": 7.98}


def test_match_is_1_where_none_can(call: Any, tools: str) -> None:
    """Status 1, why, and the nearest cut that could be made."""
    said = call("match", "--width", "6 mm", "--tools", tools)
    assert (said.status, said.err) == (1, "")
    assert "the bit (8 mm) is wider than the cut (6 mm)" in said.out
    assert "The nearest that can be made: a round of 8.1 mm, with eight in fourteen." in said.out


def test_match_json_stays_json_where_none_can(call: Any, tools: str) -> None:
    """The list is empty, the nearest cut goes to stderr; --all lists the impossible pair."""
    said = call("match", "--width", "6 mm", "--tools", tools, "--json")
    assert (said.status, json.loads(said.out)) == (1, [])
    assert said.faults == ["The nearest that can be made: a round of 8.1 mm, with eight in fourteen."]
    every = call("match", "--width", "6 mm", "--tools", tools, "--json", "--all")
    (pair,) = json.loads(every.out)
    assert (pair["possible"], pair["opening"], pair["predicted_cut"], pair["side_play"]) == (False, None, None, None)


@pytest.fixture
def own(here: Path) -> Path:
    """Own bits and bushings in the current folder, a stem among them."""
    (here / "profiles").mkdir()
    text = TOOLS + 'stem = 5\n[bits."nine"]\ndiameter = 9\n'
    (here / "profiles" / "own.toml").write_text(text, encoding="utf-8")
    return here


def test_match_takes_own_tools_alone(call: Any, own: Path) -> None:
    """Who has both kinds is told so in the first line, and gets only those; JSON is the list alone."""
    said = call("match", "--width", "10 mm")
    assert said.out.splitlines()[:2] == [
        "Your own 2 bits and 1 bushing; --shipped adds those that come with the program",
        "2 of 2 pairs can make a round of 10 mm, best first",
    ]
    pairs = json.loads(call("match", "--width", "10 mm", "--json").out)
    assert {(one["bit"], one["bushing"]) for one in pairs} == {("eight", "fourteen"), ("nine", "fourteen")}


def test_match_adds_the_shipped_where_one_kind_is_missing(call: Any, own: Path) -> None:
    """Own bits without a bushing of one's own are looked at among the shipped ones, and nothing is said of it."""
    text = (own / "profiles" / "own.toml").read_text(encoding="utf-8")
    (own / "profiles" / "own.toml").write_text(text.replace('[bushings."fourteen"]', '[bushings."bushing 1/2 in"]'))
    assert call("match", "--width", "10 mm").out.startswith("Your own")
    (own / "profiles" / "own.toml").write_text('[bits."nine"]\ndiameter = "9 mm"\n', encoding="utf-8")
    said = call("match", "--width", "10 mm")
    assert " pairs can make a round of 10 mm" in said.out.splitlines()[0]
    assert "nine" in said.out


def test_match_adds_the_shipped_to_a_tools_file(call: Any, tools: str) -> None:
    """--tools with --shipped: the file's own first, then those that come with the program."""
    alone, more = (
        json.loads(call("match", "--width", "8 mm", "--tools", tools, "--json", *extra).out)
        for extra in ((), ("--shipped",))
    )
    assert {one["bit"] for one in alone} == {"eight"}
    assert {one["bit"] for one in more} > {"eight", "straight 8 mm"}


def test_match_says_once_that_stems_were_not_judged(call: Any, own: Path) -> None:
    """Without --plate and with a known stem a line says what to give; not with it, nor where no stem is known."""
    assert call("match", "--width", "10 mm").out.count("Stems were not judged: give --plate\n") == 1
    assert "Stems" not in call("match", "--width", "10 mm", "--plate", "6 mm").out
    (own / "tools.toml").write_text(TOOLS, encoding="utf-8")
    assert "Stems" not in call("match", "--width", "10 mm", "--tools", "tools.toml").out


def test_match_gives_reasons_in_inches_for_an_inch_width(call: Any, own: Path) -> None:
    """Beside the mm, in brackets with =; the JSON has mm as ever. 3.7, 5 and 8 mm are 0.146, 0.197 and 0.315 in."""
    said = call("match", "--width", "0.5 in", "--plate", "1/4 in", "--all")
    assert "0.146 in (3.7 mm) side play: go round the edge" in " ".join(said.out.split())
    assert "the stem (0.197 in = 5 mm) suits the plate" in " ".join(said.out.split())
    pairs = json.loads(call("match", "--width", "10 mm", "--json").out)
    inch = json.loads(call("match", "--width", "0.5 in", "--json").out)
    assert pairs[0]["reasons"][0] == "1 mm side play: go round the edge to make the width"
    assert inch[0]["reasons"][0] == "3.7 mm side play: go round the edge to make the width"
    small = call("match", "--width", "1/4 in", "--plate", "1/8 in")
    assert "the bit (0.315 in = 8 mm) is wider than the cut (1/4 in = 6.35 mm)" in " ".join(small.out.split())


def test_match_looks_at_all_profiles_with_the_own_first(call: Any, here: Path) -> None:
    """With --shipped: a folder of one's own before what is shipped, where all else is equal."""
    (here / "profiles").mkdir()
    own = TOOLS.replace('"eight"', '"own 10 mm"').replace("= 8", "= 10").replace("bore = 11", "bore = 13.5")
    (here / "profiles" / "own.toml").write_text(own, encoding="utf-8")
    said = call("match", "--width", "10 mm", "--json", "--shipped")
    assert [(one["bit"], one["bushing"]) for one in json.loads(said.out)][:2] == [
        ("own 10 mm", "fourteen"),
        ("straight 10 mm", "fourteen"),
    ]


@pytest.mark.parametrize(
    ("options", "line"),
    [
        (["--width", "12,7 mm"], '--width: "12,7 mm" is not a length (write 12.7 mm)'),
        (["--width", "10"], '--width: "10" is not a length (the unit is missing; write 10 mm or 10 in)'),
        (["--width", "0 mm"], '--width: "0 mm" is not a size (write a length greater than 0)'),
        (["--width", "1 mm", "--stand-off", "-1 mm"], '--stand-off: "-1 mm" is not a size (write 0 or more)'),
        (
            ["--width", "10001 mm"],
            '--width: "10001 mm" is too large (at most 10000 mm; is the unit right?)',
        ),
        (
            ["--width", "10 mm", "--length", "9 mm"],
            '--length: "9 mm" is shorter than the width, "10 mm" (exchange them, or give --corner-radius for a '
            "rectangle)",
        ),
        (
            ["--width", "10 mm", "--corner-radius", "2 mm"],
            "--corner-radius: a rectangle needs its length as well (add --length)",
        ),
        (
            ["--width", "10 mm", "--length", "9 mm", "--corner-radius", "5 mm"],
            '--corner-radius: "5 mm" is more than half the shorter side (write at most 4.5 mm, or leave it out for '
            "round ends)",
        ),
        (
            ["--width", "1 in", "--length", "17/24 in", "--corner-radius", "1/2 in"],  # half of it is 0.35416… in
            '--corner-radius: "1/2 in" is more than half the shorter side (write at most 0.3541 in, or leave it out '
            "for round ends)",
        ),
        (["--width", "10 mm", "--tools", "none.toml"], "none.toml: there is no such file"),
    ],
)
def test_match_refuses_what_is_no_cut(call: Any, options: list[str], line: str) -> None:
    """Status 2, nothing on stdout, one line that says what to write."""
    said = call("match", *options)
    assert (said.status, said.out, said.faults) == (2, "", [line])


def test_match_says_all_faults_at_once(call: Any) -> None:
    """A line for each option that will not do, and none for what depends on them."""
    said = call("match", "--width", "ten", "--depth", "0 mm", "--clearance", "nan", "--corner-radius", "1 mm")
    assert said.status == 2
    assert [line.split(":")[0] for line in said.faults] == ["--width", "--depth", "--clearance"]


def test_match_takes_corners_of_a_square(call: Any, tools: str) -> None:
    """A rectangle may be as long as wide, and wider than long."""
    square = ["--width", "30 mm", "--length", "20 mm", "--corner-radius", "4 mm"]
    assert call("match", *square, "--tools", tools).status == 0


def test_faults_of_a_tools_file_are_all_said(call: Any, here: Path) -> None:
    """A wrong bit and a wrong bushing, each with file, line and entry; an empty kind by its name."""
    bad = TOOLS.replace("= 8", '= "8,5 mm"').replace("bore = 11", "bore = 20")
    (here / "bad.toml").write_text(bad, encoding="utf-8")
    said = call("match", "--width", "10 mm", "--tools", "bad.toml")
    assert said.status == 2
    assert [line[:27] for line in said.faults] == ["bad.toml:3: bits.eight.diam", "bad.toml:6: bushings.fourte"]
    (here / "bits.toml").write_text(TOOLS[: TOOLS.index("[bushings")], encoding="utf-8")
    said = call("match", "--width", "10 mm", "--tools", "bits.toml")
    assert (said.status, said.faults) == (2, ['bits.toml: no bushings in this file (write [bushings."NAME"])'])


def test_match_needs_no_geometry() -> None:
    """The command loads neither shapely nor numpy: it answers in the time of its imports."""
    code = (
        "import sys; from jigtemplates.cli import run; run(['match', '--width', '10 mm', '--json']); "
        "print(sorted({'shapely', 'numpy', 'ezdxf', 'reportlab', 'pint'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", timeout=60, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


SHOP = """\
units = "mm"
[bits."straight 6"]
diameter = { nominal = 6, measured = 5.9 }
shank = 8
cutting_length = 20
[bits."long 6"]
diameter = { nominal = 6, measured = 5.95 }
shank = 8
cutting_length = 32
[bits."spiral 8"]
diameter = 8
shank = 8
cutting_length = 32
[bits."big 12"]
diameter = { nominal = 12, measured = 12.04 }
shank = 8
cutting_length = 40
[bushings."g 14"]
diameter = 14
bore = 12.1
stem = 5
[bushings."g 18"]
diameter = 18
bore = 16
stem = 12
"""


def test_tenons_are_offered_of_bits_that_make_the_mortise(call: Any, here: Path) -> None:
    """A bit too short for the depth, and one that only a bushing with too long a stem lets through, are not offered."""
    (here / "shop.toml").write_text(SHOP, encoding="utf-8")
    ask = ("match", "--width", "10 mm", "--length", "50 mm", "--tools", "shop.toml")
    head = "Tenons that suit a bit exactly, width in one pass (thickness = bit + clearance 0.1 mm - fit 0.1 mm):"
    lines = call(*ask, "--depth", "28 mm", "--plate", "6 mm").out.splitlines()
    assert lines[lines.index(head) + 1 :] == [
        "  8 mm thick with spiral 8, mortise 8.1 mm wide",
        "  5.95 mm thick with long 6, mortise 6.05 mm wide",
    ]
    shallow = call(*ask, "--depth", "20 mm", "--plate", "6 mm", "--stand-off", "7 mm").out.splitlines()
    assert shallow[shallow.index(head) + 1 :] == [
        "  8 mm thick with spiral 8, mortise 8.1 mm wide",
        "  12.04 mm thick with big 12, mortise 12.14 mm wide",
        "  5.95 mm thick with long 6, mortise 6.05 mm wide",
        "  5.9 mm thick with straight 6, mortise 6 mm wide",
    ]
    unsaid = call(*ask).out.splitlines()
    assert len(unsaid[unsaid.index(head) + 1 :]) == 4
