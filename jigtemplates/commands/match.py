"""The command `match`."""

from pathlib import Path

import click

from jigtemplates.commands.common import PATH, json_option, option, profiles_option


@click.command(short_help="Which of your bits and bushings make a cut.")
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
    from jigtemplates.match.command import print_match

    typed = {f"--{name.replace('_', '-')}": text for name, text in lengths.items()}
    return print_match(typed, tools=tools, folder=folder, show_all=show_all, as_json=as_json, shipped=shipped)
