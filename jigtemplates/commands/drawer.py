"""The command `drawer`."""

from pathlib import Path

import click

from jigtemplates.commands.common import PATH, json_option, option, tools_option


@click.command(short_help="The templates made so far, and what each cuts with another pair.")
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
    from jigtemplates.drawer.command import print_drawer

    return print_drawer(
        folder, bit=with_bit, bushing=with_bushing, opening=opening, jobs=jobs, tools=tools_file,
        profiles=profiles, as_json=as_json,
    )  # fmt: skip
