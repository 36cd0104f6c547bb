"""Importing ezdxf: nothing is left outside the output folder, and the environment stays as it was."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates import ezdxf_import

ROOT = Path(__file__).parents[1]
LIST = '{"version": 2, "font-faces": [["/nowhere/Own.ttf", "Own", "Regular", 400, 5]]}'


def imported(home: Path, then: str, **more: str) -> str:
    """What a fresh Python prints that has imported ezdxf through us."""
    kept = {key: value for key, value in os.environ.items() if key not in ("XDG_CACHE_HOME", "TMPDIR")}
    env = {**kept, "HOME": str(home), "PYTHONPATH": str(ROOT), **more}
    code = f"import os; from jigtemplates.ezdxf_import import import_ezdxf as go; go(); {then}"
    return subprocess.run([sys.executable, "-c", code], env=env, check=True, capture_output=True, text=True).stdout


def files_in(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def test_make_writes_into_its_folder_alone(shell: Callable[..., Any], rail: Path, tmp_path: Path) -> None:
    """After `make` by a person without a cache there is nothing in their home and no temporary folder."""
    (tmp_path / "tmp").mkdir()
    said = shell("make", "rail.toml", "--for", "laser", TMPDIR=str(tmp_path / "tmp"))
    assert said.status == 0
    assert (files_in(tmp_path / "home"), files_in(tmp_path / "tmp")) == ([], [])
    assert files_in(rail.parent)[:2] == ["rail.toml", "templates"]


@pytest.mark.parametrize("cache", [None, "their-cache"])
def test_the_environment_comes_back(tmp_path: Path, cache: str | None) -> None:
    """XDG_CACHE_HOME is afterwards what it was: not there, or the person's folder."""
    more = {} if cache is None else {"XDG_CACHE_HOME": str(tmp_path / cache)}
    out = imported(tmp_path, 'print(os.environ.get("XDG_CACHE_HOME"))', **more)
    assert out.strip() == str(None if cache is None else tmp_path / cache)
    assert files_in(tmp_path) == []


def test_their_own_list_is_read_and_not_touched(tmp_path: Path) -> None:
    """Fonts that ezdxf found for another program are known to it here too; their list stays byte for byte."""
    own = tmp_path / ".cache" / "ezdxf" / "font_manager_cache.json"
    own.parent.mkdir(parents=True)
    own.write_text(LIST, encoding="utf-8")
    out = imported(tmp_path, 'from ezdxf.fonts import fonts; print(fonts.font_manager.has_font("own.ttf"))')
    assert (out.strip(), own.read_text(encoding="utf-8")) == ("True", LIST)


def test_a_list_that_cannot_be_read_stays(tmp_path: Path) -> None:
    """Of a damaged list ezdxf makes a new one, not in its place."""
    own = tmp_path / ".cache" / "ezdxf" / "font_manager_cache.json"
    own.parent.mkdir(parents=True)
    own.write_bytes(b"\xff{")
    imported(tmp_path, "print()")
    assert own.read_bytes() == b"\xff{"


def test_without_a_place_for_temporaries(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no temporary folder can be made the import goes on and the environment is left alone."""

    def full(**_: object) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("jigtemplates.ezdxf_import.tempfile.mkdtemp", full)
    before = dict(os.environ)
    with ezdxf_import._passing_cache():
        assert dict(os.environ) == before
