"""What is done before something happens: a folder, a command, and the folder as an undisturbed run leaves it."""

import hashlib
import json
import os
import re
import shutil
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from crash_server import Server

#: A folder's files by their names below it; folders end in / and hold nothing.
Tree = Mapping[str, bytes]

TEMPORARY = re.compile(r"(.*/)?\.jigtemplates-[0-9]+-[0-9a-f]{8}\.tmp")
#: Reports of `regenerate` are dated, and a second run writes one of its own.
DATED = re.compile(r"(.*/)?regenerate-[0-9]{4}-[0-9]{2}-[0-9]{2}(-[0-9]+)?\.txt")
MANIFEST = re.compile(r".*\.json")

JOB = """\
title = "{title}"
units = "mm"
[cut]
shape = "slot"
width = {width}
length = 50
depth = 20
[tools]
bit = "{bit}"
bushing = "{bushing}"
[plate]
width = 140
height = 140
thickness = 6
material = "mdf"
[make]
for = {targets}
papers = ["a4"]
"""
INLAY = '[inlay]\nplug_bushing = "1/2 in"\n'
SIZES = "[cuts.small]\nlength = 40\n[cuts.large]\nlength = 60\n"
TOOLS = """\
units = "mm"
[bits."my 8"]
diameter = 8
[bits.other]
diameter = 6
[bushings."my 17"]
diameter = 17
bore = 14
stem = 5
[holders.frame]
width = 160
height = 160
corner_radius = 5
play = 0.3
depth = 6
ledge = 22
window = { width = 116, height = 116 }
ledge_thickness = 9
frame = 30
stand_off = 9
screws = { pattern = "corners", size = "M5", hole = "countersunk", inset = 12 }
joining = { pattern = "corners", size = "M5", hole = "countersunk", inset = 12 }
"""

#: The command that ran before, then the change that was made by hand.
Before = Callable[[Server, Path], None]


def job(width: float = 12, bit: str = "my 8", bushing: str = "my 17", targets: str = '["laser"]') -> str:
    """A job file's text."""
    return JOB.format(title="Rail", width=width, bit=bit, bushing=bushing, targets=targets)


def _shop(folder: Path, **files: str) -> None:
    (folder / "jobs" / "profiles").mkdir(parents=True)
    (folder / "jobs" / "profiles" / "tools.toml").write_text(TOOLS)
    for name, text in files.items():
        (folder / "jobs" / f"{name}.toml").write_text(text)


def _done(server: Server, folder: Path, *args: str) -> None:
    ended = server.run(folder, args)
    assert ended.status == 0, (args, ended.out, ended.err)


@dataclass(frozen=True)
class Scene:
    """A command and the folder it is called in."""

    name: str
    args: tuple[str, ...]
    before: Before
    #: statuses of a second run that found the first one's work done: it says so and writes nothing
    again: tuple[int, ...] = (0,)
    #: ends of lines on stderr with which it says so
    within: str = ""


def _make_new(_: Server, folder: Path) -> None:
    _shop(folder, rail=job(targets='["laser", "cnc", "paper", "print"]'))


def _make_again(server: Server, folder: Path) -> None:
    _shop(folder, rail=job(targets='["laser", "paper"]'))
    _done(server, folder, "make", "jobs/rail.toml")
    (folder / "jobs" / "rail.toml").write_text(job(13, targets='["laser", "paper"]'))


def _make_folder(server: Server, folder: Path) -> None:
    _shop(folder, one=job(), two=job() + SIZES)
    _done(server, folder, "make", "jobs")
    for name, text in {"one": job(13), "two": job(14) + SIZES}.items():
        (folder / "jobs" / f"{name}.toml").write_text(text)


def _make_inlay(_: Server, folder: Path) -> None:
    text = job(bit="1/8 in", bushing="3/4 in") + INLAY
    _shop(folder, leaf=text)


def _regenerate(server: Server, folder: Path) -> None:
    _shop(folder, one=job(), two=job() + SIZES)
    _done(server, folder, "make", "jobs")


