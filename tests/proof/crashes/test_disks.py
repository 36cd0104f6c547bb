"""Real disks: too small ones, read-only ones, folders that belong to somebody else, folders that vanish.

Where mounting is not permitted those tests are left out; `test_faults` says the same with calls that fail.
"""

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from crash_scenes import Set, Stage, kept, temporaries, torn, tree
from crash_server import Server

#: A user without any rights here.
NOBODY = 65534

Mount = Callable[..., Path]


@pytest.fixture
def mount(tmp_path: Path) -> Iterator[Mount]:
    """mount(size="100k"): a disk of that size; mount(remount, "ro") changes it."""
    place = tmp_path / "disk"
    place.mkdir()

    def mounted(*options: str) -> Path:
        command = ["mount", "-t", "tmpfs", "-o", ",".join(options), "tmpfs", str(place)]
        try:
            done = subprocess.run(command, capture_output=True, check=False)
        except OSError:
            pytest.skip("there is no mount here")
        if done.returncode:
            pytest.skip("mounting is not permitted here")
        return place

    yield mounted
    if os.path.ismount(place):
        subprocess.run(["umount", str(place)], check=True)


def put(held: Set, disk: Path) -> Path:
    """A scene's folder on a disk."""
    return Path(shutil.copytree(held.folder, disk / "shop"))


