"""A full disk, a failing one, one that becomes read-only, Ctrl-C: at every call one after another.

All or nothing: one clear line and status 2, every file as it was, nothing left lying about; where the disk takes that
back no more, every file is whole and the line names those that are new. The same command again makes all right.
"""

from typing import Any, NamedTuple

import pytest
from crash_scenes import NAMES, Set, Stage, kept, torn, tree, unlike
from crash_server import Ended, Server

#: Several jobs in one run: what is done before the fault stays done.
SEVERAL = ("make-folder", "regenerate")
#: Scenes of many calls: each is met by one of the four kinds.
LONG = ("make", "make-again", "make-inlay", "gauge", "holder", "sheet")
#: Calls with which is cleared away: stopped there, a temporary or an empty folder stays until the next run.
CLEARING = ("unlink", "rmdir")
#: Scenes and how many of their calls are left out between two in the quick run.
QUICK = {"make-again": 7, "tools-begin": 1, "undo-all": 1, "new": 1}


class Kind(NamedTuple):
    """What happens, and what is said of it."""

    fault: dict[str, Any]
    status: int
    #: words of the line about it
    said: str
    #: whether nothing can be cleared away either
    stuck: bool = False


KINDS = {
    "full": Kind({"kind": "error", "errno": "ENOSPC", "lasting": True}, 2, "full|space"),
    "failing": Kind({"kind": "error", "errno": "EIO", "lasting": False}, 2, "nput/output error"),
    "read-only": Kind({"kind": "error", "errno": "EROFS", "lasting": True}, 2, "ead-only", stuck=True),
    "interrupt": Kind({"kind": "interrupt"}, 130, "stopped; no file is half-written"),
}


def runs() -> list[object]:
    """Each scene with each kind; the quick ones again with fewer calls."""
    quick = [(name, kind, step) for name, step in QUICK.items() for kind in ("full", "interrupt")]
    steps = {name: 5 if name in SEVERAL else 4 if name in LONG else 1 for name in NAMES}
    longer = [pytest.param(name, kind, steps[name], marks=pytest.mark.slow) for name in NAMES for kind in KINDS]
    return [*quick, *longer]


@pytest.mark.parametrize(("name", "kind_name", "step"), runs())
def test_at_every_call(server: Server, stage: Stage, name: str, kind_name: str, step: int) -> None:
    """One line, the files as they were, and the second run makes what the first did not."""
    held, kind = stage.set_up(name), KINDS[kind_name]
    first = 1 + list(KINDS).index(kind_name) % step
    for at in range(first, len(held.calls) + 1, step):
        folder = stage.fresh(held)
        fault = {**kind.fault, "at": at}
        ended = server.run(folder / held.scene.within, held.scene.args, watch=folder, fault=fault)
        now, where = tree(folder), (name, kind_name, at, ended.calls[at - 1], ended)
        assert not torn(now, held), where
        _is_said(ended, kind, where)
        _all_or_nothing(now, held, ended, kind, where)
        if ended.status and now != held.before:
            again = server.run(folder / held.scene.within, held.scene.args, watch=folder)
            assert again.status in held.scene.again, (where, again)
            left = unlike(tree(folder), held)
            assert not left, where


def _is_said(ended: Ended, kind: Kind, where: tuple[object, ...]) -> None:
    """Status 0 where the fault was none: something that was only to be cleared away, or a folder there already."""
    assert ended.status in (0, kind.status), where
    lines = ended.err.splitlines()
    if ended.status:
        assert lines, where
        assert all(any(word in line for word in kind.said.split("|")) for line in lines), where


def _all_or_nothing(now: dict[str, bytes], held: Set, ended: Ended, kind: Kind, where: tuple[object, ...]) -> None:
    if ended.status == 0:
        assert kept(now) == kept(held.after), where
    elif "already replaced:" in ended.err or held.scene.name in SEVERAL:
        assert kind.fault.get("lasting") or held.scene.name in SEVERAL, where
    elif kind.stuck:
        assert kept(now) == kept(held.before), where
    elif ended.status == 130 and where[3] in CLEARING:
        assert kept(now) in (kept(held.before), kept(held.after)), where
    else:
        assert now in (held.before, held.after), where
