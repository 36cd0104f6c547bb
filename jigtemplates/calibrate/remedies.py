"""What makes a cut right without a new template: tape, sandpaper, another pair, or the tenon that fits; millimetres."""

from collections.abc import Iterator

from jigtemplates.calibrate.cut import Diagnosis, Reading
from jigtemplates.calibrate.words import edges_across, product, sense
from jigtemplates.checks.fit import BINDS
from jigtemplates.facts import own_text
from jigtemplates.opening import size_of
from jigtemplates.outside import is_outside
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.forms import ArcSlot
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.model import MORTISES
from jigtemplates.practice import FIT, LEAST_ROOM
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report

#: One layer of clear packing tape, mm (about 0.002 in; from memory: measure yours). Layers of tape on a guiding edge to
#: adjust a test cut: WOOD magazine, "Micro-adjust with masking tape" (read).
TAPE = 0.05
#: More layers do not stay on an edge (chosen).
MOST_LAYERS = 4
#: More is not taken off an edge with sandpaper, mm (chosen: it would no longer be straight).
MOST_SANDED = 0.15
#: Other pairs that are named (chosen).
MOST_PAIRS = 3
#: A cut nearer to what was asked than this needs nothing, mm (chosen: half of the fit of a tenon).
NEAR_ENOUGH = FIT / 2


def remedies(
    report: Report,
    reading: Reading,
    diagnosis: Diagnosis,
    profiles: Profiles,
    tape: float = TAPE,
    blamed: str | None = None,
) -> Iterator[str]:
    """What can be done about the cut with the template that is there, the cheapest first; sentences.

    `blamed` is the part that is taken for the cause, else the likeliest.
    """
    job, wanted = report.job, _wanted(report)
    off, outside, what = reading.width - wanted, is_outside(job.cut), product(job)
    if job.cut.shape in MORTISES and not outside:
        yield _tenon(job, reading)
    if abs(off) <= NEAR_ENOUGH:
        near = own_text(NEAR_ENOUGH, job)
        yield f"leave it: the {what} is within {near} of the {own_text(wanted, job)} asked for"
        return
    if diagnosis.kind != "uneven":
        if (off > 0) != outside:
            yield from _tape(report, diagnosis, off, tape)
        else:
            yield from _sandpaper(off, job)
        cause = blamed or (diagnosis.causes[0].part if diagnosis.causes else None)
        yield from _pairs(report, diagnosis, reading, cause, profiles)


def _wanted(report: Report) -> float:
    """Width that was asked for: of a gain, which goes on beyond the work, from the edge of that; across an arc slot."""
    if edges_across(report.job) == 1 or isinstance(report.job.cut.form, ArcSlot):
        return report.job.cut.width
    size = size_of(report.template.cut)
    assert size is not None
    return size.width


def _tenon(job: Job, reading: Reading) -> str:
    fit = FIT if job.tenon is None else job.tenon.fit
    side = reading.width if reading.length is None else min(reading.width, reading.length)
    less = f"its width less {own_text(fit, job)} fit"
    thick = f"a tenon {own_text(side - fit, job, 2)} thick fits the cut already made ({less})"
    if reading.length is None:
        return thick
    return f"{thick}, and {own_text(max(reading.width, reading.length) - fit, job, 2)} wide"


def _opening(report: Report, diagnosis: Diagnosis) -> float:
    """Width of the opening or pattern on the bench by all that is known of it."""
    if edges_across(report.job) == 1 and report.template.opening_size is not None:
        return report.template.opening_size.width
    return diagnosis.expected[0] + sense(report.job) * (report.case.bushing - report.case.bit)


def _tape(report: Report, diagnosis: Diagnosis, off: float, tape: float) -> Iterator[str]:
    """Tape on both edges makes the opening, and so the cut, narrower by two layers at a time; a pattern wider.

    A gain is measured from the edge of the work, and so gets narrower by one.
    """
    job, away = report.job, edges_across(report.job) * tape * sense(report.job)
    layers = round(off / away)
    left = off - away * layers
    if not 1 <= layers <= MOST_LAYERS:
        return
    if not is_outside(job.cut) and _opening(report, diagnosis) - away * layers - report.case.bushing < BINDS:
        return
    count = "one layer" if layers == 1 else f"{layers} layers"
    rest = "as asked" if abs(left) < 5e-4 else f"{own_text(abs(left), job)} {'wide' if left > 0 else 'narrow'}"
    edge = "the pattern's edge" if is_outside(job.cut) else "the guiding edge"
    what = "the next piece" if is_outside(job.cut) else "the cut"
    yield (
        f"{count} of tape {own_text(tape, job)} thick on {edge}, all round: {what} comes out {rest} "
        "(measure your tape: --tape)"
    )


def _sandpaper(off: float, job: Job) -> Iterator[str]:
    each = abs(off) / edges_across(job)
    if each > MOST_SANDED:
        return
    edge, worse = (
        ("the pattern's edge", "the work larger still")
        if is_outside(job.cut)
        else ("the guiding edge", "the cut narrower still")
    )
    yield (
        f"take {own_text(each, job)} off {edge}, all round, with fine sandpaper on a flat block, and try "
        f"again: tape would only make {worse}"
    )


def _pairs(
    report: Report, diagnosis: Diagnosis, reading: Reading, blamed: str | None, profiles: Profiles
) -> Iterator[str]:
    """Other pairs of the person's own in the same opening.

    What the cut was off goes away with the tool that causes it, and stays with everything else.
    """
    tools, opening, wanted = report.job.tools, _opening(report, diagnosis), _wanted(report)
    now, outside = abs(reading.width - wanted), is_outside(report.job.cut)
    share, offset = edges_across(report.job) / 2, report.case.bushing - report.case.bit
    found = []
    for bit, bushing in _own(profiles):
        kept = (bit.name == tools.bit.name, bushing.name == tools.bushing.name)
        mended = (blamed == "bit" and not kept[0]) or (blamed == "bushing" and not kept[1])
        narrower = sense(report.job) * (bushing.diameter.mm - bit.diameter.mm - offset)
        cut = diagnosis.expected[0] + share * ((0.0 if mended else diagnosis.off) - narrower)
        binds = not outside and bushing.diameter.mm + BINDS > opening
        if all(kept) or not _runs(bit, bushing) or binds:
            continue
        if abs(cut - wanted) < now / 2:
            found.append((abs(cut - wanted), bit, bushing, cut))
    for _, bit, bushing, cut in sorted(found, key=lambda one: one[0])[:MOST_PAIRS]:
        made = "makes the work" if outside else "cuts"
        yield f'"{bit.name}" in "{bushing.name}": the same template then {made} {own_text(cut, report.job)} wide'


def _own(profiles: Profiles) -> Iterator[tuple[Bit, Bushing]]:
    bits = [found.entry for found in profiles.own("bits")]
    for bushing in (found.entry for found in profiles.own("bushings")):
        for bit in bits:
            assert isinstance(bit, Bit)
            assert isinstance(bushing, Bushing)
            yield bit, bushing


def _runs(bit: Bit, bushing: Bushing) -> bool:
    """Whether the bit passes the bore with room for chips; a bore that is not known is not trusted."""
    return bushing.bore is not None and bushing.bore.mm - bit.diameter.mm >= LEAST_ROOM - 1e-9
