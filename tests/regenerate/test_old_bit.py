"""Which bit a new one replaces: jobs with another stay as they are, and where bits differ it must be said."""

import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.given_tool import GivenTool
from jigtemplates.regenerate.meant import is_old
from jigtemplates.regenerate.outcome import Outcome
from jigtemplates.regenerate.text import Pair, outcome_lines, report_text

Call = Callable[..., Any]

JOB = """\
title = "Rail"
units = "in"
[cut]
shape = "slot"
width = 1
length = 2
depth = "1/2 in"
[tools]
bit = {bit}
bushing = {bushing}
clearance = 0.004
[plate]
width = 6
height = 5
thickness = "1/4 in"
[make]
for = ["cnc"]
"""
TOOLS = """\
units = "in"
[bits."my 3/8"]
diameter = { nominal = "3/8 in", measured = 0.373 }
[bits."other 3/8"]
diameter = "3/8 in"
[bits."new 3/8"]
diameter = { nominal = "3/8 in", measured = 0.371 }
[bushings."brass 3/4"]
diameter = "3/4 in"
"""


def write(folder: Path, name: str, bit: str = '"3/8 in"', bushing: str = '"3/4 in"') -> None:
    (folder / f"{name}.toml").write_text(JOB.format(bit=bit, bushing=bushing), encoding="utf-8")


@pytest.fixture
def jobs(here: Path) -> Path:
    """A rail with a bare size, a stile with a bit of one's own sold as it, a hinge and a leaf with a wider bit."""
    folder = here / "jobs"
    (folder / "profiles").mkdir(parents=True)
    (folder / "profiles" / "tools.toml").write_text(TOOLS, encoding="utf-8")
    write(folder, "hinge", '"1/2 in"')
    write(folder, "leaf", '"1/2 in"')
    write(folder, "rail")
    write(folder, "stile", '"my 3/8"')
    return folder


@pytest.fixture
def made(jobs: Path, call: Call) -> Path:
    assert call("make", "jobs").status == 0
    return jobs


def everything(folder: Path) -> dict[Path, tuple[bytes, int]]:
    """Bytes and time of change of every file."""
    return {p: (p.read_bytes(), p.stat().st_mtime_ns) for p in sorted(folder.rglob("*")) if p.is_file()}


def told(call: Call, *args: str) -> dict[str, dict[str, Any]]:
    said = call("regenerate", "jobs", *args, "--json")
    found: list[dict[str, Any]] = json.loads(said.out)
    return {one["job"]: one for one in found}


def statuses(call: Call, *args: str) -> dict[str, str]:
    return {job: one["status"] for job, one in told(call, *args).items()}


NEW = ("--bit", "new 3/8")
LINE = (
    "jobs: its jobs have different bits, 1/2 in (2 jobs) and 3/8 in (2 jobs): say which one is replaced, "
    '--old-bit "3/8 in", or --every-job if all are meant'
)


def test_a_size_is_that_of_every_bit_sold_as_it(made: Path, call: Call) -> None:
    """The bare size and a bit of one's own that measures 0.373 in are 3/8 in; those of 1/2 in are left."""
    assert statuses(call, *NEW, "--old-bit", "3/8 in") == {
        "hinge": "left", "leaf": "left", "rail": "regenerated", "stile": "regenerated",
    }  # fmt: skip


def test_a_name_is_that_bit_or_its_bare_size(made: Path, call: Call) -> None:
    """A rail that only says 3/8 in is cut with either of them; a stile that names "my 3/8" not with the other."""
    for name, stile in (("my 3/8", "regenerated"), ("other 3/8", "left")):
        assert statuses(call, *NEW, "--old-bit", name) == {
            "hinge": "left", "leaf": "left", "rail": "regenerated", "stile": stile,
        }  # fmt: skip


def test_only_those_are_written(made: Path, call: Call) -> None:
    """Jobs and templates of the other bit keep bytes and times, in the table they are a line, in the report a list."""
    before = everything(made.parent)
    said = call("regenerate", "jobs", *NEW, "--old-bit", "3/8 in", "--write")
    assert (said.status, said.err) == (0, "")
    lines = said.out.splitlines()
    assert lines[0] == 'With bit "new 3/8" instead of 3/8 in: 2 jobs; made again 2'
    assert lines[-2] == "  2 jobs with other bits are left as they are: hinge (1/2 in), leaf (1/2 in)"
    assert [line.split()[0] for line in lines[2:4]] == ["rail", "stile"]
    after = everything(made.parent)
    changed = {p.stem.partition("_")[0] for p, held in after.items() if before.get(p) != held} - {""}
    assert {name for name in changed if not name.startswith("regenerate-")} == {"rail", "stile"}
    assert 'bit = "1/2 in"' in (made / "hinge.toml").read_text(encoding="utf-8")
    assert 'bit = "new 3/8"' in (made / "stile.toml").read_text(encoding="utf-8")
    (report,) = made.glob("regenerate-*.txt")
    text = report.read_text(encoding="utf-8")
    assert text.endswith(
        "\nLeft as they are, with other tools: 2\n  hinge (1/2 in + 3/4 in)\n  leaf (1/2 in + 3/4 in)\n"
    )


