"""Is a size that was typed a rounded conversion of another that is sold?"""

from collections.abc import Iterator
from fractions import Fraction

from jigtemplates.checks.finding import Case, Finding, note, warning
from jigtemplates.lengths import Length, Measured, full_text, inch_text, mm_text

#: Inch sizes that bits and bushings are sold in: sixteenths from 1/8 to 1-1/2 in, mm (common
#: practice, no source).
INCH_SIZES = tuple(Fraction(254 * n, 160) for n in range(2, 25))

#: Metric sizes that bits and bushings are sold in, mm: references and, for the others, from memory.
METRIC_SIZES: tuple[Fraction, ...] = tuple(
    Fraction(n) for n in (3, 4, 5, 6, 8, 10, 12, 14, 15, 16, 17, 18, 20, 22, 24, 25, 27, 28, 30, 35, 40)
)

#: Two sizes further apart than this are not taken for each other, mm: 13 mm is said for 1/2 in
#: (12.7 mm), and nothing coarser (common practice, no source).
CONFUSED = Fraction(35, 100)

#: Sizes closer than this are the same, mm (chosen: no one can measure it in a shop).
SAME = Fraction(1, 1000)


def check_sizes(case: Case) -> Iterator[Finding]:
    """Typed diameters that look like a rounded conversion, and what measured ones do to the cut."""
    tools = case.job.tools
    for key, length, typed, sign in (
        ("tools.bit", tools.bit.diameter, tools.bit.typed, 1),
        ("tools.bushing", tools.bushing.diameter, tools.bushing.typed, -1),
    ):
        if isinstance(length, Measured):
            yield _measured(case, key, length, sign * float(length.exact - length.nominal.exact))
        elif typed and (likely := rounded_from(length)) is not None:
            yield _rounded(case, key, length, likely, sign * float(likely - length.exact))
    for use in case.job.measured:
        if use.where not in ("tools.bit.diameter", "tools.bushing.diameter"):
            yield note("measured-size", use.where, f"computed with the measured size: {full_text(use.size)}")


def rounded_from(length: Length) -> Fraction | None:
    """The trade size in mm that a metric length looks rounded from; None for a trade size or no likeness."""
    if length.is_inch or any(abs(length.exact - size) < SAME for size in (*METRIC_SIZES, *INCH_SIZES)):
        return None
    nearest = min(INCH_SIZES, key=lambda size: abs(size - length.exact))
    return nearest if abs(nearest - length.exact) <= CONFUSED else None


def _rounded(case: Case, key: str, length: Length, likely: Fraction, change: float) -> Finding:
    outside = case.job.cut.side == "outside"
    made = "the work" if outside else "the cut"
    what = "wider and longer" if (change > 0) != outside else "narrower and shorter"
    inch = inch_text(float(likely))
    return warning(
        "rounded-conversion",
        key,
        f"{length.text} looks like {inch}, which is {mm_text(float(likely), 3)}: if it is, {made} comes out "
        f"{case.said(abs(change), 3)} {what} than shown; measure it, and write {inch} if that is what it is",
    )


def _measured(case: Case, key: str, length: Measured, change: float) -> Finding:
    """`change` is what a cut from a template for the nominal size would gain by the measured tool, mm.

    Work that is cut out round a pattern loses as much.
    """
    if case.job.cut.side == "outside":
        change = -change
    what = f"{case.said(abs(change), 3)} {'wider and longer' if change > 0 else 'narrower and shorter'}"
    made = "the work" if case.job.cut.side == "outside" else "the cut"
    nominal = f"from a template for {length.nominal} {made} would come out {what}" if change else "as it is sold"
    within = f"; it is good to {length.within}, and so is {made}" if length.within else ""
    return note("measured-size", key, f"computed with the measured {length}: {nominal}{within}")
