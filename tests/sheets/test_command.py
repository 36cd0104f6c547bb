"""`jigtemplates sheet`: what it prints, its statuses, and bad input all at once."""

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

Call = Callable[..., Any]
Job = Callable[..., Path]


def words(text: str) -> str:
    """With single spaces, as if the terminal were wide."""
    return " ".join(text.split())


def test_it_prints_each_sheet_and_its_files(job: Job, call: Call, here: Path) -> None:
    """Material, plates, share, what is left whole; files with the size to check with a rule."""
    job("rail", (140, 100))
    job("post", (120, 90))
    said = call("sheet", ".", "--stock", "600x400", "--name", "set", "--copies", "2", "--copies", "post=1")
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines()[:3] == [
        "set",
        "  laser: mdf, 6 mm: 3 of 3 plates on 1 sheet",
        "    sheet 1   600 x 400 mm, 16 % used: post, 2 x rail; 472 x 400 mm left whole",
    ]
    assert "Files in sheets/set, with the overall size to check with a rule:" in said.out
    assert "set_mdf-6mm_sheet1_laser_mm.dxf 120 x 376 mm = 4.724 x 14.803 in" in words(said.out)
    assert "set_sheets.pdf page 210 x 297 mm = 8.268 x 11.693 in" in words(said.out)
    assert (here / "sheets/set/set_sheets.pdf").exists()


def test_what_was_not_laid_is_status_1(job: Job, call: Call) -> None:
    """Too large: named, with by how much; the others are laid."""
    job("rail", (140, 100))
    job("large", (700, 100))
    said = call("sheet", ".", "--stock", "600x400", "--name", "set")
    assert (said.status, said.err) == (1, "")
    assert "stop --stock: large not laid: 700 x 100 mm is 110 mm too wide" in words(said.out)
    assert "1 of 2 plates on 1 sheet" in said.out


def test_sheets_in_inches_without_their_unit(job: Job, call: Call, here: Path) -> None:
    """24x48 holds none of two plates of 5-1/2 in: one line says what to write, and nothing is made."""
    for name in ("a", "b"):
        job(name, (5.5, 5.5), units="in", thickness=0.25, cut=(0.394, 2, 0.5))
    said = call("sheet", ".", "--stock", "24x48*3", "--stock", "600x300")
    assert (said.status, said.out) == (2, "")
    assert said.err == (
        '--stock: "24x48*3" is 24 x 48 mm, which is too small for every plate (if inches were meant, write '
        '"24 x 48 in*3")\n'
    )
    assert not (here / "sheets").exists()
    assert call("sheet", ".", "--stock", "24 x 48 in*3").status == 0


def test_a_small_sheet_that_is_no_slip(job: Job, call: Call) -> None:
    """Too small in inches as well, or large enough for one of the plates in mm: it is laid as it was given."""
    job("rail", (700, 700))
    said = call("sheet", ".", "--stock", "20x20", "--name", "set")
    assert said.status == 1
    assert "too wide and 690 mm too high for a sheet of 20 x 20 mm" in words(said.out)
    job("post", (60, 60), cut=(10, 20, 12))
    assert "rail not laid" in words(call("sheet", ".", "--stock", "80x80", "--name", "set").out)


def test_the_unit_of_the_files(job: Job, call: Call, here: Path) -> None:
    """As asked for, whatever the jobs ask; else in inches where all jobs ask for them."""
    job("rail", make="kerf = 0.2\n")
    said = call("sheet", "rail.toml", "--stock", "600x400", "--units", "in")
    assert "3.937 x 5.512 in = 100 x 140 mm once cut" in words(said.out)
    assert (here / "sheets/rail/rail_mdf-6mm_sheet1_laser_kerf0.2mm_in.dxf").exists()
    job("post", make='dxf = { units = "in" }\n')
    call("sheet", "post.toml", "--stock", "600x400")
    call("sheet", "post.toml", "--stock", "600x400", "--units", "mm", "--out", "metric")
    assert (here / "sheets/post/post_mdf-6mm_sheet1_laser_in.dxf").exists()
    assert (here / "metric/post/post_mdf-6mm_sheet1_laser_mm.dxf").exists()


