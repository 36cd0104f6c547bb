"""The command line's promises: statuses, JSON, the files that are made, options, and one line for a fault."""

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates import cli

Call = Callable[..., Any]

ALL_FILES = [
    "rail.json",
    "rail_cnc.svg",
    "rail_cnc_mm.dxf",
    "rail_laser.svg",
    "rail_laser_mm.dxf",
    "rail_paper_a4.pdf",
    "rail_paper_letter.pdf",
    "rail_setup.pdf",
]


def everything(folder: Path) -> dict[str, bytes | None]:
    """Every path under a folder, with the bytes of the files."""
    found = sorted(folder.rglob("*"))
    return {p.relative_to(folder).as_posix(): p.read_bytes() if p.is_file() else None for p in found}


def made(folder: Path) -> list[str]:
    """Names of the files under a folder."""
    return sorted(p.name for p in folder.rglob("*") if p.is_file())


def spoil(rail: Path, old: str, new: str) -> None:
    text = rail.read_text(encoding="utf-8")
    assert old in text
    rail.write_text(text.replace(old, new), encoding="utf-8")


def test_check_is_0_where_the_job_can_be_made(call: Call, rail: Path) -> None:
    """A good job: status 0, its numbers on stdout, nothing on stderr."""
    said = call("check", "rail.toml")
    assert (said.status, said.err) == (0, "")
    assert "13.175 x 53.175 mm" in said.out  # 10 + (12.7 - 9.525) and 50 + the same
    assert "34 mm from the base" in said.out  # plate 6 + cut 28


def test_check_is_1_where_the_job_is_stopped(call: Call, rail: Path) -> None:
    """A bit wider than the cut is a stop: status 1, named on stdout, nothing on stderr."""
    spoil(rail, 'bit       = "3/8 in"', 'bit       = "11 mm"')
    said = call("check", "rail.toml")
    assert (said.status, said.err) == (1, "")
    assert "stop     tools.bit: the bit (11 mm) is wider than the cut (10 mm)" in said.out


def test_check_is_2_where_the_job_cannot_be_read(call: Call, rail: Path) -> None:
    """Two faults in a job are two lines on stderr with file, line and key; nothing on stdout."""
    spoil(rail, "width  = 10\n", 'width  = "12,7 mm"\n')
    spoil(rail, "thickness = 6", "thicknes = 6")
    said = call("check", "rail.toml")
    assert (said.status, said.out) == (2, "")
    assert said.faults[0] == 'rail.toml:6: cut.width: "12,7 mm" is not a length (write 12.7 mm)'
    assert any(line.startswith('rail.toml:19: plate: unknown key "thicknes"') for line in said.faults[1:])


@pytest.mark.parametrize("options", [(), ("--json",)])
def test_check_writes_nothing(shell: Call, rail: Path, options: tuple[str, ...]) -> None:
    """After `check` the folder and the home folder hold what they held before, byte for byte."""
    before = everything(rail.parent.parent)
    assert shell("check", "rail.toml", *options).status == 0
    assert everything(rail.parent.parent) == before


def test_json_is_one_object_with_the_keys_of_the_plan(shell: Call, rail: Path) -> None:
    """stdout of `check --json` is one JSON object; keys, types and figures are those of the plan's section 5."""
    said = shell("check", "rail.toml", "--json")
    found = json.loads(said.out)  # fails where anything else is on stdout
    assert (said.status, said.err) == (0, "")
    assert set(found) - {"pass_depths", "budget"} == {
        "title", "opening", "offset", "predicted_cut", "side_play", "trapped", "plunge_depth", "passes",
        "findings", "files",
    }  # fmt: skip
    assert found["title"] == "Bench rail, 10 x 50"
    assert found["opening"] == {"width": 13.175, "length": 53.175, "corner_radius": 6.5875}
    assert found["predicted_cut"] == pytest.approx(
        {"width": 10, "length": 50, "max_deviation": 0, "unreachable_area": 0}, abs=1e-6
    )
    assert (found["offset"], found["side_play"], found["plunge_depth"]) == (1.5875, 0.475, 34.0)
    assert (found["trapped"], found["files"]) == (False, [])
    assert type(found["passes"]) is int
    for finding in found["findings"]:
        assert set(finding) == {"level", "code", "where", "message"}
        assert finding["level"] in {"stop", "warning", "note"}


