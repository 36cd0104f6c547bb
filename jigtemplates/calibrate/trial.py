"""From a wrong test cut to a right template: what most likely is off, and which profile is corrected for it."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal

from jigtemplates.calibrate.arithmetic import Size
from jigtemplates.calibrate.asked import Asked, job_of, made_by, number_of, which_cut
from jigtemplates.calibrate.cut import (
    Diagnosis,
    Made,
    Reading,
    as_made,
    diagnose,
    expected,
    made_json,
    round_it,
    slip_text,
    uneven_text,
)
from jigtemplates.calibrate.jobs import Corrected, extents
from jigtemplates.calibrate.process import kerf_correction
from jigtemplates.calibrate.proposal import Options, Proposal, length_text, said
from jigtemplates.calibrate.remedies import remedies
from jigtemplates.calibrate.tool import Tool, in_job, refuse_far, tool_of, tool_proposal
from jigtemplates.calibrate.words import edges_across, guide, product, sense
from jigtemplates.errors import InputError
from jigtemplates.facts import own_text
from jigtemplates.lengths import beside_text, first_text, mm_text, parse_length, sold_as
from jigtemplates.parameters.job import Bit, Bushing, Job
from jigtemplates.parameters.make_tables import WIDEST_KERF
from jigtemplates.parameters.resolve import IN_JOB
from jigtemplates.parameters.toml_text import read_toml, shown_name
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

_CORRECTED = ("bit", "bushing", "kerf")
#: A cause of less than this part of the likeliest one's share is clearly less likely (chosen).
_CLEARLY = 0.4
_CALLED = {
    "bit": "bit",
    "bushing": "bushing",
    "kerf": "kerf",
    "opening": "opening",
    "centre": "bushing off centre",
    "pressure": "one side",
}


def cut_proposal(asked: Asked, options: Options, profiles: Profiles) -> Proposal:
    """What the test cut says; InputError where the job cannot be read, makes no cut, or the cut is none of its."""
    job = job_of(asked, profiles)
    whole, by = report_on(job), made_by(asked, job)
    number = number_of(asked, len(whole.parts))
    report = whole.parts[(number or 1) - 1]
    if report.template.opening_size is None or report.predicted is None:
        name = shown_name(str(asked.job))
        raise InputError(f"{name}: the job makes no cut that could be measured (jigtemplates check {name} says why)")
    told = _of_gauge(asked, report, by, number) if asked.gauge else _of_template(asked, report, by, number, profiles)
    proposal = _corrected(asked, told, options, profiles)
    which = which_cut(report, number, len(whole.parts))
    below = tuple(fact for fact in proposal.facts if fact[0] != "measured")
    numbers = (("cut", number or 1), *_numbers(told), *proposal.numbers)
    told_of = (*_causes(told.diagnosis, job), *told.helps)
    return replace(proposal, reading=(*which, *told.facts), facts=below, told=told_of, numbers=numbers)


@dataclass(frozen=True, slots=True)
class _Told:
    """Everything that is known of the cut."""

    report: Report
    made: Made
    diagnosis: Diagnosis
    by: str
    #: label and value of what was used, expected and measured
    facts: tuple[tuple[str, str], ...]
    #: what helps, beside a correction
    helps: tuple[tuple[str, tuple[str, ...]], ...]
    #: the opening that was used, for JSON
    used: dict[str, Any]


def _of_template(asked: Asked, report: Report, by: str, number: int | None, profiles: Profiles) -> _Told:
    """A cut made with the template."""
    made = as_made(report, asked.out, number)
    reading = Reading(asked.width.mm, None if asked.length is None else asked.length.mm, asked.within)
    diagnosis = diagnose(report, made, reading, by)
    helps = remedies(report, reading, diagnosis, profiles, asked.tape, asked.blame)
    shown = () if diagnosis.kind == "implausible" else (("With the template that is there", tuple(helps)),)
    return _Told(report, made, diagnosis, by, _facts(report, made, asked, diagnosis, by), shown, made_json(made))


def _of_gauge(asked: Asked, report: Report, by: str, number: int | None) -> _Told:
    """A cut of the fit gauge: the job's own would be off by as much. InputError where the gauge has no such cut."""
    from jigtemplates.calibrate.gauged import Taken, gauge_facts, gauge_json, gauged, in_the_job

    if number not in (None, 1):
        raise InputError("--cut: the fit gauge is for the width of the first cut (leave out --cut or --gauge)")
    made, cut = as_made(report, None), gauged(report, asked.engraved, asked.out)
    taken = Taken(cut, asked.width, asked.is_tenon)
    off = taken.width(report.job) - cut.expected(report, by)
    diagnosis = diagnose(report, made, Reading(expected(report, made, by)[0] + off, None, asked.within), by)
    lines = () if diagnosis.kind == "implausible" else tuple(in_the_job(taken, report, diagnosis))
    shown = (("What to write in the job", lines),) if lines else ()
    return _Told(report, made, diagnosis, by, gauge_facts(taken, report, diagnosis, by), shown, gauge_json(cut))


