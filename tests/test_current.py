"""Whether a template's folder is still right: what counts as a change, and what a manifest must be."""

import json
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates import manifest
from jigtemplates.current import kept_by, read_manifest
from jigtemplates.errors import InputError, OutputError
from jigtemplates.making import write
from jigtemplates.manifest import content_hash
from jigtemplates.parameters.job import Job
from jigtemplates.profiles import Profiles, shipped_folder
from jigtemplates.report import Report, report_on

Call = Callable[..., Any]
JobWith = Callable[..., Job]
CNC = {"make": {"for": ["cnc"]}}


@pytest.fixture
def made(job_with: JobWith, tmp_path: Path) -> tuple[Job, Report]:
    """The plan's job for a CNC router alone, made in tmp_path."""
    job = job_with(**CNC)
    return job, write(report_on(job), tmp_path, profiles=Profiles())


def test_what_was_just_made_is_current(made: tuple[Job, Report], tmp_path: Path) -> None:
    """The same job again: the files it names are those that making reported, with sizes and hashes."""
    job, report = made
    kept = kept_by(job, tmp_path, Profiles())
    assert kept is not None
    assert kept.all_files == report.files
    assert [Path(file.path).name for file in kept.files][:2] == ["rail_cnc_mm.dxf", "rail_cnc.svg"]


def test_another_job_is_not(made: tuple[Job, Report], job_with: JobWith, tmp_path: Path) -> None:
    """A longer cut, another bit, more targets: to be made again."""
    for changed in ({"cut": {"length": 51}}, {"tools": {"bit": "9 mm"}}, {"make": {"for": ["cnc", "laser"]}}):
        assert kept_by(job_with(**{**CNC, **changed}), tmp_path, Profiles()) is None


@pytest.mark.parametrize("name", ["rail_cnc.svg", "rail_cnc_mm.dxf", "rail.json"])
def test_a_file_that_changed_or_is_gone(made: tuple[Job, Report], tmp_path: Path, name: str) -> None:
    """One byte less, a folder in its place, nothing in its place: to be made again."""
    path = tmp_path / "rail" / name
    path.write_bytes(path.read_bytes()[:-2])
    assert kept_by(made[0], tmp_path, Profiles()) is None
    path.unlink()
    assert kept_by(made[0], tmp_path, Profiles()) is None
    path.mkdir()
    assert kept_by(made[0], tmp_path, Profiles()) is None


def test_which_files_changed(made: tuple[Job, Report], tmp_path: Path) -> None:
    """They are named, those that are gone as well."""
    folder = tmp_path / "rail"
    kept = read_manifest(folder / "rail.json")
    assert list(kept.changed_files()) == []
    (folder / "rail_cnc.svg").write_bytes(b"mine")
    (folder / "rail_cnc_mm.dxf").unlink()
    assert list(kept.changed_files()) == ["rail_cnc_mm.dxf", "rail_cnc.svg"]


def test_other_pens(made: tuple[Job, Report], tmp_path: Path) -> None:
    """A process profile that names another layer makes other files, though the job is the same."""
    own = tmp_path / "own"
    own.mkdir()
    text = (shipped_folder() / "processes.toml").read_text(encoding="utf-8")
    (own / "mine.toml").write_text(text.replace('layer = "cut_inside"', 'layer = "INNER"'), encoding="utf-8")
    assert kept_by(made[0], tmp_path, Profiles([own])) is None
    assert kept_by(made[0], tmp_path, Profiles()) is not None


@pytest.mark.parametrize("what", ["code_hash", "_version"])
def test_another_program_or_library(
    made: tuple[Job, Report], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, what: str
) -> None:
    """Another version of a library, or other code under the same version: to be made again."""
    monkeypatch.setattr(manifest, what, lambda *_: "another")
    manifest.made_with.cache_clear()
    assert kept_by(made[0], tmp_path, Profiles()) is None
    manifest.made_with.cache_clear()


def test_the_code_counts_by_its_content() -> None:
    """64 hexadecimal digits, the same in every call."""
    assert re.fullmatch("[0-9a-f]{64}", manifest.code_hash())
    assert manifest.code_hash.__wrapped__() == manifest.code_hash.__wrapped__()


FOREIGN = "this is no manifest of jigtemplates, or it is damaged (make the template again)"


@pytest.mark.parametrize(
    "text",
    [
        b"", b"{", b"[]", b"3", b"\xff", b"[" * 100_000, b'{"program": 1}', b'{"program": {"name": "another"}}',
        b'{"program": {"name": "jigtemplates"}}', b'{"program": {"name": "jigtemplates"}, "files": [1]}',
        b'{"program": {"name": "jigtemplates"}, "files": [{"name": "a", "sha256": "b", "width_mm": "wide"}]}',
        b'{"program": {"name": "jigtemplates"}, "files": []}' + b" " * 1_000_000,
    ],
)  # fmt: skip
def test_a_damaged_manifest(job_with: JobWith, tmp_path: Path, text: bytes) -> None:
    """Cut short, foreign, deeply nested, too large or with wrong values: one line; its job is to be made again."""
    (tmp_path / "rail").mkdir()
    path = tmp_path / "rail" / "rail.json"
    path.write_bytes(text)
    with pytest.raises(InputError) as caught:
        read_manifest(path)
    assert caught.value.lines == (f"{path}: {FOREIGN}",)
    assert kept_by(job_with(), tmp_path, Profiles()) is None