def _tools(_: Server, folder: Path) -> None:
    _shop(folder)


def _jobs(_: Server, folder: Path) -> None:
    _shop(folder, rail=job(bit="8 mm", bushing="17 mm"))


def _calibrated(server: Server, folder: Path) -> None:
    _shop(folder, rail=job())
    _done(server, folder / "jobs", "calibrate", "bushing", "my 17", "--measured", "16.96 mm")
    _done(server, folder / "jobs", "calibrate", "bit", "my 8", "--measured", "7.95 mm")


def _calibrated_new(server: Server, folder: Path) -> None:
    """The tools file and the list are both of the correction's making, and a job was given a name."""
    (folder / "jobs").mkdir()
    (folder / "jobs" / "rail.toml").write_text(job(bit="8 mm", bushing="17 mm"))
    _done(server, folder / "jobs", "calibrate", "bit", "8 mm", "--measured", "7.95 mm", "--job", "rail.toml")


def _calibrate_new(_: Server, folder: Path) -> None:
    (folder / "jobs").mkdir()
    (folder / "jobs" / "rail.toml").write_text(job(bit="8 mm", bushing="17 mm"))


def _gauged(server: Server, folder: Path) -> None:
    _shop(folder, rail=job())
    _done(server, folder, "gauge", "bushing", "--bushing", "17 mm")


def _held(server: Server, folder: Path) -> None:
    _shop(folder)
    _done(server, folder, "holder", "frame", "--tools", "jobs/profiles/tools.toml")
    tools = folder / "jobs" / "profiles" / "tools.toml"
    tools.write_text(TOOLS.replace("width = 160", "width = 162"))


def _laid(server: Server, folder: Path) -> None:
    _shop(folder, one=job(), two=job() + SIZES)
    _done(server, folder, "sheet", "jobs", "--stock", "600x300")
    (folder / "jobs" / "one.toml").write_text(job(13))


REGENERATE = ("regenerate", "jobs", "--bit", "other", "--write")
SCENES = (
    Scene("make", ("make", "jobs/rail.toml"), _make_new),
    Scene("make-again", ("make", "jobs/rail.toml"), _make_again),
    Scene("make-folder", ("make", "jobs"), _make_folder),
    Scene("make-inlay", ("make", "jobs/leaf.toml"), _make_inlay),
    Scene("regenerate", REGENERATE, _regenerate),
    Scene("tools-add", ("tools", "add", "bits", "new", "diameter=5 mm", "--file", "jobs/profiles"), _tools, (0, 2)),
    Scene("tools-begin", ("tools", "add", "bits", "new", "diameter=5 mm"), _tools, (0, 2)),
    Scene("tools-remove", ("tools", "remove", "bits", "other", "--file", "jobs/profiles"), _tools, (0, 2)),
    Scene("calibrate", ("calibrate", "bit", "my 8", "--measured", "7.95 mm"), _jobs, within="jobs"),
    Scene("calibrate-kerf", ("calibrate", "kerf", "--gap", "1.9 mm", "--cuts", "10"), _calibrate_new, within="jobs"),
    Scene(
        "calibrate-job",
        ("calibrate", "bit", "8 mm", "--measured", "7.95 mm", "--job", "rail.toml"),
        _calibrate_new,
        within="jobs",
    ),
    Scene("undo", ("calibrate", "--undo"), _calibrated, within="jobs"),
    Scene("undo-all", ("calibrate", "--undo"), _calibrated_new, (0, 2), within="jobs"),
    Scene("gauge", ("gauge", "bushing", "--bushing", "my 17", "--tools", "jobs/profiles/tools.toml"), _gauged),
    Scene("gauge-printer", ("gauge", "printer"), _tools),
    Scene("holder", ("holder", "frame", "--tools", "jobs/profiles/tools.toml"), _held),
    Scene("sheet", ("sheet", "jobs", "--stock", "600x300"), _laid),
    Scene("new", ("new", "jobs/rail.toml"), _tools, (0, 2)),
    Scene("schema", ("new", "--schema", "jobs/job.schema.json"), _tools, (0, 2)),
)
NAMES = tuple(scene.name for scene in SCENES)


