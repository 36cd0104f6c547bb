"""Corrections that are questioned before they are written: more often a slip than the truth; millimetres."""

from collections.abc import Iterator
from datetime import date

from jigtemplates.calibrate.arithmetic import factor_of, lean_of
from jigtemplates.calibrate.proposal import said
from jigtemplates.checks.material import WIDEST_KERF
from jigtemplates.lengths import Length
from jigtemplates.parameters.entries import Sheet

#: A bit or bushing further from the size it is sold as is questioned, mm (chosen: one regrind takes about as much off a
#: bit, and half of the 0.4 mm by which 1/2 in is taken for 12.3 or 13 mm).
FAR = 0.3
#: A new size contradicts an earlier one where they are further apart than this many times their doubts, and than the
#: second, mm (chosen: a reading seldom is twice as far off as it is said to be, never five times).
MANY, LEAST_CHANGE = 5.0, 0.03
#: A tool that changed so much since it was last measured, mm (chosen: as much as a regrind takes off).
CHANGED = 0.15
#: Narrowest kerf of a laser in sheet, mm (0.08 to 0.45 mm overall: laser cutting table, read; see references).
NARROWEST_KERF = 0.08
#: A kerf may be that many times the typical one of its sheet, or that part of it (chosen: 0.08 to 0.45 mm overall is
#: about that much to either side of the 0.15 to 0.25 mm that tables give).
TIMES = 2.0
#: A printer's two directions differ by less, as a part (chosen: rollers and carriage are each good to about 1 %).
APART = 0.01
#: Bars this near to the length of a page's other scale are taken for those, mm (chosen: a printer's usual error).
OTHER_BAR = 0.5
#: A corner leans by less, degrees (chosen: paper that is fed straight leaves 0.3 mm over 100 mm).
LEANS = 0.2
#: Why a kerf that a test cut tells may be beyond what lasers remove: nobody measured the beam.
_BY_CUT = (
    "was the test cut read wrong, or is it rather bit or bushing that is not as written down (--correct bit or "
    "bushing)? Measure the kerf itself: jigtemplates gauge kerf"
)


def tool_questions(size: float, nominal: Length, before: float | None, *, inches: bool = False) -> Iterator[str]:
    """What is odd in a bit's or bushing's new size; `before` is the one measured earlier."""

    def text(mm: float) -> str:
        return said(mm, inches=inches)

    off = abs(size - nominal.mm)
    if off > FAR:
        yield (
            f"{text(size)} is {text(off)} from {nominal}, the size it is sold as: is it another tool, or "
            "was something else measured?"
        )
    if before is not None and abs(size - before) > CHANGED:
        yield (
            f"it measured {text(before)} before and would have changed by {text(abs(size - before))}: was "
            "it sharpened, or is one of the two a slip?"
        )


def against_earlier(
    mm: float, within: float, before: Length | None, good: Length | None, *, inches: bool = False
) -> Iterator[str]:
    """What is odd in a size that contradicts an earlier measurement, as good as that one was said to be."""
    if before is None or good is None:
        return
    change, both = abs(mm - before.mm), good.mm + within
    if change > MANY * both + 1e-9 and change > LEAST_CHANGE:
        yield (
            f"it was measured as {said(before.mm, inches=inches)}, good to {said(good.mm, inches=inches)}: "
            f"{said(mm, inches=inches)} contradicts that by {change / both:.0f} times what both readings may be off; "
            "was one of them a slip, or is the cause another one?"
        )


def kerf_questions(
    kerf: float, sheet: Sheet | None, thickness: float | None, *, inches: bool = False, by_cut: bool = False
) -> Iterator[str]:
    """What is odd in a kerf: beyond the range of its sheet, else of lasers; from a gap, or from a test cut."""
    typical = typical_kerf(sheet, thickness)
    low, high = kerf_span(typical)
    what = "what lasers remove" if typical is None or sheet is None else f"what a laser removes from such {sheet.name}"
    if low - 1e-9 <= kerf <= high + 1e-9:
        return
    hint = (
        _BY_CUT
        if by_cut
        else (
            "was the gap divided by too many cuts, or is it half the width?"
            if kerf < low
            else "were all the blocks pushed together, and every cut counted, the window's two ends too?"
        )
    )
    span = f"{said(low, inches=inches)} to {said(high, inches=inches)}"
    yield f"{said(kerf, inches=inches)} is beyond {what}, {span}: {hint}"


def kerf_span(typical: float | None) -> tuple[float, float]:
    """The narrowest and the widest kerf that is not questioned, where so much is typical of a sheet; None: unknown."""
    return (NARROWEST_KERF, WIDEST_KERF) if typical is None else (typical / TIMES, typical * TIMES)


def typical_kerf(sheet: Sheet | None, thickness: float | None) -> float | None:
    """Typical full width of a laser's kerf in a sheet, from the nearest thickness in its profile; None if unknown."""
    table = () if sheet is None else sheet.kerf.get("laser", ())
    if not table:
        return None
    if thickness is None:
        return sum(kerf.width.mm for kerf in table) / len(table)
    return min(table, key=lambda kerf: abs(kerf.thickness.mm - thickness)).width.mm


def bar_questions(across: float, up: float, drawn: float) -> Iterator[str]:
    """Whether the other of a page's two scales was measured than was said: one of 100 mm for one of 4 in, or back."""
    for said_mm, other, name, option in ((100.0, 101.6, "4 in", ' --bar "4 in"'), (101.6, 100.0, "100 mm", "")):
        if abs(drawn - said_mm) < 1e-6 and max(abs(across - other), abs(up - other)) <= OTHER_BAR:
            what = f"add{option}" if option else "leave out --bar"
            yield f"both are as long as a bar of {name}: was that one measured ({what}), and not the one said?"


def printer_questions(across: float, up: float) -> Iterator[str]:
    """What is odd in what the bars of 100 mm measured."""
    apart = abs(factor_of(across) / factor_of(up) - 1)
    if apart > APART:
        yield (
            f"across and up differ by {apart * 100:.1f} %, more than a printer's error: was a bar of 4 in taken for "
            "one of 100 mm, or the paper fed askew?"
        )


def corner_questions(across: float, up: float, diagonal: float | None) -> Iterator[str]:
    """What is odd in the distance of the bars' far ends; nothing where that was not measured."""
    if diagonal is None:
        return
    try:
        lean = lean_of(across, up, diagonal)
    except ValueError:
        yield "bars and diagonal make no triangle: one of the three is a slip"
        return
    if abs(lean) > LEANS:
        yield (
            f"the diagonal says that the corner between the bars is {abs(lean):.1f}° from a right angle, which no "
            "correction mends: was the paper fed askew?"
        )


def day_questions(on: str, before: str | None) -> Iterator[str]:
    """What is odd in the day of a measurement: a later one is in force already."""
    if before is not None and date.fromisoformat(on) < date.fromisoformat(before):
        yield f"the correction in force was measured later, on {before}: is the older one to take its place?"