def _facts(report: Report, made: Made, asked: Asked, diagnosis: Diagnosis, by: str) -> tuple[tuple[str, str], ...]:
    job = report.job
    kerf = f", kerf {own_text(made.kerf, job)} allowed for" if by == "laser" and made.kerf else ""
    wide, long = round_it(report)
    size = extents(made.width - wide, made.length - long, job)
    opening = f"{guide(job)} {size}, made by {by}{kerf}{_how_known(made)}"
    across = _off_text("width", asked.width.mm, diagnosis.width_off * edges_across(job) / 2, job)
    along = () if asked.length is None else ((_off_text("length", asked.length.mm, diagnosis.length_off or 0.0, job)),)
    return (
        ("template", opening),
        ("expected", f"{_a(job)} of {extents(*diagnosis.expected, job)} with bit, bushing and kerf as they are known"),
        ("measured", "; ".join((across, *along))),
    )


def _a(job: Job) -> str:
    """ "a cut", or "work"."""
    return "work" if product(job) == "work" else "a cut"


def _how_known(made: Made) -> str:
    return "" if made.from_manifest else ", taken from the job (no manifest of it is there)"


def _off_text(what: str, mm: float, off: float, job: Job) -> str:
    if abs(off) < 5e-4:
        return f"{what} {own_text(mm, job)}, as expected"
    return f"{what} {own_text(mm, job)}, {own_text(abs(off), job)} too {_way(what, off)}"


def _way(what: str, off: float) -> str:
    return {"width": ("narrow", "wide"), "length": ("short", "long")}[what][off > 0]


def _causes(diagnosis: Diagnosis, job: Job) -> tuple[tuple[str, tuple[str, ...]], ...]:
    if not diagnosis.causes:
        return ()
    called = {**_CALLED, "opening": guide(job)}
    lines = [f"{called[cause.part]}, {cause.share * 100:.0f} %: {cause.text}" for cause in diagnosis.causes]
    return (("What most likely is off", (*lines, *_not_told_apart(diagnosis))),)


def _not_told_apart(diagnosis: Diagnosis) -> tuple[str, ...]:
    """That several causes are as likely, and what tells them apart."""
    first, *others = diagnosis.causes
    alike = [cause.part for cause in others if cause.part in _CORRECTED and cause.share > first.share * _CLEARLY]
    if first.part not in _CORRECTED or not alike:
        return ()
    names = " and ".join((", ".join([first.part, *alike[:-1]]), alike[-1]))
    return (
        f"this cut does not tell {names} apart. Corrected is the {first.part}, which makes this set right whichever it "
        "is; for other sets measure them one by one (jigtemplates gauge), or say which: --correct",
    )


def _corrected(asked: Asked, told: _Told, options: Options, profiles: Profiles) -> Proposal:
    """The likeliest cause, or the one that was asked for, as a correction; else why there is none."""
    diagnosis, job = told.diagnosis, told.report.job
    if diagnosis.kind == "right" and asked.blame is None:
        good = said(asked.within, inches=asked.width.is_inch)
        return _nothing(f"the {product(job)} is as expected, as far as {good} can be told")
    if diagnosis.kind == "implausible" and asked.blame is None:
        return _nothing(slip_text(diagnosis, told.by, job))
    if diagnosis.kind == "uneven" and asked.blame is None:
        return _nothing(uneven_text(diagnosis, told.made, told.by, job))
    part = asked.blame or diagnosis.causes[0].part
    if part == "kerf":
        return _kerf(asked, told, options, profiles)
    if part in ("bit", "bushing"):
        return _tool(asked, told, "bit" if part == "bit" else "bushing", options, profiles)
    printing = job.make.printing
    if part == "opening" and told.by == "print" and printing is not None:
        allowance = printing.opening_allowance - diagnosis.off
        return _nothing(
            "printed openings come out at a size of their own: set opening_allowance of the process print to "
            f"{mm_text(allowance, 3)} (in [processes.print] of your tools file), or say what to correct instead: "
            "--correct bit or bushing"
        )
    if part == "opening" and told.by == "cnc":
        return _nothing(
            f"the {guide(job)} came out {own_text(abs(diagnosis.off), job)} too {_way('width', diagnosis.off)}: "
            "correct the size of the cutter in the CNC router's own program by that, or say what to correct instead: "
            "--correct bit or bushing"
        )
    return _nothing(
        f"the likeliest cause, {guide(job) if part == 'opening' else _CALLED[part]}, is no size that a profile holds: "
        "look at it and rout another test cut, "
        "or say what to correct instead: --correct bit, bushing or kerf"
    )


