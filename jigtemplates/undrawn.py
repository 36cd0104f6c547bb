"""What a template has and a process does not draw, as findings: known only where the profiles are.

A role that a profile leaves out is left out on purpose (a laser cannot sink a countersink), but screw holes or
a label that are missing from a file are noticed only on the finished plate.
"""

from collections.abc import Iterator

from jigtemplates.checks import Finding
from jigtemplates.checks.finding import note, warning
from jigtemplates.drawing import Role
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report


def with_undrawn(report: Report, profiles: Profiles) -> Report:
    """The report with a finding for each process that leaves out the screw holes or the label; each once."""
    found = (finding for finding in _undrawn(report, profiles) if finding not in report.findings)
    return report.with_findings(tuple(found))


def _undrawn(report: Report, profiles: Profiles) -> Iterator[Finding]:
    template = report.template
    for target in report.job.make.targets:
        drawn = profiles.find("processes", target).entry.roles.drawn()
        if template.holes and Role.DRILL not in drawn:
            yield warning("role-not-drawn", "make.for", _sentence(target, Role.DRILL, "screw holes are"))
        if template.label.label is not None and Role.ENGRAVE not in drawn:
            yield note("role-not-drawn", "make.for", _sentence(target, Role.ENGRAVE, "label is"))


def _sentence(target: str, role: Role, missing: str) -> str:
    return (
        f"the {missing} not in the {target} file, for the process profile draws no {role} (add {role} to its roles, or "
        "do that by hand)"
    )
