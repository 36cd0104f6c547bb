"""The command `holder`: files, their names and bytes, JSON, statuses, and one line for every fault."""

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import pypdfium2  # type: ignore[import-untyped]
import pytest
from svgelements import SVG
from svgelements import Path as SvgPath

from jigtemplates.profiles import Profiles

Call = Callable[..., Any]

HOLDER = """\
units = "mm"
[holders."quay frame"]
width = 160
height = 160
corner_radius = 5
play = 0.3
depth = 6
ledge = 22
ledge_thickness = 9
frame = 30
stand_off = 9
screws = { pattern = "corners", size = "M5", hole = "countersunk", inset = 12 }
"""


@pytest.fixture
def own(here: Path) -> Path:
    """A holder among the person's own profiles."""
    (here / "profiles").mkdir()
    (here / "profiles" / "own.toml").write_text(HOLDER, encoding="utf-8")
    return here / "profiles" / "own.toml"


def change(own: Path, old: str, new: str) -> None:
    text = own.read_text(encoding="utf-8")
    assert old in text
    own.write_text(text.replace(old, new), encoding="utf-8")


def made(folder: Path) -> list[str]:
    """Names of the files under a folder."""
    return sorted(p.name for p in folder.rglob("*") if p.is_file())


@pytest.mark.usefixtures("own")
def test_all_files(call: Call, here: Path) -> None:
    """Layers for the laser, all parts for CNC router and paper, a manifest; in a folder named after the holder."""
    said = call("holder", "quay frame")
    assert (said.status, said.err) == (0, "")
    assert made(here / "holders" / "quay-frame") == [
        "quay-frame_holder.json",
        "quay-frame_ledge_cnc.svg", "quay-frame_ledge_cnc_mm.dxf",
        "quay-frame_ledge_laser.svg", "quay-frame_ledge_laser_mm.dxf", "quay-frame_ledge_paper_a4.pdf",
        "quay-frame_single_cnc.svg", "quay-frame_single_cnc_mm.dxf", "quay-frame_single_paper_a4.pdf",
        "quay-frame_upper_cnc.svg", "quay-frame_upper_cnc_mm.dxf",
        "quay-frame_upper_laser.svg", "quay-frame_upper_laser_mm.dxf", "quay-frame_upper_paper_a4.pdf",
    ]  # fmt: skip


@pytest.mark.usefixtures("own")
def test_what_the_terminal_shows(call: Call) -> None:
    """Each part with its sizes, holes and the plate that fits; findings; each file with its size."""
    lines = call("holder", "quay frame", "--for", "cnc").out.splitlines()
    assert lines[:7] == [
        "quay frame",
        "In two layers:",
        "  upper frame",
        "    make             1, 6 mm thick",
        "    outside          220 x 220 mm = 8.661 x 8.661 in (about 8-21/32 x 8-21/32), square corners",
        "    recess           160 x 160 mm = 6.299 x 6.299 in (about 6-19/64 x 6-19/64), corners r 5 mm",
        "    plate that fits  159.7 x 159.7 mm = 6.287 x 6.287 in (about 6-9/32 x 6-9/32), corners r 5 mm",
    ]
    assert "    holes            4 x 4.2 mm, for the thread of M5" in lines
    assert "    pocket, 6 mm deep  160 x 160 mm = 6.299 x 6.299 in (about 6-19/64 x 6-19/64), corners r 5 mm" in lines
    assert "    quay-frame_upper_cnc_mm.dxf   220 x 220 mm = 8.661 x 8.661 in" in lines
    assert lines[-1] == "    quay-frame_holder.json"


def test_countersinks_and_round_parts_are_said(call: Call) -> None:
    """A countersunk hole says to what width; a round part its diameter; shipped holders can be made."""
    square, turned = call("holder", "quay-frame-160", "--for", "cnc"), call("holder", "turntable-180", "--for", "cnc")
    assert "4 x 5.5 mm, countersunk for M5 to 11.2 mm" in square.out
    assert "4 x 7 mm, threaded insert for M5" in square.out
    assert "recess           dia 180 mm" in turned.out
    assert (square.status, turned.status) == (0, 0)


