"""The budget of errors in words: for `check`, and for the set-up sheet."""

import math
from collections.abc import Iterator

from jigtemplates.budget import Budget, ByProcess
from jigtemplates.budget.band import Band, Share
from jigtemplates.budget.doubts import (
    BIT_NAME,
    BUSHING_NAME,
    CENTRE_NAME,
    CLEARANCE_NAME,
    KERF_NAME,
    MADE_BY,
    OPENING_NAME,
    PATTERN_NAME,
    small_text,
)
from jigtemplates.lengths import MM_PER_INCH, Measured, full_text, inch_decimals, mm_text, rounded_text
from jigtemplates.parameters.job import Job
from jigtemplates.say import in_inches

#: Shares of the variance that differ by less matter equally (chosen: 2 %).
_ALIKE = 0.02
#: From this chance on it is said that the bushing may not go into the opening (chosen: 1 in 100).
BINDS = 0.01

Group = tuple[str, ByProcess]


Facts = tuple[tuple[str, str], ...]


def budget_facts(budget: Budget) -> Facts:
    """Label and value for `check`: band, worst case, what matters most, what was taken, how a tenon fits.

    Of several ways to make the opening each has its figures; a row that goes on has no label.
    """
    return (*size_facts(budget), *cause_facts(budget), *tenon_facts(budget))


def size_facts(budget: Budget) -> Facts:
    """Of these the sizes alone: band and worst case."""
    job, found = budget.job, groups(budget)
    rows = []
    for i, (by, one) in enumerate(found):
        sizes = ", ".join(f"{band.size.name} {band_text(band.likely, job)}" for band in one.bands)
        rows.append(("" if i else f"{thing(budget)} may be", f"{sizes}{'' if i else ' in 95 % of cuts'} ({by})"))
    worst = ", ".join(f"{band_text(one.narrow.worst, job)} ({by})" for by, one in found)
    return (*rows, ("at worst", f"{found[0][1].narrow.size.name} {worst}"))


def thing(budget: Budget) -> str:
    """What comes out: a cut, or round a pattern the work."""
    return "work" if budget.is_outside else "cut"


def cause_facts(budget: Budget) -> Iterator[tuple[str, str]]:
    """Of these which errors matter most, and what was taken."""
    yield "most from", most_text(groups(budget)[0][1].narrow)
    taken = taken_text(budget)
    if taken:
        yield "taken", taken


def tenon_facts(budget: Budget) -> Iterator[tuple[str, str]]:
    """Of these how a tenon fits; nothing without one."""
    if budget.tenon is not None:
        yield "tenon", tenon_text(budget)
        for i, (by, one) in enumerate(groups(budget)):
            yield ("" if i else "it is", f"{fit_text(one)} ({by})")


def groups(budget: Budget) -> tuple[Group, ...]:
    """The ways of making the opening, those with the same figures together: ("laser, CNC", …), ("by hand", …)."""
    found: list[tuple[list[str], ByProcess]] = []
    for one in budget.processes:
        same = next((names for names, other in found if _alike(other, one)), None)
        if same is None:
            found.append(([MADE_BY[one.edge.target]], one))
        else:
            same.append(MADE_BY[one.edge.target])
    return tuple((", ".join(names), one) for names, one in found)


def _alike(a: ByProcess, b: ByProcess) -> bool:
    figures = ([(band.worst, band.likely, band.u) for band in one.bands] for one in (a, b))
    return next(figures) == next(figures)


def taken_text(budget: Budget) -> str:
    """What nobody measured, and how well it is taken to be known; "" where everything was said."""
    found: dict[str, str] = {}
    for _, one in groups(budget):
        for share in one.narrow.shares:
            if share.is_taken:
                found.setdefault(share.name, f"{share.name} {share.known}")
    return "; ".join(found.values())


def band_text(band: tuple[float, float], job: Job) -> str:
    """ "10.00 ± 0.20 mm", "7.99 to 8.18 mm" where it is about no round middle; in inches "1.125 ± 0.004 in"."""
    unit, digits = ("in", 3) if in_inches(job) else ("mm", 2)
    low, high = (mm / (float(MM_PER_INCH) if unit == "in" else 1.0) for mm in band)
    middle, half = (low + high) / 2, (high - low) / 2
    if abs(round(middle, digits) - middle) < 10**-digits / 10:
        return f"{rounded_text(middle, digits)} ± {rounded_text(half, digits)} {unit}"
    return f"{rounded_text(low, digits)} to {rounded_text(high, digits)} {unit}"


