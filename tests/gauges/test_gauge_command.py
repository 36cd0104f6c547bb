"""The command `gauge`: statuses, files and their names, text, JSON, and one line for every fault."""

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.writers.files import write_all

Call = Callable[..., Any]

MDF = ("--material", "mdf", "--thickness", "6 mm")


def files_in(folder: Path) -> list[str]:
    """Every file below a folder, by its path."""
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def test_the_bushing_gauges_files(call: Call, here: Path) -> None:
    """DXF and SVG for laser and CNC router, the sheet and the record, in a folder of its own below gauges."""
    said = call("gauge", "bushing", "--bushing", "12 mm", *MDF, "--kerf", "0.2 mm")
    assert (said.status, said.err) == (0, "")
    stem = "gauges/gauge-bushing-12-mm/gauge-bushing-12-mm"
    assert files_in(here) == sorted(
        f"{stem}_{name}"
        for name in (
            "cnc.svg", "cnc_mm.dxf", "gauge.json", "how.pdf", "laser_kerf0.2.svg", "laser_kerf0.2_mm.dxf",
        )
    )  # fmt: skip


def test_what_the_terminal_says(call: Call, here: Path) -> None:
    """Title, facts, files with the size to check, what to do in order, the command to type, cautions."""
    out = call("gauge", "kerf", *MDF).out.splitlines()
    assert out[0] == "Kerf gauge, mdf 6 mm"
    assert "  rule         gap / 10 = kerf, the full width the beam removes" in out
    assert "    gauge-kerf-mdf-6-mm_laser_mm.dxf  92 x 51 mm = 3.622 x 2.008 in" in out
    assert "    gauge-kerf-mdf-6-mm_how.pdf       page 210 x 297 mm = 8.268 x 11.693 in" in out
    assert out.index("Then enter the reading:") < out.index("Before you begin:")
    assert '  jigtemplates calibrate kerf --gap "____ mm" --cuts 10 --material mdf --thickness "6 mm"' in out
    assert "  - Never laser PVC, vinyl or unknown plastic; never leave a running laser." in out


def test_the_printer_gauge_is_a_page_for_each_paper(call: Call, here: Path) -> None:
    """A4 and Letter where none is named; the page itself says how it is used."""
    said = call("gauge", "printer")
    assert said.status == 0
    assert files_in(here / "gauges" / "gauge-printer") == [
        "gauge-printer_gauge.json",
        "gauge-printer_paper_a4.pdf",
        "gauge-printer_paper_letter.pdf",
    ]
    assert said.out.splitlines()[-1] == "How it is used stands on the page."


def test_the_same_call_makes_the_same_bytes(call: Call, here: Path) -> None:
    """A second call leaves every file as it was, and says so; another folder gets the same bytes."""
    call("gauge", "bushing", "--bushing", "12 mm", *MDF)
    first = {name: (here / "gauges" / name).read_bytes() for name in files_in(here / "gauges")}
    said = call("gauge", "bushing", "--bushing", "12 mm", *MDF)
    assert "  Files in gauges/gauge-bushing-12-mm (unchanged), with the overall size" in said.out
    call("gauge", "bushing", "--bushing", "12 mm", *MDF, "--out", "b")
    assert {name: (here / "b" / name).read_bytes() for name in files_in(here / "b")} == first


def test_json_is_one_object(call: Call, here: Path) -> None:
    """Kind, plate, openings with engraved text and mm, what to do, the command, findings and files."""
    said = call("gauge", "bushing", "--bushing", "1/2 in", "--steps", "3", "--for", "cnc", "--json")
    found = json.loads(said.out)
    assert set(found) == {
        "kind", "title", "plate", "kerf", "bushing", "unit", "openings", "how", "enter", "findings", "files",
    }  # fmt: skip
    assert found["openings"] == [
        {"engraved": "0.498", "value": 12.6492, "width": 12.6492},
        {"engraved": "0.500", "value": 12.7, "width": 12.7},
        {"engraved": "0.502", "value": 12.7508, "width": 12.7508},
    ]
    assert (found["bushing"], found["unit"]) == ({"name": "1/2 in", "diameter": 12.7}, "in")
    assert found["files"][0] == "gauges/gauge-bushing-1-2-in/gauge-bushing-1-2-in_cnc_in.dxf"
    assert found["findings"] == []


