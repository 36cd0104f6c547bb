"""One question a file; each check looks at a case and answers with findings.

To add one: write `check_NAME(case) -> Iterator[Finding]` in a file of its own and name it in CHECKS.
"""

from collections.abc import Callable, Iterable

from jigtemplates.checks.assumptions import check_assumptions
from jigtemplates.checks.bore import check_bore
from jigtemplates.checks.depth import check_depth
from jigtemplates.checks.finding import Case, Finding, Level
from jigtemplates.checks.fit import check_fit
from jigtemplates.checks.holder import check_holder
from jigtemplates.checks.labelling import check_label
from jigtemplates.checks.loose import check_loose
from jigtemplates.checks.material import check_material
from jigtemplates.checks.output import check_output
from jigtemplates.checks.reach import check_reach
from jigtemplates.checks.sizes import check_sizes
from jigtemplates.checks.stem import check_stem
from jigtemplates.checks.support import check_support
from jigtemplates.checks.tenon import check_tenon
from jigtemplates.checks.walls import check_walls

__all__ = ["CHECKS", "Case", "Finding", "Level", "findings"]

CHECKS: tuple[Callable[[Case], Iterable[Finding]], ...] = (
    check_fit,
    check_bore,
    check_stem,
    check_depth,
    check_reach,
    check_walls,
    check_loose,
    check_holder,
    check_support,
    check_sizes,
    check_material,
    check_output,
    check_tenon,
    check_assumptions,
    check_label,
)

_SEVERITY = {Level.STOP: 0, Level.WARNING: 1, Level.NOTE: 2}


def findings(case: Case) -> tuple[Finding, ...]:
    """What all checks have to say, stops first, then warnings, then notes, each in the order of CHECKS."""
    found = [finding for check in CHECKS for finding in check(case)]
    return tuple(sorted(found, key=lambda finding: _SEVERITY[finding.level]))
