"""The command `new`."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigtemplates.commands.common import PATH, option
from jigtemplates.errors import InputError, quoted
from jigtemplates.streams import is_terminal

if TYPE_CHECKING:
    from jigtemplates.lengths import Unit

#: The shapes there is a starter for (`starter.SHAPES`, said again here so that `--help` reads no texts).
SHAPES = ("slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge")
#: What may be answered besides them where somebody is asked.
OUTLINE = "outline"


@click.command(short_help="Write a commented job file to begin with.")
@click.argument("path", required=False, type=PATH)
@option("--shape", type=click.Choice(SHAPES), help="Shape of the cut; a drawn one: --outline.")
@option("--outline", type=PATH, metavar="FILE", help="The drawing of the cut, DXF or SVG.")
@option("--select", metavar="NAME", help="Its id, layer or group, where the drawing holds several.")
@option("--drawing-units", type=click.Choice(["mm", "in"]), help="Unit of a drawing that does not say its own.")
@option("--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Units of bare numbers.")
@option(
    "--schema",
    type=PATH,
    metavar="FILE",
    help="Write the JSON schema of jobs for an editor, and stop.",
)
def new(
    path: Path | None, shape: str | None, outline: Path | None, select: str | None, drawing_units: "Unit | None",
    units: "Unit", schema: Path | None,
) -> int:  # fmt: skip
    """Write a job file with every key explained, ready to change.

    PATH is the file to write (default: the shape's or the drawing's name in this folder; - for the
    screen). A file that is there already is never overwritten. In a terminal the shape is asked for where it
    is not given; in a pipe nothing is asked and a slot is written.

    Where you have bits and bushings of your own, the job begins with those of them that come nearest to the cut. A
    drawn cut is read first; its job has a plate round it, and a pair of all that are known where you have none.
    """
    from jigtemplates.starter_file import new_job_path, typed, write_starter

    if schema is not None:
        return _schema(schema, {"--outline": outline, "PATH": path})
    _refuse_misfits(shape, {"--outline": outline, "--select": select, "--drawing-units": drawing_units})
    to_screen = path == Path("-")
    path = new_job_path(path) if path and not to_screen else None  # a name that will not do is refused unasked
    if shape is None and outline is None:
        shape, outline = _asked()
    path = path or new_job_path(Path(f"{shape if outline is None else outline.stem}.toml"))
    if outline is None:
        text, said = _of_shape(path, str(shape), units)
    else:
        text, said = _outlined(path, outline, select, drawing_units, units, to_screen=to_screen)
    if to_screen:
        click.echo(text, nl=False)
    else:
        written = typed(write_starter(path, text))
        click.echo(f"wrote {written}: change it, then: jigtemplates check {written}")
    if said is not None:
        click.echo(said, err=to_screen)
    return 0


def _schema(schema: Path, beside: Mapping[str, Path | None]) -> int:
    from jigtemplates.parameters.schema import shipped_schema
    from jigtemplates.starter_file import typed, write_starter

    for name, given in beside.items():
        if given is not None:
            what = name if name.startswith("-") else quoted(str(given))
            raise InputError(f"--schema: writes no job; leave {what} out, or --schema")
    click.echo(f"wrote {typed(write_starter(schema, shipped_schema()))}")
    return 0


def _refuse_misfits(shape: str | None, drawn: Mapping[str, object]) -> None:
    """InputError with a line for each option that does not go with the others."""
    if drawn["--outline"] is None:
        lines = [f"{name}: is about a drawing (add --outline FILE, or leave it out)" for name, given in drawn.items()
                 if given is not None]  # fmt: skip
    else:
        lines = ["--shape: a drawn cut has the shape of its outline (leave --shape out, or --outline)"] * (
            shape is not None
        )
    if lines:
        raise InputError(lines)


def _outlined(
    path: Path, outline: Path, select: str | None, drawing_units: "Unit | None", units: "Unit", *, to_screen: bool
) -> tuple[str, str]:
    """The text of a job for a drawn cut, and a line on its pair."""
    from jigtemplates.starter_drawn import Asked
    from jigtemplates.starter_file import refuse_missing_folder, taken
    from jigtemplates.starter_outline import outline_job

    refuse_missing_folder(path)
    if not to_screen and os.path.lexists(path):  # refused before the drawing takes its time
        raise taken(path)
    started = outline_job(Asked(outline, select, drawing_units, units), path)
    return started.text, started.said


def _of_shape(path: Path, shape: str, units: "Unit") -> tuple[str, str | None]:
    """The text of a job for a shape, and where the person has tools of their own a line on its pair."""
    from jigtemplates.own_folders import may_have_own
    from jigtemplates.starter import starter_text

    if may_have_own(path):
        from jigtemplates.starter_own import own_job

        started = own_job(shape, units, path)
        if started is not None:
            return started.text, started.said
    return starter_text(shape, units, path.name), None


def _asked() -> tuple[str | None, Path | None]:
    """The shape, or the drawing of an outline; a slot where nobody is looking."""
    if not (is_terminal(sys.stdin) and is_terminal(sys.stdout)):
        return "slot", None
    shapes = click.Choice((*SHAPES, OUTLINE))
    shape: str = click.prompt("Shape of the cut", type=shapes, default="slot", err=True)
    if shape != OUTLINE:
        return shape, None
    return None, Path(click.prompt("Its drawing, a DXF or SVG file", type=str, err=True))
