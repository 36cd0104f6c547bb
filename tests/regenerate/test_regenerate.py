"""The day the bit changes: what is said of each job, what is written, and that nothing is ever half done."""

import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.given_tool import GivenTool
from jigtemplates.regenerate import Regeneration, _broken
from jigtemplates.regenerate.outcome import Outcome
from jigtemplates.regenerate.text import Pair, outcome_lines, report_text, signed, sizes_text

Call = Callable[..., Any]

JOB = """\
# A mortise for the bench.
title = "Bench"
units = "mm"

[cut]
shape = "slot"
width = 10  # as wide as the rail's tenon
length = 50
depth = 20

[tools]  # from the drawer
bit = "8 mm"  # the old one
bushing = 12  # brass
clearance = 0.1

[plate]
width = 140
height = 100
thickness = 6

[make]
for = ["cnc"]
"""
#: The person's own bushings: 13.5 mm keeps templates made for 8 mm + 12 mm right with a bit of 9.5 mm.
TOOLS = """\
units = "mm"
[bits."new bit"]
diameter = 9.5
[bushings."brass 13.5"]
diameter = 13.5
bore = 11.5
[bushings."tight 13.5"]
diameter = 13.5
bore = 9.2
[bushings."brass 16"]
diameter = 16
bore = 14
"""


@pytest.fixture
def jobs(here: Path) -> Path:
    """A folder with one job that has been made, and a file of tools beside it."""
    (here / "jobs").mkdir()
    (here / "jobs" / "bench.toml").write_text(JOB, encoding="utf-8")
    (here / "tools.toml").write_text(TOOLS, encoding="utf-8")
    return here / "jobs"


@pytest.fixture
def made(jobs: Path, call: Call) -> Path:
    assert call("make", "jobs").status == 0
    return jobs