def test_json_of_several_jobs_is_a_list(call: Call, rail: Path) -> None:
    """Two jobs give a list of two objects, in the order they were named."""
    (rail.parent / "a.toml").write_text(rail.read_text(encoding="utf-8").replace("Bench rail", "A"), encoding="utf-8")
    found = json.loads(call("check", "rail.toml", "a.toml", "--json").out)
    assert [one["title"] for one in found] == ["Bench rail, 10 x 50", "A, 10 x 50"]


def test_json_of_a_stopped_job_has_no_opening(call: Call, rail: Path) -> None:
    """Where the bit does not fit, `make --json` is status 1 and opening and predicted cut are null."""
    said = call("make", "rail.toml", "--bit", "11 mm", "--json")
    found = json.loads(said.out)
    assert (said.status, found["opening"], found["predicted_cut"], found["files"]) == (1, None, None, [])
    assert "stop" in [finding["level"] for finding in found["findings"]]


def test_json_of_an_unreadable_job_is_nothing(call: Call, here: Path) -> None:
    """A job that is not there leaves stdout empty, so that no reader takes half an answer for one."""
    said = call("check", "nowhere.toml", "--json")
    assert said == (2, "", "nowhere.toml: there is no such file\n")


def test_make_writes_the_files_of_the_plan(call: Call, rail: Path) -> None:
    """`make` writes exactly the plan's files, into templates/<stem>, names them, and leaves the job alone."""
    job = rail.read_bytes()
    said = call("make", "rail.toml", "--json")
    assert (said.status, said.err, rail.read_bytes()) == (0, "", job)
    assert sorted(p.name for p in rail.parent.iterdir()) == ["rail.toml", "templates"]
    assert [p.name for p in (rail.parent / "templates").iterdir()] == ["rail"]
    assert made(rail.parent / "templates") == ALL_FILES
    assert sorted(json.loads(said.out)["files"]) == [f"templates/rail/{name}" for name in ALL_FILES]


def test_make_writes_into_the_folder_of_out(call: Call, rail: Path) -> None:
    """`--out` names the folder, made with its parents; the size to check stands beside each file's name."""
    said = call("make", "rail.toml", "--out", "a/b", "--for", "cnc")
    assert made(rail.parent / "a" / "b" / "rail") == ["rail.json", "rail_cnc.svg", "rail_cnc_mm.dxf", "rail_setup.pdf"]
    assert "  Files in a/b/rail, with the overall size" in said.out
    assert "    rail_cnc_mm.dxf  140 x 140 mm = 5.512 x 5.512 in" in said.out
    assert not (rail.parent / "templates").exists()


@pytest.mark.parametrize(
    "given",
    [
        ("rail.toml", "--for", "laser", "cnc"),
        ("rail.toml", "--for", "laser", "--for", "cnc"),
        ("--for", "laser", "cnc", "rail.toml"),
        ("--for=laser", "cnc", "rail.toml"),
        ("--for", "laser", "--for", "cnc", "--", "rail.toml"),
    ],
)
def test_for_takes_targets_in_a_row_or_one_by_one(call: Call, rail: Path, given: tuple[str, ...]) -> None:
    """`--for laser cnc` and `--for laser --for cnc` mean the same, before or after the job."""
    assert call("make", *given).status == 0
    assert made(rail.parent / "templates") == [name for name in ALL_FILES if "paper" not in name]


def test_for_names_a_job_where_no_target_follows(call: Call, here: Path, rail: Path) -> None:
    """A job called cnc is a job: only right behind `--for` and its targets is the word a target."""
    (here / "cnc").write_bytes(rail.read_bytes())
    assert call("make", "cnc", "--for", "laser").status == 0
    assert made(here / "templates") == ["cnc.json", "cnc_laser.svg", "cnc_laser_mm.dxf", "cnc_setup.pdf"]


