"""Several jobs in one call: which files a folder stands for, and what one job's fault does to the others."""

import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.batch import Batch, Done, _broken, job_files
from jigtemplates.errors import InputError, JigError
from jigtemplates.geometry.curves import GeometryError

Call = Callable[..., Any]


def copy(rail: Path, *names: str) -> None:
    """More jobs like it, beside it."""
    for name in names:
        (rail.parent / name).write_bytes(rail.read_bytes())


def made(folder: Path) -> list[str]:
    return sorted(p.name for p in (folder / "templates").glob("*"))


def test_a_file_stands_for_itself(here: Path) -> None:
    """A path that is no folder is the job, there or not: the reader says what is wrong with it."""
    assert job_files(Path("rail.toml")) == (Path("rail.toml"),)


def test_a_folder_stands_for_its_jobs(here: Path) -> None:
    """The *.toml files in the order of their names, whatever their case; no hidden files, no folders."""
    for name in ("b.toml", "A.TOML", "._b.toml", "note.txt", "c.toml"):
        (here / name).write_text("x", encoding="utf-8")
    (here / "d.toml").mkdir()
    assert [p.name for p in job_files(here)] == ["A.TOML", "b.toml", "c.toml"]


def test_a_folder_without_jobs_is_refused(call: Call, here: Path) -> None:
    """A folder without a job file: status 2 and one line that says how a job's name ends."""
    (here / "empty").mkdir()
    said = call("make", "empty")
    assert said == (2, "", "empty: no job file in this folder (a job's name ends in .toml)\n")


