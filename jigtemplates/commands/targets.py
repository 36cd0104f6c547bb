"""The option `--for` of every command that has it: what something is made for, several names in a row."""

from collections.abc import Callable, Sequence
from typing import Any

import click

from jigtemplates.commands.common import TARGETS, option
from jigtemplates.errors import InputError, did_you_mean, quoted


class TargetsCommand(click.Command):
    """Lets `--for` take several targets in a row: `--for laser cnc` as well as `--for laser --for cnc`."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Gives every further target name its own `--for` before click reads the arguments."""
        spread: list[str] = []
        after_for = False
        for arg in args:
            if arg in TARGETS and after_for and spread[-1] != "--for":
                spread.append("--for")
            after_for = arg == "--for" or arg.startswith("--for=") or (after_for and arg in TARGETS)
            spread.append(arg)
        return super().parse_args(ctx, spread)


def for_option(
    allowed: Sequence[str], text: str, refusal: str = "is not known here"
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """The option for a `TargetsCommand`, with its help; InputError once, not once a job, for a name not allowed."""

    def known(_ctx: click.Context, _param: click.Parameter, names: tuple[str, ...]) -> tuple[str, ...]:
        unknown = [name for name in names if name not in allowed]
        if unknown:
            raise InputError(f"--for: {quoted(name)} {refusal} ({_instead(name, allowed)})" for name in unknown)
        return names

    return option("--for", "targets", multiple=True, metavar="NAME...", callback=known, help=text)


def _instead(name: str, allowed: Sequence[str]) -> str:
    """What to write; a target of other commands is no slip of the pen for the name most like it."""
    if name in TARGETS:
        return f"write {', '.join(allowed[:-1])} or {allowed[-1]}"
    return did_you_mean(name, allowed)
