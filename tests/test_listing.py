"""`jigtemplates profiles`: kinds, names and entries, where each came from, as text and as JSON."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.listing import print_profiles

Call = Callable[..., Any]

OWN = """\
units = "mm"
[bits."my spiral"]
diameter = 9.51
kind = "up-spiral"
plunging = true
note = "measured\\nin May"
[bushings."mine"]
diameter = "1/2 in"
[screws."odd"]
diameter = 5
clearance = { fine = 5.3, medium = 5.5, coarse = 5.8 }
[holders."frame"]
width = 150
height = 100
play = 0.5
stand_off = 12
screws = { pattern = "points", size = "M4", points = [[10, 20], [30, 40]] }
"""

PAPER = """\
units = "mm"
[papers.a4]
width = 210
height = 290
margin = 10
foot = 15
overlap = 12
"""


@pytest.fixture
def own(here: Path) -> Path:
    """A folder of somebody's own profiles."""
    (here / "own").mkdir()
    (here / "own" / "mine.toml").write_text(OWN, encoding="utf-8")
    return here / "own"


def test_the_kinds_are_counted(call: Call, here: Path) -> None:
    """Without KIND: the seven kinds with their numbers, and that only the shipped ones are searched."""
    said = call("profiles")
    assert (said.status, said.err) == (0, "")
    lines = said.out.splitlines()
    kinds = ["bits", "bushings", "sheets", "screws", "processes", "papers", "holders"]
    assert [line.split()[0] for line in lines[:7]] == kinds
    assert lines[4].split() == ["processes", "4"]  # laser, cnc, paper, print
    assert lines[-1] == "searched, the first wins: those shipped"


def test_the_searched_folders_are_named(call: Call, own: Path) -> None:
    """Profiles beside the jobs of this folder, the folder given, the person's own, then the shipped ones."""
    (own.parent / "profiles").mkdir()
    (own.parent.parent / "home" / "profiles").mkdir()
    last = call("profiles", "--profiles", "own").out.splitlines()[-1]
    home = own.parent.parent / "home" / "profiles"
    assert last == f"searched, the first wins: profiles, own, {home}, those shipped"


def test_the_kinds_as_json(call: Call, own: Path) -> None:
    """An object of numbers; an entry of one's own adds one."""
    alone, more = (json.loads(call("profiles", "--json", *o).out) for o in ((), ("--profiles", "own")))
    assert more == {**alone, "bits": alone["bits"] + 1, "bushings": alone["bushings"] + 1,
                    "screws": alone["screws"] + 1, "holders": alone["holders"] + 1}  # fmt: skip


def test_the_entries_of_a_kind(call: Call, own: Path) -> None:
    """Name, sizes as written and origin in columns; one's own first."""
    lines = call("profiles", "bits", "--profiles", "own").out.splitlines()
    assert lines[0].split("  ")[0] == "my spiral"
    assert "diameter 9.51" in lines[0]
    assert lines[0].endswith("own/mine.toml")
    assert lines[1].endswith("  shipped")
    assert len({line.rindex("  ") for line in lines}) == 1  # the last column is straight


def test_an_entry_of_ones_own_hides_the_shipped_one(call: Call, own: Path) -> None:
    """The same name in the nearer folder: listed once, from there."""
    (own / "papers.toml").write_text(PAPER, encoding="utf-8")
    found = json.loads(call("profiles", "papers", "--json", "--profiles", "own").out)
    assert [(one["origin"], one["height"]["mm"]) for one in found if one["name"] == "a4"] == [
        ("own/papers.toml", 290.0)
    ]


def test_one_entry(call: Call, own: Path) -> None:
    """All that is known of it, a key a line, yes for true; what is not known is left out."""
    said = call("profiles", "bits", "my spiral", "--profiles", "own")
    lines = [" ".join(line.split()) for line in said.out.splitlines()]
    assert lines[0] == "my spiral (own/mine.toml)"
    assert sorted(lines[1:]) == ["diameter 9.51 mm", "in May", "kind up-spiral", "note measured", "plunging yes"]
    assert "\n            in May\n" in said.out + "\n"  # under the first line of the note


def test_tables_and_lists_of_an_entry_are_flat(call: Call, own: Path) -> None:
    """A table within an entry shows its keys with dots, a list its parts with commas."""
    said = call("profiles", "holders", "frame", "--profiles", "own").out
    assert "screws.size" in said
    assert "10 mm, 20 mm, 30 mm, 40 mm" in said
    screw = call("profiles", "screws", "odd", "--profiles", "own").out
    assert "clearance.medium  5.5 mm" in screw or "medium 5.5 mm" in screw
    assert "laser" in call("profiles", "processes", "laser").out


def test_one_entry_as_json(call: Call, own: Path) -> None:
    """A list of one object: name, origin, and every length as written and in mm."""
    [found] = json.loads(call("profiles", "bushings", "mine", "--json", "--profiles", "own").out)
    assert (found["name"], found["origin"]) == ("mine", "own/mine.toml")
    assert found["diameter"] == {"text": "1/2 in", "mm": 12.7}


@pytest.mark.parametrize("kind", ["bits", "bushings", "sheets", "screws", "processes", "papers", "holders"])
def test_every_shipped_entry_can_be_shown(call: Call, here: Path, kind: str) -> None:
    """Each shipped entry, shown alone: status 0, its name and that it was shipped on the first line."""
    for one in json.loads(call("profiles", kind, "--json").out):
        said = call("profiles", kind, one["name"])
        assert (said.status, said.out.splitlines()[0]) == (0, f"{one['name']}  (shipped)")
        assert "{" not in said.out
        assert "Length(" not in said.out


@pytest.mark.parametrize(
    ("args", "line"),
    [
        (("bit",), 'profiles: "bit" is not a kind of profile (did you mean "bits"?)'),
        (("zzz",), 'profiles: "zzz" is not a kind of profile (known: "bits", "bushings", "sheets", "screws", '),
        (("papers", "lettr"), '"lettr" is not among the papers (did you mean "letter"?'),
        (("bits", "x", "y"), "Got unexpected extra argument"),
        (("--profiles", "nowhere"), "nowhere: there is no such folder"),
    ],
)
def test_an_unknown_kind_or_name_is_one_line(call: Call, here: Path, args: tuple[str, ...], line: str) -> None:
    """Status 2, one line with the nearest known word, nothing on stdout."""
    said = call("profiles", *args)
    assert (said.status, said.out, len(said.faults)) == (2, "", 1)
    assert said.err.startswith(line)


def test_faults_of_a_profile_file_are_lines(call: Call, own: Path) -> None:
    """Two faults in two files: two lines with file, line and key; status 2."""
    (own / "a.toml").write_text("frob = 1\n", encoding="utf-8")
    (own / "b.toml").write_text("[bits.x]\ndiameter = 5\n", encoding="utf-8")
    said = call("profiles", "bits", "--profiles", "own")
    assert (said.status, said.out, len(said.faults)) == (2, "", 2)
    assert said.faults[0].startswith('own/a.toml:1: unknown key "frob"')
    assert said.faults[1].startswith("own/b.toml:2: bits.x.diameter: ")


def test_a_kind_without_entries_prints_nothing(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """No entries are an empty line or an empty list, no fault."""
    monkeypatch.setattr("jigtemplates.profiles.Profiles.entries", lambda *_: ())
    print_profiles("bits", None, None, as_json=False)
    print_profiles("bits", None, None, as_json=True)
    assert capsys.readouterr().out == "\n[]\n"