def test_a_holder_in_inches(call: Call, own: Path, here: Path) -> None:
    """Inches first, millimetres behind; the pattern on Letter."""
    own.write_text(
        'units = "in"\n[holders.inches]\nwidth = 6\nheight = 5\ncorner_radius = "1/4 in"\nplay = "1/64 in"\n'
        'depth = "1/4 in"\nledge = "3/4 in"\nledge_thickness = "1/2 in"\nframe = 1\nstand_off = "1/2 in"\n',
        encoding="utf-8",
    )
    said = call("holder", "inches", "--for", "paper")
    assert "make             1, 1/4 in (6.35 mm) thick" in said.out
    assert "outside          8 x 7 in (203.2 x 177.8 mm), square corners" in said.out
    assert "recess           6 x 5 in (152.4 x 127 mm), corners r 1/4 in (6.35 mm)" in said.out
    assert "inches_upper_paper_letter.pdf" in made(here / "holders")


@pytest.mark.usefixtures("own")
def test_json(call: Call) -> None:
    """One object: plate, parts with their bores, findings, files; lengths in mm."""
    said = call("holder", "quay frame", "--for", "cnc", "--json")
    found = json.loads(said.out)
    assert list(found) == ["holder", "plate", "parts", "findings", "files"]
    assert found["plate"] == {"width": 159.7, "height": 159.7, "corner_radius": 5, "thickness": 6}
    upper, ledge, single = found["parts"]
    assert upper == {
        "part": "upper", "name": "upper frame", "quantity": 1, "thickness": 6,
        "outside": {"width": 220, "height": 220, "corner_radius": 0},
        "through": {"width": 160, "height": 160, "corner_radius": 5},
        "pocket": None, "smallest_inside_radius": 5, "bores": [],
    }  # fmt: skip
    assert single["pocket"] == {"width": 160, "height": 160, "corner_radius": 5, "depth": 6}
    assert ledge["bores"][0] == {"x": 42.15, "y": 42.15, "diameter": 4.2, "head": None, "use": "for the thread of M5"}
    assert [finding["code"] for finding in found["findings"]] == ["layers-glued"]
    assert found["files"][0] == "holders/quay-frame/quay-frame_upper_cnc_mm.dxf"


@pytest.mark.usefixtures("own")
def test_the_manifest(call: Call, here: Path) -> None:
    """It says what the parts were made from, what their labels say, and each file with its size and hash."""
    call("holder", "quay frame", "--for", "laser", "--kerf", "0.2 mm")
    said = json.loads((here / "holders/quay-frame/quay-frame_holder.json").read_text(encoding="utf-8"))
    assert (said["program"]["name"], said["made_for"]) == ("jigtemplates", ["laser"])
    assert (said["material"], said["kerf"]) == (None, {"upper": 0.2, "ledge": 0.2})
    assert (said["holder"]["name"], said["holder"]["frame"]["mm"]) == ("quay frame", 30)
    assert said["labels"]["ledge"] == ["quay frame", "ledge frame", "9 mm thick", "make 1", "this side up"]
    assert [(file["name"], file["width_mm"], file["finished_width_mm"]) for file in said["files"]] == [
        ("quay-frame_upper_laser_kerf0.2_mm.dxf", 220.2, 220.0),
        ("quay-frame_upper_laser_kerf0.2.svg", 220.2, 220.0),
        ("quay-frame_ledge_laser_kerf0.2_mm.dxf", 220.2, 220.0),
        ("quay-frame_ledge_laser_kerf0.2.svg", 220.2, 220.0),
    ]


@pytest.mark.usefixtures("own")
def test_other_programs_measure_the_files(call: Call, here: Path) -> None:
    """ezdxf and svgelements find the pocket of 160 mm and the window of 116 mm at true size."""
    call("holder", "quay frame", "--for", "cnc")
    folder = here / "holders" / "quay-frame"
    space = ezdxf.filemanagement.readfile(folder / "quay-frame_single_cnc_mm.dxf").modelspace()
    widths: dict[str, float] = {}
    for line in space.query("LWPOLYLINE"):
        xs = [x for x, *_ in line.get_points()]  # type: ignore[attr-defined]
        widths.setdefault(line.dxf.layer, round(max(xs) - min(xs), 6))
    assert (widths["pocket"], widths["cut_inside"], widths["cut_outside"]) == (160, 116, 220)
    drawn = SVG.parse(folder / "quay-frame_single_cnc.svg", ppi=25.4)
    boxes = {element.values["id"]: element.bbox() for element in drawn.elements() if element.values.get("id")}
    left, _, right, _ = boxes["pocket"]
    assert right - left == pytest.approx(160, abs=1e-3)
    assert any(isinstance(element, SvgPath) for element in drawn.elements())


