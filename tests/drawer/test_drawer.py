"""The drawer: what was made, whether it still agrees, and what an opening cuts with another pair."""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawer import Tool, cut_by
from jigtemplates.geometry.outline import Outline, Point, Region
from jigtemplates.geometry.shapes import rectangle, round_hole, slot
from jigtemplates.manifest import content_hash
from jigtemplates.rings import plain_rings, regions_of

Call = Callable[..., Any]

TOOLS = 'units = "mm"\n[bits."mine"]\ndiameter = 9\n[bushings."narrow"]\ndiameter = 13\nbore = 9\n'


@pytest.fixture
def made(rail: Path, call: Call) -> Path:
    """The plan's job, made for a CNC router; the folder of templates."""
    assert call("make", "rail.toml", "--for", "cnc").status == 0
    return rail.parent / "templates"


def listed(call: Call, *args: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(call("drawer", "templates", *args, "--json").out)
    return found


def asked(call: Call, opening: str, bit: str, bushing: str, *more: str) -> Any:
    return call("drawer", "--opening", opening, "--with-bit", bit, "--with-bushing", bushing, *more)


def test_the_list(made: Path, call: Call) -> None:
    """Name, pair, cut, plate, and that files and job agree."""
    assert call("drawer", "templates") == (
        0,
        "1 template\n"
        "  name  pair             cut         plate               files and job\n"
        "  rail  3/8 in + 1/2 in  10 x 50 mm  140 x 140 mm, 6 mm  ok\n",
        "",
    )
    assert listed(call) == [
        {
            "name": "rail",
            "title": "Bench rail, 10 x 50",
            "bit": "3/8 in",
            "bushing": "1/2 in",
            "cut": {"width": 10.0, "length": 50.0},
            "plate": {"width": 140.0, "height": 140.0, "thickness": 6.0},
            "state": ["ok"],
            "changed_files": [],
            "older_files": [],
        }
    ]


def test_a_job_in_inches_is_shown_in_inches(made: Path, call: Call) -> None:
    """Cut, plate and what another bit would cut: 1/16 in less bit makes a slot as much narrower and shorter."""
    (made.parent / "rail.toml").unlink()
    for name, head in (("named", 'units = "in"\n'), ("written", "")):
        tables = """
            title = "Slat"
            cut = { shape = "slot", width = "1/2 in", length = "2 in", depth = "3/4 in" }
            tools = { bit = "3/8 in", bushing = "5/8 in", clearance = "0.004 in" }
            plate = { width = "6 in", height = "5 in", thickness = "1/4 in" }
            make = { for = ["cnc"] }
        """
        (made.parent / f"{name}.toml").write_text(head + tables, encoding="utf-8")
    assert call("make", "named.toml", "written.toml").status == 0
    lines = call("drawer", "templates", "--with-bit", "5/16 in").out.splitlines()
    row = "3/8 in + 5/8 in  1/2 x 2 in  7/16 x 1-15/16 in  -1/16 in wide, -1/16 in long"
    for name in ("named", "written"):
        (said,) = [line for line in lines if line.startswith(f"  {name} ")]
        assert " ".join(said.split()) == " ".join(f"{name} {row} 6 x 5 in, 1/4 in ok".split())


def test_a_changed_file(made: Path, call: Call) -> None:
    """A drawing somebody has edited, and one that is gone, are named."""
    (made / "rail" / "rail_cnc.svg").write_bytes(b"mine")
    (made / "rail" / "rail_cnc_mm.dxf").unlink()
    (one,) = listed(call)
    assert (one["state"], one["changed_files"]) == (["files changed"], ["rail_cnc_mm.dxf", "rail_cnc.svg"])
    assert "  rail: changed or gone: rail_cnc_mm.dxf, rail_cnc.svg\n" in call("drawer", "templates").out


def test_files_of_an_earlier_make(made: Path, call: Call) -> None:
    """A laser's file from before its kerf was measured is named, in the row and below the table; notes of one's own
    are not.
    """
    for name in ("rail_laser_in.dxf", "rail_laser.svg", "rail_laser_fit.svg", "rail.txt"):
        (made / "rail" / name).write_bytes(b"old")
    (one,) = listed(call)
    assert (one["state"], one["older_files"]) == (["older files"], ["rail_laser.svg", "rail_laser_in.dxf"])
    assert call("drawer", "templates").out.splitlines()[-2:] == [
        "  rail  3/8 in + 1/2 in  10 x 50 mm  140 x 140 mm, 6 mm  older files",
        "  rail: made earlier and not renewed since, so perhaps no longer right: rail_laser.svg, rail_laser_in.dxf; "
        "delete them",
    ]


def test_a_changed_job(made: Path, call: Call) -> None:
    """A job that asks for something else now; with a file changed as well, both are said. A comment is no change."""
    job = made.parent / "rail.toml"
    job.write_text("# a comment\n" + job.read_text(encoding="utf-8"), encoding="utf-8")
    assert listed(call)[0]["state"] == ["ok"]
    job.write_text(job.read_text(encoding="utf-8").replace("width  = 10", "width  = 11"), encoding="utf-8")
    (made / "rail" / "rail_cnc.svg").unlink()
    assert listed(call)[0]["state"] == ["files changed", "job or its tools changed"]


def test_where_the_job_is_looked_for(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """Here, beside the folder of templates, one folder below either, or in --jobs alone; else it is not found."""
    here = made.parent
    (here / "elsewhere").mkdir()
    monkeypatch.chdir(here / "elsewhere")
    assert json.loads(call("drawer", "../templates", "--json").out)[0]["state"] == ["ok"]
    (here / "rail.toml").rename(here / "elsewhere" / "rail.toml")
    assert json.loads(call("drawer", "../templates", "--json").out)[0]["state"] == ["ok"]
    monkeypatch.chdir(here)
    assert listed(call)[0]["state"] == ["ok"]
    (here / "elsewhere" / "deep").mkdir()
    (here / "elsewhere" / "rail.toml").rename(here / "elsewhere" / "deep" / "rail.toml")
    assert listed(call)[0]["state"] == ["job not found"]
    assert call("drawer", "templates").out.endswith("\n  job not found: say where the job files are, with --jobs DIR\n")
    assert listed(call, "--jobs", "elsewhere/deep")[0]["state"] == ["ok"]


def test_a_size_that_is_no_longer_in_its_file(made: Path, call: Call) -> None:
    """The file is there, but no job of this name in it."""
    job = made.parent / "rail.toml"
    text = (
        job.read_text(encoding="utf-8").replace("width  = 10\n", "").replace("[tools]", "[cuts.a]\nwidth = 10\n[tools]")
    )
    job.write_text(text, encoding="utf-8")
    assert listed(call)[0]["state"] == ["no longer in its job"]
    call("make", "rail.toml")
    found = [(one["name"], one["state"]) for one in listed(call)]
    assert found == [("rail", ["no longer in its job"]), ("rail-a", ["ok"])]


def test_a_job_from_text_has_no_file(made: Path, call: Call) -> None:
    """A template whose manifest names no job file: not found."""
    path = made / "rail" / "rail.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    data["job"]["file"] = None
    data["sha256"] = content_hash(data)
    path.write_text(json.dumps(data), encoding="utf-8")
    assert listed(call)[0]["state"] == ["job not found"]


def test_made_with_profiles_that_were_given(here: Path, rail: Path, call: Call) -> None:
    """The job is read with the same ones again, so that it agrees; where they are gone, a line says what to give."""
    (here / "shop").mkdir()
    (here / "shop" / "own.toml").write_text('units = "mm"\n[bits.eight]\ndiameter = 7.98\n', encoding="utf-8")
    rail.write_text(rail.read_text(encoding="utf-8").replace('"3/8 in" ', '"eight"'), encoding="utf-8")
    assert call("make", "rail.toml", "--for", "cnc", "--profiles", "shop").status == 0
    assert listed(call)[0]["state"] == ["ok"]
    (here / "shop").rename(here / "away")
    said = call("drawer", "templates")
    assert (said.status, said.faults) == (
        2,
        [
            "rail.toml: its template was made with --profiles shop, which is not found from here (give --profiles DIR: "
            "where it is now, or another one)"
        ],
    )
    assert listed(call, "--profiles", "away")[0]["state"] == ["ok"]


def test_a_job_that_cannot_be_read(made: Path, call: Call) -> None:
    """It is said in the table and in a line, status 2; the template is listed."""
    (made.parent / "rail.toml").write_text("width = \n", encoding="utf-8")
    said = call("drawer", "templates")
    assert (said.status, len(said.faults)) == (2, 1)
    assert said.faults[0].startswith("rail.toml:1: column 9: ")
    assert said.out.splitlines()[2].endswith("  job cannot be read")


def test_with_another_pair(made: Path, call: Call) -> None:
    """The opening of 13.175 mm with 9 mm in 12 mm cuts 10.175 mm: 3 mm less than the opening is wide."""
    (one,) = listed(call, "--with-bit", "9 mm", "--with-bushing", "12 mm")
    assert one["with_other_tools"] == {
        "width": 10.175, "length": 50.175, "corner_radius": 5.0875, "wider": 0.175, "longer": 0.175,
        "side_play": 1.175, "reason": None,
    }  # fmt: skip
    out = call("drawer", "templates", "--with-bit", "9 mm", "--with-bushing", "12 mm").out
    assert out.startswith("1 template; with bit 9 mm and bushing 12 mm:\n")
    assert "  10.175 x 50.175 mm  +0.175 mm wide, +0.175 mm long  " in out


def test_with_one_other_tool(made: Path, call: Call) -> None:
    """What is not given is the template's own; the same pair again makes no difference."""
    assert listed(call, "--with-bit", "9 mm")[0]["with_other_tools"]["width"] == 9.475
    assert listed(call, "--with-bushing", "12 mm")[0]["with_other_tools"]["width"] == 10.7
    assert "  10 x 50 mm  none  " in call("drawer", "templates", "--with-bit", "3/8 in").out


def test_with_tools_of_their_own(made: Path, call: Call) -> None:
    """Names from a file of tools; a bit that does not pass the bore cuts nothing."""
    (made.parent / "tools.toml").write_text(TOOLS, encoding="utf-8")
    out = call("drawer", "templates", "--tools", "tools.toml", "--with-bit", "mine", "--with-bushing", "narrow").out
    assert out.startswith('1 template; with bit "mine" and bushing "narrow":\n')
    assert "  nothing    the bit (9 mm) does not pass the bushing's bore (9 mm)  " in out


def test_a_bare_size_of_which_one_is_measured(made: Path, call: Call) -> None:
    """The list is about the bare size; one line beside it says what one's own measures, and how to ask for that."""
    (made.parent / "t.toml").write_text("[bits.worn]\ndiameter = { nominal = '9 mm', measured = '8.9 mm' }\n")
    said = call("drawer", "templates", "--with-bit", "9 mm", "--tools", "t.toml")
    assert said.err == '--with-bit: 9 mm is taken as it stands; "worn" measures 8.9 mm (for that: --with-bit "worn")\n'
    assert "9 mm" in said.out
    assert call("drawer", "templates", "--with-bit", "worn", "--tools", "t.toml").err == ""


def test_damaged_and_foreign_manifests(made: Path, call: Call) -> None:
    """One line for each, status 2; the others are listed. Other folders and hidden ones are passed over."""
    for name, text in (("a", "{"), ("b", '{"program": {"name": "jigtemplates"}, "files": []}')):
        (made / name).mkdir()
        (made / name / f"{name}.json").write_text(text, encoding="utf-8")
    (made / "c" / "c.json").mkdir(parents=True)
    (made / "notes").mkdir()
    (made / ".d").mkdir()
    (made / ".d" / ".d.json").write_text("{", encoding="utf-8")
    (made / "x.txt").write_text("x", encoding="utf-8")
    said = call("drawer", "templates")
    damaged = "this is no manifest of jigtemplates, or it is damaged (make the template again)"
    assert said.status == 2
    assert said.out.startswith("1 template\n")
    assert said.faults == [
        f"templates/a/a.json: {damaged}",
        "templates/b/b.json: manifest changed since it was written (make the template again)",
        "templates/c/c.json: cannot be read (it is not an ordinary file)",
    ]


@pytest.mark.parametrize(
    ("key", "value"),
    [("opening", 3), ("opening", [{"outer": [[0, 0, 0]], "holes": []}]), ("opening", [{"outer": "abc", "holes": []}]),
     ("job", 3), ("job", {}), ("job", {"cut": "abc", "plate": {}}), ("results", {"predicted_cut": None})],
)  # fmt: skip
def test_a_manifest_with_wrong_values(made: Path, call: Call, key: str, value: object) -> None:
    """An opening that is none, no job, no cut: damaged, in one line."""
    path = made / "rail" / "rail.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    data[key] = value
    data["sha256"] = content_hash(data)
    path.write_text(json.dumps(data), encoding="utf-8")
    said = call("drawer", "templates", "--json")
    line = "templates/rail/rail.json: this is no manifest of jigtemplates, or it is damaged (make the template again)\n"
    assert said == (2, "[]\n", line)


@pytest.mark.parametrize(
    ("opening", "bit", "bushing", "says"),
    [
        ("13.2 x 53.2 mm", "9.5 mm", "13 mm", "cuts 9.7 x 49.7 mm, side play 0.2 mm"),
        ("3/4 in x 3 in", "1/2 in", "5/8 in", "cuts 5/8 x 2-7/8 in (15.875 x 73.025 mm), side play 1/8 in (3.175 mm)"),
        ("40 mm", "12 mm", "24 mm", "cuts dia 28 mm, side play 16 mm"),
        (
            "1/2 in", "3/8 in", "1/2 in",
            "cuts dia 3/8 in (dia 9.525 mm), side play 0 in (0 mm): the bushing will bind in it",
        ),
        (
            "1 in x 2 in", "1/2 in", "1/2 in",
            "cuts nothing: the bushing (1/2 in = 12.7 mm) is not wider than the bit (1/2 in = 12.7 mm)",
        ),
        (
            "1 in x 2 in", "7/16 in", "1/2 in",
            "cuts nothing: the bit (7/16 in = 11.113 mm) does not pass the bushing's bore (13/32 in = 10.319 mm)",
        ),
        ("53.5 × 13.5 mm", "9.5 mm", "13 mm", "cuts 10 x 50 mm, side play 0.5 mm"),
        ("12.9 mm x 50 mm", "9.5 mm", "13 mm", "cuts nothing: the bushing does not go into the opening"),
        ("30 mm x 50 mm", "13 mm", "13 mm", "cuts nothing: the bushing (13 mm) is not wider than the bit (13 mm)"),
        (
            "30 mm x 50 mm", "11 mm", "1/2 in",
            "cuts nothing: the bit (11 mm) does not pass the bushing's bore (10.319 mm)",
        ),
    ],
)  # fmt: skip
def test_an_opening_by_hand(here: Path, call: Call, opening: str, bit: str, bushing: str, says: str) -> None:
    """What it cuts, or why nothing and status 1."""
    said = asked(call, opening, bit, bushing)
    assert (said.status, said.err) == (int("nothing" in says), "")
    assert said.out.rstrip("\n").endswith(f"with bit {bit} in bushing {bushing}: {says}")


def test_an_opening_by_hand_as_json(here: Path, call: Call) -> None:
    """The sizes in mm, and why not."""
    assert json.loads(asked(call, "1/2 in x 2 in", "3/8 in", "12 mm", "--json").out) == {
        "opening": {"width": 12.7, "length": 50.8},
        "bit": "3/8 in",
        "bushing": "12 mm",
        "width": 10.225,
        "length": 48.325,
        "corner_radius": 5.1125,
        "side_play": 0.7,
        "reason": None,
    }
    none = json.loads(asked(call, "12 mm", "9 mm", "13 mm", "--json").out)
    assert (none["width"], none["side_play"], none["reason"]) == (
        None, None, "the bushing does not go into the opening",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("args", "lines"),
    [
        ((), ['give the folder of the templates, or --opening "WIDTH x LENGTH" for one made by hand']),
        (
            ("templates", "--opening", "9 mm"),
            ["templates and --opening were both given (leave one of them out)"],
        ),
        (("nowhere",), ["nowhere: there is no such folder (give the folder that make wrote into)"]),
        (("rail.toml",), ["rail.toml: this is not a folder (give the folder that make wrote into)"]),
        (("template",), ['template: there is no such folder (did you mean "templates"?)']),
        (("templates", "--jobs", "emty"), ['--jobs: emty: there is no such folder (did you mean "empty"?)']),
        (("empty",), ["empty: no template in this folder (give the folder that make wrote into)"]),
        (("templates", "--with-bit", "9,5 mm"), ['--with-bit: "9,5 mm" is not a length (write 9.5 mm)']),
        (
            ("templates", "--jobs", "nowhere"),
            ["--jobs: nowhere: there is no such folder (give the folder that holds the job files)"],
        ),
        (
            ("templates", "--jobs", "rail.toml"),
            ["--jobs: rail.toml: this is not a folder (give the folder that holds the job files)"],
        ),
        (
            ("--opening", "9 mm"),
            ["--opening: needs the pair to try in it (add --with-bit and --with-bushing)"],
        ),
        (
            ("--opening", "9 mm", "--with-bit", "8 mm"),
            ["--opening: needs the pair to try in it (add --with-bushing)"],
        ),
        (
            ("--opening", "9 mm x 8 mm x 7 mm"),
            ['--opening: "9 mm x 8 mm x 7 mm" has more than two sides (write "13.2 mm x 53.2 mm")'],
        ),
        (
            ("--opening", "13,2 mm x 5 cm"),
            ['--opening: "13,2 mm" is not a length (write 13.2 mm)', '--opening: "5 cm" is not a length (write 50 mm)'],
        ),
        (("--opening", "x"), ['--opening: "x" lacks a side (write "13.2 mm x 53.2 mm")']),
        (("--opening", "13.5 mm x"), ['--opening: "13.5 mm x" lacks a side (write "13.2 mm x 53.2 mm")']),
        (("--opening", "9"), ['--opening: "9" is not a length (the unit is missing; write 9 mm or 9 in)']),
        (("--opening", "0 mm x 9 mm"), ['--opening: "0 mm" is not a size (write a length greater than 0)']),
    ],
)
def test_options_that_will_not_do(made: Path, call: Call, args: tuple[str, ...], lines: list[str]) -> None:
    """Each fault is one line, status 2, nothing on stdout."""
    (made.parent / "empty").mkdir()
    said = call("drawer", *args)
    assert (said.status, said.out, said.faults) == (2, "", lines)


def test_nothing_is_written(made: Path, call: Call) -> None:
    """The drawer only looks."""
    before = {p: p.stat().st_mtime_ns for p in made.parent.rglob("*")}
    call("drawer", "templates", "--with-bit", "9 mm")
    assert {p: p.stat().st_mtime_ns for p in made.parent.rglob("*")} == before


@settings(max_examples=40, deadline=None)
@given(
    width=st.integers(800, 4000),
    longer=st.integers(0, 6000),
    bit=st.integers(300, 2000),
    bushing=st.integers(400, 3000),
)
def test_the_sum_of_the_trade(width: int, longer: int, bit: int, bushing: int) -> None:
    """Any slot cuts opening - bushing + bit, where the bushing goes in and is wider than the bit."""
    w, length, b, g = width / 100, (width + longer) / 100, bit / 100, bushing / 100
    cut = cut_by((Region(slot(length, w)),), Tool("bit", b), Tool("bushing", g))
    if g <= b or g > w:
        assert cut.reason is not None
    else:
        assert cut.reason is None
        assert math.isclose(cut.width or 0, w - g + b, abs_tol=1e-6)
        assert math.isclose(cut.length or 0, length - g + b, abs_tol=1e-6)
        assert math.isclose(cut.side_play or 0, w - g, abs_tol=1e-9)


@pytest.mark.parametrize(
    "outline",
    [
        slot(50, 13.175),
        rectangle(40, 20, 3),
        rectangle(40, 20),
        round_hole(40).moved(3, -2),
        Outline.circle(Point(1.0, 2.0), 5.0, -1),
        slot(50, 10).rotated(30),
    ],
)
def test_an_outline_comes_back(outline: Outline) -> None:
    """Numbers and back: the same extents and area to a nanometre, and a circle is still one."""
    (back,) = regions_of(json.loads(json.dumps(plain_rings((Region(outline),)))))
    assert (back.outer.as_circle is None) == (outline.as_circle is None)
    assert back.outer.area == pytest.approx(outline.area, abs=1e-6)
    assert tuple(back.outer.bounds) == pytest.approx(tuple(outline.bounds), abs=1e-8)


def test_holes_come_back() -> None:
    """A region's holes are kept as such; a ring of one vertex is none."""
    region = Region(slot(80, 40), (Outline.circle(Point(0.0, 0.0), 5.0, -1),))
    (back,) = regions_of(plain_rings((region,)))
    assert len(back.holes) == 1
    assert back.area == pytest.approx(region.area)
    with pytest.raises(ValueError, match="at least two"):
        regions_of([{"outer": [[0, 0, 0]], "holes": []}])


def test_a_fault_of_ours_names_the_template(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error nobody foresaw is a line with the manifest's name, status 2."""

    def broken(*_: object) -> None:
        raise ZeroDivisionError("x")

    monkeypatch.setattr("jigtemplates.drawer.route", broken)
    said = call("drawer", "templates", "--with-bit", "9 mm")
    line = "templates/rail/rail.json: a fault in jigtemplates itself: ZeroDivisionError: x (please report it)\n"
    assert (said.status, said.err) == (2, line)
    assert said.out == "0 templates; with bit 9 mm:\n"


def test_a_measured_bushing_is_called_what_it_is_sold_as(rail: Path, call: Call) -> None:
    """Its label is the nominal size, and it cuts by the measured one."""
    text = rail.read_text(encoding="utf-8")
    measured = '{ diameter = { nominal = "1/2 in", measured = "12.6 mm" } }'
    rail.write_text(text.replace('"1/2 in"', measured), encoding="utf-8")
    assert call("make", "rail.toml", "--for", "cnc").status == 0
    (one,) = listed(call, "--with-bushing", "12.7 mm")
    assert (one["bushing"], one["cut"]["width"], one["with_other_tools"]["width"]) == ("1/2 in", 10.0, 9.9)


def test_a_reader_that_has_gone(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """`| head`: nothing more is said, and the status is that of the work."""

    def gone(*_: object, **__: object) -> None:
        raise BrokenPipeError

    silenced: list[bool] = []
    monkeypatch.setattr("jigtemplates.drawer.command.click.echo", gone)
    monkeypatch.setattr("jigtemplates.drawer.command.silence", lambda: silenced.append(True))
    assert call("drawer", "templates").status == 0
    assert silenced == [True]


def test_an_opening_without_clearance_binds(call: Call, here: Path) -> None:
    """A slot exactly as wide as the bushing guides it, but it does not slide (ISO 286 H8/f7 quoted: 0.016 mm)."""
    pair = ("--with-bit", "3/8 in", "--with-bushing", "1/2 in")
    assert call("drawer", "--opening", "1/2 in x 2 in", *pair).out.endswith(
        "side play 0 in (0 mm): the bushing will bind in it\n"
    )
    assert call("drawer", "--opening", "12.716 mm x 50 mm", *pair).out.endswith("side play 0.016 mm\n")


HINGE = """
title = "Gate"
units = "mm"
[[cut]]
shape = "%s"
width = 28
length = 80
depth = 3
y = 110
[[cut]]
shape = "%s"
width = 24
length = 60
depth = 3
y = 40
[tools]
bit = 12
bushing = 16
[plate]
width = 180
height = 150
thickness = 6
[make]
for = ["cnc"]
"""


@pytest.mark.parametrize("open_one", [0, 1])
def test_a_gain_is_measured_from_the_edge_of_the_work(here: Path, call: Call, open_one: int) -> None:
    """The offset is 3 instead of 2 mm with a 10 mm bit: 1 mm less a side, and at the open side nothing."""
    shapes = ("hinge", "rectangle") if open_one == 0 else ("rectangle", "hinge")
    (here / "gate.toml").write_text(HINGE % shapes, encoding="utf-8")
    assert call("make", "gate.toml").status == 0
    (own,) = listed(call, "--with-bit", "12 mm")
    cuts = [own["with_other_tools"], *own["others_with_other_tools"]]
    assert [(cut["width"], cut["wider"], cut["longer"]) for cut in cuts] == [(28.0, 0.0, 0.0), (24.0, 0.0, 0.0)]
    (other,) = listed(call, "--with-bit", "10 mm")
    cuts = [other["with_other_tools"], *other["others_with_other_tools"]]
    assert [(cut["wider"], cut["longer"]) for cut in cuts] == [(-1.0 - open_one, -2.0), (-2.0 + open_one, -2.0)]
