"""The command `inlay` of jobs: recess and plug of each, routed and laid over each other, with what to do."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from jigtemplates.batch import Batch, Done
from jigtemplates.facts import tool_text
from jigtemplates.given_tool import given_tools
from jigtemplates.inlay import DECIMALS, Fit, Pair, Verdict
from jigtemplates.inlay.overlay import Overlay, lay_over_first, plug_of
from jigtemplates.inlay.pairs import changes
from jigtemplates.inlay.plug import THROUGH, choice_of, fit_of, plug_case
from jigtemplates.inlay.text import change_lines, change_text, hung, radii_text
from jigtemplates.inlay.words import CAUTIONS, INLAY, SECOND, Names, is_in_inches, said, verdict_text
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.match.command import Tools, the_tools
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import profiles_for
from jigtemplates.report import Report
from jigtemplates.template import size_of
from jigtemplates.terminal import finding_lines

if TYPE_CHECKING:
    from jigtemplates.inlay.command import Asked

Rows = list[tuple[str, str]]


def print_jobs(asked: "Asked") -> int:
    """Print recess and plug of each job, or with --first its second template; 2, 1 or 0 as the worst of them."""
    first = _first(asked)
    held = the_tools(asked.tools, asked.folder, shipped=asked.shipped)
    batch = Batch.of(asked.jobs, folder=asked.folder, tools=asked.tools)
    done = [_with_inlay(one, first) for one in batch.checked()]
    for one in done:
        for line in one.faults:
            click.echo(line, err=True)
    reports = [one.report for one in done if one.report]
    if asked.as_json:
        _print_json([_as_json(report, first, held) for report in reports], alone=len(done) == 1)
    else:
        for line in _lines(reports, first, held):
            click.echo(line)
    return max((2 if one.report is None else _status(one.report, first) for one in done), default=0)


def _first(asked: "Asked") -> Pair | None:
    """The pair that runs round a first template; None where recess and plug are asked for."""
    from jigtemplates.inlay.command import options_of, pair_of

    if asked.pairs["--first"] is None:
        return None
    profiles = profiles_for(Path("job.toml"), asked.folder, tools=asked.tools)
    bit, bushing = (tool for tool in given_tools(options_of(asked, "--first"), profiles) if tool is not None)
    return pair_of("--first", bit, bushing)


def _with_inlay(one: Done, first: Pair | None) -> Done:
    """What was done, or the fault that the job has no [inlay]."""
    if one.report is None or first is not None or one.report.job.inlay is not None:
        return one
    job = one.report.job
    name = job.stem if job.source is None else shown_name(str(job.source))
    fault = f'{name}: has no [inlay] (write [inlay] and plug_bushing = "10 mm" below [tools], or such as it is)'
    return replace(one, report=None, faults=(fault,))


def _fit(job: Job, first: Pair | None) -> Fit:
    if first is None:
        return fit_of(job)
    return Fit(Pair(job.tools.bit.diameter.mm, job.tools.bushing.diameter.mm), first)


def _status(report: Report, first: Pair | None) -> int:
    """1 where the job is stopped, or where the second template does not fit."""
    return int(report.stopped) if first is None else int(not _fit(report.job, first).fits)


def _print_json(objects: list[Any], *, alone: bool) -> None:
    if objects:
        click.echo(json.dumps(objects[0] if alone else objects, indent=2))


def _as_json(report: Report, first: Pair | None, held: Tools) -> dict[str, Any]:
    names, fit = (INLAY if first is None else SECOND), _fit(report.job, first)
    found = changes(fit, held.bits, held.bushings)
    laid = _laid(report, first)
    numbers = {"title": report.job.title, **fit.as_json(names.outer, names.inner)}
    if first is None:
        numbers["plunge_depth"] = {
            "recess": _number(report.case.plunge_depth),
            "plug": _number(plug_case(report.case).plunge_depth),
        }
    numbers["laid_over"] = None if laid is None else overlay_json(laid)
    numbers["changes"] = [change_text(change, names) for change in found]
    numbers["findings"] = [
        {"level": one.level.value, "code": one.code, "where": one.where, "message": one.message}
        for one in report.findings
        if first is None and one.where.startswith("inlay")
    ]
    return numbers


def overlay_json(laid: Overlay) -> dict[str, Any]:
    """What geometry says, as `--json` prints it: mm and mm²; gaps are null where only one of the two is there."""
    gaps = {"smallest_gap": laid.smallest_gap, "largest_gap": laid.largest_gap}
    numbers: dict[str, Any] = {name: _number(mm) if abs(mm) < 1e9 else None for name, mm in gaps.items()}
    return {
        **numbers,
        "open_area": _number(laid.open_area),
        "overlap_area": _number(laid.overlap_area),
        "recess_parts": len(laid.recess),
        "plug_parts": len(laid.plug),
    }


def _number(mm: float) -> float:
    return round(mm, DECIMALS) + 0.0


def _laid(report: Report, first: Pair | None) -> Overlay | None:
    if first is None:
        return report.case.inlay
    return lay_over_first(report.template.placed(report.template.cut), _fit(report.job, first))


def _lines(reports: Iterable[Report], first: Pair | None, held: Tools) -> Iterator[str]:
    """Each job's numbers, its findings on the inlay and what would fit; the cautions once."""
    fits = False
    for report in reports:
        fit, names = _fit(report.job, first), INLAY if first is None else SECOND
        yield click.style(report.job.title, bold=True)
        rows = inlay_rows(report) if first is None else _second_rows(report, first)
        width = max(len(label) for label, _ in rows)
        for label, value in rows:
            yield from hung(value, f"  {label:<{width}}  ")
        if first is None:
            for finding in report.findings:
                if finding.where.startswith("inlay"):
                    yield from finding_lines(finding)
        if not fit.fits:
            yield from change_lines(
                changes(fit, held.bits, held.bushings), inches=is_in_inches(report.job), names=names
            )
        fits = fits or (first is None and fit.verdict is not Verdict.TOO_LARGE)
    if fits:
        yield "Before you rout the plug:"
        for caution in CAUTIONS:
            yield from hung(caution, "  - ")


