"""The program itself, as a person starts it, with as many processes as it takes for many jobs; its first one is killed.

The others end with it. Random moments over the whole run; the files are looked at as in `test_killed`.
"""

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from crash_scenes import JOB, MANIFEST, TEMPORARY, kept, temporaries, tree
from crash_server import environment
from test_two_at_once import agrees

#: Enough jobs for several processes.
JOBS = 22
COMMANDS = {
    "make": ("make", "jobs"),
    "regenerate": ("regenerate", "jobs", "--bit", "6 mm", "--write"),
}
SIGNALS = {"SIGKILL": (-signal.SIGKILL,), "SIGTERM": (130, -signal.SIGTERM), "SIGINT": (130, -signal.SIGINT)}


def started(program: Path, folder: Path, args: tuple[str, ...]) -> subprocess.Popen[bytes]:
    """The command in a group of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "jigtemplates", *args], cwd=folder, env=environment(program), start_new_session=True,
        stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
    )  # fmt: skip


def ended(running: subprocess.Popen[bytes]) -> tuple[int, bytes]:
    """Its status and what it said, once the last process of its group has gone."""
    _, err = running.communicate(timeout=120)
    until = time.monotonic() + 60
    while time.monotonic() < until:
        try:
            os.killpg(running.pid, 0)
        except ProcessLookupError:
            return running.returncode, err
        time.sleep(0.05)
    os.killpg(running.pid, signal.SIGKILL)
    pytest.fail("processes are left that nobody waits for")


@pytest.fixture(scope="module", params=list(COMMANDS))
def played(
    request: pytest.FixtureRequest, program: Path, tmp_path_factory: pytest.TempPathFactory
) -> tuple[str, Path, Path, float]:
    """A command, its folder before and after an undisturbed run, and how long that took."""
    name, folder = str(request.param), tmp_path_factory.mktemp("many")
    before, after = folder / "before", folder / "after"
    (before / "jobs").mkdir(parents=True)
    for number in range(JOBS):
        text = JOB.format(title="Rail", width=12 + number / 10, bit="8 mm", bushing="17 mm", targets='["laser"]')
        (before / "jobs" / f"j{number:02}.toml").write_text(text)
    if name == "regenerate":
        assert ended(started(program, before, COMMANDS["make"])) == (0, b"")
    shutil.copytree(before, after)
    began = time.monotonic()
    assert ended(started(program, after, COMMANDS[name])) == (0, b"")
    return name, before, after, time.monotonic() - began


@pytest.mark.slow
@pytest.mark.parametrize("name_of_signal", list(SIGNALS))
def test_ended_at_random_moments(
    program: Path, played: tuple[str, Path, Path, float], tmp_path: Path, name_of_signal: str
) -> None:
    """Twelve times: nothing torn, no process left, one line where it can say one, and the next run makes the rest."""
    name, before, after, seconds = played
    chance, old, new = random.Random(f"{name} {name_of_signal}"), kept(tree(before)), kept(tree(after))
    for number in range(12):
        folder = Path(shutil.copytree(before, tmp_path / str(number)))
        running = started(program, folder, COMMANDS[name])
        time.sleep(chance.uniform(0.1, 1.0) * seconds)
        os.kill(running.pid, getattr(signal, name_of_signal))
        status, err = ended(running)
        assert status in (0, *SIGNALS[name_of_signal]), (status, err)
        if name_of_signal != "SIGKILL":  # of a killed one Python itself says that it clears away semaphores
            assert err in (b"", b"stopped; no file is half-written\n"), err
        now = tree(folder)
        assert all(data in (old.get(path), new.get(path)) for path, data in kept(now).items())
        assert name_of_signal == "SIGKILL" or status < 0 or not temporaries(now)
        for path, data in kept(now).items():
            if MANIFEST.fullmatch(path) and data == new[path]:
                assert agrees((folder / path).parent, Path(path).name)
        assert ended(started(program, folder, COMMANDS[name])) == (0, b"")
        then = tree(folder)
        assert kept(then) == new
        assert not any(map(TEMPORARY.fullmatch, then))
        shutil.rmtree(folder)