def test_a_sheets_size_is_that_of_the_finished_plates(job: Job, call: Call) -> None:
    """Two plates 140 wide, 3 apart, with a kerf of 0.2 mm: a rule measures 283 mm, the file has 283.2."""
    job("rail", (140, 100), make="kerf = 0.2\n")
    said = call("sheet", "rail.toml", "--stock", "300x120", "--copies", "2", "--gap", "3 mm", "--name", "set")
    line = "283 x 100 mm = 11.142 x 3.937 in once cut"
    assert f"set_mdf-6mm_sheet1_laser_kerf0.2_mm.dxf {line}" in words(said.out)
    assert "    once cut: the file itself is 0.2 mm larger, for the kerf" in said.out.splitlines()


def test_a_stopped_job_is_named_and_the_rest_is_laid(job: Job, call: Call) -> None:
    """A cut narrower than the bit: its stop is shown under its name, status 1."""
    job("rail")
    job("bad", cut=(5, 40, 12))
    said = call("sheet", ".", "--stock", "600x400", "--name", "set")
    assert said.status == 1
    assert "bad: not laid, since it cannot be made" in said.out
    assert "stop tools.bit: the bit (8 mm) is wider than the cut (5 mm)" in words(said.out)
    assert "job-stopped" not in said.out  # said once, in the job's own words
    assert "1 of 1 plate on 1 sheet" in said.out


def test_jobs_with_the_same_warning_are_told_together(job: Job, call: Call) -> None:
    """Two jobs whose depth takes the bit's stem too far say it once, under both names."""
    for name in ("a", "b"):
        job(name, plate="wall = 60\n")
    said = call("sheet", ".", "--stock", "600x400", "--name", "set")
    assert said.out.count("a, b: laid; look at this first") == 1


def test_nothing_laid_writes_nothing(job: Job, call: Call, here: Path) -> None:
    """All too large: status 1, no folder, and it says so."""
    job("large", (700, 100))
    said = call("sheet", "large.toml", "--stock", "600x400")
    assert said.status == 1
    assert "No sheet was made." in said.out
    assert not (here / "sheets").exists()


def test_a_job_for_paper_alone_is_told(job: Job, call: Call, here: Path) -> None:
    """It is on no sheet, which its own file asked for: a warning, status 0; with --for laser it is laid."""
    job("rail", targets='["paper"]')
    said = call("sheet", "rail.toml", "--stock", "600x400")
    assert said.status == 0
    assert "warning make.for: on no sheet, for neither laser nor cnc is asked for: rail" in words(said.out)
    assert not (here / "sheets").exists()
    assert call("sheet", "rail.toml", "--stock", "600x400", "--for", "laser", "cnc").status == 0
    assert (here / "sheets/rail/rail_mdf-6mm_sheet1_cnc_mm.dxf").exists()


def test_a_job_that_cannot_be_read_is_status_2(job: Job, call: Call) -> None:
    """Its faults are on stderr with file and line; the others are laid."""
    job("rail")
    bad = job("bad")
    bad.write_text(bad.read_text(encoding="utf-8").replace("length = 40", 'length = "4,5 mm"'), encoding="utf-8")
    said = call("sheet", ".", "--stock", "600x400", "--name", "set")
    assert said.status == 2
    assert said.faults == ['bad.toml:6: cut.length: "4,5 mm" is not a length (write 4.5 mm)']
    assert "1 of 1 plate on 1 sheet" in said.out


def test_json(job: Job, call: Call) -> None:
    """One object: sheets with places in mm, findings, files."""
    job("rail", (140, 100))
    job("large", (700, 100))
    said = call("sheet", ".", "--stock", "600x400", "--name", "set", "--json")
    found = json.loads(said.out)
    assert (said.status, list(found)) == (1, ["name", "sheets", "findings", "files"])
    assert [(plate["plate"], plate["x"]) for plate in found["sheets"][0]["plates"]] == [("rail", 5.0)]
    assert [(one["level"], one["code"]) for one in found["findings"]] == [("stop", "larger-than-sheet")]
    assert found["files"][0] == "sheets/set/set_mdf-6mm_sheet1_laser_mm.dxf"
    assert found["files"][-1] == "sheets/set/set_sheets.json"


def test_all_faults_of_the_options_at_once(job: Job, call: Call) -> None:
    """A line each, before any job is read."""
    job("rail")
    said = call(
        "sheet", "rail.toml", "--stock", "6", "--gap", "3", "--margin", "1,5 mm", "--copies", "x", "--grain", "up",
        "--name", "a/b",
    )  # fmt: skip
    assert said.status == 2
    assert [line.split(":")[0] for line in said.faults] == [
        "--name", "--stock", "--gap", "--margin", "--copies", "--grain",
    ]  # fmt: skip