def test_a_folder_that_cannot_be_listed(call: Call, here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that may not be read: status 2 and the system's reason in one line."""
    (here / "shut").mkdir()

    def refused(_: object) -> list[str]:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("jigtemplates.batch.os.listdir", refused)
    assert call("check", "shut") == (2, "", "shut: the folder cannot be read (Permission denied)\n")


def test_the_good_jobs_of_a_folder_are_made(call: Call, rail: Path) -> None:
    """Broken jobs among good ones: the good ones are made, each fault is a line on stderr, status 2."""
    copy(rail, "a.toml", "z.toml")
    (rail.parent / "b.toml").write_text("width = \n", encoding="utf-8")
    (rail.parent / "c.toml").write_text('title = "c"\nfrob = 1\n', encoding="utf-8")
    said = call("make", ".", "--for", "cnc")
    assert said.status == 2
    assert made(rail.parent) == ["a", "rail", "z"]
    assert {line.partition(":")[0] for line in said.faults} == {"b.toml", "c.toml"}
    assert said.faults[0].startswith("b.toml:1: column 9: the value cannot be read")
    assert any('unknown key "frob"' in line for line in said.faults)
    assert said.out.count("Bench rail, 10 x 50: 4 files in templates/") == 3


def test_a_stop_among_good_jobs(call: Call, rail: Path) -> None:
    """A stopped job among good ones: they are made, it is not and says so, status 1."""
    copy(rail, "a.toml")
    rail.write_text(rail.read_text(encoding="utf-8").replace("width  = 10", "width  = 9"), encoding="utf-8")
    said = call("make", "a.toml", "rail.toml", "--for", "cnc")
    assert (said.status, said.err, made(rail.parent)) == (1, "", ["a"])
    assert "Bench rail, 10 x 50: nothing made\n  stop     tools.bit: the bit (9.525 mm) is wider" in said.out


def test_a_fault_outweighs_a_stop(call: Call, rail: Path) -> None:
    """One job stopped and one unreadable: status 2."""
    assert call("check", "rail.toml", "nowhere.toml", "rail.toml").status == 2


def test_a_job_named_twice_is_done_once(call: Call, rail: Path) -> None:
    """The same path twice, or a folder and a file in it, is one job."""
    assert Batch.of([Path("rail.toml"), Path(), Path("./rail.toml")]).paths == (Path("rail.toml"),)
    assert call("make", "rail.toml", ".", "--for", "cnc").out.startswith("Bench rail, 10 x 50\n")


@pytest.mark.parametrize("other", ["sub/rail.toml", "sub/RAIL.toml", "sub/rail.tml"])
def test_two_jobs_of_one_name_are_refused(call: Call, rail: Path, other: str) -> None:
    """Jobs whose files would share a folder on some system: one line, status 2, neither is made."""
    (rail.parent / "sub").mkdir()
    copy(rail, other)
    said = call("make", "rail.toml", other)
    stem = Path(other).stem
    line = f'{other}: would write into the same folder "{stem}" as rail.toml (rename one of them)\n'
    assert said == (2, "", line)
    assert made(rail.parent) == []
    assert call("check", "rail.toml", other).status == 0  # nothing is written, so nothing is in the way


def test_names_that_differ_in_how_an_accent_is_composed(call: Call, rail: Path) -> None:
    """ü as one character and as u with two dots is one name on some disks."""
    (rail.parent / "sub").mkdir()
    copy(rail, "t\u00fcr.toml", "sub/tu\u0308r.toml")
    said = call("make", "t\u00fcr.toml", "sub/tu\u0308r.toml")
    assert (said.status, len(said.faults), made(rail.parent)) == (2, 1, [])


def test_a_faulty_profile_is_said_once(call: Call, rail: Path) -> None:
    """A profile folder with a broken file: its line stands there once, not once for every job; status 2."""
    copy(rail, "a.toml", "b.toml")
    (rail.parent / "own").mkdir()
    (rail.parent / "own" / "tools.toml").write_text('[bushings."mine"]\ndiameter = "12,7 mm"\n', encoding="utf-8")
    said = call("make", ".", "--profiles", "own")
    assert (said.status, said.out, made(rail.parent)) == (2, "", [])
    assert said.faults == ['own/tools.toml:2: bushings.mine.diameter: "12,7 mm" is not a length (write 12.7 mm)']


def test_profiles_beside_the_job_come_first(call: Call, rail: Path) -> None:
    """A `profiles` folder beside the job gives its tools names, also when called from elsewhere."""
    far = rail.parent / "far"
    (far / "profiles").mkdir(parents=True)
    (far / "profiles" / "mine.toml").write_text('[bits."mine"]\ndiameter = "8 mm"\n', encoding="utf-8")
    (far / "job.toml").write_text(rail.read_text(encoding="utf-8").replace('"3/8 in"', '"mine"', 1), encoding="utf-8")
    said = call("check", "far/job.toml")
    assert said.status == 0
    assert "  bit         mine (8 mm" in said.out
    assert call("make", "rail.toml", "--bit", "mine").status == 2  # this job's folder has no such profile


def test_the_bit_of_the_option_goes_for_every_job(call: Call, rail: Path) -> None:
    """`--bit` that does not fit stops each of the jobs; nothing is made."""
    copy(rail, "a.toml")
    said = call("make", "a.toml", "rail.toml", "--bit", "11 mm")
    assert (said.status, made(rail.parent)) == (1, [])
    assert said.out.count("the bit (11 mm) is wider than the cut (10 mm)") == 2


@pytest.mark.parametrize(
    ("error", "line"),
    [
        (InputError("own.toml:3: says where"), "own.toml:3: says where"),
        (GeometryError("two edges do not meet"), "rail.toml: two edges do not meet"),
        (JigError("no place"), "rail.toml: no place"),
        (
            ZeroDivisionError("two\nlines"),
            "rail.toml: a fault in jigtemplates itself: ZeroDivisionError: two lines (please report it)",
        ),
    ],
)
def test_every_line_says_which_job(rail: Path, monkeypatch: pytest.MonkeyPatch, error: Exception, line: str) -> None:
    """Errors that name no place get the job's name in front; those that do are left as they are."""

    def broken(_: object) -> None:
        raise error

    monkeypatch.setattr("jigtemplates.batch.report_on", broken)
    assert list(Batch.of([Path("rail.toml")]).checked()) == [Done(Path("rail.toml"), None, (line,))]


def test_a_folder_of_templates_that_is_a_file(call: Call, rail: Path) -> None:
    """Where a file has the name of the job's folder: one line, not one for each file; it stays."""
    (rail.parent / "templates").mkdir()
    (rail.parent / "templates" / "rail").write_text("mine", encoding="utf-8")
    said = call("make", "rail.toml")
    line = "templates/rail: nothing can be written there: this is not a folder (choose another place)\n"
    assert said == (2, "", line)
    assert (rail.parent / "templates" / "rail").read_text(encoding="utf-8") == "mine"


@pytest.mark.skipif(os.name != "posix", reason="needs symbolic links")
def test_out_may_be_a_link_to_a_folder(call: Call, rail: Path) -> None:
    """A symbolic link to a folder is a folder; one to itself is refused in one line."""
    (rail.parent / "real").mkdir()
    (rail.parent / "link").symlink_to("real")
    (rail.parent / "loop").symlink_to("loop")
    assert call("make", "rail.toml", "--for", "cnc", "--out", "link").status == 0
    assert (rail.parent / "real" / "rail" / "rail.json").is_file()
    said = call("make", "rail.toml", "--out", "loop")
    assert said == (2, "", "loop: nothing can be written there: this is not a folder (choose another place)\n")


FAMILY = """
title = "Rails"
units = "mm"
[cut]
shape = "slot"
width = 10
depth = 20
[cuts]
%s
[tools]
bit = "3/8 in"
bushing = "1/2 in"
[plate]
width = 140
height = 90
thickness = 6
[make]
for = ["cnc"]
"""


def family(folder: Path, name: str, sizes: int) -> None:
    """A file of so many sizes, each a little longer than the one before."""
    members = "\n".join(f"s{i} = {{ length = {30 + i} }}" for i in range(sizes))
    (folder / name).write_text(FAMILY % members, encoding="utf-8")


#: The program's own hash in a manifest: a program that is being worked on differs from process to process.
PROGRAM = re.compile(rb'(?<="version": "0.1.0",\n    "sha256": ")[0-9a-f]{64}')


def everything(folder: Path) -> dict[str, bytes]:
    found = (p for p in folder.rglob("*") if p.is_file())
    return {p.relative_to(folder).as_posix(): PROGRAM.sub(b"", p.read_bytes()) for p in found}


def test_two_processes_make_the_same_bytes(rail: Path) -> None:
    """Families and single jobs, a stop and a fault: the same files, reports and faults in the same order as of one."""
    family(rail.parent, "many.toml", 23)
    copy(rail, "a.toml")
    text = rail.read_text(encoding="utf-8")
    (rail.parent / "b.toml").write_text(text.replace("width  = 10", "width  = 9"), encoding="utf-8")
    (rail.parent / "c.toml").write_text("width = \n", encoding="utf-8")
    batch = Batch.of([Path()])
    one, two = (list(batch.made(Path(out), processes=count)) for out, count in (("one", 1), ("two", 2)))
    assert everything(Path("one")) == everything(Path("two"))
    assert sum(name.endswith("_cnc_mm.dxf") for name in everything(Path("two"))) == 23 + 2
    assert [(d.path, d.faults, d.report and d.report.job.stem) for d in one] == [
        (d.path, d.faults, d.report and d.report.job.stem) for d in two
    ]
    said = [d.report.as_json() for d in two if d.report]
    assert [d.report.as_json() for d in one if d.report] == [
        {**job, "files": [name.replace("two/", "one/") for name in job["files"]]} for job in said
    ]


def test_a_second_time_with_two_processes(rail: Path) -> None:
    """Nothing is made again, and each job says so."""
    family(rail.parent, "many.toml", 12)
    batch = Batch.of([Path("many.toml")])
    first, second = (list(batch.made(Path("out"), processes=2)) for _ in range(2))
    assert [d.unchanged for d in first] == [False] * 12
    assert [d.unchanged for d in second] == [True] * 12
    assert [d.report for d in first] == [d.report for d in second]


def test_parts_of_many_sizes(rail: Path) -> None:
    """A file of more than ten sizes is shared out; each part says which sizes it is, should its process end."""
    family(rail.parent, "many.toml", 23)
    batch = Batch.of([Path("many.toml"), Path("rail.toml")])
    assert [(p.start, p.stop, p.name) for p in batch.parts] == [
        (0, 10, "many.toml (many-s0 to many-s9)"),
        (10, 20, "many.toml (many-s10 to many-s19)"),
        (20, 23, "many.toml (many-s20 to many-s22)"),
        (0, 1, "rail.toml"),
    ]
    assert batch.total == 24
    assert _broken(batch.parts[2]).faults == (
        "many.toml (many-s20 to many-s22): the process that made this ended suddenly; nothing is half-written "
        "(is memory short?)",
    )


def test_a_broken_family_is_said_once(rail: Path) -> None:
    """A fault in one of many sizes: one line for the file, by one process or two."""
    family(rail.parent, "many.toml", 23)
    spoilt = (rail.parent / "many.toml").read_text(encoding="utf-8").replace("length = 50", 'length = "50 miles"')
    (rail.parent / "many.toml").write_text(spoilt, encoding="utf-8")
    for count in (1, 2):
        (done,) = Batch.of([Path("many.toml")]).made(Path("out"), processes=count)
        assert len(done.faults) == 1
        assert done.faults[0].startswith("many.toml:29: cuts.s20.length: ")


def test_a_family_without_sizes(call: Call, here: Path) -> None:
    """An empty [cuts] is a fault and not nothing."""
    family(here, "none.toml", 0)
    said = call("make", "none.toml")
    assert (said.status, len(said.faults)) == (2, 1)
    assert said.faults[0].startswith("none.toml:8: cuts: holds 0 sizes")


def test_a_fault_of_ours_in_one_size(rail: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its line names the file and the size; the other sizes are done."""
    family(rail.parent, "two.toml", 2)
    from jigtemplates.report import report_on

    def broken(job: Any) -> Any:
        if job.member == "s1":
            raise ZeroDivisionError
        return report_on(job)

    monkeypatch.setattr("jigtemplates.batch.report_on", broken)
    good, bad = Batch.of([Path("two.toml")]).checked()
    assert good.report is not None
    assert bad.faults == ("two.toml: s1: a fault in jigtemplates itself: ZeroDivisionError: (please report it)",)


def test_many_jobs_go_to_several_processes(call: Call, rail: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`make` of twenty jobs asks for a process for each core, of nineteen for one."""
    asked = []

    def made(self: Batch, out: Path, *, processes: int) -> list[Done]:
        asked.append(processes)
        return []

    monkeypatch.setattr("jigtemplates.batch.Batch.made", made)
    monkeypatch.setattr("jigtemplates.parallel.usable_cores", lambda: 5)
    for count in (19, 20):
        family(rail.parent, "many.toml", count)
        assert call("make", "many.toml").status == 0
    assert asked == [1, 5]
