"""The command `match`."""

from collections.abc import Sequence
from pathlib import Path

import click

from jigtemplates.commands.common import PATH, json_option, option, profiles_option


@click.command(short_help="Which of your bits and bushings make a cut.")
@click.argument("path", metavar="[JOB]", type=PATH, required=False)
@option("--width", metavar="L", help="Width of the cut; of a round, its diameter.")
@option("--length", metavar="L", help="Overall length; without it the cut is a round.")
@option("--depth", metavar="L", help="Depth of the cut.")
@option("--corner-radius", metavar="L", help="Corners of a rectangle; without it the ends are round.")
@option("--plate", metavar="L", help="Thickness of the template, to judge the stem and the reach.")
@option("--stand-off", metavar="L", help="Gap between the template and the work.")
@option("--clearance", metavar="L", help="Running clearance of the bushing; else 0.1 mm.")
@option("--size", metavar="NAME", help="Which size of a job file that holds several.")
@option("--tools", type=PATH, metavar="FILE", help="Only the tools in this file.")
@profiles_option
@option("--shipped", is_flag=True, help="Add the bits and bushings that come with the program to your own.")
@option("--all", "show_all", is_flag=True, help="Show every pair, also those that cannot, with why.")
@json_option
def match(
    path: Path | None, size: str | None, tools: Path | None, folder: Path | None, shipped: bool, show_all: bool,
    as_json: bool, **lengths: str | None,
) -> int:  # fmt: skip
    """Rank the pairs of bit and guide bushing that can make a cut, with opening, cut and reasons.

    The cut is that of JOB, a job file with a cut of any shape, several cuts, or work to be cut out; or a slot, round or
    rectangle of --width, --length and so on. JOB is made and routed on the screen with every pair.

    Pairs that make the cut as asked come first, of these the ones that make the width in one pass,
    then those with the least side play, room for chips, the right stem and reach, and the smallest
    opening. Status 1 where no pair can make it.

    Who has bits and bushings of their own (jigtemplates tools) gets those alone, without --shipped.
    """
    typed = {f"--{name.replace('_', '-')}": text for name, text in lengths.items()}
    refuse_beside(path, [name for name, text in typed.items() if text is not None], size)
    if path is not None:
        from jigtemplates.match.job_command import Asked, print_match_of_job

        return print_match_of_job(Asked(path, size, tools, folder, shipped, show_all, as_json))
    from jigtemplates.match.command import print_match

    return print_match(typed, tools=tools, folder=folder, show_all=show_all, as_json=as_json, shipped=shipped)


def refuse_beside(path: Path | None, typed: Sequence[str], size: str | None) -> None:
    """InputError where options do not go together with a job file, or there is neither it nor a width."""
    from jigtemplates.errors import InputError
    from jigtemplates.parameters.toml_text import shown_name

    if path is None and size is not None:
        raise InputError("--size: belongs to a job file of several sizes (name the file, or leave it out)")
    if path is None and "--width" not in typed:
        raise InputError('give a job file, or a cut: --width "10 mm" and what else is known of it (see match --help)')
    if path is not None and typed:
        them = "it" if len(typed) == 1 else "them"
        raise InputError(f"{', '.join(typed)}: {shown_name(str(path))} says {them} itself (leave {them} out)")
