"""What was taken for granted because the job did not say it?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note


def check_assumptions(case: Case) -> Iterator[Finding]:
    """Every value that came from elsewhere than the job itself, so that no default hides.

    A kerf that was measured on a known day is a correction in force, and said by `check_corrections`.
    """
    measured = {one.where for one in case.job.corrections if one.where == "make.kerf"}
    for assumption in case.job.assumptions:
        if assumption.where not in measured:
            yield note("assumed", assumption.where, assumption.text)
