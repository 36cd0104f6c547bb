"""`jigtemplates tools`: a person's own tools, shown with what is unknown, added, changed and removed one by one."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

TOOLS = """\
# my drawer
units = "mm"

[bits."worn 3/8"]  # sharpened
diameter = { nominal = "3/8 in", measured = "9.48 mm", within = 0.01 }
shank = 8
plunging = false

[bushings.brass]
diameter = 17
nut = { diameter = 30, height = 5 }

[routers."the big one"]
base = { shape = "rectangle", width = 160, depth = 140 }
collets = [8, "1/4 in"]
"""


@pytest.fixture
def drawer(here: Path) -> Path:
    """A tools file in the folder of the jobs."""
    path = here / "drawer.toml"
    path.write_text(TOOLS, encoding="utf-8")
    return path


def test_all_that_is_known_and_what_is_not(call: Call, drawer: Path) -> None:
    """Each entry with every size it has, both sizes of a measured one, and the names of those it has not."""
    said = call("tools", "drawer.toml")
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines() == [
        "bits",
        "  worn 3/8  (drawer.toml)",
        "    diameter  3/8 in nominal, measured 9.48 mm ± 0.01 mm",
        "    shank     8 mm",
        "    plunging  no",
        "    not known: cutting_length, overall_length, kind",
        "bushings",
        "  brass  (drawer.toml)",
        "    diameter      17 mm",
        "    nut.diameter  30 mm",
        "    nut.height    5 mm",
        "    not known: bore, stem",
        "routers",
        "  the big one  (drawer.toml)",
        "    base.shape  rectangle",
        "    base.width  160 mm",
        "    base.depth  140 mm",
        "    collets     8 mm, 1/4 in",
        "    not known: base_hole, travel, collet_to_base, nut_diameter",
    ]


def test_json(call: Call, drawer: Path) -> None:
    """One object with a list for each kind; of a measured size the one computed with and the nominal one."""
    found = json.loads(call("tools", "drawer.toml", "--json").out)
    assert {kind: len(entries) for kind, entries in found.items() if entries} == {
        "bits": 1,
        "bushings": 1,
        "routers": 1,
    }
    assert found["bits"][0]["name"] == "worn 3/8"
    assert found["bits"][0]["diameter"] == {
        "text": "9.48 mm", "mm": 9.48, "used": "measured", "nominal": {"text": "3/8 in", "mm": 9.525},
        "within": {"text": "0.01 mm", "mm": 0.01},
    }  # fmt: skip


def test_without_a_file_what_a_job_here_sees(call: Call, drawer: Path) -> None:
    """profiles/ in this folder, the folder given, the person's own, in this order; nothing shipped, no name twice."""
    for folder, bits in (("profiles", "abc"), ("more", "cd"), ("../home/profiles", "de")):
        (drawer.parent / folder).mkdir()
        text = "\n".join(f'[bits.{name}]\ndiameter = "3 mm"' for name in bits)
        (drawer.parent / folder / "x.toml").write_text(text)
    names = [line.split()[0] for line in call("tools", "--profiles", "more").out.splitlines() if line.endswith(")")]
    assert names == ["a", "b", "c", "d", "e"]


def test_nothing_yet(call: Call, here: Path) -> None:
    """Who has no tools yet is told how to begin; status 0."""
    said = call("tools")
    assert said == (
        0,
        'no tools of your own are here yet; to begin: jigtemplates tools add bits NAME diameter="3/8 in"\n',
        "",
    )
    assert json.loads(call("tools", "--json").out)["bits"] == []


def test_every_fault_of_a_file_is_named(call: Call, drawer: Path) -> None:
    """Faults in entries of two kinds are lines with file, line and entry; status 2, nothing on stdout."""
    drawer.write_text(TOOLS.replace("shank = 8", 'shank = "8,1"').replace("height = 5", "hight = 5"), encoding="utf-8")
    said = call("tools", "drawer.toml")
    assert (said.status, said.out) == (2, "")
    assert said.faults == [
        'drawer.toml:6: bits.worn 3/8.shank: "8,1" is not a length (write 8.1)',
        "drawer.toml:11: bushings.brass.nut.height: is missing (how far the nut rises above the face of the base)",
        'drawer.toml:11: bushings.brass.nut: unknown key "hight" (did you mean "height"?)',
    ]