def test_again_is_unchanged(made: Path, call: Call) -> None:
    """Done once, the same command finds the new bit where the old one was, and writes nothing."""
    call("regenerate", "jobs", *NEW, "--old-bit", "my 3/8", "--write")
    before = everything(made.parent)
    for extra in ((), ("--write",)):
        assert statuses(call, *NEW, "--old-bit", "my 3/8", *extra) == {
            "hinge": "left", "leaf": "left", "rail": "unchanged", "stile": "unchanged",
        }  # fmt: skip
    assert everything(made.parent) == before


def test_what_a_killed_run_left_is_ended(made: Path, call: Call) -> None:
    """A job that has the new bit, whose file is gone, is made again beside one that still has the old one."""
    stile = (made / "stile.toml").read_bytes()
    call("regenerate", "jobs", "--bit", "5/16 in", "--old-bit", "3/8 in", "--write")
    (made / "stile.toml").write_bytes(stile)
    (made.parent / "templates" / "rail" / "rail_cnc.svg").unlink()
    assert statuses(call, "--bit", "5/16 in", "--old-bit", "3/8 in", "--write") == {
        "hinge": "left", "leaf": "left", "rail": "regenerated", "stile": "regenerated",
    }  # fmt: skip
    assert (made.parent / "templates" / "rail" / "rail_cnc.svg").exists()


NONE = "--old-bit: no job in jobs has the bit 7 mm (they have bits 1/2 in (2 jobs) and 3/8 in (2 jobs))"


def test_none_has_the_old_bit(made: Path, call: Call) -> None:
    """Though one has the new bit already and its files are not as it says: one line, and nothing is written."""
    write(made, "stile", '"new 3/8"')
    before = everything(made.parent)
    for extra in ((), ("--write",)):
        said = call("regenerate", "jobs", *NEW, "--old-bit", "7 mm", *extra)
        assert said == (0, f"{NONE}: nothing is replaced\n", "")
    said = call("regenerate", "jobs", *NEW, "--old-bit", "7 mm", "--json")
    assert (said.status, said.err) == (0, f"{NONE}: nothing is replaced\n")
    assert [one["status"] for one in json.loads(said.out)] == ["left"] * 4
    assert everything(made.parent) == before


def test_none_has_the_old_bushing(made: Path, call: Call) -> None:
    """The same of bushings; a job whose files are right with the new one stays unchanged in JSON."""
    write(made, "stile", '"my 3/8"', '"5/8 in"')
    call("make", "jobs")
    said = call("regenerate", "jobs", "--bushing", "5/8 in", "--old-bushing", "13.8 mm")
    assert said == (
        0,
        "--old-bushing: no job in jobs has the bushing 13.8 mm (they have bushings 3/4 in (3 jobs) and 5/8 in "
        "(1 job)): nothing is replaced\n",
        "",
    )
    found = statuses(call, "--bushing", "5/8 in", "--old-bushing", "13.8 mm")
    assert found == {"hinge": "left", "leaf": "left", "rail": "left", "stile": "unchanged"}


def test_none_has_it_and_one_cannot_be_read(made: Path, call: Call) -> None:
    """Then that is said as well, and the status is its."""
    write(made, "stile", '"new 3/8"')
    (made / "a.toml").write_text("width = \n", encoding="utf-8")
    said = call("regenerate", "jobs", *NEW, "--old-bit", "7 mm")
    assert (said.status, said.out) == (2, f"{NONE}: nothing is replaced\n")
    assert said.faults[0].startswith("jobs/a.toml:1: ")


def test_json_of_one_that_is_left(made: Path, call: Call) -> None:
    """Its tools, and nothing of what was not looked at."""
    assert told(call, *NEW, "--old-bit", "3/8 in")["hinge"] == {
        "job": "hinge",
        "old": {"bit": "1/2 in", "bushing": "3/4 in", "opening": None, "predicted_cut": None},
        "cut_with_new_bit": None,
        "keep_template_with_bushing": None,
        "new_opening": None,
        "status": "left",
        "findings": [],
    }


