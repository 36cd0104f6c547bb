"""The modules beside the tests can be imported by them; a fuzzing test has an arena of its own."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from arena import Arena


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
