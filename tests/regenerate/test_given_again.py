"""Templates made with --profiles or --tools are regenerated with the same ones, though nobody gives them again."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

JOB = """\
title = "Rail"
units = "mm"
[cut]
shape = "slot"
width = 10
length = 50
depth = 20
[tools]
bit = "eight"
bushing = "14 mm"
clearance = 0.1
[plate]
width = 140
height = 140
thickness = 6
[make]
for = ["cnc"]
"""


def shop(folder: Path, measured: str) -> None:
    """Profiles in which the bit has this size; another of 7.5 mm, and a layer of the shop's own."""
    folder.mkdir(exist_ok=True)
    (folder / "own.toml").write_text(
        f'units = "mm"\n[bits.eight]\ndiameter = {measured}\n[bits.seven]\ndiameter = 7.5\n'
        '[processes.cnc.roles]\ncut_inside = { layer = "SHOP", colour = "#0072B2", stroke = 0.1 }\n'
        'cut_outside = { layer = "OUT", colour = "#0072B2", stroke = 0.1 }\n',
        encoding="utf-8",
    )


@pytest.fixture
def made(here: Path, call: Call) -> Path:
    """A folder with a job that was made with --profiles shop."""
    (here / "jobs").mkdir()
    (here / "jobs" / "rail.toml").write_text(JOB, encoding="utf-8")
    shop(here / "shop", "7.98")
    assert call("make", "jobs", "--profiles", "shop").status == 0
    return here


READ = "profiles: shop, given as --profiles when the template was made, is read again (another one: --profiles DIR)"


def test_the_same_profiles(made: Path, call: Call) -> None:
    """Without the option the shop's bit and layers are found: nothing changes, and it is said why they were read."""
    said = call("regenerate", "jobs", "--bit", "eight")
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines()[0] == 'With bit "eight": 1 job; unchanged 1'
    assert READ in " ".join(said.out.split())
    (one,) = json.loads(call("regenerate", "jobs", "--bit", "eight", "--json").out)
    assert one["findings"][-1]["code"] == "profiles-read-again"


def test_a_new_bit_of_the_same_profiles(made: Path, call: Call) -> None:
    """A name that only they know; what is written has the shop's layers, and remembers them in its turn."""
    said = call("regenerate", "jobs", "--bit", "seven", "--write")
    assert (said.status, said.err) == (0, "")
    out = " ".join(said.out.split())
    assert READ in out
    assert (
        'tools.bit: "seven" is known from shop alone: give --profiles to check and make too, or put its files into a '
        "folder named profiles beside the jobs"
    ) in out
    assert "SHOP" in (made / "templates" / "rail" / "rail_cnc_mm.dxf").read_text(encoding="utf-8")
    assert call("make", "jobs", "--profiles", "shop").out.count("(unchanged)") == 1
    assert 'With bit "seven": 1 job; unchanged 1' in call("regenerate", "jobs", "--bit", "seven").out


def test_profiles_that_are_given_win(made: Path, call: Call) -> None:
    """Then these are read and nothing is said of the earlier ones."""
    shop(made / "new", "7.9")
    said = call("regenerate", "jobs", "--bit", "eight", "--profiles", "new", "--json")
    (one,) = json.loads(said.out)
    assert one["status"] == "regenerated"
    assert "profiles-read-again" not in [finding["code"] for finding in one["findings"]]


def test_given_again_is_unchanged(made: Path, call: Call) -> None:
    """Whether they are given or remembered: the same run stays the same."""
    assert "unchanged 1" in call("regenerate", "jobs", "--bit", "eight", "--profiles", "shop").out


def test_given_only_now_is_unchanged(made: Path, call: Call) -> None:
    """Profiles that change nothing of a template do not make it again."""
    job = made / "jobs" / "rail.toml"
    job.write_text(JOB.replace('"eight"', '"8 mm"'), encoding="utf-8")
    call("make", "jobs")
    (made / "empty").mkdir()
    said = call("regenerate", "jobs", "--bit", "8 mm", "--profiles", "empty")
    assert said.out.splitlines()[0] == "With bit 8 mm: 1 job; unchanged 1"


def test_profiles_that_are_gone(made: Path, call: Call) -> None:
    """One line says what to give; nothing is written and no other profile is taken instead."""
    shutil.move(made / "shop", made / "elsewhere")
    line = (
        "jobs/rail.toml: its template was made with --profiles shop, which is not found from here (give --profiles "
        "DIR: where it is now, or another one)"
    )
    said = call("regenerate", "jobs", "--bit", "7.5 mm", "--write")
    assert (said.status, said.faults) == (2, [line])
    named = call("regenerate", "jobs", "--bit", "seven")
    assert (named.status, named.faults[0]) == (2, line)
    assert named.faults[1].startswith('--bit: "seven" is neither a length nor a bit in the profiles (')
    assert call("regenerate", "jobs", "--bit", "seven", "--profiles", "elsewhere").status == 0


def test_a_file_of_tools(made: Path, call: Call) -> None:
    """--tools is remembered in the same way, and both together."""
    (made / "mine.toml").write_text('units = "mm"\n[bits.nine]\ndiameter = 9\n', encoding="utf-8")
    assert call("make", "jobs", "--profiles", "shop", "--tools", "mine.toml").status == 0
    said = call("regenerate", "jobs", "--bit", "nine")
    out = " ".join(said.out.split())
    assert said.status == 0
    assert READ in out
    assert (
        "tools: mine.toml, given as --tools when the template was made, is read again (another one: --tools FILE)"
        in out
    )
    assert 'tools.bit: "nine" is known from mine.toml alone: give --tools to check and make too' in out


def test_each_job_its_own(made: Path, call: Call) -> None:
    """Jobs of one folder that were made with different profiles keep them; the bit is as large as each says."""
    shop(made / "other", "7.8")
    (made / "jobs" / "stile.toml").write_text(JOB.replace("Rail", "Stile"), encoding="utf-8")
    assert call("make", "jobs/stile.toml", "--profiles", "other").status == 0
    assert "unchanged 2" in call("regenerate", "jobs", "--bit", "eight").out.splitlines()[0]
    shop(made / "other", "7.7")  # sharpened meanwhile
    rail, stile = json.loads(call("regenerate", "jobs", "--bit", "eight", "--json").out)
    assert (rail["status"], stile["status"]) == ("unchanged", "regenerated")
    assert stile["new_opening"]["width"] == 16.3  # 10 + 14 - 7.7


def test_a_job_without_memory_beside_one_with(made: Path, call: Call) -> None:
    """A job that was made without profiles does not get another's: a name it does not know is its own fault."""
    (made / "jobs" / "plain.toml").write_text(JOB.replace('"eight"', '"8 mm"'), encoding="utf-8")
    assert call("make", "jobs/plain.toml").status == 0
    said = call("regenerate", "jobs", "--bit", "seven")
    assert said.status == 2
    (line,) = said.faults
    assert line.startswith('jobs/plain.toml: --bit: "seven" is neither a length nor a bit in the profiles (')
