"""What makes a cut right without a new template: tape, sandpaper, another pair, or the tenon that fits; millimetres."""

from collections.abc import Iterator

from jigtemplates.calibrate.cut import Diagnosis, Reading
from jigtemplates.checks.fit import BINDS
from jigtemplates.facts import own_text
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.model import MORTISES
from jigtemplates.practice import FIT, LEAST_ROOM
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report
from jigtemplates.template import size_of

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
    size = size_of(report.template.cut)
    assert size is not None
    job, off = report.job, reading.width - size.width
    if job.cut.shape in MORTISES:
        yield _tenon(job, reading)
    if abs(off) <= NEAR_ENOUGH:
        yield f"leave it: the cut is within {own_text(NEAR_ENOUGH, job)} of the {own_text(size.width, job)} asked for"
        return
    if diagnosis.kind != "uneven":
        yield from _tape(report, diagnosis, off, tape) if off > 0 else _sandpaper(off, job)
        cause = blamed or (diagnosis.causes[0].part if diagnosis.causes else None)
        yield from _pairs(report, diagnosis, reading, cause, profiles)


def _tenon(job: Job, reading: Reading) -> str:
    fit = FIT if job.tenon is None else job.tenon.fit
    side = reading.width if reading.length is None else min(reading.width, reading.length)
    less = f"its width less {own_text(fit, job)} fit"
    thick = f"a tenon {own_text(side - fit, job, 2)} thick fits the cut already made ({less})"
    if reading.length is None:
        return thick
    return f"{thick}, and {own_text(max(reading.width, reading.length) - fit, job, 2)} wide"


def _opening(report: Report, diagnosis: Diagnosis) -> float:
    """Width of the opening on the bench by all that is known of it."""
    return diagnosis.expected[0] + report.case.bushing - report.case.bit


def _tape(report: Report, diagnosis: Diagnosis, off: float, tape: float) -> Iterator[str]:
    """Tape on both edges makes the opening, and so the cut, narrower by two layers at a time."""
    layers = round(off / (2 * tape))
    left = off - 2 * tape * layers
    room = _opening(report, diagnosis) - 2 * tape * layers - report.case.bushing
    if not 1 <= layers <= MOST_LAYERS or room < BINDS:
        return
    count = "one layer" if layers == 1 else f"{layers} layers"
    rest = "as asked" if abs(left) < 5e-4 else f"{own_text(abs(left), report.job)} {'wide' if left > 0 else 'narrow'}"
    yield (
        f"{count} of tape {own_text(tape, report.job)} thick on the guiding edge, all round: the cut comes out {rest} "
        "(measure your tape: --tape)"
    )


def _sandpaper(off: float, job: Job) -> Iterator[str]:
    each = -off / 2
    if each <= MOST_SANDED:
        yield (
            f"take {own_text(each, job)} off the guiding edge, all round, with fine sandpaper on a flat block, and try "
            "again: tape would only make the cut narrower still"
        )


def _pairs(
    report: Report, diagnosis: Diagnosis, reading: Reading, blamed: str | None, profiles: Profiles
) -> Iterator[str]:
    """Other pairs of the person's own in the same opening.

    What the cut was off goes away with the tool that causes it, and stays with everything else.
    """
    size = size_of(report.template.cut)
    assert size is not None
    tools, opening, wanted = report.job.tools, _opening(report, diagnosis), size.width
    now = abs(reading.width - wanted)
    found = []
    for bit, bushing in _own(profiles):
        kept = (bit.name == tools.bit.name, bushing.name == tools.bushing.name)
        mended = (blamed == "bit" and not kept[0]) or (blamed == "bushing" and not kept[1])
        cut = bit.diameter.mm + opening - bushing.diameter.mm + (0.0 if mended else diagnosis.off)
        if all(kept) or not _runs(bit, bushing) or bushing.diameter.mm + BINDS > opening:
            continue
        if abs(cut - wanted) < now / 2:
            found.append((abs(cut - wanted), bit, bushing, cut))
    for _, bit, bushing, cut in sorted(found, key=lambda one: one[0])[:MOST_PAIRS]:
        yield f'"{bit.name}" in "{bushing.name}": the same template then cuts {own_text(cut, report.job)} wide'


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
