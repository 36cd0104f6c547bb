"""The manifest: what it says, what it never says, and what it tells of an earlier make."""

import json
import re
from collections.abc import Callable
from fractions import Fraction
from importlib import metadata
from pathlib import Path
from typing import Any

import pytest

from jigtemplates import manifest
from jigtemplates.making import write
from jigtemplates.manifest import LARGEST_BYTES, job_file, job_hash, manifest_text, plain, unlisted
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import load_job
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report

JobWith = Callable[..., Job]
ReportWith = Callable[..., Report]

LISTED = {"rail_cnc_mm.dxf": ("ab" * 32, (140.0, 90.0))}


def read(report: Report) -> dict[str, Any]:
    """The manifest, read."""
    data: dict[str, Any] = json.loads(manifest_text(report, LISTED))
    return data


def test_what_it_says(report_with: ReportWith) -> None:
    """Program, libraries, hashes of pens and own bits, the resolved job, results, opening, files, own hash."""
    data = read(report_with())
    assert list(data) == ["program", "libraries", "pens", "own_bits", "job", "results", "opening", "files", "sha256"]
    assert list(data["program"]) == ["name", "version", "sha256"]
    assert data["program"]["name"] == "jigtemplates"
    assert data["libraries"]["ezdxf"] == metadata.version("ezdxf")
    assert set(data["libraries"]) == {"ezdxf", "Hershey-Fonts", "reportlab", "shapely", "svgelements", "svgwrite"}
    assert data["files"] == [
        {"name": "rail_cnc_mm.dxf", "width_mm": 140.0, "height_mm": 90.0, "sha256": "ab" * 32},
    ]


def test_the_resolved_job(report_with: ReportWith) -> None:
    """Tools with what was taken for them, sizes as written and in mm, the kerf of the laser."""
    job = read(report_with(make={"kerf": 0.2}))["job"]
    assert job["tools"]["bit"]["diameter"] == {"text": "3/8 in", "mm": 9.525}
    assert job["tools"]["bushing"]["bore"] == pytest.approx(13 / 32 * 25.4)
    assert job["tools"]["bushing"]["assumed"] == ["bore"]
    assert job["make"]["kerf"] == 0.2
    assert job["plate"]["material"]["name"] == "mdf"
    assert job["cut"]["x"] == 70
    taken = 'bore of the bushing taken from "bushing 1/2 in", which has the same diameter'
    assert job["assumptions"] == [{"where": "tools.bushing", "text": taken}]


def test_a_measured_size(report_with: ReportWith) -> None:
    """A measured diameter is given with what it is sold as, how good it is, and which of the two was used."""
    diameter = {"nominal": "1/2 in", "measured": "12.68 mm", "within": "0.01 mm"}
    job = read(report_with(tools={"bushing": {"diameter": diameter}}))["job"]
    assert job["tools"]["bushing"]["diameter"] == {
        "text": "12.68 mm",
        "mm": 12.68,
        "used": "measured",
        "nominal": {"text": "1/2 in", "mm": 12.7},
        "within": {"text": "0.01 mm", "mm": 0.01},
    }


def test_the_results(report_with: ReportWith) -> None:
    """The results are those of --json, without the files' places and the budget, which follows from the job."""
    report = report_with()
    expected = report.as_json()
    del expected["files"], expected["budget"]
    assert read(report)["results"] == expected


def test_no_clock_and_no_machine(tmp_path: Path) -> None:
    """No time of day, no folder of this machine, not even of a profile; the job only by its file's name."""
    (tmp_path / "profiles").mkdir()
    (tmp_path / "profiles" / "mine.toml").write_text('units = "mm"\n[bits."worn"]\ndiameter = 9.4\n', encoding="utf-8")
    job = tmp_path / "shelf.toml"
    job.write_text(
        'title = "S"\nunits = "mm"\n[cut]\nshape = "slot"\nwidth = 10\nlength = 50\ndepth = 8\n'
        '[tools]\nbit = "worn"\nbushing = 13\n[plate]\nwidth = 140\nheight = 90\nthickness = 6\n'
        '[make]\nfor = ["cnc"]\n',
        encoding="utf-8",
    )
    from jigtemplates.report import report_on

    write(report_on(load_job(job)), tmp_path)
    text = (tmp_path / "shelf" / "shelf.json").read_text(encoding="utf-8")
    data = json.loads(text)
    assert data["job"]["file"] == "shelf.toml"
    assert data["job"]["tools"]["bit"]["origin"] == "mine.toml"
    assert tmp_path.name not in text
    assert str(Path.home()) not in text
    assert not re.search(r"\d\d:\d\d|20\d\d-\d\d", text)


