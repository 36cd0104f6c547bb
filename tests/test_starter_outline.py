"""A job begun from a drawing: what it says, that it can be made, and every sentence where it cannot be begun."""

import json
import os
import re
import shutil
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from jigtemplates import starter_drawn, starter_outline, starter_pair
from jigtemplates.errors import InputError
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.schema import shipped_schema
from jigtemplates.report import report_on
from jigtemplates.starter_outline import beside

Call = Callable[..., Any]
Draw = Callable[..., Path]

SAMPLES = Path(__file__).parents[1] / "samples"
#: Name, options, file of the job.
EVERY = [
    ("leaf.svg", ()),
    ("rose.svg", ("--units", "in")),
    ("bracket.dxf", ("--select", "recess")),
    ("bracket.dxf", ("--select", "recess", "--units", "in")),
]
WAITING = re.compile(r"# ([a-z_]+) = ")
SLIT = '<rect x="2" y="2" width="60" height="2.5"/>'


@pytest.fixture
def sample(here: Path) -> Draw:
    """A copy of one of the samples' drawings in the empty folder."""
    return lambda name: Path(shutil.copy(SAMPLES / name, here / name))


@pytest.fixture
def draw(here: Path) -> Draw:
    """An SVG in the empty folder, by default of 100 by 100 mm."""

    def drawn(body: str, name: str = "d.svg", size: str = 'width="100mm" height="100mm"') -> Path:
        page = f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 100 100">'
        (here / name).write_text(f"{page}{body}</svg>", encoding="utf-8")
        return here / name

    return drawn


@pytest.fixture
def dxf(here: Path) -> Draw:
    """A DXF of a closed polyline 4 by 2 with round corners, in the unit of that code."""

    def drawn(units: int, name: str = "d.dxf") -> Path:
        from ezdxf.filemanagement import new

        document = new("R2010")
        document.header["$INSUNITS"] = units
        corners = [(1, 0, 0), (3, 0, 0.41421356237309503), (4, 1, 0.41421356237309503), (3, 2, 0),
                   (1, 2, 0.41421356237309503), (0, 1, 0.41421356237309503)]  # fmt: skip
        document.modelspace().add_lwpolyline(corners, format="xyb", close=True)
        document.saveas(here / name)
        return here / name

    return drawn


@pytest.mark.parametrize(("name", "options"), EVERY)
def test_a_drawing_becomes_a_job_that_is_made(call: Call, sample: Draw, name: str, options: tuple[str, ...]) -> None:
    """From a sample's drawing: written, checked without a stop, accepted by an editor, and made into files."""
    job = f"{sample(name).stem}.toml"
    said = call("new", "--outline", name, *options)
    assert (said.status, said.err) == (0, "")
    assert said.out.startswith(f"wrote {job}: change it, then: jigtemplates check {job}\nof those that are known here ")
    text = Path(job).read_text(encoding="utf-8")
    assert jsonschema.Draft202012Validator(json.loads(shipped_schema())).is_valid(tomllib.loads(text))
    checked = call("check", job)
    assert (checked.status, checked.err, "  stop" in checked.out) == (0, "", False)
    assert call("make", job, "--for", "laser").status == 0
    assert sorted(path.suffix for path in Path("templates", Path(name).stem).iterdir()) == [
        ".dxf", ".json", ".pdf", ".svg",
    ]  # fmt: skip


def test_what_a_job_from_a_drawing_says(call: Call, sample: Draw) -> None:
    """The leaf of the samples, 144.604 by 72.854 mm, whose ends are r 6: the largest bit sold that gets in is 12."""
    sample("leaf.svg")
    said = call("new", "--outline", "leaf.svg").out.splitlines()[1]
    assert (
        said
        == "of those that are known here straight 12 mm in bushing 3/4 in comes nearest: the cut comes out as drawn"
    )
    text = Path("leaf.toml").read_text(encoding="utf-8")
    job = tomllib.loads(text)
    assert (job["title"], job["units"]) == ("Leaf", "mm")
    assert job["cut"] == {"shape": "outline", "file": "leaf.svg", "depth": 8, "angle": 0}
    assert job["tools"]["bit"] == "straight 12 mm"
    assert (job["plate"]["width"], job["plate"]["height"]) == (240, 160)
    assert "\n#   144.604 x 72.854 mm, drawn in mm\n" in text
    said = " ".join(line.lstrip("# ") for line in text.splitlines() if line.startswith("# of ") or "#   out" in line)
    assert said == (
        "of the bits and bushings that are known here this pair comes nearest to the outline: the cut comes out as "
        "drawn; all pairs: jigtemplates match leaf.toml"
    )


