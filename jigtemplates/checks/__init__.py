"""One question a file; each check looks at a case and answers with findings.

To add one: write `check_NAME(case) -> Iterator[Finding]` in a file of its own and name it in CHECKS. It is asked once
of a template of several cuts, whose first is `case.job.cut`; name it in OF_EACH_CUT where it concerns each.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from jigtemplates.checks.assumptions import check_assumptions
from jigtemplates.checks.bore import check_bore
from jigtemplates.checks.corrections import check_corrections
from jigtemplates.checks.depth import check_depth
from jigtemplates.checks.drawn import check_drawn
from jigtemplates.checks.finding import Case, Finding, Level
from jigtemplates.checks.fit import check_fit
from jigtemplates.checks.holder import check_holder
from jigtemplates.checks.inlay import check_inlay
from jigtemplates.checks.labelling import check_label
from jigtemplates.checks.loose import check_loose
from jigtemplates.checks.material import check_material
from jigtemplates.checks.mirrored import check_mirrored, check_pair
from jigtemplates.checks.output import check_output
from jigtemplates.checks.outside import check_outside
from jigtemplates.checks.reach import check_reach
from jigtemplates.checks.sizes import check_sizes
from jigtemplates.checks.stem import check_stem
from jigtemplates.checks.support import check_support
from jigtemplates.checks.tenon import check_tenon
from jigtemplates.checks.walls import check_walls
from jigtemplates.checks.work import check_work

__all__ = ["CHECKS", "Case", "Finding", "Level", "by_severity", "findings", "of_some_cut"]

Check = Callable[[Case], Iterable[Finding]]

#: What is asked of the template as a whole, and (named in OF_EACH_CUT) of each cut in it.
CHECKS: tuple[Check, ...] = (
    check_fit,
    check_bore,
    check_stem,
    check_depth,
    check_reach,
    check_walls,
    check_outside,
    check_drawn,
    check_mirrored,
    check_pair,
    check_loose,
    check_holder,
    check_support,
    check_sizes,
    check_material,
    check_output,
    check_tenon,
    check_work,
    check_inlay,
    check_assumptions,
    check_corrections,
    check_label,
)

#: Asked once for every cut in a template.
OF_EACH_CUT: frozenset[Check] = frozenset((check_fit, check_drawn, check_mirrored, check_loose, check_tenon))

#: Asked of the deepest cut alone.
OF_THE_DEEPEST: frozenset[Check] = frozenset((check_depth, check_reach))

_SEVERITY = {Level.STOP: 0, Level.WARNING: 1, Level.NOTE: 2}


def findings(case: Case) -> tuple[Finding, ...]:
    """What all checks have to say, stops first, then warnings, then notes, each in the order of CHECKS.

    In a template of several cuts a finding about one of them names it as people count: "cut 2.width".
    """
    return by_severity(finding for check in CHECKS for finding in _asked(check, case))


def by_severity(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Stops first, then warnings, then notes, else in their order."""
    return tuple(sorted(found, key=lambda finding: _SEVERITY[finding.level]))


def _asked(check: Check, case: Case) -> Iterator[Finding]:
    if not case.others:
        yield from check(case)
    elif check in OF_EACH_CUT:
        for number, part in enumerate(case.alone()):
            yield from (_about(number, finding) for finding in check(part))
    elif check in OF_THE_DEEPEST:
        number = case.parts.index(case.deepest)
        yield from (_about(number, finding) for finding in check(case.alone()[number]))
    else:
        yield from (_about(0, finding) for finding in check(case))


def _about(number: int, finding: Finding) -> Finding:
    """The finding with the cut's place in the array of cuts in its key."""
    first, dot, key = finding.where.partition(".")
    return replace(finding, where=f"cut {number + 1}.{key}") if (first, dot) == ("cut", ".") else finding


def of_some_cut(finding: Finding) -> bool:
    """Whether a finding is about one of several cuts."""
    return finding.where.startswith("cut ")
