"""Does the plug of an inlay go into its recess, with the glue line that is wanted, all round?"""

from collections.abc import Iterable

from jigtemplates.checks.finding import Case, Finding


def check_inlay(case: Case) -> Iterable[Finding]:
    """The two pairs, recess and plug laid over each other, the inlay stock, and the plug's own set-up."""
    if case.job.inlay is None:
        return ()
    from jigtemplates.inlay.findings import inlay_findings  # which asks other checks of the plug

    return inlay_findings(case)