def test_in_inches(call: Call, sample: Draw) -> None:
    """The bracket, 4 by 3 in with corners of 1/4 in: a bit of 1/2 in, and every size in inches."""
    sample("bracket.dxf")
    assert call("new", "shelf", "--outline", "bracket.dxf", "--select", "recess", "--units", "in").status == 0
    text = Path("shelf.toml").read_text(encoding="utf-8")
    job = tomllib.loads(text)
    assert job["cut"] == {
        "shape": "outline", "file": "bracket.dxf", "select": "recess", "depth": "5/16 in", "angle": 0,
    }  # fmt: skip
    assert job["tools"]["bit"] == "straight 1/2 in"
    assert (job["plate"]["width"], job["plate"]["height"]) == ("7-1/2 in", "6-1/2 in")
    assert "\n#   4 x 3 in, drawn in inches; tightest inside corner r 1/4 in\n" in text
    assert "match shelf.toml" in text


def test_sharp_corners_take_the_bit_that_leaves_the_least(call: Call, sample: Draw) -> None:
    """A star with points: none of the bits gets into them, the thinnest is nearest, and how far off is said."""
    sample("rose.svg")
    assert call("new", "--outline", "rose.svg").status == 0
    text = Path("rose.toml").read_text(encoding="utf-8")
    assert tomllib.loads(text)["tools"]["bit"] == "straight 3 mm"
    assert "\n#   100 x 100 mm, drawn in mm; with sharp inside corners\n" in text
    assert re.search(r"the cut is up\n#   to [0-9.]+ mm off the drawn edge;", text)


@pytest.mark.parametrize(("name", "options"), EVERY[1:])
def test_every_waiting_key_and_table_works(call: Call, sample: Draw, name: str, options: tuple[str, ...]) -> None:
    """Each key behind a # can be used by taking the # away, and each table whole: read, and not stopped."""
    sample(name)
    assert call("new", "a", "--outline", name, *options).status == 0
    lines = Path("a.toml").read_text(encoding="utf-8").splitlines()
    tables = [at for at, line in enumerate(lines) if re.match(r"# \[[a-z.]+\]", line)]
    blocks = [[n for n in range(at, at + 12) if all(lines[at : n + 1])] for at in tables]
    inside = {at for block in blocks for at in block}
    waiting = {at: found[1] for at, line in enumerate(lines) if at not in inside and (found := WAITING.match(line))}
    assert [lines[at].split()[1] for at in tables] == ["[cuts.shallow]", "[work]", "[inlay]", "[fit]"]
    assert set(waiting.values()) == {
        "notes", "x", "y", "scale", "mirrored", "bit", "bushing", "pass_depth", "router", "corner_radius", "stand_off",
        "wall", "label", "rebate", "turn", "papers", "kerf", "dxf", "print", "printed_bar", "pair",
    }  # fmt: skip
    for used in (*([at] for at in waiting), *blocks):
        assert_works(lines, used, waiting.get(used[0]))


def assert_works(lines: list[str], used: list[int], key: str | None) -> None:
    """The job with those lines used, and the key that they replace left out, is not stopped."""
    kept = [line.removeprefix("# ") if at in used else line for at, line in enumerate(lines)]
    kept = [line for at, line in enumerate(kept) if at in used or key is None or not line.startswith(f"{key} =")]
    Path("used.toml").write_text("\n".join(kept), encoding="utf-8")
    for job in load_jobs(Path("used.toml")):
        stops = [one.message for one in report_on(job).findings if one.level.value == "stop"]
        assert stops == [], [lines[at] for at in used]


def test_a_small_drawing_gets_the_usual_plate(call: Call, draw: Draw) -> None:
    """Below 60 mm the plate is that of the other starters, and goes into the same holder."""
    draw('<circle r="9"/>')
    assert call("new", "--outline", "d.svg").status == 0
    text = Path("d.toml").read_text(encoding="utf-8")
    assert (tomllib.loads(text)["plate"]["width"], tomllib.loads(text)["plate"]["height"]) == (140, 140)
    assert '# holder = "bench-frame-140"' in text
    assert '# screws = { pattern = "ring"' in text