def _nothing(why: str) -> Proposal:
    return Proposal("", (), (), Corrected(""), (), (), nothing=why)


def _kerf(asked: Asked, told: _Told, options: Options, profiles: Profiles) -> Proposal:
    job = told.report.job
    if told.by != "laser":
        raise InputError(f"--correct: the template was made by {told.by}, which has no kerf (write bit or bushing)")
    kerf = (job.make.kerf or told.made.kerf) + sense(job) * told.diagnosis.off
    inches = asked.width.is_inch
    if kerf <= 0:
        raise InputError(
            f"--correct: the kerf would be {first_text(kerf, inches, 3)}, which is none (write bit or bushing)"
        )
    if kerf > WIDEST_KERF:
        raise InputError(
            f"--correct: the kerf would be {first_text(kerf, inches, 3)}, too much for a laser (at most "
            f"{beside_text(WIDEST_KERF, inches)}; measure again, or write bit or bushing)"
        )
    thickness = parse_length(length_text(job.plate.thickness, inches=False))
    return kerf_correction(
        job.plate.material, thickness, kerf, asked.within, "by the test cut", options, profiles,
        inches=inches, by_cut=True,
    )  # fmt: skip


def _tool(asked: Asked, told: _Told, key: Literal["bit", "bushing"], options: Options, profiles: Profiles) -> Proposal:
    """The bit cuts as much more as the cut is too wide, or the work too narrow; the bushing is as much less."""
    case, off = told.report.case, sense(told.report.job) * told.diagnosis.off
    held: Bit | Bushing = told.report.job.tools.bit if key == "bit" else told.report.job.tools.bushing
    new = Size(case.bit + off if key == "bit" else case.bushing - off, asked.within)
    tool = _named(held, key, profiles)
    inches = asked.width.is_inch
    refuse_far(tool, new.mm, "--tenon" if asked.is_tenon else "--measured-width", inches=inches)
    jobs = (asked.job,) if held.typed else ()
    proposal = tool_proposal(tool, new, "by the test cut", options, profiles, inches=inches, jobs=jobs)
    if held.origin != IN_JOB or held.typed:
        return proposal
    size, within = (length_text(mm, inches=inches) for mm in (new.mm, new.within))
    table = _table_in(asked.job, key)
    change = in_job(asked.job, held, key, table, size, within, options.on)
    return replace(proposal, rewrites=(change,), corrected=Corrected(""))


def _named(held: Bit | Bushing, key: str, profiles: Profiles) -> Tool:
    kind: Literal["bits", "bushings"] = "bits" if key == "bit" else "bushings"
    if held.origin == IN_JOB and not held.typed:  # a table of the job's own
        return Tool(kind, held.label, sold_as(held.diameter), held.diameter, None)
    return tool_of(kind, held.name or held.diameter.text, profiles)


def _table_in(job: Path, key: str) -> dict[str, Any]:
    table = read_toml(job).data["tools"][key]
    assert isinstance(table, dict)
    return table


def _numbers(told: _Told) -> tuple[tuple[str, Any], ...]:
    diagnosis = told.diagnosis
    return (
        ("template", told.used),
        ("expected", {"width": round(diagnosis.expected[0], 6), "length": round(diagnosis.expected[1], 6)}),
        ("off", {"width": _maybe(diagnosis.width_off), "length": _maybe(diagnosis.length_off)}),
        ("kind", diagnosis.kind),
        (
            "causes",
            [{"part": one.part, "share": round(one.share, 3), "text": one.text} for one in diagnosis.causes],
        ),
    )


def _maybe(mm: float | None) -> float | None:
    return None if mm is None else round(mm, 6)
