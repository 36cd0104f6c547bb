"""How old the corrections are that a job is computed with; said by `check` alone, since a file knows no clock."""

from dataclasses import replace
from datetime import date

from jigtemplates.batch import Done
from jigtemplates.calibrate.clock import age_text, is_old, today
from jigtemplates.checks.corrections import IN_FORCE
from jigtemplates.checks.finding import Finding
from jigtemplates.parameters.job import Correction


def with_ages(done: Done) -> Done:
    """The same job, which has a report, its findings about corrections telling how long ago each was measured."""
    assert done.report is not None
    days = {correction.where: correction for correction in done.report.job.corrections}
    found = tuple(_aged(finding, days, today()) for finding in done.report.findings)
    return replace(done, report=replace(done.report, findings=found))


def _aged(finding: Finding, days: dict[str, Correction], now: date) -> Finding:
    if finding.code != IN_FORCE:
        return finding
    on = days[finding.where].on
    again = "; measure it again, for it is more than a year old" if is_old(on, now) else ""
    return replace(finding, message=f"{finding.message}, {age_text(on, now)}{again}")