def test_a_job_from_text_has_no_file(job_with: JobWith) -> None:
    """A job that came as text names no file."""
    assert job_file(job_with()) is None


def test_job_hash(job_with: JobWith) -> None:
    """The hash is that of the meaning: key order aside, the same; any other length, another."""
    assert re.fullmatch("[0-9a-f]{64}", job_hash(job_with()))
    assert job_hash(job_with()) == job_hash(job_with())
    assert job_hash(job_with(cut={"width": 11})) != job_hash(job_with())


def test_plain() -> None:
    """Fractions are numbers, keys are text, tuples are lists, other values stay."""
    assert plain({1: (Fraction(1, 4), None, "a", True)}) == {"1": [0.25, None, "a", True]}


def test_a_checkout_has_no_version(monkeypatch: pytest.MonkeyPatch) -> None:
    """A library that is not installed as a package has an unknown version."""
    assert manifest._version("no-such-package-of-ours") == "unknown"


def made(folder: Path, *names: str, listed: object = None) -> None:
    """A folder as an earlier make left it."""
    for name in names:
        (folder / name).write_bytes(b"old")
    content = {"files": [{"name": name} for name in names]} if listed is None else listed
    (folder / "rail.json").write_text(json.dumps(content), encoding="utf-8")


def test_older_files(tmp_path: Path) -> None:
    """Files of an earlier make that are not renewed are a warning that names them, sorted."""
    made(tmp_path, "rail_laser.svg", "rail_cnc.svg", "rail_cnc_mm.dxf")
    (finding,) = unlisted(tmp_path, "rail.json", {"rail.json", "rail_cnc.svg"})
    assert (finding.level.value, finding.code, finding.where) == ("warning", "older-files", "make.for")
    assert finding.message == (
        "made earlier and not renewed now, so perhaps no longer right: rail_cnc_mm.dxf, rail_laser.svg; delete them, "
        "or make them again"
    )


def test_no_older_files(tmp_path: Path) -> None:
    """Nothing is said of files that are gone, renewed, or that no manifest lists."""
    assert unlisted(tmp_path, "rail.json", {"rail.json"}) == ()
    made(tmp_path, "rail_cnc.svg")
    (tmp_path / "mine.svg").write_bytes(b"")
    assert unlisted(tmp_path, "rail.json", {"rail_cnc.svg"}) == ()
    (tmp_path / "rail_cnc.svg").unlink()
    assert unlisted(tmp_path, "rail.json", set()) == ()


def test_a_name_cannot_lead_elsewhere(tmp_path: Path) -> None:
    """Of a name in a manifest only its last part counts."""
    (tmp_path / "in").mkdir()
    (tmp_path / "outside.txt").write_bytes(b"")
    made(tmp_path / "in", listed={"files": [{"name": "../outside.txt"}]})
    assert unlisted(tmp_path / "in", "rail.json", set()) == ()


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"files": 3}', '{"files": [3]}', '{"files": [{"name": 3}]}', "[" * 100_000, "\udcff"]
)
def test_a_spoilt_manifest(tmp_path: Path, text: str) -> None:
    """A manifest that is not ours, cut short, deeply nested or no UTF-8 is passed over."""
    (tmp_path / "rail.json").write_bytes(text.encode("utf-8", "surrogateescape"))
    assert unlisted(tmp_path, "rail.json", set()) == ()


def test_a_huge_manifest(tmp_path: Path) -> None:
    """A manifest larger than ours can be is not read."""
    made(tmp_path, "rail_cnc.svg")
    path = tmp_path / "rail.json"
    path.write_text(path.read_text(encoding="utf-8") + " " * LARGEST_BYTES, encoding="utf-8")
    assert unlisted(tmp_path, "rail.json", set()) == ()


def test_fewer_files_the_second_time(report_with: ReportWith, tmp_path: Path) -> None:
    """Making less than before warns of what stays, and the third time knows no more of it."""
    write(report_with(), tmp_path, profiles=Profiles())
    second = write(report_with(make={"for": ["cnc"]}), tmp_path, profiles=Profiles())
    assert second.findings[-1].code == "older-files"
    assert "rail_laser.svg" in second.findings[-1].message
    assert (tmp_path / "rail" / "rail_laser.svg").is_file()
