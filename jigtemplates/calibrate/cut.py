"""What a test cut's measured size says: how far it is off, and which part of the set most likely is.

Width of a cut = bit + opening - bushing, and so its length: a wrong bit, bushing or kerf changes both by the same.
What changes one of them alone is no size of a tool. Of outside work the width is pattern + bushing - bit: there a wider
bit leaves less of the work, and the beam takes its kerf off the pattern. Millimetres.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from jigtemplates.budget.doubts import BIT, BUSHING, EDGE, of_size
from jigtemplates.budget.sizes import sizes_of
from jigtemplates.calibrate.plausible import kerf_span
from jigtemplates.calibrate.words import edges_across, product, sense
from jigtemplates.checks.material import WIDEST_KERF, typical_kerf
from jigtemplates.current import read_manifest
from jigtemplates.errors import InputError
from jigtemplates.facts import own_text
from jigtemplates.lengths import Measured
from jigtemplates.outside import is_outside
from jigtemplates.parameters.forms import ArcSlot
from jigtemplates.parameters.job import Bit, Bushing, Job
from jigtemplates.parameters.measured import FURTHEST
from jigtemplates.report import Report
from jigtemplates.wanted import edge_of_work

#: No measurement is trusted further than this, mm (chosen: what a caliper's last figure may be wrong by).
SUREST = 0.005
#: A bushing held against one side of an opening as wide as itself is likelier than a bit that is not its size (chosen).
ONE_SIDE = 1.2 * BIT
#: Width and length off by amounts that differ by less are off by the same, mm (chosen: twice what wood lets one read).
ALIKE = 0.05
#: A print may be that much too large or too small, as a part (as `calibrate printer` takes it: 3 %).
PAPER = 0.03

Part = Literal["bit", "bushing", "kerf", "opening", "centre", "pressure"]


@dataclass(frozen=True, slots=True)
class Made:
    """The opening, of outside work the pattern, of the template that was used, as its maker was told to make it."""

    width: float
    length: float
    #: full width of the kerf that was allowed for
    kerf: float
    #: whether it is known from the manifest, and not only from the job as it is now
    from_manifest: bool


@dataclass(frozen=True, slots=True)
class Reading:
    """What was measured of a test cut."""

    width: float
    length: float | None
    #: how far it may be wrong, either way
    within: float


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be off, and how likely it is among all."""

    part: Part
    #: 0 to 1
    share: float
    #: what it would have to be
    text: str


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """How far a cut, or the work cut out, is off, and why."""

    #: what the template makes by all that is known now: width and length
    expected: tuple[float, float]
    #: measured less expected, as if both edges had moved: twice what the width of a gain is off, which has one; the
    #: length's is None where it was not measured
    width_off: float
    length_off: float | None
    #: whether the cut is as expected, off by the same all round, or not, or so far off that the reading is doubted
    kind: Literal["right", "all round", "uneven", "implausible"]
    #: likeliest first; none where the cut is right, uneven or implausible
    causes: tuple[Cause, ...]

    @property
    def off(self) -> float:
        """How far the cut is off all round, mm in its size; of two readings their mean."""
        return self.width_off if self.length_off is None else (self.width_off + self.length_off) / 2


def as_made(report: Report, out: Path | None, number: int | None = None) -> Made:
    """The opening of the template on the bench, from its manifest in out; without one, what the job gives now.

    Of several cuts in one template `number` says which, counted from 1, and the report is of that one.
    """
    stem = report.job.stem
    size = report.template.opening_size
    assert size is not None  # who asks has looked at the stops
    now = Made(size.width, size.length, report.job.make.kerf, False)
    if out is None:
        return now
    try:
        data = read_manifest(out / stem / f"{stem}.json").data
        results = data["results"]
        opening = (results if number is None else results["cuts"][number - 1])["opening"]
        return Made(float(opening["width"]), float(opening["length"]), float(data["job"]["make"]["kerf"]), True)
    except (InputError, KeyError, IndexError, TypeError, ValueError):
        return now


