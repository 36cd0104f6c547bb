"""The command `check`."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigtemplates.commands.common import PATH, json_option, profiles_option, tools_option

if TYPE_CHECKING:
    from jigtemplates.batch import Done


@click.command(short_help="Numbers and findings of a job; writes nothing.")
@click.argument("jobs", nargs=-1, required=True, metavar="JOB...", type=PATH)
@tools_option
@profiles_option
@json_option
def check(jobs: Sequence[Path], tools_file: Path | None, folder: Path | None, as_json: bool) -> int:
    """Show a job's opening, predicted cut, plunge depth and passes, and what the checks say.

    JOB is a job file, or a folder of them. Nothing is written.
    """
    from jigtemplates.batch import Batch
    from jigtemplates.terminal import print_batch

    batch = Batch.of(jobs, folder=folder, tools=tools_file)
    return print_batch(map(_aged, batch.checked()), batch.total, as_json=as_json, with_cautions=True)


def _aged(done: "Done") -> "Done":
    """With the age of what was measured; a job without such corrections needs nothing for it."""
    if done.report is None or not done.report.job.corrections:
        return done
    from jigtemplates.calibrate.age import with_ages

    return with_ages(done)
