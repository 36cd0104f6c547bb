"""Two runs at once on one folder: what is there afterwards is of one of them, whole, or of both where both fit."""

import hashlib
import json
from pathlib import Path

import pytest
from crash_scenes import Stage, job, kept, temporaries, torn, tree
from crash_server import Server

SLOW = pytest.mark.slow


def rounds(quick: int, longer: int) -> list[object]:
    """How often a race is run."""
    return [quick, pytest.param(longer, marks=SLOW)]


def agrees(folder: Path, manifest: str) -> bool:
    """Whether every file that a manifest lists has the bytes it says."""
    said = json.loads((folder / manifest).read_bytes())["files"]
    return all(hashlib.sha256((folder / one["name"]).read_bytes()).hexdigest() == one["sha256"] for one in said)


@pytest.mark.parametrize("times", rounds(2, 40))
def test_the_same_job(server: Server, stage: Stage, times: int) -> None:
    """Both end well, and the folder is as one leaves it."""
    held = stage.set_up("make-again")
    for _ in range(times):
        folder = stage.fresh(held)
        both = server.together(folder, held.scene.args, held.scene.args)
        assert [one.status for one in both] == [0, 0], both
        assert tree(folder) == held.after


@pytest.mark.parametrize("times", rounds(2, 40))
def test_with_other_tools(server: Server, stage: Stage, times: int) -> None:
    """Two make one job with different bits: the files are all of one of them, as its manifest says."""
    held = stage.set_up("make-again")
    for _ in range(times):
        folder = stage.fresh(held)
        both = server.together(folder, held.scene.args, ("make", "jobs/rail.toml", "--bit", "6 mm"))
        assert [one.status for one in both] == [0, 0], both
        assert agrees(folder / "templates" / "rail", "rail.json")
        assert not temporaries(tree(folder))


@pytest.mark.parametrize("times", [pytest.param(1), pytest.param(20, marks=SLOW)])
def test_make_and_regenerate(server: Server, stage: Stage, times: int) -> None:
    """Every folder is of one of them, and `make` afterwards makes what the job files say."""
    held = stage.set_up("regenerate")
    for _ in range(times):
        folder = stage.fresh(held)
        both = server.together(folder, held.scene.args, ("make", "jobs", "--for", "laser", "paper"))
        assert [one.status for one in both] == [0, 0], both
        assert not temporaries(tree(folder))
        for name in ("one", "two-small", "two-large"):
            assert agrees(folder / "templates" / name, f"{name}.json")
        assert server.run(folder, ("make", "jobs")).status == 0
        now, after = kept(tree(folder)), kept(held.after)
        assert {name: data for name, data in now.items() if "_paper_" not in name} == after


@pytest.mark.parametrize("times", [pytest.param(1), pytest.param(20, marks=SLOW)])
def test_eight_tools_at_once(server: Server, stage: Stage, times: int) -> None:
    """None is lost, whichever began the file."""
    held = stage.set_up("tools-begin")
    for _ in range(times):
        folder = stage.fresh(held)
        done = server.together(folder, *(("tools", "add", "bits", f"b{n}", "diameter=3 mm") for n in range(8)))
        assert [one.status for one in done] == [0] * 8, done
        text = (folder / "profiles" / "tools.toml").read_text()
        assert sorted(line for line in text.splitlines() if line[:1] == "[") == [f"[bits.b{n}]" for n in range(8)]
        gone = server.together(folder, *(("tools", "remove", "bits", f"b{n}") for n in range(8)))
        assert [one.status for one in gone] == [0] * 8, gone
        assert "[bits" not in (folder / "profiles" / "tools.toml").read_text()
        assert not temporaries(tree(folder))


@pytest.mark.parametrize("times", [pytest.param(1), pytest.param(20, marks=SLOW)])
def test_corrections_and_tools_at_once(server: Server, stage: Stage, times: int) -> None:
    """Each is in the file or says that it is not: a correction reckons with what it read."""
    held = stage.set_up("calibrate")
    for _ in range(times):
        folder = stage.fresh(held) / "jobs"
        done = server.together(
            folder,
            ("calibrate", "bit", "my 8", "--measured", "7.95 mm"),
            ("calibrate", "bushing", "my 17", "--measured", "16.95 mm"),
            ("tools", "add", "bits", "new", "diameter=5 mm"),
        )
        text = (folder / "profiles" / "tools.toml").read_text()
        for one, mark in zip(done, ("7.95 mm", "16.95 mm", "[bits.new]"), strict=True):
            assert (one.status == 0) == (mark in text), done
            assert one.status == 0 or "was changed meanwhile" in one.err, done
        assert done[2].status == 0


@pytest.mark.parametrize("times", [pytest.param(2), pytest.param(20, marks=SLOW)])
def test_two_undo_at_once(server: Server, stage: Stage, times: int) -> None:
    """Of one correction one is told that there is none; the file is as before it."""
    held = stage.set_up("undo-all")
    for _ in range(times):
        folder = stage.fresh(held)
        both = server.together(folder / held.scene.within, held.scene.args, held.scene.args)
        assert sorted(one.status for one in both) == [0, 2], both
        assert [one.err.split(": ")[1] for one in both if one.status] == ["no correction to take back\n"]
        assert kept(tree(folder)) == kept(held.after)


@pytest.mark.parametrize("times", [pytest.param(1), pytest.param(10, marks=SLOW)])
@pytest.mark.parametrize("name", ["new", "gauge-printer", "sheet", "holder"])
def test_the_rest(server: Server, stage: Stage, name: str, times: int) -> None:
    """Both end as one after the other would; of two new files only one is written."""
    held = stage.set_up(name)
    for _ in range(times):
        folder = stage.fresh(held)
        both = server.together(folder, held.scene.args, held.scene.args)
        assert sorted(one.status for one in both) == ([0, 2] if name == "new" else [0, 0]), both
        assert not torn(tree(folder), held)
        assert tree(folder) == held.after


@pytest.mark.parametrize("times", [pytest.param(1), pytest.param(10, marks=SLOW)])
def test_jobs_of_one_name(server: Server, stage: Stage, times: int) -> None:
    """Two folders with a job called alike made into one: the files are all of one of them."""
    held = stage.set_up("tools-begin")
    for _ in range(times):
        folder = stage.fresh(held)
        for place, width in (("a", 12), ("b", 14)):
            (folder / place).mkdir()
            (folder / place / "rail.toml").write_text(job(width, "8 mm", "17 mm"))
        both = server.together(folder, ("make", "a/rail.toml"), ("make", "b/rail.toml"))
        assert [one.status for one in both] == [0, 0], both
        assert agrees(folder / "templates" / "rail", "rail.json")