def diagnose(report: Report, made: Made, reading: Reading, by: str) -> Diagnosis:
    """What the reading says of a cut from the template as it was made, by that process."""
    width, length = expected(report, made, by)
    width_off = (reading.width - width) * 2 / edges_across(report.job)
    length_off = None if reading.length is None else reading.length - length
    doubted = Diagnosis((width, length), width_off, length_off, "implausible", ())
    if slips(doubted, by):
        return doubted
    offs = [width_off] if length_off is None else [width_off, length_off]
    if max(map(abs, offs)) <= reading.within + 1e-9:
        return Diagnosis((width, length), width_off, length_off, "right", ())
    if max(offs) - min(offs) > max(ALIKE, 2 * reading.within) + 1e-9:
        return Diagnosis((width, length), width_off, length_off, "uneven", ())
    off = sum(offs) / len(offs)
    return Diagnosis((width, length), width_off, length_off, "all round", causes(report, made, off, by))


def slips(diagnosis: Diagnosis, by: str) -> tuple[str, ...]:
    """Which of the readings, "width" and "length", are off by more than anything but a slip would explain."""
    paper = PAPER if by == "paper" else 0.0
    offs = {"width": (diagnosis.width_off, 0), "length": (diagnosis.length_off, 1)}
    return tuple(
        name
        for name, (off, which) in offs.items()
        if off is not None and abs(off) > FURTHEST + paper * diagnosis.expected[which]
    )


def slip_text(diagnosis: Diagnosis, by: str, job: Job) -> str:
    """The question that comes before any cause."""
    offs = {"width": diagnosis.width_off * edges_across(job) / 2, "length": diagnosis.length_off or 0.0}
    found = " and ".join(
        f"the {name} is {own_text(abs(offs[name]), job)} {'more' if offs[name] > 0 else 'less'} than expected"
        for name in slips(diagnosis, by)
    )
    return (
        f"{found}, more than a bit, bushing or kerf is off: is that right? Is the number or its unit a slip, was "
        f"another {product(job)} measured, or another bit, bushing or template used? Measure again; where it is right, "
        "say what to correct: --correct bit, bushing or kerf"
    )


def expected(report: Report, made: Made, by: str) -> tuple[float, float]:
    """Width and length of the cut, or of the work cut out, by the tools and the kerf that are known now; mm."""
    case, kerf = report.case, report.job.make.kerf
    wider = kerf - made.kerf if by == "laser" and kerf else 0.0
    grown = sense(report.job) * (wider + case.bit - case.bushing)
    edge = edge_of_work(report.job.cut)
    assert report.predicted is not None
    size = report.template.opening_size
    assert size is not None
    if edge is None:
        wide, long = round_it(report)
        return made.width - wide + grown, made.length - long + grown
    return report.predicted.width + (made.width - size.width + wider) / 2, made.length + grown


def round_it(report: Report) -> tuple[float, float]:
    """How much wider and longer the upright box of an arc slot, or of its opening, is than what is measured of it; mm.

    That is across it, and along its centre line with both ends; it may be longer than its box. 0 for any other shape.
    """
    if not isinstance(report.job.cut.form, ArcSlot) or report.predicted is None:
        return 0.0, 0.0
    across, along = (size.predicted for size in sizes_of(report.case))
    return report.predicted.width - across, report.predicted.length - along


def causes(report: Report, made: Made, off: float, by: str) -> tuple[Cause, ...]:
    """Everything that makes a cut off by so much, likeliest first.

    Errors that are independent share what is seen in proportion to the squares of how large each usually is (the most
    probable split of a sum of normal errors).
    """
    usual = list(_usual(report, made, off, by))
    total = sum(size**2 for _, size, _ in usual)
    found = [Cause(part, size**2 / total, text) for part, size, text in usual]
    return tuple(sorted(found, key=lambda cause: -cause.share))


