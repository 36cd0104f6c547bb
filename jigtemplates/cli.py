"""The command line: options in, text or JSON out, exit status 0, 1 or 2.

0: done. 1: a finding of level "stop"; nothing was written for that job. 2: input that cannot be read
or an output that cannot be written. Each command is a module of its own in `commands`, read when it is
called for, and everything heavy is imported inside it, so that `--help` answers at once.
"""

import gc
import sys
from collections.abc import Sequence
from typing import Any

import click

from jigtemplates.commands import Commands
from jigtemplates.commands.common import option
from jigtemplates.errors import InputError, JigError, printable, unforeseen
from jigtemplates.interrupts import heard, listening
from jigtemplates.streams import never_fail_on_characters, silence, wanted_colour

#: New objects between two searches for garbage (chosen: one job makes hardly more, so that none is searched for;
#: a folder of forty jobs took 15 MB more than with Python's 700, and a seventh less time).
FEW_COLLECTIONS = 200_000

#: Most characters of what click says (chosen: its list of choices, and a name).
LONGEST_USAGE = 300

#: What is said where Ctrl-C ended us.
STOPPED = "stopped; no file is half-written"

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


@click.group(cls=Commands, context_settings=CONTEXT, invoke_without_command=True)
@option("--version", is_flag=True, help="Print the version and stop.")
@click.pass_context
def cli(ctx: click.Context, version: bool) -> None:
    """Router templates that make the cut you want.

    From the cut, the bit and the guide bushing in a job file to the template that makes it: checked,
    routed on the screen, and written as true-size DXF, SVG and 1:1 paper patterns.

    Begin with: jigtemplates new my-job.toml
    """
    if version:
        click.echo(f"jigtemplates {_version()}")
    elif ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


def _version() -> str:
    from importlib import metadata

    try:
        return metadata.version("jigtemplates")
    except metadata.PackageNotFoundError:  # run from a checkout that was never installed
        return "unknown"


def main(args: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its status; every fault is a line on stderr, never a traceback."""
    never_fail_on_characters()
    gc.set_threshold(FEW_COLLECTIONS, 10, 10)
    status = run(args)
    gc.freeze()  # else the interpreter looks through all that is left before it gives up its memory
    sys.exit(status)


def run(args: Sequence[str] | None = None) -> int:
    """The exit status of one call of the command line."""
    try:
        with listening():
            status: Any = cli.main(args=args, prog_name="jigtemplates", standalone_mode=False, color=wanted_colour())
    except SystemExit:  # click's way out where the reader of our output has gone; its status 1 is our "stop"
        return 0
    except click.ClickException as error:
        return _fail(_usage_lines(error, sys.argv[1:] if args is None else args), 2)
    except JigError as error:
        return _fail(error.lines, 2)
    except (click.Abort, KeyboardInterrupt):
        return _fail((STOPPED,), 130)
    except OSError as error:  # every file has its own line by now: this is the terminal, or what stands for it
        _fail((f"{error.filename or 'the output'}: cannot be written ({error.strerror})",), 2)
        silence()
        return 2
    except Exception as error:  # the last net: a fault of ours must still be one line
        return _fail((STOPPED,), 130) if heard() else _fail((unforeseen(error),), 2)
    return status if isinstance(status, int) else 0


def _usage_lines(error: click.ClickException, args: Sequence[str]) -> tuple[str, ...]:
    where = getattr(error, "ctx", None)
    hint = f" (see: {where.command_path} --help)" if where else ""
    return (_one_line(error.format_message()).rstrip(".") + _wanted(error, args) + hint,)


#: Options that people look for, which are keys of a job, by what the option may be called.
_IN_THE_JOB = {
    "--kerf": "make.kerf",
    "--bit": "tools.bit",
    "--bushing": "tools.bushing",
    "--clearance": "tools.clearance",
}


def _wanted(error: click.ClickException, args: Sequence[str]) -> str:
    """What an option without its value wants, such as BIT BUSHING; for an option that is none, the key of the job."""
    if isinstance(error, click.NoSuchOption):
        key = _IN_THE_JOB.get(error.option_name) if error.ctx and error.ctx.info_name in ("check", "make") else None
        return f": it stands in the job, as {key}" if key else ""
    if not isinstance(error, click.BadOptionUsage):
        return ""
    found = (one for one in _command_of(args).params if error.option_name in one.opts)
    shown = next((one.metavar or "|".join(getattr(one.type, "choices", ())) for one in found), "")
    return f": {error.option_name} {shown}" if shown else ""


def _command_of(args: Sequence[str]) -> click.Command:
    """The command that a line calls: click does not say at which one an option stopped."""
    command: click.Command = cli
    for word in args:
        found = command.get_command(click.Context(command), word) if isinstance(command, click.Group) else None
        command = found or command
    return command


def _one_line(error: object) -> str:
    """What click says, as one line: the words it repeats can hold anything."""
    text = " ".join(str(error).split())
    text = text if len(text) <= LONGEST_USAGE else text[:LONGEST_USAGE] + "…"
    return printable(text)


def _fail(lines: Sequence[str], status: int) -> int:
    try:
        for line in lines:
            click.echo(line, err=True)
    except OSError:  # nobody can be told; the status still says it
        silence()
    return status


__all__ = ["InputError", "cli", "main", "run"]
