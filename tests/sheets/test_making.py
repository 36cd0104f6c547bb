"""The files of a set: names, record, the same again, and what is not replaced."""

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

Call = Callable[..., Any]
Job = Callable[..., Path]


def names(folder: Path) -> list[str]:
    """Names of the files in a folder."""
    return sorted(path.name for path in folder.iterdir())


def record_of(folder: Path) -> Any:
    """What the record says."""
    return json.loads((folder / f"{folder.name}_sheets.json").read_text(encoding="utf-8"))


def test_files_for_each_sheet_and_machine(job: Job, call: Call, here: Path) -> None:
    """DXF and SVG of each sheet by material and machine, one PDF of pages, one record."""
    job("a", targets='["laser", "cnc"]', make="kerf = 0.15\n")
    job("b", material="acrylic", thickness=8)
    said = call("sheet", ".", "--stock", "600x400", "--name", "shop")
    assert (said.status, said.err) == (0, "")
    assert names(here / "sheets/shop") == [
        "shop_acrylic-8mm_sheet1_laser.svg",
        "shop_acrylic-8mm_sheet1_laser_mm.dxf",
        "shop_mdf-6mm_sheet1_cnc.svg",
        "shop_mdf-6mm_sheet1_cnc_mm.dxf",
        "shop_mdf-6mm_sheet1_laser_kerf0.15.svg",
        "shop_mdf-6mm_sheet1_laser_kerf0.15_mm.dxf",
        "shop_sheets.json",
        "shop_sheets.pdf",
    ]


def test_kerfs_that_differ_stand_in_the_name(job: Job, call: Call, here: Path) -> None:
    """Of two kerfs on one sheet both."""
    job("a", make="kerf = 0.1\n")
    job("b", make="kerf = 0.2\n")
    assert call("sheet", ".", "--stock", "600x400", "--name", "set").status == 0
    assert "set_mdf-6mm_sheet1_laser_kerf0.1-0.2_mm.dxf" in names(here / "sheets/set")


def test_the_record_says_what_lies_where(job: Job, call: Call, here: Path) -> None:
    """Jobs with their hashes, a sheet's rules, each plate's place; and each file with its hash and size."""
    job("a", (140, 100), title="Bench rail")
    assert call("sheet", "a.toml", "--stock", "600x400", "--gap", "4 mm", "--copies", "2").status == 0
    folder = here / "sheets/a"
    said = record_of(folder)
    (source,) = said["jobs"]
    assert {key: source[key] for key in ("file", "stem", "title")} == {
        "file": "a.toml", "stem": "a", "title": "Bench rail",
    }  # fmt: skip
    assert len(source["sha256"]) == 64
    (sheet,) = said["sheets"]
    plates = sheet.pop("plates")
    assert sheet == {
        "process": "laser", "material": "mdf", "thickness": 6.0, "number": 1, "width": 600.0, "height": 400.0,
        "gap": 4.0, "margin": 5.0, "share_used": round(28000 / 240000, 6), "left_whole": [491.0, 400.0],
        "zero": [5.0, 5.0], "files": ["a_mdf-6mm_sheet1_laser_mm.dxf", "a_mdf-6mm_sheet1_laser.svg"],
    }  # fmt: skip
    assert [(plate["plate"], plate["x"], plate["y"], plate["turned"]) for plate in plates] == [
        ("a", 5.0, 5.0, 90), ("a", 5.0, 149.0, 90),
    ]  # fmt: skip
    assert {(plate["width"], plate["height"], plate["mirrored"], plate["kerf"]) for plate in plates} == {
        (100.0, 140.0, False, 0.0)
    }
    for file in said["files"]:
        assert file["sha256"] == hashlib.sha256((folder / file["name"]).read_bytes()).hexdigest()
    assert {(file["name"][-4:], file["width_mm"], file["height_mm"]) for file in said["files"]} == {
        (".dxf", 100.0, 284.0), (".svg", 100.0, 284.0), (".pdf", 210.0, 297.0),
    }  # fmt: skip


def test_the_same_again_is_the_same(job: Job, call: Call, here: Path) -> None:
    """Bytes do not depend on the folder or the time; a second run says that nothing has changed."""
    job("a")
    call("sheet", "a.toml", "--stock", "600x400")
    call("sheet", "a.toml", "--stock", "600x400", "--out", "other")
    for name in names(here / "sheets/a"):
        assert (here / "sheets/a" / name).read_bytes() == (here / "other/a" / name).read_bytes()
    assert "Files in sheets/a (unchanged), with the overall size" in call("sheet", "a.toml", "--stock", "600x400").out