def _usual(report: Report, made: Made, off: float, by: str) -> Iterator[tuple[Part, float, str]]:
    """Each part with how far it usually is off, as the budget of errors takes it, and what it would have to be."""
    job, case, fit = report.job, report.case, report.job.fit
    more = sense(job) * off  # that more is cut away, in the size of the cut
    if more < 0 and case.trapped and -more <= job.tools.clearance + 1e-9 and not is_outside(job.cut):
        yield "pressure", ONE_SIDE, "the bushing was held against one side of the opening: push it against both"
    bit, bushing = job.tools.bit, job.tools.bushing
    # a bit that was not measured is hardly ever over its size: new ones are under it, and sharpening takes more off
    under = BIT / 2 if more > 0 else BIT
    text = f"it would have to cut {own_text(case.bit + more, job)}, not {_known(bit, job)}"
    yield "bit", max(of_size(bit.diameter, under, job).within, SUREST), text
    text = f"it would have to be {own_text(case.bushing - more, job)}, not {_known(bushing, job)}"
    yield "bushing", max(of_size(bushing.diameter, BUSHING, job).within, SUREST), text
    yield _opening(report, made, off, by)
    if more > 0 and fit.turned and fit.off_centre:
        text = "off the bit's axis while the router turned: centre the base, or do not turn it"
        yield "centre", fit.off_centre, text


def _opening(report: Report, made: Made, off: float, by: str) -> tuple[Part, float, str]:
    """The two edges of the opening or pattern, each by as much as its process leaves it off; of a laser also the kerf.

    A kerf that would be questioned in that sheet is not named.
    """
    job = report.job
    within = next((edge.within for edge in job.fit.edges if edge.target == by), None)
    edges = math.sqrt(2) * (EDGE if within is None else within)
    kerf, more = job.make.kerf or made.kerf, sense(job) * off
    low, high = kerf_span(typical_kerf(report.case))
    if by != "laser" or not low - 1e-9 <= kerf + more <= high + 1e-9:
        return "opening", edges, f"it would have to be {_wider(off, job)} than it was drawn"
    held = own_text(kerf, job) if kerf else "none allowed for"
    size = WIDEST_KERF / 2 if more > 0 and not kerf else math.hypot(edges, job.fit.kerf_within or 0.0)
    return "kerf", size, f"the beam would have to remove {own_text(kerf + more, job)}, not {held}"


def _wider(off: float, job: Job) -> str:
    return f"{own_text(abs(off), job)} {'wider' if off > 0 else 'narrower'}"


def _known(tool: Bit | Bushing, job: Job) -> str:
    how = "it measured" if isinstance(tool.diameter, Measured) else "it is sold as"
    return f"the {own_text(tool.diameter.mm, job)} {how}"


def uneven_text(diagnosis: Diagnosis, made: Made, by: str, job: Job) -> str:
    """Why width and length may be off by different amounts, and what to do."""
    assert diagnosis.length_off is not None
    apart = diagnosis.length_off - diagnosis.width_off
    text = (
        "width and length are off by different amounts, so it is no size of bit, bushing or kerf that is wrong: the "
        f"length is {own_text(abs(apart), job)} {'more' if apart > 0 else 'less'} than the width lets expect. "
    )
    if by == "paper":
        share = apart / max(made.length - made.width, 1e-9) * 100
        return text + (
            f"A print of the wrong size would do that ({share:+.2f} %): measure the bars of the pattern and enter them "
            "(jigtemplates calibrate printer)"
        )
    side = "short" if apart < 0 else "long"
    if is_outside(job.cut):
        why = (
            "a dent or a burnt corner at an end of the pattern, or the pattern moved along"
            if apart < 0
            else "chips or glue at an end of the pattern, or the router not held against it all round"
        )
        return text + f"Too {side}: {why}. Look, cut out another piece and measure it again"
    why = (
        "chips in the end of the opening, or the router not run to its very end"
        if apart < 0
        else "a dent or a burnt corner in the end of the opening, or the template moved along"
    )
    return text + f"Too {side}: {why}. Look, rout another test cut and measure it again"


def made_json(made: Made) -> dict[str, Any]:
    """The opening as JSON; mm."""
    return {"width": made.width, "length": made.length, "kerf": made.kerf, "from_manifest": made.from_manifest}