@pytest.mark.usefixtures("own")
def test_the_same_again_gives_the_same_bytes(call: Call, here: Path) -> None:
    """Twice made, twice the same; nothing is touched the second time."""
    call("holder", "quay frame")
    folder = here / "holders" / "quay-frame"
    before = {p.name: (p.read_bytes(), p.stat().st_mtime_ns) for p in folder.iterdir()}
    call("holder", "quay frame")
    assert {p.name: (p.read_bytes(), p.stat().st_mtime_ns) for p in folder.iterdir()} == before
    shutil.rmtree(folder)
    call("holder", "quay frame")
    assert {p.name: p.read_bytes() for p in folder.iterdir()} == {name: data for name, (data, _) in before.items()}


@pytest.mark.usefixtures("own")
def test_older_files_are_named(call: Call) -> None:
    """Files of an earlier call that this one does not renew are said."""
    call("holder", "quay frame", "--for", "laser", "cnc")
    said = call("holder", "quay frame", "--for", "cnc", "--json")
    (older,) = [f for f in json.loads(said.out)["findings"] if f["code"] == "older-files"]
    assert "quay-frame_ledge_laser.svg, quay-frame_ledge_laser_mm.dxf" in older["message"]


def test_a_stop_writes_nothing(call: Call, own: Path, here: Path) -> None:
    """Screws off the ledge: status 1, the reason, and no folder."""
    change(own, "inset = 12", "inset = 40")
    said = call("holder", "quay frame")
    assert (said.status, said.err) == (1, "")
    assert "bore-off-part" in said.out
    assert "Nothing is made until what is marked stop is changed." in said.out
    assert not (here / "holders").exists()


def test_missing_sizes_are_status_2(call: Call, own: Path, here: Path) -> None:
    """Every size that is missing is a line on stderr; nothing on stdout, nothing written."""
    change(own, "ledge_thickness = 9\nframe = 30\n", "")
    said = call("holder", "quay frame")
    assert (said.status, said.out, len(said.faults)) == (2, "", 2)
    assert not (here / "holders").exists()
    assert said.faults == [
        'holder "quay frame": ledge_thickness is missing (thickness of the ledge frame, or of what stays under the '
        'pocket; add it: jigtemplates tools change holders "quay frame" ledge_thickness="SIZE" --file '
        "profiles/own.toml)",
        'holder "quay frame": frame is missing (width of the frame round the recess; add it: jigtemplates tools change '
        'holders "quay frame" frame="SIZE" --file profiles/own.toml)',
    ]
    filled = ("ledge_thickness=9 mm", "frame=30 mm", "--file", "profiles/own.toml")
    assert call("tools", "change", "holders", "quay frame", *filled).status == 0
    assert call("holder", "quay frame").status == 0


@pytest.mark.usefixtures("own")
@pytest.mark.parametrize(
    ("args", "line"),
    [
        (("quay fram",), '"quay fram" is not among the holders (did you mean "quay frame"?'),
        (("quay frame", "--for", "lase"), '--for: "lase" is not known here (did you mean "laser"?)'),
        (("quay frame", "--for", "print"), '--for: "print" is not known here (write laser, cnc or paper)'),
        (("quay frame", "--kerf", "0,2 mm"), '--kerf: "0,2 mm" is not a length (write 0.2 mm)'),
        (("quay frame", "--kerf", "20 mm"), "--kerf: 20 mm is no kerf of a laser (write 0 to 2 mm)"),
        (("quay frame", "--paper", "a9"), '--paper: "a9" is not among the papers'),
    ],
)
def test_faults_of_the_command_line(call: Call, here: Path, args: tuple[str, ...], line: str) -> None:
    """Status 2 and one line that says what to write; nothing is written."""
    said = call("holder", *args)
    assert (said.status, said.out) == (2, "")
    assert said.faults[0].startswith(line)
    assert not (here / "holders").exists()


@pytest.mark.usefixtures("own")
def test_papers_may_be_named(call: Call, here: Path) -> None:
    """--paper takes any paper of the profiles, each once."""
    call("holder", "quay frame", "--for", "paper", "--paper", "a3", "--paper", "letter", "--paper", "a3")
    assert [name for name in made(here / "holders") if "upper" in name] == [
        "quay-frame_upper_paper_a3.pdf", "quay-frame_upper_paper_letter.pdf",
    ]  # fmt: skip