def test_json_of_a_fit_gauge_has_the_cuts(call: Call, rail: Path) -> None:
    """Every opening with the cut that routing predicts."""
    found = json.loads(call("gauge", "fit", "rail.toml", "--steps", "3", "--for", "cnc", "--json").out)
    assert [(one["engraved"], one["width"], one["cut"]) for one in found["openings"]] == [
        ("9.95", 13.125, 9.95),
        ("10.00", 13.175, 10.0),
        ("10.05", 13.225, 10.05),
    ]
    assert (found["job"], found["wanted"]) == ("rail.toml", 10.0)


def test_a_stop_is_status_1_and_writes_nothing(call: Call, here: Path) -> None:
    """Phenolic in a laser: the finding, the sentence, no folder; the same with --json."""
    said = call("gauge", "kerf", "--material", "phenolic", "--thickness", "6 mm")
    assert said.status == 1
    assert "  Nothing is made until what is marked stop is changed." in said.out
    assert files_in(here) == []
    found = json.loads(call("gauge", "kerf", "--material", "phenolic", "--thickness", "6 mm", "--json").out)
    assert (found["files"], found["findings"][0]["level"]) == ([], "stop")


def test_a_file_of_several_sizes_gets_a_gauge_for_each(call: Call, rail: Path) -> None:
    """Two sizes, two folders, two JSON objects; the command to type names the size."""
    text = rail.read_text(encoding="utf-8")
    head, cut = text.index("[cut]"), text[text.index("[cut]") : text.index("[tools]")]
    rail.write_text(
        text[:head] + text[text.index("[tools]") :] + cut.replace("[cut]", "[cuts.small]")
        + cut.replace("[cut]", "[cuts.large]").replace("width  = 10", "width  = 12"),
        encoding="utf-8",
    )  # fmt: skip
    found = json.loads(call("gauge", "fit", "rail.toml", "--for", "cnc", "--json").out)
    assert [one["wanted"] for one in found] == [10.0, 12.0]
    command = 'jigtemplates calibrate cut rail.toml --size large --gauge --engraved "____ mm" --tenon "____ mm"'
    assert found[1]["enter"] == command
    folders = sorted(path.name for path in (rail.parent / "gauges").iterdir())
    assert folders == ["gauge-fit-rail-large", "gauge-fit-rail-small"]


def test_files_of_an_earlier_call_are_named(call: Call, here: Path) -> None:
    """Made for laser first and for the CNC router then: the laser's files are named as perhaps no longer right."""
    call("gauge", "bushing", "--bushing", "12 mm", "--for", "laser", "--kerf", "0.2 mm")
    said = call("gauge", "bushing", "--bushing", "12 mm", "--for", "cnc", "--json")
    (found,) = json.loads(said.out)["findings"]
    assert (found["code"], found["where"]) == ("older-files", "--for")
    assert "gauge-bushing-12-mm_laser_kerf0.2.svg" in found["message"]


BUSHINGS = """\
[bushings."my 1/2"]
diameter = "12.7 mm"
[bushings."my 1-2"]
diameter = "16 mm"
"""


def test_bushings_whose_names_make_the_same_file_name(call: Call, here: Path) -> None:
    """The second is refused in a line and the first stays, to be made again; elsewhere it is made."""
    (here / "profiles").mkdir()
    (here / "profiles" / "tools.toml").write_text(BUSHINGS, encoding="utf-8")
    first = ("gauge", "bushing", "--bushing", "my 1/2", "--for", "cnc")
    second = ("gauge", "bushing", "--bushing", "my 1-2", "--for", "cnc")
    call(*first)
    record = (here / "gauges" / "gauge-bushing-my-1-2" / "gauge-bushing-my-1-2_gauge.json").read_bytes()
    said = call(*second)
    assert (said.status, said.faults) == (
        2,
        [
            'gauges/gauge-bushing-my-1-2: holds "Bushing gauge, my 1/2", which "Bushing gauge, my 1-2" would replace, '
            "for both make the same file name (choose another folder with --out, or delete that one)"
        ],
    )
    assert (here / "gauges" / "gauge-bushing-my-1-2" / "gauge-bushing-my-1-2_gauge.json").read_bytes() == record
    assert call(*first, "--steps", "5").status == 0
    assert call(*second, "--out", "others").status == 0


