"""The modules beside the tests can be imported by them; a fuzzing test has an arena of its own."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from arena import Arena  # noqa: E402


@pytest.fixture
def arena(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Arena]:
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
    yield Arena(here)
