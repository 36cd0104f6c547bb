"""The command line: options in, text or JSON out, exit status 0, 1 or 2.

0: done. 1: a finding of level "stop"; nothing was written for that job. 2: input that cannot be read
or an output that cannot be written. Everything heavy is imported inside the commands, so that
`--help` answers at once.
"""

import gc
import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import Any

import click

from jigtemplates.errors import InputError, JigError, did_you_mean, quoted, unforeseen
from jigtemplates.options import NamedPath, Once, Stoppable
from jigtemplates.streams import is_terminal, never_fail_on_characters, silence, wanted_colour

TARGETS = ("laser", "cnc", "paper")

#: The shapes there is a starter for (`starter.SHAPES`, said again here so that `--help` reads no texts).
SHAPES = ("slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge")

#: New objects between two searches for garbage (chosen: one job makes hardly more, so that none is searched for;
#: a folder of forty jobs took 15 MB more than with Python's 700, and a seventh less time).
FEW_COLLECTIONS = 200_000

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


#: Every option is given once, or several times on purpose; every path has a name.
option = partial(click.option, cls=Once)
PATH = NamedPath()


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


def _known_targets(_ctx: click.Context, _param: click.Parameter, names: tuple[str, ...]) -> tuple[str, ...]:
    """The targets; InputError once, not once for every job, where one is not known."""
    unknown = [name for name in names if name not in TARGETS]
    if unknown:
        raise InputError(f"--for: {quoted(name)} is not known here ({did_you_mean(name, TARGETS)})" for name in unknown)
    return names


profiles_option = option("--profiles", "folder", type=PATH, metavar="DIR", help="A folder of your own profiles.")
tools_option = option(
    "--tools", "tools_file", type=PATH, metavar="FILE",
    help="Your tools file; what is in it comes first.",
)  # fmt: skip
json_option = option("--json", "as_json", is_flag=True, help="Print JSON, lengths in mm.")


@click.group(cls=Stoppable, context_settings=CONTEXT, invoke_without_command=True)
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


@cli.command(short_help="Numbers and findings of a job; writes nothing.")
@click.argument("jobs", nargs=-1, required=True, metavar="JOB...", type=PATH)
@tools_option
@profiles_option
@json_option
def check(jobs: Sequence[Path], tools_file: Path | None, folder: Path | None, as_json: bool) -> int:
    """Show a job's opening, predicted cut, plunge depth and passes, and what the checks say.

    JOB is a job file, or a folder of them. Nothing is written.
    """
    from jigtemplates.batch import Batch
    from jigtemplates.terminal import print_batch

    batch = Batch.of(jobs, folder=folder, tools=tools_file)
    return print_batch(batch.checked(), batch.total, as_json=as_json, with_cautions=True)


@cli.command(cls=TargetsCommand, short_help="Make a job's files.")
@click.argument("jobs", nargs=-1, required=True, metavar="JOB...", type=PATH)
@option(
    "--out", type=PATH, default=Path("templates"), show_default=True, metavar="DIR",
    help="Folder for the files; each job gets one of its own in it.",
)  # fmt: skip
@option(
    "--for", "targets", multiple=True, metavar="NAME...", callback=_known_targets,
    help="Make only these: laser, cnc, paper.",
)  # fmt: skip
@option("--bit", metavar="L", help="Another bit than the job's: a diameter or a profile's name.")
@option("--bushing", metavar="L", help="Another guide bushing than the job's.")
@tools_option
@profiles_option
@json_option
def make(
    jobs: Sequence[Path],
    out: Path,
    targets: Sequence[str],
    bit: str | None,
    bushing: str | None,
    tools_file: Path | None,
    folder: Path | None,
    as_json: bool,
) -> int:
    """Make the files of one or more jobs: DXF and SVG for machines, PDF to print at true size.

    JOB is a job file, or a folder of them. A job with a finding of level "stop" writes nothing.
    """
    from jigtemplates.batch import Batch
    from jigtemplates.parallel import processes_for
    from jigtemplates.terminal import print_batch

    batch = Batch.of(jobs, folder=folder, bit=bit, bushing=bushing, targets=targets or None, tools=tools_file)
    done = batch.made(out, processes=processes_for(batch.total))
    return print_batch(done, batch.total, as_json=as_json)