def test_a_file_that_is_not_there(call: Call, here: Path) -> None:
    """One line, status 2."""
    assert call("tools", "nowhere.toml") == (2, "", "nowhere.toml: there is no such file\n")


def test_add_begins_a_file(call: Call, here: Path) -> None:
    """The first tool makes profiles/tools.toml, where every job of this folder finds it; what is open is said."""
    said = call("tools", "add", "bits", "my 3/8", "diameter=3/8 in", "shank=1/4 in", "kind=straight")
    assert said == (
        0,
        'added "my 3/8" to profiles/tools.toml: diameter 3/8 in, shank 1/4 in\n'
        "  not known yet: cutting_length, overall_length, plunging\n"
        '  the file is new: numbers you write into it without a unit are inches (units = "in")\n',
        "",
    )
    assert sorted(p.name for p in (here / "profiles").iterdir()) == ["tools.toml"]
    assert "my 3/8" in call("profiles", "bits").out


def test_add_keeps_what_is_there(call: Call, drawer: Path) -> None:
    """Everything in the file stays, byte for byte; the new entry is below it."""
    before = drawer.read_bytes()
    said = call(
        "tools", "add", "holders", "frame", "width=100 mm", "height=90 mm", "play=0.3 mm", "--file", "drawer.toml"
    )
    assert said.status == 0
    assert drawer.read_bytes() == before + b'\n[holders.frame]\nwidth = "100 mm"\nheight = "90 mm"\nplay = "0.3 mm"\n'


def test_add_says_nothing_is_unknown_of_a_whole_entry(call: Call, drawer: Path) -> None:
    """An entry with every size has no line about open ones."""
    pairs = ("diameter=17 mm", "bore=14 mm", "stem=5 mm", "nut.diameter=30 mm", "nut.height=5 mm")
    said = call("tools", "add", "bushings", "b", *pairs, "--file", "drawer.toml")
    assert said.out == 'added "b" to drawer.toml: diameter 17 mm, bore 14 mm, stem 5 mm\n'


@pytest.mark.parametrize(
    ("args", "lines"),
    [
        (
            ("bits", "worn 3/8", "diameter=9 mm"),
            [
                "drawer.toml:4: bits.worn 3/8: is there already (use another name, or change it: jigtemplates tools "
                'change bits "worn 3/8" KEY=VALUE --file drawer.toml)'
            ],
        ),
        (
            ("bits", "new", "diameter=9,5", "shanc=3"),
            [
                'tools add: bits.new.diameter: "9,5" is not a length (write 9.5)',
                'tools add: bits.new: unknown key "shanc" (did you mean "shank"?)',
            ],
        ),
        (("bits", "new", "diameter"), ['tools add: "diameter" is not KEY=VALUE (such as diameter="3/8 in")']),
        (("bit", "new", "diameter=9"), ['tools add: "bit" is not a kind of tool (did you mean "bits"?)']),
        (
            ("bits", "diameter=8 mm"),
            ['tools add: the name is missing (it stands before the keys: tools add bits NAME diameter="8 mm")'],
        ),
        (
            ("bits", "new", "diameter=3/8", "shank=1-1/2"),
            [
                "tools add: diameter=3/8, shank=1-1/2: lengths need their unit "
                '(write diameter="3/8 in" shank="1-1/2 in")',
            ],
        ),
        (("bits", "", "diameter=3"), ['tools add: the name is empty (such as: tools add bits "my own" ...)']),
        (("bits",), ["Missing argument 'NAME' (see: jigtemplates tools add --help)"]),
    ],
)
def test_add_writes_nothing_on_a_fault(call: Call, drawer: Path, args: tuple[str, ...], lines: list[str]) -> None:
    """Each fault is a line, status 2, and the file is as it was."""
    said = call("tools", "add", *args, "--file", "drawer.toml")
    assert (said.status, said.out, said.faults) == (2, "", lines)
    assert drawer.read_text(encoding="utf-8") == TOOLS
    assert not (drawer.parent / "profiles").exists()


