"""The command `holder`."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import click

from jigtemplates.commands.common import PATH, json_option, option, profiles_option, tools_option
from jigtemplates.commands.targets import TargetsCommand, for_option

#: What a holder's parts can be made for.
TARGETS: Final = ("laser", "cnc", "paper")


@click.command(cls=TargetsCommand, short_help="Make the parts of a jig's upper frame, which holds the templates.")
@click.argument("name")
@option(
    "--out", type=PATH, default=Path("holders"), show_default=True, metavar="DIR",
    help="Folder for the files; each holder gets one of its own in it.",
)  # fmt: skip
@for_option(TARGETS, "Make only these: laser, cnc, paper.")
@option("--material", metavar="NAME", help="The sheet it is made of: its kerf is taken as measured in that.")
@option("--kerf", metavar="L", help="Full width the laser's beam removes; else as its process profile says.")
@option(
    "--paper", "papers", multiple=True, metavar="NAME",
    help="Paper to print on; else Letter where inches are said first, A4 where mm are.",
)  # fmt: skip
@option(
    "--units", type=click.Choice(["mm", "in"]),
    help="Unit of the DXF files, and which is said first; else that of the holder.",
)  # fmt: skip
@tools_option
@profiles_option
@json_option
def holder(
    name: str, out: Path, targets: Sequence[Any], material: str | None, kerf: str | None, papers: Sequence[str],
    units: Any, tools_file: Path | None, folder: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """Make the frame that holds the templates, from the numbers its plates are made from.

    NAME is a holder's name (jigtemplates profiles holders). In two layers, upper frame and ledge frame, or in
    one piece with a pocket for a CNC or hand router: DXF, SVG and 1:1 patterns. What its profile lacks for
    that is asked for.
    """
    from jigtemplates.holders.command import print_holder

    return print_holder(
        name,
        out,
        targets=targets or TARGETS,
        kerf=kerf,
        papers=papers,
        material=material,
        units=units,
        tools=tools_file,
        folder=folder,
        json_wanted=as_json,
    )
