"""What all options and paths of the command line have in common: given once, and not empty."""

import sys
from pathlib import Path
from typing import Any

import click

from jigtemplates.errors import InputError
from jigtemplates.streams import is_terminal


class Once(click.Option):
    """An option with one value; InputError where it is given twice, instead of the last one winning unseen."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """As click's; a flag, or an option of several values, stays one."""
        self._once = not (kwargs.get("is_flag") or kwargs.get("multiple"))
        if self._once:
            kwargs["multiple"] = True  # for click to keep them all
            if kwargs.get("default") is not None:
                kwargs["default"] = (kwargs["default"],)
        super().__init__(*args, **kwargs)

    def process_value(self, ctx: click.Context, value: Any) -> Any:
        """The one value, None where there is none."""
        values = super().process_value(ctx, value)
        if not self._once:
            return values
        if len(values) > 1:
            raise InputError(f"{self.opts[0]}: is given twice (keep one)")
        return values[0] if values else None


class NamedPath(click.Path):
    """A path that is not empty; click and the system take an empty one for this folder."""

    def __init__(self) -> None:
        """Neither looked for nor resolved: every command says in its own words what is missing."""
        super().__init__(path_type=Path)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The path; InputError names the option or argument that is empty."""
        if value == "" and param is not None:
            what = "a folder" if "DIR" in (param.metavar or "") else "a file"
            what += " or a folder" if param.metavar == "JOB..." else ""
            if isinstance(param, click.Option):
                raise InputError(f"{param.opts[0]}: it is empty (name {what})")
            name = (param.metavar or param.name or "").strip("[].").upper()
            raise InputError(f"{name} is empty (name {what})")
        return super().convert(value, param, ctx)


class Stoppable(click.Group):
    """A group of commands whose Ctrl-C is one line, also where it goes into a file or a pipe."""

    def invoke(self, ctx: click.Context) -> Any:
        """Click writes an empty line to stderr on KeyboardInterrupt, but not where it is already an Abort."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            if is_terminal(sys.stderr):
                raise  # the ^C stands there without a line's end
            raise click.Abort from None
