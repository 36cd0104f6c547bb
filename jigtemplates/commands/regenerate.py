"""The command `regenerate`."""

from pathlib import Path

import click

from jigtemplates.commands.common import PATH, json_option, option, tools_option


@click.command(short_help="The day the bit changes: which templates stay right, which are made again.")
@click.argument("folder", metavar="DIR", type=PATH)
@option("--bit", metavar="L", help="The new bit: a diameter with its unit, or a profile's name.")
@option("--bushing", metavar="L", help="The new guide bushing; else each job keeps its own.")
@option("--old-bit", metavar="L", help="The bit it replaces: jobs with another one are left as they are.")
@option("--old-bushing", metavar="L", help="The guide bushing it replaces: jobs with another one are left as they are.")
@option("--every-job", is_flag=True, help="Replace the bit or bushing of every job, whatever size it is.")
@option(
    "--out", type=PATH, default=Path("templates"), show_default=True, metavar="DIR",
    help="Folder of the templates, as for make.",
)  # fmt: skip
@option("--write", is_flag=True, help="Change the jobs and make their files; without it nothing is written.")
@tools_option
@option("--profiles", type=PATH, metavar="DIR", help="A folder of your own profiles.")
@json_option
def regenerate(
    folder: Path, out: Path, bit: str | None, bushing: str | None, old_bit: str | None, old_bushing: str | None,
    every_job: bool, write: bool, tools_file: Path | None, profiles: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """Tell for each job of a folder what its template cuts with a new bit, which of your bushings keeps it
    right, or which opening it needs instead. What was made is read from the manifests in --out; without one it is
    what the job as it is now would make.

    --old-bit says which bit is replaced: as a size, of all jobs whose bit is sold as that; by a profile's name, of
    the jobs that name it or only give its size. Where the jobs of the folder have bits of several sizes, --write
    needs it, or --every-job. The same with --old-bushing.

    With --write the jobs get the new tools (comments stay), the files that change are made again, and a
    dated report is left beside the jobs. A job that cannot be made with the new bit stays as it is;
    status 1 then.
    """
    from jigtemplates.regenerate.command import Typed, print_regeneration

    typed = Typed(bit, bushing, old_bit, old_bushing, every_job)
    return print_regeneration(folder, out, typed, tools=tools_file, profiles=profiles, write=write, as_json=as_json)
