"""The command `inlay`."""

from collections.abc import Sequence
from pathlib import Path

import click

from jigtemplates.commands.common import PATH, json_option, option, profiles_option


@click.command(short_help="Recess and plug from one opening: which pairs fit.")
@click.argument("jobs", nargs=-1, metavar="[JOB...]", type=PATH)
@option("--bit", metavar="L", help="Which two of your bushings fit for recess and plug with this bit?")
@option("--plug-bit", metavar="L", help="The plug's bit, where it is another one.")
@option("--recess", nargs=2, metavar="BIT BUSHING", help="Do these fit: the pair for the recess, ...")
@option("--plug", nargs=2, metavar="BIT BUSHING", help="... and the pair for the plug?")
@option("--plate", metavar="L", help="Thickness of the template, to judge the bushings' stems.")
@option("--stand-off", metavar="L", help="Gap between the template and the work.")
@option("--glue-line", metavar="L", help="Gap wanted between recess and plug, a side; else 0.")
@option(
    "--second-template", is_flag=True,
    help="The same of a second template made round the outside of a first; --bit is then the second's.",
)  # fmt: skip
@option("--first-bit", metavar="L", help="The bit that runs round the first, where it is another one.")
@option("--first", nargs=2, metavar="BIT BUSHING", help="Do these fit: the pair round the first template, ...")
@option("--second", nargs=2, metavar="BIT BUSHING", help="... and the pair inside the second?")
@option("--picture", type=PATH, metavar="FILE", help="With JOB and --first: a page of it, first over second, as PDF.")
@option("--tools", type=PATH, metavar="FILE", help="Only the tools in this file; a job sees them first.")
@profiles_option
@option("--shipped", is_flag=True, help="Add the bits and bushings that come with the program to your own.")
@option("--all", "show_all", is_flag=True, help="Show every pair of bushings, also those that miss by more.")
@json_option
def inlay(
    jobs: Sequence[Path], tools: Path | None, folder: Path | None, second_template: bool, shipped: bool,
    show_all: bool, as_json: bool, recess: tuple[str, str] | None, plug: tuple[str, str] | None,
    first: tuple[str, str] | None, second: tuple[str, str] | None, picture: Path | None, **single: str | None,
) -> int:  # fmt: skip
    """Recess and plug from one opening and two guide bushings: which fit, and by how much others miss.

    Of a JOB with an [inlay]: both routed on the screen and laid over each other, and which of your tools would
    fit where they do not. With --bit: which two of your bushings. With --recess and --plug: whether
    those two pairs fit. The rule: bushing - bit of the recess = bushing + bit of the plug.

    A second template from the outside of a first goes by the same rule: bushing + bit round the first =
    bushing - bit inside the second.

    Status 1 where nothing fits, or a job is stopped.
    """
    from jigtemplates.inlay.command import Asked, print_inlay

    return print_inlay(
        Asked(
            jobs=jobs,
            single={f"--{name.replace('_', '-')}": text for name, text in single.items()},
            pairs={"--recess": recess, "--plug": plug, "--first": first, "--second": second},
            second_template=second_template,
            tools=tools,
            folder=folder,
            shipped=shipped,
            show_all=show_all,
            as_json=as_json,
            picture=picture,
        )
    )
