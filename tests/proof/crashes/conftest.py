"""A copy of the program that no edit changes meanwhile, one process that has all of it imported, and the scenes."""

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

if os.name != "posix":
    collect_ignore_glob = ["test_*.py"]  # they fork and send signals; what is Windows' own is tested in tests/writers

from crash_scenes import Stage
from crash_server import Server, copied_program


@pytest.fixture(scope="session")
def program(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the package and its profiles, as they were when the tests began."""
    return copied_program(tmp_path_factory.mktemp("program"))


@pytest.fixture(scope="session")
def server(program: Path) -> Iterator[Server]:
    """The process that runs commands in forks of itself."""
    with Server(program) as running:
        yield running


@pytest.fixture(scope="session")
def stage(server: Server, tmp_path_factory: pytest.TempPathFactory) -> Stage:
    """Scenes as they stand before and after an undisturbed run; each is played once."""
    return Stage(server, tmp_path_factory.mktemp("scenes"))
