"""A job that works, built from text with single keys changed, and what is said of it."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from hypothesis import settings

from jigtemplates.cli import run
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

# The same examples in every run, so that a change is to blame for a failure and not luck. JIGTEMPLATES_SEARCH=1
# looks for new ones; what it finds becomes a named test.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("search", deadline=None)
settings.load_profile("search" if os.environ.get("JIGTEMPLATES_SEARCH") else "steady")

# Started in the background, by a script say, we would have been told to ignore Ctrl-C, which some tests send.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

if fault := os.environ.get("JIGTEMPLATES_FAULT"):  # a deliberate one, to see that a test fails (proof/faults.py)
    sys.path.insert(0, str(Path(__file__).parent / "proof"))
    __import__("faults").inject(fault)

#: The job of the plan, section 5.
TABLES: Mapping[str, Mapping[str, Any]] = {
    "cut": {"shape": "slot", "width": 10, "length": 50, "depth": 28},
    "tools": {"bit": "3/8 in", "bushing": "1/2 in", "clearance": 0.1},
    "plate": {
        "width": 140,
        "height": 140,
        "thickness": 6,
        "material": "mdf",
        "screws": {"pattern": "corners", "size": "M5", "inset": 10},
    },
    "make": {"for": ["laser", "cnc", "paper"]},
}


def _toml(value: Any) -> str:
    """A value as it stands in TOML; a table stands inline."""
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {_toml(item)}" for key, item in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_toml(item) for item in value) + "]"
    return json.dumps(value, ensure_ascii=False)  # text, numbers, true and false are written alike


def _text(title: str, tables: Mapping[str, Mapping[str, Any]]) -> str:
    lines = [f"title = {_toml(title)}", 'units = "mm"']
    for name, held in {**TABLES, **{name: {} for name in tables if name not in TABLES}}.items():
        given = tables.get(name, {})
        merged = dict(given) if "shape" in given else {**held, **given}
        lines += [f"[{name}]", *(f"{key} = {_toml(value)}" for key, value in merged.items() if value is not None)]
    return "\n".join(lines) + "\n"


@pytest.fixture(scope="session")
def job_with() -> Callable[..., Job]:
    """job_with(cut={"width": 12}, plate={"screws": None}): the plan's job, keys changed or left out (None).

    A cut with a shape stands for the whole table. Only shipped profiles are seen, unless given.
    """

    def build(
        title: str = "Bench rail, 10 x 50", *, name: str = "rail", profiles: Profiles | None = None, **tables: Any
    ) -> Job:
        return job_from_text(_text(title, tables), name=name, profiles=profiles or Profiles())

    return build


@pytest.fixture(scope="session")
def report_with(job_with: Callable[..., Job]) -> Callable[..., Report]:
    """The same, made into a template, routed and checked."""
    return lambda *args, **tables: report_on(job_with(*args, **tables))


@pytest.fixture(scope="session")
def said(report_with: Callable[..., Report]) -> Callable[..., list[tuple[str, str, str]]]:
    """said("code", ...): level, key and sentence of each finding with that code."""

    def found(code: str, *args: Any, **tables: Any) -> list[tuple[str, str, str]]:
        report = report_with(*args, **tables)
        return [(f.level.value, f.where, f.message) for f in report.findings if f.code == code]

    return found


#: The job of the plan, section 5, word for word.
RAIL = """\
title = "Bench rail, 10 x 50"
units = "mm"                      # how a bare number is read: "mm" or "in"

[cut]
shape  = "slot"                   # slot: round ends. Also round, rectangle (corner_radius), …
width  = 10
length = "50 mm"                  # overall, ends included
depth  = 28
angle  = 0                        # degrees counter-clockwise in the plate

[tools]
bit       = "3/8 in"              # a diameter, a name from the profiles, or a table of its own
bushing   = "1/2 in"
clearance = "0.1 mm"              # running clearance

[plate]
width = 140                       # or holder = "NAME", which brings size, ledge, window and screws
height = 140
thickness = 6
material = "mdf"
screws = { pattern = "corners", size = "M5", inset = 10 }

[make]
for = ["laser", "cnc", "paper"]
"""


class Said(NamedTuple):
    """What one call of the command line came to."""

    status: int
    out: str
    err: str

    @property
    def faults(self) -> list[str]:
        """The lines on stderr."""
        return self.err.splitlines()


@pytest.fixture
def own_configuration(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """No test sees the configuration of whoever runs it."""
    folder = tmp_path / "config" / "profiles"
    monkeypatch.setattr("jigtemplates.profiles.user_folder", lambda: folder)
    return folder


@pytest.fixture
def write(tmp_path: Path) -> Callable[[str, str], Path]:
    """Writes a file under the test's folder, with the folders it needs."""

    def written(name: str, text: str) -> Path:
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    return written


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in; nobody's own profiles or settings are seen, in this process or another."""
    home, folder = tmp_path / "home", tmp_path / "here"
    home.mkdir()
    folder.mkdir()
    monkeypatch.chdir(folder)
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("COLUMNS", "100")
    for name in ("HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "APPDATA", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(home))
    monkeypatch.setattr("jigtemplates.profiles.user_folder", lambda: home / "profiles")
    return folder


@pytest.fixture
def rail(here: Path) -> Path:
    """The plan's job as rail.toml in the empty folder."""
    (here / "rail.toml").write_text(RAIL, encoding="utf-8")
    return here / "rail.toml"


@pytest.fixture
def call(here: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    """call("check", "rail.toml"): the command line in this process, in the empty folder."""

    def called(*args: str) -> Said:
        capsys.readouterr()
        status = run(args)
        return Said(status, *capsys.readouterr())

    return called


@pytest.fixture
def shell(here: Path) -> Callable[..., Said]:
    """shell("check", "rail.toml"): the same as a program of its own, without a terminal; env adds variables."""

    def called(*args: str, **env: str) -> Said:
        done = subprocess.run(
            [sys.executable, "-m", "jigtemplates", *args],
            env={**os.environ, "PYTHONIOENCODING": "utf-8", **env},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            encoding="utf-8",
            timeout=60,
            check=False,
        )
        return Said(done.returncode, done.stdout, done.stderr)

    return called
