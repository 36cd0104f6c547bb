"""What was given with --profiles and --tools: noted in the manifest without folders of this machine, found again."""

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.given_profiles import NOTHING, Given, note_of, remembered, said_of
from jigtemplates.manifest import content_hash
from jigtemplates.profiles import Profiles, profiles_for

Call = Callable[..., Any]
TOOLS = 'units = "mm"\n[bits."shop 3/8"]\ndiameter = "9.5 mm"\n'


@pytest.fixture
def job(here: Path) -> Path:
    """jobs/rail.toml beside a folder and a file of profiles."""
    for folder in ("jobs", "shop"):
        (here / folder).mkdir()
    (here / "shop" / "own.toml").write_text(TOOLS, encoding="utf-8")
    (here / "tools.toml").write_text(TOOLS, encoding="utf-8")
    return Path("jobs/rail.toml")


def test_names_and_ways(job: Path) -> None:
    """From the job's folder, with plain slashes, wherever one stands and however the place was written."""
    here = Path.cwd()
    expected = {
        "profiles": {"name": "shop", "way": "../shop"},
        "tools": {"name": "tools.toml", "way": "../tools.toml"},
    }
    assert note_of(profiles_for(job, "shop", tools="tools.toml"), job) == expected
    assert note_of(profiles_for(job, here / "shop", tools=here / "tools.toml"), here / job) == expected
    assert note_of(profiles_for(job, "."), job) == {"profiles": {"name": "here", "way": ".."}}


def test_nothing_given(job: Path) -> None:
    """Without options there is nothing to note; nor of the folder beside the job, which is seen anyway."""
    beside = job.parent / "profiles"
    beside.mkdir()
    assert note_of(profiles_for(job), job) == {}
    assert note_of(profiles_for(job, beside), job) == {}


