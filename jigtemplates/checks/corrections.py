"""Which measured corrections are in force?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note

#: The findings to which `check` adds how old the measurement is; a file that is made has only the day.
IN_FORCE = "correction-in-force"


def check_corrections(case: Case) -> Iterator[Finding]:
    """Every dated measurement of bit, bushing, kerf and printer that the template is made with."""
    for correction in case.job.corrections:
        yield note(IN_FORCE, correction.where, f"{correction.text}, measured on {correction.on}")