def test_the_fit_gauge_of_another_job_before(call: Call, rail: Path) -> None:
    """A job's title may have changed, so that is a warning; a record that cannot be read says nothing."""
    made = ("gauge", "fit", "rail.toml", "--for", "cnc", "--json")

    def warned() -> list[str]:
        return [
            one["message"] for one in json.loads(call(*made).out)["findings"] if one["code"] == "other-gauge-before"
        ]

    assert warned() == []
    rail.write_text(rail.read_text(encoding="utf-8").replace("Bench rail", "Door rail"), encoding="utf-8")
    assert warned() == [
        'the files that stood in gauges/gauge-fit-rail were "Fit gauge, Bench rail, 10 x 50", and are replaced by '
        '"Fit gauge, Door rail, 10 x 50": if that was of another job, choose another folder with --out'
    ]
    assert warned() == []
    record = rail.parent / "gauges" / "gauge-fit-rail" / "gauge-fit-rail_gauge.json"
    for damaged in ('{"gauge": 5}', '{"gauge": {"title": 5}}', "[", "{}"):
        record.write_text(damaged, encoding="utf-8")
        assert warned() == []


def test_another_bit_stands_in_for_the_jobs(call: Call, rail: Path) -> None:
    """With --bit 8 mm and --bushing 14 mm the openings are 6 mm wider than the cuts."""
    said = call("gauge", "fit", "rail.toml", "--bit", "8", "--bushing", "14", "--for", "cnc", "--json")
    first = json.loads(said.out)["openings"][0]
    assert first["width"] - first["value"] == pytest.approx(6)


def test_a_gauge_among_templates_leaves_the_drawer_readable(call: Call, rail: Path) -> None:
    """`drawer` lists the one template of a folder that a gauge was made into as well."""
    call("make", "rail.toml", "--for", "cnc")
    call("gauge", "kerf", *MDF, "--out", "templates")
    said = call("drawer", "templates")
    assert (said.status, said.out.splitlines()[0]) == (0, "1 template")


def test_a_jobs_folder_is_not_replaced(call: Call, rail: Path) -> None:
    """A job that is called as the gauge is keeps its templates."""
    rail.rename(rail.with_name("gauge-printer.toml"))
    call("make", "gauge-printer.toml", "--for", "cnc")
    before = files_in(rail.parent)
    said = call("gauge", "printer", "--out", "templates")
    assert (said.status, said.faults) == (
        2,
        [
            'templates/gauge-printer: holds the templates of a job called "gauge-printer", which the gauge would '
            "replace (rename the job, or choose another folder with --out)"
        ],
    )
    assert files_in(rail.parent) == before


