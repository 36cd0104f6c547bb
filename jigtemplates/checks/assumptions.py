"""What was taken for granted because the job did not say it?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note

#: The key each kind of assumption concerns, by the words it begins with.
KEYS = {"running clearance": "tools.clearance", "kerf": "make.kerf"}


def check_assumptions(case: Case) -> Iterator[Finding]:
    """Every value that came from elsewhere than the job itself, so that no default hides."""
    for assumption in case.job.assumptions:
        key = next((key for words, key in KEYS.items() if assumption.startswith(words)), "tools.bushing")
        yield note("assumed", key, assumption)
