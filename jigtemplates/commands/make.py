"""The command `make`."""

from collections.abc import Sequence
from pathlib import Path

import click

from jigtemplates.commands.common import PATH, TARGETS, json_option, option, profiles_option, tools_option
from jigtemplates.commands.targets import TargetsCommand, for_option


@click.command(cls=TargetsCommand, short_help="Make a job's files.")
@click.argument("jobs", nargs=-1, required=True, metavar="JOB...", type=PATH)
@option(
    "--out", type=PATH, default=Path("templates"), show_default=True, metavar="DIR",
    help="Folder for the files; each job gets one of its own in it.",
)  # fmt: skip
@for_option(TARGETS, "Make only these: laser, cnc, paper, print.")
@option("--bit", metavar="L", help="Another bit than the job's: a diameter or a profile's name.")
@option("--bushing", metavar="L", help="Another guide bushing than the job's.")
@tools_option
@profiles_option
@json_option
def make(
    jobs: Sequence[Path],
    out: Path,
    targets: Sequence[str],
    bit: str | None,
    bushing: str | None,
    tools_file: Path | None,
    folder: Path | None,
    as_json: bool,
) -> int:
    """Make the files of one or more jobs: DXF and SVG for machines, PDF to print at true size.

    JOB is a job file, or a folder of them. A job with a finding of level "stop" writes nothing.
    """
    from jigtemplates.batch import Batch
    from jigtemplates.parallel import processes_for
    from jigtemplates.terminal import print_batch

    batch = Batch.of(jobs, folder=folder, bit=bit, bushing=bushing, targets=targets or None, tools=tools_file)
    done = batch.made(out, processes=processes_for(batch.total))
    return print_batch(done, batch.total, as_json=as_json)
