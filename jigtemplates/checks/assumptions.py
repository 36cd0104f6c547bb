"""What was taken for granted because the job did not say it?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note


def check_assumptions(case: Case) -> Iterator[Finding]:
    """Every value that came from elsewhere than the job itself, so that no default hides."""
    for assumption in case.job.assumptions:
        yield note("assumed", assumption.where, assumption.text)
