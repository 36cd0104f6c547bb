"""The command line: options in, text or JSON out, exit status 0, 1 or 2.

0: done. 1: a finding of level "stop"; nothing was written for that job. 2: input that cannot be read
or an output that cannot be written. Everything heavy is imported inside the commands, so that
`--help` answers at once.
"""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from jigtemplates.errors import InputError, JigError

TARGETS = ("laser", "cnc", "paper")

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


class TargetsCommand(click.Command):
    """Lets `--for` take several names in a row: `--for laser cnc` as well as `--for laser --for cnc`."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Gives every further target name its own `--for` before click reads the arguments."""
        spread: list[str] = []
        after_for = False
        for arg in args:
            if arg in TARGETS and after_for and spread[-1] != "--for":
                spread.append("--for")
            after_for = arg == "--for" or (after_for and arg in TARGETS)
            spread.append(arg)
        return super().parse_args(ctx, spread)


profiles_option = click.option(
    "--profiles", "folder", type=click.Path(path_type=Path), metavar="DIR", help="A folder of your own profiles."
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON, lengths in mm.")


@click.group(context_settings=CONTEXT, invoke_without_command=True)
@click.option("--version", is_flag=True, help="Print the version and stop.")
@click.pass_context
def cli(ctx: click.Context, version: bool) -> None:
    """Router templates that make the cut you want.

    From the cut, the bit and the guide bushing in a job file to the template that makes it: checked,
    routed on the screen, and written as true-size DXF, SVG and 1:1 paper patterns.

    Begin with: jigtemplates new my-job.toml
    """
    if version:
        from importlib.metadata import version as installed

        click.echo(f"jigtemplates {installed('jigtemplates')}")
    elif ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


@cli.command(short_help="Numbers and findings of a job; writes nothing.")
@click.argument("jobs", nargs=-1, required=True, metavar="JOB...", type=click.Path(path_type=Path))
@profiles_option
@json_option
def check(jobs: Sequence[Path], folder: Path | None, as_json: bool) -> int:
    """Show a job's opening, predicted cut, plunge depth and passes, and what the checks say.

    JOB is a job file, or a folder of them. Nothing is written.
    """
    from jigtemplates.batch import Batch
    from jigtemplates.terminal import print_batch

    batch = Batch.of(jobs, folder=folder)
    return print_batch(batch.checked(), len(batch.paths), as_json=as_json, with_cautions=True)


@cli.command(cls=TargetsCommand, short_help="Make a job's files.")
@click.argument("jobs", nargs=-1, required=True, metavar="JOB...", type=click.Path(path_type=Path))
@click.option(
    "--out", type=click.Path(path_type=Path), default=Path("templates"), show_default=True, metavar="DIR",
    help="Folder for the files; each job gets one of its own in it.",
)  # fmt: skip
@click.option("--for", "targets", multiple=True, metavar="NAME...", help="Make only these: laser, cnc, paper.")
@click.option("--bit", metavar="L", help="Another bit than the job's: a diameter or a profile's name.")
@click.option("--bushing", metavar="L", help="Another guide bushing than the job's.")
@profiles_option
@json_option
def make(
    jobs: Sequence[Path],
    out: Path,
    targets: Sequence[str],
    bit: str | None,
    bushing: str | None,
    folder: Path | None,
    as_json: bool,
) -> int:
    """Make the files of one or more jobs: DXF and SVG for machines, PDF to print at true size.

    JOB is a job file, or a folder of them. A job with a finding of level "stop" writes nothing.
    """
    from jigtemplates.batch import Batch
    from jigtemplates.terminal import print_batch

    batch = Batch.of(jobs, folder=folder, bit=bit, bushing=bushing, targets=targets or None)
    return print_batch(batch.made(out), len(batch.paths), as_json=as_json)


@cli.command(short_help="List bits, bushings, sheets, screws and the rest.")
@click.argument("kind", required=False)
@click.argument("name", required=False)
@profiles_option
@json_option
def profiles(kind: str | None, name: str | None, folder: Path | None, as_json: bool) -> int:
    """List the profiles a job can name, and say where each came from.

    Without KIND: the kinds, and the folders that are searched. With KIND (bits, bushings, sheets, screws,
    processes, papers, holders): their names. With NAME: all that is known of one.
    """
    from jigtemplates.listing import print_profiles

    print_profiles(kind, name, folder, as_json=as_json)
    return 0


@cli.command(short_help="Write a commented job file to begin with.")
@click.argument("path", required=False, type=click.Path(path_type=Path, allow_dash=True))
@click.option("--shape", type=click.Choice(["slot", "round", "rectangle"]), help="Shape of the cut.")
@click.option(
    "--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Units of bare numbers."
)
def new(path: Path | None, shape: str | None, units: str) -> int:
    """Write a job file with every key explained, ready to change.

    PATH is the file to write (default: the shape's name in this folder; - for the screen). A file that is
    there already is never overwritten. In a terminal the shape is asked for where it is not given; in a
    pipe nothing is asked and a slot is written.
    """
    from jigtemplates.starter import starter_text, write_starter

    shape = shape or _asked_shape()
    if path == Path("-"):
        click.echo(starter_text(shape, units, f"{shape}.toml"), nl=False)
        return 0
    path = path or Path(f"{shape}.toml")
    path = path if path.suffix else path.with_suffix(".toml")
    written = write_starter(path, starter_text(shape, units, path.name))
    click.echo(f"wrote {written}: change it, then: jigtemplates check {written}")
    return 0


def _asked_shape() -> str:
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return "slot"
    shape: str = click.prompt(
        "Shape of the cut", type=click.Choice(["slot", "round", "rectangle"]), default="slot", err=True
    )
    return shape


def main(args: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its status; every fault is a line on stderr, never a traceback."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal without × still gets its numbers
    sys.exit(run(args))


def run(args: Sequence[str] | None = None) -> int:
    """The exit status of one call of the command line."""
    try:
        status: Any = cli.main(args=args, prog_name="jigtemplates", standalone_mode=False)
    except click.ClickException as error:
        return _fail(_usage_lines(error), 2)
    except JigError as error:
        return _fail(error.lines, 2)
    except (click.Abort, KeyboardInterrupt):
        return _fail(("stopped; nothing half-written",), 130)
    except BrokenPipeError:
        return _quiet_pipe()
    except Exception as error:  # the last net: a fault of ours must still be one line
        return _fail(
            (f"a fault in jigtemplates itself: {type(error).__name__}: {_one_line(error)} (please report it)",), 2
        )
    return status if isinstance(status, int) else 0


def _usage_lines(error: click.ClickException) -> tuple[str, ...]:
    where = getattr(error, "ctx", None)
    hint = f" (see: {where.command_path} --help)" if where else ""
    return (_one_line(error.format_message()).rstrip(".") + hint,)


def _one_line(error: object) -> str:
    return " ".join(str(error).split())


def _fail(lines: Sequence[str], status: int) -> int:
    for line in lines:
        click.echo(line, err=True)
    return status


def _quiet_pipe() -> int:
    """The reader of our output has gone (`| head`): leave without a word, and without one at exit."""
    import os

    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


__all__ = ["InputError", "cli", "main", "run"]