def inlay_rows(report: Report) -> Rows:
    """Label and value of what belongs to an inlay, in the order of the work."""
    job, case, fit = report.job, report.case, fit_of(report.job)
    inches, choice = is_in_inches(job), choice_of(report.job)
    thick, through = said(choice.thickness, inches), said(THROUGH, inches)
    rows = [
        ("recess", f"bit {tool_text(job.tools.bit)}, bushing {tool_text(job.tools.bushing)}"),
        ("plunge", f"{said(case.plunge_depth, inches)}, cut {said(job.cut.depth, inches)} deep"),
        ("plug", f"bit {tool_text(choice.bit)}, bushing {tool_text(choice.bushing)}"),
        ("plunge", f"{said(plug_case(case).plunge_depth, inches)}, stock {thick} and {through} into the board below"),
        ("pairs", verdict_text(fit, inches=inches)),
    ]
    return [*rows, *_size_rows(report, fit, inches), *_laid_rows(case.inlay, fit, inches, INLAY)]


def _size_rows(report: Report, fit: Fit, inches: bool) -> Rows:
    made, plug = report.predicted, size_of(plug_of(report.template.opening_at_rest, fit))
    if made is None:
        return []
    rows = [("recess made", _extents(made.width, made.length, inches))]
    return [*rows, ("plug made", "none" if plug is None else _extents(plug.width, plug.length, inches))]


def _extents(width: float, length: float, inches: bool) -> str:
    mm = f"{mm_text(width, 3).removesuffix(' mm')} x {mm_text(length, 3)}"
    return f"{inch_short(width).removesuffix(' in')} x {inch_short(length)} ({mm})" if inches else mm


def _second_rows(report: Report, first: Pair) -> Rows:
    job, fit = report.job, _fit(report.job, first)
    inches = is_in_inches(job)
    rows = [
        ("first", f"a template of the cut's own shape, led round with bit {said(first.bit, inches)} in bushing "
         f"{said(first.bushing, inches)}"),
        ("second", f"bit {tool_text(job.tools.bit)}, bushing {tool_text(job.tools.bushing)}"),
        ("pairs", verdict_text(fit, inches=inches, names=SECOND)),
    ]  # fmt: skip
    return [*rows, *_laid_rows(_laid(report, first), fit, inches, SECOND)]


def _laid_rows(laid: Overlay | None, fit: Fit, inches: bool, names: Names) -> Rows:
    """What laying one over the other says."""
    if laid is None or not laid.recess or not laid.plug:
        return []
    return [("laid over", laid_text(laid, inches)), ("least radius", radii_text(fit, inches=inches, names=names))]


def laid_text(laid: Overlay, inches: bool) -> str:
    """ "they differ by 0.05 mm all round, no overlap; 12.3 mm² of glue line in all"."""
    least, most = laid.smallest_gap, laid.largest_gap
    if most < 5e-4:
        return "they coincide all round, no overlap"
    differ = said(most, inches) + " all round" if most - abs(least) < 5e-4 else f"up to {said(most, inches)}"
    overlap = f"overlap {laid.overlap_area:.2f} mm²" if laid.overlap_area > 1e-6 else "no overlap"
    return f"they differ by {differ}, {overlap}; {laid.open_area:.2f} mm² left open"