@pytest.mark.parametrize(
    ("job", "place"),
    [
        ("/shop/jobs/rail.toml", "/tools/mine"),  # only the root is common
        ("/home/ann/jobs/rail.toml", "/home/ben/mine"),  # the way would name somebody's folder
        ("/home/ann/a/b/c/d/rail.toml", "/home/ann/mine"),  # four folders up
    ],
)
def test_far_away_only_the_name_is_noted(job: str, place: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A way that would name folders of this machine, or leads too far up, is none."""
    monkeypatch.setattr("os.path.expanduser", lambda _: "/home/ann")
    note = note_of(Profiles(extra=Path(place)), Path(job))
    assert note == {"profiles": {"name": "mine", "way": None}}


def test_three_folders_up_is_near(monkeypatch: pytest.MonkeyPatch) -> None:
    """The person's own folder may be what is common: its name is in no way."""
    monkeypatch.setattr("os.path.expanduser", lambda _: "/home/ann")
    note = note_of(Profiles(tools=Path("/home/ann/mine.toml")), Path("/home/ann/a/b/c/rail.toml"))
    assert note == {"tools": {"name": "mine.toml", "way": "../../../mine.toml"}}


def test_on_another_drive(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no way leads there at all, the name alone."""

    def none(_: object) -> str:
        raise ValueError("Paths don't have the same drive")

    monkeypatch.setattr("os.path.commonpath", none)
    note = note_of(Profiles(extra=Path("/e/mine")), Path("/d/rail.toml"))
    assert note == {"profiles": {"name": "mine", "way": None}}


def manifest(job: Path, note: Any, *, stem: str = "rail", file: str = "rail.toml", **more: Any) -> Path:
    """A manifest of a job with such a note, with a hash that is right."""
    content = {"program": {"name": "jigtemplates"}, "given": note, "job": {"file": file}, "files": [], **more}
    place = Path("out") / stem / f"{stem}.json"
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_text(json.dumps({**content, "sha256": content_hash(content)}), encoding="utf-8")
    return place


SHOP = {"name": "shop", "way": "../shop"}


def test_found_again(job: Path) -> None:
    """As seen from where one stands, without a detour."""
    manifest(job, {"profiles": SHOP, "tools": {"name": "tools.toml", "way": "../tools.toml"}})
    assert remembered(job, Path("out")) == Given(Path("shop"), Path("tools.toml"))


@pytest.mark.parametrize(
    ("note", "more"),
    [
        ({"profiles": SHOP}, {"file": "other.toml"}),  # another job's
        ({"profiles": {"name": "shop", "way": os.path.abspath("/etc")}}, {}),
        ({"profiles": {"name": "shop", "way": "../../../../../etc"}}, {}),
        ({"profiles": {"name": 3, "way": None}}, {}),
        ({"profiles": {"name": "shop", "way": 3}}, {}),
        ({"profiles": "shop"}, {}),
        ({"profiles": {}}, {}),
        ([], {}),
        ({"profiles": SHOP}, {"files": 3}),  # no manifest of ours
    ],
)
def test_a_note_that_is_none(job: Path, note: Any, more: dict[str, Any]) -> None:
    """What we would not have written is not followed."""
    manifest(job, note, **more)
    assert remembered(job, Path("out")) == NOTHING


def test_no_manifest_or_a_spoilt_one(job: Path) -> None:
    """Without one, with one that says nothing, and with one that was changed, nothing is remembered."""
    assert remembered(job, Path("out")) == NOTHING
    place = manifest(job, {"profiles": SHOP})
    text = place.read_text(encoding="utf-8")
    place.write_text(text.replace('"../shop"', '"../chop"'), encoding="utf-8")
    assert remembered(job, Path("out")) == NOTHING
    place.write_text("{}", encoding="utf-8")
    assert remembered(job, Path("out")) == NOTHING


@pytest.mark.parametrize(
    ("kind", "name", "way", "line"),
    [
        (
            "profiles", "shop", "../gone",
            "jobs/rail.toml: its template was made with --profiles shop, which is not found from here (give --profiles "
            "DIR: where it is now, or another one)",
        ),
        (
            "profiles", "own.toml", "../shop/own.toml",  # a file is no folder
            "jobs/rail.toml: its template was made with --profiles own.toml, which is not found from here (give "
            "--profiles DIR: where it is now, or another one)",
        ),
        (
            "tools", "tools.toml", None,
            "jobs/rail.toml: its template was made with --tools tools.toml, which is not found from here (give --tools "
            "FILE: where it is now, or another one)",
        ),
        (
            "tools", "shop", "../shop",  # a folder is no file
            "jobs/rail.toml: its template was made with --tools shop, which is not found from here (give --tools FILE: "
            "where it is now, or another one)",
        ),
    ],
)  # fmt: skip
def test_not_there_any_more(job: Path, kind: str, name: str, way: str | None, line: str) -> None:
    """One line says what was given, and what to give now."""
    manifest(job, {kind: {"name": name, "way": way}})
    with pytest.raises(InputError) as caught:
        remembered(job, Path("out"))
    assert caught.value.lines == (line,)


def test_sizes_made_with_different_ones(job: Path) -> None:
    """A file's sizes share their tools, so one folder must do for all of them; where all agree, it is theirs."""
    job.write_text("[cuts.a]\n[cuts.b]\n[cuts.c]\n", encoding="utf-8")
    manifest(job, {"profiles": SHOP}, stem="rail-a")
    manifest(job, {"profiles": SHOP}, stem="rail-b")
    assert remembered(job, Path("out")) == Given(Path("shop"), None)
    manifest(job, {"profiles": {"name": "jobs", "way": "."}}, stem="rail-b")
    with pytest.raises(InputError) as caught:
        remembered(job, Path("out"))
    assert caught.value.lines == (
        "jobs/rail.toml: its templates were made with --profiles shop and --profiles jobs (give --profiles DIR for all "
        "of them)",
    )


def test_both_are_missed_at_once(job: Path) -> None:
    """A line for each."""
    manifest(job, {"profiles": {"name": "a", "way": None}, "tools": {"name": "b", "way": None}})
    with pytest.raises(InputError) as caught:
        remembered(job, Path("out"))
    assert remembered(job, Path("out"), Given(Path("shop"), Path("tools.toml"))) == NOTHING  # asked for, so not missed
    with pytest.raises(InputError) as other:
        remembered(job, Path("out"), Given(Path("shop"), None))
    assert len(other.value.lines) == 1
    assert [line.split(",")[0] for line in caught.value.lines] == [
        "jobs/rail.toml: its template was made with --profiles a",
        "jobs/rail.toml: its template was made with --tools b",
    ]


def test_what_is_read_again_is_said() -> None:
    """Of each that was remembered; what is given now comes first."""
    before = Given(Path("shop"), Path("tools.toml"))
    assert list(said_of(before)) == [
        (
            "profiles",
            "shop, given as --profiles when the template was made, is read again (another one: --profiles DIR)",
        ),
        ("tools", "tools.toml, given as --tools when the template was made, is read again (another one: --tools FILE)"),
    ]
    assert list(said_of(NOTHING)) == []
    assert Given(Path("new"), None).over(before) == Given(Path("new"), Path("tools.toml"))


def test_a_job_from_text_notes_nothing(job_with: Callable[..., Any], job: Path, tmp_path: Path) -> None:
    """It has no folder to come from."""
    from jigtemplates.making import write
    from jigtemplates.report import report_on

    own = profiles_for(None, "shop")
    write(report_on(job_with(profiles=own, make={"for": ["cnc"]})), tmp_path, profiles=own)
    assert "given" not in json.loads((tmp_path / "rail" / "rail.json").read_text(encoding="utf-8"))


def test_in_the_manifest(rail: Path, call: Call) -> None:
    """Beside what else decides the bytes; the same from everywhere, and nothing of this machine in it."""
    (rail.parent / "shop").mkdir()
    for given in ("shop", str(rail.parent / "shop")):
        assert call("make", "rail.toml", "--for", "cnc", "--profiles", given, "--out", given[-4:] + "s").status == 0
    made = (rail.parent / "shops" / "rail" / "rail.json").read_text(encoding="utf-8")
    assert json.loads(made)["given"] == {"profiles": {"name": "shop", "way": "shop"}}
    assert str(rail.parent) not in made
    assert (
        call("make", "rail.toml", "--for", "cnc", "--profiles", "shop", "--out", "shops").out.count("(unchanged)") == 1
    )


def test_make_without_what_was_given_before(rail: Path, call: Call) -> None:
    """The files stay, for their bytes are the same; the manifest no longer says what was not given."""
    (rail.parent / "shop").mkdir()
    call("make", "rail.toml", "--for", "cnc", "--profiles", "shop")
    before = {p.name: p.stat().st_mtime_ns for p in (rail.parent / "templates" / "rail").iterdir()}
    assert call("make", "rail.toml", "--for", "cnc").status == 0
    after = {p.name: p.stat().st_mtime_ns for p in (rail.parent / "templates" / "rail").iterdir()}
    assert {name for name in after if after[name] != before[name]} == {"rail.json"}
    assert '"given"' not in (rail.parent / "templates" / "rail" / "rail.json").read_text(encoding="utf-8")
