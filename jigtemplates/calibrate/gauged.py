"""A cut of the job's fit gauge: what it was engraved with, what it takes, and how much wider it came out; millimetres.

A cut that takes a tenon as it should is as wide as that tenon and the fit. Engraved less than that, cuts come out wider
than engraved by the difference, whichever cut of the row it is; so will the template's.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigtemplates.calibrate.cut import Diagnosis
from jigtemplates.calibrate.proposal import length_text, said
from jigtemplates.current import read_manifest
from jigtemplates.errors import InputError
from jigtemplates.facts import own_text
from jigtemplates.gauges.fit_row import made_width, wanted_width
from jigtemplates.lengths import Length
from jigtemplates.parameters.job import Job
from jigtemplates.practice import FIT
from jigtemplates.report import Report
from jigtemplates.say import in_inches
from jigtemplates.wanted import narrow_key

#: Engraved values that differ by less are the same, mm (chosen: less than the last figure that is engraved).
SAME = 1e-3
#: A tenon that wants another width by less wants the same, mm (chosen: half of the usual step of a gauge).
OTHER = 0.025


@dataclass(frozen=True, slots=True)
class Gauged:
    """One cut of the gauge."""

    #: the value at it
    engraved: float
    #: width of its opening as the maker was told to make it, and the kerf that was allowed for
    opening: float
    kerf: float
    #: whether that is known from the gauge's own record, and not only from the job as it is now
    from_record: bool

    def expected(self, report: Report, by: str) -> float:
        """Width of the cut by the tools and the kerf that are known now."""
        case, kerf = report.case, report.job.make.kerf
        wider = kerf - self.kerf if by == "laser" and kerf else 0.0
        return self.opening + wider + case.bit - case.bushing


def gauged(report: Report, engraved: Length | None, gauges: Path) -> Gauged:
    """The cut that is engraved so, else the one engraved with the width wanted; gauges is the folder of all gauges.

    InputError where the job has no fit gauge, or the gauge has no such cut.
    """
    wanted_width(report.job)  # refuses what has no gauge
    value = float(made_width(report.job)) if engraved is None else engraved.mm
    record = _record(gauges / (stem := f"gauge-fit-{report.job.stem}") / f"{stem}_gauge.json")
    if record is None:
        return Gauged(value, value + report.case.bushing - report.case.bit, report.job.make.kerf, False)
    held, kerf, unit = record
    near = min(held, key=lambda one: abs(one.value - value))
    if abs(near.value - value) <= SAME:
        return Gauged(value, near.opening, kerf, True)
    row = f"the row is {held[0].text} to {held[-1].text} {unit}"
    if engraved is None:
        text = own_text(value, report.job)
        raise InputError(
            f"--gauge: no cut of the gauge is engraved with the width that the template makes, {text} ({row}; say "
            "which cut was measured: --engraved)"
        )
    raise InputError(f'--engraved: no cut of the gauge is engraved "{engraved}" ({row}; the nearest is {near.text})')


@dataclass(frozen=True, slots=True)
class _Step:
    text: str
    value: float
    opening: float


def _record(path: Path) -> tuple[list[_Step], float, str] | None:
    """The gauge's cuts, its kerf and the unit of its values, as they were made; None without a record of them."""
    try:
        gauge: dict[str, Any] = read_manifest(path).data["gauge"]
        cuts = [_Step(str(one["engraved"]), float(one["value"]), float(one["width"])) for one in gauge["openings"]]
        return (cuts, float(gauge["kerf"]), str(gauge["unit"])) if cuts else None
    except (InputError, KeyError, TypeError, ValueError):
        return None


def fit_of(job: Job) -> float:
    """Width of a cut less the thickness of the tenon that it takes as it should: the job's, else the usual."""
    return FIT if job.tenon is None else job.tenon.fit


@dataclass(frozen=True, slots=True)
class Taken:
    """What was said of the cut."""

    cut: Gauged
    #: as it was typed: the cut's width, or the thickness of the tenon that it takes
    size: Length
    is_tenon: bool

    def width(self, job: Job) -> float:
        """Width of the cut."""
        return self.size.mm + (fit_of(job) if self.is_tenon else 0.0)


def gauge_facts(taken: Taken, report: Report, diagnosis: Diagnosis, by: str) -> tuple[tuple[str, str], ...]:
    """Which cut it is, what was expected of it, and what was measured."""
    job, cut = report.job, taken.cut

    def text(mm: float) -> str:
        return said(mm, inches=in_inches(job))  # with the four decimals of an engraved value

    kerf = f", kerf {text(cut.kerf)} allowed for" if by == "laser" and cut.kerf else ""
    known = "" if cut.from_record else ", taken from the job (no record of the gauge is there)"
    wanted = ", the width wanted" if abs(cut.engraved - float(wanted_width(job).exact)) <= SAME else ""
    width, off = text(taken.width(job)), diagnosis.width_off
    how = f"{text(abs(off))} too {'wide' if off > 0 else 'narrow'}" if abs(off) >= 5e-4 else "as expected"
    measured = f"width {width}, {how}"
    if taken.is_tenon:
        tenon = f"it takes a tenon of {text(taken.size.mm)}"
        measured = f"{tenon}, so with {text(fit_of(job))} fit it is {width} wide, {how}"
    opening = f"opening {text(cut.opening)}, made by {by}{kerf}{known}"
    return (
        ("gauge", f"the cut engraved {text(cut.engraved)}{wanted}; {opening}"),
        ("expected", f"a cut {text(cut.expected(report, by))} wide with bit, bushing and kerf as they are known"),
        ("measured", measured),
    )


def gauge_json(cut: Gauged) -> dict[str, Any]:
    """The cut as JSON; mm."""
    return {"engraved": cut.engraved, "width": cut.opening, "kerf": cut.kerf, "from_manifest": cut.from_record}


def in_the_job(taken: Taken, report: Report, diagnosis: Diagnosis) -> Iterator[str]:
    """What to write as the wanted width, with the correction and instead of it; sentences."""
    job, inches = report.job, taken.size.is_inch
    wanted, key = float(wanted_width(job).exact), narrow_key(job.cut).rpartition(".")[2]
    asked = taken.width(job) if taken.is_tenon else wanted
    name = job.source.name if job.source else f"{job.stem}.toml"

    def write(mm: float) -> str:
        return f'write {key} = "{length_text(mm, inches=inches)}" under [cut] in {name}'

    other = abs(asked - wanted) > OTHER
    if diagnosis.kind == "right":
        if other:
            yield f"cuts come out as they are engraved, and this tenon wants another width: {write(taken.cut.engraved)}"
        return
    if other:
        yield f"once that is corrected: {write(asked)}, which this tenon wants, instead of {own_text(wanted, job)}"
    plain = taken.cut.engraved if taken.is_tenon else wanted - diagnosis.width_off
    again = "make the template as the gauge was made; one of the two, not both"
    yield f"with nothing corrected: {write(plain)} and {again}"