def test_where_no_pair_can(call: Call, draw: Draw) -> None:
    """A slit of 2.5 mm takes no bit: the job is written all the same, with why, and `check` stops it for that."""
    draw(SLIT)
    why = "the bit (3 mm) is wider than the cut (2.5 mm)"
    said = call("new", "--outline", "d.svg")
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines()[1:] == [f"no bit and bushing that are known here make it yet: {why}"]
    words = " ".join(Path("d.toml").read_text(encoding="utf-8").replace("\n#   ", " ").split())
    assert f"makes this yet; with the nearest, {why}; all pairs: jigtemplates match d.toml" in words
    assert call("check", "d.toml").status == 1


def test_where_every_pair_that_is_made_is_stopped(call: Call, here: Path, draw: Draw) -> None:
    """An island 4 mm wide is routed away with all that one owns: what `check` stops it for is said."""
    draw('<circle r="130"/><circle r="2"/>')
    (here / "profiles").mkdir()
    tools = '[bits.ten]\ndiameter = "10 mm"\n[bushings.ring]\ndiameter = "16 mm"\n'
    (here / "profiles/tools.toml").write_text(tools, encoding="utf-8")
    said = call("new", "--outline", "d.svg")
    assert said.status == 0
    assert said.out.splitlines()[1].startswith(
        "no bit and bushing that are known here make it yet: a part that is to stay standing is cut away, up to "
    )
    assert call("check", "d.toml").status == 1


def test_a_cut_larger_than_any_plate(call: Call, draw: Draw, monkeypatch: pytest.MonkeyPatch) -> None:
    """A plate is no longer than a job may say; the pair is good, and what stops the job is said."""
    monkeypatch.setattr(starter_drawn, "LONGEST_MM", 155)
    draw('<rect width="160" height="30" rx="8"/>')
    said = call("new", "--outline", "d.svg")
    assert said.status == 0
    assert said.out.splitlines()[1] == (
        "no bit and bushing that are known here make it yet: the opening does not lie on the plate: move it, or make "
        "the plate larger"
    )
    assert tomllib.loads(Path("d.toml").read_text(encoding="utf-8"))["plate"]["width"] == 150


def test_to_the_screen(call: Call, here: Path, draw: Draw) -> None:
    """`-` writes the job alone on the screen, the path from this folder; what is to be said besides goes to stderr."""
    draw(SLIT)
    said = call("new", "-", "--outline", "d.svg")
    assert (said.status, [path.name for path in here.iterdir()]) == (0, ["d.svg"])
    assert tomllib.loads(said.out)["cut"]["file"] == "d.svg"
    assert said.faults == [
        "no bit and bushing that are known here make it yet: the bit (3 mm) is wider than the cut (2.5 mm)"
    ]


def test_ones_own_tools_come_first(call: Call, here: Path, draw: Draw) -> None:
    """Who has bits and bushings of their own gets one of those, by its name, also from beside the job."""
    draw('<circle r="20"/>')
    (here / "jobs/profiles").mkdir(parents=True)
    tools = '[bits."my \\"8\\""]\ndiameter = "8 mm"\n[bushings.ring]\ndiameter = "16 mm"\nbore = "12 mm"\n'
    (here / "jobs/profiles/tools.toml").write_text(tools, encoding="utf-8")
    assert call("new", "jobs/well", "--outline", "d.svg").status == 0
    text = Path("jobs/well.toml").read_text(encoding="utf-8")
    job = tomllib.loads(text)
    assert (job["tools"]["bit"], job["tools"]["bushing"]) == ('my "8"', "ring")
    assert (job["cut"]["file"], job["title"]) == ("../d.svg", "D")
    assert "# of your own bits and bushings this pair" in text
    assert call("check", "jobs/well.toml").status == 0


@pytest.mark.parametrize("options", [("--drawing-units", "mm"), ("--drawing-units", "in", "--units", "in")])
def test_a_drawing_without_a_unit(call: Call, here: Path, dxf: Draw, options: tuple[str, ...]) -> None:
    """A DXF that does not say its unit asks for it; what is given stands in the job."""
    dxf(0)
    asked = call("new", "--outline", "d.dxf")
    assert asked == (2, "", "d.dxf: does not say its unit (add --drawing-units mm or --drawing-units in)\n")
    assert [path.name for path in here.iterdir()] == ["d.dxf"]
    assert call("new", "--outline", "d.dxf", *options).status == 0
    text = Path("d.toml").read_text(encoding="utf-8")
    assert tomllib.loads(text)["cut"]["units"] == options[1]
    assert (
        f"\n#   {'4 x 2 in' if options[1] == 'in' else '4 x 2 mm'}; tightest inside corner r 1 {options[1]}\n" in text
    )


