"""Killed at any moment: every file is whole, old or new, and the same command again makes all right.

A kill leaves what stands on the disk at that moment, and that changes only with a call of the system. So a copy of the
folder before every such call, and in the middle of every write, is every kill there can be. Signals at random moments
then do the same to the real thing, processes of its own that share the work among them.
"""

import random
import shutil
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from crash_scenes import DATED, NAMES, Set, Stage, kept, temporaries, torn, tree, unlike
from crash_server import Server

#: Scenes that end in a second; the others are played by the longer campaign.
QUICK = ("make-again", "tools-add", "tools-begin", "tools-remove", "calibrate", "undo", "undo-all", "new", "schema")


def chosen(quick: tuple[str, ...]) -> list[object]:
    """The names of all scenes; those that are not quick are marked."""
    return [name if name in quick else pytest.param(name, marks=pytest.mark.slow) for name in NAMES]


def repaired(server: Server, held: Set, folder: Path) -> set[str]:
    """What the same command once more leaves wrong."""
    again = server.run(folder / held.scene.within, held.scene.args, watch=folder)
    assert again.status in held.scene.again, again
    return unlike(tree(folder), held)


@pytest.mark.parametrize("name", chosen(QUICK))
def test_before_every_call(server: Server, stage: Stage, name: str) -> None:
    """In each of the states there can be nothing is torn, and the second run ends what the first began."""
    held = stage.set_up(name)
    states = dict(_states(server, stage, held))
    assert len(states) > 1
    for at, folder in states.items():
        left = repaired(server, held, folder)
        assert not left, (name, at, held.calls[at])


def _states(server: Server, stage: Stage, held: Set) -> Iterator[tuple[int, Path]]:
    """Copies of the folder before the calls of a run, each state once, by the number of calls that were made."""
    folder, copies = stage.fresh(held), stage.folder / held.scene.name / "copies"
    shutil.rmtree(copies, ignore_errors=True)
    copies.mkdir()
    fault = {"kind": "copies", "into": str(copies)}
    ended = server.run(folder / held.scene.within, held.scene.args, watch=folder, fault=fault)
    assert (ended.status, sorted(ended.calls)) == (0, sorted(held.calls))  # the disk is asked by several threads
    seen = set()
    for at, copy in enumerate(sorted(copies.iterdir())):
        now = tree(copy)
        assert not torn(now, held), (held.scene.name, at, held.calls[at])
        state = (frozenset(kept(now).items()), bool(temporaries(now)), any(map(DATED.fullmatch, now)))
        if state not in seen:
            seen.add(state)
            yield at, copy


@pytest.mark.parametrize(
    ("name", "times"),
    [("make-again", 5), ("calibrate", 5), ("undo", 10)]
    + [pytest.param(name, 60, marks=pytest.mark.slow) for name in ("make", "make-folder", "regenerate", "holder")]
    + [pytest.param(name, 60, marks=pytest.mark.slow) for name in ("sheet", "gauge", "calibrate-kerf", "tools-add")],
)
@pytest.mark.parametrize("name_of_signal", ["SIGKILL", "SIGINT"])
def test_at_random_moments(server: Server, stage: Stage, name: str, times: int, name_of_signal: str) -> None:
    """Killed, or stopped with Ctrl-C, which leaves no temporary either."""
    held, chance = stage.set_up(name), random.Random(f"{name} {name_of_signal}")
    for _ in range(times):
        folder = stage.fresh(held)
        # the end, where files are written, is hit as often as all that comes before
        part = chance.choice((chance.random(), chance.uniform(0.7, 1.1)))
        fault = {"kind": "signal", "name": name_of_signal, "after": part * held.seconds}
        ended = server.run(folder / held.scene.within, held.scene.args, watch=folder, fault=fault)
        now = tree(folder)
        assert ended.status in ((0, -signal.SIGKILL) if name_of_signal == "SIGKILL" else (0, 130)), ended
        assert not torn(now, held), (name, fault)
        assert name_of_signal == "SIGKILL" or not temporaries(now), (name, fault)
        if kept(now) != kept(held.after):
            assert not repaired(server, held, folder), (name, fault)