@cli.command(short_help="The day the bit changes: which templates stay right, which are made again.")
@click.argument("folder", metavar="DIR", type=PATH)
@option("--bit", metavar="L", help="The new bit: a diameter with its unit, or a profile's name.")
@option("--bushing", metavar="L", help="The new guide bushing; else each job keeps its own.")
@option(
    "--out", type=PATH, default=Path("templates"), show_default=True, metavar="DIR",
    help="Folder of the templates, as for make.",
)  # fmt: skip
@option("--write", is_flag=True, help="Change the jobs and make their files; without it nothing is written.")
@tools_option
@option("--profiles", type=PATH, metavar="DIR", help="A folder of your own profiles.")
@json_option
def regenerate(
    folder: Path, out: Path, bit: str | None, bushing: str | None, write: bool,
    tools_file: Path | None, profiles: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """Tell for each job of a folder what its template cuts with a new bit, which of your bushings keeps it
    right, or which opening it needs instead.

    With --write the jobs get the new tools (comments stay), the files that change are made again, and a
    dated report is left beside the jobs. A job that cannot be made with the new bit stays as it is;
    status 1 then.
    """
    from jigtemplates.regenerate_command import print_regeneration

    return print_regeneration(
        folder, out, bit=bit, bushing=bushing, tools=tools_file, profiles=profiles, write=write, as_json=as_json
    )


@cli.command(short_help="The templates made so far, and what each cuts with another pair.")
@click.argument("folder", metavar="[DIR]", required=False, type=PATH)
@option("--with-bit", metavar="L", help="What would each cut with this bit?")
@option("--with-bushing", metavar="L", help="What would each cut with this guide bushing?")
@option("--opening", metavar="LxL", help='An opening measured by hand, round ends: "13.2 mm x 53.2 mm".')
@option(
    "--jobs", type=PATH, metavar="DIR",
    help="Where the job files are; else this folder and the one that holds DIR.",
)  # fmt: skip
@tools_option
@option("--profiles", type=PATH, metavar="DIR", help="A folder of your own profiles.")
@json_option
def drawer(
    folder: Path | None, with_bit: str | None, with_bushing: str | None, opening: str | None, jobs: Path | None,
    tools_file: Path | None, profiles: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """List the templates that were made: pair, cut, plate, and whether files and job still agree.

    DIR is the folder that make wrote into. With --with-bit or --with-bushing each line also says what that
    template would cut. Without DIR, --opening asks the same of an opening measured by hand; status 1 where
    it cuts nothing.
    """
    from jigtemplates.drawer_command import print_drawer

    return print_drawer(
        folder, bit=with_bit, bushing=with_bushing, opening=opening, jobs=jobs, tools=tools_file,
        profiles=profiles, as_json=as_json,
    )  # fmt: skip


@cli.command(short_help="Which of your bits and bushings make a cut.")
@option("--width", metavar="L", required=True, help="Width of the cut; of a round, its diameter.")
@option("--length", metavar="L", help="Overall length; without it the cut is a round.")
@option("--depth", metavar="L", help="Depth of the cut.")
@option("--corner-radius", metavar="L", help="Corners of a rectangle; without it the ends are round.")
@option("--plate", metavar="L", help="Thickness of the template, to judge the stem and the reach.")
@option("--stand-off", metavar="L", help="Gap between the template and the work.")
@option("--clearance", metavar="L", help="Running clearance of the bushing; else 0.1 mm.")
@option("--tools", type=PATH, metavar="FILE", help="Only the tools in this file.")
@profiles_option
@option("--shipped", is_flag=True, help="Add the bits and bushings that come with the program to your own.")
@option("--all", "show_all", is_flag=True, help="Show every pair, also those that cannot, with why.")
@json_option
def match(
    tools: Path | None, folder: Path | None, shipped: bool, show_all: bool, as_json: bool, **lengths: str | None
) -> int:
    """Rank the pairs of bit and guide bushing that can make a cut, with opening, cut and reasons.

    Pairs that make the width in one pass come first, then those with the least side play, room for
    chips, the right stem and reach, and the smallest opening. Status 1 where no pair can make it.

    Who has bits and bushings of their own (jigtemplates tools) gets those alone, without --shipped.
    """
    from jigtemplates.match_command import print_match

    typed = {f"--{name.replace('_', '-')}": text for name, text in lengths.items()}
    return print_match(typed, tools=tools, folder=folder, show_all=show_all, as_json=as_json, shipped=shipped)


class ToolsGroup(click.Group):
    """Takes a file, or nothing, where a subcommand could stand: `tools` and `tools FILE` list."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Puts the name of the listing before arguments that begin with no subcommand's name."""
        named = args[:1] and (args[0] in self.commands or args[0] in ctx.help_option_names)
        return super().parse_args(ctx, args if named else ["list", *args])


@cli.group(cls=ToolsGroup, short_help="Your own tools: list them, add or remove one.")
def tools() -> None:
    """List your own bits, bushings, routers and holders, add or remove one.

    \b
    jigtemplates tools [FILE]        all sizes that are known, and which are not
    jigtemplates tools add ...       write a new one into your tools file
    jigtemplates tools remove ...    take one out of it
    """


@tools.command("list", short_help="All your own entries, or those of FILE.")
@click.argument("file", required=False, type=PATH)
@profiles_option
@json_option
def list_tools(file: Path | None, folder: Path | None, as_json: bool) -> int:
    """Show your own entries with every size that is known, and what is not.

    Without FILE: those that a job in this folder sees, from profiles/ and your configuration folder.
    """
    from jigtemplates.listing import print_tools

    print_tools(file, folder, as_json=as_json)
    return 0


@tools.command("add", short_help="Write a new entry into your tools file.")
@click.argument("kind")
@click.argument("name")
@click.argument("pairs", nargs=-1, metavar="KEY=VALUE...")
@option("--file", type=PATH, metavar="FILE", help="Your tools file; else profiles/tools.toml.")
def add_tool(kind: str, name: str, pairs: Sequence[str], file: Path | None) -> int:
    """Add a tool, for a job to name; what is in the file already stays as it is.

    KIND is bits, bushings, routers or holders.

    \b
    jigtemplates tools add bits "my 3/8" diameter="3/8 in" shank="1/4 in" kind=straight
    jigtemplates tools add bushings "my 1/2" diameter.nominal="1/2 in" diameter.measured="12.68 mm"
    jigtemplates tools add routers mine base.shape=round base.diameter="150 mm" collets="8 mm, 1/4 in"
    """
    from jigtemplates.listing import print_added
    from jigtemplates.parameters.tools_file import add_entry, read_pairs, tools_path
    from jigtemplates.tools_command import change_tools

    path, values = tools_path(file), read_pairs(pairs)
    change_tools(path, lambda place: add_entry(place, kind, name, values))
    print_added(path, kind, name)
    return 0


@tools.command("remove", short_help="Take an entry out of your tools file.")
@click.argument("kind")
@click.argument("name")
@option("--file", type=PATH, metavar="FILE", help="Your tools file; else profiles/tools.toml.")
def remove_tool(kind: str, name: str, file: Path | None) -> int:
    """Take a tool out; every other line of the file, and its comments, stay as they are.

    KIND is bits, bushings, routers or holders.

    \b
    jigtemplates tools remove bits "my 3/8"
    """
    from jigtemplates.parameters.tools_file import tools_path
    from jigtemplates.parameters.tools_remove import remove_entry
    from jigtemplates.tools_command import change_tools

    path = tools_path(file)
    change_tools(path, lambda place: remove_entry(place, kind, name))
    click.echo(f"removed {quoted(name)} from {path}")
    return 0


@cli.command(short_help="List bits, bushings, sheets, screws and the rest.")
@click.argument("kind", required=False)
@click.argument("name", required=False)
@profiles_option
@json_option
def profiles(kind: str | None, name: str | None, folder: Path | None, as_json: bool) -> int:
    """List the profiles a job can name, and say where each came from.

    Without KIND: the kinds, and the folders that are searched. With KIND (bits, bushings, sheets, screws,
    processes, papers, holders, routers): their names. With NAME: all that is known of one.
    """
    from jigtemplates.listing import print_profiles

    print_profiles(kind, name, folder, as_json=as_json)
    return 0


@cli.command(short_help="Write a commented job file to begin with.")
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
        status: Any = cli.main(args=args, prog_name="jigtemplates", standalone_mode=False, color=wanted_colour())
    except SystemExit:  # click's way out where the reader of our output has gone; its status 1 is our "stop"
        return 0
    except click.ClickException as error:
        return _fail(_usage_lines(error), 2)
    except JigError as error:
        return _fail(error.lines, 2)
    except (click.Abort, KeyboardInterrupt):
        return _fail(("stopped; no file is half-written",), 130)
    except OSError as error:  # every file has its own line by now: this is the terminal, or what stands for it
        _fail((f"{error.filename or 'the output'}: cannot be written ({error.strerror})",), 2)
        silence()
        return 2
    except Exception as error:  # the last net: a fault of ours must still be one line
        return _fail((unforeseen(error),), 2)
    return status if isinstance(status, int) else 0


def _usage_lines(error: click.ClickException) -> tuple[str, ...]:
    where = getattr(error, "ctx", None)
    hint = f" (see: {where.command_path} --help)" if where else ""
    return (_one_line(error.format_message()).rstrip(".") + hint,)


def _one_line(error: object) -> str:
    return " ".join(str(error).split())


def _fail(lines: Sequence[str], status: int) -> int:
    try:
        for line in lines:
            click.echo(line, err=True)
    except OSError:  # nobody can be told; the status still says it
        silence()
    return status


__all__ = ["InputError", "cli", "main", "run"]
