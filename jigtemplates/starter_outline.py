"""A job to begin with for a cut that somebody drew: its outline, a pair that comes nearest to it, a plate round it.

The drawing is read as a job reads it, and the job is made, routed and checked before it is handed over, so that what
is said of it is what `check` will say. Lengths are millimetres.
"""

import os
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from pydantic import ValidationError

from jigtemplates.errors import InputError
from jigtemplates.imports.outline_file import outline_bytes, unit_said
from jigtemplates.imports.trouble import GIVE_UNITS, LEAVE_UNITS, SELECT
from jigtemplates.match import Match, name_of
from jigtemplates.match.command import the_tools
from jigtemplates.match.made import Source
from jigtemplates.parameters.faults import faults_of, lines_of
from jigtemplates.parameters.forms import FromFile
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.model import JobFile
from jigtemplates.parameters.outline_table import OutlineTable, drawn
from jigtemplates.parameters.resolve import resolved
from jigtemplates.parameters.toml_text import parse_toml, shown_name
from jigtemplates.practice import HAIR
from jigtemplates.profiles import profiles_for
from jigtemplates.report import Report, report_on
from jigtemplates.starter_drawn import Asked, Text, size_in
from jigtemplates.starter_pair import proposed

#: Half of bushing less bit that the plate has room for before the pair is known, mm (chosen: 40 mm less 3 mm).
WIDEST_OFFSET = 18.5
#: What a person types in the place of a key.
_TYPED = {
    GIVE_UNITS: "add --drawing-units mm or --drawing-units in",
    LEAVE_UNITS: "leave --drawing-units out",
    SELECT: "add --select ",
}
_OPTIONS: Mapping[tuple[str | int, ...], str] = {("cut", "file"): "--outline", ("cut", "select"): "--select"}

#: Outlines of more are offset for a minute and more, once for each bit (chosen: some seconds with many bits).
MOST_CORNERS = 20_000


@dataclass(frozen=True, slots=True)
class Started:
    """A job to begin with."""

    text: str
    #: the pair and what comes of it, or why none makes it: a line for the terminal
    said: str


def outline_job(asked: Asked, job_path: Path) -> Started:
    """The job for a drawn cut that is to be written at that path; nothing is written yet.

    Raises InputError with a line for each thing that is wrong with the drawing, with what was asked, or with the
    profiles that hold the tools.
    """
    _refuse_missing(asked.drawing)
    tools = the_tools(None, None, job=job_path)
    text = Text(asked, job_path.name, beside(asked.drawing, job_path), tools.only_own)
    draft = _Draft(job_path, profiles_for(job_path), text=text.with_pair(tools.bits[0], tools.bushings[0]))
    form = draft.form()
    if (corners := sum(ring.count for ring in form.region.rings)) > MOST_CORNERS:
        raise InputError(
            f"{shown_name(str(asked.drawing))}: {corners} corners are too many to try pairs of tools on (at most "
            f"{MOST_CORNERS}: simplify the drawing, or name it in a job that another shape began)"
        )
    said = unit_said(outline_bytes(asked.drawing), asked.drawing.name)
    draft = replace(draft, text=replace(draft.text, form=form, said=said, offset=WIDEST_OFFSET))
    match = proposed(draft, tools)
    final = replace(draft, text=draft.text.with_pair(match.bit, match.bushing))
    report = report_on(final.job())
    trouble = None if match.possible else match.reasons[0]
    trouble = trouble or next((one.message for one in report.findings if report.stopped), None)
    made = _made(report, match)
    return Started(replace(final.text, made=made, trouble=trouble).whole(), _line(match, made, trouble))


def _line(match: Match, made: str, trouble: str | None) -> str:
    if trouble is not None:
        return f"no bit and bushing that are known here make it yet: {trouble}"
    return f"of those that are known here {name_of(match.bit)} in {name_of(match.bushing)} comes nearest: {made}"


def _refuse_missing(drawing: Path) -> None:
    if not os.path.lexists(drawing):
        name = shown_name(str(drawing))
        raise InputError(f"--outline: there is no such file, {name} (give the name of a DXF or SVG drawing)")


def beside(drawing: Path, job: Path) -> str:
    """The drawing's name from the job's folder on, with /; links in the way are followed, the drawing itself is not.

    InputError where there is no way from one to the other.
    """
    place = Path(os.path.realpath(drawing.parent), drawing.name)
    try:
        return Path(os.path.relpath(place, os.path.realpath(job.parent))).as_posix()
    except ValueError:
        raise InputError("--outline: is on another drive than the job (copy the drawing beside the job)") from None


def _made(report: Report, match: Match) -> str:
    """What comes of it, as the end of a sentence."""
    if match.predicted is None:
        return "it makes nothing of the outline"
    inches, off = report.job.units == "in", match.predicted.max_deviation
    return (
        "the cut comes out as drawn" if off < HAIR else f"the cut is up to {size_in(off, inches, 2)} off the drawn edge"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Draft(Source):
    """The job that is not written yet, to be tried with one pair after the other."""

    text: Text

    def file(self, pair: tuple[str, str] | None = None) -> JobFile:
        """Its model; InputError for what was asked and cannot be in a job."""
        parsed = parse_toml(self.text.whole(), self.path.name)
        data = dict(parsed.data)
        if pair is not None:
            data["tools"] = {**data["tools"], "bit": pair[0], "bushing": pair[1]}
        context = {"unit": data["units"], "profiles": self.profiles, "outside": False}
        try:
            return JobFile.model_validate(data, context=context)
        except ValidationError as error:
            faults = faults_of(error, JobFile)
            lines = lines_of(faults, name=self.path.name, locate=parsed.locate, labels=_OPTIONS)
            raise InputError(lines) from None

    def form(self) -> FromFile:
        """The outline; InputError has what is wrong with the drawing, in the words of the options."""
        cut = self.file().cut
        assert isinstance(cut, OutlineTable)
        try:
            return drawn(cut, self.path)
        except InputError as error:
            raise InputError(map(_as_typed, error.lines)) from None

    def job(self, pair: tuple[str, str] | None = None) -> Job:
        """The job as it would be read."""
        return resolved(self.file(pair), self.profiles, stem=self.path.stem, source=self.path)


def _as_typed(line: str) -> str:
    for key, option in _TYPED.items():
        line = line.replace(key, option)
    return line