def most_text(band: Band) -> str:
    """The errors that matter most, and their share of the variance: "the opening (44 %)"."""
    most = leading(band)
    if not most:
        return "nothing"
    share = percent(band.part(most[0]))
    names = [f"the {share.name}" for share in most]
    if len(names) == 1:
        return f"{names[0]} ({share})"
    return f"{', '.join(names[:-1])} and {names[-1]} ({share} each)"


def leading(band: Band) -> tuple[Share, ...]:
    """The error that matters most, and those that matter as much."""
    most = band.most
    if most is None:
        return ()
    return tuple(share for share in band.shares if band.part(share) >= band.part(most) - _ALIKE)


def percent(chance: float) -> str:
    """Whole percent; never 0 or 100 for what is not certain."""
    whole = math.floor(100 * chance + 0.5)
    if whole == 0 and chance > 1e-9:
        return "under 1 %"
    if whole == 100 and chance < 1 - 1e-9:
        return "over 99 %"
    return f"{whole} %"


def fit_text(one: ByProcess) -> str:
    """ "too tight 5 %, good 72 %, too loose 24 %"."""
    assert one.fit is not None
    chances = (("too tight", one.fit.too_tight), ("good", one.fit.good), ("too loose", one.fit.too_loose))
    return ", ".join(f"{word} {percent(chance)}" for word, chance in chances)


def tenon_text(budget: Budget) -> str:
    """ "7.96 mm thick (planned: ± 0.05 mm taken)", "10 mm nominal, measured 9.9 mm ± 0.03 mm"."""
    assert budget.tenon is not None
    if isinstance(budget.tenon.written, Measured):
        return full_text(budget.tenon.written)
    return f"{own_size(budget.tenon.thickness, budget.job)} thick ({budget.tenon.doubt.known})"


def own_size(mm: float, job: Job) -> str:
    """A size with three decimals, in a job in inches in both units."""
    return f"{inch_decimals(mm)} in ({mm_text(mm, 3)})" if in_inches(job) else mm_text(mm, 3)


def limits_text(budget: Budget) -> str:
    """What too tight, good and too loose mean."""
    tight, loose = budget.job.fit.limits
    return f"good: {small_text(tight, budget.job)} to {small_text(loose, budget.job)} of clearance"


def advice(budget: Budget) -> Iterator[str]:
    """What to do first: about the errors that matter most, the one that matters everywhere first."""
    names = dict.fromkeys(share.name for _, one in groups(budget) for share in leading(one.narrow))
    for name in names:
        yield _ADVICE[name]
    if CENTRE_NAME not in names and budget.job.fit.turned and budget.job.fit.off_centre:
        yield _ADVICE[CENTRE_NAME]
    chances = [(by, one.narrow.binds) for by, one in groups(budget) if one.narrow.binds >= BINDS]
    if chances:
        said = ", ".join(f"{by} {percent(chance)}" for by, chance in chances)
        yield (
            f"The bushing may not go into the opening ({said}): try it before the work is clamped; ease the opening "
            "with a file, or give it more running clearance."
        )


_ADVICE = {
    BIT_NAME: "Measure the bit across its cutting edges, and enter it: jigtemplates calibrate bit.",
    BUSHING_NAME: "Measure the bushing, with a caliper or by jigtemplates gauge bushing, and enter it: jigtemplates "
    "calibrate bushing.",
    OPENING_NAME: "Try the process on a scrap of the same sheet: jigtemplates gauge fit makes a row of short openings. "
    "Enter what a test cut measures: jigtemplates calibrate cut.",
    PATTERN_NAME: "Try the process on a scrap of the same sheet, measure that pattern, and correct what is off.",
    KERF_NAME: "Measure the kerf over many cuts at once: jigtemplates gauge kerf.",
    CLEARANCE_NAME: "Give the opening less running clearance, or rout each pass along one edge and back at the other.",
    CENTRE_NAME: "Keep the router's handle in one direction while a cut is made: a bushing off centre then shifts the "
    "cut and does not widen it. Centre the bushing on the bit.",
}
