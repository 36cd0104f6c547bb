"""The package as people install it: a wheel, in an empty folder, run from elsewhere."""

import json
import os
import subprocess
import sys
import zipfile
from importlib.util import find_spec
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
MISSING = [name for name in ("pip", "hatchling") if find_spec(name) is None]

pytestmark = pytest.mark.skipif(bool(MISSING), reason=f"needs {' and '.join(MISSING)} in this environment")


def pip(*args: str) -> None:
    """Run pip without the network."""
    command = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--no-cache-dir", "-q", *args]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from this checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    pip("wheel", "--no-index", "--no-deps", "--no-build-isolation", "--wheel-dir", str(folder), str(ROOT))
    [built] = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with nothing but the installed wheel."""
    target = tmp_path_factory.mktemp("installed")
    pip("install", "--no-index", "--no-deps", "--target", str(target), str(wheel))
    return target


def run(installed: Path, folder: Path, *args: str) -> str:
    """stdout of the installed program, called from a folder that has nothing to do with the checkout."""
    done = subprocess.run(
        [sys.executable, "-P", *args],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(installed), "HOME": str(folder), "XDG_CONFIG_HOME": str(folder)},
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout


def test_the_wheel_holds_what_the_program_needs(wheel: Path) -> None:
    """Profiles, fonts with their licence, the schema and py.typed are in the wheel; tests and samples are not."""
    names = set(zipfile.ZipFile(wheel).namelist())
    kinds = ("bits", "bushings", "sheets", "screws", "processes", "papers", "holders")
    assert {f"jigtemplates/_profiles/{kind}.toml" for kind in kinds} <= names
    assert {
        "jigtemplates/py.typed",
        "jigtemplates/parameters/job.schema.json",
        "jigtemplates/fonts/DejaVuSans.ttf",
        "jigtemplates/fonts/LICENSE-DejaVu.txt",
    } <= names
    assert {name.split("/")[0] for name in names} == {"jigtemplates", "jigtemplates-0.1.0.dist-info"}


def test_the_installed_program_is_the_wheel(installed: Path, tmp_path: Path) -> None:
    """What runs is the wheel's package and its own profiles, not the checkout's."""
    code = "import jigtemplates.profiles as p; print(p.__file__); print(p.shipped_folder())"
    module, profiles = run(installed, tmp_path, "-c", code).splitlines()
    assert Path(module) == installed / "jigtemplates" / "profiles.py"
    assert Path(profiles) == installed / "jigtemplates" / "_profiles"


def test_the_installed_program_finds_its_profiles(installed: Path, tmp_path: Path) -> None:
    """`profiles` lists the shipped entries and `--version` the wheel's version."""
    lines = run(installed, tmp_path, "-m", "jigtemplates", "profiles", "papers").splitlines()
    assert {line.split()[0] for line in lines} == {"a4", "a3", "letter", "tabloid"}
    assert run(installed, tmp_path, "-m", "jigtemplates", "--version") == "jigtemplates 0.1.0\n"


def test_the_installed_program_makes_files(installed: Path, tmp_path: Path) -> None:
    """`new` and `make` from the wheel alone give the eight files of a job."""
    run(installed, tmp_path, "-m", "jigtemplates", "new", "rail.toml")
    out = run(installed, tmp_path, "-m", "jigtemplates", "make", "rail.toml", "--json")
    assert len(json.loads(out)["files"]) == 8
    assert all((tmp_path / name).stat().st_size > 500 for name in json.loads(out)["files"])