def test_add_reads_no_bare_number(call: Call, here: Path) -> None:
    """As every other command: bore and stem without a unit are refused in one line, and nothing is begun."""
    assert call("tools", "add", "bushings", "t", "diameter=1/2 in", "bore=0.406", "stem=0.219") == (
        2,
        "",
        'tools add: bore=0.406, stem=0.219: lengths need their unit (write bore="0.406 in" stem="0.219 in", or '
        'bore="0.406 mm" stem="0.219 mm")\n',
    )
    assert not (here / "profiles").exists()
    (here / "inch.toml").write_text('units = "in"\n')
    assert call("tools", "add", "bits", "b", "diameter=3/8", "--file", "inch.toml").status == 2


def test_units_of_a_new_file(call: Call, here: Path) -> None:
    """--units decides how a file that is begun reads numbers, and is refused for one that says otherwise."""
    begun = call("tools", "add", "bits", "a", "diameter=8 mm", "--units", "in")
    assert begun.out.endswith('numbers you write into it without a unit are inches (units = "in")\n')
    assert 'units = "in"\n' in (here / "profiles" / "tools.toml").read_text(encoding="utf-8")
    assert call("tools", "add", "bits", "b", "diameter=8 mm", "--units", "mm").err == (
        "--units: profiles/tools.toml is there already and stays as it is (leave --units out)\n"
    )
    metric = call("tools", "add", "bits", "a", "diameter=8 mm", "--file", "metric.toml")
    assert metric.out.endswith('numbers you write into it without a unit are millimetres (units = "mm")\n')


def test_what_a_holder_still_needs(call: Call, drawer: Path) -> None:
    """What `holder` refuses to do without is told apart from what is merely not known."""
    sizes = ("width=6 in", "height=6 in", "play=0.01 in")
    said = call("tools", "add", "holders", "frame", *sizes, "depth=1/4 in", "--file", "drawer.toml")
    assert said.out.splitlines()[1:] == [
        "  not known yet: ledge, screws, insert, joining",
        "  still needed to make the holder itself (jigtemplates holder): corner_radius, window or ledge, "
        "ledge_thickness, frame",
    ]
    rest = ("corner_radius=1/2 in", "ledge=1/4 in", "ledge_thickness=1/4 in", "frame=2 in")
    assert call("tools", "change", "holders", "frame", *rest, "--file", "drawer.toml").status == 0
    again = call("tools", "add", "holders", "other", *sizes, "depth=1/4 in", *rest, "--file", "drawer.toml")
    assert "needed" not in again.out


def test_change(call: Call, drawer: Path) -> None:
    """Each key with what it was; the rest of the file stays byte for byte; the same again changes nothing."""
    args = ("tools", "change", "bushings", "brass", "stem=5 mm", "diameter.measured=16.9 mm", "--file", "drawer.toml")
    assert call(*args, "--without", "nut") == (
        0,
        'changed "brass" in drawer.toml:\n'
        "  diameter      17 mm nominal, measured 16.9 mm (was 17 mm)\n"
        "  stem          5 mm (was not known)\n"
        "  nut.diameter  taken out (was 30 mm)\n"
        "  nut.height    taken out (was 5 mm)\n",
        "",
    )
    old = "diameter = 17\nnut = { diameter = 30, height = 5 }\n"
    new = 'diameter = { nominal = 17, measured = "16.9 mm" }\nstem = "5 mm"\n'
    assert drawer.read_text(encoding="utf-8") == TOOLS.replace(old, new)
    assert call(*args).out == 'nothing to change in "brass" in drawer.toml: it is so already\n'


def test_change_names_every_fault(call: Call, drawer: Path) -> None:
    """As `add` reads them: a line for all without a unit, one for each other fault; the file stays."""
    said = call("tools", "change", "bits", "worn 3/8", "shank=0.25", "shanc=3", "--file", "drawer.toml")
    assert (said.status, said.out, said.faults) == (
        2,
        "",
        [
            'tools change: shank=0.25: a length needs its unit (write shank="0.25 in", or shank="0.25 mm")',
            'tools change: bits.worn 3/8: unknown key "shanc" (did you mean "shank"?)',
        ],
    )
    assert call("tools", "change", "bits", "worn 3/8", "shank", "--file", "drawer.toml").err == (
        'tools change: "shank" is not KEY=VALUE (such as diameter="3/8 in")\n'
    )
    assert call("tools", "change", "bits", "new", "shank=3 mm").err == (
        "profiles/tools.toml: there is no such file (the folder profiles is not there)\n"
    )
    assert drawer.read_text(encoding="utf-8") == TOOLS


