"""Router templates that make the cut you want.

From a wanted cut, a router bit and a guide bushing to the template that makes it: `load_job` reads a job
file, `report_on` makes the template, routes it on the screen and checks it, `write` makes the files.
Everything is in millimetres and degrees. Names are loaded when they are first used.

    >>> from pathlib import Path
    >>> from jigtemplates import load_job, report_on, write
    >>> report = report_on(load_job("rail.toml"))  # from: jigtemplates new rail.toml
    >>> round(report.predicted.width, 6)  # mm
    10.0
    >>> report = write(report, Path("templates"))
    >>> report.files[0].path
    'templates/rail/rail_laser_mm.dxf'
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jigtemplates.checks import Finding, Level
    from jigtemplates.errors import InputError, JigError, OutputError
    from jigtemplates.lengths import Length, LengthError, parse_length, quantity
    from jigtemplates.making import write
    from jigtemplates.opening import opening_for
    from jigtemplates.parameters.job import Job
    from jigtemplates.parameters.load import job_from_text, load_job, load_jobs
    from jigtemplates.profiles import Profiles, profiles_for
    from jigtemplates.report import Report, report_on
    from jigtemplates.routing import PredictedCut, route
    from jigtemplates.template import Template, make_template

_HOMES = {
    "Finding": "checks",
    "InputError": "errors",
    "JigError": "errors",
    "Job": "parameters.job",
    "Length": "lengths",
    "LengthError": "lengths",
    "Level": "checks",
    "OutputError": "errors",
    "PredictedCut": "routing",
    "Profiles": "profiles",
    "Report": "report",
    "Template": "template",
    "job_from_text": "parameters.load",
    "load_job": "parameters.load",
    "load_jobs": "parameters.load",
    "make_template": "template",
    "opening_for": "opening",
    "parse_length": "lengths",
    "profiles_for": "profiles",
    "quantity": "lengths",
    "report_on": "report",
    "route": "routing",
    "write": "making",
}

__all__ = [
    "Finding",
    "InputError",
    "JigError",
    "Job",
    "Length",
    "LengthError",
    "Level",
    "OutputError",
    "PredictedCut",
    "Profiles",
    "Report",
    "Template",
    "job_from_text",
    "load_job",
    "load_jobs",
    "make_template",
    "opening_for",
    "parse_length",
    "profiles_for",
    "quantity",
    "report_on",
    "route",
    "write",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'jigtemplates' has no attribute {name!r}")
    return getattr(import_module(f"jigtemplates.{_HOMES[name]}"), name)
