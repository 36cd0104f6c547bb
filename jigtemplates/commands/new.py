"""The command `new`."""

import sys
from pathlib import Path

import click

from jigtemplates.commands.common import PATH, option
from jigtemplates.errors import InputError, quoted
from jigtemplates.streams import is_terminal

#: The shapes there is a starter for (`starter.SHAPES`, said again here so that `--help` reads no texts).
SHAPES = ("slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge")


@click.command(short_help="Write a commented job file to begin with.")
@click.argument("path", required=False, type=PATH)
@option("--shape", type=click.Choice(SHAPES), help="Shape of the cut.")
@option("--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Units of bare numbers.")
@option(
    "--schema",
    type=PATH,
    metavar="FILE",
    help="Write the JSON schema of jobs for an editor, and stop.",
)
def new(path: Path | None, shape: str | None, units: str, schema: Path | None) -> int:
    """Write a job file with every key explained, ready to change.

    PATH is the file to write (default: the shape's name in this folder; - for the screen). A file that is
    there already is never overwritten. In a terminal the shape is asked for where it is not given; in a
    pipe nothing is asked and a slot is written.
    """
    from jigtemplates.starter import new_job_path, starter_text, typed, write_starter

    if schema is not None:
        if path is not None:
            raise InputError(f"--schema: writes no job; leave {quoted(str(path))} out, or --schema")
        from jigtemplates.parameters.schema import shipped_schema

        click.echo(f"wrote {typed(write_starter(schema, shipped_schema()))}")
        return 0
    to_screen = path == Path("-")
    path = new_job_path(path) if path and not to_screen else None  # a name that will not do is refused unasked
    shape = shape or _asked_shape()
    path = path or Path(f"{shape}.toml")
    text = starter_text(shape, units, path.name)
    if to_screen:
        click.echo(text, nl=False)
    else:
        written = typed(write_starter(path, text))
        click.echo(f"wrote {written}: change it, then: jigtemplates check {written}")
    return 0


def _asked_shape() -> str:
    if not (is_terminal(sys.stdin) and is_terminal(sys.stdout)):
        return "slot"
    shape: str = click.prompt("Shape of the cut", type=click.Choice(SHAPES), default="slot", err=True)
    return shape
