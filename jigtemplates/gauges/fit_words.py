"""What is said of a fit gauge: on its plate, on its sheet, and what is to be looked at."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from jigtemplates.cautions import cautions
from jigtemplates.checks.finding import Finding, Level, note, warning
from jigtemplates.facts import own_text, tool_text
from jigtemplates.gauges import enter
from jigtemplates.gauges.blank import Blank, Keys, blank_findings
from jigtemplates.gauges.bushing import kerf_text
from jigtemplates.gauges.fit_row import cut_length, made_width, wanted_width
from jigtemplates.gauges.gauge import Step, Words
from jigtemplates.gauges.row import Row
from jigtemplates.lengths import sold_as
from jigtemplates.parameters.job import Job, Plate
from jigtemplates.report import Report
from jigtemplates.wanted import narrow_key

#: What `blank_findings` says in words of its own.
SAID_OF_BLANK = ("material-unknown", "never-laser", "kerf-not-set", "kerf-implausible")
#: The keys of a job that decide about its sheet.
KEYS = Keys("plate.material", "make.for", "make.kerf", is_of_tool=False)


def plate_words(job: Job, row: Row) -> list[str]:
    """What the plate says: the job's title, pair and unit."""
    tools = job.tools
    return [
        f"fit gauge {job.title}",
        f"bit {sold_as(tools.bit.diameter)}",
        f"bushing {sold_as(tools.bushing.diameter)}",
        f"cut widths in {row.unit_word}",
        "this side up",
    ]


def fit_findings(job: Job, report: Report, blank: Blank, row: Row, *, own: bool) -> Iterator[Finding]:
    """Stops and warnings of the gauge as a template, each once, and what concerns the gauge itself."""
    if own:
        plate, wanted = report.job.plate, job.plate
        yield note(
            "own-plate",
            "plate",
            f"the openings have no room on the job's plate, {_size(wanted, job)}, so the gauge has a plate of its own, "
            f"{_size(plate, job)}, without screws: clamp it to the work",
        )
    elif job.plate.rebate:
        yield warning(
            "rebate-not-made",
            "plate.rebate",
            "the job's plate is rebated underneath and the gauge's files have no rebate: run the template's own file "
            "for the underside on this plate as well, or it stands proud in the holder and the cuts come out shallower",
        )
    if len(job.cuts) > 1:
        yield note("first-cut", "cut", "the job has several cuts; the gauge is for the width of the first")
    seen = set(SAID_OF_BLANK)
    for finding in report.findings:
        if finding.level is not Level.NOTE and finding.code not in seen:
            seen.add(finding.code)
            yield _no_clamps(finding) if own and finding.code == "no-room-for-clamps" else finding
    yield from blank_findings(blank, row.step, keys=KEYS, inches=row.inches)


def _no_clamps(finding: Finding) -> Finding:
    """What helps a plate that the gauge has chosen itself, as large as the sheet lets it."""
    said = finding.message.partition(": make the plate")[0]
    hint = "no larger plate comes out of the sheet, so give a larger one (--sheet), or take fewer cuts (--steps)"
    return replace(finding, where="--sheet", message=f"{said}: {hint}")


def fit_words(job: Job, many: Job, row: Row, blank: Blank, steps: tuple[Step, ...]) -> Words:
    """What is said of the gauge; `many` is the job of all its cuts."""
    file, depth = job_name(job), own_text(many.cut.depth, job)
    opening = f"{own_text(steps[0].width, job)} to {own_text(steps[-1].width, job)} wide" if steps else "none"
    plunge = many.plate.thickness + many.plate.stand_off + many.cut.depth
    return Words(
        facts=(
            ("bit", tool_text(job.tools.bit)),
            ("bushing", tool_text(job.tools.bushing)),
            ("cuts", f"{len(row.values)} cuts, {row.span}; {file} asks for {wanted_width(job)}"),
            ("openings", opening),
            ("plate", f"{_size(many.plate, job)}, {blank.named}"),
            *((("laser kerf", kerf_text(blank.kerf, row.inches)),) if "laser" in blank.targets else ()),
            ("plunge", f"{own_text(plunge, job)} from the base, for cuts {depth} deep"),
        ),
        steps=_doing(job, row, file, depth),
        enter=enter.cut(typed_path(job), job.member, row.unit),
        reading=("engraved at the cut that takes the tenon", row.unit),
        second=("the tenon measures", row.unit),
        cautions=cautions(many),
    )


def _doing(job: Job, row: Row, file: str, depth: str) -> tuple[str, ...]:
    is_round, is_marked = job.cut.shape == "round", made_width(job) in row.values
    key = narrow_key(job.cut).rpartition(".")[2]
    piece = own_text(float(Fraction(cut_length(row)) - row.values[-1]), job, 1)
    marked = f" The underlined one is what the template of {file} makes now." if is_marked else ""
    tenon = "a dowel" if is_round else f"a strip of tenon stock, sawn at most {piece} wide"
    return (
        "Make the plate as you make your templates: same sheet, same machine, same settings.",
        "Fix it as the template will be, over scrap of the same wood, and rout every cut with the very bit and "
        f"bushing named here, {depth} deep, in passes. Go round the edge clockwise, with light, even pressure.",
        f"Try the tenon: {tenon}, of the thickness you will use. It should go in by hand pressure and stay when you "
        "turn the wood over.",
        f"Note the value engraved at the cut that takes it so, and what the tenon measures by caliper.{marked}",
        f"Where that cut is another one, do one of two things, not both. Either type the command below: it reckons how "
        "much wider or narrower than engraved your cuts come out, says whether bit, bushing or machine is off, and "
        f"corrects it; then make the template again. Or correct nothing, write the value as {key} under [cut] in "
        f"{file}, and make the template again.",
    )


def job_name(job: Job) -> str:
    """The job's file, without the folders of the machine it was on."""
    return job.source.name if job.source else f"{job.stem}.toml"


def typed_path(job: Job) -> str:
    """The job's file as it was given, to be typed again; without the folders of the machine where they were given."""
    is_near = job.source is not None and not job.source.is_absolute()
    return job.source.as_posix() if job.source is not None and is_near else job_name(job)


def _size(plate: Plate, job: Job) -> str:
    return f"{own_text(plate.width, job)} x {own_text(plate.height, job)}"
