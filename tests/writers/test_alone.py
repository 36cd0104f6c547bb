"""Two runs that write into one folder do so one after the other; who has the folder is never waited for without end."""

import os
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from jigtemplates.errors import OutputError
from jigtemplates.writers import alone as alone_module
from jigtemplates.writers.files import Written, write_all

fcntl = pytest.importorskip("fcntl", reason="needs locks of POSIX")

NEW = {"a.dxf": b"new a", "b.json": b"new b"}


def at(folder: Path) -> dict[Path, bytes]:
    return {folder / name: data for name, data in NEW.items()}


def there(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in folder.iterdir()}


@contextmanager
def held(folder: Path) -> Iterator[int]:
    """As another run would hold it: a lock counts for each time that a folder is opened."""
    file = os.open(folder, os.O_RDONLY)
    fcntl.flock(file, fcntl.LOCK_EX)
    try:
        yield file
    finally:
        os.close(file)


def test_waits_for_the_other_and_looks_again(tmp_path: Path) -> None:
    """What the other wrote meanwhile is seen: a file that was right before it is written once more."""
    write_all(at(tmp_path))
    done: list[Written] = []
    with held(tmp_path):
        ours = threading.Thread(target=lambda: done.append(write_all(at(tmp_path))))
        ours.start()
        time.sleep(0.1)
        assert not done
        (tmp_path / "a.dxf").write_bytes(b"the other's")
    ours.join(10)
    assert done == [Written((tmp_path / "a.dxf",), (tmp_path / "b.json",))]
    assert there(tmp_path) == NEW


def test_another_that_does_not_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One line says who is at it; nothing is written."""
    monkeypatch.setattr(alone_module, "PATIENCE", 0.05)
    with held(tmp_path), pytest.raises(OutputError) as caught:
        write_all(at(tmp_path))
    assert caught.value.lines == (f"{tmp_path}: another jigtemplates is changing it (run this again when it is done)",)
    assert there(tmp_path) == {}


def test_the_folder_is_taken_away_meanwhile(tmp_path: Path) -> None:
    """The other had made the folder, failed and took it away: it is made again."""
    folder = tmp_path / "rail"
    folder.mkdir()
    done: list[Written] = []
    with held(folder):
        ours = threading.Thread(target=lambda: done.append(write_all(at(folder))))
        ours.start()
        time.sleep(0.1)
        folder.rmdir()
    ours.join(10)
    assert len(done) == 1
    assert there(folder) == NEW


def test_a_folder_that_never_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After some attempts the files are written without a lock."""
    asked: list[object] = []
    monkeypatch.setattr(alone_module, "_is_at", lambda *given: asked.append(given))
    write_all(at(tmp_path))
    assert len(asked) == 5
    assert there(tmp_path) == NEW


def test_a_folder_that_is_gone_is_not_the_one_held(tmp_path: Path) -> None:
    """A folder's name may lead nowhere, or to another folder, by the time it is ours."""
    about = os.stat(tmp_path)
    (tmp_path / "other").mkdir()
    assert alone_module._is_at(tmp_path, about)
    assert not alone_module._is_at(tmp_path / "other", about)
    assert not alone_module._is_at(tmp_path / "gone", about)


def test_only_the_folders_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Others may write into the rest meanwhile."""
    monkeypatch.setattr(alone_module, "PATIENCE", 0.05)
    (tmp_path / "jobs").mkdir()
    files = {**at(tmp_path / "rail"), tmp_path / "jobs" / "rail.toml": b"job"}
    with held(tmp_path / "jobs"):
        write_all(files, folders={tmp_path / "rail"})
    assert there(tmp_path / "jobs") == {"rail.toml": b"job"}


def test_folders_that_may_not_be_listed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that cannot be opened cannot be locked; it is written all the same."""
    real = os.open

    def denied(path: object, *given: int) -> int:
        if path == tmp_path:
            raise PermissionError(13, "denied")
        return real(path, *given)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "open", denied)
    write_all(at(tmp_path))
    assert there(tmp_path) == NEW
