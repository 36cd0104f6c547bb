"""The widths a fit gauge tries: those round the wanted one that the pair can make; millimetres."""

import math
from fractions import Fraction

from jigtemplates.checks.finding import Finding, warning
from jigtemplates.errors import InputError, quoted
from jigtemplates.gauges.row import Asked, Row, from_least, moved_up, row_of, said
from jigtemplates.lengths import Length, inch_decimals
from jigtemplates.opening import FITS
from jigtemplates.parameters.job import Job
from jigtemplates.say import in_inches
from jigtemplates.wanted import narrow_side

#: Shapes whose width a tenon, a strip or a dowel fills.
SHAPES = ("slot", "rectangle", "round")
#: Length of a cut, in widths, and how much longer than wide it is at least, mm (chosen: the bit travels, and a short
#: piece of tenon stock goes in).
LENGTHS, TRAVEL = 2, 10.0


def wanted_width(job: Job) -> Length:
    """The wanted width; InputError for a shape that nothing of one thickness goes into, and for work cut out."""
    cut, name = job.cut, job.source.name if job.source else f"{job.stem}.toml"
    if cut.side == "outside":
        raise InputError(
            f"{name}: cut.side: a fit gauge tries what goes into a cut, and this job cuts work out round a pattern "
            "(take a job with a cut from inside)"
        )
    if cut.shape not in SHAPES:
        raise InputError(
            f"{name}: cut.shape: a fit gauge tries a width, and {quoted(cut.shape)} has no single one (it is made for "
            f"{', '.join(SHAPES[:-1])} and {SHAPES[-1]})"
        )
    return cut.length_written if narrow_side(cut) < cut.width else cut.width_written


def least_width(job: Job) -> Fraction:
    """The narrowest cut of the pair: bit + running clearance, mm."""
    return job.tools.bit.diameter.exact + Fraction(str(job.tools.clearance))


def made_width(job: Job) -> Fraction:
    """The width that the job's own template makes: the wanted one, or the least where that is more; mm."""
    return max(wanted_width(job).exact, least_width(job))


def widths(job: Job, wanted: Length, asked: Asked, lower: Fraction) -> tuple[Row, tuple[Finding, ...]]:
    """The row of cut widths, and a warning where the pair cannot make some of those asked for.

    These are left out; where the wanted width is one of them, the usual row begins at the narrowest that can be made.
    InputError where fewer than two are left.
    """
    if not asked.lengths and in_inches(job) and not wanted.is_inch:
        wanted = Length(wanted.exact, f"{inch_decimals(wanted.mm, 4)} in")
    row, least = row_of(wanted, asked, lower=lower, exactly=True), least_width(job)
    found, narrowest = _outside(row, wanted), said(float(least), row.inches)
    if row.values[0] >= least - Fraction(str(FITS)):
        return row, found
    is_moved = wanted.exact < least and asked.first is None and asked.last is None
    kept = moved_up(row, least) if is_moved else from_least(row, least)
    if len(kept.values) < 2:
        raise InputError(
            f"--to: fewer than two of the cuts can be made: none is narrower than {narrowest}, bit + running clearance "
            "(take a higher --to, or another pair with --bit and --bushing)"
        )
    left = ", ".join(row.text(value) for value in row.values if value < least)
    words = (
        f"no cut narrower than {narrowest}, bit + running clearance, can be made with this pair: a "
        f"narrower opening would not let the bushing in; left out: {left} {row.unit}. The row is {kept.span}"
    )
    return kept, (warning("cuts-left-out", "tools.bit", words), *found)


def cut_length(row: Row) -> float:
    """Length of every cut, mm, whole."""
    widest = float(row.values[-1])
    return float(math.ceil(max(LENGTHS * widest, widest + TRAVEL)))


def _outside(row: Row, wanted: Length) -> tuple[Finding, ...]:
    if row.values[0] <= wanted.exact <= row.values[-1]:
        return ()
    side = "above" if row.values[0] > wanted.exact else "below"
    words = f"the whole row, {row.span}, is {side} the width that the job asks for, {wanted}: is that meant?"
    return (warning("width-outside-row", "--from", words),)