def test_files_that_are_not_renewed_are_told(job: Job, call: Call) -> None:
    """Two sheets before, one now: the second one's files are still there and perhaps wrong."""
    job("a", (280, 180))
    call("sheet", "a.toml", "--stock", "600x400", "--copies", "5")
    said = call("sheet", "a.toml", "--stock", "600x400")
    assert said.status == 0
    words = " ".join(said.out.split())
    assert "warning --out: made earlier and not renewed now" in words
    assert "a_mdf-6mm_sheet2_laser.svg, a_mdf-6mm_sheet2_laser_mm.dxf" in words


def test_sheets_of_other_jobs_are_not_replaced(job: Job, call: Call, here: Path) -> None:
    """A set of the same name made from quite other jobs stays; one that shares a job is renewed."""
    for name in "abc":
        job(name)
    call("sheet", "a.toml", "b.toml", "--stock", "600x400")
    before = (here / "sheets/sheets/sheets_sheets.json").read_bytes()
    said = call("sheet", "c.toml", "--stock", "600x400", "--name", "sheets")
    assert (said.status, said.faults) == (
        2,
        [
            "sheets/sheets: holds the sheets of other jobs (a, b), which would be replaced (give these a name of their "
            "own with --name, or choose another folder with --out)"
        ],
    )
    assert (here / "sheets/sheets/sheets_sheets.json").read_bytes() == before
    assert call("sheet", "b.toml", "c.toml", "--stock", "600x400").status == 0


def test_templates_of_a_job_are_not_mixed_with_sheets(job: Job, call: Call, here: Path) -> None:
    """The folder that `make` gave a job of the same name is left alone."""
    job("a")
    call("make", "a.toml")
    said = call("sheet", "a.toml", "--stock", "600x400", "--out", "templates")
    assert (said.status, said.faults) == (
        2,
        [
            'templates/a: holds the templates of a job called "a" (choose another folder with --out, or another name '
            "with --name)"
        ],
    )
    assert not (here / "templates/a/a_sheets.json").exists()


def test_a_record_that_cannot_be_read_is_replaced(job: Job, call: Call, here: Path) -> None:
    """What is no record of ours says nothing about other jobs."""
    job("a")
    (here / "sheets/a").mkdir(parents=True)
    (here / "sheets/a/a_sheets.json").write_text("[]", encoding="utf-8")
    assert call("sheet", "a.toml", "--stock", "600x400").status == 0
    assert record_of(here / "sheets/a")["name"] == "a"


def test_a_file_in_the_place_of_the_folder(job: Job, call: Call, here: Path) -> None:
    """One line, and nothing written."""
    job("a")
    (here / "sheets").write_text("", encoding="utf-8")
    said = call("sheet", "a.toml", "--stock", "600x400")
    assert (said.status, said.faults) == (
        2, ["sheets: nothing can be written there: this is not a folder (choose another place)"],
    )  # fmt: skip


def test_one_that_asks_for_r12_gets_it_for_all(job: Job, call: Call, here: Path) -> None:
    """R12 and facets as soon as one job asks; inches only where all do."""
    job("a", make='dxf = { version = "R12", units = "in" }\n')
    job("b", make='dxf = { arcs = "facets" }\n')
    job("c", make='dxf = { units = "in" }\n', thickness=9)
    assert call("sheet", ".", "--stock", "600x400", "--name", "set").status == 0
    data = (here / "sheets/set/set_mdf-6mm_sheet1_laser_mm.dxf").read_text(encoding="ascii")
    assert "AC1009" in data
    assert "\n 42\n" not in data.partition("ENTITIES")[2]  # no bulge
    assert (here / "sheets/set/set_mdf-9mm_sheet1_laser_in.dxf").exists()


def test_profiles_that_draw_differently_do_not_share_a_sheet(job: Job, call: Call, here: Path) -> None:
    """A job beside a profile with another gap, and one without it: one line, nothing written."""
    job("one/a")
    job("two/b")
    (here / "two/profiles").mkdir()
    (here / "two/profiles/mine.toml").write_text('units = "mm"\n[processes.laser]\ngap = 4\n', encoding="utf-8")
    said = call("sheet", "one", "two", "--stock", "600x400")
    assert (said.status, said.faults) == (
        2,
        [
            "two/b.toml: its profiles draw and space plates for laser differently from those of one/a.toml, so the two "
            "cannot share a sheet (lay them in two calls)"
        ],
    )
    assert not (here / "sheets").exists()
    assert call("sheet", "two", "--stock", "600x400").status == 0
    assert record_of(here / "sheets/two")["sheets"][0]["gap"] == 4.0
