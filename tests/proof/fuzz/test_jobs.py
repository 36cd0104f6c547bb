"""Almost valid jobs and tools files: read or refused in lines, written nowhere else, in bounded time and memory."""

import shutil
from typing import Any

import pytest
from arena import Arena, fast, long
from hypothesis import given
from hypothesis import strategies as st
from likely_jobs import likely_jobs
from promises import job_is_read
from strategies import JOBS, SAMPLES, TOOLS, as_text, broken, damaged, jobs

from jigtemplates.profile_files import KINDS

TARGETS = st.lists(st.sampled_from(["laser", "cnc", "paper", "print"]), max_size=2, unique=True)


def _beside(arena: Arena) -> None:
    """What the samples refer to: their drawings and profiles."""
    arena.emptied()
    for name in ("leaf.svg", "rose.svg", "bracket.dxf"):
        shutil.copy(SAMPLES / name, arena.here)
    shutil.copytree(SAMPLES / "profiles", arena.here / "profiles")


def _made(arena: Arena, tree: dict[str, Any], targets: list[str]) -> None:
    _beside(arena)
    (arena.here / "job.toml").write_text(as_text(tree), encoding="utf-8")
    asked = [word for target in targets for word in ("--for", target)]
    said = arena.call(["make", "job.toml", "--out", "out", *asked], into=["out"])
    assert (arena.here / "out").exists() == (said.status == 0)


@fast
@given(jobs(), TARGETS)
def test_almost_valid_jobs_are_made_or_refused(arena: Arena, tree: dict[str, Any], targets: list[str]) -> None:
    """`make` of any job: status 0 and files in the folder of --out, or lines and no file at all."""
    _made(arena, tree, targets)


@pytest.mark.slow
@long
@given(jobs(), TARGETS)
def test_many_almost_valid_jobs_are_made_or_refused(arena: Arena, tree: dict[str, Any], targets: list[str]) -> None:
    """The same for thousands of them, other ones in every run."""
    _made(arena, tree, targets)


@pytest.mark.slow
@long
@given(likely_jobs(), TARGETS)
def test_many_likely_jobs_are_made_or_refused(arena: Arena, tree: dict[str, Any], targets: list[str]) -> None:
    """The same for jobs that make sense: most get as far as geometry, checks and writers."""
    _made(arena, tree, targets)


def _read_by_all(arena: Arena, tree: dict[str, Any], command: list[str]) -> None:
    _beside(arena)
    (arena.here / "job.toml").write_text(as_text(tree), encoding="utf-8")
    arena.call(command, into=["out", "gauges"])
    assert sorted(path.name for path in arena.here.glob("*.toml")) == ["job.toml"]


READERS = st.sampled_from(
    (
        "check job.toml",
        "check job.toml --json",
        "inlay job.toml",
        "gauge fit job.toml",
        "gauge fit job.toml --out out",
        "sheet job.toml --stock 600x400 --out out",
        "regenerate . --bit 6mm --out out",
        "drawer --jobs .",
        "calibrate cut job.toml --measured-width 10.2mm --look --out out",
    )
).map(str.split)


@fast
@given(jobs(), READERS)
def test_every_command_reads_almost_valid_jobs(arena: Arena, tree: dict[str, Any], command: list[str]) -> None:
    """Each command that takes a job answers or refuses it, and leaves the job as it was."""
    _read_by_all(arena, tree, command)


@pytest.mark.slow
@long
@given(jobs(), READERS)
def test_every_command_reads_many_jobs(arena: Arena, tree: dict[str, Any], command: list[str]) -> None:
    """The same for thousands."""
    _read_by_all(arena, tree, command)


def _tools_read(arena: Arena, tree: dict[str, Any], command: list[str]) -> None:
    _beside(arena)
    (arena.here / "own.toml").write_text(as_text(tree), encoding="utf-8")
    (arena.here / "job.toml").write_text((SAMPLES / "chair-rail.toml").read_text(encoding="utf-8"), encoding="utf-8")
    arena.call(command, into=["out", "own.toml", "own.toml.undo"])


TOOL_COMMANDS = st.sampled_from(
    (
        "tools own.toml",
        "tools own.toml --json",
        "check job.toml --tools own.toml",
        *(f"profiles {kind} --profiles ." for kind in KINDS),
        "match --width 10mm --length 50mm --depth 20mm --tools own.toml",
        "match --width 30mm --tools own.toml --shipped --all",
        "holder quay-frame-160 --tools own.toml --out out",
        "holder door-edge-8x5 --tools own.toml --out out",
        "inlay --bit 3mm --tools own.toml",
        "tools add bits new diameter=8mm --file own.toml",
        "tools remove bits new --file own.toml",
        "calibrate kerf --gap 1.9mm --cuts 10 --file own.toml --sure",
        "calibrate bit 8mm --measured 7.97mm --file own.toml --sure",
        "calibrate printer --across 99.2mm --up 99.6mm --file own.toml",
    )
).map(str.split)


@fast
@given(broken(TOOLS), TOOL_COMMANDS)
def test_almost_valid_tools_files(arena: Arena, tree: dict[str, Any], command: list[str]) -> None:
    """Every command that reads a tools file answers or refuses it; only that file is ever written."""
    _tools_read(arena, tree, command)


@pytest.mark.slow
@long
@given(broken(TOOLS), TOOL_COMMANDS)
def test_many_almost_valid_tools_files(arena: Arena, tree: dict[str, Any], command: list[str]) -> None:
    """The same for thousands."""
    _tools_read(arena, tree, command)


TEXTS = [as_text(tree).encode() for tree in JOBS.values()]
TEXTS += [path.read_bytes() for path in sorted(SAMPLES.glob("*.toml"))]


@fast
@given(damaged(TEXTS))
def test_damaged_job_files(data: bytes) -> None:
    """Bytes lost, doubled or exchanged in a job: read and checked, or refused in lines."""
    job_is_read(data)


@pytest.mark.slow
@long
@given(damaged(TEXTS))
def test_many_damaged_job_files(data: bytes) -> None:
    """The same for thousands."""
    job_is_read(data)
