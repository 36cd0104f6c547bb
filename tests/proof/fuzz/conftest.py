"""The modules beside the tests can be imported by them; a fuzzing test has an arena of its own."""

import os
import shutil
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from arena import Arena
from promises import SAMPLES

from jigtemplates.cli import run

FAMILY = """
title = "Sizes"
units = "mm"
cut = { shape = "slot", width = 10, depth = 20 }
tools = { bit = "8 mm", bushing = "12 mm" }
plate = { width = 140, height = 140, thickness = 6 }
make = { for = ["cnc"] }
[cuts.shallow]
length = 40
[cuts.long]
length = 60
"""
#: A drawing that does not say its unit.
NO_UNIT = "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n10\n5\n20\n5\n40\n4\n0\nENDSEC\n0\nEOF\n"


@pytest.fixture(scope="session")
def field(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What lies in the arena: jobs, drawings, tools, templates that were made, and things that are no such files."""
    place = tmp_path_factory.mktemp("field")
    shutil.copy(SAMPLES / "gate-bench-rail.toml", place / "job.toml")
    (place / "jobs").mkdir()
    for name, other in (("mantel-inlay.toml", "inlay.toml"), ("leaf-tray.toml", "leaf.toml"), ("leaf.svg", "leaf.svg")):
        shutil.copy(SAMPLES / name, place / "jobs" / other)
    shutil.copy(SAMPLES / "tiller-rack.toml", place / "jobs" / "several.toml")
    (place / "jobs" / "plain.dxf").write_text(NO_UNIT, encoding="utf-8")
    (place / "jobs" / "family.toml").write_text(FAMILY, encoding="utf-8")
    shutil.copytree(SAMPLES / "profiles", place / "profiles")
    shutil.copy(SAMPLES / "profiles" / "tools.toml", place / "own.toml")
    (place / "empty.toml").touch()
    (place / "binary.toml").write_bytes(bytes(range(256)))
    (place / "loop").symlink_to("loop")
    before = Path.cwd()
    os.chdir(place)
    try:
        assert run(["make", "job.toml", "--for", "cnc"]) == 0
        assert run(["gauge", "fit", "job.toml", "--for", "cnc"]) == 0
        assert run(["holder", "quay-frame-160", "--for", "cnc"]) == 0
        assert run(["sheet", "job.toml", "--stock", "600x400"]) == 0
        assert run(["calibrate", "bit", "8 mm", "--measured", "7.95 mm", "--sure", "--on", "2026-11-01"]) == 0
    finally:
        os.chdir(before)
    return place


@pytest.fixture
def arena(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Arena:
    """A folder to work in, watched; nobody's own profiles or settings are seen."""
    home = tmp_path / "home"
    home.mkdir()
    for name in ("HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "APPDATA", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(home))
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.setattr("jigtemplates.profiles.user_folder", lambda: home / "profiles")
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    return Arena(here)