def test_another_bit_and_bushing(call: Call, rail: Path) -> None:
    """`--bit` and `--bushing` stand in for the job's tools; a bare number is in the job's units."""
    said = call("make", "rail.toml", "--bit", "8", "--bushing", "5/8 in", "--json")
    found = json.loads(said.out)
    assert (said.status, found["offset"], found["opening"]["width"]) == (0, 3.9375, 17.875)  # (15.875 - 8) / 2


@pytest.mark.parametrize(
    ("options", "line"),
    [
        (("--bit", "12,7 mm"), '--bit: "12,7 mm" is not a length (write 12.7 mm)'),
        (("--bushing", "nan"), '--bushing: "nan" is not a length'),
        (("--bit", ""), '--bit: "" is not a length (it is empty'),
        (("--bit", "0"), '--bit: "0" is not a size (write a length greater than 0)'),
        (("--for", "plastic"), '--for: "plastic" is not known here (known: "laser", "cnc", "paper", "print")'),
        (("--for", "lazer"), '--for: "lazer" is not known here (did you mean "laser"?)'),
        (("--for", "cnc", "cnc"), '--for: "cnc" stands there twice (keep one)'),
        (("--profiles", "nowhere"), "nowhere: there is no such folder"),
        (("--out", "rail.toml"), "rail.toml: nothing can be written there: this is not a folder"),
        (("--out", "rail.toml/deeper"), "rail.toml: nothing can be written there: this is not a folder"),
        (("--frob",), "No such option '--frob'"),
        (("--for",), "Option '--for' requires an argument: --for NAME..."),
        (
            ("--kerf", "0.2"),
            "No such option '--kerf': it stands in the job, as make.kerf (see: jigtemplates make --help)",
        ),
    ],
)
def test_a_faulty_option_is_one_line(call: Call, rail: Path, options: tuple[str, ...], line: str) -> None:
    """Each faulty option: status 2, one line that names it, nothing on stdout, nothing written."""
    said = call("make", "rail.toml", *options)
    assert (said.status, said.out, len(said.faults)) == (2, "", 1)
    assert said.err.startswith(line)
    assert made(rail.parent) == ["rail.toml"]


@pytest.mark.parametrize(
    ("args", "line"),
    [
        (("frob",), "No such command 'frob' (see: jigtemplates --help)"),
        (("chekc", "a.toml"), "No such command 'chekc'. Did you mean 'check'? (see: jigtemplates --help)"),
        (("a.toml",), "No such command 'a.toml'. To check a job: jigtemplates check a.toml (see: jigtemplates --help)"),
        (
            ("tools", "chnage", "bits", "a", "shank=3 mm"),
            "No such command 'chnage'. Did you mean 'change'? (see: jigtemplates tools --help)",
        ),
        (("tools", "lst"), "No such command 'lst'. Did you mean 'list'? (see: jigtemplates tools --help)"),
        (("tools", "lst.toml"), "lst.toml: there is no such file"),
        (("check",), "Missing argument 'JOB...' (see: jigtemplates check --help)"),
        (("make",), "Missing argument 'JOB...' (see: jigtemplates make --help)"),
        (("check", "a.toml", "--out", "b"), "No such option '--out'"),
        (("inlay", "--plug", "1/8 in"), "Option '--plug' requires 2 arguments: --plug BIT BUSHING"),
        (
            ("calibrate", "cut", "a.toml", "--correct"),
            "Option '--correct' requires an argument: --correct bit|bushing|kerf",
        ),
        (("calibrate", "--file"), "Option '--file' requires an argument: --file FILE"),
        (("drawer", "--kerf", "1"), "No such option '--kerf' (see: jigtemplates drawer --help)"),
        (("new", "--shape", "star"), "Invalid value for '--shape': 'star' is not one of 'slot', 'round', 'rectangle'"),
        (("new", "--units", "cm"), "Invalid value for '--units': 'cm' is not one of 'mm', 'in'"),
        (("new", "a.toml", "b.toml"), "Got unexpected extra argument"),
    ],
)
def test_a_call_that_is_not_understood_is_one_line(call: Call, here: Path, args: tuple[str, ...], line: str) -> None:
    """Unknown commands, options and values: status 2 and one line; nothing is written."""
    said = call(*args)
    assert (said.status, said.out, len(said.faults)) == (2, "", 1)
    assert said.err.startswith(line)
    assert made(here) == []