def test_different_bits_without_a_word(made: Path, call: Call) -> None:
    """All are shown, and that --write needs to know more; beside JSON that stands on stderr."""
    said = call("regenerate", "jobs", *NEW)
    assert (said.status, said.err) == (0, "")
    lines = said.out.splitlines()
    assert lines[0] == 'With bit "new 3/8": 4 jobs; make again 4'
    assert lines[-2:] == ["Nothing was written, and --write needs to know more:", f"  {LINE}"]
    assert call("regenerate", "jobs", *NEW, "--json").err == LINE + "\n"


def test_different_bits_are_not_written(made: Path, call: Call) -> None:
    """Status 2, one line with the bits, their jobs and what to write; not a byte is changed."""
    before = everything(made.parent)
    assert call("regenerate", "jobs", *NEW, "--write") == (2, "", LINE + "\n")
    assert everything(made.parent) == before


def test_every_job(made: Path, call: Call) -> None:
    """Said so, the bit of all of them is replaced."""
    said = call("regenerate", "jobs", *NEW, "--every-job", "--write")
    assert (said.status, said.err) == (0, "")
    assert all('bit = "new 3/8"' in p.read_text(encoding="utf-8") for p in made.glob("*.toml"))


def test_bits_sold_as_one_size(made: Path, call: Call) -> None:
    """A bare size and a bit of one's own sold as it are one bit, and so is a job that has the new one already."""
    for name in ("hinge", "leaf"):
        write(made, name, '"5/16 in"')
    said = call("regenerate", "jobs", "--bit", "5/16 in", "--write")
    assert (said.status, said.err) == (0, "")
    assert said.out.startswith("With bit 5/16 in: 4 jobs; made again 4")


def test_a_family_counts_its_sizes(made: Path, call: Call) -> None:
    """A file of several sizes is as many jobs with its bit; one that cannot be read is none, and is told as ever."""
    text = (made / "rail.toml").read_text(encoding="utf-8")
    sizes = "[cuts.a]\nlength = 2\n[cuts.b]\nlength = 3\n"
    (made / "rail.toml").write_text(text.replace("length = 2\n", "") + sizes, encoding="utf-8")
    (made / "a.toml").write_text("width = \n", encoding="utf-8")
    said = call("regenerate", "jobs", *NEW, "--write")
    assert (said.status, said.out) == (2, "")
    assert "1/2 in (2 jobs) and 3/8 in (3 jobs)" in said.err
    found = told(call, *NEW, "--old-bit", "1/2 in")
    assert [found[name]["status"] for name in ("rail-a", "rail-b", "stile")] == ["left"] * 3
    said = call("regenerate", "jobs", *NEW, "--old-bit", "1/2 in", "--write")
    assert said.status == 2
    assert said.faults[0].startswith("jobs/a.toml:1: ")
    assert "3 jobs with other bits are left as they are: rail-a (3/8 in), rail-b (3/8 in), stile (my 3/8)" in said.out


def test_one_job_is_left(made: Path, call: Call) -> None:
    """In the singular."""
    (made / "leaf.toml").unlink()
    said = call("regenerate", "jobs", *NEW, "--old-bit", "3/8 in")
    assert "\n  1 job with other bits is left as it is: hinge (1/2 in)\n" in said.out


def test_bushings(jobs: Path, call: Call) -> None:
    """The same of a new bushing, by size and by name."""
    write(jobs, "rail", bushing='"5/8 in"')
    write(jobs, "stile", bushing='"brass 3/4"')
    assert call("regenerate", "jobs", "--bushing", "17 mm", "--write").err == (
        "jobs: its jobs have different bushings, 3/4 in (3 jobs) and 5/8 in (1 job): say which one is replaced, "
        '--old-bushing "5/8 in", or --every-job if all are meant\n'
    )
    rail = {"hinge": "left", "leaf": "left", "rail": "regenerated", "stile": "left"}
    assert statuses(call, "--bushing", "17 mm", "--old-bushing", "5/8 in") == rail
    others = {"hinge": "regenerated", "leaf": "regenerated", "rail": "left", "stile": "regenerated"}
    assert statuses(call, "--bushing", "17 mm", "--old-bushing", "brass 3/4") == others
    said = call("regenerate", "jobs", "--bushing", "17 mm", "--old-bushing", "brass 3/4")
    assert said.out.startswith('With bushing 17 mm instead of "brass 3/4": 3 jobs')
    assert "\n  1 job with other bushings is left as it is: rail (5/8 in)\n" in said.out


