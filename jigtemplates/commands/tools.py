"""The commands `tools list`, `tools add`, `tools change` and `tools remove`."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

import click

from jigtemplates.commands import suggest
from jigtemplates.commands.common import PATH, json_option, option, profiles_option
from jigtemplates.errors import quoted


class ToolsGroup(click.Group):
    """Takes a file, or nothing, where a subcommand could stand: `tools` and `tools FILE` list."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Puts the name of the listing before arguments that begin with no subcommand's name."""
        if args and not os.path.exists(args[0]) and not args[0].lower().endswith(".toml"):
            suggest(ctx, args[0], self.commands)
        named = args[:1] and (args[0] in self.commands or args[0] in ctx.help_option_names)
        return super().parse_args(ctx, args if named else ["list", *args])


@click.group(cls=ToolsGroup, short_help="Your own tools: list, add, change or remove.")
def tools() -> None:
    """List your own bits, bushings, routers and holders, add, change or remove one.

    \b
    jigtemplates tools [FILE]        all sizes that are known, and which are not
    jigtemplates tools add ...       write a new one into your tools file
    jigtemplates tools change ...    other sizes for one that is in it
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
@option(
    "--units",
    type=click.Choice(["mm", "in"]),
    help="Units of bare numbers in a file that is begun; else those of the first length.",
)
def add_tool(kind: str, name: str, pairs: Sequence[str], file: Path | None, units: Literal["mm", "in"] | None) -> int:
    """Add a tool, for a job to name; what is in the file already stays as it is.

    KIND is bits, bushings, routers or holders. Every length has its unit: "3/8 in", "0.406 in", "9.5 mm".

    \b
    jigtemplates tools add bits "my 3/8" diameter="3/8 in" shank="1/4 in" kind=straight
    jigtemplates tools add bushings "my 1/2" diameter.nominal="1/2 in" diameter.measured="12.68 mm"
    jigtemplates tools add routers mine base.shape=round base.diameter="150 mm" collets="8 mm, 1/4 in"
    """
    from jigtemplates.listing import print_added
    from jigtemplates.parameters.tools_file import add_entry, is_to_begin, tools_path
    from jigtemplates.parameters.typed_pairs import read_pairs
    from jigtemplates.tools_command import change_tools

    path, values = tools_path(file), read_pairs(pairs, "tools add")
    begun = is_to_begin(path)
    change_tools(path, lambda place: add_entry(place, kind, name, values, units))
    print_added(path, kind, name, begun=begun)
    return 0


@tools.command("change", short_help="Other sizes for an entry of your tools file.")
@click.argument("kind")
@click.argument("name")
@click.argument("pairs", nargs=-1, metavar="KEY=VALUE...")
@option("--without", "taken_out", multiple=True, metavar="KEY", help="A key to take out; may be repeated.")
@option("--file", type=PATH, metavar="FILE", help="Your tools file; else profiles/tools.toml.")
def change_tool(kind: str, name: str, pairs: Sequence[str], taken_out: Sequence[str], file: Path | None) -> int:
    """Change a tool; what is not named, and every other line of the file, stays as it is.

    KIND is bits, bushings, routers or holders. Every length has its unit: "3/8 in", "0.406 in", "9.5 mm". A size that
    was measured is better entered with calibrate, which keeps the earlier one.

    \b
    jigtemplates tools change bits "my 3/8" shank="1/4 in" cutting_length="1-1/4 in"
    jigtemplates tools change bushings "my 1/2" diameter.measured="12.68 mm" --without nut
    """
    from jigtemplates.listing import entry_in, print_changed
    from jigtemplates.parameters.tools_change import change_entry
    from jigtemplates.parameters.tools_file import tools_path
    from jigtemplates.parameters.typed_pairs import read_pairs
    from jigtemplates.tools_command import change_tools

    path, values = tools_path(file), read_pairs(pairs, "tools change")
    change_entry(path, kind, name, values, taken_out)  # what is wrong is said before anything is read
    before = entry_in(path, kind, name)
    change_tools(path, lambda place: change_entry(place, kind, name, values, taken_out))
    print_changed(path, kind, name, before)
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
