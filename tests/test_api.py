"""The package as a library: its names, its example, and that everything is typed."""

import doctest
import subprocess
import sys
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import pytest

import jigtemplates

NAMES = [
    "Finding", "InputError", "JigError", "Job", "Length", "LengthError", "Level", "OutputError", "PredictedCut",
    "Profiles", "Report", "Template", "job_from_text", "load_job", "load_jobs", "make_template", "opening_for",
    "parse_length", "profiles_for", "quantity", "report_on", "route", "write",
]  # fmt: skip


def test_the_names_are_these() -> None:
    """The public names, sorted; adding or taking one away is a decision, not an accident."""
    assert sorted(jigtemplates.__all__) == NAMES
    assert sorted(jigtemplates._HOMES) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_every_name_can_be_imported_and_explains_itself(name: str) -> None:
    """Each public name is the thing of that name, with a docstring."""
    found = getattr(jigtemplates, name)
    assert found.__name__ == name
    assert found.__doc__


def test_a_star_import_brings_them_all() -> None:
    """`from jigtemplates import *` binds every public name."""
    bound: dict[str, Any] = {}
    exec("from jigtemplates import *", bound)
    assert set(NAMES) <= set(bound)


def test_an_unknown_name_is_an_attribute_error() -> None:
    """As for any module, so that hasattr works."""
    with pytest.raises(AttributeError, match=r"^module 'jigtemplates' has no attribute 'frob'$"):
        _ = jigtemplates.frob
    assert not hasattr(jigtemplates, "frob")


def test_importing_the_package_loads_nothing_else() -> None:
    """`import jigtemplates` alone loads no other module of it: names are loaded when they are used."""
    code = "import sys, jigtemplates; print([m for m in sys.modules if m.startswith('jigtemplates.')])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


def test_the_example_of_the_package_runs(call: Callable[..., Any], here: Path) -> None:
    """The docstring's example, run as it stands beside the starter it names, gives what it shows."""
    assert call("new", "rail.toml").status == 0
    tests = doctest.DocTestFinder(recurse=False).find(jigtemplates, "jigtemplates")
    runner = doctest.DocTestRunner()
    assert [(runner.run(test).failed, len(test.examples)) for test in tests] == [(0, 6)]
    assert (here / "templates" / "rail" / "rail_laser_mm.dxf").is_file()


def test_the_library_and_the_command_say_the_same(call: Callable[..., Any], rail: Path) -> None:
    """`report_on(load_job(...)).as_json()` is what `check --json` prints."""
    import json

    report = jigtemplates.report_on(jigtemplates.load_job(rail))
    assert json.loads(call("check", "rail.toml", "--json").out) == json.loads(json.dumps(report.as_json()))


def test_writing_a_stopped_report_writes_nothing(rail: Path) -> None:
    """`write` hands a stopped report back as it is; no folder is made."""
    report = jigtemplates.report_on(jigtemplates.load_job(rail, bit="11 mm"))
    assert report.stopped
    assert jigtemplates.write(report, rail.parent / "out") is report
    assert not (rail.parent / "out").exists()


def test_a_job_from_text_can_be_written(rail: Path) -> None:
    """A job without a file is written under the name it was given, with the shipped profiles."""
    job = jigtemplates.job_from_text(rail.read_text(encoding="utf-8"), name="mine", targets=["cnc"])
    report = jigtemplates.write(jigtemplates.report_on(job), Path("out"))
    assert [file.path for file in report.files] == [
        "out/mine/mine_cnc_mm.dxf", "out/mine/mine_cnc.svg", "out/mine/mine_setup.pdf", "out/mine/mine.json"
    ]  # fmt: skip


def test_the_package_says_that_it_is_typed() -> None:
    """py.typed stands in the package, so that type checkers of other projects read its annotations."""
    assert resources.files("jigtemplates").joinpath("py.typed").is_file()