def test_remove(call: Call, drawer: Path) -> None:
    """The entry's lines go, all else stays; the other names are suggested for one that is not there."""
    assert call("tools", "remove", "bushings", "brass", "--file", "drawer.toml") == (
        0,
        'removed "brass" from drawer.toml\n',
        "",
    )
    gone = "[bushings.brass]\ndiameter = 17\nnut = { diameter = 30, height = 5 }\n\n"
    assert drawer.read_text(encoding="utf-8") == TOOLS.replace(gone, "")
    assert sorted(p.name for p in drawer.parent.iterdir()) == ["drawer.toml"]
    assert call("tools", "remove", "bits", "worn 3-8", "--file", "drawer.toml") == (
        2,
        "",
        'drawer.toml: bits: "worn 3-8" is not in this file (did you mean "worn 3/8"?)\n',
    )


def test_add_and_remove_undo_each_other(call: Call, here: Path) -> None:
    """Without --file both work on profiles/tools.toml, which is then as if it had just been begun."""
    call("tools", "add", "bits", "a", "diameter=3 mm")
    begun = (here / "profiles" / "tools.toml").read_text(encoding="utf-8").partition("\n[bits")[0]
    assert call("tools", "remove", "bits", "a").status == 0
    assert (here / "profiles" / "tools.toml").read_text(encoding="utf-8") == begun
    assert call("tools").out.startswith("no tools of your own are here yet")


def test_add_where_nothing_can_be_written(call: Call, here: Path) -> None:
    """A place that cannot be a folder is one line, status 2."""
    (here / "profiles").write_text("x")
    said = call("tools", "add", "bits", "b", "diameter=3 mm")
    assert (said.status, len(said.faults), said.out) == (2, 1, "")
    assert said.faults[0].startswith("profiles")


def test_help(call: Call, here: Path) -> None:
    """The command's own help, and that of adding, are reached as anywhere."""
    assert "tools add" in call("tools", "--help").out
    assert "diameter.measured" in call("tools", "add", "-h").out


def test_a_tools_file_comes_before_all_profiles(call: Call, rail: Path, drawer: Path) -> None:
    """`--tools FILE`: a name in it wins over the profiles beside the job; check and make know it."""
    (rail.parent / "profiles").mkdir()
    (rail.parent / "profiles" / "x.toml").write_text('[bits."worn 3/8"]\ndiameter = "9 mm"\n')
    rail.write_text(rail.read_text(encoding="utf-8").replace('"3/8 in"', '"worn 3/8"'), encoding="utf-8")
    assert "worn 3/8 (9 mm" in call("check", "rail.toml").out
    assert (
        "worn 3/8 (3/8 in nominal, measured 9.48 mm ± 0.01 mm)"
        in call("check", "rail.toml", "--tools", "drawer.toml").out
    )
    assert call("make", "rail.toml", "--tools", "drawer.toml", "--for", "cnc", "--json").status == 0
    made = json.loads((rail.parent / "templates" / "rail" / "rail.json").read_text(encoding="utf-8"))
    assert made["job"]["tools"]["bit"]["diameter"]["mm"] == 9.48
    assert made["job"]["tools"]["bit"]["origin"] == "drawer.toml"


def test_a_tools_file_that_is_not_there(call: Call, rail: Path) -> None:
    """One line for all jobs, and how to begin a file; status 2."""
    said = call("make", "rail.toml", "--tools", "nowhere.toml")
    assert said == (
        2,
        "",
        "nowhere.toml: there is no such file (to begin one: jigtemplates tools add --help)\n",
    )


def test_routers_among_the_profiles(call: Call, here: Path) -> None:
    """`profiles routers` shows each base in its line; the shipped ones say that they are invented."""
    out = call("profiles", "routers").out
    assert "base shape round diameter 150 mm, base_hole 40 mm, travel 60 mm" in out
    assert out.count("shipped") == 3
    assert "invented: measure your own" in call("profiles", "routers", "generic mid-size plunge").out