@pytest.mark.parametrize(
    ("name", "options", "line"),
    [
        ("none.svg", (), "--outline: there is no such file, none.svg (give the name of a DXF or SVG drawing)"),
        ("d.svg", ("--drawing-units", "mm"),
         'd.svg: says itself how large it is, "100mm x 100mm" (leave --drawing-units out, or use scale)'),
        ("d.svg", (), 'd.svg: holds 2 separate contours: circle "p" at (0, 0), circle number 1 at (50, 0) '
         '(add --select "p", or delete the others)'),
        ("d.svg", ("--select", "q"), 'd.svg: nothing in it is called "q" (known: "p")'),
        ("d.svg", ("--select", ""), "--select: it is empty (write some text, or leave the key out)"),
        ("d.txt", (), '--outline: "d.txt" is neither .svg nor .dxf (save the drawing as one of them)'),
        ("folder.svg", (), "folder.svg: this is not an ordinary file (give the name of a DXF or SVG drawing)"),
        ("a:b.svg", (), '--outline: "a:b.svg" is not a place beside the job (write it from the job\'s folder on, such '
         'as "leaf.svg", with /)'),
        ("d.svg", ("--shape", "slot"),
         "--shape: a drawn cut has the shape of its outline (leave --shape out, or --outline)"),
    ],
)  # fmt: skip
def test_a_drawing_that_will_not_do(
    call: Call, here: Path, draw: Draw, name: str, options: tuple[str, ...], line: str
) -> None:
    """Status 2 and a line in the words of the options; nothing is written."""
    (here / "folder.svg").mkdir()
    for file in ("d.svg", "d.txt", "a:b.svg"):
        draw('<circle id="p" r="9"/><circle r="8" cx="50"/>', file)
    assert call("new", "job", "--outline", name, *options) == (2, "", f"{line}\n")
    assert not (here / "job.toml").exists()


@pytest.mark.parametrize("option", ["--select", "--drawing-units"])
def test_options_that_are_about_a_drawing(call: Call, here: Path, option: str) -> None:
    """Without a drawing they are refused, each in its line."""
    line = f"{option}: is about a drawing (add --outline FILE, or leave it out)\n"
    assert call("new", option, "mm", "--shape", "slot") == (2, "", line)
    assert list(here.iterdir()) == []


def test_the_schema_is_no_job(call: Call, here: Path) -> None:
    """--schema with a drawing or a name for the job is refused."""
    assert call("new", "--schema", "s.json", "--outline", "d.svg").err == (
        "--schema: writes no job; leave --outline out, or --schema\n"
    )
    assert call("new", "a", "--schema", "s.json").err == '--schema: writes no job; leave "a" out, or --schema\n'
    assert list(here.iterdir()) == []


def test_a_job_that_is_there_is_not_read_for(call: Call, draw: Draw, monkeypatch: pytest.MonkeyPatch) -> None:
    """A name that is taken is refused before the drawing is read."""
    draw('<circle r="9"/>')
    Path("d.toml").write_text("mine", encoding="utf-8")
    monkeypatch.setattr(starter_outline, "outline_job", lambda *_: pytest.fail("read"))
    said = call("new", "--outline", "d.svg")
    assert said == (2, "", "d.toml: is there already and is not overwritten (give another name)\n")
    assert Path("d.toml").read_text(encoding="utf-8") == "mine"


def test_a_folder_that_is_missing(call: Call, draw: Draw) -> None:
    """Said before the drawing is looked for from there."""
    draw('<circle r="9"/>')
    said = call("new", "none/well", "--outline", "d.svg")
    assert said == (2, "", "none/well.toml: the folder none is not there (make it first)\n")


def test_a_name_that_no_job_may_have(call: Call, draw: Draw) -> None:
    """The drawing's own name is looked at like any other."""
    draw('<circle r="9"/>', "con.svg")
    assert call("new", "--outline", "con.svg").err.startswith('the new job: "con" cannot name the files made from')
    assert call("new", "well", "--outline", "con.svg").status == 0