def change(job: Path, *pairs: tuple[str, str]) -> None:
    text = job.read_text(encoding="utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    job.write_text(text, encoding="utf-8")


def another(jobs: Path, name: str, *pairs: tuple[str, str]) -> Path:
    """One more job, changed from the first."""
    job = jobs / name
    job.write_text(JOB, encoding="utf-8")
    change(job, *pairs)
    return job


def everything(folder: Path) -> dict[str, tuple[bytes | None, int]]:
    """Bytes and time of change of all there is."""
    return {
        p.relative_to(folder).as_posix(): (p.read_bytes() if p.is_file() else None, p.stat().st_mtime_ns)
        for p in sorted(folder.rglob("*"))
    }


#: The program's own hash in a manifest: a program that is being worked on differs from process to process.
PROGRAM = re.compile(rb'(?<="version": "0.1.0",\n    "sha256": ")[0-9a-f]{64}')


def contents(folder: Path) -> dict[str, bytes]:
    """Bytes of all files but the dated reports."""
    return {
        p.relative_to(folder).as_posix(): PROGRAM.sub(b"", p.read_bytes())
        for p in sorted(folder.rglob("*"))
        if p.is_file() and not p.name.startswith("regenerate-")
    }


def told(call: Call, *args: str) -> list[dict[str, Any]]:
    said = call("regenerate", "jobs", *args, "--json")
    found: list[dict[str, Any]] = json.loads(said.out)
    return found


def codes(one: dict[str, Any]) -> list[str]:
    return [finding["code"] for finding in one["findings"]]


def test_a_new_opening(made: Path, call: Call) -> None:
    """A slot of 14 mm for 8 mm + 12 mm cuts 11.5 mm with 9.5 mm, and needs 12.5 mm: what the pair's sum says."""
    (one,) = told(call, "--bit", "9.5 mm")
    assert one["job"] == "bench"
    assert one["old"] == {
        "bit": "8 mm",
        "bushing": "12 mm",
        "opening": {"width": 14.0, "length": 54.0, "corner_radius": 7.0},
        "predicted_cut": {"width": 10.0, "length": 50.0, "max_deviation": 0.0, "unreachable_area": 0.0},
    }
    assert one["cut_with_new_bit"] == {"width": 11.5, "length": 51.5, "corner_radius": 5.75, "max_deviation": 0.75}
    assert one["keep_template_with_bushing"] is None
    assert one["new_opening"] == {"width": 12.5, "length": 52.5, "corner_radius": 6.25}
    assert one["status"] == "regenerated"
    assert "side-play" in codes(one)
    assert list(one) == [
        "job", "old", "cut_with_new_bit", "keep_template_with_bushing", "new_opening", "status", "findings",
    ]  # fmt: skip


def test_a_bushing_of_their_own_keeps_the_template(made: Path, call: Call) -> None:
    """9.5 mm in 13.5 mm has the offset of 8 mm in 12 mm; one whose bore is too tight for the bit does not count."""
    (one,) = told(call, "--bit", "new bit", "--tools", "tools.toml")
    assert (one["status"], one["keep_template_with_bushing"], one["new_opening"]) == ("keeps", "brass 13.5", None)
    assert one["cut_with_new_bit"]["width"] == 11.5  # with the bushing of the job


def test_the_own_bushing_keeps_it_where_the_bits_are_nearly_equal(made: Path, call: Call) -> None:
    """5/16 in is 7.9375 mm: 0.03 mm a side from 8 mm, too far; 7.96 mm is within 0.025 mm and keeps its bushing."""
    assert told(call, "--bit", "5/16 in")[0]["status"] == "regenerated"
    (one,) = told(call, "--bit", "7.96 mm")
    assert (one["status"], one["keep_template_with_bushing"]) == ("keeps", "12 mm")


def test_a_bushing_that_would_bind_keeps_nothing(jobs: Path, call: Call) -> None:
    """The offset is the old one, but the bushing would leave the opening less than the running clearance."""
    change(jobs / "bench.toml", ("width = 10 ", "width = 9.55 "))
    (one,) = told(call, "--bit", "new bit", "--tools", "tools.toml")
    assert (one["status"], one["keep_template_with_bushing"]) == ("regenerated", None)


def rectangle(job: Path, radius: int, bit: str, bushing: int) -> None:
    change(
        job,
        ('shape = "slot"', f'shape = "rectangle"\ncorner_radius = {radius}'),
        ("width = 10 ", "width = 20 "),
        ('bit = "8 mm"', f'bit = "{bit}"'),
        ("bushing = 12", f"bushing = {bushing}"),
    )


def test_corners_no_better_in_a_new_template(jobs: Path, call: Call) -> None:
    """The new bit leaves corners of 4.75 mm where 4 mm are asked for: so would a new template; kept."""
    rectangle(jobs / "bench.toml", 4, "8 mm", 12)
    (one,) = told(call, "--bit", "new bit", "--tools", "tools.toml")
    assert (one["status"], one["keep_template_with_bushing"]) == ("keeps", "brass 13.5")


def test_corners_that_were_never_better(jobs: Path, call: Call) -> None:
    """A smaller bit could now leave 4 mm, but the old template is as right as it was with corners of 6 mm: kept."""
    rectangle(jobs / "bench.toml", 4, "12 mm", 16)
    (one,) = told(call, "--bit", "8 mm", "--bushing", "12 mm")
    assert (one["status"], one["new_opening"]) == ("keeps", None)
    assert one["cut_with_new_bit"]["corner_radius"] == 6.0


def test_a_given_bushing_is_the_only_one_tried(made: Path, call: Call) -> None:
    """With --bushing as well the pair is fixed: it keeps the template, or a new opening is for that pair."""
    (kept,) = told(call, "--bit", "new bit", "--bushing", "brass 13.5", "--tools", "tools.toml")
    assert (kept["status"], kept["keep_template_with_bushing"]) == ("keeps", "brass 13.5")
    assert kept["cut_with_new_bit"]["width"] == 10.0
    (other,) = told(call, "--bit", "new bit", "--bushing", "brass 16", "--tools", "tools.toml")
    assert (other["status"], other["new_opening"]["width"]) == ("regenerated", 16.5)
    assert other["cut_with_new_bit"] is None  # 16 mm does not go into 14 mm


def test_a_new_bushing_alone(made: Path, call: Call) -> None:
    """The bit stays: 8 mm in 10 mm cuts 12 mm from an opening of 14 mm, and needs 12 mm."""
    (one,) = told(call, "--bushing", "10 mm")
    assert (one["cut_with_new_bit"]["width"], one["new_opening"]["width"]) == (12.0, 12.0)


def test_unchanged(made: Path, call: Call) -> None:
    """The tools it has already, and files as they were made: nothing to do, said from the manifest."""
    (one,) = told(call, "--bit", "8 mm")
    assert (one["status"], one["keep_template_with_bushing"], one["new_opening"]) == ("unchanged", "12 mm", None)
    assert one["cut_with_new_bit"] == {"width": 10.0, "length": 50.0, "corner_radius": 5.0, "max_deviation": 0.0}
    assert one["old"]["opening"]["width"] == 14.0
    assert {"bore-unknown", "side-play"} <= set(codes(one))


def test_unchanged_needs_no_geometry(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is found without making a template."""
    monkeypatch.setattr("jigtemplates.regenerate.report_on", lambda _: pytest.fail("made a template"))
    assert told(call, "--bit", "8mm")[0]["status"] == "unchanged"


@pytest.mark.parametrize("spoilt", ["bench_cnc.svg", "bench.json"])
def test_the_same_tools_but_other_files(made: Path, call: Call, spoilt: str) -> None:
    """A file that is gone is made again, whatever the tools; the job is not touched."""
    before = contents(made.parent)
    (made.parent / "templates" / "bench" / spoilt).unlink()
    (one,) = told(call, "--bit", "8 mm", "--write")
    assert one["status"] == "regenerated"
    assert contents(made.parent) == before


def test_a_spoilt_manifest_is_not_believed(made: Path, call: Call) -> None:
    """With results that are none the job is looked at anew."""
    path = made.parent / "templates" / "bench" / "bench.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    path.write_text(json.dumps({**data, "results": {"opening": 3}}), encoding="utf-8")
    assert told(call, "--bit", "8 mm")[0]["old"]["opening"]["width"] == 14.0


def test_impossible(made: Path, call: Call) -> None:
    """A bit wider than the cut: status 1, why, and job and files stay even with --write; no report is left."""
    before = everything(made.parent)
    said = call("regenerate", "jobs", "--bit", "11 mm", "--write")
    assert (said.status, said.err) == (1, "")
    assert "With bit 11 mm: 1 job; left as it was 1\n" in said.out
    assert "  bench: tools.bit: the bit (11 mm) is wider than the cut (10 mm): use a bit of at most 10 mm" in said.out
    assert everything(made.parent) == before
    (one,) = told(call, "--bit", "11 mm")
    assert (one["status"], one["new_opening"], one["keep_template_with_bushing"]) == ("impossible", None, None)


def test_another_bushing_would_do(made: Path, call: Call) -> None:
    """Where the bit does not pass the job's bushing, but one of the person's own: it is named."""
    change(made / "bench.toml", ("bushing = 12", "bushing = { diameter = 12, bore = 9 }"))
    (one,) = told(call, "--bit", "9.4 mm", "--tools", "tools.toml")
    assert one["status"] == "impossible"
    assert one["findings"][-1] == {
        "level": "note",
        "code": "other-bushing",
        "where": "tools.bushing",
        "message": 'it can be made with "brass 13.5": add --bushing "brass 13.5"',
    }
    assert "other-bushing" not in codes(told(call, "--bit", "9.4 mm", "--bushing", "9 mm", "--tools", "tools.toml")[0])


def test_a_name_from_the_tools_file(made: Path, call: Call) -> None:
    """The job now names what only that file knows: it is said once for all jobs, and for a bushing as well."""
    another(made, "rail.toml")
    said = call("regenerate", "jobs", "--bit", "new bit", "--tools", "tools.toml")
    out = " ".join(said.out.split())
    for key, name in (("bit", "new bit"), ("bushing", "brass 13.5")):
        line = (
            f'tools.{key}: "{name}" is known from tools.toml alone: give --tools to check and make too, or put that '
            "file into a folder named profiles beside the jobs"
        )
        assert out.count(line) == 1


def test_without_write_nothing_is_written(made: Path, call: Call) -> None:
    """Folders, files and their times stay as they were; the last line says how to write."""
    before = everything(made.parent)
    said = call("regenerate", "jobs", "--bit", "9.5 mm")
    assert said.status == 0
    assert said.out.splitlines()[-1] == "Nothing was written: --write does it."
    assert everything(made.parent) == before


def test_with_write(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """The job has the new tools and its comments, the files are those that make would make, a dated report says so."""
    monkeypatch.setattr("jigtemplates.regenerate.command.date", Fixed)
    said = call("regenerate", "jobs", "--bit", "new bit", "--tools", "tools.toml", "--write")
    assert (said.status, said.err) == (0, "")
    expected = JOB.replace('bit = "8 mm"', 'bit = "new bit"').replace("bushing = 12 ", 'bushing = "brass 13.5" ')
    assert (made / "bench.toml").read_text(encoding="utf-8") == expected
    assert call("make", "jobs", "--tools", "tools.toml", "--out", "again").status == 0
    assert contents(made.parent / "templates") == contents(made.parent / "again")
    report = (made / "regenerate-2031-04-05.txt").read_text(encoding="utf-8").splitlines()
    assert report[0] == "jigtemplates regenerate, 2031-04-05"
    assert report[2] == 'With bit "new bit": 1 job; template kept 1'
    names = [name.strip() for name in report[report.index("Files written: 5") + 1 :]]
    assert names == [
        "templates/bench/bench_cnc_mm.dxf", "templates/bench/bench_cnc.svg", "templates/bench/bench_setup.pdf",
        "templates/bench/bench.json", "jobs/bench.toml",
    ]  # fmt: skip
    assert said.out.splitlines()[-1] == "Written: see jobs/regenerate-2031-04-05.txt"


class Fixed:
    """A day of our own."""

    @staticmethod
    def today() -> Any:
        from datetime import date

        return date(2031, 4, 5)


def test_a_second_run_writes_nothing(made: Path, call: Call) -> None:
    """Not even a report."""
    call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    before = everything(made.parent)
    (one,) = told(call, "--bit", "9.5 mm", "--write")
    assert one["status"] == "unchanged"
    assert everything(made.parent) == before


def test_reports_of_one_day_are_numbered(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """An earlier report is never overwritten."""
    monkeypatch.setattr("jigtemplates.regenerate.command.date", Fixed)
    for bit in ("9.5 mm", "9 mm", "8 mm"):
        assert call("regenerate", "jobs", "--bit", bit, "--write").status == 0
    assert sorted(p.name for p in made.glob("*.txt")) == [
        "regenerate-2031-04-05-2.txt", "regenerate-2031-04-05-3.txt", "regenerate-2031-04-05.txt",
    ]  # fmt: skip


def test_only_what_changes_is_written(made: Path, call: Call) -> None:
    """Of two jobs one has the bit already: its files and the job keep their times."""
    another(made, "rail.toml", ('bit = "8 mm"', 'bit = "9.5 mm"'))
    call("make", "jobs")
    before = everything(made.parent)
    assert [one["status"] for one in told(call, "--bit", "9.5 mm", "--write")] == ["regenerated", "unchanged"]
    after = everything(made.parent)
    changed = {name for name in after if after[name] != before.get(name) and after[name][0] is not None}
    assert not [name for name in changed if "rail" in name]
    assert "jobs/bench.toml" in changed


def test_broken_jobs_among_good_ones(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """The good ones are done, the broken ones are lines on stderr and in the report; 2 outweighs 1."""
    (made / "a.toml").write_text("width = \n", encoding="utf-8")
    another(made, "b.toml", ("width = 10 ", "width = 9 "))
    monkeypatch.setattr("jigtemplates.regenerate.command.date", Fixed)
    said = call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    assert (said.status, len(said.faults)) == (2, 1)
    assert said.faults[0].startswith("jobs/a.toml:1: column 9: the value cannot be read")
    assert "With bit 9.5 mm: 2 jobs; made again 1, left as it was 1" in said.out
    assert 'bit = "9.5 mm"' in (made / "bench.toml").read_text(encoding="utf-8")
    report = (made / "regenerate-2031-04-05.txt").read_text(encoding="utf-8")
    assert f"\nFaults:\n  {said.faults[0]}\n" in report


def test_a_fault_of_ours_names_the_job(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error nobody foresaw in one job is its line; the others are done."""
    from jigtemplates.report import report_on

    another(made, "rail.toml")

    def broken(job: Any) -> Any:
        if job.stem == "rail":
            raise ZeroDivisionError("x")
        return report_on(job)

    monkeypatch.setattr("jigtemplates.regenerate.report_on", broken)
    said = call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    line = "jobs/rail.toml: a fault in jigtemplates itself: ZeroDivisionError: x (please report it)\n"
    assert (said.status, said.err) == (2, line)
    assert "made again 1" in said.out


def family(jobs: Path, *widths: float) -> Path:
    """One job file with several sizes."""
    tables = "\n".join(f"[cuts.w{str(width).replace('.', '_')}]\nwidth = {width:g}\n" for width in widths)
    job = another(jobs, "bench.toml", ("width = 10  # as wide as the rail's tenon\n", ""))
    change(job, ("[tools]", f"{tables}\n[tools]"))
    return job


def test_a_family(jobs: Path, call: Call) -> None:
    """Every size is a template, the tools are written once."""
    family(jobs, 10, 12)
    call("make", "jobs")
    found = told(call, "--bit", "9.5 mm", "--write")
    assert [(one["job"], one["status"]) for one in found] == [
        ("bench-w10", "regenerated"),
        ("bench-w12", "regenerated"),
    ]
    assert (jobs / "bench.toml").read_text(encoding="utf-8").count('bit = "9.5 mm"') == 1
    assert [one["status"] for one in told(call, "--bit", "9.5 mm")] == ["unchanged"] * 2


def test_a_family_of_which_one_cannot(jobs: Path, call: Call) -> None:
    """Its sizes share the tools: none changes, and those that could say which one holds them back."""
    family(jobs, 9, 12)
    call("make", "jobs")
    before = everything(jobs.parent)
    narrow, wide = told(call, "--bit", "9.5 mm", "--write")
    assert [narrow["status"], wide["status"]] == ["impossible", "impossible"]
    assert wide["findings"][-1]["message"] == (
        'all sizes of a file share its tools, and "bench-w9" cannot be made with these: this one stays as it is too'
    )
    assert "shares-tools" not in codes(narrow)
    assert everything(jobs.parent) == before


def test_a_family_is_kept_by_a_bushing_that_keeps_all(jobs: Path, call: Call) -> None:
    """13.5 mm goes with 12 mm wide and not with 9.55 mm, where it would bind: new openings for both."""
    family(jobs, 10, 12)
    found = told(call, "--bit", "new bit", "--tools", "tools.toml")
    assert [one["status"] for one in found] == ["keeps", "keeps"]
    family(jobs, 9.55, 12)
    found = told(call, "--bit", "new bit", "--tools", "tools.toml")
    assert [one["status"] for one in found] == ["regenerated", "regenerated"]


def test_a_job_that_was_never_possible(jobs: Path, call: Call) -> None:
    """Its old bit is wider than the cut, so it has no opening; with the new one it is made."""
    change(jobs / "bench.toml", ('bit = "8 mm"', 'bit = "11 mm"'))
    (one,) = told(call, "--bit", "8 mm", "--write")
    assert one["old"]["opening"] is None
    assert (one["cut_with_new_bit"], one["status"], one["new_opening"]["width"]) == (None, "regenerated", 14.0)
    assert "-" in call("regenerate", "jobs", "--bit", "11 mm").out


@pytest.mark.skipif(os.name != "posix", reason="needs symbolic links")
def test_a_job_that_is_a_link(made: Path, call: Call) -> None:
    """The file it leads to is rewritten; the link stays one."""
    real = made.parent / "real.toml"
    (made / "bench.toml").rename(real)
    (made / "bench.toml").symlink_to(real)
    assert call("regenerate", "jobs", "--bit", "9.5 mm", "--write").status == 0
    assert (made / "bench.toml").is_symlink()
    assert 'bit = "9.5 mm"' in real.read_text(encoding="utf-8")


def test_a_job_changed_meanwhile(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """A job file that somebody saves while its templates are made is left alone, and so are they."""
    from jigtemplates import regenerate

    def slow(*args: Any) -> Any:
        change(made / "bench.toml", ("# the old one", "# my favourite"))
        return prepared(*args)

    prepared = regenerate.prepared
    monkeypatch.setattr("jigtemplates.regenerate.prepared", slow)
    before = contents(made.parent / "templates")
    said = call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    line = "jobs/bench.toml: was changed meanwhile and is left as it is (run this again)\n"
    assert (said.status, said.err) == (2, line)
    assert contents(made.parent / "templates") == before
    assert "# my favourite" in (made / "bench.toml").read_text(encoding="utf-8")


def test_a_job_that_cannot_be_rewritten(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the text cannot be changed the templates stay too."""
    monkeypatch.setattr("jigtemplates.parameters.edit._rewritten", lambda text, *_: text)
    before = everything(made.parent)
    said = call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    line = "jobs/bench.toml: tools: cannot be rewritten as it stands (change bit and bushing there by hand)\n"
    assert (said.status, said.err) == (2, line)
    assert everything(made.parent) == before


@pytest.mark.parametrize("error", [OSError(28, "No space left on device"), KeyboardInterrupt()])
@pytest.mark.parametrize("at", range(1, 6))
def test_a_fault_at_any_file(
    made: Path, call: Call, monkeypatch: pytest.MonkeyPatch, at: int, error: BaseException
) -> None:
    """A full disk or Ctrl-C at the first to last of the five replacements: all is old; the next run does all."""
    before, count, real = contents(made.parent), 0, os.replace

    def replaced(*args: Any) -> None:
        nonlocal count
        count += 1
        if count == at:
            raise error
        real(*args)

    with monkeypatch.context() as patch:
        patch.setattr("jigtemplates.writers.files.os.replace", replaced)
        said = call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    assert count >= at
    assert said.status == (2 if isinstance(error, OSError) else 130)
    assert contents(made.parent) == before
    (one,) = told(call, "--bit", "9.5 mm", "--write")
    assert one["status"] == "regenerated"
    assert 'bit = "9.5 mm"' in (made / "bench.toml").read_text(encoding="utf-8")
    assert call("make", "jobs").out.count("unchanged") == 1


def test_the_job_file_is_replaced_last(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """The rule of the order: drawings, sheets, the manifest, then the job file."""
    order, real = [], os.replace

    def replaced(source: Any, target: Any) -> None:
        order.append(Path(target).name)
        real(source, target)

    monkeypatch.setattr("jigtemplates.writers.files.os.replace", replaced)
    call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    assert order == ["bench_cnc_mm.dxf", "bench_cnc.svg", "bench_setup.pdf", "bench.json", "bench.toml"]


KILLED = """
import os, signal, sys
from jigtemplates.cli import main
count, real = 0, os.replace
def replaced(*args):
    global count
    count += 1
    if count == int(sys.argv[1]):
        os.kill(os.getpid(), signal.SIGKILL)
    real(*args)
os.replace = replaced
main(["regenerate", "jobs", "--bit", "9.5 mm", "--write"])
"""


@pytest.mark.skipif(os.name != "posix", reason="needs SIGKILL")
@pytest.mark.parametrize("at", [1, 3, 5, 6, 10])
def test_killed_at_a_file(made: Path, call: Call, at: int) -> None:
    """Killed among the files of two jobs: every file is whole, old or new, a job file is new only with all its files,
    and the next run ends what was begun."""
    another(made, "rail.toml", ("width = 10 ", "width = 12 "))
    call("make", "jobs")
    old = contents(made.parent)
    root = Path(__file__).parents[2]
    env = {**os.environ, "PYTHONPATH": str(root)}
    killed = subprocess.run([sys.executable, "-c", KILLED, str(at)], env=env, capture_output=True, check=False)
    assert killed.returncode == -signal.SIGKILL
    between = {name: data for name, data in contents(made.parent).items() if not name.endswith(".tmp")}
    call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    new = contents(made.parent)
    assert set(between) == set(old) == set(new)
    assert all(data in (old[name], new[name]) for name, data in between.items())
    assert sum(between[name] != old[name] for name in old) == at - 1
    for job in ("bench", "rail"):
        if between[f"jobs/{job}.toml"] == new[f"jobs/{job}.toml"]:
            assert all(between[name] == new[name] for name in new if f"/{job}/" in name)
    assert call("make", "jobs").out.count("unchanged") == 2


@pytest.mark.skipif(os.name != "posix", reason="needs SIGKILL")
@pytest.mark.parametrize("after", [0.1, 0.6, 1.0])
def test_killed_at_a_moment(made: Path, call: Call, after: float) -> None:
    """Killed at some moment: the same."""
    for number in range(6):
        another(made, f"j{number}.toml", ("length = 50", f"length = {51 + number}"))
    call("make", "jobs")
    old = contents(made.parent)
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    command = [sys.executable, "-m", "jigtemplates", "regenerate", "jobs", "--bit", "9.5 mm", "--write"]
    running = subprocess.Popen(command, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    time.sleep(after)
    running.kill()
    running.wait()
    between = {name: data for name, data in contents(made.parent).items() if not name.endswith(".tmp")}
    call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    new = contents(made.parent)
    assert set(between) == set(old) == set(new)
    assert all(data in (old[name], new[name]) for name, data in between.items())


def test_what_a_killed_run_left_beside_the_jobs(made: Path, call: Call) -> None:
    """The temporary of a report that was never finished is cleared away, though there is nothing more to do."""
    left = made / ".jigtemplates-99999999-0123abcd.tmp"
    left.write_bytes(b"half")
    call("regenerate", "jobs", "--bit", "8 mm")
    assert left.exists()
    call("regenerate", "jobs", "--bit", "8 mm", "--write")
    assert not left.exists()


def test_interrupted_between_jobs(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C after the first of two jobs: it is done and in the report, which says how many were not looked at."""
    from jigtemplates.report import report_on

    another(made, "rail.toml")

    def broken(job: Any) -> Any:
        if job.stem == "rail":
            raise KeyboardInterrupt
        return report_on(job)

    monkeypatch.setattr("jigtemplates.regenerate.report_on", broken)
    monkeypatch.setattr("jigtemplates.regenerate.command.date", Fixed)
    said = call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    assert (said.status, said.err.strip()) == (130, "stopped; no file is half-written")
    report = (made / "regenerate-2031-04-05.txt").read_text(encoding="utf-8")
    assert "With bit 9.5 mm: 1 job; made again 1\n" in report
    assert report.endswith("\nStopped early: 1 jobs were not looked at.\n")


def test_two_processes_do_the_same(made: Path, call: Call) -> None:
    """The same outcomes in the same order, the same bytes; also where profiles beside the jobs were read before."""
    (made / "profiles").mkdir()
    (made / "profiles" / "own.toml").write_text('[bits.own]\ndiameter = "9 mm"\n', encoding="utf-8")
    for number in range(4):
        another(made, f"j{number}.toml", ("length = 50", f"length = {51 + number}"))
    another(made, "k.toml", ("width = 10 ", "width = 9 "))
    call("make", "jobs")
    paths = tuple(sorted(made.glob("*.toml")))
    import shutil

    outcomes = []
    for processes in (1, 2):
        folder = made.parent / f"run{processes}"
        shutil.copytree(made, folder / "jobs")
        shutil.copytree(made.parent / "templates", folder / "templates")
        work = Regeneration(folder / "templates", GivenTool("9.5 mm", 9.5, None, named=False), None, write=True)
        mine = [folder / "jobs" / path.name for path in paths]
        outcomes.append([(one.job, one.as_json()) for one in work.all(work.seen(mine), processes=processes)])
    assert outcomes[0] == outcomes[1]
    assert [job for job, _ in outcomes[0]] == ["bench", "j0", "j1", "j2", "j3", "k"]
    assert contents(made.parent / "run1") == contents(made.parent / "run2")


def test_a_process_that_ends_names_its_job() -> None:
    """One line that says which job it was."""
    line = "rail.toml: the process that did this ended suddenly; no file is half-written (is memory short?)"
    assert _broken(Path("rail.toml")).faults == (line,)


@pytest.mark.parametrize(
    ("args", "line"),
    [
        (("jobs",), "give the new tool: --bit L, --bushing L or both (a diameter, or a name from the profiles)"),
        (("jobs", "--bit", "12,7 mm"), '--bit: "12,7 mm" is not a length (write 12.7 mm)'),
        (("jobs", "--bit", "8"), '--bit: "8" is not a length (the unit is missing; write 8 mm or 8 in)'),
        (("jobs", "--bit", "-8 mm"), '--bit: "-8 mm" is not a size (write a length greater than 0)'),
        (("jobs", "--bushing", "0 mm"), '--bushing: "0 mm" is not a size (write a length greater than 0)'),
        (("nowhere", "--bit", "8 mm"), "nowhere: there is no such folder (give the folder that holds the job files)"),
        (
            ("jobs/bench.toml", "--bit", "8 mm"),
            "jobs/bench.toml: this is not a folder (give the folder that holds the job files)",
        ),
        (("empty", "--bit", "8 mm"), "empty: no job file in this folder (a job's name ends in .toml)"),
        (
            ("jobs", "--bit", "8 mm", "--out", "jobs/bench.toml"),
            "jobs/bench.toml: nothing can be written there: this is not a folder (choose another place)",
        ),
        (
            ("jobs", "--bit", "8 mm", "--tools", "none.toml"),
            "none.toml: there is no such file (to begin one: jigtemplates tools add --help)",
        ),
        (
            ("jobs", "--bit", "new bot", "--tools", "tools.toml"),
            '--bit: "new bot" is neither a length nor a bit in the profiles (did you mean "new bit"?)',
        ),
    ],
)
def test_options_that_will_not_do(jobs: Path, call: Call, args: tuple[str, ...], line: str) -> None:
    """Each is one line and status 2, however many jobs there are; nothing is written."""
    another(jobs, "rail.toml")
    (jobs.parent / "empty").mkdir()
    before = everything(jobs.parent)
    assert call("regenerate", *args, "--write") == (2, "", line + "\n")
    assert everything(jobs.parent) == before


def test_two_wrong_tools_are_two_lines(jobs: Path, call: Call) -> None:
    """Both faults at once."""
    said = call("regenerate", "jobs", "--bit", "1 cm", "--bushing", "2,5 mm")
    assert (said.status, [line.partition(":")[0] for line in said.faults]) == (2, ["--bit", "--bushing"])


def test_a_report_that_cannot_be_left(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """The jobs are done all the same; its line and status 2 say that the report is missing."""

    def refused(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("jigtemplates.regenerate.command.write_new", refused)
    said = call("regenerate", "jobs", "--bit", "9.5 mm", "--write")
    assert (said.status, said.err) == (2, "jobs: the report cannot be written there (Permission denied)\n")
    assert 'bit = "9.5 mm"' in (made / "bench.toml").read_text(encoding="utf-8")


def test_the_table() -> None:
    """A row for each status, before and after writing; sizes with their change; a round by its diameter."""
    sizes = {"width": 14.0, "length": 54.0, "corner_radius": 7.0}
    cut = {"width": 10.0, "length": 50.0}
    now = {"width": 11.5, "length": 51.5, "corner_radius": 5.75}
    common: dict[str, Any] = {"old_tools": ("8 mm", "12 mm"), "opening": sizes, "predicted": cut}
    a = Path("a.toml")
    outcomes = [
        Outcome(a, "a", "unchanged", **common, cut={**cut, "corner_radius": 5.0}, keep_with="12 mm"),
        Outcome(a, "b", "keeps", **common, cut=now, keep_with="mine"),
        Outcome(
            a, "c", "regenerated", **common, cut=now, new_opening={"width": 9.0, "length": 9.0, "corner_radius": 4.5}
        ),
        Outcome(a, "d", "impossible", **common, cut=None),
        Outcome(a, "e", faults=("e: fault",)),
    ]
    assert list(outcome_lines(outcomes, Pair("9.5 mm"), written=False)) == [
        "With bit 9.5 mm: 4 jobs; unchanged 1, keep the template 1, make again 1, cannot be made 1",
        "  job  made for      would cut now             keep it with  new opening  to do",
        "  a    8 mm + 12 mm  10 x 50 mm                12 mm         -            unchanged",
        "  b    8 mm + 12 mm  11.5 x 51.5 mm (+1.5 mm)  mine          -            keep the template",
        "  c    8 mm + 12 mm  11.5 x 51.5 mm (+1.5 mm)  -             dia 9 mm     make again",
        "  d    8 mm + 12 mm  nothing: too wide         -             -            cannot be made",
    ]
    after = list(outcome_lines(outcomes, Pair(None, '"x"'), written=True))
    assert after[0] == 'With bushing "x": 4 jobs; unchanged 1, template kept 1, made again 1, left as it was 1'
    assert [line.rpartition("  ")[2] for line in after[1:]] == [
        "done", "unchanged", "template kept", "made again", "left as it was",
    ]  # fmt: skip
    assert list(outcome_lines([outcomes[4]], Pair("9 mm"), written=False)) == ["With bit 9 mm: 0 jobs"]


def test_signs_and_sizes() -> None:
    """A change has its sign; a square is no round."""
    assert [signed(0.3), signed(-0.3)] == ["+0.3 mm", "-0.3 mm"]
    assert [signed(25.4 / 64, inches=True), signed(-0.3, inches=True)] == ["+1/64 in", "-0.012 in"]
    assert sizes_text({"width": 9.0, "length": 9.0, "corner_radius": 0.0}) == "9 x 9 mm"
    assert sizes_text({"width": 9.0, "length": 9.0}) == "dia 9 mm"
    assert sizes_text({"width": 12.7, "length": 60.0, "corner_radius": 0.0}, inches=True) == "1/2 x 2.362 in"
    assert sizes_text({"width": 12.7, "length": 12.7}, inches=True) == "dia 1/2 in"


def test_a_job_in_inches_is_shown_in_inches(jobs: Path, call: Call) -> None:
    """What the template cuts now, by how much that differs, and the new opening; done once, it is unchanged."""
    (jobs / "bench.toml").unlink()
    (jobs / "slat.toml").write_text(
        """
            title = "Slat"
            units = "in"
            cut = { shape = "slot", width = "1/2 in", length = "2 in", depth = "3/4 in" }
            plate = { width = 6, height = 5, thickness = "1/4 in" }
            make = { for = ["cnc"] }

            [tools]
            bit = "3/8 in"
            bushing = "5/8 in"
            clearance = 0.004
        """,
        encoding="utf-8",
    )
    row = call("regenerate", "jobs", "--bit", "5/16 in").out.splitlines()[2]
    # opening: 1/2 + 5/8 - 5/16 in wide, 2 + 5/16 in long
    assert " ".join(row.split()) == ("slat 3/8 in + 5/8 in 7/16 x 1-15/16 in (-1/16 in) - 13/16 x 2-5/16 in make again")
    assert call("make", "jobs").status == 0
    row = call("regenerate", "jobs", "--bit", "3/8 in").out.splitlines()[2]
    assert " ".join(row.split()) == "slat 3/8 in + 5/8 in 1/2 x 2 in 5/8 in - unchanged"


def test_the_text_of_a_report() -> None:
    """The date, the lines, the files each once, the faults each once."""
    one = Outcome(Path("a"), "a", written=("x", "y"), faults=("f",))
    text = report_text(["table"], [one, one], date="2031-04-05", left=0)
    assert text == "jigtemplates regenerate, 2031-04-05\n\ntable\n\nFiles written: 2\n  x\n  y\n\nFaults:\n  f\n"


def test_a_reader_that_has_gone(made: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """`| head`: nothing more is said, and the status is that of the work."""

    def gone(*_: object, **__: object) -> None:
        raise BrokenPipeError

    silenced: list[bool] = []
    monkeypatch.setattr("jigtemplates.regenerate.command.click.echo", gone)
    monkeypatch.setattr("jigtemplates.regenerate.command.silence", lambda: silenced.append(True))
    assert call("regenerate", "jobs", "--bit", "9.5 mm").status == 0
    assert silenced == [True]


def test_the_work_is_ended_before_the_outcomes_are() -> None:
    """Who does the jobs is asked to its end: forgotten halfway, a SIGTERM in its last moment would be a traceback."""
    from jigtemplates.regenerate import _in_turn

    ended = []

    def changed() -> Any:
        yield ("b",)
        ended.append(True)

    assert list(_in_turn([("a",), ()], changed())) == ["a", "b"]  # type: ignore[arg-type, comparison-overlap, list-item]
    assert ended == [True]