def test_another_holder_of_the_same_file_name(call: Call, own: Path, here: Path) -> None:
    """ "quay frame" and "quay-frame" would share a folder: the second is refused and the first stays."""
    call("holder", "quay frame", "--for", "cnc")
    before = made(here / "holders")
    change(own, '"quay frame"', '"quay-frame"')
    said = call("holder", "quay-frame", "--for", "laser")
    assert (said.status, said.faults) == (
        2,
        [
            'holders/quay-frame: holds the parts of "quay frame", which would be replaced (choose another folder with '
            "--out, or rename the holder)"
        ],
    )
    assert made(here / "holders") == before


@pytest.mark.usefixtures("rail")
def test_templates_and_holders_in_one_folder(call: Call, own: Path, here: Path) -> None:
    """A holder named as a job can be made beside it; no file is replaced, the drawer sees only the template."""
    change(own, '"quay frame"', '"rail"')
    call("make", "rail.toml", "--for", "cnc")
    before = {name: (here / "templates/rail" / name).read_bytes() for name in made(here / "templates")}
    assert call("holder", "rail", "--out", "templates").status == 0
    assert {name: (here / "templates/rail" / name).read_bytes() for name in before} == before
    drawer = call("drawer", "templates")
    assert (drawer.status, drawer.err) == (0, "")
    assert drawer.out.startswith("1 template\n")


def test_a_foreign_manifest_is_in_nobodys_way(call: Call, own: Path, here: Path) -> None:
    """A file of that name that is no manifest of ours is replaced, as make does."""
    assert own.exists()
    (here / "holders" / "quay-frame").mkdir(parents=True)
    (here / "holders" / "quay-frame" / "quay-frame_holder.json").write_text("[]", encoding="utf-8")
    assert call("holder", "quay frame", "--for", "cnc").status == 0


def test_a_name_that_no_file_can_have(call: Call, own: Path) -> None:
    """A holder called by signs alone is refused; other signs become hyphens."""
    change(own, '"quay frame"', '"?!"')
    said = call("holder", "?!")
    assert said.faults == ['holder "?!": no file can be named after it (give it a letter or a digit)']
    change(own, '"?!"', '"a/b: c"')
    assert call("holder", "a/b: c", "--for", "cnc").status == 0


@pytest.mark.parametrize("name", ["con", "Nul", "com1"])
def test_a_name_that_is_a_device_on_windows(call: Call, own: Path, here: Path, name: str) -> None:
    """Folder and files travel, so they are called after it and not as it is."""
    change(own, '"quay frame"', f'"{name}"')
    assert call("holder", name, "--for", "cnc").status == 0
    assert [path.name for path in (here / "holders").iterdir()] == [f"{name}-holder"]
    assert (here / "holders" / f"{name}-holder" / f"{name}-holder_holder.json").is_file()


def test_a_label_without_room(call: Call, own: Path) -> None:
    """On a frame of 5 mm no label has room: a warning names the parts."""
    change(own, "frame = 30", "frame = 5")
    said = call("holder", "quay frame", "--for", "cnc", "--json")
    (left_out,) = [f for f in json.loads(said.out)["findings"] if f["code"] == "label-left-out"]
    assert left_out["message"].startswith("no label on the upper frame and the frame in one piece: it has no room")


def test_r12_where_a_process_asks_for_it(call: Call, own: Path, here: Path) -> None:
    """A process profile that asks for R12 gets it, as for a job."""
    pen = '{ layer = "a", colour = "#000000", stroke = 0.1 }'
    with own.open("a", encoding="utf-8") as file:
        file.write(f'[processes.cnc]\nkerf = 0\ndxf_version = "R12"\n[processes.cnc.roles]\ncut_outside = {pen}\n')
        file.write(f"cut_inside = {pen}\n")
    call("holder", "quay frame", "--for", "cnc")
    text = (here / "holders/quay-frame/quay-frame_upper_cnc_mm.dxf").read_text(encoding="ascii")
    assert "AC1009" in text