def test_a_machine_that_cuts_no_sheets(job: Job, call: Call) -> None:
    """Paper is not cut from sheets."""
    job("rail")
    said = call("sheet", "rail.toml", "--stock", "600x400", "--for", "paper")
    assert (said.status, said.faults) == (2, ['--for: "paper" does not cut sheets (write laser or cnc)'])


def test_a_number_of_sheets_is_for_one_material(job: Job, call: Call) -> None:
    """Two materials and *2: of which? The gap's fault is said with it."""
    job("a", targets='["cnc"]')
    job("b", thickness=9, targets='["cnc"]')
    said = call("sheet", ".", "--stock", "600x400*2", "--gap", "1 mm")
    assert said.status == 2
    assert said.faults == [
        "--stock: the jobs need sheets of 2 kinds (mdf-6mm, mdf-9mm), and *COUNT does not say of which there are so "
        "many (leave it out, or lay each kind in a call of its own)",
        "--gap: 1 mm is less than the cutter that goes round the plates, 6 mm, which would cut into their neighbours "
        '(write at least 6 mm, or your own cutter in the profile of the process "cnc")',
    ]
    assert call("sheet", "a.toml", "--stock", "600x400*2").status == 0


def test_the_name_is_that_of_what_was_given(job: Job, call: Call, here: Path) -> None:
    """One file: its stem; one folder: its name; several: sheets."""
    job("shop/a")
    job("b")
    assert call("sheet", "shop", "--stock", "600x400").status == 0
    assert call("sheet", "b.toml", "--stock", "600x400").status == 0
    assert call("sheet", "shop", "b.toml", "--stock", "600x400").status == 0
    assert sorted(path.name for path in (here / "sheets").iterdir()) == ["b", "sheets", "shop"]


def test_two_jobs_of_one_name_are_told(job: Job, call: Call) -> None:
    """rail.toml of two folders: both are laid, and a note says that they are called alike."""
    job("a/rail")
    job("b/rail")
    said = call("sheet", "a", "b", "--stock", "600x400", "--copies", "rail=2")
    assert said.status == 0
    assert "4 of 4 plates on 1 sheet" in said.out
    assert 'note JOB: a/rail.toml, b/rail.toml are all called "rail": on the pages only their titles' in words(said.out)


def test_families_tools_and_profiles(job: Job, call: Call, here: Path) -> None:
    """The sizes of one file are plates of their own; --tools and --profiles are read as `make` reads them."""
    text = job("post").read_text(encoding="utf-8").replace("length = 40\n", "").replace('"8 mm"', '"my bit"')
    (here / "post.toml").write_text(text + "[cuts.a]\nlength = 40\n[cuts.b]\nlength = 50\n", encoding="utf-8")
    (here / "mine").mkdir()
    (here / "mine/x.toml").write_text('units = "mm"\n[processes.laser]\ngap = 11\n', encoding="utf-8")
    (here / "tools.toml").write_text('units = "mm"\n[bits."my bit"]\ndiameter = 8\n', encoding="utf-8")
    options = ("--tools", "tools.toml", "--profiles", "mine", "--stock", "600x400", "--json")
    said = call("sheet", "post.toml", *options)
    assert said.status == 0, said.err
    (sheet,) = json.loads(said.out)["sheets"]
    assert (sheet["gap"], [plate["plate"] for plate in sheet["plates"]]) == (11.0, ["post-a", "post-b"])


def test_help_is_light() -> None:
    """`sheet --help` loads nothing heavy."""
    code = (
        "import sys; from jigtemplates.cli import run; run(['sheet', '--help']); "
        "print([m for m in ('pydantic', 'shapely', 'ezdxf', 'numpy', 'reportlab', 'pint') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", timeout=60, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
    assert "Lay many templates on as few sheets as can be found." in done.stdout


def test_the_samples_are_laid(call: Call) -> None:
    """The README's example: all samples for the laser on sheets of 600 x 400 mm, nothing left out."""
    samples = Path(__file__).parents[2] / "samples"
    said = call("sheet", str(samples), "--stock", "600x400", "--for", "laser")
    assert (said.status, said.err) == (0, "")
    assert "No sheet was made." not in said.out
    assert "not laid" not in said.out
