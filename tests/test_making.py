"""From a report to files on disk: names, all or none, unchanged files, same bytes."""

import hashlib
import json
import os
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.errors import OutputError
from jigtemplates.making import kerf_part, make_files, write
from jigtemplates.manifest import made_with
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
Save = Callable[..., Report]


@pytest.fixture
def save(report_with: ReportWith, tmp_path: Path) -> Save:
    """save(**tables): makes the files of the changed job in tmp_path."""
    return lambda *args, **tables: write(report_with(*args, **tables), tmp_path, profiles=Profiles())


def names(report: Report) -> list[str]:
    """Names of the files made, in order."""
    return [Path(file.path).name for file in report.files]


def on_disk(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path from there."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_the_files_of_the_plan(save: Save, tmp_path: Path) -> None:
    """In a folder named after the job: laser, cnc, paper, set-up sheet, then the manifest, by the plan's names."""
    report = save()
    expected = [
        "rail_laser_mm.dxf",
        "rail_laser.svg",
        "rail_cnc_mm.dxf",
        "rail_cnc.svg",
        "rail_paper_a4.pdf",
        "rail_paper_letter.pdf",
        "rail_setup.pdf",
        "rail.json",
    ]
    assert names(report) == expected
    assert sorted(on_disk(tmp_path)) == sorted(f"rail/{name}" for name in expected)
    assert [file.path for file in report.files] == [f"{tmp_path.as_posix()}/rail/{name}" for name in expected]
    assert report.as_json()["files"] == [file.path for file in report.files]


def test_hashes_and_sizes(save: Save) -> None:
    """Each file is reported with the hash of the bytes on disk and the size to check: the plate's, or the page's."""
    for file in save(plate={"width": 150}).files:
        assert hashlib.sha256(Path(file.path).read_bytes()).hexdigest() == file.sha256
        sizes = {"rail.json": None, "rail_setup.pdf": (210.0, 297.0)}
        assert file.size == sizes.get(Path(file.path).name, (150, 140))


@pytest.mark.parametrize(
    ("make", "expected"),
    [
        ({"for": ["cnc"]}, ["rail_cnc_mm.dxf", "rail_cnc.svg", "rail_setup.pdf", "rail.json"]),
        ({"for": ["paper"], "papers": ["a3"]}, ["rail_paper_a3.pdf", "rail_setup.pdf", "rail.json"]),
        (
            {"for": ["cnc", "laser"]},
            ["rail_laser_mm.dxf", "rail_laser.svg", "rail_cnc_mm.dxf", "rail_cnc.svg", "rail_setup.pdf", "rail.json"],
        ),
        ({"for": ["cnc"], "dxf": {"units": "in"}}, ["rail_cnc_in.dxf", "rail_cnc.svg", "rail_setup.pdf", "rail.json"]),
        (
            {"for": ["laser", "cnc"], "kerf": 0.15},
            [
                "rail_laser_kerf0.15_mm.dxf",
                "rail_laser_kerf0.15.svg",
                "rail_cnc_mm.dxf",
                "rail_cnc.svg",
                "rail_setup.pdf",
                "rail.json",
            ],
        ),
        (
            {"for": ["laser", "paper"], "papers": ["a4"], "mirrored": True},
            [
                "rail_MIRRORED_laser_mm.dxf",
                "rail_MIRRORED_laser.svg",
                "rail_MIRRORED_paper_a4.pdf",
                "rail_MIRRORED_setup.pdf",
                "rail.json",
            ],
        ),
        ({"for": ["print"]}, ["rail_print.3mf", "rail_print_mm.stl", "rail_setup.pdf", "rail.json"]),
        ({"for": ["print"], "print": {"formats": ["stl"]}}, ["rail_print_mm.stl", "rail_setup.pdf", "rail.json"]),
        (
            {"for": ["print", "cnc"], "print": {"formats": ["3mf"]}, "mirrored": True},
            [
                "rail_MIRRORED_cnc_mm.dxf",
                "rail_MIRRORED_cnc.svg",
                "rail_MIRRORED_print.3mf",
                "rail_MIRRORED_setup.pdf",
                "rail.json",
            ],
        ),
        (
            {"for": ["laser"], "kerf": 0.2, "mirrored": True, "dxf": {"units": "in"}},
            [
                "rail_MIRRORED_laser_kerf0.2mm_in.dxf",
                "rail_MIRRORED_laser_kerf0.2mm.svg",
                "rail_MIRRORED_setup.pdf",
                "rail.json",
            ],
        ),
    ],
)
def test_names(save: Save, make: dict[str, Any], expected: list[str]) -> None:
    """A name says the machine, the unit, the kerf (laser only), the paper, MIRRORED; the set-up sheet comes along."""
    assert names(save(make=make)) == expected


@pytest.mark.parametrize(
    ("kerfs", "unit", "expected"),
    [
        ((0.15,), "mm", ("kerf0.15",)),
        ((0.16002,), "in", ("kerf0.16mm",)),  # 0.0063 in
        ((0.12345,), "mm", ("kerf0.123",)),
        ((0.0, 0.2), "mm", ("kerf0-0.2",)),
        ((0.1601, 0.16012), "in", ("kerf0.16mm",)),
        ((0.0,), "in", ()),
    ],
)
def test_the_kerf_in_a_name(kerfs: tuple[float, ...], unit: str, expected: tuple[str, ...]) -> None:
    """In mm with at most three decimals, and with its unit beside a DXF file in inches; none without a kerf."""
    assert kerf_part(kerfs, unit) == expected


def test_a_measured_kerf_in_an_inch_job(save: Save) -> None:
    """0.0063 in: the names say 0.16 mm, and the finished plate measures 5.500 in, as the job has it."""
    make = {"for": ["laser"], "kerf": "0.0063 in", "dxf": {"units": "in"}}
    report = save(plate={"width": "5.5 in"}, make=make)
    dxf, svg, *_ = report.files
    assert names(report)[:2] == ["rail_laser_kerf0.16mm_in.dxf", "rail_laser_kerf0.16mm.svg"]
    assert (dxf.finished, svg.finished) == ((139.7, 140.0), (139.7, 140.0))
    assert dxf.size == pytest.approx((139.86002, 140.16002))


def test_printed_files(save: Save, tmp_path: Path) -> None:
    """Both say the allowances and the title, in mm, and have the plate's size; made again they are the same bytes."""
    report = save(make={"for": ["print"], "print": {"opening_allowance": 0.1}})
    stl, package = (tmp_path / "rail" / name for name in ("rail_print_mm.stl", "rail_print.3mf"))
    first = (stl.read_bytes(), package.read_bytes())
    assert first[0][:80] == b"jigtemplates; unit: mm; holes +0.2 mm, openings +0.1 mm, facets within 0.01 mm; "
    with zipfile.ZipFile(package) as parts:
        model = parts.read("3D/3dmodel.model").decode()
    assert '<metadata name="Title">Bench rail, 10 x 50</metadata>' in model
    assert '<metadata name="Description">holes +0.2 mm, openings +0.1 mm, facets within 0.01 mm</metadata>' in model
    assert {Path(f.path).name: f.size for f in report.files}["rail_print.3mf"] == (140.0, 140.0)
    stl.unlink()
    package.unlink()
    save(make={"for": ["print"], "print": {"opening_allowance": 0.1}})
    assert (stl.read_bytes(), package.read_bytes()) == first


def test_the_mesh_library_is_in_the_manifest(save: Save, tmp_path: Path) -> None:
    """Its version stands there where it made something, and only there."""
    save(make={"for": ["print"]})
    said = json.loads((tmp_path / "rail" / "rail.json").read_text(encoding="utf-8"))
    assert list(said["printer_library"]) == ["manifold3d"]
    assert "printer_library" not in made_with(Profiles(), ("cnc",))


def test_kerf_in_the_files(save: Save, tmp_path: Path) -> None:
    """With a kerf of 0.2 the laser's file is 140.2 wide; the CNC's is byte for byte the one without."""
    plain, with_kerf = save(), save(make={"kerf": 0.2})
    sizes = {Path(f.path).name: f.size for f in with_kerf.files}
    assert sizes["rail_laser_kerf0.2_mm.dxf"] == pytest.approx((140.2, 140.2))
    assert sizes["rail_cnc_mm.dxf"] == (140.0, 140.0)
    finished = {Path(f.path).name: f.finished for f in with_kerf.files}
    assert (finished["rail_laser_kerf0.2_mm.dxf"], finished["rail_cnc_mm.dxf"]) == ((140.0, 140.0), None)
    listed = {
        one["name"]: one for one in json.loads((tmp_path / "rail/rail.json").read_text(encoding="utf-8"))["files"]
    }
    laser, cnc = listed["rail_laser_kerf0.2_mm.dxf"], listed["rail_cnc_mm.dxf"]
    assert (laser["width_mm"], laser["finished_width_mm"], laser["finished_height_mm"]) == (140.2, 140.0, 140.0)
    assert (cnc["width_mm"], "finished_width_mm" in cnc) == (140.0, False)
    hashes = [{Path(f.path).name: f.sha256 for f in report.files} for report in (plain, with_kerf)]
    assert hashes[0]["rail_cnc_mm.dxf"] == hashes[1]["rail_cnc_mm.dxf"]
    assert hashes[0]["rail_cnc.svg"] == hashes[1]["rail_cnc.svg"]
    assert b'width="140.2mm"' in on_disk(tmp_path)["rail/rail_laser_kerf0.2.svg"]


def test_a_stop_writes_nothing(save: Save, tmp_path: Path) -> None:
    """A job with a stop makes no folder and names no file."""
    report = save(cut={"width": 9})
    assert report.stopped
    assert report.files == ()
    assert list(tmp_path.iterdir()) == []


def test_a_stop_leaves_what_was_there(save: Save, tmp_path: Path) -> None:
    """Files of an earlier make stay, bytes and times, when the job no longer works."""
    save()
    before, times = on_disk(tmp_path), [p.stat().st_mtime_ns for p in sorted((tmp_path / "rail").iterdir())]
    save(cut={"width": 9})
    assert on_disk(tmp_path) == before
    assert [p.stat().st_mtime_ns for p in sorted((tmp_path / "rail").iterdir())] == times


def test_a_second_run_touches_nothing(save: Save, tmp_path: Path) -> None:
    """Made again unchanged, every file keeps its time, and the report is the same."""
    first = save()
    for path in (tmp_path / "rail").iterdir():
        os.utime(path, (1_000_000_000, 1_000_000_000))
    second = save()
    assert {p.stat().st_mtime for p in (tmp_path / "rail").iterdir()} == {1_000_000_000}
    assert second.as_json() == first.as_json()


def test_only_what_changes_is_written(save: Save, tmp_path: Path) -> None:
    """Another kerf renews the manifest and makes laser files; the CNC's keep their time."""
    save()
    for path in (tmp_path / "rail").iterdir():
        os.utime(path, (1_000_000_000, 1_000_000_000))
    save(make={"kerf": 0.2})
    kept = {p.name for p in (tmp_path / "rail").iterdir() if p.stat().st_mtime == 1_000_000_000}
    assert {"rail_cnc_mm.dxf", "rail_cnc.svg"} <= kept
    assert not {"rail.json", "rail_laser_kerf0.2.svg"} & kept


def test_same_job_same_bytes(report_with: ReportWith, tmp_path: Path) -> None:
    """Two folders, two runs: the same bytes in every file."""
    for folder in ("a", "b"):
        write(report_with(), tmp_path / folder, profiles=Profiles())
    assert on_disk(tmp_path / "a") == on_disk(tmp_path / "b")


def test_a_failure_is_rolled_back(save: Save, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the disk fails in the middle of the replacing, every old file is back and no new one is there."""
    save()
    before, replace, calls = on_disk(tmp_path), os.replace, [0]

    def failing(source: Any, target: Any) -> None:
        calls[0] += 1
        if calls[0] == 3:
            raise OSError(28, "No space left on device")
        replace(source, target)

    monkeypatch.setattr(os, "replace", failing)
    with pytest.raises(OutputError, match="the disk is full"):
        save("Another title", cut={"width": 11})
    assert calls[0] > 3
    assert on_disk(tmp_path) == before


def test_a_place_that_is_taken(report_with: ReportWith, tmp_path: Path) -> None:
    """A folder where a file should go: one line that names it, and nothing written."""
    (tmp_path / "rail" / "rail_cnc.svg").mkdir(parents=True)
    with pytest.raises(OutputError) as caught:
        write(report_with(), tmp_path, profiles=Profiles())
    assert len(caught.value.lines) == 1
    assert "rail_cnc.svg: cannot be written: it is a folder" in caught.value.lines[0]
    assert on_disk(tmp_path) == {}


def test_files_in_memory(report_with: ReportWith, tmp_path: Path) -> None:
    """make_files writes nothing and gives what each file is by its first bytes."""
    made = {file.name: file.data for file in make_files(report_with(), Profiles())}
    assert made["rail_paper_a4.pdf"].startswith(b"%PDF-")
    assert made["rail_laser.svg"].startswith(b"<?xml")
    assert b"AC1015" in made["rail_cnc_mm.dxf"]
    assert list(tmp_path.iterdir()) == []


def test_r12_and_facets(report_with: ReportWith) -> None:
    """The job's DXF version and way of writing arcs reach the file."""
    make = {"for": ["cnc"], "dxf": {"version": "R12", "arcs": "facets", "chord": 0.1}}
    dxf, *_ = (file.data for file in make_files(report_with(make=make), Profiles()))
    assert b"AC1009" in dxf
    assert b"LWPOLYLINE" not in dxf
    assert b"\nARC\n" not in dxf.replace(b"\r", b"")


def test_a_role_without_a_pen_is_not_drawn(report_with: ReportWith) -> None:
    """The shipped laser has no pen for countersinks: the CNC's file has a pocket layer, the laser's none."""
    plate = {"screws": {"pattern": "corners", "size": "M5", "inset": 12, "hole": "countersunk"}}
    made = {file.name: file.data for file in make_files(report_with(plate=plate), Profiles())}
    assert b'id="pocket"' in made["rail_cnc.svg"]
    assert b"pocket" not in made["rail_laser.svg"]
    assert b'id="drill"' in made["rail_laser.svg"]


def test_mirrored_paper_says_so(report_with: ReportWith) -> None:
    """A mirrored pattern says MIRRORED on its page (text read by pypdfium2); another does not."""
    import pypdfium2  # type: ignore[import-untyped]

    for mirrored in (True, False):
        make = {"for": ["paper"], "papers": ["a4"], "mirrored": mirrored}
        file, _ = make_files(report_with(make=make), Profiles())
        pdf = pypdfium2.PdfDocument(file.data)
        page = pdf[0]
        text = page.get_textpage()
        assert ("MIRRORED" in text.get_text_range()) is mirrored
        text.close()
        page.close()
        pdf.close()


def test_own_profiles_beside_the_job(report_with: ReportWith, tmp_path: Path) -> None:
    """Layers come from the person's own process profile where there is one."""
    shipped = (Path(__file__).parents[1] / "profiles" / "processes.toml").read_text(encoding="utf-8")
    (tmp_path / "mine.toml").write_text(shipped.replace('layer = "cut_inside"', 'layer = "INNER"', 1), encoding="utf-8")
    report = report_with(make={"for": ["laser"]})
    made = {file.name: file.data for file in make_files(report, Profiles([tmp_path]))}
    assert b'id="INNER"' in made["rail_laser.svg"]


def test_the_manifest_is_json(save: Save, tmp_path: Path) -> None:
    """The manifest lists the other files with the hashes of the bytes on disk."""
    save()
    manifest = json.loads((tmp_path / "rail" / "rail.json").read_text(encoding="utf-8"))
    for file in manifest["files"]:
        data = (tmp_path / "rail" / file["name"]).read_bytes()
        assert hashlib.sha256(data).hexdigest() == file["sha256"]
    assert len(manifest["files"]) == 7


def test_the_plan_page_knows_the_persons_own_bits(report_with: ReportWith, tmp_path: Path) -> None:
    """A bit as wide as the opening is told with its one setting, on the last page of every paper."""
    import pypdfium2

    (tmp_path / "tools.toml").write_text('[bits."my wide one"]\ndiameter = "13.175 mm"\n', encoding="utf-8")
    made = list(make_files(report_with(make={"for": ["paper"]}), Profiles([tmp_path])))
    papers = [file.data for file in made if "_paper_" in file.name]
    assert len(papers) == 2
    for data in papers:
        pdf = pypdfium2.PdfDocument(data)
        text = " ".join(pdf[len(pdf) - 1].get_textpage().get_text_range().split())
        pdf.close()
        assert "my wide one lower 63.41 mm" in text
        assert "one setting" in text


def test_own_bits_decide_whether_a_paper_is_still_right(tmp_path: Path) -> None:
    """The manifest's hash of them changes with a bit; without paper there is none."""
    (tmp_path / "tools.toml").write_text('[bits."mine"]\ndiameter = "13.2 mm"\n', encoding="utf-8")
    none, one = made_with(Profiles(), ("paper",)), made_with(Profiles([tmp_path]), ("paper",))
    assert none["own_bits"] != one["own_bits"]
    assert {key: value for key, value in none.items() if key != "own_bits"} == {
        key: value for key, value in one.items() if key != "own_bits"
    }
    assert "own_bits" not in made_with(Profiles([tmp_path]), ("laser", "cnc"))