def test_both(jobs: Path, call: Call) -> None:
    """Where both are replaced, only jobs with both are meant; each that differs is a line."""
    write(jobs, "rail", bushing='"5/8 in"')
    new = ("--bit", "5/16 in", "--bushing", "17 mm")
    assert [line.partition(" (")[0] for line in call("regenerate", "jobs", *new, "--write").faults] == [
        "jobs: its jobs have different bits, 1/2 in",
        "jobs: its jobs have different bushings, 3/4 in",
    ]
    said = call("regenerate", "jobs", *new, "--old-bit", "3/8 in", "--write")
    assert said.err.startswith("jobs: its jobs have different bushings, 5/8 in (1 job) and 3/4 in (1 job): ")
    old = ("--old-bit", "3/8 in", "--old-bushing", "3/4 in")
    assert statuses(call, *new, *old) == {"hinge": "left", "leaf": "left", "rail": "left", "stile": "regenerated"}
    out = call("regenerate", "jobs", *new, *old).out
    assert out.startswith("With bit 5/16 in instead of 3/8 in and bushing 17 mm instead of 3/4 in: 1 job")
    assert "3 jobs with other bits or bushings are left as they are: hinge (1/2 in + 3/4 in)," in " ".join(out.split())


@pytest.mark.parametrize(
    ("args", "lines"),
    [
        (
            ("--bit", "8 mm", "--old-bit", "9.5 mm"),
            ["--old-bit: no job in jobs has the bit 9.5 mm (they have bits 1/2 in (2 jobs) and 3/8 in (2 jobs))"],
        ),
        (
            ("--bit", "8 mm", "--bushing", "17 mm", "--old-bit", "new 3/8", "--old-bushing", "1 in"),
            [
                '--old-bit and --old-bushing: no job in jobs has the bit "new 3/8" and the bushing 1 in (they have '
                "bits 1/2 in (2 jobs) and 3/8 in (2 jobs); bushings 3/4 in (4 jobs))"
            ],
        ),
        (
            ("--bushing", "17 mm", "--old-bit", "3/8 in"),
            ["--old-bit: the bit that replaces it is missing (give it with --bit)"],
        ),
        (
            ("--bit", "8 mm", "--old-bushing", "3/4 in"),
            ["--old-bushing: the bushing that replaces it is missing (give it with --bushing)"],
        ),
        (
            ("--bit", "8 mm", "--old-bit", "3/8 in", "--every-job"),
            ["--every-job: means jobs with any bit, and --old-bit only some (leave one of them out)"],
        ),
        (
            ("--old-bit", "3/8 in"),
            ["give the new tool: --bit L, --bushing L or both (a diameter, or a name from the profiles)"],
        ),
        (
            ("--bit", "8 mm", "--old-bit", "my 3/9"),
            ['--old-bit: "my 3/9" is neither a length nor a bit in the profiles (did you mean "my 3/8"?)'],
        ),
    ],
)
def test_options_that_will_not_do(made: Path, call: Call, args: Sequence[str], lines: list[str]) -> None:
    """Each is a line and status 2; nothing is written."""
    before = everything(made.parent)
    said = call("regenerate", "jobs", *args, "--write")
    assert (said.status, said.out, said.faults) == (2, "", lines)
    assert everything(made.parent) == before


def test_a_name_that_only_some_jobs_know(jobs: Path, call: Call) -> None:
    """In a job whose profiles do not have it no bit goes by that name, nor has its size."""
    from jigtemplates.parameters.load import load_job
    from jigtemplates.profiles import Profiles

    tools, old = load_job(jobs / "rail.toml").tools, GivenTool("my 3/8", 9.4742, None, named=True)
    assert not is_old(old, tools.bit, Profiles())


def test_many_that_are_left() -> None:
    """Twelve are named in the line, every one in the report."""
    many = [Outcome(Path("a"), f"j{i}", "left", old_tools=("6 mm", "12 mm")) for i in range(14)]
    lines = list(outcome_lines(many, Pair("8 mm"), Pair("9 mm"), written=False, columns=400))
    assert lines[0] == "With bit 8 mm instead of 9 mm: 0 jobs"
    assert lines[1].startswith("  14 jobs with other bits are left as they are: j0 (6 mm), j1 (6 mm), ")
    assert lines[1].endswith(", j11 (6 mm), 2 more")
    text = report_text(lines, many, date="2031-04-05", left=0)
    assert "\nLeft as they are, with other tools: 14\n  j0 (6 mm + 12 mm)\n" in text
    assert text.endswith("\n  j13 (6 mm + 12 mm)\n")
