"""One module a command, read when the command is called for or all are listed.

To add one: a module here whose command is called as the module is, and its name in NAMES, in the order of the job.
"""

from collections.abc import Iterable
from importlib import import_module

import click

from jigtemplates.errors import SHOWN_CHARACTERS
from jigtemplates.options import Stoppable

#: In the order of the help.
NAMES = (
    "new",
    "check",
    "make",
    "sheet",
    "match",
    "inlay",
    "holder",
    "tools",
    "profiles",
    "gauge",
    "calibrate",
    "regenerate",
    "drawer",
)


class Commands(Stoppable):
    """A group whose commands stay unread until they are called for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Their names, in the order of the job."""
        return list(NAMES)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click's, which suggests no command of a group that has not read them."""
        suggest(ctx, args[0], NAMES)
        if args[0] not in NAMES and args[0].lower().endswith(".toml"):
            ctx.fail(f"No such command {args[0]!r}. To check a job: jigtemplates check {args[0]}")
        return super().resolve_command(ctx, args)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name; None where there is none."""
        if cmd_name not in NAMES:
            return None
        command: click.Command = getattr(import_module(f"jigtemplates.commands.{cmd_name}"), cmd_name)
        return command


def suggest(ctx: click.Context, word: str, names: Iterable[str]) -> None:
    """Refuse a word that is no command but nearly one, in the words click has for its own groups."""
    from difflib import get_close_matches

    names = tuple(names)
    near = () if word in names else get_close_matches(word[:SHOWN_CHARACTERS].lower(), names, n=1)
    for name in near:
        ctx.fail(f"No such command {word!r}. Did you mean {name!r}?")