def test_asked_in_a_terminal(call: Call, draw: Draw, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where somebody is looking an outline can be answered, and then its drawing is asked for."""
    draw('<circle r="9"/>')
    answers = iter(["outline", "d.svg"])
    asked: list[Any] = []

    def prompt(question: str, **how: Any) -> str:
        asked.append((question, *getattr(how["type"], "choices", ())))
        return next(answers)

    monkeypatch.setattr("jigtemplates.commands.new.is_terminal", lambda _: True)
    monkeypatch.setattr("click.prompt", prompt)
    assert call("new").out.startswith("wrote d.toml: change it, then: jigtemplates check d.toml\n")
    assert [question[0] for question in asked] == ["Shape of the cut", "Its drawing, a DXF or SVG file"]
    assert asked[0][-2:] == ("hinge", "outline")


@pytest.mark.parametrize(
    ("drawing", "title"),
    [
        ("my_small-leaf.svg", "My small leaf"),
        ("Ölblatt.svg", "Ölblatt"),
        ("_.svg", "My first outline"),
        ("a leaf with a name too long for a plate.svg", "My first outline"),
    ],
)
def test_the_title_is_the_drawings_name(call: Call, draw: Draw, drawing: str, title: str) -> None:
    """As far as it is one that a small plate can carry."""
    draw('<circle r="9"/>', drawing)
    assert call("new", "job", "--outline", drawing).status == 0
    job = tomllib.loads(Path("job.toml").read_text(encoding="utf-8"))
    assert (job["title"], job["cut"]["file"]) == (title, drawing)


def test_the_way_to_the_drawing(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the job's real folder on, with /; a drawing that is itself a link keeps its name."""
    for folder in ("a/b", "c"):
        (here / folder).mkdir(parents=True)
    (here / "a/d.svg").touch()
    (here / "short").symlink_to("a/b")
    (here / "c/link.svg").symlink_to("../a/d.svg")
    assert beside(Path("a/d.svg"), Path("a/x.toml")) == "d.svg"
    assert beside(Path("a/d.svg"), Path("x.toml")) == "a/d.svg"
    assert beside(Path("a/d.svg"), Path("c/x.toml")) == "../a/d.svg"
    assert beside(Path("a/d.svg"), Path("short/x.toml")) == "../d.svg"
    assert beside(here / "c/link.svg", Path("x.toml")) == "c/link.svg"

    def other_drive(*_: str) -> str:
        raise ValueError

    monkeypatch.setattr(os.path, "relpath", other_drive)
    with pytest.raises(InputError, match=r"^--outline: is on another drive than the job \(copy the drawing beside"):
        beside(Path("d.svg"), Path("x.toml"))


def test_an_outline_of_very_many_points(call: Call, draw: Draw, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of such each bit is tried in two bushings only; a wavy ring of 600 corners is begun and can be made."""
    import math

    tried: list[float] = []
    from jigtemplates.match.made import made_with as whole

    def counted(source: Any, job: Any, pairs: Any) -> Any:
        pairs = list(pairs)
        tried.append(pairs[0].bit.diameter.mm)
        return whole(source, job, pairs)

    monkeypatch.setattr(starter_pair, "made_with", counted)
    turns = [math.tau * i / 600 for i in range(600)]
    places = [((30 + math.sin(5 * t)) * math.cos(t) + 50, (30 + math.sin(5 * t)) * math.sin(t) + 50) for t in turns]
    draw(f'<polygon points="{" ".join(f"{x:.4f},{y:.4f}" for x, y in places)}"/>')
    assert call("new", "--outline", "d.svg").status == 0
    assert tried
    assert all(tried.count(bit) <= 2 for bit in tried)
    assert call("check", "d.toml").status == 0


def test_a_drawing_of_very_many_corners(here: Path, call: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    """It is refused before pairs are tried on it, and nothing is written."""
    monkeypatch.setattr("jigtemplates.starter_outline.MOST_CORNERS", 3)
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="50mm" viewBox="0 0 50 50">'
    (here / "box.svg").write_text(svg + '<path d="M 5 5 H 45 V 45 H 5 Z"/></svg>', encoding="utf-8")
    assert call("new", "box.toml", "--outline", "box.svg") == (
        2,
        "",
        "box.svg: 4 corners are too many to try pairs of tools on (at most 3: simplify the drawing, or name it in a "
        "job that another shape began)\n",
    )
    assert [path.name for path in here.iterdir()] == ["box.svg"]