@pytest.mark.parametrize(
    ("kerfs", "kerf"),
    [
        ('[{ width = "0.19 mm" }]', 0.19),
        ('[{ sheet = "mdf", width = "0.3 mm" }, { width = "0.19 mm" }]', 0.19),
        ('[{ sheet = "mdf", width = "0.3 mm" }]', 0),
        ('[{ thickness = "12 mm", width = "0.3 mm" }]', 0),
    ],
)
def test_a_kerf_measured_in_any_sheet_counts(call: Call, own: Path, here: Path, kerfs: str, kerf: float) -> None:
    """What `calibrate kerf` writes for any sheet counts here too; what was measured in one sheet does not."""
    with own.open("a", encoding="utf-8") as file:
        file.write(f"[processes.laser]\nkerfs = {kerfs}\n")
    said = call("holder", "quay frame", "--for", "laser", "--json")
    assert ("kerf-not-set" in {one["code"] for one in json.loads(said.out)["findings"]}) == (kerf == 0)
    record = json.loads((here / "holders/quay-frame/quay-frame_holder.json").read_text(encoding="utf-8"))
    assert record["kerf"] == {"upper": kerf, "ledge": kerf}


KERFS = '[{ sheet = "mdf", thickness = "6 mm", width = "0.19 mm" }, { sheet = "mdf", thickness = 9, width = 0.21 }]'


def test_the_kerf_measured_in_its_own_sheets(call: Call, own: Path, here: Path) -> None:
    """Each layer has the kerf of its thickness in the material that is named; without one the option is named."""
    with own.open("a", encoding="utf-8") as file:
        file.write(f"[processes.laser]\nkerfs = {KERFS}\n")
    without = json.loads(call("holder", "quay frame", "--for", "laser", "--json").out)
    (told,) = (one["message"] for one in without["findings"] if one["code"] == "kerf-not-set")
    assert told.endswith(
        "one kerf wider: a measured one is in your profile, so say what the frame is made of (--material mdf)"
    )
    said = call("holder", "quay frame", "--for", "laser", "--material", "mdf")
    assert "kerf-not-set" not in said.out
    record = json.loads((here / "holders/quay-frame/quay-frame_holder.json").read_text(encoding="utf-8"))
    assert (record["material"], record["kerf"]) == ("mdf", {"upper": 0.19, "ledge": 0.21})
    assert [file["name"] for file in record["files"] if file["name"].endswith("dxf")] == [
        "quay-frame_upper_laser_kerf0.19_mm.dxf",
        "quay-frame_ledge_laser_kerf0.21_mm.dxf",
    ]


@pytest.mark.usefixtures("own")
def test_a_kerf_of_another_material_is_not_offered(call: Call, own: Path) -> None:
    """Measured in a sheet as thick as neither layer, or with a material named: it is to be measured."""
    with own.open("a", encoding="utf-8") as file:
        file.write('[processes.laser]\nkerfs = [{ sheet = "mdf", thickness = "3 mm", width = "0.19 mm" }]\n')
    for more in ((), ("--material", "plywood")):
        assert "wider: measure it, and" in " ".join(call("holder", "quay frame", "--for", "laser", *more).out.split())


@pytest.mark.usefixtures("own")
def test_what_must_not_go_into_a_laser(call: Call) -> None:
    """A stop where a laser is asked for; an unknown material is one line."""
    said = call("holder", "quay frame", "--material", "phenolic")
    assert said.status == 1
    words = "phenolic must not go into a laser: take another material, or leave laser out of --for"
    assert words in " ".join(said.out.split())
    assert call("holder", "quay frame", "--material", "phenolic", "--for", "cnc").status == 0
    assert call("holder", "quay frame", "--material", "mfd").err.startswith('--material: "mfd"')


@pytest.mark.usefixtures("own")
def test_the_unit_of_the_files(call: Call, own: Path, here: Path) -> None:
    """That of the holder, or what is asked for; the manifest's names say which, and ezdxf reads it."""
    call("holder", "quay frame", "--for", "laser", "--units", "in", "--kerf", "0.2 mm")
    names = made(here / "holders")
    assert {"quay-frame_upper_laser_kerf0.2mm_in.dxf", "quay-frame_upper_laser_kerf0.2mm.svg"} <= set(names)
    change(own, "width = 160", 'width = "8 in"')
    call("holder", "quay frame", "--for", "cnc", "--out", "inches")
    (path,) = (here / "inches").rglob("*_upper_cnc_in.dxf")
    assert ezdxf.filemanagement.readfile(path).header["$INSUNITS"] == 1
    call("holder", "quay frame", "--for", "cnc", "--units", "mm", "--out", "metric")
    assert [*(here / "metric").rglob("*_upper_cnc_mm.dxf")]


