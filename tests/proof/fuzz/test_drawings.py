"""Broken and hostile drawings: one sound area, or refused in lines; no other file is read, no memory blown up."""

import resource
from typing import Literal

import pytest
from arena import Arena, fast, long
from broken_drawings import DXFS, HUGE, SVGS
from hypothesis import given, settings
from hypothesis import strategies as st
from promises import SAMPLES, outline_is_read

UNITS: st.SearchStrategy[Literal["mm", "in"] | None] = st.sampled_from([None, "mm", "in"])


@settings(fast, max_examples=150)
@given(SVGS, UNITS)
def test_broken_svg(data: bytes, unit: Literal["mm", "in"] | None) -> None:
    """Bytes, elements and attributes lost or made up: one sound area, or lines that name the file."""
    outline_is_read(data, "a.svg", unit)


@settings(fast, max_examples=150)
@given(DXFS, UNITS)
def test_broken_dxf(data: bytes, unit: Literal["mm", "in"] | None) -> None:
    """Bytes, group codes and values lost or made up: the same."""
    outline_is_read(data, "a.dxf", unit)


@pytest.mark.slow
@settings(long, max_examples=20_000)
@given(SVGS, UNITS)
def test_many_broken_svgs(data: bytes, unit: Literal["mm", "in"] | None) -> None:
    """The same for twenty thousand."""
    outline_is_read(data, "a.svg", unit)


@pytest.mark.slow
@settings(long, max_examples=20_000)
@given(DXFS, UNITS)
def test_many_broken_dxfs(data: bytes, unit: Literal["mm", "in"] | None) -> None:
    """The same for twenty thousand."""
    outline_is_read(data, "a.dxf", unit)


JOB = (SAMPLES / "leaf-tray.toml").read_text(encoding="utf-8").replace('select = "leaf"\n', "")


def _made_of(arena: Arena, name: str, data: bytes) -> None:
    arena.emptied()
    (arena.here / name).write_bytes(data)
    (arena.here / "job.toml").write_text(JOB.replace("leaf.svg", name), encoding="utf-8")
    arena.call(["make", "job.toml", "--for", "cnc", "--out", "out"], into=["out"])


@given(SVGS)
@settings(fast, max_examples=40)
def test_a_template_of_a_broken_svg(arena: Arena, data: bytes) -> None:
    """What is read of a broken drawing is offset, routed, written and read back, or refused."""
    _made_of(arena, "a.svg", data)


@given(DXFS)
@settings(fast, max_examples=40)
def test_a_template_of_a_broken_dxf(arena: Arena, data: bytes) -> None:
    """The same of a DXF."""
    _made_of(arena, "a.dxf", data)


@pytest.mark.slow
@long
@given(st.tuples(st.just("a.svg"), SVGS) | st.tuples(st.just("a.dxf"), DXFS))
def test_many_templates_of_broken_drawings(arena: Arena, drawn: tuple[str, bytes]) -> None:
    """The same for thousands of both."""
    _made_of(arena, *drawn)


@pytest.mark.parametrize("name", HUGE)
def test_drawings_made_to_cost_much(arena: Arena, name: str) -> None:
    """Thousands of groups, endless numbers, counts that lie: bounded time and memory (200 MB), and an answer."""
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    (arena.here / name).write_bytes(HUGE[name])
    (arena.here / "job.toml").write_text(JOB.replace("leaf.svg", name), encoding="utf-8")
    arena.call(["check", "job.toml"])
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 400_000