def test_all_files_or_none(call: Call, here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where one file cannot be written none is: a folder stands in the sheet's place."""
    (here / "gauges" / "gauge-kerf-mdf-6-mm" / "gauge-kerf-mdf-6-mm_how.pdf").mkdir(parents=True)
    said = call("gauge", "kerf", *MDF)
    assert (said.status, len(said.faults)) == (2, 1)
    assert "it is a folder" in said.err
    assert files_in(here) == []


def test_everything_is_written_at_once(call: Call, here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One call of write_all takes all six files, the record last."""
    taken: list[list[str]] = []

    def spy(files: Any) -> Any:
        taken.append([path.name for path in files])
        return write_all(files)

    monkeypatch.setattr("jigtemplates.gauges.making.write_all", spy)
    call("gauge", "bushing", "--bushing", "12 mm")
    assert (len(taken), len(taken[0]), taken[0][-1]) == (1, 6, "gauge-bushing-12-mm_gauge.json")


def test_the_record_has_hashes_and_no_clock(call: Call, here: Path) -> None:
    """Program, libraries, what the gauge was asked for, and each file with its size and SHA-256."""
    call("gauge", "kerf", *MDF)
    folder = here / "gauges" / "gauge-kerf-mdf-6-mm"
    record = json.loads((folder / "gauge-kerf-mdf-6-mm_gauge.json").read_text(encoding="utf-8"))
    assert set(record) == {"program", "libraries", "pens", "own_bits", "gauge", "files", "sha256"}
    assert record["gauge"]["cuts"] == 10
    dxf = record["files"][0]
    assert (dxf["name"], dxf["width_mm"], len(dxf["sha256"])) == ("gauge-kerf-mdf-6-mm_laser_mm.dxf", 92.0, 64)


@pytest.mark.parametrize(
    ("args", "lines"),
    [
        (("bushing",), ["Missing option '--bushing' (see: jigtemplates gauge bushing --help)"]),
        (("frob",), ["No such command 'frob' (see: jigtemplates gauge --help)"]),
        (
            ("bushing", "--bushing", "12,7 mm", "--step", "x", "--material", "mfd", "--kerf", "-1 mm"),
            [
                '--step: "x" is not a length (the number is missing; write a number and a unit, such as 9.5 mm or '
                "3/8 in)",
                '--bushing: "12,7 mm" is not a length (write 12.7 mm)',
                '--material: "mfd" is not among the sheets (did you mean "mdf"? To list them: jigtemplates profiles '
                "sheets)",
                '--kerf: "-1 mm" is not a size (write 0 or more)',
            ],
        ),
        (
            ("bushing", "--bushing", "12 mm", "--for", "paper"),
            [
                "--for: a paper pattern is good to a few tenths of a millimetre, so this gauge is not made on paper "
                "(write laser or cnc)"
            ],
        ),
        (
            ("bushing", "--bushing", "12 mm", "--for", "print"),
            ["--for: a gauge is not made as a printed plate (write laser or cnc)"],
        ),
        (("bushing", "--bushing", "12 mm", "--for", "cnc", "cnc"), ['--for: "cnc" stands there twice (keep one)']),
        (
            ("bushing", "--bushing", "12 mm", "--for", "cnc", "--kerf", "0.2 mm"),
            ["--kerf: only a laser's file allows for it (leave it out, or add laser to --for)"],
        ),
        (
            ("bushing", "--bushing", "12 mm", "--kerf", "3 mm"),
            ['--kerf: "3 mm" is too much for a laser (at most 2 mm)'],
        ),
        (
            ("bushing", "--bushing", "1/2 in", "--kerf", "1/8 in"),
            ['--kerf: "1/8 in" is too much for a laser (at most 0.079 in = 2 mm)'],
        ),
        (
            ("bushing", "--bushing", "12 mm", "--from", "19 mm", "--to", "20 mm"),
            [
                "--from: the row, 19.00 to 20.00 mm in steps of 0.05 mm, is nowhere near the bushing, 12 mm = 0.472 in "
                "(is the unit right?)"
            ],
        ),
        (
            ("bushing", "--bushing", "12 mm", "--sheet", "300 mm"),
            ['--sheet: "300 mm" is not a width and a height (write "600 x 300 mm")'],
        ),
        (
            ("bushing", "--bushing", "12 mm", "--sheet", "a x 0 mm"),
            [
                '--sheet: "a mm" is not a length (the number is missing; write a number and a unit, such as 9.5 mm or '
                "3/8 in)",
                '--sheet: "0 mm" is not a size (write a length greater than 0)',
            ],
        ),
        (
            ("fit", "none.toml", "--steps", "x", "--for", "paper", "--sheet", "x"),
            [
                '--steps: "x" is not a number of openings (write a whole number from 2 to 40)',
                "--for: a paper pattern is good to a few tenths of a millimetre, so this gauge is not made on paper "
                "(write laser or cnc)",
                '--sheet: "x" is not a width and a height (write "600 x 300 mm")',
                "none.toml: there is no such file",
            ],
        ),
        (
            ("printer", "--paper", "a4", "--paper", "a4", "--paper", "a7"),
            [
                '--paper: "a4" stands there twice (keep one)',
                '--paper: "a7" is not among the papers (known: "a4", "a3", "letter", "tabloid". To list them: '
                "jigtemplates profiles papers)",
            ],
        ),
    ],
)
def test_a_fault_is_a_line_and_all_are_said_at_once(
    call: Call, here: Path, args: tuple[str, ...], lines: list[str]
) -> None:
    """Status 2, every fault on stderr in a line of its own, nothing on stdout, nothing written."""
    said = call("gauge", *args)
    assert (said.status, said.out) == (2, "")
    assert said.faults == lines
    assert files_in(here) == []


def test_cautions_too_long_for_a_page(call: Call, here: Path) -> None:
    """A sheet with pages of cautions: one line, and nothing is written."""
    (here / "profiles").mkdir()
    cautions = json.dumps(["Mind the dust of this board. " * 60] * 6)
    (here / "profiles" / "sheets.toml").write_text(
        f'units = "mm"\n[sheets.board]\nthickness = [6]\nlaser = true\nmin_wall = 6\ncautions = {cautions}\n',
        encoding="utf-8",
    )
    said = call("gauge", "kerf", "--material", "board", "--thickness", "6 mm")
    assert (said.status, said.faults) == (
        2,
        [
            "gauge-kerf-board-6-mm: what is to be said of the gauge is too long for one page (shorten the cautions of "
            "the sheet in its profile)"
        ],
    )
    assert not (here / "gauges").exists()


def test_a_reader_that_has_seen_enough(call: Call, here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`| head` closes the pipe: the files are there and the status still counts."""

    def gone(*_args: object, **_options: object) -> None:
        raise BrokenPipeError

    monkeypatch.setattr("jigtemplates.gauges.command.click.echo", gone)
    monkeypatch.setattr("jigtemplates.gauges.command.silence", lambda: None)
    assert call("gauge", "printer").status == 0
    assert len(files_in(here / "gauges")) == 3


def test_a_sheet_whose_name_cannot_be_engraved(call: Call, here: Path) -> None:
    """The plate leaves it out; the gauge is made."""
    (here / "profiles").mkdir()
    (here / "profiles" / "sheets.toml").write_text(
        'units = "mm"\n[sheets."木板"]\nthickness = [6]\nlaser = true\nmin_wall = 6\n', encoding="utf-8"
    )
    said = call("gauge", "kerf", "--material", "木板", "--thickness", "6 mm")
    assert (said.status, said.err) == (0, "")
    assert len(files_in(here / "gauges")) == 4


def test_help_loads_nothing_heavy(here: Path) -> None:
    """Help of a kind loads none of the libraries that take time."""
    code = (
        "import sys; from jigtemplates.cli import run; run(sys.argv[1:]); heavy = {'shapely', 'numpy', 'ezdxf', "
        "'reportlab', 'pydantic', 'svgwrite', 'HersheyFonts'}; print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, "gauge", "fit", "--help"], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"


def test_sides_of_a_sheet_may_each_have_their_unit(call: Call, here: Path) -> None:
    """24 in by 200 mm is taken; two inch marks too."""
    for sheet in ("24 in x 200 mm", '24" x 12"', "600 × 300 mm"):
        assert call("gauge", "kerf", *MDF, "--sheet", sheet).status == 0


@pytest.mark.parametrize("args", [("gauge",), ("gauge", "--help")])
def test_help_names_the_kinds_in_the_order_of_the_work(call: Call, here: Path, args: tuple[str, ...]) -> None:
    """Without a kind, and with --help: printer and kerf come before bushing and fit, which build on them."""
    said = call(*args)
    assert (said.status, said.err) == (0, "")
    order = [said.out.index(f"jigtemplates gauge {kind}") for kind in ("printer", "kerf", "bushing", "fit")]
    assert order == sorted(order)
