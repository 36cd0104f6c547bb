"""Every option of every command, each with likely values and nasty ones: none is left to chance."""

import os
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click
import pytest
from arena import Arena
from calls import LEAVES, Leaf, may_write
from click.core import ParameterSource
from each_option import EVERY, Chosen, likely, nasty

from jigtemplates.commands import NAMES

Given = set[tuple[str, str]]


@pytest.fixture
def given(monkeypatch: pytest.MonkeyPatch) -> Iterator[Given]:
    """Command and option of whatever click found on the command line, whether it then took the value or not."""
    found: Given = set()
    consume = click.Option.consume_value

    def noted(self: click.Option, ctx: click.Context, opts: Any) -> tuple[Any, ParameterSource]:
        value, source = consume(self, ctx, opts)
        if source is ParameterSource.COMMANDLINE:
            found.add((ctx.command_path, self.opts[-1]))
        return value, source

    monkeypatch.setattr(click.Option, "consume_value", noted)
    return found


def _called(arena: Arena, field: Path, chosen: Chosen, args: list[str], given: Given) -> int:
    arena.filled(field)
    given.clear()
    status = arena.call(args, into=may_write(Leaf(chosen.words or ("check",), chosen.command), args)).status
    assert (" ".join(("jigtemplates", *chosen.words)), chosen.option.opts[-1]) in given, args
    return status


def test_no_option_is_forgotten() -> None:
    """Every option of every command that does something is among them, as the fuzzer and the help list them."""
    tried = {(chosen.words, chosen.option.name) for chosen in EVERY}
    assert {chosen.words[0] for chosen in EVERY if chosen.words} == set(NAMES)
    for leaf in LEAVES:
        assert {(leaf.words, p.name) for p in leaf.command.params if isinstance(p, click.Option)} <= tried
    assert len({chosen.words for chosen in EVERY}) >= 27
    assert len(EVERY) >= 228


@pytest.mark.parametrize("chosen", EVERY, ids=str)
def test_every_option_with_a_likely_value(arena: Arena, field: Path, given: Given, chosen: Chosen) -> None:
    """It is given, and not refused: an answer, or a template that is stopped."""
    args = likely(chosen, random.Random(str(chosen)))
    status = _called(arena, field, chosen, args, given)
    assert status != 2, (args, "name in each_option.py what goes along with it, or a value that is likely")


#: Nasty calls of an option, each with other values: few and the same in every run, or a hundredth of JIGTEMPLATES_FUZZ.
FEW, MANY = range(2), range(2, 2 + int(os.environ.get("JIGTEMPLATES_FUZZ", "2000")) // 100)


@pytest.mark.parametrize("chosen", EVERY, ids=str)
def test_every_option_with_nasty_values(arena: Arena, field: Path, given: Given, chosen: Chosen) -> None:
    """It is given, and answered or refused in lines; nothing is written where nothing was to be."""
    for seed in FEW:
        for args in nasty(chosen, random.Random(f"{chosen} {seed}")):
            _called(arena, field, chosen, args, given)


@pytest.mark.slow
@pytest.mark.parametrize("chosen", EVERY, ids=str)
def test_every_option_with_many_nasty_values(arena: Arena, field: Path, given: Given, chosen: Chosen) -> None:
    """The same for thousands."""
    for seed in MANY:
        for args in nasty(chosen, random.Random(f"{chosen} {seed}")):
            _called(arena, field, chosen, args, given)