@pytest.mark.usefixtures("own")
def test_a_metric_holder_said_in_inches(call: Call, here: Path) -> None:
    """With --units in the facts, the listing and the paper are an inch person's; the record keeps the profile's words.

    220 mm are 8.661 in.
    """
    said = call("holder", "quay frame", "--units", "in")
    assert "    outside          8.661 x 8.661 in (220 x 220 mm), square corners" in said.out.splitlines()
    names = made(here / "holders")
    assert {"quay-frame_upper_paper_letter.pdf", "quay-frame_single_cnc_in.dxf"} <= set(names)
    assert "quay-frame_upper_paper_letter.pdf 8.661 x 8.661 in = 220 x 220 mm" in " ".join(said.out.split())
    record = json.loads((here / "holders/quay-frame/quay-frame_holder.json").read_text(encoding="utf-8"))
    assert record["holder"]["width"]["text"] == "160 mm"


def test_an_inch_holder_said_in_mm(call: Call, own: Path, here: Path) -> None:
    """The other way round."""
    change(own, "width = 160", 'width = "6-1/4 in"')
    assert "    outside          218.75 x 220 mm" in call("holder", "quay frame", "--units", "mm", "--for", "cnc").out
    assert "quay-frame_single_cnc_mm.dxf" in made(here / "holders")


def test_an_inch_holders_diagonal_in_inches_first(call: Call, own: Path, here: Path) -> None:
    """The check of a taped pattern; of one in mm the mm come first."""
    call("holder", "quay frame", "--for", "paper", "--paper", "a4")
    change(own, "width = 160", 'width = "6.3 in"')
    call("holder", "quay frame", "--for", "paper", "--paper", "a4", "--out", "inches")
    found = []
    for folder in ("holders", "inches"):
        (path,) = (here / folder).rglob("*_upper_paper_a4.pdf")
        text = " ".join(pypdfium2.PdfDocument(path)[0].get_textpage().get_text_bounded().split())
        found.append(re.search(r"to the middle of Q is [0-9.]+ (mm|in) \([0-9.]+ (mm|in)\)\.", text))
    assert [one and one.groups() for one in found] == [("mm", "in"), ("in", "mm")]


def test_tools_add_takes_the_new_keys(call: Call, here: Path) -> None:
    """A holder can be written down on the command line with all that its parts need, and made."""
    added = call(
        "tools", "add", "holders", "mine", "width=160 mm", "height=160 mm", "corner_radius=5 mm", "play=0.3 mm",
        "depth=6 mm", "window.width=116 mm", "window.height=116 mm", "window.corner_radius=6 mm",
        "ledge_thickness=9 mm", "frame=30 mm", "stand_off=9 mm", "insert=7 mm", "joining.pattern=corners",
        "joining.size=M5", "joining.inset=12 mm", "screws.pattern=corners", "screws.size=M5", "screws.inset=12 mm",
    )  # fmt: skip
    assert (added.status, added.err) == (0, "")
    assert call("holder", "mine", "--for", "cnc").status == 0
    assert "mine_single_cnc_mm.dxf" in made(here / "holders")


def test_help_loads_nothing_heavy(shell: Call) -> None:
    """The command's help names its options and ends with status 0."""
    said = shell("holder", "--help")
    assert said.status == 0
    assert all(name in said.out for name in ("--out", "--for", "--kerf", "--paper", "--tools", "--profiles", "--json"))


@pytest.mark.parametrize(
    "name", ["bench-frame-140", "rail-carrier-200", "door-edge-8x5", "quay-frame-160", "turntable-180"]
)
def test_every_shipped_holder_can_be_made(name: str, call: Call, here: Path) -> None:
    """A profile that comes with the program lacks nothing: its three parts are files, and nothing is a stop."""
    said = call("holder", name, "--for", "cnc")
    assert (said.status, said.err) == (0, "")
    assert len(made(here / "holders")) == 7  # each of three parts as DXF and SVG, and the manifest


def test_no_shipped_holder_is_left_out_of_that() -> None:
    """The names above are all there are."""
    shipped = {found.name for found in Profiles().entries("holders")}
    assert shipped == {"bench-frame-140", "rail-carrier-200", "door-edge-8x5", "quay-frame-160", "turntable-180"}
