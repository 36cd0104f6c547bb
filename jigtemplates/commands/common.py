"""What the commands share: an option is given once, a path has a name, a target is known."""

from functools import partial

import click

from jigtemplates.options import NamedPath, Once

TARGETS = ("laser", "cnc", "paper", "print")

#: Every option is given once, or several times on purpose; every path has a name.
option = partial(click.option, cls=Once)
PATH = NamedPath()

profiles_option = option("--profiles", "folder", type=PATH, metavar="DIR", help="A folder of your own profiles.")
tools_option = option(
    "--tools", "tools_file", type=PATH, metavar="FILE",
    help="Your tools file; what is in it comes first.",
)  # fmt: skip
units_option = option(
    "--units", type=click.Choice(["mm", "in"]),
    help="Unit of the DXF files; else the one that sizes were given in.",
)  # fmt: skip
json_option = option("--json", "as_json", is_flag=True, help="Print JSON, lengths in mm.")