def test_no_manifest(tmp_path: Path) -> None:
    """One that is not there, or whose name no file can have: the reason in one line."""
    for name, reason in (("rail.json", "No such file or directory"), ("r\0.json", "the name is not valid")):
        with pytest.raises(InputError, match=reason):
            read_manifest(tmp_path / name)


def test_a_manifest_that_lists_nothing_or_has_no_job(made: tuple[Job, Report], tmp_path: Path) -> None:
    """Emptied by hand it does not make a job current."""
    path = tmp_path / "rail" / "rail.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    for spoilt in ({**data, "files": []}, {**data, "job": 3}):
        spoilt["sha256"] = content_hash(spoilt)
        path.write_text(json.dumps(spoilt), encoding="utf-8")
        assert kept_by(made[0], tmp_path, Profiles()) is None


def test_a_listed_name_cannot_lead_elsewhere(made: tuple[Job, Report], tmp_path: Path) -> None:
    """Of a name in the list only the last part counts."""
    path = tmp_path / "rail" / "rail.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    data["files"][0]["name"] = "../../outside.txt"
    data["sha256"] = content_hash(data)  # a clever forger's
    path.write_text(json.dumps(data), encoding="utf-8")
    assert read_manifest(path).files[0].path == (tmp_path / "rail" / "outside.txt").as_posix()


@pytest.mark.parametrize("change", [{"results": {}}, {"sha256": None}, {"sha256": "0" * 64}, {"more": 1}])
def test_a_manifest_changed_by_hand(made: tuple[Job, Report], tmp_path: Path, change: dict[str, Any]) -> None:
    """Any change of what it says, or of its own hash, is noticed in one line; its job is to be made again."""
    path = tmp_path / "rail" / "rail.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    path.write_text(json.dumps({**data, **change}), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_manifest(path)
    assert caught.value.lines == (f"{path}: manifest changed since it was written (make the template again)",)
    assert kept_by(made[0], tmp_path, Profiles()) is None


def test_a_manifest_only_laid_out_anew(made: tuple[Job, Report], tmp_path: Path) -> None:
    """Other spaces and another order of keys say the same."""
    path = tmp_path / "rail" / "rail.json"
    path.write_text(json.dumps(json.loads(path.read_text(encoding="utf-8")), sort_keys=True), encoding="utf-8")
    assert kept_by(made[0], tmp_path, Profiles()) is not None


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes with names")
@pytest.mark.parametrize("name", ["rail.json", "rail_cnc.svg"])
@pytest.mark.parametrize("kind", ["pipe", "device"])
def test_no_ordinary_file_is_waited_for(made: tuple[Job, Report], tmp_path: Path, name: str, kind: str) -> None:
    """A pipe and a link to an endless device are not read: to be made again, which is refused in one line."""
    path = tmp_path / "rail" / name
    path.unlink()
    if kind == "pipe":
        os.mkfifo(path)
    else:
        path.symlink_to("/dev/zero")
    assert kept_by(made[0], tmp_path, Profiles()) is None
    with pytest.raises(OutputError) as caught:
        write(report_on(made[0]), tmp_path, profiles=Profiles())
    line = f"{path}: cannot be written: it is not an ordinary file (delete it or choose another place)"
    assert caught.value.lines == (line,)


def test_a_file_larger_than_ours_counts_as_changed(
    made: tuple[Job, Report], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Reading stops at the limit."""
    monkeypatch.setattr("jigtemplates.ordinary.LARGEST_FILE", 10)
    assert kept_by(made[0], tmp_path, Profiles()) is None


def times(folder: Path) -> dict[str, int]:
    return {p.name: p.stat().st_mtime_ns for p in folder.rglob("*")}


def test_a_second_make_writes_nothing_and_says_so(
    call: Callable[..., Any], rail: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second `make` makes no bytes, touches no file, says unchanged, and has the same --json."""
    first = call("make", "rail.toml", "--json")
    before = times(rail.parent)
    monkeypatch.setattr("jigtemplates.making.make_files", lambda *_: pytest.fail("made again"))
    assert call("make", "rail.toml", "--json") == first
    assert (
        "  Files in templates/rail (unchanged), with the overall size to check with a rule:\n"
        in call("make", "rail.toml").out
    )
    assert times(rail.parent) == before
    os.utime(rail)  # a job that was only touched means the same
    (rail.parent / "z.toml").write_text('title = ""\n', encoding="utf-8")
    assert "Bench rail, 10 x 50: unchanged, 8 files in templates/rail\n" in call("make", ".").out


def test_what_a_killed_run_left_goes_though_nothing_changes(call: Call, rail: Path) -> None:
    """A temporary among files that are right is cleared away by the next make."""
    assert call("make", "rail.toml").status == 0
    left = rail.parent / "templates" / "rail" / ".jigtemplates-99999999-0123abcd.tmp"
    left.write_bytes(b"half")
    assert "(unchanged)" in call("make", "rail.toml").out
    assert not left.exists()
