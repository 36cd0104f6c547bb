"""Every command and option with any value, and folders whose records somebody else wrote."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from arena import Arena, fast, long
from calls import LEAVES, Leaf, calls, may_write
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import broken

from jigtemplates.manifest import content_hash


def _called(arena: Arena, field: Path, leaf: Leaf, args: list[str]) -> None:
    arena.filled(field)
    into = may_write(leaf, args)
    said = arena.call(args, into=into)
    assert into or "cannot be written" not in said.err, (args, said)


def test_every_command_is_tried() -> None:
    """The commands with their subcommands, as the help lists them."""
    from jigtemplates.commands import NAMES

    assert {leaf.words[0] for leaf in LEAVES} == set(NAMES)
    assert len(LEAVES) >= 20


@settings(fast, max_examples=80)
@given(calls())
def test_any_call(arena: Arena, field: Path, call: tuple[Leaf, list[str]]) -> None:
    """Any values of any options: an answer or lines, and nothing written where nothing was to be."""
    _called(arena, field, *call)


@pytest.mark.slow
@settings(long, max_examples=5 * long.max_examples)
@given(calls())
def test_very_many_calls(arena: Arena, field: Path, call: tuple[Leaf, list[str]]) -> None:
    """The same for thousands."""
    _called(arena, field, *call)


#: Records of what was made, and what reads each.
RECORDS: dict[str, tuple[str, ...]] = {
    "templates/job/job.json": (
        "drawer templates",
        "drawer templates --json",
        "drawer templates --with-bit 6mm --with-bushing 14mm",
        "make job.toml --for cnc",
        "make job.toml --for laser --bit 6mm",
        "regenerate . --bit 6mm",
        "regenerate . --bit 6mm --write",
        "calibrate cut job.toml --measured-width 10.2mm --look",
    ),
    "sheets/job/job_sheets.json": ("sheet job.toml --stock 600x400",),
    "holders/quay-frame-160/quay-frame-160.json": ("holder quay-frame-160 --for cnc",),
    "profiles/tools.toml.undo": ("calibrate --undo", "calibrate printer --across 99.2mm --up 99.6mm"),
}


@st.composite
def forged(draw: st.DrawFn, read: Callable[[str], Any], names: list[str]) -> tuple[str, str, str]:
    """A record, what it says now, and the command that meets it."""
    name = draw(st.sampled_from(names))
    tree = draw(broken([read(name)], 1, 4))
    if draw(st.booleans()) and isinstance(tree, dict) and "sha256" in tree:
        tree["sha256"] = content_hash(tree)
    return name, json.dumps(tree), draw(st.sampled_from(RECORDS[name]))


def _forged(arena: Arena, field: Path, data: st.DataObject) -> None:
    names = [name for name, commands in RECORDS.items() if commands and (field / name).is_file()]
    name, text, command = data.draw(forged(lambda n: json.loads((field / n).read_text(encoding="utf-8")), names))
    arena.filled(field)
    (arena.here / name).write_text(text, encoding="utf-8")
    arena.call(command.split(), into=["."])


@settings(fast, max_examples=20)
@given(st.data())
def test_forged_records(arena: Arena, field: Path, data: st.DataObject) -> None:
    """Manifests and lists that somebody changed, hash and all: an answer or lines, and nothing outside the arena."""
    _forged(arena, field, data)


@pytest.mark.slow
@settings(long, max_examples=2 * long.max_examples)
@given(st.data())
def test_many_forged_records(arena: Arena, field: Path, data: st.DataObject) -> None:
    """The same for thousands."""
    _forged(arena, field, data)
