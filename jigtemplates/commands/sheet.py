"""The command `sheet`."""

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

import click

from jigtemplates.commands.common import PATH, json_option, option, profiles_option, tools_option
from jigtemplates.commands.targets import TargetsCommand, for_option

#: The machines that cut sheets.
MACHINES = ("laser", "cnc")


@click.command(cls=TargetsCommand, short_help="Lay many templates on as few sheets as can be found.")
@click.argument("jobs", nargs=-1, required=True, metavar="JOB...", type=PATH)
@option(
    "--stock", "stocks", multiple=True, metavar="WxH",
    help='Size of the sheets: 600x300 (mm), "24 x 12 in"; several are chosen from, *2 behind one: there are two.',
)  # fmt: skip
@option(
    "--out", type=PATH, default=Path("sheets"), show_default=True, metavar="DIR",
    help="Folder for the files; the set gets one of its own in it.",
)  # fmt: skip
@option("--name", metavar="NAME", help="Name of the set; else that of the one folder or job, else sheets.")
@for_option(MACHINES, "Lay all for laser or cnc; else each job for what it asks for.", "does not cut sheets")
@option("--gap", metavar="L", help="Between two plates; else that of the process profile.")
@option("--margin", metavar="L", help="Free at the sheet's edges; else that of the process profile.")
@option(
    "--copies", multiple=True, metavar="N",
    help="How many of each template; JOB=N for one of them.",
)  # fmt: skip
@option(
    "--grain", metavar="WAY",
    help="along, across: plates lie so to the grain, which runs along W; any: turn them. Else as the material asks.",
)  # fmt: skip
@option("--straight-cuts", is_flag=True, help="So that a saw can part the sheet by cuts right across.")
@option(
    "--units", type=click.Choice(["mm", "in"]),
    help="Unit of the DXF files, and which is said first; else as the jobs ask, and that of --stock.",
)  # fmt: skip
@tools_option
@profiles_option
@json_option
def sheet(
    jobs: Sequence[Path], stocks: Sequence[str], out: Path, name: str | None, targets: Sequence[str], gap: str | None,
    margin: str | None, copies: Sequence[str], grain: str | None, straight_cuts: bool,
    units: Literal["mm", "in"] | None, tools_file: Path | None, folder: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """Lay many templates on as few sheets as can be found.

    JOB is a job file, or a folder of them. Templates of one material and thickness share sheets; every opening
    is cut before the first plate's edge. A DXF and an SVG for each sheet, pages with pictures for the bench, and
    a record of what lies where. Status 1 where a template was not laid.
    """
    from jigtemplates.sheets.command import Asked, print_sheets

    return print_sheets(
        Asked(
            jobs=jobs,
            out=out,
            name=name,
            stocks=stocks,
            targets=targets,
            gap=gap,
            margin=margin,
            copies=copies,
            grain=grain,
            straight_cuts=straight_cuts,
            units=units,
            tools=tools_file,
            folder=folder,
            as_json=as_json,
        )
    )
