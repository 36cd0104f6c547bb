"""The command `profiles`."""

from pathlib import Path

import click

from jigtemplates.commands.common import json_option, profiles_option


@click.command(short_help="List bits, bushings, sheets, screws and the rest.")
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
