"""One module a command, read when the command is called for or all are listed.

To add one: a module here whose command is called as the module is, and its name in NAMES, in the order of the job.
"""

from importlib import import_module

import click

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

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name; None where there is none."""
        if cmd_name not in NAMES:
            return None
        command: click.Command = getattr(import_module(f"jigtemplates.commands.{cmd_name}"), cmd_name)
        return command