def size_of(folder: Path) -> int:
    """What a folder takes on a disk of pages of 4 KiB, in pages; a folder's own entry takes none."""
    return sum(-(-path.stat().st_size // 4096) for path in folder.rglob("*") if path.is_file())


@pytest.mark.parametrize(
    ("name", "step"),
    [("make-again", 19), ("tools-begin", 1)]
    + [pytest.param(n, 1, marks=pytest.mark.slow) for n in ("make", "make-again", "calibrate-job", "gauge", "new")],
)
def test_a_disk_too_small(server: Server, stage: Stage, mount: Mount, name: str, step: int) -> None:
    """Page by page, from a full disk to one with enough room: nothing has changed, or all is as it should be."""
    held, full, free = stage.set_up(name), 0, 0
    while True:
        disk = mount("size=64m")
        shop = put(held, disk)
        mount("remount", f"size={4 * (size_of(disk) + free)}k")
        ended = server.run(shop / held.scene.within, held.scene.args)
        now = tree(shop)
        if ended.status == 0:
            break
        assert all("the disk is full (make room or choose another place)" in one for one in ended.err.splitlines())
        assert (ended.status, now) == (2, held.before)
        full, free = full + 1, free + step
        subprocess.run(["umount", str(disk)], check=True)
    assert full > 0
    assert (kept(now), temporaries(now)) == (kept(held.after), [])


@pytest.mark.parametrize("name", ["make-again", "tools-add", "calibrate", "new", "undo"])
def test_a_disk_that_is_read_only(server: Server, stage: Stage, mount: Mount, name: str) -> None:
    """One line a file at most, and nothing is changed; with the disk writable again all is made."""
    held = stage.set_up(name)
    disk = mount("size=64m")
    shop = put(held, disk)
    mount("remount", "ro")
    ended = server.run(shop / held.scene.within, held.scene.args)
    assert ended.status == 2
    assert all("ead-only" in line and "cannot be written" in line for line in ended.err.splitlines())
    mount("remount", "rw")
    assert tree(shop) == held.before
    assert server.run(shop / held.scene.within, held.scene.args).status == 0
    assert kept(tree(shop)) == kept(held.after)


@pytest.mark.skipif(os.name != "posix" or os.getuid() != 0, reason="only root may become somebody else")
@pytest.mark.parametrize("name", ["make-again", "tools-add", "tools-begin", "calibrate", "new", "gauge-printer"])
def test_a_folder_of_somebody_else(server: Server, stage: Stage, mount: Mount, name: str) -> None:
    """Who may read it and not write is told so in a line a file at most."""
    held = stage.set_up(name)
    disk = mount("size=64m", "mode=755")
    shop = put(held, disk)
    for path in (Path(disk), *reversed(disk.parents[:-1])):
        path.chmod(path.stat().st_mode | 0o055)
    ended = server.run(shop / held.scene.within, held.scene.args, uid=NOBODY)
    assert (ended.status, tree(shop)) == (2, held.before)
    said = ("no permission", "Permission denied", "it is read-only (make it writable")
    assert ended.err
    assert all(any(one in line for one in said) for line in ended.err.splitlines()), ended.err


@pytest.mark.parametrize(
    ("name", "step"),
    [("make-again", 10), ("gauge-printer", 7), ("tools-begin", 1)]
    + [pytest.param(name, 1, marks=pytest.mark.slow) for name in ("make-again", "gauge-printer")],
)
def test_a_folder_that_is_taken_away_meanwhile(server: Server, stage: Stage, name: str, step: int) -> None:
    """At every call: the line says so or the folder is made again, and the second run makes all."""
    held = stage.set_up(name)
    place = {"make-again": "templates", "gauge-printer": "gauges", "tools-begin": "profiles"}[name]
    for at in range(1, len(held.calls) + 1, step):
        folder = stage.fresh(held)
        fault = {"kind": "removal", "at": at, "folder": str(folder / place)}
        ended = server.run(folder, held.scene.args, fault=fault)
        now = tree(folder)
        assert ended.status in (0, 2), (at, ended)
        assert not [one for one in torn(now, held) if not one.endswith(": gone")], (at, ended)
        if ended.status:
            assert "its folder is gone (was it deleted meanwhile? run this again)" in ended.err, (at, ended)
            assert not temporaries(now)
        assert server.run(folder, held.scene.args).status in held.scene.again
        assert kept(tree(folder)) == {**kept(held.after)}


@pytest.mark.parametrize("name", ["make", "gauge-printer", "tools-begin"])
@pytest.mark.parametrize("what", ["file", "pipe", "link to nothing", "link to itself"])
def test_no_folder_where_one_should_be(server: Server, stage: Stage, name: str, what: str) -> None:
    """It is left as it is, and said in one line."""
    held, folder = stage.set_up(name), stage.fresh(stage.set_up(name))
    place = folder / {"make": "templates", "gauge-printer": "gauges", "tools-begin": "profiles"}[name]
    made: dict[str, Callable[[], object]] = {
        "file": lambda: place.write_bytes(b"mine"),
        "pipe": lambda: os.mkfifo(place),
        "link to nothing": lambda: place.symlink_to("nowhere"),
        "link to itself": lambda: place.symlink_to(place.name),
    }
    made[what]()
    about = place.lstat()
    ended = server.run(folder, held.scene.args)
    assert (ended.status, ended.out) == (2, ""), ended
    lines = ended.err.splitlines()
    assert lines
    assert len(lines) <= 3, lines
    assert (place.lstat().st_mode, place.lstat().st_ino, place.lstat().st_size) == (
        about.st_mode,
        about.st_ino,
        about.st_size,
    )
    place.unlink()
    assert tree(folder) == held.before


@pytest.mark.parametrize("name", ["make-again", "tools-add", "calibrate"])
def test_through_linked_folders(server: Server, stage: Stage, name: str) -> None:
    """A linked folder stays a link, and the files are those it leads to; a kill there is as harmless."""
    held, folder = stage.set_up(name), stage.fresh(stage.set_up(name))
    place = folder / {"make-again": "templates/rail"}.get(name, "jobs/profiles")
    real = folder / "elsewhere"
    place.rename(real)
    place.symlink_to(real)
    ended = server.run(folder / held.scene.within, held.scene.args)
    assert ended.status == 0, ended
    assert place.is_symlink()
    place.unlink()
    real.rename(place)
    now, after = kept(tree(folder)), kept(held.after)
    now.pop("jobs/profiles/tools.toml.undo", None), after.pop("jobs/profiles/tools.toml.undo", None)  # it names folders
    assert now == after