@dataclass(frozen=True)
class Set:
    """A scene with its folder as it stands before, and what an undisturbed run makes of it."""

    scene: Scene
    folder: Path
    before: Tree
    after: Tree
    #: the calls of the undisturbed run
    calls: tuple[str, ...]
    seconds: float


class Stage:
    """Sets scenes up, each once."""

    def __init__(self, server: Server, folder: Path) -> None:
        """Everything is put below the folder."""
        self.server, self.folder = server, folder
        self._sets: dict[str, Set] = {}

    def set_up(self, name: str) -> Set:
        """The scene of that name."""
        if name not in self._sets:
            self._sets[name] = self._set_up(next(scene for scene in SCENES if scene.name == name))
        return self._sets[name]

    def _set_up(self, scene: Scene) -> Set:
        folder = self.folder / scene.name
        start, play = folder / "start", folder / "undisturbed"
        start.mkdir(parents=True)
        scene.before(self.server, start)
        shutil.copytree(start, play, symlinks=True)
        ended = self.server.run(play / scene.within, scene.args, watch=play)
        assert ended.status == 0, (scene.name, ended)
        before, after = tree(start), tree(play)
        assert before != after
        assert not temporaries(after)
        return Set(scene, start, before, after, tuple(ended.calls), ended.seconds)

    def fresh(self, held: Set) -> Path:
        """A new copy of a scene's folder."""
        place = self.folder / held.scene.name / "play"
        shutil.rmtree(place, ignore_errors=True)
        shutil.copytree(held.folder, place, symlinks=True)
        return place


def tree(folder: Path) -> dict[str, bytes]:
    """All that is below a folder."""
    found: dict[str, bytes] = {}
    for place, folders, files in os.walk(folder):
        below = Path(place).relative_to(folder)
        found |= {f"{(below / name).as_posix()}/": b"" for name in folders}
        found |= {(below / name).as_posix(): (Path(place) / name).read_bytes() for name in files}
    return found


def temporaries(held: Tree) -> list[str]:
    """Files under temporary names."""
    return [name for name in held if TEMPORARY.fullmatch(name)]


def kept(held: Tree) -> dict[str, bytes]:
    """Without temporaries, dated reports and folders."""
    return {n: d for n, d in held.items() if not TEMPORARY.fullmatch(n) and not DATED.fullmatch(n) and n[-1] != "/"}


def torn(now: Tree, held: Set) -> list[str]:
    """What must not be: a file neither old nor new, and a new manifest beside a file it does not list so."""
    before, after = held.before, held.after
    faults = [f"{name}: neither old nor new" for name, data in kept(now).items()
              if data not in (before.get(name), after.get(name))]  # fmt: skip
    faults += [f"{name}: gone" for name in kept(before) if name in after and name not in now]
    faults += [f"{name}: half written" for name, data in now.items() if DATED.fullmatch(name) and data[-1:] != b"\n"]
    for name, data in kept(now).items():
        if MANIFEST.fullmatch(name) and data == after.get(name) != before.get(name):
            faults += [f"{name}: {one}" for one in _unlike(now, Path(name).parent, data)]
    return faults


def unlike(now: Tree, held: Set) -> set[str]:
    """Files that are not as an undisturbed run leaves them; temporaries count, dated reports do not."""
    left, right = kept(now), kept(held.after)
    return {name for name in {*left, *right} if left.get(name) != right.get(name)} | set(temporaries(now))


def _unlike(now: Tree, folder: Path, manifest: bytes) -> list[str]:
    said = json.loads(manifest).get("files", ())
    places = {(folder / one["name"]).as_posix(): one["sha256"] for one in said}
    return [place for place, digest in places.items() if hashlib.sha256(now.get(place, b"")).hexdigest() != digest]