def test_a_stop_writes_nothing_and_leaves_the_old_files(call: Call, rail: Path) -> None:
    """A job that was made and is stopped now: status 1, the old files stay byte for byte, it is said."""
    assert call("make", "rail.toml", "--for", "cnc").status == 0
    before = everything(rail.parent)
    said = call("make", "rail.toml", "--bit", "11 mm")
    assert said.status == 1
    assert "Nothing is made until what is marked stop is changed." in said.out
    assert everything(rail.parent) == before


def test_a_fault_leaves_the_old_files(call: Call, rail: Path) -> None:
    """A job that was made and cannot be read now: status 2 and the old files stay byte for byte."""
    assert call("make", "rail.toml", "--for", "cnc").status == 0
    spoil(rail, "thickness = 6", "thickness = six")
    before = everything(rail.parent)
    assert call("make", "rail.toml").status == 2
    assert everything(rail.parent) == before


def test_version(call: Call, shell: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """`--version` prints name and number; a checkout that was never installed says so instead of failing."""
    assert shell("--version") == (0, "jigtemplates 0.1.0\n", "")
    from importlib import metadata

    def missing(name: str) -> str:
        raise metadata.PackageNotFoundError(name)

    monkeypatch.setattr(metadata, "version", missing)
    assert call("--version") == (0, "jigtemplates unknown\n", "")


@pytest.mark.parametrize("args", [(), ("--help",), ("-h",)])
def test_help_names_the_commands(call: Call, args: tuple[str, ...]) -> None:
    """Help, asked for or not: status 0 and the four commands."""
    said = call(*args)
    assert (said.status, said.err) == (0, "")
    for command in ("check", "make", "new", "profiles"):
        assert f"\n  {command} " in said.out


@pytest.mark.parametrize(
    "args", [["--help"], ["make", "--help"], ["calibrate", "cut", "--help"], ["--version"], ["new", "-"]]
)
def test_light_commands_load_nothing_heavy(here: Path, args: list[str]) -> None:
    """Help, the version and `new` load none of the libraries that take time."""
    code = (
        "import sys; from jigtemplates.cli import run; run(sys.argv[1:]); heavy = {'shapely', 'numpy', 'ezdxf', "
        "'reportlab', 'pint', 'pydantic', 'rich', 'svgwrite', 'HersheyFonts'}; print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code, *args], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_the_installed_command_and_the_module_are_the_same(shell: Call, rail: Path) -> None:
    """The script that pip installs says what `python -m jigtemplates` says."""
    script = Path(sys.executable).with_name("jigtemplates")
    if not script.exists():
        pytest.skip("the package is not installed in this environment, so there is no script")
    done = subprocess.run([script, "check", "rail.toml"], capture_output=True, encoding="utf-8", check=False)
    assert (done.returncode, done.stdout) == shell("check", "rail.toml")[:2]


def test_main_leaves_with_the_status(rail: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`main` ends the program with the status that `run` returns."""
    with pytest.raises(SystemExit) as left:
        cli.main(["make", "rail.toml", "--bit", "11 mm"])
    assert left.value.code == 1
    assert "stop" in capsys.readouterr().out


def test_ctrl_c_is_one_line(call: Call, rail: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C in the middle of a job: status 130 as shells have it, one line, nothing written."""

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("jigtemplates.batch.report_on", interrupted)
    said = call("make", "rail.toml")
    assert (said.status, said.err) == (130, "stopped; no file is half-written\n")
    assert made(rail.parent) == ["rail.toml"]


def test_a_fault_of_ours_is_one_line(call: Call, rail: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error nobody foresaw, outside of any job, is one line that asks to be reported, and status 2."""

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("two\nlines")

    monkeypatch.setattr("jigtemplates.batch.Batch.of", broken)
    said = call("check", "rail.toml")
    assert said == (2, "", "a fault in jigtemplates itself: ZeroDivisionError: two lines (please report it)\n")
