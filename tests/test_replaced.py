"""A job whose folder holds another job's templates."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.manifest import content_hash
from jigtemplates.replaced import strays

Call = Callable[..., Any]


def changed(path: Path, old: str, new: str) -> None:
    path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")


def other(rail: Path) -> Path:
    """A family in another file, one of whose sizes has the folder of the job rail-a.toml."""
    text = rail.read_text(encoding="utf-8")
    (rail.parent / "rail-a.toml").write_text(text, encoding="utf-8")
    rail.write_text(text + "\n[cuts.a]\nwidth = 12\n", encoding="utf-8")
    return rail


def test_another_job_file(rail: Path, call: Call) -> None:
    """Status 1, a stop that names both files and what to do, and not a byte is changed."""
    other(rail)
    assert call("make", "rail-a.toml", "--for", "cnc").status == 0
    before = {p.name: p.read_bytes() for p in Path("templates/rail-a").iterdir()}
    said = call("make", "rail.toml", "--for", "cnc")
    assert said.status == 1
    assert "replaces-another-job" in call("make", "rail.toml", "--for", "cnc", "--json").out
    words = " ".join(said.out.split())
    assert 'in the folder "rail-a" were made from "rail-a.toml", and "rail.toml" would replace them' in words
    assert "rename the job, choose another folder with --out, or delete that folder" in words
    assert {p.name: p.read_bytes() for p in Path("templates/rail-a").iterdir()} == before


def test_another_title_and_another_cut(rail: Path, call: Call) -> None:
    """A file of the same name with another title and size: made, with a warning."""
    call("make", "rail.toml", "--for", "cnc")
    changed(rail, "Bench rail, 10 x 50", "Drawer")
    changed(rail, '"50 mm"', '"60 mm"')
    said = call("make", "rail.toml", "--for", "cnc", "--json")
    assert said.status == 0
    assert "other-job-before" in said.out
    assert "other-job-before" not in call("make", "rail.toml", "--for", "cnc", "--json").out


def test_the_same_job_renamed_or_resized(rail: Path, call: Call) -> None:
    """A new title alone, or a new size alone, is the same job: nothing is said."""
    call("make", "rail.toml", "--for", "cnc")
    changed(rail, "Bench rail, 10 x 50", "Drawer")
    assert "other-job-before" not in call("make", "rail.toml", "--for", "cnc", "--json").out
    changed(rail, '"50 mm"', '"60 mm"')
    assert "other-job-before" not in call("make", "rail.toml", "--for", "laser", "--json").out


def test_a_manifest_that_says_nothing(rail: Path, call: Call) -> None:
    """One that is damaged stops nothing."""
    folder = Path("templates/rail")
    folder.mkdir(parents=True)
    for text in ("{", '{"job": 3}', '{"job": {"file": 3, "title": 4}}'):
        (folder / "rail.json").write_text(text, encoding="utf-8")
        assert call("make", "rail.toml", "--for", "cnc").status == 0


def test_regenerate_does_not_replace_another_job_either(rail: Path, call: Call) -> None:
    """`regenerate --write` says the same line, status 2, and leaves job and templates as they were."""
    call("make", "rail.toml", "--for", "cnc")
    manifest = Path("templates/rail/rail.json")
    changed(manifest, '"file": "rail.toml"', '"file": "drawer.toml"')
    data = json.loads(manifest.read_text(encoding="utf-8"))
    data["sha256"] = content_hash(data)
    manifest.write_text(json.dumps(data), encoding="utf-8")
    before = {p: p.read_bytes() for p in (rail, *Path("templates/rail").iterdir())}
    said = call("regenerate", ".", "--bit", "8 mm", "--write")
    assert said.status == 2
    assert 'were made from "drawer.toml", and "rail.toml" would replace them' in said.err
    assert {p: p.read_bytes() for p in (rail, *Path("templates/rail").iterdir())} == before


@pytest.mark.parametrize(
    "name",
    [
        "rail_laser_mm.dxf",
        "rail_laser_in.dxf",
        "rail_laser.svg",
        "rail_laser_kerf0.15_mm.dxf",
        "rail_laser_kerf0.16002_in.dxf",
        "rail_laser_kerf0.16mm_in.dxf",
        "rail_laser_kerf0.16mm.svg",
        "rail_MIRRORED_laser_kerf0.2.svg",
        "rail_cnc_underside_MIRRORED_mm.dxf",
        "rail_MIRRORED_cnc.svg",
        "rail_paper_a4.pdf",
        "rail_print.3mf",
        "rail_print_mm.stl",
        "rail_inlay.pdf",
        "rail_setup.pdf",
    ],
)
def test_files_that_are_called_as_a_templates(tmp_path: Path, name: str) -> None:
    """Every name that this or an earlier version gives is known, unless it is listed."""
    (tmp_path / name).touch()
    assert strays(tmp_path, "rail", {"other.svg"}) == (name,)
    assert strays(tmp_path, "rail", {name}) == ()


def test_other_files_are_left_in_peace(tmp_path: Path) -> None:
    """The manifest, a person's own notes and drawings, another template's; a folder that is not there has none."""
    for name in ("rail.json", "rail_laser.txt", "rail_laser_v2.svg", "rail2_laser.svg", "my rail_laser.svg", "a.dxf"):
        (tmp_path / name).touch()
    assert strays(tmp_path, "rail", set()) == ()
    assert strays(tmp_path / "none", "rail", set()) == ()


def test_make_warns_as_long_as_they_are_there(rail: Path, call: Call) -> None:
    """Also of files that the manifest before this one no longer listed."""
    call("make", "rail.toml", "--for", "laser")
    call("make", "rail.toml", "--for", "cnc")
    changed(rail, '"50 mm"', '"60 mm"')
    said = json.loads(call("make", "rail.toml", "--for", "cnc", "--json").out)
    (older,) = (finding["message"] for finding in said["findings"] if finding["code"] == "older-files")
    assert older.startswith(
        "made earlier and not renewed now, so perhaps no longer right: rail_laser.svg, rail_laser_mm"
    )


def test_make_of_an_unchanged_job_warns_as_well(rail: Path, call: Call) -> None:
    """Its files are left alone and those left from before still named, until they are gone."""
    call("make", "rail.toml", "--for", "laser")
    call("make", "rail.toml", "--for", "cnc")
    said = json.loads(call("make", "rail.toml", "--for", "cnc", "--json").out)
    assert [finding["message"] for finding in said["findings"] if finding["code"] == "older-files"] == [
        "made earlier and not renewed now, so perhaps no longer right: rail_laser.svg, rail_laser_mm.dxf; delete them, "
        "or make them again"
    ]
    again = call("make", "rail.toml", "--for", "cnc").out
    assert "unchanged" in again
    assert "rail_laser_mm.dxf" in again
    for file in (rail.parent / "templates" / "rail").glob("rail_laser*"):
        file.unlink()
    assert "rail_laser" not in call("make", "rail.toml", "--for", "cnc").out
